"""What a handy person would write instead: sizes, lines and rail cuts of a survey, in plain Python.

It trusts the survey: one unit, one product, headings as they are, no cell wrong or missing. It has no questions,
no windows of sizes, louvers, fixings, loads, hardware, cost, pages, labels, pictures or explanations.

requirements: pip install openpyxl.  `python script.py SURVEY.xlsx OUT.xlsx`
"""

from __future__ import annotations

import math
import sys
from collections import Counter

import openpyxl

INCH = 25.4
DEPTH_PAST_HANDLE = 3 * INCH
OFF_INSIDE = 0.5 * INCH
OVERLAP = 2 * INCH
HAND_ROOM = 0.375 * INCH
ABOVE = 6 * INCH
BELOW = 2 * INCH
FLOOR_GAP = 0.5 * INCH
END_CAPS = 0.25 * INCH
BAR, TRIM, KERF = 5800, 10, 3


def sized(row: dict) -> tuple[str, int, int]:
    """Mount, finished width and drop of one opening, in whole millimeters."""
    widths, heights = (row["Width top"], row["Width bottom"]), (row["Height left"], row["Height right"])
    if row["Recess depth"] >= row["Handle"] + DEPTH_PAST_HANDLE:
        return "inside", math.floor(min(widths) - OFF_INSIDE), math.floor(min(heights) - OFF_INSIDE)
    past = sum(min(OVERLAP, row[wall] - HAND_ROOM) for wall in ("Wall left", "Wall right"))
    if row["Kind"] == "window":
        drop = ABOVE + max(heights) + BELOW
    else:
        drop = ABOVE + min(heights) - FLOOR_GAP
    return "outside", math.floor(max(widths) + past), math.floor(drop)


def first_fit_decreasing(pieces: list[float]) -> list[list[float]]:
    """Bars, each with its pieces."""
    bars, rooms = [], []
    for piece in sorted(pieces, reverse=True):
        needed = piece + KERF
        place = next((place for place, room in enumerate(rooms) if room >= needed), None)
        if place is None:
            place = len(bars)
            bars.append([])
            rooms.append(BAR - 2 * TRIM + KERF)
        bars[place].append(piece)
        rooms[place] -= needed
    return bars


def main() -> None:
    survey, out = sys.argv[1:]
    table = openpyxl.load_workbook(survey, read_only=True)["Openings"].iter_rows(values_only=True)
    headings = next(table)
    openings = [dict(zip(headings, row)) for row in table]
    sizes = [sized(opening) for opening in openings]
    lines = Counter(sizes)
    bars = first_fit_decreasing([width - END_CAPS for _, width, _ in sizes])
    numbers = {size: number for number, size in enumerate(lines, 1)}

    book = openpyxl.Workbook(write_only=True)
    sheet = book.create_sheet("Sizes")
    sheet.append(["Unit", "Opening", "Mount", "Width", "Drop", "Line"])
    for opening, size in zip(openings, sizes):
        sheet.append([opening["Unit"], opening["Opening"], *size, numbers[size]])
    sheet = book.create_sheet("Order")
    sheet.append(["Line", "Quantity", "Mount", "Width", "Drop"])
    for size, quantity in lines.items():
        sheet.append([numbers[size], quantity, *size])
    sheet = book.create_sheet("Cuts")
    sheet.append(["Bar", "Pieces"])
    for number, pieces in enumerate(bars, 1):
        sheet.append([number, *pieces])
    book.save(out)


if __name__ == "__main__":
    main()
