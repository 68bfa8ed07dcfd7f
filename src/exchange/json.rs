//! The fit-out as one JSON document. `templates/result.schema.json` describes it.

use std::io::{self, Write};

use serde::ser::SerializeStruct;
use serde::{Serialize, Serializer};

use super::rows::{
    AssumptionRow, ByPhaseRow, CostRow, CountsRow, HardwareRow, LineRow, OffcutRow, OpeningRow, PlanRow,
    ProjectRow, QueryRow,
};
use crate::report::Report;

/// Name and version of the format, the first key of every document. A later version may add
/// keys; a change of what stands gets a new number.
pub const FORMAT: &str = "sillbook/1";

/// The JSON Schema (2020-12) of the document.
pub const SCHEMA: &str = include_str!("../../templates/result.schema.json");

/// Writes the document and a line end. Openings are made and written one by one.
///
/// # Errors
/// Only what `out` reports.
pub fn write(report: &Report<'_>, mut out: impl Write) -> io::Result<()> {
    serde_json::to_writer(&mut out, &Document(report))?;
    out.write_all(b"\n")
}

struct Document<'a, 'r>(&'a Report<'r>);

impl Serialize for Document<'_, '_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let report = self.0;
        let mut document = serializer.serialize_struct("Document", 13)?;
        document.serialize_field("format", FORMAT)?;
        document.serialize_field("project", &ProjectRow::of(report))?;
        document.serialize_field("complete", &report.complete())?;
        document.serialize_field("counts", &CountsRow::of(report))?;
        document.serialize_field("openings", &EachOf(|| OpeningRow::all(report)))?;
        document.serialize_field("order", &EachOf(|| LineRow::all(report)))?;
        document.serialize_field("cuts", &EachOf(|| PlanRow::all(report)))?;
        document.serialize_field("by_phase", &EachOf(|| ByPhaseRow::all(report)))?;
        document.serialize_field("offcuts", &EachOf(|| OffcutRow::all(report)))?;
        document.serialize_field("hardware", &EachOf(|| HardwareRow::all(report)))?;
        document.serialize_field("cost", &CostRow::of(report))?;
        document.serialize_field("assumptions", &EachOf(|| AssumptionRow::all(report)))?;
        document.serialize_field("queries", &EachOf(|| QueryRow::all(report)))?;
        document.end()
    }
}

/// A list whose rows are made while it is written, so that no list is ever whole in memory.
struct EachOf<F>(F);

impl<F, I> Serialize for EachOf<F>
where
    F: Fn() -> I,
    I: Iterator<Item: Serialize>,
{
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq((self.0)())
    }
}
