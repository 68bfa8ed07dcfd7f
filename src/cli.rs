//! The command line, and the help, completions and manual that are made from it.

use std::io::{self, Write};
use std::path::PathBuf;

use clap::{Args, CommandFactory, Parser, Subcommand, ValueEnum};
use clap_complete::Shell;
use clap_mangen::Man;
use sillbook::length::{Unit, Units};
use sillbook::schema::blinds::BlindState;
use sillbook::schema::choices::Choice;

/// Most threads that `--threads` takes.
const MOST_THREADS: u16 = 256;

const EXIT_CODES: &str = "\
Exit codes:
  0  done; the last line says what is held or provisional
  1  check found something held, or run --strict something held or provisional
  2  wrong command line, or explain found no such opening
  3  nothing written: a file could not be read, or an output could not be made";

/// Turn a survey of door and window openings into a fit-out workbook for their blinds.
///
/// The survey has one row for each opening. The fit-out workbook has the order, labels, cut lists,
/// hardware, a page for each unit and the costs. Begin with "sillbook new survey.xlsx", or use a
/// survey or schedule as it is. A survey is never changed.
#[derive(Debug, Parser)]
#[command(name = "sillbook", version, after_help = EXIT_CODES, disable_help_subcommand = true)]
pub struct Cli {
    #[command(subcommand)]
    pub command: Command,
}

#[derive(Debug, Subcommand)]
pub enum Command {
    /// Write a blank survey workbook to fill in
    ///
    /// It shows how to measure, and has every column that an opening can have and every rule with its
    /// default. An existing file is never overwritten.
    New(New),
    /// List every query of the surveys; write no fit-out
    ///
    /// Each query is listed with all its places and what to do. Stops, which hold an opening, come last,
    /// just above the result. Everything goes to standard error, and to the file that --report names: as
    /// text, or as a workbook in which queries can be answered.
    #[command(after_long_help = EXIT_CODES)]
    Check(Check),
    /// Size every opening and write the fit-out workbook
    ///
    /// The workbook is written beside the first survey as <survey>-fitout.xlsx unless -o names another.
    /// Standard error shows every stop, which holds an opening, in full and all else in short; the sheet
    /// Queries of the workbook has everything. Outputs are written whole or not at all.
    #[command(after_long_help = EXIT_CODES)]
    Run(Run),
    /// Show how every number of one opening was worked out
    ///
    /// Each step is shown with its value and the cell or rule that it comes from, on standard output.
    #[command(after_long_help = EXIT_CODES)]
    Explain(Explain),
    /// List what is different between two fit-outs of a job
    ///
    /// Openings, what was surveyed of them, sizes, lines of the order, prices and rules, before and after,
    /// and what is still to order, to cancel or to make again. No survey is read. Everything goes to standard
    /// output.
    #[command(after_long_help = EXIT_CODES)]
    Compare(Compare),
    /// Write completions for a shell to standard output
    #[command(hide = true)]
    Completions {
        /// The shell
        shell: Shell,
    },
    /// Write the manual page to standard output
    #[command(hide = true)]
    Manual,
}

#[derive(Debug, Args)]
pub struct New {
    /// Workbook to write, ending in .xlsx
    #[arg(value_parser = workbook_name)]
    pub file: PathBuf,
    /// Units of the survey: inches or millimeters
    #[arg(long, value_enum, default_value = "in", value_name = "in|mm", hide_possible_values = true)]
    pub units: UnitsName,
}

#[derive(Debug, Args)]
pub struct Surveys {
    /// Surveys, run as one order; a folder means every survey in it
    ///
    /// A survey is a workbook (.xlsx, .xlsm, .xlsb, .xls, .ods) or a text table (.csv, .tsv).
    #[arg(required = true, value_name = "SURVEY")]
    pub paths: Vec<PathBuf>,
    /// Units of numbers written without one; overrides the surveys
    #[arg(long, value_enum, value_name = "in|mm|cm|m", hide_possible_values = true)]
    pub units: Option<UnitName>,
}

