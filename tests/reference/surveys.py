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

import lists
from exact import MM

COLUMNS = ["Opening", "Building", "Floor", "Unit", "Room", "Phase", "Kind", "Quantity", "Width", "Width top",
           "Width middle", "Width bottom", "Height", "Height left", "Height middle", "Height right", "Diagonal 1",
           "Diagonal 2", "Recess depth", "Handle", "Trim", "Casing width", "Wall left", "Wall right", "Wall above",
           "Wall below", "Below stands out", "Sill height", "Floor to come", "Header height", "Header offset",
           "Board thickness", "Stud spacing", "First stud", "Drop wanted", "Escape clear width",
           "Escape clear height", "Measured", "Depth to", "Left ends at", "Right ends at", "Floor surface", "Mount",
           "Board layers", "Blocking", "Product", "Color", "Opening leaf", "Opens", "Draw", "Control", "Motor side",
           "Substrate", "Species", "Steel thickness", "Slab", "Heater below", "Accessible", "Escape", "Note"]

MEASURES = COLUMNS[COLUMNS.index("Width"):COLUMNS.index("Measured")]
SURROUNDINGS = [name for name in COLUMNS[COLUMNS.index("Recess depth"):] if name not in ("Mount", "Substrate")]

# Where the rules change their mind, in inches.
WIDTHS = [8, 10, 12, 12.5, 16, 24, 36, 39, 40, 48, 60, 70, 72, 96, 96.5, 104, 106, 108, 130, 140, 150, 170, 188, 189.5,
          190, 192]
HEIGHTS = [8, 12, 12.5, 13, 36, 48, 60, 66, 72, 72, 78, 80, 80, 84, 96, 110, 120, 132, 136, 144]
DEPTHS = [0, 0.5, 1, 2, 2.5, 3, 3.5, 3.75, 4, 4.75, 6, 8]
HANDLES = [0, 0.5, 0.875, 1, 1.5, 2, 2.375, 2.5, 3.875]
TRIMS = [0, 0.5, 0.625, 0.75, 0.875, 1.625, 2, 2.375, 3.125]
CASINGS = [0, 0.5, 0.75, 2.25, 2.5, 3, 3, 3.5, 4, 5.5, 8, 9.5]
WALLS = [0, 0.25, 0.375, 0.875, 1, 1.25, 1.375, 1.5, 2, 2.25, 2.375, 2.5, 4, 4.375, 5, 6, 20]
ABOVE = [1, 1.5, 3, 3.125, 3.25, 3.375, 3.5, 4, 4, 6, 6.5, 6.75, 7, 7, 8, 8, 12, 12.75, 14, 14, 30]
BELOW = [0, 0.5, 1, 1.25, 1.5, 1.625, 2, 2.5, 3, 10]
STANDS_OUT = [0, 0.5, 0.875, 1.25, 2.375, 3.875, 6, 20, 24]
SILLS = [0, 0.5, 1, 1.5, 2, 2.5, 2.75, 3, 6, 6.125, 20, 30, 36, 44, 48, 60, 72]
TO_COME = [0, 0.25, 0.375, 0.5, 0.75, 1, 2]
# What no wall has; up to there it is taken.
IMPLAUSIBLE = {"Recess depth": 24, "Handle": 8, "Trim": 4, "Floor to come": 6}
HEADERS = [0, 2.25, 2.5, 3.5, 5.5, 6.5, 7.25, 9.25, 11.25]
OFFSETS = [0, 0.375, 0.5, 1, 1.25, 2, 3, 4.5, 8, 9.5, 10]
BOARDS = [0.375, 0.4375, 0.5, 0.625, 1.1875, 1.25]
STUDS = [Fraction(inches) for inches in (12, 16, 16, 16, 24, 24, 34, 40)] + [Fraction("19.2")]
FIRST_STUDS = [-24, -16, -8, -4, -2, -0.75, 0, 0.75, 1.5, 4, 8, 12, 15.25]
ESCAPES = [18, 20, 20, 24, 28, 34.25, 41.0625, 48]
SPECIES = ["spruce-pine-fir", "douglas fir-larch", "southern pine", "hem-fir", "red oak", "western woods"]
STEEL = ["18 mil", "27 mil", "33 mil", "43 mil"]
PRODUCTS = ["louver-89", "louver-127"]
FIXING_HEADINGS = ["Item", "Substrate", "Diameter", "Length", "Thread length", "Capacity", "Pack of", "Price", "Edge",
                   "Spacing"]
