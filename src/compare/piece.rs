//! A part of `kit.json` with its geometry in hand, in the blank frame.

use super::model::Drawn;
use super::opening::{Opening, openings};
use crate::flat::Contour;
use crate::geom::{BlankFrame, FaceFrame, Map2, Path, Point};
use crate::reading::{AmendmentRow, BendRow, KitRow, PartRow, path};
use crate::units;

/// A point of a blank.
pub(super) type P = Point<BlankFrame>;

/// From the blank to the plane of the part's root face.
type ToRoot = Map2<BlankFrame, FaceFrame>;

/// A part ready to be compared.
#[derive(Debug)]
pub(super) struct Piece<'a> {
    pub(super) row: &'a PartRow,
    pub(super) outer: Path<BlankFrame>,
    pub(super) inner: Vec<Contour>,
    pub(super) openings: Vec<Opening<'a>>,
    /// The general tolerance it is made to.
    pub(super) tolerance: &'a str,
    /// What amendments did to it.
    pub(super) amendments: Vec<&'a AmendmentRow>,
    to_root: ToRoot,
}

impl<'a> Piece<'a> {
    pub(super) fn of(row: &'a PartRow, kit: &'a KitRow) -> Self {
        let inner: Vec<Contour> = row.blank.inner.iter().map(|row| row.contour()).collect();
        Self {
            row,
            outer: path(&row.blank.outer),
            openings: openings(row, &inner, &kit.joints),
            inner,
            tolerance: &kit.tolerance,
            amendments: kit.amendments.iter().filter(|it| it.part == row.number).collect(),
            to_root: to_root(row),
        }
    }

    /// From the root face's plane, in which both revisions of a part are drawn, to another blank.
    pub(super) fn through_root(&self, other: &Self) -> Map2<BlankFrame, BlankFrame> {
        self.to_root.then(&other.to_root.inverse())
    }

    /// As it is drawn.
    pub(super) fn drawn(&self) -> Drawn {
        Drawn {
            outer: self.outer.clone(),
            inner: self.inner.clone(),
            bends: self.row.bends.iter().map(BendRow::ends).collect(),
            size: [self.row.blank.width, self.row.blank.height],
        }
    }

    /// The outline of a face as points.
    pub(super) fn face(&self, name: &str) -> Option<Vec<P>> {
        let face = self.row.faces.iter().find(|face| face.name == name)?;
        Some(face.outline.iter().map(|[x, y]| Point::new(*x, *y)).collect())
    }

    /// The bends at a face.
    pub(super) fn bends_at<'b>(&'b self, name: &'b str) -> impl Iterator<Item = &'b BendRow> {
        self.row.bends.iter().filter(move |bend| bend.from == name || bend.to == name)
    }

    /// From the edge of a bend's zone to its mould line (design, space and sign).
    pub(super) fn setback(&self, bend: &BendRow) -> f64 {
        let share = if bend.angle <= 90.0 { units::tan_deg(bend.angle / 2.0) } else { 1.0 };
        share * (bend.inside_radius + self.row.thickness)
    }
}

/// The root lies flat in the part's own frame; a matrix that says otherwise turns nothing.
fn to_root(row: &PartRow) -> ToRoot {
    let Some([x, y, _]) = row.faces.first().map(|face| face.to_part) else {
        return Map2::identity();
    };
    let upright = x[2].abs() <= 1e-9 && y[2].abs() <= 1e-9;
    let axes = Point::new(x[0], y[0]);
    if !upright || (axes.length() - 1.0).abs() > 1e-9 {
        return Map2::identity();
    }
    Map2::new(axes, Point::new(x[1], y[1]), Point::new(x[3], y[3]))
}
