//! The store: the only code that meets the file system.

mod data;
mod folder;
mod kit_folder;
mod leftover;
mod lock;
mod place;
mod read;
mod shelf;
mod shelter;
mod shared;

pub(crate) use data::load;
pub use data::{Data, Origin};
pub(crate) use folder::{Written, create, write};
pub(crate) use kit_folder::{kit_files, read_kit, released_beside};
pub(crate) use leftover::sweep;
pub(crate) use lock::Lock;
pub(crate) use read::{find_specs, read};
pub(crate) use shared::{
    SharedFiles, bytes_of, names_in, put, remove_file, remove_folder, remove_kit,
};
pub(crate) use shelf::{Contents, Standing, contents, digest, find_releases};
pub(crate) use shelter::{Parcel, Stands, freeze, is_drawn, stands};
