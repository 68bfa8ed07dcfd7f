//! What holds a blind: where its brackets are, what their screws go into, and how hard they work. Expected
//! numbers are worked by hand from statics (continuous beam, lever), ANSI/AWC NDS-2018 12.2.2, AISI S100-16
//! J4.4.1 and working loads; sizes of a wall, a casing and a ceiling are common practice, no source.

use crate::support::opening::{Case, check};

#[test]
fn a_casing_is_cleared_or_carries_the_brackets() {
    for case in [
        // The bracket's foot is 2 1/4 in below the rail's top, and 1/4 in clear of the casing.
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = wood; Casing width = 3",
            "above head = 6",
        ),
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = wood; Casing width = 4",
            "above head = 6 1/2; drop = 86; on = wall; drops = 86 to 91 1/2",
        ),
        // 6 3/4 of wall leaves 6 for a casing of 3 1/2; 1/16 less, and the rail goes on the casing.
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = wood; Casing width = 3 1/2; Wall above = 6 3/4",
            "above head = 6; on = wall",
        ),
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = wood; Casing width = 3 1/2; Wall above = 6 11/16",
            "above head = 3; on = casing; drops = 82 to 82 1/2; asks = check: the brackets go on the casing",
        ),
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = wood; Casing width = 3; Wall above = 6 3/16",
            "above head = 2 1/2; on = casing",
        ),
        // Less than 3 in of casing carries no bracket.
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = wood; Casing width = 2 15/16; Wall above = 6 1/8",
            "held; asks = stop: not enough wall above the opening for an outside mount: 6 3/16 in is needed",
        ),
        // A wide casing without a known wall above: 10 + 2 1/2 is over the most of 12.
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = wood; Casing width = 10",
            "above head = 9 1/2; on = casing",
        ),
        // From the wall 1 3/4 + 3/8 + 1 asks for 4 1/2; from the casing 2 1/8 for 3, and returns 1 in longer.
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = wood; Trim = 1; Casing width = 3; Wall above = 8",
            "on = wall; reach = 4 1/2; return left = 6 1/2",
        ),
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = wood; Trim = 1; Casing width = 3; Wall above = 6",
            "on = casing; reach = 3; return left = 6",
        ),
        // Into the casing, whatever the wall: 5/8 in of thread hold 82.45 x 5/8 x 0.9 = 46.4 lbf, and 9.15 are
        // pulled with 3 in over 2. Into a thinner one nobody knows.
        // Where the wall has no room, only how far the bracket reaches from the casing counts.
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = wood; Trim = 3/4; Handle = 3 3/4; Casing width = 3 1/2; \
             Wall above = 6",
            "on = casing; above head = 3; reach = 6",
        ),
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = wood; Trim = 3/4; Handle = 3 3/4; Casing width = 3 1/2",
            "held; asks = stop: no bracket reaches far enough",
        ),
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = masonry; Trim = 5/8; Casing width = 3; Wall above = 6",
            "on = casing; fixing = wood screw 8 x 1 1/2; hung = 0.197; does not ask = only be nailed",
        ),
        // With a header behind, the screw goes on into that: 5/8 and what is left of 1 1/2 - 1/16 - 5/8 - 1/2.
        // A lintel is none.
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = stud wall; Trim = 5/8; Casing width = 3; Wall above = 6; \
             Header height = 8",
            "on = casing; above head = 2 1/2; fixing = wood screw 8 x 1 1/2; hung = 0.131",
        ),
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = masonry; Trim = 5/8; Casing width = 3; Wall above = 6; \
             Header height = 8",
            "on = casing; above head = 2 1/2; fixing = wood screw 8 x 1 1/2; hung = 0.197",
        ),
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = masonry; Trim = 9/16; Casing width = 3; Wall above = 6",
            "on = casing; fixing = wood screw 8 x 1 1/2; hung = unknown; asks = check: the brackets go on a casing that",
        ),
        Case(
            "Width = 60; Height = 80; Mount = outside; Trim = 1",
            "asks = check: a casing projects from the wall",
        ),
        Case("Width = 60; Height = 80; Mount = outside; Trim = 0", "does not ask = a casing projects"),
        // With a drop wanted: 80 1/2 - 1 + A; on a casing of 4 in from 2 1/2 to 3 1/2, on the wall from 6 1/2.
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = wood; Casing width = 4; Drop wanted = 82 1/2",
            "above head = 3; on = casing",
        ),
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = wood; Casing width = 4; Drop wanted = 84",
            "held; asks = stop: with the drop wanted, the rail is not between",
        ),
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = wood; Casing width = 4; Drop wanted = 86",
            "above head = 6 1/2; on = wall",
        ),
    ] {
        check(case);
    }
}

