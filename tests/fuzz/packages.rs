//! Workbooks in Office Open XML as other programs write them: the same cells stored in every way that the format
//! has (ECMA-376, part 1, 18.3 and 18.4), by chance. Each is read as the cells that it holds. And the same with a
//! fault in the markup of a part, packed again as if nothing were.

use std::fmt::Write as _;
use std::fs;
use std::path::PathBuf;

use rust_decimal::Decimal;
use sillbook::grid::{self, Grid, GridError, Problem, Value};
use sillbook::place::Sheets;

use super::grids::{disorder, same_twice};
use super::hold;
use crate::support::chance::Chance;
use crate::support::files::Folder;
use crate::support::formats::packed;

const ROUNDS: u64 = 300;
const ROUNDS_OF_FAULTS: u64 = 300;

/// A file, and the cells that it holds: column, row and value.
struct Book {
    parts: Vec<(String, Vec<u8>)>,
    cells: Vec<(u32, u16, Value)>,
}

impl std::fmt::Debug for Book {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        for (name, content) in &self.parts {
            writeln!(f, "--- {name}\n{}", String::from_utf8_lossy(content))?;
        }
        Ok(())
    }
}

const TEXTS: [&str; 14] = [
    "Width",
    "105 1/2",
    "a & b",
    "<wide>",
    "two  spaces",
    "line\nbreak",
    "_x0041_",
    "é½宽🪟",
    "00762",
    "1e3",
    "TRUE",
    "8' 10\"",
    "=1+1",
    "x",
];
const NUMBERS: [(&str, &str); 8] = [
    ("762", "762"),
    ("0", "0"),
    ("-3.5", "-3.5"),
    ("1.5E2", "150"),
    ("105.5", "105.5"),
    ("2.5e-1", "0.25"),
    ("48.000", "48"),
    ("+7", "7"),
];

/// The elements of one workbook's markup, at times under a prefix.
struct Pen {
    prefix: &'static str,
    /// Shared texts, as they are marked up.
    strings: Vec<String>,
}

fn escaped(text: &str, chance: &mut Chance) -> String {
    // An underscore that begins what looks like an escape is itself escaped.
    let text =
        if text.contains("_x0041_") { text.replace("_x0041_", "_x005F_x0041_") } else { text.to_owned() };
    if chance.of(8) == 0 && !text.contains("]]>") {
        return format!("<![CDATA[{text}]]>");
    }
    let numeric = chance.of(6) == 0;
    text.chars()
        .map(|letter| match letter {
            '&' => "&amp;".to_owned(),
            '<' => "&lt;".to_owned(),
            letter if numeric && letter.is_alphanumeric() => format!("&#x{:X};", letter as u32),
            letter => letter.to_string(),
        })
        .collect()
}

impl Pen {
    /// A text as plain or rich content of `si` or `is`.
    fn content(&self, text: &str, chance: &mut Chance) -> String {
        let p = self.prefix;
        let t = |text: &str, chance: &mut Chance| {
            format!("<{p}t xml:space=\"preserve\">{}</{p}t>", escaped(text, chance))
        };
        let aside =
            format!("<{p}rPh sb=\"0\" eb=\"1\"><{p}t>aside</{p}t></{p}rPh><{p}phoneticPr fontId=\"1\"/>");
        let letters: Vec<char> = text.chars().collect();
        match chance.of(5) {
            0 if letters.len() > 1 && !text.contains("_x") => {
                let cut = 1 + chance.of(letters.len() - 1);
                let (first, second): (String, String) =
                    (letters[..cut].iter().collect(), letters[cut..].iter().collect());
                let (first, second) = (t(&first, chance), t(&second, chance));
                format!("<{p}r><{p}rPr><{p}b/></{p}rPr>{first}</{p}r><{p}r>{second}</{p}r>")
            }
            1 => format!("{}{aside}", t(text, chance)),
            2 => format!("<!-- a note -->{}", t(text, chance)),
            _ => t(text, chance),
        }
    }

