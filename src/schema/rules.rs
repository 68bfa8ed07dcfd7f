//! The columns of the rule sheets, one module for each sheet. In `Products` and `Rates` a blank
//! means the built-in value; the other sheets replace the built-in list as a whole.

use super::{Form, KINDS, Kind, LENGTH, Length, MOST_LENGTH, SIZE, SUBSTRATES, YES_NO, columns};

/// What an item's mark in the built-in files and the blank workbook says of an invented price.
/// A price counts as an example only while this stands beside it and it is still the built-in one.
pub const EXAMPLE_PRICE: &str = "example price, not a quote";

/// A step that a size is rounded to: never 0, for sizes are divided by it.
const STEP: Kind = Kind::Length { least: Length::from_nm(100_000), most: Length::from_mm(100) };
/// A bar or a roll: up to a kilometre.
const BAR: Kind = Kind::Length { least: Length::from_mm(100), most: Length::from_mm(1_000_000) };
/// An offcut: what a saw leaves may be shorter than any bar that is sold.
const OFFCUT: Kind = Kind::Length { least: Length::from_nm(1), most: Length::from_mm(1_000_000) };
/// How many offcuts there are: a large project may leave one of each bar.
const OFFCUTS_ON_HAND: Kind = Kind::Whole { least: 1, most: 1_000_000_000 };
/// A screw's dimension: never 0, so that a blank alone means unknown.
const SCREW: Kind = Kind::Length { least: Length::from_nm(100_000), most: MOST_LENGTH };
/// A count that may be none.
const COUNT: Kind = Kind::Whole { least: 0, most: 1_000_000 };
/// How many are in a pack.
const PACK: Kind = Kind::Whole { least: 1, most: 1_000_000 };
/// Days from order to delivery, up to ten years.
const DAYS: Kind = Kind::Whole { least: 0, most: 3_650 };
/// A mass in kilograms, each or for a metre or a square metre.
const MASS: Kind = Kind::Number { most: 1_000 };

/// Products, each with every rule of its family.
pub mod products {
    use super::{Form, KINDS, Kind, LENGTH, MASS, SIZE, STEP, columns};

