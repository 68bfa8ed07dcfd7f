//! The units to fit first: the fewest that show every type, product, mount and substrate of the job once, so
//! that what is wrong comes up before the rest is ordered.
//!
//! A case is shown by a blind that may be made. What only provisional blinds have is listed and no unit is
//! chosen for it: it is measured first. What hangs has shown its cases already. An unknown substrate is a
//! case, for it is worth a look; a blank type is none.

mod cover;

use std::collections::{BTreeMap, BTreeSet};

use super::{Report, State};
use crate::name::folded;
use crate::query::OpeningIndex;
use crate::schema::blinds::BlindState;
use crate::schema::openings::TYPE;
use crate::sizing::MountOn;
use cover::{Candidate, Cover, smallest};

/// What a case is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum CaseOf {
    /// The survey's own type.
    Type,
    /// The product.
    Product,
    /// How it is mounted, and on what.
    Mount,
    /// What the screws go into.
    Substrate,
}

impl CaseOf {
    /// Each of them.
    pub const ALL: [CaseOf; 4] = [CaseOf::Type, CaseOf::Product, CaseOf::Mount, CaseOf::Substrate];

    /// The word that the sheets and the exchange formats use.
    pub const fn word(self) -> &'static str {
        match self {
            CaseOf::Type => "type",
            CaseOf::Product => "product",
            CaseOf::Mount => "mount",
            CaseOf::Substrate => "substrate",
        }
    }
}

/// One case.
#[derive(Clone, Debug)]
pub struct Case {
    /// What it is about.
    pub of: CaseOf,
    /// The type, product, mount or substrate.
    pub what: String,
    /// Openings of the job that have it, by quantity; those without a blind are not among them.
    pub openings: u64,
    /// Where it can be seen: an opening of a unit that is fitted first, or where a blind hangs that shows it;
    /// `None` where only provisional blinds have it.
    pub look_at: Option<OpeningIndex>,
    /// Whether a blind that hangs shows it.
    pub is_fitted: bool,
}

/// A unit that is fitted first.
#[derive(Clone, Debug)]
pub struct PilotUnit {
    /// Its openings whose blinds are to be fitted, in survey order; never empty.
    pub openings: Vec<OpeningIndex>,
    /// Those blinds.
    pub blinds: u64,
    /// The cases that it is there for: those that no unit before it shows.
    pub shows: Vec<usize>,
    /// The other cases that it shows.
    pub again: Vec<usize>,
}

/// The units to fit first.
#[derive(Clone, Debug)]
pub struct Pilot {
    /// Every case of the job.
    pub cases: Vec<Case>,
    /// The units, in survey order.
    pub units: Vec<PilotUnit>,
    /// Whether no fewer units, and with so many no fewer blinds, show as much.
    pub proven: bool,
    /// Units in which blinds are still to be fitted.
    pub of_units: usize,
}

impl Report<'_> {
    /// The units to fit first; `None` where all of them would be, or a single one is left.
    pub fn pilot(&self) -> Option<&Pilot> {
        self.pilot.get_or_init(|| self.choose_pilot()).as_ref()
    }

    fn choose_pilot(&self) -> Option<Pilot> {
        let hanging = self.order.lines.iter().flat_map(|line| &line.seats);
        let hanging: BTreeSet<OpeningIndex> = hanging
            .filter(|seat| seat.state == Some(BlindState::Fitted))
            .filter_map(|seat| seat.opening)
            .collect();
        let mut cases: Vec<Case> = Vec::new();
        let mut of_opening: BTreeMap<OpeningIndex, Vec<usize>> = BTreeMap::new();
        let mut known: BTreeMap<(CaseOf, String), usize> = BTreeMap::new();
        for opening in 0..self.blinds.len() {
            let quantity = u64::from(self.survey.openings[opening].who.quantity);
            for (of, what) in self.cases_of(opening) {
                let case = *known.entry((of, folded(&what))).or_insert_with(|| {
                    cases.push(Case { of, what, openings: 0, look_at: None, is_fitted: false });
                    cases.len() - 1
                });
                cases[case].openings += quantity;
                if hanging.contains(&opening) && !cases[case].is_fitted {
                    (cases[case].look_at, cases[case].is_fitted) = (Some(opening), true);
                }
                of_opening.entry(opening).or_default().push(case);
            }
        }
        let units = self.units().into_iter().map(|unit| {
            let to_fit =
                |opening: &OpeningIndex| self.state(*opening) == State::Sized && !hanging.contains(opening);
            unit.openings.into_iter().filter(to_fit).collect::<Vec<_>>()
        });
        let units: Vec<Vec<OpeningIndex>> = units.filter(|openings| !openings.is_empty()).collect();
        let wanted = |case: &usize| !cases[*case].is_fitted;
        let shown_by: Vec<BTreeSet<usize>> = units
            .iter()
            .map(|openings| openings.iter().flat_map(|opening| &of_opening[opening]).copied().collect())
            .collect();
        let to_show: BTreeSet<usize> = shown_by.iter().flatten().copied().filter(wanted).collect();
        let number: BTreeMap<usize, usize> = to_show.iter().copied().zip(0..).collect();
        let blinds = |openings: &[OpeningIndex]| -> u64 {
            openings.iter().map(|&opening| u64::from(self.survey.openings[opening].who.quantity)).sum()
        };
        let candidates: Vec<Candidate> = units
            .iter()
            .zip(&shown_by)
            .map(|(openings, shows)| Candidate {
                shows: shows.iter().filter_map(|case| number.get(case).copied()).collect(),
                blinds: blinds(openings),
            })
            .collect();
        let Cover { units: chosen, proven } = smallest(number.len(), &candidates);
        if chosen.is_empty() || chosen.len() == units.len() {
            return None;
        }
        let mut pilot = Pilot { cases, units: Vec::new(), proven, of_units: units.len() };
        for place in chosen {
            let openings = units[place].clone();
            let (shows, again): (Vec<usize>, Vec<usize>) =
                shown_by[place].iter().copied().partition(|case| pilot.cases[*case].look_at.is_none());
            for &case in &shows {
                pilot.cases[case].look_at =
                    openings.iter().copied().find(|opening| of_opening[opening].contains(&case));
            }
            pilot.units.push(PilotUnit { blinds: blinds(&openings), openings, shows, again });
        }
        Some(pilot)
    }

    /// What the blind of an opening is a case of; nothing where it is held.
    fn cases_of(&self, index: OpeningIndex) -> Vec<(CaseOf, String)> {
        let opening = &self.survey.openings[index];
        let (Some(blind), Some(facts)) = (&self.blinds[index], &opening.facts) else { return Vec::new() };
        let own_type = opening.as_read.taken(&TYPE).trim();
        let mount = match blind.sizing.hung.on() {
            MountOn::Recess => "inside",
            MountOn::Wall => "outside, on the wall",
            MountOn::Casing => "outside, on the casing",
            MountOn::Ceiling => "ceiling",
        };
        let substrate = facts.substrate.map_or("unknown", |given| given.value.word());
        let all = [
            (CaseOf::Type, own_type),
            (CaseOf::Product, &*blind.sizing.product.name),
            (CaseOf::Mount, mount),
            (CaseOf::Substrate, substrate),
        ];
        all.into_iter().filter(|(_, what)| !what.is_empty()).map(|(of, what)| (of, what.to_owned())).collect()
    }
}
