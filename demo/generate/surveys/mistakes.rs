//! The mistakes made on purpose in Harrier Wharf: each of a kind that the trade makes and pays for.

use sillbook::query::Severity;
use sillbook::schema::Column;
use sillbook::schema::openings::*;

use super::row::Row;
use super::workbook::Cell;

/// One mistake, and the query that it must become.
pub struct Mistake {
    /// The flat.
    pub unit: &'static str,
    /// The opening's mark before the mistake is made.
    pub mark: &'static str,
    /// What is written in its cells; `None` empties one. The first is the cell to look at.
    pub entries: Vec<(&'static Column, Option<Cell>)>,
    /// What it holds back.
    pub severity: Severity,
    /// Words of the query's message.
    pub says: &'static str,
}

impl Mistake {
    /// Makes the mistake in its row.
    pub fn make(&self, row: &mut Row) {
        for (column, entry) in &self.entries {
            match entry {
                Some(cell) => row.set(column, cell.clone()),
                None => row.clear(column),
            }
        }
    }
}

fn at(unit: &'static str, mark: &'static str) -> Mistake {
    Mistake { unit, mark, entries: Vec::new(), severity: Severity::Note, says: "" }
}

impl Mistake {
    fn writes(mut self, column: &'static Column, cell: impl Into<Cell>) -> Mistake {
        self.entries.push((column, Some(cell.into())));
        self
    }

    fn empties(mut self, column: &'static Column) -> Mistake {
        self.entries.push((column, None));
        self
    }

    fn is(mut self, severity: Severity, says: &'static str) -> Mistake {
        (self.severity, self.says) = (severity, says);
        self
    }
}

/// Every mistake, in the order in which they are explained.
pub fn mistakes() -> Vec<Mistake> {
    use Severity::{Check, Stop};
    vec![
        // The point of 60.375 slipped.
        at("0304", "W1").writes(&WIDTH, 603.75).is(Stop, "width is above this product's maximum"),
        // Two digits of 102 1/8 changed places at one of three readings.
        at("0708", "D1").writes(&WIDTH_MIDDLE, 120.125).is(Check, "the measured widths differ"),
        // The letter l for the digit 1: two good readings are left.
        at("0604", "D1").writes(&WIDTH_MIDDLE, "7l 1/8").is(Check, "Width middle cannot be read"),
        // Not a size at all.
        at("0605", "W3").writes(&HEIGHT, "see sketch").is(Stop, "Height cannot be read"),
        // Nobody wrote the height down.
        at("0906", "D1")
            .empties(&HEIGHT_LEFT)
            .empties(&HEIGHT_MIDDLE)
            .empties(&HEIGHT_RIGHT)
            .is(Stop, "no height is given"),
        // A free wall cannot be negative.
        at("0307", "D1").writes(&WALL_RIGHT, -2).is(Stop, "Wall right is negative"),
        // Millimeters in a column of inches.
        at("0303", "W2").writes(&RECESS_DEPTH, 115).is(Stop, "probably in the wrong unit"),
        // The mark 1-2 was typed, and the spreadsheet made a day of it.
        at("0502", "W1").writes(&OPENING, Cell::Date(2026, 1, 2)).is(Stop, "contains a date"),
        // The same mark twice in one flat: nobody can tell which is which.
        at("0805", "D3").writes(&OPENING, "D2").is(Stop, "another row has the same"),
        // 54 with its digits swapped: the flats above and below have the same window.
        at("0507", "W1").writes(&HEIGHT, 45).is(Check, "the height does not match"),
        // A product and a color that do not exist.
        at("0409", "D2").writes(&PRODUCT, "louver-98").is(Stop, "no product is called"),
        at("0510", "D3").writes(&COLOR, "wihte").is(Check, "not a listed color"),
        // Inside a recess, from a drawing.
        at("0401", "W2")
            .writes(&MEASURED, "drawing")
            .writes(&MOUNT, "inside")
            .is(Check, "the inside blind is provisional"),
        // Inside a recess that is too shallow.
        at("0802", "W1").writes(&MOUNT, "inside").is(Stop, "too shallow for an inside mount"),
        // Inside a recess into which the leaf opens.
        at("0603", "W2").writes(&OPENS, "in").writes(&MOUNT, "inside").is(Stop, "would hit an inside blind"),
        // Corner to corner it is an inch and a half off: no blind hangs in there.
        at("0404", "W2")
            .writes(&DIAGONAL_1, "55 1/4")
            .writes(&DIAGONAL_2, "56 3/4")
            .is(Check, "the opening is out of square"),
        // One board above the door, and no wood where the bracket goes.
        at("0704", "D1").writes(&HEADER_HEIGHT, 1.5).is(Check, "the header cannot take both"),
        // Nobody looked for the header: nothing but board is known to be behind the brackets.
        at("0710", "D4").empties(&HEADER_HEIGHT).is(Check, "but not a pull on it"),
        // The sash is narrower than the others, and than the code allows.
        at("0610", "W1")
            .writes(&ESCAPE_CLEAR_WIDTH, "19 1/8")
            .is(Check, "with the blind open it is narrower than IRC R310"),
        // A beam two inches above the door leaves the rail nowhere to go.
        at("0901", "D1").writes(&WALL_ABOVE, 2).is(Stop, "not enough wall above the opening"),
        // Half an inch of wall beside the opening.
        at("0803", "D2").writes(&WALL_RIGHT, 0.5).is(Check, "the overlap on the right is less than"),
        // The floor is not laid, and nobody says how thick it will be.
        at("0905", "D2").writes(&FLOOR_SURFACE, "unfinished").is(Check, "the floor is not laid"),
        // The louvers would stack over the leaf that opens.
        at("0809", "D1").writes(&DRAW, "right").is(Check, "the louvers stack over the opening leaf"),
        // A cord where children live, and nothing that keeps it from them.
        at("0706", "D1")
            .writes(&CONTROL, "cord")
            .is(Stop, "needs a device that keeps the cord from children"),
    ]
}
