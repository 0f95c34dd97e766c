//! A DXF file read strictly: the few header variables that matter, the layers, and every entity.
//!
//! The `dxf` crate reads more kinds of file, but takes what it does not understand for absent and
//! builds a whole drawing for each; what is asked here is that nothing else is in the file.

use super::pairs::{Pair, pairs};
use crate::geom::{BlankFrame, Path, Point, Vertex};

/// A point as the file gives it: the blank frame.
type P = Point<BlankFrame>;

/// What a file holds.
#[derive(Debug, Default)]
pub(super) struct Dxf<'a> {
    /// The header variables: name, and the first value behind it.
    pub(super) header: Vec<(&'a str, &'a str)>,
    /// Names in the table of layers.
    pub(super) layers: Vec<&'a str>,
    /// Everything drawn, in the order of the file.
    pub(super) entities: Vec<Entity<'a>>,
}

/// One thing drawn.
#[derive(Debug)]
pub(super) struct Entity<'a> {
    /// `LINE`, `CIRCLE`, ...
    pub(super) kind: &'a str,
    /// Its handle.
    pub(super) handle: &'a str,
    /// Its layer.
    pub(super) layer: &'a str,
    /// Where it runs, or what forbids to take it as it seems to run.
    pub(super) shape: Result<Shape, String>,
}

/// Where an entity runs.
#[derive(Debug)]
pub(super) enum Shape {
    /// A run of lines and arcs, and whether it is closed.
    Polyline(Path<BlankFrame>, bool),
    /// Centre and diameter.
    Circle(P, f64),
    /// Start and end.
    Line([P; 2]),
}

impl Dxf<'_> {
    /// The value of a header variable.
    pub(super) fn variable(&self, name: &str) -> &str {
        self.header.iter().find(|(own, _)| *own == name).map_or("", |(_, value)| value.trim())
    }
}

impl Entity<'_> {
    /// How a message calls it: `CIRCLE 9F at 12.5, 40`.
    pub(super) fn call(&self) -> String {
        let at = match &self.shape {
            Ok(Shape::Polyline(path, _)) => path.vertices.first().map(|v| v.at),
            Ok(Shape::Circle(at, _) | Shape::Line([at, _])) => Some(*at),
            Err(_) => None,
        };
        let at = at.map_or(String::new(), |at| format!(" at {}", super::contour::place(at)));
        format!("{} {}{at}", self.kind, self.handle)
    }
}

/// Reads a file, or says what keeps it from being read.
pub(super) fn read(bytes: &[u8]) -> Result<Dxf<'_>, String> {
    let pairs = pairs(bytes)?;
    let mut dxf = Dxf::default();
    let (mut section, mut ended) = ("", false);
    for record in pairs.chunk_by(|_, next| next.code != 0) {
        let Some((head, body)) = record.split_first().filter(|(head, _)| head.code == 0) else {
            return Err("does not begin with a section".to_owned());
        };
        match (section, head.value.trim()) {
            (_, "SECTION") => {
                section = text(body, 2);
                dxf.header.extend(header(section, body));
            }
            (_, "ENDSEC") => section = "",
            (_, "EOF") => ended = true,
            ("TABLES", "LAYER") => dxf.layers.push(text(body, 2)),
            ("BLOCKS", "BLOCK" | "ENDBLK") => {}
            ("BLOCKS" | "ENTITIES", kind) => dxf.entities.push(entity(section, kind, body)),
            _ => {}
        }
    }
    if ended { Ok(dxf) } else { Err("breaks off before its end".to_owned()) }
}

fn header<'a>(section: &str, body: &[Pair<'a>]) -> Vec<(&'a str, &'a str)> {
    if section != "HEADER" {
        return Vec::new();
    }
    let names = body.windows(2).filter(|two| two[0].code == 9);
    names.map(|two| (two[0].value.trim(), two[1].value)).collect()
}

fn text<'a>(body: &[Pair<'a>], code: u16) -> &'a str {
    body.iter().find(|pair| pair.code == code).map_or("", |pair| pair.value)
}

fn entity<'a>(section: &str, kind: &'a str, body: &[Pair<'a>]) -> Entity<'a> {
    let shape = match kind {
        _ if section == "BLOCKS" => Err("is hidden in a block".to_owned()),
        "LINE" => line(body),
        "CIRCLE" => circle(body),
        "LWPOLYLINE" => polyline(body),
        _ => Err("is of a kind that no laser file of ours has".to_owned()),
    };
    let shape = plain(body).and(shape);
    Entity { kind, handle: text(body, 5), layer: text(body, 8), shape }
}

/// Refuses what would move the entity out of the plane, mirror it, widen it or hide it.
fn plain(body: &[Pair<'_>]) -> Result<(), String> {
    for pair in body {
        let neutral = match pair.code {
            30 | 31 | 38 | 39 | 41 | 43 | 60 | 67 | 210 | 220 => 0.0,
            230 => 1.0,
            _ => continue,
        };
        if pair.number()? != neutral {
            let value = pair.value.trim();
            return Err(format!("has {value} in group {}, line {}", pair.code, pair.line));
        }
    }
    Ok(())
}

fn number(body: &[Pair<'_>], code: u16) -> Result<f64, String> {
    let pair = body.iter().find(|pair| pair.code == code);
    pair.ok_or_else(|| format!("has no group {code}"))?.number()
}

fn point(body: &[Pair<'_>], code: u16) -> Result<P, String> {
    Ok(Point::new(number(body, code)?, number(body, code + 10)?))
}

fn line(body: &[Pair<'_>]) -> Result<Shape, String> {
    let ends = [point(body, 10)?, point(body, 11)?];
    if ends[0] == ends[1] { Err("has no length".to_owned()) } else { Ok(Shape::Line(ends)) }
}

fn circle(body: &[Pair<'_>]) -> Result<Shape, String> {
    let diameter = 2.0 * number(body, 40)?;
    if diameter > 0.0 {
        Ok(Shape::Circle(point(body, 10)?, diameter))
    } else {
        Err("has no size".to_owned())
    }
}

fn polyline(body: &[Pair<'_>]) -> Result<Shape, String> {
    let (count, flags) = (number(body, 90)?, number(body, 70)?);
    let mut vertices: Vec<Vertex<BlankFrame>> = Vec::with_capacity(body.len() / 2);
    for pair in body {
        let last = vertices.last_mut();
        match (pair.code, last) {
            (10, _) => {
                let at = Point::new(pair.number()?, f64::NAN);
                vertices.push(Vertex { at, bulge: 0.0 });
            }
            (20, Some(last)) => last.at = Point::new(last.at.x, pair.number()?),
            (42, Some(last)) => last.bulge = pair.number()?,
            _ => {}
        }
    }
    if vertices.len() as f64 != count || vertices.iter().any(|v| !v.at.is_finite()) {
        return Err(format!("counts {count} corners and has {}", vertices.len()));
    }
    if vertices.len() < 2 || vertices.windows(2).any(|two| two[0].at == two[1].at) {
        return Err("has a side of no length".to_owned());
    }
    Ok(Shape::Polyline(Path { vertices }, flags == 1.0))
}