    /// A cell's attributes beside its address, what it holds, and the value that it is.
    fn cell(&mut self, chance: &mut Chance) -> (String, String, Value) {
        let p = self.prefix;
        let formula = if chance.of(4) == 0 { format!("<{p}f>A1</{p}f>") } else { String::new() };
        match chance.of(9) {
            0..4 => {
                let text = TEXTS[chance.of(TEXTS.len())];
                let value = Value::Text(text.into());
                match chance.of(4) {
                    0 => (
                        " t=\"inlineStr\"".into(),
                        format!("<{p}is>{}</{p}is>", self.content(text, chance)),
                        value,
                    ),
                    1 => (
                        " t=\"str\"".into(),
                        format!("{formula}<{p}v>{}</{p}v>", escaped(text, chance)),
                        value,
                    ),
                    _ => {
                        let content = self.content(text, chance);
                        self.strings.push(content);
                        let at = self.strings.len() - 1;
                        (" t=\"s\"".into(), format!("{formula}<{p}v>{at}</{p}v>"), value)
                    }
                }
            }
            4 | 5 => {
                let (written, number) = NUMBERS[chance.of(NUMBERS.len())];
                let stored = [" t=\"n\"", "", " s=\"0\""][chance.of(3)];
                let value = Value::Number(number.parse::<Decimal>().unwrap());
                (stored.into(), format!("{formula}<{p}v>{written}</{p}v>"), value)
            }
            6 => {
                let style = if chance.of(2) == 0 { " s=\"1\"" } else { " t=\"n\" s=\"1\"" };
                (style.into(), format!("{formula}<{p}v>0.0825</{p}v>"), Value::Percent(Decimal::new(825, 2)))
            }
            7 => match chance.of(2) {
                0 => (" s=\"2\"".into(), format!("<{p}v>46085</{p}v>"), Value::Date("2026-03-04".into())),
                _ => {
                    (" t=\"d\"".into(), format!("<{p}v>2026-03-04</{p}v>"), Value::Date("2026-03-04".into()))
                }
            },
            _ => {
                let (written, truth) =
                    [("1", true), ("0", false), ("true", true), ("false", false)][chance.of(4)];
                (
                    [" t=\"b\"", " s=\"1\" t=\"b\""][chance.of(2)].into(),
                    format!("{formula}<{p}v>{written}</{p}v>"),
                    Value::Truth(truth),
                )
            }
        }
    }
}

fn column_name(column: u16) -> String {
    let letter = |place: u16| char::from(b'A' + u8::try_from(place).unwrap());
    match column {
        0..26 => letter(column).to_string(),
        _ => format!("{}{}", letter(column / 26 - 1), letter(column % 26)),
    }
}

