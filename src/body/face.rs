//! A flat face: both sides of the sheet, and the walls along its edges and holes.

use super::model::{Body, Way, back};
use super::ring::{Ring, Seat, Shared, hole};
use crate::kit::Face;

/// Adds a face; `bent` are the sides of its outline from which bends go on.
pub(super) fn add(
    body: &mut Body,
    face: &Face,
    seat: Seat,
    (bent, shared): (&[usize], Option<Shared>),
) -> Ring {
    let outline = Ring::new(body, &face.outline, seat, shared);
    outline.walls(body, (&face.outline, bent), seat);
    let holes: Vec<Ring> = face.holes.iter().map(|it| hole(body, it, seat)).collect();
    let rings = || std::iter::once(&outline).chain(&holes);
    let upper = rings().map(|ring| ring.sides[1].clone()).collect();
    let under = rings().map(|ring| reversed(&ring.sides[0])).collect();
    body.outward(seat.plane(seat.thickness, 1.0), upper);
    body.outward(seat.plane(0.0, -1.0), under);
    outline
}

fn reversed(ways: &[Way]) -> Vec<Way> {
    ways.iter().rev().map(|way| back(*way)).collect()
}
