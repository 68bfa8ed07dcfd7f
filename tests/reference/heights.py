"""How far above and below an opening a blind reaches: rail top, bottom, drop, and the drops that would also do.

Heights are counted from the sill line, `above` from the head. Common practice, no source.

Where the rules leave a choice: a limit on the drop that leaves no room above a casing is a reason to go
on the casing, as is a casing wider than the most above the head; on a casing the header moves nothing.
"""

from __future__ import annotations

from dataclasses import dataclass

import depths
import grips
from exact import inches, kept_between, round_down, round_up
from facts import Held, Opening, Project
from lists import Product

LEAST_DROP, MOST_DROP = inches("12"), inches("144")
ABOVE_WANTED, ABOVE_LEAST, ABOVE_MOST = inches("6"), inches("2 1/2"), inches("12")
ABOVE_LEAST_BY_WISH = inches("2 1/4")  # the bracket's foot is 2 1/4 in below the rail's top
ROOM_ABOVE = inches("3/4")
BEYOND_CASING = inches("2 1/2")
WIDE_CASING, INSIDE_CASING = inches("3"), inches("1/2")
FLOOR_GAP, FLOOR_GAP_CARPET = inches("1/2"), inches("3/4")
BELOW_WANTED, BELOW_LEAST, ROOM_BELOW = inches("2"), inches("1"), inches("1/2")
ABOVE_SILL = inches("1/2")


class NoPlace(Held):
    """The wall, a limit or a wanted drop leaves no place above the casing."""


@dataclass
class Rise:
    """An outside blind up and down; `least` and `most` bound `above` in the window of sizes."""
    on: str
    height: int
    bottom: int
    least: int
    most: int
    above: int
    drop: int
    reach: int


def limits(step: int) -> tuple[int, int]:
    """The product's least and most drop, rounded inward to the step."""
    return round_up(LEAST_DROP, step), round_down(MOST_DROP, step)


def floor_gap(o: Opening) -> int:
    return FLOOR_GAP_CARPET if o.surface == "carpet" else FLOOR_GAP


def lowest(o: Opening) -> int:
    """No blind ends nearer the floor, counted from the floor as it is."""
    return floor_gap(o) + (o.to_come or 0)


def ends_wall_below(o: Opening, clear: int) -> bool:
    """A board or counter that stands out less than the louvers' clear air has the louvers pass in front of it."""
    return o.wall_below is not None and (o.below_out is None or o.below_out > clear)


def bottom(o: Opening, clear: int) -> int:
    """Where the blind ends; `clear` is how far from the wall the air behind its louvers begins."""
    sill = o.sill_height()
    if o.is_door():
        return lowest(o) - sill
    below = BELOW_WANTED
    if ends_wall_below(o, clear):
        below = min(below, o.wall_below - ROOM_BELOW)
    end = -below if below >= BELOW_LEAST else ABOVE_SILL
    return end if sill is None else max(end, lowest(o) - sill)


def free_above(o: Opening, project: Project) -> int | None:
    """Free wall above the head, or up to the ceiling; None where nothing is known."""
    if o.wall_above is not None:
        return o.wall_above
    sill = o.sill_height()
    if project.ceiling is None or sill is None:
        return None
    return project.ceiling - sill - o.counted_height()


def least_above(o: Opening, project: Project) -> int:
    """The bracket, its lower screw and its foot clear of the opening's edge and of the casing."""
    lower = grips.LOWER_SCREW - grips.BRACKET_ABOVE_RAIL
    edge = grips.greatest_edge(o, project, "outside") + lower
    return max(ABOVE_LEAST, edge, o.casing + BEYOND_CASING if o.casing else 0)


def outside(o: Opening, project: Project, product: Product) -> Rise:
    try:
        return _on_wall(o, project, product)
    except NoPlace:
        if (o.casing or 0) < WIDE_CASING:
            raise
        return _on_casing(o, project, product)