#[derive(Debug, Args)]
pub struct Check {
    #[command(flatten)]
    pub surveys: Surveys,
    /// Earlier fit-out of the same job, taken up as by run
    #[arg(long, value_name = "EARLIER.xlsx")]
    pub after: Option<PathBuf>,
    /// Also write what was found to a workbook or a text file
    #[arg(long, value_name = "FILE.xlsx|FILE.txt", value_parser = report_name)]
    pub report: Option<PathBuf>,
    /// Overwrite an existing report
    #[arg(long)]
    pub force: bool,
}

#[derive(Debug, Args)]
pub struct Run {
    #[command(flatten)]
    pub surveys: Surveys,
    /// Earlier fit-out of the same job to go on from
    ///
    /// Its answers, its lines, what is typed on its sheets Blinds and Cost summary are taken up; what is
    /// ordered stays as it was ordered. The file itself is not changed.
    #[arg(long, value_name = "EARLIER.xlsx")]
    pub after: Option<PathBuf>,
    /// Option to run, by its name on the survey's sheet Options
    ///
    /// Without it the survey is run as it stands. The options are compared either way.
    #[arg(long, value_name = "NAME")]
    pub option: Option<String>,
    /// Fit-out workbook to write [default: <survey>-fitout.xlsx]
    ///
    /// With --after and without a name it is <survey>-fitout 2.xlsx, or the next number that is free.
    #[arg(short, long, value_name = "OUT.xlsx", value_parser = workbook_name)]
    pub output: Option<PathBuf>,
    /// Also write the maker's copy of what is not ordered yet
    ///
    /// It has the order, its openings, labels and cut list, and no money.
    #[arg(long, value_name = "OUT.xlsx", value_parser = workbook_name)]
    pub order: Option<PathBuf>,
    /// Phase of the maker's copy; may be repeated
    ///
    /// A blank phase is "". Without a phase the copy is for all of them.
    #[arg(long, value_name = "NAME", requires = "order")]
    pub phase: Vec<String>,
    /// State of the maker's copy, such as remake; may be repeated
    ///
    /// A word of the column State on the sheet Blinds: remake is what is made again and not ordered yet,
    /// any other word a copy of what has come so far.
    #[arg(long, value_name = "WORD", requires = "order", value_parser = state)]
    pub state: Vec<BlindState>,
    /// Also write the results as JSON
    #[arg(long, value_name = "OUT.json")]
    pub json: Option<PathBuf>,
    /// Also write the results as CSV files into this folder
    #[arg(long, value_name = "DIR")]
    pub csv: Option<PathBuf>,
    /// Leave out all pictures: drawings, codes, bars of the cut list
    #[arg(long)]
    pub no_drawings: bool,
    /// Show the working of every opening on the sheet Working
    ///
    /// Without it the sheet has the first opening of each order line, and every opening with a stop or a
    /// check. JSON, CSV and explain have every opening either way.
    #[arg(long)]
    pub working: bool,
    /// Overwrite existing output files
    #[arg(long)]
    pub force: bool,
    /// Exit with 1 if anything is held or provisional
    #[arg(long)]
    pub strict: bool,
    /// Number of threads to use; the results do not depend on it
    #[arg(long, value_name = "N", value_parser = threads)]
    pub threads: Option<u16>,
}

#[derive(Debug, Args)]
pub struct Explain {
    /// Survey that has the opening; a folder means every survey in it
    pub survey: PathBuf,
    /// Opening to explain: its id, unit/id or building/unit/id
    pub opening: String,
    /// Earlier fit-out of the same job, taken up as by run
    #[arg(long, value_name = "EARLIER.xlsx")]
    pub after: Option<PathBuf>,
    /// Units of numbers written without one; overrides the survey
    #[arg(long, value_enum, value_name = "in|mm|cm|m", hide_possible_values = true)]
    pub units: Option<UnitName>,
}

