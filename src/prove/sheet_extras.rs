//! Lead-ins, tabs and skeleton cuts of a sheet, where the shop wants them: lead-ins in the waste,
//! each to the beginning of a cut; tabs on outlines; skeleton cuts clear of every blank.

use super::apart::Outline;
use super::codes::{DXF, SHEET};
use super::contour::place;
use super::desk::{Desk, beyond};
use super::dxf::{Dxf, Shape};
use super::sheets::{Lying, SLACK, boxed};
use crate::flat::Contour;
use crate::geom::{BlankFrame, Bounds, Path, Point, Vertex};
use crate::reading::{SheetRow, path};
use crate::shelf::{Extra, Shop};

type P = Point<BlankFrame>;
type Line = [P; 2];

/// How far the end of a lead-in or tab may lie off its contour, mm.
const ON: f64 = 1e-3;

/// Sag of the chords that stand for an opening's arcs, mm.
const SAG: f64 = 0.005;

/// Shares of a lead-in's length at which it must lie in the waste, from the pierce.
const SHARES: [f64; 4] = [0.0, 0.3, 0.6, 0.9];

/// Looks over the layers that the shop asks for.
pub(super) fn compare(
    (sheet, lying): (&SheetRow, &[Lying]),
    dxf: &Dxf,
    shop: &Shop,
    desk: &mut Desk,
) {
    let work = &shop.sheet_work;
    let blanks: Vec<Blank> = lying.iter().map(Blank::of).collect();
    if let Some(extra) = &work.lead_in {
        lead_ins(&lines(dxf, extra, desk), (dxf, &blanks), shop, desk);
    }
    if let Some(extra) = &work.tab {
        for line in lines(dxf, extra, desk) {
            let on = |p: P| blanks.iter().any(|blank| blank.outer.clearance(p).abs() <= ON);
            let width = line[0].distance(line[1]);
            if !on(line[0]) || !on(line[1]) || beyond((width - extra.size).abs(), ON) {
                desk.tell(&SHEET, format!("the tab at {} lies on no outline", place(line[0])));
            }
        }
    }
    if let Some(extra) = &work.skeleton {
        for line in lines(dxf, extra, desk) {
            skeleton((sheet, lying), line, extra.size, desk);
        }
    }
}

/// The lines of a layer; what is no line is told.
fn lines(dxf: &Dxf, extra: &Extra, desk: &mut Desk) -> Vec<Line> {
    let mut lines = Vec::new();
    for entity in dxf.entities.iter().filter(|entity| entity.layer == extra.layer.name) {
        match &entity.shape {
            Ok(Shape::Line(line)) => lines.push(*line),
            _ => desk.tell(&DXF, format!("{} is no straight line", entity.call())),
        }
    }
    lines
}

/// A blank's contours on the sheet. Openings have straight sides: a lead-in from where a slot's arc
/// begins lies on the arc's chord, which is neither of its sides.
struct Blank {
    outer: Path<BlankFrame>,
    inner: Vec<Path<BlankFrame>>,
    bounds: Bounds<BlankFrame>,
}

impl Blank {
    fn of(own: &Lying) -> Self {
        let map = own.row.map();
        let laid = |contour: Contour| match contour {
            Contour::Loop(path) => path.cleaned().mapped(&map),
            Contour::Circle(centre, d) => {
                let (centre, arm) = (map.point(centre), Point::new(d / 2.0, 0.0));
                let vertices = [centre + arm, centre - arm].map(|at| Vertex { at, bulge: 1.0 });
                Path { vertices: vertices.to_vec() }
            }
        };
        let outer = laid(Contour::Loop(path(&own.part.blank.outer)));
        let inner = own.part.blank.inner.iter().map(|row| laid(row.contour()));
        let inner = inner.map(|path| Path::polygon(&path.points(SAG))).collect();
        Self { bounds: outer.bounds(), outer, inner }
    }

    /// Whether a point lies in the material.
    fn covers(&self, at: P) -> bool {
        let Bounds { low, high } = self.bounds;
        let near = low.x <= at.x && at.x <= high.x && low.y <= at.y && at.y <= high.y;
        near && 0.0 < self.outer.clearance(at)
            && !self.inner.iter().any(|hole| 0.0 < hole.clearance(at))
    }
}

/// Each lead-in begins in the waste, stays in it, and ends where a cut is begun.
fn lead_ins(lines: &[Line], (dxf, blanks): (&Dxf, &[Blank]), shop: &Shop, desk: &mut Desk) {
    let layers = [&shop.layers.cut_outside.name, &shop.layers.cut_inside.name];
    let cuts = dxf.entities.iter().filter(|entity| layers.iter().any(|l| *l == entity.layer));
    let start = |shape: &Shape| match shape {
        Shape::Polyline(path, true) => path.vertices.first().map(|v| v.at),
        Shape::Circle(centre, d) => Some(*centre + Point::new(d / 2.0, 0.0)),
        _ => None,
    };
    let mut starts: Vec<P> = cuts.filter_map(|entity| start(entity.shape.as_ref().ok()?)).collect();
    for [pierce, end] in lines {
        match starts.iter().position(|at| at.distance(*end) <= ON) {
            Some(at) => drop(starts.swap_remove(at)),
            None => desk.tell(&SHEET, format!("the lead-in at {} leads to no cut", place(*pierce))),
        }
        let inside = |share: &f64| {
            let at = pierce.toward(*end, *share);
            blanks.iter().any(|blank| blank.covers(at))
        };
        if SHARES.iter().any(inside) {
            desk.tell(&SHEET, format!("the lead-in at {} cuts into a part", place(*pierce)));
        }
    }
}

/// A skeleton cut keeps clear of every blank and of blocked places, and leaves the remnant whole.
fn skeleton((sheet, lying): (&SheetRow, &[Lying]), line: Line, clear: f64, desk: &mut Desk) {
    let at = place(line[0]);
    let own = Outline::line(line);
    for other in lying {
        if beyond(clear - other.outline.off(&own), SLACK) {
            desk.tell(&SHEET, format!("the skeleton cut at {at} meets {}", other.part.number));
        }
    }
    let [a, b] = line;
    let through = |place: &[f64; 4]| {
        let place = boxed(place);
        a.x.min(b.x) < place.high.x - SLACK
            && place.low.x + SLACK < a.x.max(b.x)
            && a.y.min(b.y) < place.high.y - SLACK
            && place.low.y + SLACK < a.y.max(b.y)
    };
    if sheet.remnant.iter().any(through) {
        desk.tell(&SHEET, format!("the skeleton cut at {at} runs into the remnant"));
    }
    if sheet.blocked.iter().any(through) {
        desk.tell(&SHEET, format!("the skeleton cut at {at} runs into a blocked place"));
    }
}
