//! Prices, labor, mark-ups and tax, and what is not in the total. Every expected amount is worked
//! by hand beside it, from the block in `support/blinds.rs`.

use std::sync::Arc;

use crate::support::blinds::{Spec, bar, block, cell, given_in, money, rules};
use proptest::prelude::*;
use rust_decimal::Decimal;
use sillbook::cost::{Cost, CostLine, Job, Place, RateFrom, RateOf, Section, Share, WHOLE_PROJECT, price};
use sillbook::cutting::{KnownPlans, plan_cuts};
use sillbook::frozen::Frozen;
use sillbook::hardware::total;
use sillbook::length::Length;
use sillbook::money::Currency;
use sillbook::order::group_identical;
use sillbook::query::Checked;
use sillbook::report::expr::{Address, Expr, Outcome};
use sillbook::rules::{CostBasis, Family, Figure, Rates, Rules, TaxOn, TypedFigure};
use sillbook::schema::MOST_MONEY;
use sillbook::sizing::{Mount, Release};
use sillbook::spares;
use sillbook::survey::{Kind, Substrate};

fn priced(rows: &[Spec], rules: &Rules) -> Checked<Cost> {
    let (survey, blinds) = block(rows, rules);
    let order = group_identical(&survey, &blinds, &Frozen::default(), rules);
    let spares = spares::of(&order, rules);
    let cuts = plan_cuts(&order, &spares, &survey, rules, &KnownPlans::default()).unwrap();
    let hardware = total(&survey, &blinds, &spares, rules);
    let (survey, blinds, order, spares) = (&survey, &blinds[..], &order, &spares[..]);
    let (cuts, hardware, frozen) = (&cuts, &hardware, &Frozen::default());
    price(Job { survey, blinds, order, spares, cuts, hardware, frozen, rules })
}

pub fn cost_of(rows: &[Spec], rules: &Rules) -> Cost {
    priced(rows, rules).value
}

/// Amounts of a section's lines.
fn amounts(cost: &Cost, section: Section) -> Vec<Option<Decimal>> {
    lines(cost, section).map(|line| line.amount).collect()
}

fn lines(cost: &Cost, section: Section) -> impl Iterator<Item = &CostLine> {
    cost.lines.iter().filter(move |line| line.section == section && !line.is_share_of_nothing())
}

fn some(written: &[&str]) -> Vec<Option<Decimal>> {
    written.iter().map(|amount| Some(money(amount))).collect()
}

fn queries(checked: &Checked<Cost>) -> Vec<String> {
    checked.queries.iter().map(|query| query.message.clone()).collect()
}

/// Rules under which nothing is spare but fixings.
fn without_spares() -> Rules {
    let mut rules = rules();
    (rules.project.spare_louvers, rules.project.spare_parts) = (Decimal::ZERO, Decimal::ZERO);
    for product in &mut rules.products {
        let Family::Louver(louvers) = &mut product.family;
        louvers.least_spare_louvers.value = 0;
    }
    rules
}

/// Rules under which a job costs its blinds and nothing else.
pub fn blinds_only() -> Rules {
    let mut rules = without_spares();
    rules.project.labor_rate = Decimal::ZERO;
    rules.rates.delivery = Some(Decimal::ZERO);
    rules.fixings[0].price = Some(Decimal::ZERO);
    rules
}

#[test]
fn bought_blinds_with_their_labor_fixings_and_delivery() {
    let concrete = Spec {
        substrate: Some(Substrate::Concrete),
        fixing: Some(1),
        people: 2,
        unit: "0305",
        ..Spec::default()
    };
    let held = Spec { held: true, ..Spec::default() };
    let cost = cost_of(&[Spec { quantity: 3, ..Spec::default() }, concrete, held], &rules());

    // 2 m x 1.5 m = 3 m2: 30.00 + 3 x 22.00 = 96.00 each; both rows are the same blind: 4 x 96.00.
    // Of 40 louvers 2 are spare, ordered with them: 7.00.
    assert_eq!(amounts(&cost, Section::Blinds), some(&["384.00", "7.00"]));
    // Parts come along; by the piece come a spare bracket of 12 and a clip, and what hangs the two louvers:
    // carriers 0.60, hangers 0.24, weights 0.50. 3 x 6 screws and 2 spare: a pack of 100, 6.00. 6 and 1: a
    // pack of 100, 24.00.
    let parts = ["1.80", "0.35", "0.60", "0.24", "0.50", "6.00", "24.00"];
    assert_eq!(amounts(&cost, Section::Parts), some(&parts));
    assert_eq!(amounts(&cost, Section::Making), []);
    // (3 x 1 + 1 x 2) x 30 = 150 min at 45.00 = 112.50; 3 brackets in concrete x 8 = 24 min = 18.00;
    // 2 units x 8 = 16 min = 12.00.
    assert_eq!(amounts(&cost, Section::Fitting), some(&["112.50", "18.00", "12.00"]));
    // 5 openings x 5 = 25 min, the held one too: 25 x 45 / 60 = 18.75.
    assert_eq!(amounts(&cost, Section::Survey), some(&["18.75"]));
    // Nothing is taken down by default, so no line says so.
    assert_eq!(amounts(&cost, Section::Removal), []);
    assert_eq!(amounts(&cost, Section::Delivery), some(&["90.00"]));
    // 391 + 3.49 + 30 + 142.50 + 18.75 + 90
    assert_eq!(cost.subtotal, money("675.74"));
    assert_eq!((cost.tax, cost.total), (Some(money("0.00")), Some(money("675.74"))));
}

