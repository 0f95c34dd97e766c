//! Random numbers that depend on a seed and on the number of the piece of work alone, the same on
//! every machine.

/// A stream of random numbers (SplitMix64). One piece of work has one stream of its own, so that
/// threads do not matter.
#[derive(Debug, Clone)]
pub struct Dice(u64);

/// Spreads a number over all 64 bits.
fn mixed(state: u64) -> u64 {
    let state = (state ^ (state >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    let state = (state ^ (state >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    state ^ (state >> 31)
}

impl Dice {
    /// The stream of a piece of work.
    pub fn new(seed: u64, work: u64) -> Self {
        Self(mixed(mixed(seed.wrapping_add(1)) ^ work.wrapping_mul(0x9e37_79b9_7f4a_7c15)))
    }

    /// Any 64 bits.
    fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        mixed(self.0)
    }

    /// A whole number from 0 up to, not including, `end`; 0 where `end` is 0.
    pub fn below(&mut self, end: usize) -> usize {
        let [bits, end] = [self.bits(), end as u64].map(u128::from);
        ((bits * end) >> 64) as usize
    }

    /// From `low` to `high`, both included; `low` where the range is empty.
    pub fn between(&mut self, low: i64, high: i64) -> i64 {
        low + self.below((high - low + 1).max(1) as usize) as i64
    }

    /// A number from 0 up to, not including, 1.
    pub fn share(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// A number near 1: between 1 / `most` and `most`, smaller and greater alike.
    pub fn near_one(&mut self, most: f64) -> f64 {
        let u = self.share();
        let stretch = 1.0 + (most - 1.0) * self.share();
        if u < 0.5 { stretch } else { 1.0 / stretch }
    }

    /// Puts a list in any order.
    pub fn shuffle<T>(&mut self, list: &mut [T]) {
        for at in (1..list.len()).rev() {
            list.swap(at, self.below(at + 1));
        }
    }
}
