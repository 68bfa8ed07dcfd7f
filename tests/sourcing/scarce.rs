//! Too few boxes for all: the use of them, and what one more would save, against every other use there is.

use rust_decimal::Decimal;
use sillbook::frozen::Frozen;
use sillbook::rules::Rules;
use sillbook::sourcing::{Candidate, Origin, Sourcing, WhyNot, source};
use sillbook::survey::Survey;

use super::{Row, all_told, built_in, date, inches, messages, sized, sourced, with_stock};

/// What a use of the boxes comes to: what counts first first, and less is better.
type Sum = ([i64; 4], Decimal, [i64; 6]);

/// One way to get the blinds of a row: which stock size, what one blind counts for, whether it is priced.
#[derive(Clone, Debug)]
struct Way {
    place: Option<usize>,
    each: Sum,
    is_priced: bool,
}

/// The place of a candidate's stock size in the list.
fn place(candidate: &Candidate<'_>, rules: &Rules) -> Option<usize> {
    let stock = candidate.supply.stock()?;
    rules.stock_sizes.iter().position(|listed| listed.id == stock.id && listed.width == stock.width)
}

fn way(candidate: &Candidate<'_>, row: &Row, rules: &Rules) -> Way {
    let (lead, preferred) = (candidate.lead_days.map(i64::from), row.window.preferred());
    let late = match (rules.project.need_by, candidate.arrives) {
        (None, _) => [0, 0, 0],
        (Some(_), None) => [1, 0, 0],
        (Some(need_by), Some(arrives)) => match i64::from(arrives.days_since(need_by)) {
            days if days > 0 => [1, 1, days],
            _ => [0, 0, 0],
        },
    };
    let size = candidate.size;
    let moved = (size.width - preferred.width).abs() + (size.drop - preferred.drop).abs();
    let uncovered = (row.window.least().width - size.width).max(inches(0.0));
    let place = place(candidate, rules);
    let unpriced = i64::from(candidate.price.is_none());
    let then = [
        i64::from(lead.is_none()),
        lead.unwrap_or(0),
        i64::from(place.is_none()),
        uncovered.nm(),
        moved.nm(),
        0,
    ];
    let each = ([late[0], unpriced, late[1], late[2]], candidate.price.unwrap_or_default(), then);
    Way { place, each, is_priced: candidate.price.is_some() }
}

/// The ways of each row, the best for it first.
fn ways(rows: &[Row], rules: &Rules) -> Vec<Vec<Way>> {
    let mut plenty = rules.clone();
    plenty.stock_sizes.iter_mut().filter(|size| size.on_hand > 0).for_each(|size| size.on_hand = 1_000_000);
    let mut survey = Survey::default();
    let sizings = sized(rows, &plenty, &mut survey);
    let checked = source(&survey, &sizings, &Frozen::default(), &plenty);
    let of_row = |at: usize| {
        let sourced = checked.value.sizes[at].as_ref().unwrap();
        let candidates = sourced.candidates(sizings[at].as_ref().unwrap(), &plenty, "");
        let hangs = candidates.iter().filter(|candidate| {
            !matches!(candidate.why_not, Some(WhyNot::Width | WhyNot::Drop | WhyNot::TooFew { .. }))
        });
        let mut ways: Vec<Way> = hangs.map(|candidate| way(candidate, &rows[at], &plenty)).collect();
        ways.sort_by_key(|way| (way.each, way.place));
        ways.iter_mut().zip(0..).for_each(|(way, rung)| way.each.2[5] = rung * (rows.len() - at) as i64);
        ways
    };
    (0..rows.len()).map(of_row).collect()
}

fn sum(rows: &[Row], ways: &[&Way]) -> Sum {
    let mut sum = Sum::default();
    for (row, way) in rows.iter().zip(ways) {
        let blinds = i64::from(row.quantity);
        (0..4).for_each(|at| sum.0[at] += blinds * way.each.0[at]);
        sum.1 += Decimal::from(blinds) * way.each.1;
        (0..6).for_each(|at| sum.2[at] += blinds * way.each.2[at]);
    }
    sum
}

/// Whether the boxes suffice.
fn is_possible(rows: &[Row], ways: &[&Way], shelf: &[u32]) -> bool {
    let mut used = vec![0_u32; shelf.len()];
    for (row, way) in rows.iter().zip(ways) {
        way.place.into_iter().for_each(|place| used[place] += row.quantity);
    }
    used.iter().zip(shelf).all(|(used, left)| used <= left)
}

