//! The quote: what the customer buys, in one or two pages without anything for the shop floor.

mod contents;
mod page;

use self::page::Page;
use self::page::shown_money;
use super::block::{Block, flow, overflow};
use super::canvas::{Canvas, Room, level, rectangle, strong};
use super::figure::Figures;
use super::folded_view::{caption, picture, under_caption};
use super::setting::fitted;
use super::site::opening_strip;
use super::view::isometric_kit;
use super::{Align, Fill, Pen, Sheet};
use crate::flat::Blank;
use crate::fold::FoldedPart;
use crate::geom::Point;
use crate::kit::Kit;
use crate::quote::Quote;
use crate::site::Site;

/// Height of the wall with its opening, caption included, mm.
const WALL: f64 = 68.0;
/// Height of the box with the price, mm.
const PRICE: f64 = 24.0;
/// Width of the column with the key sizes, mm.
const KEY: f64 = 66.0;
/// Distance between the lines of the address, mm.
const LINE: f64 = 5.6;
/// Room between two things, mm.
const GAP: f64 = 6.0;
/// No quote needs more pages; a guard against a row that can never be set.
const MOST_PAGES: usize = 8;

/// A kit with its quote. `folded` and `blanks` stand in the order of the kit's parts.
#[derive(Debug, Clone, Copy)]
pub struct Offer<'a> {
    /// The kit.
    pub kit: &'a Kit,
    /// Its parts folded.
    pub folded: &'a [FoldedPart],
    /// Its parts developed.
    pub blanks: &'a [Blank],
    /// The work on site; none where there is no container.
    pub site: Option<&'a Site>,
    /// What it costs.
    pub quote: &'a Quote,
}

/// The pages of the quote, numbered among themselves.
pub fn quote_pages(offer: &Offer) -> Vec<Sheet> {
    let (first, mut rest) = first(offer);
    let mut pages = vec![first];
    while !rest.is_empty() && pages.len() < MOST_PAGES {
        let mut page = Page::new(offer);
        let room = page.room;
        rest = flow(&mut page.canvas, rest, &[room]);
        pages.push(page);
    }
    let total = pages.len();
    let numbered = pages.into_iter().enumerate();
    numbered.map(|(i, page)| page.finish(offer, (i + 1, total))).collect()
}

/// Whom it is for, the opening, the kit, the price; beside the kit what finds room there of the
/// rest, the cautions before all. What found none comes back in order.
fn first(offer: &Offer) -> (Page, Vec<Block>) {
    let mut page = Page::new(offer);
    let mut top = address(&mut page.canvas, offer, &page.room);
    top = headline(&mut page.canvas, offer, &page.room, top) - GAP;
    let room = page.room;
    let band = |low: f64, high: f64| Room {
        low: Point::new(room.low.x, low),
        high: Point::new(room.high.x, high),
    };
    let canvas = &mut page.canvas;
    price(canvas, offer, &band(room.low.y, room.low.y + PRICE));
    if let Some(site) = offer.site.filter(|site| site.cut.is_some()) {
        let strip = band(top - WALL, top);
        caption(canvas, &strip, "The opening", "cut in the wall, seen from outside");
        opening_strip(canvas, (offer.kit, offer.folded, site), &under_caption(&strip));
        top -= WALL + GAP;
    }
    let below = band(room.low.y + PRICE + GAP, top);
    let split = below.high.x - KEY;
    let left = Room { low: below.low, high: Point::new(split - GAP, below.high.y) };
    let right = Room { low: Point::new(split, below.low.y), high: below.high };
    caption(canvas, &left, "The kit", "assembled");
    let inside = super::canvas::grown(&under_caption(&left), -2.0);
    picture(canvas, &isometric_kit(offer.kit, offer.folded), &inside);
    let mut beside = vec![contents::key(offer)];
    let mut rest = Vec::new();
    let cautions = contents::cautions(offer);
    let mut fits = |block: &Block| {
        beside.push(block.clone());
        let fits =
            matches!(block, Block::Prose(..)) && overflow(beside.clone(), &[right]).is_empty();
        beside.truncate(beside.len() - usize::from(!fits));
        fits
    };
    let told = cautions.as_ref().is_some_and(&mut fits);
    rest.extend(contents::blocks(offer).into_iter().filter(|block| !fits(block)));
    rest.extend(cautions.filter(|_| !told));
    flow(canvas, beside, &[right]);
    (page, rest)
}

