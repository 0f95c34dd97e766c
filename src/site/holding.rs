//! The tabs that hold the panel, and the order of the cuts.
//!
//! The lower cut comes first, while the whole wall above still carries it: its kerf cannot close.
//! Then the sides, from below up, while the panel hangs from above. Then the upper cut. Tabs go in
//! the same order, the outermost upper ones last: until then the panel hangs from both its ends.

use super::basis::{
    GRAVITY, HANGING, STANDING, TAB_MOST, TAB_PITCH, TAB_RISE, TAB_STEP, TAB_WIDTH, WIND, YIELD,
};
use super::panel::thickness_at;
use super::{Edge, Holding, Lines, Panel, SheetRun, Tab};
use crate::kit::Wall;
use crate::units;

/// The tabs of an opening, wide enough for the panel's mass.
pub(super) fn holding(wall: &Wall, sheets: &[SheetRun], lines: &Lines, panel: &Panel) -> Holding {
    let tab = |edge, x, z| Tab { edge, x, z, thickness: thickness_at(sheets, x) };
    let [low, high] = lines.z;
    let mut tabs: Vec<Tab> =
        spread(&seats(wall, lines), 2).into_iter().map(|x| tab(Edge::Lower, x, low)).collect();
    let rises = (lines.height / TAB_RISE).ceil().max(1.0) as usize;
    for i in 0..rises {
        let z = low + lines.height * (i as f64 + 0.5) / rises as f64;
        tabs.push(tab(Edge::Left, lines.x[0], z));
        tabs.push(tab(Edge::Right, lines.x[1], z));
    }
    let upper = (lines.width / TAB_PITCH).ceil().max(2.0) as usize;
    let mut across = spread(&seats(wall, lines), upper);
    let middle = (lines.x[0] + lines.x[1]) / 2.0;
    across.sort_by(|a, b| (a - middle).abs().total_cmp(&(b - middle).abs()).then(a.total_cmp(b)));
    tabs.extend(across.into_iter().map(|x| tab(Edge::Upper, x, high)));
    strengthened(tabs, lines, panel)
}

/// X of the places that suit a tab in a level cut: outer flats wholly inside the opening, where the
/// sheet is plain and nearest to the saw; a quarter from each end where there are not two.
fn seats(wall: &Wall, lines: &Lines) -> Vec<f64> {
    let keep = wall.outer_flat / 2.0 + wall.slope / 2.0;
    let inside = |x: &&f64| lines.x[0] + keep < **x && **x < lines.x[1] - keep;
    let flats: Vec<f64> = wall.outer_flat_centres.iter().filter(inside).copied().collect();
    match flats.len() {
        0 | 1 => [0.25, 0.75].map(|share| lines.x[0] + share * lines.width).to_vec(),
        _ => flats,
    }
}

/// So many of the seats, the two ends among them, spread evenly and alike from both ends; one more
/// where an odd number cannot be alike.
fn spread(seats: &[f64], count: usize) -> Vec<f64> {
    let uneven = count % 2 == 1 && seats.len().is_multiple_of(2);
    let count = (count + usize::from(uneven)).min(seats.len());
    let (last, gaps) = (seats.len() - 1, count.max(2) - 1);
    let step = |i: usize| (2 * i * last + gaps) / (2 * gaps);
    let pick = |i: usize| if 2 * i <= gaps { step(i) } else { last - step(gaps - i) };
    (0..count).map(|i| seats[pick(i)]).collect()
}

/// The tabs at the least width that holds the panel.
fn strengthened(tabs: Vec<Tab>, lines: &Lines, panel: &Panel) -> Holding {
    let weight = panel.mass_kg * GRAVITY;
    let wind = WIND * lines.width * lines.height;
    let last: f64 = tabs.iter().rev().take(2).map(|tab| tab.thickness).sum();
    let all: f64 = tabs.iter().map(|tab| tab.thickness).sum();
    let hanging = |width: f64| width * last * YIELD / weight;
    // Yield in shear is yield over the root of 3 (von Mises).
    let standing = |width: f64| width * all * YIELD / 3.0_f64.sqrt() / units::hypot(weight, wind);
    let mut width = TAB_WIDTH;
    while width < TAB_MOST && (hanging(width) < HANGING || standing(width) < STANDING) {
        width += TAB_STEP;
    }
    Holding {
        tabs,
        width,
        hanging: [hanging(width), HANGING],
        standing: [standing(width), STANDING],
        cuts: [Edge::Lower, Edge::Left, Edge::Right, Edge::Upper],
    }
}
