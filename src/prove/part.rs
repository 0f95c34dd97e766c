//! One part, made again from its DXF file and the bend list.

use std::sync::Arc;

use super::agree::Bench;
use super::codes::{CONTOUR, DXF, FACE, FILES, STOCK};
use super::contour::{SAME_CONTOUR, difference};
use super::cut::{Cut, cut};
use super::desk::Desk;
use super::holes::CutHole;
use super::lasered::{Lasered, sort};
use super::lines::Bent;
use super::{dxf, etching, faces, figures, holes, lines};
use crate::flat::{Blank, Contour, unfold};
use crate::fold::{FoldedPart, fold};
use crate::geom::{BlankFrame, FaceFrame, Map2, PartFrame, Path, Point, Pose, SiteFrame};
use crate::kit::{Bend, Face, Hand, Issue, Lie, Material, Part};
use crate::note::Notes;
use crate::reading::{BendRow, NAME, PartRow, path, pose};
use crate::units;

/// A blank's outside contour, and its inside ones with how messages call them.
type Contours = (Path<BlankFrame>, Vec<(Contour, String)>);

/// A part with its fold and the blank it unfolds to.
pub(super) type Made = (Part, FoldedPart, Blank);

/// Makes one part again; none when its files do not give one, which is told.
pub(super) fn make(bench: &Bench, row: &PartRow, notes: &mut Notes) -> Option<Made> {
    let material = material(bench, row, notes);
    let places = places(row, notes);
    lines::numbers(row, bench.shelf, notes);
    let file = row.dxf();
    let found = bench.file(&file);
    let mut desk = Desk::new(notes, if found.is_some() { file.as_str() } else { NAME });
    let lasered = match found.map(|found| dxf::read(found.bytes)) {
        Some(Ok(dxf)) => {
            let mut own = Notes::default();
            let mut at_file = Desk::new(&mut own, file.as_str());
            let lasered = sort(&dxf, &bench.shelf.shop.layers, &mut at_file);
            if let Some(other) = swapped(bench, row, &lasered) {
                let words = format!("holds the blank of {}: files were swapped", other.number);
                desk.tell(&FILES, words);
                return None;
            }
            own.all().iter().for_each(|finding| desk.notes.add(finding.clone()));
            Some(lasered)
        }
        Some(Err(why)) => {
            desk.tell(&DXF, why);
            return None;
        }
        None => None,
    };
    let bents =
        lines::compare(row, lasered.as_ref(), bench.shelf.shop.layers.bend_lines, &mut desk);
    let (outer, inner) = blank(row, lasered, &mut desk)?;
    let cut = cut_along(row, &outer, &bents, &mut desk)?;
    let order = faces::order(row, &cut, &mut desk)?;
    let root = faces::root(row, &mut desk)?;
    let holes = holes::assign(row, &inner, &mut desk);
    holes::on_faces(row, &holes, (&cut, &order), &mut desk);
    faces::outlines(row, &cut, &order, &mut desk);
    let maps = maps(row, &bents, root, &mut desk)?;
    let faces = faces_of(row, (&cut, &order), &maps, &holes);
    let bends = row.bends.iter().zip(&bents).map(|(b, bent)| bend(row, b, bent, &maps)).collect();
    let part = part(row, material?, places?, (faces, bends));
    finish(row, part, (&outer, &inner), &maps, &mut desk)
}

/// The other part whose blank this is, where it is not the part's own.
fn swapped<'b>(bench: &Bench<'b>, row: &PartRow, lasered: &Lasered) -> Option<&'b PartRow> {
    let is_of = |row: &PartRow| {
        let outer = lasered.outer.as_ref();
        outer.is_some_and(|outer| difference(outer, &path(&row.blank.outer).cleaned()).is_none())
            && {
                let mut apart = Notes::default();
                holes::contours(row, &lasered.inner, &mut Desk::new(&mut apart, NAME));
                apart.is_empty()
            }
    };
    if is_of(row) {
        return None;
    }
    bench.kit.parts.iter().find(|other| other.number != row.number && is_of(other))
}

fn finish(
    row: &PartRow,
    part: Part,
    (outer, inner): (&Path<BlankFrame>, &[(Contour, String)]),
    maps: &[Map2<FaceFrame, BlankFrame>],
    desk: &mut Desk,
) -> Option<Made> {
    let folded = fold(&part);
    faces::stands(row, &folded, maps, desk);
    figures::compare(row, outer, inner, desk);
    figures::extents(row, &part, &folded, desk);
    let Some(blank) = unfold(&part) else {
        desk.tell(&FACE, "a bend does not lie on the edges of its faces");
        return None;
    };
    faces::unfolds(&blank, outer, &maps[0], desk);
    Some((part, folded, blank))
}

/// The part's blank: by its DXF file, held against `kit.json`; by `kit.json` alone where there is
/// none.
fn blank(row: &PartRow, lasered: Option<Lasered>, desk: &mut Desk) -> Option<Contours> {
    let told = path(&row.blank.outer).cleaned();
    let Some(lasered) = lasered else {
        let inner = row.blank.inner.iter().map(|row| (row.contour(), "the contour".to_owned()));
        return Some((told, inner.collect()));
    };
    let outer = lasered.outer?;
    if let Some(difference) = difference(&outer, &told) {
        let words = format!("the outside contour is not that of {NAME}: {}", difference.words);
        desk.off(&CONTOUR, words, (difference.by, SAME_CONTOUR), "mm");
    }
    holes::contours(row, &lasered.inner, desk);
    etching::compare(row, &lasered.etch, desk);
    Some((outer, lasered.inner))
}