/// The best of all uses, by trying every one; with some row's way given, if one is.
fn best<'w>(
    rows: &[Row],
    ways: &'w [Vec<Way>],
    shelf: &[u32],
    must: Option<(usize, usize)>,
) -> Option<Vec<&'w Way>> {
    let mut best: Option<(Sum, Vec<&Way>)> = None;
    let mut turn = vec![0; rows.len()];
    loop {
        let tried: Vec<&Way> = ways.iter().zip(&turn).map(|(ways, &at)| &ways[at]).collect();
        let is_so = must.is_none_or(|(row, way)| turn[row] == way);
        if is_so && is_possible(rows, &tried, shelf) {
            let sum = sum(rows, &tried);
            if best.as_ref().is_none_or(|(known, _)| sum < *known) {
                best = Some((sum, tried));
            }
        }
        let Some(row) = (0..rows.len()).find(|&row| turn[row] + 1 < ways[row].len()) else {
            return best.map(|(_, ways)| ways);
        };
        turn[..row].iter_mut().for_each(|at| *at = 0);
        turn[row] += 1;
    }
}

/// What of each row was taken, among its ways.
fn taken<'w>(sourcing: &Sourcing<'_>, rules: &Rules, ways: &'w [Vec<Way>]) -> Vec<&'w Way> {
    let place = |at: usize| {
        let stock = sourcing.sizes[at].as_ref().unwrap().supply.stock()?;
        rules.stock_sizes.iter().position(|listed| listed.id == stock.id)
    };
    (0..ways.len()).map(|at| ways[at].iter().find(|way| way.place == place(at)).unwrap()).collect()
}

/// What is wrong with a use of the boxes.
fn faults(rows: &[Row], ways: &[Vec<Way>], shelf: &[u32], taken: &[&Way]) -> Vec<&'static str> {
    let mut faults = Vec::new();
    if !is_possible(rows, taken, shelf) {
        faults.push("a stock size is used too often");
    } else if sum(rows, &best(rows, ways, shelf, None).unwrap()) < sum(rows, taken) {
        faults.push("another use is better");
    }
    faults
}

/// Numbers that look random and are always the same (xorshift).
struct Dice(u64);

impl Dice {
    fn below(&mut self, sides: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) % sides
    }

    fn of<T: Clone>(&mut self, choices: &[T]) -> T {
        choices[self.below(choices.len() as u64) as usize].clone()
    }
}

/// A small project of up to three stock sizes and six rows, in which most is scarce, and much is equal.
fn at_random(dice: &mut Dice) -> (Vec<Row>, Rules) {
    let mut rules = built_in();
    rules.project.stock_sizes = true;
    if dice.below(2) == 0 {
        rules.project.order_date = date("2026-03-01");
        rules.project.need_by = dice.of(&[None, date("2026-03-08"), date("2026-03-16")]);
    }
    rules.project.accept_less_cover = inches(dice.of(&[0.0, 1.0, 2.0]));
    let any_unknown = dice.below(3) == 0;
    let price = |dice: &mut Dice, known: &[i64]| {
        let price = Decimal::new(dice.of(known), 2);
        (!any_unknown || dice.below(4) > 0).then_some(price)
    };
    rules.prices.blinds[0].each = price(dice, &[3_000, 3_001]);
    rules.prices.blinds[0].per_m2 = Some(dice.of(&[Decimal::ZERO, Decimal::from(22)]));
    rules.prices.blinds[0].lead_days = dice.of(&[Some(15), Some(15), None]);
    rules.stock_sizes.truncate(1 + dice.below(3) as usize);
    let widths = dice.of(&[[66.0, 66.0, 66.0], [66.0, 67.0, 68.0], [66.0, 66.0, 67.0]]);
    for (size, width) in rules.stock_sizes.iter_mut().zip(widths) {
        size.width = inches(width);
        size.price = price(dice, &[2_500, 2_600, 2_650, 3_000]);
        size.lead_days = dice.of(&[Some(0), Some(7), Some(10), None]);
        size.on_hand = dice.of(&[0, 1, 1, 2, 3, 4, 5, 6]);
        size.cut_width_to = dice.of(&[None, None, Some(inches(64.0))]);
    }
    let is_of_several = dice.below(3) > 0;
    let row = |dice: &mut Dice| {
        let quantity = if is_of_several { dice.of(&[1, 1, 2, 2, 3, 4]) } else { 1 };
        Row::around(dice.of(&[61.5, 62.0, 63.0, 63.0, 64.0, 65.0])).times(quantity)
    };
    let rows = (0..1 + dice.below(6)).map(|_| row(dice)).collect();
    (rows, rules)
}

