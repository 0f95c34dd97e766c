//! The order of work as cards: number, picture, how, parts, and what can hurt someone.

use super::super::balloon::balloons;
use super::super::block::TEXT;
use super::super::canvas::{At, Canvas, Room, level, strong, text_room};
use super::super::folded_view::{CAPTION, caption, picture};
use super::super::leaf::Leaf;
use super::super::setting::{fitted, wrapped};
use super::super::view::{Stage, stage};
use super::super::{Align, Fill, Pen};
use super::fill::{List, fill};
use super::{Corner, GAP, Opening, Scene, task};
use crate::geom::{Path, Point};
use crate::kit::Step;
use crate::site::Task;

/// Cards beside and above each other on a page.
const GRID: [usize; 2] = [4, 2];
/// Paper between two cards, mm.
const BETWEEN: f64 = 7.0;
/// Height of a card's head, mm.
const HEAD: f64 = 9.0;
/// Distance between base lines, mm.
const LEADING: f64 = 4.0;
/// Width taken by the sign before a caution, mm.
const SIGN: f64 = 6.0;
/// How much wider bold letters are, at most.
const BOLD: f64 = 1.16;
/// Paper beside and over a picture for its balloons, mm.
const AROUND: [f64; 2] = [9.0, 2.5];
/// Least width of a room for lists beside cards, mm.
const LEAST: f64 = 90.0;
/// How the pictures are to be read.
const WORDS: &str = "tinted: what the step is about; thin lines: what stands already";

/// The pages of the order of work; `opening` where a wall is cut.
pub(super) fn pages(scene: &Scene, opening: Option<&Opening>) -> Vec<Cards> {
    let cards: Vec<Card> = (0..scene.site.steps.len()).map(|i| Card::new(scene, i)).collect();
    let [across, up] = GRID;
    let mut pages = Vec::new();
    for chunk in cards.chunks(across * up) {
        let rooms = super::rooms(scene, Corner::Left);
        let mut page = super::page(scene, None, &rooms);
        let low = rooms.left.low.y.max(rooms.column.low.y);
        let inner = rooms.inner;
        caption(&mut page.canvas, &inner, "Order of work", WORDS);
        let upper = inner.high.y - CAPTION + 2.0;
        let high = (upper - low - GAP * up as f64) / up as f64;
        for (row, cards) in chunk.chunks(across).enumerate() {
            let top = upper - (high + GAP) * row as f64;
            let band = Room {
                low: Point::new(inner.low.x, top - high),
                high: Point::new(inner.high.x, top),
            };
            draw_row(&mut page.canvas, (scene, opening), cards, &band);
        }
        let band =
            Room { low: Point::new(inner.low.x, low), high: Point::new(inner.high.x, upper) };
        let free = free(scene, &rooms, &band, chunk.len());
        pages.push(Cards { leaf: page, free });
    }
    pages
}

/// What so many cards leave of a page: whole rows, or the end of the last row where it is wide.
fn free(scene: &Scene, rooms: &super::Rooms, band: &Room, count: usize) -> Option<[Room; 2]> {
    let [across, up] = GRID;
    let high = (band.height() - GAP * up as f64) / up as f64;
    let (rows, last) = (count.div_ceil(across), (count - 1) % across + 1);
    if rows < up {
        return Some(rooms.under(band.high.y - (high + GAP) * rows as f64 - GAP));
    }
    let step = width(scene) + BETWEEN;
    let left = band.low.x + step * last as f64;
    let half = (band.high.x - left - BETWEEN) / 2.0;
    let top = band.high.y - (high + GAP) * (up - 1) as f64;
    let room = |x: f64| Room { low: Point::new(x, top - high), high: Point::new(x + half, top) };
    (LEAST <= half).then(|| [room(left), room(left + half + BETWEEN)])
}

/// A page of cards.
pub(super) struct Cards {
    /// The page.
    pub(super) leaf: Leaf,
    /// The rooms under the cards where a row is free.
    free: Option<[Room; 2]>,
}

