"""Makes the survey of so many openings that all three ways are given: sizes in millimeters, typical of
blocks of homes, few enough facts that a script or a sheet can use them all.

requirements: pip install openpyxl.  `python survey.py OPENINGS SURVEY.xlsx`
"""

from __future__ import annotations

import random
import sys
from pathlib import Path

import openpyxl

HEADINGS = ["Opening", "Floor", "Unit", "Room", "Kind", "Width top", "Width bottom", "Height left", "Height right",
            "Recess depth", "Handle", "Wall left", "Wall right", "Sill height", "Mount", "Substrate"]

# Room, kind, width, height, sill height, recess depth, handle.
TYPES = [
    ("Living room", "patio door", 1790, 2085, 0, 40, 45),
    ("Living room", "window", 1480, 1340, 850, 140, 30),
    ("Bedroom", "window", 1183, 1238, 900, 125, 30),
    ("Bedroom", "window", 1183, 1238, 900, 60, 30),
    ("Kitchen", "window", 880, 1040, 1100, 125, 30),
    ("Kitchen", "door", 905, 2040, 0, 20, 50),
]
WALLS = [45, 60, 85, 200, 310, 640]
OPENINGS_OF_A_UNIT = 5
UNITS_OF_A_FLOOR = 8


def rows(count: int):
    """One row for each opening, its measurements a few millimeters off the type's."""
    chance = random.Random(count)
    about = lambda size: size + chance.choice([-3, 0, 0, 0, 2, 3])
    for place in range(count):
        unit, number = divmod(place, OPENINGS_OF_A_UNIT)
        floor = unit // UNITS_OF_A_FLOOR
        room, kind, width, height, sill, depth, handle = TYPES[chance.randrange(len(TYPES))]
        yield [f"W{number + 1}", str(floor), f"{floor}-{unit % UNITS_OF_A_FLOOR + 1}", room, kind,
               about(width), about(width), about(height), about(height), depth, handle,
               chance.choice(WALLS), chance.choice(WALLS), sill, "either", "concrete"]


def write(count: int, to: Path) -> None:
    book = openpyxl.Workbook(write_only=True)
    project = book.create_sheet("Project")
    for row in [("Item", "Value"), ("Project", "Typical homes"), ("Units", "mm"), ("Merge sizes", "no")]:
        project.append(row)
    openings = book.create_sheet("Openings")
    openings.append(HEADINGS)
    for row in rows(count):
        openings.append(row)
    book.save(to)


if __name__ == "__main__":
    write(int(sys.argv[1]), Path(sys.argv[2]))
