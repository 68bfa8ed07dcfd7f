//! The cutting-stock solver by itself: published problems, proofs that must not pass, and plans
//! against every plan there is.

use std::collections::BTreeMap;

use crate::problems::{Problem, Unread, read};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use sillbook::cutting::solver::{
    Certificate, Cut, Doubt, Instance, Item, Misfit, Solution, Stock, Weighing, Work, check, solve,
};

fn solved(instance: &Instance) -> Solution {
    solve(instance, Work::FOR_A_PLAN)
}

/// What the bars of a plan cost, if it and its proof pass the check.
fn cost(instance: &Instance, solution: &Solution) -> u128 {
    check(instance, &solution.cuts, &solution.certificate).unwrap()
}

fn published() -> Vec<Problem> {
    [include_str!("data/handbook.csp"), include_str!("data/public.csp")]
        .iter()
        .flat_map(|text| read(text).unwrap())
        .collect()
}

#[test]
fn published_problems_are_cut_at_their_best_and_proven() {
    let problems = published();
    assert_eq!(problems.len(), 9 + 12);
    for Problem { name, instance, best, .. } in problems {
        let solution = solved(&instance);
        assert_eq!(
            (Some(cost(&instance, &solution)), Some(solution.certificate.cost)),
            (best, best),
            "{name}"
        );
    }
}

#[test]
fn jobs_with_four_prices_cost_at_most_a_thousandth_more_than_the_least() {
    let problems = read(include_str!("data/priced.csp")).unwrap();
    let mut proven = 0;
    for Problem { name, instance, best, .. } in &problems {
        let solution = solved(instance);
        let (cost, best) = (cost(instance, &solution), best.unwrap());
        assert!(solution.certificate.cost <= best && (cost - best) * 1_000 <= best, "{name}: {cost}");
        proven += u32::from(cost == solution.certificate.cost);
    }
    assert_eq!((problems.len(), proven), (7, 6));
}

#[test]
fn a_free_bar_leaves_the_bound_of_what_must_be_bought() {
    // Three of 6 need a bar of 10 each, whatever becomes of the 4; an offcut of 7 takes the place of one.
    let (bar, free) =
        (Stock { capacity: 10, cost: 3, limit: None }, Stock { capacity: 5, cost: 0, limit: None });
    let offcut = Stock { capacity: 7, cost: 0, limit: Some(1) };
    let items = [Item { size: 6, demand: 3 }, Item { size: 4, demand: 5 }];
    // Two of 6 in a bar of 13: half a bar for each would be 6, whole bars are 7.
    let longer = Stock { capacity: 13, cost: 4, limit: None };
    for (stocks, least) in [
        (vec![bar, free], 9),
        (vec![free, bar], 9),
        (vec![bar, free, offcut], 6),
        (vec![bar, offcut], 12),
        (vec![bar, longer, free], 7),
    ] {
        let instance = Instance::new(items, stocks).unwrap();
        let solution = solved(&instance);
        assert_eq!((cost(&instance, &solution), solution.certificate.cost), (least, least));
    }
}

#[test]
fn a_saw_takes_a_kerf_between_pieces_and_a_trim_off_each_end() {
    let least = |saw: &str| {
        let text = format!("instance a\nstock 13 4\nstock 10 3\nitem 4 3\n{saw}\nend\n");
        let Problem { instance, lengths, .. } = read(&text).unwrap().remove(0);
        assert_eq!(lengths, [4]);
        cost(&instance, &solved(&instance))
    };
    // 4 + 1 + 4 and two trims of 2 fill a bar of 13; with a trim more, each piece takes a bar of 10.
    assert_eq!(least("saw 1 2"), 7);
    assert_eq!(least("saw 1 3"), 9);
    assert_eq!(least("saw 2 2"), 9);
    assert_eq!(least("saw 0 0"), 4);
}

#[test]
fn the_same_problem_is_cut_the_same_way_every_time() {
    for Problem { name, instance, .. } in published().into_iter().take(6) {
        let (one, other) = (solved(&instance), solved(&instance));
        assert_eq!((one.cuts, one.certificate), (other.cuts, other.certificate), "{name}");
    }
}

/// Bars of 10 at 3, and one offcut of 6: 3 of 5, 2 of 4, 2 of 3.
fn small() -> (Instance, Solution) {
    let stocks =
        vec![Stock { capacity: 10, cost: 3, limit: None }, Stock { capacity: 6, cost: 0, limit: Some(1) }];
    let items = [(5, 3), (4, 2), (3, 2)].map(|(size, demand)| Item { size, demand });
    let instance = Instance::new(items, stocks).unwrap();
    let solution = solved(&instance);
    (instance, solution)
}

