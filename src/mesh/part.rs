//! One folded part: a slab for each face, a swept ring for each bend.

use super::piece::{Mesh, Row, Spot};
use crate::fold::FoldedPart;
use crate::geom::{FaceFrame, PartFrame, Path, Point, Point3, Pose};
use crate::kit::{Bend, Face, Part, Sense};
use crate::units;

/// Greatest sag of a chord that stands for an arc of an outline or a hole, mm: less than a line's
/// width on any screen.
const SAG: f64 = 0.05;

/// Greatest angle of a bend between two corners, degrees.
const STEP: f64 = 11.25;

/// Sides that turn more than this stand out as an edge, degrees.
const SHARP: f64 = 20.0;

/// Sine of a turn that is none.
const STRAIGHT: f64 = 1e-9;

/// How near a side lies to a bend's edge that it runs along, mm.
const NEAR: f64 = 1e-6;

/// The part in its own frame, folded.
pub fn part(part: &Part, folded: &FoldedPart) -> Mesh {
    let mut mesh = Mesh::default();
    for (i, face) in part.faces.iter().enumerate() {
        let seats = seats(part, i);
        slab(&mut mesh, face, &seats, (&folded.faces[i], part.thickness));
    }
    for bend in &part.bends {
        swept(&mut mesh, bend, &folded.faces[bend.parent], part.thickness);
    }
    mesh
}

/// The edges of a face from which bends go on.
fn seats(part: &Part, face: usize) -> Vec<[Point<FaceFrame>; 2]> {
    let mut seats = Vec::new();
    for bend in &part.bends {
        if bend.parent == face {
            seats.push(bend.edge);
        }
        if bend.child == face {
            seats.push(bend.child_edge());
        }
    }
    seats
}

/// Whether a side lies within one of the seats.
fn seated([p, q]: [Point<FaceFrame>; 2], seats: &[[Point<FaceFrame>; 2]]) -> bool {
    seats.iter().any(|[from, to]| {
        let run = *to - *from;
        let (length, along) = (run.length(), run.unit());
        [p, q].iter().all(|end| {
            let off = *end - *from;
            along.cross(off).abs() < NEAR && (-NEAR..length + NEAR).contains(&along.dot(off))
        })
    })
}

type Stand<'a> = (&'a Pose<FaceFrame, PartFrame>, f64);

fn slab(mesh: &mut Mesh, face: &Face, seats: &[[Point<FaceFrame>; 2]], stand: Stand) {
    let (pose, thickness) = stand;
    let mut rings = vec![bent_only(face.outline.points(SAG))];
    rings.extend(face.holes.iter().map(|hole| bent_only(clockwise(hole.contour()).points(SAG))));
    let flat: Vec<Vec<[f64; 2]>> =
        rings.iter().map(|ring| ring.iter().map(|p| [p.x, p.y]).collect()).collect();
    for (z, up) in [(0.0, -1.0), (thickness, 1.0)] {
        let lifted = |ring: &Vec<Point<FaceFrame>>| {
            ring.iter().map(|p| pose.lifted(*p, z)).collect::<Vec<Spot>>()
        };
        let normal = pose.vector(Point3::new(0.0, 0.0, up));
        mesh.flat(&rings.iter().map(lifted).collect::<Vec<_>>(), &flat, normal);
    }
    for ring in &rings {
        wall(mesh, ring, seats, stand);
    }
}

