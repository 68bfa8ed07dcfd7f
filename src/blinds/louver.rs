//! Vertical louvers: how many, how long, how far they stack, what the blind is made of and what
//! it weighs.

use rust_decimal::Decimal;

use super::{
    CutPart, Made, Panel, Part, Spares, Stack, VALANCE_FRONT, VALANCE_RETURN, Valance, ValanceRules,
    WandRules, Wanted, Ware,
};
use crate::length::Length;
use crate::rules::{LouverRules, SmallPart};
use crate::sizing::Mount;
use crate::survey::Draw;
use crate::worked::{Amount, Number, Record, Rule};

/// The headrail.
pub const HEADRAIL: Part = Part::named("headrail");
/// The rod that turns the louvers.
pub const TILT_ROD: Part = Part::named("tilt rod");
/// One of the louvers.
pub const LOUVER: Part = Part::named("louver");

/// Caps that close the two ends of a headrail.
const END_CAPS: u32 = 2;

/// The louvers of one blind.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Louvers {
    /// How many.
    pub count: u32,
    /// Finished length of each.
    pub length: Length,
    /// From one to the next.
    pub pitch: Length,
}

impl Louvers {
    fn of(rules: &LouverRules, wanted: Wanted) -> Louvers {
        Louvers {
            count: count(wanted.size.width, wanted.draw, rules),
            length: wanted.size.drop - **taken_by_rail(rules, wanted.mount),
            pitch: *rules.pitch,
        }
    }

    /// Spacer links along one end: one between each two that hang together.
    fn links(self, draw: Draw) -> u32 {
        self.count.saturating_sub(sides(draw))
    }
}

/// What a louver is shorter than the drop.
const fn taken_by_rail(rules: &LouverRules, mount: Mount) -> &Rule<Length> {
    match mount {
        Mount::Inside | Mount::Ceiling => &rules.louver_off_inside,
        Mount::Outside => &rules.louver_off_outside,
    }
}

/// Louvers that cover a finished width: the last one closes what the pitch leaves open. A split
/// draw needs an even number, one half for each side.
fn count(width: Length, draw: Draw, rules: &LouverRules) -> u32 {
    let spans = (width - *rules.louver_width).spans_of(*rules.pitch);
    let count = u32::try_from(spans + 1).unwrap_or(u32::MAX - 1);
    count.next_multiple_of(sides(draw))
}

/// Sides to which the louvers are drawn.
const fn sides(draw: Draw) -> u32 {
    match draw {
        Draw::Split => 2,
        Draw::Left | Draw::Right => 1,
    }
}

pub(super) fn hang<'r>(rules: &'r LouverRules, wanted: Wanted, record: &mut Record<'r>) -> Panel {
    let louvers @ Louvers { count, length, .. } = Louvers::of(rules, wanted);
    record.step(Number::Louvers, "enough to cover the width at the pitch", &rules.pitch, count);
    let off = taken_by_rail(rules, wanted.mount);
    record.step(Number::LouverLength, "drop minus louver deduction", off, length);
    let on_a_side = i64::from(count / sides(wanted.draw));
    let width = *rules.stack_per_louver * on_a_side + *rules.stack_base;
    let step = "louvers on one side x stack per louver, plus fixed part";
    let width = record.step(Number::Stack, step, &rules.stack_per_louver, width);
    Panel { length, stack: Some(Stack { draw: wanted.draw, width }), louvers: Some(louvers) }
}

pub(super) fn make<'r>(
    rules: &'r LouverRules,
    wanted: Wanted,
    valance: Option<Valance>,
    record: &mut Record<'r>,
) -> Made {
    let louvers = Louvers::of(rules, wanted);
    let width = wanted.size.width;
    let step = "width minus two end caps";
    let rail = record.step(Number::HeadrailCut, step, &rules.end_cap, width - *rules.end_cap * 2);
    let step = "width minus tilt rod deduction";
    let rod = record.step(Number::TiltRodCut, step, &rules.rod_off, width - *rules.rod_off);

    let louver = *rules.louver_mass * rules.louver_width.meters() * louvers.length.meters();
    let hung = (louver + *rules.weight_mass + *rules.carrier_mass) * Decimal::from(louvers.count);
    let step = "louvers with bottom weights and carriers";
    record.step(Number::Weight, step, &rules.louver_mass, Amount::Mass(hung));
    let front = valance.map_or(Length::ZERO, |valance| valance.front);
    let above = *rules.rail_mass * width.meters() + *rules.valance_mass * front.meters();
    record.step(Number::Weight, "plus rail and valance", &rules.rail_mass, Amount::Mass(hung + above));

    Made {
        parts: parts(rules, [rail, rod], louvers, valance),
        wares: wares(louvers, wanted.draw),
        mass: hung + above,
        moving: hung,
    }
}

pub(super) const fn valance(rules: &LouverRules) -> ValanceRules<'_> {
    ValanceRules { beyond: &rules.return_beyond, clip_offset: &rules.clip_offset }
}

pub(super) const fn wand(rules: &LouverRules) -> WandRules<'_> {
    WandRules {
        step: &rules.wand_step,
        end_height: &rules.wand_end_height,
        above_bottom: &rules.wand_above_bottom,
        in_reach: &rules.wand_in_reach,
        tilt: &rules.wand_tilt,
    }
}

fn parts(
    rules: &LouverRules,
    [rail, rod]: [Length; 2],
    louvers: Louvers,
    valance: Option<Valance>,
) -> Vec<CutPart> {
    let mut parts = vec![
        CutPart::one(HEADRAIL, &rules.rail_material, rail),
        CutPart::one(TILT_ROD, &rules.rod_material, rod),
    ];
    parts.extend(valance.map(|valance| CutPart::one(VALANCE_FRONT, &rules.valance_material, valance.front)));
    parts.push(CutPart {
        each: louvers.count,
        spares: Some(Spares { width: *rules.louver_width, least: *rules.least_spare_louvers }),
        ..CutPart::one(LOUVER, &rules.louver_material, louvers.length + *rules.hem)
    });
    // Both returns are as long, where there are two.
    let returns = valance.map(|valance| valance.returns).filter(|returns| returns.count() > 0);
    parts.extend(returns.map(|returns| CutPart {
        each: returns.count(),
        ..CutPart::one(VALANCE_RETURN, &rules.valance_material, returns.left.max(returns.right))
    }));
    parts
}

fn wares(louvers: Louvers, draw: Draw) -> Vec<(Ware, u32)> {
    [
        (SmallPart::Carrier, louvers.count),
        (SmallPart::Hanger, louvers.count),
        (SmallPart::BottomWeight, louvers.count),
        // Along the top and along the bottom.
        (SmallPart::SpacerLink, 2 * louvers.links(draw)),
        (SmallPart::EndCap, END_CAPS),
    ]
    .map(|(part, count)| (Ware::Small(part), count))
    .into()
}
