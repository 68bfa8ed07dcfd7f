//! From order lines to the pieces that must be cut, with the spare louvers.
//!
//! The built-in rules: rail, rod and valance from bars of 5.8 m (a rod has no color), louvers from
//! rolls of 100 m with 2 in of hems; 2 % spare louvers, at least 2 for each color and width.

use std::sync::Arc;

use crate::support::blinds::parts;
use rust_decimal::Decimal;
use sillbook::blinds::{CutPart, Returns};
use sillbook::cutting::{CutFault, Demand, KnownPlans, Piece, demand, plan_cuts};
use sillbook::length::{Length, Unit, Units};
use sillbook::order::{HungAs, LineKey, Order, OrderLine, Seat};
use sillbook::rules::{self, CostBasis, CutIn, Offcut, Project, Rules};
use sillbook::sizing::{Release, Size};
use sillbook::sourcing::Origin;
use sillbook::spares;
use sillbook::survey::{Control, Draw, Survey};

const MM: fn(i64) -> Length = Length::from_mm;

/// The built-in rules where the blinds are made: spare louvers are cut. Any piece is cut from any roll.
fn built_in() -> Rules {
    let mut rules = rules::build(&[], Unit::Millimeter).unwrap().value;
    rules.project.cost_basis = CostBasis::Make;
    for material in &mut rules.materials {
        material.cut_in = CutIn::Pieces;
    }
    rules
}

/// A line of blinds 2 m wide: rail cut 1990, rod 1970, front 2010, one return of 120, ten louvers of 1450.
fn line(number: usize, quantity: u64) -> OrderLine {
    let text = |text: &str| Arc::<str>::from(text);
    OrderLine {
        line: number,
        key: LineKey {
            product: text("louver-89"),
            color: text("white"),
            size: Size { width: MM(2000), drop: MM(1500) },
            parts: cut(MM(1990), MM(1970), MM(1450)).into(),
            draw: Some(Draw::Left),
            control: Control::Wand,
            control_side: None,
            wand: None,
            cord: None,
            hung: HungAs::Outside { reach: MM(75), returns: Returns { left: MM(120), right: Length::ZERO } },
            bracket: text("bracket 3 in"),
            brackets: 3,
            valance: Some(MM(2010)),
            phase: text(""),
            origin: Origin::Made,
            stock: None,
            release: Release::Make,
            remake_of: None,
        },
        quantity,
        of: quantity,
        seats: vec![Seat { opening: Some(0), first: 1, last: quantity, kept: None, state: None }],
        louvers: None,
        clips: 3,
        spacer_links: 18,
        people: 1,
        weight: Decimal::ONE,
    }
}

/// Rail and rod of these cuts, a front of 2010, one return of 120, ten louvers of this length.
fn cut(rail: Length, rod: Length, louver: Length) -> Vec<CutPart> {
    let rules = built_in();
    let rules::Family::Louver(rules) = &rules.products[0].family;
    parts(rules, rail, rod, (10, louver), &[MM(2010), MM(120)])
}

fn cut_to(line: OrderLine, rail: Length, rod: Length, louver: Length) -> OrderLine {
    OrderLine { key: LineKey { parts: cut(rail, rod, louver).into(), ..line.key }, ..line }
}

fn colored(line: OrderLine, color: &str) -> OrderLine {
    OrderLine { key: LineKey { color: Arc::from(color), ..line.key }, ..line }
}

fn needed(lines: Vec<OrderLine>, rules: &Rules) -> Vec<Demand> {
    let order = Order { lines, ..Order::default() };
    demand(&order, &spares::of(&order, rules), &Survey::default(), rules).unwrap()
}

/// `material color: count x part length for line` of every piece.
fn told(demands: &[Demand]) -> Vec<String> {
    let piece = |(piece, count): (&Piece, &u64)| {
        let line = piece.line.map_or("spare".to_owned(), |line| format!("line {line}"));
        format!("{count} x {} {} {line}", piece.part.word(), piece.length.show(Units::Millimeters))
    };
    let told = demands.iter().map(|demand| {
        let pieces: Vec<String> = demand.pieces.iter().map(piece).collect();
        format!("{} {}: {}", demand.material, demand.color, pieces.join(", "))
    });
    told.collect()
}

