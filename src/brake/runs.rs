//! Lengths of tool put together from the pieces it is cut into.

/// What is set up of a tool.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Runs {
    pub(super) runs: Vec<Run>,
}

/// A length without a gap.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Run {
    /// z of its ends, mm.
    pub(super) span: [f64; 2],
    /// The pieces; empty when any length serves that is at least the span's.
    pub(super) pieces: Vec<f64>,
}

/// The bend's ends, what of it must be covered, and the room there is for the tool.
pub(super) type Room = ([f64; 2], [f64; 2], [f64; 2]);

impl Runs {
    /// One length that may be longer than the bends at both ends.
    pub(super) fn whole(span: [f64; 2]) -> Self {
        Self { runs: vec![Run { span, pieces: Vec::new() }] }
    }

    /// Whether nothing limits the length.
    pub(super) fn is_whole(&self) -> bool {
        self.runs.len() == 1 && self.runs[0].pieces.is_empty()
    }

    /// A length for each room, every piece used once; none when the pieces do not serve.
    pub(super) fn of(rooms: &[Room], pieces: &Pieces) -> Option<Self> {
        if let [room] = rooms {
            return Some(Self { runs: vec![one(room, pieces)?] });
        }
        let mut left = pieces.lengths.clone();
        let mut runs = Vec::new();
        for room in rooms {
            let run = one(room, &Pieces::new(&left))?;
            run.pieces.iter().for_each(|piece| take(&mut left, *piece));
            runs.push(run);
        }
        Some(Self { runs })
    }
}

/// Takes one piece of that length out of those that are left.
fn take(left: &mut Vec<f64>, piece: f64) {
    if let Some(at) = left.iter().position(|other| *other == piece) {
        left.remove(at);
    }
}

/// The length for one room: as near to the bend's as the pieces allow.
fn one((span, needed, room): &Room, pieces: &Pieces) -> Option<Run> {
    // Where the tool may stand out at one end, the other end is kept and any longer length serves.
    let long = 2.0 * pieces.lengths.iter().sum::<f64>();
    let room = [room[0].max(span[0] - long), room[1].min(span[1] + long)];
    let [least, most] = [needed[1] - needed[0], room[1] - room[0]];
    let wish = (span[1] - span[0]).max(least).min(most);
    let pieces = pieces.nearest([least, wish, most])?;
    let length: f64 = pieces.iter().sum();
    let middle = (span[0] + span[1] - length) / 2.0;
    let from = middle.max(room[0].max(needed[1] - length)).min(needed[0].min(room[1] - length));
    Some(Run { span: [from, from + length], pieces })
}

/// The pieces of a tool with all lengths they come to.
#[derive(Debug, Clone)]
pub(super) struct Pieces {
    /// The pieces as the shop's file has them, mm.
    pub(super) lengths: Vec<f64>,
    /// For each sum in steps, the last piece on the way to it; each piece enters once.
    last: Vec<Option<usize>>,
    /// Steps in a millimetre: one where all pieces are whole ones, else ten.
    per_mm: f64,
}

impl Pieces {
    pub(super) fn new(lengths: &[f64]) -> Self {
        let whole = lengths.iter().all(|length| length.fract() == 0.0);
        let per_mm = if whole { 1.0 } else { 10.0 };
        let steps = |mm: f64| (mm * per_mm).round() as usize;
        let top = lengths.iter().map(|length| steps(*length)).sum();
        let mut last: Vec<Option<usize>> = vec![None; top + 1];
        // The longest first, so that few pieces make a length.
        let mut order: Vec<usize> = (0..lengths.len()).collect();
        order.sort_by(|a, b| lengths[*b].total_cmp(&lengths[*a]));
        let mut entered = vec![false; lengths.len()];
        for i in order {
            let step = steps(lengths[i]);
            let reached = |last: &[Option<usize>], sum: usize| {
                let before = last[sum - step].is_some_and(|other| entered[other]);
                last[sum].is_none() && (sum == step || before)
            };
            (step..=top).rev().for_each(|sum| {
                last[sum] = reached(&last, sum).then_some(i).or(last[sum]);
            });
            entered[i] = true;
        }
        Self { lengths: lengths.to_vec(), last, per_mm }
    }

    /// The pieces whose sum lies nearest the wish, between least and most.
    fn nearest(&self, [least, wish, most]: [f64; 3]) -> Option<Vec<f64>> {
        let step = |mm: f64| ((mm * self.per_mm) as usize).min(self.last.len());
        let sums = step(least).max(1)..(step(most) + 2).min(self.last.len());
        let mm = |sum: usize| sum as f64 / self.per_mm;
        let fits = |sum: &usize| {
            let mm = mm(*sum);
            self.last[*sum].is_some() && least - 1e-9 <= mm && mm <= most + 1e-9
        };
        let far = |sum: &usize| (mm(*sum) - wish).abs();
        let mut sum = sums.filter(fits).min_by(|a, b| far(a).total_cmp(&far(b)))?;
        let mut pieces = Vec::new();
        while let Some(i) = self.last.get(sum).copied().flatten() {
            pieces.push(self.lengths[i]);
            sum -= ((self.lengths[i] * self.per_mm).round() as usize).min(sum);
        }
        Some(pieces)
    }
}
