//! Identical blinds and the lines they share.

use crate::support::blinds::{Spec, block, rules};
use sillbook::frozen::Frozen;
use sillbook::length::Length;
use sillbook::order::{Order, group_identical};
use sillbook::sizing::{Mount, Release};
use sillbook::survey::{Control, Draw, Substrate};

fn order_of(rows: &[Spec]) -> Order {
    let rules = rules();
    let (survey, blinds) = block(rows, &rules);
    group_identical(&survey, &blinds, &Frozen::default(), &rules)
}

/// For each line: its number, its blinds and its openings.
fn lines(order: &Order) -> Vec<(usize, u64, Vec<usize>)> {
    order.lines.iter().map(|line| (line.line, line.quantity, line.openings())).collect()
}

#[test]
fn lines_stand_in_survey_order_and_count_blinds_not_rows() {
    let wide = Spec { width: Length::from_mm(2_400), ..Spec::default() };
    let order = order_of(&[
        Spec { quantity: 2, ..wide.clone() },
        Spec::default(),
        Spec { held: true, ..Spec::default() },
        Spec { unit: "0305", ..wide },
        Spec { quantity: 3, ..Spec::default() },
    ]);
    // The wide blinds come first because their first opening does; the held row is in no line.
    assert_eq!(lines(&order), [(1, 3, vec![0, 3]), (2, 4, vec![1, 4])]);
}

#[test]
fn each_thing_that_makes_blinds_differ_parts_their_lines() {
    let plain = Spec::default;
    let mm = Length::from_mm;
    let cases = [
        ("product", Spec { product: 1, ..plain() }),
        ("color", Spec { color: 1, ..plain() }),
        ("width", Spec { width: mm(2_001), ..plain() }),
        ("drop", Spec { drop: mm(1_501), ..plain() }),
        ("louver count", Spec { louvers: 11, ..plain() }),
        ("louver length", Spec { louver_length: mm(1_451), ..plain() }),
        ("draw", Spec { draw: Draw::Right, ..plain() }),
        ("control", Spec { control: Control::Motor, ..plain() }),
        ("wand length", Spec { wand: Some(Length::inches(24)), ..plain() }),
        ("mount", Spec { mount: Mount::Inside, ..plain() }),
        ("bracket and reach", Spec { reach: 1, ..plain() }),
        ("left return", Spec { return_left: Length::ZERO, ..plain() }),
        ("right return", Spec { return_right: Length::ZERO, ..plain() }),
        ("valance", Spec { valance: mm(2_011), ..plain() }),
        ("source", Spec { stock: Some(0), ..plain() }),
        ("release", Spec { release: Release::Provisional, ..plain() }),
        ("phase", Spec { phase: "2", ..plain() }),
    ];
    for (what, other) in cases {
        assert_eq!(lines(&order_of(&[plain(), other])).len(), 2, "{what}");
    }
}

#[test]
fn where_a_blind_hangs_does_not_part_lines() {
    let cases = [
        ("place", Spec { building: "B", floor: "7", unit: "0701", ..Spec::default() }),
        ("wall", Spec { substrate: Some(Substrate::Concrete), fixing: Some(1), ..Spec::default() }),
        ("people", Spec { people: 2, ..Spec::default() }),
    ];
    for (what, other) in cases {
        assert_eq!(lines(&order_of(&[Spec::default(), other])).len(), 1, "{what}");
    }
}

#[test]
fn blinds_that_need_different_numbers_of_brackets_stand_on_lines_of_their_own() {
    let order = order_of(&[Spec { quantity: 2, ..Spec::default() }, Spec { brackets: 4, ..Spec::default() }]);
    let brackets: Vec<(u64, u32)> =
        order.lines.iter().map(|line| (line.quantity, line.key.brackets)).collect();
    assert_eq!(brackets, [(2, 3), (1, 4)]);
}
