//! What the total may come to. Every expected amount is worked by hand beside it, from the block in
//! `support/blinds.rs`: a blind costs 30.00 and 10.00 a square meter, and nothing else does.

use rust_decimal::Decimal;
use sillbook::cost::{Cost, RangePart};
use sillbook::length::Length;
use sillbook::rules::{CostBasis, Rules, TaxOn};
use sillbook::sizing::Release;
use sillbook::survey::{Kind, SizeSource};

use crate::cost::{blinds_only, cost_of};
use crate::stories;
use crate::support::blinds::{Spec, cell, money};
use crate::support::files::Folder;

fn rules() -> Rules {
    let mut rules = blinds_only();
    let price = &mut rules.prices.blinds[0];
    (price.each, price.per_m2, price.least_m2) = (Some(money("30.00")), Some(money("10.00")), Decimal::ZERO);
    rules
}

/// A square window.
fn window(side_mm: i64) -> Spec {
    Spec { width: Length::from_mm(side_mm), drop: Length::from_mm(side_mm), ..Spec::default() }
}

fn bounds(part: &RangePart) -> (Decimal, Option<Decimal>) {
    (part.low, part.high)
}

fn to(low: &str, high: &str) -> (Decimal, Option<Decimal>) {
    (money(low), Some(money(high)))
}

/// Low and high of the total, and how far they are apart.
fn range(cost: &Cost) -> (Decimal, Option<Decimal>) {
    (cost.range.low, cost.range.high)
}

#[test]
fn a_job_that_is_taped_sized_and_priced_has_no_range() {
    let cost = cost_of(&[window(1_000), window(2_000)], &rules());
    assert_eq!(cost.range.parts, []);
    assert_eq!(range(&cost), (cost.total.unwrap(), cost.total));
    assert_eq!(cost.total, Some(money("110.00"))); // 40 + 70
}

#[test]
fn held_openings_cost_as_the_cheapest_and_the_dearest_of_their_kind() {
    let held = Spec { held: true, quantity: 2, ..Spec::default() };
    let door = Spec { kind: Kind::Door, ..window(3_000) };
    let mut rows = vec![window(1_000), Spec { quantity: 2, ..window(2_000) }, door, held]; // 40, 2 x 70, 120
    let cost = cost_of(&rows, &rules());
    let [part] = &cost.range.parts[..] else { panic!("{:?}", cost.range) };
    assert_eq!((&*part.what, bounds(part)), ("held openings", to("80.00", "140.00")));
    assert_eq!(range(&cost), to("380.00", "440.00")); // 300 is known
    // No door but the held ones: all that are priced.
    (rows[2].held, rows[3].kind) = (true, Kind::Door);
    let cost = cost_of(&rows, &rules());
    assert_eq!(bounds(&cost.range.parts[0]), to("120.00", "210.00")); // 3 x 40, 3 x 70
    // Nothing at all to go by.
    let cost = cost_of(&[Spec { held: true, ..Spec::default() }], &rules());
    assert_eq!(bounds(&cost.range.parts[0]), (Decimal::ZERO, None));
    assert_eq!(range(&cost), (Decimal::ZERO, None));
}

#[test]
fn a_size_that_is_not_taped_may_turn_out_smaller_or_larger() {
    let typical = |source| Spec { source, release: Release::Provisional, quantity: 2, ..window(1_000) };
    let parts = |source| cost_of(&[typical(source)], &rules()).range.parts;
    // 974.6 mm: 9.4985 and 30 are 39.50, 0.50 less; 1,025.4 mm: 10.5145, 0.51 more; two of each.
    assert_eq!(bounds(&parts(SizeSource::Typical)[0]), to("-1.00", "1.02"));
    // 949.2 mm: 9.0098, 39.01; 1,050.8 mm: 11.0418, 41.04.
    assert_eq!(bounds(&parts(SizeSource::Drawing)[0]), to("-1.98", "2.08"));
    // 923.8 mm: 8.5341, 38.53; 1,076.2 mm: 11.5821, 41.58.
    assert_eq!(bounds(&parts(SizeSource::Rough)[0]), to("-2.94", "3.16"));
    // Taped, but the floor is not laid: 974.6 mm x 1 m, 9.746: 39.75.
    assert_eq!(bounds(&parts(SizeSource::Tape)[0]), to("-0.50", "0.00"));
}

#[test]
fn a_size_never_leaves_the_limits_of_its_product() {
    let mut rules = rules();
    let limit = Length::from_mm(1_000);
    rules.products[0].cover.most_width.value = limit;
    rules.products[0].cover.most_drop.value = limit;
    let cost = cost_of(&[Spec { source: SizeSource::Drawing, ..window(1_000) }], &rules);
    assert_eq!(bounds(&cost.range.parts[0]), to("-0.99", "0.00"));
}

