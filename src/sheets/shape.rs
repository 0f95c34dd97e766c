//! Blanks as the layout sees them: corners on the grid of hundredths, arcs as runs of lines, never
//! smaller than the true blank.

use crate::flat::{Blank, Contour};
use crate::geom::{Path, Point, Vertex};
use crate::nest::{Ring, Shape};
use crate::units;

/// Greatest distance of a run of lines from its arc, mm. Together with the step to the grid a
/// blank grows by less than 0.05 mm.
const SAG: f64 = 0.03;

/// Hundredths in a millimetre.
const GRID: f64 = 100.0;

/// A corner this little outside of a side, in hundredths, lies on it: rounding of doubles.
const ON: f64 = 1e-4;

/// How many hundredths a corner is moved at most to come outside of both of its sides.
const REACH: i64 = 3;

/// How many hundredths the end of a slit is moved at most.
const SLIT: i64 = 500;

/// The shape of a blank; openings alone that `holds` says may hold another part, by their extents.
pub fn shape(blank: &Blank, holds: impl Fn([f64; 2]) -> bool) -> Shape {
    let open = |contour: &Contour| {
        let ring = match contour {
            Contour::Circle(centre, diameter) if holds([*diameter; 2]) => {
                Some(grown(&circle(*centre, *diameter)))
            }
            Contour::Loop(path) => {
                let bounds = path.bounds();
                holds([bounds.width(), bounds.height()]).then(|| grown(&path.cleaned()))
            }
            Contour::Circle(..) => None,
        };
        ring.filter(|ring| 2 < ring.len())
    };
    Shape {
        outer: grown(&blank.outer.cleaned()),
        holes: blank.inner.iter().filter_map(|hole| open(&hole.contour)).collect(),
    }
}

/// A clockwise circle of two arcs.
fn circle<F>(centre: Point<F>, diameter: f64) -> Path<F> {
    let arm = Point::new(diameter / 2.0, 0.0);
    let vertices = [centre - arm, centre + arm].map(|at| Vertex { at, bulge: -1.0 });
    Path { vertices: vertices.to_vec() }
}

/// A closed path with the material on its left, as corners in hundredths of a millimetre that leave
/// no point of the material outside.
pub fn grown<F>(path: &Path<F>) -> Ring {
    let corners: Vec<Point<F>> = path.sides().flat_map(|side| flattened(side)).collect();
    let n = corners.len();
    let mut ring: Ring = Vec::with_capacity(n);
    for i in 0..n {
        let [before, here, after] = [corners[(i + n - 1) % n], corners[i], corners[(i + 1) % n]];
        ring.extend(on_grid(here, [outward(before, here), outward(here, after)]));
    }
    ring.dedup();
    while 1 < ring.len() && ring.first() == ring.last() {
        ring.pop();
    }
    ring
}

/// The corners that stand for a side, its end left out. An arc that bows out of the material gets
/// tangents, one that bows into it chords: both lie outside of the material.
fn flattened<F>((a, b, bulge): (Point<F>, Point<F>, f64)) -> Vec<Point<F>> {
    if bulge == 0.0 {
        return vec![a];
    }
    let chord = b - a;
    let centre = a.toward(b, 0.5) + chord.left() * ((1.0 - bulge * bulge) / (4.0 * bulge));
    let radius = centre.distance(a);
    let angle = 4.0 * units::atan_deg(bulge);
    let step = 2.0 * units::acos_deg(radius / (radius + SAG));
    let count = (angle.abs() / step).ceil().max(1.0);
    let share = angle / count;
    let spoke = a - centre;
    let mut corners = vec![a];
    if bulge > 0.0 {
        let out = 1.0 / units::cos_deg(share / 2.0);
        corners.extend(
            (0..count as usize).map(|i| centre + spoke.turned(share * (i as f64 + 0.5)) * out),
        );
    } else {
        corners.extend((1..count as usize).map(|i| centre + spoke.turned(share * i as f64)));
    }
    corners
}

/// The direction out of the material along a side.
fn outward<F>(a: Point<F>, b: Point<F>) -> Point<F> {
    (b - a).unit().right()
}

/// What stands for a corner: the nearest point of the grid that lies outside of both sides, or on
/// them; two points across the tip of a spike, where no such point is near.
fn on_grid<F>(at: Point<F>, normals: [Point<F>; 2]) -> Vec<[i64; 2]> {
    if let Some(one) = near(at, &normals, REACH) {
        return vec![one];
    }
    let tip = (normals[0] + normals[1]).unit();
    if normals[0].cross(normals[1]) > 0.0 {
        let beside = |normal: Point<F>| near(at, &[normal, tip], REACH);
        if let [Some(before), Some(after)] = normals.map(beside) {
            return vec![before, after];
        }
    }
    // A slit: its end moves towards its mouth, which leaves less of the slit.
    let along = (1..=SLIT).map(|step| at + tip * (step as f64 / GRID));
    vec![along.into_iter().find_map(|at| near(at, &normals, 1)).unwrap_or_else(|| rounded(at))]
}

/// The nearest point of the grid within `reach` steps that lies on no side's inner side.
fn near<F>(at: Point<F>, normals: &[Point<F>; 2], reach: i64) -> Option<[i64; 2]> {
    let off = |p: &[i64; 2]| Point::<F>::new(p[0] as f64 - at.x * GRID, p[1] as f64 - at.y * GRID);
    let outside = |p: &[i64; 2]| normals.iter().all(|normal| -ON <= off(p).dot(*normal));
    let middle = rounded(at);
    if outside(&middle) {
        return Some(middle);
    }
    let around = (-reach..=reach)
        .flat_map(|i| (-reach..=reach).map(move |j| [middle[0] + i, middle[1] + j]));
    around.filter(outside).min_by(|a, b| off(a).length().total_cmp(&off(b).length()))
}

fn rounded<F>(at: Point<F>) -> [i64; 2] {
    [(at.x * GRID).round() as i64, (at.y * GRID).round() as i64]
}
