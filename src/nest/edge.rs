//! An edge of a no-fit polygon.

use crate::nest::ring::Point;

/// Coordinates stay below 2^24, so that every product of two is exact in double precision.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Edge {
    from: [f64; 2],
    along: [f64; 2],
    /// One over the square of the length.
    scale: f64,
}

impl Edge {
    fn new(a: &Point, b: &Point) -> Self {
        let from = [f64::from(a.x), f64::from(a.y)];
        let along = [f64::from(b.x) - from[0], f64::from(b.y) - from[1]];
        let square = along[0] * along[0] + along[1] * along[1];
        Self { from, along, scale: 1.0 / square }
    }

    /// All edges of a contour.
    pub(crate) fn of(contour: &[Point]) -> impl Iterator<Item = Self> {
        let ends = contour.iter().skip(1).chain(contour.iter().take(1));
        contour.iter().zip(ends).map(|(a, b)| Self::new(a, b))
    }

    /// Twice the area of the triangle over the edge with its tip in a place, positive to the left.
    pub(crate) fn side(&self, p: [f64; 2]) -> f64 {
        self.along[0] * (p[1] - self.from[1]) - self.along[1] * (p[0] - self.from[0])
    }

    /// Whether a place lies on the edge, ends included.
    pub(crate) fn holds(&self, p: [f64; 2]) -> bool {
        let [x, y] = [p[0] - self.from[0], p[1] - self.from[1]];
        let along = self.along[0] * x + self.along[1] * y;
        self.side(p) == 0.0 && 0.0 <= along && along * self.scale <= 1.0
    }

    /// Whether the ray from a place towards greater x crosses the edge.
    pub(crate) fn crosses(&self, p: [f64; 2]) -> bool {
        (self.from[1] <= p[1]) != (self.from[1] + self.along[1] <= p[1])
            && (0.0 < self.side(p)) == (0.0 < self.along[1])
    }

    /// Square of the distance from a place to the edge.
    pub(crate) fn square_to(&self, p: [f64; 2]) -> f64 {
        let [x, y] = [p[0] - self.from[0], p[1] - self.from[1]];
        let t = ((self.along[0] * x + self.along[1] * y) * self.scale).clamp(0.0, 1.0);
        let (dx, dy) = (x - t * self.along[0], y - t * self.along[1]);
        dx * dx + dy * dy
    }

    /// Square of the distance from a place to the edge's line.
    pub(crate) fn square_to_line(&self, side: f64) -> f64 {
        side * side * self.scale
    }

    /// Least and greatest y.
    pub(crate) fn span(&self) -> [f64; 2] {
        let to = self.from[1] + self.along[1];
        [self.from[1].min(to), self.from[1].max(to)]
    }
}
