//! Parts and fixings: counts, spares, packs, and the loose counts of each unit.

use std::collections::BTreeMap;

use crate::support::blinds::{Spec, block, money, rules, text};
use sillbook::frozen::Frozen;
use sillbook::hardware::{Hardware, HardwareItem, total};
use sillbook::length::{Length, Units};
use sillbook::order::group_identical;
use sillbook::rules::{CostBasis, Rules};
use sillbook::sizing::{Mount, Release};
use sillbook::spares;
use sillbook::survey::{Draw, Substrate};

fn hardware_of(rows: &[Spec], rules: &Rules) -> Hardware {
    let (survey, blinds) = block(rows, rules);
    let order = group_identical(&survey, &blinds, &Frozen::default(), rules);
    total(&survey, &blinds, &spares::of(&order, rules), rules)
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
    assert_eq!(item(&hardware, "end cap").spare, 0);
}

#[test]
fn spare_parts_hang_the_spare_louvers_at_the_least() {
    let spares = |rows: &[Spec], rules: &Rules| -> Vec<(String, u64)> {
        let hardware = hardware_of(rows, rules);
        let with = hardware.items.iter().filter(|item| item.substrate.is_empty() && item.spare > 0);
        with.map(|item| (item.item.to_string(), item.spare)).collect()
    };
    let of = |rows: &[(&str, u64)]| -> Vec<(String, u64)> {
        rows.iter().map(|(item, spare)| ((*item).to_owned(), *spare)).collect()
    };
    let mut rules = rules();
    // 16 blinds: 48 brackets, clips and 160 louvers. 2 % of 48 is 0.96, so 1; of 160 carriers 3.2, so 4,
    // as many as of louvers.
    let rows = |quantity| [Spec { quantity, ..Spec::default() }];
    let four =
        [("bracket 3 in", 1), ("valance clip", 1), ("carrier", 4), ("hanger", 4), ("bottom weight", 4)];
    assert_eq!(spares(&rows(16), &rules), of(&four));
    // 51 brackets: 1.02, so 2; 170 louvers: 3.4.
    let five =
        [("bracket 3 in", 2), ("valance clip", 2), ("carrier", 4), ("hanger", 4), ("bottom weight", 4)];
    assert_eq!(spares(&rows(17), &rules), of(&five));
    // One blind of 10 louvers has 2 spare ones, and what hangs them.
    let one = [("bracket 3 in", 1), ("valance clip", 1), ("carrier", 2), ("hanger", 2), ("bottom weight", 2)];
    assert_eq!(spares(&rows(1), &rules), of(&one));
    // Two colors: 2 spare louvers of each.
    let two = [Spec::default(), Spec { color: 1, ..Spec::default() }];
    assert_eq!(spares(&two, &rules)[2], ("carrier".to_owned(), 4));
    // Counted on what may be made, whether it is made or from stock; no spare louver is one of stock's.
    let stock = Spec { stock: Some(0), quantity: 5, ..Spec::default() };
    assert_eq!(spares(std::slice::from_ref(&stock), &rules)[2], ("carrier".to_owned(), 1));
    let later = Spec { release: Release::Provisional, quantity: 50, ..Spec::default() };
    assert_eq!(spares(&[later], &rules), of(&[]));
    // A share of its own, to the last fraction of a per cent.
    rules.project.spare_parts = money("4.2");
    assert_eq!(spares(&rows(16), &rules)[0], ("bracket 3 in".to_owned(), 3)); // 2.016
    rules.project.spare_parts = money("0");
    assert_eq!(spares(&rows(16), &rules), of(&[("carrier", 4), ("hanger", 4), ("bottom weight", 4)]));
}

#[test]
fn a_packer_goes_with_each_bracket_of_an_inside_mount_and_with_no_bought_blind() {
    let mut rules = rules();
    let inside = Spec {
        mount: Mount::Inside,
        return_left: Length::ZERO,
        return_right: Length::ZERO,
        quantity: 17,
        ..Spec::default()
    };
    for basis in [CostBasis::Buy, CostBasis::Make] {
        rules.project.cost_basis = basis;
        let hardware = hardware_of(&[inside.clone(), Spec { stock: Some(0), ..inside.clone() }], &rules);
        let packers = item(&hardware, "packer");
        // 2 x 17 x 3 = 102, and 2 % of it are 3: 105 are three packs of 50.
        assert_eq!((packers.needed, packers.spare, packers.comes_with_blinds), (102, 3, 0));
        assert_eq!((packers.packs, packers.pieces), (Some(3), 0));
    }
    assert!(hardware_of(&[Spec::default()], &rules).items.iter().all(|item| &*item.item != "packer"));
}

