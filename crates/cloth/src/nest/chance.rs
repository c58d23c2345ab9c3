//! Chance that repeats from its seed.
//!
//! `SplitMix64` (Steele, Lea, Flood: Fast splittable pseudorandom number generators, OOPSLA 2014): one 64-bit word of state
//! and the same numbers on every machine. Not for secrets.

/// A source of numbers that look like chance.
#[derive(Clone, Debug)]
pub(super) struct Chance(u64);

impl Chance {
    /// The source of a seed; `branch` makes several that have nothing in common.
    pub(super) fn new(seed: u64, branch: u64) -> Self {
        let mut mixed = Self(seed);
        let first = mixed.bits();
        Self(first ^ branch.wrapping_mul(0xD1B5_4A32_D192_ED03))
    }

    /// 64 even bits.
    pub(super) fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A number from 0 up to, and without, 1.
    pub(super) fn share(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// A number between two.
    pub(super) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    /// A whole number below `count`, which is at least 1.
    pub(super) fn below(&mut self, count: usize) -> usize {
        // The upper half of a product: even enough for counts far below 2^64.
        ((u128::from(self.bits()) * count as u128) >> 64) as usize
    }

    /// Brings things into an order by chance.
    pub(super) fn shuffle<T>(&mut self, things: &mut [T]) {
        for last in (1..things.len()).rev() {
            things.swap(last, self.below(last + 1));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_numbers_are_those_of_the_published_generator() {
        // First outputs for seed 1234567 as listed beside the reference C code (Vigna, splitmix64.c); branch 0 leaves the
        // first word as the state.
        let mut chance = Chance(1_234_567);
        assert_eq!(chance.bits(), 6_457_827_717_110_365_317);
        assert_eq!(chance.bits(), 3_203_168_211_198_807_973);
    }

    #[test]
    fn whole_numbers_stay_below_their_count_and_reach_all() {
        let mut chance = Chance::new(7, 1);
        let mut seen = [false; 5];
        for _ in 0..200 {
            seen[chance.below(5)] = true;
        }
        assert_eq!(seen, [true; 5]);
    }
}
