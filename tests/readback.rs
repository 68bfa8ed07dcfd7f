//! The workbook as another program reads it: every formula is worked out again from the cells that
//! it names, and what the sheets say agrees with the JSON of the same run.

use std::collections::BTreeMap;
use std::io::Cursor;
use std::iter::Peekable;
use std::path::Path;
use std::str::{Chars, FromStr};

use crate::support::{block, files::Folder};
use calamine::{Data, Reader, Xlsx};
use rust_decimal::prelude::{FromPrimitive, ToPrimitive};
use rust_decimal::{Decimal, RoundingStrategy};
use serde_json::Value;
use sillbook::exchange::json;
use sillbook::pipeline::{self, Input, Silent};
use sillbook::workbook;

/// One sheet as it is read back.
#[derive(Default)]
struct Sheet {
    cells: BTreeMap<(u32, u32), Data>,
    formulas: BTreeMap<(u32, u32), String>,
}

/// A whole workbook, and the document of the same run.
struct Written {
    order: Vec<String>,
    sheets: BTreeMap<String, Sheet>,
    document: Value,
}

impl Written {
    fn of(input: &Input) -> Written {
        let report = pipeline::work(input, &Silent).unwrap();
        let (mut document, mut file) = (Vec::new(), Cursor::new(Vec::new()));
        json::write(&report, &mut document).unwrap();
        workbook::write(&report, workbook::Limits::SPREADSHEET, &mut file).unwrap();
        let mut book = Xlsx::new(Cursor::new(file.into_inner())).unwrap();
        let order = book.sheet_names();
        let sheets = order.iter().map(|name| (name.clone(), read(&mut book, name))).collect();
        Written { order, sheets, document: serde_json::from_slice(&document).unwrap() }
    }
}

fn read(book: &mut Xlsx<Cursor<Vec<u8>>>, name: &str) -> Sheet {
    let mut sheet = Sheet::default();
    let mut reader = book.worksheet_cells_reader(name).unwrap();
    while let Some(cell) = reader.next_cell().unwrap() {
        let value: Data = cell.get_value().clone().into();
        if value != Data::Empty {
            sheet.cells.insert(cell.get_position(), value);
        }
    }
    drop(reader);
    let mut reader = book.worksheet_cells_reader(name).unwrap();
    while let Some(formula) = reader.next_formula().unwrap() {
        if !formula.get_value().is_empty() {
            sheet.formulas.insert(formula.get_position(), formula.get_value().clone());
        }
    }
    sheet
}

impl Sheet {
    /// The cells under a heading, from the row below it for so many rows.
    fn under(&self, heading: &str, rows: usize) -> Vec<Data> {
        let is_heading = |cell: &&Data| matches!(cell, Data::String(text) if text == heading);
        let found = self.cells.iter().find(|(_, cell)| is_heading(cell));
        let (&(top, column), _) = found.unwrap_or_else(|| panic!("no heading {heading:?}"));
        let below = (1..).take(rows).map(|row| self.cells.get(&(top + row, column)));
        below.map(|cell| cell.cloned().unwrap_or(Data::Empty)).collect()
    }

    /// The value beside a text.
    fn beside(&self, text: &str) -> Data {
        let is_text = |cell: &&Data| matches!(cell, Data::String(found) if found == text);
        let found = self.cells.iter().find(|(_, cell)| is_text(cell));
        let (&(row, column), _) = found.unwrap_or_else(|| panic!("no {text:?}"));
        let mut right = self.cells.range((row, column + 1)..(row + 1, 0));
        right.next().map_or(Data::Empty, |(_, value)| value.clone())
    }
}

/// The demonstration, and a block whose total is known.
fn books() -> Vec<(&'static str, Written)> {
    let demo = |file: &str| {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo").join(file);
        Written::of(&pipeline::read(&[path], None, &Silent).unwrap())
    };
    vec![
        ("harrier", demo("harrier-wharf.xlsx")),
        ("larch", demo("larch-terrace.xlsx")),
        ("block", Written::of(&block::priced())),
        ("block short of prices", Written::of(&block::short_of_prices())),
        ("block without a price", Written::of(&block::without_a_price())),
    ]
}

