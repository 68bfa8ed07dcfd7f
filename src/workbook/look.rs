//! How cells look: one palette and every format, each made once and used by all sheets.
//!
//! The palette works in black and white: whatever a color says, a word or a border says too.
//!
//! The default font is the sheets' own (9-point Arial), for column widths are counted in its
//! digits: a program without it then makes columns and letters wider alike.

use std::collections::HashMap;

use rust_xlsxwriter::{Color, Format, FormatAlign, FormatBorder, FormatUnderline};

use super::measure::Weight;
use super::rows::{LookNumber, USUAL};
use super::shown::Shown;
use crate::money::Currency;

/// Text and lines.
const INK: Color = Color::RGB(0x1D_2B_36);
/// Behind a heading; white text stands on it.
const SLATE: Color = Color::RGB(0x34_49_55);
/// Behind a section's name and a total.
const MIST: Color = Color::RGB(0xE6_EC_EF);
/// Behind what someone must look at.
const STRAW: Color = Color::RGB(0xFB_F0_D0);
/// Behind what is held back.
const CLAY: Color = Color::RGB(0xF2_D5_CC);
/// Behind what someone may change.
const LINEN: Color = Color::RGB(0xFD_FB_F3);
/// Behind what is of this run and does not follow a change.
const ASH: Color = Color::RGB(0xE4_E4_E4);
/// Thin lines between rows.
const HAIRLINE: Color = Color::RGB(0xB4_C0_C7);
/// A link to another sheet.
const LINK: Color = Color::RGB(0x1F_5C_7A);
const WHITE: Color = Color::RGB(0xFF_FF_FF);

/// Every spreadsheet program has it, or a font of the same widths.
const FONT: &str = "Arial";

/// The format of cells that say nothing, and the usual height and width of theirs in dots. The
/// width of every column is counted in digits of its font: one of the sheets' own, so that a program
/// which has to take another font in its place makes columns and text wider alike.
pub(super) fn usual() -> (Format, u32, u32) {
    (Format::new().set_font_name(FONT).set_font_size(9), 20, 64)
}

/// What a cell is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Tone {
    /// A row of a table.
    Body,
    /// The same, to be seen first: a finished size, an id.
    Strong,
    /// A row of a table about something not to be made yet.
    Provisional,
    /// A row of a table about something held back.
    Held,
    /// A column's heading.
    Heading,
    /// The name of a block of figures.
    Band,
    /// The name of a section within a sheet.
    Section,
    /// A total under a table.
    Total,
    /// The name of the sheet or of the unit.
    Title,
    /// A sentence under a title.
    Remark,
    /// A sentence that must not be missed.
    Warning,
    /// The name of a figure beside it.
    Label,
    /// The figure beside its name.
    Figure,
    /// A link to another sheet.
    Link,
    /// Room to write in by hand.
    WriteIn,
    /// The row above a group of rows that folds.
    Group,
    /// A link in such a row.
    GroupLink,
    /// On a label that is stuck on a blind: what is read from afar.
    TagLarge,
    /// What is read next.
    TagMiddle,
    /// The rest.
    TagSmall,
    /// That the blind is not to be made yet.
    TagStop,
    /// Where labels are cut apart, down the page.
    CropDown,
    /// The same, across the page.
    CropAcross,
    /// On a unit's page: its whole name.
    PageTitle,
    /// The name of an opening's block.
    PageBand,
    /// The name of a list of steps.
    PageHeading,
    /// A sentence.
    PageWords,
    /// A sentence that must not be missed.
    PageCaution,
    /// The name of a figure.
    PageName,
    /// The number of a bracket, above its centers.
    PageNumber,
    /// A figure to work by.
    PageKey,
    /// A finished size.
    PageSize,
    /// A figure that someone may change, and formulas follow.
    Input,
    /// The same, unknown so far: to be filled in.
    ToFill,
    /// A figure of this run, which follows nothing.
    OfThisRun,
}

