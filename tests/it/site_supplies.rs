//! What is used up on site, worked by hand from the samples' sizes; joints and pictures of the
//! steps; tables that never leave one row alone. Beads, cartridges, coats and discs are common
//! practice, no source.

use std::collections::BTreeSet;
use std::f64::consts::PI;

use blankwright::draw::view::{Stage, stage};
use blankwright::draw::{Block, Fill, Item, Sheet, column, report, site_papers};
use blankwright::geom::Point3;
use blankwright::kit::{Joint, JointMember, Kit};

use crate::site_cut::Door;

/// Samples of every family that has work on site.
const SAMPLES: [&str; 9] = [
    include_str!("../../sample-specs/kelp-hall.toml"),
    include_str!("../../sample-specs/kelp-hall-door.toml"),
    include_str!("../../sample-specs/lab-window.toml"),
    include_str!("../../sample-specs/kelp-vent.toml"),
    include_str!("../../sample-specs/net-store.toml"),
    include_str!("../../sample-specs/rack-store-doorway.toml"),
    include_str!("../../sample-specs/boat-joint.toml"),
    include_str!("../../sample-specs/lab-struts.toml"),
    include_str!("../../sample-specs/boat-bay-pockets.toml"),
];

/// How much of the first thing so called is to be brought, and what it is for.
fn amount<'a>(door: &'a Door, what: &str) -> (f64, &'static str, &'a str) {
    let tool = door.site.tools.iter().find(|tool| tool.what == what);
    let tool = tool.unwrap_or_else(|| panic!("no {what}: {:#?}", door.site.tools));
    let amount = tool.amount.unwrap();
    (amount.value, amount.unit, &tool.why)
}

fn words(sheet: &Sheet) -> String {
    let texts = sheet.items.iter().filter_map(|item| match item {
        Item::Text(text) => Some(text.content.as_str()),
        Item::Shape { .. } => None,
    });
    texts.collect::<Vec<_>>().join(" ")
}

#[test]
fn a_doors_sealant_discs_and_primer_follow_from_its_cut() {
    let door = Door::of(SAMPLES[0]);
    let lines = &door.site.cut.as_ref().unwrap().lines;
    assert_eq!((lines.width, lines.height), (2453.0, 2319.5));
    // Corrugation 72 + 68 + 70 + 68 = 278 wide, 36 deep: a metre of wall is so many of sheet.
    let along = (72.0 + 70.0 + 2.0 * (68.0_f64 * 68.0 + 36.0 * 36.0).sqrt()) / 278.0;
    // Webs 2453 - 2 (3 + 2) = 2443 apart; the drip laps both lips of 30 + 3 + 2.
    let lips = 2.0 * 2319.5 + (2443.0 + 2.0 * 35.0) * along;
    let sill = 2.0 * (2443.0 - 1.0);
    let holes: usize = {
        let into = |s: &&blankwright::site::Setting| {
            matches!(s.into.as_deref(), Some("wall" | "rail" | "post"))
        };
        door.site.settings.iter().filter(into).map(|s| s.count).sum()
    };
    let millilitres = (lips + sill) * PI / 4.0 * 6.0 * 6.0 / 1000.0 + holes as f64;
    let (count, unit, why) = amount(&door, "Sealant");
    assert_eq!((count, unit), ((millilitres * 1.1 / 310.0).ceil(), "cartridges"));
    for told in ["7.3 m of 6 mm bead", "4.9 m of 6 mm bead", "66 holes", "common practice"] {
        assert!(why.contains(told), "{told}: {why}");
    }
    assert_eq!(holes, 66);
    // 2 (2319.5 + 2613.9) = 9.87 m of cut: four discs and one more; 0.99 m2 in two coats.
    let (discs, ..) = amount(&door, "Cutting discs 125 × 1 mm, for steel");
    let (primer, ..) = amount(&door, "Zinc-rich primer");
    assert_eq!(discs, 5.0);
    assert!((primer - 0.2).abs() < 1e-9, "{primer}");
    let stop = door.site.tools.iter().find(|tool| tool.why.starts_with("4 stop holes")).unwrap();
    assert_eq!(stop.drill, Some(10.0));
}

#[test]
fn an_end_joint_brings_fittings_shims_tape_and_rivet_nuts() {
    let hall = Door::of(include_str!("../../sample-specs/hall-joint.toml"));
    let pieces = |what: &str| amount(&hall, what).0;
    assert_eq!(pieces("Joining fittings"), 4.0);
    // Behind the foremost: top left 3 + 1, top right 2, bottom right 2, bottom left 0.
    assert_eq!((pieces("Shim plates, 3 mm"), pieces("Shim plates, 1 mm")), (1.0, 5.0));
    // Four covers with four bolts each.
    assert_eq!(pieces("Rivet nut setter, rivet nuts M6"), 16.0);
    // The cap is 2438 + 24 long and lies on both rails; a tenth over, up to the next 0.1 m.
    assert_eq!(amount(&hall, "Butyl tape").0, 5.5);
    let square = Door::of(SAMPLES[6]);
    assert!(square.site.tools.iter().all(|tool| !tool.what.starts_with("Shim")));
}