fn number(data: &Data) -> Option<Decimal> {
    match data {
        // The shortest text of a stored double is the decimal that was written.
        Data::Float(number) => Decimal::from_str(&number.to_string()).ok(),
        Data::Int(number) => Decimal::from_i64(*number),
        _ => None,
    }
}

/// A number or a text of the document as a number.
fn told(value: &Value) -> Option<Decimal> {
    match value {
        Value::String(text) => text.parse().ok(),
        Value::Number(number) => Decimal::from_str(&number.to_string()).ok(),
        _ => None,
    }
}

/// What a formula, or a part of it, comes to.
#[derive(Clone, Debug, PartialEq)]
enum Found {
    Number(Decimal),
    Text(String),
    /// Arithmetic on a text: what a spreadsheet shows as an error.
    Error,
}

impl Found {
    fn of(data: &Data) -> Found {
        match (number(data), data) {
            (Some(number), _) => Found::Number(number),
            (None, Data::String(text)) => Found::Text(text.clone()),
            (None, _) => Found::Error,
        }
    }

    fn with(&self, other: &Found, operation: impl Fn(Decimal, Decimal) -> Decimal) -> Found {
        match (self, other) {
            (Found::Number(left), Found::Number(right)) => Found::Number(operation(*left, *right)),
            _ => Found::Error,
        }
    }
}

/// Works a formula out from the values of cells: numbers, the four operations, `SUM`, `SUMPRODUCT`,
/// `ROUND`, `COUNT`, `COUNTA`, `IF` of two numbers that are equal, the word in quotes, cells and
/// ranges, of this sheet or another. Anything else ends the test.
struct Formula<'a> {
    text: Peekable<Chars<'a>>,
    written: &'a Written,
    home: &'a str,
}

