//! A level cut through the kit's parts: upright faces and bends as areas in plan.

use super::Scene;
use crate::fold::FoldedPart;
use crate::geom::{FaceFrame, Path, Point, Point3, Pose, SiteFrame, Vertex, ViewFrame};
use crate::kit::{Bend, Face, Part};
use crate::units;

/// How upright a face or a bend must be to be shown.
const UPRIGHT: f64 = 1e-6;

/// The areas that the plane Z = `z` cuts out of the parts: X to the right, Y up.
pub(super) fn slices(scene: &Scene, z: f64) -> Vec<Path<ViewFrame>> {
    let mut areas = Vec::new();
    for (part, folded) in scene.kit.parts.iter().zip(scene.folded) {
        for place in 0..part.places.len() {
            let poses = poses(part, folded, place);
            for (face, pose) in part.faces.iter().zip(&poses) {
                areas.extend(face_areas(face, pose, part.thickness, z));
            }
            areas.extend(
                part.bends.iter().filter_map(|bend| bend_area(bend, &poses, part.thickness, z)),
            );
        }
    }
    areas
}

type Seat = Pose<FaceFrame, SiteFrame>;

fn poses(part: &Part, folded: &FoldedPart, place: usize) -> Vec<Seat> {
    folded.faces.iter().map(|face| face.then(&part.places[place])).collect()
}

fn plan(p: Point3<SiteFrame>) -> Point<ViewFrame> {
    Point::new(p.x, p.y)
}

/// The rectangles that the plane cuts out of an upright face.
fn face_areas(face: &Face, seat: &Seat, thickness: f64, z: f64) -> Vec<Path<ViewFrame>> {
    if seat.z_axis.z.abs() > UPRIGHT {
        return Vec::new();
    }
    let points = face.outline.points(0.5);
    let height = |p: Point<FaceFrame>| seat.lifted(p, 0.0).z - z;
    let mut hits: Vec<Point<FaceFrame>> = Vec::new();
    for (i, &a) in points.iter().enumerate() {
        let b = points[(i + 1) % points.len()];
        let (from, to) = (height(a), height(b));
        if (from < 0.0) != (to < 0.0) {
            hits.push(a.toward(b, from / (from - to)));
        }
    }
    // Along the cut: what lies level in the face.
    let along = Point::new(seat.y_axis.z, -seat.x_axis.z);
    hits.sort_by(|a, b| a.dot(along).total_cmp(&b.dot(along)));
    let area = |pair: &[Point<FaceFrame>]| {
        let [a, b] = [pair[0], pair[1]];
        let corners = [(a, 0.0), (b, 0.0), (b, thickness), (a, thickness)];
        Path::polygon(&corners.map(|(p, z)| plan(seat.lifted(p, z))))
    };
    hits.chunks_exact(2).map(area).collect()
}

/// The ring sector that the plane cuts out of an upright bend.
fn bend_area(bend: &Bend, seats: &[Seat], thickness: f64, z: f64) -> Option<Path<ViewFrame>> {
    let (parent, child) = (&seats[bend.parent], &seats[bend.child]);
    let ends = bend.edge.map(|p| parent.lifted(p, 0.0));
    let along = (ends[1] - ends[0]).unit();
    let between = (ends[0].z.min(ends[1].z)..=ends[0].z.max(ends[1].z)).contains(&z);
    if !between || 1.0 - along.z.abs() > UPRIGHT {
        return None;
    }
    let out = (bend.edge[1] - bend.edge[0]).unit().right();
    let before = parent.vector(Point3::new(out.x, out.y, 0.0));
    let turn = plan(before).cross(plan(child.x_axis));
    let bulge = units::tan_deg(bend.angle / 4.0) * turn.signum();
    let of_parent = |z: f64| plan(parent.lifted(bend.edge[0], z));
    let of_child = |z: f64| plan(child.lifted(bend.child_start, z));
    let vertices = vec![
        Vertex { at: of_parent(0.0), bulge },
        Vertex { at: of_child(0.0), bulge: 0.0 },
        Vertex { at: of_child(thickness), bulge: -bulge },
        Vertex { at: of_parent(thickness), bulge: 0.0 },
    ];
    Some(Path { vertices })
}
