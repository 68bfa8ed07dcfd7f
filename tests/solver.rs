//! The cutting-stock solver by itself: published problems, proofs that must not pass, and plans
//! against every plan there is.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

#[path = "../demo/cut/problems.rs"]
mod problems;

use problems::{Problem, Unread, read};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use sillbook::cutting::solver::{
    Certificate, Cut, Doubt, Instance, Item, Misfit, Solution, Stock, Work, check, solve,
};

fn solved(instance: &Instance) -> Solution {
    solve(instance, Work::FOR_A_PLAN)
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
    for Problem { name, instance, best } in problems {
        let solution = solved(&instance);
        assert_eq!(check(&instance, &solution.cuts, &solution.certificate), Ok(solution.cost), "{name}");
        assert_eq!((Some(solution.cost), Some(solution.certificate.cost)), (best, best), "{name}");
    }
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
    let (instance, Solution { cuts, cost, certificate }) = small();
    assert_eq!((cost, certificate.cost), (9, 9));
    assert_eq!(check(&instance, &cuts, &certificate), Ok(9));
    let refused = |spoil: &dyn Fn(&mut Certificate)| {
        let mut certificate = certificate.clone();
        spoil(&mut certificate);
        check(&instance, &cuts, &certificate).unwrap_err()
    };

    let raised = refused(&|certificate| certificate.cost += 1);
    assert!(matches!(raised, Doubt::Bound { proved: 9 }), "{raised:?}");
    // What a bar holds said to be less than it is, which would raise the bound.
    let lighter = refused(&|certificate| certificate.most[0] -= 1);
    assert!(matches!(lighter, Doubt::Heavier(0)), "{lighter:?}");
    let heavier = refused(&|certificate| certificate.weights[0] *= 2);
    assert!(matches!(heavier, Doubt::Heavier(_)), "{heavier:?}");
    let other = refused(&|certificate| certificate.weights.truncate(2));
    assert_eq!(other, Doubt::OtherInstance);
    // A bound may be lower than what is proved: it is true all the same.
    let lower = Certificate { cost: 6, ..certificate.clone() };
    assert_eq!(check(&instance, &cuts, &lower), Ok(9));
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
    assert_eq!(solved(&Instance::new(items, vec![bar]).unwrap()).cost, 3);
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
        prop_assert_eq!(check(&instance, &solution.cuts, &solution.certificate), Ok(solution.cost));
        prop_assert!(solution.certificate.cost <= solution.cost);
        prop_assert!(solution.cost <= first_fit_decreasing(&instance));
    }
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
