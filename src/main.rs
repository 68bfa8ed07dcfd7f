//! The command: what each subcommand does, and how it ends.

mod cli;
mod terminal;

use std::error::Error;
use std::fmt::Display;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::Parser;
use sillbook::exchange::{csv, json};
use sillbook::explain;
use sillbook::intake::{self, IntakeError};
use sillbook::length::Unit;
use sillbook::output::{Existing, OutputError, Outputs, Places};
use sillbook::pipeline::{self, Progress, RunError, Silent, Stage, Wanted};
use sillbook::report::{Report, Selection, SelectionError};
use sillbook::workbook::{self, Limits, WorkbookError};

use cli::{Check, Cli, Command, Compare, Explain, New, Run};
use terminal::{
    Bar, ChangesList, ColumnsRead, Explained, Found, HeadingRows, InShort, LeftOutFiles, Queries, Refusal,
    WrongCommandLine, Wrote,
};

/// How a command ended.
enum End {
    Done,
    /// Something is held or provisional, and the caller asked to be told.
    Incomplete,
    /// It cannot be read, or asks for an opening that cannot be found.
    WrongCommandLine,
    /// Nothing was written, which was said.
    NothingWritten,
}

/// Why nothing was written.
enum Failure {
    Intake(IntakeError),
    Run(RunError),
    Output(OutputError),
    /// The machine did not give what the command needs.
    Machine {
        message: String,
        hint: &'static str,
    },
}

fn main() -> ExitCode {
    let ended = match Cli::try_parse().map(|cli| cli.command) {
        Err(error) if error.use_stderr() => {
            terminal::say(WrongCommandLine(error));
            Ok(End::WrongCommandLine)
        }
        Err(help) => hand_over(&help),
        Ok(Command::New(new)) => write_blank(&new),
        Ok(Command::Check(check)) => check_surveys(&check),
        Ok(Command::Run(run)) => run_surveys(&run),
        Ok(Command::Explain(wanted)) => explain_opening(&wanted),
        Ok(Command::Compare(wanted)) => compare_fit_outs(&wanted),
        Ok(Command::Completions { shell }) => hand_over(cli::completions(shell)),
        Ok(Command::Manual) => hand_over(cli::manual()),
    };
    ExitCode::from(match ended {
        Ok(End::Done) => 0,
        Ok(End::Incomplete) => 1,
        Ok(End::WrongCommandLine) => 2,
        Ok(End::NothingWritten) => 3,
        Err(failure) => {
            tell(&failure);
            3
        }
    })
}

fn write_blank(new: &New) -> Result<End, Failure> {
    let mut places = Places::new(Existing::Keep);
    places.file(&new.file, &[])?;
    let mut outputs = places.begin();
    outputs.write(&new.file, |out| -> Result<(), Box<dyn Error + Send + Sync>> {
        let mut blank = workbook::blank(new.units.into())?;
        Ok(blank.save_to_writer(out).map_err(WorkbookError::from)?)
    })?;
    outputs.put_in_place()?;
    terminal::say(Wrote(&new.file));
    Ok(End::Done)
}

fn check_surveys(check: &Check) -> Result<End, Failure> {
    let files = find_surveys(&check.surveys.paths)?;
    let existing = if check.force { Existing::Replace } else { Existing::Keep };
    let mut places = Places::new(existing).after(check.after.as_deref());
    if let Some(file) = &check.report {
        places.file(file, &files)?;
    }
    let bar = Bar::new();
    let unit = check.surveys.units.map(Unit::from);
    let input =
        match pipeline::read_as(&files, Wanted { after: check.after.as_deref(), unit, option: None }, &bar) {
            Ok(input) => input,
            Err(error) => {
                drop(bar);
                hand_over(HeadingRows::of_refused(&error))?;
                return Err(error.into());
            }
        };
    let report = pipeline::work(&input, &bar)?;
    drop(bar);
    let found = Found(&report);
    if let Some(file) = &check.report {
        let mut outputs = places.begin();
        let is_text = file.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("txt"));
        outputs.write(file, |out| -> Result<(), Box<dyn Error + Send + Sync>> {
            match is_text {
                true => write!(out, "{found}")?,
                false => workbook::write_questions(&report, out)?,
            }
            Ok(())
        })?;
        outputs.put_in_place()?;
    }
    terminal::say(found);
    if let Some(file) = &check.report {
        terminal::say(Wrote(file));
    }
    hand_over(HeadingRows::of(&report))?;
    let held = report.counts.held > 0 || report.nameless_rows() > 0;
    Ok(if held { End::Incomplete } else { End::Done })
}

