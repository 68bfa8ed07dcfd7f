//! Cutting jobs as buildings give them: bars of 5.8 m, a kerf of 3 mm, end trims of 10 mm, pieces
//! of 0.5 m to 3.5 m, in whole millimeters or eighths of an inch.

use std::collections::BTreeSet;

use sillbook::cutting::solver::{Instance, Item, Misfit, Stock};

/// How pieces are measured: the step between two lengths, in micrometers.
#[derive(Clone, Copy)]
pub struct Step {
    /// The unit's name.
    pub name: &'static str,
    micrometers: u64,
}

/// Whole millimeters.
pub const MILLIMETERS: Step = Step { name: "mm", micrometers: 1_000 };
/// Eighths of an inch.
pub const EIGHTHS: Step = Step { name: "1/8 in", micrometers: 3_175 };
/// Hundredths of a millimeter, for more lengths than there are millimeters.
pub const HUNDREDTHS: Step = Step { name: "0.01 mm", micrometers: 10 };

const KERF: u64 = 3_000;
const TRIM: u64 = 10_000;
const SHORTEST: u64 = 500_000;
const LONGEST: u64 = 3_500_000;

/// What a bar gives, a kerf included for its last piece.
const fn usable(bar: u64) -> u64 {
    bar - 2 * TRIM + KERF
}

/// Bars of 5.8 m, each counting one.
pub fn one_length() -> Vec<Stock> {
    vec![Stock { capacity: usable(5_800_000), cost: 1, limit: None }]
}

/// Four lengths with prices, none of which is the cheapest for every piece.
pub fn four_lengths() -> Vec<Stock> {
    [(3_600_000, 1_720), (4_500_000, 2_080), (5_800_000, 2_600), (6_500_000, 2_990)]
        .map(|(length, cost)| Stock { capacity: usable(length), cost, limit: None })
        .to_vec()
}

/// Offcuts on hand, each by itself.
pub fn offcuts(count: usize, seed: u64) -> Vec<Stock> {
    let mut chance = Chance(seed ^ 0xff);
    let offcut =
        |_| Stock { capacity: usable(700_000 + chance.below(2_800) * 1_000), cost: 0, limit: Some(1) };
    (0..count).map(offcut).collect()
}

/// So many pieces of so many lengths.
pub fn job(
    pieces: u64,
    lengths: usize,
    step: Step,
    stocks: Vec<Stock>,
    seed: u64,
) -> Result<Instance, Misfit> {
    let mut chance = Chance(seed);
    let least = SHORTEST / step.micrometers;
    let choice = LONGEST / step.micrometers - least;
    let mut drawn = BTreeSet::new();
    while drawn.len() < lengths {
        drawn.insert(least + chance.below(choice));
    }
    let size = |length: u64| length * step.micrometers + KERF;
    let mut items: Vec<Item> =
        drawn.into_iter().map(|length| Item { size: size(length), demand: 1 }).collect();
    for _ in lengths as u64..pieces {
        items[chance.below(lengths as u64) as usize].demand += 1;
    }
    Instance::new(items, stocks)
}

/// A job that fits no mold: four bar lengths of 2.5 m to 7 m at prices that follow their length or
/// do not, 5 to 60 lengths of piece, few or many of each, any saw.
pub fn priced(seed: u64) -> Result<Instance, Misfit> {
    let mut chance = Chance(seed ^ 0xb0a4);
    let kerf = chance.of(&[0, 2_000, 3_000, 3_175, 4_500]);
    let trim = chance.of(&[0, 5_000, 10_000, 25_000]);
    let mut bars = BTreeSet::new();
    while bars.len() < 4 {
        bars.insert(25 + chance.below(46));
    }
    let (by_length, beside, off) =
        chance.of(&[(100, 0, 0), (80, 600, 0), (115, 0, 10), (100, 150, 25), (60, 0, 60)]);
    let round = chance.of(&[1, 5, 10, 100]);
    let price = |bar: u64, chance: &mut Chance| {
        let price = (bar * by_length / 10 + beside / 4) * (100 + chance.below(off + 1)) / 10;
        price.next_multiple_of(round)
    };
    let stocks: Vec<Stock> = bars
        .iter()
        .map(|&bar| Stock {
            capacity: bar * 100_000 - 2 * trim + kerf,
            cost: price(bar, &mut chance),
            limit: None,
        })
        .collect();
    let longest = stocks[3].capacity - kerf;
    let step = chance.of(&[MILLIMETERS, EIGHTHS, Step { name: "5 mm", micrometers: 5_000 }]).micrometers;
    let least = chance.of(&[300_000, 600_000, 1_000_000]);
    let most = chance.of(&[1_500_000, 2_500_000, 3_500_000, longest]).min(longest);
    let lengths = 5 + chance.below(56) as usize;
    let each = chance.of(&[1, 3, 8, 30, 200]);
    let mut drawn = BTreeSet::new();
    while drawn.len() < lengths {
        drawn.insert((least + chance.below(most - least)) / step * step);
    }
    let items: Vec<Item> = drawn
        .into_iter()
        .map(|length| Item { size: length + kerf, demand: 1 + chance.below(each) })
        .collect();
    Instance::new(items, stocks)
}

/// A fixed sequence for each seed (Steele, Lea and Flood's SplitMix, 2014).
struct Chance(u64);

impl Chance {
    fn of<T: Copy>(&mut self, choice: &[T]) -> T {
        choice[self.below(choice.len() as u64) as usize]
    }

    fn below(&mut self, end: u64) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        (mixed ^ (mixed >> 31)) % end
    }
}
