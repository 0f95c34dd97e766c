//! The pages of a comparison: tables first, then every changed part, old and new laid upon each
//! other. Line types and tints tell them apart in black and white.

mod detail;
mod overlay;
mod tables;
mod window;

use super::Align;
use super::Sheet;
use super::block::{Block, flow};
use super::canvas::{Canvas, Room, level, strong};
use super::figure::Figures;
use super::leaf::page;
use super::setting::fitted;
use super::title_block::{TitleBlock, number};
use crate::compare::{Comparison, Overlay, PartChange};
use crate::geom::Point;

/// No comparison needs more pages of tables.
const MOST_PAGES: usize = 60;
/// Height of the room for the laid-over blanks on a page.
const UPPER: f64 = 128.0;
/// Width of a picture of its own, mm.
const WIDTH: f64 = 380.0;
/// Most of its height that the laid-over blanks take.
const TALL: f64 = 200.0;
/// Free paper around a picture of its own.
const PAD: f64 = 8.0;

/// All pages, numbered among themselves.
pub fn changes(comparison: &Comparison) -> Vec<Sheet> {
    let figures = Figures { inches: comparison.inches };
    let mut sheets = Vec::new();
    let mut rest = tables::blocks(comparison);
    while !rest.is_empty() && sheets.len() < MOST_PAGES {
        let mut leaf = page(&fields(comparison, None), None, figures);
        let room = leaf.place.above();
        rest = flow(&mut leaf.canvas, rest, &[room]);
        sheets.push(leaf.finish(format!("{} changes", comparison.heads[1].kit)));
    }
    for part in &comparison.parts {
        if let Some(overlay) = &part.overlay {
            sheets.extend(part_pages(comparison, part, overlay));
        }
    }
    let total = sheets.len();
    number(sheets.iter_mut(), total);
    sheets
}

/// One part's blanks laid upon each other, as a picture of its own.
pub fn overlay_picture(comparison: &Comparison, part: &PartChange, overlay: &Overlay) -> Sheet {
    let wide = WIDTH - 2.0 * PAD;
    let most = Room { low: Point::new(PAD, 0.0), high: Point::new(WIDTH - PAD, TALL) };
    let details = window::places(overlay, overlay::scale(overlay, &most));
    let tall = overlay::needed(overlay, &most).height();
    let below = match details.shown.len() {
        0 => 0.0,
        1..=3 => 80.0,
        _ => 120.0,
    };
    let height = tall + below + 2.0 * overlay::LEGEND + 4.0 * PAD;
    let mut canvas = Canvas::new(WIDTH, height);
    let title = part.named().map_or(String::new(), |it| format!("{}  {}", it.number, it.title));
    let [old, new] = &comparison.heads;
    let words = format!("{title}   revision {} to {}", old.revision, new.revision);
    let (text, size) = fitted(&words, 5.0, true, wide);
    canvas.text(strong(Point::new(PAD, height - PAD - 5.0), size, Align::Left, text));
    let top = height - 2.0 * PAD - overlay::LEGEND;
    let room = Room { low: Point::new(PAD, top - tall), high: Point::new(WIDTH - PAD, top) };
    let marks = overlay::draw(&mut canvas, overlay, &room, &details.shown);
    let low = Room {
        low: Point::new(PAD, PAD + overlay::LEGEND),
        high: Point::new(WIDTH - PAD, room.low.y - PAD),
    };
    detail::draw(&mut canvas, overlay, &low, (&marks, details.left_out));
    let revisions = [old.revision.as_str(), new.revision.as_str()];
    overlay::legend(&mut canvas, Point::new(PAD, PAD), revisions);
    canvas.finish(words)
}

/// The pages of one changed part: blanks above, details and words below.
fn part_pages(comparison: &Comparison, part: &PartChange, overlay: &Overlay) -> Vec<Sheet> {
    let figures = Figures { inches: comparison.inches };
    let block = fields(comparison, Some(part));
    let mut leaf = page(&block, None, figures);
    let inner = leaf.place.inner;
    let legend_at = Point::new(inner.low.x, inner.high.y - 3.5);
    let heads = &comparison.heads;
    let head = "Old and new blank laid upon each other";
    leaf.canvas.text(strong(legend_at, 3.5, Align::Left, head));
    let revisions = [heads[0].revision.as_str(), heads[1].revision.as_str()];
    overlay::legend(&mut leaf.canvas, legend_at - Point::new(0.0, 7.5), revisions);
    let most = Room {
        low: Point::new(inner.low.x, inner.high.y - UPPER),
        high: Point::new(inner.high.x, inner.high.y - 14.0),
    };
    let upper = overlay::needed(overlay, &most);
    let details = window::places(overlay, overlay::scale(overlay, &most));
    let marks = overlay::draw(&mut leaf.canvas, overlay, &upper, &details.shown);
    let left = leaf.place.left(upper.low.y - 4.0);
    let pictures = Room { low: left.low, high: left.high };
    detail::draw(&mut leaf.canvas, overlay, &pictures, (&marks, details.left_out));
    let column = leaf.place.column(upper.low.y - 4.0);
    let mut rest: Vec<Block> = flow(&mut leaf.canvas, tables::of_part(part), &[column]);
    let title = part.named().map_or(String::new(), |it| format!("{} {}", it.number, it.title));
    let mut sheets = vec![leaf.finish(title.clone())];
    while !rest.is_empty() && sheets.len() < MOST_PAGES {
        let mut next = page(&block, None, figures);
        let room = next.place.above();
        rest = flow(&mut next.canvas, rest, &[room]);
        sheets.push(next.finish(title.clone()));
    }
    sheets
}

/// The title block's fields; of one part, or of the whole comparison.
fn fields(comparison: &Comparison, part: Option<&PartChange>) -> TitleBlock {
    let [old, new] = &comparison.heads;
    let named = part.and_then(PartChange::named);
    TitleBlock {
        owner: new.owner.clone(),
        title: named.map_or_else(|| new.title.clone(), |it| it.title.clone()),
        supplement: format!("what changed from revision {} to {}", old.revision, new.revision),
        number: named.map_or_else(|| new.kit.clone(), |it| it.number.clone()),
        revision: new.revision.clone(),
        date: new.date.clone(),
        kind: "Comparison",
        tolerance: new.tolerance.clone(),
        third_angle: comparison.inches,
        ..TitleBlock::default()
    }
}

/// A caption below something.
fn caption(canvas: &mut Canvas, at: super::canvas::At, words: &str) {
    canvas.text(level(at, 2.5, Align::Left, words));
}
