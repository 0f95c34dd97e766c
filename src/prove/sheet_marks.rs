//! What is not cut of a sheet: etching and bend lines, each where its blank lies, and nothing else
//! on any layer.

use std::collections::BTreeMap;

use super::codes::{DXF, SHEET};
use super::contour::{SAME_CONTOUR, place};
use super::desk::Desk;
use super::dxf::{Dxf, Shape};
use super::etching::strokes;
use super::lines::pieces;
use super::sheets::Lying;
use crate::geom::{BlankFrame, Point};
use crate::shelf::{Extra, Shop};

type Run = Vec<Point<BlankFrame>>;

/// Side of the squares in which lines are looked up by their first point, mm.
const SQUARE: f64 = 0.01;

/// Compares etching and bend lines, and looks for strangers.
pub(super) fn compare(lying: &[Lying], dxf: &Dxf, shop: &Shop, desk: &mut Desk) {
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

/// Etching and bend lines of a blank where it lies, with their layers.
fn marks<'a>(own: &Lying, shop: &'a Shop) -> Vec<(&'a str, Run)> {
    let (map, layers) = (own.row.map(), &shop.layers);
    let laid = |run: Run| -> Run { run.into_iter().map(|p| map.point(p)).collect() };
    let etched = strokes(own.part, map.reflects());
    let mut marks: Vec<(&str, Run)> =
        etched.into_iter().map(|run| (layers.etch.name.as_str(), laid(run))).collect();
    for bend in &own.part.bends {
        let up = (bend.direction == "up") != map.reflects();
        let layer = if up { &layers.bend_up.name } else { &layers.bend_down.name };
        let lines = pieces(bend.ends(), layers.bend_lines);
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
