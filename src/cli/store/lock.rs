//! One run at a time writes to a folder.

#![expect(clippy::disallowed_methods, reason = "the store is where files are met")]

use std::fs::{File, TryLockError};
use std::path::Path;

/// Held while kits are written to a folder; two runs would take each other's half-written folders
/// for leftovers. Systems that cannot lock a folder go without.
#[derive(Debug)]
pub(crate) struct Lock {
    _folder: Option<File>,
}

impl Lock {
    /// Waits until no other run writes to the folder; `waiting` is called once if there is one.
    pub(crate) fn on(folder: &Path, waiting: impl FnOnce()) -> Self {
        let file = File::open(folder).ok();
        if let Some(Err(TryLockError::WouldBlock)) = file.as_ref().map(File::try_lock) {
            waiting();
            let waited = file.as_ref().map(File::lock);
            debug_assert!(waited.is_some());
        }
        Self { _folder: file }
    }
}
