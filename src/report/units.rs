//! The units in survey order, each with what its fitter must bring.

use std::collections::{BTreeMap, BTreeSet};

use rust_decimal::Decimal;

use super::Report;
use super::bits::{self, BitFor};
use crate::fitting::Blind;
use crate::query::OpeningIndex;
use crate::survey::{Substrate, shown_unit};

/// One unit and its openings.
#[derive(Clone, Debug)]
pub struct Unit<'r> {
    /// The building; empty if blank.
    pub building: &'r str,
    /// The floor of its first opening; empty if blank.
    pub floor: &'r str,
    /// The unit's name; empty if blank.
    pub unit: &'r str,
    /// Whether another building has a unit of the same name.
    pub recurs: bool,
    /// Its openings, each once a row, in survey order.
    pub openings: Vec<OpeningIndex>,
}

/// What the fitter of a unit must know before going there. Counts are of blinds.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Load<'r> {
    /// Openings, by quantity.
    pub openings: u64,
    /// Blinds that may be made: each comes in a box of its own.
    pub boxes: u64,
    /// Blinds not to be made yet: not measured with a tape, or the floor is not laid.
    pub provisional: u64,
    /// Openings held back.
    pub held: u64,
    /// Kilograms of the heaviest blind.
    pub heaviest: Option<Decimal>,
    /// People that the heaviest or longest blind needs.
    pub people: u32,
    /// What drills the holes and drives the screws.
    pub bits: BTreeSet<BitFor<'r>>,
    /// What the brackets go into.
    pub substrates: BTreeSet<Substrate>,
    /// Whether any blind has louvers, whose face is to be looked at.
    pub has_louvers: bool,
}

impl<'r> Report<'r> {
    /// The units, in the order in which the survey first names them.
    pub fn units(&self) -> Vec<Unit<'_>> {
        let mut units: Vec<Unit<'_>> = Vec::new();
        let mut known: BTreeMap<(&str, &str), usize> = BTreeMap::new();
        let mut buildings: BTreeMap<&str, usize> = BTreeMap::new();
        for (opening, survey) in self.survey.openings.iter().enumerate() {
            let who = &survey.who;
            let place = *known.entry((&who.building, &who.unit)).or_insert_with(|| {
                *buildings.entry(&who.unit).or_default() += 1;
                units.push(Unit {
                    building: &who.building,
                    floor: &who.floor,
                    unit: &who.unit,
                    recurs: false,
                    openings: Vec::new(),
                });
                units.len() - 1
            });
            units[place].openings.push(opening);
        }
        for unit in &mut units {
            unit.recurs = buildings.get(unit.unit).is_some_and(|&count| count > 1);
        }
        units
    }

    /// What the fitter of a unit must bring. Blinds that are provisional are not in the boxes.
    pub fn load(&self, unit: &Unit<'_>) -> Load<'r> {
        let mut load = Load::default();
        for &opening in &unit.openings {
            let quantity = u64::from(self.survey.openings[opening].who.quantity);
            load.openings += quantity;
            let blind = self.blinds[opening].as_ref();
            load.has_louvers |= blind.is_some_and(|blind| blind.fitted.panel.louvers.is_some());
            match (blind, self.state(opening)) {
                (Some(blind), super::State::Sized) => {
                    load.boxes += quantity;
                    load.bring(blind);
                }
                (Some(_), _) => load.provisional += quantity,
                (None, _) => load.held += quantity,
            }
            let facts = self.survey.openings[opening].facts.as_ref();
            load.substrates.extend(facts.and_then(|facts| facts.substrate).map(|given| given.value));
        }
        load
    }
}

impl Unit<'_> {
    /// The unit as the sheets show it: with its building where the unit's name recurs.
    pub fn title(&self) -> String {
        let name = shown_unit(self.unit);
        if self.recurs && !self.building.is_empty() {
            format!("{} {name}", self.building)
        } else {
            name.to_owned()
        }
    }
}

impl<'r> Load<'r> {
    fn bring(&mut self, blind: &Blind<'r>) {
        let fitted = &blind.fitted;
        self.heaviest = self.heaviest.max(Some(fitted.weight));
        self.people = self.people.max(fitted.people);
        self.bits.extend(bits::of_blind(fitted).map(|(bit, _)| bit));
    }
}
