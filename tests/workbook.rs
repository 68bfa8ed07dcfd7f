//! The fit-out workbook, read back with the same crate that reads surveys.

use std::io::Cursor;

use crate::support::block;
use calamine::{Data, Reader, Xlsx};
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use sillbook::report::Report;
use sillbook::workbook::{Limits, write};

type Book = Xlsx<Cursor<Vec<u8>>>;

fn written(report: &Report<'_>, limits: Limits) -> Vec<u8> {
    let mut file = Cursor::new(Vec::new());
    write(report, limits, &mut file).expect("a workbook");
    file.into_inner()
}

fn open(bytes: Vec<u8>) -> Book {
    Xlsx::new(Cursor::new(bytes)).expect("a workbook that can be read")
}

/// The cells of a sheet that hold anything, as (row, column, value), row by row.
fn cells(book: &mut Book, sheet: &str) -> Vec<(u32, u32, Data)> {
    let mut reader = book.worksheet_cells_reader(sheet).expect("the sheet");
    let mut cells = Vec::new();
    while let Some(cell) = reader.next_cell().expect("a cell") {
        let value: Data = cell.get_value().clone().into();
        if value != Data::Empty {
            let (row, column) = cell.get_position();
            cells.push((row, column, value));
        }
    }
    cells
}

/// The value under a heading, in the `row`th row below it.
fn under(cells: &[(u32, u32, Data)], heading: &str, row: u32) -> Data {
    let at = cells.iter().find(|cell| cell.2 == Data::String(heading.to_owned()));
    let (top, column, _) = at.unwrap_or_else(|| panic!("no heading {heading:?}"));
    let found = cells.iter().find(|cell| (cell.0, cell.1) == (top + row, *column));
    found.map_or(Data::Empty, |cell| cell.2.clone())
}

fn texts(cells: &[(u32, u32, Data)]) -> Vec<String> {
    cells.iter().map(|cell| cell.2.to_string()).collect()
}

#[test]
fn sheets_stand_in_the_order_agreed() {
    let input = block::plain();
    let book = open(written(&block::report(&input), Limits::SPREADSHEET));
    let sheets = [
        "Summary",
        "Queries",
        "Columns read",
        "As surveyed",
        "Openings",
        "Order",
        "Order's openings",
        "Blinds",
        "Labels",
        "Cut list",
        "Offcuts",
        "Hardware",
        "Pilot",
        "Install index",
        "0304",
        "0305",
        "Cost summary",
        "Working",
        "Rules used",
    ];
    assert_eq!(book.sheet_names(), sheets);
}

#[test]
fn the_same_report_gives_the_same_bytes() {
    let input = block::plain();
    let mut first = Cursor::new(Vec::new());
    write(&block::report(&input), Limits::SPREADSHEET, &mut first).expect("a workbook");
    assert!(first.into_inner() == written(&block::report(&input), Limits::SPREADSHEET));
}

/// Sheets are filled beside each other, whichever comes first: also those that go on on others, and pages
/// that share sheets.
#[test]
fn any_number_of_threads_gives_the_same_bytes() {
    let tight = Limits { rows: 100, unit_sheets: 5, every_working: true, ..Limits::SPREADSHEET };
    for (input, limits) in [(block::plain(), Limits::SPREADSHEET), (block::of_units(40), tight)] {
        let report = block::report(&input);
        let first = written(&report, limits);
        for threads in [1, 2, 4].repeat(7) {
            let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("threads");
            assert!(pool.install(|| written(&report, limits)) == first, "on {threads} threads");
        }
    }
}

/// The row of the cost summary's headings.
const HEADINGS: u32 = 3;

