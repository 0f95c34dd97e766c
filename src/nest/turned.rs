//! Blanks turned, reflected and shifted.

use super::{Item, Placed, Rect, Ring, Shape, Turns};

impl Turns {
    /// The turns allowed, degrees counter-clockwise.
    pub fn all(self) -> &'static [u16] {
        match self {
            Turns::None => &[0],
            Turns::Half => &[0, 180],
            Turns::Quarter => &[0, 90, 180, 270],
        }
    }
}

impl Item {
    /// Every way in which one may lie: turn, and whether face down.
    pub fn poses(&self) -> Vec<(u16, bool)> {
        let faces: &[bool] = if self.mirror { &[false, true] } else { &[false] };
        let turns = self.turns.all();
        faces.iter().flat_map(|face| turns.iter().map(|turn| (*turn, *face))).collect()
    }
}

impl Placed {
    /// A point of the blank's own frame where it lies on the sheet.
    pub fn point(&self, point: [i64; 2]) -> [i64; 2] {
        let x = if self.mirrored { -point[0] } else { point[0] };
        let [u, v] = match self.turn {
            90 => [-point[1], x],
            180 => [-x, -point[1]],
            270 => [point[1], -x],
            _ => [x, point[1]],
        };
        [u + self.at[0], v + self.at[1]]
    }

    fn ring(&self, ring: &Ring) -> Ring {
        let points = ring.iter().map(|point| self.point(*point));
        if self.mirrored { points.rev().collect() } else { points.collect() }
    }

    /// The blank where it lies on the sheet; senses of rings as in its own frame.
    pub fn shape(&self, shape: &Shape) -> Shape {
        let holes = shape.holes.iter().map(|hole| self.ring(hole)).collect();
        Shape { outer: self.ring(&shape.outer), holes }
    }

    /// The least rectangle around the blank where it lies on the sheet.
    pub fn extent(&self, shape: &Shape) -> Rect {
        extent(shape.outer.iter().map(|point| self.point(*point)))
    }
}

/// The least rectangle around points; a rectangle of no extent at the origin around none.
pub(super) fn extent(points: impl Iterator<Item = [i64; 2]>) -> Rect {
    let around = points.fold(None, |around: Option<Rect>, p| {
        let Some(Rect { low, high }) = around else { return Some(Rect { low: p, high: p }) };
        Some(Rect {
            low: [low[0].min(p[0]), low[1].min(p[1])],
            high: [high[0].max(p[0]), high[1].max(p[1])],
        })
    });
    around.unwrap_or(Rect { low: [0, 0], high: [0, 0] })
}

/// Twice the area of a ring, positive where it runs counter-clockwise.
pub(super) fn twice_area(ring: &Ring) -> i128 {
    let next = ring.iter().cycle().skip(1);
    let cross = |(a, b): (&[i64; 2], &[i64; 2])| {
        i128::from(a[0]) * i128::from(b[1]) - i128::from(a[1]) * i128::from(b[0])
    };
    ring.iter().zip(next).map(cross).sum()
}

impl Shape {
    /// Area without the openings, mm².
    pub fn area(&self) -> f64 {
        let holes: i128 = self.holes.iter().map(|hole| twice_area(hole).abs()).sum();
        (twice_area(&self.outer).abs() - holes) as f64 / 20_000.0
    }
}

impl Rect {
    /// Extents along x and y.
    pub fn size(&self) -> [i64; 2] {
        [self.high[0] - self.low[0], self.high[1] - self.low[1]]
    }

    /// Area, mm².
    pub fn area(&self) -> f64 {
        let [x, y] = self.size();
        x as f64 * y as f64 / 10_000.0
    }
}
