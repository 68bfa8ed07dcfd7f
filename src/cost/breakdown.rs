//! The known cost again, shared out by phase, floor, unit and product, so that budgets add up.
//!
//! A place holds what its openings take of each cost line's quantity, to the thousandth, and what that
//! comes to at the rates that are known, after the discount: its direct cost, rounded once. On it come
//! its overhead, profit and contingency together, rounded once, and on both its tax, rounded once; where
//! tax is on materials, on the materials that it takes. What no opening takes (delivery, the waste of
//! whole bars and packs, spares) is the whole project's, with its share of the rest, and so is what these
//! roundings leave: in each column the places and the whole project add up to the cost, to the minor unit.

use std::collections::{BTreeMap, BTreeSet, HashMap};

use rust_decimal::Decimal;

use super::ledger::Ledger;
use super::{AmountFormula, Commitment, CostLine, Job, MINUTES_AN_HOUR, Section};
use crate::query::OpeningIndex;
use crate::rounding::half_away;
use crate::rules::{Project, TaxOn};
use crate::survey::{Identity, Survey};

/// The row of what no opening takes.
pub const WHOLE_PROJECT: &str = "whole project";

/// Decimals of a part of a quantity: a millimeter of a bar, a thousandth of a minute.
const PART_DECIMALS: u32 = 3;

/// What a place bears of the cost, each part of it rounded once.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Share {
    /// Direct cost.
    pub direct: Decimal,
    /// Overhead, profit and contingency.
    pub overheads: Decimal,
    /// Tax.
    pub tax: Decimal,
}

impl Share {
    /// This and another.
    pub fn plus(self, other: Share) -> Share {
        Share {
            direct: self.direct + other.direct,
            overheads: self.overheads + other.overheads,
            tax: self.tax + other.tax,
        }
    }

    /// All of it.
    pub fn whole(self) -> Decimal {
        self.direct + self.overheads + self.tax
    }
}

/// What comes on direct cost: shares that every place bears alike.
#[derive(Clone, Copy)]
pub(super) struct Burden {
    /// Overhead, profit and contingency for each 1 of direct cost.
    overheads: Decimal,
    /// Tax for each 1 that is taxed.
    tax: Decimal,
    /// Whether materials alone are taxed.
    on: TaxOn,
}

impl Burden {
    /// That of a project.
    pub(super) fn of(project: &Project) -> Burden {
        let share = |percent: Decimal| Decimal::ONE + percent / Decimal::ONE_HUNDRED;
        let all = share(project.overhead) * share(project.profit) * share(project.contingency);
        Burden { overheads: all - Decimal::ONE, tax: project.tax / Decimal::ONE_HUNDRED, on: project.tax_on }
    }

    /// Direct cost, not rounded, with all that comes on it; `materials` are in it.
    pub(super) fn whole(self, direct: Decimal, materials: Decimal) -> Decimal {
        let whole = direct + direct * self.overheads;
        let taxed = if self.on == TaxOn::All { whole } else { materials };
        whole + taxed * self.tax
    }

    /// The share of a place from its direct cost and the materials in it, neither rounded.
    fn on(self, direct: Decimal, materials: Decimal, round: impl Fn(Decimal) -> Decimal) -> Share {
        let direct = round(direct);
        let overheads = round(direct * self.overheads);
        let taxed = match self.on {
            TaxOn::All => direct + overheads,
            TaxOn::Materials => materials,
        };
        Share { direct, overheads, tax: round(taxed * self.tax) }
    }
}

/// The known cost shared out by one property.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Breakdown {
    /// `Phase`, `Floor`, `Unit` or `Product`.
    pub by: &'static str,
    /// In survey order.
    pub rows: Vec<Place>,
    /// What is the [`WHOLE_PROJECT`]'s: all together less the shares of the rows.
    pub rest: Share,
    /// All together: the known direct cost, what comes on it, and the tax.
    pub all: Share,
}

/// One row of a breakdown.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Place {
    /// The phase, floor, unit or product.
    pub name: String,
    /// Its blinds.
    pub blinds: u64,
    /// What its openings take of the quantities of the cost's lines: the line's position, from 0,
    /// and its part in the line's measure; in the order of the lines, those of which it takes nothing
    /// left out.
    pub parts: Vec<(usize, Decimal)>,
    /// What it bears of the cost.
    pub share: Share,
    /// What of its direct cost is ordered, at the price at which it was.
    pub committed: Decimal,
    /// What of its direct cost is made again at our cost.
    pub remade: Decimal,
}

