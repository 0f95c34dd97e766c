//! A hole's axis in the site, and where it pierces a face.

use crate::fold::FoldedPart;
use crate::geom::tolerance::PARALLEL;
use crate::geom::{FaceFrame, Map2, Point, Point3, Pose, SiteFrame};
use crate::kit::{HoleShape, Part};

/// The axis of a hole.
#[derive(Debug, Clone, Copy)]
pub(super) struct Axis {
    /// The hole's centre in the middle of its sheet.
    pub(super) at: Point3<SiteFrame>,
    /// Unit vector along the axis: the face's normal.
    pub(super) along: Point3<SiteFrame>,
}

impl Axis {
    /// The same axis on the other hand's side.
    pub(super) fn mirrored(self) -> Self {
        Self { at: flip(self.at), along: flip(self.along) }
    }
}

/// Reflected in X.
pub(super) fn flip(v: Point3<SiteFrame>) -> Point3<SiteFrame> {
    Point3::new(-v.x, v.y, v.z)
}

/// The place of one face of one instance in the site.
pub(super) fn face_pose(
    part: &Part,
    folded: &FoldedPart,
    place: usize,
    face: usize,
) -> Pose<FaceFrame, SiteFrame> {
    folded.faces[face].then(&part.places[place])
}

/// Where an axis meets a face.
#[derive(Debug, Clone, Copy)]
pub(super) struct Hit {
    /// Index of the instance.
    pub(super) place: usize,
    /// On the face, in its own frame.
    pub(super) centre: Point<FaceFrame>,
    /// Along the axis from its hole to the middle of this sheet, mm.
    pub(super) offset: f64,
    /// How far inside the face's outline, mm; negative outside.
    pub(super) inside: f64,
    /// Whether the face stands square to the axis.
    pub(super) square: bool,
}

/// The instance of a part whose face the axis meets: inside its outline and nearest along the
/// axis; when it meets none, the one it misses least.
pub(super) fn meet(axis: &Axis, part: &Part, folded: &FoldedPart, face: usize) -> Option<Hit> {
    let hits = (0..part.places.len()).map(|place| {
        let pose = face_pose(part, folded, place, face);
        let back = pose.inverse();
        let local = back.point(axis.at);
        let centre = Point::new(local.x, local.y);
        Hit {
            place,
            centre,
            offset: (part.thickness / 2.0 - local.z) * pose.z_axis.dot(axis.along),
            inside: part.faces[face].outline.clearance(centre),
            square: pose.z_axis.cross(axis.along).length() < PARALLEL,
        }
    });
    let rank = |hit: &Hit| {
        let miss = if hit.square && hit.inside > 0.0 { 0.0 } else { 1e6 - hit.inside };
        miss + hit.offset.abs()
    };
    hits.min_by(|a, b| rank(a).total_cmp(&rank(b)))
}

/// A hole's shape as it lies on the mirrored side: its direction reflected in the site.
pub(super) fn mirrored_shape(
    shape: &HoleShape,
    from: &Pose<FaceFrame, SiteFrame>,
    to: &Pose<FaceFrame, SiteFrame>,
) -> HoleShape {
    let image = |v: Point<FaceFrame>| {
        let there = flip(from.vector(Point3::new(v.x, v.y, 0.0)));
        let local = to.inverse().vector(there);
        Point::new(local.x, local.y)
    };
    let (x, y) = (Point::new(1.0, 0.0), Point::new(0.0, 1.0));
    let map: Map2<FaceFrame, FaceFrame> = Map2::new(image(x), image(y), Point::new(0.0, 0.0));
    shape.turned(&map)
}
