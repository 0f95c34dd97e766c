//! The store: the only code that meets the file system.

mod data;
mod folder;
mod kit_folder;
mod lock;
mod place;
mod read;

pub(crate) use data::load;
pub use data::{Data, Origin};
pub(crate) use folder::{Written, create, write};
pub(crate) use kit_folder::{kit_files, read_kit};
pub(crate) use lock::Lock;
pub(crate) use read::{find_specs, read};