#[derive(Debug, Args)]
pub struct Compare {
    /// Earlier fit-out
    #[arg(value_name = "EARLIER.xlsx")]
    pub earlier: PathBuf,
    /// Later fit-out of the same job
    #[arg(value_name = "LATER.xlsx")]
    pub later: PathBuf,
    /// Write the list as JSON, as under the key changes of run --json
    #[arg(long)]
    pub json: bool,
}

/// What the sizes of a blank survey are shown in.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum UnitsName {
    In,
    Mm,
}

/// What the numbers of a survey are in.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum UnitName {
    In,
    Mm,
    Cm,
    M,
}

impl From<UnitsName> for Units {
    fn from(name: UnitsName) -> Units {
        match name {
            UnitsName::In => Units::Inches,
            UnitsName::Mm => Units::Millimeters,
        }
    }
}

impl From<UnitName> for Unit {
    fn from(name: UnitName) -> Unit {
        match name {
            UnitName::In => Unit::Inch,
            UnitName::Mm => Unit::Millimeter,
            UnitName::Cm => Unit::Centimeter,
            UnitName::M => Unit::Meter,
        }
    }
}

/// A state by its word on the sheet `Blinds`.
fn state(text: &str) -> Result<BlindState, String> {
    let word = BlindState::WORDS.meant(text).and_then(BlindState::of);
    if word == Some(BlindState::Cancelled) {
        return Err("what is cancelled is in no order".to_owned());
    }
    word.ok_or_else(|| format!("it must be one of {}", BlindState::WORDS.own.join(", ")))
}

/// A workbook under any other ending would not open.
fn workbook_name(text: &str) -> Result<PathBuf, String> {
    let path = PathBuf::from(text);
    match path.extension() {
        Some(ending) if ending.eq_ignore_ascii_case("xlsx") => Ok(path),
        _ => Err("the file name must end in .xlsx".to_owned()),
    }
}

/// Text, or a workbook in which queries can be answered.
fn report_name(text: &str) -> Result<PathBuf, String> {
    let path = PathBuf::from(text);
    match path.extension() {
        Some(ending) if ["xlsx", "txt"].iter().any(|known| ending.eq_ignore_ascii_case(known)) => Ok(path),
        _ => Err("the file name must end in .xlsx or .txt".to_owned()),
    }
}

fn threads(text: &str) -> Result<u16, String> {
    let count = text.parse().ok().filter(|count| (1..=MOST_THREADS).contains(count));
    count.ok_or_else(|| format!("it must be a number from 1 to {MOST_THREADS}"))
}

/// What a shell reads to complete a command line.
pub fn completions(shell: Shell) -> String {
    let mut script = Vec::new();
    clap_complete::generate(shell, &mut Cli::command(), "sillbook", &mut script);
    String::from_utf8_lossy(&script).into_owned()
}

/// One manual page, with a section for each command that the help lists.
pub fn manual() -> String {
    let mut whole = Cli::command();
    whole.build();
    let man = Man::new(whole.clone());
    let mut page = rendered(
        &man,
        &[
            Man::render_title,
            Man::render_name_section,
            Man::render_synopsis_section,
            Man::render_description_section,
        ],
    );
    for command in whole.get_subcommands().filter(|command| !command.is_hide_set()) {
        let man = Man::new(command.clone());
        let sections = rendered(
            &man,
            &[Man::render_synopsis_section, Man::render_description_section, Man::render_options_section],
        );
        let name = command.get_name().to_uppercase();
        page += &format!(".SH {name}\n{}", sections.replace("\n.SH ", "\n.SS "));
    }
    let codes = rendered(&man, &[Man::render_extra_section]);
    page + &codes.replace(".SH EXTRA", ".SH \"EXIT STATUS\"")
}

/// How a library writes one section of a manual.
type Section = fn(&Man, &mut dyn Write) -> io::Result<()>;

fn rendered(man: &Man, sections: &[Section]) -> String {
    let mut text = Vec::new();
    // Memory takes all that is written to it.
    let _ = sections.iter().try_for_each(|section| section(man, &mut text));
    String::from_utf8_lossy(&text).into_owned()
}
