//! The papers for the site: texts stand free, and what must be read is there.

use blankwright::draw::view::{Stage, stage};
use blankwright::draw::{Fill, Item, Picture, Sheet, site_papers};
use blankwright::kit::Value;
use blankwright::site::Tool;

use crate::draw_collisions::collisions;
use crate::site_cut::{Door, spec};

fn papers(text: &str) -> (Door, Vec<Sheet>) {
    let door = Door::of(text);
    let sheets = site_papers(&door.made.kit, &door.made.folded, &door.site);
    (door, sheets)
}

fn words(sheet: &Sheet) -> String {
    let texts = sheet.items.iter().filter_map(|item| match item {
        Item::Text(text) => Some(text.content.as_str()),
        Item::Shape { .. } => None,
    });
    texts.collect::<Vec<_>>().join(" ")
}

fn doors() -> Vec<String> {
    let long = spec("40ft-high-cube", "left", [2440.0, 5000.0], "");
    let short = spec("20ft", "right", [2100.0, 2900.0], "[foam]\nthickness = 0");
    let narrow = spec("20ft", "left", [700.0, 1500.0], "");
    let inches = short.replace("title =", "units = \"in\"\ntitle =").replace("2100.0", "\"7 ft\"");
    let inches = inches.replace("2900.0", "\"9 ft 6 in\"").replace("1950", "\"6 ft 5 in\"");
    vec![long, short, narrow, inches]
}

#[test]
fn texts_stand_free() {
    for text in doors() {
        for sheet in papers(&text).1 {
            assert_eq!(collisions(&sheet), Vec::<String>::new(), "{text}");
        }
    }
}

#[test]
fn cautions_stand_on_every_page() {
    for text in doors() {
        let (door, sheets) = papers(&text);
        assert!(sheets.len() >= 3);
        for sheet in &sheets {
            let words = words(sheet);
            for caution in &door.made.kit.cautions {
                let spread = caution.split_whitespace().collect::<Vec<_>>().join(" ");
                assert!(words.contains(&spread), "{caution} on {}", sheet.title);
            }
        }
    }
}

#[test]
fn lines_tabs_and_mass_are_there() {
    let (door, sheets) = papers(&doors()[0]);
    let all = sheets.iter().map(words).collect::<Vec<_>>().join(" ");
    let cut = door.site.cut.as_ref().unwrap();
    for mm in [cut.lines.from_left, cut.lines.from_right, cut.lines.z].concat() {
        assert!(all.contains(&format!("{mm:.1}")), "{mm}");
    }
    for i in 1..=cut.holding.tabs.len() {
        assert!(words(&sheets[1]).contains(&format!(" {i} ")), "tab {i}");
    }
    assert!(all.contains(&format!("{:.2} kg", cut.panel.mass_kg)));
    assert!(all.contains(&format!("{:.1}", cut.lines.diagonal)));
    for joint in &door.made.kit.joints {
        let named = all.split([' ', ',']).any(|word| word == joint.id);
        assert!(named, "{}", joint.id);
    }
}

#[test]
fn lengths_sides_and_units_are_told() {
    let doors = doors();
    let (door, sheets) = papers(&doors[0]);
    let all = sheets.iter().map(words).collect::<Vec<_>>().join(" ");
    // Soffit and inner leg of the header hide its ends from the opening; the hand holes are inside.
    assert!(all.contains("inside, through the"), "{all}");
    // Each joint's length is one that the parts list orders.
    for setting in &door.site.settings {
        let fastener = door.made.kit.fasteners.iter().find(|f| f.id == setting.fastener).unwrap();
        if let Some(length) = setting.length {
            assert!(fastener.title.contains(&format!("{length} mm (")), "{}", fastener.title);
        }
    }
    let inches = papers(&doors[3]).1.iter().map(words).collect::<Vec<_>>().join(" ");
    assert!(inches.contains("55 lb (25 kg)") && inches.contains("ft² ("), "{inches}");
    // A 5 mm drill is 0.197 in.
    assert!(inches.contains("⌀0.197 in (5 mm)"), "{inches}");
}

/// The pages with the order of work.
fn cards(sheets: &[Sheet]) -> Vec<&Sheet> {
    sheets.iter().filter(|sheet| words(sheet).contains("Order of work")).collect()
}

