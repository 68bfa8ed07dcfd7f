//! One opening in, one blind out: hand-worked cases on each side of every limit.
//!
//! A case is one row of a survey (`Heading = cell; …`) and what must come out of it
//! (`name = value; …`). Numbers are inches unless they say otherwise. The expectations are
//! worked by hand from the rules, which are common practice without a source; each case says
//! its sum. Where a source outside the trade exists it is named beside the case.

use crate::support::opening::{Case, check, survey_text};
use sillbook::length::Length;
use sillbook::pipeline::{self, Silent};

#[test]
fn the_sizes_that_every_handbook_of_the_shop_begins_with() {
    for case in [
        // 106 - 2 x 1/4 = 105 1/2; 78 - 1/2 = 77 1/2; 77 1/2 - 1 3/4 = 75 3/4.
        Case(
            "Width = 106; Height = 78; Recess depth = 3",
            "mount = inside; width = 105 1/2; drop = 77 1/2; louver length = 75 3/4",
        ),
        // 106 + 2 + 2 = 110; 78 + 6 - 1/2 = 83 1/2; 78 + 6 + 1/4 = 84 1/4.
        Case(
            "Width = 106; Height = 78; Recess depth = 7/8",
            "mount = outside; width = 110; drop = 83 1/2; bracket top above floor = 84 1/4; \
             overlap left = 2; overlap right = 2",
        ),
        // A wall of 1 3/8 leaves 1 3/8 - 1/4 - 1/8 = 1: 106 + 1 + 1 = 108.
        Case(
            "Width = 106; Height = 78; Recess depth = 7/8; Wall left = 1 3/8; Wall right = 1 3/8",
            "width = 108; drop = 83 1/2; overlap left = 1; overlap right = 1",
        ),
        // Bottom 1/2 + 84 = 84 1/2 rail top; + 1/4 = 84 3/4; 84 - 1 1/2 = 82 1/2.
        Case(
            "Width = 106; Height = 78; Mount = outside; Drop wanted = 84",
            "drop = 84; bracket top above floor = 84 3/4; louver length = 82 1/2",
        ),
        // 48 + 6 + 2 = 56; 36 + 48 + 6 + 1/4 = 90 1/4; wand: 90 - 40 = 50, in whole feet 48.
        Case(
            "Kind = window; Width = 36; Height = 48; Sill height = 36",
            "mount = outside; width = 40; drop = 56; bracket top above floor = 90 1/4; wand = 48",
        ),
        // A nominal 2x8 is 7 1/4 in high (American Softwood Lumber Standard PS 20): the rail's top
        // may be 2 to 7 1/4 - 1/2 = 6 3/4 above the head, so the wanted 6 stays.
        Case("Width = 106; Height = 78; Mount = outside; Header height = 7 1/4", "above head = 6"),
    ] {
        check(case);
    }
}

#[test]
fn brackets_stand_evenly_between_the_end_ones() {
    for case in [
        // a = 4: (72 - 8) / 32 = 2 spans, 3 brackets at 4, 36, 68.
        Case("Width = 68; Height = 78; Mount = outside", "width = 72; brackets = 3; centers = 4, 36, 68"),
        // (104 - 8) / 32 = 3 spans, 4 brackets; the opening's edge is 2 in from the rail's end.
        Case(
            "Width = 100; Height = 78; Mount = outside",
            "width = 104; brackets = 4; centers = 4, 36, 68, 100; from opening = 2, 34, 66, 98; people = 2",
        ),
        // One step more than 72 needs a fourth: (72 1/8 - 8) / 32 > 2. Spans are 64 1/8 / 3 = 21 3/8.
        Case(
            "Width = 68 1/8; Height = 78; Mount = outside",
            "width = 72 1/8; brackets = 4; centers = 4, 25 3/8, 46 3/4, 68 1/8",
        ),
        // Under 16 in the inset is a quarter of the width: 12 / 4 = 3, 12 - 3 = 9.
        Case(
            "Kind = window; Width = 12 1/2; Height = 30; Mount = inside; Recess depth = 5",
            "centers = 3, 9",
        ),
        // Clips: each bracket's center 2 in towards the middle; the very middle one goes left.
        Case("Width = 68; Height = 78; Mount = outside", "clips = 6, 34, 66"),
        Case("Width = 92; Height = 78; Mount = outside", "width = 96; people = 2"),
        Case("Width = 91 7/8; Height = 40; Kind = window; Mount = outside", "width = 95 7/8; people = 1"),
    ] {
        check(case);
    }
}

