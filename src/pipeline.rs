//! Calls the stages in order: [`read`] surveys into an [`Input`], then [`work`] it into the
//! [`Report`] that every output is lent. A stop holds one opening, and the others go on.

mod catalog;
mod compare;
mod error;
mod memory;
mod options;
mod progress;

pub use catalog::catalog;
pub use compare::{Compared, compare};
pub use error::RunError;
pub use memory::MOST_MEMORY;
use options::{Chosen, Source};
pub use options::{Options, verified_option};
pub use progress::{Progress, Silent, Stage};

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;

use crate::cost;
use crate::cutting::{self, KnownPlans};
use crate::days;
use crate::earlier::{self, Earlier, EarlierError};
use crate::fitting;
use crate::frozen;
use crate::grid::{self, Fingerprint, Grid};
use crate::hardware;
use crate::invariants;
use crate::length::Unit;
use crate::order;
use crate::phases;
use crate::place::Sheets;
use crate::query::{self, Query};
use crate::report::{AlsoFits, Counts, Report};
use crate::rules::{self, OptionRow, Rules};
use crate::sizing;
use crate::sourcing;
use crate::spares;
use crate::survey::{self, Survey};

/// All that a run works on, as read from its surveys.
#[derive(Debug)]
pub struct Input {
    /// Names of the surveys' sheets.
    pub sheets: Sheets,
    /// The rules, the surveys' own over those built in.
    pub rules: Rules,
    /// The openings.
    pub survey: Survey,
    /// What an earlier fit-out, or a sheet `Blinds` of the surveys, remembers.
    pub earlier: Option<Earlier>,
    /// What reading raised.
    pub queries: Vec<Query>,
    /// What tells this state of the surveys from another; `None` where the cells are of no file.
    pub fingerprint: Option<Fingerprint>,
    /// The choices that are compared.
    pub options: Options,
}

/// What a run is asked for beside its surveys.
#[derive(Clone, Copy, Debug, Default)]
pub struct Wanted<'w> {
    /// The earlier fit-out to go on from.
    pub after: Option<&'w Path>,
    /// What a bare number is in; `None` leaves it to the surveys.
    pub unit: Option<Unit>,
    /// The choice of the sheet `Options` to run; `None` for the survey as it stands.
    pub option: Option<&'w str>,
}

/// Reads surveys, in the order given, as one order. `unit` is what a bare number is in; `None`
/// leaves it to the surveys.
///
/// # Errors
/// [`RunError`] where nothing can be made of them at all.
pub fn read(paths: &[PathBuf], unit: Option<Unit>, progress: &dyn Progress) -> Result<Input, RunError> {
    read_as(paths, Wanted { unit, ..Wanted::default() }, progress)
}

/// Reads surveys as [`read`] does, with all that is asked for beside them.
///
/// # Errors
/// [`RunError`] where nothing can be made of them at all.
pub fn read_as(paths: &[PathBuf], wanted: Wanted<'_>, progress: &dyn Progress) -> Result<Input, RunError> {
    progress.begin(Stage::Reading);
    let mut sheets = Sheets::default();
    let (grids, fingerprint) = grid::read_all(paths, &mut sheets)?;
    let earlier =
        wanted.after.map(|path| grid::read_earlier(path, &mut sheets, &earlier::is_read)).transpose()?;
    memory::for_rows(&grids, earlier.as_ref())?;
    Ok(Input {
        fingerprint: Some(fingerprint),
        ..settle(wanted.option, earlier, grids, sheets, wanted.unit)?
    })
}

/// Makes one order of what the files hold, in the order given; `sheets` names their sheets and
/// `unit` is what a bare number is in, `None` leaving it to the surveys.
///
/// # Errors
/// [`RunError`] where nothing can be made of them at all.
pub fn understand(grids: &[Grid], sheets: Sheets, unit: Option<Unit>) -> Result<Input, RunError> {
    understand_after(None, grids, sheets, unit)
}

/// Makes one order of what the files hold, after what an earlier fit-out remembers.
///
/// # Errors
/// [`RunError`] where nothing can be made of them at all.
pub fn understand_after(
    earlier: Option<&Grid>,
    grids: &[Grid],
    sheets: Sheets,
    unit: Option<Unit>,
) -> Result<Input, RunError> {
    memory::for_rows(grids, earlier)?;
    settle(None, earlier.cloned(), grids.to_vec(), sheets, unit)
}