MATERIAL_HEADINGS = ["Material", "Hem", "Mass", "Kerf", "End trim", "Comes in colors", "Cut in"]
PVC = {"pvc-89": "louver-89", "pvc-127": "louver-127"}


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

    def aside(self, limits):
        """A length on a limit or beside it, to the left of 0 as well."""
        value = Fraction(str(self.random.choice(limits))) + Fraction(self.pick(0, 0, 1, -1), 16)
        return float(value) if self.unit == "in" else round(value * Fraction("25.4"))

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
            "Handle": self.near(HANDLES, 0.5), "Trim": self.near(TRIMS, 0.5), "Casing width": self.near(CASINGS, 0.4),
            "Below stands out": self.near(STANDS_OUT, 0.5),
            "Wall left": self.near(WALLS, 0.6), "Wall right": self.near(WALLS, 0.6),
            "Wall above": self.near(ABOVE, 0.45), "Wall below": self.near(BELOW, 0.5),
            "Left ends at": self.pick(None, "free", "cupboard", "wall", "wall"),
            "Right ends at": self.pick(None, "free", "cupboard", "wall", "wall"),
            "Sill height": self.near(SILLS, 0.6),
            "Floor surface": self.pick(None, "hard", "carpet", "carpet", "unfinished"),
            "Floor to come": self.near(TO_COME, 0.4), "Header height": self.near(HEADERS, 0.4),
            "Header offset": self.near(OFFSETS, 0.3),
            "Board layers": self.pick(None, None, 1, 2), "Board thickness": self.near(BOARDS, 0.4),
            "Stud spacing": self.pick(0, *map(self.written, STUDS)) if self.maybe(0.45) else None,
            "First stud": self.aside(FIRST_STUDS) if self.maybe(0.8) else None,
            "Blocking": self.pick(None, None, None, None, "no", "yes"),
            "Mount": self.pick(None, "either", "outside", "outside", "inside", "ceiling"),
            "Product": self.pick(None, *self.products),
            "Color": self.pick(None, None, "white", "cream", "gray"),
            "Opening leaf": self.pick(None, "left", "right", "both", "none"),
            "Opens": self.pick(None, None, "slide", "slide", "in", "out", "tilt", "up"),
            "Draw": self.pick(None, None, "left", "right", "split"),
            "Control": self.pick(None, "wand", "wand", "wand", "wand", "motor", "motor", "cord") if self.maybe(0.4) else None,
            "Motor side": self.pick(None, "left", "right"),
            "Substrate": self.pick(None, "wood", "stud wall", "stud wall", "stud wall", "drywall", "drywall", "masonry",
                                   "concrete", "steel"),
            "Species": self.pick(None, None, *SPECIES), "Steel thickness": self.pick(None, None, *STEEL),
            "Slab": self.pick(None, None, None, None, "plain", "cleared", "cleared", "tensioned"),
            "Heater below": self.pick(None, None, "no", "yes"),
            "Accessible": self.pick(None, None, "no", "yes"), "Escape": self.pick(None, None, "no", "yes"),
            "Escape clear width": self.near(ESCAPES, 0.6), "Escape clear height": self.near(ESCAPES, 0.6),
            "Note": self.pick(None, "as seen"),
        }
        if self.maybe(0.2):
            row |= self.heavy(row)
        if self.maybe(0.03):
            row |= self.low_rail()
        if self.maybe(0.06):
            name = self.pick(*IMPLAUSIBLE)
            row[name] = self.near([IMPLAUSIBLE[name]])
        if self.maybe(0.1 if finished else 0.18):
            tall = max(Fraction(str(v)) for k, v in row.items() if v and k.startswith("Height"))
            tall = tall if self.unit == "in" else tall / Fraction("25.4")
            beside = self.pick("-1", "-0.75", "-0.5", "-0.25", "0", "1.5", "2", "3", "5", "6", "8", "11.5", "14", "20")
            row["Drop wanted"] = self.written(tall + Fraction(beside))
        if finished and self.maybe(0.9):
            row["Mount"] = self.pick("inside", "outside")
        # An opening asked for with most of its surroundings blank is as common as a full one.
        if self.maybe(0.5):
            for name in self.random.sample(SURROUNDINGS, 26):
                row.pop(name, None)
        return row

    # Rule sheets, each in some surveys alone.

    def rule_sheets(self, book) -> None:
        self.products = PRODUCTS
        if self.maybe(0.5):
            self.products = PRODUCTS + list(PVC)
            page = book.create_sheet("Products")
            page.append(["Product", "Like", "Louver material"])
            for name, like in PVC.items():
                page.append([name, like, name])
        if self.maybe(0.3):
            page = book.create_sheet("Materials")
            page.append(MATERIAL_HEADINGS)
            for material in lists.MATERIALS.values():
                page.append(self.material(material))
        if self.maybe(0.4):
            page = book.create_sheet("Fixings")
            page.append(FIXING_HEADINGS)
            for row in self.fixings():
                page.append(row)

    def material(self, material: lists.Material) -> list:
        """The built-in row, with a hem, a kerf and a mass of its own at times; rolls cut in pieces at times."""
        hem = self.pick(material.hem, material.hem, 30 * MM, 0) if material.hem else 0
        kerf = self.pick(material.kerf, material.kerf, 4 * MM) if material.kerf else 0
        mass = float(material.mass * self.pick(1, 1, 2))
        return [material.name, f"{hem // MM} mm" if hem % MM == 0 else f"{hem / MM} mm", mass or None,
                f"{kerf // MM} mm", f"{self.pick(10, 10, 15)} mm", "yes" if material.is_colored else "no",
                "blinds" if material.is_by_blind and not self.maybe(0.2) else "pieces"]

    def fixings(self) -> list[list]:
        """For each substrate one to three, some of them short, dear, of unknown capacity or far from any edge."""
        rows = []
        for substrate in ("wood", "steel", "drywall", "concrete", "masonry"):
            for number in range(self.pick(1, 1, 2, 3)):
                name = f"{substrate} fixing {number + 1}"
                edge = self.pick(None, None, None, "1 in", "2 1/2 in", "4 in")
                spacing = self.pick(None, None, "0 in", "1 in", "1 1/16 in", "3 in")
                price = self.pick(None, 4, 7.5, 12, 18)
                diameter = self.pick("0.138 in", "0.164 in", "0.190 in", "1/4 in")
                length, thread = self.pick(("1 1/4 in", "3/4 in"), ("1 3/4 in", "1 in"), ("2 1/2 in", "1 1/2 in"),
                                           ("3 in", "2 in"))
                if substrate == "wood":
                    capacity = "NDS"
                elif substrate == "steel":
                    capacity, thread = self.pick("AISI, 33 mil", "AISI, 43 mil"), None
                else:
                    capacity = self.pick(None, "6 lbf", "12 lbf", "30 lbf", "80 lbf", "250 N", "1500 N")
                    thread = None
                rows.append([name, substrate, diameter, length, thread, capacity, self.pick(20, 100), price, edge,
                             spacing])
        return rows

    def heavy(self, row: dict) -> dict:
        """A wide blind far from its wall, which asks much of its fixings."""
        wide = {name: None for name in row if name.startswith("Width")}
        wide["Width"] = self.near([84, 106, 120, 130, 140, 150, 170, 184])
        aside = {name: None for name in ("Trim", "Casing width", "Recess depth", "Handle", "Header height")}
        on_board = {"Substrate": self.pick("drywall", "stud wall"), "Blocking": None, "Stud spacing": None}
        return wide | aside | (on_board if self.maybe(0.4) else {}) | {
            "Mount": self.pick("outside", "outside", "outside", "outside", "ceiling"),
            "Wall above": self.near([4, 8, 12, 14], 0.6), "Product": self.products[-1] if self.maybe(0.4) else None,
            "Trim": self.near([0.875, 1.625, 2, 2.5, 3.125]),
            "Diagonal 1": None, "Diagonal 2": None, "Height": row.get("Height") or self.near([72, 80, 96, 120, 132]),
            "Draw": self.pick("split", row.get("Draw")), "Casing width": self.near([2.5, 3, 4], 0.2),
            "Header height": self.near([0, 2.5, 7.25], 0.2)}

    def low_rail(self) -> dict:
        """A door whose wanted drop leaves its rail hardly above the head, where a leaf may hit it."""
        sizes = {name: None for name in COLUMNS[COLUMNS.index("Height"):COLUMNS.index("Recess depth")]}
        aside = {name: None for name in ("Sill height", "Floor to come", "Casing width", "Wall above", "Trim", "Handle")}
        return sizes | aside | {"Kind": "door", "Height": self.written(Fraction(80)), "Mount": "outside",
                                "Opens": self.pick("in", "tilt", "slide"), "Floor surface": "hard",
                                "Drop wanted": self.written(80 + self.pick(Fraction(7, 4), Fraction(15, 8), Fraction(2)))}

    def headings(self) -> list[str]:
        return ["mm", "cm"] if self.unit == "in" else ["cm", "m", "in"]

    def respelled(self, value, heading: str | None):
        """The same length under a heading of another unit, or as text that names its own."""
        millimeter = {"mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000), "in": Fraction("25.4")}
        exact = Fraction(str(value)) * millimeter[self.unit]
        if exact > 0 and self.maybe(0.06):
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
                   "Ceiling height": self.near([90, 96, 108, 120, 144], 0.3),
                   "Cost basis": self.pick(None, "buy", "make", "make"), "Tax on": self.pick(None, "all", "materials"),
                   "Tax %": self.pick(None, 0.0825, 0.2), "Overhead %": self.pick(None, 0.09, 0.125),
                   "Profit %": self.pick(None, 0.1), "Contingency %": self.pick(None, 0.03),
                   "Labor rate": self.pick(None, 52.5, 41.37), "Spare louvers %": self.pick(None, 0, 0.03),
                   "Spare fixings %": self.pick(None, 0, 0.05, 0.1), "Spare parts %": self.pick(None, 0, 0.05),
                   "Jurisdiction": self.pick(None, "US", "US", "CA"), "Stock sizes": "no", "Merge sizes": "no"}
        if self.sourcing == "yes":
            project["Stock sizes"] = self.pick("yes", "yes", "no")
            project["Merge sizes"] = self.pick("no", *map(self.written, (Fraction(1, 8), Fraction(1, 2), Fraction(1))))
        self.rule_sheets(book)
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
