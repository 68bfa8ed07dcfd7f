//! Which listed fixing holds the brackets that are on one ground, and how hard it works.

use rust_decimal::Decimal;

use super::Wanted;
use super::capacity::{self, Holds};
use super::ground::{Goes, Ground};
use super::loads::Loads;
use super::places::Center;
use crate::fitting::queries::FittingQuery;
use crate::length::Length;
use crate::query::Held;
use crate::rules::{Capacity, Fixing};
use crate::tables::steel;
use crate::worked::{Amount, Number, Record, Source};

/// The thinnest stud that is sold, in mil (AISI S220, from memory).
const THINNEST_STUD: Decimal = Decimal::from_parts(18, 0, 0, false, 0);

/// How hard the fixings of the worst bracket work. Forces are in newtons.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Working {
    /// What the bracket bears for as long as the blind hangs.
    pub reaction: Decimal,
    /// What pulls at its worst screw then.
    pub pull: Decimal,
    /// What pulls at it when someone pulls at the blind.
    pub pulled_pull: Decimal,
    /// What shears it; it is shown and not counted.
    pub shear: Decimal,
    /// What the screw holds while it hangs, and against a pull; `None` if its capacity is not known.
    pub holds: Option<[Decimal; 2]>,
}

impl Working {
    /// Pull over capacity while it hangs.
    pub fn hung(&self) -> Option<Decimal> {
        self.holds.map(|[sustained, _]| self.pull / sustained)
    }

    /// Pull over capacity when someone pulls.
    pub fn pulled(&self) -> Option<Decimal> {
        self.holds.map(|[_, pulled]| self.pulled_pull / pulled)
    }

    /// The worse of the two.
    pub fn worse(&self) -> Option<Decimal> {
        Some(self.hung()?.max(self.pulled()?))
    }

    /// The working load that the fixing needs, where its own is not known.
    pub fn needed(&self) -> Option<Decimal> {
        self.holds.is_none().then(|| self.pull.max(self.pulled_pull))
    }

    /// By which the worst of several is found: one that is not known is the worst.
    pub(super) fn severity(&self) -> (bool, Decimal) {
        (self.holds.is_none(), self.worse().unwrap_or(self.pulled_pull))
    }

    pub(super) fn note<'r>(&self, wanted: &Wanted<'_, 'r>, record: &mut Record<'r>) {
        let cover = wanted.cover;
        let force = Amount::Force;
        record.step(
            Number::Reaction,
            "worst bracket, blind closed or drawn aside",
            Source::Above,
            force(self.reaction),
        );
        let (step, source) = if wanted.goes_up() {
            ("shared by the screws that count", Source::from(&cover.fixings_per_bracket))
        } else {
            ("x reach / from upper screw to bracket's foot", Source::from(&cover.bracket_foot))
        };
        record.step(Number::Pull, step, source, force(self.pull));
        record.step(Number::PulledPull, "with a pull on the bracket", &cover.pull, force(self.pulled_pull));
        record.step(Number::Shear, "shown, not counted", Source::Above, force(self.shear));
        if let Some([sustained, pulled]) = self.holds {
            record.step(Number::Holds, "one screw, while it hangs", Source::Above, force(sustained));
            record.step(Number::HoldsPulled, "one screw, for a moment", Source::Above, force(pulled));
        }
        if let (Some(hung), Some(pulled)) = (self.hung(), self.pulled()) {
            record.step(Number::UseHung, "pull / what it holds", Source::Above, Amount::Share(hung));
            record.step(Number::UsePulled, "pull / what it holds", Source::Above, Amount::Share(pulled));
        }
    }
}

/// A fixing for the brackets on one ground.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pick<'r> {
    pub(super) fixing: &'r Fixing,
    pub(super) working: Working,
    ground: Ground,
    /// The use if the steel is the thinnest that is sold, where nobody measured it.
    in_thinnest_steel: Option<Decimal>,
}

impl Pick<'_> {
    /// Whether it is not known to be overloaded for as long as the blind hangs.
    pub(super) fn holds_while_it_hangs(&self) -> bool {
        self.working.hung().is_none_or(|hung| hung <= Decimal::ONE)
    }

    fn holds_both(&self) -> bool {
        self.working.worse().is_some_and(|worse| worse <= Decimal::ONE)
    }

    /// Price of one; `None` if not known.
    fn price(&self) -> Option<Decimal> {
        self.fixing.price.map(|price| price / Decimal::from(self.fixing.pack_of.max(1)))
    }
}

