//! The columns of `Blinds`, the memory of a fit-out: a row for each blind, with all that makes two of
//! them identical, and beside it what people type as the job goes on. A later run reads it back.
//!
//! A length is in the unit of its heading, exact; a weight too.

use super::choices::{self, Control, ControlSide, CordDevice, Draw, Mount, Origin, Release, choice};
use super::{Column, Form, Kind, LENGTH, SIZE, columns};

choice! {
    /// What a row of `Blinds` is about.
    What {
        /// A blind.
        Blind = "blind" | "blinds",
        /// Spare louvers of one material, color and width.
        Spares = "spare louvers" | "spare louver" | "spares",
        /// A line that nothing is on any more; its number is never used again.
        LineGone = "line gone",
    }
}

choice! {
    /// How far a blind has come.
    BlindState {
        /// The maker has the order for it.
        Ordered = "ordered" | "on order",
        /// It is made.
        Made = "made" | "manufactured" | "ready",
        /// It is on site, or in the store.
        Delivered = "delivered" | "arrived" | "received" | "on site",
        /// It hangs.
        Fitted = "fitted" | "installed" | "hung" | "done",
        /// It is no good, and is made again.
        Remake = "remake" | "make again" | "to remake",
        /// It is not wanted any more.
        Cancelled = "cancelled" | "canceled",
    }
}

choice! {
    /// Why a blind is made again.
    Reason {
        /// It came, or was fitted, broken.
        Damaged = "damaged" | "broken",
        /// The maker made another size.
        WrongSize = "wrong size",
        /// The maker made it for the other hand.
        WrongHand = "wrong hand" | "wrong side",
        /// The maker made it in another color.
        WrongColor = "wrong color",
        /// The survey was wrong.
        MeasuredWrong = "measured wrong" | "mismeasured" | "wrong measurement",
        /// The client wants another.
        ClientChanged = "client changed" | "client change" | "changed by client",
        /// It is not to be found.
        Lost = "lost" | "missing",
    }
}

choice! {
    /// Who pays for a blind that is made again.
    PaidBy {
        /// Whoever runs the job.
        Us = "us" | "we",
        /// The maker.
        Maker = "maker" | "manufacturer" | "supplier",
        /// The carrier.
        Carrier = "carrier" | "haulier" | "courier",
        /// The client.
        Client = "client" | "customer",
    }
}

choice! {
    /// What is to be done with a blind that its opening would not get any more.
    Do {
        /// It hangs where it was meant to, as it is.
        UseAsItIs = "use as it is" | "use as is" | "use",
        /// Another is made in its place.
        MakeAgain = "make again" | "remake",
        /// It goes to another opening, or to the store.
        Move = "move" | "moved",
    }
}

/// Where a blind goes that no opening gets.
pub const STORE: &str = "store";

