//! Random numbers that depend on a seed and a build's number alone, however builds are shared out.

use crate::units;

/// Layers of the normal density (the well-known division into 128 of equal area).
const LAYERS: usize = 128;
/// Where its tail begins, and the area of each layer.
const TAIL: f64 = 3.442_619_855_899;
const AREA: f64 = 9.912_563_035_262_17e-3;

/// The numbers of one build: SplitMix64 (a counter, well mixed), begun where seed and build say.
#[derive(Debug)]
pub(super) struct Stream {
    state: u64,
}

/// The golden ratio's share of 2^64, an odd number.
const STEP: u64 = 0x9e37_79b9_7f4a_7c15;

fn mixed(state: u64) -> u64 {
    let z = (state ^ (state >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    let z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

impl Stream {
    pub(super) fn of(seed: u64, build: u64) -> Self {
        Self { state: mixed(mixed(seed.wrapping_add(STEP)) ^ build.wrapping_mul(STEP)) }
    }

    fn next(&mut self) -> u64 {
        self.state = self.state.wrapping_add(STEP);
        mixed(self.state)
    }

    /// Above 0, up to 1.
    fn share(&mut self) -> f64 {
        ((self.next() >> 11) + 1) as f64 * (1.0 / (1u64 << 53) as f64)
    }
}

/// Draws of mean 0 and deviation 1.
#[derive(Debug)]
pub(super) struct Law {
    /// Even within its limits; normal otherwise.
    uniform: bool,
    /// Right edge of each layer, from the base up; the last is 0.
    edges: [f64; LAYERS + 1],
}

impl Law {
    pub(super) fn new(uniform: bool) -> Self {
        let mut edges = [0.0; LAYERS + 1];
        edges[0] = AREA / density(TAIL);
        edges[1] = TAIL;
        for i in 2..LAYERS {
            let height = AREA / edges[i - 1] + density(edges[i - 1]);
            edges[i] = (-2.0 * units::ln(height)).sqrt();
        }
        Self { uniform, edges }
    }

    /// The next draw.
    pub(super) fn draw(&self, stream: &mut Stream) -> f64 {
        if self.uniform {
            return (2.0 * stream.share() - 1.0) * 3f64.sqrt();
        }
        loop {
            let bits = stream.next();
            let layer = (bits & (LAYERS as u64 - 1)) as usize;
            let signed = (bits >> 11) as f64 * (1.0 / (1u64 << 52) as f64) - 1.0;
            let x = signed * self.edges[layer];
            if x.abs() < self.edges[layer + 1] {
                return x;
            }
            if layer == 0 {
                return tail(stream).copysign(signed);
            }
            let (low, high) = (density(self.edges[layer]), density(self.edges[layer + 1]));
            if low + stream.share() * (high - low) < density(x) {
                return x;
            }
        }
    }
}

/// The normal density without its factor.
fn density(x: f64) -> f64 {
    units::exp(-x * x / 2.0)
}

/// A draw beyond the tail's beginning.
fn tail(stream: &mut Stream) -> f64 {
    loop {
        let x = -units::ln(stream.share()) / TAIL;
        let y = -units::ln(stream.share());
        if x * x < 2.0 * y {
            return TAIL + x;
        }
    }
}
