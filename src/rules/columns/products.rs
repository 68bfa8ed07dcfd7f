//! The sheet `Products`: the rules of a product, in the order of its columns. A section says whose
//! they are: those of any blind that covers an opening, or of the louvers alone.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::materials as facts;
use super::{MASS, SPACING, STEP};
use crate::length::Length;
use crate::rules::material::fact_of;
use crate::rules::raw::ByItem;
use crate::schema::choices::choice;
use crate::schema::{Column, Form, Kind, LENGTH, SIZE, choices};
use crate::worked::Rule;

choice! {
    /// How a wand turns the louvers.
    WandTilt {
        /// It is twisted.
        Twist = "twist" | "twisting" | "rotate",
        /// It is pushed and pulled.
        PushAndPull = "push and pull" | "push pull" | "pushing and pulling",
    }
}

/// One list of columns, and of its sections the rules of any covering blind and of louvers.
macro_rules! products {
    ({ $($own:tt)* } $(louver { $($louver:tt)* } cover { $($cover:tt)* })*) => {
        sheet! { PRODUCTS, "Products", Form::Rows, "One row for each product. Blank cells use the built-in value, or that of the product named under Like.";
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
            pub struct LouverRules, read(row, materials: &ByItem<'_>) { $($($louver)*)* }
            and {
                /// What is added to a louver's length when it is cut, as its material says.
                hem: Rule<Length> = fact_of(materials, row, &COLUMNS.louver_material, &facts::COLUMNS.hem)?;
                /// Kilograms of a square meter of louver, as its material says.
                louver_mass: Rule<Decimal> =
                    fact_of(materials, row, &COLUMNS.louver_material, &facts::COLUMNS.mass)?;
                /// Kilograms of a meter of the blind's width: the rail with everything in it.
                rail_mass: Rule<Decimal> =
                    fact_of(materials, row, &COLUMNS.rail_material, &facts::COLUMNS.mass)?;
                /// Kilograms of a meter of the valance's front.
                valance_mass: Rule<Decimal> =
                    fact_of(materials, row, &COLUMNS.valance_material, &facts::COLUMNS.mass)?;
            }
        }
    };
}

products! {
    {
        name, "Product" ["Product name"] Kind::Text, "required (the row is ignored without it)", "The name used on the sheet Openings.";
        like, "Like" ["Starts from"] Kind::Text, "a built-in product", "For a new product: an existing product (built in, or in a row above) to copy blank values from.";
        colors: Vec<Arc<str>>, "Colors" [] Kind::List, "the built-in value", "Its colors, separated by commas. A blank Color on Openings means the first.";
        suits, "Suits" ["Suits the kind"] Kind::Choices(choices::Kind::WORDS), "the built-in value", "The kinds of opening it suits, separated by commas.";
    }
    louver {
        louver_width: Rule<Length>, "Louver width" [] SIZE, "the built-in value", "Width of one louver.";
        pitch: Rule<Length>, "Pitch" ["Carrier pitch"] SIZE, "the built-in value", "Distance from one carrier to the next. Must not exceed the louver width, or light shows between louvers.";
    }
    cover {
        least_width: Rule<Length>, "Minimum width" ["Least width", "Min width"] SIZE, "the built-in value", "Smallest finished width that can be made (inclusive).";
        most_width: Rule<Length>, "Maximum width" ["Most width", "Max width"] SIZE, "the built-in value", "Largest finished width that can be made (inclusive).";
        least_drop: Rule<Length>, "Minimum drop" ["Least drop", "Min drop"] SIZE, "the built-in value", "Smallest finished drop that can be made (inclusive).";
        most_drop: Rule<Length>, "Maximum drop" ["Most drop", "Max drop"] SIZE, "the built-in value", "Largest finished drop that can be made (inclusive).";
        rounding_step: Rule<Length>, "Rounding step" ["Round to"] STEP, "1/8 in in an inch survey, 1 mm in a millimeter survey", "Finished sizes are rounded down to a multiple of this.";

        most_depth: Rule<Length>, "Maximum recess depth" ["Most recess depth"] LENGTH, "the built-in value", "Largest recess depth accepted. Anything more is probably in the wrong unit.";
        most_handle: Rule<Length>, "Maximum handle" ["Most handle"] LENGTH, "the built-in value", "Largest handle projection accepted. Anything more is probably in the wrong unit.";
        most_trim: Rule<Length>, "Maximum trim" ["Most trim"] LENGTH, "the built-in value", "Largest casing projection accepted. Anything more is probably in the wrong unit.";
        most_floor_to_come: Rule<Length>, "Maximum floor to come" ["Most floor to come"] LENGTH, "the built-in value", "Largest thickness accepted of floor still to be laid. Anything more is probably in the wrong unit.";

        side_clearance: Rule<Length>, "Side clearance" [] LENGTH, "the built-in value", "Inside: clearance taken off the width at each side.";
        inside_drop_clearance: Rule<Length>, "Inside drop clearance" [] LENGTH, "the built-in value", "Inside: clearance taken off the height.";
        louver_clearance: Rule<Length>, "Louver clearance" [] LENGTH, "the built-in value", "Minimum clearance between a louver edge and a handle, the casing or the glass.";
        half_headrail: Rule<Length>, "Half rail depth" ["Half headrail"] LENGTH, "the built-in value", "Half the depth of the rail, front to back: the minimum from the wall face to its center line.";
        spread_limit: Rule<Length>, "Allowed variation" ["Spread limit"] LENGTH, "the built-in value", "How much the readings of one width or height may differ before a check is raised.";
        small_spread_limit: Rule<Length>, "Allowed variation, small opening" ["Small spread limit"] LENGTH, "the built-in value", "Inside mount in a small opening: how much the readings of one width or height may differ.";
        small_opening_sq_ft: Rule<Decimal>, "Small opening, under (sq ft)" ["Small opening sq ft"] Kind::Number { most: 10_000 }, "the built-in value", "Openings with less area than this, in square feet, count as small.";
        window_most_off: Rule<Length>, "Maximum inside deduction" ["Most off an inside size"] LENGTH, "the built-in value", "Inside: an acceptable width or drop is at most this much smaller than the opening.";
        window_least_off: Rule<Length>, "Minimum inside deduction" ["Least off an inside size"] LENGTH, "the built-in value", "Inside: an acceptable width or drop is at least this much smaller than the opening.";

        overlap_wanted: Rule<Length>, "Preferred overlap" ["Overlap wanted"] LENGTH, "the built-in value", "Outside: how far the blind should reach past the opening at each side.";
        overlap_least: Rule<Length>, "Minimum overlap" ["Least overlap", "Overlap least"] LENGTH, "the built-in value", "Outside: how far the blind must reach past the opening at each side.";
        overlap_most: Rule<Length>, "Maximum overlap" [] LENGTH, "the built-in value", "Outside, where the free wall is known: how far a wider blind may reach past the opening at each side.";
        valance_past_rail: Rule<Length>, "Valance past rail" [] LENGTH, "the built-in value", "How far the valance extends past each end of the rail.";
        hand_room: Rule<Length>, "Room for a hand" ["Hand room"] LENGTH, "the built-in value", "Gap left for a hand between the valance and a side wall.";
        above_wanted: Rule<Length>, "Preferred height above head" ["Above wanted"] LENGTH, "the built-in value", "Outside: from the head of the opening up to the rail top, preferred.";
        above_least: Rule<Length>, "Minimum height above head" ["Least above", "Above least"] LENGTH, "the built-in value", "Outside: from the head of the opening up to the rail top, minimum.";
        above_most: Rule<Length>, "Maximum height above head" ["Most above", "Above most"] LENGTH, "the built-in value", "Outside: from the head of the opening up to the rail top, maximum.";
        above_floor: Rule<Length>, "Minimum above head, drop wanted" ["Least above with a drop wanted", "Above floor"] LENGTH, "the built-in value", "Outside, with Drop wanted: minimum from the head up to the rail top. Any lower and the bracket's foot hangs over the opening.";
        casing_least: Rule<Length>, "Minimum casing to fix to" [] SIZE, "the built-in value", "Outside: a casing this wide or wider may carry the brackets where the wall above it cannot.";
        casing_edge: Rule<Length>, "Rail below casing edge" [] LENGTH, "the built-in value", "Outside, on a casing: from the rail top up to the outer edge of the casing.";
        casing_thickness: Rule<Length>, "Minimum casing thickness" [] SIZE, "the built-in value", "Outside, on a casing: a thinner casing is only nailed, and what it holds is unknown.";
        room_above: Rule<Length>, "Clearance above rail" ["Room above"] LENGTH, "the built-in value", "Outside: free height above the rail top, for the bracket and for tipping the rail into its clips.";
        bracket_above_rail: Rule<Length>, "Bracket above rail" [] LENGTH, "the built-in value", "Outside: from the rail top up to the bracket top.";
        floor_gap: Rule<Length>, "Floor gap" [] LENGTH, "the built-in value", "From the bottom of the louvers to a hard floor.";
        floor_gap_carpet: Rule<Length>, "Floor gap on carpet" [] LENGTH, "the built-in value", "From the bottom of the louvers to carpet.";
        below_wanted: Rule<Length>, "Preferred overlap below" ["Below wanted"] LENGTH, "the built-in value", "Window, outside: how far the blind should reach below the opening.";
        below_least: Rule<Length>, "Minimum overlap below" ["Least below", "Below least"] LENGTH, "the built-in value", "Window, outside: how far the blind must reach below the opening to cover the sill.";
        room_below: Rule<Length>, "Clearance below blind" ["Room below"] LENGTH, "the built-in value", "Window, outside: clearance above whatever is below (counter, radiator, floor).";
        above_sill: Rule<Length>, "Gap above sill" ["Above sill"] LENGTH, "the built-in value", "Window, outside: gap above the sill where the blind cannot reach below it.";

        upper_screw: Rule<Length>, "Bracket top to upper screw" ["Upper screw"] LENGTH, "the built-in value", "From the top of a wall bracket down to its upper screw.";
        lower_screw: Rule<Length>, "Bracket top to lower screw" ["Lower screw"] LENGTH, "the built-in value", "From the top of a wall bracket down to its lower screw.";
        bracket_foot: Rule<Length>, "Bracket top to foot" [] SIZE, "the built-in value", "From the top of a wall bracket down to its foot, about which it turns.";
        inside_screws_apart: Rule<Length>, "Inside bracket screws apart" [] LENGTH, "the built-in value", "From one screw of an inside bracket to the other, along the rail.";
        bracket_plate: Rule<Length>, "Bracket thickness" [] LENGTH, "the built-in value", "Thickness of a bracket under the head of its screw.";
        screw_edge: Rule<Length>, "Minimum screw edge distance" ["Screw to edge of wood", "Screw to edge of timber"] LENGTH, "the built-in value", "Minimum distance from a screw to the edge of the wood.";
        reaches, "Bracket reaches" ["Reaches"] Kind::List, "the built-in value", "From the wall face to the line of the louvers, for each wall bracket, shortest first, separated by commas.";
        bracket_items: Vec<Arc<str>>, "Bracket items" ["Brackets"] Kind::List, "the built-in value", "The bracket item for each reach, in the same order, separated by commas.";
        inside_bracket_item: Arc<str>, "Inside bracket item" ["Inside bracket"] Kind::Text, "the built-in value", "The bracket item for inside mounts.";
        bracket_inset: Rule<Length>, "Bracket inset" [] LENGTH, "the built-in value", "Maximum from the end of the rail to the center of the end bracket.";
        bracket_spacing: Rule<Length>, "Bracket spacing" [] SPACING, "the built-in value", "Maximum from the center of one bracket to the center of the next.";
        stud_inset_least: Rule<Length>, "Minimum bracket inset on a stud" [] LENGTH, "the built-in value", "From the end of the rail to the stud of the end bracket, minimum.";
        stud_inset_most: Rule<Length>, "Maximum bracket inset on a stud" [] LENGTH, "the built-in value", "From the end of the rail to the stud of the end bracket, maximum.";
        stud_span: Rule<Length>, "Maximum bracket spacing on studs" [] SPACING, "the built-in value", "Maximum from one bracket to the next where they are on studs.";
        brackets_apart: Rule<Length>, "Minimum bracket spacing" [] LENGTH, "the built-in value", "Minimum from an added bracket near the stack to its neighbors.";
        board_most: Rule<Length>, "Maximum board behind a head" [] LENGTH, "the built-in value", "Inside: board up to this thick lies between the head of a recess and its wood.";
        steel_beyond: Rule<Length>, "Steel screw beyond board" [] LENGTH, "the built-in value", "How far a screw into steel reaches past the board.";
        pull: Rule<Decimal>, "Pull on a bracket (N)" [] Kind::Number { most: 10_000 }, "the built-in value", "A pull straight down on one bracket, in newtons, that the fixings must hold for a moment.";
        fixings_per_bracket: Rule<u32>, "Fixings per bracket" [] Kind::Whole { least: 1, most: 20 }, "the built-in value", "Number of screws in each bracket.";
    }
    louver {
        louver_off_outside: Rule<Length>, "Louver deduction, outside" ["Louver shorter outside"] LENGTH, "the built-in value", "Outside: how much shorter a louver is than the drop.";
        louver_off_inside: Rule<Length>, "Louver deduction, inside" ["Louver shorter inside"] LENGTH, "the built-in value", "Inside: how much shorter a louver is than the drop.";
        end_cap: Rule<Length>, "End cap" [] LENGTH, "the built-in value", "How much each end cap takes off the headrail cut length.";
        rod_off: Rule<Length>, "Tilt rod deduction" ["Rod shorter"] LENGTH, "the built-in value", "How much shorter the tilt rod is than the finished width.";
        wand_step: Rule<Length>, "Wand step" [] SIZE, "the built-in value", "Wand lengths are multiples of this.";
        wand_end_height: Rule<Length>, "Wand end above floor" [] LENGTH, "the built-in value", "Height above the floor, as it is when you measure, at or above which a wand should end.";
        wand_above_bottom: Rule<Length>, "Wand end above blind bottom" [] LENGTH, "the built-in value", "Minimum distance from the wand end down to the bottom of the blind.";
        wand_in_reach: Rule<Length>, "Wand end in reach up to" [] LENGTH, "the built-in value", "Maximum height of the wand end above the finished floor.";
        wand_tilt: Rule<WandTilt>, "Wand tilts by" [] Kind::Choice(WandTilt::WORDS), "the built-in value", "How the wand tilts the louvers: twist, or push and pull.";
        stack_per_louver: Rule<Length>, "Stack per louver" [] LENGTH, "the built-in value", "Width that each louver adds to the stack.";
        stack_base: Rule<Length>, "Stack, fixed part" ["Stack besides"] LENGTH, "the built-in value", "Fixed part of the stack width, in addition to the louvers.";
        return_beyond: Rule<Length>, "Return beyond louver" [] LENGTH, "the built-in value", "Extra length of a valance return, beyond the reach plus half a louver.";
        clip_offset: Rule<Length>, "Clip offset" [] LENGTH, "the built-in value", "How far a valance clip is moved away from its bracket, so that they do not touch.";

        weight_mass: Rule<Decimal>, "Bottom weight kg" [] MASS, "the built-in value", "One bottom weight, in kilograms.";
        carrier_mass: Rule<Decimal>, "Carrier kg" [] MASS, "the built-in value", "One carrier, in kilograms.";
    }
    cover {
        motor_mass: Rule<Decimal>, "Motor kg" [] MASS, "the built-in value", "One motor, in kilograms.";
        two_people_length: Rule<Length>, "Two people from rail length" ["Two people from length"] SIZE, "the built-in value", "Rails this long or longer need two people.";
        two_people_mass: Rule<Decimal>, "Two people above (kg)" ["Two people over kg"] MASS, "the built-in value", "Blinds heavier than this, in kilograms, need two people.";
        two_people_height: Rule<Length>, "Two people from bracket height" [] SIZE, "the built-in value", "With brackets this high above the floor or higher, a long rail needs two people.";
        two_people_high_length: Rule<Length>, "Two people, high, above rail length" [] SIZE, "the built-in value", "At that height, rails longer than this need two people.";
    }
    louver {
        least_spare_louvers: Rule<u32>, "Minimum spare louvers" ["Least spare louvers"] Kind::Whole { least: 0, most: 10_000 }, "the built-in value", "Minimum number of spare louvers for each color and louver width.";
        rail_material: Arc<str>, "Rail material" [] Kind::Text, "the built-in value", "The material on Bars that the headrail is cut from.";
        rod_material: Arc<str>, "Rod material" [] Kind::Text, "the built-in value", "The material on Bars that the tilt rod is cut from.";
        valance_material: Arc<str>, "Valance material" [] Kind::Text, "the built-in value", "The material on Bars that the valance is cut from.";
        louver_material: Arc<str>, "Louver material" [] Kind::Text, "the built-in value", "The material on Bars that the louvers are cut from.";
        hem, "Hem allowance" ["Hem", "Hems"] LENGTH, "as Materials says", "Stands on Materials now: what is added to a louver's length for its hems.", only_read;
        fabric_mass, "Fabric kg/m2" [] MASS, "as Materials says", "Stands on Materials now: the louvers' mass per square meter.", only_read;
        rail_mass, "Rail kg/m" [] MASS, "as Materials says", "Stands on Materials now: the rail's mass per meter.", only_read;
        valance_mass, "Valance kg/m" [] MASS, "as Materials says", "Stands on Materials now: the valance's mass per meter.", only_read;
    }
    cover {
        tolerance: Rule<Length>, "Tolerance" [] LENGTH, "the built-in value", "Plus or minus, on width and drop; printed on the order.";
    }
}

impl CoverRules {
    /// How far what hangs reaches to each side of its line.
    pub fn half_depth(&self) -> Length {
        self.depth.share(1, 2)
    }

    /// Brackets that hold a rail of this width: two, or as many as keep every span within the spacing.
    pub fn brackets_across(&self, width: Length) -> u32 {
        // ceil((w - 2a) / spacing), where a may be a quarter of the width, in quarters of a nanometer.
        let quarters = |length: Length| 4 * i128::from(length.nm());
        let inset = quarters(*self.bracket_inset).min(i128::from(width.nm()));
        let spacing = quarters(*self.bracket_spacing);
        let spans = (quarters(width) - 2 * inset + spacing - 1).div_euclid(spacing);
        u32::try_from(spans + 1).unwrap_or(u32::MAX).max(2)
    }
}

/// What may not be over what: both allowed to be equal.
pub(in crate::rules) const NOT_OVER: [(&Column, &Column); 13] = {
    let c = &COLUMNS;
    [
        (&c.least_width, &c.most_width),
        (&c.least_drop, &c.most_drop),
        (&c.pitch, &c.louver_width),
        (&c.window_least_off, &c.window_most_off),
        (&c.overlap_least, &c.overlap_wanted),
        (&c.overlap_wanted, &c.overlap_most),
        (&c.casing_edge, &c.casing_least),
        (&c.stud_inset_least, &c.stud_inset_most),
        (&c.bracket_spacing, &c.stud_span),
        (&c.above_floor, &c.above_least),
        (&c.above_least, &c.above_wanted),
        (&c.above_wanted, &c.above_most),
        (&c.below_least, &c.below_wanted),
    ]
};

/// What must be under what, so that something is left: a couple arm, a rod, a louver.
pub(in crate::rules) const UNDER: [(&Column, &Column); 6] = {
    let c = &COLUMNS;
    [
        (&c.upper_screw, &c.lower_screw),
        (&c.lower_screw, &c.bracket_foot),
        (&c.rod_off, &c.least_width),
        (&c.louver_off_outside, &c.least_drop),
        (&c.louver_off_inside, &c.least_drop),
        (&c.louver_width, &c.most_width),
    ]
};
