//! From blocks to printed pages: a break never goes through a block, and every page begins with
//! the unit's name. Worked out from the lines' heights alone, so that a page's rows are known
//! before any is written.
//!
//! A block of a drawing 81 mm wide with its figures beside it takes a quarter to a third of an
//! upright page. Where one such page holds the unit with its order of work, it is upright; else
//! blocks stand two abreast on a sheet of twice the size lying on its side (A3, Tabloid), six to a
//! page, with the notes beside them in smaller letters, for smaller ones than these are not read on a
//! ladder. More go on, with the unit's name again. Units that share a sheet (`Install 1`) are all
//! upright, since a sheet has one paper, and so are all where the project says that it has no larger.

use super::super::paper::{Lie, Papers};
use super::line::{Line, Room};
use super::side::Beside;
use crate::length::Units;

/// What a unit's page is printed on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Paper {
    /// Upright, one block beneath the other.
    Upright,
    /// Of twice the size and on its side, which is as high and twice as wide: two blocks abreast.
    Lying,
    /// The same in smaller letters, which leaves room for the notes beside the blocks.
    LyingSmaller,
}

impl Paper {
    /// Those that are larger than an upright page, in the order in which they are tried.
    pub(super) const fn larger(papers: Papers) -> &'static [Paper] {
        if papers.has_large { &[Paper::Lying, Paper::LyingSmaller] } else { &[] }
    }

    /// How the paper lies.
    pub(super) const fn lie(self) -> Lie {
        match self {
            Paper::Upright => Lie::Portrait,
            Paper::Lying | Paper::LyingSmaller => Lie::Wide,
        }
    }

    /// Whether two blocks stand abreast.
    pub(super) const fn is_double(self) -> bool {
        !matches!(self, Paper::Upright)
    }

    /// Whether the notes stand beside the blocks.
    pub(super) const fn has_side(self) -> bool {
        matches!(self, Paper::LyingSmaller)
    }

    /// Print scale in hundredths. At 90, which fits the width between the margins, 9-point text is
    /// 8.1 points high on paper; at 77 it is 6.9, and finished sizes are 12.3.
    pub(super) const fn percent(self) -> u16 {
        match self {
            Paper::Upright | Paper::Lying => 90,
            Paper::LyingSmaller => 77,
        }
    }

    /// Points of rows that a page holds: what is between the margins, at the print scale, less a
    /// hundredth that a printer may round up.
    pub(super) fn capacity(self, papers: Papers) -> u32 {
        // US Letter and Tabloid are 792 points high, A4 and A3 841.
        let high = match papers.units {
            Units::Inches => 792,
            Units::Millimeters => 841,
        };
        (high - ABOVE - BELOW) * 99 / u32::from(self.percent())
    }
}

/// Margins in points above and below, which hold the page's header and footer.
const ABOVE: u32 = 32;
const BELOW: u32 = 29;

/// Left and right, top and bottom margins in inches. Between those at the sides 190 mm are left.
pub(super) fn margins(papers: Papers) -> [f64; 3] {
    let sides = match papers.units {
        Units::Inches => 0.5,
        Units::Millimeters => 0.4,
    };
    [sides, f64::from(ABOVE) / 72.0, f64::from(BELOW) / 72.0]
}

/// A unit's lines, and which of them begin a further printed page.
pub(super) struct Laid<'p> {
    /// Every line, from the top of the first page.
    pub lines: Vec<Line<'p>>,
    /// Positions of the first line of each page but the first.
    pub breaks: Vec<usize>,
    /// What stands beside the lines.
    pub side: Vec<Beside>,
}

/// Puts blocks on pages. `again` gives the lines that stand above a page that goes on.
pub(super) fn lay_out<'p>(
    blocks: Vec<Vec<Line<'p>>>,
    room: Room,
    capacity: u32,
    again: impl Fn() -> Vec<Line<'p>>,
) -> Laid<'p> {
    let mut laid = Laid { lines: Vec::new(), breaks: Vec::new(), side: Vec::new() };
    laid.go_on(blocks, room, capacity, again);
    laid
}

impl<'p> Laid<'p> {
    /// Puts more blocks below those that are there.
    pub(super) fn go_on(
        &mut self,
        blocks: Vec<Vec<Line<'p>>>,
        room: Room,
        capacity: u32,
        again: impl Fn() -> Vec<Line<'p>>,
    ) {
        let height = |lines: &[Line<'p>]| lines.iter().map(|line| line.height(room)).sum::<u32>();
        let page = self.breaks.last().copied().unwrap_or(0);
        let mut used = height(&self.lines[page..]);
        for block in blocks {
            let needed = height(&block);
            if used > 0 && used + needed > capacity {
                self.breaks.push(self.lines.len());
                let head = again();
                used = height(&head);
                self.lines.extend(head);
            }
            used += needed;
            self.lines.extend(block);
        }
    }
}

/// Blocks two by two, line beside line, so that lines of one kind stand beside each other.
pub(super) fn two_abreast<'p>(blocks: Vec<Vec<Line<'p>>>) -> Vec<Vec<Line<'p>>> {
    let mut blocks = blocks.into_iter();
    let mut pairs = Vec::new();
    while let Some(left) = blocks.next() {
        let right = blocks.next().unwrap_or_default();
        let mut pair = Vec::new();
        for (mut left, mut right) in by_kind(left).into_iter().zip(by_kind(right)) {
            let lines = left.len().max(right.len());
            [&mut left, &mut right]
                .into_iter()
                .for_each(|lines_of| lines_of.resize_with(lines, || Line::Gap(0)));
            let abreast = left.into_iter().zip(right);
            pair.extend(abreast.map(|(left, right)| Line::Abreast(Box::new([left, right]))));
        }
        pairs.push(pair);
    }
    pairs
}

/// Kinds of lines in a block, in the order in which they stand there.
const KINDS: usize = 6;

/// A block's lines, kind by kind; room belongs to what it stands below.
fn by_kind(block: Vec<Line<'_>>) -> [Vec<Line<'_>>; KINDS] {
    let mut kinds = std::array::from_fn(|_| Vec::new());
    let is_held = !block.iter().any(|line| matches!(line, Line::Size(..)));
    let mut kind = 0;
    for line in block {
        kind = kind.max(match line {
            Line::Size(..) | Line::Numbers(..) | Line::Centers(..) => 1,
            Line::Pair(_) | Line::Figures(_) => 2,
            Line::Beside(..) => 3,
            // Why an opening is held stands right below its name.
            Line::Words(..) if is_held => 1,
            Line::Words(..) => 4,
            Line::Boxes => 5,
            _ => 0,
        });
        if let Some(lines) = kinds.get_mut(kind) {
            lines.push(line);
        }
    }
    kinds
}
