//! The wall's outer face in plan, as a run of points.

use crate::kit::Wall;

/// The corners of the wall's outer face from one X to another, both included: (X, Y), X ascending.
/// Outside its first and last outer flat a wall lies in the plane of the outer flats.
pub fn wall_line(wall: &Wall, from: f64, to: f64) -> Vec<[f64; 2]> {
    let inside = |x: &f64| from < *x && *x < to;
    let mut corners: Vec<f64> = corners(wall).into_iter().filter(inside).collect();
    corners.insert(0, from);
    corners.push(to);
    corners.into_iter().map(|x| [x, outer_face(wall, x)]).collect()
}

/// X of every corner between a flat and a slope, ascending.
fn corners(wall: &Wall) -> Vec<f64> {
    let half = wall.outer_flat / 2.0;
    let between = |pair: &[f64]| {
        let middle = (pair[0] + pair[1]) / 2.0;
        let (left, right) = (pair[0] + half, pair[1] - half);
        [left, (left + wall.slope).min(middle), (right - wall.slope).max(middle), right]
    };
    wall.outer_flat_centres.windows(2).flat_map(between).collect()
}

/// Y of the wall's outer face at a site X.
fn outer_face(wall: &Wall, x: f64) -> f64 {
    let centres = &wall.outer_flat_centres;
    let after = centres.partition_point(|centre| *centre <= x);
    if after == 0 || after == centres.len() {
        return 0.0;
    }
    let nearest = (x - centres[after - 1]).min(centres[after] - x);
    ((nearest - wall.outer_flat / 2.0) / wall.slope).clamp(0.0, 1.0) * wall.depth
}
