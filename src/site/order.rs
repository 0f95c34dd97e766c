//! The order of work: how the wall is cut, then the kit's own steps.

use super::basis::STOP_HOLE;
use super::{Carried, Cut};
use crate::kit::{Kit, Step};

/// All steps of the work on site.
pub(super) fn steps(kit: &Kit, cut: Option<&Cut>, length: &dyn Fn(f64) -> String) -> Vec<Step> {
    let cutting = cut.map_or_else(Vec::new, |cut| cutting(cut, length));
    cutting.into_iter().chain(kit.steps.iter().cloned()).collect()
}

fn step(title: &str, text: String, cautions: &[&str]) -> Step {
    Step {
        title: title.to_owned(),
        text,
        cautions: cautions.iter().map(|&words| words.to_owned()).collect(),
        ..Step::default()
    }
}

fn cutting(cut: &Cut, length: &dyn Fn(f64) -> String) -> Vec<Step> {
    vec![measure(cut), mark(cut, length), support(cut), saw(cut, length), take_out(cut), dress()]
}

fn measure(cut: &Cut) -> Step {
    let flats = cut.lips.map_or_else(String::new, |[left, right]| {
        format!(" Find outer flats {} and {} from the left post.", left.flat[0], right.flat[0])
    });
    let text = format!(
        "Level the box on its four corners. Clear lining, wiring and stores behind the wall.{flats} \
         Look for seams, repairs and patches; measure again where the wall differs from the sheet."
    );
    step("Check the box", text, &[])
}

fn mark(cut: &Cut, length: &dyn Fn(f64) -> String) -> Step {
    let lines = &cut.lines;
    let text = format!(
        "Set off both upright lines, {} and {} from the left post's edge, along the bottom rail and \
         along the top rail; check from the right post. Set off both levels, {} and {} over the \
         finished floor. Both diagonals are {}. Mark the tabs. Before cutting, hold the frames \
         against the marks.",
        length(lines.from_left[0]),
        length(lines.from_left[1]),
        length(lines.z[0]),
        length(lines.z[1]),
        length(lines.diagonal)
    );
    step("Mark out", text, &[])
}

fn support(cut: &Cut) -> Step {
    let carried = match cut.panel.carried {
        Carried::Lift => "Hang the panel from a lift above its centre of mass, two eyes bolted \
                          through outer flats alike left and right of it, or prop it from both sides"
            .to_owned(),
        _ => "Prop the panel from both sides".to_owned(),
    };
    let text = format!(
        "Brace the wall and prop the roof as the engineer says. {carried}, so that it can neither \
         drop nor swing."
    );
    step("Brace and support", text, &["Keep clear below and before the panel."])
}

fn saw(cut: &Cut, length: &dyn Fn(f64) -> String) -> Step {
    let holding = &cut.holding;
    let text = format!(
        "Drill a stop hole of {} into each corner, inside both lines and touching them. Cut the lower line, then the sides from below up, \
         the upper line last: no kerf closes on the blade. Leave the {} tabs of {} standing. Level \
         cuts cross the corrugation, {} deep from the outer flats.",
        length(STOP_HOLE),
        holding.tabs.len(),
        length(holding.width),
        length(cut.lines.reach)
    );
    step("Cut", text, &["Hot work: fire watch inside and outside. Eyes, ears, lungs, hands."])
}

fn take_out(cut: &Cut) -> Step {
    let count = cut.holding.tabs.len();
    let strips = match cut.panel.strips {
        0 | 1 => String::new(),
        n => format!(
            " Without a lift, cut it into {n} upright strips while it stands, each with tabs of its own."
        ),
    };
    let text = format!(
        "With the support tight, cut the tabs by their numbers; {} and {count}, at the two ends of the \
         upper line, last. Lower the panel outward.{strips}",
        count - 1
    );
    step("Take the panel out", text, &["The panel falls or springs with the last tab."])
}

fn dress() -> Step {
    let text =
        "Grind the stubs of the tabs flush, round the corners' burrs, prime every cut edge. \
                Try the frame at once: the box is weak until it stands."
            .to_owned();
    step("Dress the edges", text, &["Cut edges are sharp and hot."])
}
