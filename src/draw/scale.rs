//! Scales of ISO 5455, and the plot that carries a plane onto the paper.

use crate::geom::{Bounds, PaperFrame, Path, Point, Vertex};

/// A scale of ISO 5455: `paper` millimetres stand for `real` ones.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Scale {
    paper: f64,
    real: f64,
}

/// The scales in use, largest first; the standard's clause 5.1.
const SCALES: [Scale; 13] = [
    Scale { paper: 5.0, real: 1.0 },
    Scale { paper: 2.0, real: 1.0 },
    Scale { paper: 1.0, real: 1.0 },
    Scale { paper: 1.0, real: 2.0 },
    Scale { paper: 1.0, real: 5.0 },
    Scale { paper: 1.0, real: 10.0 },
    Scale { paper: 1.0, real: 20.0 },
    Scale { paper: 1.0, real: 50.0 },
    Scale { paper: 1.0, real: 100.0 },
    Scale { paper: 1.0, real: 200.0 },
    Scale { paper: 1.0, real: 500.0 },
    Scale { paper: 1.0, real: 1000.0 },
    Scale { paper: 1.0, real: 10000.0 },
];

impl Scale {
    /// The largest scale at which `width` by `height` real millimetres fit into so much paper; the
    /// smallest of all when none does.
    pub(super) fn fitting(width: f64, height: f64, paper: (f64, f64)) -> Self {
        Self::largest(|s| width * s.factor() <= paper.0 && height * s.factor() <= paper.1)
    }

    /// The largest scale that fits; the smallest of all when none does.
    pub(super) fn largest(fits: impl Fn(Self) -> bool) -> Self {
        let last = SCALES[SCALES.len() - 1];
        SCALES.iter().copied().find(|scale| fits(*scale)).unwrap_or(last)
    }

    /// This scale and the smaller ones, in order.
    pub(super) fn and_smaller(self) -> impl Iterator<Item = Self> {
        SCALES.iter().copied().filter(move |scale| scale.factor() <= self.factor())
    }

    /// Paper millimetres for one real one.
    pub(super) fn factor(self) -> f64 {
        self.paper / self.real
    }

    /// As it is written: `1 : 10`.
    pub(super) fn name(self) -> String {
        format!("{} : {}", self.paper, self.real)
    }
}

/// Carries the plane of frame `F` onto the paper: a scale and a shift.
#[derive(Debug)]
pub(super) struct Plot<F> {
    factor: f64,
    shift: Point<PaperFrame>,
    frame: std::marker::PhantomData<F>,
}

impl<F> Plot<F> {
    /// The plot that puts the middle of `bounds` onto `middle`.
    pub(super) fn new(bounds: &Bounds<F>, factor: f64, middle: Point<PaperFrame>) -> Self {
        let centre = bounds.centre();
        let shift = middle - Point::new(centre.x, centre.y) * factor;
        Self { factor, shift, frame: std::marker::PhantomData }
    }

    /// Image of a point.
    pub(super) fn point(&self, p: Point<F>) -> Point<PaperFrame> {
        self.shift + self.vector(p)
    }

    /// Image of a vector.
    pub(super) fn vector(&self, p: Point<F>) -> Point<PaperFrame> {
        Point::new(p.x, p.y) * self.factor
    }

    /// Image of a length.
    pub(super) fn length(&self, mm: f64) -> f64 {
        mm * self.factor
    }

    /// Image of a path; arcs stay arcs.
    pub(super) fn path(&self, path: &Path<F>) -> Path<PaperFrame> {
        let place = |v: &Vertex<F>| Vertex { at: self.point(v.at), bulge: v.bulge };
        Path { vertices: path.vertices.iter().map(place).collect() }
    }

    /// Image of a box.
    pub(super) fn bounds(&self, bounds: &Bounds<F>) -> Bounds<PaperFrame> {
        Bounds { low: self.point(bounds.low), high: self.point(bounds.high) }
    }
}