#[test]
fn a_bound_that_is_not_proved_is_refused() {
    // Of 15 + 8 + 6 = 29 the offcut takes 6 at most, so three bars of 10 at 3.
    let (instance, Solution { cuts, certificate, .. }) = small();
    assert_eq!(certificate.cost, 9);
    assert_eq!(check(&instance, &cuts, &certificate), Ok(9));
    let refused = |spoil: &dyn Fn(&mut Certificate)| {
        let mut certificate = certificate.clone();
        spoil(&mut certificate);
        check(&instance, &cuts, &certificate).unwrap_err()
    };

    let raised = refused(&|certificate| certificate.cost += 1);
    assert!(matches!(raised, Doubt::Bound { proved: 9 }), "{raised:?}");
    // What a bar holds said to be less than it is, which would raise the bound.
    let lighter = refused(&|certificate| certificate.weighings[0].most[0] -= 1);
    assert!(matches!(lighter, Doubt::Heavier(0)), "{lighter:?}");
    let heavier = refused(&|certificate| certificate.weighings[0].weights[0] *= 2);
    assert!(matches!(heavier, Doubt::Heavier(_)), "{heavier:?}");
    let other = refused(&|certificate| certificate.weighings[0].weights.truncate(2));
    assert_eq!(other, Doubt::OtherInstance);
    // A bound may be lower than what is proved: it is true all the same.
    let lower = Certificate { cost: 6, ..certificate.clone() };
    assert_eq!(check(&instance, &cuts, &lower), Ok(9));
}

#[test]
fn a_piece_that_fills_its_bar_weighs_on_it() {
    let bar = Stock { capacity: 10, cost: 3, limit: None };
    let instance = Instance::new([Item { size: 10, demand: 2 }], vec![bar]).unwrap();
    let Solution { cuts, mut certificate, .. } = solved(&instance);
    assert_eq!((check(&instance, &cuts, &certificate), certificate.cost), (Ok(6), 6));
    certificate.weighings[0].most[0] -= 1;
    assert!(matches!(check(&instance, &cuts, &certificate), Err(Doubt::Heavier(0))));
}

/// Bars that cost nothing and have no end may hold all that it weighs.
#[test]
fn a_weighing_by_which_a_free_bar_holds_anything_proves_nothing() {
    let (bar, free) =
        (Stock { capacity: 10, cost: 3, limit: None }, Stock { capacity: 5, cost: 0, limit: None });
    let instance = Instance::new([Item { size: 4, demand: 2 }], vec![bar, free]).unwrap();
    let cuts = solved(&instance).cuts;
    let proved = |most: u64| {
        let weighing = Weighing { weights: vec![most], most: vec![2 * most, most] };
        check(&instance, &cuts, &Certificate { weighings: vec![weighing], cost: 3 })
    };
    assert_eq!((proved(1), proved(2)), (Err(Doubt::Bound { proved: 0 }), Err(Doubt::Bound { proved: 0 })));
}

#[test]
fn every_published_bound_raised_by_one_is_refused() {
    for Problem { name, instance, .. } in published() {
        let Solution { cuts, certificate, .. } = solved(&instance);
        let raised = Certificate { cost: certificate.cost + 1, ..certificate };
        let doubt = check(&instance, &cuts, &raised).unwrap_err();
        assert!(matches!(doubt, Doubt::Bound { .. }), "{name}: {doubt}");
    }
}

#[test]
fn a_plan_with_a_slip_is_refused() {
    let (instance, Solution { cuts, certificate, .. }) = small();
    let refused = |spoil: &dyn Fn(&mut Vec<Cut>)| {
        let mut cuts = cuts.clone();
        spoil(&mut cuts);
        check(&instance, &cuts, &certificate).unwrap_err()
    };
    let missing = refused(&|cuts| cuts[0].counts[0].1 -= 1);
    assert!(
        matches!(missing, Doubt::Pieces { cut, wanted, .. } if cut + 1 == u128::from(wanted)),
        "{missing:?}"
    );
    let doubled = refused(&|cuts| {
        let last = cuts.len() - 1;
        cuts[last].bars *= 2;
    });
    assert!(matches!(doubled, Doubt::Pieces { cut, wanted, .. } if cut > u128::from(wanted)), "{doubled:?}");
    // A piece that is moved from a bar to a full one: every piece is still there.
    let full = (0..cuts.len()).find(|at| room(&instance, &cuts[*at]) < 3).unwrap();
    let from = (0..cuts.len()).find(|at| *at != full).unwrap();
    let moved = refused(&|cuts| {
        let item = cuts[from].counts[0].0;
        cuts[from].counts[0].1 -= 1;
        cuts[full].counts.push((item, 1));
    });
    assert_eq!(moved, Doubt::OverFull(full));
    // Bars of a stock that there is one of.
    let conjured = refused(&|cuts| {
        let all: Vec<(usize, u64)> = vec![(0, 1)];
        *cuts = vec![
            Cut { stock: 1, bars: 3, counts: all },
            Cut { stock: 0, bars: 2, counts: vec![(1, 1), (2, 1)] },
        ];
    });
    assert_eq!(conjured, Doubt::Limit(1));
    let unknown = refused(&|cuts| cuts[0].stock = 9);
    assert_eq!(unknown, Doubt::OverFull(0));
}