#[test]
fn each_stored_cost_is_the_number_that_the_stages_worked_out() {
    let number = |amount: Decimal| Data::Float(amount.to_f64().expect("a number"));
    let known = |amount: Option<Decimal>| amount.map_or(Data::String("unknown".to_owned()), number);
    for (input, complete) in
        [(block::priced(), true), (block::plain(), false), (block::without_a_price(), false)]
    {
        let report = block::report(&input);
        let cost = &report.cost;
        assert_eq!(cost.total.is_some(), complete);
        let mut book = open(written(&report, Limits::SPREADSHEET));
        let cells = cells(&mut book, "Cost summary");
        let row_of = |item: &str| {
            // The last: an input may have a line's name.
            let found = cells.iter().rfind(|cell| cell.1 == 1 && cell.2 == Data::String(item.to_owned()));
            found.unwrap_or_else(|| panic!("no row {item:?}")).0 - HEADINGS
        };
        for line in &cost.lines {
            assert_eq!(
                under(&cells, "Amount (USD)", row_of(&line.item)),
                known(line.amount),
                "{}",
                line.item
            );
        }
        // What is not all known is named so, never a total.
        let names = match complete {
            true => ["SUBTOTAL before tax", "tax", "TOTAL"],
            false => ["KNOWN SO FAR before tax", "tax on what is known", "KNOWN SO FAR"],
        };
        let amounts = [cost.subtotal, cost.known_tax, cost.known_total()];
        for (name, amount) in names.into_iter().zip(amounts) {
            assert_eq!(under(&cells, "Amount (USD)", row_of(name)), number(amount), "{name}");
        }
        assert_eq!(texts(&cells).contains(&"TOTAL".to_owned()), complete);
        let summary = self::cells(&mut book, "Summary");
        let beside = |name: &str| {
            let name = Data::String(format!("{name} (USD)"));
            summary.iter().position(|cell| cell.2 == name).map(|place| summary[place + 1].2.clone())
        };
        let (said, other) = if complete { ("Total", "KNOWN SO FAR") } else { ("KNOWN SO FAR", "Total") };
        assert_eq!(beside(said), Some(number(cost.known_total())));
        assert_eq!(beside(other), None);
    }
}

#[test]
fn no_sheet_holds_an_error_and_every_formula_is_on_the_cost_or_the_summary() {
    let input = block::priced();
    let mut book = open(written(&block::report(&input), Limits::SPREADSHEET));
    for sheet in book.sheet_names() {
        for (row, column, value) in cells(&mut book, &sheet) {
            assert!(!matches!(value, Data::Error(_)), "{sheet} row {row} column {column}: {value:?}");
        }
        let mut reader = book.worksheet_cells_reader(&sheet).expect("the sheet");
        let mut formulas = 0;
        while let Some(formula) = reader.next_formula().expect("a formula") {
            formulas += usize::from(!formula.get_value().is_empty());
        }
        assert_eq!(formulas > 0, sheet == "Cost summary" || sheet == "Summary", "{sheet}");
    }
}

#[test]
fn what_each_place_bears_is_what_the_stages_worked_out() {
    let number = |amount: Decimal| Data::Float(amount.to_f64().expect("a number"));
    for input in [block::priced(), block::short_of_prices(), block::without_a_price()] {
        let report = block::report(&input);
        let mut book = open(written(&report, Limits::SPREADSHEET));
        let cells = cells(&mut book, "Cost summary");
        for breakdown in &report.cost.breakdowns {
            let by = format!("by {}", breakdown.by.to_lowercase());
            let rows: Vec<u32> =
                cells.iter().filter(|cell| cell.2 == Data::String(by.clone())).map(|cell| cell.0).collect();
            let places = breakdown.rows.iter().map(|place| (place.name.as_str(), place.share));
            let wanted = places.chain([("whole project", breakdown.rest), ("all together", breakdown.all)]);
            let wanted: Vec<_> = wanted
                .map(|(name, share)| {
                    let bears = [share.direct, share.overheads, share.tax, share.whole()].map(number);
                    (Data::String(name.to_owned()), bears)
                })
                .collect();
            let value = |row: u32, column: u32| {
                let found = cells.iter().find(|cell| (cell.0, cell.1) == (row, column));
                found.map_or(Data::Empty, |cell| cell.2.clone())
            };
            let bears = |row: u32| [5, 6, 7, 8].map(|column| value(row, column));
            let found: Vec<_> = rows.iter().map(|&row| (value(row, 1), bears(row))).collect();
            assert_eq!(found, wanted, "{by}");
        }
    }
}