impl Cards {
    /// Sets the lists under the cards if all of them find room there.
    pub(super) fn takes(&mut self, lists: &[List]) -> bool {
        let Some(rooms) = self.free else { return false };
        let mut trial = self.leaf.canvas.clone();
        let fits = fill(&mut trial, lists.to_vec(), &rooms).is_empty();
        if fits {
            self.leaf.canvas = trial;
        }
        fits
    }
}

/// One step, its texts in lines.
struct Card<'a> {
    index: usize,
    step: &'a Step,
    /// How, then the parts.
    text: Vec<String>,
    cautions: Vec<String>,
}

impl<'a> Card<'a> {
    fn new(scene: &Scene<'a>, index: usize) -> Self {
        let step = &scene.site.steps[index];
        let width = width(scene);
        let mut text = wrapped(&step.text, TEXT, width);
        text.extend(wrapped(&parts(scene, step), TEXT, width));
        text.extend(wrapped(&joints(scene, index), TEXT, width));
        let cautions = wrapped(&step.cautions.join(" "), TEXT, (width - SIGN) / BOLD);
        Self { index, step, text, cautions }
    }

    fn text_height(&self) -> f64 {
        let gap = if self.cautions.is_empty() { 0.0 } else { 1.5 };
        LEADING * (self.text.len() + self.cautions.len()) as f64 + gap
    }
}

/// Width of a card.
fn width(scene: &Scene) -> f64 {
    let inner = super::rooms(scene, Corner::Left).inner;
    (inner.width() - BETWEEN * (GRID[0] - 1) as f64) / GRID[0] as f64
}

/// The parts of a step: `01L, 01R: side frame`.
fn parts(scene: &Scene, step: &Step) -> String {
    let kit = scene.kit;
    let mut named: Vec<(String, Vec<&str>)> = Vec::new();
    for part in kit.parts.iter().filter(|part| step.parts.contains(&part.number)) {
        let title = part.title.split(", ").next().unwrap_or(&part.title).to_owned();
        match named.iter_mut().find(|(known, _)| *known == title) {
            Some((_, numbers)) => numbers.push(kit.short(&part.number)),
            None => named.push((title, vec![kit.short(&part.number)])),
        }
    }
    let told = named.iter().map(|(title, numbers)| format!("{} {title}", numbers.join(", ")));
    let told: Vec<String> = told.collect();
    if told.is_empty() { String::new() } else { format!("Parts: {}.", told.join("; ")) }
}

/// The joints of a step by the numbers that drawings and schedule have: `Joints: j1, j2.`
fn joints(scene: &Scene, index: usize) -> String {
    let joints = &scene.site.step_joints[index];
    match joints.len() {
        0 => String::new(),
        1 => format!("Joint {}.", joints[0]),
        _ => format!("Joints {}.", joints.join(", ")),
    }
}

fn draw_row(
    canvas: &mut Canvas,
    (scene, opening): (&Scene, Option<&Opening>),
    cards: &[Card],
    band: &Room,
) {
    let wide = width(scene);
    let text = cards.iter().map(Card::text_height).fold(0.0, f64::max);
    for (i, card) in cards.iter().enumerate() {
        let left = band.low.x + (wide + BETWEEN) * i as f64;
        let under = band.low.y + text;
        let room =
            Room { low: Point::new(left, under), high: Point::new(left + wide, band.high.y) };
        let within = Room { low: room.low, high: room.high - Point::new(0.0, HEAD) };
        let words = shown(canvas, (scene, opening), card, &within);
        head(canvas, card, &words, &room);
        texts(canvas, card, Point::new(left, under - 1.0));
    }
}

