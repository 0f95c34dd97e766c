//! The opening fitted to the corrugation.
//!
//! Each vertical cut lies in an outer flat and leaves room on it, away from the opening, for the
//! frame's lip with a margin at each side. For a flat with centre c and width f, the left cut may
//! lie in `[c - f/2 + margin + lip, c + f/2 - margin]`, the right cut in the mirrored window. A
//! pair of flats reaches the widths between its windows' nearest and farthest ends, and nothing
//! between those of one pitch and the next.

use super::WallLayout;
use super::opening_refusal::Refusal;
use crate::units::{in_mm, number};

/// Two widths or places nearer than this are one, mm: far under what is marked out on site, far
/// above rounding.
const SAME: f64 = 1e-6;

/// Where an opening is wished.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Position {
    /// In the middle between the posts.
    Middle,
    /// As near to the left post as it goes.
    Left,
    /// As near to the right post as it goes.
    Right,
    /// Centre from the left post's edge, mm.
    Centre(f64),
}

/// What is kept when not both can be had.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Prefer {
    /// The narrowest opening that is not narrower than wished.
    Width,
    /// The nearest centre, for an opening less than one pitch wider than wished.
    Centre,
}

/// What is wished.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wish {
    /// Rough width, mm: not narrower.
    pub rough_width: f64,
    /// Widest rough width that will do, mm.
    pub most: Option<f64>,
    /// Width of the frame's lip on the outer flat, mm.
    pub lip: f64,
    /// Free width of the outer flat on each side of what stands on it, mm.
    pub margin: f64,
    /// Where.
    pub position: Position,
    /// What is kept when not both can be had.
    pub prefer: Prefer,
    /// Index of the outer flat that must carry the left lip.
    pub left_flat: Option<usize>,
    /// Whether both cuts lie alike on their flats, so that the two side frames are mirror images:
    /// the centre is then the middle between the two flats.
    pub alike: bool,
}

/// The opening as fitted, in the wall's frame.
#[derive(Debug, Clone, PartialEq)]
pub struct Fitted {
    /// X of the two vertical cuts.
    pub cuts: [f64; 2],
    /// Middle between them.
    pub centre: f64,
    /// Distance between them.
    pub rough_width: f64,
    /// Indexes of the outer flats that carry the left and the right lip.
    pub flats: [usize; 2],
    /// What was given and why, for people.
    pub reason: String,
}

/// Two outer flats and the windows of the cuts in them.
#[derive(Debug, Clone, Copy)]
struct Pair {
    flats: [usize; 2],
    left: [f64; 2],
    right: [f64; 2],
}

/// Fits an opening to a wall.
pub fn fit(wall: &WallLayout, wish: &Wish) -> Result<Fitted, Refusal> {
    check(wall, wish)?;
    let pairs = pairs(wall, wish);
    let most = wish.most.unwrap_or(f64::INFINITY);
    let nearest = nearest_width(&pairs, wish.rough_width, most);
    let Some(width) = nearest else { return Err(no_width(wall, wish, &pairs)) };
    let greatest = match wish.prefer {
        Prefer::Width => width,
        Prefer::Centre => most.min(wish.rough_width + wall.pitch).max(width),
    };
    let options: Vec<Pair> =
        pairs.into_iter().filter(|p| p.reaches(wish.rough_width, greatest)).collect();
    if let Position::Centre(centre) = wish.position {
        check_centre(wall, wish, &options, centre)?;
    }
    let wanted = wanted_centre(wall, wish.position);
    let mut best: Option<(Pair, f64, f64)> = None;
    for pair in options {
        let bounds = [wish.rough_width, greatest];
        let (centre, width) = match wish.alike {
            true => (pair.middle(), wish.rough_width.max(pair.narrowest())),
            false => pair.place(wanted, bounds, wish.prefer),
        };
        let nearer = |(_, c, w): &(Pair, f64, f64)| {
            let gain = (c - wanted).abs() - (centre - wanted).abs();
            SAME < gain || (gain.abs() <= SAME && width < w - SAME)
        };
        if best.as_ref().is_none_or(nearer) {
            best = Some((pair, centre, width));
        }
    }
    match best {
        Some((pair, centre, width)) => Ok(fitted(pair, (centre, width), wanted, wish)),
        None => Err(no_width(wall, wish, &[])),
    }
}

