//! The direct cost again, shared out by phase, floor, unit and product.
//!
//! A row holds what its openings take of each cost line's quantity, to the millionth, and what that
//! comes to at the rates that are known, rounded once. What no opening takes (delivery, the waste of
//! whole bars and packs, spares) is the project's, together with what the rounding leaves, so that
//! all add up to the direct cost to the minor unit.

use std::collections::{BTreeMap, BTreeSet, HashMap};

use rust_decimal::Decimal;

use super::ledger::Ledger;
use super::{AmountFormula, CostLine, Job, MINUTES_AN_HOUR};
use crate::query::OpeningIndex;
use crate::rounding::half_away;
use crate::survey::{Identity, Survey};

/// The row of what no opening takes.
pub const WHOLE_PROJECT: &str = "whole project";

/// Decimals of a part of a quantity: a tenth of a millimeter of the longest roll.
const PART_DECIMALS: u32 = 6;

/// Direct cost shared out by one property.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Breakdown {
    /// `Phase`, `Floor`, `Unit` or `Product`.
    pub by: &'static str,
    /// In survey order.
    pub rows: Vec<Place>,
    /// What is the [`WHOLE_PROJECT`]'s: the known direct cost less the amounts of the rows.
    pub rest: Decimal,
}

/// One row of a breakdown.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Place {
    /// The phase, floor, unit or product.
    pub name: String,
    /// Its blinds.
    pub blinds: u64,
    /// What its openings take of the quantities of the cost's lines: the line's position, from 0,
    /// and its part, to the millionth; in the order of the lines, those of which it takes nothing
    /// left out.
    pub parts: Vec<(usize, Decimal)>,
    /// What the parts come to at the rates that are known, rounded once.
    pub amount: Decimal,
}

/// Shares the known direct cost out four times.
pub(super) fn by_every_property(ledger: &Ledger, job: Job<'_>) -> Vec<Breakdown> {
    let who = |opening: OpeningIndex| job.survey.openings.get(opening).map(|opening| &opening.who);
    let floors = Named::new(job.survey, |who| &who.floor);
    let units = Named::new(job.survey, |who| &who.unit);
    vec![
        by("Phase", ledger, job, |opening| Some(named_or(&who(opening)?.phase, "No phase").to_owned())),
        by("Floor", ledger, job, |opening| {
            let who = who(opening)?;
            Some(floors.show(&who.building, &who.floor, named_or(&who.floor, "No floor")))
        }),
        by("Unit", ledger, job, |opening| {
            let who = who(opening)?;
            Some(units.show(&who.building, &who.unit, who.shown_unit()))
        }),
        // A held opening has no product: what was spent on it is the project's.
        by("Product", ledger, job, |opening| {
            Some(job.blinds.get(opening)?.as_ref()?.sizing.product.name.to_string())
        }),
    ]
}

fn by(
    property: &'static str,
    ledger: &Ledger,
    job: Job<'_>,
    name_of: impl Fn(OpeningIndex) -> Option<String>,
) -> Breakdown {
    let mut rows: Vec<Place> = Vec::new();
    // Looked up only, never walked: the rows keep the survey's order.
    let mut known: HashMap<String, usize> = HashMap::new();
    let openings = job.survey.openings.iter().enumerate();
    let places: Vec<Option<usize>> = openings
        .map(|(opening, surveyed)| {
            let place = *known.entry(name_of(opening)?).or_insert_with_key(|name| {
                rows.push(Place { name: name.clone(), blinds: 0, parts: Vec::new(), amount: Decimal::ZERO });
                rows.len() - 1
            });
            if job.blinds.get(opening).is_some_and(Option::is_some) {
                rows[place].blinds += u64::from(surveyed.who.quantity);
            }
            Some(place)
        })
        .collect();
    take_parts(&mut rows, &places, ledger);
    let lines = ledger.lines();
    for row in &mut rows {
        row.amount = ledger.round(at_known_rates(&row.parts, |line| &lines[line].0));
    }
    let rest = ledger.known() - rows.iter().map(|row| row.amount).sum::<Decimal>();
    Breakdown { by: property, rows, rest }
}

/// Adds up what the openings of each place take of each line.
fn take_parts(rows: &mut [Place], places: &[Option<usize>], ledger: &Ledger) {
    let mut taken = vec![Decimal::ZERO; rows.len()];
    for (line, (_, parts)) in ledger.lines().iter().enumerate() {
        let mut touched = Vec::new();
        for &(opening, part) in parts.iter().filter(|(_, part)| !part.is_zero()) {
            if let Some(place) = places.get(opening).copied().flatten() {
                if taken[place].is_zero() {
                    touched.push(place);
                }
                taken[place] += part;
            }
        }
        for place in touched {
            let part = half_away(std::mem::take(&mut taken[place]), PART_DECIMALS).normalize();
            if !part.is_zero() {
                rows[place].parts.push((line, part));
            }
        }
    }
}

/// Products are added up, and minutes are, before these are divided into hours.
fn at_known_rates<'l>(parts: &[(usize, Decimal)], line_of: impl Fn(usize) -> &'l CostLine) -> Decimal {
    let (mut products, mut minutes) = (Decimal::ZERO, Decimal::ZERO);
    for &(line, part) in parts {
        let line = line_of(line);
        let Some(rate) = line.rate else { continue };
        match line.formula {
            AmountFormula::MinutesAtHourlyRate => minutes += part * rate,
            AmountFormula::Product | AmountFormula::ShareOf(_) => products += part * rate,
        }
    }
    products + minutes / MINUTES_AN_HOUR
}

fn named_or<'a>(name: &'a str, blank: &'a str) -> &'a str {
    if name.is_empty() { blank } else { name }
}

/// How many buildings have a floor or a unit of each name.
struct Named<'s> {
    buildings: BTreeMap<&'s str, BTreeSet<&'s str>>,
}

impl<'s> Named<'s> {
    fn new(survey: &'s Survey, name_of: impl Fn(&'s Identity) -> &'s str) -> Named<'s> {
        let mut buildings: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
        for opening in &survey.openings {
            buildings.entry(name_of(&opening.who)).or_default().insert(&opening.who.building);
        }
        Named { buildings }
    }

    /// The name alone if one building has it, else `building/name`.
    fn show(&self, building: &str, name: &str, shown: &str) -> String {
        match self.buildings.get(name) {
            Some(buildings) if buildings.len() > 1 => format!("{building}/{shown}"),
            _ => shown.to_owned(),
        }
    }
}