#[test]
fn a_leaning_opening_takes_a_narrower_blind_and_shifts_its_brackets() {
    // (D1 - D2)(D1 + D2) / 4 W: 0.72 x 128 / 192 = 0.48 in; 0.18 x 128 / 192 = 0.12 in.
    for case in [
        Case(
            "Kind = window; Width = 48; Height = 42; Recess depth = 4; Substrate = wood; Diagonal 1 = 64.36; Diagonal 2 = 63.64",
            "mount = inside; width = 47; widths = 46 5/8 to 47; from opening = 4.26, 23.76, 43.26; asks = out of square",
        ),
        Case(
            "Kind = window; Width = 48; Height = 42; Recess depth = 4; Substrate = wood; Diagonal 1 = 63.64; Diagonal 2 = 64.36",
            "width = 47; from opening = 4.74, 24.24, 43.74",
        ),
        Case(
            "Kind = window; Width = 48; Height = 42; Recess depth = 4; Substrate = wood; Diagonal 1 = 64.09; Diagonal 2 = 63.91",
            "width = 47 1/2; lean = 0.12; does not ask = out of square",
        ),
        // 0.75 x 128 / 192 = 0.5 in: both clearances, to the nanometer.
        Case(
            "Kind = window; Width = 48; Height = 42; Recess depth = 4; Substrate = wood; Diagonal 1 = 64 3/8; Diagonal 2 = 63 5/8",
            "mount = inside; lean = 1/2",
        ),
        // 0.78 x 128 / 192 = 0.52: over both clearances.
        Case(
            "Kind = window; Width = 48; Height = 42; Recess depth = 4; Diagonal 1 = 64.39; Diagonal 2 = 63.61",
            "mount = outside; asks = overlap at the foot 1.48 in",
        ),
        Case(
            "Kind = window; Width = 48; Height = 42; Mount = inside; Recess depth = 4; Diagonal 1 = 64.39; Diagonal 2 = 63.61",
            "held",
        ),
    ] {
        check(case);
    }
}

#[test]
fn walls_that_are_known_let_a_wider_blind_in_and_what_stands_out_below_counts() {
    for case in [
        Case("Width = 60; Height = 80; Mount = outside", "widths = 62 to 64"),
        Case(
            "Width = 60; Height = 80; Mount = outside; Wall left = 5; Wall right = 4 3/8",
            "widths = 62 to 68",
        ),
        Case(
            "Width = 60; Height = 80; Mount = outside; Wall left = 3 3/8; Wall right = 9",
            "widths = 62 to 67",
        ),
        // Reach 3 in less 1 3/4 and 3/8: louvers pass in front of 7/8 in.
        Case("Kind = window; Width = 36; Height = 48; Wall below = 1; Below stands out = 7/8", "drop = 56"),
        Case(
            "Kind = window; Width = 36; Height = 48; Wall below = 1; Below stands out = 15/16",
            "drop = 53 1/2",
        ),
        Case("Kind = window; Width = 36; Height = 48; Wall below = 1", "drop = 53 1/2"),
    ] {
        check(case);
    }
}

#[test]
fn a_blind_hangs_from_the_ceiling_where_it_is_asked_for() {
    for case in [
        // Up to the ceiling 10 in over the head: 80 + 10 - 1/2; louvers 1 3/4 in shorter.
        Case(
            "Width = 60; Height = 80; Mount = ceiling; Substrate = wood; Slab = cleared; Wall above = 10",
            "mount = ceiling; on = ceiling; drop = 89 1/2; louver length = 87 3/4; reach = unknown; setback = 2 1/8; \
             valance = 64 1/2; return left = 4 1/8; width = 64; overlap left = 2; drops = 89 1/2 to 89 1/2",
        ),
        // 80 + 10 - 88 = 2: 1 1/2 in over where it could end.
        Case(
            "Width = 60; Height = 80; Mount = ceiling; Substrate = wood; Slab = cleared; Wall above = 10; Drop wanted = 88",
            "drop = 88; asks = the blind ends higher than it could (1 1/2 in)",
        ),
        // A door to 1 1/2 in under a ceiling has no wall for a bracket.
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = wood; Wall above = 1 1/2",
            "held; asks = stop: not enough wall above",
        ),
        Case(
            "Width = 60; Height = 80; Mount = ceiling; Substrate = wood; Slab = cleared; Wall above = 1 1/2",
            "mount = ceiling; drop = 81",
        ),
        Case(
            "Width = 60; Height = 80; Mount = ceiling; Slab = cleared",
            "held; asks = stop: a ceiling mount",
        ),
        Case(
            "Ceiling height = 96; Width = 60; Height = 80; Mount = ceiling; Slab = cleared; Substrate = wood",
            "drop = 95 1/2",
        ),
        Case("Width = 60; Height = 80; Mount = either; Wall above = 1 1/2; Slab = cleared", "held"),
        Case(
            "Width = 60; Height = 80; Mount = ceiling; Wall above = 10; Slab = tensioned; Substrate = concrete",
            "held; asks = stop: the slab is tensioned",
        ),
        Case(
            "Width = 60; Height = 80; Mount = ceiling; Wall above = 10; Substrate = wood",
            "mount = ceiling; asks = check: screws go up into a ceiling or concrete",
        ),
    ] {
        check(case);
    }
}

