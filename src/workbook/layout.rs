//! Where things stand: the limits of a sheet, addresses, and which sheet and row each opening
//! and unit is on. Worked out before anything is written, so that any sheet can lead to any other.

use rayon::prelude::*;

use super::names::Names;
use crate::place::MOST_ROWS;
use crate::query::OpeningIndex;
use crate::report::expr::Address;
use crate::report::{Report, Unit};

/// The fixed sheets, in the order of the workbook; the units' sheets stand before `Cost summary`.
pub(super) mod fixed {
    use crate::rules::columns::offcuts::OFFCUTS as OFFCUTS_ON_HAND;
    use crate::rules::columns::phases::PHASES as PHASES_IN_SURVEY;
    use crate::schema::answers::ANSWERS as ANSWERS_IN_SURVEY;
    use crate::schema::blinds::BLINDS as BLINDS_KEPT;
    use crate::schema::cost_summary::COST_SUMMARY as COST_SUMMARY_KEPT;
    use crate::schema::fitting_days::FITTING_DAYS as FITTING_DAYS_KEPT;
    use crate::schema::surveyed::AS_SURVEYED as AS_SURVEYED_KEPT;

    pub(in crate::workbook) const SUMMARY: &str = "Summary";
    pub(in crate::workbook) const CHANGES: &str = "Changes";
    pub(in crate::workbook) const QUERIES: &str = "Queries";
    pub(in crate::workbook) const ANSWERS: &str = ANSWERS_IN_SURVEY.sheet;
    pub(in crate::workbook) const COLUMNS_READ: &str = "Columns read";
    pub(in crate::workbook) const AS_SURVEYED: &str = AS_SURVEYED_KEPT.sheet;
    pub(in crate::workbook) const OPENINGS: &str = "Openings";
    pub(in crate::workbook) const ORDER: &str = "Order";
    pub(in crate::workbook) const ORDER_OPENINGS: &str = "Order's openings";
    pub(in crate::workbook) const BLINDS: &str = BLINDS_KEPT.sheet;
    pub(in crate::workbook) const ALSO_FITS: &str = "Also fits";
    pub(in crate::workbook) const LABELS: &str = "Labels";
    pub(in crate::workbook) const CUT_LIST: &str = "Cut list";
    pub(in crate::workbook) const OFFCUTS: &str = OFFCUTS_ON_HAND.sheet;
    pub(in crate::workbook) const HARDWARE: &str = "Hardware";
    pub(in crate::workbook) const OPTIONS_COMPARED: &str = "Options compared";
    pub(in crate::workbook) const PHASES: &str = PHASES_IN_SURVEY.sheet;
    pub(in crate::workbook) const FITTING_DAYS: &str = FITTING_DAYS_KEPT.sheet;
    pub(in crate::workbook) const NOTICES: &str = "Notices";
    pub(in crate::workbook) const PILOT: &str = "Pilot";
    pub(in crate::workbook) const INSTALL_INDEX: &str = "Install index";
    pub(in crate::workbook) const INSTALL: &str = "Install";
    pub(in crate::workbook) const HANDOVER: &str = "Handover";
    pub(in crate::workbook) const COST_SUMMARY: &str = COST_SUMMARY_KEPT.sheet;
    pub(in crate::workbook) const WORKING: &str = "Working";
    pub(in crate::workbook) const RULES_USED: &str = "Rules used";

    pub(in crate::workbook) const ALL: [&str; 26] = [
        SUMMARY,
        CHANGES,
        QUERIES,
        ANSWERS,
        COLUMNS_READ,
        AS_SURVEYED,
        OPENINGS,
        ORDER,
        ORDER_OPENINGS,
        BLINDS,
        ALSO_FITS,
        LABELS,
        CUT_LIST,
        OFFCUTS,
        HARDWARE,
        OPTIONS_COMPARED,
        PHASES,
        FITTING_DAYS,
        NOTICES,
        PILOT,
        INSTALL_INDEX,
        INSTALL,
        HANDOVER,
        COST_SUMMARY,
        WORKING,
        RULES_USED,
    ];
}

/// What a workbook may hold at most before it goes on elsewhere.
#[derive(Clone, Copy, Debug)]
pub struct Limits {
    /// Rows of one sheet; a table that needs more goes on on the next.
    pub rows: u32,
    /// Links on one sheet; past it a link is written as plain text.
    pub links: u32,
    /// Units with a sheet each; with more, and in parts of this many printed pages, install pages
    /// follow one another on `Install 1`, `Install 2`…
    pub unit_sheets: usize,
    /// Page breaks of one sheet; what needs more goes on on the next.
    pub breaks: usize,
    /// Labels in all; `Labels` says how many more there would be.
    pub labels: u64,
    /// Openings whose labels have a code; `Labels` says that the others have none.
    pub codes: usize,
    /// Bars that are drawn; the cut list says that the others are not.
    pub bars: usize,
    /// Openings that are drawn on the units' pages; with more, none is, and the pages say so.
    pub drawings: usize,
    /// Whether `Working` has every opening; else it has those that a person would ask about, and says so.
    pub every_working: bool,
}

/// Openings that are drawn at most: of so many that all differ the drawings take some 12 MB, and as
/// long to make as the rest of the run.
const MOST_DRAWINGS: usize = 5_000;

