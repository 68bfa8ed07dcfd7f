//! `Working`: every step of every number of the openings that a person would ask about, or of all.
//!
//! Each opening is worked again as it is written, so that no step of a building is kept.

use std::borrow::Cow;

use super::cell::Cell;
use super::layout::fixed;
use super::look::Tone;
use super::pages::{Column, Form, Frozen, Pages};
use super::paper::Lie;
use super::{Press, Written};
use crate::force;
use crate::query::OpeningIndex;
use crate::rounding::half_away;
use crate::weight;
use crate::worked::{Amount, Step};

/// What the sheet has where it has not every opening.
const NOT_ALL: &str = "Here are the first opening of each order line, and each opening with a stop or a check. To have every opening, run with --working.";

pub(super) fn write(press: &Press<'_>) -> Written {
    let all = press.report.survey.openings.len();
    let openings: Vec<OpeningIndex> = match press.limits.every_working {
        true => (0..all).collect(),
        false => press.report.asked_about(&press.doubts).into_iter().collect(),
    };
    let mut remarks =
        vec!["The last step of each number is its value. Rules are explained on Rules used.".into()];
    if openings.len() < all {
        remarks.push(NOT_ALL.into());
    }
    let form = Form {
        name: fixed::WORKING,
        title: "Working",
        remarks,
        lie: Lie::Landscape,
        frozen: Frozen::Headings,
    };
    let mut pages = Pages::open(press, form)?;
    pages.headings(&columns(press))?;
    for opening in openings {
        // An opening's steps are worked again when its turn comes, and forgotten after it.
        let steps = press.report.working(opening);
        pages.rows(&columns(press), steps.iter().map(|step| Row { opening, step }), |_| Tone::Body)?;
    }
    pages.finish()
}

#[derive(Clone, Copy)]
struct Row<'s> {
    opening: OpeningIndex,
    step: &'s Step<'s>,
}

fn columns<'s>(press: &'s Press<'_>) -> Vec<Column<'s, Row<'s>>> {
    let shown = press.length_units();
    let (units, weight, force) = (shown.symbol(), weight::symbol(shown), force::symbol(shown));
    vec![
        Column::new("Opening", |row: Row<'s>| press.name(row.opening)).strong(),
        Column::new("Number", |row: Row<'s>| row.step.of.name()).wide(44),
        Column::new("Step", |row: Row<'s>| row.step.step).wide(60),
        Column::new("From", |row: Row<'s>| {
            row.step.from.show(press.report.sheets).unwrap_or(Cow::Borrowed("the steps above"))
        }),
        Column::new("Value", |row: Row<'s>| row.step.value.show(press.length_units())).strong(),
        Column::new(
            format!("Value as a number ({units}, {weight}, {force} or degrees)"),
            move |row: Row<'s>| match &row.step.value {
                Amount::Length(length) => Cell::Decimal(*length),
                Amount::Count(count) => Cell::Number((*count).into()),
                Amount::Mass(kilograms) => Cell::Mass(*kilograms),
                Amount::Force(newtons) => {
                    Cell::Number(half_away(force::beside(*newtons, press.length_units()), 3))
                }
                Amount::Share(share) => Cell::Share(*share),
                Amount::Angle(angle) => Cell::Angle(*angle),
                Amount::Word(_) => Cell::Blank,
            },
        ),
    ]
}
