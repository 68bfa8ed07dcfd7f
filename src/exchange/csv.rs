//! The fit-out as CSV files, one a list. A column is named by its JSON key, an object's keys by
//! the object's and their own: `louvers_count`. Values of a list share a cell; a list of rows
//! has a file of its own. Blank is unknown, or held.

use std::io::{self, Write};

use crate::length::Unit;
use crate::report::figure::{Figure, Key, Kind, Row, Value};
use crate::report::rows::{
    AnswerRow, AssumptionRow, ByPhaseRow, CandidateRow, CautionRow, ColorRow, ColumnReadRow, CostLineRow,
    HardwareRow, LabelRow, LineRow, LooseRow, MaterialRow, NameRow, NotInTotalRow, OffcutRow, OpeningRow,
    PlanRow, QueryRow, ShareRow, SpareRow, SummaryRow, UnitRow,
};
use crate::report::{Doubts, Report};

/// What stands between the values of a list in one cell.
const BETWEEN_VALUES: &str = "; ";

/// Characters at the start of a text that a spreadsheet may take for a formula.
const STARTS_A_FORMULA: [char; 6] = ['=', '+', '-', '@', '\t', '\r'];

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
    /// Which opening each blind is for.
    Labels,
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
    /// The same as loose counts by unit.
    Loose,
    /// The units, each with what its fitter must bring.
    Units,
    /// What to watch for in each.
    Cautions,
    /// The cost's lines.
    Cost,
    /// The cost by phase, floor, unit and product.
    Shares,
    /// What the total does not hold.
    NotInTotal,
    /// Values taken because a cell was blank.
    Assumptions,
    /// The queries.
    Queries,
    /// What was answered to queries.
    Answers,
    /// What the headings of the surveys were taken as.
    Columns,
}

impl List {
    /// Every list.
    pub const ALL: [List; 23] = [
        List::Summary,
        List::Openings,
        List::Candidates,
        List::Working,
        List::Order,
        List::SpareLouvers,
        List::Colors,
        List::Labels,
        List::Cuts,
        List::Patterns,
        List::ByPhase,
        List::Offcuts,
        List::Hardware,
        List::Loose,
        List::Units,
        List::Cautions,
        List::Cost,
        List::Shares,
        List::NotInTotal,
        List::Assumptions,
        List::Queries,
        List::Answers,
        List::Columns,
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
            List::Labels => "labels.csv",
            List::Cuts => "cuts.csv",
            List::Patterns => "patterns.csv",
            List::ByPhase => "by_phase.csv",
            List::Offcuts => "offcuts.csv",
            List::Hardware => "hardware.csv",
            List::Loose => "loose.csv",
            List::Units => "units.csv",
            List::Cautions => "cautions.csv",
            List::Cost => "cost.csv",
            List::Shares => "shares.csv",
            List::NotInTotal => "not_in_total.csv",
            List::Assumptions => "assumptions.csv",
            List::Queries => "queries.csv",
            List::Answers => "answers.csv",
            List::Columns => "columns.csv",
        }
    }

    /// Writes the list with its headings, which stand there even if it has no row.
    ///
    /// # Errors
    /// Only what `out` reports.
    pub fn write(self, report: &Report<'_>, out: impl Write) -> io::Result<()> {
        match self {
            List::Summary => write_rows([SummaryRow::of(report)], out),
            List::Openings => write_rows(OpeningRow::all(report, &Doubts::of(report)), out),
            List::Candidates => write_pairs(CandidateRow::by_opening(report), out),
            List::Working => write_pairs(NameRow::steps(report), out),
            List::Order => write_rows(LineRow::all(report), out),
            List::SpareLouvers => write_rows(SpareRow::all(report), out),
            List::Colors => write_rows(ColorRow::all(report), out),
            List::Labels => write_rows(LabelRow::all(report), out),
            List::Cuts => write_rows(PlanRow::all(report), out),
            List::Patterns => write_pairs(MaterialRow::patterns(report), out),
            List::ByPhase => write_rows(ByPhaseRow::all(report), out),
            List::Offcuts => write_rows(OffcutRow::all(report), out),
            List::Hardware => write_rows(HardwareRow::all(report), out),
            List::Loose => write_rows(LooseRow::by_unit(report), out),
            List::Units => write_rows(UnitRow::all(report, &Doubts::of(report), &report.units()), out),
            List::Cautions => {
                write_pairs(CautionRow::by_unit(report, &Doubts::of(report), &report.units()), out)
            }
            List::Cost => write_rows(CostLineRow::all(report), out),
            List::Shares => write_rows(ShareRow::all(report), out),
            List::NotInTotal => write_rows(NotInTotalRow::all(report), out),
            List::Assumptions => write_rows(AssumptionRow::all(report), out),
            List::Queries => write_rows(QueryRow::all(report), out),
            List::Answers => write_rows(AnswerRow::all(report), out),
            List::Columns => write_rows(ColumnReadRow::all(report), out),
        }
    }
}

