//! The fit-out as CSV files, one a list. A column is named by its JSON key, an object's keys by
//! the object's and their own: `louvers_count`. Beside each length in millimeters stands the same in
//! inches where the survey is in inches (`width_mm`, `width_in`). Values of a list share a cell; a list
//! of rows has a file of its own. Blank is unknown, or held. A file begins with the mark by which
//! spreadsheets know UTF-8 (RFC 3629).

use std::io::{self, Write};

use crate::length::{Length, Unit, Units};
use crate::report::figure::{Figure, Key, Kind, Row, Value};
use crate::report::rows::{
    AlsoFitsRow, AnswerRow, AssumptionRow, BitRow, BlindRow, ByPhaseRow, CandidateRow, CautionRow, ChangeRow,
    ChoiceRow, ColorRow, ColumnReadRow, CostLineRow, DeliveryRow, FittingDayRow, HardwareRow, LabelRow,
    LessCoverRow, LineRow, LoadRow, LooseRow, MaterialRow, NameRow, NotInTotalRow, NoticeRow, OffcutRow,
    OpeningRow, PhaseRow, PilotCaseRow, PilotUnitRow, PlanRow, QueryRow, RangePartRow, ShareRow, SizesAtRow,
    SpareRow, StockUseRow, SummaryRow, UnitRow,
};
use crate::report::{Doubts, Report};
use crate::rounding::half_away;

/// What stands between the values of a list in one cell.
const BETWEEN_VALUES: &str = "; ";

/// Characters at the start of a text that a spreadsheet may take for a formula.
const STARTS_A_FORMULA: [char; 6] = ['=', '+', '-', '@', '\t', '\r'];

/// The byte order mark, by which a spreadsheet knows that a text is UTF-8.
const MARK: &[u8] = "\u{feff}".as_bytes();

/// The lists, each a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum List {
    /// One row: the project, its counts and its totals.
    Summary,
    /// The openings.
    Openings,
    /// The ways to get their blinds that were looked at.
    Candidates,
    /// The steps of their numbers.
    Working,
    /// The order's lines.
    Order,
    /// Spare louvers to order beside them.
    SpareLouvers,
    /// What the order comes to by product and color.
    Colors,
    /// What is delivered where.
    Deliveries,
    /// Which opening each blind is for.
    Labels,
    /// Every blind, and how far it has come.
    Blinds,
    /// Where else blinds that do not hang yet would fit.
    AlsoFits,
    /// How the stock sizes are used, and what one more would save.
    StockUse,
    /// Stock sizes that overlap less than the minimum.
    LessCover,
    /// The cut plans.
    Cuts,
    /// Their patterns.
    Patterns,
    /// What sawing phase by phase takes beyond the whole project at once.
    ByPhase,
    /// Offcuts on hand when everything is sawn.
    Offcuts,
    /// Parts and fixings.
    Hardware,
    /// What drills and drives the fixings.
    Bits,
    /// The same as loose counts by unit.
    Loose,
    /// What each option comes to.
    Options,
    /// What each section of the cost comes to with each option.
    OptionsCost,
    /// The units to fit first.
    Pilot,
    /// What they show.
    PilotCases,
    /// The units, each with what its fitter must bring.
    Units,
    /// What to watch for in each.
    Cautions,
    /// What fewer sizes cost and save.
    SizesCurve,
    /// The visits to units and their days.
    FittingDays,
    /// What goes up to each floor.
    Loads,
    /// What residents are told.
    Notices,
    /// The cost's lines.
    Cost,
    /// The cost by phase, floor, unit and product.
    Shares,
    /// What the total does not hold.
    NotInTotal,
    /// Each phase against its budget and its dates.
    Phases,
    /// What makes the total a range.
    Range,
    /// Values taken because a cell was blank.
    Assumptions,
    /// The queries.
    Queries,
    /// What was answered to queries.
    Answers,
    /// What the headings of the surveys were taken as.
    Columns,
    /// What is different from the fit-out that the run took up.
    Changes,
}

