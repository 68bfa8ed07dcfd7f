//! The sheet `Products`: the rules of a product, in the order of its columns. A section says whose
//! they are: those of any blind that covers an opening, or of the louvers alone.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::{MASS, STEP};
use crate::length::Length;
use crate::schema::{Column, Form, Kind, LENGTH, SIZE, choices};
use crate::worked::Rule;

/// One list of columns, and of its sections the rules of any covering blind and of louvers.
macro_rules! products {
    ({ $($own:tt)* } $(louver { $($louver:tt)* } cover { $($cover:tt)* })*) => {
        sheet! { PRODUCTS, "Products", Form::Rows, "One row for each product. A blank takes the built-in value, or that of the product named under Like.";
            $($own)* $($($louver)* $($cover)*)*
        }
        typed! {
            /// The rules of any blind that covers an opening. Lengths are finished sizes unless said
            /// otherwise.
            pub struct CoverRules, read(row, reaches: Vec<Length>, depth: Rule<Length>) { $($($cover)*)* }
            and {
                /// Depth of what hangs, half of it to each side of its line: a louver's width.
                depth: Rule<Length> = depth;
                /// Wall to the line of the louvers for each wall bracket, shortest first; the items
                /// are those of `bracket_items`.
                reaches: Rule<Vec<Length>> = row.named(&COLUMNS.reaches, reaches);
            }
        }
        typed! {
            /// The rules of a vertical-louver product, beside those of any blind.
            pub struct LouverRules, read(row) { $($($louver)*)* }
        }
    };
}

