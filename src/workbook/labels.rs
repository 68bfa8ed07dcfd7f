//! `Labels`: one for each blind, to be cut out or printed on label sheets, two by five to a page,
//! each with a code that holds the opening's name. They are in the order of the order's lines, for
//! it is the maker who sticks them on, line by line.
//!
//! They are cut apart, so each carries all that it needs. A code (ISO/IEC 18004) holds the key by which
//! the project knows the blind (survey, line and opening), so that a label of another revision is found
//! out; it is one picture for each opening.

use rayon::prelude::*;
use rust_xlsxwriter::Image;

use super::bound::Filled;
use super::cell::Cell;
use super::layout::{continued, fixed, top_of};
use super::look::Tone;
use super::measure::{COUNTED, Weight, fitted};
use super::paper::Lie;
use super::sheet::Sheet;
use super::{Press, WorkbookError, Written, stamp};
use crate::drawing::Picture;
use crate::drawing::code::code;
use crate::report::rows::LabelRow;
use crate::sizing::Release;
use crate::survey::{shown_floor, shown_unit};

/// Labels beside each other.
const ACROSS: usize = 2;
/// Rows of labels on a page.
const DOWN: usize = 5;
/// Columns of a label: its words, its code, and the gap to the next.
const COLUMNS: u16 = 3;
/// Widths of words, code and gap, in pixels of which 96 are an inch: two labels fill the width of
/// an A4 page, and of a Letter page all but a quarter of an inch.
const WORDS: u32 = 232;
const CODE: u32 = 112;
const GAP: u32 = 12;
/// Size of a code in the same pixels: 26 mm, so a module is at least half a millimeter up to 40
/// letters of a name, which a telephone reads.
const CODE_SIZE: u32 = 100;

/// How the rows of a label are set.
const ROWS: [Tone; 6] =
    [Tone::TagLarge, Tone::TagSmall, Tone::TagLarge, Tone::TagSmall, Tone::TagMiddle, Tone::TagSmall];
/// Height of each in points: the sheet's usual one, for a height of its own costs memory. Five labels
/// fill a Letter page and all but a centimeter of an A4 page.
const ROW_HEIGHT: u32 = 23;
/// Height of the gap below a label.
const GAP_BELOW: u32 = 5;
/// Rows above the labels, which are not printed.
const ABOVE: u32 = 3;
/// What a blind is marked with that is not to be made yet.
const NOT_YET: &str = "DO NOT MAKE YET";

/// One blind's label.
#[derive(Clone, Copy)]
struct Label<'p> {
    row: LabelRow<'p>,
    /// Where its code is among the codes.
    code: usize,
    number: u64,
}

