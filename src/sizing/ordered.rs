//! An opening whose blind is ordered already. What was ordered stands: product, color, mount, draw and
//! control are the blind's. Where the survey asks for another now, that is a stop until someone says
//! on the blind's own row what is to be done with it; of a blind that hangs it is a check.

use super::{Sizing, size as size_by_facts};
use crate::earlier::KeptBlind;
use crate::frozen::{Frozen, FrozenQuery, as_ordered};
use crate::name::same_name;
use crate::query::{Held, OpeningIndex};
use crate::rules::Rules;
use crate::survey::Opening;
use crate::worked::Record;

/// Sizes one opening, as its blind was ordered if it was; `None` where the survey holds it.
///
/// # Errors
/// [`Held`] once a stop is on the record.
pub fn size<'r>(
    index: OpeningIndex,
    opening: &Opening,
    frozen: &Frozen<'_>,
    rules: &'r Rules,
    record: &mut Record<'r>,
) -> Result<Option<Sizing<'r>>, Held> {
    let Some(facts) = &opening.facts else { return Ok(None) };
    let quantity = opening.who.quantity;
    if let Some((asked, blind, detail)) = frozen.stop(index) {
        return Err(record.hold(asked, Some(blind.at), detail));
    }
    let Some(blind) = frozen.as_ordered(index) else {
        return size_by_facts(facts, quantity, rules, record).map(Some);
    };
    // Sized without a trace first: what the survey asks for now is of no account if it is not taken.
    let mut aside = Record::silent(index, opening.who.at, rules.project.units);
    let detail = match size_by_facts(facts, quantity, rules, &mut aside) {
        // The survey's own stop comes first, unless the blind hangs whatever it says.
        Err(Held(())) if !blind.is_fitted() => {
            return size_by_facts(facts, quantity, rules, record).map(Some);
        }
        Err(Held(())) => "the survey holds it".to_owned(),
        Ok(now) => match differences(&now, blind) {
            found if found.is_empty() => return size_by_facts(facts, quantity, rules, record).map(Some),
            found => found.join(", "),
        },
    };
    if blind.is_used_as_it_is() {
        record.ask(&FrozenQuery::UsedAsItIs, Some(blind.at), detail);
    } else if blind.is_fitted() {
        record.ask(&FrozenQuery::FittedDiffers, Some(blind.at), detail);
    } else {
        return Err(record.hold(&FrozenQuery::Differs, Some(blind.at), detail));
    }
    size_by_facts(&as_ordered(facts, blind), quantity, rules, record).map(Some)
}

/// In what a blind that was ordered is not what its opening would get: `draw left ordered, right now`.
fn differences(now: &Sizing<'_>, blind: &KeptBlind) -> Vec<String> {
    let mut found = Vec::new();
    let mut compare = |what: &str, ordered: &str, now: &str| {
        if !same_name(ordered, now) {
            found.push(format!("{what} {ordered} ordered, {now} now"));
        }
    };
    compare("product", &blind.product, &now.product.name);
    compare("color", &blind.color, &now.color);
    compare("mount", blind.mount.word(), now.hung.mount().word());
    if let Some(draw) = blind.draw {
        compare("draw", draw.word(), now.operation.draw.word());
    }
    compare("control", blind.control.word(), now.operation.control.word());
    found
}