#[test]
fn a_small_blind_is_charged_the_least_area_and_a_stock_size_its_own_price() {
    let mm = Length::from_mm;
    let cases = [
        // 1 m x 1.5 m = 1.5 m2, just the least: 30 + 33.
        (Spec { width: mm(1_000), ..Spec::default() }, "63.00"),
        // 1 m x 1.4 m = 1.4 m2, charged as 1.5.
        (Spec { width: mm(1_000), drop: mm(1_400), ..Spec::default() }, "63.00"),
        // 1.001 m x 1.5 m = 1.5015 m2 x 22 = 33.033: 63.033, quoted as 63.03.
        (Spec { width: mm(1_001), ..Spec::default() }, "63.03"),
        // A stock size, whatever it measures.
        (Spec { width: mm(1_000), stock: Some(0), ..Spec::default() }, "36.00"),
        // 2.5 m x 1.4005 m = 3.50125 m2 x 22 = 77.0275: 107.0275 is quoted as 107.03, and three are 321.09.
        (
            Spec { width: mm(2_500), drop: Length::from_nm(1_400_500_000), quantity: 3, ..Spec::default() },
            "321.09",
        ),
    ];
    for (row, expected) in cases {
        assert_eq!(amounts(&cost_of(&[row], &blinds_only()), Section::Blinds), some(&[expected]));
    }
}

#[test]
fn halves_of_a_minor_unit_go_away_from_zero_once_a_line() {
    let mut rules = rules();
    // 5 min x 1.50 / 60 = 0.125: 0.13, not the even 0.12.
    rules.project.labor_rate = money("1.50");
    assert_eq!(amounts(&cost_of(&[Spec::default()], &rules), Section::Survey), some(&["0.13"]));
    // Two openings are one line: 10 min = 0.25, not twice 0.13.
    assert_eq!(
        amounts(&cost_of(&[Spec { quantity: 2, ..Spec::default() }], &rules), Section::Survey),
        some(&["0.25"])
    );
    // In yen there is no minor unit: 5 min x 6 / 60 = 0.5 is 1.
    rules.project.labor_rate = money("6");
    rules.project.currency = Currency::from_code("JPY").unwrap();
    assert_eq!(amounts(&cost_of(&[Spec::default()], &rules), Section::Survey), some(&["1"]));
}

#[test]
fn overhead_profit_contingency_and_tax_each_stand_on_what_is_above() {
    let mut rules = blinds_only();
    // One blind at 63 000.00, as direct cost.
    rules.prices.blinds[0].each = Some(money("63000.00"));
    rules.prices.blinds[0].per_m2 = Some(Decimal::ZERO);
    rules.project.overhead = money("10");
    rules.project.profit = money("8");
    rules.project.contingency = money("5");
    rules.project.tax = money("7.25");
    let cost = cost_of(&[Spec::default()], &rules);
    assert_eq!(amounts(&cost, Section::Overhead), some(&["6300.00"])); // 10 % of 63 000
    assert_eq!(amounts(&cost, Section::Profit), some(&["5544.00"])); // 8 % of 69 300
    assert_eq!(amounts(&cost, Section::Contingency), some(&["3742.20"])); // 5 % of 74 844
    assert_eq!(cost.subtotal, money("78586.20"));
    // 7.25 % of 78 586.20 = 5 697.4995
    assert_eq!(cost.tax, Some(money("5697.50")));
    assert_eq!(cost.total, Some(money("84283.70")));

    let overhead = lines(&cost, Section::Overhead).next().unwrap();
    assert_eq!((overhead.quantity, overhead.rate), (Some(money("63000.00")), Some(money("0.1"))));

    rules.project.tax_on = TaxOn::Materials;
    // 7.25 % of the blinds alone, 63 000: 4 567.50.
    assert_eq!(cost_of(&[Spec::default()], &rules).tax, Some(money("4567.50")));
}

#[test]
fn materials_are_blinds_bars_parts_and_fixings() {
    let mut rules = without_spares();
    rules.project.tax_on = TaxOn::Materials;
    rules.project.tax = money("10");
    rules.project.overhead = money("50");
    // The blind 96.00 and a pack of screws 6.00: 10.20, and nothing on labor, delivery or overhead.
    assert_eq!(cost_of(&[Spec::default()], &rules).tax, Some(money("10.20")));
}

#[test]
fn an_unknown_price_leaves_a_known_subtotal_and_no_total() {
    let mut rules = without_spares();
    rules.prices.blinds[0].per_m2 = None;
    rules.prices.blinds[0].m2_at = Some(cell(1, 2));
    rules.project.overhead = money("10");
    rules.project.tax = money("8");
    let stock = Spec { stock: Some(0), ..Spec::default() };
    let other = Spec { color: 1, ..Spec::default() };
    let checked = priced(&[Spec::default(), stock, other], &rules);
    let cost = &checked.value;
    assert_eq!(amounts(cost, Section::Blinds), [None, Some(money("36.00")), None]);
    // Overhead is on what is known: 10 % of it, 21.675.
    let overhead = lines(cost, Section::Overhead).next().unwrap();
    // 36.00 + screws 6.00 + fitting 90 min 67.50 + unit 8 min 6.00 + survey 15 min 11.25 + 90.00
    assert_eq!((overhead.quantity, overhead.amount), (Some(money("216.75")), Some(money("21.68"))));
    assert_eq!((cost.subtotal, cost.tax, cost.total), (money("238.43"), None, None));
    // 8 % of 238.43 = 19.0744.
    assert_eq!((cost.known_tax, cost.known_total()), (money("19.07"), money("257.50")));

    assert_eq!(
        queries(&checked),
        ["made-to-measure blind of louver-89 has no price (needed by 2 order lines)"]
    );
    assert_eq!(checked.queries[0].at, Some(cell(1, 2)));
    assert_eq!(checked.queries[0].hint, "fill in the price of made-to-measure blind of louver-89 in Prices");
    let [missing] = &cost.not_in_total[..] else { panic!("{:?}", cost.not_in_total) };
    assert_eq!(
        (&*missing.what, &missing.openings[..]),
        ("made-to-measure blind of louver-89 has no price", &[0, 2][..])
    );
    // The priced blind carries 36.00 + 6 screws 0.36 + 22.50 + a third of the unit 2.00 + 3.75 = 64.61;
    // of each unpriced one the total holds all but the blind, 28.61 + no more: 2 x (64.61 - 28.61).
    assert_eq!(missing.allowance, Some(money("72.00")));
}

