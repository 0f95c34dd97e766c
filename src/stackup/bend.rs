//! Bends that are a little out: how they carry what hangs on them, exactly and to first order.
//!
//! A bend line that lies `line` mm too far towards the child makes the parent's leg longer by that
//! and the child's shorter. An angle that is larger turns the child further about the axis of the
//! bend's arc; the zone grows evenly to both sides, since the blank stays as long as it is.

use crate::fold::FoldedPart;
use crate::geom::{FaceFrame, PartFrame, Point, Point3, Pose, SiteFrame};
use crate::kit::{Part, Sense};

/// Radians in a degree.
const RADIAN: f64 = std::f64::consts::PI / 180.0;

/// A bend of one instance on the way to a joined hole.
#[derive(Debug)]
pub(super) struct Fold {
    /// Index of the bend in its part.
    pub(super) bend: usize,
    /// Index of the child face.
    pub(super) face: usize,
    /// The fold that carries the parent face; none for the root.
    pub(super) parent: Option<usize>,
    /// Where the child face begins, in its own frame.
    pub(super) start: Point<FaceFrame>,
    /// How the child's start moves in the site for each mm a metre that the blank is too long.
    pub(super) stretch: Point3<SiteFrame>,
    /// The child's frame in its parent's.
    nominal: Pose<FaceFrame, FaceFrame>,
    /// The same in the parent's frame: out of the parent, axis of a larger angle, point of it.
    out: Point3<FaceFrame>,
    axis: Point3<FaceFrame>,
    centre: Point3<FaceFrame>,
    /// Half of what the zone takes more for each degree, mm.
    half: f64,
    /// In the site: a point of the axis, and what moves by it.
    site: InSite,
}

#[derive(Debug)]
struct InSite {
    centre: Point3<SiteFrame>,
    axis: Point3<SiteFrame>,
    out: Point3<SiteFrame>,
    child_x: Point3<SiteFrame>,
}

/// The bends that lead from the root to the given faces, parents before children.
pub(super) fn folds(
    part: &Part,
    folded: &FoldedPart,
    place: &Pose<PartFrame, SiteFrame>,
    faces: &[usize],
) -> Vec<Fold> {
    let mut wanted = vec![false; part.faces.len()];
    faces.iter().for_each(|face| wanted[*face] = true);
    for bend in part.bends.iter().rev() {
        wanted[bend.parent] |= wanted[bend.child];
    }
    let mut all: Vec<Fold> = Vec::new();
    for (index, bend) in part.bends.iter().enumerate().filter(|(_, bend)| wanted[bend.child]) {
        let parent = all.iter().position(|fold| fold.face == bend.parent);
        let above = parent.map(|parent| &all[parent]);
        let poses = [bend.parent, bend.child].map(|face| folded.faces[face].then(place));
        all.push(Fold::of(part, index, (parent, above), &poses));
    }
    all
}

impl Fold {
    fn of(
        part: &Part,
        index: usize,
        (parent, above): (Option<usize>, Option<&Fold>),
        [from, to]: &[Pose<FaceFrame, SiteFrame>; 2],
    ) -> Self {
        let bend = &part.bends[index];
        let along = (bend.edge[1] - bend.edge[0]).unit();
        let out = along.right();
        let (sign, height) = match bend.sense {
            Sense::Up => (-1.0, part.thickness + bend.radius),
            Sense::Down => (1.0, -bend.radius),
        };
        let space = |p: Point<FaceFrame>, z: f64| Point3::new(p.x, p.y, z);
        let (out, axis) = (space(out, 0.0), space(along, 0.0) * sign);
        let centre = space(bend.edge[0], height);
        let (origin, shift) =
            above.map_or((Point::new(0.0, 0.0), None), |fold| (fold.start, Some(fold.stretch)));
        let here = from.vector(space(bend.edge[0] - origin, 0.0)) * 1e-3;
        Self {
            bend: index,
            face: bend.child,
            parent,
            start: bend.child_start,
            stretch: shift.map_or(here, |shift| shift + here),
            nominal: to.then(&from.inverse()),
            out,
            axis,
            centre,
            half: (bend.radius + bend.k * part.thickness) * RADIAN / 2.0,
            site: InSite {
                centre: from.point(centre),
                axis: from.vector(axis),
                out: from.vector(out),
                child_x: to.x_axis,
            },
        }
    }

    /// The child's frame in its parent's when the angle is `angle` degrees too large and the line
    /// `line` mm too far out.
    pub(super) fn bent(&self, angle: f64, line: f64) -> Pose<FaceFrame, FaceFrame> {
        let turn: Pose<FaceFrame, FaceFrame> = Pose::turn(self.axis, angle);
        let grown = self.half * angle;
        let start = self.nominal.shift - self.nominal.x_axis * (line + grown) - self.centre;
        let shift = self.centre + turn.vector(start) + self.out * (line - grown);
        Pose::new(turn.vector(self.nominal.x_axis), turn.vector(self.nominal.y_axis), shift)
    }

    /// How far a point of the child moves in the site along `toward`, to first order: mm a degree
    /// of angle, mm a mm of line.
    pub(super) fn moves(&self, p: Point3<SiteFrame>, toward: Point3<SiteFrame>) -> [f64; 2] {
        let InSite { centre, axis, out, child_x } = &self.site;
        let turned = axis.cross(p - *centre) * RADIAN - (*out + *child_x) * self.half;
        [toward.dot(turned), toward.dot(*out - *child_x)]
    }
}
