//! Whether a blank became the mirror image of what it was: a part of the other hand.

use super::opening::{mapped, same, same_path};
use super::piece::{P, Piece};
use crate::flat::Contour;
use crate::geom::{BlankFrame, Map2, Path};

/// Whether the newer blank is the older one turned face down.
pub(super) fn mirrored(old: &Piece<'_>, new: &Piece<'_>) -> bool {
    let [width, height] = [old.row.blank.width, old.row.blank.height];
    let over = [
        Map2::new(P::new(-1.0, 0.0), P::new(0.0, 1.0), P::new(width, 0.0)),
        Map2::new(P::new(1.0, 0.0), P::new(0.0, -1.0), P::new(0.0, height)),
    ];
    over.iter().any(|over| same_blank(old, new, over))
}

fn same_blank(old: &Piece<'_>, new: &Piece<'_>, over: &Map2<BlankFrame, BlankFrame>) -> bool {
    let turned = |path: &Path<BlankFrame>| path.mapped(over).reversed();
    let contour = |it: &Contour| match it {
        Contour::Loop(path) => Contour::Loop(turned(path)),
        circle @ Contour::Circle(..) => mapped(circle, over),
    };
    let inner: Vec<Contour> = old.inner.iter().map(contour).collect();
    inner.len() == new.inner.len()
        && same_path(&turned(&old.outer), &new.outer)
        && inner.iter().all(|a| new.inner.iter().any(|b| same(a, b)))
}