#[test]
fn brackets_work_as_hard_as_statics_says() {
    for case in [
        // 5 brackets of 6 in: 7.8 lbf on the first, x 3 of prying, of 30 lbf; with 100 N more, of twice that.
        Case(
            "Width = 106; Height = 78; Mount = outside; Trim = 2 1/2; Casing width = 2; Substrate = drywall; Draw = right",
            "brackets = 5; reach = 6; fixing = toggle 1/8; fixings = 10; hung = 0.876; pulled = 1.562; \
             asks = check: the fixing holds this blind, but not a pull on it",
        ),
        // Six are over their load, 1.06; the seventh beside the stack, 20 3/4 - 4 in from the end, brings 0.73.
        Case(
            "Width = 140; Height = 84; Mount = outside; Trim = 3; Casing width = 2; Substrate = drywall; Draw = left",
            "brackets = 7; centers = 4, 16 3/4, 31.2, 58.4, 85.6, 112.8, 140; hung = 0.726; pulled = 1.487; \
             clips = 6, 18 3/4, 33.2, 60.4, 83.6, 110.8, 138",
        ),
        // The same into a 2x8 header (7 1/4 in, PS 20): the screw through 1/2 in of board.
        Case(
            "Width = 140; Height = 84; Mount = outside; Trim = 3; Casing width = 2; Substrate = stud wall; \
             Header height = 7 1/4; Draw = left",
            "brackets = 6; fixing = wood screw 8 x 1 3/4; hung = 0.368; pulled = 0.645",
        ),
        // 21 louvers of 125 g at 5.69 in from the end: 0.940 of them on the first of three, and 3/16 of the rest.
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = wood; Draw = left",
            "brackets = 3; fixing = wood screw 8 x 1 1/2; reaction = 27.5; hung = 0.125; pulled = 0.326",
        ),
        // Up into a head each of the two screws takes half; of plugs 2 in apart at the least one counts.
        Case(
            "Width = 60; Height = 80; Recess depth = 6; Substrate = wood; Draw = left",
            "mount = inside; fixing = wood screw 8 x 1 1/2; hung = 0.037",
        ),
    ] {
        check(case);
    }
}

#[test]
fn screws_go_through_the_board_into_what_is_behind() {
    for case in [
        // 1/16 + 1/2 + 6 x 0.164 = 1.547 in: the screw of 1 3/4.
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = stud wall; Header height = 8",
            "fixing = wood screw 8 x 1 3/4",
        ),
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = stud wall; Header height = 8; Board layers = 0",
            "fixing = wood screw 8 x 1 1/2",
        ),
        // 1/16 + 2 x 5/8 + 6 x 0.190 = 2.453 in.
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = stud wall; Header height = 8; Board layers = 2; Board thickness = 5/8",
            "fixing = wood screw 10 x 2 1/2",
        ),
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = stud wall; Header height = 8; Board layers = 2; Board thickness = 11/16",
            "fixing = not chosen; hung = unknown; asks = check: every listed fixing is too short",
        ),
        // One layer of 1 1/4 if nobody says how many: 1/16 + 1 1/4 + 6 x 0.190 = 2.453 in.
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = stud wall; Header height = 8; Board thickness = 1 1/4",
            "fixing = wood screw 10 x 2 1/2",
        ),
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = stud wall; Blocking = yes",
            "fixing = wood screw 8 x 1 3/4; does not ask = no stud or header",
        ),
        // A header of 0 is none.
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = stud wall; Header height = 0",
            "fixing = toggle 1/8; does not ask = the header cannot take",
        ),
        // Where a header would start says nothing of the board without one, nor of a ceiling.
        Case(
            "Width = 60; Height = 80; Recess depth = 6; Substrate = stud wall; Header offset = 2",
            "mount = inside; fixing = wood screw 8 x 1 3/4",
        ),
        Case(
            "Width = 60; Height = 80; Mount = ceiling; Substrate = stud wall; Slab = cleared; Wall above = 10; \
             Header height = 8; Header offset = 2",
            "mount = ceiling; fixing = wood screw 8 x 1 3/4",
        ),
        // Behind 1/4 in of board in the head of a recess.
        Case(
            "Width = 60; Height = 80; Recess depth = 6; Substrate = stud wall; Header height = 8; Header offset = 1/4",
            "fixing = wood screw 8 x 1 1/2; does not ask = taken to be framed",
        ),
        Case(
            "Width = 60; Height = 80; Recess depth = 6; Substrate = drywall",
            "fixing = wood screw 8 x 1 3/4; asks = check: nothing says whether wood or steel",
        ),
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = masonry; Header height = 8",
            "fixing = concrete screw 1/4 x 1 3/4; asks = check: the screws go into a lintel",
        ),
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = masonry",
            "fixing = plug and screw 8 x 1 1/2; hung = unknown; asks = check: nothing says what a plug and screw",
        ),
        // Southern Pine holds (0.55 / 0.42) squared as much; 18 mil less than 33.
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = wood; Species = Southern Pine; Draw = left",
            "hung = 0.073",
        ),
        Case("Width = 60; Height = 80; Mount = outside; Substrate = wood; Draw = left", "hung = 0.125"),
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = steel; Steel thickness = 18 mil; Draw = left",
            "hung = 0.236",
        ),
        Case("Width = 60; Height = 80; Mount = outside; Substrate = steel; Draw = left", "hung = 0.128"),
    ] {
        check(case);
    }
}

