//! Measurements that no building has, and those that contradict each other.
//!
//! An opening above its ceiling is a check, not a stop: the ceiling is one number for the whole
//! project, the opening was measured; outside, too low a wall above is a stop already. A sill at or
//! above the head is a stop: one of them is wrong, and nothing says which.

use super::queries::SizingQuery;
use crate::length::{Length, Unit};
use crate::query::Held;
use crate::rules::{CoverRules, Project, SizesGiven};
use crate::schema::Column;
use crate::schema::openings::{
    BLOCKING, BOARD_THICKNESS, CASING_WIDTH, CORD_DEVICE, CORD_HEIGHT, ESCAPE_CLEAR_HEIGHT,
    ESCAPE_CLEAR_WIDTH, FIRST_STUD, FLOOR_TO_COME, HANDLE, HEADER_HEIGHT, MOTOR_SIDE, RECESS_DEPTH,
    STUD_SPACING, TRIM,
};
use crate::survey::{Control, Facts, Given, Substrate};
use crate::worked::Record;

/// A recess less deep than this, and not 0, is likely in the wrong unit (common practice, no source).
const LEAST_DEPTH: Length = Length::sixty_fourths(32);
/// A casing wider than this, or a layer of board thicker than that, is likely in the wrong unit (common
/// practice, no source).
const MOST_CASING: Length = Length::inches(24);
const MOST_BOARD: Length = Length::inches(4);
/// How far head less sill may be from the height (common practice, no source).
const MOST_HEAD_OFF: Length = Length::sixty_fourths(32);

/// How far from the opening a stud is named, and how high wood over it is (common practice, no source).
const MOST_STUD_OFF: Length = Length::inches(48);
const MOST_HEADER: Length = Length::inches(36);
/// How far width and height may be from what a pair of diagonals is of (common practice, no source).
const MOST_DIAGONAL_OFF: Length = Length::inches(2);

