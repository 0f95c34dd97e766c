//! The papers for the site: marking-out sheet with the whole wall, the opening with its tabs, the
//! cuts in section, the order of work and the fastener schedule. Cautions stand on every page.

mod elevation;
mod fill;
mod lists;
mod opening;
mod section;
mod slice;

use self::fill::{List, fill};
use super::Sheet;
use super::block::{Block, flow, height};
use super::canvas::Room;
use super::figure::{Figures, mass};
use super::leaf::{Leaf, common, leaf};
use super::scale::Scale;
use super::title_block::{TitleBlock, number};
use crate::fold::FoldedPart;
use crate::geom::Point;
use crate::kit::{Kit, Wall};
use crate::site::{Cut, Site};

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
    while !rest.is_empty() && sheets.len() < MOST_PAGES {
        let mut next = page(&scene, None, Corner::Left);
        let top = next.leaf.place.inner.high.y;
        let rooms = [next.left(top), next.column(top)];
        rest = fill(&mut next.leaf.canvas, rest, &rooms);
        sheets.push(next.finish(&scene));
    }
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

/// A page with title block and cautions.
struct Page {
    leaf: Leaf,
    corner: Corner,
    /// Upper end of the cautions.
    cautioned: f64,
}

/// A new page with its cautions.
fn page(scene: &Scene, scale: Option<Scale>, corner: Corner) -> Page {
    let mut leaf = leaf(scene.kit, &title(scene, scale), None);
    let top = leaf.place.inner.high.y;
    let room = match corner {
        Corner::Left => leaf.place.left(top),
        Corner::Column => leaf.place.column(top),
    };
    let mut cautioned = room.low.y - GAP;
    if !scene.kit.cautions.is_empty() {
        let cautions = Block::Prose("Cautions", scene.kit.cautions.clone());
        cautioned = room.low.y + height(&cautions, room.width());
        let strip = Room { low: room.low, high: Point::new(room.high.x, cautioned) };
        flow(&mut leaf.canvas, vec![cautions], &[strip]);
    }
    Page { leaf, corner, cautioned }
}

impl Page {
    /// What is free left of the title block up to `top`.
    fn left(&self, top: f64) -> Room {
        self.above(self.leaf.place.left(top), Corner::Left)
    }

    /// What is free above the title block up to `top`.
    fn column(&self, top: f64) -> Room {
        self.above(self.leaf.place.column(top), Corner::Column)
    }

    fn above(&self, room: Room, corner: Corner) -> Room {
        let taken = if corner == self.corner { self.cautioned + GAP } else { room.low.y };
        Room { low: Point::new(room.low.x, taken), high: room.high }
    }

    fn finish(self, scene: &Scene) -> Sheet {
        self.leaf.finish(format!("{} {}", scene.kit.number, kind(scene.site)))
    }
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