#[test]
fn the_recess_takes_a_blind_only_if_it_is_deep_straight_and_clear_enough() {
    for case in [
        // 3/8 + 1 3/4 + 7/8 = 3 in.
        Case("Width = 60; Height = 80; Recess depth = 3", "mount = inside; setback = 7/8"),
        Case("Width = 60; Height = 80; Recess depth = 2 15/16", "mount = outside"),
        // A handle of 1/2 needs as much more; none if the depth was taken to the handle.
        Case("Width = 60; Height = 80; Recess depth = 3; Handle = 1/2; Depth to = glass", "mount = outside"),
        Case("Width = 60; Height = 80; Recess depth = 3; Handle = 1/2; Depth to = handle", "mount = inside"),
        // 5 in louvers: 3/8 + 2 1/2 + 7/8 = 3 3/4 in.
        Case("Width = 60; Height = 80; Recess depth = 3 3/4; Product = louver-127", "mount = inside"),
        Case("Width = 60; Height = 80; Recess depth = 3 11/16; Product = louver-127", "mount = outside"),
        // Setback: 6 - 3/8 - 1 3/4 = 3 7/8, at most half a louver: 1 3/4. Proud: 3/8 + 3 1/2 - 6 < 0.
        Case(
            "Width = 60; Height = 80; Recess depth = 6; Substrate = wood",
            "setback = 1 3/4; stands proud = 0",
        ),
        // A lintel right over the head takes the screws; one further up leaves them to the masonry, which needs 2 in.
        Case(
            "Width = 60; Height = 80; Recess depth = 6; Substrate = masonry; Header height = 4; Header offset = 1",
            "mount = inside; setback = 1 3/4",
        ),
        Case(
            "Width = 60; Height = 80; Recess depth = 6; Substrate = masonry; Header height = 4; Header offset = 2",
            "mount = inside; setback = 2",
        ),
        // Proud: 3/8 + 3 1/2 - 3 = 7/8.
        Case("Width = 60; Height = 80; Recess depth = 3", "stands proud = 7/8"),
        // Lean: |D1^2 - D2^2| / 4 W. With W = 60, H = 80: D1^2 - D2^2 = 120 at 1/2 in, over it not inside.
        // D1 = 100, D2^2 = 10000 - 120 = 9880 -> 99.398 in; 99 3/8 = 99.375 leans 0.5195, 99 13/32 leans 0.494.
        Case(
            "Width = 60; Height = 80; Recess depth = 4; Diagonal 1 = 100; Diagonal 2 = 99 13/32",
            "mount = inside",
        ),
        Case(
            "Width = 60; Height = 80; Recess depth = 4; Diagonal 1 = 100; Diagonal 2 = 99 3/8",
            "mount = outside",
        ),
        Case("Width = 60; Height = 80; Recess depth = 4; Opens = in", "mount = outside"),
        Case("Width = 60; Height = 80; Recess depth = 4; Opens = slide", "mount = inside"),
        // No depth: either goes outside, inside is sized with a check and no setback.
        Case("Width = 60; Height = 80", "mount = outside"),
        Case("Width = 60; Height = 80; Mount = inside", "mount = inside; setback = unknown"),
        // 193 wide still takes 192, 1 in less; one step more does not, so either goes outside, where the
        // overlaps are over the product's most too.
        Case("Width = 193; Height = 80; Recess depth = 4", "mount = inside; width = 192"),
        Case("Width = 193 1/8; Height = 80; Recess depth = 4", "held"),
    ] {
        check(case);
    }
}

