//! What people type on a fit-out comes back in the next: each figure of `Cost summary` by the printed one
//! beside it. And a fit-out in which something is typed is not lost.

use std::collections::BTreeMap;
use std::fs::{self, File};
use std::io::{Cursor, Read, Write};
use std::path::{Path, PathBuf};

use rust_decimal::Decimal;
use sillbook::cost::{Cost, CostLine, Input};
use sillbook::length::Unit;
use sillbook::output::{Existing, OutputError, Places};
use sillbook::pipeline::{self, Silent, Wanted};
use sillbook::place::{CellRef, Sheets, column_letters};
use sillbook::rules::{self, Figure, RuleUsed, TypedFigure};
use sillbook::workbook::{self, Limits};
use zip::write::SimpleFileOptions;
use zip::{ZipArchive, ZipWriter};

use crate::support::files::Folder;
use crate::support::package::{Cell, Package};
use crate::support::surveys;

const SURVEY: &str = "
    [Project]
    Project         | Quay House
    Units           | in
    Floors finished | yes
    Labor rate      | 45
    Tax %           | 8.25
    [Rates]
    Item     | Rate
    delivery | 100
    [Openings]
    Opening | Unit | Kind   | Quantity | Width | Height | Sill height | Recess depth | Handle | Substrate
    W1      | 1    | window | 2        | 36    | 48     | 30          | 5            | 0      | wood
    W2      | 2    | window |          | 42    | 48     | 30          | 5            | 0      | wood
";

/// A job in a folder of its own, run again and again.
struct Job {
    folder: Folder,
}

/// What came of a run.
struct Ran {
    file: PathBuf,
    /// Code and detail of each place of a query.
    queries: Vec<(&'static str, String)>,
    cost: Cost,
    used: Vec<RuleUsed>,
    /// What was read of the earlier fit-out.
    typed: Vec<TypedFigure>,
    tax: Decimal,
}

impl Job {
    fn new() -> Job {
        Job { folder: Folder::new() }
    }

    /// Runs a survey after an earlier fit-out, and writes the fit-out of that name.
    fn run(&self, survey: &str, after: Option<&Path>, out: &str) -> Ran {
        self.try_run(survey, after, out).unwrap_or_else(|error| panic!("{error}"))
    }

    fn try_run(&self, survey: &str, after: Option<&Path>, out: &str) -> Result<Ran, pipeline::RunError> {
        let survey = self.folder.survey("quay.xlsx", survey);
        let input = pipeline::read_as(&[survey], Wanted { after, ..Wanted::default() }, &Silent)?;
        let report = pipeline::work(&input, &Silent)?;
        let mut bytes = Cursor::new(Vec::new());
        workbook::write(&report, Limits::SPREADSHEET.without_drawings(), &mut bytes).unwrap();
        let file = self.folder.path().join(out);
        fs::write(&file, bytes.into_inner()).unwrap();
        let places = report.queries.iter().flat_map(|query| {
            query.places.iter().map(|place| (query.code, place.detail.clone())).collect::<Vec<_>>()
        });
        Ok(Ran {
            file,
            queries: places.collect(),
            cost: report.cost.clone(),
            used: report.rules.used.clone(),
            typed: input.earlier.as_ref().map_or_else(Vec::new, |earlier| earlier.inputs.clone()),
            tax: report.rules.project.tax,
        })
    }

    /// Runs the survey, types a figure over the printed one and runs another survey after it.
    fn typed(&self, row: &str, heading: &str, value: Put<'_>, then: &str) -> Ran {
        let first = self.run(SURVEY, None, "first.xlsx");
        type_over(&first.file, row, heading, value);
        self.run(then, Some(&first.file), "second.xlsx")
    }
}

impl Ran {
    fn codes_of_typed(&self) -> Vec<&str> {
        let codes = self.queries.iter().map(|(code, _)| *code);
        codes.filter(|code| code.contains("typed")).collect()
    }