def _on_wall(o: Opening, project: Project, product: Product) -> Rise:
    reach = depths.reach(depths.away(o, product))
    end = bottom(o, depths.behind(reach, product) if reach else 0)
    height, free = o.counted_height(), free_above(o, project)
    allowed = None if free is None else free - ROOM_ABOVE
    least, most = least_above(o, project), ABOVE_MOST if allowed is None else min(ABOVE_MOST, allowed)
    if o.drop_wanted is not None:
        above = end + o.drop_wanted - height
        if allowed is not None and above > allowed:
            raise Held("the wall above forbids the drop wanted")
        if o.casing and above < o.casing + BEYOND_CASING:
            raise NoPlace("with the drop wanted the rail is too near the casing")
        if above < ABOVE_LEAST_BY_WISH:
            raise Held("with the drop wanted the bracket's foot hangs over the opening")
        least = most = above
        drop = o.drop_wanted
    else:
        if most < least:
            raise NoPlace("too little wall above")
        above = kept_between(ABOVE_WANTED, least, most)
        least, most, above = _within_limits(height - end, least, most, above, project.step)
        if o.has_header():
            start = o.header_offset or 0
            low = max(least, start + grips.LOWER_SCREW - grips.BRACKET_ABOVE_RAIL + grips.HEADER_EDGE)
            high = min(most, start + o.header + grips.UPPER_SCREW - grips.BRACKET_ABOVE_RAIL - grips.HEADER_EDGE)
            if low <= high:
                least, most, above = low, high, kept_between(above, low, high)
        drop = round_down(height + above - end, project.step)
    if reach is None:
        raise Held("no bracket reaches far enough")
    return Rise("wall", height, end, least, most, above, drop, reach)


def _on_casing(o: Opening, project: Project, product: Product) -> Rise:
    """On a casing of 3 in or more; what stands out is counted from its face."""
    trim = o.trim or 0
    reach = depths.reach(depths.away(o, product) - trim)
    end = bottom(o, depths.behind(reach, product) + trim if reach else 0)
    height, free = o.counted_height(), free_above(o, project)
    least, most = ABOVE_LEAST, o.casing - INSIDE_CASING
    if free is not None:
        most = min(most, free - ROOM_ABOVE)
    if o.drop_wanted is not None:
        above = end + o.drop_wanted - height
        if not least <= above <= most:
            raise Held("with the drop wanted the rail is neither above the casing nor on it")
        least = most = above
        drop = o.drop_wanted
    else:
        if most < least:
            raise Held("too little wall above, and too little casing")
        least, most, above = _within_limits(height - end, least, most, most, project.step)
        drop = round_down(height + above - end, project.step)
    if reach is None:
        raise Held("no bracket reaches far enough")
    return Rise("casing", height, end, least, most, above, drop, reach)


def _within_limits(under: int, least: int, most: int, above: int, step: int) -> tuple[int, int, int]:
    """A drop past a limit of the product is moved to it, and the rail with it; `under` is what the blind covers
    below the head."""
    shortest, longest = (limit - under for limit in limits(step))
    if round_down(under + above, step) - under > longest:
        most, above = min(most, longest), longest
    elif round_down(under + above, step) - under < shortest:
        least, above = max(least, shortest), shortest
    least, most = max(least, shortest), min(most, max(longest, above))
    if not least <= above <= most:
        raise NoPlace("no drop within the product's limits")
    return least, most, above


def ceiling(o: Opening, project: Project, product: Product) -> Rise:
    """Up at the ceiling or soffit: the rail stays, and a wanted drop moves the bottom."""
    free = free_above(o, project)
    if free is None:
        raise Held("measure to the ceiling")
    if free < 0:
        raise Held("the ceiling is below the head")
    height = o.counted_height()
    away = depths.away(o, product)
    end = bottom(o, depths.behind(away, product))
    drop = round_down(height + free - end, project.step)
    if o.drop_wanted is not None:
        if o.drop_wanted > height + free - end:
            raise Held("the drop wanted reaches too low")
        end, drop = height + free - o.drop_wanted, o.drop_wanted
    return Rise("ceiling", height, end, free, free, free, drop, away)
