//! Whether a stroke can be made with a punch and a die, and how much of them is set up.

use super::bench::{Convex, Set};
use super::collide::{Moves, Stroke, Way};
use super::runs::{Pieces, Runs};
use super::shape::{Piece, Sides, What};
use crate::geom::{BrakeFrame, Point};

/// From end to end, however long.
pub(super) const ALL: [f64; 2] = [f64::NEG_INFINITY, f64::INFINITY];

/// What stands in the way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Obstacle {
    Punch,
    Ram,
    Die,
    Bed,
    /// No set of the punch's pieces is as long as is needed.
    PunchPieces,
    /// No set of the die's pieces is as long as is needed.
    DiePieces,
    /// The punch could not be lifted out of the part.
    Held,
    /// No punch or die fits the bend's angle, radius and force.
    NoTool,
}

/// Why a stroke cannot be made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Hit {
    pub(super) obstacle: Obstacle,
    /// What of the part it meets.
    pub(super) what: Option<What>,
}

/// A stroke to be tried.
pub(super) struct Trial<'a> {
    pub(super) sides: &'a Sides,
    pub(super) stroke: &'a Stroke,
    /// Index of the side that lies towards the gauge.
    pub(super) gauge: usize,
    /// How far a bend may reach past its tools at each end, mm.
    pub(super) uncovered: f64,
}

/// A piece and which side it moves on.
type At<'a> = (Way, &'a Piece);

impl Trial<'_> {
    /// How much of a punch is set up.
    pub(super) fn punch(&self, punch: &Set) -> Result<Runs, Hit> {
        self.clear((&punch.frame, Moves::Down), Obstacle::Ram)?;
        let obstacles = [Obstacle::Punch, Obstacle::PunchPieces];
        let runs = self.runs((&punch.tool, Moves::Down), &punch.pieces, obstacles)?;
        self.lifts(punch, &runs)?;
        Ok(runs)
    }

    /// How much of a die is set up.
    pub(super) fn die(&self, die: &Set) -> Result<Runs, Hit> {
        self.clear((&die.frame, Moves::Not), Obstacle::Bed)?;
        let obstacles = [Obstacle::Die, Obstacle::DiePieces];
        self.runs((&die.tool, Moves::Not), &die.pieces, obstacles)
    }

    fn way(&self, side: usize) -> Way {
        if side == self.gauge { 1.0 } else { -1.0 }
    }

    fn pieces(&self) -> impl Iterator<Item = At<'_>> {
        let of = |side: usize| self.sides.pieces[side].iter().map(move |p| (self.way(side), p));
        of(0).chain(of(1))
    }

    fn clear(&self, tool: (&[Convex], Moves), obstacle: Obstacle) -> Result<(), Hit> {
        match self.pieces().find(|at| self.meets(*at, tool, ALL)) {
            Some((_, piece)) => Err(Hit { obstacle, what: Some(piece.what) }),
            None => Ok(()),
        }
    }

    fn meets(&self, (way, piece): At<'_>, tool: (&[Convex], Moves), window: [f64; 2]) -> bool {
        self.stroke.meets(piece, (way, window), tool)
    }

    /// The lengths of tool that can be set up: a whole one, else one cut to the bends' length, else
    /// one for each bend.
    fn runs(
        &self,
        tool: (&[Convex], Moves),
        pieces: &Pieces,
        [meets, short]: [Obstacle; 2],
    ) -> Result<Runs, Hit> {
        let hits: Vec<At> = self.pieces().filter(|at| self.meets(*at, tool, ALL)).collect();
        let span = self.sides.span();
        let Some((_, first)) = hits.first() else { return Ok(Runs::whole(span)) };
        let hit = Hit { obstacle: meets, what: Some(first.what) };
        let many = 1 < self.sides.spans.len();
        let rooms = match self.room(tool, span, &hits) {
            Ok(room) => vec![(span, room)],
            Err(_) if many => {
                let each = self.sides.spans.iter();
                let rooms = each.map(|s| Ok((*s, self.room(tool, *s, &hits)?)));
                rooms
                    .collect::<Result<Vec<_>, Option<What>>>()
                    .map_err(|what| Hit { what, ..hit })?
            }
            Err(what) => return Err(Hit { what, ..hit }),
        };
        let needed = |(span, room): &([f64; 2], [f64; 2])| (*span, self.needed(*span), *room);
        let rooms: Vec<_> = rooms.iter().map(needed).collect();
        Runs::of(&rooms, pieces).ok_or(Hit { obstacle: short, ..hit })
    }

    /// What of a bend must be covered by the tool.
    fn needed(&self, [from, to]: [f64; 2]) -> [f64; 2] {
        let off = self.uncovered.min((to - from) / 4.0);
        [from + off, to - off]
    }

    /// The stretch along the line that a tool for the bend may take; what is met when the bend's
    /// own length is not free.
    fn room(
        &self,
        tool: (&[Convex], Moves),
        span: [f64; 2],
        hits: &[At<'_>],
    ) -> Result<[f64; 2], Option<What>> {
        let needed = self.needed(span);
        // What a whole tool does not meet, a part of it does not.
        if let Some((_, piece)) = hits.iter().find(|at| self.meets(**at, tool, needed)) {
            return Err(Some(piece.what));
        }
        let clearance = self.stroke.clearance;
        let free = |window: [f64; 2]| !hits.iter().any(|at| self.meets(*at, tool, window));
        let mut left = vec![f64::NEG_INFINITY, span[0]];
        left.extend(hits.iter().map(|(_, p)| p.z[1] + clearance).filter(|z| *z < needed[0]));
        left.sort_by(|a, b| b.total_cmp(a));
        let low = left.into_iter().take_while(|z| free([*z, needed[0]])).last();
        let mut right = vec![f64::INFINITY, span[1]];
        right.extend(hits.iter().map(|(_, p)| p.z[0] - clearance).filter(|z| needed[1] < *z));
        right.sort_by(f64::total_cmp);
        let high = right.into_iter().take_while(|z| free([needed[1], *z])).last();
        Ok([low.unwrap_or(needed[0]), high.unwrap_or(needed[1])])
    }

    /// Whether punch and part come apart: in the plane across the bend, where the punch is shorter
    /// than the part. A punch that runs from end to end is clear along the whole part, so the part
    /// slides off it sideways.
    fn lifts(&self, punch: &Set, runs: &Runs) -> Result<(), Hit> {
        if runs.is_whole() {
            return Ok(());
        }
        for angle in [0.0, self.stroke.swing.last] {
            let ways = self.stroke.ways_out(angle);
            let held: Vec<What> =
                ways.iter().map_while(|way| self.held(punch, runs, (*way, angle))).collect();
            if held.len() == ways.len() {
                return Err(Hit { obstacle: Obstacle::Held, what: held.first().copied() });
            }
        }
        Ok(())
    }

    /// What holds a punch that leaves the part in a direction.
    fn held(
        &self,
        punch: &Set,
        runs: &Runs,
        (out, angle): (Point<BrakeFrame>, f64),
    ) -> Option<What> {
        let swept: Vec<Convex> = punch.tool.iter().map(|p| p.swept(out * punch.lift)).collect();
        let holds = |(way, piece): &At<'_>| {
            let spans = runs.runs.iter().map(|run| run.span);
            let one = |span| self.stroke.holds(piece, (*way, span), (&swept, angle));
            spans.into_iter().any(one)
        };
        self.pieces().find(holds).map(|(_, piece)| piece.what)
    }
}
