//! Where a blind in front of its opening ends below.

use crate::length::Length;
use crate::rules::CoverRules;
use crate::sizing::floor;
use crate::sizing::queries::SizingQuery;
use crate::survey::{Facts, Given, Kind};
use crate::worked::{Number, Record, Rule};

/// Bottom of the blind above the bottom of the opening. `line` is from the wall to the louvers: what
/// stands out less ends the wall below, but not the blind.
pub(super) fn bottom<'r>(
    facts: &Facts,
    cover: &'r CoverRules,
    line: Length,
    record: &mut Record<'r>,
) -> Length {
    let of = Number::Bottom;
    let gap = floor::gap_above_floor(facts, cover, of, record);
    if facts.kind != Kind::Window {
        let over_sill = "minus sill height";
        return match facts.sill {
            Some(sill) => record.step(of, over_sill, sill.at, gap - sill.value),
            None => gap,
        };
    }
    let below = below(facts, cover, line, of, record);
    match (facts.sill, facts.sill_height()) {
        (Some(given), Some(sill)) => {
            record.step(of, "no closer to the floor than the gap", given.at, below.max(gap - sill))
        }
        _ => below,
    }
}

fn below<'r>(
    facts: &Facts,
    cover: &'r CoverRules,
    line: Length,
    of: Number,
    record: &mut Record<'r>,
) -> Length {
    let wanted: &'r Rule<Length> = &cover.below_wanted;
    let below = record.step(of, "preferred overlap below the opening", wanted, -**wanted);
    let Some(wall) = facts.wall_below.filter(|_| is_in_the_way(facts.below_stands_out, cover, line)) else {
        return below;
    };
    let reach = (**wanted).min(wall.value - *cover.room_below);
    if reach < *cover.below_least {
        let query = SizingQuery::EndsAboveSill { above: record.shown(*cover.above_sill) };
        record.ask(&query, Some(wall.at), "");
        return record.step(of, "gap above the sill instead", &cover.above_sill, *cover.above_sill);
    }
    record.step(of, "no more than the free wall below minus clearance", wall.at, -reach)
}

/// Whether turned louvers would meet what ends the wall below; a blank is assumed to.
fn is_in_the_way(stands_out: Option<Given<Length>>, cover: &CoverRules, line: Length) -> bool {
    let free = line - cover.half_depth() - *cover.louver_clearance;
    stands_out.is_none_or(|given| given.value > free)
}
