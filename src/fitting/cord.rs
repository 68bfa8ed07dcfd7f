//! Whether a cord may operate a blind: by the rules of the project's jurisdiction, and by all of them,
//! of which the strictest decides, where none is named. Where no rule is known it is sized, with a
//! caution.
//!
//! A blind from stock is a stock product, any other a custom one. A height is above the finished
//! floor, for that is what a child stands on; on a floor of unknown thickness the opening is held. What
//! hangs below the blind's top is known only with the sill; else no cord counts as short.

use super::heights::Heights;
use super::queries::FittingQuery;
use crate::length::Length;
use crate::query::Held;
use crate::rules::safety::{self, CordFault, CordRule, Products};
use crate::rules::{Jurisdiction, Rules};
use crate::sizing::still_to_come;
use crate::sourcing::Supply;
use crate::survey::{CordDevice, Facts};
use crate::worked::Record;

/// The cord of a blind, as its rules allow it; `None` in it where no rule is known and nobody says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Cord {
    /// What keeps it from children.
    pub device: Option<CordDevice>,
    /// Its lowest point above the floor as it is on the day.
    pub height: Option<Length>,
}

/// The cord that is asked for.
///
/// # Errors
/// [`Held`] by a cord that no rule allows, or of which it is not known that they all do.
pub(super) fn settle(
    facts: &Facts,
    supply: Supply<'_>,
    heights: &Heights,
    rules: &Rules,
    record: &mut Record<'_>,
) -> Result<Cord, Held> {
    let asked_at = facts.control.map(|control| control.at);
    let cord = Cord {
        device: facts.cord_device.map(|device| device.value),
        height: facts.cord_height.map(|height| height.value),
    };
    let of = rules.project.jurisdiction;
    if of == Some(Jurisdiction::Unregulated) {
        record.ask(&FittingQuery::CordWithoutRule, asked_at, cord.in_words(record));
        return Ok(cord);
    }
    let to_come = still_to_come(facts, &rules.project);
    if let (Some(height), None) = (facts.cord_height, to_come) {
        return Err(record.hold(&FittingQuery::CordFloorUnknown, Some(height.at), ""));
    }
    let hung = safety::Cord {
        hangs: heights.drop_top.zip(cord.height).map(|(top, height)| top - height),
        device: cord.device,
        height: cord.height.map(|height| height - to_come.unwrap_or_default()),
    };
    let products = match supply {
        Supply::Made => Products::Made,
        Supply::Stock(_) | Supply::CutFromStock(_) | Supply::Unlisted => Products::Stock,
    };
    let faults = || rules.safety.cords(of, products).filter_map(|rule| Some((rule, rule.judge(hung).err()?)));
    let forbidden = faults().find(|(_, fault)| *fault == CordFault::Forbidden);
    if let Some((rule, fault)) = forbidden.or_else(|| faults().next()) {
        return Err(hold(rule, fault, hung, facts, record));
    }
    let sources: Vec<String> = rules.safety.cords(of, products).map(cited).collect();
    let detail = format!("{}; {}", cord.in_words(record), sources.join("; "));
    record.ask(&FittingQuery::CordAllowed, asked_at, detail);
    Ok(cord)
}

fn hold(
    rule: &CordRule,
    fault: CordFault<'_>,
    hung: safety::Cord,
    facts: &Facts,
    record: &mut Record<'_>,
) -> Held {
    let (number, devices) = (rule.source.to_string(), rule.devices_in_words());
    let asked_at = facts.control.map(|control| control.at);
    match fault {
        CordFault::Forbidden => record.hold(&FittingQuery::CordForbidden { number }, asked_at, named(rule)),
        CordFault::NoDevice => {
            record.hold(&FittingQuery::CordDeviceUnknown { number, devices }, asked_at, named(rule))
        }
        CordFault::NoHeight => {
            record.hold(&FittingQuery::CordHeightUnknown { number }, asked_at, named(rule))
        }
        CordFault::OtherDevice(device) => {
            let query = FittingQuery::CordDeviceRefused { number, device, devices };
            record.hold(&query, facts.cord_device.map(|given| given.at), named(rule))
        }
        CordFault::TooLow(least) => {
            let is = hung.height.map_or_else(String::new, |height| record.shown(height).to_string());
            let both = format!("{is} above the finished floor, {least} needed; {}", named(rule));
            record.hold(&FittingQuery::CordTooLow { number }, facts.cord_height.map(|given| given.at), both)
        }
    }
}

/// Whose rule it is, its title, its date and its force, beside a message that has its number.
fn named(rule: &CordRule) -> String {
    let source = &rule.source;
    format!("{}: {}, {}, {}", rule.jurisdiction, source.title, source.dated, rule.force.word())
}

/// Whose rule it is, its title, its number, its date, its force, and how sure its values are.
fn cited(rule: &CordRule) -> String {
    format!("{}: {}; {}", rule.jurisdiction, rule.source.in_full(), rule.force.word())
}

impl Cord {
    /// `cleat, lowest point 64 in above the floor`.
    fn in_words(self, record: &Record<'_>) -> String {
        let device = self.device.map_or("no device given", CordDevice::word);
        match self.height {
            Some(height) => format!("{device}, lowest point {} above the floor", record.shown(height)),
            None => format!("{device}, height not given"),
        }
    }
}