impl Formula<'_> {
    fn result(written: &Written, home: &str, text: &str) -> Found {
        let mut formula = Formula { text: text.trim_start_matches('=').chars().peekable(), written, home };
        let result = formula.sum_of_terms();
        assert!(formula.text.next().is_none(), "{home}: {text} goes on");
        result
    }

    fn takes(&mut self, wanted: char) -> bool {
        self.text.next_if_eq(&wanted).is_some()
    }

    fn must_take(&mut self, wanted: char) {
        assert!(
            self.takes(wanted),
            "{wanted:?} is missing before {:?}",
            self.text.clone().collect::<String>()
        );
    }

    fn sum_of_terms(&mut self) -> Found {
        let mut sum = self.product();
        loop {
            if self.takes('+') {
                sum = sum.with(&self.product(), |left, right| left + right);
            } else if self.takes('-') {
                sum = sum.with(&self.product(), |left, right| left - right);
            } else {
                return sum;
            }
        }
    }

    fn product(&mut self) -> Found {
        let mut product = self.one();
        loop {
            if self.takes('*') {
                product = product.with(&self.one(), |left, right| left * right);
            } else if self.takes('/') {
                product = product.with(&self.one(), |left, right| left / right);
            } else {
                return product;
            }
        }
    }

    fn one(&mut self) -> Found {
        if self.takes('(') {
            let inner = self.sum_of_terms();
            self.must_take(')');
            return inner;
        }
        if self.takes('"') {
            let text: String = std::iter::from_fn(|| self.text.next_if(|letter| *letter != '"')).collect();
            self.must_take('"');
            return Found::Text(text);
        }
        let word = self.word();
        let count = |cells: Vec<Data>, counts: fn(&Data) -> bool| {
            Found::Number(cells.iter().filter(|cell| counts(cell)).count().into())
        };
        match word.as_str() {
            "SUM" => Found::Number(self.ranges().concat().iter().filter_map(number).sum()),
            "COUNT" => count(self.ranges().concat(), |cell| number(cell).is_some()),
            "COUNTA" => count(self.ranges().concat(), |cell| *cell != Data::Empty),
            "SUMPRODUCT" => {
                let ranges = self.ranges();
                let [left, right] = &ranges[..] else { panic!("SUMPRODUCT takes two") };
                assert_eq!(left.len(), right.len(), "SUMPRODUCT takes ranges alike");
                let pairs = left.iter().zip(right);
                let products = pairs.filter_map(|(left, right)| Some(number(left)? * number(right)?));
                Found::Number(products.sum())
            }
            "ROUND" => {
                self.must_take('(');
                let value = self.sum_of_terms();
                self.must_take(',');
                let decimals = self.sum_of_terms();
                self.must_take(')');
                let rounded = |value: Decimal, decimals: Decimal| {
                    let decimals = decimals.to_u32().unwrap();
                    value.round_dp_with_strategy(decimals, RoundingStrategy::MidpointAwayFromZero)
                };
                value.with(&decimals, rounded)
            }
            "IF" => {
                self.must_take('(');
                let left = self.sum_of_terms();
                self.must_take('=');
                let right = self.sum_of_terms();
                self.must_take(',');
                let then = self.sum_of_terms();
                self.must_take(',');
                let or_else = self.sum_of_terms();
                self.must_take(')');
                if left == right { then } else { or_else }
            }
            _ => match word.parse() {
                Ok(number) => Found::Number(number),
                Err(_) => Found::of(&self.range(&word)[0]),
            },
        }
    }

    /// The arguments of a function that takes cells and ranges alone.
    fn ranges(&mut self) -> Vec<Vec<Data>> {
        self.must_take('(');
        let mut ranges = Vec::new();
        loop {
            let word = self.word();
            ranges.push(self.range(&word));
            if !self.takes(',') {
                self.must_take(')');
                return ranges;
            }
        }
    }

    /// A name, a number, or an address with its sheet.
    fn word(&mut self) -> String {
        let mut word = String::new();
        if self.takes('\'') {
            while let Some(letter) = self.text.next_if(|letter| *letter != '\'') {
                word.push(letter);
            }
            self.must_take('\'');
        }
        while let Some(letter) =
            self.text.next_if(|letter| letter.is_alphanumeric() || "$.!".contains(*letter))
        {
            word.push(letter);
        }
        word
    }

    /// What a cell holds, or the cells up to another, row by row.
    fn range(&mut self, first: &str) -> Vec<Data> {
        let (sheet, first) = first.rsplit_once('!').unwrap_or((self.home, first));
        let cells = &self.written.sheets[sheet].cells;
        let from = position(first);
        let to = if self.takes(':') { position(&self.word()) } else { from };
        let places = (from.0..=to.0).flat_map(|row| (from.1..=to.1).map(move |column| (row, column)));
        places.map(|at| cells.get(&at).cloned().unwrap_or(Data::Empty)).collect()
    }
}

/// Row and column, from 0, of an address such as `$G$12`.
fn position(address: &str) -> (u32, u32) {
    let plain = address.replace('$', "");
    let digits = plain.find(|letter: char| letter.is_ascii_digit()).unwrap();
    let column =
        plain[..digits].chars().fold(0, |column, letter| column * 26 + (letter as u32 - 'A' as u32 + 1));
    (plain[digits..].parse::<u32>().unwrap() - 1, column - 1)
}

/// Every formula whose stored result is not what its cells give.
fn stale(written: &Written) -> Vec<String> {
    let mut stale = Vec::new();
    for (name, sheet) in &written.sheets {
        for (at, formula) in &sheet.formulas {
            let stored = sheet.cells.get(at).map_or(Found::Error, Found::of);
            let worked = Formula::result(written, name, formula);
            // A stored double holds fifteen digits of the decimal.
            let agree = match (&stored, &worked) {
                (Found::Number(stored), Found::Number(worked)) => {
                    (stored - worked).abs() <= Decimal::new(1, 6)
                }
                (Found::Text(stored), Found::Text(worked)) => stored == worked,
                _ => false,
            };
            if !agree {
                stale.push(format!("{name} {at:?}: {formula} is {worked:?}, stored is {stored:?}"));
            }
        }
    }
    stale
}

#[test]
fn every_formula_gives_its_stored_result_from_the_cells_it_names() {
    for (name, written) in books() {
        let formulas: usize = written.sheets.values().map(|sheet| sheet.formulas.len()).sum();
        assert!(
            formulas > written.document["cost"]["lines"].as_array().unwrap().len() / 2,
            "{name}: {formulas}"
        );
        assert_eq!(stale(&written), Vec::<String>::new(), "{name}");
    }
}

