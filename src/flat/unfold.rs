//! From faces and bends to the blank.
//!
//! The outline is spliced, not computed by polygon algebra: walking counter-clockwise around a
//! face, the side that carries a bend is replaced by the bend zone's end, the walk around the
//! child, and the zone's other end. Coordinates stay exact and the cost is one visit to each
//! corner.

use std::f64::consts::PI;

use super::{Blank, BlankBend, BlankHole, Contour, Etch};
use crate::geom::{BlankFrame, FaceFrame, Map2, Path, Point, Vertex};
use crate::kit::{Bend, Hole, HoleShape, Part};
use crate::units;

/// Length of the neutral line in a bend: `angle * (radius + k * thickness)`, mm.
pub fn allowance(angle: f64, radius: f64, thickness: f64, k: f64) -> f64 {
    angle * PI / 180.0 * (radius + k * thickness)
}

/// Unfolds a part. `None` when a bend's edge is not a side of its faces' outlines, which only a
/// part that was not made by `kit` can bring about.
pub fn unfold(part: &Part) -> Option<Blank> {
    let zones: Vec<f64> = part
        .bends
        .iter()
        .map(|bend| allowance(bend.angle, bend.radius, part.thickness, bend.k))
        .collect();
    let faces = lay_faces(part, &zones);
    let mut corners = Vec::new();
    walk(part, &faces, 0, None, &mut corners)?;
    let outer = Path { vertices: corners }.cleaned();
    let settle = settle(&outer);
    Some(assemble(part, &zones, &faces, &outer, &settle))
}

/// Each face's place in the plane of the root, one bend zone away from its parent.
fn lay_faces(part: &Part, zones: &[f64]) -> Vec<Map2<FaceFrame, BlankFrame>> {
    let mut faces = vec![Map2::identity(); part.faces.len()];
    for (bend, zone) in part.bends.iter().zip(zones) {
        let d = (bend.edge[1] - bend.edge[0]).unit();
        let n = d.right();
        let start = bend.edge[0] + n * (zone - bend.child_start.x) - d * bend.child_start.y;
        let child: Map2<FaceFrame, FaceFrame> = Map2::new(n, d, start);
        faces[bend.child] = child.then(&faces[bend.parent]);
    }
    faces
}

/// Adds the outline of a face and all that is folded from it, starting behind the side by which
/// the face was entered.
fn walk(
    part: &Part,
    faces: &[Map2<FaceFrame, BlankFrame>],
    face: usize,
    entry: Option<&Bend>,
    corners: &mut Vec<Vertex<BlankFrame>>,
) -> Option<()> {
    let outline = &part.faces[face].outline;
    let n = outline.vertices.len();
    let first = match entry {
        Some(bend) => 1 + outline.side_between(bend.child_edge())?,
        None => 0,
    };
    let sides = if entry.is_some() { n - 1 } else { n };
    let children: Vec<(usize, &Bend)> = part
        .bends
        .iter()
        .filter(|bend| bend.parent == face)
        .map(|bend| outline.side_between(bend.edge).map(|side| (side, bend)))
        .collect::<Option<_>>()?;
    for i in (first..first + sides).map(|i| i % n) {
        let corner = outline.vertices[i];
        corners.push(Vertex { at: faces[face].point(corner.at), bulge: corner.bulge });
        if let Some((_, bend)) = children.iter().find(|(side, _)| *side == i) {
            walk(part, faces, bend.child, Some(bend), corners)?;
        }
    }
    if entry.is_some() {
        let last = outline.vertices[(first + sides) % n];
        corners.push(Vertex { at: faces[face].point(last.at), bulge: 0.0 });
    }
    Some(())
}

/// Turns the blank so that its longer side lies along x, and shifts its lower left to (0, 0).
fn settle(outer: &Path<BlankFrame>) -> Map2<BlankFrame, BlankFrame> {
    let bounds = outer.bounds();
    let turn = if bounds.height() > bounds.width() { -90.0 } else { 0.0 };
    let turned = Map2::turn(turn);
    turned.shifted(-outer.mapped(&turned).bounds().low)
}

