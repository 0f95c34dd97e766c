//! What is not cut of a sheet: etching and bend lines, each where its blank lies, and nothing else
//! on any layer.

use std::collections::BTreeMap;

use super::codes::{DXF, SHEET};
use super::contour::{SAME_CONTOUR, place};
use super::desk::Desk;
use super::dxf::{Dxf, Shape};
use super::etching::strokes;
use super::lines::pieces;
use super::sheets::{Lying, boxed};
use crate::geom::{BlankFrame, Bounds, Point};
use crate::reading::SheetRow;
use crate::shelf::{Extra, Shop};

type Run = Vec<Point<BlankFrame>>;

/// Side of the squares in which lines are looked up by their first point, mm.
const SQUARE: f64 = 0.01;

/// Compares etching and bend lines, and looks for strangers.
pub(super) fn compare(
    (sheet, lying): (&SheetRow, &[Lying]),
    dxf: &Dxf,
    shop: &Shop,
    desk: &mut Desk,
) {
    info(sheet, dxf, shop, desk);
    let layers = &shop.layers;
    for name in layers.names() {
        if !dxf.layers.contains(&name) {
            desk.tell(&DXF, format!("has no layer {name}"));
        }
    }
    let marked = [&layers.etch.name, &layers.bend_up.name, &layers.bend_down.name];
    let work = &shop.sheet_work;
    let extra = [&work.lead_in, &work.tab, &work.skeleton].into_iter().flatten();
    let extra: Vec<&Extra> = extra.collect();
    let mut found = Found::default();
    for entity in &dxf.entities {
        let known = layers.names().contains(&entity.layer)
            || extra.iter().any(|extra| extra.layer.name == entity.layer);
        if !known {
            desk.tell(&DXF, format!("{} lies on {}, unknown here", entity.call(), entity.layer));
        } else if marked.iter().any(|name| *name == entity.layer) {
            match &entity.shape {
                Ok(Shape::Polyline(path, closed)) => {
                    let again = path.vertices.iter().take(usize::from(*closed));
                    let corners = path.vertices.iter().chain(again).map(|v| v.at);
                    found.add(entity.layer, corners.collect());
                }
                Ok(Shape::Line(line)) => found.add(entity.layer, line.to_vec()),
                _ => desk.tell(&DXF, format!("{} is no line", entity.call())),
            }
        }
    }
    for own in lying {
        let missing = marks(own, shop).into_iter().find(|(layer, run)| !found.take(layer, run));
        if let Some((layer, run)) = missing {
            let at = run.first().map_or(String::new(), |at| place(*at));
            desk.tell(&SHEET, format!("{}: nothing on {layer} at {at}", own.part.number));
        }
    }
    if let Some((layer, run)) = found.left() {
        let at = run.first().map_or(String::new(), |at| place(*at));
        desk.tell(&SHEET, format!("a line on {layer} at {at} belongs to no part"));
    }
}

/// What the file shows for people: each blocked place once, and the line that cuts the remnant off,
/// along one of its sides.
fn info(sheet: &SheetRow, dxf: &Dxf, shop: &Shop, desk: &mut Desk) {
    let mut places: Vec<Bounds<BlankFrame>> = sheet.blocked.iter().map(boxed).collect();
    let mut lines = 0;
    for entity in dxf.entities.iter().filter(|entity| entity.layer == shop.layers.info.name) {
        match &entity.shape {
            Ok(Shape::Polyline(path, true)) => {
                let own = path.bounds();
                let same = |place: &Bounds<BlankFrame>| {
                    place.low.distance(own.low).max(place.high.distance(own.high)) <= SAME_CONTOUR
                };
                match places.iter().position(same) {
                    Some(at) => drop(places.swap_remove(at)),
                    None => desk.tell(&SHEET, format!("{} is no blocked place", entity.call())),
                }
            }
            Ok(Shape::Line([a, b])) => {
                lines += 1;
                if !sheet.remnant.is_some_and(|rest| cuts_off(sheet, &boxed(&rest), [*a, *b])) {
                    let words = format!("{} does not cut the listed remnant off", entity.call());
                    desk.tell(&SHEET, words);
                }
            }
            _ => desk.tell(&DXF, format!("{} is neither line nor contour", entity.call())),
        }
    }
    if !places.is_empty() {
        desk.tell(&SHEET, format!("{} blocked places are not shown", places.len()));
    }
    if 1 < lines {
        desk.tell(&SHEET, format!("shows {lines} cuts of a remnant, not one"));
    }
}

