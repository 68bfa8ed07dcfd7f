"""Holds the sums of this calculation to figures that were published, and its beam to a second way of solving it.

    python published.py

Prints what differs; exits 1 if anything does. Sources are beside the figures.
"""

from __future__ import annotations

import random
import sys
from fractions import Fraction

import grips
import loads
import questions
from exact import INCH, inches
from lists import FIXINGS, GRAVITY, POUND, POUND_FORCE, Fixing
from lists import Capacity, SCREW
from parts import OBSTRUCTION, REACH_HIGH, REACH_LOW, REACH_OVER

failures: list[str] = []
passed = 0


def near(what: str, expected: str, got, within: str = "0") -> None:
    """`within` 0: to the last digit that is printed."""
    global passed
    digits = len(expected.partition(".")[2])
    allowed = Fraction(within) or Fraction(1, 2 * 10**digits)
    if abs(Fraction(expected) - Fraction(got)) <= allowed:
        passed += 1
    else:
        failures.append(f"{what}: expected {expected}, got {float(got)}")


def holds(what: str, fact: bool) -> None:
    near(what, "1", int(fact), "0.5")


def number(size: int) -> Fraction:
    """The diameter of a numbered screw: ASME B18.6.1, 0.060 in and 0.013 in a number."""
    return Fraction("0.060") + Fraction("0.013") * size


def units() -> None:
    """NIST SP 811, appendix B.8."""
    near("5 lbf in N", "22.2411", 5 * POUND_FORCE)
    for newtons, pounds in ((35, "7.868"), (70, "15.737"), (90, "20.233")):
        near(f"{newtons} N in lbf", pounds, newtons / POUND_FORCE)
    near("9.6 kg in lb", "21.164", Fraction("9.6") / POUND)


def screws() -> None:
    """Diameters of ASME B18.6.1; withdrawal of ANSI/AWC NDS-2018 12.2.2 and of the Wood Handbook (FPL-GTR-282)."""
    for size, diameter in ((6, "0.138"), (8, "0.164"), (10, "0.190"), (12, "0.216"), (14, "0.242")):
        near(f"screw number {size}", diameter, number(size))
    for fixing in FIXINGS:
        if fixing.substrate == "wood":
            holds(f"{fixing.name} is a numbered screw", fixing.diameter == number(int(fixing.name.split()[2])))
    fir, larch, eight = Fraction("0.42"), Fraction("0.50"), number(8)
    near("withdrawal of 8 in spruce-pine-fir", "82.45", grips.wood_screw_withdrawal(fir, eight))
    permanent = grips.wood_screw_withdrawal(fir, eight) * grips.SUSTAINED
    near("the same for good, lbf", "74.20", permanent)
    near("the same for good, N", "330.1", permanent * POUND_FORCE)
    near("the same for ten minutes", "131.9", grips.wood_screw_withdrawal(fir, eight) * grips.TEN_MINUTES)
    near("withdrawal of 8 in douglas fir-larch for good", "105.165", grips.wood_screw_withdrawal(larch, eight) * grips.SUSTAINED)
    # The page that prints 109 for this one truncated it.
    near("withdrawal of 10 at 0.45", "109.65", grips.wood_screw_withdrawal(Fraction("0.45"), number(10)))
    ultimate = 15_700 * larch**2 * eight
    near("Wood Handbook, equation 8-10, lbf", "643.7", ultimate)
    near("the same in metric, N", "2863", Fraction("108.25") * larch**2 * eight * Fraction("25.4") ** 2, "1")
    near("Wood Handbook over NDS", "5.509", ultimate / grips.wood_screw_withdrawal(larch, eight))


def lag_screws() -> None:
    """ANSI/AWC NDS-2018, table 12.2A: pounds an inch of thread."""
    table = {"1/4": {".67": 349, ".58": 281, ".55": 260, ".51": 232, ".50": 225, ".47": 205, ".42": 173, ".41": 167,
                     ".40": 161, ".36": 137, ".35": 132},
             "5/16": {".50": 266, ".42": 205}, "3/8": {".55": 352, ".50": 305, ".43": 243, ".42": 235},
             "1/2": {".55": 437, ".50": 378, ".42": 291}}
    for diameter, row in table.items():
        for gravity, printed in row.items():
            got = grips.lag_screw_withdrawal(Fraction(gravity), Fraction(diameter))
            near(f"lag screw {diameter} at {gravity}", str(printed), got)


