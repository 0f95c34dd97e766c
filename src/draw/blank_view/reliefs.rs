//! Notes on the reliefs at the bends' ends.

use super::super::canvas::{Canvas, Room};
use super::super::dimension::{Callout, callout};
use super::super::figure::Figures;
use super::super::scale::Plot;
use crate::flat::Blank;
use crate::geom::{BlankFrame, Point};
use crate::kit::Part;

/// One note for all reliefs of one size: `8 × relief 2 × 3`, width along the bend by depth.
pub(super) fn callouts(
    canvas: &mut Canvas,
    (part, blank, figures): (&Part, &Blank, Figures),
    plot: &Plot<BlankFrame>,
    within: &Room,
) {
    let mut sizes: Vec<(String, Vec<Point<BlankFrame>>)> = Vec::new();
    for (bend, drawn) in part.bends.iter().zip(&blank.bends) {
        for (i, relief) in bend.reliefs.iter().enumerate() {
            let (width, depth) = (figures.small(relief.width), figures.small(relief.depth));
            let text = format!("relief {width} × {depth}");
            let end = drawn.line[i.min(1)];
            match sizes.iter_mut().find(|(known, _)| *known == text) {
                Some((_, ends)) => ends.push(end),
                None => sizes.push((text, vec![end])),
            }
        }
    }
    for (text, ends) in sizes {
        let text = if ends.len() == 1 { text } else { format!("{} × {text}", ends.len()) };
        for end in ends {
            let target = plot.point(end);
            let wish = Callout { text: text.clone(), target, radius: 0.0, within: *within };
            if callout(canvas, &wish) {
                break;
            }
        }
    }
}
