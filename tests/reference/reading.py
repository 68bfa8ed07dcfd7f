"""Reads a survey workbook into `facts` and `lists`. Needs `pip install openpyxl`.

It reads what surveys usually hold, not every mess: a length it cannot read leaves the cell blank,
as the contract says of one bad measurement among several.
"""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace
from datetime import date, datetime
from decimal import Decimal
from fractions import Fraction

import openpyxl

from exact import INCH, MM, inches
from facts import Opening, Project
from lists import POUND_FORCE, Capacity, Fixing, Product

UNITS = {"mm": MM, "cm": 10 * MM, "m": 1000 * MM, "in": INCH, '"': INCH, "ft": 12 * INCH, "'": 12 * INCH}
VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
LEAST_SIZE, MOST_SIZE = 10 * MM, 30_000 * MM

LENGTHS = {"recess depth": "depth", "handle": "handle", "trim": "trim", "wall left": "wall_left",
           "wall right": "wall_right", "wall above": "wall_above", "wall below": "wall_below",
           "sill height": "sill", "floor to come": "to_come", "header height": "header",
           "header offset": "header_offset", "drop wanted": "drop_wanted", "casing width": "casing",
           "below stands out": "below_out", "board thickness": "board_thickness", "stud spacing": "stud_spacing",
           "first stud": "first_stud", "cord height": "cord_height", "escape clear width": "escape_width",
           "escape clear height": "escape_height"}
# The grid of studs goes on both ways, so that its first may lie left of the opening.
MAY_BE_NEGATIVE = {"first stud"}
CHOICES = {"kind": "kind", "measured": "measured", "depth to": "depth_to", "left ends at": "left_ends_at",
           "right ends at": "right_ends_at", "floor surface": "surface", "mount": "mount", "opening leaf": "leaf",
           "opens": "opens", "draw": "draw", "control": "control", "substrate": "substrate",
           "motor side": "motor_side", "blocking": "blocking", "slab": "slab", "species": "species",
           "accessible": "accessible", "escape": "escape", "cord device": "cord_device", "heater below": "heater"}
TEXTS = {"opening": "opening", "building": "building", "floor": "floor", "unit": "unit", "room": "room",
         "phase": "phase", "product": "product", "color": "color"}
WIDTHS = ("width", "width top", "width middle", "width bottom")
HEIGHTS = ("height", "height left", "height middle", "height right")
DIAGONALS = ("diagonal 1", "diagonal 2")


def number(text: str) -> Fraction | None:
    """`105.5`, `105 1/2`, `105-1/2`, `1/2`."""
    text = text.strip()
    if re.fullmatch(r"-?\d+(\.\d+)?", text):
        return Fraction(text)
    whole = re.fullmatch(r"(?:(\d+)[ -]+)?(\d+)/(\d+)", text)
    if whole and int(whole[3]):
        return Fraction(whole[1] or 0) + Fraction(int(whole[2]), int(whole[3]))
    return None


def length(value, unit: int) -> int | None:
    """A cell as nanometers; `unit` is the heading's or the project's. None if it cannot be read."""
    if value is None or isinstance(value, (bool, date, datetime)):
        return None
    if isinstance(value, (int, float)):
        return round(Fraction(Decimal(repr(value))) * unit)
    text = str(value).strip().lower()
    for sign, fraction in VULGAR.items():
        text = text.replace(sign, " " + fraction)
    feet = re.fullmatch(r"(\d+)\s*(?:'|ft)[ -]*(?:([\d ./-]+)\s*(?:\"|in))?", text)
    if feet:
        rest = number(feet[2]) if feet[2] else Fraction(0)
        return None if rest is None else round((int(feet[1]) * 12 + rest) * INCH)
    named = re.fullmatch(r"(.*?)\s*(mm|cm|m|in|\")", text)
    if named:
        text, unit = named[1], UNITS[named[2]]
    if unit == MM and re.fullmatch(r"\d{1,3}([, ]\d{3})+", text):
        text = re.sub("[, ]", "", text)
    if unit == UNITS["m"]:
        text = text.replace(",", ".")
    found = number(text)
    return None if found is None else round(found * unit)


