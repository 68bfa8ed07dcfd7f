"""Holds the independent calculation to sizes and loads that were worked by hand.

    python pencil.py

A case is an opening in inches and what must come of it. The figures are common practice, no source.
Prints what differs; exits 1 if anything does.
"""

from __future__ import annotations

import sys
from fractions import Fraction

import order
import questions
import rules
from exact import INCH, inches
from facts import Opening, Project

TEXTS = {"kind", "mount", "substrate", "left_ends_at", "right_ends_at", "surface", "opens", "leaf", "draw", "control",
         "motor_side", "product", "species", "slab", "blocking", "accessible", "escape", "depth_to", "measured"}
HELD = "held"


def length(text: str) -> int:
    return -inches(text[1:]) if text.startswith("-") else inches(text)


def opening(width: str, height: str, **cells) -> Opening:
    o = Opening("pencil", widths=[inches(w) for w in width.split(",")], heights=[inches(h) for h in height.split(",")])
    for name, value in cells.items():
        if name == "diagonals":
            value = [Fraction(side) * INCH for side in value]
        elif name not in TEXTS and isinstance(value, str):
            value = length(value)
        setattr(o, name, value)
    return o


def figure(blind: dict, name: str):
    """A length in inches, a use to two places, anything else as it is."""
    value = blind.get(name)
    if name in ("hung", "pulled", "use"):
        return None if value is None else round(float(value), 2)
    if name in ("from_left", "from_opening_left", "clips"):
        return [float(Fraction(v, INCH)) for v in value]
    is_length = isinstance(value, (int, Fraction)) and name not in ("louvers", "brackets", "fixings", "people", "weight")
    return float(Fraction(value) / INCH) if is_length and not isinstance(value, bool) else value


failures: list[str] = []
passed = 0


def case(what: str, o: Opening, project: Project | None = None, *, asks=(), asks_not=(), **expected) -> None:
    """`held` expects a stop whose reason has these words; other figures by their name in the blind."""
    global passed
    project = project or Project()
    blind = rules.size_opening(o, project)
    stop = expected.pop(HELD, None)
    if stop is not None or blind["state"] == HELD:
        got = blind.get("why")
        if got is None or stop is None or stop not in got:
            failures.append(f"{what}: expected {'a stop, ' + stop if stop else 'no stop'}, got {got or 'none'}")
        passed += 1
        return
    asked = questions.questions(o, project, blind)
    for name in asks:
        expected_to(what, f"asks {name}", True, name in asked)
    for name in asks_not:
        expected_to(what, f"asks {name}", False, name in asked)
    for name, value in expected.items():
        expected_to(what, name, value, figure(blind, name))


def expected_to(what: str, name: str, value, got) -> None:
    global passed
    if value == got:
        passed += 1
    else:
        failures.append(f"{what}: {name}: expected {value}, got {got}")


# --- sizes ----------------------------------------------------------------------------------------

def check_values() -> None:
    case("a door, inside", opening("106", "78", depth="3"), mount="inside", width=105.5, drop=77.5, louver_length=75.75)
    case("the same, shallow", opening("106", "78", depth="1"), mount="outside", width=110, drop=83.5, top_above_floor=84.25)
    case("the same between walls", opening("106", "78", depth="1", wall_left="1 3/8", wall_right="1 3/8"), width=108)
    case("the same, drop wanted", opening("106", "78", depth="1", drop_wanted="84"), top_above_floor=84.75, louver_length=82.5)
    case("a rail of 72", opening("68", "78", mount="outside"), width=72, brackets=3, from_left=[4, 36, 68], people=1)
    case("a rail of 104", opening("100", "78", mount="outside"), from_left=[4, 36, 68, 100], people=2)
    case("a window, outside", opening("36", "48", sill="36", mount="outside"), drop=56, top_above_floor=90.25)


