//! A written workbook as the parts of its file: what print, widths, links and pictures rest on, and
//! what readers of cells pass over.

use std::collections::BTreeMap;
use std::io::{Cursor, Read};

use quick_xml::events::{BytesStart, Event};
use quick_xml::{Reader, escape::unescape};
use zip::ZipArchive;

/// A cell: what is stored, and how it is set.
#[derive(Clone, Debug, Default)]
pub struct Cell {
    pub text: String,
    pub is_text: bool,
    pub style: Style,
}

#[derive(Clone, Debug, Default)]
pub struct Style {
    pub bold: bool,
    pub points: f64,
    pub wraps: bool,
    pub number: String,
}

/// A picture on a sheet: the cell that it hangs from, its words and its bytes.
pub struct Hung {
    pub at: (u32, u32),
    pub words: String,
    pub png: Vec<u8>,
}

#[derive(Default)]
pub struct Sheet {
    pub cells: BTreeMap<(u32, u32), Cell>,
    /// Pixels of each column that has a width of its own.
    pub widths: BTreeMap<u32, f64>,
    /// Points of each row that has a height of its own.
    pub heights: BTreeMap<u32, f64>,
    /// Rows that fold, and how deep.
    pub folds: BTreeMap<u32, u32>,
    /// Whether the sheet says that rows fold.
    pub says_folds: bool,
    /// Rows that begin a page, from 0.
    pub breaks: Vec<u32>,
    /// Where a cell leads.
    pub links: BTreeMap<(u32, u32), String>,
    /// First and last column of each merged block, by its first cell.
    pub merged: BTreeMap<(u32, u32), u32>,
    pub pictures: Vec<Hung>,
}

pub struct Package {
    pub order: Vec<String>,
    pub sheets: BTreeMap<String, Sheet>,
    /// Names such as print areas: name, sheet's place, what it names.
    pub names: Vec<(String, usize, String)>,
}

type Zip = ZipArchive<Cursor<Vec<u8>>>;

fn part(zip: &mut Zip, name: &str) -> Option<String> {
    let mut text = String::new();
    zip.by_name(name).ok()?.read_to_string(&mut text).unwrap();
    Some(text)
}

fn attribute(element: &BytesStart<'_>, name: &str) -> Option<String> {
    let found = element.try_get_attribute(name).unwrap()?;
    Some(unescape(&found.value).unwrap().into_owned())
}

