//! Parts folded: each face's place in the part's own space.

use crate::geom::{FaceFrame, PartFrame, Pose};

/// One part folded.
#[derive(Debug, Clone, PartialEq)]
pub struct FoldedPart {
    /// For each face of the part, its frame in the part's frame (z from 0 to thickness).
    pub faces: Vec<Pose<FaceFrame, PartFrame>>,
}