def size(value, unit: int) -> int | None:
    """A width, height or diagonal: blank, zero, negative or out of all measure is none."""
    found = length(value, unit)
    return found if found is not None and LEAST_SIZE <= found <= MOST_SIZE else None


def headings(row, project_unit: int) -> dict[str, tuple[int, int]]:
    """Column name to its place and unit."""
    found = {}
    for place, cell in enumerate(row):
        if cell is None:
            continue
        text = re.fullmatch(r"(.*?)\s*(?:\((mm|cm|m|in)\))?", str(cell).strip().lower())
        found[text[1]] = (place, UNITS.get(text[2], project_unit))
    return found


def sheet(book, name: str):
    return next((ws for ws in book if ws.title.strip().lower() == name), None)


def read_project(book) -> tuple[Project, int]:
    items = {}
    page = sheet(book, "project")
    for row in page.iter_rows(min_row=1, max_col=2, values_only=True) if page else ():
        if row[0] is not None:
            items[str(row[0]).strip().lower()] = row[1]
    unit = str(items.get("units") or "in")
    project = Project(unit=unit, step=inches("1/8") if unit == "in" else MM)
    project.finished_sizes = items.get("sizes given are") == "finished"
    project.floors_finished = items.get("floors finished") or "mixed"
    project.ceiling = length(items.get("ceiling height"), UNITS[unit])
    project.stock = items.get("stock sizes") == "yes"
    project.merge = length(items.get("merge sizes"), UNITS[unit])
    project.basis = items.get("cost basis") or "buy"
    project.jurisdiction = items.get("jurisdiction")
    project.tax_on = items.get("tax on") or "all"
    shares = {"tax %": "tax", "overhead %": "overhead", "profit %": "profit", "contingency %": "contingency",
              "spare louvers %": "spare_louvers", "spare fixings %": "spare_fixings",
              "spare parts %": "spare_parts", "labor rate": "labor"}
    for item, name in shares.items():
        if items.get(item) is not None:
            setattr(project, name, Fraction(Decimal(repr(items[item]))))
    return project, UNITS[unit]


def rows_of(page, unit: int):
    """Rows after the heading, each as column name to (value, unit), with its row number."""
    columns = headings(next(page.iter_rows(values_only=True)), unit)
    merged = {}
    for block in page.merged_cells.ranges:
        for row in range(block.min_row, block.max_row + 1):
            merged[row, block.min_col - 1] = page.cell(block.min_row, block.min_col).value
    for at, row in enumerate(page.iter_rows(min_row=2, values_only=True), 2):
        values = {name: (row[place] if row[place] is not None else merged.get((at, place)), in_unit)
                  for name, (place, in_unit) in columns.items()}
        yield at, {name: pair for name, pair in values.items() if pair[0] is not None and str(pair[0]).strip()}


def mils(value) -> int:
    """`33 mil`."""
    return int(str(value).split()[0])


def capacity(value) -> Capacity | None:
    """`NDS`, `NDS lag`, `AISI, 33 mil`, or the working load in pounds-force or newtons."""
    text = "" if value is None else str(value).strip().lower()
    if not text:
        return None
    if text.startswith("nds"):
        return Capacity("lag" if "lag" in text else "screw")
    if text.startswith("aisi"):
        return Capacity("steel", mil=mils(text.split(",")[1].strip()))
    amount, unit = text.split()
    return Capacity("load", Fraction(amount) * (POUND_FORCE if unit == "lbf" else 1))