    columns! { PRODUCTS, "Products", Form::Rows, "One row for each product. A blank takes the built-in value, or that of the product named under Like.";
        PRODUCT "product" "Product" ["Product name"] Kind::Text, "the row is left out", "The name that Openings use.";
        LIKE "like" "Like" ["Starts from"] Kind::Text, "a built-in product", "For a new product: the product, built in or in a row above, whose values fill this row's blanks.";
        COLOURS "colours" "Colours" ["Colors"] Kind::List, "as built in", "Its colours, separated by commas; a blank Colour means the first.";
        SUITS "suits" "Suits" ["Suits the kind"] Kind::Choices(KINDS), "as built in", "The kinds of opening it suits, separated by commas.";

        LOUVER_WIDTH "louver_width" "Louver width" [] SIZE, "as built in", "Width of a louver.";
        PITCH "pitch" "Pitch" ["Carrier pitch"] SIZE, "as built in", "From one carrier to the next; at most the louver's width, or light shows between.";
        LEAST_WIDTH "least_width" "Least width" ["Min width"] SIZE, "as built in", "Least finished width; this width is allowed.";
        MOST_WIDTH "most_width" "Most width" ["Max width"] SIZE, "as built in", "Most finished width; this width is allowed.";
        LEAST_DROP "least_drop" "Least drop" ["Min drop"] SIZE, "as built in", "Least finished drop; this drop is allowed.";
        MOST_DROP "most_drop" "Most drop" ["Max drop"] SIZE, "as built in", "Most finished drop; this drop is allowed.";
        ROUNDING_STEP "rounding_step" "Rounding step" ["Round to"] STEP, "1/8 in for a survey in inches, 1 mm for one in millimetres", "Finished sizes are rounded down to a whole number of these.";

        MOST_DEPTH "most_depth" "Most recess depth" [] LENGTH, "as built in", "Most recess depth that is believed; over it the unit is likely wrong.";
        MOST_HANDLE "most_handle" "Most handle" [] LENGTH, "as built in", "The same for a handle.";
        MOST_TRIM "most_trim" "Most trim" [] LENGTH, "as built in", "The same for a casing.";
        MOST_FLOOR_TO_COME "most_floor_to_come" "Most floor to come" [] LENGTH, "as built in", "The same for a floor that is still to be laid.";

        SIDE_CLEARANCE "side_clearance" "Side clearance" [] LENGTH, "as built in", "Inside: what comes off the width, each side.";
        INSIDE_DROP_CLEARANCE "inside_drop_clearance" "Inside drop clearance" [] LENGTH, "as built in", "Inside: what comes off the height.";
        LOUVER_CLEARANCE "louver_clearance" "Louver clearance" [] LENGTH, "as built in", "Least air between a louver's edge and a handle, a casing or the glass.";
        HALF_HEADRAIL "half_headrail" "Half headrail" [] LENGTH, "as built in", "Half the depth of the headrail: the least from the wall face to its centre.";
        SPREAD_LIMIT "spread_limit" "Spread limit" [] LENGTH, "as built in", "Most by which measurements of one width or height may differ without a check.";
        SMALL_SPREAD_LIMIT "small_spread_limit" "Small spread limit" [] LENGTH, "as built in", "The same for an inside mount in a small opening.";
        SMALL_OPENING_SQ_FT "small_opening_sq_ft" "Small opening sq ft" [] Kind::Number { most: 10_000 }, "as built in", "Square feet under which an opening is small.";
        WINDOW_MOST_OFF "window_most_off" "Most off an inside size" [] LENGTH, "as built in", "Inside: the most by which a size that would also do may be under the opening.";
        WINDOW_LEAST_OFF "window_least_off" "Least off an inside size" [] LENGTH, "as built in", "Inside: the least by which a size that would also do must be under the opening.";

        OVERLAP_WANTED "overlap_wanted" "Overlap wanted" [] LENGTH, "as built in", "Outside: how far the blind is to reach past the opening, each side.";
        OVERLAP_LEAST "overlap_least" "Least overlap" ["Overlap least"] LENGTH, "as built in", "Outside: the least it must reach past the opening, each side.";
        VALANCE_PAST_RAIL "valance_past_rail" "Valance past rail" [] LENGTH, "as built in", "How far the valance stands past each end of the rail.";
        HAND_ROOM "hand_room" "Hand room" [] LENGTH, "as built in", "Room for a hand between the valance and a side wall.";
        ABOVE_WANTED "above_wanted" "Above wanted" [] LENGTH, "as built in", "Outside: the rail's top above the head of the opening.";
        ABOVE_LEAST "above_least" "Least above" ["Above least"] LENGTH, "as built in", "Outside: the least the rail's top must be above the head.";
        ABOVE_MOST "above_most" "Most above" ["Above most"] LENGTH, "as built in", "Outside: the most the rail's top may be above the head.";
        ABOVE_FLOOR "above_floor" "Least above with a drop wanted" ["Above floor"] LENGTH, "as built in", "Outside, with a wanted drop: under this the bracket has no wall at all.";
        ROOM_ABOVE "room_above" "Room above" [] LENGTH, "as built in", "Above the rail's top: the bracket, and room to tip the rail into its clips.";
        BRACKET_ABOVE_RAIL "bracket_above_rail" "Bracket above rail" [] LENGTH, "as built in", "Outside: the bracket's top above the rail's top.";
        FLOOR_GAP "floor_gap" "Floor gap" [] LENGTH, "as built in", "From the louvers to a hard floor.";
        FLOOR_GAP_CARPET "floor_gap_carpet" "Floor gap on carpet" [] LENGTH, "as built in", "From the louvers to a carpet.";
        BELOW_WANTED "below_wanted" "Below wanted" [] LENGTH, "as built in", "Window, outside: how far the blind is to end below the opening.";
        BELOW_LEAST "below_least" "Least below" ["Below least"] LENGTH, "as built in", "Window, outside: the least it must end below the opening to pass the sill.";
        ROOM_BELOW "room_below" "Room below" [] LENGTH, "as built in", "Window, outside: clear of whatever the wall below ends at.";
        ABOVE_SILL "above_sill" "Above sill" [] LENGTH, "as built in", "Window, outside: how far above the sill it ends where it cannot pass it.";

        UPPER_SCREW "upper_screw" "Upper screw" [] LENGTH, "as built in", "From a wall bracket's top to its upper screw.";
        LOWER_SCREW "lower_screw" "Lower screw" [] LENGTH, "as built in", "From a wall bracket's top to its lower screw.";
        SCREW_EDGE "screw_edge" "Screw to edge of timber" [] LENGTH, "as built in", "Least timber beyond a screw.";
        REACHES "reaches" "Reaches" ["Bracket reaches"] Kind::List, "as built in", "Wall to the line of the louvers for each wall bracket, rising, separated by commas.";
        BRACKET_ITEMS "bracket_items" "Bracket items" ["Brackets"] Kind::List, "as built in", "The item of the bracket of each reach, in the same order.";
        INSIDE_BRACKET_ITEM "inside_bracket_item" "Inside bracket item" ["Inside bracket"] Kind::Text, "as built in", "The item of the bracket of an inside mount.";
        BRACKET_INSET "bracket_inset" "Bracket inset" [] LENGTH, "as built in", "Most from a rail's end to the centre of its end bracket.";
        BRACKET_SPACING "bracket_spacing" "Bracket spacing" [] SIZE, "as built in", "Most from one bracket's centre to the next.";
        FIXINGS_PER_BRACKET "fixings_per_bracket" "Fixings per bracket" [] Kind::Whole { least: 1, most: 20 }, "as built in", "Screws in each bracket.";

        LOUVER_OFF_OUTSIDE "louver_off_outside" "Louver shorter outside" [] LENGTH, "as built in", "Outside: how much shorter a louver is than the drop.";
        LOUVER_OFF_INSIDE "louver_off_inside" "Louver shorter inside" [] LENGTH, "as built in", "Inside: how much shorter a louver is than the drop.";
        END_CAP "end_cap" "End cap" [] LENGTH, "as built in", "What each end cap takes off the headrail's cut.";
        ROD_OFF "rod_off" "Rod shorter" [] LENGTH, "as built in", "How much shorter the tilt rod is than the width.";
        WAND_STEP "wand_step" "Wand step" [] SIZE, "as built in", "Wand lengths come in steps of this.";
        WAND_END_HEIGHT "wand_end_height" "Wand end above floor" [] LENGTH, "as built in", "Least height above the floor at which a wand ends.";
        STACK_PER_LOUVER "stack_per_louver" "Stack per louver" [] LENGTH, "as built in", "What each louver adds to the stack.";
        STACK_BASE "stack_base" "Stack besides" [] LENGTH, "as built in", "What a stack takes besides its louvers.";
        RETURN_BEYOND "return_beyond" "Return beyond louver" [] LENGTH, "as built in", "What a valance's return adds to the reach and half a louver.";
        CLIP_OFFSET "clip_offset" "Clip offset" [] LENGTH, "as built in", "How far a valance clip is moved from its bracket so that they clear each other.";

        FABRIC_MASS "fabric_mass" "Fabric kg/m2" [] MASS, "as built in", "Louver fabric, kilograms a square metre.";
        WEIGHT_MASS "weight_mass" "Bottom weight kg" [] MASS, "as built in", "Bottom weight, kilograms each.";
        CARRIER_MASS "carrier_mass" "Carrier kg" [] MASS, "as built in", "Carrier, kilograms each.";
        RAIL_MASS "rail_mass" "Rail kg/m" [] MASS, "as built in", "Headrail with what is in it, kilograms a metre.";
        VALANCE_MASS "valance_mass" "Valance kg/m" [] MASS, "as built in", "Valance, kilograms a metre.";
        TWO_PEOPLE_LENGTH "two_people_length" "Two people from length" [] SIZE, "as built in", "Length of rail from which two people lift; this length included.";
        TWO_PEOPLE_MASS "two_people_mass" "Two people over kg" [] MASS, "as built in", "Mass over which two people lift.";

        LEAST_SPARE_LOUVERS "least_spare_louvers" "Least spare louvers" [] Kind::Whole { least: 0, most: 10_000 }, "as built in", "Least spare louvers for each colour and louver width.";
        HEM "hem" "Hem" ["Hems"] LENGTH, "as built in", "What a louver's cut adds to its length; 0 for PVC.";
        RAIL_MATERIAL "rail_material" "Rail material" [] Kind::Text, "as built in", "The material in Bars that the headrail is cut from.";
        ROD_MATERIAL "rod_material" "Rod material" [] Kind::Text, "as built in", "The material in Bars that the tilt rod is cut from.";
        VALANCE_MATERIAL "valance_material" "Valance material" [] Kind::Text, "as built in", "The material in Bars that the valance is cut from.";
        LOUVER_MATERIAL "louver_material" "Louver material" [] Kind::Text, "as built in", "The material in Bars that the louvers are cut from.";
        TOLERANCE "tolerance" "Tolerance" [] LENGTH, "as built in", "Plus or minus, on width and drop: stated to the maker.";
    }
}

