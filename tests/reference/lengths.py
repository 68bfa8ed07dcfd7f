#!/usr/bin/env python3
"""Prints random lengths in every form that a survey may write them in, each with its exact nanometers.

The sums are Python's own `fractions.Fraction`, apart from the library's. `tests/lengths.rs` reads the
result, kept as `tests/data/lengths.csv`:

    python3 -B tests/reference/lengths.py > tests/data/lengths.csv

Columns: the unit of a bare number, the nanometers, the text.
"""

import csv
import math
import random
import sys
from fractions import Fraction

LINES = 440
INCH = 25_400_000  # nanometers
MM = 1_000_000
CHARACTERS = {
    Fraction(1, 2): "½", Fraction(1, 4): "¼", Fraction(3, 4): "¾", Fraction(1, 8): "⅛",
    Fraction(3, 8): "⅜", Fraction(5, 8): "⅝", Fraction(7, 8): "⅞",
}
SPACES = [" ", "\u00a0", "\u2009", "\u202f", "\u3000"]


def mixed(value, between=" "):
    """A whole number and a reduced fraction."""
    whole, rest = divmod(value, 1)
    if rest == 0:
        return str(whole)
    fraction = f"{rest.numerator}/{rest.denominator}"
    return fraction if whole == 0 else f"{whole}{between}{fraction}"


def decimal(value, mark="."):
    """Every decimal of a number that has an end."""
    whole, rest = divmod(value, 1)
    digits = ""
    while rest:
        digit, rest = divmod(rest * 10, 1)
        digits += str(digit)
    return f"{whole}{mark}{digits}" if digits else str(whole)


def grouped(whole, mark):
    return f"{whole:,}".replace(",", mark)


def wide(text):
    return "".join(chr(ord(c) + 0xFEE0) if "!" <= c <= "~" else c for c in text)


def inches(chance):
    value = Fraction(chance.randrange(12 * 64, 240 * 64), 64)
    feet, rest = divmod(value, 12)
    near = Fraction(chance.randrange(12 * 8, 240 * 8), 8)
    near_feet, near_rest = divmod(near, 12)

    def with_character(number):
        whole, part = divmod(number, 1)
        return f"{whole}{CHARACTERS.get(part, '')}"

    return [
        ("in", value * INCH, mixed(value)),
        ("mm", value * INCH, mixed(value) + '"'),
        ("mm", value * INCH, mixed(value, "-") + "”"),
        ("mm", value * INCH, mixed(value) + " in"),
        ("mm", value * INCH, mixed(value).replace("/", "⁄") + " inches"),
        ("mm", value * INCH, decimal(value) + '"'),
        ("in", value * INCH, decimal(value)),
        ("in", value * INCH, decimal(value, ",") if len(decimal(value).partition(".")[2]) != 3 else mixed(value)),
        ("in", near * INCH, with_character(near)),
        ("mm", near * INCH, with_character(near) + "″"),
        ("mm", value * INCH, f"{feet}' {mixed(rest)}\""),
        ("mm", value * INCH, f"{feet}'-{mixed(rest)}\""),
        ("mm", value * INCH, f"{feet}' - {mixed(rest)}\""),
        ("mm", value * INCH, f"{feet}’-{mixed(rest)}"),
        ("mm", value * INCH, f"{feet} ft {mixed(rest)} in"),
        ("mm", value * INCH, f"{feet}ft{mixed(rest, '-')}in."),
        ("mm", value * INCH, f"{feet}' {decimal(rest)}''"),
        ("mm", near * INCH, f"{near_feet}′ {with_character(near_rest)}"),
        ("mm", feet * 12 * INCH, f"{feet}'"),
        ("in", feet * 12 * INCH, f"{feet} ft"),
    ]


def metric(chance):
    value = Fraction(chance.randrange(300, 6000))
    tenths = value + Fraction(chance.randrange(1, 10), 10)
    fine = value + Fraction(10 * chance.randrange(1_000, 99_999) + chance.randrange(1, 10), 1_000_000)
    space = chance.choice(SPACES)
    residue = math.nextafter(float(tenths), math.inf)
    return [
        ("mm", value * MM, str(value)),
        ("mm", value * MM, f"0{value}"),
        ("mm", value * MM, f"{value}."),
        ("mm", value * MM, f"'{value}"),
        ("mm", value * MM, f'"{value}"'),
        ("in", value * MM, f"{value}mm."),
        ("in", value * MM, f"{value} MM"),
        ("mm", value * MM, grouped(value.numerator, space)),
        ("mm", value * MM, grouped(value.numerator, ",")),
        ("in", value * MM, wide(grouped(value.numerator, ",") + "mm")),
        ("in", tenths * MM, decimal(tenths) + " mm"),
        ("in", tenths * MM, decimal(tenths, ",") + " mm"),
        ("mm", tenths * MM, repr(residue)),
        ("in", fine * MM, decimal(fine) + " mm"),
        ("in", tenths * MM, decimal(tenths / 10) + " cm"),
        ("in", value * MM, decimal(value / 10, ",") + "CM"),
        ("cm", value * MM, decimal(value / 10)),
        ("in", value * MM, decimal(value / 1000) + " m"),
        ("in", value * MM, decimal(value / 1000, ",") + " meters"),
        ("m", value * MM, decimal(value / 1000)),
        ("in", value * MM, f"{value}㎜"),
        ("m", fine * MM, decimal(fine / 1000)),
    ]


def main():
    chance = random.Random(2024)
    writer = csv.writer(sys.stdout, lineterminator="\n")
    writer.writerow(["unit", "nanometers", "text"])
    lines = []
    while len(lines) < LINES:
        lines += inches(chance) + metric(chance)
    for unit, nanometers, text in lines[:LINES]:
        assert nanometers.denominator == 1, text
        writer.writerow([unit, nanometers, text])


main()
