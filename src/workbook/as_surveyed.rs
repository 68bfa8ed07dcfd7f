//! `As surveyed`: every opening as it was taken, exact. A later run with `--after` compares itself with it,
//! so each heading is that of the schema and each length is text with its unit.

use super::layout::fixed;
use super::look::Tone;
use super::pages::{Column, Form, Frozen, Pages, in_use};
use super::paper::Lie;
use super::{Press, Written};
use crate::report::State;
use crate::report::rows::SurveyedRow;
use crate::schema::openings::{
    BUILDING, FLOOR, HEIGHT, KIND, OPENING, OPENINGS, QUANTITY, ROOM, UNIT, WIDTH,
};
use crate::schema::surveyed::{ANSWERED, ROW, SHOWN, SURVEY};
use crate::schema::{Column as SurveyColumn, Kind};

/// Columns that stand even where they are blank in every row.
const ALWAYS: [&SurveyColumn; 9] =
    [&OPENING, &BUILDING, &FLOOR, &UNIT, &ROOM, &KIND, &QUANTITY, &WIDTH, &HEIGHT];

pub(super) fn write(press: &Press<'_>) -> Written {
    let form = Form {
        name: fixed::AS_SURVEYED,
        title: "As surveyed",
        remarks: vec![
            "Each opening as it was read, with its type and its answers. A later run with --after compares the survey with this, and lists on Changes what is different. Nothing is typed here.".into(),
        ],
        lie: Lie::Wide,
        frozen: Frozen::HeadingsOfWide,
    };
    let rows = SurveyedRow::all(press.report);
    let columns = in_use(columns(), rows.clone());
    let mut pages = Pages::open(press, form)?;
    pages.table(&columns, rows, |row| match press.report.state(row.index()) {
        State::Sized => Tone::Body,
        State::Provisional => Tone::Provisional,
        State::Held => Tone::Held,
    })?;
    pages.finish()
}

/// The name on the other sheets, then what the survey says, then where and by whose answer.
fn columns<'p>() -> Vec<Column<'p, SurveyedRow<'p>>> {
    let of_openings = OPENINGS.columns.iter().filter(|column| !matches!(column.kind, Kind::Pair(_)));
    let of_openings = of_openings.map(|&column| {
        let written = Column::new(column.name, move |row: SurveyedRow<'p>| row.taken(column));
        let stands = ALWAYS.iter().any(|always| always.slot == column.slot);
        if stands { written } else { written.unless_blank() }
    });
    let mut columns = vec![Column::new(SHOWN.name, SurveyedRow::shown).strong()];
    columns.extend(of_openings);
    columns.extend([
        Column::new(SURVEY.name, SurveyedRow::survey),
        Column::new(ROW.name, SurveyedRow::row),
        Column::new(ANSWERED.name, SurveyedRow::answered).unless_blank(),
    ]);
    columns
}