fn write_rows<'r, R: Row<'r>>(rows: impl IntoIterator<Item = R>, out: impl Write) -> io::Result<()> {
    write_table(&[R::kind()], rows.into_iter().map(|row| [row.object()]), out)
}

/// Two rows side by side, such as a pattern beside the material that it belongs to.
fn write_pairs<'r, A: Row<'r>, B: Row<'r>>(
    rows: impl IntoIterator<Item = (A, B)>,
    out: impl Write,
) -> io::Result<()> {
    let rows = rows.into_iter().map(|(left, right)| [left.object(), right.object()]);
    write_table(&[A::kind(), B::kind()], rows, out)
}

fn write_table<'r, const N: usize>(
    kinds: &[Kind; N],
    rows: impl Iterator<Item = [Value<'r>; N]>,
    out: impl Write,
) -> io::Result<()> {
    let mut writer = csv::Writer::from_writer(out);
    let mut record = Vec::new();
    kinds.iter().for_each(|kind| names("", kind, &mut record));
    writer.write_record(&record)?;
    for row in rows {
        record.clear();
        kinds.iter().zip(&row).for_each(|(kind, value)| cells(kind, value, &mut record));
        writer.write_record(&record)?;
    }
    writer.flush()
}

/// The names of the columns that a value fills; `key` is what it stands under.
fn names(key: &str, kind: &Kind, record: &mut Vec<String>) {
    if kind.keys.is_empty() && !kind.is_rows() {
        record.push(key.to_owned());
    }
    for Key { name, kind, .. } in &kind.keys {
        let name = if key.is_empty() { (*name).to_owned() } else { format!("{key}_{name}") };
        names(&name, kind, record);
    }
}

/// A cell for each of those; an object that is not there leaves all of its own blank.
fn cells(kind: &Kind, value: &Value<'_>, record: &mut Vec<String>) {
    match value {
        Value::Object(values) => {
            kind.keys.iter().zip(values).for_each(|(key, (_, value))| cells(&key.kind, value, record));
        }
        Value::Null if !kind.keys.is_empty() => {
            kind.keys.iter().for_each(|key| cells(&key.kind, &Value::Null, record));
        }
        _ if kind.is_rows() => {}
        value => record.push(cell(value)),
    }
}

/// A value as text, with an apostrophe where a spreadsheet could take it for a formula; numbers of
/// ours never get one.
fn cell(value: &Value<'_>) -> String {
    match value {
        Value::Text(text) if text.starts_with(STARTS_A_FORMULA) => format!("'{text}"),
        Value::Text(text) => text.to_string(),
        Value::Truth(truth) => truth.to_string(),
        Value::Whole(count) => count.to_string(),
        Value::Difference(count) => count.to_string(),
        Value::Length(length) => length.in_unit(Unit::Millimeter).normalize().to_string(),
        Value::Angle(angle) => angle.to_string(),
        Value::Date(date) => date.to_string(),
        Value::Mass(_) | Value::Share(_) | Value::Number(_) => value.rounded().to_string(),
        Value::Money(money) => money.to_string(),
        Value::List(values) => values.iter().map(cell).collect::<Vec<_>>().join(BETWEEN_VALUES),
        Value::Null | Value::Rows(_) | Value::Object(_) => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::{cells, names};
    use crate::length::Length;
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

    fn cells_of(row: Outer<'_>) -> Vec<String> {
        let mut record = Vec::new();
        cells(&Outer::kind(), &row.object(), &mut record);
        record
    }

    #[test]
    fn objects_spread_over_columns_and_an_unknown_one_leaves_them_blank() {
        let mut headings = Vec::new();
        names("", &Outer::kind(), &mut headings);
        assert_eq!(headings, ["name", "inner_count", "inner_sizes_mm", "use"]);
        assert_eq!(
            cells_of(Outer("W1", Some(Inner(&[-500_000, 1_200_000_000])))),
            ["W1", "2", "-0.5; 1200", "-5"]
        );
        assert_eq!(cells_of(Outer("W2", None)), ["W2", "", "", ""]);
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
            assert_eq!(cells_of(Outer(text, None))[0], cell);
        }
    }
}
