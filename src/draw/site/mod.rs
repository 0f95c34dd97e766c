//! The papers for the site: marking-out sheet with the whole wall, the opening with its tabs, the
//! cuts in section, the fastener schedule, and the order of work with a picture of every step.
//! Cautions stand on every page.

mod cards;
mod elevation;
mod fill;
mod lists;
mod opening;
mod section;
mod slice;
mod strip;
mod task;

pub(super) use self::strip::opening_strip;

use self::fill::{List, fill};
use super::Sheet;
use super::block::{Block, flow, height};
use super::canvas::Room;
use super::figure::Figures;
use super::leaf::{Leaf, common, leaf, place};
use super::scale::Scale;
use super::title_block::{TitleBlock, number};
use crate::fold::FoldedPart;
use crate::geom::Point;
use crate::kit::{Kit, Wall};
use crate::site::{Cut, Site};
use crate::units::mass;

/// Room between what is stacked on a page, mm.
const GAP: f64 = 4.0;
/// No site needs more pages; a guard against a row that can never be set.
const MOST_PAGES: usize = 20;
/// A kit with its work on site.
#[derive(Debug, Clone, Copy)]
struct Scene<'a> {
    kit: &'a Kit,
    folded: &'a [FoldedPart],
    site: &'a Site,
    figures: Figures,
}

/// What is drawn of an opening.
#[derive(Debug, Clone, Copy)]
struct Opening<'a> {
    scene: Scene<'a>,
    wall: &'a Wall,
    cut: &'a Cut,
}

/// Draws one page; what found no room on it comes back.
type Draw = fn(&Opening, Vec<List>) -> (Sheet, Vec<List>);

/// The papers for the site, numbered among themselves. `folded` stands in the order of the kit's
/// parts.
pub fn site_papers(kit: &Kit, folded: &[FoldedPart], site: &Site) -> Vec<Sheet> {
    let figures = Figures { inches: kit.inches };
    let scene = Scene { kit, folded, site, figures };
    let mut rest = lists::lists(&scene);
    let mut sheets = Vec::new();
    if let (Some(wall), Some(cut)) = (&kit.container.wall, &site.cut) {
        let opening = Opening { scene, wall, cut };
        let pages: [Draw; 3] = [elevation::page, opening::page, section::page];
        for draw in pages {
            let (sheet, left) = draw(&opening, rest);
            sheets.push(sheet);
            rest = left;
        }
    }
    sheets.extend(super::layout::pages(kit, folded));
    let opening = |(wall, cut)| Opening { scene, wall, cut };
    let opening = kit.container.wall.as_ref().zip(site.cut.as_ref()).map(opening);
    let mut cards = cards::pages(&scene, opening.as_ref());
    while !rest.is_empty() && sheets.len() < MOST_PAGES {
        if cards.last_mut().is_some_and(|last| last.takes(&rest)) {
            break;
        }
        let rooms = rooms(&scene, Corner::Left);
        let mut next = page(&scene, None, &rooms);
        rest = fill(&mut next.canvas, rest, &[rooms.left, rooms.column]);
        sheets.push(finish(next, &scene));
    }
    sheets.extend(cards.into_iter().map(|cards| finish(cards.leaf, &scene)));
    let total = sheets.len();
    number(sheets.iter_mut(), total);
    sheets
}

/// Where a page's cautions stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Corner {
    /// At the lower left.
    Left,
    /// Above the title block.
    Column,
}

/// The rooms of a page beside its title block and its cautions.
#[derive(Debug, Clone, Copy)]
struct Rooms {
    /// All of the drawing space inside its padding.
    inner: Room,
    /// Left of the title block.
    left: Room,
    /// Above the title block.
    column: Room,
    /// The room of the cautions.
    cautions: Room,
}

/// The rooms of a page with its cautions in a corner.
fn rooms(scene: &Scene, corner: Corner) -> Rooms {
    let place = place(scene.kit, None);
    let top = place.inner.high.y;
    let (mut left, mut column) = (place.left(top), place.column(top));
    let room = if corner == Corner::Left { &mut left } else { &mut column };
    let high = cautions(scene).map_or(-GAP, |block| height(&block, room.width()));
    let cautions = Room { low: room.low, high: Point::new(room.high.x, room.low.y + high) };
    room.low.y = cautions.high.y + GAP;
    Rooms { inner: place.inner, left, column, cautions }
}

impl Rooms {
    /// Both rooms up to a height.
    fn under(&self, top: f64) -> [Room; 2] {
        [self.left, self.column].map(|room| Room { high: Point::new(room.high.x, top), ..room })
    }
}

fn cautions(scene: &Scene) -> Option<Block> {
    let cautions = &scene.kit.cautions;
    (!cautions.is_empty()).then(|| Block::Prose("Cautions", cautions.clone()))
}

/// A new page with title block and cautions.
fn page(scene: &Scene, scale: Option<Scale>, rooms: &Rooms) -> Leaf {
    let mut leaf = leaf(scene.kit, &title(scene, scale), None);
    flow(&mut leaf.canvas, cautions(scene).into_iter().collect(), &[rooms.cautions]);
    leaf
}

fn finish(leaf: Leaf, scene: &Scene) -> Sheet {
    leaf.finish(format!("{} {}", scene.kit.number, kind(scene.site)))
}

/// What the papers are called in the title block.
fn kind(site: &Site) -> &'static str {
    if site.cut.is_some() { "Marking-out sheet" } else { "Site sheet" }
}

fn title(scene: &Scene, scale: Option<Scale>) -> TitleBlock {
    let Scene { kit, site, .. } = scene;
    let cut_out = |cut: &Cut| format!("cut-out {}", mass(cut.panel.mass_kg, kit.inches));
    TitleBlock {
        title: kit.title.clone(),
        supplement: match site.wall {
            Some(wall) => format!("{}, {wall} wall", kit.container.title),
            None => kit.container.title.clone(),
        },
        number: kit.number.clone(),
        kind: kind(site),
        scale: scale.map_or_else(|| "–".to_owned(), Scale::name),
        material: "see parts list".to_owned(),
        thickness: "see parts list".to_owned(),
        mass: site.cut.as_ref().map_or_else(String::new, cut_out),
        surface: "Cut edges primed at once",
        ..common(kit)
    }
}
