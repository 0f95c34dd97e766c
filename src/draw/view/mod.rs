//! Views of folded parts and of the whole kit: isometric pictures with hidden lines removed, and
//! sections across the bends.

mod profile;

pub use profile::{BendCall, LegSize, ProfileView, profile, profiles};

use super::Picture;
use crate::fold::FoldedPart;
use crate::kit::{Kit, Part};

/// One part folded, in isometric view (ISO 5456-3), turned so that most of it is seen.
pub fn isometric_part(_part: &Part, _folded: &FoldedPart) -> Picture {
    Picture::empty()
}

/// The kit in its place, seen from outside, right and above; one label for each part number, its
/// text the part's position in the kit's parts, counted from 1.
pub fn isometric_kit(_kit: &Kit, _folded: &[FoldedPart]) -> Picture {
    Picture::empty()
}
