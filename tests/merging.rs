//! Sharing sizes against every way of sharing them: projects of up to seven openings, each with inside and
//! outside blinds, quantities, sizes that may not move, and preferred sizes off the step.
//!
//! Every set of openings is tried at every size that all of them take, and then every way to part the
//! openings into such sets.

use rust_decimal::Decimal;
use sillbook::length::{Length, Unit};
use sillbook::rules::{self, Rules};
use sillbook::sizing::Size;
use sillbook::sourcing::Merging;

use crate::support::chance::Chance;
use crate::support::windows::{Blinds, sourced};

/// The step of sizes of the built-in products where a survey is in inches.
const STEP: Length = Length::sixty_fourths(8);

/// How far a size may move, in halves of a step; whole windows are less.
const FURTHEST: [i64; 4] = [2, 4, 5, 1_000];

fn half_steps(count: i64) -> Length {
    Length::sixty_fourths(4 * count)
}

/// What a plan breaks, in words; nothing if every blind may have its size.
fn broken(blinds: &[Blinds], sizes: &[Size], furthest: Length) -> Vec<String> {
    let faults =
        blinds.iter().zip(sizes).enumerate().filter(|(_, (blinds, size))| !takes(blinds, **size, furthest));
    faults.map(|(at, (blinds, size))| format!("{at}: {size:?} of {blinds:?}")).collect()
}

/// Whether blinds may have a size: the rule, said a second time.
fn takes(blinds: &Blinds, size: Size, furthest: Length) -> bool {
    let (preferred, least, most) = (blinds.window.preferred(), blinds.window.least(), blinds.window.most());
    let along = |length: Length, preferred: Length, least: Length, most: Length| {
        length == preferred
            || (least <= length
                && length <= most
                && (length - preferred).abs() <= furthest
                && length.nm() % STEP.nm() == 0)
    };
    let smallest = blinds.inside
        && size == least
        && least.width < most.width
        && least.drop < most.drop
        && size != preferred;
    along(size.width, preferred.width, least.width, most.width)
        && along(size.drop, preferred.drop, least.drop, most.drop)
        && !smallest
}

fn movement(blinds: &Blinds, size: Size) -> i64 {
    let preferred = blinds.window.preferred();
    let moved = (size.width - preferred.width).abs() + (size.drop - preferred.drop).abs();
    moved.nm() * i64::from(blinds.quantity)
}

/// The least of what all openings come to over every way to part them into sets that share a size, where a
/// set at a size comes to `of`: so many sizes or so much money first, and then the movement.
fn least(blinds: &[Blinds], furthest: Length, of: impl Fn(&[&Blinds], Size) -> (i64, i64)) -> (i64, i64) {
    let ends = |end: fn(&Blinds) -> Size| blinds.iter().map(end).collect::<Vec<_>>();
    let (least, most) = (ends(|blinds| blinds.window.least()), ends(|blinds| blinds.window.most()));
    let along = |part: fn(&Size) -> Length| {
        let from = least.iter().map(part).min().unwrap().nm() / half_steps(1).nm();
        let to = most.iter().map(part).max().unwrap().nm() / half_steps(1).nm();
        from..=to
    };
    let sizes: Vec<Size> = along(|size| size.width)
        .flat_map(|width| along(|size| size.drop).map(move |drop| (width, drop)))
        .map(|(width, drop)| Size { width: half_steps(width), drop: half_steps(drop) })
        .collect();
    let all = 1_usize << blinds.len();
    let mut alone: Vec<Option<(i64, i64)>> = vec![None; all];
    for &size in &sizes {
        let takers: usize =
            (0..blinds.len()).filter(|&at| takes(&blinds[at], size, furthest)).map(|at| 1 << at).sum();
        let mut set = takers;
        while set > 0 {
            let members: Vec<&Blinds> =
                (0..blinds.len()).filter(|at| set >> at & 1 == 1).map(|at| &blinds[at]).collect();
            let comes_to = of(&members, size);
            alone[set] = Some(alone[set].map_or(comes_to, |least| least.min(comes_to)));
            set = (set - 1) & takers;
        }
    }
    let mut parted = vec![(0, 0); all];
    for set in 1..all {
        let first = set & set.wrapping_neg();
        let mut part = set;
        let mut best = (i64::MAX, i64::MAX);
        while part > 0 {
            if let (Some(own), true) = (alone[part], part & first > 0) {
                let rest: (i64, i64) = parted[set & !part];
                best = best.min((own.0 + rest.0, own.1 + rest.1));
            }
            part = (part - 1) & set;
        }
        parted[set] = best;
    }
    parted[all - 1]
}

fn project(chance: &mut Chance) -> Vec<Blinds> {
    let reach = 4 + chance.below(14) as i64;
    let longest = 2 + chance.below(10) as i64;
    let mut span = |is_inside: bool| {
        let least = 800 + 2 * chance.below(reach as u64) as i64;
        let most = least + 2 * chance.below(longest as u64) as i64;
        let preferred = match (is_inside, chance.below(5)) {
            (true, _) => most,
            (_, 0) => least + chance.below((most - least + 1) as u64) as i64,
            _ => least + 2 * chance.below(((most - least) / 2 + 1) as u64) as i64,
        };
        // At times a size that somebody asked for, off the step and alone.
        match chance.below(12) {
            0 => [least + 1; 3],
            1 => [preferred; 3],
            _ => [preferred, least, most],
        }
    };
    let shapes: Vec<(bool, [[i64; 3]; 2])> = [true, false, true, false, false, true, true]
        .map(|is_inside| (is_inside, [span(is_inside), span(is_inside)]))
        .to_vec();
    let count = 2 + chance.below(6) as usize;
    shapes
        .into_iter()
        .take(count)
        .map(|(inside, ends)| Blinds::of(inside, 1 + chance.below(3) as u32, ends))
        .collect()
}

