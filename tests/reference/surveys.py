"""Makes random survey workbooks, their values crowded around the limits of the rules.

Needs `pip install openpyxl`.  `python surveys.py FOLDER COUNT [FIRST_SEED]`
"""

from __future__ import annotations

import random
import sys
from fractions import Fraction
from math import isqrt
from pathlib import Path

import openpyxl

COLUMNS = ["Opening", "Building", "Floor", "Unit", "Room", "Phase", "Kind", "Quantity", "Width", "Width top",
           "Width middle", "Width bottom", "Height", "Height left", "Height middle", "Height right", "Diagonal 1",
           "Diagonal 2", "Measured", "Recess depth", "Depth to", "Handle", "Trim", "Wall left", "Wall right",
           "Wall above", "Wall below", "Left ends at", "Right ends at", "Sill height", "Floor surface",
           "Floor to come", "Header height", "Header offset", "Mount", "Drop wanted", "Product", "Color",
           "Opening leaf", "Opens", "Draw", "Control", "Substrate", "Accessible", "Escape", "Note"]

MEASURES = [name for name in COLUMNS[8:36] if name not in
            ("Measured", "Depth to", "Left ends at", "Right ends at", "Floor surface", "Mount")]

# Where the rules change their mind, in inches.
WIDTHS = [8, 12, 12.5, 16, 24, 36, 39, 40, 70, 72, 96, 96.5, 104, 106, 108, 188, 190, 192, 192.5]
HEIGHTS = [8, 12, 12.5, 13, 36, 48, 66, 72, 78, 80, 84, 96, 132, 136, 140, 144, 144.5]
DEPTHS = [0, 0.5, 1, 2, 2.5, 3, 3.5, 3.75, 4, 4.75, 6, 8, 24]
HANDLES = [0, 0.5, 0.875, 1, 1.5, 2, 2.375, 2.5, 3.875, 4, 5, 8]
TRIMS = [0, 0.5, 0.75, 0.875, 1.625, 2, 2.375, 3.125, 3.875, 4]
WALLS = [0, 0.25, 0.375, 0.875, 1, 1.25, 1.375, 1.5, 2, 2.25, 2.375, 2.5, 6, 20]
ABOVE = [1, 3, 3.125, 3.25, 3.375, 4, 6.5, 6.75, 7, 12, 12.75, 14, 30]
BELOW = [0, 0.5, 1, 1.25, 1.5, 1.625, 2, 2.5, 3, 10]
SILLS = [0, 0.5, 1, 1.5, 2, 2.5, 2.75, 3, 6, 6.125, 20, 30, 36, 48]
TO_COME = [0, 0.25, 0.375, 0.5, 0.75, 1, 2, 6]
HEADERS = [0, 2.25, 2.5, 3.5, 5.5, 6.5, 7.25, 9.25, 11.25]
OFFSETS = [0, 0.375, 0.5, 1, 2, 3, 4.5, 8, 9.5, 10]


