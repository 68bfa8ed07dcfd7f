//! Every kind of mess that a survey comes in: `tests/messes/` holds one text for each, `tests/odd/`
//! real files by independent writers (`tests/odd/make.py`) with what they must give beside them in
//! `NAME.txt`. All are read before any is complained of.
//!
//! ```text
//! # What the mess is.
//! --units mm
//! [Sheet]
//! Mark | Width | Height
//! W1   | 900   | 21-00
//! =>
//! name | width | held
//! W1   |       | held
//!
//! stop Sheet!C2 ~ cannot be read / more than one way, 2100
//! silent ~ peers
//! ```
//!
//! A text begins with `#` lines that say what the mess is, then `--units` if the command line has
//! it, then the survey as `tests/support` writes one; `--- block-b.xlsx` begins another file. Below
//! `=>` stand the openings under the names of what is told of them (see [`told_of`]), all of them
//! and in order, then a blank line, then the queries. A run that must stop has `error ~ words` alone.
//!
//! A query's line has a severity, cells and words. One gathered query must have that severity, all
//! of those cells (`Sheet!3` is any cell of row 3; none is every place) and all of the words, in any
//! case, in its message, hint or details; words between commas are all wanted, of words between
//! slashes one. Where the severity is open it is `ask`, a stop or a check; `maybe ` before it says
//! that the query may be left out. Stops and checks that reading raises are all listed, notes and
//! what later stages ask need not be; `silent ~ words` says that no stop or check, of any stage, has
//! those words.

use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};

use crate::support::{Surveys, files_of, surveys};
use sillbook::grid;
use sillbook::length::{Length, Unit};
use sillbook::pipeline::{self, Input, Silent};
use sillbook::place::Sheets;
use sillbook::query::{GatheredQuery, Query, QueryPlace, Severity, Wording};
use sillbook::report::{Report, State};
use sillbook::survey::{Facts, Given, Measured};

#[test]
fn every_mess_gives_its_openings_and_its_questions() {
    let texts = files_in("tests/messes").into_iter().filter(|path| ends_in(path, "txt"));
    complain(texts.filter_map(|path| {
        let text = fs::read_to_string(&path).expect("a mess is a text");
        let mess = Mess::of(&text);
        let Surveys { grids, sheets } = surveys(&mess.files);
        let faults = mess.faults(pipeline::understand(&grids, sheets, mess.units));
        faults.map(|faults| (path, faults))
    }));
}

#[test]
fn odd_files_by_independent_writers_are_read() {
    let odd = files_in("tests/odd").into_iter().filter(|path| !ends_in(path, "txt") && !ends_in(path, "py"));
    complain(odd.filter_map(|path| {
        let text = fs::read_to_string(format!("{}.txt", path.display())).expect("what the file must give");
        let mess = Mess::of(&text);
        let mut sheets = Sheets::default();
        let read = grid::read(&path, &mut sheets);
        let read = read.map_err(Into::into);
        let faults = mess.faults(read.and_then(|grid| pipeline::understand(&[grid], sheets, mess.units)));
        faults.map(|faults| (path, faults))
    }));
}

fn files_in(folder: &str) -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let entries = fs::read_dir(&folder).expect("the folder is there");
    let mut files: Vec<PathBuf> = entries.map(|entry| entry.expect("a readable folder").path()).collect();
    files.retain(|path| path.is_file());
    files.sort();
    files
}

fn ends_in(path: &Path, ending: &str) -> bool {
    path.extension().is_some_and(|extension| extension == ending)
}

/// Fails with what is wrong in every text, if anything is.
fn complain(faults: impl Iterator<Item = (PathBuf, String)>) {
    let (mut count, mut all) = (0, String::new());
    for (path, faults) in faults {
        count += 1;
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        let _ = write!(all, "\n== {name}\n{faults}");
    }
    assert!(count == 0, "{count} are not read as they should be:\n{all}");
}

// ---- What a text says --------------------------------------------------------------------------