impl Tone {
    /// Every tone, in the order of their list.
    pub(super) const ALL: [Tone; 35] = [
        Tone::Body,
        Tone::Strong,
        Tone::Provisional,
        Tone::Held,
        Tone::Heading,
        Tone::Band,
        Tone::Section,
        Tone::Total,
        Tone::Title,
        Tone::Remark,
        Tone::Warning,
        Tone::Label,
        Tone::Figure,
        Tone::Link,
        Tone::WriteIn,
        Tone::Group,
        Tone::GroupLink,
        Tone::TagLarge,
        Tone::TagMiddle,
        Tone::TagSmall,
        Tone::TagStop,
        Tone::CropDown,
        Tone::CropAcross,
        Tone::PageTitle,
        Tone::PageBand,
        Tone::PageHeading,
        Tone::PageWords,
        Tone::PageCaution,
        Tone::PageName,
        Tone::PageNumber,
        Tone::PageKey,
        Tone::PageSize,
        Tone::Input,
        Tone::ToFill,
        Tone::OfThisRun,
    ];

    /// Whether its text is bold.
    pub(super) const fn weight(self) -> Weight {
        match self {
            Tone::Body
            | Tone::Provisional
            | Tone::Remark
            | Tone::Figure
            | Tone::Link
            | Tone::WriteIn
            | Tone::TagSmall
            | Tone::CropDown
            | Tone::CropAcross
            | Tone::PageWords
            | Tone::PageName
            | Tone::PageNumber
            | Tone::Input
            | Tone::ToFill
            | Tone::OfThisRun => Weight::Regular,
            _ => Weight::Bold,
        }
    }

    /// The tone of a link in a row of this tone.
    pub(super) const fn of_link(self) -> Tone {
        match self {
            Tone::Group => Tone::GroupLink,
            _ => Tone::Link,
        }
    }
}

/// Every format of the workbook.
pub(super) struct Look {
    /// One place for each tone and way of showing, in the order of their lists.
    formats: Vec<Format>,
    /// By what number the file knows each: equal formats have one.
    numbers: Vec<LookNumber>,
}

/// Where a tone and a way of showing stand.
fn place(tone: Tone, shown: Shown) -> usize {
    tone as usize * Shown::ALL.len() + shown as usize
}

impl Look {
    /// Makes every format.
    pub(super) fn new(currency: Currency) -> Look {
        let of_tone = |tone| {
            Shown::ALL.iter().map(move |&shown| {
                let format = base(tone).set_num_format(shown.number_format(currency));
                match (shown, tone) {
                    (
                        Shown::Plain,
                        Tone::Body
                        | Tone::Strong
                        | Tone::Provisional
                        | Tone::Held
                        | Tone::Total
                        | Tone::Link
                        | Tone::Group
                        | Tone::GroupLink,
                    ) => format.set_align(FormatAlign::Left).set_indent(1),
                    (Shown::Plain, _) | (_, Tone::Figure | Tone::PageKey | Tone::PageSize) => format,
                    _ => format.set_align(FormatAlign::Right).set_indent(1),
                }
            })
        };
        let formats: Vec<Format> = Tone::ALL.into_iter().flat_map(of_tone).collect();
        let (usual, ..) = usual();
        let mut known = HashMap::from([(&usual, USUAL)]);
        let numbers = formats.iter().map(|format| {
            let next = known.len() as LookNumber;
            *known.entry(format).or_insert(next)
        });
        Look { numbers: numbers.collect(), formats }
    }

    /// Every format, in an order that is always the same.
    pub(super) fn formats(&self) -> impl Iterator<Item = &Format> {
        self.formats.iter()
    }

    /// The format of a tone and a way of showing.
    pub(super) fn format(&self, tone: Tone, shown: Shown) -> &Format {
        &self.formats[place(tone, shown)]
    }

    /// The number of that format in a workbook in which [`Look::formats`] were registered first.
    pub(super) fn number(&self, tone: Tone, shown: Shown) -> LookNumber {
        self.numbers[place(tone, shown)]
    }
}

