"""Mount, width and place of a blind, and the sizes that would also do. Common practice, no source.

Where the rules leave a choice: a window of sizes of which a limit leaves nothing holds the opening, also
where a blind at the limit would still overlap a little; a blind at a ceiling has one drop, so that a limit
below it holds the opening.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

import depths
import heights
from exact import inches, kept_between, round_down, round_up
from facts import Held, Opening, Project
from lists import Product

LEAST_WIDTH, MOST_WIDTH = inches("12"), inches("192")
SIDE_CLEARANCE = inches("1/4")
DROP_CLEARANCE = inches("1/2")
MOST_DEDUCTION, LEAST_DEDUCTION = inches("1"), inches("1/2")
OVERLAP_WANTED, OVERLAP_LEAST, OVERLAP_MOST = inches("2"), inches("1"), inches("4")
WALL_ROOM = inches("3/8")  # the valance's 1/4 in past the rail, and 1/8 in for a hand
IMPLAUSIBLE = {"depth": inches("24"), "handle": inches("8"), "trim": inches("4"), "to_come": inches("6")}


@dataclass
class Size:
    """Where a blind hangs and how large it is; unknown heights and overlaps are None.

    `line` is the distance from the wall to the rail's center, inside and at a ceiling. `tilt` is how far right of
    its place at half height the opening's left corner stands at the head.
    """
    mount: str
    on: str
    width: int
    drop: int
    above: int | None = None  # rail top above the head of the opening; 0 within the recess
    top: int | None = None  # top of the drop above the floor as it is
    overlaps: tuple[Fraction, Fraction] | None = None
    reach: int | None = None
    line: int | None = None
    tilt: Fraction = Fraction(0)


# --- a leaning opening ----------------------------------------------------------------------------

def out_of_plumb(o: Opening) -> Fraction | None:
    """How far the head stands aside of the foot, exact for a parallelogram; None with fewer than two diagonals."""
    if len(o.diagonals) < 2:
        return None
    first, second = o.diagonals
    return Fraction(abs(first * first - second * second), 4 * o.width)


def lean(o: Opening) -> Fraction:
    """The lean that counts: up to half a clearance is a tape's noise."""
    found = out_of_plumb(o)
    return Fraction(0) if found is None or found <= Fraction(SIDE_CLEARANCE, 2) else found


def tilt(o: Opening) -> Fraction:
    """Diagonal 1 ends at the top right: if it is the longer, the top leans right."""
    if len(o.diagonals) < 2:
        return Fraction(0)
    first, second = o.diagonals
    return lean(o) / 2 * (1 if first > second else -1)


# --- windows of sizes -----------------------------------------------------------------------------

@dataclass
class Span:
    """The least and the most of a width or drop that would do, and the preferred one among them."""
    least: int
    most: int
    preferred: int

    def holds(self, length: int) -> bool:
        return self.least <= length <= self.most


def span(least: Fraction, most: Fraction, preferred: int, limits: tuple[int, int], step: int) -> Span | None:
    """Ends rounded inward; the preferred size is always in it, alone if nothing else is; all of it within the
    product's limits, and nothing if they leave nothing."""
    low, high = round_up(least, step), round_down(most, step)
    if low > high:
        low = high = preferred
    low, high = min(low, preferred), max(high, preferred)
    low, high = max(low, round_up(limits[0], step)), min(high, round_down(limits[1], step))
    return Span(low, high, kept_between(preferred, low, high)) if low <= high else None


def single(length: int, limits: tuple[int, int]) -> Span | None:
    return Span(length, length, length) if limits[0] <= length <= limits[1] else None


WIDTH_LIMITS = (LEAST_WIDTH, MOST_WIDTH)
DROP_LIMITS = (heights.LEAST_DROP, heights.MOST_DROP)


# --- inside ---------------------------------------------------------------------------------------

def inside_width(o: Opening, project: Project) -> Span | None:
    between = o.width - lean(o)
    return span(between - MOST_DEDUCTION, between - LEAST_DEDUCTION,
                round_down(between - 2 * SIDE_CLEARANCE, project.step), WIDTH_LIMITS, project.step)


def inside_drop(o: Opening, project: Project) -> Span | None:
    """On a door the carpet's extra gap and the floor to come are taken as well."""
    free = o.height
    if o.is_door():
        free -= heights.lowest(o) - heights.FLOOR_GAP
    return span(free - MOST_DEDUCTION, free - LEAST_DEDUCTION, round_down(free - DROP_CLEARANCE, project.step),
                DROP_LIMITS, project.step)


def longest_inside(o: Opening, project: Project) -> int:
    free = o.height
    if o.is_door():
        free -= heights.lowest(o) - heights.FLOOR_GAP
    return round_down(free - DROP_CLEARANCE, project.step)


def choose_mount(o: Opening, project: Project, product: Product) -> str:
    if o.mount in ("outside", "ceiling"):
        return o.mount
    drop = inside_drop(o, project) if o.drop_wanted is None else single(o.drop_wanted, DROP_LIMITS)
    rest_fits = (out_of_plumb(o) or 0) <= 2 * SIDE_CLEARANCE and o.opens not in ("in", "tilt")
    rest_fits = rest_fits and inside_width(o, project) is not None and drop is not None
    is_deep = o.depth is not None and o.depth >= depths.depth_needed(o, product)
    if o.mount == "either" and not (rest_fits and is_deep):
        return "outside"
    if not rest_fits or (o.depth is not None and not is_deep):
        raise Held("inside does not fit")
    if o.drop_wanted is not None and o.drop_wanted > longest_inside(o, project):
        raise Held("the drop wanted is longer than the inside drop")
    return "inside"


