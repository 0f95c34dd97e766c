//! Arcs as cubic curves, which is all that PDF has.

use crate::geom::{PaperFrame, Point};
use crate::units;

/// Hands on the two control points and the end of each curve along an arc that leaves `from`,
/// `bulge` being tan(arc angle / 4), positive to the left. At most a quarter turn each: off the
/// true arc by less than 0.0003 of its radius.
pub(super) fn along(
    from: Point<PaperFrame>,
    to: Point<PaperFrame>,
    bulge: f64,
    mut take: impl FnMut([Point<PaperFrame>; 3]),
) {
    let angle = 4.0 * units::atan_deg(bulge);
    let count = (angle.abs() / 90.0 - 1e-9).ceil().max(1.0);
    let step = angle / count;
    let chord = to - from;
    let centre = from.toward(to, 0.5) + chord.left() * ((1.0 - bulge * bulge) / (4.0 * bulge));
    let reach = units::tan_deg(step / 4.0) * 4.0 / 3.0;
    let mut spoke = from - centre;
    for i in 1..=count as usize {
        let next = if i as f64 == count { to - centre } else { spoke.turned(step) };
        take([
            centre + spoke + spoke.left() * reach,
            centre + next - next.left() * reach,
            centre + next,
        ]);
        spoke = next;
    }
}
