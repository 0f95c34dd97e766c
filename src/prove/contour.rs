//! Whether two contours are the same, and if not, where they part.

use crate::geom::{Path, Point};
use crate::units;

/// Greatest distance between a contour of a DXF file and of `kit.json`, mm (contract).
pub(super) const SAME_CONTOUR: f64 = 1e-4;

/// A difference in words, with its amount in mm.
#[derive(Debug)]
pub(super) struct Difference {
    /// What differs, where.
    pub(super) words: String,
    /// By how much.
    pub(super) by: f64,
}

/// A point for a message.
pub(super) fn place<F>(at: Point<F>) -> String {
    format!("{}, {}", units::number(at.x, 3), units::number(at.y, 3))
}

/// How a closed contour differs from the one expected; the corner it starts from does not matter,
/// the sense does.
pub(super) fn difference<F>(found: &Path<F>, expected: &Path<F>) -> Option<Difference> {
    let (found, expected) = (&found.vertices, &expected.vertices);
    if found.is_empty() || expected.is_empty() {
        return Some(Difference { words: "is empty".to_owned(), by: f64::INFINITY });
    }
    let n = found.len();
    let near = |i: usize, j: usize| found[j % n].at.distance(expected[i].at) <= SAME_CONTOUR;
    let starts: Vec<usize> = (0..n).filter(|&start| near(0, start)).collect();
    let fits = |start: usize| {
        (0..n).all(|i| near(i, start + i) && bow_apart(found, expected, (i, start)) <= SAME_CONTOUR)
    };
    let same = n == expected.len() && starts.iter().any(|&start| fits(start));
    (!same).then(|| tell(found, expected, &starts))
}

type Corners<F> = [crate::geom::Vertex<F>];

/// By how far the arcs of the two sides bow apart in their middle, mm.
fn bow_apart<F>(found: &Corners<F>, expected: &Corners<F>, (i, start): (usize, usize)) -> f64 {
    let (n, m) = (found.len(), expected.len());
    let chord = expected[i % m].at.distance(expected[(i + 1) % m].at);
    (found[(start + i) % n].bulge - expected[i % m].bulge).abs() * chord / 2.0
}

fn tell<F>(found: &Corners<F>, expected: &Corners<F>, starts: &[usize]) -> Difference {
    let nearest = |from: &Corners<F>, to: Point<F>| {
        let far = |v: &&crate::geom::Vertex<F>| v.at.distance(to);
        from.iter().min_by(|a, b| far(a).total_cmp(&far(b))).map_or(to, |v| v.at)
    };
    let off = |of: &Corners<F>, from: &Corners<F>| {
        let pairs = of.iter().map(|v| (v.at, nearest(from, v.at)));
        pairs.max_by(|a, b| a.0.distance(a.1).total_cmp(&b.0.distance(b.1)))
    };
    let worst = [off(expected, found), off(found, expected).map(|(a, b)| (b, a))];
    let worst = worst.into_iter().flatten();
    let worst = worst.max_by(|a, b| a.0.distance(a.1).total_cmp(&b.0.distance(b.1)));
    if let Some((meant, is)) = worst.filter(|(a, b)| a.distance(*b) > SAME_CONTOUR) {
        let by = meant.distance(is);
        let words = format!(
            "a corner meant at {} is {} mm off: the nearest is at {}",
            place(meant),
            units::number(by, 4),
            place(is)
        );
        return Difference { words, by };
    }
    if found.len() != expected.len() {
        let words = format!("has {} corners, {} are meant", found.len(), expected.len());
        return Difference { words, by: f64::INFINITY };
    }
    bowed(found, expected, starts)
}

/// The corners are the same; a side bows otherwise, or the order does not follow.
fn bowed<F>(found: &Corners<F>, expected: &Corners<F>, starts: &[usize]) -> Difference {
    let worst = |start: usize| {
        let sides = (0..expected.len()).map(|i| (i, bow_apart(found, expected, (i, start))));
        sides.max_by(|a, b| a.1.total_cmp(&b.1)).unwrap_or((0, f64::INFINITY))
    };
    let ordered = |start: &&usize| {
        let at = |i: usize| found[(*start + i) % found.len()].at;
        (0..expected.len()).all(|i| at(i).distance(expected[i].at) <= SAME_CONTOUR)
    };
    let Some((i, by)) = starts.iter().find(ordered).map(|start| worst(*start)) else {
        let words = "runs through its corners in another order".to_owned();
        return Difference { words, by: f64::INFINITY };
    };
    let words = format!(
        "the side behind the corner at {} bows {} mm otherwise than meant",
        place(expected[i].at),
        units::number(by, 4)
    );
    Difference { words, by }
}
