//! The fitter's page: one for each unit, on a sheet of its own or, in a large building, one under
//! the other on `Install 1`, `Install 2`… What a page says is a list of lines, made first; then
//! they are put on printed pages, and laying them out is one walk over them, so the length of a
//! page is known before anything is written.
//!
//! Drawings stop at `Limits::drawings` openings, as drawing and storing them would take most of a
//! run; past it there is none, for a page of some drawings would mislead, and every page says why.
//!
//! A unit whose page is longer than a sheet (a survey without units is one unit) is halved until
//! each part has a sheet.

mod fixing;
mod foot;
mod head;
mod lay;
mod line;
mod opening;
mod paper;
mod pictures;
mod side;
mod source;

use rayon::prelude::*;

use self::lay::Grid;
use self::paper::{Laid, Paper};
use self::pictures::Images;
use self::source::Links;
pub(super) use self::source::Source;
use super::bound::Filled;
use super::cell::Cell;
use super::layout::{fixed, top_of};
use super::paper::Papers;
use super::sheet::Sheet;
use super::{Press, WorkbookError, Written};
use crate::report::Unit;
use crate::report::expr::Address;

/// Rows and printed pages that a unit's page takes.
pub(super) fn extent(source: &Source<'_>, unit: &Unit<'_>, title: &str) -> (u32, usize) {
    let laid = page(source, unit, title, Paper::Upright, Links::none());
    (u32::try_from(laid.lines.len()).unwrap_or(u32::MAX), laid.breaks.len() + 1)
}

/// Rows that a page may take beside its openings, and that an opening may take: a page that keeps
/// within them is not looked at more closely.
const ROWS_BESIDE: usize = 60;
const ROWS_OF_AN_OPENING: usize = 40;

/// The units, one whose page is longer than a sheet halved until each part has a sheet of its own:
/// a survey that names no units is one unit of all its openings.
pub(super) fn parted<'r>(source: &Source<'_>, units: Vec<Unit<'r>>, rows: u32) -> Vec<Unit<'r>> {
    let mut parts = Vec::with_capacity(units.len());
    let mut left: Vec<Unit<'r>> = units.into_iter().rev().collect();
    while let Some(mut unit) = left.pop() {
        let count = unit.openings.len();
        let surely_fits = count <= 1 || ROWS_BESIDE + count * ROWS_OF_AN_OPENING <= rows as usize;
        if surely_fits || extent(source, &unit, unit.unit).0 <= rows {
            parts.push(unit);
        } else {
            let openings = unit.openings.split_off(count / 2);
            left.push(Unit { openings, ..unit.clone() });
            left.push(unit);
        }
    }
    parts
}

/// A unit's page on the paper that takes the fewest printed pages; of several the one with the largest
/// letters, and the smallest sheet. It is laid out on one paper at a time: where all openings are of one unit
/// its page is nearly all of the workbook.
fn on_fewest<'p>(papers: Papers, page: impl Fn(Paper) -> Laid<'p>) -> (Paper, Laid<'p>) {
    let mut last = (Paper::Upright, page(Paper::Upright));
    let (mut best, mut fewest) = (Paper::Upright, last.1.breaks.len());
    for &paper in Paper::larger(papers) {
        if fewest == 0 {
            break;
        }
        drop(last);
        last = (paper, page(paper));
        if last.1.breaks.len() < fewest {
            (best, fewest) = (paper, last.1.breaks.len());
        }
    }
    if last.0 != best {
        drop(last);
        last = (best, page(best));
    }
    last
}

/// Everything that a unit's page says, on printed pages.
fn page<'p>(source: &Source<'p>, unit: &Unit<'_>, title: &str, paper: Paper, links: Links<'p>) -> Laid<'p> {
    let head = head::lines(source, unit, title, links);
    let below_head = head.len();
    let count = unit.openings.len();
    let numbered = unit.openings.iter().enumerate();
    let openings = numbered.map(|(place, &index)| opening::lines(source, index, (place + 1, count)));
    let openings = openings.collect();
    let mut blocks = vec![head];
    blocks.extend(if paper.is_double() { paper::two_abreast(openings) } else { openings });
    let capacity = paper.capacity(Papers::of(&source.report.rules.project));
    let room = source.grid(paper).room();
    let again = || head::again(source, unit, title);
    if !paper.has_side() {
        blocks.extend(foot::blocks(source, unit));
        return paper::lay_out(blocks, room, capacity, again);
    }
    let mut laid = paper::lay_out(blocks, room, capacity, again);
    let left = side::place(&mut laid, below_head, room, capacity, &foot::notes(source, unit));
    laid.go_on(left.iter().map(foot::below).collect(), room, capacity, again);
    laid
}

