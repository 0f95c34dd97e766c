//! The proof finds what is changed in written files: one slip at a time, of every kind.

#![allow(clippy::print_stdout, reason = "the table of kinds is what the test has to show")]

use serde_json::Value;

use crate::prove_edit::{Dice, Pairs, add, count, in_dxf, in_part, one};
use crate::prove_files::{Files, SAMPLES};

/// A kind of slip: its name, and how it is made; none where it cannot be made.
type Kind = (&'static str, fn(&mut Files, &mut Dice) -> Option<()>);

/// A size that matters: four times what joined holes may be apart, mm.
const SLIP: f64 = 0.2;

/// How often each kind is tried.
const TIMES: usize = 6;

const IN_DXF: &[Kind] = &[
    ("outside corner moved", |f, d| in_dxf(f, d, |p, d| corner_moved(p, d, "CUT_OUTSIDE"))),
    ("inside corner moved", |f, d| in_dxf(f, d, |p, d| corner_moved(p, d, "CUT_INSIDE"))),
    ("side bowed", |f, d| in_dxf(f, d, side_bowed)),
    ("hole moved", |f, d| in_dxf(f, d, |p, d| circle(p, d, &[10, 20], SLIP))),
    ("diameter changed", |f, d| in_dxf(f, d, |p, d| circle(p, d, &[40], SLIP / 2.0))),
    ("hole left out", |f, d| in_dxf(f, d, |p, d| left_out(p, d, "CUT_INSIDE"))),
    ("hole added", |f, d| in_dxf(f, d, hole_added)),
    ("hole cut twice", |f, d| in_dxf(f, d, |p, d| doubled(p, d, "CUT_INSIDE"))),
    ("outline cut twice", |f, d| in_dxf(f, d, |p, d| doubled(p, d, "CUT_OUTSIDE"))),
    ("outline left out", |f, d| in_dxf(f, d, |p, d| left_out(p, d, "CUT_OUTSIDE"))),
    ("contour opened", |f, d| in_dxf(f, d, opened)),
    ("bend line moved", |f, d| in_dxf(f, d, bend_moved)),
    ("bend line left out", |f, d| in_dxf(f, d, |p, d| left_out(p, d, "BEND"))),
    ("bend line twice", |f, d| in_dxf(f, d, |p, d| doubled(p, d, "BEND"))),
    ("bend on the other layer", |f, d| in_dxf(f, d, bend_swapped)),
    ("hole on the etched layer", |f, d| in_dxf(f, d, |p, d| relaid(p, d, "CUT_INSIDE", "ETCH"))),
    ("etching on the cut layer", |f, d| in_dxf(f, d, |p, d| relaid(p, d, "ETCH", "CUT_INSIDE"))),
    ("layer renamed", |f, d| in_dxf(f, d, layer_renamed)),
    ("etched stroke left out", |f, d| in_dxf(f, d, |p, d| left_out(p, d, "ETCH"))),
    ("inches", |f, d| in_dxf(f, d, |p, _| header(p, "$INSUNITS", "1"))),
    ("imperial", |f, d| in_dxf(f, d, |p, _| header(p, "$MEASUREMENT", "0"))),
    ("tipped or mirrored", |f, d| in_dxf(f, d, mirrored)),
];

const IN_JSON: &[Kind] = &[
    ("bend angle", |f, d| in_part(f, d, |p, d| add(&mut one(&mut p["bends"], d)?["angle"], 1.0))),
    ("inside radius", |f, d| {
        in_part(f, d, |p, d| add(&mut one(&mut p["bends"], d)?["inside_radius"], 0.5))
    }),
    ("k", |f, d| in_part(f, d, |p, d| add(&mut one(&mut p["bends"], d)?["k"], 0.02))),
    ("direction", |f, d| in_part(f, d, direction)),
    ("allowance", |f, d| {
        in_part(f, d, |p, d| add(&mut one(&mut p["bends"], d)?["allowance"], SLIP))
    }),
    ("from and to swapped", |f, d| in_part(f, d, ends_swapped)),
    ("bend left out", |f, d| in_part(f, d, |p, d| removed(&mut p["bends"], d))),
    ("place shifted", |f, d| {
        in_part(f, d, |p, d| {
            let (axis, by) = (d.below(3), SLIP * d.sign());
            add(&mut one(&mut p["places"], d)?[axis][3], by)
        })
    }),
    ("place turned", |f, d| in_part(f, d, |p, d| turned(one(&mut p["places"], d)?, d))),
    ("thickness", |f, d| in_part(f, d, |p, _| add(&mut p["thickness"], SLIP))),
    ("quantity", |f, d| in_part(f, d, |p, _| count(&mut p["quantity"]))),
    ("mass", |f, d| in_part(f, d, |p, _| add(&mut p["mass_kg"], 0.01))),
    ("area", |f, d| in_part(f, d, |p, _| add(&mut p["blank"]["area_mm2"], 1.0))),
    ("to_part", |f, d| {
        in_part(f, d, |p, d| {
            let (axis, by) = (d.below(3), SLIP * d.sign());
            add(&mut one(&mut p["faces"], d)?["to_part"][axis][3], by)
        })
    }),
    ("face's corner", |f, d| {
        in_part(f, d, |p, d| {
            let axis = d.below(2);
            add(&mut one(&mut one(&mut p["faces"], d)?["outline"], d)?[axis], SLIP)
        })
    }),
    ("blank's corner", |f, d| {
        in_part(f, d, |p, d| add(&mut one(&mut p["blank"]["outer"], d)?[0], SLIP))
    }),
    ("hole's size", |f, d| {
        in_part(f, d, |p, d| add(&mut one(&mut p["holes"], d)?["size"][0], SLIP))
    }),
    ("hole's centre", |f, d| {
        in_part(f, d, |p, d| add(&mut one(&mut p["holes"], d)?["centre"][1], SLIP))
    }),
    ("hole left out of the list", |f, d| in_part(f, d, |p, d| removed(&mut p["holes"], d))),
    ("material", |f, d| in_part(f, d, material)),
    ("fasteners miscounted", |f, d| {
        in_kit(f, d, |k, d| count(&mut one(&mut k["fasteners"], d)?["count"]))
    }),
    ("grip", |f, d| in_kit(f, d, |k, d| add(&mut one(&mut k["joints"], d)?["grip"], SLIP))),
    ("gap", |f, d| in_kit(f, d, gap)),
    ("fastener left out", |f, d| {
        in_kit(f, d, |k, d| removed(&mut one(&mut k["joints"], d)?["pairs"], d))
    }),
    ("member left out", |f, d| in_kit(f, d, member_left_out)),
    ("members swapped", |f, d| in_kit(f, d, members_swapped)),
    ("part left out", |f, d| in_kit(f, d, |k, d| removed(&mut k["parts"], d))),
];

const IN_FOLDER: &[Kind] = &[
    ("DXF file missing", |f, d| {
        let path = d.of(&f.dxfs())?;
        f.0.remove(&path).map(drop)
    }),
    ("DXF files swapped", |f, d| {
        let (a, b) = (d.of(&f.dxfs())?, d.of(&f.dxfs())?);
        let (at_a, at_b) = (f.0[&a].clone(), f.0[&b].clone());
        f.0.insert(a.clone(), at_b);
        f.0.insert(b.clone(), at_a);
        (a != b).then_some(())
    }),
    ("a stranger's DXF file", |f, d| {
        let bytes = f.0[&d.of(&f.dxfs())?].clone();
        f.0.insert("parts/OLD-01.dxf".to_owned(), bytes);
        Some(())
    }),
    ("count in parts.csv", |f, _| in_list(f, "parts.csv", ",1,", ",2,")),
    ("thickness in parts.csv", |f, _| in_list(f, "parts.csv", ",1.5,", ",2.5,")),
    ("count in fasteners.csv", |f, _| in_list(f, "fasteners.csv", ",2,", ",3,")),
];

#[test]
fn every_slip_is_found() {
    let mut dice = Dice(20_260_302);
    let (mut total, mut missed) = (0, Vec::new());
    for (name, kind) in [IN_DXF, IN_JSON, IN_FOLDER].concat() {
        let (mut made, mut found) = (0, 0);
        for sample in SAMPLES.iter().cycle().take(TIMES) {
            let mut files = sample.clone();
            if kind(&mut files, &mut dice).is_none() || files == *sample {
                continue;
            }
            made += 1;
            if files.prove().holds() {
                missed.push(format!("{name} in {}", sample.json()["kit"]));
            } else {
                found += 1;
            }
        }
        println!("{name:28} {found:3} of {made:3}");
        assert!(made > 0, "{name} was never tried");
        total += made;
    }
    println!("{:28} {total}", "all");
    assert!(missed.is_empty(), "{missed:#?}");
    assert!(300 <= total, "{total}");
}

fn in_kit(
    files: &mut Files,
    dice: &mut Dice,
    change: impl Fn(&mut Value, &mut Dice) -> Option<()>,
) -> Option<()> {
    let mut json = files.json();
    for _ in 0..20 {
        if change(&mut json, dice).is_some() {
            files.put_json(&json);
            return Some(());
        }
    }
    None
}

fn in_list(files: &mut Files, path: &str, from: &str, to: &str) -> Option<()> {
    let text = String::from_utf8(files.0[path].clone()).unwrap();
    let changed = text.replacen(from, to, 1);
    files.0.insert(path.to_owned(), changed.clone().into_bytes());
    (changed != text).then_some(())
}

fn removed(list: &mut Value, dice: &mut Dice) -> Option<()> {
    let list = list.as_array_mut()?;
    if list.is_empty() {
        return None;
    }
    list.remove(dice.below(list.len()));
    Some(())
}

fn corner_moved(pairs: &mut Pairs, dice: &mut Dice, layer: &str) -> Option<()> {
    let mut contours = pairs.entities(layer);
    contours.retain(|span| pairs.kind(span) == "LWPOLYLINE");
    let contour = dice.of(&contours)?;
    let group = [10, 20][dice.below(2)];
    let at = dice.of(&pairs.groups(&contour, group))?;
    pairs.add(at, SLIP * dice.sign());
    Some(())
}

/// Gives a straight side a bow, or takes one.
fn side_bowed(pairs: &mut Pairs, dice: &mut Dice) -> Option<()> {
    let contour = dice.of(&pairs.entities("CUT"))?;
    let bows = pairs.groups(&contour, 42);
    match dice.of(&bows).filter(|_| dice.below(2) == 0) {
        Some(at) => pairs.add(at, 0.1),
        None => {
            let at = dice.of(&pairs.groups(&contour, 20)).filter(|at| *at + 1 < pairs.0.len())?;
            if pairs.kind(&contour) != "LWPOLYLINE" || pairs.0[at + 1].0 == 42 {
                return None;
            }
            pairs.0.insert(at + 1, (42, "0.05".to_owned()));
        }
    }
    Some(())
}

fn circle(pairs: &mut Pairs, dice: &mut Dice, groups: &[u16], by: f64) -> Option<()> {
    let mut circles = pairs.entities("CUT_INSIDE");
    circles.retain(|span| pairs.kind(span) == "CIRCLE");
    let circle = dice.of(&circles)?;
    let group = dice.of(groups)?;
    let at = pairs.groups(&circle, group)[0];
    pairs.add(at, by * dice.sign());
    Some(())
}

fn left_out(pairs: &mut Pairs, dice: &mut Dice, layer: &str) -> Option<()> {
    let span = dice.of(&pairs.entities(layer))?;
    pairs.0.drain(span);
    Some(())
}

fn doubled(pairs: &mut Pairs, dice: &mut Dice, layer: &str) -> Option<()> {
    let span = dice.of(&pairs.entities(layer))?;
    let copy = pairs.0[span.clone()].to_vec();
    pairs.0.splice(span.end..span.end, copy);
    Some(())
}

fn hole_added(pairs: &mut Pairs, dice: &mut Dice) -> Option<()> {
    let mut circles = pairs.entities("CUT_INSIDE");
    circles.retain(|span| pairs.kind(span) == "CIRCLE");
    let circle = dice.of(&circles)?;
    let copy = pairs.0[circle.clone()].to_vec();
    pairs.0.splice(circle.end..circle.end, copy);
    let at = pairs.groups(&circle, 10)[0];
    pairs.add(at, 9.0);
    Some(())
}

fn opened(pairs: &mut Pairs, dice: &mut Dice) -> Option<()> {
    let mut contours = pairs.entities("CUT");
    contours.retain(|span| pairs.kind(span) == "LWPOLYLINE");
    let contour = dice.of(&contours)?;
    let at = pairs.groups(&contour, 70)[0];
    pairs.0[at].1 = "0".to_owned();
    Some(())
}

fn bend_moved(pairs: &mut Pairs, dice: &mut Dice) -> Option<()> {
    let line = dice.of(&pairs.entities("BEND"))?;
    let groups = dice.of(&[[10, 11], [20, 21], [10, 10], [21, 21]])?;
    let by = SLIP / 2.0 * dice.sign();
    for group in groups {
        let at = pairs.groups(&line, group)[0];
        pairs.add(at, by);
    }
    Some(())
}

fn bend_swapped(pairs: &mut Pairs, dice: &mut Dice) -> Option<()> {
    let line = dice.of(&pairs.entities("BEND"))?;
    let at = pairs.groups(&line, 8)[0];
    let other = if pairs.0[at].1 == "BEND_UP" { "BEND_DOWN" } else { "BEND_UP" };
    pairs.0[at].1 = other.to_owned();
    Some(())
}

fn relaid(pairs: &mut Pairs, dice: &mut Dice, from: &str, to: &str) -> Option<()> {
    let span = dice.of(&pairs.entities(from))?;
    let at = pairs.groups(&span, 8)[0];
    pairs.0[at].1 = to.to_owned();
    Some(())
}

/// Renames a layer, of all that lies on it and in the table.
fn layer_renamed(pairs: &mut Pairs, dice: &mut Dice) -> Option<()> {
    let name = dice.of(&["CUT_OUTSIDE", "CUT_INSIDE", "BEND_UP", "ETCH"])?;
    let named = pairs.0.iter_mut().filter(|(code, value)| [2, 8].contains(code) && value == name);
    named.for_each(|(_, value)| *value = "Layer 1".to_owned());
    Some(())
}

fn header(pairs: &mut Pairs, name: &str, value: &str) -> Option<()> {
    let at = pairs.0.iter().position(|pair| pair.1 == name)?;
    pairs.0[at + 1].1 = value.to_owned();
    Some(())
}

/// Lets an entity's plane face down, or stand above zero.
fn mirrored(pairs: &mut Pairs, dice: &mut Dice) -> Option<()> {
    let span = dice.of(&pairs.entities("CUT"))?;
    let group = [(230, "-1.0"), (38, "5.0"), (67, "1"), (60, "1")][dice.below(4)];
    pairs.0.insert(span.end, (group.0, group.1.to_owned()));
    Some(())
}

fn direction(part: &mut Value, dice: &mut Dice) -> Option<()> {
    let word = &mut one(&mut part["bends"], dice)?["direction"];
    *word = Value::from(if word == "up" { "down" } else { "up" });
    Some(())
}

fn ends_swapped(part: &mut Value, dice: &mut Dice) -> Option<()> {
    let bend = one(&mut part["bends"], dice)?;
    let (from, to) = (bend["from"].clone(), bend["to"].clone());
    (bend["from"], bend["to"]) = (to, from);
    Some(())
}

/// Turns a place by a tenth of a degree about its own z.
fn turned(place: &mut Value, dice: &mut Dice) -> Option<()> {
    let angle = 0.1_f64.to_radians() * dice.sign();
    for row in place.as_array_mut()? {
        let [x, y] = [row[0].as_f64()?, row[1].as_f64()?];
        let [cos, sin] = [1.0 - angle * angle / 2.0, angle];
        let length = (cos * cos + sin * sin).sqrt();
        row[0] = Value::from((x * cos + y * sin) / length);
        row[1] = Value::from((y * cos - x * sin) / length);
    }
    Some(())
}

fn material(part: &mut Value, dice: &mut Dice) -> Option<()> {
    let id = dice.of(&["mild-steel", "aluminium-5754", "unobtainium"])?;
    part["material_id"] = Value::from(id);
    Some(())
}

fn member_left_out(kit: &mut Value, dice: &mut Dice) -> Option<()> {
    let pair = one(&mut one(&mut kit["joints"], dice)?["pairs"], dice)?;
    removed(pair, dice)
}

/// Widens a gap, of a joint that has one: between two sheets at least.
fn gap(kit: &mut Value, dice: &mut Dice) -> Option<()> {
    let joint = one(&mut kit["joints"], dice)?;
    let sheets = joint["pairs"][0].as_array()?.iter().filter(|m| m["hole"].is_string());
    if sheets.count() < 2 {
        return None;
    }
    add(&mut joint["gap"], SLIP)
}

/// Swaps the holes of two fasteners of one joint that goes through two parts at least.
fn members_swapped(kit: &mut Value, dice: &mut Dice) -> Option<()> {
    let pairs = one(&mut kit["joints"], dice)?["pairs"].as_array_mut()?;
    if pairs.len() < 2 || pairs[0].as_array()?.iter().filter(|m| m["hole"].is_string()).count() < 2
    {
        return None;
    }
    let last = pairs.len() - 1;
    let (a, b) = (pairs[0][0]["hole"].clone(), pairs[last][0]["hole"].clone());
    (pairs[0][0]["hole"], pairs[last][0]["hole"]) = (b, a);
    Some(())
}
