//! A sheet's laser file against the list: each blank's contours in their place, once, and in an
//! order that leaves nothing loose before it is done.

use super::codes::{CONTOUR, DXF, SHEET};
use super::contour::{SAME_CONTOUR, difference, place};
use super::desk::{Desk, beyond};
use super::dxf::{Dxf, Shape};
use super::lasered::head;
use super::sheets::Lying;
use crate::flat::Contour;
use crate::geom::{BlankFrame, Path, Point};
use crate::reading::{SheetRow, path};
use crate::shelf::Shop;

type P = Point<BlankFrame>;

/// A cut of the file with its place in the order.
struct Cut {
    order: usize,
    outside: bool,
    contour: Contour,
    call: String,
    used: std::cell::Cell<bool>,
    at: P,
}

/// Compares the file with the blanks that are meant to be on it.
pub(super) fn compare(
    (sheet, lying): (&SheetRow, &[Lying]),
    dxf: &Dxf,
    shop: &Shop,
    desk: &mut Desk,
) {
    head(dxf, desk);
    let cuts = sorted(sheet, dxf, shop, desk);
    let mut places: Vec<(Vec<usize>, Option<usize>)> = Vec::new();
    for own in lying {
        let map = own.row.map();
        let laid = |contour: &Contour| match contour {
            Contour::Circle(at, d) => Contour::Circle(map.point(*at), *d),
            Contour::Loop(path) => Contour::Loop(turned(path, own)),
        };
        let outer = Contour::Loop(turned(&path(&own.part.blank.outer), own));
        let outside = take(&cuts, true, &outer);
        if outside.is_none() {
            let words = format!("has no outline of {} in its place", own.part.number);
            desk.tell(&SHEET, words);
        }
        let mut inside = Vec::new();
        for row in &own.part.blank.inner {
            let meant = laid(&row.contour());
            match take(&cuts, false, &meant) {
                Some(order) => inside.push(order),
                None => {
                    let at = place(middle(&meant));
                    desk.tell(&SHEET, format!("cuts nothing of {} at {at}", own.part.number));
                }
            }
        }
        places.push((inside, outside));
    }
    for cut in cuts.iter().filter(|cut| !cut.used.get()) {
        desk.tell(&SHEET, format!("{} belongs to no part", cut.call));
    }
    in_order(lying, &places, desk);
}

fn turned(path: &Path<BlankFrame>, own: &Lying) -> Path<BlankFrame> {
    let map = own.row.map();
    let laid = path.cleaned().mapped(&map);
    if map.reflects() { laid.reversed() } else { laid }
}

/// The cuts of the file in their order; the sheet's edge is that of the list.
fn sorted(sheet: &SheetRow, dxf: &Dxf, shop: &Shop, desk: &mut Desk) -> Vec<Cut> {
    let layers = &shop.layers;
    let mut cuts = Vec::new();
    let mut edges = 0;
    for (order, entity) in dxf.entities.iter().enumerate() {
        let shape = match &entity.shape {
            Ok(shape) => shape,
            Err(why) => {
                desk.tell(&DXF, format!("{} {why}", entity.call()));
                continue;
            }
        };
        let outside = entity.layer == layers.cut_outside.name;
        if entity.layer == layers.sheet.name {
            edges += 1;
            edge(sheet, shape, desk);
        }
        if !outside && entity.layer != layers.cut_inside.name {
            continue;
        }
        let contour = match shape {
            Shape::Circle(at, d) => Contour::Circle(*at, *d),
            Shape::Polyline(path, true) => Contour::Loop(path.clone()),
            _ => {
                desk.tell(&CONTOUR, format!("{} is not closed", entity.call()));
                continue;
            }
        };
        let (at, call) = (middle(&contour), entity.call());
        let used = std::cell::Cell::new(false);
        cuts.push(Cut { order, outside, contour, call, used, at });
    }
    if edges != 1 {
        desk.tell(&SHEET, format!("has {edges} edges of the sheet, not one"));
    }
    cuts
}

fn edge(sheet: &SheetRow, shape: &Shape, desk: &mut Desk) {
    let bounds = match shape {
        Shape::Polyline(path, true) => path.bounds(),
        _ => return desk.tell(&SHEET, "the sheet's edge is not closed"),
    };
    let off = bounds.low.distance(Point::new(0.0, 0.0))
        + bounds.high.distance(Point::new(sheet.width, sheet.height));
    if beyond(off, SAME_CONTOUR) {
        desk.tell(&SHEET, "the sheet's edge is not that of the list");
    }
}

fn middle(contour: &Contour) -> P {
    match contour {
        Contour::Circle(at, _) => *at,
        Contour::Loop(path) => path.bounds().centre(),
    }
}

/// The cut that is this contour, marked as used; its place in the order.
fn take(cuts: &[Cut], outside: bool, meant: &Contour) -> Option<usize> {
    let at = middle(meant);
    let same = |cut: &&Cut| {
        !cut.used.get()
            && cut.outside == outside
            && cut.at.distance(at) < 2.0 * SAME_CONTOUR
            && match (&cut.contour, meant) {
                (Contour::Circle(_, a), Contour::Circle(_, b)) => (a - b).abs() <= SAME_CONTOUR,
                (Contour::Loop(a), Contour::Loop(b)) => difference(a, b).is_none(),
                _ => false,
            }
    };
    let found = cuts.iter().find(same)?;
    found.used.set(true);
    Some(found.order)
}

/// What is inside a blank is cut before its outline, and what lies in an opening before that.
fn in_order(lying: &[Lying], places: &[(Vec<usize>, Option<usize>)], desk: &mut Desk) {
    for (own, (inside, outside)) in lying.iter().zip(places) {
        let Some(outside) = outside else { continue };
        if inside.iter().any(|order| outside < order) {
            let words = format!("the outline of {} is cut before what is inside", own.part.number);
            desk.tell(&SHEET, words);
        }
        let at = own.row.map().point(path(&own.part.blank.outer).vertices[0].at);
        for (holder, (openings, _)) in lying.iter().zip(places) {
            if loose(holder, openings, (*outside, at)) {
                let (own, holder) = (&own.part.number, &holder.part.number);
                desk.tell(&SHEET, format!("an opening of {holder} is cut before {own} in it"));
            }
        }
    }
}

/// Whether an opening of a blank that holds a point is cut before the outline of what lies there.
fn loose(holder: &Lying, openings: &[usize], (outside, at): (usize, P)) -> bool {
    let mut rows = holder.part.blank.inner.iter().zip(openings);
    rows.any(|(row, order)| match row.contour() {
        Contour::Loop(opening) => *order < outside && 0.0 < turned(&opening, holder).clearance(at),
        Contour::Circle(..) => false,
    })
}