columns! { BLINDS, "Blinds", Form::Rows, "Every blind of the job, and how far it has come. Kept from run to run with --after.";
    WHAT "what" "What" [] Kind::Choice(What::WORDS), "a blind", "What the row is about.";
    LINE "line" "Line" [] Kind::Whole { least: 1, most: 4_000_000_000 }, "never blank", "The line of the order.";
    BLIND "blind" "Blind" [] Kind::Text, "never blank", "Which blind of its line, as on its label.";
    BUILDING "building" "Building" [] Kind::Text, "none", "The building.";
    FLOOR "floor" "Floor" [] Kind::Text, "none", "The floor.";
    UNIT "unit" "Unit" [] Kind::Text, "none", "The unit.";
    ROOM "room" "Room" [] Kind::Text, "none", "The room.";
    OPENING "opening" "Opening" [] Kind::Text, "none", "The opening as it was shown when the row was written.";
    ID "id" "Id" [] Kind::Text, "the opening has no id", "The opening's id as the survey has it.";
    PHASE "phase" "Phase" [] Kind::Text, "none", "The phase.";
    SOURCE "source" "Source" [] Kind::Choice(Origin::WORDS), "made", "Made to measure, or a stock size.";
    RELEASE "release" "Release" [] Kind::Choice(Release::WORDS), "make", "Whether it may be made now.";
    PRODUCT "product" "Product" [] Kind::Text, "never blank", "The product.";
    COLOR "color" "Color" [] Kind::Text, "none", "The color.";
    WIDTH "width_mm" "Width" [] SIZE, "never blank", "Finished width.";
    DROP "drop_mm" "Drop" [] SIZE, "never blank", "Finished drop.";
    MOUNT "mount" "Mount" [] Kind::Choice(Mount::WORDS), "never blank", "Inside mount, outside mount, or from the ceiling.";
    DRAW "draw" "Draw" [] Kind::Choice(Draw::WORDS), "not drawn aside", "Where the louvers stack, as seen from inside.";
    CONTROL "control" "Control" [] Kind::Choice(Control::WORDS), "wand", "How it is operated.";
    CONTROL_SIDE "control_side" "Control side" [] Kind::Choice(ControlSide::WORDS), "not given", "The side that wand, cord or motor is on.";
    WAND "wand_mm" "Wand" [] LENGTH, "no wand", "Length of each wand.";
    LOUVERS "louver_count" "Louvers" [] Kind::Whole { least: 1, most: 100_000_000 }, "none", "Louvers of one blind, or spare louvers.";
    LOUVER_LENGTH "louver_length_mm" "Louver length" [] LENGTH, "none", "Finished length of a louver.";
    HEADRAIL "headrail_mm" "Headrail" [] LENGTH, "none", "Cut length of the headrail.";
    ROD "rod_mm" "Rod" [] LENGTH, "none", "Cut length of the tilt rod.";
    BRACKET "bracket" "Bracket" [] Kind::Text, "none", "The bracket.";
    REACH "reach_mm" "Reach" [] LENGTH, "inside, or from the ceiling", "Reach of the bracket.";
    BRACKETS "bracket_count" "Brackets each" [] Kind::Whole { least: 0, most: 10_000 }, "none", "Brackets of one blind.";
    CLIPS "clips" "Clips" [] Kind::Whole { least: 0, most: 10_000 }, "none", "Valance clips of one blind.";
    VALANCE "valance_mm" "Valance front" [] LENGTH, "no valance", "Front of the valance.";
    RETURN_LEFT "return_left_mm" "Return left" [] LENGTH, "none", "Return of the valance on the left.";
    RETURN_RIGHT "return_right_mm" "Return right" [] LENGTH, "none", "Return of the valance on the right.";
    WEIGHT_KG "weight_kg" "Weight (kg)" [] Kind::Number { most: 1_000_000 }, "not known, or in pounds", "Weight of one blind in kilograms.";
    WEIGHT_LB "weight_lb" "Weight (lb)" [] Kind::Number { most: 1_000_000 }, "not known, or in kilograms", "Weight of one blind in pounds.";
    REVISION "revision" "Revision" [] Kind::Text, "none", "Revision of the survey from which it was ordered.";
    SURVEY "survey" "Survey" [] Kind::Text, "none", "Fingerprint of that survey, as on its label.";
    PRICE "price_each" "Price each" [] Kind::Money, "not known, or not bought whole", "Price of one blind.";
    REMAKE_OF "remake_of" "Remake of" [] Kind::Text, "no remake", "Line and blind in whose place it is made.";
    STATE "state" "State" ["Status"] Kind::Choice(BlindState::WORDS), "not ordered", "How far it has come.";
    ORDER_NUMBER "order_number" "Order number" [] Kind::Text, "none", "Number of the order that it is on.";
    ORDERED_ON "ordered_on" "Ordered on" [] Kind::Date, "not said", "When it was ordered.";
    DELIVERED_ON "delivered_on" "Delivered on" [] Kind::Date, "not said", "When it came.";
    FITTED_ON "fitted_on" "Fitted on" [] Kind::Date, "not said", "When it was fitted.";
    REASON "reason" "Reason" [] Kind::Choice(Reason::WORDS), "not said", "Why it is made again.";
    PAID_BY "paid_by" "Paid by" [] Kind::Choice(PaidBy::WORDS), "us, and counted", "Who pays for the one that is made again.";
    DO "do" "Do" [] Kind::Choice(Do::WORDS), "nothing decided", "What is to be done with it where its opening would not get it any more.";
    GOES_TO "goes_to" "Goes to" [] Kind::Text, "where it was meant to", "The opening that it goes to, or store.";
    LEFT "left" "Left" [] Kind::Whole { least: 0, most: 100_000_000 }, "not counted", "Spare louvers that are left.";
    NOTE "note" "Note" [] Kind::Text, "none", "Anything worth knowing.";
    KIND "kind" "Kind" [] Kind::Choice(choices::Kind::WORDS), "not known", "What the opening is.";
    STOCK_WIDTH "stock_width_mm" "Stock width" [] LENGTH, "not from stock", "Nominal width of its stock size.";
    STOCK_DROP "stock_drop_mm" "Stock drop" [] LENGTH, "not from stock", "Nominal drop of its stock size.";
    CORD_DEVICE "cord_device" "Cord device" [] Kind::Choice(CordDevice::WORDS), "none, or not given", "What keeps the cord from children.";
    CORD_HEIGHT "cord_height_mm" "Cord height" [] LENGTH, "none, or not given", "Lowest point of the cord above the floor.";
    LOUVER_WIDTH "louver_width_mm" "Louver width" [] LENGTH, "none", "Width of a louver.";
    PITCH "pitch_mm" "Louver spacing" [] LENGTH, "none", "From one louver to the next.";
    MATERIAL "louver_material" "Louver material" [] Kind::Text, "none", "What the louvers are of.";
    LINKS "spacer_links" "Spacer links" [] Kind::Whole { least: 0, most: 100_000 }, "none", "Links between louvers.";
    USED_FOR "used_for" "Used for" [] Kind::Text, "not used as it is", "What differed when it was first used as it is. Clear it to use the blind for what differs now.";
    PEOPLE "people" "People" [] Kind::Whole { least: 1, most: 2 }, "1", "People to lift it.";
}

/// Whether every fit-out has a column: without its heading nobody knows what stood there. The columns
/// behind the typed ones are left out where nothing has them, and a weight is in one unit.
pub fn is_always_there(column: &Column) -> bool {
    column.slot <= NOTE.slot && ![WEIGHT_KG.slot, WEIGHT_LB.slot].contains(&column.slot)
}

/// The columns that people type in; the others are printed.
pub static TYPED: [&Column; 11] = [
    &STATE,
    &ORDER_NUMBER,
    &ORDERED_ON,
    &DELIVERED_ON,
    &FITTED_ON,
    &REASON,
    &PAID_BY,
    &DO,
    &GOES_TO,
    &LEFT,
    &NOTE,
];
