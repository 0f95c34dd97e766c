//! Long strips: a part longer than half the sheet crosses its middle line wherever it lies.
//!
//! On that line every such part takes up at least the length of its thinnest section that can come
//! to lie there, and one gap to the next. What all take up together, over the line's length and one
//! gap, is a number of sheets that no layout can do without. A part that may lie along either side
//! counts on one of the two middle lines of the sheet; then both lines together are the measure.

use super::core::Core;
use super::ring::{edges, posed};
use super::{Shape, Stock};

/// The middle lines that an argument looks at, by the axis they cut in half.
const LINES: [&[usize]; 3] = [&[0], &[1], &[0, 1]];

/// The least price of sheets that strips ask for. With several stocks a part counts as little as it
/// does on any of them: its share of the lines of a sheet, times the sheet's price.
pub(crate) fn strips(core: &Core, needed: &[u32], price: &dyn Fn(&Stock) -> f64) -> f64 {
    let mut least = vec![f64::INFINITY; needed.len()];
    for (stock, sheet) in core.job.stock.iter().enumerate() {
        let shares = LINES.map(|lines| shares(core, stock, lines));
        let all = |shares: &Vec<f64>| -> f64 {
            let held = std::iter::zip(shares, needed).filter(|(share, _)| share.is_finite());
            held.map(|(share, n)| share * f64::from(*n)).sum()
        };
        let best = shares.into_iter().max_by(|a, b| all(a).total_cmp(&all(b)));
        for (least, share) in std::iter::zip(&mut least, best.unwrap_or_default()) {
            *least = least.min(share * price(sheet).max(0.0));
        }
    }
    let sums = std::iter::zip(least, needed).filter(|(least, n)| 0 < **n && least.is_finite());
    sums.map(|(least, n)| least * f64::from(*n)).sum()
}

/// Which share of these middle lines every item takes up at least; endless where it does not fit.
fn shares(core: &Core, stock: usize, lines: &[usize]) -> Vec<f64> {
    let size = core.room(stock).size();
    let gap = core.job.gap as f64;
    let long: f64 = lines.iter().map(|axis| size[1 - axis] as f64 + gap).sum();
    let share = |item: usize| {
        let poses = core.poses[item].iter();
        let fitting = poses.filter(|pose| {
            let own = core.form_size(pose.form);
            own[0] <= size[0] && own[1] <= size[1]
        });
        let taken = fitting.map(|pose| -> f64 {
            let shape = posed(&core.job.items[item].shape, pose.turn, pose.mirrored);
            let own = core.form_size(pose.form);
            let crossed = lines.iter().filter(|axis| size[**axis] < 2 * own[**axis]);
            crossed.map(|axis| section(&shape, *axis, size[*axis]) + gap).sum()
        });
        taken.fold(f64::INFINITY, f64::min) / long
    };
    (0..core.poses.len()).map(share).collect()
}

/// The least length of a section across an axis that can come to lie on the middle line of a sheet
/// of this size; next to corners the lesser of the two sides counts.
fn section(shape: &Shape, axis: usize, size: i64) -> f64 {
    let low = shape.outer.iter().map(|p| p[axis]).min().unwrap_or(0);
    let high = shape.outer.iter().map(|p| p[axis]).max().unwrap_or(0);
    let half = size as f64 / 2.0;
    // One unit more on either side: there is a range even where it fits without play.
    let first = (high as f64 - half - 1.0).max(low as f64);
    let last = (low as f64 + half + 1.0).min(high as f64);
    let rings = || std::iter::once(&shape.outer).chain(&shape.holes);
    let mut stops: Vec<f64> = rings().flatten().map(|p| p[axis] as f64).collect();
    stops.extend([first, last]);
    stops.retain(|stop| first <= *stop && *stop <= last);
    stops.sort_by(f64::total_cmp);
    stops.dedup();
    let mut least = f64::INFINITY;
    for pair in stops.windows(2) {
        let middle = (pair[0] + pair[1]) / 2.0;
        let crossing: Vec<([i64; 2], [i64; 2])> = rings()
            .flat_map(|ring| edges(ring))
            .filter(|(a, b)| ((a[axis] as f64) < middle) != ((b[axis] as f64) < middle))
            .collect();
        for stop in pair {
            let mut cuts: Vec<f64> = crossing
                .iter()
                .map(|(a, b)| {
                    let along = (stop - a[axis] as f64) / (b[axis] - a[axis]) as f64;
                    a[1 - axis] as f64 + along * (b[1 - axis] - a[1 - axis]) as f64
                })
                .collect();
            cuts.sort_by(f64::total_cmp);
            let own: f64 = cuts.chunks(2).map(|cut| cut[cut.len() - 1] - cut[0]).sum();
            least = least.min(own);
        }
    }
    least
}