#[test]
fn fixings_that_are_not_chosen_keep_the_total_unknown() {
    let unknown = Spec { substrate: None, fixing: None, ..Spec::default() };
    let checked = priced(&[unknown], &without_spares());
    let line = lines(&checked.value, Section::Parts).next().unwrap();
    // 6 and 10 % spare
    assert_eq!((line.quantity, line.rate, line.amount), (Some(money("7")), None, None));
    assert_eq!((line.rate_from, checked.value.total), (RateFrom::Unknown, None));
    assert_eq!(queries(&checked), ["fixings not chosen yet have no price (needed by 1 order line)"]);
}

/// No rule gives it a price, so that one that was typed stays with its line.
#[test]
fn a_price_typed_for_fixings_that_are_not_chosen_is_used_while_nobody_changes_it() {
    let unknown = Spec { substrate: None, fixing: None, ..Spec::default() };
    let of_fixings = |cost: &Cost| {
        let line = lines(cost, Section::Parts).find(|line| line.item.starts_with("fixings not chosen"));
        line.expect("the line").clone()
    };
    let known_as = of_fixings(&cost_of(std::slice::from_ref(&unknown), &without_spares())).known_as;
    let typed = |printed: Option<Decimal>, typed: &str| {
        let mut rules = without_spares();
        rules.typed.of_lines = vec![TypedFigure {
            known_as: known_as.clone(),
            figure: Figure::Rate,
            printed,
            typed: Some(money(typed)),
            at: cell(5, 4),
        }];
        let checked = priced(std::slice::from_ref(&unknown), &rules);
        let codes: Vec<&str> = checked.queries.iter().map(|query| query.code).collect();
        (
            of_fixings(&checked.value).rate,
            codes.contains(&"price-typed"),
            codes.contains(&"price-typed-and-changed"),
        )
    };
    assert_eq!(typed(None, "0.50"), (Some(money("0.50")), true, false));
    assert_eq!(typed(Some(money("0.40")), "0.50"), (None, false, true));
}

#[test]
fn spares_and_what_boxes_lack_are_bought_at_their_price_where_blinds_are_bought() {
    let inside = Spec {
        mount: Mount::Inside,
        return_left: Length::ZERO,
        return_right: Length::ZERO,
        stock: Some(0),
        ..Spec::default()
    };
    let told = |rows: &[Spec], rules: &Rules| -> Vec<(String, &'static str, String)> {
        let cost = cost_of(rows, rules);
        let bought = cost.lines.iter().filter(|line| line.section <= Section::Parts);
        let bought = bought.filter(|line| line.section != Section::Discount);
        let told = |line: &CostLine| (line.item.clone(), line.unit, line.amount.unwrap().to_string());
        bought.map(told).filter(|(item, ..)| !item.starts_with("line") && !item.starts_with("wood")).collect()
    };
    let line = |item: &str, unit, amount: &str| (item.to_owned(), unit, amount.to_owned());
    let mut rules = without_spares();
    // 3 brackets that the box lacks, by the piece; 3 packers are a pack of 50.
    let lacking = [line("inside bracket", "each", "3.60"), line("packer", "pack", "5.00")];
    assert_eq!(told(std::slice::from_ref(&inside), &rules), lacking);
    rules.project.cost_basis = CostBasis::Make;
    // Where the blinds are made, in whole packs: 10 at 1.20.
    let lacking = [line("inside bracket", "pack", "12.00"), line("packer", "pack", "5.00")];
    assert_eq!(told(std::slice::from_ref(&inside), &rules), lacking);
    // The opening carries its own three.
    let cost = cost_of(&[inside], &without_spares());
    let units = cost.breakdowns.iter().find(|breakdown| breakdown.by == "Unit").unwrap();
    // 36.00 + 3.60 + 3 of 50 packers 0.30 + screws 0.36 + fitting 22.50 + unit 6.00 + survey 3.75
    assert_eq!(units.rows[0].share.direct, money("72.51"));

    // Spare louvers by color: 2 % of 100 is 2, of 110 is 2.2.
    let colors =
        [Spec { quantity: 10, ..Spec::default() }, Spec { color: 1, quantity: 11, ..Spec::default() }];
    let mut rules = rules_with_parts_at_nothing();
    let spares = [
        line("spare louver, fabric-89 sand", "each", "10.50"),
        line("spare louver, fabric-89 white", "each", "7.00"),
    ];
    let louvers = |rules: &Rules| -> Vec<_> {
        told(&colors, rules).into_iter().filter(|(item, ..)| item.starts_with("spare")).collect()
    };
    assert_eq!(louvers(&rules), spares);
    // Who makes the blinds cuts them.
    rules.project.cost_basis = CostBasis::Make;
    assert_eq!(louvers(&rules), []);
}

/// Every part but the spare louver at no price.
fn rules_with_parts_at_nothing() -> Rules {
    let mut rules = rules();
    let parts = rules.prices.parts.iter_mut().filter(|part| &*part.item != "spare louver");
    parts.for_each(|part| part.each = Some(Decimal::ZERO));
    rules
}