/// The fixing for the brackets at those places; `None` if no listed one goes in.
pub(super) fn pick<'r>(
    wanted: &Wanted<'_, 'r>,
    ground: &Ground,
    loads: &Loads,
    centers: &[Center],
    places: &[usize],
) -> Option<Pick<'r>> {
    let on_each = loads.on_each(centers);
    let reaction = places.iter().map(|&place| on_each[place]).max()?;
    let listed = wanted.rules.fixings.iter().filter(|fixing| fixing.substrate == ground.substrate);
    let picks: Vec<Pick<'r>> = listed
        .filter_map(|fixing| {
            let Goes::In(thread) = ground.takes(fixing, wanted.cover) else { return None };
            let steel = wanted.facts.steel_thickness.map(|steel| steel.value);
            let species = wanted.facts.species.map(|species| species.value);
            let holds = |steel| {
                let known = capacity::of(fixing, thread, species, steel);
                known.filter(|_| !ground.is_thin_casing())
            };
            let working = |holds: Option<Holds>| wanted.working(fixing, reaction, holds);
            let thinnest = || working(holds(steel::of_mil(THINNEST_STUD))).worse();
            let is_assumed = matches!(fixing.capacity, Capacity::SteelPullOut(_)) && steel.is_none();
            Some(Pick {
                fixing,
                working: working(holds(steel)),
                ground: *ground,
                in_thinnest_steel: if is_assumed { thinnest() } else { None },
            })
        })
        .collect();
    let first = picks.first().copied()?;
    if first.holds_both() {
        return Some(first);
    }
    let cheapest = picks.iter().filter(|pick| pick.holds_both());
    let cheapest = cheapest.min_by_key(|pick| (pick.price().is_none(), pick.price()));
    let strongest_of = |hangs: bool| {
        let known = picks.iter().filter(|pick| pick.working.holds.is_some());
        let known = known.filter(|pick| !hangs || pick.holds_while_it_hangs());
        known.min_by_key(|pick| pick.working.worse())
    };
    Some(*cheapest.or_else(|| strongest_of(true)).or_else(|| strongest_of(false)).unwrap_or(&first))
}

impl<'r> Wanted<'_, 'r> {
    fn working(&self, fixing: &Fixing, reaction: Decimal, holds: Option<Holds>) -> Working {
        let cover = self.cover;
        let each = Decimal::from(*cover.fixings_per_bracket);
        let apart =
            if self.goes_up() { *cover.inside_screws_apart } else { *cover.lower_screw - *cover.upper_screw };
        // Of two screws that are too near each other one counts.
        let counted = if fixing.spacing > apart { Decimal::ONE } else { each };
        let arm = *cover.bracket_foot - *cover.upper_screw;
        let pull = |force: Decimal| match self.sizing.hung.reach() {
            Some(reach) => force * ratio(reach, arm),
            None => force / counted,
        };
        Working {
            reaction,
            pull: pull(reaction),
            pulled_pull: pull(reaction + *cover.pull),
            shear: if self.goes_up() { Decimal::ZERO } else { reaction / counted },
            holds: holds.map(|holds| [holds.sustained, holds.pulled]),
        }
    }
}

fn ratio(top: Length, bottom: Length) -> Decimal {
    top.meters() / bottom.meters()
}

impl<'r> Pick<'r> {
    /// Asks about all that does not hold, or is not known to.
    pub(super) fn ask(&self, wanted: &Wanted<'_, 'r>, record: &mut Record<'r>) -> Result<(), Held> {
        let facts = wanted.facts;
        let at = facts.substrate.map(|substrate| substrate.at);
        let item = self.fixing.item.to_string();
        if let Some(needed) = self.working.needed().filter(|_| !self.ground.is_thin_casing()) {
            let needed = Amount::Force(needed).show(record.units());
            record.ask(
                &FittingQuery::CapacityUnknown { item: item.clone() },
                None,
                format!("{needed} needed"),
            );
        }
        let units = record.units();
        let percent = |part: Decimal| Amount::Share(part).show(units);
        let over = |part: Option<Decimal>| part.filter(|part| *part > Decimal::ONE);
        if let Some(hung) = over(self.working.hung()) {
            let detail = format!("{} at {}", item, percent(hung));
            if self.ground.is_hollow {
                return Err(record.hold(&FittingQuery::AnchorsOverloaded, at, detail));
            }
            record.ask(&FittingQuery::Overloaded, at, detail);
        } else if let Some(pulled) = over(self.working.pulled()) {
            record.ask(&FittingQuery::PulledOut, at, format!("{} at {}", item, percent(pulled)));
        }
        if let Some(thinnest) = over(self.in_thinnest_steel) {
            record.ask(&FittingQuery::ThinSteel, at, format!("{} in 18 mil", percent(thinnest)));
        }
        if self.ground.may_meet_cable(self.fixing, wanted.cover) {
            record.ask(&FittingQuery::CablesBehind, None, "");
        }
        Ok(())
    }
}
