//! What every run is held to before it is written: for each invariant faults planted in a worked result, which
//! it must report, and where.

use rust_decimal::Decimal;
use sillbook::cost::{Commitment, CostLine, QuantityFrom};
use sillbook::cutting::{CutPlan, From, Pattern};
use sillbook::fitting::Blind;
use sillbook::hardware::HardwareItem;
use sillbook::invariants::{self, Invariant};
use sillbook::length::Length;
use sillbook::order::{OrderLine, Seat};
use sillbook::pipeline::{self, Input, RunError, Silent};
use sillbook::query::{OpeningIndex, Wording};
use sillbook::report::{Report, Selection};
use sillbook::rules::{CutIn, Rules};
use sillbook::schema::blinds::BlindState;
use sillbook::sizing::{Hung, RailInRecess, Release};
use sillbook::sourcing::Supply;
use sillbook::survey::Survey;

use super::{document, read_text, surveys};
use crate::support::remembered;

/// In which survey a fault is planted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum In {
    /// Every state at once, made of bars.
    Mixed,
    /// Bought, with too few boxes.
    Scarce,
    /// Finished sizes.
    Finished,
    /// Mixed, of which some blinds are ordered.
    Ordered,
}

use In::{Finished, Mixed, Ordered, Scarce};

type Plant = fn(&mut Report<'_>);

/// What is planted, where it must be found (at its beginning), in which survey, and how.
type Fault = (&'static str, &'static str, In, Plant);

/// For each invariant, by its words, its faults.
const FAULTS: &[(&str, &[Fault])] = &[
    (
        "a size is one that would do for its opening, or a query says why not",
        &[
            ("a narrower blind", "opening W1", Mixed, |r| widen(r, "W1", Length::inches(-8))),
            ("a longer blind", "opening D1", Mixed, |r| lengthen(r, "D1", Length::inches(8))),
            ("what an ordered blind does not say", "opening W1", Ordered, |r| {
                widen(r, "W1", Length::inches(-8))
            }),
        ],
    ),
    (
        "a blind is within the limits of its product, or a query says why not",
        &[("a blind of a mile", "opening W1", Mixed, |r| {
            blind(r, "W1").sourced.size.width = Length::from_mm(1_609_344);
        })],
    ),
    (
        "an inside blind is clear of the recess that was measured",
        &[
            ("too wide", "opening W1", Mixed, |r| widen(r, "W1", INCH)),
            ("too long", "opening W1", Mixed, |r| lengthen(r, "W1", INCH)),
            ("a recess too shallow", "opening W1", Mixed, |r| {
                survey(r, |survey| {
                    let facts = survey.openings[3].facts.as_mut().unwrap();
                    facts.recess_depth.as_mut().unwrap().value = INCH;
                });
            }),
        ],
    ),
    (
        "an outside blind has its minimum overlaps, or a query says why not",
        &[
            ("all of it at one side", "opening D1", Mixed, |r| {
                let overlaps = blind(r, "D1").fitted.overlaps.as_mut().unwrap();
                (overlaps.left, overlaps.right) = (overlaps.left - INCH * 3, overlaps.right + INCH * 3);
            }),
            ("a nanometer of nothing", "opening D1", Mixed, |r| {
                let overlaps = blind(r, "D1").fitted.overlaps.as_mut().unwrap();
                overlaps.left = overlaps.left + NM;
            }),
            ("no overlaps", "opening D1", Mixed, |r| blind(r, "D1").fitted.overlaps = None),
            ("a query taken away", "opening D3", Mixed, |r| forget(r, "left-overlap-too-small")),
        ],
    ),
    (
        "an outside blind stays on the free wall",
        &[
            ("past the wall beside it", "opening D1", Mixed, |r| {
                blind(r, "D1").fitted.overlaps.as_mut().unwrap().right = INCH * 10;
            }),
            ("past the wall above it", "opening D1", Mixed, |r| {
                blind(r, "D1").fitted.brackets.top_above_head = Some(INCH * 21);
            }),
        ],
    ),
    (
        "a size that is given as finished is taken as it is",
        &[("a nanometer off", "opening W1", Finished, |r| lengthen(r, "W1", NM))],
    ),
    (
        "its fixings hold a blind, or a query says that they do not or that it is unknown",
        &[
            ("over what it holds", "opening D1", Mixed, |r| {
                blind(r, "D1").fitted.fixings.pulled = Some(Decimal::TWO);
            }),
            ("a hold that nobody knows", "opening D1", Mixed, |r| {
                let fixings = &mut blind(r, "D1").fitted.fixings;
                (fixings.hung, fixings.pulled) = (None, None);
            }),
            ("known by half", "opening D1", Mixed, |r| blind(r, "D1").fitted.fixings.hung = None),
        ],
    ),
    (
        "what a fixing holds is unknown where its capacity is, and never 0",
        &[("a load over nothing", "opening D3", Mixed, |r| {
            let fixings = &mut blind(r, "D3").fitted.fixings;
            (fixings.hung, fixings.pulled) = (Some(Decimal::ZERO), Some(Decimal::ZERO));
        })],
    ),
    (
        "a depth or a height that nobody measured is unknown, and never 0",
        &[
            ("a recess of 0", "opening W7", Mixed, |r| {
                let Hung::Inside(recess) = &mut blind(r, "W7").sizing.hung else { panic!("inside") };
                recess.rail = Some(RailInRecess { setback: Length::ZERO, stands_proud: Length::ZERO });
            }),
            ("a sill of 0", "opening W3", Mixed, |r| {
                blind(r, "W3").fitted.brackets.top_above_floor = Some(Length::ZERO);
            }),
        ],
    ),
    (
        "each blind is on one line of the order, and no blind of a held opening is ordered",
        &[
            ("a blind lost", "opening D1", Mixed, |r| r.order.lines[0].seats.clear()),
            ("a blind on two lines", "opening D1", Mixed, |r| {
                let seat = r.order.lines[0].seats[0];
                r.order.lines[1].seats.push(seat);
            }),
            ("a held opening in the order", "opening W4", Mixed, |r| {
                let held = place(r, "W4");
                let seat = Seat { opening: Some(held), ..r.order.lines[0].seats[0] };
                r.order.lines[0].seats.push(seat);
            }),
            ("an opening without a place", "opening W7", Mixed, |r| drop(r.blinds.pop())),
        ],
    ),
    (
        "a line counts its own blinds, each number once, and no other line has its number",
        &[
            ("one too many", "line 1", Mixed, |r| r.order.lines[0].quantity += 1),
            ("a label twice", "line 1", Mixed, |r| {
                let seat = r.order.lines[0].seats[0];
                r.order.lines[0].seats.push(seat);
            }),
            ("a label past the last", "line 1", Mixed, |r| r.order.lines[0].of = 0),
            ("a line number twice", "line 1", Mixed, |r| r.order.lines[1].line = 1),
            ("spares on a line of blinds", "line 1", Mixed, |r| r.spares[0].line = 1),
        ],
    ),
    (
        "a line that is not ordered yet is what its openings need",
        &[
            ("another color", "line 1", Mixed, |r| r.order.lines[0].key.color = "gold".into()),
            ("a nanometer wider", "line 1", Mixed, |r| widen_line(&mut r.order.lines[0])),
            ("a part forgotten", "line 1", Mixed, |r| r.order.lines[0].key.parts = Vec::new().into()),
            ("another phase", "line 1", Mixed, |r| r.order.lines[0].key.phase = "9".into()),
            ("released too early", "line ", Mixed, |r| {
                let waits = |line: &&mut OrderLine| line.key.release == Release::Provisional;
                r.order.lines.iter_mut().find(waits).unwrap().key.release = Release::Make;
            }),
            ("a blind for nobody", "line 1", Mixed, |r| r.order.lines[0].seats[0].opening = None),
        ],
    ),
    (
        "what is ordered keeps its line, its number and all that it is",
        &[
            ("another line", "line 99", Ordered, |r| ordered_line(r).line = 99),
            ("another number", "line ", Ordered, |r| ordered_line(r).seats[0].first = 7),
            ("another size", "line ", Ordered, |r| widen_line(ordered_line(r))),
            ("a color", "line ", Ordered, |r| ordered_line(r).key.color = "gold".into()),
            ("a state", "line ", Ordered, |r| ordered_line(r).seats[0].state = Some(BlindState::Fitted)),
            ("a blind forgotten", "line ", Ordered, |r| ordered_line(r).seats.clear()),
        ],
    ),
    (
        "an opening with an ordered blind has it in the size that was ordered",
        &[("a nanometer off", "opening W1", Ordered, |r| widen(r, "W1", NM))],
    ),
    (
        "no more boxes are taken than are on hand and not ordered before",
        &[
            ("boxes that are not there", "stock size 66 in x 84 in", Scarce, |r| {
                rules(r, |rules| rules.stock_sizes.iter_mut().for_each(|size| size.on_hand = 0));
            }),
            ("one box for all", "stock size 66 in x 84 in", Scarce, |r| {
                let supplies = r.blinds.iter().flatten().map(|blind| blind.sourced.supply);
                let mut boxes = supplies.filter(|supply| matches!(supply, Supply::Stock(_)));
                let box_of = boxes.next().unwrap();
                r.blinds.iter_mut().flatten().for_each(|blind| blind.sourced.supply = box_of);
            }),
        ],
    ),
    (
        "every piece of every blind to be made is cut once",
        &[
            ("a piece lost", "material ", Mixed, |r| {
                bar(r).pieces.pop();
            }),
            ("a nanometer off", "material ", Mixed, |r| {
                let piece = &mut bar(r).pieces[0];
                piece.length = piece.length - NM;
            }),
            ("a bar too many", "material ", Mixed, |r| bar(r).bars += 1),
            ("a material forgotten", "material ", Mixed, |r| drop(r.cuts.plans.pop())),
            ("a piece for another line", "material ", Mixed, |r| bar(r).pieces[0].line = Some(99)),
            ("a blind more", "material ", Mixed, |r| r.order.lines[0].seats[0].last += 1),
        ],
    ),
    (
        "the pieces of a bar come out of it, with its kerfs and both trims",
        &[
            ("a bar without its trims", "material rail white", Mixed, |r| {
                let bar = bar(r);
                let pieces: Length = bar.pieces.iter().map(|piece| piece.length).sum();
                bar.stock = pieces + Length::from_mm(3) * (bar.pieces.len() as i64 - 1);
            }),
            ("a saw that takes nothing", "material ", Mixed, |r| {
                let kerf = Length::from_mm(1_000);
                rules(r, |rules| rules.materials.iter_mut().for_each(|material| material.kerf = kerf));
            }),
            ("a louver of no blind", "material fabric-89 white", Mixed, |r| {
                let is_roll = |plan: &&mut CutPlan| plan.cut_in == CutIn::Blinds;
                r.cuts.plans.iter_mut().find(is_roll).unwrap().patterns[0].shares.pop();
            }),
        ],
    ),
    (
        "bars are of lengths on offer, and no more offcuts are cut than are on hand",
        &[
            ("a bar that nobody sells", "material rail white", Mixed, |r| {
                let bar = bar(r);
                bar.stock = bar.stock + NM;
            }),
            ("a bar that is not paid", "material ", Mixed, |r| r.cuts.plans[0].bars += 1),
            ("offcuts that are not there", "material rail white", Mixed, |r| {
                rules(r, |rules| rules.offcuts.clear());
            }),
        ],
    ),
    (
        "the summary counts the openings as they are",
        &[
            ("a blind too few", "the summary", Mixed, |r| r.counts.sized -= 1),
            ("provisional ones for sized ones", "the summary", Mixed, |r| r.counts.provisional += 1),
            ("a held one forgotten", "the summary", Mixed, |r| r.counts.held -= 1),
            ("an opening more", "the summary", Mixed, |r| r.counts.openings += 1),
            ("a blind more", "the summary", Mixed, |r| r.counts.blinds += 1),
            ("a size more", "the summary", Mixed, |r| r.counts.sizes += 1),
            ("a blind without sizes", "opening D1", Mixed, |r| {
                survey(r, |survey| survey.openings[0].facts = None);
            }),
        ],
    ),
    (
        "the units' pages have every opening and every blind once",
        &[
            ("a blind too few", "the list of units", Mixed, |r| r.counts.sized += 1),
            ("a provisional one", "the list of units", Mixed, |r| r.counts.provisional += 1),
            ("a held one", "the list of units", Mixed, |r| r.counts.held += 1),
        ],
    ),
    (
        "the cost has as many blinds, committed, open and remade, as the order",
        &[
            ("a blind too many", "the cost", Scarce, |r| {
                *r.cost.lines[0].printed_quantity.as_mut().unwrap() += Decimal::ONE;
            }),
            ("a line of them lost", "the cost", Scarce, |r| drop(r.cost.lines.remove(0))),
            ("open, and committed", "the cost", Scarce, |r| {
                r.cost.lines[0].commitment = Commitment::Committed;
            }),
        ],
    ),
    (
        "the parts are those of the blinds, in the project as in the units",
        &[
            ("a bracket too few", "the list of parts", Mixed, |r| r.hardware.items[0].needed -= 1),
            ("a screw forgotten", "the list of parts", Mixed, |r| drop(r.hardware.items.pop())),
            ("one more in a unit", "the list of units", Mixed, |r| {
                r.hardware.by_unit[0].counts.values_mut().next().unwrap().count += 1;
            }),
            ("a clip that nothing needs", "the list of parts", Mixed, |r| {
                let first = r.blinds.iter_mut().flatten().find(|blind| !blind.fitted.clips.is_empty());
                first.unwrap().fitted.clips.pop();
            }),
        ],
    ),
    (
        "enough of each part is bought, and not a pack too many",
        &[
            ("a pack too few", "", Mixed, |r| *packed(r).packs.as_mut().unwrap() -= 1),
            ("a pack too many", "", Mixed, |r| *packed(r).packs.as_mut().unwrap() += 1),
            ("more with the blinds than there are", "", Mixed, |r| packed(r).comes_with_blinds = 1_000_000),
        ],
    ),
    (
        "an amount is quantity x rate, rounded once, and unknown with either",
        &[
            ("a cent too much", "the cost of ", Mixed, |r| {
                let known = r.cost.lines.iter_mut().find_map(|line| line.amount.as_mut());
                *known.unwrap() += Decimal::new(1, 2);
            }),
            ("an amount of nothing known", "the cost of ", Mixed, |r| {
                unknown(r).amount = Some(Decimal::ZERO);
            }),
        ],
    ),
    (
        "the total is its lines and the tax, and unknown with any of them",
        &[
            ("a cent lost", "the cost", Mixed, |r| r.cost.subtotal -= Decimal::new(1, 2)),
            ("a tax of its own", "the cost", Mixed, |r| r.cost.known_tax += Decimal::new(1, 2)),
            ("a total of what is not known", "the cost", Mixed, |r| {
                r.cost.total = Some(r.cost.known_total());
            }),
            ("a line lost", "the cost", Scarce, |r| drop(r.cost.lines.remove(0))),
        ],
    ),
    (
        "committed, open and remade make the total",
        &[("a cent that is neither", "the cost", Ordered, |r| r.cost.subtotal += Decimal::new(1, 2))],
    ),
    (
        "what has no price in the rules has no amount, and never 0",
        &[
            ("blinds for nothing", "the cost", Scarce, |r| {
                rules(r, |rules| rules.prices.blinds.iter_mut().for_each(|price| price.per_m2 = None));
            }),
            ("boxes for nothing", "the cost", Scarce, |r| {
                rules(r, |rules| rules.stock_sizes.iter_mut().for_each(|size| size.price = None));
            }),
            ("parts for nothing", "the cost", Mixed, |r| {
                rules(r, |rules| rules.prices.parts.iter_mut().for_each(|part| part.each = None));
            }),
            ("fixings for nothing", "the cost", Mixed, |r| {
                rules(r, |rules| rules.fixings.iter_mut().for_each(|fixing| fixing.price = None));
            }),
            ("bars for nothing", "the cost", Mixed, |r| {
                let line = unknown(r);
                (line.rate, line.printed_rate) = (Some(Decimal::ZERO), Some(Decimal::ZERO));
            }),
        ],
    ),
    (
        "each blind that does not hang is fitted on one visit, and each held opening waits for one",
        &[
            ("a blind twice", "opening ", Mixed, |r| r.days.visits[0].parts[0].blinds += 1),
            ("a visit forgotten", "opening ", Mixed, |r| drop(r.days.visits.remove(0))),
            ("a held opening that nobody waits for", "opening W4", Mixed, |r| {
                r.days.visits.iter_mut().for_each(|visit| visit.held.clear());
            }),
        ],
    ),
    (
        "the visits of a day take no longer than its fitters work, unless one of them is kept",
        &[
            ("a visit longer than its day", "opening ", Mixed, |r| {
                r.days.visits[0].minutes = Some(Decimal::from(100_000));
            }),
            ("two long visits on a day", "day 1", Mixed, |r| {
                for visit in &mut r.days.visits {
                    visit.minutes = visit.minutes.map(|_| Decimal::from(480));
                    if let Some(planned) = &mut visit.planned {
                        (planned.day, planned.days) = (1, 1);
                    }
                }
            }),
        ],
    ),
];

const INCH: Length = Length::inches(1);
const NM: Length = Length::from_nm(1);

fn widen(report: &mut Report<'_>, name: &str, more: Length) {
    let size = &mut blind(report, name).sourced.size;
    size.width = size.width + more;
}

fn lengthen(report: &mut Report<'_>, name: &str, more: Length) {
    let size = &mut blind(report, name).sourced.size;
    size.drop = size.drop + more;
}

fn widen_line(line: &mut OrderLine) {
    line.key.size.width = line.key.size.width + NM;
}

fn place(report: &Report<'_>, name: &str) -> OpeningIndex {
    report.survey.openings.iter().position(|opening| &*opening.who.name == name).unwrap()
}

fn blind<'a, 'r>(report: &'a mut Report<'r>, name: &str) -> &'a mut Blind<'r> {
    let place = place(report, name);
    report.blinds[place].as_mut().unwrap()
}

/// The first pattern that is cut from bars of rail.
fn bar<'a>(report: &'a mut Report<'_>) -> &'a mut Pattern {
    let mut plans = report.cuts.plans.iter_mut().filter(|plan| &*plan.material == "rail");
    plans.find_map(|plan| plan.patterns.iter_mut().find(|pattern| pattern.from == From::Bar)).unwrap()
}

/// The first part that is bought in packs.
fn packed<'a>(report: &'a mut Report<'_>) -> &'a mut HardwareItem {
    report.hardware.items.iter_mut().find(|item| item.packs.is_some_and(|packs| packs > 0)).unwrap()
}

/// The first line of the cost whose bars have no price.
fn unknown<'a>(report: &'a mut Report<'_>) -> &'a mut CostLine {
    let from_cuts = |line: &&mut CostLine| line.rate.is_none() && line.quantity_from == QuantityFrom::CutList;
    report.cost.lines.iter_mut().find(from_cuts).unwrap()
}

/// The line of the blind that is ordered.
fn ordered_line<'a>(report: &'a mut Report<'_>) -> &'a mut sillbook::order::OrderLine {
    let is_ordered = |line: &&mut OrderLine| line.seats[0].state.is_some();
    report.order.lines.iter_mut().find(is_ordered).unwrap()
}

fn forget(report: &mut Report<'_>, code: &str) {
    report.queries.retain(|query| query.code != code);
}

/// Damages a copy of the rules, which lasts for as long as the tests do.
fn rules(report: &mut Report<'_>, spoil: impl Fn(&mut Rules)) {
    let mut copy = report.rules.clone();
    spoil(&mut copy);
    report.rules = Box::leak(Box::new(copy));
}

/// The same with the survey.
fn survey(report: &mut Report<'_>, spoil: impl Fn(&mut Survey)) {
    let mut copy = report.survey.clone();
    spoil(&mut copy);
    report.survey = Box::leak(Box::new(copy));
}

/// The survey of every state, of which the blinds of W1 are ordered.
fn ordered() -> String {
    let first = document(&read_text(surveys::MIXED));
    let typed = |row: &serde_json::Value| match row["opening"] == "W1" {
        true => vec![("state", "ordered".to_owned())],
        false => Vec::new(),
    };
    let project = surveys::MIXED.replacen("[Project]", "[Project]\nProject | Mill House", 1);
    format!("{}\n{}", project.trim_end(), remembered::blinds(&first, typed))
}

/// An ordered blind that goes to the store, and one of another color in its place, sawn phase by phase.
fn in_store() -> String {
    let survey = |color: &str| {
        format!(
            "[Project]\nProject | Mill House\nUnits | in\nCost basis | make\nCut by phase | yes\n[Openings]\n\
             Opening | Unit | Width | Height | Recess depth | Handle | Mount | Color\n\
             W1 | A | 40 | 50 | 6 | 0 | inside | {color}\n"
        )
    };
    let first = document(&read_text(&survey("white")));
    let typed = |row: &serde_json::Value| match row["opening"] == "W1" {
        true => [("state", "ordered"), ("do", "move"), ("goes_to", "store")]
            .map(|(key, typed)| (key, typed.to_owned()))
            .to_vec(),
        false => Vec::new(),
    };
    format!("{}{}", survey("cream"), remembered::blinds(&first, typed))
}

fn inputs() -> [(In, Input); 4] {
    [
        (Mixed, read_text(surveys::MIXED)),
        (Scarce, read_text(surveys::SCARCE)),
        (Finished, read_text(surveys::FINISHED)),
        (Ordered, read_text(&ordered())),
    ]
}

fn worked(input: &Input) -> Report<'_> {
    pipeline::work(input, &Silent).unwrap()
}

