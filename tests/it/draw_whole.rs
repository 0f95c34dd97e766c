//! What stands on paper is whole: no number is cut, no text meets another, hidden parts are told,
//! and the sizes of legs are those that a rule finds on the folded part.

use blankwright::draw::{Item, PartViews, Pen, Sheet, drawing_set};
use blankwright::fold::FoldedPart;
use blankwright::geom::Point;
use blankwright::kit::{Bend, Part};

use crate::draw_collisions::collisions;
use crate::family::spec;
use crate::law_stock::{Made, make_spec};
use crate::site_cut::{self, Door};

fn sheets(made: &Made) -> Vec<Sheet> {
    let Made { kit, folded, blanks } = made;
    drawing_set(kit, folded, &PartViews::of_all(&kit.parts, folded), blanks)
        .sheets()
        .cloned()
        .collect()
}

fn words(sheet: &Sheet) -> Vec<&str> {
    let texts = sheet.items.iter().filter_map(|item| match item {
        Item::Text(text) => Some(text.content.as_str()),
        Item::Shape { .. } => None,
    });
    texts.collect()
}

fn struts(units: &str) -> Made {
    let rest = "[container]\ntype = \"20ft\"\nwall = \"left\"\n\n[layout]\nevery = 3\n";
    let text = spec("strut-bracket", rest);
    make_spec(&text.replace("title =", &format!("units = \"{units}\"\ntitle =")))
}

fn tray() -> Made {
    make_spec(&spec("sample-tray", ""))
}

#[test]
fn layouts_stand_free_and_whole() {
    for units in ["mm", "in"] {
        for sheet in sheets(&struts(units)) {
            assert_eq!(collisions(&sheet), Vec::<String>::new(), "{units} {}", sheet.title);
            let cut = words(&sheet).into_iter().find(|text| text.ends_with('…'));
            assert_eq!(cut, None, "{units} {}", sheet.title);
        }
    }
}

#[test]
fn what_hides_behind_others_is_dashed() {
    let cover = sheets(&tray()).remove(0);
    let dashed = cover
        .items
        .iter()
        .filter(|item| matches!(item, Item::Shape { pen: Some(Pen::Hidden), .. }));
    // One of the two handles is behind the tray.
    assert_eq!(dashed.count(), 1);
    let words = words(&cover).join(" ");
    assert!(words.contains("dashed: hidden"), "{words}");
    assert!(!words.contains("container"), "{words}");
}

/// What a rule laid along a leg finds: from the leg's mould line to the outermost of its own face
/// and of the sheets bent from it.
fn measured(part: &Part, folded: &FoldedPart, bend: &Bend) -> f64 {
    let leg = &folded.faces[bend.child];
    let from = leg.lifted(Point::new(0.0, 0.0), 0.0);
    let along = leg.lifted(Point::new(1.0, 0.0), 0.0) - from;
    let next = part.bends.iter().filter(|next| next.parent == bend.child).map(|next| next.child);
    let reach = next.chain([bend.child]).flat_map(|face| {
        let corners = part.faces[face].outline.vertices.iter();
        corners.flat_map(move |v| [0.0, part.thickness].map(|z| folded.faces[face].lifted(v.at, z)))
    });
    reach.map(|p| (p - from).dot(along)).fold(0.0, f64::max)
}

#[test]
fn legs_are_as_long_as_a_rule_finds_them() {
    let door = Door::of(&site_cut::spec("40ft-high-cube", "left", [2440.0, 5000.0], "")).made;
    let kits = [door, struts("mm"), tray()];
    let parts = kits.iter().flat_map(|made| made.kit.parts.iter().zip(&made.folded));
    let bends = parts.flat_map(|made| made.0.bends.iter().map(move |bend| (made, bend)));
    // Past a square bend the outermost sheet stands upright on the rule.
    let square: Vec<_> = bends
        .filter(|((part, _), bend)| {
            let mut next = part.bends.iter().filter(|next| next.parent == bend.child);
            next.all(|next| next.angle == 90.0)
        })
        .collect();
    for ((part, folded), bend) in &square {
        let (told, found) = (part.leg(bend), measured(part, folded, bend));
        assert!((told - found).abs() < 1e-6, "{} {}: {told} {found}", part.name, bend.name);
    }
    assert!(square.len() > 40, "{}", square.len());
}