#[test]
fn where_the_sheet_has_no_room_the_places_are_of_this_run() {
    let input = block::of_units(100);
    let report = block::report(&input);
    let mut book = open(written(&report, Limits { rows: 100, ..Limits::SPREADSHEET }));
    let units = ["Cost summary", "Cost summary 2"].map(|sheet| texts(&cells(&mut book, sheet))).concat();
    assert!(units.iter().any(|text| text.contains("(this run only: ")), "{units:?}");
    assert!(!units.iter().any(|text| text == "all together"));
    let mut reader = book.worksheet_cells_reader("Cost summary 2").expect("the sheet");
    while let Some(formula) = reader.next_formula().expect("a formula") {
        assert_eq!(formula.get_value(), "");
    }
}

#[test]
fn an_opening_that_is_not_in_the_total_counts_by_its_quantity_and_once() {
    let input = block::short_of_prices();
    let mut book = open(written(&block::report(&input), Limits::SPREADSHEET));
    let costs = cells(&mut book, "Cost summary");
    // 0305/W2 and the three of the row in 0306.
    assert_eq!(under(&costs, "How many", 1), Data::Float(4.0));
    // Brackets, clips and more lack a price for the same three blinds: 4 + 3 openings in all.
    let summary = cells(&mut book, "Summary");
    let name =
        summary.iter().position(|cell| cell.2 == Data::String("Openings not wholly in the total".to_owned()));
    assert_eq!(summary[name.expect("the row") + 1].2, Data::Float(7.0));
}

/// The lines of what has no price lie apart, more of them than a formula may name: the number is of this run.
#[test]
fn openings_whose_lines_are_too_many_for_a_formula_are_counted_all_the_same() {
    let input = block::every_other_without_a_price(420);
    let report = block::report(&input);
    let counted: u64 = report.openings_by_lack().iter().map(|(_, openings)| openings).sum();
    // Each row stands for two.
    assert!(counted >= 420, "{counted}");
    let mut book = open(written(&report, Limits::SPREADSHEET.without_drawings()));
    let summary = cells(&mut book, "Summary");
    let is_name =
        |cell: &(u32, u32, Data)| cell.2 == Data::String("Openings not wholly in the total".to_owned());
    let name = summary.iter().position(is_name).expect("the row");
    assert_eq!(summary[name + 1].2, Data::Float(counted as f64));
    let mut reader = book.worksheet_cells_reader("Summary").expect("the sheet");
    while let Some(formula) = reader.next_formula().expect("a formula") {
        let is_there = formula.get_position() == (summary[name + 1].0, summary[name + 1].1);
        assert!(!is_there || formula.get_value().is_empty());
    }
}

/// What is asked of whoever would order, by what is missing.
#[test]
fn the_summary_says_what_to_do_before_anything_is_ordered() {
    const STOPS: &str = "Not everything can be ordered: answer the stops on Queries, then run again.";
    let nameless = "| | | | | 40 | 48 | 0 | tape | wood | |";
    for (input, advice) in [
        (block::priced(), STOPS),
        (block::all_sized("tape", nameless), STOPS),
        (
            block::all_sized("drawing", ""),
            "Some blinds cannot be made yet: clear the checks on provisional openings, then run again.",
        ),
        (block::all_sized("tape", ""), "Every opening is sized and can be ordered."),
    ] {
        assert_eq!(block::report(&input).advice(), advice);
    }
}

#[test]
fn where_blinds_are_bought_nothing_that_comes_with_them_is_to_buy() {
    let views = [(block::bought(), false), (block::priced(), true)];
    for (input, is_made) in views {
        let mut book = open(written(&block::report(&input), Limits::SPREADSHEET));
        let said = ["Summary", "Cost summary"].map(|sheet| texts(&cells(&mut book, sheet))).concat();
        for words in ["Bars to buy", "Cost of bars (USD)", "whole bars of 5.8 m", "valance clip"] {
            let is_said = said.iter().any(|text| text == words);
            // A spare clip is bought either way.
            assert_eq!(is_said, is_made || words == "valance clip", "{words}");
        }
        let maker = said.iter().any(|text| text == "Bars, for the maker: in the price of the blinds");
        assert_eq!(maker, !is_made);
        assert_eq!(said.iter().any(|text| text.starts_with("spare louver, ")), !is_made);
    }
}