impl List {
    /// Every list.
    pub const ALL: [List; 40] = [
        List::Summary,
        List::Openings,
        List::Candidates,
        List::Working,
        List::Order,
        List::SpareLouvers,
        List::Colors,
        List::Deliveries,
        List::Labels,
        List::Blinds,
        List::AlsoFits,
        List::StockUse,
        List::LessCover,
        List::Cuts,
        List::Patterns,
        List::ByPhase,
        List::Offcuts,
        List::Hardware,
        List::Bits,
        List::Loose,
        List::Options,
        List::OptionsCost,
        List::Pilot,
        List::PilotCases,
        List::Units,
        List::Cautions,
        List::SizesCurve,
        List::FittingDays,
        List::Loads,
        List::Notices,
        List::Cost,
        List::Shares,
        List::NotInTotal,
        List::Phases,
        List::Range,
        List::Assumptions,
        List::Queries,
        List::Answers,
        List::Columns,
        List::Changes,
    ];

    /// The name of its file.
    pub const fn file_name(self) -> &'static str {
        match self {
            List::Summary => "summary.csv",
            List::Openings => "openings.csv",
            List::Candidates => "candidates.csv",
            List::Working => "working.csv",
            List::Order => "order.csv",
            List::SpareLouvers => "spare_louvers.csv",
            List::Colors => "colors.csv",
            List::Deliveries => "deliveries.csv",
            List::Labels => "labels.csv",
            List::Blinds => "blinds.csv",
            List::AlsoFits => "also_fits.csv",
            List::StockUse => "stock_use.csv",
            List::LessCover => "less_cover.csv",
            List::Cuts => "cuts.csv",
            List::Patterns => "patterns.csv",
            List::ByPhase => "by_phase.csv",
            List::Offcuts => "offcuts.csv",
            List::Hardware => "hardware.csv",
            List::Bits => "bits.csv",
            List::Loose => "loose.csv",
            List::Options => "options.csv",
            List::OptionsCost => "options_cost.csv",
            List::Pilot => "pilot.csv",
            List::PilotCases => "pilot_cases.csv",
            List::Units => "units.csv",
            List::Cautions => "cautions.csv",
            List::SizesCurve => "sizes_curve.csv",
            List::FittingDays => "fitting_days.csv",
            List::Loads => "loads.csv",
            List::Notices => "notices.csv",
            List::Cost => "cost.csv",
            List::Shares => "shares.csv",
            List::NotInTotal => "not_in_total.csv",
            List::Phases => "phases.csv",
            List::Range => "range.csv",
            List::Assumptions => "assumptions.csv",
            List::Queries => "queries.csv",
            List::Answers => "answers.csv",
            List::Columns => "columns.csv",
            List::Changes => "changes.csv",
        }
    }

    /// Writes the list with its headings, which stand there even if it has no row.
    ///
    /// # Errors
    /// Only what `out` reports.
    pub fn write(self, report: &Report<'_>, out: impl Write) -> io::Result<()> {
        let out = Table { out, units: report.rules.project.units };
        match self {
            List::Summary => out.rows([SummaryRow::of(report)]),
            List::Openings => out.rows(OpeningRow::all(report, &Doubts::of(report))),
            List::Candidates => out.pairs(CandidateRow::by_opening(report)),
            List::Working => out.pairs(NameRow::steps(report)),
            List::Order => out.rows(LineRow::all(report)),
            List::SpareLouvers => out.rows(SpareRow::all(report)),
            List::Colors => out.rows(ColorRow::all(report)),
            List::Deliveries => out.rows(DeliveryRow::all(report)),
            List::Labels => out.rows(LabelRow::all(report)),
            List::Blinds => out.rows(BlindRow::all(report)),
            List::AlsoFits => out.rows(AlsoFitsRow::all(report)),
            List::StockUse => out.rows(StockUseRow::all(report)),
            List::LessCover => out.rows(LessCoverRow::all(report)),
            List::Cuts => out.rows(PlanRow::all(report)),
            List::Patterns => out.pairs(MaterialRow::patterns(report)),
            List::ByPhase => out.rows(ByPhaseRow::all(report)),
            List::Offcuts => out.rows(OffcutRow::all(report)),
            List::Hardware => out.rows(HardwareRow::all(report)),
            List::Bits => out.rows(BitRow::all(report)),
            List::Loose => out.rows(LooseRow::by_unit(report)),
            List::Options => out.rows(ChoiceRow::all(report)),
            List::OptionsCost => out.pairs(ChoiceRow::sections(report)),
            List::Pilot => out.rows(PilotUnitRow::all(report)),
            List::PilotCases => out.rows(PilotCaseRow::all(report)),
            List::Units => out.rows(UnitRow::all(report, &Doubts::of(report), &report.units())),
            List::Cautions => out.pairs(CautionRow::by_unit(report, &Doubts::of(report), &report.units())),
            List::SizesCurve => out.rows(SizesAtRow::all(report)),
            List::FittingDays => out.rows(FittingDayRow::all(report)),
            List::Loads => out.rows(LoadRow::all(report)),
            List::Notices => out.rows(NoticeRow::all(report)),
            List::Cost => out.rows(CostLineRow::all(report)),
            List::Shares => out.rows(ShareRow::all(report)),
            List::NotInTotal => out.rows(NotInTotalRow::all(report)),
            List::Phases => out.rows(PhaseRow::all(report)),
            List::Range => out.rows(RangePartRow::all(report)),
            List::Assumptions => out.rows(AssumptionRow::all(report)),
            List::Queries => out.rows(QueryRow::all(report)),
            List::Answers => out.rows(AnswerRow::all(report)),
            List::Columns => out.rows(ColumnReadRow::all(report)),
            List::Changes => out.rows(ChangeRow::all(report.changes(), Some(report.rules.project.currency))),
        }
    }
}

