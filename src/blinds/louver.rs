//! Vertical louvers: how many, how long, how far they stack and what the blind weighs.

use rust_decimal::Decimal;

use crate::length::Length;
use crate::rules::LouverRules;
use crate::sizing::{Mount, Size};
use crate::survey::Draw;

/// Louvers that cover a finished width: the last one closes what the pitch leaves open. A split
/// draw needs an even number, one half for each side.
pub fn count(width: Length, draw: Draw, rules: &LouverRules) -> u32 {
    let spans = (width - *rules.louver_width).spans_of(*rules.pitch);
    let count = u32::try_from(spans + 1).unwrap_or(u32::MAX - 1);
    match draw {
        Draw::Split => count + count % 2,
        Draw::Left | Draw::Right => count,
    }
}

/// Finished length of a louver in a blind of this drop.
pub fn length(drop: Length, mount: Mount, rules: &LouverRules) -> Length {
    match mount {
        Mount::Inside => drop - *rules.louver_off_inside,
        Mount::Outside => drop - *rules.louver_off_outside,
    }
}

/// Spacer links along one end of the louvers: one between each two that hang together.
pub fn links(count: u32, draw: Draw) -> u32 {
    match draw {
        Draw::Split => count.saturating_sub(2),
        Draw::Left | Draw::Right => count.saturating_sub(1),
    }
}

/// Depth of one side's bundle when open.
pub fn stack(count: u32, draw: Draw, rules: &LouverRules) -> Length {
    let on_a_side = match draw {
        Draw::Split => count / 2,
        Draw::Left | Draw::Right => count,
    };
    *rules.stack_per_louver * i64::from(on_a_side) + *rules.stack_base
}

/// Cut length of the headrail: its end caps make up the width.
pub fn rail_cut(width: Length, rules: &LouverRules) -> Length {
    width - *rules.end_cap * 2
}

/// Cut length of the tilt rod.
pub fn rod_cut(width: Length, rules: &LouverRules) -> Length {
    width - *rules.rod_off
}

/// Mass of all louvers with their weights and carriers, kg, exact.
pub fn louver_mass(count: u32, length: Length, rules: &LouverRules) -> Decimal {
    let fabric = *rules.fabric_mass * rules.louver_width.metres() * length.metres();
    (fabric + *rules.weight_mass + *rules.carrier_mass) * Decimal::from(count)
}

/// Mass of the headrail with what is in it and of the valance's front, kg, exact.
pub fn rail_and_valance_mass(size: Size, valance: Length, rules: &LouverRules) -> Decimal {
    *rules.rail_mass * size.width.metres() + *rules.valance_mass * valance.metres()
}