#[test]
fn what_is_unknown_is_a_blank_cell_to_fill_in() {
    let input = block::without_a_price();
    let report = block::report(&input);
    let mut book = open(written(&report, Limits::SPREADSHEET));
    let cells = cells(&mut book, "Cost summary");
    for input in report.cost.inputs.iter().filter(|input| input.value.is_none()) {
        let row = cells.iter().find(|cell| cell.2 == Data::String(input.name.clone())).expect("its row").0;
        assert_eq!(under(&cells, "Rate (USD)", row - HEADINGS), Data::Empty, "{}", input.name);
    }
    assert!(report.cost.inputs.iter().any(|input| input.value.is_none()));
}

#[test]
fn what_comes_from_stock_is_not_counted_as_to_be_made() {
    let input = block::from_stock();
    let mut book = open(written(&block::report(&input), Limits::SPREADSHEET));
    let order = cells(&mut book, "Order");
    assert_eq!(under(&order, "Blinds", 1), Data::Float(3.0));
    assert_eq!(under(&order, "To make now", 1), Data::Float(0.0));
    assert_eq!(under(&order, "From stock", 1), Data::Float(2.0));
    assert_eq!(under(&order, "Source", 1), Data::String("stock 104 in x 84 in".to_owned()));
    assert_eq!(under(&order, "Release", 1), Data::String("FROM STOCK".to_owned()));
}

#[test]
fn the_order_names_the_stock_size_that_is_to_be_cut_down() {
    let input = block::cut_from_stock();
    let mut book = open(written(&block::report(&input), Limits::SPREADSHEET));
    let order = cells(&mut book, "Order");
    // 106 x 78 in prefers 110 x 83 1/2, and the stock size may be cut down to it.
    assert_eq!(under(&order, "Width (in)", 1), Data::Float(110.0));
    assert_eq!(under(&order, "Source", 1), Data::String("stock 120 in x 90 in, cut down".to_owned()));
}

#[test]
fn text_of_the_survey_stays_text() {
    for note in ["=1+1", "+A1", "@SUM(A1)", "http://example.test", "internal:Order!A1"] {
        let input = block::with_note(note);
        let mut book = open(written(&block::report(&input), Limits::SPREADSHEET));
        let cells = cells(&mut book, "Openings");
        assert_eq!(under(&cells, "Note", 1), Data::String(note.to_owned()));
    }
}

#[test]
fn sizes_are_numbers_in_the_surveys_units() {
    let input = block::plain();
    let mut book = open(written(&block::report(&input), Limits::SPREADSHEET));
    let openings = cells(&mut book, "Openings");
    // 106 + 2 + 2 = 110; 78 + 6 - 1/2 = 83 1/2; inside 106 - 1/2 = 105 1/2.
    assert_eq!(under(&openings, "Finished width (in)", 1), Data::Float(110.0));
    assert_eq!(under(&openings, "Finished drop (in)", 1), Data::Float(83.5));
    assert_eq!(under(&openings, "Finished width (in)", 2), Data::Float(105.5));
    assert_eq!(under(&openings, "State", 2), Data::String("provisional".to_owned()));
    assert_eq!(under(&openings, "State", 4), Data::String("held".to_owned()));
    assert_eq!(under(&openings, "Reason held", 4), Data::String("no height is given".to_owned()));
    assert_eq!(under(&openings, "Finished width (in)", 4), Data::Empty);

    let order = cells(&mut book, "Order");
    assert_eq!(order[0].2, Data::String("FINISHED SIZES - MAKE AS WRITTEN, NO FURTHER DEDUCTION".to_owned()));
    assert_eq!(under(&order, "Quantity", 1), Data::Float(2.0));
    let openings = cells(&mut book, "Order's openings");
    assert_eq!(under(&openings, "Label", 1), Data::String("1 of 2".to_owned()));
    assert_eq!(under(&openings, "Label", 2), Data::String("2 of 2".to_owned()));

    // Both rails of 109 3/4 in are cut from one bar of 5.8 m: the stop is the piece's length, and
    // 5,800 mm less 10 mm of trim, two rails and two cuts of 3 mm leaves 208.7 mm.
    let cuts = cells(&mut book, "Cut list");
    let rails = cuts.iter().find(|cell| cell.2.to_string().starts_with("rail, white:")).expect("rails").0;
    let rails: Vec<_> = cuts.iter().filter(|cell| cell.0 > rails).collect();
    let two = rails.iter().find(|cell| (cell.1, &cell.2) == (0, &Data::Float(2.0))).expect("two a bar").0;
    let at = |row: u32, column: u32| {
        rails.iter().find(|cell| (cell.0, cell.1) == (row, column)).unwrap().2.clone()
    };
    assert_eq!(at(two, 1), Data::Float(109.75));
    assert_eq!(at(two, 2), Data::Float(109.75));
    assert_eq!(at(two, 4), Data::String("2 x line 1".to_owned()));
    assert_eq!(at(two + 1, 0), Data::String("Left over from each bar: 8.22 in. Scrap it.".to_owned()));
}