#[test]
fn a_stale_result_is_seen() {
    let mut written = Written::of(&block::priced());
    let sheet = written.sheets.get_mut("Cost summary").unwrap();
    let at = *sheet.formulas.keys().next().unwrap();
    sheet.cells.insert(at, Data::Float(1.0));
    // The amount itself, and every sum that holds it.
    assert!(stale(&written).len() > 1);
}

#[test]
fn no_sheet_holds_an_error() {
    for (book, written) in books() {
        for (name, sheet) in &written.sheets {
            let error = sheet.cells.iter().find(|(_, cell)| matches!(cell, Data::Error(_)));
            assert!(error.is_none(), "{book}, {name}: {error:?}");
        }
    }
}

#[test]
fn the_sheets_stand_in_their_order_with_one_for_each_unit() {
    for (book, written) in books() {
        let mut units: Vec<&str> = Vec::new();
        for row in written.document["openings"].as_array().unwrap() {
            let unit = row["unit"].as_str().unwrap();
            if !units.contains(&unit) {
                units.push(unit);
            }
        }
        let first = [
            "Summary",
            "Queries",
            "Columns read",
            "As surveyed",
            "Openings",
            "Order",
            "Order's openings",
            "Blinds",
            "Also fits",
            "Labels",
            "Cut list",
            "Offcuts",
            "Hardware",
            "Options compared",
            "Phases",
            "Fitting days",
            "Notices",
            "Pilot",
            "Install index",
        ];
        let last = ["Cost summary", "Working", "Rules used"];
        let wanted: Vec<&str> = first.into_iter().chain(units).chain(last).collect();
        // A sheet that is full goes on under its name and a number.
        let goes_on = |name: &&String| {
            let stem = name.rsplit_once(' ').filter(|(_, number)| number.parse::<u32>().is_ok());
            !stem.is_some_and(|(stem, _)| last.contains(&stem) || first.contains(&stem))
        };
        let found: Vec<&str> = written.order.iter().filter(goes_on).map(String::as_str).collect();
        // Only where a blind would fit elsewhere, as in both demonstrations.
        let has_also_fits = !book.starts_with("block");
        let has = |key: &str| match &written.document[key] {
            serde_json::Value::Array(rows) => !rows.is_empty(),
            found => !found.is_null(),
        };
        let days = book == "larch";
        let compares = ["options", "sizes_curve", "stock_use", "less_cover"].into_iter().any(has);
        let wanted: Vec<&str> = wanted
            .into_iter()
            .filter(|name| match *name {
                "Options compared" => compares,
                "Phases" => has("phases"),
                // Days are asked for by the sheet Phases of a survey.
                "Fitting days" => days,
                "Notices" => has("notices"),
                "Pilot" => has("pilot"),
                "Also fits" => has_also_fits,
                _ => true,
            })
            .collect();
        assert_eq!(found, wanted, "{book}");
    }
}

#[test]
fn the_cost_summary_is_the_cost_of_the_document() {
    for (book, written) in books() {
        let cost = &written.document["cost"];
        let currency = cost["currency"].as_str().unwrap();
        let sheet = &written.sheets["Cost summary"];
        let lines = cost["lines"].as_array().unwrap();
        let rows = lines.len() + 80;
        let items = sheet.under("Item", rows);
        let amounts = sheet.under(&format!("Amount ({currency})"), rows);
        let rates = sheet.under(&format!("Rate ({currency})"), rows);
        let mut at = 0;
        for line in lines {
            // Sums of sections stand between the lines.
            let item = Data::String(line["item"].as_str().unwrap().to_owned());
            at += items[at..]
                .iter()
                .position(|found| *found == item)
                .unwrap_or_else(|| panic!("{book}: no {item}"));
            assert_eq!(number(&amounts[at]), told(&line["amount"]), "{book}: {item}");
            assert_eq!(number(&rates[at]), told(&line["rate"]), "{book}: {item}");
            at += 1;
        }
        // What is not all known has another name, and is what is known.
        let tax = if cost["tax"].is_null() { "tax on what is known" } else { "tax" };
        let total = if cost["total"].is_null() { "KNOWN SO FAR" } else { "TOTAL" };
        for (item, key) in [(tax, "known_tax"), (total, "known_total")] {
            let row = items.iter().position(|found| *found == Data::String(item.to_owned())).unwrap();
            assert_eq!(number(&amounts[row]), told(&cost[key]), "{book}: {item}");
        }
        let summary = &written.sheets["Summary"];
        let names = match cost["total"].is_null() {
            true => ["Subtotal, known so far", "KNOWN SO FAR"],
            false => ["Subtotal", "Total"],
        };
        for (name, key) in names.into_iter().zip(["subtotal", "known_total"]) {
            let found = summary.beside(&format!("{name} ({currency})"));
            assert_eq!(number(&found), told(&cost[key]), "{book}: {name} on Summary");
        }
    }
}