#[test]
fn a_bracket_in_masonry_or_concrete_takes_longer_and_in_nothing_else() {
    let walls = [
        (Some(Substrate::Masonry), true),
        (Some(Substrate::Concrete), true),
        (Some(Substrate::Wood), false),
        (Some(Substrate::StudWall), false),
        (Some(Substrate::Drywall), false),
        (Some(Substrate::Steel), false),
        (None, false),
    ];
    for (substrate, hard) in walls {
        let row = Spec { substrate, quantity: 2, brackets: 4, ..Spec::default() };
        let cost = cost_of(&[row], &without_spares());
        let hours = lines(&cost, Section::Fitting).find(|line| line.item.contains("bracket in masonry"));
        // 2 blinds x 4 brackets x 8 min = 64 min at 45.00: 48.00.
        let expected = hard.then_some((Some(money("64")), Some(money("48.00"))));
        assert_eq!(hours.map(|line| (line.quantity, line.amount)), expected, "{substrate:?}");
    }
}

#[test]
fn an_unpriced_spare_is_asked_for_and_leaves_its_blinds_priced() {
    let mut rules = rules();
    rules.prices.parts.retain(|part| !["spare louver", "carrier"].contains(&&*part.item));
    let held = Spec { held: true, ..Spec::default() };
    let checked = priced(&[Spec::default(), held], &rules);
    assert_eq!(
        queries(&checked),
        [
            "spare louver has no price (needed by 1 order line)",
            "carrier has no price (needed by 1 order line)"
        ]
    );
    assert_eq!(checked.value.total, None);
    let missing: Vec<_> =
        checked.value.not_in_total.iter().map(|entry| (&*entry.what, entry.allowance.is_some())).collect();
    // A held opening is still like the other, whose blind has a price.
    let expected =
        [("held openings", true), ("spare louver has no price", false), ("carrier has no price", false)];
    assert_eq!(missing, expected);
}

#[test]
fn an_unknown_time_or_charge_is_asked_for_never_free() {
    type Forget = fn(&mut Rules);
    let cases: [(&str, Forget); 6] = [
        ("survey", |rules| rules.rates.survey_minutes = None),
        ("fitting", |rules| rules.rates.fitting_minutes = None),
        ("set-up per unit", |rules| rules.rates.unit_minutes = None),
        ("removal", |rules| rules.rates.removal = None),
        ("delivery", |rules| rules.rates.delivery = None),
        ("set-up per size", |rules| rules.rates.size_set_up = None),
    ];
    for (what, forget) in cases {
        let mut rules = rules();
        forget(&mut rules);
        let checked = priced(&[Spec::default()], &rules);
        assert_eq!(queries(&checked), [format!("{what} has no rate (needed by 1 order line)")]);
        assert_eq!(checked.value.total, None, "{what}");
        // Tax on materials is known all the same; the total is not.
        rules.project.tax_on = TaxOn::Materials;
        let cost = cost_of(&[Spec::default()], &rules);
        assert_eq!((cost.tax, cost.total), (Some(money("0.00")), None), "{what}");
    }
}

#[test]
fn a_charge_of_nothing_is_shown_only_if_the_survey_says_so() {
    let mut rules = rules();
    assert_eq!(lines(&cost_of(&[Spec::default()], &rules), Section::Removal).count(), 0);
    given_in(&mut rules, "Rates", "removal", "Rate", cell(6, 1));
    let cost = cost_of(&[Spec::default()], &rules);
    assert_eq!(amounts(&cost, Section::Removal), some(&["0.00"]));
    assert_eq!(lines(&cost, Section::Removal).next().unwrap().rate_from, RateFrom::Cell(cell(6, 1)));
    rules.rates.removal = Some(money("12.50"));
    // 3 blinds go up; the held opening keeps its old one.
    let rows = [Spec { quantity: 3, ..Spec::default() }, Spec { held: true, ..Spec::default() }];
    assert_eq!(amounts(&cost_of(&rows, &rules), Section::Removal), some(&["37.50"]));
}

#[test]
fn a_set_up_is_charged_for_each_distinct_size_that_is_made() {
    let mut rules = rules();
    rules.rates.size_set_up = Some(money("15.00"));
    let rows = [
        Spec { quantity: 5, ..Spec::default() },
        Spec { color: 1, ..Spec::default() }, // the same size
        Spec { drop: Length::from_mm(1_600), ..Spec::default() }, // another
        Spec { product: 1, ..Spec::default() }, // another product
        Spec { width: Length::inches(66), stock: Some(0), ..Spec::default() }, // not made
    ];
    assert_eq!(amounts(&cost_of(&rows, &rules), Section::Making), some(&["45.00"])); // 3 x 15.00
}

#[test]
fn built_in_prices_are_marked_and_the_survey_s_are_named() {
    let mut rules = without_spares();
    given_in(&mut rules, "Project", "", "Labor rate", cell(17, 1));
    (rules.fixings[0].at, rules.fixings[0].example) = (Some(cell(1, 8)), false);
    let cost = cost_of(&[Spec::default()], &rules);
    let from = |section| lines(&cost, section).next().unwrap().rate_from;
    assert_eq!(from(Section::Blinds), RateFrom::Example);
    assert_eq!(from(Section::Parts), RateFrom::Cell(cell(1, 8)));
    assert_eq!(from(Section::Fitting), RateFrom::Cell(cell(17, 1)));
    assert_eq!(from(Section::Delivery), RateFrom::Example);
    // An example price that the survey's own sheet repeats is still an example.
    rules.prices.blinds[0].at = Some(cell(1, 2));
    assert_eq!(
        lines(&cost_of(&[Spec::default()], &rules), Section::Blinds).next().unwrap().rate_from,
        RateFrom::Example
    );
    // So is one of which either part is.
    rules.prices.blinds[0].example = false;
    assert_eq!(
        lines(&cost_of(&[Spec::default()], &rules), Section::Blinds).next().unwrap().rate_from,
        RateFrom::Example
    );
    rules.prices.blinds[0].m2_example = false;
    assert_eq!(
        lines(&cost_of(&[Spec::default()], &rules), Section::Blinds).next().unwrap().rate_from,
        RateFrom::Cell(cell(1, 2))
    );
}