def read_lists(book, project: Project, unit: int) -> None:
    """`Fixings` replaces its list; `Products` and `Materials` go field by field."""
    def cell(cells: dict, name: str):
        return cells[name][0] if name in cells else None

    def measure(cells: dict, name: str):
        return length(*cells[name]) if name in cells else None

    def exact(value):
        return None if value is None else Fraction(Decimal(repr(value)))

    page = sheet(book, "fixings")
    if page:
        project.fixings = []
    for _, cells in rows_of(page, unit) if page else ():
        diameter = measure(cells, "diameter")
        project.fixings.append(Fixing(
            cell(cells, "item"), cell(cells, "substrate"), capacity(cell(cells, "capacity")),
            int(cell(cells, "pack of")), exact(cell(cells, "price")),
            None if diameter is None else Fraction(diameter, INCH), measure(cells, "length"),
            measure(cells, "thread length"), measure(cells, "edge"), measure(cells, "spacing")))
    page = sheet(book, "materials")
    for _, cells in rows_of(page, unit) if page else ():
        material = project.materials[cell(cells, "material")]
        fields = {"kerf": measure(cells, "kerf"), "trim": measure(cells, "end trim"), "hem": measure(cells, "hem"),
                  "mass": exact(cell(cells, "mass")),
                  "is_by_blind": {"pieces": False, "blinds": True}.get(cell(cells, "cut in"))}
        given = {name: value for name, value in fields.items() if value is not None}
        project.materials[material.name] = replace(material, **given)
    page = sheet(book, "products")
    for _, cells in rows_of(page, unit) if page else ():
        name = cell(cells, "product")
        base = project.products[cell(cells, "like") or name]
        project.products[name] = Product(name, base.louver, base.pitch,
                                         cell(cells, "louver material") or base.material)


def read(path) -> tuple[Project, list[Opening]]:
    book = openpyxl.load_workbook(path, data_only=True)
    project, unit = read_project(book)
    types_page = sheet(book, "types")
    types = {}
    for _, cells in rows_of(types_page, unit) if types_page else ():
        if "type" in cells:
            types[str(cells.pop("type")[0]).strip().lower()] = cells
    read_lists(book, project, unit)
    openings = []
    for at, cells in rows_of(sheet(book, "openings"), unit):
        shared = types.get(str(cells["type"][0]).strip().lower(), {}) if "type" in cells else {}
        # A single size and three sizes are the same field: the row's own of either kind stand alone.
        for names in (WIDTHS, HEIGHTS):
            if any(name in cells for name in names):
                shared = {name: pair for name, pair in shared.items() if name not in names}
        cells = {**shared, **cells}
        if not any(name in cells for name in WIDTHS + HEIGHTS):
            continue
        openings.append(read_row(f"Openings!A{at}", cells))
    keys = Counter((o.building, o.unit, o.opening) for o in openings if o.opening is not None)
    for o in openings:
        if keys[o.building, o.unit, o.opening] > 1:
            o.unreadable = "another row has the same key"
    return project, openings


def read_row(at: str, cells: dict) -> Opening:
    o = Opening(at)
    for heading, name in TEXTS.items():
        if heading in cells:
            value = cells[heading][0]
            if isinstance(value, (date, datetime)):
                o.unreadable = f"{heading} holds a date"
            setattr(o, name, str(value).strip())
    o.product = o.product.lower()
    for heading, name in CHOICES.items():
        if heading in cells:
            setattr(o, name, str(cells[heading][0]).strip().lower())
    for heading, name in LENGTHS.items():
        if heading in cells:
            found = length(*cells[heading])
            if found is not None and found < 0 and heading not in MAY_BE_NEGATIVE:
                o.unreadable = f"{heading} is negative"
            if heading.startswith("escape clear") and found is not None and not LEAST_SIZE <= found <= MOST_SIZE:
                o.unreadable = f"{heading} is no size"
            setattr(o, name, found)
    if "quantity" in cells:
        o.quantity = int(cells["quantity"][0])
    if "board layers" in cells:
        o.board_layers = int(cells["board layers"][0])
    if "steel thickness" in cells:
        o.steel_mil = mils(cells["steel thickness"][0])
    o.widths, o.heights, o.diagonals = ([found for name in names if name in cells
                                         and (found := size(*cells[name])) is not None]
                                        for names in (WIDTHS, HEIGHTS, DIAGONALS))
    return o
