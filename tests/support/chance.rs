//! Numbers by chance that are the same in every run.

/// A fixed sequence for each seed (Steele, Lea and Flood's SplitMix, 2014).
pub struct Chance(u64);

impl Chance {
    pub fn new(seed: u64) -> Chance {
        Chance(seed)
    }

    /// A number from 0 to below `end`.
    pub fn below(&mut self, end: u64) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        (mixed ^ (mixed >> 31)) % end
    }

    /// A place among so many; 0 where there is none.
    pub fn of(&mut self, many: usize) -> usize {
        self.below(many.max(1) as u64) as usize
    }
}
