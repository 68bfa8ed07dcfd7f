//! The calls by which a fit-out was written, as its file tells of them: cells with their looks, merged
//! blocks, heights, links and pictures, sheet by sheet. Charts and what is set once a sheet are left out.

use std::collections::{BTreeMap, HashMap, HashSet};
use std::fs::File;
use std::io::{BufRead, BufReader, Read};
use std::path::Path;

use quick_xml::Reader;
use quick_xml::events::{BytesStart, Event};
use zip::ZipArchive;

use crate::Outcome;

/// What one cell holds.
pub enum Held {
    Blank,
    Number(f64),
    Text(String),
    /// A formula and its result.
    Formula(String, String),
    /// Where it leads, and its text.
    Link(String, String),
}

/// One cell; what merges with it, to the last row and column.
pub struct Call {
    pub at: (u32, u16),
    pub look: usize,
    pub held: Held,
    pub merged: Option<(u32, u16)>,
}

/// The calls of one sheet, from the top, each row from the left.
#[derive(Default)]
pub struct Calls {
    pub name: String,
    pub cells: Vec<Call>,
    /// Points of the rows whose height was set.
    pub heights: HashMap<u32, f64>,
    /// The cell of each picture, and its file.
    pub pictures: BTreeMap<(u32, u16), String>,
}

/// A fit-out as its parts.
pub struct FitOut {
    zip: ZipArchive<BufReader<File>>,
    /// The sheets' names, in order.
    pub names: Vec<String>,
    /// Texts that cells share.
    texts: Vec<String>,
    /// How many looks its cells have.
    pub looks: usize,
}

impl FitOut {
    pub fn open(path: &Path) -> Outcome<FitOut> {
        let zip = ZipArchive::new(BufReader::new(File::open(path)?))?;
        let mut fit_out = FitOut { zip, names: Vec::new(), texts: Vec::new(), looks: 0 };
        let (mut names, mut texts, mut looks, mut of_cells) = (Vec::new(), Vec::new(), 0, false);
        fit_out.walk("xl/workbook.xml", |name, tag, _| {
            if let ("sheet", Some(tag)) = (name, tag) {
                names.extend(value(tag, "name"));
            }
        })?;
        fit_out.walk("xl/styles.xml", |name, tag, _| match (name, tag) {
            ("cellXfs", _) => of_cells = true,
            ("cellStyles", _) => of_cells = false,
            ("xf", Some(_)) if of_cells => looks += 1,
            _ => {}
        })?;
        fit_out.walk("xl/sharedStrings.xml", |name, tag, text| match (name, tag) {
            ("si", Some(_)) => texts.push(String::new()),
            ("t", None) => texts.last_mut().into_iter().for_each(|last: &mut String| last.push_str(text)),
            _ => {}
        })?;
        Ok(FitOut { names, texts, looks, ..fit_out })
    }

    /// The calls of the sheet at that place.
    pub fn sheet(&mut self, place: usize) -> Outcome<Calls> {
        let mut calls = Calls { name: self.names[place].clone(), ..Calls::default() };
        let texts = std::mem::take(&mut self.texts);
        let (mut links, mut merged) = (HashMap::new(), HashMap::new());
        let (mut kind, mut formula) = (String::new(), None);
        self.walk(&format!("xl/worksheets/sheet{}.xml", place + 1), |name, tag, text| match (name, tag) {
            ("row", Some(tag)) => {
                let number = |name| value(tag, name)?.parse::<f64>().ok();
                if let (Some(row), Some(height)) = (number("r"), number("ht")) {
                    calls.heights.insert(row as u32 - 1, height);
                }
            }
            ("c", Some(tag)) => {
                kind = value(tag, "t").unwrap_or_default();
                let at = position(&value(tag, "r").unwrap_or_default());
                let look = value(tag, "s").and_then(|look| look.parse().ok()).unwrap_or_default();
                calls.cells.push(Call { at, look, held: Held::Blank, merged: None });
            }
            ("f", None) => formula.get_or_insert_with(String::new).push_str(text),
            ("v" | "t", None) => {
                let Some(last) = calls.cells.last_mut() else { return };
                let held = std::mem::replace(&mut last.held, Held::Blank);
                last.held = match (held, formula.take()) {
                    (Held::Text(before), _) => Held::Text(before + text),
                    (_, Some(formula)) => Held::Formula(formula, text.to_owned()),
                    _ if kind == "s" => Held::Text(texts[text.parse::<usize>().unwrap_or_default()].clone()),
                    _ if kind == "inlineStr" => Held::Text(text.to_owned()),
                    _ => Held::Number(text.parse().unwrap_or_default()),
                };
            }
            ("hyperlink", Some(tag)) => {
                let at = position(&value(tag, "ref").unwrap_or_default());
                links.insert(at, value(tag, "location").unwrap_or_default());
            }
            ("mergeCell", Some(tag)) => {
                let block = value(tag, "ref").unwrap_or_default();
                let (first, last) = block.split_once(':').unwrap_or_default();
                merged.insert(position(first), position(last));
            }
            _ => {}
        })?;
        self.texts = texts;
        let covered: HashSet<(u32, u16)> = merged
            .iter()
            .flat_map(|(&first, &last)| {
                (first.0..=last.0).flat_map(move |row| (first.1..=last.1).map(move |column| (row, column)))
            })
            .collect();
        calls.cells.retain(|call| merged.contains_key(&call.at) || !covered.contains(&call.at));
        for call in &mut calls.cells {
            call.merged = merged.get(&call.at).copied();
            if let (Held::Text(text), Some(to)) = (&mut call.held, links.remove(&call.at)) {
                call.held = Held::Link(format!("internal:{to}"), std::mem::take(text));
            }
        }
        calls.pictures = self.pictures(place)?;
        Ok(calls)
    }

