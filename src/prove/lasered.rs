//! What the laser is given for one part: the entities of its DXF file sorted by what their layers
//! say.

use super::codes::{CONTOUR, DXF};
use super::desk::{Desk, beyond};
use super::dxf::{Dxf, Entity, Shape};
use crate::flat::Contour;
use crate::geom::{BlankFrame, Path, Point};
use crate::kit::Sense;
use crate::note::Finding;
use crate::shelf::Layers;

/// A part's blank as its DXF file has it.
#[derive(Debug, Default)]
pub(super) struct Lasered {
    /// The outside contour.
    pub(super) outer: Option<Path<BlankFrame>>,
    /// Holes and cut-outs, each with how messages call it.
    pub(super) inner: Vec<(Contour, String)>,
    /// Bend lines with their direction and how messages call them.
    pub(super) bends: Vec<(Sense, [Point<BlankFrame>; 2], String)>,
    /// Etched strokes; one that is closed ends where it begins.
    pub(super) etch: Vec<Vec<Point<BlankFrame>>>,
}

/// Looks over what every laser file must be, and sorts its entities.
pub(super) fn sort(dxf: &Dxf, layers: &Layers, desk: &mut Desk) -> Lasered {
    head(dxf, desk);
    for name in layers.names() {
        if !dxf.layers.contains(&name) {
            desk.tell(&DXF, format!("has no layer {name}"));
        }
    }
    let mut lasered = Lasered::default();
    for entity in &dxf.entities {
        match &entity.shape {
            Ok(shape) => take(&mut lasered, (entity, shape), layers, desk),
            Err(why) => desk.tell(&DXF, format!("{} {why}", entity.call())),
        }
    }
    if lasered.outer.is_none() {
        desk.tell(&CONTOUR, "has no closed outside contour");
    }
    extent(dxf, &lasered, desk);
    lasered
}

/// Units and version.
pub(super) fn head(dxf: &Dxf, desk: &mut Desk) {
    for (name, meant, means) in [("$INSUNITS", "4", "mm"), ("$MEASUREMENT", "1", "metric")] {
        let found = dxf.variable(name);
        if found != meant {
            let found = if found.is_empty() { "missing" } else { found };
            desk.tell(&DXF, format!("{name} is {found}, {meant} ({means}) is meant"));
        }
    }
    let version = dxf.variable("$ACADVER");
    if version < "AC1015" {
        desk.tell(&DXF, format!("is of version {version}, AC1015 at least is meant"));
    }
}

/// What a program writes that keeps no extents: they are not set.
const NOT_SET: f64 = 1e20;

/// The header's extent should be that of the outline, or viewers open the file on nothing; nothing
/// is cut by it, so that it is no error.
fn extent(dxf: &Dxf, lasered: &Lasered, desk: &mut Desk) {
    let Some(outer) = &lasered.outer else { return };
    let bounds = outer.bounds();
    for (name, corner) in [("$EXTMIN", bounds.low), ("$EXTMAX", bounds.high)] {
        let found = dxf.variable(name).parse::<f64>().unwrap_or(f64::NAN);
        let set = found.abs() < NOT_SET;
        if set && beyond((found - corner.x).abs(), super::contour::SAME_CONTOUR) {
            let words = format!("{}: {name} is not the outline's", desk.file);
            let note = Finding::note(DXF.id, words).about(desk.file.clone());
            desk.notes.add(note.measured(found, corner.x, "mm").help(DXF.remedy));
        }
    }
}

fn take(
    lasered: &mut Lasered,
    (entity, shape): (&Entity, &Shape),
    layers: &Layers,
    desk: &mut Desk,
) {
    let call = entity.call();
    let layer = entity.layer;
    if layer == layers.cut_outside.name {
        outside(lasered, (&call, shape), desk);
    } else if layer == layers.cut_inside.name {
        match shape {
            Shape::Circle(at, d) => lasered.inner.push((Contour::Circle(*at, *d), call)),
            Shape::Polyline(path, true) => {
                lasered.inner.push((Contour::Loop(path.clone()), call));
            }
            _ => desk.tell(&CONTOUR, format!("{call} on {layer} is not closed")),
        }
    } else if layer == layers.bend_up.name || layer == layers.bend_down.name {
        let sense = if layer == layers.bend_up.name { Sense::Up } else { Sense::Down };
        match shape {
            Shape::Line(line) => lasered.bends.push((sense, *line, call)),
            _ => desk.tell(&DXF, format!("{call} on {layer} is no straight line")),
        }
    } else if layer == layers.etch.name {
        etched(lasered, (&call, shape), desk);
    } else if layer != layers.info.name {
        desk.tell(&DXF, format!("{call} lies on {layer}, where a part has nothing"));
    }
}

fn outside(lasered: &mut Lasered, (call, shape): (&str, &Shape), desk: &mut Desk) {
    match shape {
        Shape::Polyline(path, true) if lasered.outer.is_none() => {
            lasered.outer = Some(path.clone());
        }
        Shape::Polyline(_, true) => desk.tell(&CONTOUR, format!("{call} is a second outline")),
        _ => desk.tell(&CONTOUR, format!("{call} is not closed: an outline is meant")),
    }
}

fn etched(lasered: &mut Lasered, (call, shape): (&str, &Shape), desk: &mut Desk) {
    match shape {
        Shape::Polyline(path, closed) if path.vertices.iter().all(|v| v.bulge == 0.0) => {
            let mut run: Vec<_> = path.vertices.iter().map(|v| v.at).collect();
            run.extend(if *closed { run.first().copied() } else { None });
            lasered.etch.push(run);
        }
        Shape::Line(line) => lasered.etch.push(line.to_vec()),
        _ => desk.tell(&DXF, format!("{call} is no stroke of lettering")),
    }
}