/// Makes one order of what the files hold with the wanted choice, and keeps what the others are read from.
fn settle(
    option: Option<&str>,
    earlier: Option<Grid>,
    grids: Vec<Grid>,
    sheets: Sheets,
    unit: Option<Unit>,
) -> Result<Input, RunError> {
    let mut queries = Vec::new();
    let mut rows = Vec::new();
    if rules::has_options(&grids) {
        let files = survey::lay_out_after(earlier.as_ref(), &grids)?;
        let bare = survey::settle_units(&files, &sheets, unit)?;
        let read = rules::options(&grids, bare.unit);
        rows = read.map_err(|error| RunError::of_rules(error, sheets.clone()))?.into_value(&mut queries);
    }
    let taken = option.map(|wanted| Options::find(&rows, wanted)).transpose()?;
    let mut input = understand_as(None, earlier.as_ref(), &grids, sheets.clone(), unit)?;
    if let Some(taken) = taken {
        let chosen = Chosen { row: &rows[taken], but_for: &options::ordered(&input) };
        input = understand_as(Some(chosen), earlier.as_ref(), &grids, sheets.clone(), unit)?;
    }
    let unlisted = rules::unlisted(&rows, &input.rules.products);
    queries.extend(unlisted.map_err(|error| RunError::of_rules(error, sheets.clone()))?);
    input.queries.extend(queries);
    let source = (!rows.is_empty()).then_some(Source { earlier, grids, sheets, unit });
    input.options = Options { rows, taken, source };
    Ok(input)
}

/// Makes one order of what the files hold with what a choice has in place of it.
fn understand_as(
    chosen: Option<Chosen<'_>>,
    earlier: Option<&Grid>,
    grids: &[Grid],
    sheets: Sheets,
    unit: Option<Unit>,
) -> Result<Input, RunError> {
    let files = survey::lay_out_after(earlier, grids)?;
    let bare = survey::settle_units(&files, &sheets, unit)?;
    let mut queries = Vec::new();
    let option = chosen.map(|chosen| chosen.row);
    let rules = match rules::build_as(option, grids, bare.unit) {
        Ok(rules) => rules.into_value(&mut queries),
        Err(error) => return Err(RunError::of_rules(error, sheets)),
    };
    let cells = option.map_or(&[][..], OptionRow::of_openings);
    let none = BTreeSet::new();
    let but_for = chosen.map_or(&none, |chosen| chosen.but_for);
    let survey = survey::read_with(cells, but_for, &files, &sheets, bare)?.into_value(&mut queries);
    let earlier = earlier::read(earlier, grids, &sheets, bare.unit)?;
    let earlier = earlier.map(|earlier| earlier.into_value(&mut queries));
    if let Some(earlier) = &earlier {
        earlier::check_same_project(earlier, &survey, &rules.project)?;
    }
    let typed = earlier.as_ref().map_or(&[][..], |earlier| &earlier.inputs);
    let rules = rules.with_typed(typed).into_value(&mut queries);
    let options = Options::default();
    Ok(Input { sheets, rules, survey, earlier, queries, fingerprint: None, options })
}

/// Works out everything that follows from what was read. The same input gives the same report, on
/// any number of threads.
///
/// # Errors
/// [`RunError::TooLarge`], and [`RunError::Cutting`] where a stage has handed on what cannot be cut.
pub fn work<'i>(input: &'i Input, progress: &dyn Progress) -> Result<Report<'i>, RunError> {
    let known = input.options.known_plans();
    let report = work_one(input, &known, progress)?;
    let options = options::compare(input, &report, &known, progress)?;
    Ok(Report { options, ..report })
}

/// Hands a report on to be written, once every invariant holds of it. Where one does not the report is gone.
///
/// # Errors
/// [`RunError::Breach`], where a stage has made what cannot be.
pub fn verified<'r>(report: Report<'r>, progress: &dyn Progress) -> Result<Report<'r>, RunError> {
    progress.begin(Stage::Checking);
    invariants::hold(&report)?;
    Ok(report)
}

