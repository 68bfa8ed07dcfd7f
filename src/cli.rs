//! The command line.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};
use sillbook::length::Units;

/// Most threads that `--threads` takes.
const MOST_THREADS: i64 = 256;

const EXIT_CODES: &str = "\
Exit codes:
  0  done; what is held or provisional is said in the last line
  1  the same, where --strict asks for a complete order or check finds something held
  2  wrong command line, or no opening of that name
  3  nothing was written: a survey could not be read or holds no opening, or an output could not be made

Queries, messages and the last line go to standard error; what explain explains goes to standard output.";

/// Reads a survey of door and window openings and writes back a fit-out workbook for their blinds.
#[derive(Debug, Parser)]
#[command(version, after_help = EXIT_CODES, disable_help_subcommand = true)]
pub struct Cli {
    #[command(subcommand)]
    pub command: Command,
}

#[derive(Debug, Subcommand)]
pub enum Command {
    /// Write a blank survey workbook, with the rules filled in
    New(New),
    /// Read surveys and report what is to be asked; write nothing
    Check(Surveys),
    /// Work surveys out and write the fit-out workbook
    Run(Run),
    /// Show every step of every number of one opening
    Explain(Explain),
}

#[derive(Debug, Args)]
pub struct New {
    /// The workbook to write
    #[arg(value_parser = workbook_name)]
    pub file: PathBuf,
    /// Units of the survey
    #[arg(long, value_enum, default_value = "in")]
    pub units: UnitsName,
}

#[derive(Debug, Args)]
pub struct Surveys {
    /// The surveys, as one order; a folder stands for the surveys in it
    #[arg(required = true, value_name = "SURVEY")]
    pub paths: Vec<PathBuf>,
    /// What a bare number is in, whatever the surveys say
    #[arg(long, value_enum)]
    pub units: Option<UnitsName>,
}

#[derive(Debug, Args)]
pub struct Run {
    #[command(flatten)]
    pub surveys: Surveys,
    /// The fit-out workbook; by default <survey>-fitout.xlsx beside the first survey
    #[arg(short, long, value_name = "OUT.xlsx", value_parser = workbook_name)]
    pub output: Option<PathBuf>,
    /// Write the result as JSON too
    #[arg(long, value_name = "OUT.json")]
    pub json: Option<PathBuf>,
    /// Write the result as CSV files too, in this folder
    #[arg(long, value_name = "DIR")]
    pub csv: Option<PathBuf>,
    /// Leave out every picture: drawings of openings, codes on labels, bars of the cut list
    #[arg(long)]
    pub no_drawings: bool,
    /// Replace outputs that are there already
    #[arg(long)]
    pub force: bool,
    /// Exit with 1 if anything is held or provisional
    #[arg(long)]
    pub strict: bool,
    /// Threads to work on; the result is the same on any number
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=MOST_THREADS))]
    pub threads: Option<u16>,
}

#[derive(Debug, Args)]
pub struct Explain {
    /// The survey
    pub survey: PathBuf,
    /// The opening: its id, unit/id or building/unit/id
    pub opening: String,
    /// What a bare number is in, whatever the survey says
    #[arg(long, value_enum)]
    pub units: Option<UnitsName>,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum UnitsName {
    /// Inches
    In,
    /// Millimeters
    Mm,
}

impl From<UnitsName> for Units {
    fn from(name: UnitsName) -> Units {
        match name {
            UnitsName::In => Units::Inches,
            UnitsName::Mm => Units::Millimeters,
        }
    }
}

/// A workbook under any other ending would not open.
fn workbook_name(text: &str) -> Result<PathBuf, String> {
    let path = PathBuf::from(text);
    match path.extension() {
        Some(ending) if ending.eq_ignore_ascii_case("xlsx") => Ok(path),
        _ => Err("a workbook's name ends in .xlsx".to_owned()),
    }
}
