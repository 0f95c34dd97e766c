//! Parts folded: each face's place in the part's own space.

use crate::geom::{FaceFrame, PartFrame, Point3, Pose};
use crate::kit::{Bend, Part, Sense};

/// One part folded.
#[derive(Debug, Clone, PartialEq)]
pub struct FoldedPart {
    /// For each face of the part, its frame in the part's frame (z from 0 to thickness).
    pub faces: Vec<Pose<FaceFrame, PartFrame>>,
}

impl FoldedPart {
    /// Every corner of every face, on both sides of the sheet, in the part's frame.
    pub fn corners<'a>(&'a self, part: &'a Part) -> impl Iterator<Item = Point3<PartFrame>> + 'a {
        part.faces.iter().zip(&self.faces).flat_map(|(face, pose)| {
            let corners = face.outline.vertices.iter();
            corners.flat_map(|v| [0.0, part.thickness].map(|z| pose.lifted(v.at, z)))
        })
    }
}

/// Folds a part: the root stays where it is, each child turns about its bend.
pub fn fold(part: &Part) -> FoldedPart {
    let mut faces = vec![Pose::identity(); part.faces.len()];
    for bend in &part.bends {
        let child = hinge(bend, part.thickness);
        faces[bend.child] = child.then(&faces[bend.parent]);
    }
    FoldedPart { faces }
}

/// The child's frame in its parent's frame after the bend.
///
/// With `n` out of the parent, `d` along the bend and `k` up (right-handed in this order), the
/// child turns by the angle about the centre line of the bend's arc: above the sheet (`up`) at z =
/// thickness + radius, below it (`down`) at z = -radius.
pub fn hinge(bend: &Bend, thickness: f64) -> Pose<FaceFrame, FaceFrame> {
    let d = (bend.edge[1] - bend.edge[0]).unit();
    let n = d.right();
    let along = Point3::new(d.x, d.y, 0.0);
    let out = Point3::new(n.x, n.y, 0.0);
    let (turn, centre) = match bend.sense {
        Sense::Up => (bend.angle, thickness + bend.radius),
        Sense::Down => (-bend.angle, -bend.radius),
    };
    let fold: Pose<FaceFrame, FaceFrame> = Pose::turn(-along, turn);
    let (out, up) = (fold.vector(out), fold.vector(Point3::new(0.0, 0.0, 1.0)));
    let start = Point3::new(bend.edge[0].x, bend.edge[0].y, centre);
    let shift = start - up * centre - out * bend.child_start.x - along * bend.child_start.y;
    Pose::new(out, along, shift)
}
