//! A stream of random numbers: the same for the same seed and task, on every machine.

/// One stream (SplitMix64).
#[derive(Debug, Clone)]
pub struct Dice(u64);

impl Dice {
    /// The stream of a task.
    pub fn new(seed: u64, task: u64) -> Self {
        let mut dice = Self(seed ^ task.wrapping_mul(0xD1B5_4A32_D192_ED03));
        dice.bits();
        dice
    }

    /// Any 64 bits.
    pub fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// From 0 to below 1.
    pub fn unit(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// From 0 to below `bound`, which is not 0.
    pub fn below(&mut self, bound: usize) -> usize {
        (self.unit() * bound as f64) as usize
    }

    /// From `low` to `high`, both included; `low` where the range is empty.
    pub fn between(&mut self, low: i64, high: i64) -> i64 {
        low + (self.unit() * (high - low + 1).max(1) as f64) as i64
    }

    /// Puts a list in any order.
    pub fn shuffle<T>(&mut self, list: &mut [T]) {
        for at in (1..list.len()).rev() {
            list.swap(at, self.below(at + 1));
        }
    }
}