/// Bars of 10 at 4 and of 7 at 3 for 3 of 5. Half of a bar of 10 is 2, so fractions of bars prove
/// 6; but whole bars at 6 are two of 7, which hold 14 of 15.
fn whole_bars_alone() -> (Instance, Solution) {
    let stocks = [(10, 4), (7, 3)].map(|(capacity, cost)| Stock { capacity, cost, limit: None });
    let instance = Instance::new([Item { size: 5, demand: 3 }], stocks.to_vec()).unwrap();
    let solution = solved(&instance);
    (instance, solution)
}

#[test]
fn a_bound_on_whole_bars_is_proved_and_one_more_is_refused() {
    let (instance, Solution { cuts, certificate, .. }) = whole_bars_alone();
    assert_eq!(certificate.cost, 7);
    assert_eq!(check(&instance, &cuts, &certificate), Ok(7));
    let raised = Certificate { cost: 8, ..certificate.clone() };
    assert_eq!(check(&instance, &cuts, &raised), Err(Doubt::Bound { proved: 7 }));
    let nothing = Certificate { weighings: Vec::new(), ..certificate };
    assert_eq!(check(&instance, &cuts, &nothing), Err(Doubt::Bound { proved: 0 }));
}

/// Rails of a small building off three lengths, with two offcuts on hand.
fn several_prices() -> Vec<Instance> {
    let stocks: Vec<Stock> = [
        (3_583, 1_720, None),
        (4_483, 2_080, None),
        (5_783, 2_600, None),
        (1_700, 0, Some(1)),
        (900, 0, Some(2)),
    ]
    .map(|(capacity, cost, limit)| Stock { capacity, cost, limit })
    .to_vec();
    let job = |seed: u64| {
        let item = |at: u64| Item { size: 503 + (at * 7_919 + seed * 104_729) % 2_900, demand: 1 + at % 5 };
        Instance::new((1..15).map(item), stocks.clone()).unwrap()
    };
    (1..=12).map(job).collect()
}

#[test]
fn with_several_prices_no_higher_bound_and_no_plan_with_a_slip_passes() {
    for instance in several_prices() {
        let Solution { cuts, certificate, .. } = solved(&instance);
        assert_eq!(check(&instance, &cuts, &certificate), Ok(certificate.cost), "proven");
        let raised = certificate.cost + u128::from(instance.common_cost());
        let raised = Certificate { cost: raised, ..certificate.clone() };
        let refused = check(&instance, &cuts, &raised);
        assert_eq!(refused, Err(Doubt::Bound { proved: certificate.cost }));
        for weighing in 0..certificate.weighings.len() {
            let mut spoilt = certificate.clone();
            spoilt.weighings[weighing].most[2] /= 2;
            assert_eq!(check(&instance, &cuts, &spoilt), Err(Doubt::Heavier(2)));
        }
        for at in 0..cuts.len() {
            let mut missing = cuts.clone();
            missing[at].counts[0].1 -= 1;
            let refused = check(&instance, &missing, &certificate);
            assert!(matches!(refused, Err(Doubt::Pieces { .. })), "{refused:?}");
            let mut doubled = cuts.clone();
            doubled.push(Cut { bars: 1, counts: vec![(cuts[at].counts[0].0, 1)], stock: 2 });
            let refused = check(&instance, &doubled, &certificate);
            assert!(matches!(refused, Err(Doubt::Pieces { .. })), "{refused:?}");
        }
    }
}

