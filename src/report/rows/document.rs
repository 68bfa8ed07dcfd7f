//! The whole result, list by list; and its project, counts and totals in one row.

use super::cost::CURRENCY;
use super::{
    AlsoFitsRow, AnswerRow, AssumptionRow, BitRow, BlindRow, ByPhaseRow, ChangeRow, ChoiceRow, ColorRow,
    ColumnReadRow, CostRow, DeliveryRow, FittingDayRow, HardwareRow, LabelRow, LessCoverRow, LineRow,
    LoadRow, LooseRow, NoticeRow, OffcutRow, OpeningRow, PhaseRow, PilotRow, PlanRow, QueryRow, RangeRow,
    SizesAtRow, SpareRow, StockUseRow, TotalsRow, UnitRow,
};
use crate::date::Date;
use crate::report::figure::{Rows, row};
use crate::report::{Change, Counts, Doubts, Report, Unit};

/// Name and version of the format. A later version may add keys; a change of what stands gets a
/// new number.
pub const FORMAT: &str = "sillbook/1";

/// The whole result.
#[derive(Clone, Copy)]
pub struct DocumentRow<'r> {
    format: &'static str,
    report: &'r Report<'r>,
    doubts: &'r Doubts<'r>,
    units: &'r [Unit<'r>],
    changes: &'r [Change],
}

row! {
    /// What `sillbook run --json` writes. Lengths are in millimeters with up to six decimals. Every key is
    /// always present; null means unknown or held. Quantities in order, cuts and hardware count blinds, not
    /// rows of the survey. Left and right are as seen from inside the room.
    DocumentRow<'r>: row {
        /// Name and version of the format.
        format: &'static str = row.format => one_of(&[FORMAT]);
        /// What tells this state of the surveys from another, as on every page; null where they are of no file.
        survey_fingerprint: Option<String> = row.report.fingerprint.map(|print| print.to_string());
        /// The project.
        project: ProjectRow<'r> = ProjectRow(row.report);
        /// The option that the run is of; null for the survey as it stands.
        option: Option<&'r str> = row.report.option;
        /// False if anything is held or provisional; unpriced lines do not affect it.
        complete: bool = row.report.complete();
        /// Counts of quantities; `rows` alone counts rows.
        counts: CountsRow<'r> = CountsRow(&row.report.counts);
        /// The survey's rows, in its order.
        openings: Rows<'r, OpeningRow<'r>> = Rows::new(move || OpeningRow::all(row.report, row.doubts));
        /// The order's lines.
        order: Rows<'r, LineRow<'r>> = Rows::new(move || LineRow::all(row.report));
        /// Spare louvers to order beside the blinds; empty where blinds are made, for there they are cut.
        spare_louvers: Rows<'r, SpareRow<'r>> = Rows::new(move || SpareRow::all(row.report));
        /// Order totals by product and color.
        colors: Rows<'r, ColorRow<'r>> = Rows::new(move || ColorRow::all(row.report));
        /// What is delivered where, by phase and floor.
        deliveries: Rows<'r, DeliveryRow<'r>> = Rows::new(move || DeliveryRow::all(row.report));
        /// The opening that each blind is for, line by line.
        labels: Rows<'r, LabelRow<'r>> = Rows::new(move || LabelRow::all(row.report));
        /// Every blind, spare louvers, and lines that nothing is on any more: what is kept from run to run.
        blinds: Rows<'r, BlindRow<'r>> = Rows::new(move || BlindRow::all(row.report));
        /// Where else blinds that do not hang yet would fit, line by line, best first: at most 20 openings each.
        also_fits: Rows<'r, AlsoFitsRow<'r>> = Rows::new(move || AlsoFitsRow::all(row.report));
        /// Stock sizes that openings use or would use, and what one more of each would save.
        stock_use: Rows<'r, StockUseRow<'r>> = Rows::new(move || StockUseRow::all(row.report));
        /// Stock sizes that overlap less than the minimum, as far as the project accepts it, opening by opening.
        less_cover: Rows<'r, LessCoverRow<'r>> = Rows::new(move || LessCoverRow::all(row.report));
        /// The cut plans, by material and color.
        cuts: Rows<'r, PlanRow<'r>> = Rows::new(move || PlanRow::all(row.report));
        /// Where each phase is cut separately: what that takes, compared with the whole project cut at once, by
        /// material and color; otherwise empty. `cuts` are the plans to cut.
        by_phase: Rows<'r, ByPhaseRow<'r>> = Rows::new(move || ByPhaseRow::all(row.report));
        /// Offcuts left after cutting, by material and color, longest first.
        offcuts: Rows<'r, OffcutRow<'r>> = Rows::new(move || OffcutRow::all(row.report));
        /// The survey as it stands and every option of its sheet Options; empty without that sheet.
        options: Rows<'r, ChoiceRow<'r>> = Rows::new(move || ChoiceRow::all(row.report));
        /// The units to fit first; null where all of them would be.
        pilot: Option<PilotRow<'r>> = PilotRow::of(row.report);
        /// Parts and fixings of sized and provisional blinds.
        hardware: Rows<'r, HardwareRow<'r>> = Rows::new(move || HardwareRow::all(row.report));
        /// What drills the holes of the fixings, and what drives them.
        bits: Rows<'r, BitRow<'r>> = Rows::new(move || BitRow::all(row.report));
        /// Counts of the same items by unit.
        loose: Rows<'r, LooseRow<'r>> = Rows::new(move || LooseRow::by_unit(row.report));
        /// The units, each with what its fitter must bring.
        units: Rows<'r, UnitRow<'r>> = Rows::new(move || UnitRow::all(row.report, row.doubts, row.units));
        /// What fewer sizes cost and save, from no change to whole windows; empty unless sizes are merged, or a set-up
        /// costs something.
        sizes_curve: Rows<'r, SizesAtRow<'r>> = Rows::new(move || SizesAtRow::all(row.report));
        /// The visits to units and their days: those to come, then others beside which something is typed.
        fitting_days: Rows<'r, FittingDayRow<'r>> = Rows::new(move || FittingDayRow::all(row.report));
        /// What goes up to each floor, by phase.
        loads: Rows<'r, LoadRow<'r>> = Rows::new(move || LoadRow::all(row.report).into_iter());
        /// What residents are told of the visits that have a date; empty where the survey asks for no days.
        notices: Rows<'r, NoticeRow<'r>> = Rows::new(move || NoticeRow::all(row.report).into_iter());
        /// What it costs.
        cost: CostRow<'r> = CostRow::of(row.report);
        /// Each phase against its budget and its dates, then what no phase takes: together the known total. Empty
        /// where the job has no phases.
        phases: Rows<'r, PhaseRow<'r>> = Rows::new(move || PhaseRow::all(row.report));
        /// What the total may come to.
        range: RangeRow<'r> = RangeRow(row.report);
        /// Values assumed because a cell was blank.
        assumptions: Rows<'r, AssumptionRow<'r>> = Rows::new(move || AssumptionRow::all(row.report));
        /// What someone must answer or look at: stops, then checks, then notes; within each, first the query
        /// that affects the most openings.
        queries: Rows<'r, QueryRow<'r>> = Rows::new(move || QueryRow::all(row.report));
        /// What was answered to the queries of earlier runs, and what became of each answer.
        answers: Rows<'r, AnswerRow<'r>> = Rows::new(move || AnswerRow::all(row.report));
        /// What the headings of the surveys were taken as, table by table.
        columns: Rows<'r, ColumnReadRow<'r>> = Rows::new(move || ColumnReadRow::all(row.report));
        /// What is different from the fit-out that the run took up, and what is still to be done; empty where it
        /// took up none.
        changes: Rows<'r, ChangeRow<'r>> = Rows::new(move || ChangeRow::all(row.changes, Some(row.report.rules.project.currency)));
    }
}