struct Mess<'t> {
    units: Option<Unit>,
    files: Vec<(&'t str, &'t str)>,
    expected: Expected<'t>,
}

enum Expected<'t> {
    /// The run stops, with all of these words.
    Error(Words<'t>),
    /// The openings, the first line naming the columns, and what is asked.
    Openings { lines: Vec<Vec<&'t str>>, asked: Vec<Asked<'t>>, silent: Vec<Words<'t>> },
}

/// One query that must be raised.
struct Asked<'t> {
    line: &'t str,
    wanted: bool,
    severities: &'static [Severity],
    cells: Vec<&'t str>,
    words: Words<'t>,
}

/// Words that are all wanted, each in one of several spellings.
struct Words<'t>(Vec<Vec<&'t str>>);

impl<'t> Words<'t> {
    fn of(text: &'t str) -> Words<'t> {
        Words(text.split(',').map(|words| words.split(" / ").map(str::trim).collect()).collect())
    }

    fn all_in(&self, text: &str) -> bool {
        let text = text.to_lowercase();
        self.0.iter().all(|spellings| spellings.iter().any(|words| text.contains(&words.to_lowercase())))
    }
}

impl<'t> Mess<'t> {
    fn of(text: &'t str) -> Mess<'t> {
        let (given, expected) = text.split_once("\n=>\n").expect("a line => stands before what must come");
        let mut units = None;
        let mut given = given;
        while let Some((line, rest)) = given.split_once('\n').or(Some((given, ""))) {
            match line {
                "--units mm" => units = Some(Unit::Millimeter),
                "--units in" => units = Some(Unit::Inch),
                "--units cm" => units = Some(Unit::Centimeter),
                "--units m" => units = Some(Unit::Meter),
                line if line.starts_with("# ") => {}
                _ => break,
            }
            given = rest;
        }
        Mess { units, files: files_of(given), expected: Expected::of(expected.trim_end()) }
    }
}

impl<'t> Expected<'t> {
    fn of(text: &'t str) -> Expected<'t> {
        if let Some(words) = text.strip_prefix("error ~ ") {
            return Expected::Error(Words::of(words));
        }
        let (openings, queries) = text.split_once("\n\n").unwrap_or((text, ""));
        let cells = |line: &'t str| line.split('|').map(str::trim).collect();
        let queries = queries.lines().filter(|line| !line.is_empty());
        let (silent, asked): (Vec<_>, Vec<_>) = queries.partition(|line| line.starts_with("silent"));
        let words = |line: &'t str| Words::of(line.strip_prefix("silent ~ ").expect("silent ~ words"));
        Expected::Openings {
            lines: openings.lines().map(cells).collect(),
            asked: asked.into_iter().map(Asked::of).collect(),
            silent: silent.into_iter().map(words).collect(),
        }
    }
}

impl<'t> Asked<'t> {
    fn of(line: &'t str) -> Asked<'t> {
        let (wanted, query) = line.strip_prefix("maybe ").map_or((true, line), |query| (false, query));
        let (place, words) = query.split_once(" ~ ").expect("a query's line has ~ before its words");
        let (severity, cells) = place.split_once(' ').unwrap_or((place, ""));
        let severities: &[Severity] = match severity {
            "stop" => &[Severity::Stop],
            "check" => &[Severity::Check],
            "note" => &[Severity::Note],
            "ask" => &[Severity::Stop, Severity::Check],
            other => panic!("a query is a stop, a check, a note or an ask, not {other}: {line}"),
        };
        let cells = cells.split(", ").map(str::trim).filter(|cell| !cell.is_empty()).collect();
        Asked { line, wanted, severities, cells, words: Words::of(words) }
    }
}

// ---- What came ---------------------------------------------------------------------------------

impl Mess<'_> {
    /// What is not as it should be, as lines; `None` if all is.
    fn faults(&self, read: Result<Input, pipeline::RunError>) -> Option<String> {
        let faults = match (&self.expected, read) {
            (Expected::Error(words), Err(error)) => {
                let said = format!("{error}\n{}", error.hint());
                if words.all_in(&said) { String::new() } else { format!("the run stops, but says: {said}\n") }
            }
            (Expected::Error(_), Ok(input)) => {
                format!("the run should stop, but there are {} openings\n", input.survey.openings.len())
            }
            (Expected::Openings { .. }, Err(error)) => {
                format!("the run stops: {error} (hint: {})\n", error.hint())
            }
            (Expected::Openings { lines, asked, silent }, Ok(input)) => {
                let report = pipeline::work(&input, &Silent).expect("what is read can be worked");
                let mut faults = unlike(lines, &report);
                faults += &misasked(asked, silent, &input.queries, &report);
                faults
            }
        };
        (!faults.is_empty()).then_some(faults)
    }
}

/// Openings that should have come (`-`), and those that came in their place (`+`).
fn unlike(expected: &[Vec<&str>], report: &Report<'_>) -> String {
    let (names, expected) = expected.split_first().expect("the first line names what is told");
    // A line of the text has no room for line breaks and runs of spaces.
    let on_a_line = |text: String| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let told = |index, name: &&str| on_a_line(told_of(report, index, name));
    let came = |index: usize| names.iter().map(|name| told(index, name)).collect::<Vec<_>>();
    let came: Vec<Vec<String>> = (0..report.survey.openings.len()).map(came).collect();
    let mut faults = String::new();
    for index in 0..came.len().max(expected.len()) {
        let (wanted, came) = (expected.get(index), came.get(index));
        if wanted.zip(came).is_some_and(|(wanted, came)| wanted.iter().eq(came)) {
            continue;
        }
        if let Some(wanted) = wanted {
            let _ = writeln!(faults, "- {}", wanted.join(" | "));
        }
        if let Some(came) = came {
            let _ = writeln!(faults, "+ {}", came.join(" | "));
        }
    }
    if !faults.is_empty() {
        faults.insert_str(0, &format!("  {}\n", names.join(" | ")));
    }
    faults
}

/// What is told of an opening under a name: a field of its row, or the heading of a column that is
/// carried through. Lengths are in the run's units, several measurements from the left.
fn told_of(report: &Report<'_>, index: usize, name: &str) -> String {
    let opening = &report.survey.openings[index];
    let who = &opening.who;
    let units = report.rules.project.units;
    let length = |length: Length| {
        let shown = length.show(units);
        shown.trim_end_matches(units.symbol()).trim_end().to_owned()
    };
    let measured =
        |size: &Measured| size.all().map(|given| length(given.value)).collect::<Vec<_>>().join(", ");
    let given = |given: Option<Given<Length>>| given.map_or_else(String::new, |given| length(given.value));
    let fact = |tell: &dyn Fn(&Facts) -> String| opening.facts.as_deref().map_or_else(String::new, tell);
    let choice = |word: Option<&str>| word.unwrap_or_default().to_owned();
    match name {
        "name" => who.name.to_string(),
        "id" => who.written.to_string(),
        "survey" => who.survey.to_string(),
        "row" => report.sheets.show(who.at),
        "building" => who.building.to_string(),
        "floor" => who.floor.to_string(),
        "unit" => who.unit.to_string(),
        "room" => who.room.to_string(),
        "phase" => who.phase.to_string(),
        "note" => who.note.to_string(),
        "quantity" => who.quantity.to_string(),
        "held" if report.state(index) == State::Held => "held".to_owned(),
        "held" => String::new(),
        "width" => fact(&|facts| measured(&facts.width)),
        "height" => fact(&|facts| measured(&facts.height)),
        "kind" => fact(&|facts| facts.kind.word().to_owned()),
        "measured" => fact(&|facts| facts.source.word().to_owned()),
        "depth" => fact(&|facts| given(facts.recess_depth)),
        "handle" => fact(&|facts| given(facts.handle)),
        "trim" => fact(&|facts| given(facts.trim)),
        "sill" => fact(&|facts| given(facts.sill)),
        "header" => fact(&|facts| given(facts.header_height)),
        "wall left" => fact(&|facts| given(facts.wall_left)),
        "mount" => fact(&|facts| choice(facts.mount.map(|mount| mount.value.word()))),
        "opens" => fact(&|facts| choice(facts.opens.map(|opens| opens.value.word()))),
        "substrate" => fact(&|facts| choice(facts.substrate.map(|substrate| substrate.value.word()))),
        // As the product lists it, whatever the survey's spelling.
        "color" => {
            report.blinds[index].as_ref().map_or_else(String::new, |blind| blind.sizing.color.to_string())
        }
        carried => {
            let place = report.survey.carried.iter().position(|heading| &**heading == carried);
            place.map_or_else(|| format!("no column {carried}"), |place| who.carried[place].to_string())
        }
    }
}

/// Queries that are missing or were not expected, and words that should not have been said.
fn misasked(asked: &[Asked<'_>], silent: &[Words<'_>], of_reading: &[Query], report: &Report<'_>) -> String {
    let mut faults = String::new();
    let mut listed: Vec<Vec<bool>> =
        report.queries.iter().map(|query| vec![false; query.places.len()]).collect();
    for asked in asked {
        let mut candidates = report.queries.iter().zip(&mut listed);
        let found =
            candidates.find_map(|(query, listed)| Some((asked.places(query, listed, report)?, listed)));
        match found {
            Some((places, listed)) => places.into_iter().for_each(|place| listed[place] = true),
            None if asked.wanted => {
                let _ = writeln!(faults, "- {}", asked.line);
            }
            None => {}
        }
    }
    for (query, listed) in report.queries.iter().zip(&listed) {
        let raised_in_reading = |place: &QueryPlace| {
            let same = |early: &&Query| early.message == query.message && early.hint == query.hint;
            of_reading.iter().filter(same).any(|early| (early.at, early.opening) == (place.at, place.opening))
        };
        let grave = query.severity != Severity::Note;
        for (place, _) in query.places.iter().zip(listed).filter(|(_, listed)| !**listed) {
            if grave && raised_in_reading(place) {
                let at = place.at.map_or_else(String::new, |at| report.sheets.show(at));
                let _ = writeln!(
                    faults,
                    "+ {} {at} ~ {} ({}) hint: {}",
                    query.severity, query.message, place.detail, query.hint
                );
            }
        }
        if grave && let Some(words) = silent.iter().find(|words| words.all_in(&said_by(query))) {
            let _ = writeln!(
                faults,
                "+ {} ~ {} (should be silent: {:?})",
                query.severity, query.message, words.0
            );
        }
    }
    faults
}

impl Asked<'_> {
    /// Which places of a query this line lists; `None` if it is another query.
    fn places(&self, query: &GatheredQuery, listed: &[bool], report: &Report<'_>) -> Option<Vec<usize>> {
        if !self.severities.contains(&query.severity) || !self.words.all_in(&said_by(query)) {
            return None;
        }
        let free = |place: &usize| !listed[*place];
        if self.cells.is_empty() {
            return Some((0..listed.len()).collect());
        }
        let stands_at = |place: usize, cell: &str| {
            query.places[place].at.is_some_and(|at| {
                let exact = report.sheets.show(at);
                let row = exact.strip_suffix(&at.address()).map(|sheet| format!("{sheet}{}", at.row + 1));
                cell == exact || row.is_some_and(|row| cell == row)
            })
        };
        let mut places = Vec::new();
        for cell in &self.cells {
            let place = (0..listed.len())
                .filter(free)
                .find(|place| !places.contains(place) && stands_at(*place, cell))?;
            places.push(place);
        }
        Some(places)
    }
}

/// Everything that a query says.
fn said_by(query: &GatheredQuery) -> String {
    let details: Vec<&str> = query.places.iter().map(|place| place.detail.as_str()).collect();
    format!("{}\n{}\n{}", query.message, query.hint, details.join("\n"))
}