def through_board() -> None:
    """Six diameters in wood with the tip (ANSI/AWC NDS-2018, table 12L): what a screw must be long, in millimeters."""
    metal = Fraction("1.5")
    for board, lengths in ((Fraction("12.7"), ("35.23", "39.19", "43.16")), (Fraction("31.75"), ("54.28", "58.24", "62.21"))):
        for size, length in zip((6, 8, 10), lengths):
            near(f"number {size} through {float(board)} mm", length, board + metal + 6 * number(size) * Fraction("25.4"), "0.01")
    stud = grips.Place("wood", inches("1/2"))

    def screw(length: str) -> Fixing:
        return Fixing("screw", "wood", SCREW, 1, None, number(8), inches(length), inches(length))

    holds("1 1/4 in of number 8 is too short through 1/2 in of board", not stud.takes(screw("1 1/4")))
    holds("1 5/8 in of number 8 is long enough", stud.takes(screw("1 5/8")))
    # A cable in a bored stud lies 1 1/4 in deep: NFPA 70, 300.4(A)(1).
    holds("1 5/8 in of number 8 stays short of a cable", inches("1 5/8") - inches("1/2") < inches("1 1/4"))


def steel() -> None:
    """AISI S100 pull-out, ASD; coefficient, safety factor and thicknesses from memory."""
    for size, mil, strength, nominal, allowed in (
            (8, 33, 45_000, "217.0", "72.3"), (10, 33, 45_000, "251.5", "83.8"), (8, 18, 45_000, "117.9", "39.3"),
            (10, 43, 45_000, "327.8", "109.3"), (10, 54, 65_000, "594.2", "198.1")):
        pounds = grips.steel_pull_out(grips.STEEL_THICKNESS[mil], number(size), strength)
        near(f"number {size} in {mil} mil", nominal, pounds, "0.1")
        near(f"number {size} in {mil} mil, allowed", allowed, pounds / grips.STEEL_SAFETY, "0.1")


def hollow_walls() -> None:
    """A quarter of what breaks an anchor is its working load (general practice, issuing body not confirmed)."""
    near("200 lbf to break, lbf", "50", Fraction(200, grips.HOLLOW_FACTOR))
    near("200 lbf to break, N", "222.4", 200 * POUND_FORCE / grips.HOLLOW_FACTOR)
    toggle = next(fixing for fixing in FIXINGS if fixing.substrate == "drywall")
    for_good, for_seconds = grips.Place("drywall").capacities(toggle)
    near("what a toggle may carry for seconds", "2", for_seconds / for_good)


def brackets() -> None:
    """Continuous beams of equal spans: any table of beams."""
    weight = Fraction("9.6") * GRAVITY
    for parts_of_all in ((Fraction(1, 2),) * 2, (Fraction(3, 16), Fraction(5, 8), Fraction(3, 16)),
                         (Fraction(2, 15), Fraction(11, 30), Fraction(11, 30), Fraction(2, 15))):
        even = loads.shares([Fraction(i) for i in range(len(parts_of_all))])
        holds(f"{len(parts_of_all)} supports", tuple(even) == parts_of_all)
    near("9.6 kg on three, middle", "58.84", weight * Fraction(5, 8))
    near("9.6 kg on three, ends", "17.65", weight * Fraction(3, 16))
    near("9.6 kg on four, inner", "34.52", weight * Fraction(11, 30))
    near("9.6 kg on four, outer", "12.55", weight * Fraction(2, 15))
    # Pried off a wall: 89 mm out, 25 mm between screw and foot, in the wood screw's capacity above.
    pulled = weight * Fraction(5, 8) * 89 / 25
    near("top screw of the middle one, N", "209.5", pulled)
    near("top screw of the middle one, lbf", "47.09", pulled / POUND_FORCE)
    near("its use", "0.635", pulled / (Fraction("74.20") * POUND_FORCE))
    # Stacked: a rail of 1829 mm on brackets at 100 and 1729, louvers 145 mm from the end.
    load = loads.Load(1829, Fraction(1), Fraction(0), 290, ("left",))
    on = loads.stacked_on(load, [Fraction(100), Fraction(1729)])
    near("stacked, near bracket", "0.9724", on[0])
    near("stacked, far bracket", "0.0276", on[1])