/// Writes every unit's page; `order` is where each line of the order stands.
pub(super) fn write(press: &Press<'_>, order: &[Address]) -> Written {
    let source = Source::new(press.report, &press.doubts, press.limits);
    let drawn = source.why_not_drawn.is_none();
    let pictures = if drawn { Images::of(press.report)? } else { Images::default() };
    let places: Vec<usize> = (0..press.units.len()).collect();
    let sheets: Vec<&[usize]> =
        places.chunk_by(|&one, &next| press.layout.share_a_sheet(one, next)).collect();
    let one_sheet = |places: &&[usize]| one_sheet(press, &source, &pictures, order, places);
    sheets.par_iter().with_max_len(1).map(one_sheet).collect()
}

/// The pages of the units at these places, which share a sheet.
fn one_sheet(
    press: &Press<'_>,
    source: &Source<'_>,
    pictures: &Images,
    order: &[Address],
    places: &[usize],
) -> Result<Filled, WorkbookError> {
    let page = |place: usize, paper| {
        let (unit, title) = (&press.units[place], &*press.layout.unit_titles[place]);
        page(source, unit, title, paper, links(press, unit, order))
    };
    let upright = |place| page(place, Paper::Upright);
    let (first, others) = (places[0], &places[1..]);
    // A sheet that units share has paper of one kind.
    let (paper, laid) = match press.layout.pages_share_sheets() {
        true => (Paper::Upright, upright(first)),
        false => on_fewest(Papers::of(&press.report.rules.project), |paper| page(first, paper)),
    };
    let grid = source.grid(paper);
    let mut sheet = begin(press, press.layout.unit_page(first).sheet.to_string(), &grid, paper)?;
    grid.lay(&mut sheet, laid, pictures)?;
    for &place in others {
        grid.lay(&mut sheet, upright(place), pictures)?;
    }
    sheet.set_breaks()?;
    sheet.finish()
}

/// A sheet for one unit, or for several.
fn begin<'p>(
    press: &'p Press<'p>,
    name: String,
    grid: &Grid,
    paper: Paper,
) -> Result<Sheet<'p>, WorkbookError> {
    let mut sheet = Sheet::new(press, name, paper.lie())?;
    grid.set_columns(&mut sheet)?;
    let [sides, top, bottom] = paper::margins(Papers::of(&press.report.rules.project));
    sheet.set_up().set_margins(sides, sides, top, bottom, 0.25, 0.25);
    // Fitted to the width, some programs take a scale at which the last rows no longer fit.
    sheet.set_up().set_print_scale(paper.percent()).set_print_center_horizontally(true);
    Ok(sheet)
}

/// Order lines that a link names one by one.
const LINES_NAMED: usize = 8;

/// Where a unit's page leads to.
fn links<'p>(press: &Press<'_>, unit: &Unit<'_>, order: &[Address]) -> Links<'p> {
    let mut lines: Vec<usize> =
        unit.openings.iter().flat_map(|&opening| press.report.order.lines_of(opening)).copied().collect();
    lines.sort_unstable();
    lines.dedup();
    let mut named: Vec<String> = lines.iter().take(LINES_NAMED).map(usize::to_string).collect();
    if lines.len() > LINES_NAMED {
        named.push(format!("and {} more", lines.len() - LINES_NAMED));
    }
    let first = lines.first().and_then(|&line| order.get(press.report.order.place(line)?));
    let order = first.map_or(Cell::Blank, |first| {
        let what = if lines.len() == 1 { "Order line" } else { "Order lines" };
        Cell::Link(first.clone(), format!("{what} {}", named.join(", ")).into())
    });
    let queries: usize = unit.openings.iter().map(|&opening| press.doubts.about(opening).count()).sum();
    Links {
        index: Cell::Link(top_of(fixed::INSTALL_INDEX), fixed::INSTALL_INDEX.into()),
        order,
        queries: match queries {
            0 => Cell::Blank,
            1 => Cell::Link(top_of(fixed::QUERIES), "Queries: 1 about this unit".into()),
            several => {
                Cell::Link(top_of(fixed::QUERIES), format!("Queries: {several} about this unit").into())
            }
        },
    }
}