#[test]
fn floors_take_off_what_lies_on_them() {
    for case in [
        // Outside on carpet: 80 + 6 - 3/4 = 85 1/4.
        Case("Width = 60; Height = 80; Mount = outside; Floor surface = carpet", "drop = 85 1/4"),
        // And 1/2 in of floor still to come: 84 3/4. It is laid in front of the door, so it raises the bottom.
        Case(
            "Width = 60; Height = 80; Mount = outside; Floor surface = carpet; Floor to come = 1/2",
            "drop = 84 3/4; release = make",
        ),
        // A raised threshold adds to the drop: 2 + 80 + 6 - 1/2 = 87 1/2.
        Case(
            "Kind = patio door; Width = 60; Height = 80; Mount = outside; Sill height = 2",
            "drop = 87 1/2; bracket top above floor = 88 1/4",
        ),
        // Inside on carpet: 80 - 1/2 - 1/4 = 79 1/4; and 3/8 of floor to come: 78 7/8.
        Case("Width = 60; Height = 80; Recess depth = 4; Floor surface = carpet", "drop = 79 1/4"),
        Case(
            "Width = 60; Height = 80; Recess depth = 4; Floor surface = carpet; Floor to come = 3/8",
            "drop = 78 7/8",
        ),
        Case(
            "Width = 60; Height = 80; Recess depth = 4; Floor surface = unfinished",
            "release = provisional",
        ),
        Case("Width = 60; Height = 80; Mount = outside; Floor surface = unfinished", "release = provisional"),
        Case(
            "Width = 60; Height = 80; Mount = outside; Floor surface = unfinished; Floor to come = 0",
            "release = make; drop = 85 1/2",
        ),
        // A window near the floor: 1 1/2 - 2 is below the gap of 1/2, so it ends there: 20 + 6 + 1 = 27.
        Case("Kind = window; Width = 60; Height = 20; Sill height = 1 1/2", "drop = 27; gap below = 1/2"),
        Case("Kind = window; Width = 60; Height = 20; Sill height = 2 1/2", "drop = 28; gap below = 1/2"),
        Case("Kind = window; Width = 60; Height = 20; Sill height = 3", "drop = 28; gap below = 1"),
        // Inside the gap is to the sill, wherever that is: 40 - 1/2 = 39 1/2.
        Case(
            "Kind = window; Width = 60; Height = 40; Recess depth = 4; Sill height = 30",
            "drop = 39 1/2; gap to sill = 1/2; gap below = 30 1/2",
        ),
        Case(
            "Kind = window; Width = 60; Height = 40; Recess depth = 4",
            "gap to sill = 1/2; gap below = unknown",
        ),
        Case(
            "Kind = window; Width = 60; Height = 20; Sill height = 3",
            "mount = outside; gap to sill = unknown",
        ),
        // Wall below: 1 1/2 - 1/2 = 1 is the least; under it the blind ends 1/2 above the sill.
        Case("Kind = window; Width = 60; Height = 20; Wall below = 1 1/2", "drop = 27"),
        Case("Kind = window; Width = 60; Height = 20; Wall below = 1 7/16", "drop = 25 1/2"),
    ] {
        check(case);
    }
}

