"""What follows from a blind's size: louvers, stack, wand, valance, clips, weight, people. Common practice, no source."""

from __future__ import annotations

import math
from fractions import Fraction

import grips
import sizes
from exact import INCH, MM, inches
from facts import Opening, Project
from lists import Product
from sizes import Size

SHORTER_OUTSIDE, SHORTER = inches("1 1/2"), inches("1 3/4")
STACK_EACH, STACK_BESIDES = inches("3/8"), inches("3 1/2")
END_CAP, ROD_SHORTER = inches("1/8"), inches("1")
VALANCE_LONGER, RETURN_BEYOND = inches("1/2"), inches("1/4")
CLIP_ASIDE = inches("2")
WAND_STEP, WAND_STEP_METRIC = inches("12"), 300 * MM
WAND_END, WAND_ABOVE_BOTTOM, WAND_IN_REACH = inches("40"), inches("3"), inches("66")
# What a seated person reaches: 2010 ADA Standards, 308.2, and over a deep obstruction 308.2.2.
REACH_LOW, REACH_HIGH, REACH_OVER, OBSTRUCTION = inches("15"), inches("48"), inches("44"), inches("20")
BOTTOM_WEIGHT, CARRIER, MOTOR = Fraction("0.060"), Fraction("0.012"), Fraction("1.5")  # kilograms
TWO_PEOPLE_LONG, TWO_PEOPLE_HEAVY = inches("96"), 10
HIGH_BRACKET, LONG_UP_HIGH = inches("120"), inches("72")
METER = 1000 * MM


def draw(o: Opening) -> str:
    """The louvers stack over the fixed leaf, else on the left."""
    return o.draw or {"left": "right", "right": "left"}.get(o.leaf, "left")


def stacked(drawn: str) -> tuple[str, ...]:
    return ("left", "right") if drawn == "split" else (drawn,)


def louver_count(width: int, drawn: str, product: Product) -> int:
    louvers = math.ceil(Fraction(width - product.louver, product.pitch)) + 1
    return louvers + 1 if drawn == "split" and louvers % 2 else louvers


def louver_length(size: Size) -> int:
    return size.drop - (SHORTER_OUTSIDE if size.mount == "outside" else SHORTER)


def stack(louvers: int, drawn: str) -> int:
    """One side's."""
    return STACK_EACH * (louvers // len(stacked(drawn))) + STACK_BESIDES


def clear_open(o: Opening, size: Size, drawn: str, stack_width: int) -> Fraction | None:
    if size.overlaps is None:
        return None
    lap = dict(zip(("left", "right"), size.overlaps))
    return max(Fraction(0), o.width - sum(max(Fraction(0), stack_width - lap[side]) for side in stacked(drawn)))


# --- wand and motor -------------------------------------------------------------------------------

def control_side(o: Opening, drawn: str) -> str | None:
    """A wand hangs from the leading carrier of the closed blind; a motor is where it is asked for."""
    if o.control == "motor":
        return o.motor_side
    return {"left": "right", "right": "left", "split": "middle"}[drawn]


def wand_step(project: Project) -> int:
    return WAND_STEP_METRIC if project.is_metric else WAND_STEP


def reachable_wand(o: Opening, size: Size, step: int) -> int | None:
    """In an accessible unit: the shortest that ends where a seated hand is, above the finished floor."""
    high = REACH_OVER if (o.below_out or 0) > OBSTRUCTION else REACH_HIGH
    for length in range(step, size.drop - WAND_ABOVE_BOTTOM + 1, step):
        if size.top is not None and REACH_LOW <= size.top - length - (o.to_come or 0) <= high:
            return length
    return None


def wand(o: Opening, size: Size, project: Project) -> int | None:
    if o.control != "wand":
        return None
    step = wand_step(project)
    if o.accessible == "yes" and (short := reachable_wand(o, size, step)):
        return short
    longest = size.drop - WAND_ABOVE_BOTTOM
    if size.top is None:
        hangs = Fraction(size.drop, 2)
    else:
        hangs = min(longest, size.top - WAND_END)
        if hangs < step:
            hangs = longest
    return max(step, math.floor(hangs / step) * step)


# --- valance, returns, clips ----------------------------------------------------------------------

def closed_sides(o: Opening, size: Size) -> tuple[bool, bool]:
    """Sides that a wall closes, because the blind cannot reach its least overlap there."""
    if size.mount == "inside":
        return False, False
    # A finished size ends at the wall wherever the survey says so: its overlap is not known.
    laps = size.overlaps or (0, 0)
    return tuple(end == "wall" and lap < sizes.OVERLAP_LEAST
                 for end, lap in zip((o.left_ends_at, o.right_ends_at), laps))


def valance(size: Size) -> int:
    return size.width if size.mount == "inside" else size.width + VALANCE_LONGER


def returns(o: Opening, size: Size, product: Product) -> list[int]:
    if size.mount == "inside":
        return [0, 0]
    line = size.line if size.mount == "ceiling" else size.reach + ((o.trim or 0) if size.on == "casing" else 0)
    return [0 if shut else line + product.louver // 2 + RETURN_BEYOND for shut in closed_sides(o, size)]


def clips(width: int, centers: list[Fraction]) -> list[Fraction]:
    """Each beside its bracket, nearer the middle of the rail; that of a middle one to the left."""
    return [center + CLIP_ASIDE if 2 * center < width else center - CLIP_ASIDE for center in centers]


def see_past(o: Opening, size: Size) -> float | None:
    """Degrees from square-on at which one sees past the louvers: the smaller overlap, over sides that no wall closes."""
    if size.mount == "inside" or size.overlaps is None:
        return None
    free = [lap for lap, shut in zip(size.overlaps, closed_sides(o, size)) if not shut]
    line = size.reach if size.mount == "outside" else size.line
    return math.degrees(math.atan(min(free) / line)) if free else None


# --- weight and people ----------------------------------------------------------------------------

def louvers_weight(project: Project, product: Product, louvers: int, length: int) -> Fraction:
    area = Fraction(product.louver * length, METER**2)
    return louvers * (project.materials[product.material].mass * area + BOTTOM_WEIGHT + CARRIER)


def rail_weight(project: Project, size: Size) -> Fraction:
    mass = {name: project.materials[name].mass for name in ("rail", "valance")}
    return (mass["rail"] * size.width + mass["valance"] * valance(size)) / METER


def bracket_top(size: Size) -> tuple[int | None, int | None]:
    """Above the floor as it is, and above the head."""
    more = grips.BRACKET_ABOVE_RAIL if size.mount == "outside" else 0
    return tuple(None if height is None else height + more for height in (size.top, size.above))


def people(size: Size, weight: Fraction) -> int:
    """It is held overhead: two for a long rail, a heavy blind, or a rail over 72 in up high."""
    floor = bracket_top(size)[0]
    is_high = floor is not None and floor >= HIGH_BRACKET and size.width > LONG_UP_HIGH
    return 2 if size.width >= TWO_PEOPLE_LONG or weight > TWO_PEOPLE_HEAVY or is_high else 1


def cut_lengths(size: Size) -> tuple[int, int]:
    """Rail and tilt rod as cut."""
    return size.width - 2 * END_CAP, size.width - ROD_SHORTER


def spacer_links(louvers: int, drawn: str) -> int:
    """Between louvers, top and bottom; none between the two halves of a split blind."""
    return 2 * (louvers - len(stacked(drawn)))
