"""Brackets on known studs. Common practice, no source.

Positions are from the rail's left end. Where the rules leave a choice: of two studs as near, an end takes
the outer one; a stud that both ends want goes to the end whose place it is nearer to, the left one if it is
as near to both; and where no stud is within 34 in, the next one is taken.
"""

from __future__ import annotations

import math
from fractions import Fraction

from exact import inches

NEAREST, FARTHEST = inches("1 1/2"), inches("12")  # an end bracket's, from the rail's end
SPACING = inches("34")


def along(width: int, first: Fraction, spacing: int) -> list[Fraction]:
    """Every stud behind the rail; the grid goes on from the first one both ways."""
    start = math.ceil(-first / spacing)
    return [first + k * spacing for k in range(start, math.floor((width - first) / spacing) + 1)]


def end(studs: list[Fraction], place: Fraction) -> Fraction | None:
    """The stud for an end bracket, all from that end of the rail."""
    within = [stud for stud in studs if NEAREST <= stud <= FARTHEST]
    return min(within, key=lambda stud: (abs(stud - place), stud), default=None)


def centers(width: int, inset: Fraction, studs: list[Fraction]) -> list[tuple[Fraction, bool]]:
    """Each bracket and whether it is on a stud."""
    mirrored = [width - stud for stud in studs]
    left, right = end(studs, inset), end(mirrored, inset)
    if left is not None and right is not None and left >= width - right:
        # One stud for both: the other end looks further out on its own side, or keeps its place.
        if abs(left - inset) <= abs(right - inset):
            right = end([stud for stud in mirrored if width - stud > left], inset)
        else:
            left = end([stud for stud in studs if stud < width - right], inset)
    at_left = (inset, False) if left is None else (left, True)
    at_right = (width - inset, False) if right is None else (width - right, True)
    if at_left[0] >= at_right[0]:
        # A rail so short that the brackets would change sides: no stud serves either end.
        at_left, at_right = (inset, False), (width - inset, False)
    brackets = [at_left]
    while at_right[0] - brackets[-1][0] > SPACING:
        here = brackets[-1][0]
        beyond = [stud for stud in studs if here < stud < at_right[0]]
        if not beyond:
            break
        within = [stud for stud in beyond if stud <= here + SPACING]
        brackets.append((max(within) if within else min(beyond), True))
    return brackets + [at_right]