impl Limits {
    /// What spreadsheet programs allow: rows and links by their file format; breaks and sheets
    /// that a program still opens gladly, from experience. Codes and bars are as many as can
    /// be made in a few seconds and a hundred megabytes.
    pub const SPREADSHEET: Limits = Limits {
        rows: MOST_ROWS,
        links: 65_530,
        unit_sheets: 1_000,
        breaks: 1_023,
        labels: 200_000,
        codes: 5_000,
        bars: 2_000,
        drawings: MOST_DRAWINGS,
        every_working: false,
    };

    /// The same, without a picture on any sheet.
    pub fn without_drawings(self) -> Limits {
        Limits { drawings: 0, codes: 0, bars: 0, ..self }
    }

    /// Why so many openings are not drawn, in words for the page; `None` if they are.
    pub(super) fn why_not_drawn(self, openings: usize) -> Option<String> {
        match self.drawings {
            _ if openings <= self.drawings => None,
            0 => Some("No drawings (--no-drawings).".to_owned()),
            most => Some(format!("No drawings: there are more than {most} openings.")),
        }
    }
}

/// The first cell of a sheet.
pub(super) fn top_of(sheet: &str) -> Address {
    Address { sheet: sheet.into(), row: 0, column: 0 }
}

/// Rows above the first row of a table on a sheet of openings: title, remark and headings.
pub(super) const ROWS_ABOVE_OPENINGS: u32 = 3;

/// Where openings and units stand.
pub(super) struct Layout {
    limits: Limits,
    /// Name of each unit as the sheets show it, in the order of the report's units.
    pub unit_titles: Vec<String>,
    /// Where each unit's page begins.
    unit_pages: Vec<Address>,
    /// Position of each opening's unit.
    unit_of: Vec<usize>,
}

impl Layout {
    /// Lays out the openings and gives the units' sheets their names. Where the units share
    /// sheets, `extent` says how many rows and printed pages a unit's page takes.
    pub(super) fn new(
        report: &Report<'_>,
        units: &[Unit<'_>],
        limits: Limits,
        extent: impl Fn(&Unit<'_>, &str) -> (u32, usize) + Sync,
    ) -> Layout {
        let mut unit_of = vec![0; report.survey.openings.len()];
        for (place, unit) in units.iter().enumerate() {
            for &opening in &unit.openings {
                unit_of[opening] = place;
            }
        }
        let unit_titles: Vec<String> = units.iter().map(Unit::title).collect();
        let unit_pages = if units.len() <= limits.unit_sheets {
            let mut names = Names::keeping_free(&fixed::ALL);
            unit_titles.iter().map(|title| top_of(&names.give(title))).collect()
        } else {
            shared_pages(units, &unit_titles, limits, extent)
        };
        Layout { limits, unit_titles, unit_pages, unit_of }
    }

    /// Whether install pages share sheets instead of having one each.
    pub(super) fn pages_share_sheets(&self) -> bool {
        self.unit_pages.len() > self.limits.unit_sheets
    }

    /// Whether two units' pages are on one sheet.
    pub(super) fn share_a_sheet(&self, one: usize, other: usize) -> bool {
        self.unit_pages[one].sheet == self.unit_pages[other].sheet
    }

    /// Where a unit's page begins.
    pub(super) fn unit_page(&self, unit: usize) -> Address {
        self.unit_pages[unit].clone()
    }

    /// Where the page of an opening's unit begins.
    pub(super) fn page_of(&self, opening: OpeningIndex) -> Address {
        self.unit_page(self.unit_of[opening])
    }

    /// The row of an opening on `Openings` or where that goes on.
    pub(super) fn opening_row(&self, opening: OpeningIndex) -> Address {
        let on_a_sheet = self.limits.rows.saturating_sub(ROWS_ABOVE_OPENINGS).max(1) as usize;
        let row = u32::try_from(opening % on_a_sheet).unwrap_or(u32::MAX);
        Address {
            sheet: continued(fixed::OPENINGS, opening / on_a_sheet + 1).into(),
            row: ROWS_ABOVE_OPENINGS + row,
            column: 0,
        }
    }
}

/// `Order`, and where that is full `Order 2`, `Order 3`…
pub(super) fn continued(name: &str, number: usize) -> String {
    if number == 1 { name.to_owned() } else { format!("{name} {number}") }
}

/// Pages one under the other on `Install 1`, `Install 2`…
fn shared_pages(
    units: &[Unit<'_>],
    titles: &[String],
    limits: Limits,
    extent: impl Fn(&Unit<'_>, &str) -> (u32, usize) + Sync,
) -> Vec<Address> {
    let extents: Vec<(u32, usize)> =
        units.par_iter().zip(titles).map(|(unit, title)| extent(unit, title)).collect();
    let (mut sheet, mut on_sheet, mut row) = (1, 0, 0_u32);
    extents
        .into_iter()
        .map(|(rows, pages)| {
            let full = on_sheet + pages > limits.unit_sheets || row.saturating_add(rows) > limits.rows;
            if on_sheet > 0 && full {
                (sheet, on_sheet, row) = (sheet + 1, 0, 0);
            }
            let page = Address { sheet: format!("{} {sheet}", fixed::INSTALL).into(), row, column: 0 };
            on_sheet += pages;
            row = row.saturating_add(rows);
            page
        })
        .collect()
}
