//! `Openings`: a row for each opening, with all that was decided about it.

use rust_xlsxwriter::Workbook;

use super::cell::Cell;
use super::layout::fixed;
use super::look::Tone;
use super::pages::{Column, Form, Frozen, Pages, in_use};
use super::sheet::{Keeping, Lie};
use super::{HEIGHTS, LEFT_AND_RIGHT, Press, WorkbookError};
use crate::blinds::{Louvers, NOT_CHOSEN, Stack};
use crate::fitting::{Blind, Brackets, Fitted};
use crate::length::Length;
use crate::query::OpeningIndex;
use crate::report::State;
use crate::rules::SizesGiven;
use crate::sizing::{Mount, RailInRecess};
use crate::survey::{Facts, Identity};

/// One row of the sheet.
#[derive(Clone, Copy)]
struct Row<'p> {
    opening: OpeningIndex,
    who: &'p Identity,
    facts: Option<&'p Facts>,
    blind: Option<&'p Blind<'p>>,
    state: State,
}

impl<'p> Row<'p> {
    fn fitted(self) -> Option<&'p Fitted<'p>> {
        self.blind.map(|blind| &blind.fitted)
    }

    /// An overlap; a blind in a recess has none.
    fn overlap(self, of: impl Fn(&Fitted<'p>) -> Option<Length>) -> Cell<'p> {
        match self.blind {
            Some(blind) if blind.sizing.hung.mount() == Mount::Outside => Cell::known(of(&blind.fitted)),
            _ => Cell::Blank,
        }
    }

    fn in_recess(self) -> Option<RailInRecess> {
        self.blind?.sizing.hung.in_recess()
    }

    fn louvers(self) -> Option<Louvers> {
        self.fitted()?.panel.louvers
    }

    fn stack(self) -> Option<Stack> {
        self.fitted()?.panel.stack
    }

    fn brackets(self) -> Option<&'p Brackets> {
        self.fitted().map(|fitted| &fitted.brackets)
    }
}

pub(super) fn write(workbook: &mut Workbook, press: &Press<'_>) -> Result<(), WorkbookError> {
    let form = Form {
        name: fixed::OPENINGS,
        title: "Openings",
        remarks: vec![format!("{LEFT_AND_RIGHT} {HEIGHTS}").into()],
        keeping: Keeping::Disk,
        lie: Lie::Wide,
        frozen: Frozen::HeadingsOfWide,
    };
    let rows = press.report.survey.openings.iter().enumerate().map(|(opening, survey)| Row {
        opening,
        who: &survey.who,
        facts: survey.facts.as_deref(),
        blind: press.report.blinds[opening].as_ref(),
        state: press.report.state(opening),
    });
    let columns = in_use(columns(press), rows.clone());
    let mut pages = Pages::open(workbook, press, form)?;
    pages.table(&columns, rows, |row| match row.state {
        State::Sized => Tone::Body,
        State::Provisional => Tone::Provisional,
        State::Held => Tone::Held,
    })?;
    pages.finish()
}

fn columns<'p>(press: &'p Press<'p>) -> Vec<Column<'p, Row<'p>>> {
    let sizes_given = press.report.rules.project.sizes_given;
    let of_opening = |of: fn(&Facts) -> Length| {
        move |row: Row<'p>| match sizes_given {
            SizesGiven::Opening => row.facts.map(of),
            SizesGiven::Finished => None,
        }
    };
    let length = |heading: &str| press.lengths(heading);
    let mut columns = vec![
        Column::new("Opening", |row: Row<'p>| {
            Cell::Link(press.layout.page_of(row.opening), (&*row.who.name).into())
        }),
        Column::new("Building", |row: Row<'p>| &row.who.building).unless_blank(),
        Column::new("Floor", |row: Row<'p>| &row.who.floor).unless_blank(),
        Column::new("Unit", |row: Row<'p>| &row.who.unit),
        Column::new("Room", |row: Row<'p>| &row.who.room).unless_blank(),
        Column::new("Phase", |row: Row<'p>| &row.who.phase).unless_blank(),
        Column::new("State", |row: Row<'p>| row.state.word()),
        Column::new("Held by", |row: Row<'p>| {
            press.doubts.stops(row.opening).map(|stop| stop.words()).collect::<Vec<_>>().join("; ")
        })
        .wide(30)
        .unless_blank(),
        Column::new("Quantity", |row: Row<'p>| row.who.quantity),
        Column::new("Kind", |row: Row<'p>| row.facts.map(|facts| facts.kind.word())),
        Column::new(length("Opening width, least"), of_opening(|facts| facts.width.least().value)),
        Column::new(length("Opening width, most"), of_opening(|facts| facts.width.most().value)),
        Column::new(length("Opening height, least"), of_opening(|facts| facts.height.least().value)),
        Column::new(length("Opening height, most"), of_opening(|facts| facts.height.most().value)),
        Column::new("Product", |row: Row<'p>| row.blind.map(|blind| &blind.sizing.product.name)),
        Column::new("Colour", |row: Row<'p>| row.blind.map(|blind| &blind.sizing.colour)),
        Column::new("Mount", |row: Row<'p>| row.blind.map(|blind| blind.sizing.hung.mount().word())),
        Column::new(length("Finished width"), |row: Row<'p>| row.blind.map(|blind| blind.sourced.size.width))
            .strong(),
        Column::new(length("Finished drop"), |row: Row<'p>| row.blind.map(|blind| blind.sourced.size.drop))
            .strong(),
        Column::new("Source", |row: Row<'p>| row.blind.map(|blind| blind.sourced.supply.origin().word())),
        Column::new("Lead days", |row: Row<'p>| row.blind.and_then(|blind| blind.sourced.lead_days))
            .unless_blank(),
        Column::new("Arrives", |row: Row<'p>| row.blind.and_then(|blind| blind.sourced.arrives))
            .unless_blank(),
        Column::new("Louvers", |row: Row<'p>| row.louvers().map(|louvers| louvers.count)),
        Column::new(length("Louver length"), |row: Row<'p>| row.louvers().map(|louvers| louvers.length)),
        Column::new("Draw", |row: Row<'p>| row.stack().map(|stack| stack.draw.word())),
        Column::new(length("Stack, one side"), |row: Row<'p>| row.stack().map(|stack| stack.width)),
        Column::new(length("Clear when open"), |row: Row<'p>| {
            row.fitted().map(|fitted| Cell::known(fitted.clear_open))
        }),
        Column::new("Control", |row: Row<'p>| row.blind.map(|blind| blind.sizing.operation.control.word())),
        Column::new("Control side", |row: Row<'p>| {
            row.fitted().and_then(|fitted| fitted.control_side).map(|side| side.word())
        })
        .unless_blank(),
        Column::new(length("Wand"), |row: Row<'p>| row.fitted().and_then(|fitted| fitted.wand))
            .unless_blank(),
    ];
    columns.extend(hanging_columns(press));
    for (place, heading) in press.report.survey.carried.iter().enumerate() {
        columns.push(Column::new(&**heading, move |row: Row<'p>| row.who.carried.get(place)).unless_blank());
    }
    columns.push(Column::new("Note", |row: Row<'p>| &row.who.note).unless_blank());
    columns.push(Column::new("Read from", |row: Row<'p>| press.cell(row.who.at)));
    columns
}

fn hanging_columns<'p>(press: &'p Press<'p>) -> Vec<Column<'p, Row<'p>>> {
    let length = |heading: &str| press.lengths(heading);
    vec![
        Column::new("Bracket", |row: Row<'p>| row.brackets().map(|brackets| &brackets.item)),
        Column::new("Brackets", |row: Row<'p>| row.brackets().map(|brackets| brackets.count())),
        Column::new(length("Reach"), |row: Row<'p>| row.blind.and_then(|blind| blind.sizing.hung.reach()))
            .unless_blank(),
        Column::new(length("Setback"), |row: Row<'p>| row.in_recess().map(|rail| rail.setback))
            .unless_blank(),
        Column::new(length("Bracket top above floor"), |row: Row<'p>| {
            row.brackets().map(|brackets| Cell::known(brackets.top_above_floor))
        }),
        Column::new(length("Bracket top above head"), |row: Row<'p>| {
            row.brackets().map(|brackets| Cell::known(brackets.top_above_head))
        }),
        Column::new("Fixing", |row: Row<'p>| {
            row.fitted().map(|fitted| {
                fitted.fixings.fixing.map_or(Cell::from(NOT_CHOSEN), |fixing| (&fixing.item).into())
            })
        }),
        Column::new("Fixings", |row: Row<'p>| row.fitted().map(|fitted| fitted.fixings.count)),
        Column::new("Use of capacity", |row: Row<'p>| {
            row.fitted().map(|fitted| Cell::known(fitted.fixings.use_of_capacity.map(Cell::Share)))
        }),
        Column::new(length("Valance"), |row: Row<'p>| row.fitted().and_then(|fitted| fitted.valance)),
        Column::new(length("Return left"), |row: Row<'p>| row.fitted().map(|fitted| fitted.returns().left)),
        Column::new(length("Return right"), |row: Row<'p>| row.fitted().map(|fitted| fitted.returns().right)),
        Column::new(length("Overlap left"), |row: Row<'p>| row.overlap(|fitted| fitted.overlap_left()))
            .unless_blank(),
        Column::new(length("Overlap right"), |row: Row<'p>| row.overlap(|fitted| fitted.overlap_right()))
            .unless_blank(),
        Column::new("See-past angle", |row: Row<'p>| row.fitted().and_then(|fitted| fitted.see_past()))
            .unless_blank(),
        Column::new(length("Gap below"), |row: Row<'p>| {
            row.fitted().map(|fitted| Cell::known(fitted.gap_below))
        }),
        Column::new(length("Stands proud"), |row: Row<'p>| row.in_recess().map(|rail| rail.stands_proud))
            .unless_blank(),
        Column::new("Weight (kg)", |row: Row<'p>| row.fitted().map(|fitted| Cell::Mass(fitted.weight))),
        Column::new("People", |row: Row<'p>| row.fitted().map(|fitted| fitted.people)),
    ]
}