/// Sizes held in shops.
pub mod stock_sizes {
    use super::{COUNT, DAYS, Form, Kind, SIZE, columns};

    columns! { STOCK_SIZES, "Stock sizes", Form::Rows, "Sizes held in shops, used only if the project says so. The sheet replaces the built-in list.";
        PRODUCT "product" "Product" [] Kind::Text, "the row is left out", "The product, as Products names it.";
        COLOURS "colours" "Colours" ["Colour", "Color", "Colors"] Kind::List, "every colour", "The colours it is held in, separated by commas.";
        NOMINAL_WIDTH "nominal_width" "Nominal width" ["Width"] SIZE, "the row is left out", "The width by which it is sold.";
        NOMINAL_DROP "nominal_drop" "Nominal drop" ["Drop"] SIZE, "the row is left out", "The drop by which it is sold.";
        WIDTH "width" "Actual width" [] SIZE, "the nominal width", "Its finished width.";
        DROP "drop" "Actual drop" [] SIZE, "the nominal drop", "Its finished drop.";
        PRICE "price" "Price" [] Kind::Money, "unknown", "Price of one.";
        LEAD_DAYS "lead_days" "Lead days" [] DAYS, "unknown", "Calendar days from order to delivery.";
        ON_HAND "on_hand" "On hand" [] COUNT, "unknown, so none is used, with a check", "How many are held.";
        CUT_WIDTH_TO "cut_width_to" "Cut down to width" [] SIZE, "its width may not be cut", "The least width it may be cut down to.";
        CUT_DROP_TO "cut_drop_to" "Cut down to drop" [] SIZE, "its drop may not be cut", "The least drop it may be cut down to.";
        NOTE "note" "Note" [] Kind::Text, "none", "A price marked `example price, not a quote` is shown so until it or the mark is changed.";
    }
}