#[test]
fn made_blinds_are_bars_packs_and_making_time_and_stock_ones_are_bought() {
    let mut rules = rules();
    rules.project.cost_basis = CostBasis::Make;
    let stock = Spec { stock: Some(0), color: 1, ..Spec::default() };
    let cost = priced(&[Spec { quantity: 3, ..Spec::default() }, stock], &rules).value;
    assert_eq!(amounts(&cost, Section::Blinds), some(&["36.00"]));
    let parts: Vec<_> =
        lines(&cost, Section::Parts).map(|line| (&*line.item, line.amount.unwrap().to_string())).collect();
    let expected = [
        // 30 louvers of 1.5008 m with hems and 2 spare: 48.03 m of a roll.
        ("fabric-89 white, 100 m long", "95.00"),
        // Two pieces of 1.99 m a bar of 5.8 m, three will not go: 2 bars at 26.00.
        ("rail white, 5800 mm long", "52.00"),
        ("rod, 5800 mm long", "18.00"),           // 1.975 m, likewise
        ("valance white, 5800 mm long", "28.00"), // 2.01 m, likewise, and six returns beside
        ("bracket 3 in", "18.00"),                // 9: a pack of 10 at 1.80 each
        ("valance clip", "7.00"),                 // 9: a pack of 20 at 0.35
        ("carrier", "30.00"),                     // 30: a pack of 100 at 0.30
        ("hanger", "12.00"),
        ("bottom weight", "25.00"),
        ("spacer link", "4.00"),          // 54: a pack of 100 at 0.04
        ("end cap", "4.00"),              // 6: a pack of 10 at 0.40
        ("corner piece", "9.00"),         // 6: a pack of 10 at 0.90
        ("wand 900 mm", "13.50"),         // 3 of 900 mm at 1.50 each 300 mm
        ("wood screw 8 x 1 1/2", "6.00"), // 24 and 3 spare: a pack of 100
    ]
    .map(|(item, amount)| (item, amount.to_owned()));
    assert_eq!(parts, expected);
    // 3 made blinds x 25 min at 45.00
    assert_eq!(amounts(&cost, Section::Making), some(&["56.25"]));

    // A made blind carries 15.008 m of a 100 m roll 14.2576, and of bars of 5.8 m 1.99 m of rail
    // 8.9207, 1.975 m of rod 3.0647 and 2.25 m of valance 5.4310; parts 20.97, screws 0.36, making
    // 18.75, fitting 22.50 and survey 3.75: 98.0040. The stock one carries 62.61, the unit 6.00.
    let units = cost.breakdowns.iter().find(|breakdown| breakdown.by == "Unit").unwrap();
    let unit = &units.rows[0];
    assert_eq!((&*unit.name, unit.blinds, unit.share.direct), ("0304", 4, money("362.62")));
}

#[test]
fn material_for_provisional_blinds_is_costed_by_its_length() {
    let mut rules = rules();
    rules.project.cost_basis = CostBasis::Make;
    // The 4 m rail is cheaper for its usable length than the 5.8 m one: 16.00 / 3.98 m against 26.00 / 5.78 m.
    rules.bars.push(bar("rail", 4_000, "16.00"));
    // The cheapest to buy is dearer for its length, 10.00 / 2.08 m, and one does not take the piece:
    // between its trims it is 1 mm short.
    rules.bars.push(bar("rail", 2_100, "10.00"));
    rules.bars.push(bar("rail", 2_009, "1.00"));
    let row = Spec { quantity: 2, release: Release::Provisional, ..Spec::default() };
    let cost = cost_of(&[row], &rules);
    let by_length: Vec<_> = lines(&cost, Section::Parts)
        .filter(|line| line.item.ends_with("provisional blinds"))
        .map(|line| (&*line.item, line.amount.unwrap().to_string()))
        .collect();
    let expected = [
        // 2 x 10 louvers x (1.45 m + 2 in of hems = 1.5008 m) = 30.016 m of 100 m at 95.00 = 28.5152
        ("fabric-89 white, 100 m long, for provisional blinds", "28.52"),
        // 2 x 1.99 m of 4 m at 16.00 = 15.92
        ("rail white, 4000 mm long, for provisional blinds", "15.92"),
        // 2 x 1.975 m of 5.8 m at 9.00 = 6.1293
        ("rod, 5800 mm long, for provisional blinds", "6.13"),
        // 2 x (2.01 + 0.12 + 0.12) m of 5.8 m at 14.00 = 10.8621
        ("valance white, 5800 mm long, for provisional blinds", "10.86"),
    ]
    .map(|(item, amount)| (item, amount.to_owned()));
    assert_eq!(by_length, expected);
}

#[test]
fn an_unpriced_bar_is_asked_for_once_with_the_lines_that_need_it() {
    let mut rules = rules();
    rules.project.cost_basis = CostBasis::Make;
    rules.bars[0].price = None;
    rules.bars[0].at = Some(cell(1, 2));
    let provisional = Spec { release: Release::Provisional, ..Spec::default() };
    let checked = priced(&[Spec::default(), provisional], &rules);
    assert_eq!(queries(&checked), ["rail has no price (needed by 2 order lines)"]);
    assert_eq!(checked.queries[0].at, Some(cell(1, 2)));
    assert_eq!(checked.value.total, None);
}

