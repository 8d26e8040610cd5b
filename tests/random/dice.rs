//! Numbers that look random and are the same in every run (SplitMix64, Steele, Lea and Flood 2014).

pub struct Dice(u64);

impl Dice {
    pub fn new(start: u64) -> Self {
        Self(start)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let z = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// From 0 to `n` - 1.
    pub fn below(&mut self, n: usize) -> usize {
        (self.next() % n as u64) as usize
    }

    /// From `least` to `most`, both included.
    pub fn between(&mut self, least: usize, most: usize) -> usize {
        least + self.below(most - least + 1)
    }

    pub fn percent(&mut self, chance: usize) -> bool {
        self.below(100) < chance
    }

    pub fn pick<'a, T>(&mut self, from: &'a [T]) -> &'a T {
        &from[self.below(from.len())]
    }
}

/// How often something is tried that could be tried for ever: `sample` times, or as many times more as `tests/long.sh`
/// sets.
pub fn tries(sample: u64) -> u64 {
    let times: u64 = std::env::var("KITWRIGHT_TRIES").map_or(1, |times| times.parse().expect("a whole number"));
    sample * times
}