/// The surveys that were named; what was left out is said before anything is read.
fn find_surveys(paths: &[PathBuf]) -> Result<Vec<PathBuf>, Failure> {
    let found = intake::find(paths)?;
    terminal::say(LeftOutFiles(&found.left_out));
    Ok(found.surveys)
}

fn explain_opening(wanted: &Explain) -> Result<End, Failure> {
    let files = find_surveys(std::slice::from_ref(&wanted.survey))?;
    let unit = wanted.units.map(Unit::from);
    let input =
        pipeline::read_as(&files, Wanted { after: wanted.after.as_deref(), unit, option: None }, &Silent)?;
    let opening = match explain::find(&input.survey, &wanted.opening) {
        Ok(opening) => opening,
        Err(error) => {
            terminal::say(Refusal(&error));
            return Ok(End::WrongCommandLine);
        }
    };
    let report = pipeline::work(&input, &Silent)?;
    let explanation = explain::explain(&report, opening);
    let project = &report.rules.project;
    let (units, currency) = (project.units, project.currency);
    let explained = Explained { explanation, sheets: report.sheets, units, currency };
    hand_over(explained)
}

fn compare_fit_outs(wanted: &Compare) -> Result<End, Failure> {
    let compared = pipeline::compare(&wanted.earlier, &wanted.later)?;
    if !wanted.json {
        return hand_over(ChangesList(&compared));
    }
    let mut list = Vec::new();
    // Memory takes all that is written to it, and what is written is text.
    let _ = json::write_changes(&compared.changes, compared.currency, &mut list);
    hand_over(String::from_utf8_lossy(&list))
}

/// Hands over a result on standard output.
fn hand_over(result: impl Display) -> Result<End, Failure> {
    let printed = terminal::print(result);
    printed.map(|()| End::Done).map_err(|_| Failure::Machine {
        message: "standard output cannot be written to".to_owned(),
        hint: "check the file or program that it is sent to",
    })
}

fn run_surveys(run: &Run) -> Result<End, Failure> {
    match run.threads {
        None => run_here(run),
        Some(threads) => {
            let pool = rayon::ThreadPoolBuilder::new().num_threads(usize::from(threads)).build();
            let pool = pool.map_err(|_| Failure::Machine {
                message: format!("{threads} threads cannot be started"),
                hint: "give a smaller number, or leave out --threads",
            })?;
            pool.install(|| run_here(run))
        }
    }
}

