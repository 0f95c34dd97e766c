//! Where the reliefs of two bends meet at a corner of a face, they are cut as one.
//!
//! Seen from the corner, bend A ends `room_a` before it on one edge and bend B begins `room_b`
//! behind it on the next; each relief reaches its depth past its own zone. Cut each by itself, the
//! one would run back into the other.

use super::outline::{BendSeat, Feature, Mould, THIN_RIB};
use crate::geom::{FaceFrame, Point, tolerance};

/// How the outline leaves a bend's seat at one end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum SeatEnd {
    /// The bend runs out: nothing is cut.
    Out,
    /// A relief of its own, with the edge going on behind it.
    Relief,
    /// A relief cut through to the corner.
    Cut,
    /// A relief whose far wall ends at the other bend's relief.
    Shared,
}

/// One end of a bend near a corner.
struct Near<'a> {
    seat: &'a BendSeat,
    /// From the corner to the bend's end.
    room: f64,
}

impl Near<'_> {
    /// From the corner to the relief's far wall; under the thinnest rib the rest is cut away.
    fn wall(&self) -> f64 {
        self.room - self.seat.relief.width
    }

    fn is_cut(&self) -> bool {
        self.wall() < THIN_RIB
    }

    fn depth(&self) -> f64 {
        self.seat.setback + self.seat.relief.depth
    }

    fn end(&self) -> SeatEnd {
        if self.is_cut() { SeatEnd::Cut } else { SeatEnd::Relief }
    }
}

/// A corner whose two reliefs are one.
pub(super) struct Shared {
    /// Where the walls of the two reliefs meet.
    pub(super) at: Point<FaceFrame>,
    ends: [SeatEnd; 2],
}

impl Mould {
    /// The end of a bend that does not run out, nearest to the end (or start) of edge `i`.
    fn near(&self, i: usize, at_end: bool) -> Option<Near<'_>> {
        let length = self.edge_length(i);
        let bends = self.features.iter().filter_map(|(edge, feature)| match feature {
            Feature::Bend(seat) if *edge == i => Some(seat),
            _ => None,
        });
        let which = usize::from(at_end != self.reversed[i]);
        let near = bends.map(|seat| {
            let end = self.flip(i, seat.span[which]);
            Near { seat, room: if at_end { length - end } else { end } }
        });
        let nearest = near.min_by(|a, b| a.room.total_cmp(&b.room))?;
        (!nearest.seat.flush[which]).then_some(nearest)
    }

    /// What the reliefs beside the corner between two edges have in common, if anything.
    pub(super) fn shared(&self, before: usize, i: usize) -> Option<Shared> {
        let (a, b) = (self.near(before, true)?, self.near(i, false)?);
        // Each wall must turn away from the other bend's line, or the sheet would tear there.
        let clear = |one: &Near, other: &Near| other.seat.setback + tolerance::SAG < one.room;
        let meets = |own: &Near, cut: &Near| {
            own.wall() - cut.depth() < THIN_RIB
                && cut.seat.setback < own.wall()
                && cut.room < own.depth()
        };
        // What lies between a relief and the other bend's zone is no rib unless it is wide enough.
        let cut = |one: &Near, other: &Near| one.wall() - other.seat.setback < THIN_RIB;
        // Of two reliefs that leave a corner of sheet, the corner must still hang on something.
        let own_ribs = |a: &Near, b: &Near| {
            THIN_RIB <= a.wall() - b.depth() || THIN_RIB <= b.wall() - a.depth()
        };
        let (ends, at) = match (cut(&a, &b), cut(&b, &a)) {
            (false, false) if own_ribs(&a, &b) => return None,
            (true, true) | (false, false) if clear(&a, &b) && clear(&b, &a) => {
                ([SeatEnd::Out; 2], [a.room, b.room])
            }
            (false, true) if meets(&a, &b) => ([SeatEnd::Shared, SeatEnd::Out], [a.wall(), b.room]),
            (true, false) if meets(&b, &a) => ([SeatEnd::Out, SeatEnd::Shared], [a.room, b.wall()]),
            _ => return None,
        };
        let at = self.square(before, self.edge_length(before) - at[0], i, at[1])?;
        Some(Shared { at, ends })
    }

    /// How the outline leaves a seat of edge `i` at its start and end, in the sense of the outline.
    pub(super) fn seat_ends(&self, i: usize, seat: &BendSeat) -> [SeatEnd; 2] {
        let n = self.corners.len();
        [false, true].map(|at_end| {
            if seat.flush[usize::from(at_end != self.reversed[i])] {
                return SeatEnd::Out;
            }
            let Some(near) = self.near(i, at_end).filter(|near| near.seat.bend == seat.bend) else {
                return SeatEnd::Relief;
            };
            let shared = match at_end {
                true => self.shared(i, (i + 1) % n).map(|shared| shared.ends[0]),
                false => self.shared((i + n - 1) % n, i).map(|shared| shared.ends[1]),
            };
            shared.unwrap_or(near.end())
        })
    }
}
