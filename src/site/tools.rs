//! What to bring: drills by size, what sets each fastener, and what cutting and foam take.

use super::{Carried, Cut, Foaming, Setting, Tool};
use crate::kit::Kit;
use crate::shelf::{FastenerKind, Shelf};

/// The tools in order: those for the cut, drills, those that set fasteners, the rest.
pub(super) fn tools(
    kit: &Kit,
    shelf: &Shelf,
    (cut, settings, foam): (Option<&Cut>, &[Setting], Option<&Foaming>),
    length: &dyn Fn(f64) -> String,
) -> Vec<Tool> {
    let tool =
        |what: &str, why: &str| Tool { what: what.to_owned(), drill: None, why: why.to_owned() };
    let mut tools = vec![
        tool("Tape, straightedge, square, level, chalk", "marking out; check every size twice"),
        tool("Clamps", "holding parts until they are fastened"),
    ];
    tools.extend(cut.map_or_else(Vec::new, |cut| cutting(cut, length)));
    tools.extend(drills(settings));
    tools.extend(setting_tools(kit, shelf, settings));
    tools.push(tool(
        "Sealant, primer, touch-up paint",
        "every hole through the skin, every cut edge",
    ));
    if let Some(foam) = foam {
        let why = format!("{:.0} litres with waste; supplied air, suit, gloves", foam.gross);
        tools.push(tool("Foam with its gun", &why));
    }
    tools.push(tool("Eyes, ears, gloves, mask", "everyone on site; a second person in call"));
    tools
}

fn cutting(cut: &Cut, length: &dyn Fn(f64) -> String) -> Vec<Tool> {
    let tool = |what: String, why: &str| Tool { what, drill: None, why: why.to_owned() };
    let reach = format!("Saw or disc cutter, {} deep", length(cut.lines.reach));
    let mut tools = vec![tool(reach, "cutting the wall; discs for steel, guard on")];
    if cut.panel.carried == Carried::Lift {
        tools.push(tool("Lift, slings, two eye bolts".to_owned(), "carrying the panel"));
    } else {
        tools.push(tool("Props".to_owned(), "holding the panel"));
    }
    tools.push(tool("Extinguisher, fire blanket".to_owned(), "hot work; a watch on both sides"));
    tools
}

/// One drill for each size, with what it drills.
fn drills(settings: &[Setting]) -> Vec<Tool> {
    let mut sizes: Vec<(f64, usize, Vec<&str>)> = Vec::new();
    for setting in settings {
        let Some(mm) = setting.drill else { continue };
        let into = setting.into.as_deref().unwrap_or("steel");
        let at = sizes.iter().position(|(size, ..)| *size == mm).unwrap_or_else(|| {
            sizes.push((mm, 0, Vec::new()));
            sizes.len() - 1
        });
        let (_, count, places) = &mut sizes[at];
        *count += setting.count;
        if !places.contains(&into) {
            places.push(into);
        }
    }
    sizes.sort_by(|a, b| a.0.total_cmp(&b.0));
    let tool = |(mm, count, places): (f64, usize, Vec<&str>)| Tool {
        what: "Drill".to_owned(),
        drill: Some(mm),
        why: format!("{count} holes into the {}", places.join(" and the ")),
    };
    sizes.into_iter().map(tool).collect()
}

/// What sets each kind of fastener, with how many.
fn setting_tools(kit: &Kit, shelf: &Shelf, settings: &[Setting]) -> Vec<Tool> {
    let used = kit.fasteners.iter().filter(|it| settings.iter().any(|s| s.fastener == it.id));
    let tool = |fastener: &crate::kit::Fastener| {
        let kind = shelf.fastener(&fastener.id)?.kind;
        let mut words = fastener.title.split(", ");
        let name = words.next().unwrap_or(&fastener.title).to_owned();
        let head = words.next().filter(|word| word.contains("head") || word.contains("sunk"));
        let head = head.map_or_else(String::new, |head| format!(" ({head})"));
        let what = match kind {
            FastenerKind::BlindRivet => "Rivet tool, its nose to suit".to_owned(),
            FastenerKind::Bolt => "Two spanners".to_owned(),
            _ => format!("Driver and bit{head}"),
        };
        let count = settings.iter().filter(|s| s.fastener == fastener.id).map(|s| s.count);
        let why = format!("{} × {name}", count.sum::<usize>());
        Some(Tool { what, drill: None, why })
    };
    used.filter_map(tool).collect()
}
