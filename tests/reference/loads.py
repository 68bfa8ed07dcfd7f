"""What each bracket of a blind carries: statics alone, in exact fractions.

Two ways to hang are worked out and the worse counts on each bracket: drawn, with all the weight even along
the rail, a continuous beam over the brackets; and stacked, with the rail still even but the louvers' weight
at half the stack from the stacked end, shared by lever between the end bracket and the next.
Lengths are nanometers, weights kilograms, forces newtons.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from lists import GRAVITY


@dataclass(frozen=True)
class Load:
    """One blind as its brackets feel it. `motor` hangs on the end bracket of its side, or of both in turn."""
    width: int
    louvers: Fraction
    rail: Fraction
    stack: int
    stacked: tuple[str, ...]  # the ends to which the louvers stack
    motor: Fraction = Fraction(0)
    motor_side: str | None = None


def shares(centers: list[Fraction]) -> list[Fraction]:
    """The part of an even load on each support of a continuous beam, by the three-moment equation (Clapeyron)."""
    spans = [Fraction(right - left) for left, right in zip(centers, centers[1:])]
    moments = [Fraction(0)] * len(centers)
    # For a load of 1 a length: l M[i-1] + 2 (l + r) M[i] + r M[i+1] = -(l^3 + r^3) / 4, solved from the left.
    ratio, value = [Fraction(0)], [Fraction(0)]
    for left, right in zip(spans, spans[1:]):
        divisor = 2 * (left + right) - left * ratio[-1]
        value.append((-(left**3 + right**3) / 4 - left * value[-1]) / divisor)
        ratio.append(right / divisor)
    for i in range(len(centers) - 2, 0, -1):
        moments[i] = value[i] - ratio[i] * moments[i + 1]
    at = [Fraction(0)] * len(centers)
    for i, length in enumerate(spans):
        turn = (moments[i + 1] - moments[i]) / length
        at[i] += length / 2 + turn
        at[i + 1] += length / 2 - turn
    return [part / sum(spans) for part in at]


def stacked_on(load: Load, centers: list[Fraction]) -> list[Fraction]:
    """The louvers' weight on each bracket when they are drawn back; a split blind has half at each end."""
    on = [Fraction(0)] * len(centers)
    for end in load.stacked:
        first, second = (0, 1) if end == "left" else (-1, -2)
        from_end = [center if end == "left" else load.width - center for center in centers]
        lever = from_end[second] - from_end[first]
        to_first = (from_end[second] - Fraction(load.stack, 2)) / lever
        bunch = load.louvers / len(load.stacked)
        on[first] += bunch * to_first
        on[second] += bunch * (1 - to_first)
    return on


def reactions(load: Load, centers: list[Fraction]) -> list[Fraction]:
    """The worst weight on each bracket, in newtons."""
    even = shares(centers)
    drawn = [part * (load.louvers + load.rail) for part in even]
    stacked = [part * load.rail + bunch for part, bunch in zip(even, stacked_on(load, centers))]
    worst = [max(pair) for pair in zip(drawn, stacked)]
    if load.motor:
        for end, at in (("left", 0), ("right", -1)):
            if load.motor_side in (end, None):
                worst[at] += load.motor
    return [weight * GRAVITY for weight in worst]