fn base(tone: Tone) -> Format {
    let plain =
        Format::new().set_font_name(FONT).set_font_size(9).set_font_color(INK).set_align(FormatAlign::Top);
    let row = || {
        plain.clone().set_text_wrap().set_border_bottom(FormatBorder::Hair).set_border_bottom_color(HAIRLINE)
    };
    let dark = || {
        plain
            .clone()
            .set_bold()
            .set_font_color(WHITE)
            .set_background_color(SLATE)
            .set_align(FormatAlign::VerticalCenter)
            .set_border_bottom(FormatBorder::Thin)
            .set_border_bottom_color(INK)
    };
    let group = || {
        row()
            .set_bold()
            .set_background_color(MIST)
            .set_border_top(FormatBorder::Thin)
            .set_border_top_color(INK)
    };
    let input = || row().set_border(FormatBorder::Thin).set_border_color(SLATE);
    let tag = |points: f64| {
        let tag = plain.clone().set_font_size(points).set_align(FormatAlign::VerticalCenter);
        tag.set_text_wrap().set_align(FormatAlign::Left).set_indent(1)
    };
    let boxed = || {
        plain
            .clone()
            .set_bold()
            .set_align(FormatAlign::Center)
            .set_align(FormatAlign::VerticalCenter)
            .set_border(FormatBorder::Thin)
            .set_border_color(HAIRLINE)
    };
    match tone {
        Tone::Body => row(),
        Tone::Strong => row().set_bold(),
        Tone::Provisional => row().set_italic().set_background_color(STRAW),
        Tone::Held => row().set_bold().set_background_color(CLAY),
        Tone::Heading => dark().set_text_wrap().set_align(FormatAlign::Center),
        Tone::Band => dark(),
        Tone::Section => plain.set_bold().set_font_size(11).set_background_color(MIST),
        Tone::Total => group(),
        Tone::Title => plain.set_bold().set_font_size(16),
        Tone::Remark => plain,
        Tone::Warning => plain.set_bold().set_font_size(10),
        Tone::Label => row().set_bold().set_background_color(MIST),
        Tone::Figure => row().set_align(FormatAlign::Left),
        Tone::Link => row().set_font_color(LINK).set_underline(FormatUnderline::Single),
        Tone::WriteIn => row().set_border(FormatBorder::Thin).set_border_color(INK),
        Tone::Group => group(),
        Tone::GroupLink => group().set_font_color(LINK).set_underline(FormatUnderline::Single),
        Tone::TagLarge => tag(14.0).set_bold(),
        Tone::TagMiddle => tag(11.0).set_bold(),
        Tone::TagSmall => tag(9.0),
        Tone::TagStop => tag(9.0)
            .set_bold()
            .set_border(FormatBorder::Medium)
            .set_border_color(INK)
            .set_background_color(STRAW),
        Tone::CropDown => plain.set_border_left(FormatBorder::Dashed).set_border_left_color(HAIRLINE),
        Tone::CropAcross => plain.set_border_bottom(FormatBorder::Dashed).set_border_bottom_color(HAIRLINE),
        Tone::PageTitle => plain.set_bold().set_font_size(16).set_text_wrap(),
        Tone::PageBand => dark().set_text_wrap(),
        Tone::PageHeading => plain.set_bold().set_background_color(MIST).set_text_wrap().set_indent(1),
        Tone::PageWords => plain.set_text_wrap().set_indent(1),
        Tone::PageCaution => plain.set_bold().set_text_wrap().set_indent(1),
        Tone::PageName => plain.set_align(FormatAlign::VerticalCenter),
        Tone::PageNumber => plain.set_align(FormatAlign::Center),
        Tone::PageKey => boxed().set_font_size(10),
        Tone::PageSize => boxed().set_font_size(14),
        Tone::Input => input().set_background_color(LINEN),
        Tone::ToFill => input().set_background_color(CLAY),
        Tone::OfThisRun => row().set_background_color(ASH),
    }
}

#[cfg(test)]
mod tests {
    use super::{Look, Shown, Tone};
    use crate::money::Currency;

    #[test]
    fn the_lists_of_formats_are_in_the_order_of_their_choices() {
        for (place, tone) in Tone::ALL.into_iter().enumerate() {
            assert_eq!(tone as usize, place);
        }
        for (place, shown) in Shown::ALL.into_iter().enumerate() {
            assert_eq!(shown as usize, place);
        }
        assert_eq!(
            Look::new(Currency::from_code("USD").unwrap()).formats.len(),
            Tone::ALL.len() * Shown::ALL.len()
        );
    }
}