#[test]
fn every_part_of_every_blind_is_a_piece() {
    // Two blinds: 2 of each part, 20 louvers of 1450 + 50.8; 2 % of 20 is 0.4, so the least of 2 spares.
    assert_eq!(
        told(&needed(vec![line(1, 2)], &built_in())),
        [
            "fabric-89 white: 2 x louver 1500.8 mm spare, 20 x louver 1500.8 mm line 1",
            "rail white: 2 x headrail 1990 mm line 1",
            "rod : 2 x tilt rod 1970 mm line 1",
            "valance white: 2 x valance return 120 mm line 1, 2 x valance front 2010 mm line 1",
        ]
    );
}

#[test]
fn only_what_is_made_and_may_be_made_now_is_cut() {
    let stock = line(1, 1);
    let stock = OrderLine {
        key: LineKey { origin: Origin::Stock, stock: Some(built_in().stock_sizes[0].id), ..stock.key },
        ..stock
    };
    let later = line(2, 1);
    let later = OrderLine { key: LineKey { release: Release::Provisional, ..later.key }, ..later };
    assert!(needed(vec![stock, later], &built_in()).is_empty());
    assert!(
        plan_cuts(&Order::default(), &[], &Survey::default(), &built_in(), &KnownPlans::default())
            .unwrap()
            .plans
            .is_empty()
    );
}

#[test]
fn spares_are_a_share_of_the_project_rounded_up_once_for_each_color_and_width() {
    let mut rules = built_in();
    let longer = |line: OrderLine, length| cut_to(line, MM(1990), MM(1970), length);
    let spares = |lines: Vec<OrderLine>, rules: &Rules| -> Vec<String> {
        let fabric = needed(lines, rules).into_iter().filter(|demand| demand.material.starts_with("fabric"));
        let spare = |demand: Demand| {
            let (piece, count) = demand.pieces.iter().find(|(piece, _)| piece.line.is_none())?;
            Some(format!(
                "{} {}: {count} of {}",
                demand.material,
                demand.color,
                piece.length.show(Units::Millimeters)
            ))
        };
        fabric.filter_map(spare).collect()
    };
    // 110 + 50 louvers: 2 % is 3.2, so 4, at the longest length, 1600 + 50.8. Line by line it would be 3 + 1.
    let lines = || vec![line(1, 11), longer(line(2, 5), MM(1600))];
    assert_eq!(spares(lines(), &rules), ["fabric-89 white: 4 of 1650.8 mm"]);
    // 150 louvers: 2 % is 3, no more.
    assert_eq!(spares(vec![line(1, 15)], &rules), ["fabric-89 white: 3 of 1500.8 mm"]);
    // Another color counts by itself.
    let two = vec![line(1, 15), colored(line(2, 1), "cream")];
    assert_eq!(spares(two, &rules), ["fabric-89 cream: 2 of 1500.8 mm", "fabric-89 white: 3 of 1500.8 mm"]);
    // Where they are bought, spares are ordered finished: 1600 and 50 long without their hems.
    let bought =
        Rules { project: Project { cost_basis: CostBasis::Buy, ..rules.project.clone() }, ..rules.clone() };
    assert!(spares(lines(), &bought).is_empty());
    let ordered = spares::of(&Order { lines: lines(), ..Order::default() }, &bought);
    let [spare] = &ordered[..] else { panic!("{ordered:?}") };
    assert_eq!((spare.count, spare.cut, &spare.lines[..]), (4, MM(1600) + Length::inches(2), &[1, 2][..]));
    rules.project.spare_louvers = Decimal::ZERO;
    // The least of each line is its product's; the most of these counts.
    assert_eq!(spares(lines(), &rules), ["fabric-89 white: 2 of 1650.8 mm"]);
    let without = |line: OrderLine| {
        let parts = line.key.parts.iter().map(|part| CutPart { spares: None, ..part.clone() });
        OrderLine { key: LineKey { parts: parts.collect(), ..line.key }, ..line }
    };
    assert!(spares(lines().into_iter().map(without).collect(), &rules).is_empty());
}

#[test]
fn offcuts_serve_their_own_material_and_color() {
    let mut rules = built_in();
    let offcut = |material: &str, color: &str, quantity| Offcut {
        material: Arc::from(material),
        color: Arc::from(color),
        length: MM(2100),
        quantity,
    };
    rules.offcuts = vec![
        offcut("rail", "white", 1),
        offcut("rail", "white", 2),
        offcut("rail", "cream", 5),
        offcut("rod", "", 1),
        offcut("valance", "white", 0),
    ];
    let on_hand: Vec<u64> =
        needed(vec![line(1, 1)], &rules).iter().map(|demand| demand.offcuts.values().sum()).collect();
    // fabric, rail, rod, valance
    assert_eq!(on_hand, [0, 3, 1, 0]);
}

