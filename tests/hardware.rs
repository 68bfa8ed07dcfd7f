//! Parts and fixings: counts, spares, packs, and the loose counts of each unit.

use std::collections::BTreeMap;

use crate::support::blinds::{Spec, block, money, rules};
use sillbook::hardware::{Hardware, HardwareItem, total};
use sillbook::length::{Length, Units};
use sillbook::order::group_identical;
use sillbook::rules::{CostBasis, Rules};
use sillbook::sizing::{Mount, Release};
use sillbook::survey::{Draw, Substrate};

fn hardware_of(rows: &[Spec], rules: &Rules) -> Hardware {
    let (survey, blinds) = block(rows, rules);
    total(&survey, &blinds, rules)
}

fn needed(hardware: &Hardware) -> Vec<(&str, u64)> {
    hardware.items.iter().map(|item| (&*item.item, item.needed)).collect()
}

fn item<'h>(hardware: &'h Hardware, name: &str) -> &'h HardwareItem {
    hardware.items.iter().find(|item| &*item.item == name).unwrap_or_else(|| panic!("no {name}"))
}

#[test]
fn a_row_of_two_blinds_needs_twice_the_parts_of_one() {
    let mut rules = rules();
    rules.project.units = Units::Inches;
    let row = Spec { quantity: 2, wand: Some(Length::inches(36)), ..Spec::default() };
    let hardware = hardware_of(&[row], &rules);
    let expected = [
        ("bracket 3 in", 6), // 2 x 3
        ("valance clip", 6), // as many as brackets
        ("carrier", 20),     // 2 x 10 louvers
        ("hanger", 20),
        ("bottom weight", 20),
        ("spacer link", 36), // 2 x 9 links, top and bottom
        ("end cap", 4),      // 2 x 2 ends
        ("corner piece", 4), // 2 x 2 returns
        ("wand 36 in", 2),
        ("wood screw 8 x 1 1/2", 12), // 2 a bracket
    ];
    assert_eq!(needed(&hardware), expected);
}

#[test]
fn a_unit_whose_name_recurs_is_told_with_its_building() {
    let of = |building, unit| Spec { building, unit, ..Spec::default() };
    let hardware = hardware_of(&[of("North", "101"), of("South", "101"), of("South", "102")], &rules());
    assert_eq!(item(&hardware, "carrier").used, "North/101, South/101, 102");
}

#[test]
fn a_split_draw_has_two_wands_and_two_links_fewer_and_a_wall_takes_a_corner() {
    let row = Spec { draw: Draw::Split, return_left: Length::ZERO, ..Spec::default() };
    let hardware = hardware_of(&[row], &rules());
    assert_eq!(item(&hardware, "wand 900 mm").needed, 2);
    assert_eq!(item(&hardware, "spacer link").needed, 16); // 2 x (10 - 2)
    assert_eq!(item(&hardware, "corner piece").needed, 1);
}

#[test]
fn each_reach_and_the_inside_bracket_are_items_of_their_own() {
    let inside = Spec {
        mount: Mount::Inside,
        return_left: Length::ZERO,
        return_right: Length::ZERO,
        ..Spec::default()
    };
    let hardware = hardware_of(
        &[inside, Spec { reach: 2, ..Spec::default() }, Spec { reach: 1, ..Spec::default() }],
        &rules(),
    );
    let brackets: Vec<_> =
        needed(&hardware).into_iter().filter(|(name, _)| name.contains("bracket")).collect();
    assert_eq!(brackets, [("bracket 4 1/2 in", 3), ("bracket 6 in", 3), ("inside bracket", 3)]);
}

#[test]
fn spare_fixings_are_rounded_up_once_and_counted_on_what_may_be_made() {
    let provisional = Spec { release: Release::Provisional, ..Spec::default() };
    // Three rows of 6 screws to make: 10 % of 18 is 1.8, so 2; each row by itself would give 3.
    let hardware = hardware_of(&[Spec::default(), Spec::default(), Spec::default(), provisional], &rules());
    let screws = item(&hardware, "wood screw 8 x 1 1/2");
    assert_eq!((screws.needed, screws.needed_to_make, screws.spare), (24, 18, 2));
    assert_eq!((screws.pack_of, screws.packs), (Some(100), Some(1)));
    assert_eq!(item(&hardware, "carrier").spare, 0);
}

#[test]
fn a_pack_more_is_bought_only_where_the_spare_no_longer_fits() {
    let mut rules = rules();
    rules.fixings[0].pack_of = 22;
    // 20 blinds x 1 bracket x 2 screws = 40, and 10 % = 4: two packs of 22.
    let rows = |quantity| [Spec { brackets: 1, quantity, ..Spec::default() }];
    assert_eq!(item(&hardware_of(&rows(20), &rules), "wood screw 8 x 1 1/2").packs, Some(2));
    // 42 and 4.2, so 5: 47 is three packs.
    assert_eq!(item(&hardware_of(&rows(21), &rules), "wood screw 8 x 1 1/2").packs, Some(3));
}

