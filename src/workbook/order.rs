//! `Order`: what the maker makes, with totals by color and what is delivered where.

use std::collections::BTreeSet;

use super::bound::Filled;
use super::cell::Cell;
use super::layout::fixed;
use super::look::Tone;
use super::pages::{Column, Form, Frozen, Pages, columns_of, in_use, span};
use super::paper::Lie;
use super::{LEFT_AND_RIGHT, Press, WorkbookError, order_openings, stamp};
use crate::date::Date;
use crate::report::LOUVER_FACE;
use crate::report::expr::Address;
use crate::report::figure::Lead;
use crate::report::rows::{ColorRow, DeliveryRow, LineRow, SpareRow};
use crate::rules::Terms;
use crate::sizing::Release;

const TITLE: &str = "FINISHED SIZES - MAKE AS WRITTEN, NO FURTHER DEDUCTION";

/// Writes the sheet; gives where each line stands as well.
pub(super) fn write(press: &Press<'_>) -> Result<(Vec<Filled>, Vec<Address>), WorkbookError> {
    let form = Form {
        name: fixed::ORDER,
        title: TITLE,
        remarks: head(press).into_iter().map(Into::into).collect(),
        lie: Lie::Wide,
        frozen: Frozen::Headings,
    };
    let report = press.report;
    let mut pages = Pages::open(press, form)?;
    pages.way_back()?;
    let mut ahead = pages.ahead();
    ahead.headings();
    let places = report.order.lines.iter().map(|_| ahead.row()).collect();
    let firsts = order_openings::first_labels(press);
    let address = |lead| match lead {
        Lead::Labels(line) => firsts.get(report.order.place(line)?).cloned(),
        lead => press.address(lead),
    };
    let lines = in_use(columns_of::<LineRow<'_>>(press, address), LineRow::all(report));
    pages.table(&lines, LineRow::all(report), |line| tone(line.release()))?;

    let mut spares = SpareRow::all(report).peekable();
    if spares.peek().is_some() {
        pages.section("Spare louvers to order as well", span(&lines))?;
        let columns = columns_of::<SpareRow<'_>>(press, address);
        pages.table(&columns, spares, |_| Tone::Body)?;
    }

    pages.section("Totals by color", span(&lines))?;
    // Under the lines' quantity stand the blinds.
    let mut totals = columns_of::<ColorRow<'_>>(press, address);
    totals.insert(0, Column::new("", |_| Cell::Blank));
    pages.table(&totals, ColorRow::all(report), |_| Tone::Body)?;
    pages.rows(&totals, [ColorRow::of_all(report)], |_| Tone::Total)?;

    pages.section("Deliveries by phase and floor", span(&lines))?;
    let mut deliveries = in_use(columns_of::<DeliveryRow<'_>>(press, address), DeliveryRow::all(report));
    deliveries.insert(0, Column::new("", |_| Cell::Blank));
    pages.table(&deliveries, DeliveryRow::all(report), |_| Tone::Body)?;
    Ok((pages.finish()?, places))
}

/// Whose order it is, where it goes, and what its words mean. Where phases of the order differ in a date, a
/// number or an address, the deliveries have it phase by phase.
fn head(press: &Press<'_>) -> [String; 4] {
    let report = press.report;
    let project = &report.rules.project;
    let phases: BTreeSet<&str> = report.order.lines.iter().map(|line| &*line.key.phase).collect();
    let terms: Vec<Terms<'_>> = phases.iter().map(|phase| report.rules.terms_of(phase)).collect();
    let of_all = |said: &dyn Fn(&Terms<'_>) -> String| match terms.split_first() {
        None => said(&report.rules.terms_of("")),
        Some((first, others)) if others.iter().all(|other| said(other) == said(first)) => said(first),
        Some(_) => "by phase, see the deliveries".to_owned(),
    };
    let said = |text: &str| if text.is_empty() { "not given".to_owned() } else { text.to_owned() };
    let date = |date: Option<Date>| date.map_or_else(|| said(""), |date| date.to_string());
    let listed = |parts: [&str; 2]| {
        said(&parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(", "))
    };
    [
        format!(
            "Project: {}. Site: {}. Order number: {}. Order date: {}. Need by: {}. {}.",
            said(&project.name),
            said(&project.site),
            of_all(&|terms| said(terms.order_number)),
            of_all(&|terms| date(terms.order_date)),
            of_all(&|terms| date(terms.need_by)),
            stamp(press.report, str::to_owned),
        ),
        format!(
            "Client: {}. Deliver to: {}. Contact: {}.",
            listed([&project.client, &project.client_address]),
            of_all(&|terms| said(terms.deliver_to)),
            said(&project.contact),
        ),
        format!(
            "Draw: the side to which the louvers stack when open, seen from inside the room. {LOUVER_FACE}"
        ),
        format!(
            "{LEFT_AND_RIGHT} Do not make provisional lines until their queries are answered. Look at every check on Queries before you order."
        ),
    ]
}

/// The look of a row by whether its blinds may be made.
pub(super) fn tone(release: Release) -> Tone {
    match release {
        Release::Make => Tone::Body,
        Release::Provisional => Tone::Provisional,
    }
}