fn invariant(says: &str) -> &'static Invariant {
    invariants::all()
        .find(|invariant| invariant.says == says)
        .unwrap_or_else(|| panic!("no invariant: {says}"))
}

#[test]
fn every_invariant_finds_its_planted_faults() {
    let inputs = inputs();
    let mut wrong = Vec::new();
    for (input, survey) in inputs.iter().map(|(of, input)| (input, of)) {
        if let Err(breach) = invariants::hold(&worked(input)) {
            wrong.push(format!("{survey:?} is sound: {breach}"));
        }
    }
    for (says, faults) in FAULTS {
        for (fault, at, of, plant) in *faults {
            let (_, input) = inputs.iter().find(|(survey, _)| survey == of).unwrap();
            let mut report = worked(input);
            plant(&mut report);
            match invariant(says).hold(&report) {
                Ok(()) => wrong.push(format!("not found: {says}: {fault}")),
                Err(breach) if !breach.at.starts_with(at) => {
                    wrong.push(format!("{fault}, at {at}: {breach}"))
                }
                Err(_) => {}
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_invariant_has_a_planted_fault() {
    let planted = |says: &str| FAULTS.iter().any(|(of, faults)| *of == says && !faults.is_empty());
    let bare: Vec<&str> = invariants::all().map(|one| one.says).filter(|says| !planted(says)).collect();
    assert!(bare.is_empty(), "without a planted fault: {bare:#?}");
    let mut all: Vec<&str> = invariants::all().map(|one| one.says).collect();
    all.sort_unstable();
    assert!(all.windows(2).all(|pair| pair[0] != pair[1]), "two invariants say the same: {all:#?}");
}

#[test]
fn a_breach_of_an_option_names_it() {
    let inputs = inputs();
    let (_, input) = &inputs[0];
    let sound = pipeline::verified_option("Bought", worked(input)).unwrap();
    assert_eq!(sound.option, None);
    let mut report = worked(input);
    widen(&mut report, "W1", INCH);
    let error = pipeline::verified_option("Bought", report).unwrap_err();
    assert!(error.to_string().starts_with("option Bought: nothing is written: opening W1 "), "{error}");
    assert!(error.hint().contains("report it"), "{}", error.hint());
}

#[test]
fn a_breach_names_its_place_asks_for_a_report_and_hands_nothing_on() {
    let input = read_text(surveys::MIXED);
    let mut report = worked(&input);
    widen(&mut report, "W1", INCH);
    let error = pipeline::verified(report, &Silent).unwrap_err();
    assert!(matches!(error, RunError::Breach(_)), "{error:?}");
    assert_eq!(
        error.to_string(),
        "nothing is written: opening W1 would not take its blind of 60 1/2 in x 47 1/2 in, \
         but a size is one that would do for its opening, or a query says why not"
    );
    assert_eq!(error.hint(), "this is a bug: please report it, with the survey if you can");
}

#[test]
fn spares_of_a_blind_in_the_store_are_cut_though_no_phase_has_it() {
    let input = read_text(&in_store());
    let report = pipeline::verified(worked(&input), &Silent).unwrap();
    let spares: u64 =
        report.spares.iter().filter(|spare| &*spare.color == "white").map(|spare| spare.count).sum();
    let plans =
        report.cuts.plans.iter().filter(|plan| &*plan.material == "fabric-89" && &*plan.color == "white");
    assert_eq!(plans.map(|plan| plan.pieces).collect::<Vec<_>>(), [spares]);
    assert!(spares > 0);
}

#[test]
fn a_part_of_the_order_is_held_to_what_is_true_of_parts() {
    let input = read_text(surveys::MIXED);
    let part =
        || worked(&input).narrowed(&Selection { phases: vec!["1".into()], states: Vec::new() }).unwrap();
    assert!(invariants::hold(&part()).is_err(), "a part is not the whole");
    pipeline::verified_part(part()).unwrap();
    let mut spoilt = part();
    bar(&mut spoilt).bars += 1;
    let error = pipeline::verified_part(spoilt).unwrap_err();
    assert!(error.to_string().starts_with("nothing is written: material "), "{error}");
}