#[test]
fn the_fitters_page_says_what_to_hang_and_what_is_held() {
    let input = block::plain();
    let mut book = open(written(&block::report(&input), Limits::SPREADSHEET));
    let first = texts(&cells(&mut book, "0304"));
    for words in ["Unit 0304", "Revision B", "Left and right are as seen from inside the room."] {
        assert!(first.iter().any(|text| text.starts_with(words)), "{words}");
    }
    let second = texts(&cells(&mut book, "0305"));
    assert!(second.iter().any(|text| text == "2 of 2: 0305/W2, Kitchen - HELD"));
    assert!(second.iter().any(|text| text == "Reason held: no height is given"));
    // Of the two of the first page one comes from a drawing.
    let provisional =
        |page: &[String]| page.iter().filter(|text| text.contains("provisional: do not make")).count();
    assert_eq!((provisional(&first), provisional(&second)), (1, 0));
}

#[test]
fn what_only_the_office_decides_is_not_on_the_fitters_page() {
    let input = block::from_stock();
    let mut book = open(written(&block::report(&input), Limits::SPREADSHEET));
    let page = texts(&cells(&mut book, "0304"));
    // The stock size laps over by -1 in: a matter for the fitter. What it saves is not.
    assert!(page.iter().any(|text| text.contains("a direct gap")), "{page:#?}");
    assert!(!page.iter().any(|text| text.contains("than made to measure")), "{page:#?}");
    let queries = texts(&cells(&mut book, "Queries"));
    assert!(queries.iter().any(|text| text.contains("than made to measure")));
}

#[test]
fn finished_sizes_are_not_shown_as_the_openings() {
    let input = block::finished();
    let mut book = open(written(&block::report(&input), Limits::SPREADSHEET));
    let openings = cells(&mut book, "Openings");
    assert_eq!(under(&openings, "Finished width (in)", 1), Data::Float(106.0));
    assert_eq!(under(&openings, "Opening width, minimum (in)", 1), Data::Empty);
    assert_eq!(under(&openings, "Opening height, maximum (in)", 1), Data::Empty);
}

#[test]
fn a_full_sheet_goes_on_and_many_units_share_sheets() {
    let input = block::of_units(40);
    let report = block::report(&input);
    let limits = Limits { rows: 100, links: 3, unit_sheets: 5, ..Limits::SPREADSHEET };
    let mut book = open(written(&report, limits));
    let names = book.sheet_names();
    for name in ["Install 1", "Working 2", "Rules used 2"] {
        assert!(names.iter().any(|sheet| sheet == name), "{name} in {names:?}");
    }
    let begins = |text: &&String| text.starts_with("Unit ") && !text.ends_with("continued");
    // 42 units of one page each, at most 5 printed and at most 100 rows to a sheet.
    let pages: usize = names
        .iter()
        .filter(|name| name.starts_with("Install ") && *name != "Install index")
        .map(|name| texts(&cells(&mut book, name)).iter().filter(begins).count())
        .sum();
    assert_eq!(pages, 42);
    // Each of the 44 openings is on one row of one of the sheets.
    let rows: usize = names
        .iter()
        .filter(|name| name.starts_with("Openings"))
        .map(|name| cells(&mut book, name).iter().filter(|cell| cell.1 == 0 && cell.0 >= 3).count())
        .sum();
    assert_eq!(rows, 44);
}
