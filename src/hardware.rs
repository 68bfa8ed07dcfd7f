//! Brackets, fixings, clips, spares and whole packs; by unit, floor and project.
//!
//! Spares are a share of those needed by blinds released to be made, rounded up once for each item.
//!
//! A bought blind brings its parts; a box from the shelf lacks the brackets that its row does not
//! name. Where blinds are bought, what is spare of a part or lacking in a box is bought by the piece;
//! fixings and packers, which never come with a blind, always in whole packs.

use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::sync::Arc;

use crate::blinds::{SparesBy, Ware};
use crate::fitting::Blind;
use crate::rounding::percent_up;
use crate::rules::{CostBasis, Rules};
use crate::sizing::Release;
use crate::spares::Spare;
use crate::survey::{Identity, Survey};

/// All parts beside the cut ones.
#[derive(Clone, Debug, Default)]
pub struct Hardware {
    /// The items, in the order in which the sheet shows them.
    pub items: Vec<HardwareItem>,
    /// Loose counts by building, floor and unit, in survey order of first mention.
    pub by_unit: Vec<UnitCounts>,
}

/// One part or fixing in the whole project.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HardwareItem {
    /// What it is, for whoever prices it.
    pub ware: Ware,
    /// The item, such as `valance clip`.
    pub item: Arc<str>,
    /// Its size, if it has one to show; may be empty.
    pub size: String,
    /// What it goes into; empty for parts.
    pub substrate: &'static str,
    /// Needed by every sized and provisional blind.
    pub needed: u64,
    /// Needed by blinds released to be made: what spares are counted on.
    pub needed_to_make: u64,
    /// Arrives with a bought blind: the parts of all in `buy`, of those from stock in `make`.
    pub comes_with_blinds: u64,
    /// Spare, rounded up once for the project.
    pub spare: u64,
    /// How many are in a pack; `None` if not known.
    pub pack_of: Option<u32>,
    /// Whole packs to buy; 0 where it is bought by the piece, or not at all; `None` if the pack is not
    /// known.
    pub packs: Option<u64>,
    /// Pieces to buy one by one.
    pub pieces: u64,
    /// Names of up to a few places where it is used, such as `0304, 0305 and 2 more units`.
    pub used: String,
}

/// What one unit needs, loose.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UnitCounts {
    /// The building.
    pub building: Arc<str>,
    /// The floor.
    pub floor: Arc<str>,
    /// The unit.
    pub unit: Arc<str>,
    /// Count of each item needed there, by position in [`Hardware::items`].
    pub counts: BTreeMap<usize, UnitCount>,
}

/// How many of an item one unit needs.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct UnitCount {
    /// How many.
    pub count: u64,
    /// How many of them come in the boxes of the blinds.
    pub with_blinds: u64,
}

/// One ware's counts as they grow, blind by blind.
#[derive(Default)]
struct Tally {
    needed: u64,
    to_make: u64,
    with_blinds: u64,
}

/// One unit's counts as they grow.
struct UnitTally<'s> {
    who: &'s Identity,
    counts: BTreeMap<Ware, UnitCount>,
}

impl HardwareItem {
    /// Needed and spare together.
    pub fn total(&self) -> u64 {
        self.needed + self.spare
    }

    /// What does not arrive with a blind.
    pub fn to_buy(&self) -> u64 {
        self.total() - self.comes_with_blinds
    }
}