products! {
    {
        name, "Product" ["Product name"] Kind::Text, "the row is left out", "The name that Openings use.";
        like, "Like" ["Starts from"] Kind::Text, "a built-in product", "For a new product: the product, built in or in a row above, whose values fill this row's blanks.";
        colors: Vec<Arc<str>>, "Colors" [] Kind::List, "as built in", "Its colors, separated by commas; a blank Color means the first.";
        suits, "Suits" ["Suits the kind"] Kind::Choices(choices::Kind::WORDS), "as built in", "The kinds of opening it suits, separated by commas.";
    }
    louver {
        louver_width: Rule<Length>, "Louver width" [] SIZE, "as built in", "Width of a louver.";
        pitch: Rule<Length>, "Pitch" ["Carrier pitch"] SIZE, "as built in", "From one carrier to the next; at most the louver's width, or light shows between.";
    }
    cover {
        least_width: Rule<Length>, "Least width" ["Min width"] SIZE, "as built in", "Least finished width; this width is allowed.";
        most_width: Rule<Length>, "Most width" ["Max width"] SIZE, "as built in", "Most finished width; this width is allowed.";
        least_drop: Rule<Length>, "Least drop" ["Min drop"] SIZE, "as built in", "Least finished drop; this drop is allowed.";
        most_drop: Rule<Length>, "Most drop" ["Max drop"] SIZE, "as built in", "Most finished drop; this drop is allowed.";
        rounding_step: Rule<Length>, "Rounding step" ["Round to"] STEP, "1/8 in for a survey in inches, 1 mm for one in millimeters", "Finished sizes are rounded down to a whole number of these.";

        most_depth: Rule<Length>, "Most recess depth" [] LENGTH, "as built in", "Most recess depth that is believed; over it the unit is likely wrong.";
        most_handle: Rule<Length>, "Most handle" [] LENGTH, "as built in", "The same for a handle.";
        most_trim: Rule<Length>, "Most trim" [] LENGTH, "as built in", "The same for a casing.";
        most_floor_to_come: Rule<Length>, "Most floor to come" [] LENGTH, "as built in", "The same for a floor that is still to be laid.";

        side_clearance: Rule<Length>, "Side clearance" [] LENGTH, "as built in", "Inside: what comes off the width, each side.";
        inside_drop_clearance: Rule<Length>, "Inside drop clearance" [] LENGTH, "as built in", "Inside: what comes off the height.";
        louver_clearance: Rule<Length>, "Louver clearance" [] LENGTH, "as built in", "Least air between a louver's edge and a handle, a casing or the glass.";
        half_headrail: Rule<Length>, "Half headrail" [] LENGTH, "as built in", "Half the depth of the headrail: the least from the wall face to its center.";
        spread_limit: Rule<Length>, "Spread limit" [] LENGTH, "as built in", "Most by which measurements of one width or height may differ without a check.";
        small_spread_limit: Rule<Length>, "Small spread limit" [] LENGTH, "as built in", "The same for an inside mount in a small opening.";
        small_opening_sq_ft: Rule<Decimal>, "Small opening sq ft" [] Kind::Number { most: 10_000 }, "as built in", "Square feet under which an opening is small.";
        window_most_off: Rule<Length>, "Most off an inside size" [] LENGTH, "as built in", "Inside: the most by which a size that would also do may be under the opening.";
        window_least_off: Rule<Length>, "Least off an inside size" [] LENGTH, "as built in", "Inside: the least by which a size that would also do must be under the opening.";

        overlap_wanted: Rule<Length>, "Overlap wanted" [] LENGTH, "as built in", "Outside: how far the blind is to reach past the opening, each side.";
        overlap_least: Rule<Length>, "Least overlap" ["Overlap least"] LENGTH, "as built in", "Outside: the least it must reach past the opening, each side.";
        valance_past_rail: Rule<Length>, "Valance past rail" [] LENGTH, "as built in", "How far the valance stands past each end of the rail.";
        hand_room: Rule<Length>, "Hand room" [] LENGTH, "as built in", "Room for a hand between the valance and a side wall.";
        above_wanted: Rule<Length>, "Above wanted" [] LENGTH, "as built in", "Outside: the rail's top above the head of the opening.";
        above_least: Rule<Length>, "Least above" ["Above least"] LENGTH, "as built in", "Outside: the least the rail's top must be above the head.";
        above_most: Rule<Length>, "Most above" ["Above most"] LENGTH, "as built in", "Outside: the most the rail's top may be above the head.";
        above_floor: Rule<Length>, "Least above with a drop wanted" ["Above floor"] LENGTH, "as built in", "Outside, with a wanted drop: under this the bracket has no wall at all.";
        room_above: Rule<Length>, "Room above" [] LENGTH, "as built in", "Above the rail's top: the bracket, and room to tip the rail into its clips.";
        bracket_above_rail: Rule<Length>, "Bracket above rail" [] LENGTH, "as built in", "Outside: the bracket's top above the rail's top.";
        floor_gap: Rule<Length>, "Floor gap" [] LENGTH, "as built in", "From the louvers to a hard floor.";
        floor_gap_carpet: Rule<Length>, "Floor gap on carpet" [] LENGTH, "as built in", "From the louvers to a carpet.";
        below_wanted: Rule<Length>, "Below wanted" [] LENGTH, "as built in", "Window, outside: how far the blind is to end below the opening.";
        below_least: Rule<Length>, "Least below" ["Below least"] LENGTH, "as built in", "Window, outside: the least it must end below the opening to pass the sill.";
        room_below: Rule<Length>, "Room below" [] LENGTH, "as built in", "Window, outside: clear of whatever the wall below ends at.";
        above_sill: Rule<Length>, "Above sill" [] LENGTH, "as built in", "Window, outside: how far above the sill it ends where it cannot pass it.";

        upper_screw: Rule<Length>, "Upper screw" [] LENGTH, "as built in", "From a wall bracket's top to its upper screw.";
        lower_screw: Rule<Length>, "Lower screw" [] LENGTH, "as built in", "From a wall bracket's top to its lower screw.";
        screw_edge: Rule<Length>, "Screw to edge of wood" ["Screw to edge of timber"] LENGTH, "as built in", "Least wood beyond a screw.";
        reaches, "Reaches" ["Bracket reaches"] Kind::List, "as built in", "Wall to the line of the louvers for each wall bracket, rising, separated by commas.";
        bracket_items: Vec<Arc<str>>, "Bracket items" ["Brackets"] Kind::List, "as built in", "The item of the bracket of each reach, in the same order.";
        inside_bracket_item: Arc<str>, "Inside bracket item" ["Inside bracket"] Kind::Text, "as built in", "The item of the bracket of an inside mount.";
        bracket_inset: Rule<Length>, "Bracket inset" [] LENGTH, "as built in", "Most from a rail's end to the center of its end bracket.";
        bracket_spacing: Rule<Length>, "Bracket spacing" [] SIZE, "as built in", "Most from one bracket's center to the next.";
        fixings_per_bracket: Rule<u32>, "Fixings per bracket" [] Kind::Whole { least: 1, most: 20 }, "as built in", "Screws in each bracket.";
    }
    louver {
        louver_off_outside: Rule<Length>, "Louver shorter outside" [] LENGTH, "as built in", "Outside: how much shorter a louver is than the drop.";
        louver_off_inside: Rule<Length>, "Louver shorter inside" [] LENGTH, "as built in", "Inside: how much shorter a louver is than the drop.";
        end_cap: Rule<Length>, "End cap" [] LENGTH, "as built in", "What each end cap takes off the headrail's cut.";
        rod_off: Rule<Length>, "Rod shorter" [] LENGTH, "as built in", "How much shorter the tilt rod is than the width.";
        wand_step: Rule<Length>, "Wand step" [] SIZE, "as built in", "Wand lengths come in steps of this.";
        wand_end_height: Rule<Length>, "Wand end above floor" [] LENGTH, "as built in", "Least height above the floor at which a wand ends.";
        stack_per_louver: Rule<Length>, "Stack per louver" [] LENGTH, "as built in", "What each louver adds to the stack.";
        stack_base: Rule<Length>, "Stack besides" [] LENGTH, "as built in", "What a stack takes besides its louvers.";
        return_beyond: Rule<Length>, "Return beyond louver" [] LENGTH, "as built in", "What a valance's return adds to the reach and half a louver.";
        clip_offset: Rule<Length>, "Clip offset" [] LENGTH, "as built in", "How far a valance clip is moved from its bracket so that they clear each other.";

        fabric_mass: Rule<Decimal>, "Fabric kg/m2" [] MASS, "as built in", "Louver fabric, kilograms a square meter.";
        weight_mass: Rule<Decimal>, "Bottom weight kg" [] MASS, "as built in", "Bottom weight, kilograms each.";
        carrier_mass: Rule<Decimal>, "Carrier kg" [] MASS, "as built in", "Carrier, kilograms each.";
        rail_mass: Rule<Decimal>, "Rail kg/m" [] MASS, "as built in", "Headrail with what is in it, kilograms a meter.";
        valance_mass: Rule<Decimal>, "Valance kg/m" [] MASS, "as built in", "Valance, kilograms a meter.";
    }
    cover {
        two_people_length: Rule<Length>, "Two people from length" [] SIZE, "as built in", "Length of rail from which two people lift; this length included.";
        two_people_mass: Rule<Decimal>, "Two people over kg" [] MASS, "as built in", "Mass over which two people lift.";
    }
    louver {
        least_spare_louvers: Rule<u32>, "Least spare louvers" [] Kind::Whole { least: 0, most: 10_000 }, "as built in", "Least spare louvers for each color and louver width.";
        hem: Rule<Length>, "Hem" ["Hems"] LENGTH, "as built in", "What a louver's cut adds to its length; 0 for PVC.";
        rail_material: Arc<str>, "Rail material" [] Kind::Text, "as built in", "The material in Bars that the headrail is cut from.";
        rod_material: Arc<str>, "Rod material" [] Kind::Text, "as built in", "The material in Bars that the tilt rod is cut from.";
        valance_material: Arc<str>, "Valance material" [] Kind::Text, "as built in", "The material in Bars that the valance is cut from.";
        louver_material: Arc<str>, "Louver material" [] Kind::Text, "as built in", "The material in Bars that the louvers are cut from.";
    }
    cover {
        tolerance: Rule<Length>, "Tolerance" [] LENGTH, "as built in", "Plus or minus, on width and drop: stated to the maker.";
    }
}