/// Stops at a depth, handle, casing or floor that is likely in the wrong unit, and at a sill that
/// is no lower than the head; checks what else cannot be as it is written.
pub(super) fn check(
    facts: &Facts,
    cover: &CoverRules,
    project: &Project,
    record: &mut Record<'_>,
) -> Result<(), Held> {
    let limits: [(&'static Column, _, Length); 6] = [
        (&RECESS_DEPTH, facts.recess_depth, *cover.most_depth),
        (&HANDLE, facts.handle, *cover.most_handle),
        (&TRIM, facts.trim, *cover.most_trim),
        (&CASING_WIDTH, facts.casing_width, MOST_CASING),
        (&BOARD_THICKNESS, facts.board_thickness, MOST_BOARD),
        (&FLOOR_TO_COME, facts.floor_to_come, *cover.most_floor_to_come),
    ];
    let mut held = None;
    for (column, given, most) in limits {
        if let Some(given) = given.filter(|given| given.value > most) {
            let query = SizingQuery::Implausible { column, most: record.shown(most) };
            let likely = in_another_unit(given.value, Length::ZERO..=most, record);
            held = Some(record.hold(&query, Some(given.at), likely));
        }
    }
    if let Some(depth) =
        facts.recess_depth.filter(|depth| depth.value > Length::ZERO && depth.value < LEAST_DEPTH)
    {
        let query = SizingQuery::ShallowDepth { least: record.shown(LEAST_DEPTH) };
        let likely = in_another_unit(depth.value, LEAST_DEPTH..=*cover.most_depth, record);
        record.ask(&query, Some(depth.at), likely);
    }
    if let (Some(handle), None) = (facts.handle, facts.depth_to)
        && handle.value > Length::ZERO
    {
        record.ask(&SizingQuery::HandleFromWhat, Some(handle.at), "");
    }
    not_used(facts, record);
    unlikely(facts, record);
    diagonals(facts, project, record);
    escape(facts, project, record);
    if let (Some(casing), Some(wall)) = (facts.casing_width, facts.wall_above)
        && casing.value > wall.value
    {
        let both = format!("casing {}, wall {}", record.shown(casing.value), record.shown(wall.value));
        record.ask(&SizingQuery::CasingOverWall, Some(casing.at), both);
    }
    if project.sizes_given == SizesGiven::Opening {
        held = heights(facts, project, record).err().or(held);
    }
    held.map_or(Ok(()), Err)
}

/// Compares sill, height, head and ceiling, all from the floor as it is.
fn heights(facts: &Facts, project: &Project, record: &mut Record<'_>) -> Result<(), Held> {
    let sill = facts.sill_height();
    if let (Some(sill), Some(head)) = (sill, facts.head)
        && sill >= head.value
    {
        let both = format!("sill {}, head {}", record.shown(sill), record.shown(head.value));
        return Err(record.hold(&SizingQuery::SillOverHead, Some(head.at), both));
    }
    let (least, most) = (facts.height.least().value, facts.height.most().value);
    if let Some(head) = facts.head {
        // With the sill unknown, a height that reaches below the floor is wrong all the same.
        let between = head.value - sill.unwrap_or_default();
        let over = sill.is_some() && between - most > MOST_HEAD_OFF;
        if over || least - between > MOST_HEAD_OFF {
            let query = SizingQuery::HeadDiffers { most: record.shown(MOST_HEAD_OFF) };
            let both = format!("{} between them, height {}", record.shown(between), record.shown(least));
            record.ask(&query, Some(head.at), both);
        }
    }
    let top = sill.map(|sill| Given { value: sill + most, at: facts.height.most().at });
    let highest = top.into_iter().chain(facts.head).max_by_key(|top| top.value);
    if let (Some(ceiling), Some(top)) = (project.ceiling_height, highest)
        && top.value > ceiling.value
    {
        let both =
            format!("{} above the floor, ceiling {}", record.shown(top.value), record.shown(ceiling.value));
        record.ask(&SizingQuery::OverCeiling, Some(top.at), both);
    }
    Ok(())
}

/// What a length is if its number is in another unit than it was read in, where that is likely.
fn in_another_unit(length: Length, likely: std::ops::RangeInclusive<Length>, record: &Record<'_>) -> String {
    let read = record.units().unit();
    let number = length.in_unit(read).normalize();
    let units = [Unit::Millimeter, Unit::Centimeter, Unit::Inch].into_iter().filter(|unit| *unit != read);
    let mut meanings = units.filter_map(|unit| Some((unit, Length::of(number, unit)?)));
    let meant = meanings.find(|(_, meant)| likely.contains(meant) && *meant > Length::ZERO);
    let read = record.shown(length);
    meant.map_or_else(
        || read.to_string(),
        |(unit, meant)| format!("{read}; {number} {} would be {}", unit, record.shown(meant)),
    )
}

/// Names what is given and serves nothing here, so that nobody waits for it.
fn not_used(facts: &Facts, record: &mut Record<'_>) {
    let control = facts.control.map_or(Control::Wand, |control| control.value);
    let is_framed = facts.substrate.is_none_or(|substrate| {
        matches!(substrate.value, Substrate::StudWall | Substrate::Drywall | Substrate::Steel)
    });
    let no_motor = (control != Control::Motor, "the blind has no motor");
    let no_cord = (control != Control::Cord, "the blind has no cord");
    let no_studs = (!is_framed, "the wall has no studs");
    let at = |given: Option<Given<Length>>| given.map(|given| given.at);
    let given: [(&'static Column, _, _); 6] = [
        (&MOTOR_SIDE, facts.motor_side.map(|given| given.at), no_motor),
        (&CORD_DEVICE, facts.cord_device.map(|given| given.at), no_cord),
        (&CORD_HEIGHT, at(facts.cord_height), no_cord),
        (&STUD_SPACING, at(facts.stud_spacing), no_studs),
        (&FIRST_STUD, at(facts.first_stud), no_studs),
        (&BLOCKING, facts.blocking.filter(|blocking| blocking.value).map(|given| given.at), no_studs),
    ];
    for (column, at, (is_unused, for_what)) in given {
        if is_unused && at.is_some() {
            record.ask(&SizingQuery::GivenNotUsed { column, for_what }, at, "");
        }
    }
}

/// Asks about lengths beside which wood or a stud would be counted that is likely not there.
fn unlikely(facts: &Facts, record: &mut Record<'_>) {
    let beside = |stud: Length| {
        let past = (stud - facts.width.most().value).max(Length::ZERO - stud);
        past > MOST_STUD_OFF
    };
    let stud = facts.first_stud.filter(|stud| beside(stud.value));
    let header = facts.header_height.filter(|header| header.value > MOST_HEADER);
    for (column, given, most) in
        [(&FIRST_STUD, stud, facts.width.most().value + MOST_STUD_OFF), (&HEADER_HEIGHT, header, MOST_HEADER)]
    {
        if let Some(given) = given {
            let query = SizingQuery::Unlikely { column, most: record.shown(most) };
            let likely = in_another_unit(given.value.abs(), Length::ZERO..=most, record);
            record.ask(&query, Some(given.at), likely);
        }
    }
    let escape = facts.escape_clear_width.or(facts.escape_clear_height);
    if let Some(escape) = escape.filter(|_| !facts.escape) {
        record.ask(&SizingQuery::EscapeNotSaid, Some(escape.at), "");
    }
}

/// Asks about diagonals whose mean is none of an opening of this size: D1^2 + D2^2 = 2 (W^2 + H^2).
fn diagonals(facts: &Facts, project: &Project, record: &mut Record<'_>) {
    let Some([rising, falling]) = facts.diagonals.filter(|_| project.sizes_given == SizesGiven::Opening)
    else {
        return;
    };
    let square = |length: Length| i128::from(length.nm()) * i128::from(length.nm());
    let both = square(rising.value) + square(falling.value);
    let of = |width: Length, height: Length| 2 * (square(width) + square(height));
    let off = MOST_DIAGONAL_OFF;
    let least = of(facts.width.least().value - off, facts.height.least().value - off);
    let most = of(facts.width.most().value + off, facts.height.most().value + off);
    if !(least..=most).contains(&both) {
        let shown = format!("{} and {}", record.shown(rising.value), record.shown(falling.value));
        record.ask(&SizingQuery::DiagonalsDoNotFit, Some(rising.at), shown);
    }
}

/// Asks about a sash that is clear by more than its opening has.
fn escape(facts: &Facts, project: &Project, record: &mut Record<'_>) {
    if project.sizes_given != SizesGiven::Opening {
        return;
    }
    let sides: [(&'static Column, _, _); 2] = [
        (&ESCAPE_CLEAR_WIDTH, facts.escape_clear_width, facts.width.most().value),
        (&ESCAPE_CLEAR_HEIGHT, facts.escape_clear_height, facts.height.most().value),
    ];
    for (column, given, most) in sides {
        if let Some(given) = given.filter(|given| facts.escape && given.value > most) {
            let both = format!("{}, opening {}", record.shown(given.value), record.shown(most));
            record.ask(&SizingQuery::EscapeOverOpening { column }, Some(given.at), both);
        }
    }
}