pub(super) fn write(press: &Press<'_>) -> Written {
    let codes = codes(press)?;
    let most = usize::try_from(press.limits.labels).unwrap_or(usize::MAX);
    let rows = LabelRow::all(press.report).enumerate();
    let labels: Vec<Label<'_>> = rows.flat_map(|(code, row)| of_opening(row, code)).take(most).collect();
    let on_a_sheet = labels_on_a_sheet(press).max(ACROSS);
    let mut parts: Vec<&[Label<'_>]> = labels.chunks(on_a_sheet).collect();
    if parts.is_empty() {
        parts.push(&[]);
    }
    let numbered = parts.into_par_iter().enumerate();
    numbered.map(|(place, part)| one_sheet(press, &codes, (place + 1, part))).collect()
}

/// How many labels a sheet takes: within its rows and its page breaks.
fn labels_on_a_sheet(press: &Press<'_>) -> usize {
    let of_a_label = u32::try_from(ROWS.len()).unwrap_or(u32::MAX).saturating_add(1);
    let rows = press.limits.rows.saturating_sub(ABOVE) / of_a_label;
    let pages = press.limits.breaks.saturating_add(1);
    ACROSS * usize::try_from(rows).unwrap_or(usize::MAX).min(pages.saturating_mul(DOWN))
}

/// The labels of one opening's blinds.
fn of_opening(row: LabelRow<'_>, code: usize) -> impl Iterator<Item = Label<'_>> {
    (row.first()..=row.last()).map(move |number| Label { row, code, number })
}

/// The code of each opening's labels, in their order; as many as the limits allow.
fn codes(press: &Press<'_>) -> Result<Vec<Option<Image>>, WorkbookError> {
    let keys: Vec<String> = LabelRow::all(press.report).take(press.limits.codes).map(LabelRow::key).collect();
    let drawn: Result<Vec<_>, _> = keys.par_iter().map(|key| code(key)).collect();
    let sized = |picture: Picture| {
        let image = Image::new_from_buffer(&picture.png)?;
        Ok(image.set_scale_to_size(CODE_SIZE, CODE_SIZE, false))
    };
    drawn?.into_iter().map(|picture| picture.map(sized).transpose()).collect()
}

fn one_sheet(
    press: &Press<'_>,
    codes: &[Option<Image>],
    (number, labels): (usize, &[Label<'_>]),
) -> Result<Filled, WorkbookError> {
    let name = continued(fixed::LABELS, number);
    let mut sheet = Sheet::new(press, name, Lie::Portrait)?;
    set_up(&mut sheet)?;
    sheet.put(0, "Labels", Tone::Title)?;
    sheet.lines(2);
    sheet.next_row()?;
    sheet.put(0, Cell::Link(top_of(fixed::SUMMARY), fixed::SUMMARY.into()), Tone::Remark)?;
    sheet.next_row()?;
    sheet.put(0, remark(press), Tone::Remark)?;
    sheet.next_row()?;
    for (row, beside) in labels.chunks(ACROSS).enumerate() {
        if row > 0 && row % DOWN == 0 {
            sheet.break_page(0);
        }
        row_of_labels(&mut sheet, press, codes, beside)?;
    }
    if let Some(last) = sheet.row().checked_sub(1).filter(|last| *last >= ABOVE) {
        sheet.set_up().set_print_area(ABOVE, 0, last, COLUMNS * 2 - 2)?;
    }
    sheet.set_breaks()?;
    sheet.finish()
}

fn set_up(sheet: &mut Sheet<'_>) -> Result<(), WorkbookError> {
    let page = sheet.set_up();
    // Little room above and below: the header is one small line.
    page.set_margins(0.4, 0.4, 0.5, 0.4, 0.2, 0.2).set_print_center_horizontally(true);
    for label in 0..2 {
        for (column, pixels) in (0..).zip([WORDS, CODE, GAP]) {
            page.set_column_width_pixels(label * COLUMNS + column, pixels)?;
        }
    }
    page.set_freeze_panes(ABOVE, 0)?;
    sheet.set_usual_height(ROW_HEIGHT);
    Ok(())
}

/// How the labels are to be used, and what is left out.
fn remark(press: &Press<'_>) -> String {
    let blinds: u64 = press.report.order.lines.iter().map(|line| line.quantity).sum();
    let coded = LabelRow::all(press.report).count();
    let mut words = format!("{blinds} labels, in the order of the order lines. Print at 100 %.");
    if blinds > press.limits.labels {
        words.push_str(&format!(" Only the first {} are printed.", press.limits.labels));
    }
    match press.limits.codes {
        0 => words.push_str(" No QR codes (--no-drawings)."),
        most if coded > most => {
            words.push_str(&format!(" Only the first {most} of {coded} openings have a QR code."));
        }
        _ => {}
    }
    words
}

/// The labels that stand beside each other.
fn row_of_labels(
    sheet: &mut Sheet<'_>,
    press: &Press<'_>,
    codes: &[Option<Image>],
    labels: &[Label<'_>],
) -> Result<(), WorkbookError> {
    let words: Vec<[String; ROWS.len()]> = labels.iter().map(|label| label.words(press)).collect();
    for (place, tone) in ROWS.into_iter().enumerate() {
        for ((label, words), first) in labels.iter().zip(&words).zip((0..).step_by(usize::from(COLUMNS))) {
            let text = &*words[place];
            let tone = if text.ends_with(NOT_YET) { Tone::TagStop } else { tone };
            // Below its code a label is free over its whole width.
            let last = if place + 1 == ROWS.len() { first + 1 } else { first };
            sheet.spread((first, last), text, tone)?;
            if place == 0
                && let Some(image) = codes.get(label.code).and_then(Option::as_ref)
            {
                sheet.hang(first + 1, image, &format!("Code of {}", label.row.opening()))?;
            }
        }
        // The line on which the two are cut apart.
        sheet.put(COLUMNS - 1, Cell::Blank, Tone::CropDown)?;
        sheet.next_row()?;
    }
    sheet.height(GAP_BELOW);
    for column in 0..COLUMNS * 2 - 1 {
        sheet.put(column, Cell::Blank, Tone::CropAcross)?;
    }
    sheet.next_row()?;
    Ok(())
}

impl Label<'_> {
    /// What each row of the label says. What is too long for its row ends with `…`: the code
    /// holds the whole name.
    fn words(&self, press: &Press<'_>) -> [String; ROWS.len()] {
        let Label { row, number, .. } = *self;
        let listed = |names: &[&str]| {
            names.iter().filter(|name| !name.is_empty()).copied().collect::<Vec<_>>().join(", ")
        };
        let size = format!(
            "{} x {}",
            row.width_mm().figure(press.length_units()),
            row.drop_mm().shown(press.length_units())
        );
        let line = format!("Line {}: {number} of {}", row.line(), row.of());
        let line = match row.release() {
            Release::Provisional => format!("{line} - {NOT_YET}"),
            Release::Make => line,
        };
        let project = &press.report.rules.project;
        let stamp = stamp(press.report, str::to_owned);
        let order = match press.report.rules.terms_of(row.phase()).order_number {
            "" => String::new(),
            number => format!("order {number}"),
        };
        let words = [
            shown_unit(row.unit()).to_owned(),
            listed(&[row.room(), row.opening(), &row.hangs()]),
            size,
            listed(&[row.product(), row.color(), &row.control_in_words()]),
            line,
            listed(&[&stamp, &project.name, &shown_floor(row.floor()), row.building(), row.phase(), &order]),
        ];
        let set = |words: &str, tone| if words.ends_with(NOT_YET) { Tone::TagStop } else { tone };
        let room = |place| if place + 1 == ROWS.len() { WORDS + CODE } else { WORDS };
        let rows = words.into_iter().zip(ROWS).enumerate();
        let mut fits = rows.map(|(place, (words, tone))| fit(&words, set(&words, tone), room(place)));
        std::array::from_fn(|_| fits.next().unwrap_or_default())
    }
}

/// Text as it fits on a row of a label, in a place of so many pixels.
fn fit(text: &str, tone: Tone, pixels: u32) -> String {
    let font = match tone {
        Tone::TagLarge => 14,
        Tone::TagMiddle => 11,
        _ => 9,
    };
    // Padding and indent take 18 pixels; a line takes a quarter more than the font is high.
    let room = (pixels - 18) * COUNTED / 100 * 72 * 1_000 / (96 * font);
    let lines = usize::try_from(ROW_HEIGHT * 4 / (font * 5)).unwrap_or(1).max(1);
    fitted(text, room, lines, if tone == Tone::TagSmall { Weight::Regular } else { Weight::Bold })
}
