//! From blocks to printed pages: a break never goes through a block, and every page begins with
//! the unit's name. Worked out from the lines' heights alone, so that a page's rows are known
//! before any is written.

use super::line::{Line, Room};
use crate::length::Units;

/// Print scale of a page that fits the width between its margins: 9-point text is 8.1 points
/// high on paper.
const PERCENT: u32 = 90;
/// Margins in inches above and below, which hold the page's header and footer.
const ABOVE: f64 = 0.55;
const BELOW: f64 = 0.5;

/// Left and right, top and bottom margins in inches. Between those at the sides 190 mm are left.
pub(super) const fn margins(units: Units) -> [f64; 3] {
    match units {
        Units::Inches => [0.5, ABOVE, BELOW],
        Units::Millimetres => [0.4, ABOVE, BELOW],
    }
}

/// Points of rows that a sheet of paper holds: what is between the margins, at the print scale,
/// less a hundredth that a printer may round up.
pub(super) const fn capacity(units: Units) -> u32 {
    // US Letter is 792 points high, A4 841; the margins take 76.
    let paper = match units {
        Units::Inches => 792,
        Units::Millimetres => 841,
    };
    (paper - 76) * 99 / PERCENT
}

/// A unit's lines, and which of them begin a further printed page.
pub(super) struct Laid<'p> {
    /// Every line, from the top of the first page.
    pub lines: Vec<Line<'p>>,
    /// Positions of the first line of each page but the first.
    pub breaks: Vec<usize>,
}

/// Puts blocks on pages. `again` gives the lines that stand above a page that goes on.
pub(super) fn lay_out<'p>(
    blocks: Vec<Vec<Line<'p>>>,
    room: Room,
    capacity: u32,
    again: impl Fn() -> Vec<Line<'p>>,
) -> Laid<'p> {
    let height = |lines: &[Line<'p>]| lines.iter().map(|line| line.height(room)).sum::<u32>();
    let mut laid = Laid { lines: Vec::new(), breaks: Vec::new() };
    let mut used = 0;
    for block in blocks {
        let needed = height(&block);
        if used > 0 && used + needed > capacity {
            laid.breaks.push(laid.lines.len());
            let head = again();
            used = height(&head);
            laid.lines.extend(head);
        }
        used += needed;
        laid.lines.extend(block);
    }
    laid
}
