//! How two revisions of a blank, or of a face in it, are laid upon each other: so that as many
//! corners, holes and bends as possible coincide.

use super::SAME;
use super::piece::{P, Piece};
use crate::geom::{BlankFrame, Bounds, Map2, Point};

/// A rigid motion from the older blank to the newer one.
pub(super) type Onto = Map2<BlankFrame, BlankFrame>;

/// Pairs of holes of which each is tried as the one that stays.
const TRIED: usize = 24;

/// What can coincide.
#[derive(Debug, Default)]
struct Features {
    corners: Vec<P>,
    holes: Vec<P>,
    bends: Vec<P>,
}

/// Lays the older blank onto the newer one. Bends count most: what lies on the shelf folded keeps
/// its bends.
pub(super) fn blanks(old: &Piece<'_>, new: &Piece<'_>) -> Onto {
    let all = |piece: &Piece<'_>| Features {
        corners: piece.outer.vertices.iter().map(|v| v.at).collect(),
        holes: piece.openings.iter().map(|it| it.centre).collect(),
        bends: piece.row.bends.iter().flat_map(|bend| bend.ends()).collect(),
    };
    let root = old.through_root(new);
    best(&root, &all(old), &all(new))
}

/// Lays a face of the older blank onto the face of that name; as the whole blank where nothing
/// else brings more together.
pub(super) fn face(old: &Piece<'_>, new: &Piece<'_>, name: &str, whole: &Onto) -> Onto {
    let own = |piece: &Piece<'_>| Features {
        corners: piece.face(name).unwrap_or_default(),
        holes: piece.openings.iter().filter(|it| it.face == name).map(|it| it.centre).collect(),
        bends: piece.bends_at(name).flat_map(|bend| bend.ends()).collect(),
    };
    best(whole, &own(old), &own(new))
}

/// The shift of `first` that brings most together; `first` itself where no other brings more.
fn best(first: &Onto, old: &Features, new: &Features) -> Onto {
    let turned = first.shifted(-first.shift);
    let place = |points: &[P]| points.iter().map(|p| turned.point(*p)).collect::<Vec<P>>();
    let old = Features {
        corners: place(&old.corners),
        holes: place(&old.holes),
        bends: place(&old.bends),
    };
    let corners = [&old.corners, &new.corners].map(|points| box_corners(points));
    let pairs = corners[0].iter().zip(&corners[1]);
    let pairs = pairs.chain(old.bends.iter().zip(&new.bends));
    let holes = old.holes.iter().zip(&new.holes).take(TRIED);
    let last = old.holes.iter().rev().zip(new.holes.iter().rev()).take(TRIED);
    let shifts = pairs.chain(holes).chain(last).map(|(a, b)| *b - *a);
    let sorted = new.sorted();
    let mut found = (old.score(&sorted, first.shift), first.shift);
    for shift in shifts {
        let score = old.score(&sorted, shift);
        if found.0 < score {
            found = (score, shift);
        }
    }
    turned.shifted(found.1)
}

fn box_corners(points: &[P]) -> Vec<P> {
    let mut bounds = Bounds::empty();
    points.iter().for_each(|p| bounds.add(*p));
    let (low, high) = (bounds.low, bounds.high);
    if points.is_empty() {
        return Vec::new();
    }
    vec![low, Point::new(high.x, low.y), high, Point::new(low.x, high.y)]
}

impl Features {
    fn sorted(&self) -> Self {
        let sorted = |points: &[P]| {
            let mut points = points.to_vec();
            points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
            points
        };
        Self {
            corners: sorted(&self.corners),
            holes: sorted(&self.holes),
            bends: sorted(&self.bends),
        }
    }

    /// How many of the bends' ends, and how many points in all, fall on one of the others.
    fn score(&self, sorted: &Self, shift: P) -> (usize, usize) {
        let met =
            |own: &[P], others: &[P]| own.iter().filter(|p| is_among(**p + shift, others)).count();
        let bends = met(&self.bends, &sorted.bends);
        let rest = met(&self.corners, &sorted.corners) + met(&self.holes, &sorted.holes);
        (bends, bends + rest)
    }
}

/// Whether a point is one of others, which stand sorted by x.
fn is_among(p: P, sorted: &[P]) -> bool {
    let start = sorted.partition_point(|q| q.x < p.x - SAME);
    let near = sorted[start..].iter().take_while(|q| q.x <= p.x + SAME);
    near.into_iter().any(|q| q.distance(p) <= SAME)
}
