//! The cut lines, and the lips on their flats.

use super::{Lines, Lip};
use crate::kit::Wall;
use crate::resolve::Lips;
use crate::units;

/// The lines of an opening between `x` and between `z`.
pub(super) fn lines(wall: &Wall, x: [f64; 2], z: [f64; 2]) -> Lines {
    let (width, height) = (x[1] - x[0], z[1] - z[0]);
    Lines {
        x,
        z,
        from_left: x.map(|x| x - wall.ends[0]),
        from_right: x.map(|x| wall.ends[1] - x),
        above_rail: z.map(|z| z - wall.edges[0]),
        below_rail: z.map(|z| wall.edges[1] - z),
        width,
        height,
        diagonal: units::hypot(width, height),
        reach: wall.depth + wall.thickness,
    }
}

/// The left and the right lip.
pub(super) fn lips(wall: &Wall, lines: &Lines, lips: &Lips) -> Option<[Lip; 2]> {
    let count = wall.outer_flat_centres.len();
    let lip = |side: usize| {
        let centre = wall.outer_flat_centres.get(lips.flats[side])?;
        let edges = [centre - wall.outer_flat / 2.0, centre + wall.outer_flat / 2.0];
        let cut = lines.x[side];
        let flat = [cut - edges[0], edges[1] - cut];
        Some(Lip {
            flat: [lips.flats[side] + 1, count - lips.flats[side]],
            edges,
            cut,
            reach: lips.reach,
            beyond: flat[side] - lips.reach,
            lost: flat[1 - side],
        })
    };
    Some([lip(0)?, lip(1)?])
}