/// A file being written, and the units that its lengths stand in beside millimeters.
struct Table<W> {
    out: W,
    units: Units,
}

impl<W: Write> Table<W> {
    fn rows<'r, R: Row<'r>>(self, rows: impl IntoIterator<Item = R>) -> io::Result<()> {
        self.write(&[R::kind()], rows.into_iter().map(|row| [row.object()]))
    }

    /// Two rows side by side, such as a pattern beside the material that it belongs to.
    fn pairs<'r, A: Row<'r>, B: Row<'r>>(self, rows: impl IntoIterator<Item = (A, B)>) -> io::Result<()> {
        let rows = rows.into_iter().map(|(left, right)| [left.object(), right.object()]);
        self.write(&[A::kind(), B::kind()], rows)
    }

    fn write<'r, const N: usize>(
        mut self,
        kinds: &[Kind; N],
        rows: impl Iterator<Item = [Value<'r>; N]>,
    ) -> io::Result<()> {
        self.out.write_all(MARK)?;
        let mut writer = csv::Writer::from_writer(self.out);
        let mut record = Vec::new();
        kinds.iter().for_each(|kind| names("", kind, self.units, &mut record));
        writer.write_record(&record)?;
        for row in rows {
            record.clear();
            kinds.iter().zip(&row).for_each(|(kind, value)| cells(kind, value, self.units, &mut record));
            writer.write_record(&record)?;
        }
        writer.flush()
    }
}

/// What a length's key ends with.
const IN_MM: &str = "_mm";

/// The names of the columns that a value fills; `key` is what it stands under.
fn names(key: &str, kind: &Kind, units: Units, record: &mut Vec<String>) {
    if kind.keys.is_empty() && !kind.is_rows() {
        record.push(key.to_owned());
        if let (Some(name), Units::Inches) = (key.strip_suffix(IN_MM), units) {
            record.push(format!("{name}_in"));
        }
    }
    for Key { name, kind, .. } in &kind.keys {
        let name = if key.is_empty() { (*name).to_owned() } else { format!("{key}_{name}") };
        names(&name, kind, units, record);
    }
}

/// A cell for each of those; an object that is not there leaves all of its own blank.
fn cells(kind: &Kind, value: &Value<'_>, units: Units, record: &mut Vec<String>) {
    let nothing = Value::Null;
    for (place, key) in kind.keys.iter().enumerate() {
        let value = match value {
            Value::Object(values) => values.get(place).map_or(&nothing, |(_, value)| value),
            _ => &nothing,
        };
        if !key.kind.keys.is_empty() {
            cells(&key.kind, value, units, record);
        } else if !key.kind.is_rows() {
            record.push(cell(value, Unit::Millimeter));
            if key.name.ends_with(IN_MM) && units == Units::Inches {
                record.push(cell(value, Unit::Inch));
            }
        }
    }
}