/// Stock lengths of materials.
pub mod bars {
    use super::{BAR, Form, Kind, LENGTH, YES_NO, columns};

    columns! { BARS, "Bars", Form::Rows, "Stock lengths of each material: bars, rolls and lengths. The sheet replaces the built-in list.";
        MATERIAL "material" "Material" [] Kind::Text, "the row is left out", "The material, as Products names it.";
        LENGTH_OF_BAR "length" "Length" ["Bar length", "Stock length"] BAR, "the row is left out", "Length of one bar or roll.";
        PRICE "price" "Price" [] Kind::Money, "unknown", "Price of one.";
        KERF "kerf" "Kerf" ["Saw kerf"] LENGTH, "as the built-in bar of its material, else 3 mm", "What the saw takes between two pieces.";
        TRIM "trim" "End trim" ["Trim"] LENGTH, "as the built-in bar of its material, else 10 mm", "What comes off each raw end, its own cut included.";
        LEAST_USEFUL "least_useful" "Least useful offcut" ["Least useful"] LENGTH, "as the built-in bar of its material, else 600 mm", "Offcuts of at least this length are kept.";
        COLOURED "coloured" "Coloured" ["Colored"] YES_NO, "as the built-in bar of its material, else yes", "Whether it comes in the blind's colours.";
        NOTE "note" "Note" [] Kind::Text, "none", "A price marked `example price, not a quote` is shown so until it or the mark is changed.";
    }
}

/// Offcuts on hand.
pub mod offcuts {
    use super::{Form, Kind, OFFCUT, OFFCUTS_ON_HAND, columns};