/// A workbook of one sheet, its cells stored by chance.
fn book(chance: &mut Chance) -> Book {
    let prefix = ["", "", "", "x:"][chance.of(4)];
    let p = prefix;
    let mut pen = Pen { prefix, strings: Vec::new() };
    let (mut sheet, mut cells) = (String::new(), Vec::new());
    let mut row = 0;
    for _ in 0..1 + chance.of(6) {
        let gap = chance.of(3) as u32;
        row += gap;
        // A row that follows on may do without its number.
        let bare_row = gap == 0 && chance.of(4) == 0;
        let number = if bare_row { String::new() } else { format!(" r=\"{}\"", row + 1) };
        let spans = if chance.of(3) == 0 { " spans=\"1:3\"" } else { "" };
        write!(sheet, "<{p}row{number}{spans}>").unwrap();
        let mut column = 0;
        for _ in 0..1 + chance.of(5) {
            let gap = [0, 0, 0, 1, 3, 25][chance.of(6)];
            column += gap;
            let (attributes, content, value) = pen.cell(chance);
            let name = column_name(column);
            let address = match chance.of(6) {
                0 if gap == 0 && !bare_row => String::new(),
                1 => format!(" r=\"{}{}\"", name.to_lowercase(), row + 1),
                2 => format!(" r=\"${name}${}\"", row + 1),
                _ => format!(" r=\"{name}{}\"", row + 1),
            };
            if chance.of(6) == 0 {
                write!(sheet, "<{p}c{address}{attributes}>{content}<{p}extLst><{p}ext><{p}v>9</{p}v></{p}ext></{p}extLst></{p}c>").unwrap();
            } else {
                write!(sheet, "<{p}c{address}{attributes}>{content}</{p}c>").unwrap();
            }
            cells.push((row, column, value));
            column += 1;
            if chance.of(5) == 0 {
                // A cell with a format and nothing in it.
                write!(sheet, "<{p}c r=\"{}{}\" s=\"1\"/>", column_name(column), row + 1).unwrap();
                column += 1;
            }
        }
        write!(sheet, "</{p}row>").unwrap();
        row += 1;
    }
    let main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
    let ns = if p.is_empty() { format!("xmlns=\"{main}\"") } else { format!("xmlns:x=\"{main}\"") };
    let head = [
        "<?xml version=\"1.0\" encoding=\"UTF-8\" standalone=\"yes\"?>\r\n",
        "",
        "\u{feff}<?xml version=\"1.0\"?>",
    ];
    let head = head[chance.of(3)];
    let strings: String = pen.strings.iter().map(|content| format!("<{p}si>{content}</{p}si>")).collect();
    // What the part says of its count is often stale.
    let count = chance.of(40);
    let office = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
    let folder = ["", "/xl/"][chance.of(2)];
    let mut parts = vec![
        ("[Content_Types].xml".to_owned(), "<Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\"><Default Extension=\"rels\" ContentType=\"application/vnd.openxmlformats-package.relationships+xml\"/><Default Extension=\"xml\" ContentType=\"application/xml\"/><Override PartName=\"/xl/workbook.xml\" ContentType=\"application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml\"/></Types>".to_owned()),
        ("_rels/.rels".to_owned(), format!("<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\"><Relationship Id=\"r1\" Type=\"{office}/officeDocument\" Target=\"{}xl/workbook.xml\"/></Relationships>", ["", "/"][chance.of(2)])),
        ("xl/workbook.xml".to_owned(), format!("{head}<{p}workbook {ns} xmlns:r=\"{office}\"><{p}sheets><{p}sheet name=\"Openings\" sheetId=\"7\" r:id=\"r9\"/></{p}sheets></{p}workbook>")),
        ("xl/_rels/workbook.xml.rels".to_owned(), format!("<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\"><Relationship Id=\"r1\" Type=\"{office}/styles\" Target=\"{folder}styles.xml\"/><Relationship Id=\"r2\" Type=\"{office}/sharedStrings\" Target=\"{folder}sharedStrings.xml\"/><Relationship Id=\"r9\" Type=\"{office}/worksheet\" Target=\"{folder}worksheets/sheet1.xml\"/></Relationships>")),
        ("xl/styles.xml".to_owned(), format!("{head}<{p}styleSheet {ns}><{p}cellXfs count=\"3\"><{p}xf numFmtId=\"0\"/><{p}xf numFmtId=\"10\"/><{p}xf numFmtId=\"14\"/></{p}cellXfs></{p}styleSheet>")),
        ("xl/sharedStrings.xml".to_owned(), format!("{head}<{p}sst {ns} count=\"{count}\" uniqueCount=\"{count}\">{strings}</{p}sst>")),
        ("xl/worksheets/sheet1.xml".to_owned(), format!("{head}<{p}worksheet {ns}><{p}sheetData>{sheet}</{p}sheetData></{p}worksheet>")),
    ];
    let turn = chance.of(parts.len());
    parts.rotate_left(turn);
    let parts = parts.into_iter().map(|(name, text)| (name, text.into_bytes())).collect();
    Book { parts, cells }
}

