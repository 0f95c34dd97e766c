//! Sizes, areas, lengths, masses and counts of a part, worked out again from what is cut.

use super::codes::FIGURE;
use super::desk::{Desk, beyond};
use crate::flat::Contour;
use crate::fold::FoldedPart;
use crate::geom::{BlankFrame, Path, Point3, SiteFrame};
use crate::kit::Part;
use crate::reading::PartRow;

/// How far a length may be off, mm: a contour's tolerance times a few dozen corners.
const LENGTH: f64 = 1e-3;

/// Compares what `kit.json` says of the blank with the contours.
pub(super) fn compare(
    row: &PartRow,
    outer: &Path<BlankFrame>,
    inner: &[(Contour, String)],
    desk: &mut Desk,
) {
    let bounds = outer.bounds();
    let told = &row.blank;
    let holes = |of: fn(&Contour) -> f64| inner.iter().map(|(c, _)| of(c)).sum::<f64>();
    let area = outer.area() - holes(Contour::area);
    let length = outer.length() + holes(Contour::length);
    let mut hold = |what: &str, found: f64, expected: f64, tolerance: f64| {
        desk.hold(&FIGURE, &format!("{}: {what}", row.number), (found, expected), tolerance);
    };
    hold("the blank's lower left x", 0.0, bounds.low.x, LENGTH);
    hold("the blank's lower left y", 0.0, bounds.low.y, LENGTH);
    hold("`width`", told.width, bounds.width(), LENGTH);
    hold("`height`", told.height, bounds.height(), LENGTH);
    hold("`area_mm2`", told.area_mm2, area, 1e-6 * length + LENGTH);
    hold("`cut_length_mm`", told.cut_length_mm, length, LENGTH);
    hold("`pierces`", told.pierces as f64, 1.0 + inner.len() as f64, 0.0);
    // A cubic millimetre of density 1 kg/m3 weighs 1e-9 kg.
    let mass = told.area_mm2 * row.thickness * row.density * 1e-9;
    hold("`mass_kg`", row.mass_kg, mass, 1e-9 * mass.abs());
    hold("`quantity`", row.quantity as f64, row.places.len() as f64, 0.0);
}

/// Compares the boxes around the part's instances with where folding and placing puts them.
pub(super) fn extents(row: &PartRow, part: &Part, folded: &FoldedPart, desk: &mut Desk) {
    let count = (row.extents.len() as f64, part.places.len() as f64);
    desk.hold(&FIGURE, &format!("{}: the count of `extents`", row.number), count, 0.0);
    for (index, (told, place)) in row.extents.iter().zip(&part.places).enumerate() {
        let corners = folded.corners(part).map(|corner| place.point(corner));
        let [low, high] = around(corners);
        let off = [(told[0], low), (told[1], high)].map(|([x, y, z], corner)| {
            let told: Point3<SiteFrame> = Point3::new(x, y, z);
            told.distance(corner)
        });
        let worst = off[0].max(off[1]);
        if beyond(worst, LENGTH) {
            let words =
                format!("{}, place {index}: stands elsewhere than `extents` say", row.number);
            desk.off(&FIGURE, words, (worst, LENGTH), "mm");
        }
    }
}

/// The upright box around points.
fn around(points: impl Iterator<Item = Point3<SiteFrame>>) -> [Point3<SiteFrame>; 2] {
    let nothing = [f64::INFINITY, f64::NEG_INFINITY].map(|v| Point3::new(v, v, v));
    points.fold(nothing, |[low, high], p| {
        [
            Point3::new(low.x.min(p.x), low.y.min(p.y), low.z.min(p.z)),
            Point3::new(high.x.max(p.x), high.y.max(p.y), high.z.max(p.z)),
        ]
    })
}