impl<'r> DocumentRow<'r> {
    /// The whole result; `doubts`, `units` and `changes` are those of the report.
    pub fn of(
        report: &'r Report<'r>,
        doubts: &'r Doubts<'r>,
        units: &'r [Unit<'r>],
        changes: &'r [Change],
    ) -> DocumentRow<'r> {
        DocumentRow { format: FORMAT, report, doubts, units, changes }
    }
}

/// The project.
#[derive(Clone, Copy)]
pub struct ProjectRow<'r>(&'r Report<'r>);

row! {
    /// The project.
    ProjectRow<'r>: row {
        /// Its name; empty if blank.
        name: &'r str = &row.0.rules.project.name;
        /// The survey's revision.
        revision: &'r str = &row.0.rules.project.revision;
        /// Number of the order; empty if blank.
        order_number: &'r str = &row.0.rules.project.order_number;
        /// Address of the building; empty if blank.
        site: &'r str = &row.0.rules.project.site;
        /// Who the work is for; empty if blank.
        client: &'r str = &row.0.rules.project.client;
        /// Address of the client; empty if blank.
        client_address: &'r str = &row.0.rules.project.client_address;
        /// Address that the boxes go to; empty if blank.
        deliver_to: &'r str = &row.0.rules.project.deliver_to;
        /// Whom the maker asks; empty if blank.
        contact: &'r str = &row.0.rules.project.contact;
        /// Date of the order, or of the survey where that is blank; null if both are.
        order_date: Option<Date> = row.0.rules.project.order_date.or(row.0.rules.project.survey_date);
        /// Date on which the blinds must be on site; null if blank.
        need_by: Option<Date> = row.0.rules.project.need_by;
        /// Unit of the survey's sizes; every length here is still in mm.
        units: &'static str = row.0.rules.project.units.symbol() => one_of(&["in", "mm"]);
        /// ISO 4217 code.
        currency: &'r str = row.0.rules.project.currency.code() => like(CURRENCY);
    }
}

/// The counts.
#[derive(Clone, Copy)]
pub struct CountsRow<'r>(&'r Counts);

row! {
    /// Counts of quantities; `rows` alone counts rows.
    CountsRow<'r>: row {
        /// Rows with an opening that were read.
        rows: u64 = row.0.rows;
        /// Openings.
        openings: u64 = row.0.openings;
        /// Sized and released.
        sized: u64 = row.0.sized;
        /// Sized, but not released: not measured with a tape, or floor thickness unknown.
        provisional: u64 = row.0.provisional;
        /// Held back by a stop.
        held: u64 = row.0.held;
        /// Blinds: sized + provisional.
        blinds: u64 = row.0.blinds;
        /// Different combinations of product, width and drop among those.
        sizes: u64 = row.0.sizes;
    }
}

/// Project, counts and totals.
#[derive(Clone, Copy)]
pub struct SummaryRow<'r>(&'r Report<'r>);

row! {
    /// Project, counts and totals in one row.
    SummaryRow<'r>: row {
        /// The project.
        project: ProjectRow<'r> = ProjectRow(row.0);
        /// False if anything is held or provisional.
        complete: bool = row.0.complete();
        /// The counts.
        counts: CountsRow<'r> = CountsRow(&row.0.counts);
        /// The totals.
        cost: TotalsRow<'r> = TotalsRow::of(row.0);
    }
}

impl<'r> SummaryRow<'r> {
    /// All of it.
    pub fn of(report: &'r Report<'r>) -> SummaryRow<'r> {
        SummaryRow(report)
    }
}