#[test]
fn no_use_of_the_boxes_is_better_and_one_more_saves_what_is_said() {
    let mut dice = Dice(0x5ca_4ce);
    let (mut short, mut worth_more, mut unknown, mut told) = (0, 0, 0, 0);
    for run in 0..600 {
        let (rows, rules) = at_random(&mut dice);
        let checked = sourced(&rows, &rules);
        let shelf: Vec<u32> = rules.stock_sizes.iter().map(|size| size.on_hand).collect();
        let ways = ways(&rows, &rules);
        let taken = taken(&checked.value, &rules, &ways);
        let said =
            || format!("run {run}: {rows:#?}\n{:#?}\n{ways:#?}\n{:?}", rules.stock_sizes, all_told(&checked));
        assert_eq!(faults(&rows, &ways, &shelf, &taken), [""; 0], "{}", said());

        let any_unknown = ways.iter().flatten().any(|way| !way.is_priced);
        let least = sum(&rows, &taken).1;
        let money = |shelf: &[u32], must| Some(sum(&rows, &best(&rows, &ways, shelf, must)?).1);
        let mut check = |worth: Option<Decimal>, expected: Decimal, what: &str| match worth {
            Some(worth) => assert_eq!(worth, expected, "{what}, {}", said()),
            None => {
                assert!(any_unknown, "{what} is not known, {}", said());
                unknown += 1;
            }
        };
        for (place, stock_use) in checked.value.stock_use.iter().enumerate() {
            let worth = stock_use.worth;
            assert!(worth.is_proven && worth.could_save == Some(Decimal::ZERO));
            let used = |ways: &[&Way]| -> u64 {
                let of = rows.iter().zip(ways).filter(|(_, way)| way.place == Some(place));
                of.map(|(row, _)| u64::from(row.quantity)).sum()
            };
            let firsts: Vec<&Way> = ways.iter().map(|ways| &ways[0]).collect();
            assert_eq!((worth.used, worth.wanted), (used(&taken), used(&firsts)), "{}", said());
            short += usize::from(worth.wanted > u64::from(shelf[place]));
            // A size of which none is on hand is not held, and no row has it among its ways.
            if shelf[place] > 0 {
                let with = |boxes: u32| {
                    let mut shelf = shelf.clone();
                    shelf[place] = boxes;
                    money(&shelf, None).unwrap()
                };
                let (more, fewer) = (with(shelf[place] + 1), with(shelf[place] - 1));
                worth_more += usize::from(more != least);
                check(worth.one_more_saves, least - more, "one more");
                check(worth.last_saves, fewer - least, "the last");
            }
        }
        let asked = checked.queries.iter().filter(|query| query.code == "stock-used-up");
        for query in asked.clone() {
            let (row, saved) = (query.opening.unwrap(), query.detail.split_once("it saves "));
            assert!(ways[row][0].place.is_some() && taken[row].place != ways[row][0].place, "{}", said());
            let with_first = money(&shelf, Some((row, 0)));
            let Some((_, saved)) = saved else {
                assert!(any_unknown || with_first.is_none_or(|money| money <= least), "{}", said());
                continue;
            };
            let saved: Decimal = saved.split(' ').next().unwrap().parse().unwrap();
            assert_eq!(saved, with_first.unwrap() - least, "{}", said());
            told += 1;
        }
        let without = (0..rows.len()).filter(|&at| taken[at].place != ways[at][0].place).count();
        assert_eq!(asked.count(), without, "{}", said());
    }
    let reached = (short, worth_more, unknown, told);
    assert!(short > 200 && worth_more > 150 && unknown > 20 && told > 100, "{reached:?}");
}

#[test]
fn a_use_that_is_not_the_best_is_seen() {
    let mut rules = with_stock();
    rules.stock_sizes.truncate(1);
    rules.stock_sizes[0].on_hand = 1;
    let rows = [Row::around(62.0), Row::around(63.0)];
    let ways = ways(&rows, &rules);
    let both = [&ways[0][0], &ways[1][0]];
    assert_eq!(faults(&rows, &ways, &[1], &both), ["a stock size is used too often"]);
    // The wider one costs more to make, so the box is worth more there.
    let first_come = [&ways[0][0], &ways[1][1]];
    assert_eq!(faults(&rows, &ways, &[1], &first_come), ["another use is better"]);
    assert_eq!(faults(&rows, &ways, &[1], &[&ways[0][1], &ways[1][0]]), [""; 0]);
    assert_eq!(faults(&rows, &ways, &[2], &both), [""; 0]);
}