/// Number and title over the picture, under a line.
fn head(canvas: &mut Canvas, card: &Card, words: &str, room: &Room) {
    let top = room.high;
    canvas.line(Point::new(room.low.x, top.y), top, Pen::Narrow);
    let number = (card.index + 1).to_string();
    let number = strong(Point::new(room.low.x, top.y - 6.5), 5.0, Align::Left, number);
    let start = text_room(&number).high.x + 3.0;
    canvas.text(number);
    let (title, height) = fitted(&card.step.title, 3.5, true, top.x - start);
    let title = strong(Point::new(start, top.y - 6.5), height, Align::Left, title);
    let after = text_room(&title).high.x + 3.0;
    canvas.text(title);
    let (words, height) = fitted(words, TEXT, false, (top.x - after).max(1.0));
    canvas.text(level(Point::new(top.x, top.y - 6.5), height, Align::Right, words));
}

/// Draws the picture; gives how it is to be read.
fn shown(
    canvas: &mut Canvas,
    (scene, opening): (&Scene, Option<&Opening>),
    card: &Card,
    room: &Room,
) -> String {
    let doing = scene.site.task(card.index);
    let staged = match (doing, opening) {
        (Task::Fit, _) | (_, None) => Some(fitting(scene, card)),
        (doing, Some(opening)) => task::stage(doing, opening),
    };
    let Some(staged) = staged else {
        if let Some(opening) = opening {
            task::elevation(canvas, doing, opening, room);
        }
        return "from outside".to_owned();
    };
    let seen = stage(scene.kit, scene.folded, &staged);
    let around = Point::new(AROUND[0], AROUND[1]);
    let inside = Room { low: room.low + around, high: room.high - around };
    if let Some(plot) = picture(canvas, &seen.picture, &inside) {
        balloons(canvas, &seen.picture, &plot, room);
    }
    let side = if seen.inside { "from inside" } else { "from outside" };
    let side = if opening.is_none() && scene.kit.container.wall.is_none() { "" } else { side };
    match (seen.one, side) {
        (true, "") => "one of several".to_owned(),
        (true, side) => format!("one of several, {side}"),
        (false, side) => side.to_owned(),
    }
}

/// The parts of this step, and those of the steps before.
fn fitting(scene: &Scene, card: &Card) -> Stage {
    let steps = &scene.site.steps;
    let of = |mine: &dyn Fn(&String) -> bool| {
        let parts = scene.kit.parts.iter().enumerate();
        parts.filter(|(_, part)| mine(&part.number)).map(|(i, _)| i).collect::<Vec<_>>()
    };
    let step = card.step;
    let now = of(&|number| step.parts.contains(number) || step.on.contains(number));
    let known = |number: &String| steps[..card.index].iter().any(|it| it.parts.contains(number));
    let before = of(&known).into_iter().filter(|part| !now.contains(part)).collect();
    let (bodies, apart) = (step.shows.clone(), step.apart);
    Stage { now, before, bodies, apart, ..Stage::default() }
}

fn texts(canvas: &mut Canvas, card: &Card, at: At) {
    let mut y = at.y - TEXT;
    for line in &card.text {
        canvas.text(level(Point::new(at.x, y), TEXT, Align::Left, line.clone()));
        y -= LEADING;
    }
    if card.cautions.is_empty() {
        return;
    }
    y -= 1.5;
    sign(canvas, Point::new(at.x, y - 0.5));
    for line in &card.cautions {
        canvas.text(strong(Point::new(at.x + SIGN, y), TEXT, Align::Left, line.clone()));
        y -= LEADING;
    }
}

/// A triangle with an exclamation mark, its lower left corner at a point.
fn sign(canvas: &mut Canvas, at: At) {
    let corner = |x: f64, y: f64| at + Point::new(x, y);
    let triangle = [corner(0.0, 0.0), corner(4.4, 0.0), corner(2.2, 3.8)];
    canvas.closed(vec![Path::polygon(&triangle)], Some(Pen::Narrow), Fill::Empty);
    let bar = [corner(2.0, 1.3), corner(2.4, 1.3), corner(2.5, 2.7), corner(1.9, 2.7)];
    canvas.tint(vec![Path::polygon(&bar)], Fill::Ink);
    canvas.dot(corner(2.2, 0.7), 0.28);
}