#[test]
fn the_counts_of_every_sheet_are_those_of_the_document() {
    for (book, written) in books() {
        let document = &written.document;
        let summary = &written.sheets["Summary"];
        for (fact, key) in [
            ("Rows read", "rows"),
            ("Openings", "openings"),
            ("Sized, not held", "sized"),
            ("Provisional", "provisional"),
            ("Held", "held"),
            ("Blinds", "blinds"),
            ("Different sizes", "sizes"),
        ] {
            assert_eq!(number(&summary.beside(fact)), told(&document["counts"][key]), "{book}: {fact}");
        }
        // A list on a sheet, the rows of the document that it shows, and a column with its key.
        for (sheet, list, columns) in [
            (
                "Order",
                "order",
                &[("Line", "line"), ("Quantity", "quantity"), ("Louvers per blind", "louver_count")][..],
            ),
            ("Hardware", "hardware", &[("Needed", "needed"), ("Spare", "spare"), ("Packs", "packs")]),
            ("Openings", "openings", &[("Quantity", "quantity")]),
            ("Offcuts", "offcuts", &[("Quantity", "quantity")]),
        ] {
            let rows = document[list].as_array().unwrap();
            for (heading, key) in columns {
                let found: Vec<_> =
                    written.sheets[sheet].under(heading, rows.len() + 1).iter().map(number).collect();
                let mut wanted: Vec<_> = rows.iter().map(|row| told(&row[*key])).collect();
                // The list ends there: what follows is no number.
                wanted.push(None);
                assert_eq!(found, wanted, "{book}: {heading} on {sheet}");
            }
        }
    }
}

#[test]
fn what_a_survey_writes_is_never_a_formula() {
    const TEXT: &str = "=1+1";
    let folder = Folder::new();
    let survey = format!(
        "[Project]\nUnits | in\nProject | {TEXT}\nSite | {TEXT}\nClient | {TEXT}\nRevision | {TEXT}\n[Openings]\n\
         Opening | Building | Floor | Unit | Room | Phase | Kind | Width | Height | Color | Note | Frame\n\
         {TEXT} | {TEXT} | {TEXT} | {TEXT} | {TEXT} | {TEXT} | window | 36 | 48 | {TEXT} | {TEXT} | {TEXT}\n\
         =W2 | {TEXT} | {TEXT} | {TEXT} | {TEXT} | {TEXT} | window | =36 | 48 | {TEXT} | {TEXT} | {TEXT}\n"
    );
    let written = Written::of(&pipeline::read(&[folder.survey("s.xlsx", &survey)], None, &Silent).unwrap());
    for (name, sheet) in &written.sheets {
        let live = name == "Cost summary" || name == "Summary";
        assert!(live || sheet.formulas.is_empty(), "{name}: {:?}", sheet.formulas);
        let taken = sheet.formulas.values().find(|formula| formula.contains("1+1") || formula.contains("W2"));
        assert_eq!(taken, None, "{name}");
    }
    // It is on each of these sheets, as the text that it is.
    for name in ["Summary", "Openings", "Order", "Labels", "Install index"] {
        let text = |cell: &Data| matches!(cell, Data::String(text) if text == TEXT);
        assert!(written.sheets[name].cells.values().any(text), "{name}");
    }
}
