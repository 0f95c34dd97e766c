//! What sheet one blank has and the other has not.

use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::float::single::SingleFloatOverlay;

use super::align::Onto;
use super::opening::{mapped, same, same_path};
use super::piece::{P, Piece};
use crate::flat::Contour;
use crate::geom::{BlankFrame, Bounds, Path, Point, Vertex, tolerance};

/// A patch narrower than this comes from the boolean library's grid, which is about 3e-6 mm for a
/// sheet of 6 m; 30 times that is still far below what a shop can cut.
const SLIVER: f64 = 1e-4;

/// A piece of sheet that only one of two blanks has.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Patch {
    /// Outline and holes of the patch, even-odd.
    pub(super) contours: Vec<Vec<P>>,
    pub(super) bounds: Bounds<BlankFrame>,
}

/// What differs between two blanks, in the newer one's frame.
#[derive(Debug, Default)]
pub(super) struct Difference {
    /// Sheet of the older one alone.
    pub(super) removed: Vec<Patch>,
    /// Sheet of the newer one alone.
    pub(super) added: Vec<Patch>,
}

type Polygons = Vec<Vec<[f64; 2]>>;

/// Lays the older blank onto the newer one and takes each from the other. Openings that are the
/// same in both are left out first: they can differ nowhere.
pub(super) fn difference(old: &Piece<'_>, new: &Piece<'_>, onto: &Onto) -> Difference {
    let outer = old.outer.mapped(onto);
    let before: Vec<Contour> = old.inner.iter().map(|contour| mapped(contour, onto)).collect();
    let only = |own: &[Contour], others: &[Contour]| -> Vec<Contour> {
        own.iter().filter(|a| !others.iter().any(|b| same(a, b))).cloned().collect()
    };
    let inner = [only(&before, &new.inner), only(&new.inner, &before)];
    if same_path(&outer, &new.outer) && inner.iter().all(Vec::is_empty) {
        return Difference::default();
    }
    let [a, b] = [(&outer, &inner[0]), (&new.outer, &inner[1])].map(polygons);
    Difference { removed: less(&a, &b), added: less(&b, &a) }
}

fn polygons((outer, inner): (&Path<BlankFrame>, &Vec<Contour>)) -> Polygons {
    let rings = inner.iter().map(|contour| match contour {
        Contour::Circle(centre, d) => circle(*centre, *d).points(tolerance::SAG),
        Contour::Loop(path) => path.points(tolerance::SAG),
    });
    let all = std::iter::once(outer.points(tolerance::SAG)).chain(rings);
    all.map(|ring| ring.iter().map(|p| [p.x, p.y]).collect()).collect()
}

/// A circle as two half arcs.
fn circle(centre: P, diameter: f64) -> Path<BlankFrame> {
    let out = Point::new(diameter / 2.0, 0.0);
    let half = |at: P| Vertex { at, bulge: 1.0 };
    Path { vertices: vec![half(centre + out), half(centre - out)] }
}

fn less(a: &Polygons, b: &Polygons) -> Vec<Patch> {
    let shapes = a.overlay(b, OverlayRule::Difference, FillRule::EvenOdd);
    let patch = |shape: Polygons| {
        let ring = |ring: &Vec<[f64; 2]>| ring.iter().map(|[x, y]| Point::new(*x, *y)).collect();
        let contours: Vec<Vec<P>> = shape.iter().map(ring).collect();
        let paths: Vec<Path<BlankFrame>> = contours.iter().map(|c| Path::polygon(c)).collect();
        let area: f64 = paths.iter().map(Path::area).sum();
        let length: f64 = paths.iter().map(Path::length).sum();
        let bounds = paths.first()?.bounds();
        (2.0 * area.abs() / length >= SLIVER).then_some(Patch { contours, bounds })
    };
    let mut patches: Vec<Patch> = shapes.into_iter().filter_map(patch).collect();
    patches.sort_by(|a, b| {
        let (p, q) = (a.bounds.low, b.bounds.low);
        p.y.total_cmp(&q.y).then(p.x.total_cmp(&q.x))
    });
    patches
}

impl Patch {
    /// Extents of its bounding box.
    pub(super) fn size(&self) -> [f64; 2] {
        [self.bounds.width(), self.bounds.height()]
    }

    /// Whether it comes nearer to a line than half of a zone's width.
    pub(super) fn meets(&self, line: [P; 2], zone: f64) -> bool {
        let along = (line[1] - line[0]).unit();
        let length = line[0].distance(line[1]);
        let half = zone / 2.0;
        let local = |p: P| ((p - line[0]).dot(along), (p - line[0]).dot(along.left()));
        // The patch cut to the zone's strip: it meets the zone where something is left.
        let strip: Polygons = vec![
            [(0.0, -half), (length, -half), (length, half), (0.0, half)]
                .map(|(x, y)| [x, y])
                .to_vec(),
        ];
        let own: Polygons = self
            .contours
            .iter()
            .map(|ring| ring.iter().map(|p| local(*p)).map(|(x, y)| [x, y]).collect())
            .collect();
        let shared: Vec<Polygons> = own.overlay(&strip, OverlayRule::Intersect, FillRule::EvenOdd);
        shared.iter().flatten().any(|ring| {
            let points: Vec<P> = ring.iter().map(|[x, y]| Point::new(*x, *y)).collect();
            let path = Path::polygon(&points);
            2.0 * path.area().abs() / path.length() >= SLIVER
        })
    }
}
