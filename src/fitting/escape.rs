//! An opening that serves for escape: what it leaves clear with its sash and its blind open, against
//! the code of its jurisdiction.
//!
//! The strictest figures hold where no jurisdiction is named, and the larger of two areas everywhere:
//! which floor is at grade cannot be known from a survey. A sill counts from the floor as it is on the
//! day, as every height does; one still to come only makes it lower. A width of which one half is
//! unknown is judged by the other, and the unknown half is asked about besides.

use rust_decimal::{Decimal, RoundingStrategy};

use super::queries::FittingQuery;
use crate::length::{Length, Units};
use crate::rules::safety::EscapeRule;
use crate::rules::{Jurisdiction, Rules};
use crate::schema::openings::{ESCAPE_CLEAR_HEIGHT, ESCAPE_CLEAR_WIDTH};
use crate::survey::{Control, Facts};
use crate::worked::{Number, Record, Source};

/// Square meters in a square foot, exactly (NIST SP 811, B.8).
const M2_PER_SQ_FT: Decimal = Decimal::from_parts(9_290_304, 0, 0, false, 8);

/// What an escape opening leaves clear.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Escape {
    /// The smaller of the clear width of the sash and that of the open blind; `None` if neither is known.
    pub clear: Option<Length>,
    /// The least that the code asks for; `None` where no code is known.
    pub least: Option<Length>,
}

/// Compares an escape opening with its code, and asks about what falls short or is not known;
/// `None` for any other opening.
pub(super) fn check(
    facts: &Facts,
    control: Control,
    clear_open: Option<Length>,
    rules: &Rules,
    record: &mut Record<'_>,
) -> Option<Escape> {
    if !facts.escape {
        return None;
    }
    if control == Control::Motor {
        record.ask(&FittingQuery::MotorOnEscape, facts.control.map(|control| control.at), "");
    }
    for (column, given) in
        [(&ESCAPE_CLEAR_WIDTH, facts.escape_clear_width), (&ESCAPE_CLEAR_HEIGHT, facts.escape_clear_height)]
    {
        if given.is_none() {
            record.ask(&FittingQuery::EscapeSashUnknown { column }, None, "");
        }
    }
    if clear_open.is_none() {
        record.ask(&FittingQuery::EscapeBlindUnknown, None, "");
    }
    let clear = clear_width(facts, clear_open, record);
    let of = rules.project.jurisdiction;
    let Some(code) = rules.safety.escape(of) else {
        let jurisdiction = of.map_or("none", Jurisdiction::word);
        let detail = clear.map_or_else(String::new, |clear| format!("{} clear", record.shown(clear)));
        record.ask(&FittingQuery::EscapeCodeUnknown { jurisdiction }, None, detail);
        return Some(Escape { clear, least: None });
    };
    compare(code, facts, clear, record);
    Some(Escape { clear, least: Some(code.width.length) })
}

/// The smaller of both clear widths, as far as they are known.
fn clear_width(facts: &Facts, clear_open: Option<Length>, record: &mut Record<'_>) -> Option<Length> {
    let of = Number::EscapeClear;
    if let Some(open) = clear_open {
        record.step(of, "clear when open", Source::Above, open);
    }
    let Some(sash) = facts.escape_clear_width else { return clear_open };
    let smaller = clear_open.map_or(sash.value, |open| open.min(sash.value));
    Some(record.step(of, "no more than the sash leaves clear", sash.at, smaller))
}

/// Asks about each limit of the code that is not kept, with both figures.
fn compare(code: &EscapeRule, facts: &Facts, clear: Option<Length>, record: &mut Record<'_>) {
    let source = || code.source.to_string();
    let needed = |is: Length, least: Length, record: &Record<'_>| {
        format!("{} clear, {} needed", record.shown(is), record.shown(least))
    };
    let sash = facts.escape_clear_width.map(|given| given.at);
    if let Some(clear) = clear.filter(|&clear| clear < code.width.length) {
        let detail = needed(clear, code.width.length, record);
        record.ask(&FittingQuery::EscapeTooNarrow { source: source() }, sash, detail);
    }
    let height = facts.escape_clear_height;
    if let Some(height) = height.filter(|height| height.value < code.height.length) {
        let detail = needed(height.value, code.height.length, record);
        record.ask(&FittingQuery::EscapeTooLow { source: source() }, Some(height.at), detail);
    }
    if let Some((clear, height)) = clear.zip(height)
        && !code.is_enough(clear, height.value)
    {
        let detail = areas(clear, height.value, code.area_sq_ft, record.units());
        record.ask(&FittingQuery::EscapeTooSmall { source: source() }, Some(height.at), detail);
    }
    let Some(sill) = facts.sill_height() else {
        return record.ask(&FittingQuery::EscapeSillUnknown { source: source() }, None, "");
    };
    if sill > code.sill.length {
        let [is, most] = [sill, code.sill.length].map(|height| record.shown(height));
        let mut detail = format!("{is} above the floor, at most {most} allowed");
        if let Some(to_come) = facts.floor_to_come {
            detail += &format!("; {} above the finished floor", record.shown(sill - to_come.value));
        }
        record.ask(
            &FittingQuery::EscapeSillTooHigh { source: source() },
            facts.sill.map(|sill| sill.at),
            detail,
        );
    }
}

/// A clear area rounded down and the one needed, in the survey's units.
fn areas(width: Length, height: Length, needed_sq_ft: Decimal, units: Units) -> String {
    let clear_m2 = width.meters() * height.meters();
    let down = |area: Decimal| area.round_dp_with_strategy(3, RoundingStrategy::ToZero).normalize();
    let up = |area: Decimal| area.round_dp_with_strategy(3, RoundingStrategy::AwayFromZero).normalize();
    match units {
        Units::Inches => {
            format!("{} sq ft clear, {needed_sq_ft} sq ft needed", down(clear_m2 / M2_PER_SQ_FT))
        }
        Units::Millimeters => {
            format!("{} m2 clear, {} m2 needed", down(clear_m2), up(needed_sq_ft * M2_PER_SQ_FT))
        }
    }
}