/// Hands a part of an order on likewise, as [`Report::narrowed`] gives it.
///
/// # Errors
/// As [`verified`].
pub fn verified_part(part: Report<'_>) -> Result<Report<'_>, RunError> {
    invariants::hold_part(&part)?;
    Ok(part)
}

/// Works out what was read, without the choices beside it.
fn work_one<'i>(
    input: &'i Input,
    known: &KnownPlans,
    progress: &dyn Progress,
) -> Result<Report<'i>, RunError> {
    let Input { sheets, rules, survey, .. } = input;
    let mut queries = input.queries.clone();
    let mut answers = survey.answers.clone();
    let counts = memory::Counts::of(input);
    counts.hold()?;

    progress.begin(Stage::Sizing);
    let frozen = frozen::tie(survey, input.earlier.as_ref()).into_value(&mut queries);
    let sizings = sizing::size_openings(survey, &frozen, rules).into_value(&mut queries);
    progress.begin(Stage::Sourcing);
    let sourcing = sourcing::source(survey, &sizings, &frozen, rules).into_value(&mut queries);
    progress.begin(Stage::Fitting);
    let blinds =
        fitting::fit_openings(survey, sizings, sourcing.sizes, &frozen, rules).into_value(&mut queries);
    progress.begin(Stage::Ordering);
    let order = order::group_identical(survey, &blinds, &frozen, rules);
    counts.hold_with(&order)?;
    queries.extend(order::boxes_that_lack(&blinds, &frozen));
    let days = days::plan(survey, &blinds, &order, input.earlier.as_ref(), rules).into_value(&mut queries);
    let spares = spares::of(&order, rules);
    queries.extend(order::typed_in_vain(&order, &frozen));
    queries.extend(spares::typed_in_vain(&order, &spares));
    if let Some((line, part)) = cutting::ordered_too_long(&order, rules) {
        let first = line.seats.iter().find_map(|seat| seat.kept).and_then(|kept| frozen.blinds().get(kept));
        return Err(RunError::Earlier(EarlierError::CannotBeCut {
            at: first.map_or_else(|| format!("line {}", line.line), |blind| sheets.show(blind.at)),
            length: part.length.in_full(rules.project.units),
            material: part.material.to_string(),
        }));
    }
    progress.begin(Stage::Cutting);
    let (cuts, hardware) = rayon::join(
        || cutting::plan_cuts(&order, &spares, survey, rules, known),
        || hardware::total(survey, &blinds, &spares, rules),
    );
    let cuts = cuts?;
    progress.begin(Stage::Pricing);
    let job = cost::Job {
        survey,
        blinds: &blinds,
        order: &order,
        spares: &spares,
        cuts: &cuts,
        hardware: &hardware,
        frozen: &frozen,
        rules,
    };
    let cost = cost::price(job).into_value(&mut queries);
    let phases = phases::add_up(job, &cost).into_value(&mut queries);

    let products = sizing::assumed(survey, blinds.iter().map(|blind| Some(&blind.as_ref()?.sizing)));
    let walls = fitting::assumed(survey, &blinds);
    let blanks = survey::assumed(survey, |opening| blinds[opening].is_some());
    let assumed = rules.assumptions.iter().chain(&blanks).chain(&products);
    let payers = frozen::assumed(&frozen);
    let assumptions = assumed.chain(&walls).chain(&sourcing.assumptions).chain(&payers).cloned().collect();
    let (merging, stock_use, sizes_curve) = (sourcing.merging, sourcing.stock_use, sourcing.sizes_curve);
    let also_fits = AlsoFits::all(survey, &blinds, &frozen, &order);
    let counts = Counts::of(survey, &blinds);
    let used_for = frozen::used_for(&queries);
    query::accept(&mut queries, &mut answers, |cell| sheets.show(cell));
    let accepted = queries.extract_if(.., |query| query.accepted.is_some()).collect();
    let gather = |queries| query::gather(queries, |opening| survey.openings[opening].who.quantity);
    let (queries, accepted) = (gather(queries), gather(accepted));
    Ok(Report {
        sheets,
        rules,
        survey,
        frozen,
        used_for,
        blinds,
        merging,
        stock_use,
        sizes_curve,
        also_fits,
        days,
        spares,
        order,
        cuts,
        hardware,
        cost,
        phases,
        assumptions,
        queries,
        accepted,
        answers,
        counts,
        fingerprint: input.fingerprint,
        option: input.options.option().map(|option| option.name.as_str()),
        options: Vec::new(),
        pilot: OnceLock::new(),
        changes: OnceLock::new(),
    })
}