class Maker:
    def __init__(self, seed: int, sourcing: str = "no"):
        self.sourcing = sourcing
        self.random = random.Random(seed)
        self.unit = self.random.choice(["in", "mm"])

    def maybe(self, chance: float) -> bool:
        return self.random.random() < chance

    def pick(self, *choices):
        return self.random.choice(choices)

    def written(self, value: Fraction):
        """A length in inches as this survey writes it."""
        value = max(value, Fraction(0))
        if self.unit == "in":
            return float(value)
        exact = value * Fraction("25.4")
        # Mostly whole millimeters, at times the very limit to the nanometer.
        return float(exact) if self.maybe(0.3) else round(exact)

    def near(self, limits, chance: float = 1.0):
        """A length on a limit or just beside it, or anywhere; or nothing."""
        if not self.maybe(chance):
            return None
        if self.maybe(0.25):
            return self.written(Fraction(self.random.randrange(0, int(max(limits) * 16) + 32), 16))
        aside = self.pick(0, 0, 0, 1, -1, 2, -2, 3, 5, -7)
        return self.written(Fraction(str(self.random.choice(limits))) + Fraction(aside, self.pick(8, 16, 16, 32, 64)))

    def sizes(self, limits, name: str, places) -> dict:
        """One measurement, or up to three that differ a little."""
        if self.sourcing == "yes":  # many alike, near what is in stock
            limits = [63, 64, 64, 75, 76, 101, 102] if name == "Width" else [76, 78, 78, 80, 81]
        least = self.near(limits) if self.sourcing == "no" else self.written(
            Fraction(self.random.choice(limits)) + Fraction(self.random.randint(-8, 8), 8))
        while not least:
            least = self.near(limits)
        if self.maybe(0.5):
            return {name: least}
        spread = [0, 0, 0, Fraction(1, 16), Fraction(1, 8), Fraction(1, 4), Fraction(1, 2), 2]
        step = Fraction(1) if self.unit == "in" else Fraction("25.4")
        chosen = self.random.sample(places, self.pick(1, 2, 3, 3))
        values = [float(Fraction(str(least)) + self.random.choice(spread) * step) for _ in chosen]
        values = [round(v, 4) if self.unit == "in" else round(v, 1) for v in values]
        return {f"{name} {place}": value for place, value in zip(chosen, values)}

    def diagonals(self, row: dict) -> dict:
        if not self.maybe(0.3):
            return {}
        width, height = (min(Fraction(str(v)) for k, v in row.items() if k.startswith(name)) for name in ("Width", "Height"))
        scale = 16 if self.unit == "in" else 1
        straight = Fraction(isqrt(int((width * width + height * height) * scale * scale)), scale)
        aside = Fraction(self.pick(0, 0, 1, 2, 3, 4, 6, 8, 12, 16), scale)
        if self.maybe(0.25):  # a lean of the clearance, or twice that, to the nanometer
            limit = self.pick(Fraction(1, 4), Fraction(1, 2)) * (1 if self.unit == "in" else Fraction("25.4"))
            return {"Diagonal 1": float(width + limit), "Diagonal 2": float(width - limit)}
        if straight <= aside + 1:
            return {}
        pair = {"Diagonal 1": float(straight), "Diagonal 2": float(straight + self.pick(1, -1) * aside)}
        if self.maybe(0.1):
            pair.pop("Diagonal 1")
        return pair

    def row(self, number: int, finished: bool) -> dict:
        row = {"Opening": f"X{number:03}", "Floor": str(self.random.randint(1, 3)),
               "Unit": f"{self.random.randint(1, 6):04}", "Room": self.pick("Hall", "Study", None),
               "Building": self.pick("East", "West", None), "Phase": self.pick(None, None, None, "First", "Second"),
               "Kind": self.pick(None, "patio door", "door", "window", "window"),
               "Quantity": self.pick(None, None, None, 1, 2, 3, 7)}
        row |= self.sizes(WIDTHS, "Width", ["top", "middle", "bottom"])
        row |= self.sizes(HEIGHTS, "Height", ["left", "middle", "right"])
        row |= self.diagonals(row)
        row |= {
            "Measured": self.pick(None, None, None, "tape", "typical", "drawing", "rough"),
            "Recess depth": self.near(DEPTHS, 0.8), "Depth to": self.pick(None, "glass", "frame", "handle"),
            "Handle": self.near(HANDLES, 0.5), "Trim": self.near(TRIMS, 0.4),
            "Wall left": self.near(WALLS, 0.6), "Wall right": self.near(WALLS, 0.6),
            "Wall above": self.near(ABOVE, 0.5), "Wall below": self.near(BELOW, 0.5),
            "Left ends at": self.pick(None, "free", "cupboard", "wall", "wall"),
            "Right ends at": self.pick(None, "free", "cupboard", "wall", "wall"),
            "Sill height": self.near(SILLS, 0.6),
            "Floor surface": self.pick(None, "hard", "carpet", "carpet", "unfinished"),
            "Floor to come": self.near(TO_COME, 0.4), "Header height": self.near(HEADERS, 0.4),
            "Header offset": self.near(OFFSETS, 0.3),
            "Mount": self.pick(None, "either", "outside", "outside", "inside"),
            "Product": self.pick(None, "louver-89", "louver-127"),
            "Color": self.pick(None, None, "white", "cream", "gray"),
            "Opening leaf": self.pick(None, "left", "right", "both", "none"),
            "Opens": self.pick(None, None, "slide", "slide", "in", "out", "tilt", "up"),
            "Draw": self.pick(None, None, "left", "right", "split"),
            "Control": self.pick(None, "wand", "wand", "wand", "motor"),
            "Substrate": self.pick(None, "wood", "stud wall", "drywall", "masonry", "concrete", "steel"),
            "Accessible": self.pick(None, None, "no"), "Escape": self.pick(None, None, "no"),
            "Note": self.pick(None, "as seen"),
        }
        if self.maybe(0.1 if finished else 0.25):
            tall = max(Fraction(str(v)) for k, v in row.items() if k.startswith("Height"))
            tall = tall if self.unit == "in" else tall / Fraction("25.4")
            beside = self.pick("-1", "-0.75", "-0.5", "-0.25", "0", "0.25", "1.5", "2", "5", "6", "8", "11.5", "14", "20")
            row["Drop wanted"] = self.written(tall + Fraction(beside))
        if finished and self.maybe(0.9):
            row["Mount"] = self.pick("inside", "outside")
        # An opening asked for with most of its surroundings blank is as common as a full one.
        if self.maybe(0.2):
            for name in self.random.sample(COLUMNS[18:], 20):
                row.pop(name, None)
        return row

    def headings(self) -> list[str]:
        return ["mm", "cm"] if self.unit == "in" else ["cm", "m", "in"]

    def respelled(self, value, heading: str | None):
        """The same length under a heading of another unit, or as text that names its own."""
        millimeter = {"mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000), "in": Fraction("25.4")}
        exact = Fraction(str(value)) * millimeter[self.unit]
        if self.maybe(0.06):
            unit = self.pick("mm", "cm", "in") if self.unit == "mm" else self.pick("in", "in", "mm")
            amount = exact / millimeter[unit]
            if unit == "in" and amount.denominator in (1, 2, 4, 8, 16, 32, 64):
                whole, part = divmod(amount, 1)
                text = f"{whole} {part}" if whole and part else str(whole or part)
                if whole >= 12 and self.maybe(0.3):
                    return f"{whole // 12}' {whole % 12}" + (f" {part}" if part else "") + '"'
                return self.pick(f'{text}"', f"{text} in", text.replace(" ", "-") + '"')
            text = str(float(amount))
            # Three places after a point could be thousands: a length with two readings is held.
            if unit != "in" and len(text.partition(".")[2]) != 3:
                return f"{text} {unit}"
        if heading is None:
            return value
        # Only what a cell can hold without loss is moved to another unit.
        moved = exact / millimeter[heading]
        return float(moved) if heading != "in" else f"{exact} mm" if exact.denominator == 1 else f"{float(exact):.6f} mm"

    def survey(self, path: Path, rows: int) -> None:
        book = openpyxl.Workbook()
        page = book.active
        page.title = "Project"
        finished = self.maybe(0.1)
        project = {"Project": "Sample block", "Units": self.unit, "Currency": "USD",
                   "Sizes given are": "finished" if finished else self.pick(None, "opening"),
                   "Floors finished": self.pick(None, "yes", "no", "mixed"),
                   "Ceiling height": self.near([84, 90, 96, 108, 120], 0.5),
                   "Cost basis": self.pick(None, "buy", "make", "make"), "Tax on": self.pick(None, "all", "materials"),
                   "Tax %": self.pick(None, 0.0825, 0.2), "Overhead %": self.pick(None, 0.09, 0.125),
                   "Profit %": self.pick(None, 0.1), "Contingency %": self.pick(None, 0.03),
                   "Labor rate": self.pick(None, 52.5, 41.37), "Spare louvers %": self.pick(None, 0, 0.03),
                   "Spare fixings %": self.pick(None, 0, 0.05, 0.1), "Stock sizes": "no", "Merge sizes": "no"}
        if self.sourcing == "yes":
            project["Stock sizes"] = self.pick("yes", "yes", "no")
            project["Merge sizes"] = self.pick("no", *map(self.written, (Fraction(1, 8), Fraction(1, 2), Fraction(1))))
        page.append(["Item", "Value"])
        for item, value in project.items():
            page.append([item, value])
            if item.endswith("%") and value is not None:
                page.cell(page.max_row, 2).number_format = "0.00%"
        table = book.create_sheet("Openings")
        table.append(COLUMNS)
        foreign = {name: self.pick(*self.headings()) for name in MEASURES if self.maybe(0.08)}
        for place, name in enumerate(COLUMNS, 1):
            if name in foreign:
                table.cell(1, place, f"{name} ({foreign[name]})")
        for number in range(1, rows + 1):
            row = self.row(number, finished)
            for name in MEASURES:
                if row.get(name) is not None:
                    row[name] = self.respelled(row[name], foreign.get(name))
            table.append([row.get(name) for name in COLUMNS])
        book.save(path)


def make(folder: Path, seed: int, rows: int = 40, sourcing: str = "no") -> Path:
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / f"survey-{seed:05}.xlsx"
    Maker(seed, sourcing).survey(path, rows)
    return path


if __name__ == "__main__":
    first = int(sys.argv[3]) if len(sys.argv) > 3 else 1
    for seed in range(first, first + int(sys.argv[2])):
        print(make(Path(sys.argv[1]), seed))