#[test]
fn held_openings_are_allowed_the_median_of_their_kind() {
    let mut rules = blinds_only();
    rules.prices.blinds[0].per_m2 = Some(money("10.00"));
    rules.prices.blinds[0].least_m2 = Decimal::ZERO;
    let meters = |width, quantity, kind| Spec {
        width: Length::from_mm(width),
        drop: Length::from_mm(1_000),
        quantity,
        kind,
        ..Spec::default()
    };
    let held = Spec { held: true, quantity: 2, ..Spec::default() };
    let mut rows = vec![
        meters(1_000, 1, Kind::Window),                                        // 40.00
        meters(3_000, 2, Kind::Window),                                        // 60.00, twice
        meters(2_000, 1, Kind::Window),                                        // 50.00
        Spec { drop: Length::from_mm(3_000), ..meters(3_000, 9, Kind::Door) }, // 9 m2: 120.00
        held.clone(),
    ];
    // 40, 50, 60, 60: the middle two make 55.00; two are held.
    let allowance = |rows: &[Spec]| cost_of(rows, &rules).not_in_total[0].allowance;
    assert_eq!(allowance(&rows), Some(money("110.00")));
    // No door but the held ones is left to go by: all that are priced, 40, 50, 60, 60.
    rows[3] = Spec { kind: Kind::Door, held: true, ..Spec::default() };
    rows[4].kind = Kind::Door;
    assert_eq!(allowance(&rows), Some(money("165.00"))); // 3 x 55.00
    assert_eq!(allowance(&[held]), None);
}

#[test]
fn an_allowance_leaves_out_what_the_total_holds_already() {
    // One blind costs 96.00 + 0.36 of screws + 22.50 + 6.00 + survey 3.75; of the held opening the
    // total holds its 3.75 of survey.
    let rows = [Spec::default(), Spec { held: true, ..Spec::default() }];
    let cost = cost_of(&rows, &rules());
    assert_eq!(cost.not_in_total[0].what, "held openings");
    assert_eq!(cost.not_in_total[0].allowance, Some(money("124.86")));
}

#[test]
fn breakdowns_name_every_place_and_leave_the_rest_to_the_whole_project() {
    let rows = [
        Spec { quantity: 2, phase: "1", ..Spec::default() },
        Spec { unit: "0402", floor: "4", phase: "2", ..Spec::default() },
        Spec { unit: "0304", building: "B", ..Spec::default() },
        Spec { unit: "", floor: "", held: true, ..Spec::default() },
    ];
    let cost = cost_of(&rows, &rules());
    let rows_by = |by| {
        let breakdown = cost.breakdowns.iter().find(|breakdown| breakdown.by == by).unwrap();
        let row = |place: &Place| (place.name.clone(), place.blinds, place.share.direct.to_string());
        let rest = (WHOLE_PROJECT.to_owned(), 0, breakdown.rest.direct.to_string());
        breakdown.rows.iter().map(row).chain([rest]).collect::<Vec<_>>()
    };
    let row = |name: &str, blinds, amount: &str| (name.to_owned(), blinds, amount.to_owned());
    // A blind carries 96.00 + 6 screws 0.36 + fitting 22.50 + survey 3.75 = 122.61, and its unit 6.00.
    let one = "128.61"; // 122.61 + 6.00
    let two = "251.22"; // 2 x 122.61 + 6.00
    // Of a pack at 6.00 the blinds use 24: 4.56 is left, with 90.00 of delivery. Spares are the project's: 2
    // louvers 7.00, a bracket 1.80, a clip 0.35, and 0.60 + 0.24 + 0.50 to hang the louvers.
    let rest = row(WHOLE_PROJECT, 0, "105.05");
    assert_eq!(
        rows_by("Unit"),
        [
            row("/0304", 2, two),
            row("0402", 1, one),
            row("B/0304", 1, one),
            row("No unit", 0, "3.75"), // surveyed, held
            rest.clone(),
        ]
    );
    assert_eq!(
        rows_by("Floor"),
        [row("/3", 2, two), row("4", 1, one), row("B/3", 1, one), row("No floor", 0, "3.75"), rest.clone()]
    );
    assert_eq!(rows_by("Phase"), [row("1", 2, two), row("2", 1, one), row("No phase", 1, "132.36"), rest]);
    // 251.22 + 2 x 128.61; the held opening has no product: its survey is the project's.
    assert_eq!(rows_by("Product"), [row("louver-89", 4, "508.44"), row(WHOLE_PROJECT, 0, "108.80")]);
}

#[test]
fn a_place_takes_its_part_of_each_quantity_whether_or_not_it_has_a_price() {
    let mut rules = without_spares();
    rules.prices.blinds[0].each = None;
    let rows = [
        Spec { quantity: 2, floor: "3", ..Spec::default() },
        Spec { quantity: 1, floor: "4", unit: "0401", ..Spec::default() },
    ];
    let cost = cost_of(&rows, &rules);
    let floors = cost.breakdowns.iter().find(|breakdown| breakdown.by == "Floor").unwrap();
    let parts = |place: &Place| -> Vec<(String, String)> {
        let part = |&(line, part): &(usize, Decimal)| (cost.lines[line].item.clone(), part.to_string());
        place.parts.iter().map(part).collect()
    };
    // Six screws a blind, counted in pieces; 30 min of fitting, 8 min a unit and 5 min of survey.
    let wanted = |parts: [&str; 5]| -> Vec<(String, String)> {
        // After the blinds comes what is taken off them, of which no place takes a part.
        let lines = [0, 2, 3, 4, 5].map(|line| cost.lines[line].item.clone());
        lines.into_iter().zip(parts.map(str::to_owned)).collect()
    };
    assert_eq!(parts(&floors.rows[0]), wanted(["2", "12", "60", "8", "10"]));
    assert_eq!(parts(&floors.rows[1]), wanted(["1", "6", "30", "8", "5"]));
    // The blinds have no price: screws 0.36, fitting 22.50, unit 6.00 and survey 3.75 are known.
    assert_eq!(floors.rows[1].share.direct, money("32.61"));
}

#[test]
fn a_job_that_is_all_held_costs_its_survey_alone() {
    let cost = cost_of(&[Spec { held: true, quantity: 4, ..Spec::default() }], &rules());
    let lines = cost.lines.iter().filter(|line| !line.is_share_of_nothing());
    let sections: Vec<_> = lines.map(|line| line.section).collect();
    assert_eq!((sections, cost.subtotal), (vec![Section::Survey], money("15.00"))); // 20 min
}

