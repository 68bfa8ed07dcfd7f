//! The maker's copy of an order: what is in it by phase and state, its spare louvers, and that it holds
//! neither money nor any other sheet.

use std::io::Cursor;

use crate::stories::type_in;
use crate::support::files::Folder;
use crate::support::package::Package;
use crate::support::{Surveys, surveys};
use sillbook::grid;
use sillbook::pipeline::{self, Input, Silent};
use sillbook::query::Wording;
use sillbook::report::{Selection, SelectionError};
use sillbook::schema::blinds::BlindState;
use sillbook::workbook::{Limits, write, write_order};

/// Forty louvers and more in each phase; one window is provisional.
const SURVEY: &str = "
[Project]
Project     | Quay House
Units       | in
Survey date | 2026-03-02
[Openings]
Unit | Opening | Phase | Quantity | Kind   | Width | Height | Mount  | Recess depth | Handle | Measured
1    | W1      | A     | 3        | window | 48    | 50     | inside | 6            | 0      |
1    | W2      | B     | 1        | window | 60    | 50     | inside | 6            | 0      |
2    | W3      | B     | 2        | window | 48    | 50     | inside | 6            | 0      |
2    | W4      | B     | 1        | window | 40    | 50     | inside | 6            | 0      | drawing
2    | W5      |       | 1        | window | 30    | 50     | inside | 6            | 0      |
";

fn first() -> Input {
    read(SURVEY)
}

fn read(survey: &'static str) -> Input {
    let Surveys { grids, sheets } = surveys(&[("survey.xlsx", survey)]);
    pipeline::understand(&grids, sheets, None).unwrap()
}

/// The same survey after its own fit-out, in which something was typed.
fn after(typed: &str) -> Input {
    after_its_own(SURVEY, typed)
}

fn after_its_own(survey: &'static str, typed: &str) -> Input {
    let folder = Folder::new();
    let path = folder.path().join("first.xlsx");
    let input = read(survey);
    let report = pipeline::work(&input, &Silent).unwrap();
    let mut file = std::fs::File::create(&path).unwrap();
    write(&report, Limits::SPREADSHEET.without_drawings(), &mut file).unwrap();
    let Surveys { grids, mut sheets } = surveys(&[("survey.xlsx", survey)]);
    let mut earlier = grid::read_earlier(&path, &mut sheets, &sillbook::earlier::is_read).unwrap();
    type_in(&mut earlier, typed);
    pipeline::understand_after(Some(&earlier), &grids, sheets, None).unwrap()
}

/// What heads the maker's cut list where the blinds are bought.
const MAKERS: &str = "inside the price of the blinds";

fn wanted(phases: &[&str], states: &[BlindState]) -> Selection {
    Selection { phases: phases.iter().map(|phase| (*phase).to_owned()).collect(), states: states.to_vec() }
}

/// The lines of a selection, its labels and its spare louvers: `1: 3, 1 to 3 of 3`.
fn told(input: &Input, selection: &Selection) -> Vec<String> {
    let report = pipeline::work(input, &Silent).unwrap();
    report.check_selection(selection).unwrap();
    let report = report.narrowed(selection).unwrap();
    let line = |line| {
        let line: &sillbook::order::OrderLine = line;
        let labels: Vec<String> = report.labels(line).map(|labels| labels.words()).collect();
        format!("{}: {}, {}", line.line, line.quantity, labels.join(", "))
    };
    let lines = report.order.lines.iter().map(line);
    lines.chain(report.spares.iter().map(|spare| format!("spares {}: {}", spare.line, spare.count))).collect()
}

#[test]
fn a_copy_has_what_is_not_ordered_yet() {
    // Louvers of a blind: 1 + (w - 89 mm) / 79.4 mm, rounded up: 16 of 47 1/2 in, 19 of 59 1/2 in,
    // 10 of 29 1/2 in. Spares are 2 % and no fewer than 2.
    let all = told(&first(), &wanted(&[], &[]));
    assert_eq!(
        all,
        ["1: 3, 1 to 3 of 3", "2: 1, 1 of 1", "3: 2, 1 to 2 of 2", "5: 1, 1 of 1", "spares 6: 3"],
        "what is provisional is not among it"
    );
    let [a, b, blank] = ["A", "B", ""].map(|phase| told(&first(), &wanted(&[phase], &[])));
    assert_eq!(a, ["1: 3, 1 to 3 of 3", "spares 6: 2"]);
    assert_eq!(b, ["2: 1, 1 of 1", "3: 2, 1 to 2 of 2", "spares 6: 2"]);
    assert_eq!(blank, ["5: 1, 1 of 1", "spares 6: 2"]);
    assert_eq!(told(&first(), &wanted(&["a", "B"], &[])).len(), 4, "phases in any case");
}

#[test]
fn a_phase_takes_the_spares_of_all_so_far_less_those_before() {
    // 48 louvers of phase A are ordered with 2 spares; with the 51 of phase B that is 99, of which 2 % is
    // 2: none are wanted. With the 10 of the blank phase it is 3 of 109: one.
    let ordered = after("W1 | State | ordered\nline 6 | State | ordered\nline 6 | Louvers | 2\n");
    assert_eq!(told(&ordered, &wanted(&["B"], &[])), ["2: 1, 1 of 1", "3: 2, 1 to 2 of 2"]);
    let both = told(&ordered, &wanted(&["B", ""], &[]));
    assert_eq!(both, ["2: 1, 1 of 1", "3: 2, 1 to 2 of 2", "5: 1, 1 of 1", "spares 7: 1"]);
}