#[test]
fn plans_stand_in_order_of_material_and_color_and_hold_every_piece() {
    let lines = vec![colored(line(1, 40), "white"), colored(line(2, 7), "cream")];
    let order = Order { lines, ..Order::default() };
    let cuts = plan_cuts(
        &order,
        &spares::of(&order, &built_in()),
        &Survey::default(),
        &built_in(),
        &KnownPlans::default(),
    )
    .unwrap();
    let shown: Vec<_> = cuts
        .plans
        .iter()
        .map(|plan| {
            format!(
                "{} {}: {} pieces from {} bars, at least {:?}",
                plan.material, plan.color, plan.pieces, plan.bars, plan.at_least
            )
        })
        .collect();
    assert_eq!(
        shown,
        [
            // 70 + 2 and 400 + 8 louvers of 1500.8: 100 m less 20 mm gives 66 (66 x 1500.8 = 99052.8).
            "fabric-89 cream: 72 pieces from 2 bars, at least Some(2)",
            "fabric-89 white: 408 pieces from 7 bars, at least Some(7)",
            // 5780 gives two of 1990 (3 x 1990 = 5970).
            "rail cream: 7 pieces from 4 bars, at least Some(4)",
            "rail white: 40 pieces from 20 bars, at least Some(20)",
            // One rod for both colors: two of 1970 a bar (3 x 1970 = 5910).
            "rod : 47 pieces from 24 bars, at least Some(24)",
            // Two fronts of 2010 and 13 returns of 120 a bar: 40 returns find room beside 40 fronts.
            "valance cream: 14 pieces from 4 bars, at least Some(4)",
            "valance white: 80 pieces from 20 bars, at least Some(20)",
        ]
    );
}

#[test]
fn bars_are_cut_line_after_line_and_the_longest_piece_first() {
    // A bar of 5780 gives one of these rails, and a rod of 1000 beside one of 2000 and of 2500.
    let of = |number, rail, rod| cut_to(line(number, 1), MM(rail), MM(rod), MM(1450));
    let lines = vec![of(1, 4000, 1000), of(2, 4200, 2500), of(3, 4100, 2000)];
    let order = Order { lines, ..Order::default() };
    let cuts = plan_cuts(
        &order,
        &spares::of(&order, &built_in()),
        &Survey::default(),
        &built_in(),
        &KnownPlans::default(),
    )
    .unwrap();
    let cut = |material: &str| -> Vec<Vec<(usize, Length)>> {
        let plan = cuts.plans.iter().find(|plan| *plan.material == *material).unwrap();
        let pieces = plan.patterns.iter().map(|pattern| &pattern.pieces);
        pieces
            .map(|pieces| pieces.iter().map(|piece| (piece.line.unwrap(), piece.length)).collect())
            .collect()
    };
    assert_eq!(cut("rail"), [[(1, MM(4000))], [(2, MM(4200))], [(3, MM(4100))]]);
    assert_eq!(cut("rod"), [[(2, MM(2500)), (3, MM(2000)), (1, MM(1000))]]);
}

#[test]
fn what_cannot_be_cut_is_never_lost() {
    let fault = |line: OrderLine, rules: &Rules| {
        plan_cuts(
            &Order { lines: vec![line], ..Order::default() },
            &[],
            &Survey::default(),
            rules,
            &KnownPlans::default(),
        )
        .unwrap_err()
    };
    let mut rules = built_in();
    let rail: Arc<str> = Arc::from("rail");
    // 5800 - 2 x 10 = 5780 is the longest rail.
    assert_eq!(rules.longest_piece("rail"), Some(MM(5780)));
    let long = cut_to(line(1, 1), MM(5781), MM(1970), MM(1450));
    assert_eq!(fault(long, &rules), CutFault::CannotBeCut { material: rail.clone(), length: MM(5781) });
    let none = cut_to(line(1, 1), Length::ZERO, MM(1970), MM(1450));
    assert_eq!(fault(none, &rules), CutFault::CannotBeCut { material: rail.clone(), length: Length::ZERO });
    rules.bars.retain(|bar| *bar.material != *rail);
    assert_eq!(fault(line(1, 1), &rules), CutFault::NoBar { material: rail });
}
