//! How far merging gets to its bounds, and how fast: `cargo bench --bench merging`, with `-- SEED` for other
//! jobs than the last.
//!
//! Jobs have 20 types of openings, each opening 1/8 in to 1 in off its type, inside and outside, and blinds
//! that may move by 1/8 in, by 1 in, or within their whole windows. A time is that of merging and of the six
//! limits of sizes against money, which are seven plans. With seed 1, on two cores:
//!
//! | openings | off by up to | sizes before | after | proven | longest |
//! |---|---|---|---|---|---|
//! | 500 | 1/4 in | 314 | 128, 28, 27 | sizes and movement | 0.04 s |
//! | 500 | 1 in | 482 | 358, 132, 126 | sizes and movement | 0.17 s |
//! | 10,000 | 1/4 in | 500 | 162, 34, 33 | sizes and movement | 0.15 s |
//! | 10,000 | 1 in | 4,674 | 1,304, 229, 224 | at least 1,294, 227, 222 | 2.5 s |
//!
//! In the last, nearly every size of each type occurs, and the bound stays open. The least cost of 300
//! openings with set-ups of 5, 20 and 100 is proven at every limit, in 0.6 s for all six.

#![allow(missing_docs, clippy::expect_used, reason = "a benchmark says what is wrong by failing")]

#[path = "../support/chance.rs"]
#[allow(dead_code, reason = "the benchmark takes one kind of number")]
mod chance;
#[path = "../support/windows.rs"]
mod windows;

use std::error::Error;
use std::io::{self, Write};
use std::time::Instant;

use chance::Chance;
use rust_decimal::Decimal;
use sillbook::length::{Length, Unit};
use sillbook::rules;
use sillbook::sourcing::Merging;
use windows::{Blinds, sourced};

const TYPES: u64 = 20;

fn main() -> Result<(), Box<dyn Error>> {
    let seed = std::env::args().skip(1).find_map(|word| word.parse().ok()).unwrap_or(1);
    let limits = [Length::sixty_fourths(8), Length::inches(1), Length::inches(1_000)];
    let mut out = io::stdout();
    writeln!(
        out,
        "| openings | spread, 1/8 in | limit, mm | sizes | at least | to | adjusted, mm | proven | time |"
    )?;
    writeln!(out, "|---|---|---|---|---|---|---|---|---|")?;
    for (openings, spread) in [(500, 2), (500, 8), (10_000, 2), (10_000, 8)] {
        let blinds = job(openings, spread, seed);
        for limit in limits {
            let mut rules = rules::build(&[], Unit::Inch).map_err(|_| "the built-in rules")?.value;
            rules.project.merge_sizes = Some(limit);
            let start = Instant::now();
            let merging = sourced(&blinds, &rules).value.merging.ok_or("merging was asked for")?;
            let time = start.elapsed().as_secs_f64();
            let (limit, adjusted) = (limit.nm() / 1_000_000, merging.movement.nm() / 1_000_000);
            let Merging { before, after, at_least, is_least_movement, .. } = merging;
            writeln!(
                out,
                "| {openings} | {spread} | {limit} | {before} | {at_least} | {after} | {adjusted} | {is_least_movement} | {time:.2} s |"
            )?;
        }
    }
    writeln!(
        out,
        "\n| openings | set-up | fewest sizes | cost | cheapest | cost | proven | time of six limits |"
    )?;
    writeln!(out, "|---|---|---|---|---|---|---|---|")?;
    let blinds = job(300, 8, seed);
    for set_up in [5, 20, 100] {
        let mut rules = rules::build(&[], Unit::Inch).map_err(|_| "the built-in rules")?.value;
        rules.rates.size_set_up = Some(Decimal::from(set_up));
        let start = Instant::now();
        let curve = sourced(&blinds, &rules).value.sizes_curve;
        let time = start.elapsed().as_secs_f64();
        for at in curve {
            let cost = at.cost.ok_or("prices are known")?;
            let cheapest = at.cheapest.ok_or("prices are known")?;
            writeln!(
                out,
                "| 300 | {set_up} | {} | {cost} | {} | {} | {} | {time:.2} s |",
                at.fewest.after, cheapest.merging.after, cheapest.cost, cheapest.is_least
            )?;
        }
    }
    Ok(())
}

/// Openings around 20 types, each up to `spread` eighths of an inch wider or narrower, longer or shorter.
fn job(openings: usize, spread: u64, seed: u64) -> Vec<Blinds> {
    let mut chance = Chance::new(seed);
    let types: Vec<(i64, i64, bool)> = (0..TYPES)
        .map(|_| (24 + chance.below(72) as i64, 36 + chance.below(48) as i64, chance.below(3) > 0))
        .collect();
    let mut aside = move |end: u64| chance.below(end) as i64;
    let of = |_| {
        let (width, drop, is_inside) = types[aside(TYPES) as usize];
        let mut off = |inches: i64| 16 * inches + 2 * (aside(2 * spread + 1) - spread as i64);
        let (width, drop) = (off(width), off(drop));
        // Inside a blind may lose 1/2 in; outside it laps 2 in, 1 in at least and 4 in at most on each side.
        let ends = match is_inside {
            true => [[width, width - 8, width], [drop, drop - 8, drop]],
            false => [[width + 64, width + 32, width + 64], [drop + 48, drop + 16, drop + 96]],
        };
        Blinds::of(is_inside, 1, ends)
    };
    (0..openings).map(of).collect()
}