#[test]
fn walls_around_the_opening_limit_what_laps_over_it() {
    for case in [
        // Left 1 - 3/8 = 5/8 under the least: 60 + 5/8 + 2 = 62 5/8.
        Case(
            "Width = 60; Height = 80; Mount = outside; Wall left = 1; Left ends at = wall",
            "width = 62 5/8; overlap left = 5/8; overlap right = 2; return left = 0; return right = 5",
        ),
        // The same side ending free keeps its return: 3 + 1 3/4 + 1/4 = 5. Angle: atan(0.625 / 3) = 11.8.
        Case(
            "Width = 60; Height = 80; Mount = outside; Wall left = 1",
            "return left = 5; return right = 5; see past = 11.8",
        ),
        // A wall of 1/4 leaves -1/8: the rail ends short of the opening's edge.
        Case(
            "Width = 60; Height = 80; Mount = outside; Wall left = 1/4; Left ends at = wall",
            "width = 61 7/8; overlap left = -1/8; overlap right = 2; see past = 33.7",
        ),
        // Rounding down 60 1/16 + 4 loses 1/16 in all, half of it on each side.
        Case(
            "Width = 60 1/16; Height = 80; Mount = outside",
            "width = 64; overlap left = 1 31/32; overlap right = 1 31/32",
        ),
        // Above: wall 6 3/4 leaves 6; 5 leaves 4 1/4; 3 1/4 leaves the least, 2 1/2; less is a stop. An
        // anchor's screws stay 2 in off the opening's edge, so that the least is 3 1/4; what is unknown
        // may turn out to be drywall.
        Case("Width = 60; Height = 80; Mount = outside; Wall above = 6 3/4", "above head = 6"),
        Case("Width = 60; Height = 80; Mount = outside; Wall above = 5", "above head = 4 1/4; drop = 83 3/4"),
        Case(
            "Width = 60; Height = 80; Mount = outside; Wall above = 3 1/4; Substrate = wood",
            "above head = 2 1/2",
        ),
        Case("Width = 60; Height = 80; Mount = outside; Wall above = 3 3/16; Substrate = wood", "held"),
        Case(
            "Width = 60; Height = 80; Mount = outside; Wall above = 4; Substrate = drywall",
            "above head = 3 1/4",
        ),
        Case("Width = 60; Height = 80; Mount = outside; Wall above = 3 15/16; Substrate = drywall", "held"),
        Case("Width = 60; Height = 80; Mount = outside; Wall above = 3 15/16", "held"),
        Case(
            "Width = 60; Height = 80; Mount = outside; Wall above = 3 1/2; Substrate = concrete",
            "above head = 2 3/4",
        ),
        // Header from 0 to 3 1/2: both screws inside at 2 to 3; from 5 to 9: at 7 to 8 1/2.
        Case(
            "Width = 60; Height = 80; Mount = outside; Header height = 3 1/2",
            "above head = 3; drop = 82 1/2",
        ),
        Case(
            "Width = 60; Height = 80; Mount = outside; Header height = 4; Header offset = 5",
            "above head = 7; drop = 86 1/2",
        ),
        // 3 of wood: both screws inside at 2 to 2 1/2, which is the least; of 1/16 less none will do.
        Case("Width = 60; Height = 80; Mount = outside; Header height = 3", "above head = 2 1/2"),
        // A drop that is rounded down to the longest moves nothing.
        Case(
            "Width = 60; Height = 138 9/16; Mount = outside; Header height = 7 1/4",
            "above head = 6; drop = 144",
        ),
        Case(
            "Width = 60; Height = 139; Mount = outside; Header height = 7 1/4",
            "above head = 5 1/2; drop = 144",
        ),
        Case("Width = 60; Height = 80; Mount = outside; Header height = 2 15/16", "above head = 6"),
        // 2 1/2 of wood has room for both screws at 2 only, under the least: it stays at 6, with a check.
        Case("Width = 60; Height = 80; Mount = outside; Header height = 2 1/2", "above head = 6"),
        // Reach: 1 3/4 + 3/8 + 7/8 = 3; 1/16 more takes the next.
        Case("Width = 60; Height = 80; Mount = outside; Trim = 7/8", "reach = 3"),
        Case("Width = 60; Height = 80; Mount = outside; Trim = 15/16", "reach = 4 1/2"),
        // A handle of 3 in a recess of 2 stands 1 in out: 1 3/4 + 3/8 + 1 = 3 1/8.
        Case(
            "Width = 60; Height = 80; Mount = outside; Handle = 3; Recess depth = 2; Depth to = glass",
            "reach = 4 1/2",
        ),
        // 1 3/4 + 3/8 + 3 7/8 = 6 is the longest; more is a stop.
        Case("Width = 60; Height = 80; Mount = outside; Trim = 3 7/8", "reach = 6"),
        Case("Width = 60; Height = 80; Mount = outside; Trim = 3 15/16", "held"),
    ] {
        check(case);
    }
}

/// In steps of 2 in, 60 1/2 + 2 + 1 = 63 1/2 goes down to 62, under the 62 1/2 that the least overlaps
/// need. Up to 64 is as far as walls of 2 7/8 and 1 3/8 go: 60 1/2 + 2 1/2 + 1; 1/16 less, and not.
#[test]
fn a_width_goes_up_a_step_as_far_as_the_walls_to_the_very_edge() {
    for (wall, width) in [("2 7/8", 64), ("2 13/16", 62)] {
        let row =
            format!("Width = 60 1/2; Height = 80; Mount = outside; Wall left = {wall}; Wall right = 1 3/8");
        let text = survey_text(&row) + "[Products]\nProduct | Rounding step\nlouver-89 | 2\n";
        let surveys = crate::support::surveys(&[("survey.xlsx", &text)]);
        let input = pipeline::understand(&surveys.grids, surveys.sheets, None).unwrap();
        let report = pipeline::work(&input, &Silent).unwrap();
        let blind = report.blinds[0].as_ref().unwrap();
        assert_eq!(blind.sourced.size.width, Length::inches(width), "{wall}");
    }
}