/// The cut edge around one ring: a strip for each run without a sharp corner.
fn wall(
    mesh: &mut Mesh,
    ring: &[Point<FaceFrame>],
    seats: &[[Point<FaceFrame>; 2]],
    (pose, thickness): Stand,
) {
    let n = ring.len();
    let side = |i: usize| (ring[(i + 1) % n] - ring[i % n]).unit();
    let sharp = |i: usize| units::sin_deg(SHARP) < side(i + n - 1).cross(side(i)).abs();
    let start = (0..n).find(|&i| sharp(i)).unwrap_or(0);
    let mut from = start;
    while from < start + n {
        let to = (from + 1..start + n).find(|&i| sharp(i)).unwrap_or(start + n);
        let corner = |i: usize| {
            let (first, last) = (i == from && sharp(i), i == to && sharp(i));
            let before = if first { side(i) } else { side(i + n - 1) };
            let out = if last { before } else { (before + side(i)).unit() }.right();
            (ring[i % n], pose.vector(Point3::new(out.x, out.y, 0.0)))
        };
        let run: Vec<_> = (from..=to).map(corner).collect();
        let row = |z: f64| run.iter().map(|(p, out)| (pose.lifted(*p, z), *out)).collect::<Row>();
        let at = mesh.strip(&row(0.0), &row(thickness));
        let (count, upper) = (run.len() as u32, at + run.len() as u32);
        for i in 0..count - 1 {
            let ends = [run[i as usize].0, run[i as usize + 1].0];
            if !seated(ends, seats) {
                mesh.edges.extend([[at + i, at + i + 1], [upper + i, upper + i + 1]]);
            }
        }
        if sharp(from) {
            mesh.edges.push([at, upper]);
        }
        from = to;
    }
}

/// The ring without corners at which it goes straight on: caps and walls then share all corners.
fn bent_only(ring: Vec<Point<FaceFrame>>) -> Vec<Point<FaceFrame>> {
    let n = ring.len();
    let bent = |i: &usize| {
        let (before, at, next) = (ring[(i + n - 1) % n], ring[*i], ring[(i + 1) % n]);
        STRAIGHT < (at - before).unit().cross((next - at).unit()).abs()
    };
    (0..n).filter(bent).map(|i| ring[i]).collect()
}

fn clockwise(path: Path<FaceFrame>) -> Path<FaceFrame> {
    if path.area() > 0.0 { path.reversed() } else { path }
}

/// A bend as a ring's sector swept along its edge.
fn swept(mesh: &mut Mesh, bend: &Bend, pose: &Pose<FaceFrame, PartFrame>, thickness: f64) {
    let n = (bend.edge[1] - bend.edge[0]).unit().right();
    let out = pose.vector(Point3::new(n.x, n.y, 0.0));
    let up = pose.vector(Point3::new(0.0, 0.0, 1.0));
    let (centre, toward) = match bend.sense {
        Sense::Up => (thickness + bend.radius, -up),
        Sense::Down => (-bend.radius, up),
    };
    let axis = bend.edge.map(|end| pose.lifted(end, centre));
    let steps = (bend.angle / STEP).ceil().max(1.0) as usize;
    let spokes: Vec<Spot> = (0..=steps)
        .map(|i| bend.angle * i as f64 / steps as f64)
        .map(|angle| out * units::sin_deg(angle) + toward * units::cos_deg(angle))
        .collect();
    let arc = |end: Spot, radius: f64, outward: f64| -> Row {
        spokes.iter().map(|spoke| (end + *spoke * radius, *spoke * outward)).collect()
    };
    let outer = axis.map(|end| arc(end, bend.radius + thickness, 1.0));
    let inner = axis.map(|end| arc(end, bend.radius, -1.0));
    mesh.strip(&outer[0], &outer[1]);
    mesh.strip(&inner[0], &inner[1]);
    let along = (axis[1] - axis[0]).unit();
    for (side, normal) in [-along, along].into_iter().enumerate() {
        let facing = |row: &Row| row.iter().map(|(p, _)| (*p, normal)).collect::<Row>();
        let first = mesh.strip(&facing(&outer[side]), &facing(&inner[side]));
        let upper = first + steps as u32 + 1;
        mesh.edges
            .extend((0..steps as u32).flat_map(|i| [first + i, upper + i]).map(|i| [i, i + 1]));
    }
    for (last, sign) in [(0, -1.0), (steps, 1.0)] {
        let normal = spokes[last].cross(along) * sign;
        let flip = normal.dot(spokes[steps] - spokes[0]) * sign < 0.0;
        let normal = if flip { -normal } else { normal };
        let row = |side: usize| vec![(outer[side][last].0, normal), (inner[side][last].0, normal)];
        mesh.strip(&row(0), &row(1));
    }
}