def stiffness_shares(centers: list[Fraction]) -> list[Fraction]:
    """The same beam by its stiffness: turns at the supports from 4/l and 2/l, then the reactions."""
    count = len(centers)
    spans = [right - left for left, right in zip(centers, centers[1:])]
    rows = [[Fraction(0)] * (count + 1) for _ in centers]
    for i, length in enumerate(spans):
        for a, b in ((i, i + 1), (i + 1, i)):
            rows[a][a] += 4 / length
            rows[a][b] += 2 / length
        rows[i][count] -= length**2 / 12
        rows[i + 1][count] += length**2 / 12
    for i in range(count):
        pivot = rows[i][i]
        rows[i] = [value / pivot for value in rows[i]]
        for j in range(count):
            if j != i:
                rows[j] = [value - rows[j][i] * own for value, own in zip(rows[j], rows[i])]
    turns = [row[count] for row in rows]
    at = [Fraction(0)] * count
    for i, length in enumerate(spans):
        bent = 6 * (turns[i] + turns[i + 1]) / length**2
        at[i] += length / 2 + bent
        at[i + 1] += length / 2 - bent
    return [part / sum(spans) for part in at]


def beams() -> None:
    """Three moments against stiffness, for 2 to 8 supports, equal spans and others."""
    chance = random.Random(7)
    for count in range(2, 9):
        for spans in [[Fraction(1)] * (count - 1)] + [[Fraction(chance.randint(1, 40), 4) for _ in range(count - 1)] for _ in range(20)]:
            centers = [sum(spans[:i], Fraction(0)) for i in range(count)]
            got = loads.shares(centers)
            holds(f"beam over {[float(c) for c in centers]}", got == stiffness_shares(centers))
            holds(f"beam over {[float(c) for c in centers]}: all of the load", sum(got) == 1)


def lumber() -> None:
    """American Softwood Lumber Standard PS 20, table 3, dressed dry: a header is solid for as much above an opening."""
    for nominal, dressed in ((4, "3 1/2"), (6, "5 1/2"), (8, "7 1/4"), (10, "9 1/4"), (12, "11 1/4")):
        less = inches("1/2") if nominal < 8 else inches("3/4")
        holds(f"2 x {nominal}", nominal * INCH - less == inches(dressed))


def access() -> None:
    """2010 ADA Standards, 308.2.1, 308.2.2, 404.2.3."""
    holds("reach", (REACH_LOW, REACH_HIGH, REACH_OVER, OBSTRUCTION) == tuple(map(inches, ("15", "48", "44", "20"))))
    holds("door", questions.DOOR_CLEAR == inches("32"))


def escape() -> None:
    """International Residential Code R310.2: both least sides together are too small."""
    square_foot = 144 * INCH * INCH
    for width, height, area, passes in (("20", "24", "3.33", False), ("30", "26 1/2", "5.52", False), ("31", "26 1/2", "5.705", True)):
        found = inches(width) * inches(height)
        near(f"{width} x {height} in, square feet", area, Fraction(found, square_foot))
        holds(f"{width} x {height} in passes", (found >= questions.ESCAPE_AREA) == passes)
    near("height at 20 in wide", "41.04", questions.ESCAPE_AREA / questions.ESCAPE_WIDTH / INCH)
    near("width at 24 in high", "34.2", questions.ESCAPE_AREA / questions.ESCAPE_HEIGHT / INCH)
    near("5.7 square feet in square meters", "0.52955", questions.ESCAPE_AREA / 10**18)


def lifting() -> None:
    """NIOSH 94-110 (rev. 9/2021): recommended weight limit, metric; the formula from memory."""
    def limit(h: int, v: int, d: int, a: int, often: str, grip: str) -> Fraction:
        across, up = min(Fraction(1), Fraction(25, h)), 1 - Fraction("0.003") * abs(v - 75)
        far = min(Fraction(1), Fraction("0.82") + Fraction("4.5") / d)
        return 23 * across * up * far * (1 - Fraction("0.0032") * a) * Fraction(often) * Fraction(grip)

    raised = limit(40, 100, 80, 0, "0.94", "0.95")
    near("a carton raised", "10.40", raised)
    near("its lifting index at 12 kg", "1.15", 12 / raised)
    near("close and still", "23.0", limit(25, 75, 25, 0, "1", "1"))
    near("far and turned", "6.33", limit(50, 150, 75, 30, "0.94", "0.95"))


def main() -> int:
    for group in (units, screws, lag_screws, through_board, steel, hollow_walls, brackets, beams, lumber, access, escape,
                  lifting):
        group()
    for failure in failures:
        print(failure)
    print(f"{passed} passed, {len(failures)} failed")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
