//! Layouts set down as sheets, numbered through.

use super::cuts::cuts;
use super::extras::extras;
use super::figures::figures;
use super::rings::Rings;
use super::{CutSheet, Extras, Group, Laid, Lying, Missing, Request, Why};
use crate::cutpath::Pace;
use crate::geom::{BedFrame, Bounds, Point};
use crate::nest::{Layout, Nest, Rect};

/// Sheets from what was found for each group, in the order of the groups.
pub fn set_down(request: &Request, groups: Vec<(Group, Nest)>) -> Laid {
    let lift = request.shelf.shop.sheet_work.lift;
    let rack_faults = request.shelf.shop.rack_faults;
    let mut laid = Laid { lift, rack_faults, ..Laid::default() };
    for (index, (group, nest)) in groups.into_iter().enumerate() {
        for layout in &nest.layouts {
            let number = laid.sheets.len() + 1;
            laid.sheets.push(sheet(request, (&group, index), layout, number));
        }
        laid.missing.extend(nest.left.iter().map(|left| Missing {
            wanted: group.members[left.item],
            quantity: left.quantity,
            why: if left.too_large { Why::TooLarge } else { Why::RunOut },
        }));
        laid.groups.push((group, nest.bounds));
    }
    laid
}

/// Adds what the shop wants drawn besides, where it wants anything.
pub fn with_extras(request: &Request, laid: &mut Laid) {
    let work = &request.shelf.shop.sheet_work;
    if work.lead_in.is_none() && work.tab.is_none() && work.skeleton.is_none() {
        return;
    }
    for sheet in &mut laid.sheets {
        sheet.extras = extras(request, sheet);
    }
}

fn sheet(
    request: &Request,
    (group, index): (&Group, usize),
    layout: &Layout,
    number: usize,
) -> CutSheet {
    let lying: Vec<Lying> = layout
        .placed
        .iter()
        .map(|placed| Lying {
            wanted: group.members[placed.item],
            at: point(placed.at),
            turn: placed.turn,
            mirrored: placed.mirrored,
        })
        .collect();
    let work = &request.shelf.shop.sheet_work;
    let pace =
        Pace { rapid: work.rapid, heat_distance: work.heat_distance, heat_pause: work.heat_pause };
    let board = &group.boards[layout.stock];
    let rings = work
        .lead_in
        .as_ref()
        .map(|lead| (Rings::of(&request.wanted, &lying, board.size), lead.size));
    let leads = rings.as_ref().map(|(rings, length)| (rings, *length));
    let (cuts, tour) = cuts(&request.wanted, (&lying, leads), &pace, request.effort);
    let figures = figures(request, group, &lying, &tour);
    CutSheet {
        number,
        group: index,
        board: board.clone(),
        copies: layout.copies,
        lying,
        remnant: layout.remnant.map(|rect| bounds(&rect)),
        cuts,
        figures,
        extras: Extras::default(),
    }
}

fn point(at: [i64; 2]) -> Point<BedFrame> {
    Point::new(at[0] as f64 / 100.0, at[1] as f64 / 100.0)
}

fn bounds(rect: &Rect) -> Bounds<BedFrame> {
    Bounds { low: point(rect.low), high: point(rect.high) }
}