def limits() -> None:
    case("at the greatest width", opening("188", "80", mount="outside"), width=192, overlap_left=2)
    case("past it", opening("189 1/2", "80", mount="outside"), width=192, overlap_left=1.25, overlap_right=1.25)
    case("no least overlap left", opening("190 1/8", "80", mount="outside"), held="limits")
    case("under the least width, walls known", opening("7", "48", mount="outside", wall_left="6", wall_right="6"),
         width=12, overlap_left=2.5)
    case("under the least width, walls blank", opening("7", "48", mount="outside"), held="limits")
    case("past the greatest drop: the rail comes down", opening("60", "139", mount="outside"), drop=144, top_above_head=5.75)
    case("so far that it meets the opening", opening("60", "142 1/8", mount="outside"), held="limits")
    case("inside at the limit", opening("192 3/4", "80", depth="4", mount="inside"), width=192)


def leans() -> None:
    def leaning(by: str, **cells) -> Opening:
        # Diagonals of W + s and W - s give a lean of s.
        return opening("48", "60", diagonals=(48 + Fraction(by), 48 - Fraction(by)), sill="36", **cells)

    case("a lean of a tape's noise", leaning("1/8", depth="4"), width=47.5, from_opening_left=[4.25, 24, 43.75])
    case("a leaning recess is sized narrower by it", leaning("0.48", depth="4"), mount="inside", width=47, lean=0.48,
         asks=("out of square",))
    case("twice the clearance", leaning("1/2", depth="4"), mount="inside", width=47, from_opening_left=[4.25, 23.75, 43.25])
    case("more", leaning("0.52", depth="4"), mount="outside", width=52, asks=("out of square",))
    case("the rail stands at the head, overlaps at half height", leaning("1/2", mount="outside"), overlap_left=2,
         from_opening_left=[1.75, 23.75, 45.75])


def walls_and_overlaps() -> None:
    case("one wall near", opening("60", "80", mount="outside", wall_left="1", left_ends_at="wall"), overlap_left=0.625,
         overlap_right=2, return_left=0, asks=("left closed by wall",))
    case("at the least overlap", opening("60", "80", mount="outside", wall_left="1 3/8", left_ends_at="wall"),
         overlap_left=1, return_left=5, asks_not=("left closed by wall",))


# --- heights --------------------------------------------------------------------------------------

def casings() -> None:
    wall = {"mount": "outside", "substrate": "wood"}
    case("wide trim raises the rail", opening("60", "80", trim="3/4", casing="5", **wall), top_above_head=7.75, mount_on="wall")
    case("narrow trim does not", opening("60", "80", trim="3/4", casing="2 1/2", **wall), top_above_head=6.25)
    case("no wall above a casing of 3: on it", opening("60", "80", trim="3/4", casing="3", wall_above="6", **wall),
         mount_on="casing", top_above_head=2.75, asks=("on the casing",), asks_not=("thin casing",), use=0.43)
    case("enough wall above it", opening("60", "80", trim="3/4", casing="3", wall_above="6 1/4", **wall), mount_on="wall")
    case("a casing under 3", opening("60", "80", trim="3/4", casing="2 7/8", wall_above="6", **wall), held="wall above")
    case("a thin casing", opening("60", "80", trim="9/16", casing="3", wall_above="6", **wall), use=None, asks=("thin casing",))
    case("the reach starts at the casing", opening("60", "80", trim="3", casing="4", wall_above="6", **wall), reach=3,
         return_left=8)