#[test]
fn a_drop_that_the_client_insists_on_moves_the_rail() {
    for case in [
        // Bottom 1/2: 79 1/2 + A = drop; the bracket's foot is on the wall from A = 2 1/4.
        Case("Width = 60; Height = 80; Mount = outside; Drop wanted = 81 3/4", "above head = 2 1/4"),
        Case("Width = 60; Height = 80; Mount = outside; Drop wanted = 81 5/8", "held"),
        Case(
            "Width = 60; Height = 80; Mount = outside; Drop wanted = 80",
            "held; asks = stop: with the drop wanted",
        ),
        Case(
            "Width = 60; Height = 80; Mount = outside; Drop wanted = 95; Wall above = 16 1/4",
            "above head = 15 1/2",
        ),
        Case("Width = 60; Height = 80; Mount = outside; Drop wanted = 95; Wall above = 16 3/16", "held"),
        // Inside at most 79 1/2, for `either` too.
        Case(
            "Width = 60; Height = 80; Recess depth = 4; Drop wanted = 79 1/2",
            "mount = inside; drop = 79 1/2",
        ),
        Case("Width = 60; Height = 80; Recess depth = 4; Drop wanted = 79 5/8", "held"),
        Case("Width = 60; Height = 80; Recess depth = 4; Drop wanted = 70 1/16", "drop = 70 1/16"),
    ] {
        check(case);
    }
}

#[test]
fn louvers_stack_wand_and_clear_width_follow_from_the_final_size() {
    for case in [
        // (110 - 3 1/2) / 3 1/8 = 34.08: 35 + 1 = 36 louvers; stack 36 x 3/8 + 3 1/2 = 17;
        // clear 106 - (17 - 2) = 91; wand 84 - 40 = 44, in whole feet 36; front 110 1/2.
        Case(
            "Width = 106; Height = 78; Mount = outside; Opening leaf = right",
            "draw = left; louvers = 36; stack = 17; clear = 91; wand = 36; control side = right; valance = 110 1/2",
        ),
        Case(
            "Width = 106; Height = 78; Mount = outside; Opening leaf = left",
            "draw = right; control side = left; clear = 91",
        ),
        // Split: 36 is even; 18 a side: 6 3/4 + 3 1/2 = 10 1/4; clear 106 - 2 x 8 1/4 = 89 1/2.
        Case(
            "Width = 106; Height = 78; Mount = outside; Draw = split; Opening leaf = both",
            "louvers = 36; stack = 10 1/4; clear = 89 1/2; control side = middle; links = 34",
        ),
        // (66 - 3 1/2) / 3 1/8 = 20 exactly: 21, and 22 for a split draw; a step wider needs one more.
        Case("Width = 62; Height = 78; Mount = outside; Draw = left", "width = 66; louvers = 21; links = 20"),
        Case("Width = 62; Height = 78; Mount = outside; Draw = split", "louvers = 22; links = 20"),
        Case("Width = 62 1/8; Height = 78; Mount = outside; Draw = left", "louvers = 22"),
        // Inside: 59 1/2 wide; (59 1/2 - 3 1/2) / 3 1/8 = 17.92: 19; stack 10 5/8; clear 60 - 10 5/8 - 1/4.
        Case(
            "Width = 60; Height = 80; Recess depth = 4; Draw = left",
            "louvers = 19; stack = 10 5/8; clear = 49 1/8; valance = 59 1/2; return left = 0",
        ),
        // A window whose sill nobody measured: half of 56 is 28, in whole feet 24.
        Case(
            "Kind = window; Width = 36; Height = 48",
            "drop = 56; wand = 24; bracket top above floor = unknown",
        ),
        // 36 louvers of 82 x 3 1/2 in: 0.0889 x 2.0828 = 0.18516092 m2 x 0.28 = 0.0518450576 + 0.072 =
        // 0.1238450576 x 36 = 4.4584220736; rail 2.794 x 0.75 = 2.0955; front 2.8067 x 0.35 = 0.982345.
        Case("Width = 106; Height = 78; Mount = outside", "weight = 7.5362670736; people = 2"),
    ] {
        check(case);
    }
}