fn rules(furthest: Length) -> Rules {
    let mut rules = rules::build(&[], Unit::Inch).unwrap().value;
    rules.project.merge_sizes = Some(furthest);
    rules
}

fn sizes_of(blinds: &[Blinds], rules: &Rules) -> (Vec<Size>, Merging) {
    let sourcing = sourced(blinds, rules).value;
    (sourcing.sizes.iter().flatten().map(|sourced| sourced.size).collect(), sourcing.merging.unwrap())
}

#[test]
fn the_fewest_sizes_with_the_least_movement_are_found_and_proven() {
    let mut chance = Chance::new(1);
    for round in 0..600 {
        let blinds = project(&mut chance);
        let furthest = half_steps(FURTHEST[round % FURTHEST.len()]);
        let rules = rules(furthest);
        let (sizes, merging) = sizes_of(&blinds, &rules);
        assert_eq!(broken(&blinds, &sizes, furthest), [""; 0], "round {round}");
        let moved: i64 = blinds.iter().zip(&sizes).map(|(blinds, size)| movement(blinds, *size)).sum();
        let mut distinct = sizes.clone();
        distinct.sort_unstable();
        distinct.dedup();
        let sum = |members: &[&Blinds], size| (1, members.iter().map(|blinds| movement(blinds, size)).sum());
        let (fewest, least) = least(&blinds, furthest, sum);
        let found = (
            distinct.len() as i64,
            moved,
            merging.after as i64,
            merging.at_least as i64,
            merging.movement.nm(),
        );
        assert_eq!(found, (fewest, least, fewest, fewest, least), "round {round}: {blinds:?}");
        assert!(merging.is_fewest() && merging.is_least_movement, "round {round}");
    }
}

#[test]
fn the_least_cost_with_a_set_up_is_found_and_proven() {
    let mut chance = Chance::new(2);
    for round in 0..300 {
        let blinds = project(&mut chance);
        let mut rules = rules(half_steps(1));
        let set_up = [1, 5, 40, 300][round % 4];
        rules.rates.size_set_up = Some(Decimal::from(set_up));
        let price = |size: Size| {
            let price = rules.prices.made_blind(&rules.products[0].name).unwrap();
            let price = price.of(size.width, size.drop, rules.project.currency).unwrap();
            i64::try_from(
                (price * Decimal::ONE_HUNDRED).mantissa()
                    / 10_i128.pow((price * Decimal::ONE_HUNDRED).scale()),
            )
            .unwrap()
        };
        let curve = sourced(&blinds, &rules).value.sizes_curve;
        assert_eq!(curve.len(), 6);
        for at in &curve {
            let furthest = at.furthest.unwrap_or(half_steps(10_000));
            let cost = |members: &[&Blinds], size: Size| {
                let count: i64 = members.iter().map(|blinds| i64::from(blinds.quantity)).sum();
                (100 * set_up + count * price(size), 0)
            };
            let (least, _) = least(&blinds, furthest, cost);
            let cheapest = at.cheapest.as_ref().unwrap();
            assert_eq!(
                cheapest.cost * Decimal::ONE_HUNDRED,
                Decimal::from(least),
                "round {round}: {blinds:?}"
            );
            assert!(cheapest.is_least && at.cost.unwrap() >= cheapest.cost, "round {round}");
        }
    }
}

#[test]
fn a_size_too_many_or_moved_too_far_is_seen() {
    // Both may be 806: as preferred they are a size too many, at 804 they move too far.
    let ends = |preferred: i64| [[preferred, preferred - 4, preferred], [1_608, 1_608, 1_608]];
    let blinds = [Blinds::of(true, 1, ends(808)), Blinds::of(true, 3, ends(806))];
    let sum = |members: &[&Blinds], size| (1, members.iter().map(|blinds| movement(blinds, size)).sum());
    let moved = |width: i64| -> i64 {
        blinds
            .iter()
            .map(|own| movement(own, Size { width: half_steps(width), drop: half_steps(1_608) }))
            .sum()
    };
    let least = least(&blinds, half_steps(4), sum);
    assert_eq!(least, (1, moved(806)));
    assert!(least < (1, moved(804)) && least < (2, 0));
}

#[test]
fn a_move_outside_a_window_is_seen() {
    let blinds = Blinds::of(true, 1, [[808, 800, 808], [1_608, 1_600, 1_608]]);
    let at = |width: i64, drop: i64| Size { width: half_steps(width), drop: half_steps(drop) };
    let blinds = [blinds];
    for (size, furthest, is_broken) in [
        (at(808, 1_608), 4, false),
        (at(806, 1_604), 4, false),
        (at(802, 1_608), 4, true),
        (at(802, 1_608), 6, false),
        (at(798, 1_608), 20, true),
        (at(808, 1_610), 20, true),
        (at(807, 1_608), 20, true),
        (at(800, 1_600), 20, true),
        (at(800, 1_602), 20, false),
    ] {
        assert_eq!(
            !broken(&blinds, &[size], half_steps(furthest)).is_empty(),
            is_broken,
            "{size:?} {furthest}"
        );
    }
}