fn check(wall: &WallLayout, wish: &Wish) -> Result<(), Refusal> {
    let position = if let Position::Centre(x) = wish.position { x } else { 0.0 };
    let numbers = [
        ("rough width", wish.rough_width, SAME),
        ("lip", wish.lip, 0.0),
        ("margin", wish.margin, 0.0),
        ("greatest rough width", wish.most.unwrap_or(wish.rough_width), wish.rough_width),
        ("centre", position, f64::MIN),
    ];
    for (what, found, least) in numbers {
        if !found.is_finite() || found < least {
            return Err(Refusal::BadWish { what, found });
        }
    }
    let (needed, flat) = (wish.lip + 2.0 * wish.margin, wall.corrugation.outer_flat);
    if flat < needed {
        return Err(Refusal::LipTooWide { lip: wish.lip, margin: wish.margin, flat });
    }
    Ok(())
}

/// Every pair of outer flats, the left one first.
fn pairs(wall: &WallLayout, wish: &Wish) -> Vec<Pair> {
    let half = wall.corrugation.outer_flat / 2.0;
    let (near, far) = (half - wish.margin, half - wish.margin - wish.lip);
    let centres = &wall.outer_flat_centres;
    let mut pairs = Vec::new();
    for (i, c) in centres.iter().enumerate() {
        for (j, d) in centres.iter().enumerate().skip(i + 1) {
            if wish.left_flat.is_some_and(|asked| asked != i) {
                continue;
            }
            let (left, right) = ([c - far, c + near], [d - near, d + far]);
            pairs.push(Pair { flats: [i, j], left, right });
        }
    }
    pairs
}

impl Pair {
    fn narrowest(&self) -> f64 {
        self.right[0] - self.left[1]
    }

    fn widest(&self) -> f64 {
        self.right[1] - self.left[0]
    }

    /// Middle between the two flats: the windows are mirror images about it.
    fn middle(&self) -> f64 {
        (self.left[0] + self.left[1] + self.right[0] + self.right[1]) / 4.0
    }

    fn reaches(&self, least: f64, most: f64) -> bool {
        least <= self.widest() + SAME && self.narrowest() <= most + SAME
    }

    /// Centre nearest to the wanted one, and the width there: the narrowest within the bounds, and
    /// for [`Prefer::Width`] the narrowest this pair has at all.
    fn place(&self, wanted: f64, [least, most]: [f64; 2], prefer: Prefer) -> (f64, f64) {
        let least = least.max(self.narrowest()).min(self.widest());
        let most = if prefer == Prefer::Width { least } else { most.min(self.widest()) };
        let [low, high] = self.centres(least, most);
        let centre = wanted.clamp(low, high.max(low));
        // Both cuts within their windows, symmetric about the centre.
        let (inner, outer) = (2.0 * (centre - self.left[1]), 2.0 * (self.right[0] - centre));
        (centre, least.max(inner).max(outer))
    }

    /// Least and greatest centre of an opening between two widths. The cuts (l, r) fill a rectangle
    /// cut off by `least <= r - l <= most`; the centre is extreme at its corners.
    fn centres(&self, least: f64, most: f64) -> [f64; 2] {
        let ([l0, l1], [r0, r1]) = (self.left, self.right);
        let low = if r0 - l0 < least {
            (2.0 * l0 + least) / 2.0
        } else if most < r0 - l0 {
            (2.0 * r0 - most) / 2.0
        } else {
            (l0 + r0) / 2.0
        };
        let high = if r1 - l1 < least {
            (2.0 * r1 - least) / 2.0
        } else if most < r1 - l1 {
            (2.0 * l1 + most) / 2.0
        } else {
            (l1 + r1) / 2.0
        };
        [low, high]
    }
}

