//! Parts freed of what sums of lengths leave in the last digits, so that a part that stands
//! elsewhere in another kit is the same to the last bit.

use super::{Draft, HoleShape, Part};
use crate::geom::{FaceFrame, Path, Point, tolerance};

/// Rounds outlines, bends and marks: nothing moves by more than half of [`tolerance::EXACT`], a
/// tenth of what makes two points one.
pub fn settle(draft: &mut Draft) {
    for part in &mut draft.parts {
        for face in &mut part.faces {
            face.outline = path(&face.outline);
        }
        for bend in &mut part.bends {
            bend.edge = bend.edge.map(|end| point(end, tolerance::EXACT));
            bend.child_start = point(bend.child_start, tolerance::EXACT);
            bend.angle = rounded(bend.angle, tolerance::EXACT);
        }
        for mark in &mut part.marks {
            mark.at = point(mark.at, tolerance::EXACT_HOLE);
            mark.direction = rounded(mark.direction, tolerance::EXACT_HOLE);
        }
    }
}

/// Rounds holes, once the joints have made theirs: each stands alone, so that a coarser grid may
/// take more of the rounding of its way through space.
pub fn settle_holes(part: &mut Part) {
    let grid = tolerance::EXACT_HOLE;
    for hole in part.faces.iter_mut().flat_map(|face| &mut face.holes) {
        hole.centre = point(hole.centre, grid);
        hole.shape = match &hole.shape {
            HoleShape::Round(diameter) => HoleShape::Round(*diameter),
            HoleShape::Slot(width, length, turn) => {
                HoleShape::Slot(*width, *length, rounded(*turn, grid))
            }
            HoleShape::Rectangle(width, length, turn) => {
                HoleShape::Rectangle(*width, *length, rounded(*turn, grid))
            }
            HoleShape::Cutout(outline) => HoleShape::Cutout(path(outline)),
        };
    }
}

fn path(path: &Path<FaceFrame>) -> Path<FaceFrame> {
    let mut path = path.clone();
    for vertex in &mut path.vertices {
        vertex.at = point(vertex.at, tolerance::EXACT);
        vertex.bulge = rounded(vertex.bulge, tolerance::EXACT);
    }
    path
}

fn point(at: Point<FaceFrame>, grid: f64) -> Point<FaceFrame> {
    Point::new(rounded(at.x, grid), rounded(at.y, grid))
}

/// The nearest multiple of a grid whose inverse is whole; never -0.
fn rounded(value: f64, grid: f64) -> f64 {
    let inverse = (1.0 / grid).round();
    (value * inverse).round() / inverse + 0.0
}