#[test]
fn finished_sizes_are_taken_as_they_are() {
    for case in [
        Case(
            "Sizes given are = finished; Width = 60 1/16; Height = 80; Mount = inside; Recess depth = 4",
            "mount = inside; width = 60 1/16; drop = 80; clear = unknown; bracket top above floor = unknown",
        ),
        Case(
            "Sizes given are = finished; Width = 60; Height = 80; Mount = outside",
            "width = 60; overlap left = unknown; see past = unknown; return left = 5",
        ),
        Case("Sizes given are = finished; Width = 60; Height = 80", "held"),
        Case(
            "Sizes given are = finished; Width = 60; Height = 80; Mount = inside; Recess depth = 2",
            "held; asks = too shallow",
        ),
        Case(
            "Sizes given are = finished; Width = 60; Height = 80; Mount = inside; Opens = in",
            "held; asks = would hit an inside blind",
        ),
        Case(
            "Sizes given are = finished; Width = 60; Height = 80; Mount = inside; Drop wanted = 80 1/8",
            "held; asks = the drop wanted is not the given one, 80 in",
        ),
        Case(
            "Sizes given are = finished; Width = 60; Height = 80; Mount = inside; Drop wanted = 79",
            "held; asks = the drop wanted is not the given one",
        ),
        Case(
            "Sizes given are = finished; Width = 60; Height = 80; Mount = outside; Drop wanted = 80",
            "drop = 80; return left = 5",
        ),
        // A side that ends at a wall is closed by it.
        Case(
            "Sizes given are = finished; Width = 60; Height = 80; Mount = outside; Left ends at = wall",
            "return left = 0; return right = 5",
        ),
    ] {
        check(case);
    }
}

#[test]
fn millimeters_round_to_a_millimeter() {
    for case in [
        // 1800 - 12.7 = 1787.3; 2050 - 12.7 = 2037.3.
        Case(
            "Units = mm; Width = 1800; Height = 2050; Recess depth = 100",
            "width = 1787 mm; drop = 2037 mm",
        ),
        // 1800 + 101.6 = 1901.6; 2050 + 152.4 - 12.7 = 2189.7.
        Case("Units = mm; Width = 1800; Height = 2050; Mount = outside", "width = 1901 mm; drop = 2189 mm"),
    ] {
        check(case);
    }
}

