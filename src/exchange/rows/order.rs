//! Order lines.

use super::names;
use crate::exchange::columns::row;
use crate::length::Length;
use crate::order::OrderLine;
use crate::report::Report;

row! {
    /// Identical blinds. Sizes are finished sizes: nothing more comes off.
    LineRow<'a> {
        /// Line number, from 1.
        line: usize,
        /// The product.
        product: &'a str,
        /// The colour.
        colour: &'a str,
        /// Finished width.
        width_mm: Length,
        /// Finished drop.
        drop_mm: Length,
        /// Louvers of one blind; `None` for a blind without.
        louver_count: Option<u32>,
        /// Finished length of a louver.
        louver_length_mm: Option<Length>,
        /// Where the louvers stack, as seen from inside; `None` for a blind that is not drawn aside.
        draw: Option<&'static str>,
        /// How the blind is worked.
        control: &'static str,
        /// Where the wand hangs with the blind closed.
        control_side: Option<&'static str>,
        /// Length of each wand.
        wand_mm: Option<Length>,
        /// `inside` or `outside`.
        mount: &'static str,
        /// The bracket.
        bracket: &'a str,
        /// Its reach; `None` inside.
        reach_mm: Option<Length>,
        /// Front of the valance; `None` for a blind without.
        valance_mm: Option<Length>,
        /// Return on the left; 0 for none.
        return_left_mm: Length,
        /// Return on the right; 0 for none.
        return_right_mm: Length,
        /// The phase.
        phase: &'a str,
        /// `made` or `stock`.
        source: &'static str,
        /// `make` or `provisional`.
        release: &'static str,
        /// How many blinds.
        quantity: u64,
        /// Their openings, each once a row of the survey.
        openings: Vec<&'a str>,
    }
}

impl<'a> LineRow<'a> {
    /// Every line, in order.
    pub fn all(report: &'a Report<'_>) -> impl Iterator<Item = LineRow<'a>> {
        report.order.lines.iter().map(|line| LineRow::of(line, report))
    }

    fn of(line: &'a OrderLine, report: &'a Report<'_>) -> LineRow<'a> {
        let key = &line.key;
        LineRow {
            line: line.line,
            product: &key.product,
            colour: &key.colour,
            width_mm: key.size.width,
            drop_mm: key.size.drop,
            louver_count: line.louvers.map(|louvers| louvers.count),
            louver_length_mm: line.louvers.map(|louvers| louvers.length),
            draw: key.draw.map(|draw| draw.word()),
            control: key.control.word(),
            control_side: key.control_side.map(|side| side.word()),
            wand_mm: key.wand,
            mount: key.mount().word(),
            bracket: &key.bracket,
            reach_mm: key.reach(),
            valance_mm: key.valance,
            return_left_mm: key.returns().left,
            return_right_mm: key.returns().right,
            phase: &key.phase,
            source: key.origin().word(),
            release: key.release.word(),
            quantity: line.quantity,
            openings: names(report, &line.openings),
        }
    }
}
