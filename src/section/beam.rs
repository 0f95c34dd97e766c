//! Beams on two supports: standard beam tables.

/// A beam that rests on two supports; N, mm, N/mm2.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Beam {
    /// Between the supports, mm.
    pub span: f64,
    /// Along all of it, N/mm.
    pub line: f64,
    /// In its middle, N.
    pub point: f64,
    /// Length over which `point` is spread evenly about the middle, mm; what would lie beyond the
    /// supports is not counted.
    pub spread: f64,
}

impl Beam {
    /// What of `point` lies between the supports, N, and over which length, mm.
    fn patch(&self) -> (f64, f64) {
        if self.spread <= self.span {
            return (self.point, self.spread);
        }
        (self.point * self.span / self.spread, self.span)
    }

    /// Greatest moment, N mm: w L² / 8 + P (2 L - a) / 8, a the length of P's patch.
    pub fn moment(&self) -> f64 {
        let (force, spread) = self.patch();
        self.line * self.span * self.span / 8.0 + force * (2.0 * self.span - spread) / 8.0
    }

    /// Greatest deflection, mm: 5 w L⁴ / 384 E I + P (8 L³ - 4 L a² + a³) / 384 E I.
    pub fn deflection(&self, modulus: f64, inertia: f64) -> f64 {
        let (force, a) = self.patch();
        let span = self.span;
        let cubed = span * span * span;
        let patch = force * (8.0 * cubed - 4.0 * span * a * a + a * a * a);
        (5.0 * self.line * span * cubed + patch) / (384.0 * modulus * inertia)
    }

    /// What each support takes, N, with a point load moved beside it.
    pub fn reaction(&self) -> f64 {
        self.line * self.span / 2.0 + self.point
    }
}

/// A cantilever; the same units.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cantilever {
    /// From the support to the free end, mm.
    pub length: f64,
    /// Along all of it, N/mm.
    pub line: f64,
    /// At its end, N.
    pub point: f64,
}

impl Cantilever {
    /// Moment at the support, N mm: w L² / 2 + P L.
    pub fn moment(&self) -> f64 {
        self.line * self.length * self.length / 2.0 + self.point * self.length
    }

    /// Deflection of the end, mm: w L⁴ / 8 E I + P L³ / 3 E I.
    pub fn deflection(&self, modulus: f64, inertia: f64) -> f64 {
        let cubed = self.length * self.length * self.length;
        (self.line * self.length / 8.0 + self.point / 3.0) * cubed / (modulus * inertia)
    }
}
