//! What to bring: drills by size, what sets each fastener, and what cutting and foam take.

use super::basis::STOP_HOLE;
use super::supplies::supplies;
use super::{Amount, Carried, Cut, Foaming, Setting, Tool};
use crate::kit::{Fastener, Kit};
use crate::shelf::{FastenerKind, Shelf};

/// The tools in order: those for the cut, drills, those that set fasteners, the rest.
pub(super) fn tools(
    kit: &Kit,
    shelf: &Shelf,
    (cut, settings, foam): (Option<&Cut>, &[Setting], Option<&Foaming>),
    length: &dyn Fn(f64) -> String,
) -> Vec<Tool> {
    let tool = |what: &str, why: &str| plain(what.to_owned(), why);
    let mut tools = vec![
        tool("Tape, straightedge, square, level, chalk", "marking out; check every size twice"),
        tool("Clamps", "holding parts until they are fastened"),
    ];
    tools.extend(cut.map_or_else(Vec::new, |cut| cutting(cut, length)));
    tools.extend(drills(settings));
    tools.extend(setting_tools(kit, shelf, settings));
    tools.push(tool("Eyes, ears, gloves, mask", "everyone on site; a second person in call"));
    tools.extend(supplies(kit, (cut, settings, foam)));
    tools
}

/// A tool of which one does, or one for each fitter.
fn plain(what: String, why: &str) -> Tool {
    Tool { what, drill: None, amount: None, why: why.to_owned() }
}

fn cutting(cut: &Cut, length: &dyn Fn(f64) -> String) -> Vec<Tool> {
    let tool = plain;
    let reach = format!("Saw or disc cutter, {} deep", length(cut.lines.reach));
    let mut tools = vec![tool(reach, "cutting the wall; discs for steel, guard on")];
    if cut.panel.carried == Carried::Lift {
        tools.push(tool("Lift, slings, two eye bolts".to_owned(), "carrying the panel"));
    } else {
        tools.push(tool("Props".to_owned(), "holding the panel"));
    }
    tools.push(tool("Extinguisher, fire blanket".to_owned(), "hot work; a watch on both sides"));
    let stop = "4 stop holes, one in each corner of the cut; common practice".to_owned();
    let drill = Some(STOP_HOLE);
    tools.push(Tool { what: "Drill".to_owned(), drill, amount: None, why: stop });
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
        amount: None,
        why: format!("{count} holes into the {}", places.join(" and the ")),
    };
    sizes.into_iter().map(tool).collect()
}

/// What sets each kind of fastener, with how many, and what is set before it.
fn setting_tools(kit: &Kit, shelf: &Shelf, settings: &[Setting]) -> Vec<Tool> {
    let used = kit.fasteners.iter().filter(|it| settings.iter().any(|s| s.fastener == it.id));
    used.flat_map(|fastener| of_fastener(shelf, settings, fastener)).collect()
}

/// How a fastener's title names a nut that is riveted into the sheet before it.
const RIVET_NUT: &str = "rivet nut ";

fn of_fastener(shelf: &Shelf, settings: &[Setting], fastener: &Fastener) -> Vec<Tool> {
    let Some(known) = shelf.fastener(&fastener.id) else { return Vec::new() };
    let mut words = fastener.title.split(", ");
    let name = words.next().unwrap_or(&fastener.title).to_owned();
    let head = words.next().filter(|word| word.contains("head") || word.contains("sunk"));
    let head = head.map_or_else(String::new, |head| format!(" ({head})"));
    let nut = fastener.title.split(RIVET_NUT).nth(1);
    let nut = nut.map(|rest| rest.split(',').next().unwrap_or(rest));
    let what = match (known.kind, nut) {
        (FastenerKind::BlindRivet, _) => "Rivet tool, its nose to suit".to_owned(),
        (FastenerKind::Bolt, Some(_)) => "Spanner".to_owned(),
        (FastenerKind::Bolt, None) => "Two spanners".to_owned(),
        _ => format!("Driver and bit{head}"),
    };
    let count = settings.iter().filter(|s| s.fastener == fastener.id).map(|s| s.count);
    let count = count.sum::<usize>();
    let mut tools = Vec::new();
    if let Some(size) = nut {
        let why = "set before their bolts; packed with them, spares besides";
        let amount = Some(Amount { value: count as f64, unit: "pieces" });
        let what = format!("Rivet nut setter, rivet nuts {size}");
        tools.push(Tool { amount, ..plain(what, why) });
    }
    tools.push(plain(what, &format!("{count} × {name}")));
    tools
}
