//! How long a whole run takes, and how near it is to the least it could take: `cargo bench`, or
//! `cargo bench -- 500 10000` for surveys of other sizes.
//!
//! For surveys of three sizes, each in a process of its own so that its peak of memory is its own:
//! the time of every stage, the whole run with and without `--working`, and R = whole run / floor. The
//! floor reads the same survey with the bare cell reader, and makes every call by which the fit-out was
//! written again on one thread (`calls.rs` reads them from the file): it makes no text, draws no picture
//! and knows nothing of blinds. R is to be at most 1 from 10,000 openings on and 1.3 below, and the
//! whole reading at most twice the bare reading; what of that is met stands in DEVELOPERS.md.
//!
//! Of the whole reading, the cells are read on one core, and so are the headings found and names
//! told apart; rows, openings, their keys and their peers are worked on all of them and put
//! together in survey order.
//!
//! Sheets are filled beside each other, and parts of the file are compressed so. The floor makes every call
//! of the library, also those of long tables, whose rows a run writes itself.

mod calls;
mod floor;
mod memory;
mod reading;
mod stages;
mod tower;

#[path = "../../demo/generate/surveys/mod.rs"]
#[allow(dead_code, reason = "the benchmark takes the block alone, without its mistakes")]
mod surveys;

use std::collections::BTreeMap;
use std::error::Error;
use std::ffi::OsString;
use std::fs;
use std::io::{self, Write};
use std::path::Path;
use std::process::{Command, Stdio};

/// Openings in each survey, unless the command line names others.
const SIZES: [usize; 3] = [500, 10_000, 100_000];

type Outcome<T> = Result<T, Box<dyn Error>>;

fn main() -> Outcome<()> {
    // Cargo adds `--bench` to whatever it is given.
    let arguments: Vec<OsString> = std::env::args_os().skip(1).filter(|word| word != "--bench").collect();
    match arguments.as_slice() {
        [part, survey, fitout] if part == RUN => {
            report(stages::run(survey.as_ref(), fitout.as_ref(), false)?)
        }
        [part, survey, fitout] if part == EVERY => {
            report(stages::run(survey.as_ref(), fitout.as_ref(), true)?)
        }
        [part, survey, _] if part == "reading" => report(reading::run(survey.as_ref())?),
        [part, survey, fitout] if part == "floor" => report(floor::run(survey.as_ref(), fitout.as_ref())?),
        [] => compare(&SIZES),
        sizes => compare(&sizes.iter().map(size_named).collect::<Outcome<Vec<usize>>>()?),
    }
}

fn size_named(word: &OsString) -> Outcome<usize> {
    Ok(word.to_str().ok_or("a size is a number of openings")?.parse()?)
}

/// A whole run, and one with the working of every opening.
const RUN: &str = "run";
const EVERY: &str = "every";

/// What one process measured: its parts in order, in seconds, and its peak of memory.
pub struct Timing {
    /// Name and seconds of each part.
    pub parts: Vec<(String, f64)>,
    /// Peak of memory in MB; `None` where the system does not tell.
    pub peak: Option<f64>,
}

impl Timing {
    fn seconds(&self) -> f64 {
        self.parts.iter().map(|(_, seconds)| seconds).sum()
    }

    /// Seconds of one part.
    fn of(&self, part: &str) -> Outcome<f64> {
        let found = self.parts.iter().find(|(name, _)| name == part);
        Ok(found.ok_or_else(|| format!("no part {part} was measured"))?.1)
    }
}

/// Hands the measurements to the process that asked for them, a line each.
fn report(timing: Timing) -> Outcome<()> {
    let mut out = io::stdout().lock();
    for (part, seconds) in &timing.parts {
        writeln!(out, "{part}\t{seconds}")?;
    }
    if let Some(peak) = timing.peak {
        writeln!(out, "{PEAK}\t{peak}")?;
    }
    Ok(())
}

const PEAK: &str = "peak";

/// Runs a part in a process of its own.
fn measured(part: &str, survey: &Path, fitout: &Path) -> Outcome<Timing> {
    let mut child = Command::new(std::env::current_exe()?);
    let output = child.arg(part).args([survey, fitout]).stderr(Stdio::inherit()).output()?;
    if !output.status.success() {
        return Err(format!("{part} of {} ended with {}", survey.display(), output.status).into());
    }
    let mut timing = Timing { parts: Vec::new(), peak: None };
    for line in String::from_utf8(output.stdout)?.lines() {
        let (name, figure) = line.split_once('\t').ok_or("a line without a figure")?;
        match name {
            PEAK => timing.peak = Some(figure.parse()?),
            _ => timing.parts.push((name.to_owned(), figure.parse()?)),
        }
    }
    Ok(timing)
}

/// Measures every size and prints one table, a column for each.
fn compare(sizes: &[usize]) -> Outcome<()> {
    let folder = tempfile::tempdir()?;
    let mut rows: Vec<String> = Vec::new();
    let mut cells: BTreeMap<String, Vec<String>> = BTreeMap::new();
    let mut enter = |row: &str, cell: String| {
        if !cells.contains_key(row) {
            rows.push(row.to_owned());
        }
        cells.entry(row.to_owned()).or_default().push(cell);
    };
    for size in sizes {
        writeln!(io::stderr(), "{size} openings")?;
        let survey = folder.path().join(format!("{size}.xlsx"));
        let fitout = folder.path().join(format!("{size}-fitout.xlsx"));
        fs::write(&survey, tower::survey(*size).to_bytes()?)?;
        let mut bare = f64::INFINITY;
        for (part, name) in [(RUN, ""), (EVERY, " --working")] {
            let run = measured(part, &survey, &fitout)?;
            let floor = measured("floor", &survey, &fitout)?;
            bare = bare.min(floor.of(floor::READ)?);
            for (stage, seconds) in run.parts.iter().filter(|(stage, _)| part == RUN || stage == "writing") {
                enter(&format!("{stage}{name}"), format!("{seconds:.3} s"));
            }
            enter(&format!("whole run{name}"), format!("{:.3} s", run.seconds()));
            enter(&format!("peak memory{name}"), in_mb(run.peak));
            for (part, seconds) in &floor.parts {
                enter(&format!("floor{name}: {part}"), format!("{seconds:.3} s"));
            }
            enter(&format!("R{name}"), format!("{:.2}", run.seconds() / floor.seconds()));
        }
        let reading = measured("reading", &survey, &fitout)?;
        for (part, seconds) in &reading.parts {
            enter(&format!("of reading: {part}"), format!("{seconds:.3} s"));
        }
        enter("cells / bare read", format!("{:.2}", reading.of(reading::CELLS)? / bare));
        enter("reading / bare read", format!("{:.2}", reading.seconds() / bare));
    }

    let mut out = io::stdout().lock();
    let sizes: Vec<String> = sizes.iter().map(|size| format!("{size} openings")).collect();
    writeln!(out, "{}", table_row("", &sizes))?;
    for row in rows {
        writeln!(out, "{}", table_row(&row, &cells[&row]))?;
    }
    Ok(())
}

fn in_mb(peak: Option<f64>) -> String {
    peak.map_or_else(|| "not known".to_owned(), |peak| format!("{peak:.0} MB"))
}

fn table_row(name: &str, cells: &[String]) -> String {
    let cells = cells.iter().map(|cell| format!("{cell:>18}"));
    format!("{name:<28}{}", cells.collect::<String>())
}