#[test]
fn the_check_of_any_certificate_comes_to_an_end() {
    // Lengths and prices so near each other that no bar stands in for another.
    let stocks = (0..8).map(|at| Stock { capacity: 10_007 + at * 13, cost: 9_973 + at * 13, limit: None });
    let items = [(3_001, 1_000_000), (2_003, 1_000_000)].map(|(size, demand)| Item { size, demand });
    let instance = Instance::new(items, stocks.collect()).unwrap();
    let cuts: Vec<Cut> =
        (0..2).map(|item| Cut { stock: 0, bars: 1_000_000, counts: vec![(item, 1)] }).collect();
    let weighing = Weighing {
        weights: instance.items().iter().map(|item| item.size).collect(),
        most: instance.stocks().iter().map(|stock| stock.capacity).collect(),
    };
    let other = Weighing { weights: vec![1, 1], most: vec![5; 8] };
    for weighings in [vec![weighing.clone()], vec![weighing, other]] {
        for cost in [4_990_000_000, 5_000_000_000, u128::MAX] {
            let certificate = Certificate { weighings: weighings.clone(), cost };
            let checked = check(&instance, &cuts, &certificate);
            assert!(
                matches!(
                    checked,
                    Ok(_) | Err(Doubt::TooManySteps | Doubt::Bound { .. } | Doubt::UnderBound { .. })
                ),
                "{checked:?}"
            );
        }
    }
    let heaviest = Weighing { weights: vec![u64::MAX; 2], most: vec![u64::MAX; 8] };
    let certificate = Certificate { weighings: vec![heaviest], cost: u128::MAX };
    assert!(check(&instance, &cuts, &certificate).is_err());
}

fn room(instance: &Instance, cut: &Cut) -> u64 {
    let used: u64 = cut.counts.iter().map(|&(item, count)| instance.items()[item].size * count).sum();
    instance.stocks()[cut.stock].capacity - used
}

#[test]
fn numbers_that_are_no_problem_are_refused() {
    let bar = Stock { capacity: 100, cost: 1, limit: None };
    let refused = |items: &[(u64, u64)], stocks: &[Stock]| {
        let items = items.iter().map(|&(size, demand)| Item { size, demand });
        Instance::new(items, stocks.to_vec()).unwrap_err()
    };
    assert_eq!(refused(&[(0, 1)], &[bar]), Misfit::Nothing);
    assert_eq!(refused(&[(5, 0)], &[bar]), Misfit::Nothing);
    assert_eq!(refused(&[(101, 1)], &[bar]), Misfit::TooLong(101));
    // One long offcut is no stock to rely on.
    let offcut = Stock { capacity: 200, cost: 0, limit: Some(1) };
    assert_eq!(refused(&[(101, 1)], &[bar, offcut]), Misfit::TooLong(101));
    assert_eq!(refused(&[(1, 1)], &[]), Misfit::TooLong(1));
    assert_eq!(refused(&[(1, u64::from(u32::MAX) + 1)], &[bar]), Misfit::TooLarge);
    assert_eq!(refused(&[(1, 1)], &[Stock { cost: 1 << 41, ..bar }]), Misfit::TooLarge);
    // A piece as long as the bar, and two items of one size, are well.
    let items = [Item { size: 100, demand: 1 }, Item { size: 100, demand: 2 }];
    let instance = Instance::new(items, vec![bar]).unwrap();
    assert_eq!(cost(&instance, &solved(&instance)), 3);
}

#[test]
fn a_text_that_is_no_list_of_problems_is_refused_at_its_line() {
    let refused = |text: &str| read(text).unwrap_err();
    let well = "instance a\ncapacity 9 # nine\nitem 4 2\nend\n";
    assert_eq!(read(well).unwrap().len(), 1);
    assert!(matches!(refused("item 4 2\n"), Unread::Outside(1)));
    assert!(matches!(refused("instance a\ncapacity 9\n"), Unread::Outside(2)));
    assert!(matches!(refused("instance a\ncapacity nine\n"), Unread::Line { line: 2, .. }));
    assert!(matches!(refused("instance a\nitem 4 2\nitem 4 1\n"), Unread::Twice { line: 3, length: 4 }));
    assert!(matches!(refused("instance a\ncapacity 9\nitem 10 2\nend\n"), Unread::Misfit { .. }));
    assert!(matches!(refused("instance a\ncapacity 9\nitem 4 0\nend\n"), Unread::Misfit { .. }));
}