#[test]
fn fixings_for_an_unknown_wall_stand_apart_without_a_pack() {
    let unknown = Spec { substrate: None, fixing: None, ..Spec::default() };
    let hardware = hardware_of(&[Spec::default(), unknown], &rules());
    let not_chosen = hardware.items.last().unwrap();
    assert_eq!((&*not_chosen.item, not_chosen.needed, not_chosen.spare), ("not chosen", 6, 1));
    assert_eq!((not_chosen.pack_of, not_chosen.packs), (None, None));
}

#[test]
fn bought_blinds_bring_their_parts_but_not_their_fixings() {
    let rows = [Spec { quantity: 3, ..Spec::default() }, Spec { stock: Some(0), ..Spec::default() }];
    let mut rules = rules();
    let bought = hardware_of(&rows, &rules);
    for item in &bought.items {
        let expected = if item.substrate.is_empty() { item.needed } else { 0 };
        assert_eq!(item.comes_with_blinds, expected, "{}", item.item);
    }
    // Listed so that a delivery can be counted: 4 x 3 brackets are two packs of 10.
    assert_eq!(item(&bought, "bracket 3 in").packs, Some(2));

    // Made: the stock blind still brings its own 3, and the 9 others are one pack.
    rules.project.cost_basis = CostBasis::Make;
    let made = hardware_of(&rows, &rules);
    let brackets = item(&made, "bracket 3 in");
    assert_eq!((brackets.needed, brackets.comes_with_blinds, brackets.packs), (12, 3, Some(1)));
}

#[test]
fn an_item_that_no_price_list_knows_has_no_pack() {
    let mut rules = rules();
    rules.prices.parts.retain(|part| &*part.item != "carrier");
    let hardware = hardware_of(&[Spec::default()], &rules);
    assert_eq!((item(&hardware, "carrier").needed, item(&hardware, "carrier").packs), (10, None));
}

#[test]
fn units_stand_in_survey_order_and_their_loose_counts_make_the_total() {
    let concrete = Spec { substrate: Some(Substrate::Concrete), fixing: Some(1), ..Spec::default() };
    let rows = [
        Spec { unit: "0305", quantity: 2, ..concrete.clone() },
        Spec { unit: "0306", held: true, ..Spec::default() },
        Spec::default(),
        Spec { unit: "0305", ..Spec::default() },
        Spec { unit: "", building: "B", ..concrete },
    ];
    let rules = rules();
    let hardware = hardware_of(&rows, &rules);
    let units: Vec<_> = hardware.by_unit.iter().map(|unit| (&*unit.building, &*unit.unit)).collect();
    // 0306 has nothing to bring: its only opening is held.
    assert_eq!(units, [("", "0305"), ("", "0304"), ("B", "")]);

    let mut sums: BTreeMap<usize, u64> = BTreeMap::new();
    for (&item, count) in hardware.by_unit.iter().flat_map(|unit| &unit.counts) {
        *sums.entry(item).or_default() += count;
    }
    let needed: BTreeMap<usize, u64> = hardware.items.iter().map(|item| item.needed).enumerate().collect();
    assert_eq!(sums, needed);
    assert_eq!(item(&hardware, "concrete screw 1/4 x 1 3/4").used, "0305, No unit");
}

#[test]
fn brackets_agree_between_openings_order_and_hardware() {
    let rows = [
        Spec { quantity: 7, ..Spec::default() },
        Spec { quantity: 2, brackets: 5, ..Spec::default() },
        Spec { reach: 1, release: Release::Provisional, ..Spec::default() },
        Spec { held: true, quantity: 9, ..Spec::default() },
    ];
    let rules = rules();
    let (survey, blinds) = block(&rows, &rules);
    let order = group_identical(&survey, &blinds);
    let hardware = total(&survey, &blinds, &rules);
    // 7 x 3 + 2 x 5 = 31 of the short reach, 3 of the longer.
    assert_eq!(item(&hardware, "bracket 3 in").needed, 31);
    assert_eq!(item(&hardware, "bracket 4 1/2 in").needed, 3);
    for line in &order.lines {
        let held: u64 = order
            .lines
            .iter()
            .filter(|other| other.key.bracket == line.key.bracket)
            .map(|line| line.brackets)
            .sum();
        assert_eq!(held, item(&hardware, &line.key.bracket).needed);
    }
}

#[test]
fn no_spare_is_lost_to_a_fraction_of_a_per_cent() {
    let mut rules = rules();
    rules.project.spare_fixings = money("0.01");
    // 0.01 % of 6 screws is a good deal less than one, and one is what can be bought.
    assert_eq!(item(&hardware_of(&[Spec::default()], &rules), "wood screw 8 x 1 1/2").spare, 1);
}
