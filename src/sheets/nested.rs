//! Which blank lies in an opening of which other.

use super::{Lying, Wanted};
use crate::flat::Contour;
use crate::geom::{BedFrame, Path, Point};

/// For each blank of a sheet the blank and the inside contour it lies in; the smallest one where it
/// lies in several.
pub(super) fn holders(wanted: &[Wanted], lying: &[Lying]) -> Vec<Option<(usize, usize)>> {
    let least = lying.iter().map(|l| area(wanted, l)).fold(f64::INFINITY, f64::min);
    let mut openings: Vec<(f64, usize, usize, Path<BedFrame>)> = Vec::new();
    for (index, holder) in lying.iter().enumerate() {
        for (hole, own) in wanted[holder.wanted].blank.inner.iter().enumerate() {
            let room = own.contour.area();
            if least < room {
                openings.push((room, index, hole, outline(&own.contour, holder)));
            }
        }
    }
    openings.sort_by(|a, b| a.0.total_cmp(&b.0).then((a.1, a.2).cmp(&(b.1, b.2))));
    let inside = |index: usize, own: &Lying| {
        let blank = wanted[own.wanted].blank;
        let at = blank.outer.vertices.first().map(|v| own.map().point(v.at))?;
        let found = openings.iter().find(|(room, holder, _, path)| {
            *holder != index && blank.area < *room && 0.0 < path.clearance(at)
        });
        found.map(|(_, holder, hole, _)| (*holder, *hole))
    };
    lying.iter().enumerate().map(|(index, own)| inside(index, own)).collect()
}

fn area(wanted: &[Wanted], lying: &Lying) -> f64 {
    wanted[lying.wanted].blank.area
}

fn outline(contour: &Contour, lying: &Lying) -> Path<BedFrame> {
    let map = lying.map();
    match contour {
        Contour::Loop(path) => path.mapped(&map),
        Contour::Circle(centre, diameter) => {
            let arm = Point::new(diameter / 2.0, 0.0);
            let centre: Point<BedFrame> = map.point(*centre);
            let vertex = |at| crate::geom::Vertex { at, bulge: 1.0 };
            Path { vertices: vec![vertex(centre - arm), vertex(centre + arm)] }
        }
    }
}