/// The narrowest reachable width from `least` to `most`.
fn nearest_width(pairs: &[Pair], least: f64, most: f64) -> Option<f64> {
    let reaching = pairs.iter().filter(|p| p.reaches(least, most));
    reaching.map(|p| p.narrowest().max(least)).min_by(f64::total_cmp)
}

fn wanted_centre(wall: &WallLayout, position: Position) -> f64 {
    match position {
        Position::Middle => wall.length / 2.0,
        Position::Left => 0.0,
        Position::Right => wall.length,
        Position::Centre(x) => x,
    }
}

/// Why no width from the wish to the widest that will do can be reached.
fn no_width(wall: &WallLayout, wish: &Wish, pairs: &[Pair]) -> Refusal {
    let wanted = wish.rough_width;
    let widest = pairs.iter().map(Pair::widest).max_by(f64::total_cmp);
    match (wish.most, widest) {
        (Some(most), Some(widest)) if wanted <= widest => {
            let under = |p: &&Pair| p.narrowest() < wanted;
            let below = pairs.iter().filter(under).map(|p| p.widest().min(wanted));
            let above = pairs.iter().map(Pair::narrowest).filter(|w| most < *w);
            let nearest = [below.max_by(f64::total_cmp), above.min_by(f64::total_cmp)];
            Refusal::Between { wanted, most, nearest }
        }
        _ => Refusal::TooWide { wanted, widest, wall: wall.length },
    }
}

/// Refuses a wished centre about which the opening would lie on a post.
fn check_centre(
    wall: &WallLayout,
    wish: &Wish,
    options: &[Pair],
    centre: f64,
) -> Result<(), Refusal> {
    let half = wish.rough_width / 2.0;
    let (cut, end) = if centre - half < 0.0 {
        (centre - half, 0.0)
    } else if wall.length < centre + half {
        (centre + half, wall.length)
    } else {
        return Ok(());
    };
    let reach = options.iter().map(|p| {
        let width = wish.rough_width.max(p.narrowest());
        if wish.alike { [p.middle(); 2] } else { p.centres(width, width) }
    });
    let centres = reach.reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])]);
    Err(Refusal::OnPost { cut, end, centre, centres: centres.unwrap_or([0.0, wall.length]) })
}

fn fitted(pair: Pair, (centre, width): (f64, f64), wanted: f64, wish: &Wish) -> Fitted {
    let cuts = [centre - width / 2.0, centre + width / 2.0];
    let wider = width - wish.rough_width;
    let given = if wider <= SAME {
        format!("rough width {} as wished", in_mm(width))
    } else {
        let wished = in_mm(wish.rough_width);
        format!("rough width {}, {} wider than the {wished} wished", in_mm(width), in_mm(wider))
    };
    let aside = match (wish.position, centre - wanted) {
        (Position::Left, _) => "as near to the left post as it goes".to_owned(),
        (Position::Right, _) => "as near to the right post as it goes".to_owned(),
        (_, by) if by.abs() <= SAME => "as wished".to_owned(),
        (_, by) if by < 0.0 => format!("{} left of the wish", in_mm(-by)),
        (_, by) => format!("{} right of the wish", in_mm(by)),
    };
    let reason = format!(
        "{given}, centre {} from the left post, {aside}: the {} whose cuts leave {} of lip and {} \
         of margin each side on outer flats {} and {}",
        in_mm(centre),
        if wish.prefer == Prefer::Width { "narrowest" } else { "nearest to that centre" },
        in_mm(wish.lip),
        in_mm(wish.margin),
        number((pair.flats[0] + 1) as f64, 0),
        number((pair.flats[1] + 1) as f64, 0),
    );
    Fitted { cuts, centre, rough_width: width, flats: pair.flats, reason }
}