/// Shares the known cost out four times.
pub(super) fn by_every_property(ledger: &Ledger, job: Job<'_>, known_tax: Decimal) -> Vec<Breakdown> {
    let known = |wanted: fn(Section) -> bool| -> Decimal {
        let lines = ledger.lines().iter().filter(|entered| wanted(entered.line.section));
        lines.filter_map(|entered| entered.line.amount).sum()
    };
    let all = Share {
        direct: known(|section| section < Section::Overhead),
        overheads: known(|section| section >= Section::Overhead),
        tax: known_tax,
    };
    let who = |opening: OpeningIndex| job.survey.openings.get(opening).map(|opening| &opening.who);
    let floors = Named::new(job.survey, |who| &who.floor);
    let units = Named::new(job.survey, |who| &who.unit);
    vec![
        by("Phase", ledger, job, all, |opening| Some(named_or(&who(opening)?.phase, "No phase").to_owned())),
        by("Floor", ledger, job, all, |opening| {
            let who = who(opening)?;
            Some(floors.show(&who.building, &who.floor, named_or(&who.floor, "No floor")))
        }),
        by("Unit", ledger, job, all, |opening| {
            let who = who(opening)?;
            Some(units.show(&who.building, &who.unit, who.shown_unit()))
        }),
        // A held opening has no product: what was spent on it is the project's.
        by("Product", ledger, job, all, |opening| {
            Some(job.blinds.get(opening)?.as_ref()?.sizing.product.name.to_string())
        }),
    ]
}

fn by(
    property: &'static str,
    ledger: &Ledger,
    job: Job<'_>,
    all: Share,
    name_of: impl Fn(OpeningIndex) -> Option<String>,
) -> Breakdown {
    let mut rows: Vec<Place> = Vec::new();
    // Looked up only, never walked: the rows keep the survey's order.
    let mut known: HashMap<String, usize> = HashMap::new();
    let openings = job.survey.openings.iter().enumerate();
    let places: Vec<Option<usize>> = openings
        .map(|(opening, surveyed)| {
            let place = *known.entry(name_of(opening)?).or_insert_with_key(|name| {
                rows.push(Place {
                    name: name.clone(),
                    blinds: 0,
                    parts: Vec::new(),
                    share: Share::default(),
                    committed: Decimal::ZERO,
                    remade: Decimal::ZERO,
                });
                rows.len() - 1
            });
            if job.blinds.get(opening).is_some_and(Option::is_some) {
                rows[place].blinds += u64::from(surveyed.who.quantity);
            }
            Some(place)
        })
        .collect();
    take_parts(&mut rows, &places, ledger);
    let burden = Burden::of(&job.rules.project);
    for row in &mut rows {
        let direct = at_known_rates(&row.parts, ledger, |_| true);
        let materials = at_known_rates(&row.parts, ledger, |line| line.section.is_material());
        let settled = |commitment| {
            ledger.round(at_known_rates(&row.parts, ledger, |line| line.commitment == commitment))
        };
        (row.committed, row.remade) = (settled(Commitment::Committed), settled(Commitment::Remade));
        row.share = burden.on(direct, materials, |amount| ledger.round(amount));
    }
    let rest = rows.iter().fold(all, |rest, row| Share {
        direct: rest.direct - row.share.direct,
        overheads: rest.overheads - row.share.overheads,
        tax: rest.tax - row.share.tax,
    });
    Breakdown { by: property, rows, rest, all }
}

/// Adds up what the openings of each place take of each line.
fn take_parts(rows: &mut [Place], places: &[Option<usize>], ledger: &Ledger) {
    let mut taken = vec![Decimal::ZERO; rows.len()];
    for (line, entered) in ledger.lines().iter().enumerate() {
        let mut touched = Vec::new();
        for &(opening, part) in entered.parts.iter().filter(|(_, part)| !part.is_zero()) {
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
fn at_known_rates(
    parts: &[(usize, Decimal)],
    ledger: &Ledger,
    wanted: impl Fn(&CostLine) -> bool,
) -> Decimal {
    let (mut products, mut minutes) = (Decimal::ZERO, Decimal::ZERO);
    for &(line, part) in parts {
        let line = &ledger.lines()[line].line;
        let Some(rate) = ledger.rate_of_parts(line).filter(|_| wanted(line)) else { continue };
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
