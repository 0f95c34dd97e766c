//! What two convex rings have in common.

use super::model::Spot;
use super::ring::{BORDER, Dot, MANY, flat};

/// The area common to two convex rings, as a ring. Its border lies within the second ring by
/// `BORDER`, so that rings which merely touch have nothing in common.
pub(super) struct Common {
    corners: [Dot; 2 * MANY],
    count: usize,
}

impl Common {
    /// Of two rings of at most `MANY` corners that run counter-clockwise.
    pub(super) fn new(ring: &[Spot], other: &[Spot]) -> Self {
        let mut common = Self { corners: [Dot::new(0.0, 0.0); 2 * MANY], count: ring.len() };
        for (corner, p) in common.corners.iter_mut().zip(ring) {
            *corner = flat(*p);
        }
        let mut a = flat(other[other.len() - 1]);
        for &b in other {
            let b = flat(b);
            common.cut(a, b);
            a = b;
        }
        common
    }

    /// The corners in order; none when nothing is common.
    pub(super) fn corners(&self) -> &[Dot] {
        &self.corners[..self.count]
    }

    /// Takes away what does not lie to the left of the line from `a` to `b`.
    fn cut(&mut self, a: Dot, b: Dot) {
        let Some(&last) = self.corners().last() else { return };
        let side = b - a;
        let margin = BORDER * side.dot(side).sqrt();
        let within = |p: Dot| side.cross(p - a) - margin;
        let (old, count) = (self.corners, self.count);
        self.count = 0;
        let (mut before, mut off) = (last, within(last));
        for &p in &old[..count] {
            let next = within(p);
            if (off > 0.0) != (next > 0.0) {
                self.add(before.toward(p, off / (off - next)));
            }
            if next > 0.0 {
                self.add(p);
            }
            (before, off) = (p, next);
        }
    }

    fn add(&mut self, p: Dot) {
        if let Some(corner) = self.corners.get_mut(self.count) {
            *corner = p;
            self.count += 1;
        }
    }
}