# --- outside --------------------------------------------------------------------------------------

def walls(o: Opening) -> tuple[int | None, int | None]:
    """What each wall leaves; None where it is not known."""
    return tuple(None if wall is None else wall - WALL_ROOM for wall in (o.wall_left, o.wall_right))


def wanted_overlaps(o: Opening) -> tuple[int, int]:
    return tuple(OVERLAP_WANTED if room is None else min(OVERLAP_WANTED, room) for room in walls(o))


def most_overlaps(o: Opening) -> tuple[int, int]:
    """4 in where the wall is known to have them."""
    return tuple(OVERLAP_WANTED if room is None else min(OVERLAP_MOST, room) for room in walls(o))


def outside_width(o: Opening, project: Project) -> Span | None:
    most, wanted, step = max(o.widths), wanted_overlaps(o), project.step
    width = round_down(most + sum(wanted), step)
    need = sum(OVERLAP_LEAST for side in wanted if side >= OVERLAP_LEAST)
    rooms = walls(o)
    if width - most < need and (None in rooms or width + step - most <= sum(rooms)):
        width += step
    # The least overlaps are asked of the sides that have room for them; another keeps what it has.
    least = most + sum(min(OVERLAP_LEAST, side) for side in wanted)
    return span(least, most + sum(most_overlaps(o)), width, WIDTH_LIMITS, step)


def overlaps(o: Opening, width: int) -> tuple[int, int]:
    """How far a blind of a given width laps each side of the opening, at half height."""
    wanted, most, rooms = wanted_overlaps(o), most_overlaps(o), walls(o)
    total = width - max(o.widths)
    left = wanted[0] - (sum(wanted) - total) // 2
    left = min(max(left, total - most[1]), most[0])
    right = total - left
    if left < OVERLAP_LEAST < right:
        moved = min(OVERLAP_LEAST - left, right - OVERLAP_LEAST)
        left += moved if rooms[0] is None else max(0, min(moved, rooms[0] - left))
    elif right < OVERLAP_LEAST < left:
        moved = min(OVERLAP_LEAST - right, left - OVERLAP_LEAST)
        left -= moved if rooms[1] is None else max(0, min(moved, rooms[1] - right))
    return left, total - left


# --- the blind's size and place -------------------------------------------------------------------

@dataclass
class Window:
    width: Span
    drop: Span


def window(o: Opening, project: Project, product: Product, mount: str) -> Window:
    if mount == "inside":
        width, drop = inside_width(o, project), inside_drop(o, project)
    else:
        rise = (heights.outside if mount == "outside" else heights.ceiling)(o, project, product)
        width = outside_width(o, project)
        under = rise.height - rise.bottom
        drop = single(rise.drop, DROP_LIMITS) if mount == "ceiling" else span(
            under + rise.least, under + rise.most, rise.drop, DROP_LIMITS, project.step)
    if o.drop_wanted is not None:
        drop = single(o.drop_wanted, DROP_LIMITS)
    if width is None or drop is None:
        raise Held("nothing within the product's limits")
    return Window(width, drop)


def placed(o: Opening, project: Project, product: Product, mount: str, width: int, drop: int) -> Size:
    """A blind of any size within its window."""
    sill = o.sill_height()
    if mount == "inside":
        side = -Fraction(o.width - width, 2)
        return Size(mount, "recess", width, drop, 0, None if sill is None else sill + o.height, (side, side),
                    line=depths.setback(o, project, product), tilt=tilt(o))
    rise = (heights.outside if mount == "outside" else heights.ceiling)(o, project, product)
    # Outside another drop than the preferred one moves the top.
    above = rise.above if drop == rise.drop else rise.bottom + drop - rise.height
    sides = tuple(Fraction(side) for side in overlaps(o, width))
    reach, line = (rise.reach, None) if mount == "outside" else (None, rise.reach)
    return Size(mount, rise.on, width, drop, above, None if sill is None else sill + rise.height + above, sides,
                reach, line, tilt(o))


def finished(o: Opening, project: Project, product: Product) -> Size:
    """Sizes of blinds, taken as they are: nothing comes off, and what needs the opening is not known."""
    if o.mount == "either":
        raise Held("a finished size needs its mount")
    if o.drop_wanted is not None and o.drop_wanted != o.height:
        raise Held("the drop wanted is not the drop given")
    if single(o.width, WIDTH_LIMITS) is None or single(o.height, DROP_LIMITS) is None:
        raise Held("outside the product's limits")
    if o.mount == "inside":
        if o.opens in ("in", "tilt"):
            raise Held("the leaf opens into the blind")
        if o.depth is not None and o.depth < depths.depth_needed(o, product):
            raise Held("the recess is too shallow")
        return Size("inside", "recess", o.width, o.height, line=depths.setback(o, project, product))
    away = depths.away(o, product)
    if o.mount == "ceiling":
        return Size("ceiling", "ceiling", o.width, o.height, line=away)
    reach = depths.reach(away)
    if reach is None:
        raise Held("no bracket reaches far enough")
    return Size("outside", "wall", o.width, o.height, reach=reach)


def size(o: Opening, project: Project, product: Product) -> Size:
    if project.finished_sizes:
        return finished(o, project, product)
    mount = choose_mount(o, project, product)
    found = window(o, project, product, mount)
    return placed(o, project, product, mount, found.width.preferred, found.drop.preferred)
