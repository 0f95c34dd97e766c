//! Changes that are made in all files alike: every file agrees with every other, and only folding
//! and joining the parts tells that they no longer fit.

#![allow(clippy::print_stdout, reason = "the table of kinds is what the test has to show")]

use std::collections::BTreeSet;

use blankwright::draw::{LaserStyle, laser_sheet};
use blankwright::flat::unfold;
use blankwright::fold::fold;
use blankwright::geom::{Point, Point3};
use blankwright::kit::{JointMember, Kit, Part, Sense};
use blankwright::prove::ReadBack;
use blankwright::release::{Record, fasteners_csv, kit_json, parts_csv};
use blankwright::section::Strength;
use blankwright::stackup::Report;
use blankwright::write::dxf;

use crate::law_stock::STOCK;
use crate::prove_edit::Dice;
use crate::prove_files::{Files, SAMPLES};

/// A kind of change and how it is made; none where the part has nothing for it.
type Kind = (&'static str, fn(&mut Kit, usize, &mut Dice) -> Option<()>);

/// How often each kind is made.
const TIMES: usize = 11;

const KINDS: &[Kind] = &[
    ("hole moved", hole_moved),
    ("bend the other way", |kit, part, dice| {
        let bend = joined_bend(kit, part, dice)?;
        let sense = &mut kit.parts[part].bends[bend].sense;
        *sense = if *sense == Sense::Up { Sense::Down } else { Sense::Up };
        Some(())
    }),
    ("leg longer", leg_longer),
    ("angle", |kit, part, dice| {
        let bend = joined_bend(kit, part, dice)?;
        kit.parts[part].bends[bend].angle += dice.sign();
        Some(())
    }),
    ("inside radius", radius),
    ("place shifted", |kit, part, dice| {
        joined(kit, part).first()?;
        let by = [[0.2, 0.0, 0.0], [0.0, 0.2, 0.0], [0.0, 0.0, 0.2]][dice.below(3)];
        let place = &mut kit.parts[part].places[0];
        *place = place.shifted(Point3::new(by[0], by[1], by[2]));
        Some(())
    }),
];

/// The files of a kit that was read back, all made from one model.
fn written(kit: &Kit) -> Option<Files> {
    let folded: Vec<_> = kit.parts.iter().map(fold).collect();
    let blanks: Vec<_> = kit.parts.iter().map(unfold).collect::<Option<_>>()?;
    let style = LaserStyle::default();
    let mut files = Files(Default::default());
    for (part, blank) in kit.parts.iter().zip(&blanks) {
        let bytes = dxf(&laser_sheet(part, blank, &style));
        files.0.insert(format!("parts/{}.dxf", part.number), bytes);
    }
    files.0.insert("parts.csv".to_owned(), parts_csv(kit, &blanks));
    files.0.insert("fasteners.csv".to_owned(), fasteners_csv(kit));
    let paths: Vec<&str> = files.0.keys().map(String::as_str).collect();
    let record = Record {
        kit,
        folded: &folded,
        blanks: &blanks,
        findings: &[],
        strength: &Strength::default(),
        stackup: &Report::default(),
        site: None,
        bending: &[],
        laid: None,
        files: &paths,
    };
    let json = kit_json(&record);
    files.0.insert("kit.json".to_owned(), json);
    Some(files)
}

fn read_back(files: &Files) -> ReadBack {
    files.prove().read.expect("a kit")
}

#[test]
fn a_kit_written_from_what_was_read_back_is_proved() {
    for sample in &*SAMPLES {
        let again = written(&read_back(sample).kit).expect("blanks");
        let proof = again.prove();
        assert!(proof.holds(), "{:#?}", proof.notes);
    }
}

#[test]
fn changes_that_all_files_share_are_found_by_folding() {
    let mut dice = Dice(6935);
    let kits: Vec<Kit> = SAMPLES.iter().map(|sample| read_back(sample).kit).collect();
    let (mut total, mut missed) = (0, Vec::new());
    for (name, change) in KINDS {
        let (mut made, mut found) = (0, 0);
        for _ in 0..TIMES * 20 {
            if made == TIMES {
                break;
            }
            let mut kit = dice.of(&kits).expect("a kit");
            let part = dice.below(kit.parts.len());
            let Some(files) = change(&mut kit, part, &mut dice).and_then(|()| written(&kit)) else {
                continue;
            };
            made += 1;
            let proof = files.prove();
            let fits = proof.notes.all().iter().filter(|f| f.check.starts_with("fit."));
            if fits.count() > 0 && !proof.holds() {
                found += 1;
            } else {
                missed.push(format!("{name}: {} {:#?}", kit.parts[part].number, proof.notes));
            }
        }
        println!("{name:28} {found:3} of {made:3}");
        total += made;
    }
    println!("{:28} {total}", "all");
    assert!(missed.is_empty(), "{missed:#?}");
    assert!(60 <= total, "{total}");
}

/// Ids of a part's holes through which it is fastened to another part.
fn joined(kit: &Kit, index: usize) -> Vec<String> {
    let mut ids = BTreeSet::new();
    for pair in kit.joints.iter().flat_map(|joint| &joint.pairs) {
        let parts = pair.iter().filter_map(|member| match member {
            JointMember::Hole { part, hole, .. } => Some((*part, hole)),
            JointMember::Into(_) => None,
        });
        let parts: Vec<_> = parts.collect();
        if parts.iter().any(|(part, _)| *part != index) {
            ids.extend(
                parts.iter().filter(|(part, _)| *part == index).map(|(_, id)| (*id).clone()),
            );
        }
    }
    ids.into_iter().collect()
}

/// A bend behind which the part is fastened to another one, at random.
fn joined_bend(kit: &Kit, index: usize, dice: &mut Dice) -> Option<usize> {
    let (part, ids) = (&kit.parts[index], joined(kit, index));
    let mut holds: Vec<bool> = part
        .faces
        .iter()
        .map(|face| face.holes.iter().any(|hole| ids.contains(&hole.id)))
        .collect();
    for bend in part.bends.iter().rev() {
        holds[bend.parent] |= holds[bend.child];
    }
    let bends: Vec<usize> =
        (0..part.bends.len()).filter(|bend| holds[part.bends[*bend].child]).collect();
    dice.of(&bends)
}

fn hole_moved(kit: &mut Kit, index: usize, dice: &mut Dice) -> Option<()> {
    let id = dice.of(&joined(kit, index))?;
    let faces = kit.parts[index].faces.iter_mut();
    let hole = faces.flat_map(|face| &mut face.holes).find(|hole| hole.id == id)?;
    let by = Point::new(0.2, 0.0).turned(dice.below(360) as f64);
    hole.centre = hole.centre + by;
    Some(())
}

/// Lengthens the parent's leg: the bend, and all behind it, moves out by half a millimetre.
fn leg_longer(kit: &mut Kit, index: usize, dice: &mut Dice) -> Option<()> {
    let bend = joined_bend(kit, index, dice)?;
    let part: &mut Part = &mut kit.parts[index];
    let (parent, edge) = (part.bends[bend].parent, part.bends[bend].edge);
    let out = (edge[1] - edge[0]).unit().right() * 0.5;
    for vertex in &mut part.faces[parent].outline.vertices {
        if edge.iter().any(|end| end.distance(vertex.at) < 1e-6) {
            vertex.at = vertex.at + out;
        }
    }
    part.bends[bend].edge = edge.map(|end| end + out);
    Some(())
}

/// Gives a bend another radius, with the factor that belongs to it.
fn radius(kit: &mut Kit, index: usize, dice: &mut Dice) -> Option<()> {
    let bend = joined_bend(kit, index, dice)?;
    let part = &mut kit.parts[index];
    let material = STOCK.shelf.material(&part.material.id)?;
    let bend = &mut part.bends[bend];
    bend.radius += 1.0;
    let rule = STOCK.shelf.shop.bend_to(material, (part.thickness, bend.angle), bend.radius);
    (bend.k, bend.k_source) = (rule.k, rule.k_source);
    Some(())
}
