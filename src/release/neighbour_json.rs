//! Other kits of the same box, for `kit.json`.

use serde::Serialize;

use super::json::Number;
use super::part_json::{Rows, rows};
use crate::kit::Neighbour;

#[derive(Serialize)]
pub(super) struct NeighbourJson<'a> {
    kit: &'a str,
    title: &'a str,
    /// From its site frame to this kit's.
    to_site: Rows,
    bolts: Vec<MeetingJson<'a>>,
}

#[derive(Serialize)]
struct MeetingJson<'a> {
    fastener: &'a str,
    count: usize,
    grip: Number,
    /// The one kit of the two that lists them among its fasteners.
    ordered_by: &'a str,
}

pub(super) fn neighbour_json(neighbour: &Neighbour) -> NeighbourJson<'_> {
    let bolts = neighbour.bolts.iter().map(|meeting| MeetingJson {
        fastener: &meeting.fastener,
        count: meeting.count,
        grip: Number(meeting.grip),
        ordered_by: &meeting.ordered_by,
    });
    NeighbourJson {
        kit: &neighbour.kit,
        title: &neighbour.title,
        to_site: rows(&neighbour.to_site),
        bolts: bolts.collect(),
    }
}