fn run_here(run: &Run) -> Result<End, Failure> {
    let surveys = &find_surveys(&run.surveys.paths)?;
    let bar = Bar::new();
    let unit = run.surveys.units.map(Unit::from);
    let wanted = Wanted { after: run.after.as_deref(), unit, option: run.option.as_deref() };
    let input = match pipeline::read_as(surveys, wanted, &bar) {
        Err(error @ RunError::UnknownOption { .. }) => {
            drop(bar);
            terminal::say(Refusal(&error));
            return Ok(End::WrongCommandLine);
        }
        read => read?,
    };

    // There is one survey at the least.
    let workbook = run.output.clone().unwrap_or_else(|| match run.after {
        None => beside(&surveys[0], ""),
        Some(_) => next_beside(&surveys[0]),
    });
    let existing = if run.force { Existing::Replace } else { Existing::Keep };
    let mut places = Places::new(existing).after(run.after.as_deref());
    places.fit_out(&workbook, surveys)?;
    if let Some(json) = &run.json {
        places.file(json, surveys)?;
    }
    if let Some(folder) = &run.csv {
        places.files_in(folder, csv::List::ALL.map(csv::List::file_name), surveys)?;
    }

    if let Some(order) = &run.order {
        places.file(order, surveys)?;
    }

    let report = pipeline::verified(pipeline::work(&input, &bar)?, &bar)?;
    let selection = Selection { phases: run.phase.clone(), states: run.state.clone() };
    if run.order.is_some()
        && let Err(error) = report.check_selection(&selection)
    {
        drop(bar);
        terminal::say(Refusal(&error));
        return match error {
            SelectionError::UnknownPhase { .. } => Ok(End::WrongCommandLine),
            SelectionError::Nothing | SelectionError::NoId { .. } => Ok(End::NothingWritten),
        };
    }
    bar.begin(Stage::Writing);
    let mut outputs = places.begin();
    write(&report, run, &workbook, &mut outputs)?;
    let told = format!("{}{}", ColumnsRead(&report), InShort { report: &report, workbook: &workbook });
    let (last_line, complete) = (terminal::last_line(&report).to_string(), report.complete());
    if let Some(order) = &run.order {
        let part = pipeline::verified_part(report.narrowed(&selection).map_err(RunError::from)?)?;
        outputs.write(order, |out| workbook::write_order(&part, limits(run), out))?;
    }
    outputs.put_in_place()?;
    drop(bar);

    terminal::say(told);
    let others = [run.order.as_ref(), run.json.as_ref(), run.csv.as_ref()];
    for written in [Some(&workbook)].into_iter().chain(others).flatten() {
        terminal::say(Wrote(written));
    }
    terminal::say(format_args!("{last_line}\n"));
    Ok(if run.strict && !complete { End::Incomplete } else { End::Done })
}

fn limits(run: &Run) -> Limits {
    let all = Limits { every_working: run.working, ..Limits::SPREADSHEET };
    if run.no_drawings { all.without_drawings() } else { all }
}

fn write(report: &Report<'_>, run: &Run, workbook: &Path, outputs: &mut Outputs) -> Result<(), OutputError> {
    outputs.write(workbook, |out| workbook::write(report, limits(run), out))?;
    if let Some(json) = &run.json {
        outputs.write(json, |out| json::write(report, out))?;
    }
    if let Some(folder) = &run.csv {
        for list in csv::List::ALL {
            outputs.write(&folder.join(list.file_name()), |out| list.write(report, out))?;
        }
    }
    Ok(())
}

/// `<survey>-fitout.xlsx`, in the survey's folder, with what tells it from others behind its name.
fn beside(survey: &Path, number: &str) -> PathBuf {
    let mut name = survey.file_stem().unwrap_or_default().to_owned();
    name.push(format!("-fitout{number}.xlsx"));
    survey.with_file_name(name)
}

/// `<survey>-fitout 2.xlsx`, or with the next number that no file has.
fn next_beside(survey: &Path) -> PathBuf {
    let numbered = (2_u64..).map(|number| beside(survey, &format!(" {number}")));
    let mut free = numbered.filter(|path| path.symlink_metadata().is_err());
    free.next().unwrap_or_else(|| beside(survey, ""))
}

fn tell(failure: &Failure) {
    if let Failure::Run(RunError::RuleSheets { queries, sheets }) = failure {
        terminal::say(Queries { queries, sheets, survey: None });
    }
    if let Failure::Intake(IntakeError::NoSurvey { left_out, .. }) = failure {
        terminal::say(LeftOutFiles(left_out));
    }
    match failure {
        Failure::Intake(error) => terminal::say(Refusal(error)),
        Failure::Run(error) => terminal::say(Refusal(error)),
        Failure::Output(error) => terminal::say(Refusal(error)),
        Failure::Machine { message, hint } => {
            terminal::say(format_args!("error: {message}\n  hint: {hint}\n"));
        }
    }
}

impl From<IntakeError> for Failure {
    fn from(error: IntakeError) -> Failure {
        Failure::Intake(error)
    }
}

impl From<OutputError> for Failure {
    fn from(error: OutputError) -> Failure {
        Failure::Output(error)
    }
}

impl From<RunError> for Failure {
    fn from(error: RunError) -> Failure {
        Failure::Run(error)
    }
}
