//! What a person at a terminal sees: queries, explanations, errors, progress, and the last line.
//!
//! Queries and messages go to stderr, `explain` and `compare` to stdout; progress is shown on a terminal only.

mod bar;
mod changes;
mod explained;
mod headings;
mod queries;

use std::fmt::{self, Display, Write as _};
use std::io::{self, Write as _};
use std::path::Path;

use sillbook::intake::LeftOut;
use sillbook::name::steers;
use sillbook::query::{Severity, Wording};
use sillbook::report::Report;

pub use self::bar::Bar;
pub use self::changes::ChangesList;
pub use self::explained::Explained;
pub use self::headings::{ColumnsRead, HeadingRows};
pub use self::queries::{InShort, Queries};

/// Says whole lines on standard error. A terminal that is gone cannot be told that it is.
pub fn say(lines: impl Display) {
    // Standard error keeps nothing back: what is written to it piece by piece goes out letter by letter.
    let _ = io::stderr().write_all(lines.to_string().as_bytes());
}

/// Prints a result on standard output.
///
/// # Errors
/// If it cannot be written; a reader who has seen enough is no error.
pub fn print(text: impl Display) -> io::Result<()> {
    match write!(io::stdout().lock(), "{text}").and_then(|()| io::stdout().flush()) {
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => Err(error),
        _ => Ok(()),
    }
}

/// A file that is written, as it was named.
pub struct Wrote<'a>(pub &'a Path);

impl Display for Wrote<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(f, "wrote {}", Plain(&self.0.display().to_string()))
    }
}

/// All that `check` found: how the columns were read, every query, and the last line.
#[derive(Clone, Copy)]
pub struct Found<'a>(pub &'a Report<'a>);

impl Display for Found<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Found(report) = *self;
        let queries =
            Queries { queries: &report.queries, sheets: report.sheets, survey: Some(report.survey) };
        write!(f, "{}{queries}", ColumnsRead(report))?;
        writeln!(f, "{}", last_line(report))
    }
}

/// What is wrong with the run as a whole, and what to do.
pub struct Refusal<'a>(pub &'a dyn Wording);

impl Display for Refusal<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(f, "error: {}", Plain(&self.0.to_string()))?;
        let hint = self.0.hint();
        if hint.is_empty() { Ok(()) } else { writeln!(f, "  hint: {}", Plain(&hint)) }
    }
}

/// A command line that cannot be read, said as every other error is; help and version as they are.
pub struct WrongCommandLine(pub clap::Error);

impl Display for WrongCommandLine {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let text = self.0.to_string();
        if !text.starts_with("error: ") {
            return f.write_str(&text);
        }
        let mut lines = text.lines().map(str::trim);
        let wrong: Vec<&str> = lines.by_ref().take_while(|line| !line.is_empty()).collect();
        let wrong = wrong.join(" ").replace("the following required arguments were not provided:", "missing");
        writeln!(f, "{}", Plain(&wrong))?;
        for line in lines {
            if let Some((_, name)) = line.split_once(" exists: ") {
                return writeln!(f, "  hint: did you mean {}?", Plain(name));
            }
            if let Some(usage) = line.strip_prefix("Usage: ") {
                let is_word = |word: &&str| word.starts_with(|c: char| c.is_ascii_lowercase());
                let command: Vec<&str> = usage.split(' ').take_while(is_word).collect();
                return writeln!(f, "  hint: see {} --help", command.join(" "));
            }
        }
        Ok(())
    }
}

/// A note for each file that is left out, with what to do where a reason is first met.
pub struct LeftOutFiles<'a>(pub &'a [LeftOut]);

impl Display for LeftOutFiles<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (position, file) in self.0.iter().enumerate() {
            writeln!(f, "{}: {}", Severity::Note, Plain(&file.to_string()))?;
            let is_new = self.0[..position].iter().all(|earlier| earlier.why != file.why);
            if is_new && !file.hint().is_empty() {
                writeln!(f, "  hint: {}", Plain(&file.hint()))?;
            }
        }
        Ok(())
    }
}

/// `2 stops and 5 checks in 312 openings; INCOMPLETE: 2 openings are held, 3 provisional`.
pub fn last_line(report: &Report<'_>) -> String {
    let counts = report.counts;
    let stops = counted(report.query_count(Severity::Stop).causes as u64, "stop");
    let checks = counted(report.query_count(Severity::Check).causes as u64, "check");
    let accepted: usize = report.accepted.iter().map(|query| query.places.len()).sum();
    let accepted = if accepted == 0 { String::new() } else { format!(", {accepted} accepted,") };
    let found = format!("{stops} and {checks}{accepted} in {}", counted(counts.openings, "opening"));
    if report.complete() {
        let made = format!("{} in {}", counted(counts.blinds, "blind"), counted(counts.sizes, "size"));
        return format!("{found}; complete: {made}");
    }
    let mut missing = Vec::new();
    let openings = [(counts.held, "held"), (counts.provisional, "provisional")];
    for (count, state) in openings.into_iter().filter(|(count, _)| *count > 0) {
        missing.push(match (missing.is_empty(), count) {
            (true, 1) => format!("1 opening is {state}"),
            (true, _) => format!("{count} openings are {state}"),
            (false, _) => format!("{count} {state}"),
        });
    }
    missing.extend(report.nameless());
    format!("{found}; INCOMPLETE: {}", missing.join(", "))
}

fn counted(count: u64, noun: &str) -> String {
    format!("{count} {noun}{}", if count == 1 { "" } else { "s" })
}

/// Text of a survey on one line, with nothing in it that a terminal would obey.
struct Plain<'a>(&'a str);

impl Display for Plain<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.chars().try_for_each(|c| f.write_char(if steers(c) { char::REPLACEMENT_CHARACTER } else { c }))
    }
}
