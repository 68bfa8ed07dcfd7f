"""Exact lengths and money, and the few ways in which the rules round them.

A length is a whole number of nanometers (an `int`, or a `Fraction` where a half may stand for a
moment), so that 1/64 in and every metric decimal are exact. Nothing here is a floating-point number.
"""

from __future__ import annotations

import math
from fractions import Fraction

MM = 1_000_000
INCH = 25_400_000


def inches(text: str) -> int:
    """`"3 1/2"` to nanometers."""
    return int(sum(Fraction(part) for part in text.split()) * INCH)


def half_away(value: Fraction) -> int:
    """The nearest whole number; a half goes away from zero."""
    sign = -1 if value < 0 else 1
    return sign * math.floor(abs(Fraction(value)) + Fraction(1, 2))


def round_down(length: Fraction, step: int) -> int:
    return math.floor(length / Fraction(step)) * step


def round_up(length: Fraction, step: int) -> int:
    return -round_down(-length, step)


def kept_between(value, least, most):
    return max(least, min(value, most))


def money(value: Fraction) -> Fraction:
    """To the cent, half away from zero."""
    return Fraction(half_away(Fraction(value) * 100), 100)