/// A value as text, with an apostrophe where a spreadsheet could take it for a formula; numbers of
/// ours never get one.
fn cell(value: &Value<'_>, unit: Unit) -> String {
    match value {
        Value::Text(text) if text.starts_with(STARTS_A_FORMULA) => format!("'{text}"),
        Value::Text(text) => text.to_string(),
        Value::Truth(truth) => truth.to_string(),
        Value::Whole(count) => count.to_string(),
        Value::Difference(count) => count.to_string(),
        Value::Length(length) => number(*length, unit),
        Value::Angle(angle) => angle.to_string(),
        Value::Date(date) => date.to_string(),
        Value::Mass(_) | Value::Share(_) | Value::Number(_) => value.rounded().to_string(),
        Value::Money(money) => money.to_string(),
        Value::List(values) => {
            values.iter().map(|value| cell(value, unit)).collect::<Vec<_>>().join(BETWEEN_VALUES)
        }
        Value::Null | Value::Rows(_) | Value::Object(_) => String::new(),
    }
}

/// A length with up to six decimals.
fn number(length: Length, unit: Unit) -> String {
    half_away(length.in_unit(unit), 6).normalize().to_string()
}

#[cfg(test)]
mod tests {
    use super::{cells, names};
    use crate::length::{Length, Units};
    use crate::report::figure::{Figure, Row, Rows, row};

    #[derive(Clone, Copy)]
    struct Inner<'r>(&'r [i64]);

    row! { /// Inner.
    Inner<'r>: row { /// A count.
        count: usize = row.0.len(); /// Sizes.
        sizes_mm: Vec<Length> = row.0.iter().map(|&nm| Length::from_nm(nm)).collect(); } }

    #[derive(Clone, Copy)]
    struct Outer<'r>(&'r str, Option<Inner<'r>>);

    row! { /// Outer.
    Outer<'r>: row { /// A text.
        name: &'r str = row.0; /// An object.
        inner: Option<Inner<'r>> = row.1; /// Rows.
        steps: Rows<'r, Inner<'r>> = Rows::new(move || row.1.into_iter()); /// A word of the language.
        r#use: Option<Length> = row.1.map(|_| Length::from_mm(-5)); } }

    fn cells_of(row: Outer<'_>, units: Units) -> Vec<String> {
        let mut record = Vec::new();
        cells(&Outer::kind(), &row.object(), units, &mut record);
        record
    }

    #[test]
    fn objects_spread_over_columns_and_an_unknown_one_leaves_them_blank() {
        let headings = |units| {
            let mut headings = Vec::new();
            names("", &Outer::kind(), units, &mut headings);
            headings
        };
        assert_eq!(headings(Units::Millimeters), ["name", "inner_count", "inner_sizes_mm", "use"]);
        assert_eq!(
            headings(Units::Inches),
            ["name", "inner_count", "inner_sizes_mm", "inner_sizes_in", "use"]
        );
        let some = || Outer("W1", Some(Inner(&[-500_000, 1_200_000_000])));
        assert_eq!(cells_of(some(), Units::Millimeters), ["W1", "2", "-0.5; 1200", "-5"]);
        assert_eq!(cells_of(some(), Units::Inches), ["W1", "2", "-0.5; 1200", "-0.019685; 47.244094", "-5"]);
        assert_eq!(cells_of(Outer("W2", None), Units::Inches), ["W2", "", "", "", ""]);
    }

    #[test]
    fn text_that_could_be_a_formula_gets_an_apostrophe() {
        for (text, cell) in [
            ("=1+1", "'=1+1"),
            ("+1", "'+1"),
            ("-W", "'-W"),
            ("@SUM", "'@SUM"),
            ("\tx", "'\tx"),
            ("\rx", "'\rx"),
            ("W=1", "W=1"),
            ("", ""),
        ] {
            assert_eq!(cells_of(Outer(text, None), Units::Inches)[0], cell);
        }
    }
}
