//! One count in every list that counts: the summary, the units' pages, parts and fixings, and the cost.

use std::collections::HashSet;

use rust_decimal::Decimal;

use super::breach::equal;
use super::{Fault, Invariant};
use crate::blinds::Ware;
use crate::cost::{Commitment, Section};
use crate::fitting::Blind;
use crate::report::Report;
use crate::rules::{CostBasis, SmallPart};
use crate::schema::choices::{Origin, Release};
use crate::survey::Opening;

pub(super) const INVARIANTS: &[Invariant] = &[
    Invariant::of_whole("the summary counts the openings as they are", summary),
    Invariant::of_whole("the units' pages have every opening and every blind once", unit_pages),
    Invariant::of_whole(
        "the cost has as many blinds, committed, open and remade, as the order",
        blinds_in_cost,
    ),
    Invariant::of_whole("the parts are those of the blinds, in the project as in the units", parts),
    Invariant::of_whole("enough of each part is bought, and not a pack too many", packs),
];

fn summary(report: &Report<'_>) -> Result<(), Fault> {
    let (mut sized, mut provisional, mut held) = (0, 0, 0);
    let mut sizes = HashSet::new();
    for (place, surveyed) in report.survey.openings.iter().enumerate() {
        let quantity = u64::from(surveyed.who.quantity);
        match report.blinds.get(place).and_then(Option::as_ref) {
            Some(_) if surveyed.facts.is_none() => {
                return Err(Fault::opening(report, place, "has a blind and no sizes"));
            }
            Some(blind) => {
                let size = blind.sourced.size;
                sizes.insert((&*blind.sizing.product.name, size.width, size.drop));
                let count = if blind.sizing.release == Release::Make { &mut sized } else { &mut provisional };
                *count += quantity;
            }
            None => held += quantity,
        }
    }
    let counts = &report.counts;
    equal("the summary", "sized openings", counts.sized, sized)?;
    equal("the summary", "provisional openings", counts.provisional, provisional)?;
    equal("the summary", "held openings", counts.held, held)?;
    equal("the summary", "openings", counts.openings, sized + provisional + held)?;
    equal("the summary", "blinds", counts.blinds, sized + provisional)?;
    equal("the summary", "sizes", counts.sizes, sizes.len() as u64)
}

fn unit_pages(report: &Report<'_>) -> Result<(), Fault> {
    let units = report.units();
    let rows: usize = units.iter().map(|unit| unit.openings.len()).sum();
    equal("the list of units", "rows of openings", rows, report.survey.openings.len())?;
    let (mut boxes, mut provisional, mut held) = (0, 0, 0);
    for load in units.iter().map(|unit| report.load(unit)) {
        (boxes, provisional, held) = (boxes + load.boxes, provisional + load.provisional, held + load.held);
    }
    equal("the list of units", "blinds to be made", boxes, report.counts.sized)?;
    equal("the list of units", "provisional blinds", provisional, report.counts.provisional)?;
    equal("the list of units", "held openings", held, report.counts.held)
}

fn blinds_in_cost(report: &Report<'_>) -> Result<(), Fault> {
    let is_bought = report.rules.project.cost_basis == CostBasis::Buy;
    let mut wanted = [0_u64; 3];
    for line in report.order.lines.iter().filter(|line| is_bought || line.key.origin == Origin::Stock) {
        for seat in line.seats.iter().filter(|seat| seat.counts()) {
            let commitment = match (line.key.remake_of, seat.state) {
                (Some(_), _) => Commitment::Remade,
                (None, Some(_)) => Commitment::Committed,
                (None, None) => Commitment::Open,
            };
            wanted[commitment as usize] += 1 + seat.last - seat.first;
        }
    }
    for spare in report.spares.iter().filter(|spare| spare.counts()) {
        match spare.before {
            Some(_) => wanted[Commitment::Committed as usize] += spare.count,
            None if is_bought => wanted[Commitment::Open as usize] += spare.count,
            None => {}
        }
    }
    for commitment in [Commitment::Committed, Commitment::Open, Commitment::Remade] {
        let lines = report.cost.lines.iter().filter(|line| line.section == Section::Blinds);
        let lines = lines.filter(|line| line.commitment == commitment);
        let counted: Decimal = lines.filter_map(|line| line.printed_quantity).sum();
        let what = format!("{} blinds and spare louvers", commitment.word());
        equal("the cost", &what, counted, wanted[commitment as usize].into())?;
    }
    Ok(())
}

fn parts(report: &Report<'_>) -> Result<(), Fault> {
    let hardware = &report.hardware;
    let all = |of: fn(&Blind<'_>) -> u64| -> u64 {
        let openings = report.survey.openings.iter().zip(&report.blinds);
        let of_row = |(surveyed, blind): (&Opening, &Option<Blind<'_>>)| {
            blind.as_ref().map_or(0, |blind| u64::from(surveyed.who.quantity) * of(blind))
        };
        openings.map(of_row).sum()
    };
    let listed = |is: fn(&Ware) -> bool| -> u64 {
        hardware.items.iter().filter(|item| is(&item.ware)).map(|item| item.needed).sum()
    };
    let brackets = |ware: &Ware| matches!(ware, Ware::WallBracket { .. } | Ware::InsideBracket { .. });
    let at = "the list of parts";
    equal(at, "brackets", listed(brackets), all(|blind| blind.fitted.brackets.from_left.len() as u64))?;
    let screws = |blind: &Blind<'_>| blind.fitted.fixings.kinds().map(|screws| u64::from(screws.count)).sum();
    equal(at, "fixings", listed(|ware| matches!(ware, Ware::Fixing(_) | Ware::NotChosen)), all(screws))?;
    let clips = |ware: &Ware| *ware == Ware::Small(SmallPart::ValanceClip);
    equal(at, "valance clips", listed(clips), all(|blind| blind.fitted.clips.len() as u64))?;
    let mut in_units = vec![0; hardware.items.len()];
    for (&place, count) in hardware.by_unit.iter().flat_map(|unit| &unit.counts) {
        in_units[place] += count.count;
    }
    for (item, in_units) in hardware.items.iter().zip(in_units) {
        equal("the list of units", &item.item, in_units, item.needed)?;
    }
    Ok(())
}

fn packs(report: &Report<'_>) -> Result<(), Fault> {
    for item in &report.hardware.items {
        let Some(wanted) = (item.needed + item.spare).checked_sub(item.comes_with_blinds) else {
            return Err(Fault::at(&*item.item, "comes with blinds more often than it is needed"));
        };
        let (Some(packs), pack) = (item.packs, u64::from(item.pack_of.unwrap_or(0))) else { continue };
        let bought = item.pieces + packs * pack;
        if bought < wanted || bought - wanted >= pack.max(1) {
            return Err(Fault::at(&*item.item, format!("is bought {bought} times, and {wanted} are wanted")));
        }
    }
    Ok(())
}
