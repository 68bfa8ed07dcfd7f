//! A blind that hangs from the ceiling or a soffit in front of its opening: as high as that is, on
//! inside brackets, with one drop. A wanted drop moves the bottom.
//!
//! A wanted drop that would reach nearer the floor than the gap, or lower than what stands below a
//! window, is refused; a shorter one is a check that says where the blind ends.

use super::bottom::bottom;
use super::{Down, Face, UnderCeiling, down, reach};
use crate::length::Length;
use crate::query::Held;
use crate::rules::{CoverRules, Rules};
use crate::sizing::limits::{self, Ends};
use crate::sizing::queries::SizingQuery;
use crate::sizing::{Mount, ground};
use crate::survey::{Facts, Kind};
use crate::worked::{Number, Record, Source};

/// The bracket, and how far from the wall it holds the rail.
pub(in crate::sizing) fn hang<'r>(
    facts: &Facts,
    cover: &'r CoverRules,
    rules: &Rules,
    record: &mut Record<'r>,
) -> UnderCeiling<'r> {
    let from_wall = reach::line(facts, cover, Face::Wall, Number::Setback, record);
    ground::check_edge(facts, from_wall, Mount::Ceiling, (cover, rules), record);
    UnderCeiling { bracket: &cover.inside_bracket_item, from_wall, allowance: None }
}

/// The heights, and the one drop.
pub(in crate::sizing) fn size<'r>(
    facts: &Facts,
    cover: &'r CoverRules,
    rules: &Rules,
    hung: &UnderCeiling<'r>,
    record: &mut Record<'r>,
) -> Result<(Down, Ends), Held> {
    let counted = if facts.kind == Kind::Window { facts.height.most() } else { facts.height.least() };
    let head = record.step(Number::Drop, "height of the opening", counted.at, counted.value);
    let Some(wall) = down::wall_above(facts, head, &rules.project) else {
        return Err(record.hold(&SizingQuery::CeilingUnknown, facts.mount.map(|mount| mount.at), ""));
    };
    if wall.value < Length::ZERO {
        return Err(record.hold(&SizingQuery::CeilingBelowHead, Some(wall.at), ""));
    }
    let above = record.step(Number::AboveHead, "up to the ceiling", wall.at, wall.value);
    let lowest = bottom(facts, cover, hung.from_wall, record);
    let rail_top = record.step(Number::Drop, "plus rail top above head", Source::Above, head + above);
    let (bottom, preferred) = match facts.drop_wanted {
        Some(wanted) => {
            let bottom = rail_top - wanted.value;
            record.step(Number::Bottom, "rail top minus the drop wanted", wanted.at, bottom);
            if bottom < lowest {
                let most = record.shown(rail_top - lowest);
                return Err(record.hold(&SizingQuery::DropBelowBottom { most }, Some(wanted.at), ""));
            }
            if bottom > lowest {
                let ends = record.shown(bottom - lowest).to_string();
                record.ask(&SizingQuery::DropEndsHigh, Some(wanted.at), ends);
            }
            (bottom, record.step(Number::Drop, "drop wanted, taken as given", wanted.at, wanted.value))
        }
        None => {
            let whole =
                record.step(Number::Drop, "rail top to blind bottom", Source::Above, rail_top - lowest);
            let drop = whole.rounded_down_to(*cover.rounding_step);
            (lowest, record.step(Number::Drop, "rounded down to the step", &cover.rounding_step, drop))
        }
    };
    let drops = limits::drops(Ends::only(preferred), cover, record)
        .map_err(|limit| record.hold(&limit, Some(wall.at), ""))?;
    Ok((Down { head, bottom, above, preferred_drop: preferred }, drops))
}
