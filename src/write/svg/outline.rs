//! Outlines as SVG path data, y turned down.

use super::DECIMALS;
use crate::draw::Shape;
use crate::geom::{PaperFrame, Point};
use crate::write::number::push_fixed;
use crate::write::outline::{Step, walk};

/// Writes the outline of a shape; `height` is the paper's.
pub(super) fn push(data: &mut Vec<u8>, shape: &Shape, height: f64) {
    walk(shape, |step| match step {
        Step::Move(to) => {
            data.push(b'M');
            point(data, to, height);
        }
        Step::Line(to) => {
            data.push(b'L');
            point(data, to, height);
        }
        Step::Arc(from, to, bulge) => {
            arc(data, from.distance(to), bulge);
            point(data, to, height);
        }
        Step::Close => data.push(b'z'),
    });
}

fn point(data: &mut Vec<u8>, to: Point<PaperFrame>, height: f64) {
    push_fixed(data, to.x, DECIMALS);
    data.push(b' ');
    push_fixed(data, height - to.y, DECIMALS);
}

/// What stands before an arc's end. SVG's sweep flag is 1 for an arc to the right as seen on the
/// page.
fn arc(data: &mut Vec<u8>, chord: f64, bulge: f64) {
    let radius = chord * (1.0 + bulge * bulge) / (4.0 * bulge.abs());
    data.push(b'A');
    for _ in 0..2 {
        push_fixed(data, radius, DECIMALS + 1);
        data.push(b' ');
    }
    data.extend_from_slice(if bulge.abs() <= 1.0 { b"0 0 " } else { b"0 1 " });
    data.extend_from_slice(if bulge < 0.0 { b"1 " } else { b"0 " });
}
