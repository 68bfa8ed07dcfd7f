//! What was ordered before against what an earlier fit-out remembers of it.

use super::{Covered, Fault, Invariant};
use crate::earlier::KeptBlind;
use crate::order::LineKey;
use crate::report::Report;

pub(super) const INVARIANTS: &[Invariant] = &[
    Invariant::of_whole("what is ordered keeps its line, its number and all that it is", keeps_its_line),
    Invariant::of_opening(
        "an opening with an ordered blind has it in the size that was ordered",
        keeps_its_size,
    ),
];

fn keeps_its_line(report: &Report<'_>) -> Result<(), Fault> {
    let kept = report.frozen.blinds();
    let mut found = vec![0_u32; kept.len()];
    for line in report.order.lines.iter().chain(&report.order.ended) {
        for seat in &line.seats {
            let Some((place, blind)) = seat.kept.and_then(|place| Some((place, kept.get(place)?))) else {
                continue;
            };
            found[place] += 1;
            let number = (blind.number.line, blind.number.number, blind.number.number);
            let stays = (line.line, seat.first, seat.last) == number
                && seat.state == blind.typed.state
                && is_as_ordered(&line.key, blind);
            if blind.is_frozen() && !stays {
                return Err(Fault::line(
                    line.line,
                    format!("has blind {} other than ordered", blind.words()),
                ));
            }
        }
    }
    let lost = kept.iter().zip(found).find(|(blind, found)| blind.is_frozen() && *found != 1);
    match lost {
        Some((blind, found)) => {
            let told = format!("has blind {} {found} times", blind.words());
            Err(Fault::line(blind.number.line, told))
        }
        None => Ok(()),
    }
}

fn is_as_ordered(key: &LineKey, blind: &KeptBlind) -> bool {
    (&key.product, &key.color, &key.phase) == (&blind.product, &blind.color, &blind.phase)
        && (key.size.width, key.size.drop) == (blind.width, blind.drop)
        && (key.mount(), key.draw) == (blind.mount, blind.draw)
        && (key.control, key.control_side, key.wand) == (blind.control, blind.control_side, blind.wand)
        && (&key.bracket, key.brackets) == (&blind.bracket, blind.brackets)
        && (key.origin, key.release, key.remake_of) == (blind.source, blind.release, blind.remake_of)
        && key.valance == blind.valance
}

fn keeps_its_size(of: &Covered<'_, '_>) -> Option<String> {
    let ordered = of.report.frozen.as_ordered(of.opening)?;
    let fails = (of.size().width, of.size().drop) != (ordered.width, ordered.drop);
    fails.then(|| format!("has a blind of {}", of.size_in_words()))
}