def high_and_low() -> None:
    case("the foot over the opening", opening("60", "80", mount="outside", drop_wanted="81 5/8"), held="foot")
    case("the foot at the opening's edge", opening("60", "80", mount="outside", drop_wanted="81 3/4"), top_above_head=2.5,
         asks=("drop wanted far",))
    case("a wanted drop with the rail 1/2 in above the head", opening("60", "80", mount="outside", drop_wanted="80"), held="foot")
    case("anchors want 2 in of edge", opening("60", "80", mount="outside", substrate="drywall", wall_above="3 7/8"), held="wall above")
    case("and have it", opening("60", "80", mount="outside", substrate="drywall", wall_above="4"), top_above_head=3.5)
    case("a header between", opening("60", "80", mount="outside", substrate="stud wall", header="5", header_offset="2"),
         top_above_head=6.25, asks_not=("header has no place",))
    case("a header low", opening("60", "80", mount="outside", substrate="stud wall", header="5 1/2"), top_above_head=5.25,
         fixing="wood screw 8 x 1 3/4")
    case("a header that is too thin", opening("60", "80", mount="outside", substrate="stud wall", header="2 1/4"),
         top_above_head=6.25, asks=("header has no place", "no stud"), fixing="toggle 1/8")
    case("no header asks nothing", opening("60", "80", mount="outside", substrate="wood", header="0"), asks_not=("header has no place",))


def below() -> None:
    window = {"sill": "36", "mount": "outside"}
    case("a counter that stands out", opening("48", "48", wall_below="1", below_out="15/16", **window), drop=53.5)
    case("louvers pass in front of a thin one", opening("48", "48", wall_below="1", below_out="7/8", **window), drop=56,
         asks_not=("ends above the sill",))


def ceilings() -> None:
    case("a door to 1 1/2 in under a ceiling", opening("106", "78", mount="outside", wall_above="1 1/2"), held="wall above")
    case("hangs from it", opening("106", "78", mount="ceiling", wall_above="1 1/2", substrate="wood"), mount_on="ceiling",
         width=110, drop=79, louver_length=77.25, top_above_floor=79.5, setback=2.125, reach=None, return_left=4.125,
         valance=110.5, asks=("slab unknown",))
    case("a drop wanted ends higher", opening("106", "78", mount="ceiling", wall_above="1 1/2", drop_wanted="70"), top_above_floor=79.5)
    case("no ceiling known", opening("106", "78", mount="ceiling"), held="ceiling")


# --- parts ----------------------------------------------------------------------------------------

def wands() -> None:
    case("never longer than the window", opening("48", "48", sill="48", depth="4"), wand=36)
    case("40 in above the floor", opening("48", "80", mount="outside"), wand=36)
    case("3 in above the bottom, though higher", opening("48", "36", sill="30", depth="4"), wand=24, drop=35.5)
    case("too short for any", opening("48", "14 1/2", sill="60", depth="4"), wand=12, asks=("wand near the bottom",))
    case("unknown sill: half the drop", opening("48", "60", depth="4"), wand=24, drop=59.5)
    case("accessible: from 48 in", opening("48", "60", sill="36", depth="4", accessible="yes"), wand=48)
    case("past a deep counter a seated hand reaches 44 in", opening("48", "72", sill="24", depth="4", accessible="yes",
                                                                   below_out="20 1/8"), wand=60)
    case("a counter of 20 in", opening("48", "72", sill="24", depth="4", accessible="yes", below_out="20"), wand=48)
    case("metric steps", opening("48", "48", sill="48", depth="4"), Project(unit="mm", step=1_000_000),
         wand=float(Fraction(900, 1) / Fraction("25.4")))
    case("out of reach", opening("36", "24", sill="72", depth="4"), wand=12, asks=("wand out of reach",))


def people() -> None:
    case("up high with a long rail", opening("69", "60", sill="54", mount="outside"), top_above_floor=120.25, people=2)
    case("up high with a short one", opening("68", "60", sill="54", mount="outside"), people=1)
    case("a motor has its side", opening("48", "60", depth="4", control="motor", motor_side="left"), wand=None, control_side="left",
         asks=("motor supply",), asks_not=("motor side blank",))


# --- loads ----------------------------------------------------------------------------------------

