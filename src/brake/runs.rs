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
    pub(super) fn of(rooms: &[Room], lengths: &[f64]) -> Option<Self> {
        let mut left: Vec<f64> = lengths.to_vec();
        left.sort_by(|a, b| b.total_cmp(a));
        let mut runs = Vec::new();
        for room in rooms {
            runs.push(one(room, &mut left)?);
        }
        Some(Self { runs })
    }
}

/// The length for one room: as near to the bend's as the pieces allow.
fn one((span, needed, room): &Room, left: &mut Vec<f64>) -> Option<Run> {
    // Where the tool may stand out at one end, the other end is kept and any longer length serves.
    let long = 2.0 * left.iter().sum::<f64>();
    let room = [room[0].max(span[0] - long), room[1].min(span[1] + long)];
    let [least, most] = [needed[1] - needed[0], room[1] - room[0]];
    let wish = (span[1] - span[0]).max(least).min(most);
    let pieces = put_together([least, wish, most], left)?;
    let length: f64 = pieces.iter().sum();
    let middle = (span[0] + span[1] - length) / 2.0;
    let from = middle.max(room[0].max(needed[1] - length)).min(needed[0].min(room[1] - length));
    for piece in &pieces {
        if let Some(at) = left.iter().position(|other| other == piece) {
            left.remove(at);
        }
    }
    Some(Run { span: [from, from + length], pieces })
}

/// The pieces, longest first, whose sum lies nearest the wish between least and most.
fn put_together([least, wish, most]: [f64; 3], lengths: &[f64]) -> Option<Vec<f64>> {
    // Steps of a millimetre where all pieces are whole ones, else of a tenth.
    let whole = lengths.iter().all(|length| length.fract() == 0.0);
    let per_mm = if whole { 1.0 } else { 10.0 };
    let steps = |mm: f64| (mm * per_mm).round().max(0.0) as usize;
    let top = steps(most.min(wish + 500.0)) + 1;
    // For each sum, the last piece that made it; each piece enters once.
    let mut last: Vec<Option<usize>> = vec![None; top + 1];
    for (i, &length) in lengths.iter().enumerate() {
        let step = steps(length);
        for sum in (step..=top).rev() {
            let reached = sum == step || (last[sum - step].is_some_and(|before| before < i));
            if last[sum].is_none() && reached {
                last[sum] = Some(i);
            }
        }
    }
    let fits = |sum: &usize| {
        let mm = *sum as f64 / per_mm;
        last[*sum].is_some() && least - 1e-9 <= mm && mm <= most + 1e-9
    };
    let far = |sum: &usize| (*sum as f64 / per_mm - wish).abs();
    let mut sum = (1..=top).filter(fits).min_by(|a, b| far(a).total_cmp(&far(b)))?;
    let mut pieces = Vec::new();
    while let Some(i) = last.get(sum).copied().flatten() {
        pieces.push(lengths[i]);
        sum -= steps(lengths[i]);
        if sum == 0 {
            break;
        }
    }
    Some(pieces)
}
