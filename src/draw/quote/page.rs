//! A page of the quote: upright paper, the maker's name over it, the mark under it.

use super::super::canvas::{Canvas, Room, level, room, strong};
use super::super::setting::fitted;
use super::super::{Align, Pen, Sheet};
use super::Offer;
use crate::geom::Point;

/// Free paper at the left and right, mm.
const SIDE: f64 = 20.0;
/// Free paper over the maker's name and under the mark, mm.
const EDGE: f64 = 12.0;
/// Height of the mark's frame, mm.
const MARK: f64 = 11.0;
/// Height of the head, mm.
const HEAD: f64 = 16.0;
/// What no page may be taken for.
const WORDS: &str = "NOT FOR FABRICATION";
/// Why not.
const WHY: &str = "For information: shop and site work from released drawings alone.";

/// A page in the making.
#[derive(Debug)]
pub(super) struct Page {
    /// The paper.
    pub(super) canvas: Canvas,
    /// What is left of it.
    pub(super) room: Room,
}

impl Page {
    /// A page with its head: ISO A4, or ANSI A (8.5 by 11 in) where people read inches.
    pub(super) fn new(offer: &Offer) -> Self {
        let [width, height] = if offer.kit.inches { [215.9, 279.4] } else { [210.0, 297.0] };
        let mut canvas = Canvas::new(width, height);
        let all = room(SIDE, EDGE, width - 2.0 * SIDE, height - 2.0 * EDGE);
        let base = all.high.y - 8.0;
        let (owner, size) = fitted(&offer.kit.owner, 5.0, true, all.width() * 0.6);
        canvas.text(strong(Point::new(all.low.x, base), size, Align::Left, owner));
        canvas.text(strong(Point::new(all.high.x, base), 5.0, Align::Right, "Quote"));
        let rule = base - 4.0;
        let ends = [all.low.x, all.high.x].map(|x| Point::new(x, rule));
        canvas.line(ends[0], ends[1], Pen::Outline);
        let low = Point::new(all.low.x, all.low.y + MARK + 6.0);
        let high = Point::new(all.high.x, all.high.y - HEAD);
        Self { canvas, room: Room { low, high } }
    }

    /// The finished page with the mark, its number and how many there are.
    pub(super) fn finish(mut self, offer: &Offer, (number, total): (usize, usize)) -> Sheet {
        let kit = offer.kit;
        let (left, right) = (self.room.low.x, self.room.high.x);
        let frame = Room { low: Point::new(left, EDGE), high: Point::new(right, EDGE + MARK) };
        self.canvas.rectangle(&frame, Pen::Outline);
        let at = |x: f64, y: f64| Point::new(x, EDGE + y);
        self.canvas.text(strong(at(left + 4.0, 3.9), 3.5, Align::Left, WORDS));
        let told = format!("{} Rev. {}   {number} / {total}", kit.number, kit.revision);
        self.canvas.text(level(at(right - 4.0, 6.2), 2.5, Align::Right, told));
        let (why, size) = fitted(WHY, 1.8, false, right - left - 78.0);
        self.canvas.text(level(at(right - 4.0, 2.4), size, Align::Right, why));
        self.canvas.finish(format!("{} quote", kit.number))
    }
}

/// Cents as people read money: `2 345.00`, thousands apart.
pub(super) fn shown_money(cents: i64) -> String {
    let digits = (cents / 100).to_string();
    let mut whole = String::new();
    for (i, digit) in digits.chars().enumerate() {
        if i > 0 && (digits.len() - i).is_multiple_of(3) {
            whole.push(' ');
        }
        whole.push(digit);
    }
    format!("{whole}.{:02}", cents % 100)
}
