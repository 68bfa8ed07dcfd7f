"""How far from the wall, in or out: recess, setback and reach. Common practice, no source."""

from __future__ import annotations

import grips
from exact import inches
from facts import Opening, Project
from lists import BRACKETS, Product

LOUVER_CLEARANCE = inches("3/8")
HALF_RAIL = inches("7/8")


def half(product: Product) -> int:
    return product.louver // 2


def standing_handle(o: Opening) -> int:
    """A handle to which the depth was taken counts 0."""
    return 0 if o.handle is None or (o.depth is not None and o.depth_to == "handle") else o.handle


def depth_needed(o: Opening, product: Product) -> int:
    return standing_handle(o) + LOUVER_CLEARANCE + half(product) + HALF_RAIL


def setback(o: Opening, project: Project, product: Product) -> int | None:
    """Wall face to the rail's center: half a louver in, or the edge that the screws want, if the depth has room."""
    if o.depth is None:
        return None
    wanted = max(half(product), grips.greatest_edge(o, project, "inside"))
    return max(min(o.depth - standing_handle(o) - LOUVER_CLEARANCE - half(product), wanted), HALF_RAIL)


def stands_proud(o: Opening, product: Product) -> int | None:
    if o.depth is None:
        return None
    return max(0, standing_handle(o) + LOUVER_CLEARANCE + product.louver - o.depth)


def stands_out(o: Opening) -> int:
    """What the louvers must pass in front of: with no depth, the handle was measured from the casing."""
    trim = o.trim or 0
    return trim + standing_handle(o) if o.depth is None else max(trim, standing_handle(o) - o.depth)


def away(o: Opening, product: Product) -> int:
    """How far from the wall the line of the louvers must be at the least."""
    return half(product) + LOUVER_CLEARANCE + stands_out(o)


def reach(needed: int) -> int | None:
    """The shortest bracket that does it."""
    return next((length for length in sorted(BRACKETS) if length >= needed), None)


def behind(line: int, product: Product) -> int:
    """How far from the wall the air behind louvers begins whose line is so far from it."""
    return line - half(product) - LOUVER_CLEARANCE
