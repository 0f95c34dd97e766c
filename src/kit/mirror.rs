//! The other hand of a part: everything reflected left to right.

use super::{Bend, Face, Hand, Hole, Mark, Part};
use crate::geom::{FaceFrame, Map2, PartFrame, Point, Point3, Pose, SiteFrame};

type Reflection = Map2<FaceFrame, FaceFrame>;

/// The right-hand part from the left-hand one, standing at X reflected. The root face is reflected
/// in its y axis; every child, whose frame runs along its bend, in its x axis. Bend directions
/// stay: the blank is turned over in its own plane, not front to back.
pub(super) fn mirror(left: &Part) -> Part {
    let reflections = [reflection(0), reflection(1)];
    let map = |face: usize| &reflections[face.min(1)];
    Part {
        hand: Some(Hand::Right),
        faces: left.faces.iter().enumerate().map(|(i, face)| mirror_face(face, map(i))).collect(),
        bends: left.bends.iter().map(|bend| mirror_bend(bend, map(bend.parent))).collect(),
        marks: left.marks.iter().map(|mark| mirror_mark(mark, map(mark.face))).collect(),
        places: left.places.iter().map(mirror_place).collect(),
        ..left.clone()
    }
}

/// The map from a face of the left hand to the same face of the right one.
pub(super) fn reflection(face: usize) -> Reflection {
    let sign = if face == 0 { -1.0 } else { 1.0 };
    Map2::new(Point::new(sign, 0.0), Point::new(0.0, -sign), Point::new(0.0, 0.0))
}

fn mirror_face(face: &Face, map: &Reflection) -> Face {
    Face {
        name: face.name.clone(),
        outline: face.outline.mapped(map).reversed(),
        holes: face.holes.iter().map(|hole| mirror_hole(hole, map)).collect(),
    }
}

fn mirror_hole(hole: &Hole, map: &Reflection) -> Hole {
    let shape = hole.shape.turned(map);
    Hole { centre: map.point(hole.centre), shape, ..hole.clone() }
}

fn mirror_bend(bend: &Bend, map: &Reflection) -> Bend {
    let length = bend.edge[0].distance(bend.edge[1]);
    Bend {
        edge: [map.point(bend.edge[1]), map.point(bend.edge[0])],
        child_start: Point::new(bend.child_start.x, -(bend.child_start.y + length)),
        ..bend.clone()
    }
}

fn mirror_mark(mark: &Mark, map: &Reflection) -> Mark {
    let direction = map.direction(mark.direction);
    Mark { at: map.point(mark.at), direction, ..mark.clone() }
}

/// The place of the mirrored part: the site's reflection in X, undone inside the part.
fn mirror_place(place: &Pose<PartFrame, SiteFrame>) -> Pose<PartFrame, SiteFrame> {
    let flip = |v: Point3<SiteFrame>| Point3::new(-v.x, v.y, v.z);
    Pose::new(-flip(place.x_axis), flip(place.y_axis), flip(place.shift))
}