    /// A picture's bytes.
    pub fn picture(&mut self, file: &str) -> Outcome<Vec<u8>> {
        let mut bytes = Vec::new();
        self.zip.by_name(file)?.read_to_end(&mut bytes)?;
        Ok(bytes)
    }

    fn pictures(&mut self, place: usize) -> Outcome<BTreeMap<(u32, u16), String>> {
        let leads = self.relations(&format!("xl/worksheets/_rels/sheet{}.xml.rels", place + 1))?;
        let drawing = leads.values().find_map(|target| target.strip_prefix("../drawings/"));
        let Some(drawing) = drawing else { return Ok(BTreeMap::new()) };
        let files = self.relations(&format!("xl/drawings/_rels/{drawing}.rels"))?;
        let (mut pictures, mut at, mut begins) = (BTreeMap::new(), (0, 0), false);
        self.walk(&format!("xl/drawings/{drawing}"), |name, tag, text| match (name, tag) {
            ("xdr:from" | "xdr:to", Some(_)) => begins = name == "xdr:from",
            ("xdr:row", None) if begins => at.0 = text.parse().unwrap_or_default(),
            ("xdr:col", None) if begins => at.1 = text.parse().unwrap_or_default(),
            ("a:blip", Some(tag)) => {
                let file = value(tag, "r:embed").and_then(|id| files.get(&id));
                pictures.extend(file.map(|file| (at, file.replacen("..", "xl", 1))));
            }
            _ => {}
        })?;
        Ok(pictures)
    }

    fn relations(&mut self, part: &str) -> Outcome<BTreeMap<String, String>> {
        let mut relations = BTreeMap::new();
        self.walk(part, |name, tag, _| {
            if let ("Relationship", Some(tag)) = (name, tag) {
                relations.extend(value(tag, "Id").zip(value(tag, "Target")));
            }
        })?;
        Ok(relations)
    }

    /// Calls `each` with every tag of a part, and every text with the name around it; with nothing where
    /// the workbook has no such part.
    fn walk(&mut self, part: &str, mut each: impl FnMut(&str, Option<&BytesStart<'_>>, &str)) -> Outcome<()> {
        if self.zip.index_for_name(part).is_none() {
            return Ok(());
        }
        walk(BufReader::new(self.zip.by_name(part)?), &mut each)
    }
}

fn walk(part: impl BufRead, each: &mut impl FnMut(&str, Option<&BytesStart<'_>>, &str)) -> Outcome<()> {
    let mut reader = Reader::from_reader(part);
    let (mut buffer, mut inside) = (Vec::new(), Vec::new());
    loop {
        match reader.read_event_into(&mut buffer)? {
            Event::Start(tag) => {
                let name = tag.name().as_ref().to_owned();
                each(&name, Some(&tag), "");
                inside.push(name);
            }
            Event::Empty(tag) => each(tag.name().as_ref(), Some(&tag), ""),
            Event::Text(text) => each(inside.last().map_or("", |name| name), None, &text),
            Event::GeneralRef(reference) => {
                let text = quick_xml::escape::unescape(&format!("&{};", &*reference))?.into_owned();
                each(inside.last().map_or("", |name| name), None, &text);
            }
            Event::End(_) => {
                inside.pop();
            }
            Event::Eof => return Ok(()),
            _ => {}
        }
        buffer.clear();
    }
}

fn value(tag: &BytesStart<'_>, name: &str) -> Option<String> {
    let found = tag.try_get_attribute(name).ok()??;
    Some(quick_xml::escape::unescape(&found.value).ok()?.into_owned())
}

/// Row and column, from 0, of an address such as `B12`.
fn position(address: &str) -> (u32, u16) {
    let digits = address.find(|letter: char| letter.is_ascii_digit()).unwrap_or_default();
    let column =
        address[..digits].bytes().fold(0, |column, letter| column * 26 + u16::from(letter - b'A') + 1);
    (address[digits..].parse::<u32>().unwrap_or(1) - 1, column.saturating_sub(1))
}