#[test]
fn a_box_brings_its_own_brackets_alone() {
    let mut rules = rules();
    let inside = Spec {
        mount: Mount::Inside,
        return_left: Length::ZERO,
        return_right: Length::ZERO,
        ..Spec::default()
    };
    // Each 3 brackets: outside at the shortest reach, at the next, inside; all from stock.
    let rows = [Spec::default(), Spec { reach: 1, ..Spec::default() }, inside]
        .map(|row| Spec { stock: Some(0), ..row });
    let told = |rules: &Rules| -> Vec<(u64, u64, Option<u64>)> {
        let hardware = hardware_of(&rows, rules);
        ["bracket 3 in", "bracket 4 1/2 in", "inside bracket"]
            .map(|name| item(&hardware, name))
            .map(|item| (item.comes_with_blinds, item.pieces, item.packs))
            .into()
    };
    // Each has one spare: 2 % of 3. What a box lacks is bought by the piece where blinds are bought.
    assert_eq!(told(&rules), [(3, 1, Some(0)), (0, 4, Some(0)), (0, 4, Some(0))]);
    rules.project.cost_basis = CostBasis::Make;
    assert_eq!(told(&rules), [(3, 0, Some(1)), (0, 0, Some(1)), (0, 0, Some(1))]);
    // A box with two kinds in it, and one with none.
    rules.project.cost_basis = CostBasis::Buy;
    rules.stock_sizes[0].brackets = ["bracket 3 in", "inside bracket"].map(text).into();
    assert_eq!(told(&rules), [(3, 1, Some(0)), (0, 4, Some(0)), (3, 1, Some(0))]);
    rules.stock_sizes[0].brackets = Vec::new();
    assert_eq!(told(&rules), [(0, 4, Some(0)); 3]);
    // Its other parts come with it, and the fixings never.
    let hardware = hardware_of(&rows, &rules);
    assert_eq!(item(&hardware, "carrier").comes_with_blinds, 30);
    assert_eq!(item(&hardware, "wood screw 8 x 1 1/2").comes_with_blinds, 0);
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
    // All come with them but the spare one.
    let brackets = item(&bought, "bracket 3 in");
    assert_eq!((brackets.needed, brackets.spare, brackets.pieces, brackets.packs), (12, 1, 1, Some(0)));

    // Made: the stock blind still brings its own 3, and the 9 others and one spare are one pack.
    rules.project.cost_basis = CostBasis::Make;
    let made = hardware_of(&rows, &rules);
    let brackets = item(&made, "bracket 3 in");
    assert_eq!((brackets.needed, brackets.comes_with_blinds, brackets.packs), (12, 3, Some(1)));
    assert_eq!((brackets.pieces, brackets.left_over()), (0, Some(0)));
}

#[test]
fn an_item_that_no_price_list_knows_has_no_pack() {
    let mut rules = rules();
    rules.prices.parts.retain(|part| &*part.item != "carrier");
    rules.project.cost_basis = CostBasis::Make;
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
        *sums.entry(item).or_default() += count.count;
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
    let order = group_identical(&survey, &blinds, &Frozen::default(), &rules);
    let hardware = total(&survey, &blinds, &spares::of(&order, &rules), &rules);
    // 7 x 3 + 2 x 5 = 31 of the short reach, 3 of the longer.
    assert_eq!(item(&hardware, "bracket 3 in").needed, 31);
    assert_eq!(item(&hardware, "bracket 4 1/2 in").needed, 3);
    for line in &order.lines {
        let held: u64 = order
            .lines
            .iter()
            .filter(|other| other.key.bracket == line.key.bracket)
            .map(|line| line.quantity * u64::from(line.key.brackets))
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