#[test]
fn the_cut_list_of_a_phase_has_its_share_of_spares() {
    let made: &'static str = SURVEY.replace("Units       | in", "Units | in\nCost basis | make").leak();
    let cut = |input: &Input, phases: &[&str]| {
        let report = pipeline::work(input, &Silent).unwrap().narrowed(&wanted(phases, &[])).unwrap();
        let patterns = report.cuts.plans.iter().flat_map(|plan| &plan.patterns);
        patterns
            .map(|pattern| {
                pattern.bars * pattern.pieces.iter().filter(|piece| piece.line.is_none()).count() as u64
            })
            .sum::<u64>()
    };
    // As above: of phase A 2, and with what is made of it none for B, 1 for B and the blank one.
    assert_eq!(cut(&read(made), &["A"]), 2);
    let after = after_its_own(made, "W1 | State | made\n");
    assert_eq!(cut(&after, &["B"]), 0);
    assert_eq!(cut(&after, &["B", ""]), 1);
}

#[test]
fn a_state_is_a_copy_of_what_has_come_so_far() {
    let input = after("line 1, 1 | State | ordered\nline 1, 2 | State | remake\nW2 | State | fitted\n");
    let [remake, ordered, fitted] = [BlindState::Remake, BlindState::Ordered, BlindState::Fitted]
        .map(|state| told(&input, &wanted(&[], &[state])));
    assert_eq!(remake, ["7: 1, 1 of 1"]);
    assert_eq!(ordered, ["1: 1, 1 of 3"]);
    assert_eq!(fitted, ["2: 1, 1 of 1"]);
    let rest = told(&input, &wanted(&["A"], &[]));
    assert_eq!(
        rest,
        ["1: 1, 3 of 3", "7: 1, 1 of 1", "spares 6: 2"],
        "what is made again is not ordered yet either"
    );
}

#[test]
fn what_cannot_be_ordered_is_refused_in_words() {
    let input = first();
    let report = pipeline::work(&input, &Silent).unwrap();
    let refused = |selection: &Selection| {
        let error = report.check_selection(selection).unwrap_err();
        format!("{error} ({})", error.hint())
    };
    assert_eq!(refused(&wanted(&["C"], &[])), "there is no phase C (the phases are \"\", A, B)");
    assert_eq!(
        refused(&wanted(&[], &[BlindState::Made])),
        "there is nothing to put in the order (what is ordered already is in it only with --state ordered)"
    );

    let text = SURVEY.replace("W1      |", "        |").replace("W3      |", "        |");
    let Surveys { grids, sheets } = surveys(&[("survey.xlsx", &text)]);
    let input = pipeline::understand(&grids, sheets, None).unwrap();
    let report = pipeline::work(&input, &Silent).unwrap();
    let error = report.check_selection(&wanted(&[], &[])).unwrap_err();
    assert_eq!(
        error,
        SelectionError::NoId { count: 2, first: vec!["1 1".to_owned(), "2 1".to_owned()] },
        "a running number could go over to another opening"
    );
    // A phase of which every opening has one can be ordered.
    assert!(report.check_selection(&wanted(&[""], &[])).is_ok());
}

#[test]
fn the_copy_has_four_sheets_and_no_money() {
    let input = first();
    let report = pipeline::work(&input, &Silent).unwrap();
    let whole = {
        let mut file = Cursor::new(Vec::new());
        write(&report, Limits::SPREADSHEET, &mut file).unwrap();
        Package::of(file.into_inner())
    };
    let report = report.narrowed(&wanted(&["B"], &[])).unwrap();
    let mut file = Cursor::new(Vec::new());
    write_order(&report, Limits::SPREADSHEET, &mut file).unwrap();
    let copy = Package::of(file.into_inner());
    assert_eq!(copy.order, ["Order", "Order's openings", "Labels", "Cut list"]);
    for (name, sheet) in &copy.sheets {
        assert!(sheet.links.is_empty(), "{name} leads to a sheet that is not there");
        for cell in sheet.cells.values().filter(|cell| cell.is_text) {
            assert!(
                !cell.text.contains("USD") && !cell.text.replace(MAKERS, "").to_lowercase().contains("price"),
                "{}",
                cell.text
            );
        }
    }
    // A line is printed as in the fit-out.
    let row_of = |package: &Package, line: &str| -> Vec<String> {
        let sheet = &package.sheets["Order"];
        let found = sheet.cells.iter().find(|(at, cell)| at.1 == 0 && cell.text == line).unwrap().0.0;
        sheet.cells.range((found, 0)..(found + 1, 0)).map(|(_, cell)| cell.text.clone()).collect()
    };
    assert_eq!(row_of(&copy, "3"), row_of(&whole, "3"));
    assert!(copy.sheets["Labels"].cells.values().any(|cell| cell.text == "Line 3: 2 of 2"));
    assert!(!copy.sheets["Labels"].cells.values().any(|cell| cell.text.starts_with("Line 1:")));
}
