//! One run at a time writes to a folder.

#![expect(clippy::disallowed_methods, reason = "the store is where files are met")]

use std::fs::{File, TryLockError};
use std::path::Path;

/// Held while kits are written to a folder; two runs would take each other's half-written folders
/// for leftovers. Systems that cannot lock a folder go without.
#[derive(Debug)]
pub(crate) struct Lock {
    _folder: Option<File>,
    /// Whether no other run can write to the folder meanwhile.
    pub held: bool,
}

impl Lock {
    /// Waits until no other run writes to the folder; `waiting` is called once if there is one.
    pub(crate) fn on(folder: &Path, waiting: impl FnOnce()) -> Self {
        let file = File::open(folder).ok();
        let held = file.as_ref().is_some_and(|file| match file.try_lock() {
            Ok(()) => true,
            Err(TryLockError::WouldBlock) => {
                waiting();
                file.lock().is_ok()
            }
            Err(TryLockError::Error(_)) => false,
        });
        Self { _folder: file, held }
    }
}