#[test]
fn the_last_box_goes_where_it_saves_the_most() {
    let mut rules = with_stock();
    rules.stock_sizes.truncate(1);
    rules.stock_sizes[0].on_hand = 1;
    // Made 66 in wide it is 108.22, and 67 in 109.41: 1.7018 x 2.1209 = 3.60935 m2.
    let checked = sourced(&[Row::around(62.0), Row::around(63.0), Row::around(64.5)], &rules);
    assert_eq!(
        all_told(&checked),
        ["66 x 83 1/2 made 2026-03-16", "66 x 84 stock 2026-03-01", "68 1/2 x 83 1/2 made 2026-03-16"]
    );
    assert_eq!(
        messages(&checked.queries),
        [
            "note: there are too few of the best-fitting stock size [66 in x 84 in: 1 needed, 0 of 1 left; used for \
             other openings it saves 1.19 USD more]"
        ]
    );
    // One more would save 108.22 - 36, and without this one 109.41 - 36 would be lost.
    let worth = checked.value.stock_use[0].worth;
    let money = |text: &str| Some(text.parse::<Decimal>().unwrap());
    assert_eq!((worth.used, worth.wanted, worth.is_proven), (1, 2, true));
    assert_eq!((worth.one_more_saves, worth.last_saves), (money("72.22"), money("73.41")));
    // Without a price of the made ones nobody knows.
    rules.prices.blinds[0].per_m2 = None;
    let worth = sourced(&[Row::around(62.0), Row::around(63.0)], &rules).value.stock_use[0].worth;
    assert_eq!((worth.used, worth.one_more_saves, worth.last_saves), (1, None, None));
}

#[test]
fn whole_rows_fill_the_boxes_as_a_knapsack_is_filled() {
    let mut rules = with_stock();
    rules.stock_sizes.truncate(1);
    rules.prices.blinds[0].per_m2 = Some(Decimal::ZERO);
    rules.prices.blinds[0].each = Some(Decimal::from(100));
    // Ten boxes: 6 and 3 come first and leave one; 6 and 4, or 3 and 7, leave none.
    let rows = [6, 3, 4, 7].map(|quantity| Row::around(62.0).times(quantity));
    let checked = sourced(&rows, &rules);
    let sources: Vec<Origin> =
        checked.value.sizes.iter().flatten().map(|size| size.supply.origin()).collect();
    assert_eq!(sources, [Origin::Stock, Origin::Made, Origin::Stock, Origin::Made]);
    // Many rows: every box of 50 is used.
    rules.stock_sizes[0].on_hand = 50;
    let rows: Vec<Row> = (0..40).map(|at| Row::around(62.0).times(7 + at % 11)).collect();
    let worth = sourced(&rows, &rules).value.stock_use[0].worth;
    assert_eq!((worth.used, worth.is_proven), (50, true));
}

#[test]
fn where_a_best_use_is_not_proven_it_is_said() {
    // Rows of 1,001 to 1,199 blinds, of which very many sums come near 13,337, at prices that differ a little.
    let mut rules = with_stock();
    for size in &mut rules.stock_sizes {
        size.width = inches(66.0);
        size.on_hand = 13_337;
    }
    let row = |at: u32| Row::around(62.0 + f64::from(at % 16) / 8.0).times(1_001 + 2 * (at * 37 % 99));
    let rows: Vec<Row> = (0..150).map(row).collect();
    let checked = sourced(&rows, &rules);
    for stock_use in &checked.value.stock_use {
        let worth = stock_use.worth;
        let taken = rows
            .iter()
            .zip(checked.value.sizes.iter().flatten())
            .filter(|(_, size)| size.supply.stock().is_some_and(|stock| stock.id == stock_use.stock.id));
        assert_eq!(worth.used, taken.map(|(row, _)| u64::from(row.quantity)).sum::<u64>());
        assert!(worth.used <= 13_337 && worth.used > 12_000, "{worth:?}");
        assert!(!worth.is_proven && worth.one_more_saves.is_none() && worth.last_saves.is_none());
        // Not a fiftieth of what the boxes save, which is over 72 each.
        let could_save = worth.could_save.unwrap();
        assert!(could_save > Decimal::ZERO && could_save < Decimal::from(57_000), "{worth:?}");
    }
}