#[test]
fn every_step_has_a_card_that_names_its_parts() {
    for text in doors() {
        let (door, sheets) = papers(&text);
        let cards = cards(&sheets);
        let all = cards.iter().map(|sheet| words(sheet)).collect::<Vec<_>>().join(" ");
        for (i, step) in door.site.steps.iter().enumerate() {
            let head = format!("{} {}", i + 1, step.title);
            assert!(all.contains(&head), "{head}: {all}");
            let card = all.split(&head).nth(1).unwrap();
            for number in &step.parts {
                assert!(card.contains(door.made.kit.short(number)), "{number} in {head}");
            }
        }
    }
}

#[test]
fn parts_of_a_step_are_tinted_and_those_before_are_not() {
    let (door, _) = papers(&doors()[0]);
    let (kit, folded) = (&door.made.kit, &door.made.folded);
    let named = |name: &str| kit.parts.iter().position(|part| part.name == name).unwrap();
    let (header, sill) = (named("header"), named("sill"));
    let of = |now: Vec<usize>, before: Vec<usize>| {
        stage(kit, folded, &Stage { now, before, ..Stage::default() }).picture
    };
    let tinted = |picture: &Picture| {
        picture.areas.iter().filter(|area| matches!(area.fill, Fill::Tint(_))).count()
    };
    let pale = |picture: &Picture| picture.areas.iter().filter(|a| a.fill == Fill::Paper).count();
    let (alone, after) = (of(vec![header], vec![]), of(vec![header], vec![sill]));
    assert!(0 < tinted(&alone));
    assert_eq!(tinted(&after), tinted(&alone));
    assert_eq!((pale(&alone), pale(&after)), (0, tinted(&of(vec![sill], vec![]))));
    let labels: Vec<&str> = after.labels.iter().map(|label| label.text.as_str()).collect();
    assert_eq!(labels, [kit.short(&kit.parts[header].number)]);
    // The picture of every step has the same bounds, so that they can be compared.
    assert!(alone.bounds.low.distance(after.bounds.low) < 1e-6);
}

/// Worked by hand from the values that `kit.json` has: legs and header by their mean depth, which
/// is that of a corrugation whose slopes lie half way.
#[test]
fn foam_is_the_sum_of_its_places() {
    let (door, sheets) = papers(&doors()[0]);
    let value = |name: &str| {
        let found = door.made.kit.values.iter().find(|(known, _)| known == name);
        let Some((_, Value::Number(number))) = found else { panic!("no number {name}") };
        *number
    };
    let mean = value("wall.depth") * (value("wall.inner_flat") + value("wall.slope"))
        / value("wall.pitch")
        + value("wall.thickness");
    let depth = value("wall.rail_inside") + value("foam.thickness") - mean;
    let legs = 2.0 * value("frame.inner_leg") * value("frame.web_top");
    let header = value("frame.between") * value("head.height");
    let litres = (legs + header) * depth * 1e-6;
    let foam = door.site.foam.as_ref().unwrap();
    assert!((foam.net - litres).abs() < 1e-9 && (foam.gross - 1.15 * litres).abs() < 1e-9);
    let all = sheets.iter().map(words).collect::<Vec<_>>().join(" ");
    assert!(all.contains(&format!("{litres:.0} l")), "{litres}");
    let (none, _) = papers(&doors()[1]);
    assert_eq!(none.site.foam, None);
}

#[test]
fn drills_are_told_by_size_with_all_their_holes() {
    let (door, _) = papers(&doors()[0]);
    // The stop holes of the cut are told by themselves.
    let stop = |tool: &&Tool| tool.why.contains("stop holes");
    assert_eq!(door.site.tools.iter().filter(stop).count(), 1);
    let drills = door.site.tools.iter().filter(|tool| tool.drill.is_some() && !stop(tool));
    for tool in drills {
        let mine = door.site.settings.iter().filter(|setting| setting.drill == tool.drill);
        let holes: usize = mine.map(|setting| setting.count).sum();
        assert!(tool.why.starts_with(&format!("{holes} holes into the ")), "{}", tool.why);
    }
    let drilled = door.site.settings.iter().filter(|setting| setting.drill.is_some());
    assert!(drilled.count() > 0);
}
