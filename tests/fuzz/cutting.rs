//! Cutting problems of every size and shape: the plan holds, and so does the bound that is claimed beside it.

use sillbook::cutting::solver::{Instance, Item, Solution, Stock, Work, check, solve};

use super::hold;
use crate::support::chance::Chance;

const ROUNDS: u64 = 100;

/// Numbers that are as small or as large as they may be, or larger, or equal to others.
fn odd_number(chance: &mut Chance) -> u64 {
    match chance.of(4) {
        0 => chance.below(4),
        1 => 1 << chance.below(45),
        2 => (1 << 40) - chance.below(3),
        _ => 1_000 + chance.below(3),
    }
}

/// Pieces, bars, and how much work a plan may take.
type Problem = (Vec<Item>, Vec<Stock>, u64);

fn problem(chance: &mut Chance) -> Problem {
    let longest = [12, 1_000, 5_783, 5_783_000][chance.of(4)];
    // In most problems every number is an ordinary one.
    let is_odd = chance.of(4) == 0;
    let number = |chance: &mut Chance, ordinary: u64| match is_odd && chance.of(8) == 0 {
        true => odd_number(chance),
        false => 1 + chance.below(ordinary),
    };
    let mut stocks = vec![Stock { capacity: longest, cost: 1 + number(chance, 50), limit: None }];
    for _ in 0..chance.of(7) {
        let limit = (chance.of(2) == 0).then(|| number(chance, 6));
        let cost = if limit.is_some() { chance.below(20) } else { number(chance, 50) };
        stocks.push(Stock { capacity: number(chance, longest + longest / 2), cost, limit });
    }
    let item = |chance: &mut Chance| Item { size: number(chance, longest), demand: number(chance, 40) };
    let items = (0..1 + chance.of(25)).map(|_| item(chance)).collect();
    (items, stocks, [0, 1_000, 100_000, 2_000_000][chance.of(4)])
}

#[test]
fn any_problem_is_cut_with_a_bound_that_holds_or_refused() {
    hold(ROUNDS, problem, |(items, stocks, work)| {
        let instance = match Instance::new(items.iter().copied(), stocks.clone()) {
            Ok(instance) => instance,
            Err(misfit) => {
                return misfit.to_string().is_empty().then(|| "is refused without words".to_owned());
            }
        };
        let Solution { cuts, certificate, .. } = solve(&instance, Work(*work));
        match check(&instance, &cuts, &certificate) {
            Ok(cost) if certificate.cost <= cost => {}
            checked => return Some(format!("has a plan or a bound that does not hold: {checked:?}")),
        }
        let again = solve(&instance, Work(*work));
        (again.cuts != cuts || again.certificate != certificate)
            .then(|| "is cut another way the second time".to_owned())
    });
}

#[test]
fn most_problems_are_cut_and_some_refused() {
    let mut chance = Chance::new(1);
    let is_cut = |(items, stocks, _): Problem| Instance::new(items, stocks).is_ok();
    let cut = (0..400).filter(|_| is_cut(problem(&mut chance))).count();
    assert!((200..400).contains(&cut), "{cut} of 400");
}