def held_up() -> None:
    board = {"mount": "outside", "substrate": "drywall", "trim": "3"}
    case("a door on toggles", opening("106", "78", **board), reach=6, brackets=5, hung=0.88, pulled=1.56, use=1.56,
         fixing="toggle 1/8", asks=("pulled off", "no stud"), asks_not=("too heavy",))
    case("a wide one gets a seventh bracket", opening("140", "84", **board), brackets=7, hung=0.73, fixings=14,
         from_left=[4, 16.75, 31.2, 58.4, 85.6, 112.8, 140])
    case("in a 2 x 8 header", opening("140", "84", **{**board, "substrate": "stud wall", "header": "7 1/4"}), brackets=6,
         use=0.65, fixing="wood screw 8 x 1 3/4")
    case("in PVC it is not let hang", opening("140", "120", **board, product="pvc-89"), with_pvc(), held="hollow")
    case("board too thick", opening("60", "80", mount="outside", substrate="stud wall", blocking="yes", board_layers=2,
                                    board_thickness="3/4"), fixing=None, asks=("no fixing long enough",))
    case("a longer screw through two boards", opening("60", "80", mount="outside", substrate="stud wall", blocking="yes",
                                                      board_layers=2, board_thickness="5/8"), fixing="wood screw 10 x 2 1/2")
    case("an anchor without a figure", opening("60", "80", mount="outside", substrate="concrete"), use=None,
         asks=("capacity unknown",))


def on_studs() -> None:
    wall = {"mount": "outside", "substrate": "stud wall", "stud_spacing": "16"}
    # A rail of 104, its left end 2 in left of the opening: studs from the opening at 1, 17, 33 ... are at 3, 19, 35 ...
    case("every bracket on a stud", opening("100", "80", first_stud="1", **wall), from_left=[3, 35, 67, 99], fixing_also=None,
         fixing="wood screw 8 x 1 3/4", asks_not=("end without stud", "no stud"))
    case("an end without one", opening("100", "80", first_stud="-9", **wall), from_left=[9, 41, 73, 100], fixing_also="toggle 1/8",
         asks=("end without stud",))
    case("a grid of nothing is none", opening("100", "80", first_stud="1", **{**wall, "stud_spacing": 0}), fixing="toggle 1/8",
         asks=("no stud",))
    case("blocking takes screws anywhere", opening("100", "80", first_stud="1", blocking="yes", **wall), from_left=[4, 36, 68, 100])


def with_pvc() -> Project:
    import lists
    project = Project()
    base = lists.PRODUCTS["louver-89"]
    project.products["pvc-89"] = lists.Product("pvc-89", base.louver, base.pitch, "pvc-89")
    return project


def orders() -> None:
    """Pieces of PVC have no hem; spare louvers have what hangs them."""
    project = with_pvc()
    project.basis = "make"
    o = opening("48", "60", depth="4", product="pvc-89", substrate="wood")
    rows = [(o, rules.size_opening(o, project))]
    lines = order.group(rows)
    blind = rows[0][1]
    expected_to("PVC louvers", "cut as long as ordered", {blind["louver_length"]}, set(order.pieces(lines, project)["pvc-89", "white"]))
    items = order.items(rows, lines, project)
    expected_to("spare louvers", "carriers", 2, items["carrier"].spare)
    expected_to("packers", "one a bracket", blind["brackets"], items["packer"].needed)


def safety() -> None:
    window = {"sill": "36", "mount": "inside", "depth": "4", "escape": "yes", "escape_height": "40"}
    case("an escape window", opening("48", "60", escape_width="19 1/8", **window), asks=("escape too small",))
    case("a wide enough one", opening("48", "60", escape_width="24", **window), asks_not=("escape too small",))
    case("a tensioned slab", opening("48", "60", depth="4", substrate="concrete", slab="tensioned"), held="slab")


def main() -> int:
    for group in (check_values, limits, leans, walls_and_overlaps, casings, high_and_low, below, ceilings, wands, people,
                  held_up, on_studs, orders, safety):
        group()
    for failure in failures:
        print(failure)
    print(f"{passed} passed, {len(failures)} failed")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
