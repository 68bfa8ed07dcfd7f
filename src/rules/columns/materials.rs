//! The sheet `Materials`: what is true of a material, whatever its stock length and whoever uses it.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::MASS;
use crate::length::Length;
use crate::schema::choices::choice;
use crate::schema::{Form, Kind, LENGTH, YES_NO};

choice! {
    /// What one stock length of a material is called.
    StockName {
        /// A straight length that stands in a rack.
        Bar = "bar" | "bars" | "stick",
        /// Wound up.
        Roll = "roll" | "rolls" | "reel",
        /// A short length of a louver material that is not wound up.
        Length = "length" | "lengths" | "strip",
    }
}

choice! {
    /// How the pieces of a material are put on its stock lengths.
    CutIn {
        /// Any piece on any of them, so that they are the fewest.
        Pieces = "pieces" | "piece" | "piece by piece",
        /// Those of one blind together, blind by blind.
        Blinds = "blinds" | "blind" | "blind by blind",
    }
}

impl StockName {
    /// So many of them: `1 roll`, `14 bars`.
    pub fn counted(self, count: u64) -> String {
        format!("{count} {}{}", self.word(), if count == 1 { "" } else { "s" })
    }

    /// What is bought of them, as a cost line says it.
    pub const fn whole(self) -> &'static str {
        match self {
            StockName::Bar => "whole bars",
            StockName::Roll => "whole rolls",
            StockName::Length => "whole lengths",
        }
    }
}

sheet! { MATERIALS, "Materials", Form::Rows, "What is true of each material, whatever its stock length. Blank cells use the built-in value, or that of the material named under Like.";
    /// A material that parts are cut from.
    pub struct Material, read(row, name: Arc<str>) {
        name, "Material" ["Material name"] Kind::Text, "required (the row is ignored without it)", "The material, as on Products and Bars.";
        like, "Like" ["Starts from"] Kind::Text, "the built-in material of that name", "For a new material: an existing material (built in, or in a row above) to copy blank values from.";
        stock_name: StockName, "Stock is called" ["Stock called"] Kind::Choice(StockName::WORDS), "the built-in value; for a new material: bar", "What one stock length is called: bar, roll or length.";
        colored: bool, "Comes in colors" ["Colored"] YES_NO, "the built-in value; for a new material: yes", "Whether it comes in the blind's colors.";
        hem, "Hem allowance" ["Hem", "Hems"] LENGTH, "the built-in value; for a new material: 2 in", "Louvers: what is added to a louver's length when it is cut, for its hems; 0 for PVC.";
        mass, "Mass (kg per m2 or m)" ["Mass", "Mass (kg/m2 or kg/m)", "Weight", "Louver kg/m2", "Fabric kg/m2", "Rail or valance kg/m", "Rail kg/m", "Valance kg/m"] MASS, "the built-in value; for a new material: 1.12", "Kilograms: of louvers per square meter, of a rail with everything in it per meter of the blind's width, of a valance per meter of its front.";
        kerf: Length, "Kerf" ["Saw kerf"] LENGTH, "the built-in value; for a new material: 3 mm", "Width of the saw cut.";
        trim: Length, "End trim" ["Trim"] LENGTH, "the built-in value; for a new material: 10 mm", "Length trimmed off each raw end, including the saw cut.";
        cut_in: CutIn, "Cut in" ["Cut by", "Cut as"] Kind::Choice(CutIn::WORDS), "the built-in value; for a new material: blinds for a roll, else pieces", "pieces: any piece from any stock length, so that the fewest are bought. blinds: rolls are used one after another, and a blind's louvers come from one roll, or from the end of one and the beginning of the next.";
        torn_costs: Decimal, "Torn blind costs" ["Torn blind", "A torn blind costs"] Kind::Number { most: 1_000 }, "the built-in value; for a new material: 0.5", "Where it is cut in blinds: how many rolls may be bought more so that one blind fewer comes from two rolls.";
        least_useful: Length, "Shortest offcut to keep" ["Least useful offcut", "Least useful"] LENGTH, "the built-in value; for a new material: 600 mm", "Offcuts this long or longer are kept.";
    }
    and {
        /// Its name, as every other list spells it.
        name: Arc<str> = name;
    }
}