fn cut_along(
    row: &PartRow,
    outer: &Path<BlankFrame>,
    bents: &[Bent],
    desk: &mut Desk,
) -> Option<Cut> {
    let zones: Vec<_> = bents.iter().map(|bent| bent.zone).collect();
    match cut(outer, &zones) {
        Ok(cut) => Some(cut),
        Err(index) => {
            let bend = &row.bends[index].name;
            desk.tell(&FACE, format!("the zone of bend {bend} does not end on the outline"));
            None
        }
    }
}

/// From the edge of a bend zone to the mould line: to the virtual sharp corner of the outer faces,
/// past 90 degrees to the tangent (contract).
fn setback(angle: f64, radius: f64, thickness: f64) -> f64 {
    let share = if angle <= 90.0 { units::tan_deg(angle / 2.0) } else { 1.0 };
    share * (radius + thickness)
}

/// Each face's own frame in the blank: x out of its bend, from the virtual sharp corner; y along
/// it.
fn maps(
    row: &PartRow,
    bents: &[Bent],
    root: Map2<FaceFrame, BlankFrame>,
    desk: &mut Desk,
) -> Option<Vec<Map2<FaceFrame, BlankFrame>>> {
    let mut maps: Vec<Option<Map2<FaceFrame, BlankFrame>>> = vec![None; row.faces.len()];
    *maps.first_mut()? = Some(root);
    for (bend, bent) in row.bends.iter().zip(bents) {
        let (parent, child) = (row.face(&bend.from)?, row.face(&bend.to)?);
        if maps[parent].is_none() || maps[child].is_some() {
            let words = "is listed before the bend that leads to it, or leads back";
            desk.tell(&FACE, format!("bend {} {words}", bend.name));
            return None;
        }
        let along = (bent.zone.parent[1] - bent.zone.parent[0]).unit();
        let inset = setback(bend.angle, bend.inside_radius, row.thickness);
        let corner = bent.zone.child[0] - along.right() * inset;
        maps[child] = Some(Map2::new(along.right(), along, corner));
    }
    maps.into_iter().collect()
}

fn faces_of(
    row: &PartRow,
    (cut, order): (&Cut, &[usize]),
    maps: &[Map2<FaceFrame, BlankFrame>],
    holes: &[CutHole],
) -> Vec<Face> {
    let each = row.faces.iter().enumerate().map(|(index, face)| {
        let to_face = maps[index].inverse();
        let own = holes.iter().filter(|hole| hole.face == index);
        Face {
            name: face.name.clone(),
            outline: cut.faces[order[index]].mapped(&to_face),
            holes: own.map(|hole| hole.hole(&to_face)).collect(),
        }
    });
    each.collect()
}

fn bend(row: &PartRow, bend: &BendRow, bent: &Bent, maps: &[Map2<FaceFrame, BlankFrame>]) -> Bend {
    // `maps` has found both faces.
    let (parent, child) = (row.face(&bend.from).unwrap_or(0), row.face(&bend.to).unwrap_or(0));
    let to_parent = maps[parent].inverse();
    Bend {
        name: bend.name.clone(),
        parent,
        child,
        edge: bent.zone.parent.map(|end| to_parent.point(end)),
        child_start: Point::new(setback(bend.angle, bend.inside_radius, row.thickness), 0.0),
        angle: bend.angle,
        sense: bent.sense,
        radius: bend.inside_radius,
        k: bend.k,
        k_source: bend.k_source.clone(),
        // Drawings alone ask for these; what is cut of them is in the outline.
        reliefs: Vec::new(),
    }
}

fn part(
    row: &PartRow,
    material: Arc<Material>,
    places: Vec<Pose<PartFrame, SiteFrame>>,
    (faces, bends): (Vec<Face>, Vec<Bend>),
) -> Part {
    let hands = [Hand::Left, Hand::Right];
    Part {
        number: row.number.clone(),
        name: row.name.clone(),
        title: row.title.clone(),
        hand: hands.into_iter().find(|hand| row.hand.as_deref() == Some(hand.word())),
        material,
        thickness: row.thickness,
        gauge: row.gauge.clone(),
        faces,
        bends,
        marks: Vec::new(),
        places,
        remarks: row.remarks.clone(),
        relations: row.relations.clone(),
        lie: Lie { grain: row.grain, mirror: row.mirror },
        issue: Issue::default(),
    }
}

fn places(row: &PartRow, notes: &mut Notes) -> Option<Vec<Pose<PartFrame, SiteFrame>>> {
    let places: Option<Vec<_>> = row.places.iter().map(pose).collect();
    if places.is_none() {
        let words = format!("a place of {} is no rigid motion", row.number);
        Desk::new(notes, NAME).tell(&FACE, words);
    }
    places
}

/// The part's material by the shop's data.
fn material(bench: &Bench, row: &PartRow, notes: &mut Notes) -> Option<Arc<Material>> {
    let mut desk = Desk::new(notes, NAME);
    let id = &row.material_id;
    let Some(own) = bench.shelf.material(id) else {
        desk.tell(&STOCK, format!("{} is of `{id}`, which the shop does not know", row.number));
        return None;
    };
    if own.title != row.material || own.density != row.density {
        let words = "has another title or density in the shop's data";
        desk.tell(&STOCK, format!("{}: {id} {words}", row.number));
    }
    Some(Arc::new(Material {
        id: id.clone(),
        title: row.material.clone(),
        density: row.density,
        tensile: own.tensile,
    }))
}
