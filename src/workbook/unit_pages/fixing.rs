//! What holds a blind, in words: its screws with their holes, and over the width of its block the
//! figures that chose them.

use rust_decimal::Decimal;

use crate::blinds::NOT_CHOSEN;
use crate::fitting::Blind;
use crate::force;
use crate::length::Units;
use crate::rounding::half_away;
use crate::rules::Fixing;
use crate::weight;

/// `8 pcs. wood screw 8 x 1 1/2 into wood, hole 3/32 in; 4 pcs. inside bracket; 4 packers`.
pub(super) fn screws(blind: &Blind<'_>, units: Units) -> String {
    let fitted = &blind.fitted;
    let count = fitted.fixings.count();
    let packers = match blind.packers() {
        0 => String::new(),
        packers => format!("; {packers} packers"),
    };
    let brackets = format!("{} pcs. {}{packers}", fitted.brackets.count(), fitted.brackets.item);
    let Some(fixing) = fitted.fixings.most.fixing else {
        return format!(
            "{NOT_CHOSEN}: find out what the wall is made of before drilling; {count} needed for {brackets}"
        );
    };
    let also = fitted.fixings.also.map_or_else(String::new, |also| match also.fixing {
        Some(fixing) => format!("{} where no stud is; ", one(fixing, also.count, units)),
        None => format!("{} {NOT_CHOSEN} where no stud is; ", also.count),
    });
    format!("{}; {also}{brackets}", one(fixing, fitted.fixings.most.count, units))
}

fn one(fixing: &Fixing, count: u32, units: Units) -> String {
    let hole = match fixing.pilot {
        Some(hole) => format!("hole {}", hole.on_tape(units)),
        None => "hole size: see its pack".to_owned(),
    };
    format!("{count} pcs. {} into {}, {hole}", fixing.item, fixing.substrate)
}

/// The load on the worst screw beside what it holds:
/// `Load: blind 14.3 lb, worst bracket 9.1 lbf; top screw: hanging 13.6 of 77.2 lbf (17.6 %), …`.
pub(super) fn load(blind: &Blind<'_>, units: Units) -> String {
    let fitted = &blind.fitted;
    let weight =
        format!("Load: blind {} {}", tenths(weight::beside(fitted.weight, units)), weight::symbol(units));
    let (Some(working), Some(fixing)) = (fitted.fixings.working, fitted.fixings.hardest) else {
        return format!("{weight}; not known what the screws hold, as none is chosen");
    };
    let force = |newtons: Decimal| tenths(force::beside(newtons, units));
    let unit = force::symbol(units);
    let percent = |part: Option<Decimal>| {
        part.map_or_else(String::new, |part| format!(" ({} %)", tenths(part * Decimal::ONE_HUNDRED)))
    };
    let screw = if blind.sizing.hung.reach().is_some() { "top screw" } else { "screw" };
    let of = match fitted.fixings.also {
        Some(_) => format!(" ({})", fixing.item),
        None => String::new(),
    };
    let borne = format!("{weight}, worst bracket {} {unit}; {screw}{of}", force(working.reaction));
    let (hangs, pulled) = (force(working.pull), force(working.pulled_pull));
    match working.holds {
        Some([sustained, at_once]) => format!(
            "{borne}: hanging {hangs} of {} {unit}{}, pulled {pulled} of {} {unit}{}; {}",
            force(sustained),
            percent(working.hung()),
            force(at_once),
            percent(working.pulled()),
            fixing.capacity_source().unwrap_or("source not known"),
        ),
        None => format!(
            "{borne}: hanging {hangs} {unit}, pulled {pulled} {unit}; what it holds here is not known: {} {unit} needed",
            force(working.needed().unwrap_or(working.pulled_pull)),
        ),
    }
}

fn tenths(number: Decimal) -> Decimal {
    half_away(number, 1).normalize()
}
