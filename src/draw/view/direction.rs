//! From which side a thing is looked at.

use super::room::Room;
use crate::fold::FoldedPart;
use crate::geom::{Bounds, FaceFrame, PartFrame, Point, Point3, Pose, ViewFrame};
use crate::kit::{Hand, Part, Sense};

/// A direction or point in the part's space.
type Arrow = Point3<PartFrame>;

/// The isometric view (ISO 5456-3) from the side of `toward`, whose coordinates are all 1 or -1,
/// with `up` (an axis direction on the viewer's side) upright in the picture.
pub(super) fn isometric<F>(toward: Point3<F>, up: Point3<F>) -> Pose<F, ViewFrame> {
    let z = toward.unit();
    let x = up.cross(z).unit();
    let y = z.cross(x);
    let axis = |a: f64, b: f64, c: f64| Point3::new(a, b, c);
    Pose::new(axis(x.x, y.x, z.x), axis(x.y, y.y, z.y), axis(0.0, 0.0, 0.0))
}

/// The isometric view of a part that shows most of it: of the eight directions, those within 3 % of
/// the greatest seen area, inner sides counted a quarter more; of these the one in which the
/// longest extent rises to the right (for right hands, to the left, so that the two hands look like
/// mirror images).
///
/// The part's shortest axis stands upright when the root would, else the root lies level.
pub(super) fn of_part(part: &Part, folded: &FoldedPart) -> Pose<PartFrame, ViewFrame> {
    let faces = faces(part, folded);
    let mut room = Room::empty();
    room.add_part(part, &folded.faces);
    let extents = room.extents();
    let axes = [Arrow::new(1.0, 0.0, 0.0), Arrow::new(0.0, 1.0, 0.0), Arrow::new(0.0, 0.0, 1.0)];
    let longest =
        (0..3).fold(0, |best, i| if extents[i] > extents[best] + 1e-6 { i } else { best });
    let shortest =
        (0..3).fold(2, |best, i| if extents[i] < extents[best] - 1e-6 { i } else { best });
    let upright = if longest == 2 { shortest } else { 2 };
    let rising = |view: &Pose<PartFrame, ViewFrame>| {
        let image = view.vector(axes[longest]);
        let right = image.x * image.y > 0.0;
        right != (part.hand == Some(Hand::Right))
    };
    let towards = directions();
    let areas = shown(&faces, &towards.map(Arrow::unit));
    let views: Vec<(f64, bool, Pose<PartFrame, ViewFrame>)> = towards
        .into_iter()
        .zip(areas)
        .map(|(toward, area)| {
            let up = axes[upright] * toward.dot(axes[upright]).signum();
            let view = isometric(toward, up);
            (area, rising(&view), view)
        })
        .collect();
    let most = views.iter().fold(0.0, |most: f64, (area, ..)| most.max(*area));
    let good = views.iter().filter(|(area, ..)| *area >= most * 0.97);
    let best = good.reduce(|best, next| {
        let better = (next.1 && !best.1) || (next.1 == best.1 && next.0 > best.0 * (1.0 + 1e-9));
        if better { next } else { best }
    });
    best.map_or_else(|| isometric(Arrow::new(1.0, -1.0, 1.0), axes[2]), |(.., view)| *view)
}

/// The eight isometric directions, towards the viewer; from above, before and right first.
fn directions() -> [Arrow; DIRECTIONS] {
    std::array::from_fn(|i| {
        let sign = |bit: usize| if i >> bit & 1 == 0 { 1.0 } else { -1.0 };
        Arrow::new(sign(0), -sign(1), sign(2))
    })
}

/// A face as a plane polygon with points spread over it.
struct Sample {
    seat: Pose<FaceFrame, PartFrame>,
    back: Pose<PartFrame, FaceFrame>,
    ring: Vec<Point<FaceFrame>>,
    bounds: Bounds<FaceFrame>,
    points: Vec<Arrow>,
    area: f64,
    /// Positive when the upper side is the inner one.
    inner: f64,
}

/// Points spread over the longer and over the shorter extent of a face: one bit each of a `u32`.
const SPREAD: [usize; 2] = [8, 4];