    columns! { OFFCUTS, "Offcuts", Form::Rows, "Offcuts on hand, used before bars are bought.";
        MATERIAL "material" "Material" [] Kind::Text, "the row is left out", "The material, as Bars names it.";
        COLOUR "colour" "Colour" ["Color"] Kind::Text, "none: only for a material without colour", "Its colour.";
        LENGTH_OF_OFFCUT "length" "Length" [] OFFCUT, "the row is left out", "Its length, ends untrimmed.";
        QUANTITY "quantity" "Quantity" ["Qty"] OFFCUTS_ON_HAND, "1", "How many there are.";
        NOTE "note" "Note" [] Kind::Text, "none", "For the reader; nothing is taken from it.";
    }
}

/// Screws and anchors.
pub mod fixings {
    use super::{Form, Kind, PACK, SCREW, SUBSTRATES, columns};

    columns! { FIXINGS, "Fixings", Form::Rows, "Screws with their anchors, each for one substrate. The sheet replaces the built-in list.";
        ITEM "item" "Item" ["Fixing"] Kind::Text, "the row is left out", "Its name, unique in the list.";
        SUBSTRATE "substrate" "Substrate" ["Into"] Kind::Choice(SUBSTRATES), "the row is left out", "What it goes into.";
        DIAMETER "diameter" "Diameter" [] SCREW, "unknown", "Diameter of the screw.";
        LENGTH_OF_SCREW "length" "Length" [] SCREW, "unknown", "Length of the screw.";
        THREAD "thread" "Thread" [] SCREW, "unknown", "Length of thread in the substrate.";
        CAPACITY "capacity" "Capacity" [] Kind::Text, "unknown", "NDS for a wood screw; AISI and the stud's thickness, such as `AISI, 33 mil`; or a working load with its unit, such as `30 lbf` or `133 N`.";
        PILOT "pilot" "Pilot" ["Pilot hole"] SCREW, "none", "Pilot hole to drill.";
        PACK_OF "pack_of" "Pack of" ["Pack"] PACK, "1: sold singly", "How many are in a pack.";
        PRICE "price" "Price" [] Kind::Money, "unknown", "Price of a pack.";
        NOTE "note" "Note" [] Kind::Text, "none", "A price marked `example price, not a quote` is shown so until it or the mark is changed.";
    }
}

/// Prices of blinds and parts.
pub mod prices {
    use super::{DAYS, Form, Kind, PACK, columns};

    columns! { PRICES, "Prices", Form::Rows, "Prices of made blinds and of parts. The sheet replaces the built-in list.";
        ITEM "item" "Item" [] Kind::Text, "the row is left out", "`made blind`, or a part.";
        PRODUCT "product" "Product" [] Kind::Text, "every product", "For a made blind: the product it is for.";
        PRICE "price" "Price" [] Kind::Money, "unknown", "The price.";
        PER "per" "Per" ["Unit"] Kind::Choice(&["each", "m2", "12 in"]), "each; 12 in for a wand", "What the price is for: each, m2 of width x drop, or 12 in of a wand.";
        LEAST_M2 "least_m2" "At least m2" ["Least area"] Kind::Number { most: 1_000 }, "no least", "Least area that is charged, where the price is per m2.";
        LEAD_DAYS "lead_days" "Lead days" [] DAYS, "unknown", "For a made blind: calendar days from order to delivery.";
        PACK_OF "pack_of" "Pack of" ["Pack"] PACK, "1: sold singly", "For a part: how many are in a pack.";
        NOTE "note" "Note" [] Kind::Text, "none", "A price marked `example price, not a quote` is shown so until it or the mark is changed.";
    }
}

/// Times and charges.
pub mod rates {
    use super::{Form, Kind, columns};

    columns! { RATES, "Rates", Form::Rows, "Times, charged at the labour rate, and charges. A blank takes the built-in value.";
        ITEM "item" "Item" [] Kind::Text, "the row is left out", "What it is a rate of.";
        RATE "rate" "Rate" ["Value"] Kind::Number { most: 1_000_000_000 }, "as built in", "Minutes, or an amount in the project's currency.";
        UNIT "unit" "Unit" ["Per"] Kind::Text, "as built in", "What the rate counts; each item has its own.";
        NOTE "note" "Note" [] Kind::Text, "none", "A charge marked `example price, not a quote` is shown so until it or the mark is changed.";
    }
}