/// Calls `each` with every element that begins, and with every text and the element around it.
fn walk(xml: &str, mut each: impl FnMut(&str, Option<&BytesStart<'_>>, &str)) {
    let mut reader = Reader::from_str(xml);
    let mut inside: Vec<String> = Vec::new();
    let name_of = |element: &BytesStart<'_>| element.name().as_ref().to_owned();
    loop {
        match reader.read_event().unwrap() {
            Event::Start(element) => {
                let name = name_of(&element);
                each(&name, Some(&element), "");
                inside.push(name);
            }
            Event::Empty(element) => each(&name_of(&element), Some(&element), ""),
            Event::Text(text) => {
                each(inside.last().map_or("", String::as_str), None, &text);
            }
            Event::GeneralRef(reference) => {
                let text = format!("&{};", &*reference);
                each(inside.last().map_or("", String::as_str), None, &text);
            }
            Event::End(_) => {
                inside.pop();
            }
            Event::Eof => return,
            _ => {}
        }
    }
}

/// Row and column, from 0, of an address such as `B12`.
pub fn position(address: &str) -> (u32, u32) {
    let plain = address.replace('$', "");
    let digits = plain.find(|letter: char| letter.is_ascii_digit()).unwrap();
    let column = plain[..digits].bytes().fold(0, |column, letter| column * 26 + u32::from(letter - b'A') + 1);
    (plain[digits..].parse::<u32>().unwrap() - 1, column - 1)
}

impl Package {
    pub fn of(bytes: Vec<u8>) -> Package {
        let mut zip = ZipArchive::new(Cursor::new(bytes)).unwrap();
        let (mut order, mut names, mut named) = (Vec::new(), Vec::new(), None);
        walk(&part(&mut zip, "xl/workbook.xml").unwrap(), |element, start, text| match (element, start) {
            ("sheet", Some(start)) => order.push(attribute(start, "name").unwrap()),
            ("definedName", Some(start)) => {
                let sheet = attribute(start, "localSheetId").map_or(0, |id| id.parse().unwrap());
                named = Some((attribute(start, "name").unwrap(), sheet));
            }
            ("definedName", None) => {
                if let Some((name, sheet)) = named.clone() {
                    names.push((name, sheet, text.to_owned()));
                }
            }
            _ => {}
        });
        let strings = strings(&part(&mut zip, "xl/sharedStrings.xml").unwrap_or_default());
        let styles = styles(&part(&mut zip, "xl/styles.xml").unwrap());
        let mut sheets = BTreeMap::new();
        for (place, name) in order.iter().enumerate() {
            let xml = part(&mut zip, &format!("xl/worksheets/sheet{}.xml", place + 1)).unwrap();
            let mut sheet = sheet(&xml, &strings, &styles);
            sheet.pictures = pictures(&mut zip, place + 1);
            sheets.insert(name.clone(), sheet);
        }
        Package { order, sheets, names }
    }

    /// The sheets of a name: `Order`, `Order 2`…
    pub fn going_on(&self, name: &str) -> Vec<(&str, &Sheet)> {
        let goes_on = |sheet: &&String| {
            sheet.strip_prefix(name).is_some_and(|rest| rest.is_empty() || rest.trim().parse::<u32>().is_ok())
        };
        self.order.iter().filter(goes_on).map(|sheet| (sheet.as_str(), &self.sheets[sheet])).collect()
    }

    /// The cell that a link such as `'Order'!A5` leads to.
    pub fn at(&self, link: &str) -> &Cell {
        let (sheet, cell) = link.rsplit_once('!').unwrap();
        let sheet = sheet.trim_matches('\'').replace("''", "'");
        &self.sheets[&sheet].cells[&position(cell)]
    }
}

fn strings(xml: &str) -> Vec<String> {
    let mut strings: Vec<String> = Vec::new();
    walk(xml, |element, start, text| match (element, start) {
        ("si", Some(_)) => strings.push(String::new()),
        ("t", None) => strings.last_mut().unwrap().push_str(&unescape(text).unwrap()),
        _ => {}
    });
    strings
}

fn styles(xml: &str) -> Vec<Style> {
    let (mut fonts, mut numbers, mut styles) = (Vec::new(), BTreeMap::new(), Vec::new());
    let (mut in_fonts, mut in_cells) = (false, false);
    walk(xml, |element, start, _| {
        let Some(start) = start else { return };
        match element {
            "fonts" => in_fonts = true,
            "fills" => in_fonts = false,
            "cellXfs" => in_cells = true,
            "cellStyles" => in_cells = false,
            "font" if in_fonts => fonts.push((false, 11.0)),
            "b" if in_fonts => fonts.last_mut().unwrap().0 = true,
            "sz" if in_fonts => {
                fonts.last_mut().unwrap().1 = attribute(start, "val").unwrap().parse::<f64>().unwrap();
            }
            "numFmt" => {
                numbers
                    .insert(attribute(start, "numFmtId").unwrap(), attribute(start, "formatCode").unwrap());
            }
            "xf" if in_cells => {
                let font: usize = attribute(start, "fontId").unwrap().parse().unwrap();
                let (bold, points): (bool, f64) = fonts[font];
                let id = attribute(start, "numFmtId").unwrap();
                let number = numbers.get(&id).cloned().unwrap_or(id);
                styles.push(Style { bold, points, wraps: false, number });
            }
            "alignment" if in_cells => {
                styles.last_mut().unwrap().wraps = attribute(start, "wrapText").is_some();
            }
            _ => {}
        }
    });
    styles
}

fn sheet(xml: &str, strings: &[String], styles: &[Style]) -> Sheet {
    let mut sheet = Sheet::default();
    let (mut at, mut kind, mut style) = ((0, 0), String::new(), Style::default());
    let mut in_row_breaks = false;
    walk(xml, |element, start, text| match (element, start) {
        ("sheetFormatPr", Some(start)) => sheet.says_folds = attribute(start, "outlineLevelRow").is_some(),
        ("col", Some(start)) => {
            let number = |name| attribute(start, name).unwrap().parse::<f64>().unwrap();
            for column in number("min") as u32..=number("max") as u32 {
                sheet.widths.insert(column - 1, (number("width") * 7.0).round());
            }
        }
        ("row", Some(start)) => {
            let row = attribute(start, "r").unwrap().parse::<u32>().unwrap() - 1;
            if let Some(height) = attribute(start, "ht") {
                sheet.heights.insert(row, height.parse().unwrap());
            }
            if let Some(level) = attribute(start, "outlineLevel") {
                sheet.folds.insert(row, level.parse().unwrap());
            }
        }
        ("c", Some(start)) => {
            at = position(&attribute(start, "r").unwrap());
            kind = attribute(start, "t").unwrap_or_default();
            let place = attribute(start, "s").map_or(0, |style| style.parse().unwrap());
            style = styles[place].clone();
        }
        ("v", None) => {
            let is_text = kind == "s" || kind == "str";
            let text =
                if kind == "s" { strings[text.parse::<usize>().unwrap()].clone() } else { text.to_owned() };
            sheet.cells.insert(at, Cell { text, is_text, style: style.clone() });
        }
        ("t", None) => {
            let cell = sheet.cells.entry(at).or_default();
            cell.text.push_str(&unescape(text).unwrap());
            (cell.is_text, cell.style) = (true, style.clone());
        }
        ("rowBreaks", Some(_)) => in_row_breaks = true,
        ("colBreaks", Some(_)) => in_row_breaks = false,
        ("brk", Some(start)) if in_row_breaks => {
            sheet.breaks.push(attribute(start, "id").unwrap().parse().unwrap());
        }
        ("hyperlink", Some(start)) => {
            let from = position(&attribute(start, "ref").unwrap());
            sheet.links.insert(from, attribute(start, "location").unwrap());
        }
        ("mergeCell", Some(start)) => {
            let block = attribute(start, "ref").unwrap();
            let (first, last) = block.split_once(':').unwrap();
            sheet.merged.insert(position(first), position(last).1);
        }
        _ => {}
    });
    sheet
}

/// Relations of a part: the id of each and what it leads to.
fn relations(zip: &mut Zip, part_name: &str) -> BTreeMap<String, String> {
    let mut relations = BTreeMap::new();
    walk(&part(zip, part_name).unwrap_or_default(), |element, start, _| {
        if let ("Relationship", Some(start)) = (element, start) {
            relations.insert(attribute(start, "Id").unwrap(), attribute(start, "Target").unwrap());
        }
    });
    relations
}

fn pictures(zip: &mut Zip, number: usize) -> Vec<Hung> {
    let leads = relations(zip, &format!("xl/worksheets/_rels/sheet{number}.xml.rels"));
    let Some(drawing) = leads.values().find_map(|target| target.strip_prefix("../drawings/")) else {
        return Vec::new();
    };
    let files = relations(zip, &format!("xl/drawings/_rels/{drawing}.rels"));
    let mut found: Vec<((u32, u32), String, String)> = Vec::new();
    let (mut from, mut in_from) = ((0, 0), false);
    walk(&part(zip, &format!("xl/drawings/{drawing}")).unwrap(), |element, start, text| {
        match (element, start) {
            ("xdr:from", Some(_)) => in_from = true,
            ("xdr:to", Some(_)) => in_from = false,
            ("xdr:row", None) if in_from => from.0 = text.parse().unwrap(),
            ("xdr:col", None) if in_from => from.1 = text.parse().unwrap(),
            ("xdr:cNvPr", Some(start)) => {
                found.push((from, attribute(start, "descr").unwrap_or_default(), String::new()));
            }
            ("a:blip", Some(start)) => found.last_mut().unwrap().2 = attribute(start, "r:embed").unwrap(),
            _ => {}
        }
    });
    let mut hung = Vec::new();
    for (at, words, id) in found {
        // A chart has no file of its own.
        let Some(file) = files.get(&id) else { continue };
        let file = file.trim_start_matches("../");
        let mut png = Vec::new();
        zip.by_name(&format!("xl/{file}")).unwrap().read_to_end(&mut png).unwrap();
        hung.push(Hung { at, words, png });
    }
    hung
}