    fn detail(&self, code: &str) -> &str {
        let found = self.queries.iter().find(|(found, _)| *found == code);
        &found.unwrap_or_else(|| panic!("no {code} in {:?}", self.queries)).1
    }

    fn input(&self, name: &str) -> &Input {
        let found = self.cost.inputs.iter().find(|input| input.known_as() == name);
        found.unwrap_or_else(|| panic!("no {name} in {:?}", self.cost.inputs))
    }

    fn line(&self, begins: &str) -> &CostLine {
        let found = self.cost.lines.iter().find(|line| line.known_as.starts_with(begins));
        found.unwrap_or_else(|| panic!("no {begins}"))
    }
}

/// What is put into a cell.
#[derive(Clone, Copy)]
enum Put<'t> {
    Number(&'t str),
    Text(&'t str),
    Nothing,
}

fn money(text: &str) -> Option<Decimal> {
    Some(Decimal::from_str_exact(text).unwrap())
}

/// Types over the figure under a heading in the row whose lasting name begins so.
fn type_over(file: &Path, row: &str, heading: &str, value: Put<'_>) {
    let cells = cells(file, "Cost summary");
    let (top, known_as) = found(&cells, |text| text == "Known as");
    let column =
        cells.iter().find(|((row, _), cell)| *row == top && cell.text.split(" (").next() == Some(heading));
    let ((_, column), _) = column.expect("the heading");
    let is_named = |((_, at), cell): &(&(u32, u32), &Cell)| *at == known_as && cell.text.starts_with(row);
    let ((row, _), _) = cells.iter().find(is_named).unwrap_or_else(|| panic!("no {row}"));
    put(file, "Cost summary", &address(*row, *column), value);
}

fn package(file: &Path) -> Package {
    Package::of(fs::read(file).unwrap())
}

fn cells(file: &Path, sheet: &str) -> BTreeMap<(u32, u32), Cell> {
    package(file).sheets.remove(sheet).expect("the sheet").cells
}

/// The first cell with such a text.
fn found(cells: &BTreeMap<(u32, u32), Cell>, wanted: impl Fn(&str) -> bool) -> (u32, u32) {
    *cells.iter().find(|(_, cell)| wanted(&cell.text)).expect("the text").0
}

fn address(row: u32, column: u32) -> String {
    format!("{}{}", column_letters(u16::try_from(column).unwrap()), row + 1)
}

/// Changes one cell of a workbook, as a spreadsheet program would, and nothing else of it.
fn put(file: &Path, sheet: &str, cell: &str, value: Put<'_>) {
    let mut archive = ZipArchive::new(Cursor::new(fs::read(file).unwrap())).unwrap();
    let place = package(file).order.iter().position(|name| name == sheet).unwrap() + 1;
    let part = format!("xl/worksheets/sheet{place}.xml");
    let mut out = ZipWriter::new(Cursor::new(Vec::new()));
    for index in 0..archive.len() {
        let mut bytes = Vec::new();
        let mut entry = archive.by_index(index).unwrap();
        let name = entry.name().unwrap().into_owned();
        entry.read_to_end(&mut bytes).unwrap();
        if name == part {
            bytes = changed(&String::from_utf8(bytes).unwrap(), cell, value).into_bytes();
        }
        out.start_file(name, SimpleFileOptions::default()).unwrap();
        out.write_all(&bytes).unwrap();
    }
    fs::write(file, out.finish().unwrap().into_inner()).unwrap();
}

fn changed(xml: &str, cell: &str, value: Put<'_>) -> String {
    let start = xml.find(&format!("<c r=\"{cell}\"")).unwrap_or_else(|| panic!("no cell {cell}"));
    let opens = start + xml[start..].find('>').unwrap();
    let end =
        if xml[..opens].ends_with('/') { opens + 1 } else { opens + xml[opens..].find("</c>").unwrap() + 4 };
    let style = xml[start..opens].split_once("s=\"").map_or("0", |(_, rest)| rest.split('"').next().unwrap());
    let now = match value {
        Put::Number(number) => format!("<c r=\"{cell}\" s=\"{style}\"><v>{number}</v></c>"),
        Put::Text(text) => {
            format!("<c r=\"{cell}\" s=\"{style}\" t=\"inlineStr\"><is><t>{text}</t></is></c>")
        }
        Put::Nothing => format!("<c r=\"{cell}\" s=\"{style}\"/>"),
    };
    format!("{}{now}{}", &xml[..start], &xml[end..])
}

const LABOR: &str = "labor rate, h";

#[test]
fn nothing_is_typed_on_a_fit_out_that_nobody_changed() {
    let job = Job::new();
    let first = job.run(SURVEY, None, "first.xlsx");
    let second = job.run(SURVEY, Some(&first.file), "second.xlsx");
    assert!(second.typed.is_empty(), "{:?}", second.typed);
    assert_eq!(second.codes_of_typed(), [""; 0]);
    assert_eq!(second.cost.total, first.cost.total);
}

#[test]
fn a_typed_rate_takes_the_place_of_the_surveys_and_lasts() {
    let job = Job::new();
    let second = job.typed(LABOR, "Rate", Put::Number("52.5"), SURVEY);
    assert_eq!(second.codes_of_typed(), ["price-typed"]);
    assert_eq!(second.detail("price-typed"), "labor rate, h: 52.5 typed, 45 printed");
    let labor = second.input(LABOR);
    assert_eq!((labor.value, labor.printed), (money("52.5"), money("45")));
    assert_eq!(second.line("survey, min").rate, money("52.5"));
    let used = second.used.iter().find(|used| used.rule == "Labor rate").unwrap();
    assert_eq!((used.value.as_str(), used.at.is_some()), ("52.5", true));
    // The next run, which nobody typed in, still knows that it is not the survey's own.
    let third = job.run(SURVEY, Some(&second.file), "third.xlsx");
    assert_eq!(third.codes_of_typed(), ["price-typed"]);
    assert_eq!(third.cost.total, second.cost.total);
}

#[test]
fn where_the_survey_has_changed_too_its_own_stands() {
    let job = Job::new();
    let changed = SURVEY.replace("| 45", "| 48");
    let second = job.typed(LABOR, "Rate", Put::Number("52.5"), &changed);
    assert_eq!(second.codes_of_typed(), ["price-typed-and-changed"]);
    assert_eq!(second.detail("price-typed-and-changed"), "labor rate, h: 52.5 typed, 45 printed, now 48");
    assert_eq!((second.input(LABOR).value, second.input(LABOR).printed), (money("48"), money("48")));
    // Near: the survey says by now what was typed.
    let same = SURVEY.replace("| 45", "| 52.5");
    let second = job.typed(LABOR, "Rate", Put::Number("52.5"), &same);
    assert_eq!(second.codes_of_typed(), [""; 0]);
    assert_eq!(second.input(LABOR).value, money("52.5"));
}

#[test]
fn a_number_that_a_program_wrote_anew_is_not_typed() {
    let job = Job::new();
    let second = job.typed(LABOR, "Rate", Put::Number("45.000000000000007"), SURVEY);
    assert!(second.typed.is_empty(), "{:?}", second.typed);
    // Near: a cent is.
    let second = job.typed(LABOR, "Rate", Put::Number("45.01"), SURVEY);
    assert_eq!(second.codes_of_typed(), ["price-typed"]);
}

#[test]
fn a_cleared_price_is_unknown_now_and_a_rate_that_must_be_known_stays() {
    let job = Job::new();
    let second = job.typed("delivery, project", "Rate", Put::Nothing, SURVEY);
    assert_eq!(second.codes_of_typed(), ["price-typed"]);
    assert_eq!(second.detail("price-typed"), "delivery, project: unknown typed, 100 printed");
    assert_eq!((second.line("delivery, project").rate, second.cost.total), (None, None));
    let second = job.typed(LABOR, "Rate", Put::Nothing, SURVEY);
    assert_eq!(second.codes_of_typed(), ["typed-price-cleared"]);
    assert_eq!(second.input(LABOR).value, money("45"));
}

#[test]
fn a_share_is_taken_as_it_is_stored() {
    let job = Job::new();
    let second = job.typed("tax, %", "Rate", Put::Number("0.095"), SURVEY);
    assert_eq!(second.codes_of_typed(), ["price-typed"]);
    assert_eq!(Some(second.tax), money("9.5"));
    assert_eq!(second.cost.printed_tax_share, money("0.0825"));
    let second = job.typed("overhead, %", "Rate", Put::Number("0.1"), SURVEY);
    assert_eq!(second.line("overhead, %").rate, money("0.1"));
    // A number that was meant as percent is past what a tax can be.
    let second = job.typed("tax, %", "Rate", Put::Number("9.5"), SURVEY);
    assert_eq!(second.codes_of_typed(), ["typed-share-too-great"]);
    assert_eq!(Some(second.tax), money("8.25"));
}

#[test]
fn the_price_of_a_made_blind_moves_every_line_that_uses_it() {
    let job = Job::new();
    let first = job.run(SURVEY, None, "first.xlsx");
    let per_m2 = first.input("made-to-measure blind, m2").value.unwrap();
    let now = (per_m2 + Decimal::TEN).to_string();
    let second = job.typed("made-to-measure blind, m2", "Rate", Put::Number(&now), SURVEY);
    assert_eq!(second.codes_of_typed(), ["price-typed"]);
    let both = || first.cost.lines.iter().zip(&second.cost.lines);
    let of_blinds = || both().filter(|(then, _)| then.known_as.starts_with("line "));
    assert_eq!(of_blinds().count(), 2);
    assert!(of_blinds().all(|(then, now)| now.rate > then.rate));
    assert!(second.cost.total > first.cost.total);
}

#[test]
fn a_typed_quantity_holds_while_the_count_is_what_it_was() {
    let job = Job::new();
    let second = job.typed("fitting, min", "Minutes", Put::Number("120"), SURVEY);
    assert_eq!(second.codes_of_typed(), ["quantity-typed"]);
    let fitting = second.line("fitting, min");
    assert_eq!((fitting.quantity, fitting.printed_quantity), (money("120"), money("90")));
    let third = job.run(SURVEY, Some(&second.file), "third.xlsx");
    assert_eq!(third.codes_of_typed(), ["quantity-typed"]);
    assert_eq!(third.line("fitting, min").quantity, money("120"));
    // One blind more: four times 30 minutes are counted now.
    let more = SURVEY.replace("| window |          | 42", "| window | 2        | 42");
    let second = job.typed("fitting, min", "Minutes", Put::Number("150"), &more);
    assert_eq!(second.codes_of_typed(), ["quantity-typed-and-changed"]);
    assert_eq!(second.detail("quantity-typed-and-changed"), "fitting, min: 150 typed, 90 printed, now 120");
    assert_eq!(second.line("fitting, min").quantity, money("120"));
}

#[test]
fn what_is_typed_on_a_row_that_is_gone_is_asked_about() {
    let job = Job::new();
    let other = SURVEY.replace("| 36    |", "| 36 1/2 |");
    let second = job.typed("line 1: ", "Quantity", Put::Number("5"), &other);
    assert_eq!(second.codes_of_typed(), ["typed-price-unused"]);
    assert!(second.detail("typed-price-unused").starts_with("line 1: louver-89"));
    // Near: the row is there.
    let second = job.typed("line 1: ", "Quantity", Put::Number("5"), SURVEY);
    assert_eq!(second.codes_of_typed(), ["quantity-typed"]);
}

#[test]
fn a_typed_text_refuses_the_whole_fit_out() {
    let job = Job::new();
    let first = job.run(SURVEY, None, "first.xlsx");
    type_over(&first.file, LABOR, "Rate", Put::Text("ask the office"));
    let error = job.try_run(SURVEY, Some(&first.file), "second.xlsx").err().expect("it is refused");
    assert!(error.to_string().starts_with("earlier Cost summary!E"), "{error}");
}

/// A blank is there to be filled in, whether or not the survey lists what has no price.
#[test]
fn what_has_no_price_is_filled_in() {
    let unlisted = SURVEY.to_owned() + "    [Prices]\n    Item | Price | Per\n    carrier | 1 | each\n";
    let job = Job::new();
    let first = job.run(&unlisted, None, "first.xlsx");
    assert_eq!(first.cost.total, None);
    let blanks = ["made-to-measure blind, each", "made-to-measure blind, m2", "spare louver, each"];
    for blank in blanks {
        assert_eq!(first.input(blank).value, None, "{blank}");
        type_over(&first.file, blank, "Rate", Put::Number("10"));
    }
    let second = job.run(&unlisted, Some(&first.file), "second.xlsx");
    assert_eq!(second.codes_of_typed(), ["price-typed"; 3]);
    for blank in blanks {
        assert_eq!((second.input(blank).value, second.input(blank).printed), (money("10"), None), "{blank}");
    }
    let lacks = |ran: &Ran| {
        let lacking =
            |what: &str| what.starts_with("made-to-measure blind") || what.starts_with("spare louver");
        ran.cost.not_in_total.iter().filter(|missing| lacking(&missing.what)).count()
    };
    assert_eq!((lacks(&first), lacks(&second)), (2, 0));
}

#[test]
fn what_is_ordered_costs_what_it_cost_then() {
    let job = Job::new();
    let first = job.run(SURVEY, None, "first.xlsx");
    let (top, state) = found(&cells(&first.file, "Blinds"), |text| text == "State");
    for row in top + 1..=top + 3 {
        put(&first.file, "Blinds", &address(row, state), Put::Text("ordered"));
    }
    let second = job.run(SURVEY, Some(&first.file), "second.xlsx");
    let ordered = second.line("line 1: ").clone();
    assert!(ordered.item.ends_with(", ordered"), "{}", ordered.item);
    type_over(&second.file, "line 1: ", "Rate", Put::Number("1"));
    let third = job.run(SURVEY, Some(&second.file), "third.xlsx");
    assert_eq!(third.codes_of_typed(), ["price-typed-of-ordered"]);
    assert_eq!(third.line("line 1: ").rate, ordered.rate);
    // A price that is typed for blinds to come moves nothing that is ordered.
    type_over(&first.file, LABOR, "Rate", Put::Number("50"));
    let other = job.run(SURVEY, Some(&first.file), "other.xlsx");
    assert_eq!(other.line("line 1: ").rate, ordered.rate);
}

#[test]
fn a_price_after_which_nothing_is_taken_any_more_lasts_too() {
    let with_stock = SURVEY.replace("[Rates]", "Stock sizes | yes\n[Rates]")
        + "
    [Stock sizes]
    Product   | Nominal width | Nominal drop | Price | Lead days | On hand | Minimum cut-down width | Minimum cut-down drop
    louver-89 | 60            | 60           | 5     | 0         | 10      | 20                     | 20
";
    let job = Job::new();
    let first = job.run(&with_stock, None, "first.xlsx");
    let stock = "stock size 60 in x 60 in of louver-89, each";
    assert_eq!(first.input(stock).value, money("5"));
    type_over(&first.file, stock, "Rate", Put::Number("5000"));
    let second = job.run(&with_stock, Some(&first.file), "second.xlsx");
    let uses = |ran: &Ran| ran.cost.lines.iter().any(|line| line.basis.contains("stock size"));
    assert_eq!((uses(&first), uses(&second)), (true, false));
    assert_eq!((second.input(stock).value, second.input(stock).printed), (money("5000"), money("5")));
    let third = job.run(&with_stock, Some(&second.file), "third.xlsx");
    assert_eq!((uses(&third), third.input(stock).value), (false, money("5000")));
}

#[test]
fn a_pack_and_a_piece_of_one_part_agree_or_are_asked_about() {
    let grids = surveys(&[("s.xlsx", SURVEY)]).grids;
    let own = rules::build(&grids, Unit::Inch).unwrap().value;
    let mut sheets = Sheets::default();
    let at = CellRef { sheet: sheets.enter("first.xlsx", "Cost summary").unwrap(), row: 5, column: 4 };
    let figure = |known_as: &str, printed: &str, typed: &str| TypedFigure {
        known_as: known_as.to_owned(),
        figure: Figure::Rate,
        printed: money(printed),
        typed: money(typed),
        at,
    };
    // 100 carriers of 0.30 each are 30.00.
    let taken = |piece: &str| {
        let typed = [figure("carrier, pack", "30", "40"), figure("carrier, each", "0.3", piece)];
        let checked = own.clone().with_typed(&typed);
        let codes: Vec<&str> = checked.queries.iter().map(|query| query.code).collect();
        let carrier = checked.value.prices.parts.iter().find(|part| &*part.item == "carrier").unwrap();
        (codes.join(" "), carrier.each)
    };
    assert_eq!(taken("0.4"), ("price-typed price-typed".to_owned(), money("0.4")));
    assert_eq!(taken("0.5"), ("price-typed typed-prices-differ".to_owned(), money("0.4")));
}

#[test]
fn prices_in_another_currency_are_refused() {
    let job = Job::new();
    let first = job.run(SURVEY, None, "first.xlsx");
    let euros = SURVEY.replace("[Rates]", "Currency | EUR\n    [Rates]");
    let error = job.try_run(&euros, Some(&first.file), "second.xlsx").err().expect("it is refused");
    assert_eq!(error.to_string(), "the prices of first.xlsx are in USD, but those of the survey are in EUR");
}

/// What becomes of a fit-out that a run would replace.
fn replaced(target: &Path, after: Option<&Path>) -> Result<(), OutputError> {
    Places::new(Existing::Replace).after(after).fit_out(target, &[])
}

#[test]
fn a_fit_out_in_which_something_is_typed_is_replaced_only_by_a_run_that_takes_it_up() {
    let job = Job::new();
    let lost = |file: &Path| match replaced(file, None) {
        Ok(()) => Vec::new(),
        Err(OutputError::Remembers { lost, .. }) => lost,
        Err(other) => panic!("{other}"),
    };
    let state = |file: &Path| {
        let (top, column) = found(&cells(file, "Blinds"), |text| text == "State");
        put(file, "Blinds", &address(top + 1, column), Put::Text("ordered"));
    };
    let price = |file: &Path| type_over(file, LABOR, "Rate", Put::Number("50"));
    let answer = |file: &Path| {
        let (top, column) = found(&cells(file, "Queries"), |text| text == "Answer");
        put(file, "Queries", &address(top + 1, column), Put::Text("5"));
    };
    let run = || job.run(SURVEY, None, "first.xlsx").file;
    assert_eq!(lost(&run()), [""; 0]);
    let typed = run();
    state(&typed);
    assert_eq!(lost(&typed), ["what is typed on Blinds"]);
    let typed = run();
    price(&typed);
    assert_eq!(lost(&typed), ["what is typed on Cost summary"]);
    // Its depth is asked for.
    let asked = SURVEY.replace("42    | 48     | 30          | 5 ", "42    | 48     | 30          |   ");
    let typed = job.run(&asked, None, "asked.xlsx").file;
    assert_eq!(lost(&typed), [""; 0]);
    answer(&typed);
    assert_eq!(lost(&typed), ["what is typed on Queries"]);
    // The run that takes it up may replace it, and no other output of that run.
    assert!(replaced(&typed, Some(&typed)).is_ok());
    let other = Places::new(Existing::Replace).after(Some(&typed)).file(&typed, &[]);
    assert!(matches!(other, Err(OutputError::IsEarlier { .. })));
}

#[test]
fn a_damaged_workbook_is_kept_and_any_other_file_is_not() {
    let job = Job::new();
    let file = job.run(SURVEY, None, "first.xlsx").file;
    let bytes = fs::read(&file).unwrap();
    fs::write(&file, &bytes[..bytes.len() / 2]).unwrap();
    assert!(matches!(replaced(&file, None), Err(OutputError::Damaged { .. })));
    File::create(&file).unwrap().write_all(b"a note of mine").unwrap();
    assert!(replaced(&file, None).is_ok());
}

#[test]
fn a_heading_that_is_gone_refuses_the_fit_out_and_keeps_the_file() {
    let job = Job::new();
    let lose = |heading: &str| {
        let file = job.run(SURVEY, None, "first.xlsx").file;
        let (top, column) = found(&cells(&file, "Blinds"), |text| text.split(" (").next() == Some(heading));
        put(&file, "Blinds", &address(top, column), Put::Text("Anything else"));
        file
    };
    for heading in ["State", "Do", "Source", "Control", "Width", "Price each"] {
        let file = lose(heading);
        let error = job.try_run(SURVEY, Some(&file), "second.xlsx").err().expect(heading);
        let says = format!("Blinds has no column {heading}, so what stood in it cannot be known");
        assert_eq!(error.to_string(), says);
        assert!(matches!(replaced(&file, None), Err(OutputError::Remembers { .. })), "{heading}");
    }
    // A column that is left out where nothing has it may be missing.
    let file = lose("People");
    assert!(job.try_run(SURVEY, Some(&file), "second.xlsx").is_ok());
    assert!(replaced(&file, None).is_ok());
}

#[test]
fn a_workbook_that_is_locked_with_a_password_is_kept() {
    let folder = Folder::new();
    let file = folder.path().join("locked.xlsx");
    fs::write(&file, [0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1, 0, 0]).unwrap();
    assert!(matches!(replaced(&file, None), Err(OutputError::Damaged { .. })));
}

#[test]
fn the_command_numbers_fit_outs_and_keeps_what_is_typed() {
    let folder = Folder::new();
    folder.survey("quay.xlsx", SURVEY);
    let run = |arguments: &str| {
        let mut command = assert_cmd::cargo::cargo_bin_cmd!("sillbook");
        let output = command.current_dir(folder.path()).args(arguments.split(',')).output().unwrap();
        (output.status.code().unwrap(), String::from_utf8(output.stderr).unwrap())
    };
    assert_eq!(run("run,quay.xlsx").0, 0);
    let first = folder.path().join("quay-fitout.xlsx");
    type_over(&first, LABOR, "Rate", Put::Number("50"));
    let typed = fs::read(&first).unwrap();
    let (code, said) = run("run,quay.xlsx,--force");
    assert_eq!(code, 3, "{said}");
    assert!(said.contains("would lose what is typed on Cost summary\n  hint: "), "{said}");
    assert!(said.contains("--after \"quay-fitout.xlsx\""), "{said}");
    assert!(fs::read(&first).unwrap() == typed);
    for number in 2..4 {
        let (code, said) = run("run,quay.xlsx,--after,quay-fitout.xlsx");
        assert_eq!(code, 0, "{said}");
        assert!(said.contains(&format!("wrote quay-fitout {number}.xlsx\n")), "{said}");
    }
    assert!(fs::read(&first).unwrap() == typed);
    let (code, said) = run("run,quay.xlsx,--after,quay-fitout.xlsx,-o,quay-fitout.xlsx,--force");
    assert_eq!(code, 0, "{said}");
}
