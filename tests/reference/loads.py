"""What the fixings of a blind must hold, and which fixing and how many brackets do it.

Two cases: what hangs there always, and a steady pull of 100 N straight down on the worst bracket
(common practice, no source, as are the arm of the couple and the toggle's 30 lbf).
Forces are newtons, lengths nanometers, weights kilograms.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

INCH = 25_400_000
# Standard gravity and the pound-force: NIST SP 811, appendix B.8.
GRAVITY = Fraction("9.80665")
POUND_FORCE = Fraction("4.4482216152605")
PULL = 100
COUPLE_ARM = INCH
# Load duration: ANSI/AWC NDS-2018, table 2.3.2.
SUSTAINED, TEN_MINUTES = Fraction("0.9"), Fraction("1.6")


def withdrawal(diameter: str, thread: str) -> Fraction:
    """ANSI/AWC NDS-2018 12.2.2: withdrawal of a wood screw, before the load duration; G = 0.42 is Spruce-Pine-Fir,
    which stands for a species that is not known."""
    return 2850 * Fraction("0.42") ** 2 * Fraction(diameter) * Fraction(thread) * POUND_FORCE


# Capacity in newtons and whether the load's duration counts; None where the anchor's own figure is not known.
CAPACITY = {
    "wood screw 8 x 1 1/2": (withdrawal("0.164", "1"), True),
    "wood screw 10 x 2 1/2": (withdrawal("0.190", "5/3"), True),
    # AISI S100 pull-out of 33 mil steel (0.0346 in, 45 ksi); the coefficient and the 3 are from memory.
    "steel-stud screw 8 x 1 5/8": (Fraction("0.85") * Fraction("0.0346") * Fraction("0.164") * 45000 / 3 * POUND_FORCE, False),
    "toggle 1/8": (30 * POUND_FORCE, False),
    "concrete screw 1/4 x 1 3/4": None,
    "plug and screw 8 x 1 1/2": None,
}


@dataclass
class Hung:
    """One blind as its brackets feel it; `reach` is None within a recess."""
    width: int
    inset: Fraction
    louvers: Fraction
    rail: Fraction
    stack: int
    is_split: bool
    reach: int | None


def shares(count: int) -> list[Fraction]:
    """The part of an even load on each support of a continuous beam over equal spans, by the three-moment equation."""
    spans = count - 1
    # Moments at the inner supports, for a load and a span of 1: M[i-1] + 4 M[i] + M[i+1] = -1/2.
    inner = spans - 1
    ratio, value = [], []
    for i in range(inner):
        below = ratio[-1] if ratio else Fraction(0)
        divisor = 4 - below
        ratio.append(1 / divisor)
        value.append((Fraction(-1, 2) - (value[-1] if value else 0)) / divisor)
    moments = [Fraction(0)] * (count + 1)
    for i in range(inner, 0, -1):
        moments[i] = value[i - 1] - ratio[i - 1] * moments[i + 1]
    at = [Fraction(0)] * count
    for i in range(spans):
        step = moments[i + 1] - moments[i]
        at[i] += Fraction(1, 2) + step
        at[i + 1] += Fraction(1, 2) - step
    return [part / spans for part in at]


def worst_reaction(hung: Hung, count: int) -> Fraction:
    even = shares(count)
    weight = hung.louvers + hung.rail
    drawn = max(part * weight for part in even)
    # Stacked: the louvers hang at half the stack from the stacked end, by lever between its two brackets.
    span = (hung.width - 2 * hung.inset) / (count - 1)
    to_end = (hung.inset + span - Fraction(hung.stack, 2)) / span
    stacked = [part * hung.rail for part in even]
    for first, second in ((0, 1), (-1, -2)) if hung.is_split else ((0, 1),):
        bunch = hung.louvers / 2 if hung.is_split else hung.louvers
        stacked[first] += bunch * to_end
        stacked[second] += bunch * (1 - to_end)
    return max(drawn, *stacked) * GRAVITY


def use(hung: Hung, count: int, fixing: str) -> Fraction | None:
    if CAPACITY[fixing] is None:
        return None
    capacity, lasts = CAPACITY[fixing]
    weight = worst_reaction(hung, count)
    cases = []
    for force, duration in ((weight, SUSTAINED), (weight + PULL, TEN_MINUTES)):
        pulled = force / 2 if hung.reach is None else force * hung.reach / COUPLE_ARM
        cases.append(pulled / (capacity * duration if lasts else capacity))
    return max(cases)


def hold(hung: Hung, listed: list[str], count: int) -> tuple[str, int, Fraction | None]:
    """The fixing, the brackets and the use; `listed` are the substrate's fixings, cheapest first."""
    for fixing in listed:
        used = use(hung, count, fixing)
        if used is None or used <= 1:
            return fixing, count, used
    strongest = min(listed, key=lambda fixing: use(hung, count, fixing))
    for more in range(count + 1, 2 * count + 1):
        for fixing in listed:
            if use(hung, more, fixing) <= 1:
                return fixing, more, use(hung, more, fixing)
    return strongest, count, use(hung, count, strongest)
