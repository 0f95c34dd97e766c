//! Random numbers that depend on a seed and on the number of the piece of work alone.

/// A stream of random numbers. One piece of work has one stream of its own, so that threads do not
/// matter.
#[derive(Debug, Clone)]
pub(crate) struct Stream(u64);

/// Spreads a number over all 64 bits: the finisher of splitmix64.
fn mixed(state: u64) -> u64 {
    let state = (state ^ (state >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    let state = (state ^ (state >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    state ^ (state >> 31)
}

impl Stream {
    /// The stream of a piece of work.
    pub(crate) fn of(seed: u64, work: u64) -> Self {
        Stream(mixed(mixed(seed.wrapping_add(1)) ^ work.wrapping_mul(0x9e37_79b9_7f4a_7c15)))
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        mixed(self.0)
    }

    /// A whole number from 0 up to, not including, `end`; 0 where `end` is 0.
    pub(crate) fn below(&mut self, end: usize) -> usize {
        let [next, end] = [self.next(), end as u64].map(u128::from);
        ((next * end) >> 64) as usize
    }

    /// A number from 0 up to, not including, 1.
    pub(crate) fn share(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// A number near 1: between 1 / `most` and `most`, smaller and greater alike.
    pub(crate) fn near_one(&mut self, most: f64) -> f64 {
        let u = self.share();
        let stretch = 1.0 + (most - 1.0) * self.share();
        if u < 0.5 { stretch } else { 1.0 / stretch }
    }
}