#[test]
fn struts_bring_their_bolts_bars_and_rail_heights() {
    let door = Door::of(SAMPLES[7]);
    // 12 struts with 4 brackets; 10 bays with 2 rails, two bolts each.
    assert_eq!(amount(&door, "Bolts M8 with washers and channel nuts").0, 48.0);
    assert_eq!(amount(&door, "Bolts M8 with washers and channel nuts, rails").0, 40.0);
    let lengths = &door.made.kit.lengths[0];
    let bars: f64 = {
        let own = door.site.tools.iter().filter(|tool| tool.what == lengths.title);
        own.map(|tool| tool.amount.unwrap().value).sum()
    };
    assert_eq!(bars, lengths.plan.bars.len() as f64);
    // Ceiling 2392, struts end 40 below it, rails 150 lower: 2202; 600 below: 1602; every second
    // bay 41.3 lower.
    let pages = site_papers(&door.made.kit, &door.made.folded, &door.site);
    let layout = words(&pages[0]);
    for told in ["rail 2202.0", "rail 2160.7", "rail 1602.0", "rail 1560.7"] {
        assert!(layout.contains(told), "{told}: {layout}");
    }
    // Each rail lies on two struts of the kit with its whole width.
    let struts: Vec<f64> = {
        let keep = door.made.kit.keep_outs.iter().filter(|it| it.name.starts_with("strut"));
        keep.map(|it| it.shape.bounds()).map(|[low, high]| (low.x + high.x) / 2.0).collect()
    };
    let rails = door.made.kit.on_site.bodies.iter().filter(|it| it.name == "rail");
    let mut count = 0;
    for [low, high] in rails.map(|it| it.shape.bounds()) {
        for x in [low.x + 41.3 / 2.0, high.x - 41.3 / 2.0] {
            assert!(struts.iter().any(|strut| (strut - x).abs() < 0.01), "{x}: {struts:?}");
        }
        count += 1;
    }
    assert_eq!(count, 20);
}

/// Numbers of the parts that a joint goes through.
fn joined<'a>(kit: &'a Kit, joint: &'a Joint) -> impl Iterator<Item = &'a String> {
    joint.pairs.iter().flatten().filter_map(|member| match member {
        JointMember::Hole { part, .. } => Some(&kit.parts[*part].number),
        JointMember::Into(_) => None,
    })
}

/// All parts of a joint are brought by this step or one before it.
fn assert_stands(door: &Door, joint: &Joint, step: usize) {
    let (kit, steps) = (&door.made.kit, &door.site.steps[..=step]);
    for number in joined(kit, joint) {
        let stands = steps.iter().any(|step| step.parts.contains(number));
        assert!(stands, "{} before {number} in {}", joint.id, kit.number);
    }
}

/// Every joint is set in one step, when all its parts stand, and its number stands on a card.
#[test]
fn every_joint_is_set_in_one_step_after_its_parts() {
    for text in SAMPLES {
        let door = Door::of(text);
        let (kit, site) = (&door.made.kit, &door.site);
        let mut seen = BTreeSet::new();
        for (i, ids) in site.step_joints.iter().enumerate() {
            for id in ids {
                assert!(seen.insert(id.clone()), "{id} twice in {}", kit.number);
                let joint = kit.joints.iter().find(|joint| joint.id == *id).unwrap();
                assert_stands(&door, joint, i);
            }
        }
        assert_eq!(seen.len(), kit.joints.len(), "{}", kit.number);
        let pages = site_papers(kit, &door.made.folded, site);
        let cards = pages.iter().map(words).filter(|page| page.contains("Order of work"));
        let all = cards.collect::<Vec<_>>().join(" ");
        for id in &seen {
            assert!(all.split([' ', ',', '.']).any(|word| word == id), "{id}: {all}");
        }
    }
}

/// What a step shows: parts brought, parts worked on, bodies, distance between the boxes.
#[test]
fn every_step_shows_something_of_its_own() {
    for text in SAMPLES {
        let door = Door::of(text);
        let mut before = Vec::new();
        let own = door.site.steps.iter().filter(|step| !step.title.starts_with("Set out"));
        let cutting = if door.site.cut.is_some() { 6 } else { 0 };
        for step in own.skip(cutting) {
            let shows = format!("{:?} {:?} {:?} {}", step.parts, step.on, step.shows, step.apart);
            let bare = step.parts.is_empty() && step.on.is_empty() && step.shows.is_empty();
            assert!(!bare, "{}: {}", door.made.kit.number, step.title);
            assert!(!before.contains(&shows), "{}: {}", door.made.kit.number, step.title);
            before.push(shows);
        }
    }
}

#[test]
fn a_body_stands_out_and_boxes_stand_apart() {
    let door = Door::of(SAMPLES[6]);
    let (kit, folded) = (&door.made.kit, &door.made.folded);
    let tinted = |stage: &blankwright::draw::view::Staged| {
        stage.picture.areas.iter().filter(|area| matches!(area.fill, Fill::Tint(_))).count()
    };
    let bare = stage(kit, folded, &Stage::default());
    let bodies = vec![[Point3::new(-60.0, -1000.0, 0.0), Point3::new(-10.0, 1000.0, 2000.0)]];
    let body = stage(kit, folded, &Stage { bodies, ..Stage::default() });
    assert_eq!(tinted(&bare), 0);
    assert!(tinted(&body) >= 3, "three sides of a box are seen");
    let wide = stage(kit, folded, &Stage { apart: 500.0, ..Stage::default() });
    assert!(bare.picture.bounds.width() + 100.0 < wide.picture.bounds.width());
}

#[test]
fn no_table_leaves_one_row_alone() {
    let door = Door::of(SAMPLES[0]);
    let mut pages = 0;
    for count in 20..80 {
        let rows = (0..count).map(|i| vec![format!("row-{i}")]).collect();
        let table = Block::Table("Rows", vec![column("Row", 100.0)], rows);
        for sheet in report(&door.made.kit, "Check sheet", vec![table]) {
            let text = words(&sheet);
            let rows = text.split(' ').filter(|word| word.starts_with("row-")).count();
            assert_ne!(rows, 1, "{count} rows");
            pages += 1;
        }
    }
    assert!(pages > 60, "some tables went on to a second page");
}