impl CoverRules {
    /// How far what hangs reaches to each side of its line.
    pub fn half_depth(&self) -> Length {
        self.depth.share(1, 2)
    }
}

/// What may not be over what: both allowed to be equal.
pub(in crate::rules) const NOT_OVER: [(&Column, &Column); 9] = {
    let c = &COLUMNS;
    [
        (&c.least_width, &c.most_width),
        (&c.least_drop, &c.most_drop),
        (&c.pitch, &c.louver_width),
        (&c.window_least_off, &c.window_most_off),
        (&c.overlap_least, &c.overlap_wanted),
        (&c.above_floor, &c.above_least),
        (&c.above_least, &c.above_wanted),
        (&c.above_wanted, &c.above_most),
        (&c.below_least, &c.below_wanted),
    ]
};

/// What must be under what, so that something is left: a couple arm, a rod, a louver.
pub(in crate::rules) const UNDER: [(&Column, &Column); 5] = {
    let c = &COLUMNS;
    [
        (&c.upper_screw, &c.lower_screw),
        (&c.rod_off, &c.least_width),
        (&c.louver_off_outside, &c.least_drop),
        (&c.louver_off_inside, &c.least_drop),
        (&c.louver_width, &c.most_width),
    ]
};

/// The columns that name a material.
pub(in crate::rules) const MATERIALS: [&Column; 4] = {
    let c = &COLUMNS;
    [&c.rail_material, &c.rod_material, &c.valance_material, &c.louver_material]
};