/// Totals every part and fixing of the sized and provisional blinds: by item, and loose by unit.
/// `blinds` has one place for each opening of the survey, and `spares` are of them.
pub fn total(survey: &Survey, blinds: &[Option<Blind<'_>>], spares: &[Spare], rules: &Rules) -> Hardware {
    let mut tallies: BTreeMap<Ware, Tally> = BTreeMap::new();
    let mut units: Vec<UnitTally<'_>> = Vec::new();
    // Looked up only, never walked: the list of units keeps the survey's order.
    let mut known: HashMap<(&str, &str, &str), usize> = HashMap::new();
    for (opening, blind) in survey.openings.iter().zip(blinds) {
        let who = &opening.who;
        let unit = *known.entry((&who.building, &who.floor, &who.unit)).or_insert_with(|| {
            units.push(UnitTally { who, counts: BTreeMap::new() });
            units.len() - 1
        });
        let Some(blind) = blind else { continue };
        let quantity = u64::from(who.quantity);
        for (ware, each) in blind.wares() {
            let count = quantity * u64::from(each);
            let comes = if comes_with(&ware, blind, rules.project.cost_basis) { count } else { 0 };
            let of_unit = units[unit].counts.entry(ware.clone()).or_default();
            of_unit.count += count;
            of_unit.with_blinds += comes;
            let tally = tallies.entry(ware.clone()).or_default();
            tally.needed += count;
            if blind.sizing.release == Release::Make {
                tally.to_make += count;
            }
            tally.with_blinds += comes;
        }
    }
    units.retain(|unit| !unit.counts.is_empty());
    let positions: BTreeMap<Ware, usize> = tallies.keys().cloned().zip(0..).collect();
    let spare_louvers = spares.iter().filter(|spare| spare.counts()).map(|spare| spare.count).sum();
    let item = |(ware, tally): (Ware, Tally)| item(ware, &tally, spare_louvers, &units, rules);
    Hardware {
        items: tallies.into_iter().map(item).collect(),
        by_unit: units.iter().map(|unit| unit.by_position(&positions)).collect(),
    }
}

/// Whether a part arrives with its blind. Fixings, packers and motors never do, nor a bracket that is not in
/// the box.
pub(crate) fn comes_with(ware: &Ware, blind: &Blind<'_>, basis: CostBasis) -> bool {
    match (blind.sourced.supply.stock(), ware) {
        _ if ware.is_bought_apart() => false,
        (Some(stock), Ware::WallBracket { item, .. } | Ware::InsideBracket { item }) => {
            stock.brackets.contains(item)
        }
        (Some(_), _) => true,
        (None, _) => basis == CostBasis::Buy,
    }
}

impl UnitTally<'_> {
    fn by_position(&self, positions: &BTreeMap<Ware, usize>) -> UnitCounts {
        UnitCounts {
            building: self.who.building.clone(),
            floor: self.who.floor.clone(),
            unit: self.who.unit.clone(),
            counts: positions
                .iter()
                .filter_map(|(ware, position)| Some((*position, *self.counts.get(ware)?)))
                .collect(),
        }
    }
}

fn item(
    ware: Ware,
    tally: &Tally,
    spare_louvers: u64,
    units: &[UnitTally<'_>],
    rules: &Rules,
) -> HardwareItem {
    let project = &rules.project;
    let spare = match ware.spares() {
        SparesBy::Fixings => percent_up(tally.to_make, project.spare_fixings),
        SparesBy::Parts => percent_up(tally.to_make, project.spare_parts),
        SparesBy::PartsAndLouvers => percent_up(tally.to_make, project.spare_parts).max(spare_louvers),
        SparesBy::Nothing => 0,
    };
    let to_buy = tally.needed + spare - tally.with_blinds;
    let by_the_piece = project.cost_basis == CostBasis::Buy && !ware.is_bought_apart();
    let pack_of = ware.pack_of(rules);
    let (pieces, packs) = match (by_the_piece, to_buy) {
        (true, pieces) => (pieces, Some(0)),
        (false, 0) => (0, Some(0)),
        (false, more) => (0, pack_of.map(|pack| more.div_ceil(u64::from(pack)))),
    };
    HardwareItem {
        item: ware.item(rules),
        size: ware.size(rules),
        substrate: ware.substrate(rules),
        needed: tally.needed,
        needed_to_make: tally.to_make,
        comes_with_blinds: tally.with_blinds,
        spare,
        pack_of,
        packs,
        pieces,
        used: used_in(&ware, units),
        ware,
    }
}

/// How many units a list names before it only counts the rest.
const UNITS_NAMED: usize = 3;

/// The first units that need it, by name (with the building where two buildings have the name), and
/// how many more there are.
fn used_in(ware: &Ware, units: &[UnitTally<'_>]) -> String {
    // A unit on two floors is counted on each, but it is one place.
    let mut seen = BTreeSet::new();
    let mut using: Vec<&Identity> = Vec::new();
    for UnitTally { who, counts } in units {
        if counts.contains_key(ware) && seen.insert((&who.building, &who.unit)) {
            using.push(who);
        }
    }
    let names = using.iter().take(UNITS_NAMED).map(|who| {
        let recurs = units.iter().any(|unit| unit.who.unit == who.unit && unit.who.building != who.building);
        let name = who.shown_unit();
        if recurs { format!("{}/{name}", who.building) } else { name.to_owned() }
    });
    let named = names.collect::<Vec<_>>().join(", ");
    match using.len().saturating_sub(UNITS_NAMED) {
        0 => named,
        1 => format!("{named} and 1 more unit"),
        more => format!("{named} and {more} more units"),
    }
}
