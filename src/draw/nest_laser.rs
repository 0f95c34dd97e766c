//! The laser file of a sheet: blanks where they lie, cuts in their order.

use super::laser::{LaserItem, LaserShape, LaserSheet, LaserStyle, Role, laser_items};
use crate::geom::{BedFrame, Bounds, Path, Point};
use crate::sheets::{CutRef, CutSheet, Wanted};

/// Two places on a sheet nearer than this are one, mm: layouts count in hundredths.
const SAME: f64 = 0.02;

/// The laser file of a sheet. First what is not cut: the sheet's edge, blocked places, the line
/// that cuts the remnant off, etching, bend lines. Then the cuts in their order, each contour from
/// the corner at which the laser begins.
pub fn nest_laser(wanted: &[Wanted], sheet: &CutSheet, style: &LaserStyle) -> LaserSheet {
    let mut items = vec![contour(Role::Sheet, &edge(sheet))];
    items.extend(sheet.board.blocked.iter().map(|place| contour(Role::Info, place)));
    items.extend(remnant_cut(sheet).map(|line| item(Role::Info, LaserShape::Line(line))));
    let blanks: Vec<Vec<LaserItem>> = sheet
        .lying
        .iter()
        .map(|own| {
            let Wanted { part, blank, .. } = &wanted[own.wanted];
            laser_items(part, blank, style.bend_lines, &own.map())
        })
        .collect();
    let of = |roles: &[Role]| {
        let roles = roles.to_vec();
        blanks.iter().flatten().filter(move |item| roles.contains(&item.role)).cloned()
    };
    items.extend(of(&[Role::Etch]));
    items.extend(of(&[Role::BendUp, Role::BendDown]));
    items.extend(sheet.cuts.iter().filter_map(|cut| begun(&blanks[cut.lying], cut)));
    items.extend(extras(sheet));
    LaserSheet { layers: style.layers.clone(), items }
}

/// The straight line across the sheet that cuts the remnant off: the side of it that is neither the
/// sheet's nor that of a blocked place. None where there is no remnant.
pub(super) fn remnant_cut(sheet: &CutSheet) -> Option<[Point<BedFrame>; 2]> {
    let rest = sheet.remnant?;
    let [wide, high] = sheet.board.size;
    let upright = |x: f64| [Point::new(x, 0.0), Point::new(x, high)];
    let level = |y: f64| [Point::new(0.0, y), Point::new(wide, y)];
    let ends = |pick: fn(Point<BedFrame>) -> f64, far: f64| {
        let blocked = sheet.board.blocked.iter().flat_map(|place| [place.low, place.high]);
        let taken: Vec<f64> = blocked.map(pick).chain([0.0, far]).collect();
        let free = move |at: &f64| taken.iter().all(|other| SAME < (at - other).abs());
        [rest.low, rest.high].map(pick).into_iter().find(free)
    };
    let across = ends(|p| p.x, wide).map(upright);
    across.or_else(|| ends(|p| p.y, high).map(level))
}

fn edge(sheet: &CutSheet) -> Bounds<BedFrame> {
    let [x, y] = sheet.board.size;
    Bounds { low: Point::new(0.0, 0.0), high: Point::new(x, y) }
}

fn item(role: Role, shape: LaserShape) -> LaserItem {
    LaserItem { role, shape }
}

fn contour(role: Role, place: &Bounds<BedFrame>) -> LaserItem {
    let (a, b) = (place.low, place.high);
    let corners = [a, Point::new(b.x, a.y), b, Point::new(a.x, b.y)];
    item(role, LaserShape::Contour(Path::polygon(&corners)))
}

/// A cut of a blank, from the corner at which it is begun.
fn begun(blank: &[LaserItem], cut: &CutRef) -> Option<LaserItem> {
    let mut own = blank.iter().filter(|item| match cut.hole {
        Some(_) => item.role == Role::CutInside,
        None => item.role == Role::CutOutside,
    });
    let mut found = own.nth(cut.hole.unwrap_or(0))?.clone();
    if let LaserShape::Contour(path) = &mut found.shape {
        let count = path.vertices.len().max(1);
        path.vertices.rotate_left(cut.start % count);
    }
    Some(found)
}

/// Lead-ins, tabs and cuts through the skeleton, where the shop wants them.
fn extras(sheet: &CutSheet) -> Vec<LaserItem> {
    let extras = &sheet.extras;
    let line = |role: Role| move |line: &[Point<BedFrame>; 2]| item(role, LaserShape::Line(*line));
    let lead_ins = extras.lead_ins.iter().flatten().map(line(Role::LeadIn));
    let tabs = extras.tabs.iter().map(line(Role::Tab));
    lead_ins.chain(tabs).chain(extras.skeleton.iter().map(line(Role::Skeleton))).collect()
}