/// Puts a fault into the markup of one part: a tag, an attribute or a value becomes another's, or is gone. What holds
/// cells is spoilt more often than what leads there.
pub fn misprinted(parts: &mut [(String, Vec<u8>)], chance: &mut Chance) {
    const ODD: [&str; 24] = [
        "",
        "0",
        "-1",
        "+1",
        " 1 ",
        "1.5",
        "99999999999999999999",
        "1e999",
        "NaN",
        "A0",
        "$B$2",
        "XFE1",
        "A1048577",
        "a1:b",
        "s",
        "str",
        "inlineStr",
        "e",
        "b",
        "d",
        "n",
        "zz",
        "date",
        "_xD800_",
    ];
    const OF_CELLS: [&str; 3] = ["xl/worksheets/sheet1.xml", "xl/sharedStrings.xml", "content.xml"];
    for _ in 0..1 + chance.of(3) {
        let any = chance.of(parts.len());
        let wanted = OF_CELLS[chance.of(OF_CELLS.len())];
        let of_cells = parts.iter().position(|(name, _)| name == wanted);
        let at = if chance.of(4) > 0 { of_cells.unwrap_or(any) } else { any };
        let text = String::from_utf8_lossy(&parts[at].1).into_owned();
        let marks: Vec<usize> = text
            .char_indices()
            .filter(|(_, letter)| matches!(letter, '"' | '<' | '>'))
            .map(|(at, _)| at)
            .collect();
        if marks.len() < 2 {
            continue;
        }
        let place = chance.of(marks.len() - 1);
        let (from, to) = (marks[place], marks[place + 1]);
        let other = chance.of(marks.len() - 1);
        let piece = &text[marks[other]..marks[other + 1]];
        let changed = match chance.of(6) {
            0..3 => format!("{}{}{}", &text[..=from], ODD[chance.of(ODD.len())], &text[to..]),
            3 => format!("{}{piece}{}", &text[..from], &text[to..]),
            4 => format!("{}{}{}", &text[..to], &text[from..to], &text[to..]),
            _ => format!("{}{}", &text[..from], &text[to..]),
        };
        parts[at].1 = changed.into_bytes();
    }
}

fn read(folder: &Folder, book: &Book) -> (PathBuf, Result<Grid, GridError>) {
    let path = folder.path().join("s.xlsx");
    fs::write(&path, packed(&book.parts)).unwrap();
    let read = grid::read(&path, &mut Sheets::default());
    (path, read)
}

#[test]
fn every_way_to_store_a_cell_is_read_as_that_cell() {
    let folder = Folder::new();
    hold(ROUNDS, book, move |book| {
        let grid = match read(&folder, book).1 {
            Ok(grid) => grid,
            Err(error) => return Some(format!("is refused: {error}")),
        };
        let found = |row: &grid::Row| {
            let row_number = row.row;
            row.cells
                .iter()
                .map(move |(column, value)| (row_number, *column, value.clone()))
                .collect::<Vec<_>>()
        };
        let found: Vec<(u32, u16, Value)> = grid.sheets[0].rows.iter().flat_map(found).collect();
        let differ = found.iter().zip(&book.cells).find(|(found, held)| found != held);
        match differ {
            Some((found, held)) => Some(format!("is read as {found:?}, not {held:?}")),
            None => (found.len() != book.cells.len())
                .then(|| format!("is read as {} cells, not {}", found.len(), book.cells.len())),
        }
    });
}

#[test]
fn any_fault_of_markup_is_read_or_refused() {
    let folder = Folder::new();
    let made = |chance: &mut Chance| {
        let mut book = book(chance);
        misprinted(&mut book.parts, chance);
        book
    };
    hold(ROUNDS_OF_FAULTS, made, move |book| {
        let (path, first) = read(&folder, book);
        match &first {
            Err(GridError { problem: Problem::Failed, .. }) => Some("makes a reader panic".to_owned()),
            Ok(grid) => disorder(grid).or_else(|| same_twice(&first, &path)),
            Err(_) => same_twice(&first, &path),
        }
    });
}