fn faces(part: &Part, folded: &FoldedPart) -> Vec<Sample> {
    let mut faces: Vec<Sample> = part
        .faces
        .iter()
        .zip(&folded.faces)
        .map(|(face, seat)| {
            let ring = face.outline.points(1.0);
            let bounds = face.outline.bounds();
            let wide = bounds.width() >= bounds.height();
            let [across, up] = if wide { SPREAD } else { [SPREAD[1], SPREAD[0]] };
            let share = |i: usize, n: usize| (i as f64 + 0.5) / n as f64;
            let at = |i: usize| {
                Point::new(
                    bounds.low.x + bounds.width() * share(i % across, across),
                    bounds.low.y + bounds.height() * share(i / across, up),
                )
            };
            let spread = (0..across * up).map(at).filter(|p| within(&ring, *p));
            let points = spread.map(|p| seat.lifted(p, part.thickness / 2.0)).collect();
            let area = face.outline.area().abs();
            Sample { seat: *seat, back: seat.inverse(), ring, bounds, points, area, inner: 0.0 }
        })
        .collect();
    for bend in &part.bends {
        let turn = if bend.sense == Sense::Up { bend.angle } else { -bend.angle };
        faces[bend.parent].inner += turn;
        faces[bend.child].inner += turn;
    }
    faces
}

/// Number of directions looked from.
const DIRECTIONS: usize = 8;

/// Areas seen from each direction, inner sides counted a quarter more.
fn shown(faces: &[Sample], towards: &[Arrow; DIRECTIONS]) -> [f64; DIRECTIONS] {
    let mut sums = [0.0; DIRECTIONS];
    for (i, face) in faces.iter().enumerate() {
        let mut hidden = [0_u32; DIRECTIONS];
        for (_, other) in faces.iter().enumerate().filter(|(j, _)| *j != i) {
            other.hide(&face.points, towards, &mut hidden);
        }
        for ((toward, hidden), sum) in towards.iter().zip(hidden).zip(&mut sums) {
            let lean = face.seat.z_axis.dot(*toward);
            let seen = face.points.len() - hidden.count_ones() as usize;
            let share = seen as f64 / face.points.len().max(1) as f64;
            let weight = if lean * face.inner > 0.0 { 1.25 } else { 1.0 };
            *sum += share * face.area * lean.abs() * weight;
        }
    }
    sums
}

impl Sample {
    /// Marks, bit by bit, the points between which and the viewer the face stands, for each
    /// direction.
    fn hide(&self, points: &[Arrow], towards: &[Arrow; DIRECTIONS], hidden: &mut [u32]) {
        let points: Vec<_> = points.iter().map(|p| self.back.point(*p)).collect();
        let level = |[low, high]: [f64; 2], z: f64| [low.min(z), high.max(z)];
        let [low, high] = points.iter().map(|p| p.z).fold([f64::INFINITY, -f64::INFINITY], level);
        for (toward, hidden) in towards.iter().zip(hidden) {
            let toward = self.back.vector(*toward);
            let behind = if toward.z > 0.0 { low < 0.0 } else { high > 0.0 };
            if behind {
                let open = |bit: &usize| *hidden >> bit & 1 == 0;
                let bits = (0..points.len()).filter(open);
                *hidden |= bits
                    .filter(|&bit| self.meets(points[bit], toward))
                    .fold(0, |bits, bit| bits | 1 << bit);
            }
        }
    }

    /// Whether a ray, in the face's own frame, goes through the face.
    fn meets(&self, from: Point3<FaceFrame>, toward: Point3<FaceFrame>) -> bool {
        let (low, high) = (self.bounds.low, self.bounds.high);
        let way = -from.z / toward.z;
        way > 1e-6 && way.is_finite() && {
            let hit = from + toward * way;
            let near = low.x <= hit.x && hit.x <= high.x && low.y <= hit.y && hit.y <= high.y;
            near && within(&self.ring, Point::new(hit.x, hit.y))
        }
    }
}

fn within(ring: &[Point<FaceFrame>], p: Point<FaceFrame>) -> bool {
    let mut odd = false;
    let n = ring.len();
    for (i, &b) in ring.iter().enumerate() {
        let a = ring[(i + n - 1) % n];
        if (a.y > p.y) != (b.y > p.y) && ((b - a).cross(p - a) > 0.0) == (b.y > a.y) {
            odd = !odd;
        }
    }
    odd
}