fn assemble(
    part: &Part,
    zones: &[f64],
    faces: &[Map2<FaceFrame, BlankFrame>],
    outer: &Path<BlankFrame>,
    settle: &Map2<BlankFrame, BlankFrame>,
) -> Blank {
    let faces: Vec<_> = faces.iter().map(|face| face.then(settle)).collect();
    let outer = outer.mapped(settle);
    let inner = holes(part, &faces);
    let bounds = outer.bounds();
    let area = outer.area() - inner.iter().map(|hole| hole.contour.area()).sum::<f64>();
    let cut_length = outer.length() + inner.iter().map(|hole| hole.contour.length()).sum::<f64>();
    Blank {
        width: bounds.width(),
        height: bounds.height(),
        pierces: 1 + inner.len(),
        bends: part.bends.iter().zip(zones).map(|(b, z)| blank_bend(b, *z, &faces)).collect(),
        etch: part
            .marks
            .iter()
            .map(|mark| Etch {
                at: faces[mark.face].point(mark.at),
                direction: readable(faces[mark.face].direction(mark.direction)),
                height: mark.height,
                text: mark.text.clone(),
            })
            .collect(),
        outer,
        inner,
        faces,
        area,
        cut_length,
    }
}

fn blank_bend(bend: &Bend, zone: f64, faces: &[Map2<FaceFrame, BlankFrame>]) -> BlankBend {
    let out = (bend.edge[1] - bend.edge[0]).unit().right() * (zone / 2.0);
    let line = bend.edge.map(|end| faces[bend.parent].point(end + out));
    BlankBend { line, allowance: zone }
}

/// The same direction, or its opposite when the text would stand on its head.
fn readable(direction: f64) -> f64 {
    let turn = direction.rem_euclid(360.0);
    let turn = if 90.0 + 1e-6 < turn && turn < 270.0 + 1e-6 { turn - 180.0 } else { turn };
    if turn >= 180.0 { turn - 360.0 } else { turn }
}

fn holes(part: &Part, faces: &[Map2<FaceFrame, BlankFrame>]) -> Vec<BlankHole> {
    let mut holes = Vec::new();
    for (face, map) in faces.iter().enumerate() {
        for (hole, it) in part.faces[face].holes.iter().enumerate() {
            holes.push(BlankHole { face, hole, contour: contour(it, map) });
        }
    }
    holes
}

/// A hole's contour in the blank, clockwise.
fn contour(hole: &Hole, map: &Map2<FaceFrame, BlankFrame>) -> Contour {
    match &hole.shape {
        HoleShape::Round(diameter) => Contour::Circle(map.point(hole.centre), *diameter),
        HoleShape::Slot(width, length, direction) => {
            Contour::Loop(slot(hole.centre, *width, *length, *direction).mapped(map))
        }
        HoleShape::Rectangle(width, length, direction) => {
            Contour::Loop(rectangle(hole.centre, *width, *length, *direction).mapped(map))
        }
        HoleShape::Cutout(path) => Contour::Loop(path.mapped(map)),
    }
}

/// A slot with round ends, clockwise.
fn slot(centre: Point<FaceFrame>, width: f64, length: f64, direction: f64) -> Path<FaceFrame> {
    let (half, radius) = ((length - width) / 2.0, width / 2.0);
    let x = Point::new(units::cos_deg(direction), units::sin_deg(direction));
    let corner = |a: f64, b: f64, bulge: f64| Vertex { at: centre + x * a + x.left() * b, bulge };
    let vertices = vec![
        corner(-half, radius, 0.0),
        corner(half, radius, -1.0),
        corner(half, -radius, 0.0),
        corner(-half, -radius, -1.0),
    ];
    Path { vertices }
}

/// A rectangle, clockwise.
fn rectangle(centre: Point<FaceFrame>, width: f64, length: f64, direction: f64) -> Path<FaceFrame> {
    let (half, side) = (length / 2.0, width / 2.0);
    let x = Point::new(units::cos_deg(direction), units::sin_deg(direction));
    let corner = |a: f64, b: f64| centre + x * a + x.left() * b;
    Path::polygon(&[
        corner(-half, side),
        corner(half, side),
        corner(half, -side),
        corner(-half, -side),
    ])
}
