//! The faces of a cut blank: which is which, what part they make, and whether they are those of
//! `kit.json`.

use super::codes::FACE;
use super::contour::{SAME_CONTOUR, difference, place};
use super::cut::Cut;
use super::desk::{Desk, beyond, mm};
use crate::flat::Blank;
use crate::fold::FoldedPart;
use crate::geom::{
    BlankFrame, FaceFrame, Map2, PartFrame, Path, Point, Point3, Pose, side_distance, tolerance,
};
use crate::reading::{NAME, PartRow, pose};

/// For each face of `kit.json` the index of the cut's face, by the bends that lead to it.
pub(super) fn order(part: &PartRow, cut: &Cut, desk: &mut Desk) -> Option<Vec<usize>> {
    let count = part.faces.len();
    if cut.faces.len() != count || count == 0 {
        let words = format!("its bends cut it into {} faces, {count} are listed", cut.faces.len());
        desk.tell(&FACE, words);
        return None;
    }
    let mut order: Vec<Option<usize>> = vec![None; count];
    if part.bends.is_empty() {
        order[0] = Some(0);
    }
    for (bend, sides) in part.bends.iter().zip(&cut.sides) {
        for (name, side) in [&bend.from, &bend.to].into_iter().zip(sides) {
            let Some(face) = part.face(name) else {
                desk.tell(
                    &FACE,
                    format!("bend {} is at a face {name} that is not listed", bend.name),
                );
                return None;
            };
            if order[face].is_some_and(|known| known != *side) {
                let words = format!("bend {} is not at the side of {name} it names", bend.name);
                desk.tell(&FACE, words);
                return None;
            }
            order[face] = Some(*side);
        }
    }
    let order: Option<Vec<usize>> = order.into_iter().collect();
    let distinct = order.as_ref().is_some_and(|order| {
        let mut sorted = order.clone();
        sorted.sort_unstable();
        sorted.windows(2).all(|two| two[0] != two[1])
    });
    if !distinct {
        desk.tell(&FACE, "its bends do not join all of its faces");
    }
    order.filter(|_| distinct)
}

/// The root face's own frame in the blank, by `to_part`, which for the root neither lifts nor tips.
pub(super) fn root(part: &PartRow, desk: &mut Desk) -> Option<Map2<FaceFrame, BlankFrame>> {
    let row = part.faces.first()?;
    let flat = pose::<BlankFrame, PartFrame>(&row.to_part).filter(|pose| {
        let z = pose.z_axis;
        z.x.abs() <= 1e-9 && z.y.abs() <= 1e-9 && z.z > 0.0 && pose.shift.z.abs() <= 1e-9
    });
    let Some(flat) = flat else {
        desk.tell(&FACE, format!("the root face {} is not flat in the part's frame", row.name));
        return None;
    };
    let plane = |v: Point3<PartFrame>| Point::new(v.x, v.y);
    let map: Map2<BlankFrame, FaceFrame> =
        Map2::new(plane(flat.x_axis), plane(flat.y_axis), plane(flat.shift));
    Some(map.inverse())
}

/// Compares the outlines of the cut's faces with those of `kit.json`.
pub(super) fn outlines(part: &PartRow, cut: &Cut, order: &[usize], desk: &mut Desk) {
    for (row, index) in part.faces.iter().zip(order) {
        let face = &cut.faces[*index];
        let told: Vec<Point<BlankFrame>> =
            row.outline.iter().map(|[x, y]| Point::new(*x, *y)).collect();
        let from_told = told.iter().map(|p| (to_sides(*p, face), *p));
        let nearest = |at: Point<BlankFrame>| {
            told.iter().map(|p| p.distance(at)).fold(f64::INFINITY, f64::min)
        };
        let from_cut = face.vertices.iter().map(|v| (nearest(v.at), v.at));
        let worst = from_told.chain(from_cut).max_by(|a, b| a.0.total_cmp(&b.0));
        if let Some((off, at)) = worst.filter(|(off, _)| beyond(*off, SAME_CONTOUR)) {
            let words = format!("face {} is {} mm off {NAME} at {}", row.name, mm(off), place(at));
            desk.off(&FACE, words, (off, SAME_CONTOUR), "mm");
        } else if !same_area(face, &told) {
            desk.tell(&FACE, format!("face {} runs otherwise than in {NAME}", row.name));
        }
    }
}

fn to_sides(p: Point<BlankFrame>, face: &Path<BlankFrame>) -> f64 {
    face.sides().map(|(a, b, bulge)| side_distance(p, a, b, bulge)).fold(f64::INFINITY, f64::min)
}

/// Whether points around a face enclose its area, chords for arcs.
fn same_area(face: &Path<BlankFrame>, told: &[Point<BlankFrame>]) -> bool {
    let bows = face.vertices.iter().any(|v| v.bulge != 0.0);
    let slack = if bows { tolerance::SAG } else { SAME_CONTOUR };
    (Path::polygon(told).area() - face.area()).abs() <= slack * face.length()
}

/// Compares where the fold puts each face with where `kit.json` says it stands.
pub(super) fn stands(
    part: &PartRow,
    folded: &FoldedPart,
    maps: &[Map2<FaceFrame, BlankFrame>],
    desk: &mut Desk,
) {
    for ((row, pose_of_face), map) in part.faces.iter().zip(&folded.faces).zip(maps) {
        let Some(told) = pose::<BlankFrame, PartFrame>(&row.to_part) else {
            desk.tell(&FACE, format!("`to_part` of {} is no rigid motion", row.name));
            continue;
        };
        let made = Pose::flat(&map.inverse()).then(pose_of_face);
        let corners = row
            .outline
            .iter()
            .flat_map(|[x, y]| [0.0, part.thickness].map(|z| Point3::<BlankFrame>::new(*x, *y, z)));
        let off = corners.map(|p| told.point(p).distance(made.point(p))).fold(0.0, f64::max);
        if beyond(off, SAME_CONTOUR) {
            let words = format!("folded, {} is {} mm off where {NAME} has it", row.name, mm(off));
            desk.off(&FACE, words, (off, SAME_CONTOUR), "mm");
        }
    }
}

/// Compares the blank that the part unfolds to with the contour that is cut.
pub(super) fn unfolds(
    blank: &Blank,
    outer: &Path<BlankFrame>,
    root: &Map2<FaceFrame, BlankFrame>,
    desk: &mut Desk,
) {
    let Some(own) = blank.faces.first() else { return };
    let again = blank.outer.mapped(&own.inverse().then(root));
    if let Some(difference) = difference(&again, &outer.cleaned()) {
        let words = format!("folded and unfolded again it is another blank: {}", difference.words);
        desk.off(&FACE, words, (difference.by, SAME_CONTOUR), "mm");
    }
}
