//! Torsion, shear centre and warping of an open thin-walled section, from its middle line, and
//! Bredt's torsion constant of a closed cell.

use super::gross::Values;
use super::piece::{P, Piece};
use super::shape::Section;

/// What the middle line of an open section gives. Exact for a wall that is thin against its
/// widths; a solid section of the same outline is a little less stiff at its free edges.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Thin {
    /// Torsion constant: sum of b t³ / 3, mm4.
    pub torsion: f64,
    /// Shear centre, section frame.
    pub shear_centre: P,
    /// Warping constant about the shear centre, mm6.
    pub warping: f64,
}

/// One node of a line integral: where it lies, its share of length, sectorial coordinate.
struct Node {
    at: P,
    weight: f64,
    omega: f64,
}

/// Nodes and weights of Gauss and Legendre's rule of five points on 0..1; exact up to degree 9.
const RULE: [(f64, f64); 5] = [
    (0.046_910_077_030_668_0, 0.118_463_442_528_094_5),
    (0.230_765_344_947_158_5, 0.239_314_335_249_683_2),
    (0.5, 0.284_444_444_444_444_4),
    (0.769_234_655_052_841_5, 0.239_314_335_249_683_2),
    (0.953_089_922_969_332, 0.118_463_442_528_094_5),
];

/// A corner is integrated in steps of at most this many degrees: the rule's error is then under a
/// part in 10⁹ of the corner's own share.
const STEP: f64 = 30.0;

/// Torsion, shear centre and warping of an open section.
pub fn thin(section: &Section) -> Thin {
    let t = section.thickness;
    let torsion = section.middle_line() * t * t * t / 3.0;
    let pole = Values::of(&section.moments()).centroid;
    let nodes = nodes(section, pole);
    let length: f64 = nodes.iter().map(|node| node.weight).sum();
    if length <= 0.0 {
        return Thin { torsion, shear_centre: pole, warping: 0.0 };
    }
    let mean = |value: &dyn Fn(&Node) -> f64| {
        nodes.iter().map(|node| value(node) * node.weight).sum::<f64>() / length
    };
    let centre = P::new(mean(&|n| n.at.x), mean(&|n| n.at.y));
    let shifted = mean(&|n| n.omega);
    let (x, y) = (|n: &Node| n.at.x - centre.x, |n: &Node| n.at.y - centre.y);
    let w = |n: &Node| n.omega - shifted;
    let [xx, yy, xy] = [mean(&|n| x(n) * x(n)), mean(&|n| y(n) * y(n)), mean(&|n| x(n) * y(n))];
    let [wx, wy, ww] = [mean(&|n| w(n) * x(n)), mean(&|n| w(n) * y(n)), mean(&|n| w(n) * w(n))];
    let determinant = xx * yy - xy * xy;
    // All on one line: it does not warp, and its shear centre is its middle.
    if determinant <= 1e-12 * (xx + yy) * (xx + yy) {
        return Thin { torsion, shear_centre: centre, warping: 0.0 };
    }
    // The sectorial coordinate about the shear centre is `w + b x - a y` and stands square to x and
    // y: two equations for the way (a, b) from the pole to the shear centre.
    let a = (wy * xx - wx * xy) / determinant;
    let b = (wy * xy - wx * yy) / determinant;
    let warping = (ww + b * wx - a * wy) * length * t;
    Thin { torsion, shear_centre: pole + P::new(a, b), warping: warping.max(0.0) }
}

/// Nodes along the whole middle line; the sectorial coordinate about `pole` grows where the pole
/// lies to the left.
fn nodes(section: &Section, pole: P) -> Vec<Node> {
    let mut nodes = Vec::new();
    let mut omega = 0.0;
    for piece in &section.pieces {
        let steps = match piece {
            Piece::Flat { .. } => 1,
            Piece::Corner { sweep, .. } => (sweep.abs() / STEP).ceil().max(1.0) as usize,
        };
        for i in 0..steps {
            let share = |part: f64| (i as f64 + part) / steps as f64;
            nodes.extend(RULE.iter().map(|&(place, weight)| Node {
                at: piece.at(share(place)),
                weight: weight * piece.length() / steps as f64,
                omega: omega + swept(piece, share(place), pole),
            }));
        }
        omega += swept(piece, 1.0, pole);
    }
    nodes
}

/// Twice the area that the ray from the pole sweeps along a piece up to a share of it.
fn swept(piece: &Piece, share: f64, pole: P) -> f64 {
    match *piece {
        Piece::Flat { from, .. } => (from - pole).cross(piece.at(share) - pole),
        Piece::Corner { centre, from, sweep } => {
            let (ray, turn) = (from - centre, sweep * share);
            let arc = ray.dot(ray) * turn * std::f64::consts::PI / 180.0;
            (centre - pole).cross(piece.at(share) - from) + arc
        }
    }
}

/// Bredt's torsion constant of a closed cell, mm4: 4 A² over the sum of s / t along its middle
/// line. Each wall is given by its start and its thickness; the last ends where the first starts.
pub fn closed_torsion(walls: &[(P, f64)]) -> f64 {
    let ends = walls.iter().cycle().skip(1);
    let (mut doubled, mut flow) = (0.0, 0.0);
    for ((from, thickness), (to, _)) in walls.iter().zip(ends) {
        doubled += from.cross(*to);
        flow += from.distance(*to) / thickness;
    }
    if flow > 0.0 { doubled * doubled / flow } else { 0.0 }
}