/// The customer at the left, dates at the right; gives the height below.
fn address(canvas: &mut Canvas, offer: &Offer, room: &Room) -> f64 {
    let (quote, kit) = (offer.quote, offer.kit);
    let mut lines: Vec<&str> = quote.customer.iter().map(String::as_str).collect();
    if lines.is_empty() && !kit.site.is_empty() {
        lines.push(&kit.site);
    }
    let facts = [
        ("Quote", format!("{}, revision {}", kit.number, kit.revision)),
        ("Date", kit.date.clone()),
        ("Holds until", quote.valid_until.clone()),
        ("Drawn by", kit.drawn_by.clone()),
    ];
    let told = facts.into_iter().filter(|(_, text)| !text.is_empty());
    let at = |x: f64, i: usize| Point::new(x, room.high.y - 4.0 - LINE * i as f64);
    canvas.text(level(at(room.low.x, 0), 1.8, Align::Left, "For"));
    for (i, line) in lines.iter().enumerate() {
        let (text, height) = fitted(line, 3.5, false, room.width() * 0.5);
        canvas.text(level(at(room.low.x, i + 1), height, Align::Left, text));
    }
    let column = room.high.x - KEY;
    let mut rows = 0;
    for (i, (name, text)) in told.enumerate() {
        canvas.text(level(at(column, i + 1), 1.8, Align::Left, name));
        let (text, height) = fitted(&text, 2.5, false, KEY - 22.0);
        canvas.text(level(at(column + 22.0, i + 1), height, Align::Left, text));
        rows = i + 1;
    }
    at(0.0, rows.max(lines.len()) + 1).y
}

/// What is offered, in large letters; gives the height below.
fn headline(canvas: &mut Canvas, offer: &Offer, room: &Room, top: f64) -> f64 {
    let kit = offer.kit;
    let (title, height) = fitted(&kit.title, 5.0, true, room.width());
    canvas.text(strong(Point::new(room.low.x, top - 8.0), height, Align::Left, title));
    let wall = offer.site.and_then(|site| site.wall);
    let place = match wall {
        Some(wall) => format!("{}, {wall} wall", kit.container.title),
        None => kit.container.title.clone(),
    };
    let words = [kit.template.1.clone(), place];
    let words: Vec<String> = words.into_iter().filter(|words| !words.is_empty()).collect();
    let (words, height) = fitted(&words.join("  ·  "), 2.5, false, room.width());
    canvas.text(level(Point::new(room.low.x, top - 13.5), height, Align::Left, words));
    top - 15.0
}

/// The one price, in a tinted box.
fn price(canvas: &mut Canvas, offer: &Offer, room: &Room) {
    let quote = offer.quote;
    canvas.closed(vec![rectangle(room)], Some(Pen::Narrow), Fill::Tint(7));
    let (left, right) = (room.low.x + 5.0, room.high.x - 5.0);
    canvas.text(strong(Point::new(left, room.high.y - 9.0), 3.5, Align::Left, "Price of one kit"));
    let text = match quote.price {
        Some(cents) => format!("{} {}", shown_money(cents), quote.currency),
        None => "on request".to_owned(),
    };
    canvas.text(strong(Point::new(right, room.high.y - 11.0), 7.0, Align::Right, text));
    let until = match quote.valid_until.as_str() {
        "" => format!("Holds {} days.", quote.valid_days),
        date => format!("Holds until {date}."),
    };
    let words = format!("As listed overleaf, packed, ex works, without tax. {until}");
    let (words, height) = fitted(&words, 2.5, false, right - left);
    canvas.text(level(Point::new(left, room.low.y + 4.5), height, Align::Left, words));
}

/// Lengths for customers: as on drawings.
fn figures(offer: &Offer) -> Figures {
    Figures { inches: offer.kit.inches }
}

/// A block under a heading where it has rows.
fn told(heading: &'static str, items: Vec<String>) -> Option<Block> {
    (!items.is_empty()).then_some(Block::Prose(heading, items))
}
