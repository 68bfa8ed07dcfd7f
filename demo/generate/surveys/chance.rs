//! Numbers that look random and are the same in every run, on every machine.

/// SplitMix64, as published by Steele, Lea and Flood (Fast Splittable Pseudorandom Number
/// Generators, 2014; constants from memory): any seed will do, and ten lines are all of it.
pub struct Chance(u64);

impl Chance {
    /// A sequence of its own for each place, so that a change at one opening moves no other.
    pub fn at(place: &[u64]) -> Chance {
        place.iter().fold(Chance(0x5111_B00C), |mut chance, part| Chance(chance.next() ^ part))
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^ (mixed >> 31)
    }

    /// One of them; `from` is not empty.
    pub fn pick<T: Copy>(&mut self, from: &[T]) -> T {
        let position = (u128::from(self.next()) * from.len() as u128) >> 64;
        from[position as usize]
    }
}