/// Up to three stocks of which the first has no end, and up to thirty sizes.
fn problems_at_random() -> impl Strategy<Value = Instance> {
    let stocks = prop::collection::vec((500_u64..1_500, 1_u64..30, prop::option::of(1_u64..4)), 0..3);
    let items = prop::collection::btree_map(30_u64..1_000, 1_u64..40, 1..30);
    (stocks, items).prop_map(|(stocks, items)| {
        let stock = |(capacity, cost, limit)| Stock { capacity, cost, limit };
        let stocks = [(1_000, 20, None)].into_iter().chain(stocks).map(stock).collect();
        Instance::new(items.into_iter().map(|(size, demand)| Item { size, demand }), stocks).unwrap()
    })
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 40,
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(4),
        ..ProptestConfig::default()
    })]

    #[test]
    fn with_little_work_or_much_a_plan_holds_and_its_bound_is_not_above_it(
        instance in problems_at_random(),
        work in prop_oneof![Just(0), Just(10_000), Just(20_000_000)],
    ) {
        let solution = solve(&instance, Work(work));
        let cost = cost(&instance, &solution);
        prop_assert!(solution.certificate.cost <= cost);
        prop_assert!(cost <= first_fit_decreasing(&instance));
    }

    #[test]
    fn with_several_prices_a_plan_costs_what_the_best_of_all_plans_costs(instance in small_jobs()) {
        let solution = solved(&instance);
        let least = least_cost(&instance);
        prop_assert_eq!(cost(&instance, &solution), least);
        prop_assert_eq!(solution.certificate.cost, least);
    }
}

/// Up to five stocks with prices and limits, and few pieces.
fn small_jobs() -> impl Strategy<Value = Instance> {
    let stocks = prop::collection::vec((8_u64..40, 0_u64..40, prop::option::of(1_u64..3)), 1..5);
    let items = prop::collection::btree_map(4_u64..31, 1_u64..4, 1..5);
    (stocks, items).prop_map(|(stocks, items)| {
        let stock = |(capacity, cost, limit): (u64, u64, Option<u64>)| {
            // A bar that costs next to nothing is free.
            Stock { capacity, cost: if cost < 5 { 0 } else { cost }, limit }
        };
        let stocks = [(30, 25, None)].into_iter().chain(stocks).map(stock).collect();
        Instance::new(items.into_iter().map(|(size, demand)| Item { size, demand }), stocks).unwrap()
    })
}

/// Pieces and bars left, and what it costs to cut the pieces from them.
type Known = BTreeMap<(Vec<u64>, Vec<u64>), Option<u128>>;

/// The least that any plan costs, by trying all of them.
fn least_cost(instance: &Instance) -> u128 {
    let pieces = instance.items().iter().map(|item| item.demand).collect();
    let all: u64 = instance.items().iter().map(|item| item.demand).sum();
    let bars = instance.stocks().iter().map(|stock| stock.limit.unwrap_or(all)).collect();
    least_cost_of(instance, pieces, bars, &mut Known::new()).unwrap()
}

fn least_cost_of(instance: &Instance, pieces: Vec<u64>, bars: Vec<u64>, known: &mut Known) -> Option<u128> {
    let Some(longest) = pieces.iter().position(|left| *left > 0) else {
        return Some(0);
    };
    if let Some(known) = known.get(&(pieces.clone(), bars.clone())) {
        return *known;
    }
    let mut least: Option<u128> = None;
    for (at, stock) in instance.stocks().iter().enumerate() {
        let Some(room) = stock.capacity.checked_sub(instance.items()[longest].size).filter(|_| bars[at] > 0)
        else {
            continue;
        };
        let mut fewer = bars.clone();
        // Of a stock without end there are as many as there are pieces: no need to count.
        fewer[at] -= u64::from(stock.limit.is_some());
        let mut rest = pieces.clone();
        rest[longest] -= 1;
        for rest in fillings(instance, &rest, longest, room) {
            let cost = least_cost_of(instance, rest, fewer.clone(), known);
            let cost = cost.map(|cost| cost + u128::from(stock.cost));
            least = least.into_iter().chain(cost).min();
        }
    }
    known.insert((pieces, bars), least);
    least
}

/// What is left of the pieces after each way to fill the room with them.
fn fillings(instance: &Instance, pieces: &[u64], from: usize, room: u64) -> Vec<Vec<u64>> {
    let Some(left) = pieces.get(from) else {
        return vec![pieces.to_vec()];
    };
    let size = instance.items()[from].size;
    let fill = |count: u64| {
        let mut rest = pieces.to_vec();
        rest[from] -= count;
        fillings(instance, &rest, from + 1, room - count * size)
    };
    (0..=(*left).min(room / size)).flat_map(fill).collect()
}

/// First-fit decreasing off bars of 1,000 at 20, piece by piece.
fn first_fit_decreasing(instance: &Instance) -> u128 {
    let bar = instance.stocks()[0];
    let mut rooms: Vec<u64> = Vec::new();
    for item in instance.items() {
        for _ in 0..item.demand {
            match rooms.iter_mut().find(|room| **room >= item.size) {
                Some(room) => *room -= item.size,
                None => rooms.push(bar.capacity - item.size),
            }
        }
    }
    rooms.len() as u128 * u128::from(bar.cost)
}