#[test]
fn a_discount_comes_off_the_section_of_blinds_before_overhead() {
    let mut rules = without_spares();
    rules.rates.discount = Some(money("5"));
    rules.project.overhead = money("10");
    rules.project.tax = money("10");
    rules.project.tax_on = TaxOn::Materials;
    let stock = Spec { stock: Some(0), unit: "0305", ..Spec::default() };
    let cost = cost_of(&[Spec::default(), stock], &rules);
    let discount = lines(&cost, Section::Discount).next().unwrap();
    // 5 % of 96.00 + 36.00 is 6.60.
    assert_eq!((discount.quantity, discount.rate), (Some(money("132.00")), Some(money("-0.05"))));
    assert_eq!((discount.amount, discount.taxable), (Some(money("-6.60")), true));
    // 132.00 - 6.60 + screws 6.00 + fitting 45.00 + 2 units 12.00 + survey 7.50 + delivery 90.00 = 285.90.
    assert_eq!(amounts(&cost, Section::Overhead), some(&["28.59"]));
    // 10 % of 125.40 + 6.00.
    assert_eq!(cost.tax, Some(money("13.14")));
    // Each blind bears its own part: 96.00 - 4.80 + 0.36 + 22.50 + 6.00 + 3.75, and 36.00 - 1.80 + 32.61.
    let units = cost.breakdowns.iter().find(|breakdown| breakdown.by == "Unit").unwrap();
    let direct: Vec<Decimal> = units.rows.iter().map(|place| place.share.direct).collect();
    assert_eq!(direct, [money("123.81"), money("66.81")]);
    // 10 % of 91.20 + 0.36 = 9.156, of 34.20 + 0.36 = 3.456.
    let tax: Vec<Decimal> = units.rows.iter().map(|place| place.share.tax).collect();
    assert_eq!(tax, [money("9.16"), money("3.46")]);

    // One that is unknown leaves the blinds' own amounts, and no total.
    rules.rates.discount = None;
    let checked = priced(&[Spec::default()], &rules);
    assert_eq!(queries(&checked), ["discount on blinds has no rate (needed by 1 order line)"]);
    assert_eq!(amounts(&checked.value, Section::Discount), [None]);
    assert_eq!((checked.value.tax, checked.value.total), (None, None));
}

#[test]
fn a_place_bears_its_whole_share_of_the_cost() {
    let mut rules = without_spares();
    rules.project.overhead = money("10");
    rules.project.profit = money("8");
    rules.project.contingency = money("5");
    rules.project.tax = money("8.25");
    let rows = [Spec::default(), Spec { floor: "4", unit: "0401", quantity: 2, ..Spec::default() }];
    let cost = cost_of(&rows, &rules);
    let floors = cost.breakdowns.iter().find(|breakdown| breakdown.by == "Floor").unwrap();
    // 96.00 + 0.36 + 22.50 + 6.00 + 3.75 = 128.61; x (1.1 x 1.08 x 1.05 - 1 = 0.2474) = 31.818114;
    // 8.25 % of 160.43 = 13.235475.
    let bears = floors.rows[0].share;
    assert_eq!((bears.direct, bears.overheads, bears.tax), (money("128.61"), money("31.82"), money("13.24")));
    assert_eq!(bears.whole(), money("173.67"));
    // 2 x 122.61 + 6.00 = 251.22; x 0.2474 = 62.151828; 8.25 % of 313.37 = 25.853025.
    let bears = floors.rows[1].share;
    assert_eq!((bears.direct, bears.overheads, bears.tax), (money("251.22"), money("62.15"), money("25.85")));
    assert_eq!(floors.all.whole(), cost.total.unwrap());
}

#[test]
fn lines_that_use_one_price_are_made_of_one_input() {
    let mut rules = rules();
    rules.project.cost_basis = CostBasis::Make;
    let provisional = Spec { release: Release::Provisional, ..Spec::default() };
    let rows = [Spec::default(), Spec { color: 1, ..Spec::default() }, provisional];
    let cost = cost_of(&rows, &rules);
    let users = |name: &str| {
        let input = cost.inputs.iter().position(|input| input.name == name).unwrap();
        let uses = |line: &&CostLine| matches!(line.rate_of, RateOf::Input(of) if of == input);
        (cost.lines.iter().filter(uses).count(), cost.inputs[input].value)
    };
    // Two colors and what is provisional; making, fitting, set-up per unit and survey.
    assert_eq!(users("rail, 5800 mm long"), (3, Some(money("26.00"))));
    assert_eq!(users("labor rate"), (4, Some(money("45.00"))));

    rules.project.cost_basis = CostBasis::Buy;
    let other = Spec { width: Length::from_mm(2_500), color: 1, ..Spec::default() };
    let cost = cost_of(&[Spec::default(), other], &rules);
    let prices: Vec<_> = cost.inputs.iter().map(|input| (&*input.name, &*input.unit)).collect();
    let blind = "made-to-measure blind";
    let expected = [
        (blind, "each"),
        (blind, "m2"),
        ("spare louver", "each"),
        ("discount on blinds", "%"),
        ("labor rate", "h"),
    ];
    assert_eq!(prices, expected);
    let of: Vec<_> = lines(&cost, Section::Blinds).map(|line| line.rate_of).collect();
    let made = |m2| RateOf::Area { each: 0, per_m2: 1, m2: money(m2) };
    assert_eq!(of[..2], [made("3"), made("3.75")]);
}