/// Whether a line runs across the whole sheet, along a side of the remnant.
fn cuts_off(sheet: &SheetRow, rest: &Bounds<BlankFrame>, [a, b]: [Point<BlankFrame>; 2]) -> bool {
    let same = |a: f64, b: f64| (a - b).abs() <= SAME_CONTOUR;
    let side = |at: f64, low: f64, high: f64| same(at, low) || same(at, high);
    let (long, high) = ((a.x - b.x).abs(), (a.y - b.y).abs());
    (same(a.x, b.x) && same(high, sheet.height) && side(a.x, rest.low.x, rest.high.x))
        || (same(a.y, b.y) && same(long, sheet.width) && side(a.y, rest.low.y, rest.high.y))
}

/// Etching and bend lines of a blank where it lies, with their layers.
fn marks<'a>(own: &Lying, shop: &'a Shop) -> Vec<(&'a str, Run)> {
    let (map, layers) = (own.row.map(), &shop.layers);
    let laid = |run: Run| -> Run { run.into_iter().map(|p| map.point(p)).collect() };
    let etched = strokes(own.part.etch, map.reflects());
    let mut marks: Vec<(&str, Run)> =
        etched.into_iter().map(|run| (layers.etch.name.as_str(), laid(run))).collect();
    for (line, up) in &own.part.bends {
        let up = *up != map.reflects();
        let layer = if up { &layers.bend_up.name } else { &layers.bend_down.name };
        let lines = pieces(*line, layers.bend_lines);
        marks.extend(lines.into_iter().map(|line| (layer.as_str(), laid(line.to_vec()))));
    }
    marks
}

/// The lines of a file by where they begin.
#[derive(Default)]
struct Found<'a> {
    lines: Vec<(&'a str, Run, bool)>,
    places: BTreeMap<(i64, i64), Vec<usize>>,
}

impl<'a> Found<'a> {
    fn add(&mut self, layer: &'a str, run: Run) {
        let Some(first) = run.first() else { return };
        self.places.entry(square(*first)).or_default().push(self.lines.len());
        self.lines.push((layer, run, false));
    }

    /// Claims the line that runs like this one; whether there is one.
    fn take(&mut self, layer: &str, run: &Run) -> bool {
        let Some(first) = run.first() else { return true };
        let (x, y) = square(*first);
        let around = (-1..=1).flat_map(|i| (-1..=1).map(move |j| (x + i, y + j)));
        let near: Vec<usize> =
            around.filter_map(|place| self.places.get(&place)).flatten().copied().collect();
        let same = |(own, found, used): &(&str, Run, bool)| {
            *own == layer
                && !used
                && found.len() == run.len()
                && found.iter().zip(run).all(|(a, b)| a.distance(*b) <= SAME_CONTOUR)
        };
        let hit = near.into_iter().find(|index| same(&self.lines[*index]));
        hit.is_some_and(|index| {
            self.lines[index].2 = true;
            true
        })
    }

    /// A line that nobody claimed.
    fn left(&self) -> Option<(&'a str, &Run)> {
        self.lines.iter().find(|line| !line.2).map(|line| (line.0, &line.1))
    }
}

fn square(at: Point<BlankFrame>) -> (i64, i64) {
    ((at.x / SQUARE).floor() as i64, (at.y / SQUARE).floor() as i64)
}
