//! Outlines as SVG path data, y turned down.

use super::DECIMALS;
use crate::geom::{PaperFrame, Point};
use crate::write::number::push_fixed;
use crate::write::outline::Step;

/// Writes the steps of one shape behind those already in `data`; `height` is the paper's.
pub(super) fn push(data: &mut String, steps: &[Step], height: f64) {
    let mut here = Point::new(0.0, 0.0);
    for step in steps {
        match *step {
            Step::Move(to) => {
                data.push('M');
                here = point(data, to, height);
            }
            Step::Line(to) => {
                data.push('L');
                here = point(data, to, height);
            }
            Step::Arc(to, bulge) => here = arc(data, here, to, bulge, height),
            Step::Close => data.push('z'),
        }
    }
}

fn point(data: &mut String, to: Point<PaperFrame>, height: f64) -> Point<PaperFrame> {
    push_fixed(data, to.x, DECIMALS);
    data.push(' ');
    push_fixed(data, height - to.y, DECIMALS);
    to
}

/// SVG's sweep flag is 1 for an arc to the right as seen on the page.
fn arc(
    data: &mut String,
    from: Point<PaperFrame>,
    to: Point<PaperFrame>,
    bulge: f64,
    height: f64,
) -> Point<PaperFrame> {
    let radius = from.distance(to) * (1.0 + bulge * bulge) / (4.0 * bulge.abs());
    data.push('A');
    for _ in 0..2 {
        push_fixed(data, radius, DECIMALS + 1);
        data.push(' ');
    }
    data.push_str(if bulge.abs() <= 1.0 { "0 0 " } else { "0 1 " });
    data.push_str(if bulge < 0.0 { "1 " } else { "0 " });
    point(data, to, height)
}
