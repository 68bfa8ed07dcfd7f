//! An opening whose blind is ordered already. What was ordered stands: product, color, mount, draw and
//! control are the blind's. Where the survey asks for another now, that is a stop until someone says
//! on the blind's own row what is to be done with it; of a blind that hangs it is a check.
//!
//! What the opening itself rules out (a recess too shallow for the mount, a size that is not given) stays a
//! stop, though a blind hangs there: one of the two was measured or written wrong, and whoever takes it
//! down, or orders it again, must not be told that it fits.
//!
//! Of a row that stands for several, each ordered blind is looked at, and the first decides how the rest
//! of the row is sized.

use super::{Size, Sizing, size as size_by_facts};
use crate::earlier::KeptBlind;
use crate::frozen::{Frozen, FrozenQuery, as_ordered, stand};
use crate::name::same_name;
use crate::query::{Held, OpeningIndex};
use crate::rules::Rules;
use crate::survey::{Control, Facts, Opening};
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
    let Some(first) = frozen.as_ordered(index) else {
        return size_by_facts(facts, quantity, rules, record).map(Some);
    };
    // Sized without a trace first: what the survey asks for now is of no account if it is not taken.
    let mut aside = Record::silent(index, opening.who.at, rules.project.units);
    let now = size_by_facts(facts, quantity, rules, &mut aside);
    let ordered = || frozen.serving(index).iter().map(|&kept| &frozen.blinds()[kept]);
    let mut otherwise = false;
    match &now {
        // The survey's own stop comes first, unless the blinds hang whatever it says.
        Err(Held(())) if !ordered().all(KeptBlind::is_fitted) => {
            return size_by_facts(facts, quantity, rules, record).map(Some);
        }
        Err(Held(())) => {
            otherwise = true;
            stand(first, &FrozenQuery::Differs, "the survey holds it".to_owned(), record)?;
        }
        Ok(now) => {
            for blind in ordered() {
                let found = differences(now, facts, blind);
                if !found.is_empty() {
                    otherwise |= std::ptr::eq(blind, first);
                    stand(blind, &FrozenQuery::Differs, found.join(", "), record)?;
                }
            }
        }
    }
    if !otherwise {
        return size_by_facts(facts, quantity, rules, record).map(Some);
    }
    let sizing = size_by_facts(&as_ordered(facts, first), quantity, rules, record)?;
    Ok(Some(Sizing { otherwise, ..sizing }))
}

/// In what a blind that was ordered is not what its opening would get: `draw left ordered, right now`.
fn differences(now: &Sizing<'_>, facts: &Facts, blind: &KeptBlind) -> Vec<String> {
    let mut found = Vec::new();
    let mut compare = |what: &str, ordered: &str, now: &str| {
        if !same_name(ordered, now) {
            let [ordered, now] = [ordered, now].map(|it| if it.is_empty() { "none" } else { it });
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
    let side = facts.motor_side.filter(|_| blind.control == Control::Motor);
    if let Some((ordered, now)) = blind.control_side.zip(side) {
        compare("motor", ordered.word(), now.value.word());
    }
    if let (Some(ordered), Some(now)) = (blind.cord_device, facts.cord_device) {
        compare("cord device", ordered.word(), now.value.word());
    }
    found
}

impl KeptBlind {
    /// Its finished size.
    pub fn size(&self) -> Size {
        Size { width: self.width, drop: self.drop }
    }
}
