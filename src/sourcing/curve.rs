//! Sizes against money: what fewer sizes cost and save, from no move at all to whole windows.
//!
//! At each limit blinds move to the fewest sizes, as they do in a run that merges with that limit, and where
//! a size costs a set-up also to the sizes at which blinds and set-ups together cost the least. The cost is
//! that of the made blinds by today's price list, with a set-up for each distinct product, width and drop of
//! the project, as the cost summary charges it: without discount, overhead and tax, which the choice does not
//! change. The least cost takes the smallest sizes that save anything, for a smaller blind costs less.
//!
//! Phases share no size, so each is searched by itself; set-ups that two of them have in common by chance
//! count once. Where a product is in several phases, another choice might have more of these by chance, and
//! the least cost is not said to be proven, but where no blind may move.

use std::collections::BTreeSet;

use rayon::prelude::*;
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

use super::merge::{self, Group, Plan};
use super::{Merging, Sourced};
use crate::frozen::Frozen;
use crate::length::Length;
use crate::rules::Rules;
use crate::sizing::{Size, Sizing};
use crate::survey::Survey;

/// How far a blind may move in width and in drop, limit by limit; `None` is as far as its window goes.
const LIMITS: [Option<Length>; 6] = [
    Some(Length::ZERO),
    Some(Length::sixty_fourths(4)),
    Some(Length::sixty_fourths(8)),
    Some(Length::sixty_fourths(16)),
    Some(Length::sixty_fourths(32)),
    None,
];

/// More than any window has.
const WHOLE_WINDOW: Length = Length::from_mm(1_000_000);

/// What sharing sizes comes to where blinds may move so far.
#[derive(Clone, Debug, PartialEq)]
pub struct SizesAt {
    /// How far a blind may move in width and in drop; `None`: as far as its window goes.
    pub furthest: Option<Length>,
    /// The fewest sizes, with the least movement.
    pub fewest: Merging,
    /// What the made blinds and the set-ups of their sizes cost then; `None` if a price is not known.
    pub cost: Option<Decimal>,
    /// The sizes that cost the least; `None` where a set-up costs nothing, or a price is not known.
    pub cheapest: Option<Cheapest>,
}

/// The sizes at which made blinds and set-ups cost the least.
#[derive(Clone, Debug, PartialEq)]
pub struct Cheapest {
    /// What sharing sizes does to the blinds; its bounds are not for this plan.
    pub merging: Merging,
    /// What the made blinds and the set-ups of their sizes cost.
    pub cost: Decimal,
    /// It is proven that no other sizes cost less.
    pub is_least: bool,
}

/// Whether anyone wants to know: where sizes are shared, or cost a set-up.
pub(super) fn is_asked_for(rules: &Rules) -> bool {
    rules.project.merge_sizes.is_some() || rules.rates.size_set_up.is_some_and(|rate| rate > Decimal::ZERO)
}

/// What sharing sizes comes to at each limit; nothing where no blind is made. `sourced` has the blinds at their
/// sizes before any are shared.
pub(super) fn curve<'r>(
    survey: &Survey,
    sizings: &[Option<Sizing<'r>>],
    frozen: &Frozen<'_>,
    rules: &'r Rules,
    sourced: &[Option<Sourced<'r>>],
) -> Vec<SizesAt> {
    let at = |furthest: Option<Length>| {
        let groups = merge::groups(survey, sizings, frozen, furthest.unwrap_or(WHOLE_WINDOW), sourced);
        (!groups.is_empty()).then(|| Prices { rules }.sizes_at(furthest, &groups))
    };
    LIMITS.into_par_iter().filter_map(at).collect()
}

/// What made blinds and sizes cost.
#[derive(Clone, Copy)]
struct Prices<'r> {
    rules: &'r Rules,
}

impl Prices<'_> {
    fn sizes_at(self, furthest: Option<Length>, groups: &[Group<'_>]) -> SizesAt {
        let plans: Vec<Plan> = groups.iter().map(Group::fewest).collect();
        SizesAt {
            furthest,
            fewest: merge::merging(groups, &plans),
            cost: self.cost(groups, &plans),
            // Where no blind may move there is nothing to choose.
            cheapest: self.cheapest(groups, &plans).map(|cheapest| Cheapest {
                is_least: cheapest.is_least || furthest == Some(Length::ZERO),
                ..cheapest
            }),
        }
    }

    /// What one made blind of a size costs.
    fn of(self, product: &str, size: Size) -> Option<Decimal> {
        let listed = self.rules.prices.made_blind(product)?;
        listed.of(size.width, size.drop, self.rules.project.currency)
    }

    /// Blinds and set-ups, each amount rounded once.
    fn cost(self, groups: &[Group<'_>], plans: &[Plan]) -> Option<Decimal> {
        let mut sizes = BTreeSet::new();
        let mut cost = Decimal::ZERO;
        for (group, plan) in groups.iter().zip(plans) {
            for (size, blinds) in group.blinds_of(plan) {
                sizes.insert((group.product, size));
                let each = self.of(group.product, size)?;
                cost = cost.checked_add(each.checked_mul(Decimal::from(blinds))?)?;
            }
        }
        let set_ups = self.rules.rates.size_set_up?.checked_mul(Decimal::from(sizes.len()))?;
        cost.checked_add(self.rules.project.currency.round(set_ups))
    }

    /// The sizes that cost the least; those of `fewest` if they cost less, or as much and move less.
    fn cheapest(self, groups: &[Group<'_>], fewest: &[Plan]) -> Option<Cheapest> {
        let set_up = self.rules.rates.size_set_up.filter(|rate| *rate > Decimal::ZERO)?;
        let set_up = self.minor_units(set_up)?;
        let price = |group: &Group<'_>, size| self.minor_units(self.of(group.product, size)?);
        let found: Option<Vec<Plan>> =
            groups.iter().map(|group| group.cheapest(|size| price(group, size), set_up)).collect();
        let plans = found?;
        let cost = self.cost(groups, &plans)?;
        let products: BTreeSet<&str> = groups.iter().map(|group| group.product).collect();
        let is_least = products.len() == groups.len() && plans.iter().all(|plan| plan.is_best);
        let ranked = |cost: Decimal, plans: Vec<Plan>| (cost, merge::merging(groups, &plans));
        let (found, other) = (ranked(cost, plans), ranked(self.cost(groups, fewest)?, fewest.to_vec()));
        let is_better = (other.0, other.1.movement) < (found.0, found.1.movement);
        let (cost, merging) = if is_better { other } else { found };
        Some(Cheapest { merging, cost, is_least })
    }

    /// An amount in whole minor units; `None` if it is no whole number of them, or too many.
    fn minor_units(self, amount: Decimal) -> Option<i64> {
        let units = amount.checked_mul(Decimal::from(10_i64.pow(self.rules.project.currency.decimals())))?;
        units.is_integer().then(|| units.to_i64())?
    }
}