#[test]
fn brackets_stand_on_studs_that_are_known() {
    for case in [
        // A rail of 64 in from 2 in left of the opening: studs at 4, 20, 36, 52 of it.
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = stud wall; Stud spacing = 16; First stud = 2",
            "centers = 4, 36, 52; from opening = 2, 34, 50; clips = 6, 34, 50; fixing = wood screw 8 x 1 3/4; also = none",
        ),
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = stud wall; Stud spacing = 16; First stud = -46",
            "from opening = 2, 34, 50",
        ),
        // The right end has none from 1 1/2 to 12 in from it.
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = stud wall; Stud spacing = 24; First stud = 1",
            "centers = 3, 27, 60; fixing = wood screw 8 x 1 3/4; fixings = 6; also = 2 toggle 1/8; \
             asks = check: no stud is near an end",
        ),
        // A stud that both ends would take goes to the nearer one.
        Case(
            "Kind = window; Width = 9; Height = 40; Mount = outside; Substrate = stud wall; Stud spacing = 16; First stud = 4",
            "centers = 6, 9 3/4; asks = check: no stud is near an end",
        ),
        // The same a stud's inch farther right: it is nearer to the right end.
        Case(
            "Kind = window; Width = 9; Height = 40; Mount = outside; Substrate = stud wall; Stud spacing = 16; First stud = 5",
            "centers = 3 1/4, 7; asks = check: no stud is near an end",
        ),
        // A rail of 12 1/2 in whose one stud is 1 in from its right end: the left bracket would be right of the right one.
        Case(
            "Kind = window; Width = 8 1/2; Height = 40; Mount = outside; Substrate = stud wall; Stud spacing = 16; First stud = 9 1/2",
            "centers = 3 1/8, 9 3/8; asks = check: no stud is near an end",
        ),
        // Studs farther apart than a span may be, behind a rail whose place is no whole nanometer: each is taken once.
        Case(
            "Width = 102 1/4; Height = 79; Diagonal 1 = 129 3/16; Diagonal 2 = 128 15/16; Mount = outside; \
             Substrate = stud wall; Stud spacing = 40; First stud = 12",
            "centers = 4, 14.0788891, 54.0788891, 94.0788891, 102 1/4; asks = check: the studs are so far apart",
        ),
        // A spacing of 0 is no spacing: the studs are not used.
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = stud wall; Stud spacing = 0; First stud = 2",
            "fixing = toggle 1/8; asks = check: no wall has studs at that spacing; asks = check: no stud or header",
        ),
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = stud wall; Stud spacing = 16",
            "asks = check: stud spacing and first stud are not both given",
        ),
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = steel; Stud spacing = 16; First stud = 2",
            "centers = 4, 36, 52; fixing = steel-stud screw 8 x 1 5/8; does not ask = no stud, track or header",
        ),
        // The header goes before the studs.
        Case(
            "Width = 60; Height = 80; Mount = outside; Substrate = stud wall; Stud spacing = 16; First stud = 2; Header height = 8",
            "centers = 4, 32, 60; also = none",
        ),
        // Inside, studs do not serve.
        Case(
            "Width = 60; Height = 80; Recess depth = 6; Substrate = stud wall; Stud spacing = 16; First stud = 2",
            "mount = inside; centers = 4, 29 3/4, 55 1/2",
        ),
    ] {
        check(case);
    }
}

#[test]
fn two_people_lift_what_is_long_heavy_or_high() {
    for case in [
        Case("Kind = window; Width = 69; Height = 48; Mount = outside; Sill height = 65 3/4", "people = 2"),
        Case("Kind = window; Width = 69; Height = 48; Mount = outside; Sill height = 65 11/16", "people = 1"),
        Case("Kind = window; Width = 68; Height = 48; Mount = outside; Sill height = 80", "people = 1"),
    ] {
        check(case);
    }
}
