//! The papers for the site: texts stand free, and what must be read is there.

use blankwright::draw::{Item, Sheet, site_papers};

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