#[test]
fn a_part_bears_discount_overhead_profit_contingency_and_tax() {
    let rows = [Spec { source: SizeSource::Drawing, quantity: 100, ..window(1_000) }];
    let mut rules = rules();
    rules.rates.discount = Some(money("10"));
    (rules.project.overhead, rules.project.tax) = (money("10"), money("20"));
    // -99.00 and 104.00, less 10 %: -89.10 and 93.60; 10 % more: -98.01, 102.96; 20 % on these.
    assert_eq!(bounds(&cost_of(&rows, &rules).range.parts[0]), to("-117.61", "123.55"));
    // On materials alone the tax is 17.82 and 18.72.
    rules.project.tax_on = TaxOn::Materials;
    assert_eq!(bounds(&cost_of(&rows, &rules).range.parts[0]), to("-115.83", "121.68"));
}

#[test]
fn without_a_price_the_highest_is_unknown_or_that_of_similar_openings() {
    let mut rules = rules();
    rules.prices.blinds[0].per_m2 = None;
    let cost = cost_of(&[window(1_000)], &rules);
    assert_eq!((cost.range.parts.len(), range(&cost)), (1, (cost.known_total(), None)));
    // A fixing without a price: nothing says what it comes to.
    let mut rules = self::rules();
    rules.fixings[0].price = None;
    let cost = cost_of(&[window(1_000)], &rules);
    assert_eq!(bounds(&cost.range.parts[0]), (Decimal::ZERO, None));
    assert_eq!(range(&cost), (money("40.00"), None));
}

#[test]
fn where_blinds_are_made_materials_follow_the_area() {
    let mut rules = rules();
    rules.project.cost_basis = CostBasis::Make;
    for bar in &mut rules.bars {
        bar.price = Some(money("20.00"));
    }
    let sure = cost_of(&[window(1_000)], &rules);
    let cost = cost_of(&[Spec { source: SizeSource::Typical, ..window(1_000) }], &rules);
    let [part] = &cost.range.parts[..] else { panic!("{:?}", cost.range) };
    assert!(part.low < Decimal::ZERO && part.high.unwrap() > -part.low, "{part:?}");
    assert_eq!(sure.range.parts, []);
    assert_eq!(cost.known_total(), sure.known_total());
}

#[test]
fn the_class_follows_what_is_taped_and_priced() {
    let mut rules = rules();
    let price = &mut rules.prices.blinds[0];
    (price.example, price.m2_example) = (false, false);
    (price.at, price.m2_at) = (Some(cell(0, 1)), Some(cell(0, 1)));
    let class = |taped, not, rules: &Rules| {
        let not = Spec { quantity: not, source: SizeSource::Drawing, ..window(1_000) };
        cost_of(&[Spec { quantity: taped, ..window(1_000) }, not], rules).range.class
    };
    for (taped, not, number) in
        [(76, 24, 1), (75, 25, 2), (41, 59, 2), (40, 60, 3), (15, 85, 4), (16, 84, 3), (2, 98, 5), (3, 97, 4)]
    {
        let class = class(taped, not, &rules);
        assert!(class.starts_with(&format!("Class {number} (AACE 18R-97): {taped} of 100 ")), "{class}");
    }
    // An example price is no price.
    rules.prices.blinds[0].example = true;
    assert!(class(100, 1, &rules).starts_with("Class 5 (AACE 18R-97): 0 of 101 "));
}

/// What is ordered is settled, whatever it was measured with.
#[test]
fn the_class_counts_what_is_ordered_as_settled() {
    let folder = Folder::new();
    let [first, second] = ["first.xlsx", "second.xlsx"].map(|name| folder.path().join(name));
    let survey = "
        [Prices]
        Item | Price | Per
        made-to-measure blind | 50 | each
        made-to-measure blind | 20 | m2
        spare louver | 3 | each
        inside bracket | 1 | each
        valance clip | 1 | each
        carrier | 1 | each
        hanger | 1 | each
        bottom weight | 1 | each
        packer | 1 | each
        [Openings]
        Unit | Opening | Room | Kind | Width | Height | Mount | Recess depth | Handle | Substrate | Measured
        1 | W1 | Bath | window | 36 | 48 | inside | 6 | 0 | wood | drawing
        1 | W2 | Bath | window | 36 | 48 | inside | 6 | 0 | wood | drawing
        1 | W3 | Bath | window | 36 | 48 | inside | 6 | 0 | wood | tape
    ";
    let class = |document: serde_json::Value| document["range"]["class"].as_str().unwrap().to_owned();
    let before = class(stories::run(survey, None, &first).unwrap());
    assert!(before.contains(": 1 of 3 "), "{before}");
    let typed = "W1 | State | ordered";
    let after = class(stories::run(survey, Some((&first, typed)), &second).unwrap());
    assert!(after.contains(": 2 of 3 "), "{after}");
}