#[test]
fn a_bar_with_a_price_keeps_its_amount_beside_one_without() {
    let mut rules = rules();
    rules.project.cost_basis = CostBasis::Make;
    rules.bars.push(sillbook::rules::Bar { price: None, ..bar("rail", 2_100, "1") });
    // 4.99 m of rail fit the longer bar alone, 1.99 m both.
    let rows =
        [Spec { width: Length::from_mm(5_000), ..Spec::default() }, Spec { unit: "0305", ..Spec::default() }];
    let checked = priced(&rows, &rules);
    let rails: Vec<_> = lines(&checked.value, Section::Parts)
        .filter(|line| line.item.starts_with("rail"))
        .map(|line| (&*line.item, line.rate, line.amount.is_some()))
        .collect();
    for (item, rate, known) in rails {
        assert_eq!((rate.is_some(), known), (item.contains("5800"), item.contains("5800")), "{item}");
    }
    let asked = queries(&checked);
    assert!(asked.iter().any(|query| query.starts_with("some bars of rail have no price")), "{asked:?}");
}

/// Every price, rate, time and share at the most that a survey may say, over the most blinds.
#[test]
fn the_dearest_job_that_a_survey_may_hold_still_adds_up() {
    let mut rules = rules();
    let most = Some(Decimal::from(MOST_MONEY));
    rules.project.cost_basis = CostBasis::Make;
    rules.project.labor_rate = Decimal::from(MOST_MONEY);
    (rules.project.overhead, rules.project.profit) = (Decimal::ONE_THOUSAND, Decimal::ONE_THOUSAND);
    (rules.project.contingency, rules.project.tax) = (Decimal::ONE_THOUSAND, Decimal::ONE_HUNDRED);
    rules.rates = Rates {
        learning_start: None,
        survey_minutes: most,
        making_minutes: most,
        fitting_minutes: most,
        hard_bracket_minutes: most,
        unit_minutes: most,
        removal: most,
        delivery: most,
        size_set_up: most,
        discount: Some(Decimal::ZERO),
    };
    rules.bars.iter_mut().for_each(|bar| bar.price = most);
    rules.fixings.iter_mut().for_each(|fixing| fixing.price = most);
    rules.prices.parts.iter_mut().for_each(|part| part.each = most);
    let row = Spec {
        quantity: 10_000,
        people: 2,
        brackets: 40,
        substrate: Some(Substrate::Concrete),
        ..Spec::default()
    };
    let cost = cost_of(&vec![row; 100], &rules);
    // Contingency is ten times all that is above it; with it the tax doubles eleven times as much.
    let above: Decimal = cost
        .lines
        .iter()
        .filter(|line| line.section != Section::Contingency)
        .filter_map(|line| line.amount)
        .sum();
    assert_eq!(cost.total, Some(above * Decimal::from(22)));
}

fn any_row() -> impl Strategy<Value = Spec> {
    let sizes = (300_000i64..4_000_000, 300_000i64..3_000_000);
    let choices = (1u32..40, 0usize..4, any::<bool>(), any::<bool>(), 0usize..3, 1usize..6);
    (sizes, choices).prop_map(|((width, drop), (quantity, unit, held, provisional, wall, brackets))| Spec {
        width: Length::from_nm(width * 1_000),
        drop: Length::from_nm(drop * 1_000),
        quantity,
        unit: ["0101", "0102", "0201", ""][unit],
        floor: ["1", "1", "2", ""][unit],
        held,
        release: if provisional { Release::Provisional } else { Release::Make },
        stock: (wall == 0 && !provisional).then_some(0),
        fixing: [Some(0), Some(1), None][wall],
        substrate: [Some(Substrate::Wood), Some(Substrate::Concrete), None][wall],
        brackets,
        ..Spec::default()
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, ..ProptestConfig::default() })]

    /// Whatever the block: the subtotal is the sum of the rounded lines, the shares of each breakdown add
    /// up to the cost to the minor unit, every line is its own formula's result, and nothing unknown is
    /// priced.
    #[test]
    fn every_sum_agrees_with_its_parts(
        rows in prop::collection::vec(any_row(), 1..12),
        make in any::<bool>(),
        percents in (0u32..30, 0u32..30, 0u32..30),
        labor in 0i64..20_000,
        (tax, discount, materials) in (0i64..2_000, 0i64..1_000, any::<bool>()),
    ) {
        let mut rules = rules();
        rules.project.cost_basis = if make { CostBasis::Make } else { CostBasis::Buy };
        rules.project.overhead = percents.0.into();
        rules.project.profit = percents.1.into();
        rules.project.contingency = percents.2.into();
        rules.project.labor_rate = Decimal::new(labor, 2);
        rules.project.tax = Decimal::new(tax, 2);
        rules.project.tax_on = if materials { TaxOn::Materials } else { TaxOn::All };
        rules.rates.discount = Some(Decimal::new(discount, 2));
        let cost = cost_of(&rows, &rules);

        let known: Decimal = cost.lines.iter().filter_map(|line| line.amount).sum();
        prop_assert_eq!(cost.subtotal, known);
        prop_assert_eq!(cost.total.is_some(), cost.lines.iter().all(|line| line.amount.is_some()));

        let known = cost.subtotal + cost.known_tax;
        for breakdown in &cost.breakdowns {
            let shares = || breakdown.rows.iter().map(|row| row.share).chain([breakdown.rest]);
            let sum = |part: fn(Share) -> Decimal| shares().map(part).sum::<Decimal>();
            prop_assert_eq!(sum(Share::whole), known, "{}", breakdown.by);
            prop_assert_eq!(sum(|share| share.tax), cost.known_tax, "{}", breakdown.by);
            prop_assert_eq!(breakdown.all.whole(), known, "{}", breakdown.by);
        }

        let at = |column| Address { sheet: Arc::from("Cost summary"), row: 4, column };
        for line in &cost.lines {
            let expr = Expr::amount(line.formula, at(3), at(4), 2);
            let shown = |cell: &Address| if cell.column == 3 { line.quantity } else { line.rate };
            prop_assert_eq!(expr.evaluate(&shown).as_ref().and_then(Outcome::number), line.amount, "{}", &line.item);
        }
    }
}