#[test]
fn each_doubt_is_asked_on_its_side_of_its_limit_and_not_on_the_other() {
    for case in [
        // Widths may differ by 1/4 in; in an inside opening under 20 sq ft by 1/8. 36 x 79 7/8 in is
        // 19.97 sq ft, 36 x 80 in is 20.
        Case(
            "Width top = 60; Width bottom = 60 1/4; Height = 80; Mount = outside",
            "does not ask = widths differ",
        ),
        Case(
            "Width top = 60; Width bottom = 60 5/16; Height = 80; Mount = outside",
            "asks = check: the measured widths differ by more than 1/4 in",
        ),
        Case(
            "Width top = 36; Width bottom = 36 3/16; Height = 79 7/8; Recess depth = 4",
            "asks = check: the measured widths differ by more than 1/8 in",
        ),
        Case(
            "Width top = 36; Width bottom = 36 1/8; Height = 79 7/8; Recess depth = 4",
            "does not ask = differ",
        ),
        Case(
            "Width top = 36; Width bottom = 36 3/16; Height = 80; Recess depth = 4",
            "does not ask = differ",
        ),
        Case(
            "Width = 60; Height left = 80; Height right = 80 5/16; Mount = outside",
            "asks = check: the measured heights differ by more than 1/4 in",
        ),
        // A lean over the clearance of 1/4 in is a check: 60 in diagonal difference of squares over 240.
        // 100^2 - (99 11/16)^2 = 62.40 leans 0.26; 100^2 - (99 45/64)^2 = 59.29 leans 0.247.
        Case(
            "Width = 60; Height = 80; Mount = outside; Diagonal 1 = 100; Diagonal 2 = 99 11/16",
            "asks = check: the opening is out of square",
        ),
        Case(
            "Width = 60; Height = 80; Mount = outside; Diagonal 1 = 100; Diagonal 2 = 99 45/64",
            "does not ask = out of square",
        ),
        // Of 34 x 46, each 2 in less, the diagonals are 57.2.
        Case(
            "Kind = window; Width = 36; Height = 48; Mount = outside; Diagonal 1 = 57 1/4; Diagonal 2 = 57 1/4",
            "does not ask = the diagonals do not belong",
        ),
        Case(
            "Kind = window; Width = 36; Height = 48; Mount = outside; Diagonal 1 = 57 3/16; Diagonal 2 = 57 3/16",
            "asks = check: the diagonals do not belong",
        ),
        // What no building has is likely in another unit.
        Case("Width = 60; Height = 80; Mount = outside; Recess depth = 24", "does not ask = wrong unit"),
        Case(
            "Width = 60; Height = 80; Mount = outside; Recess depth = 24 1/16",
            "held; asks = stop: recess depth is more than 24 in",
        ),
        Case(
            "Width = 60; Height = 80; Mount = inside; Recess depth = 20; Handle = 8",
            "does not ask = wrong unit",
        ),
        Case(
            "Width = 60; Height = 80; Mount = inside; Recess depth = 20; Handle = 8 1/16",
            "held; asks = handle is more than",
        ),
        Case("Width = 60; Height = 80; Mount = outside; Trim = 3 7/8", "does not ask = wrong unit"),
        Case(
            "Width = 60; Height = 80; Mount = outside; Trim = 4 1/16",
            "held; asks = trim is more than 4 in",
        ),
        Case(
            "Width = 60; Height = 80; Mount = outside; Casing width = 24 1/16",
            "held; asks = casing width is more",
        ),
        Case("Width = 60; Height = 80; Mount = outside; Casing width = 24", "does not ask = wrong unit"),
        Case(
            "Width = 60; Height = 80; First stud = 108 1/16; Stud spacing = 16",
            "asks = first stud is more than",
        ),
        Case("Width = 60; Height = 80; First stud = 108; Stud spacing = 16", "does not ask = wrong unit"),
        Case(
            "Width = 60; Height = 80; First stud = -48 1/16; Stud spacing = 16",
            "asks = first stud is more than",
        ),
        Case(
            "Width = 60; Height = 80; Mount = outside; Board thickness = 4 1/16",
            "held; asks = board thickness is",
        ),
        Case("Width = 60; Height = 80; Mount = outside; Board thickness = 4", "does not ask = wrong unit"),
        Case("Width = 60; Height = 80; Mount = outside; Floor to come = 6", "does not ask = wrong unit"),
        Case(
            "Width = 60; Height = 80; Mount = outside; Floor to come = 6 1/16",
            "held; asks = floor to come is more than 6 in",
        ),
        // Limits of the product: 12 in and 192 in, 12 in and 144 in, all allowed. A size past one is moved
        // to it while the minimum overlaps, or heights, stay: 190 + 2 x 1; 142 + 2 1/2 - 1/2.
        Case("Kind = window; Width = 8; Height = 30; Mount = outside", "width = 12"),
        Case(
            "Kind = window; Width = 7 7/8; Height = 30; Mount = outside",
            "held; asks = stop: finished width is below",
        ),
        Case("Width = 188; Height = 80; Mount = outside", "width = 192"),
        Case(
            "Width = 189 1/2; Height = 80; Mount = outside",
            "width = 192; overlap left = 1 1/4; overlap right = 1 1/4",
        ),
        Case("Width = 190; Height = 80; Mount = outside", "width = 192; overlap left = 1"),
        Case("Width = 190 1/8; Height = 80; Mount = outside", "held; asks = stop: finished width is above"),
        Case("Width = 60; Height = 138 1/2; Mount = outside", "drop = 144; above head = 6"),
        Case("Width = 60; Height = 138 5/8; Mount = outside", "drop = 144; above head = 5 7/8"),
        Case("Width = 60; Height = 142; Mount = outside; Substrate = wood", "drop = 144; above head = 2 1/2"),
        Case(
            "Width = 60; Height = 142 1/8; Mount = outside; Substrate = wood",
            "held; asks = stop: finished drop is above",
        ),
        // Inside, 1/2 in off 192 1/2 is the most; the window reaches down to 1 in off 193.
        Case("Width = 192 1/2; Height = 80; Mount = inside; Recess depth = 4", "width = 192"),
        Case("Width = 193; Height = 80; Mount = inside; Recess depth = 4", "width = 192"),
        Case(
            "Width = 193 1/8; Height = 80; Mount = inside; Recess depth = 4",
            "held; asks = stop: finished width is above",
        ),
        // A door asks for its leaf, its handle and its draw; a window does not.
        Case("Width = 60; Height = 80", "asks = check: opening leaf is blank; asks = check: handle is blank"),
        Case("Width = 60; Height = 80; Opening leaf = left; Handle = 0", "does not ask = is blank on a door"),
        Case("Kind = window; Width = 60; Height = 50", "does not ask = on a door"),
        Case(
            "Width = 60; Height = 80; Opening leaf = both",
            "draw = left; asks = check: opening leaf is both and draw is blank",
        ),
        Case(
            "Width = 60; Height = 80; Opening leaf = left; Draw = left",
            "asks = check: the louvers stack over the opening leaf",
        ),
        Case("Width = 60; Height = 80; Opening leaf = left; Draw = right", "does not ask = stack over"),
        Case(
            "Width = 60; Height = 80; Handle = 1; Recess depth = 6",
            "asks = check: a handle is given, but not what",
        ),
        Case(
            "Width = 60; Height = 80; Handle = 1; Recess depth = 6; Depth to = glass",
            "does not ask = not what",
        ),
        // Not from a tape: provisional inside, a check outside.
        Case(
            "Width = 60; Height = 80; Recess depth = 4; Measured = drawing",
            "release = provisional; asks = check: sizes are marked \"drawing\"",
        ),
        Case(
            "Width = 60; Height = 80; Mount = outside; Measured = rough",
            "release = make; asks = check: sizes are marked \"rough\"",
        ),
        Case(
            "Width = 60; Height = 80; Recess depth = 4; Quantity = 2",
            "asks = check: one measurement is used for several",
        ),
        Case("Width = 60; Height = 80; Mount = outside; Quantity = 2", "does not ask = share"),
        // A leaf that comes in meets the stack unless the stack hangs clear beside the opening:
        // 64 in has 21 louvers, a stack of 11 3/8 in, and 2 in of overlap.
        Case(
            "Width = 60; Height = 80; Opens = in; Draw = left",
            "asks = check: a leaf that opens into the room hits the stack",
        ),
        Case("Width = 60; Height = 80; Opens = out; Draw = left", "does not ask = leaf that opens"),
        Case(
            "Width = 60; Height = 80; Opens = tilt; Mount = outside; Drop wanted = 81 7/8",
            "asks = check: a leaf that opens into the room hits the rail",
        ),
        // Overlap: 1 in is enough; less is a check, or a note where a wall closes it.
        Case("Width = 60; Height = 80; Mount = outside; Wall left = 1 3/8", "does not ask = the overlap on"),
        Case(
            "Width = 60; Height = 80; Mount = outside; Wall left = 1 5/16",
            "asks = check: the overlap on the left",
        ),
        Case(
            "Width = 60; Height = 80; Mount = outside; Wall left = 1 5/16; Left ends at = wall",
            "asks = note: the overlap on the left",
        ),
        Case(
            "Width = 60; Height = 80; Mount = outside; Wall left = 1 5/16; Left ends at = cupboard",
            "asks = check: the overlap on the left",
        ),
        // A stud wall takes wood screws where both lie in the header: at 6 in above the head the
        // screws are 4 3/4 and 5 3/4 up, so 6 1/2 of header is enough and 6 1/4 moves the rail down.
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = stud wall; Header height = 6 1/2",
            "above head = 6; does not ask = no stud or header",
        ),
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = stud wall; Header height = 6 1/4",
            "above head = 5 3/4; does not ask = no stud or header",
        ),
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = stud wall",
            "asks = check: no stud or header",
        ),
        Case("Width = 60; Height = 80; Mount = outside", "asks = check: substrate is unknown"),
        Case("Width = 60; Height = 80; Product = louver-98", "held; asks = stop: no product is called"),
        Case("Width = 60; Height = 80; Product = LOUVER-127", "does not ask = no product is called"),
        Case("Width = 60; Height = 80; Color = mauve", "asks = check: \"mauve\" is not a listed color"),
        Case("Width = 60; Height = 80; Color = White", "does not ask = listed color"),
    ] {
        check(case);
    }
}
