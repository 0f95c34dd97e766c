//! What every step of the proof works on.

use super::{Found, Scope};
use crate::reading::KitRow;
use crate::shelf::Shelf;

/// The files, the shop's data, and the kit's own file.
#[derive(Clone, Copy)]
pub(super) struct Bench<'a> {
    /// The folder's files.
    pub(super) files: &'a [Found<'a>],
    /// The shop's data.
    pub(super) shelf: &'a Shelf,
    /// What the files are meant to be.
    pub(super) scope: Scope,
    /// The kit's own file.
    pub(super) kit: &'a KitRow,
}

impl<'a> Bench<'a> {
    /// The file at this path.
    pub(super) fn file(&self, path: &str) -> Option<&'a Found<'a>> {
        self.files.iter().find(|file| file.path == path)
    }
}
