"""A second calculation of `Cost summary`, in exact fractions, from the quantities and rates that
stand in its cells.

It knows the sheet by its headings and words alone, and reads no formula. What a formula's own constants
say (how many openings lack a price) is taken from what was stored when nothing was changed.
"""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction

UNKNOWN = "unknown"
MARKUPS = ["overhead", "profit", "contingency"]
MATERIALS = ["blinds", "discount", "parts"]
# Common practice, no source.
HOURS_A_DAY = 8
# The unit of a line whose rate is an hour's.
HOURS = "h"
LABOR, DISCOUNT, SPARE, MADE = "labor rate", "discount on blinds", "spare louver", "made-to-measure blind"


def exact(value) -> Fraction | None:
    """A stored number as it was written; None for a word or nothing."""
    return Fraction(Decimal(repr(value))) if isinstance(value, (int, float)) else None


def rounded(value: Fraction, decimals: int) -> Fraction:
    """Half away from zero."""
    scaled = abs(value) * 10**decimals
    whole = (2 * scaled.numerator + scaled.denominator) // (2 * scaled.denominator)
    return Fraction(whole if value >= 0 else -whole, 10**decimals)


def known(parts) -> Fraction:
    return sum((part for part in parts if part is not None), Fraction(0))


class Line:
    def __init__(self, row, section, item, quantity, unit, basis, taxable):
        self.row, self.section, self.item, self.unit, self.basis = row, section, item, unit, basis
        self.quantity, self.taxable = quantity, taxable
        self.rate = self.amount = None
        self.is_own = True  # its rate is a cell to type in

    @property
    def in_one(self) -> Fraction:
        """Pieces of a pack, meters of a bar."""
        size = re.search(r"(?:packs of|bars of|rolls of|lengths of|pieces /) ([\d.]+)", self.basis or "")
        return Fraction(size[1]) if size else Fraction(1)


class Sums:
    """What every live cell should show: `cells` by sheet and coordinate. `stored` is the same workbook as it
    was written, with results."""

    def __init__(self, book, stored, decimals: int = 2):
        self.book, self.sheet, self.decimals = book, book["Cost summary"], decimals
        self.stored = stored
        self.cells: dict[tuple[str, str], Fraction | str | None] = {}
        self.find_columns()
        self.read_lines()
        self.work_out_rates()
        self.work_out_sums()
        self.work_out_missing()
        self.work_out_places()
        self.work_out_summary()

    def find_columns(self) -> None:
        for row in self.sheet.iter_rows(max_row=30):
            if row[1].value == "Item":
                self.top = row[0].row
                self.columns = {str(cell.value).split(" (")[0]: cell.column_letter for cell in row if cell.value}
                return
        raise SystemExit("Cost summary has no heading Item")

    def at(self, name: str, row: int):
        return self.sheet[f"{self.columns[name]}{row}"].value

    def put(self, name: str, row: int, value) -> None:
        self.cells["Cost summary", f"{self.columns[name]}{row}"] = value

    def was(self, sheet: str, at: str):
        return self.stored[sheet][at].value

    def read_lines(self) -> None:
        self.inputs, self.lines, self.sections, self.rows = {}, [], {}, {}
        row, sums = self.top, ["subtotal", "tax", "total"]
        while sums:
            row += 1
            section = self.at("Section", row)
            if section == "input":
                name = (self.at("Item", row), self.at("Counted in", row).removeprefix("per "))
                self.inputs[name] = (row, exact(self.at("Rate", row)))
            elif self.at("Taxable", row) in ("yes", "no"):
                item, unit = self.at("Item", row), self.at("Counted in", row)
                quantity = exact(self.at("Minutes" if unit == HOURS else "Quantity", row))
                taxable = self.at("Taxable", row) == "yes"
                line = Line(row, section, item, quantity, unit, self.at("Basis", row), taxable)
                self.lines.append(line)
            elif section:
                self.sections[section] = row
            else:
                self.rows[sums.pop(0)] = row

    def input_named(self, item: str, unit: str | None = None) -> Fraction | None:
        found = [value for (name, of), (_, value) in self.inputs.items() if name == item and unit in (None, of)]
        assert len(found) == 1, (item, unit, list(self.inputs))
        return found[0]

    def made_of(self, line: Line):
        """The rate of a line that is made of inputs; `...` if it stands for itself."""
        if line.unit == HOURS:
            return self.input_named(LABOR)
        if line.section == "discount":
            share = self.input_named(DISCOUNT)
            return None if share is None else -share
        area = re.search(r"per m2 x ([\d.]+) m2", line.basis or "")
        if area:
            product = line.item.split(": ")[1].split(" ")[0]
            names = {name for name, _ in self.inputs}
            name = f"{MADE}, {product}" if f"{MADE}, {product}" in names else MADE
            each, per_m2 = self.input_named(name, "each"), self.input_named(name, "m2")
            if each is None or per_m2 is None:
                return None
            return rounded(each + per_m2 * Fraction(area[1]), self.decimals)
        if (line.basis or "").startswith("price of stock size"):
            return self.input_named(line.basis.removeprefix("price of "))
        if line.item.startswith(f"{SPARE},"):
            each = self.input_named(SPARE)
            return None if each is None else rounded(each, self.decimals)
        wand = re.fullmatch(r"wand (.+) (in|mm)", line.item)
        if wand and line.unit == "pack":
            (name, _), (_, each) = next(it for it in self.inputs.items() if it[0][0].startswith("wand, each "))
            step = Fraction(name.split(" ")[2]) * (Fraction(254, 10) if name.endswith(" in") else 1)
            length = Fraction(wand[1]) * (Fraction(254, 10) if wand[2] == "in" else 1)
            return None if each is None else rounded(each * length / step * line.in_one, self.decimals)
        long = re.search(r", ([^,]+ long)", line.item)
        if line.section == "parts" and long:
            material = line.item.split(",")[0]
            wanted = [name for name, _ in self.inputs if name.endswith(f", {long[1]}")]
            # The longest name: `pvc-89` is not `pvc`.
            names = [name for name in wanted if f"{material} ".startswith(name.split(",")[0] + " ")]
            return self.input_named(max(names, key=len))
        return ...

    def work_out_rates(self) -> None:
        for line in self.lines:
            made = self.made_of(line)
            line.is_own = made is ...
            line.rate = exact(self.at("Rate", line.row)) if line.is_own else made
            if not line.is_own:
                self.put("Rate", line.row, line.rate)

    def work_out_sums(self) -> None:
        for line in self.lines:
            if line.section in MARKUPS:
                below = MARKUPS[MARKUPS.index(line.section) :]
                line.quantity = known(other.amount for other in self.lines if other.section not in below)
            if line.section == "discount":
                line.quantity = known(other.amount for other in self.lines if other.section == "blinds")
            if line.section in MARKUPS + ["discount"]:
                self.put("Quantity", line.row, line.quantity)
            if line.unit == HOURS:
                self.put("Quantity", line.row, None if line.quantity is None else line.quantity / 60)
            if line.quantity is not None and line.rate is not None:
                hours = 60 if line.unit == HOURS else 1
                line.amount = rounded(line.quantity * line.rate / hours, self.decimals)
            self.put("Amount", line.row, line.amount)
        for section, row in self.sections.items():
            amounts = [line.amount for line in self.lines if line.section == section]
            self.name(row, amounts, f"total {section}", f"{section} known so far")
            self.put("Amount", row, known(amounts))
        amounts = [line.amount for line in self.lines]
        taxable = [line.amount for line in self.lines if line.taxable]
        self.subtotal = known(amounts)
        self.tax_rate = exact(self.at("Rate", self.rows["tax"]))
        self.tax = rounded(known(taxable) * self.tax_rate, self.decimals)
        self.total = self.subtotal + self.tax
        self.is_known = None not in amounts
        self.is_tax_known = None not in taxable
        self.put("Quantity", self.rows["tax"], known(taxable))
        for name, amount, of, total, so_far in [
            ("subtotal", self.subtotal, amounts, "SUBTOTAL before tax", "KNOWN SO FAR before tax"),
            ("tax", self.tax, taxable, "tax", "tax on what is known"),
            ("total", self.total, amounts, "TOTAL", "KNOWN SO FAR"),
        ]:
            self.name(self.rows[name], of, total, so_far)
            self.put("Amount", self.rows[name], amount)

    def name(self, row: int, amounts, all_known: str, so_far: str) -> None:
        self.put("Item", row, so_far if None in amounts else all_known)

    def lines_lacking(self, what: str) -> list[Line]:
        """The lines that a row of NOT IN TOTAL speaks of."""
        if what.startswith("fixings not chosen"):
            return [line for line in self.lines if line.item == "fixings not chosen"]
        name = re.sub(r" has no (price|rate)$", "", what)
        if name.startswith(f"{MADE} of "):
            product = name.removeprefix(f"{MADE} of ")
            return [line for line in self.lines
                    if "per m2" in line.basis and f": {product} " in line.item and line.section == "blinds"]
        if name.startswith("stock size "):
            return [line for line in self.lines if line.basis == f"price of {name}"]
        if name.endswith(" long,"):
            material, long = name.removesuffix(",").split(", ")
            return [line for line in self.lines if line.section == "parts"
                    and f"{line.item} ".startswith(material) and f", {long}" in line.item]
        return [line for line in self.lines
                if re.match(re.escape(name) + r"($|,| )", line.item) and line.section != "input"]

    def work_out_missing(self) -> None:
        """Rows of NOT IN TOTAL: 0 and "in the total now" once every price of theirs is filled in."""
        self.held, self.lacking = 0, []
        row = self.rows["total"] + 1
        while self.at("Section", row) != "NOT IN TOTAL":
            row += 1
            if row > self.rows["total"] + 3:
                return
        row += 2
        while self.at("Item", row):
            number = self.was("Cost summary", f"{self.columns['Quantity']}{row}")
            what = self.at("Item", row).split(": ")[0]
            lines = [] if what == "held openings" else self.lines_lacking(what)
            assert lines or what == "held openings", what
            lacks = not lines or any(line.amount is None for line in lines)
            if what == "held openings":
                self.held = number
            self.lacking.append(lacks)
            self.put("Section", row, "not in total" if lacks else "in the total now")
            self.put("Quantity", row, number if lacks else Fraction(0))
            if isinstance(allowance := self.was("Cost summary", f"{self.columns['Rate']}{row}"), (int, float)):
                self.put("Rate", row, exact(allowance) if lacks else Fraction(0))
            row += 1

    def work_out_places(self) -> None:
        """The tables of what each place bears, from the quantities to their right."""
        markup = Fraction(1)
        for line in self.lines:
            if line.section in MARKUPS:
                markup *= 1 + line.rate
        totals = [
            known(line.amount for line in self.lines if line.section not in MARKUPS),
            known(line.amount for line in self.lines if line.section in MARKUPS),
            self.tax,
        ]
        is_on_all = all(line.taxable for line in self.lines)
        discount = known(line.rate for line in self.lines if line.section == "discount")
        lines = {line.row: line for line in self.lines}
        self.places: dict[str, list[Fraction]] = {}
        beside, shown = [], [Fraction(0)] * 3
        bears_in = ["F", "G", "H", "I"]
        for row in self.sheet.iter_rows(min_row=self.rows["total"] + 1):
            number = row[0].row
            names = [cell for cell in row if isinstance(cell.value, str) and re.fullmatch(r"row \d+", cell.value)]
            if names:
                beside = []
                for cell in names:
                    line = lines[int(cell.value[4:])]
                    each = None if line.rate is None else line.rate / line.in_one
                    if each is not None and line.section == "blinds":
                        each *= 1 + discount
                    beside.append((cell.column_letter, line, each))
                    self.cells["Cost summary", f"{cell.column_letter}{number + 2}"] = each
            by, name = row[0].value, row[1].value
            if not (isinstance(by, str) and by.startswith("by ") and beside):
                shown = [Fraction(0)] * 3
                continue
            if name == "all together":
                bears = totals
            elif name == "whole project":
                bears = [total - part for total, part in zip(totals, shown)]
            else:
                parts = []
                for letter, line, each in beside:
                    part = exact(self.sheet[f"{letter}{number}"].value)
                    if part is not None and each is not None:
                        parts.append((line, part * each / (60 if line.unit == HOURS else 1)))
                direct = rounded(sum((part for _, part in parts), Fraction(0)), self.decimals)
                comes_on = rounded(direct * (markup - 1), self.decimals)
                materials = sum((part for line, part in parts if line.section in MATERIALS), Fraction(0))
                taxed = direct + comes_on if is_on_all else materials
                bears = [direct, comes_on, rounded(taxed * self.tax_rate, self.decimals)]
                shown = [before + part for before, part in zip(shown, bears)]
                blinds = exact(self.at("Quantity", number))
                if blinds:
                    self.put("Rate", number, rounded(sum(bears) / blinds, self.decimals))
                self.places[f"{by} {name}"] = bears + [sum(bears)]
            for letter, amount in zip(bears_in, bears + [sum(bears)]):
                self.cells["Cost summary", f"{letter}{number}"] = amount

    def work_out_summary(self) -> None:
        minutes = [line.quantity for line in self.lines if line.section == "fitting" and line.unit == HOURS]
        work = None if None in minutes else sum(minutes, Fraction(0))
        currency = next(cell.value for cell in self.sheet[self.top] if str(cell.value).startswith("Rate (")).split(" ")[1]
        facts = [
            ("Subtotal", "Subtotal, known so far", self.subtotal, self.is_known),
            ("Tax", "Tax on what is known", self.tax, self.is_tax_known),
            ("Total", "KNOWN SO FAR", self.total, self.is_known),
        ]
        for row in self.book["Summary"].iter_rows():
            cells = [cell for cell in row if cell.value is not None]
            for cell, figure in zip(cells, cells[1:]):
                name, was = str(cell.value), str(self.was("Summary", cell.coordinate))
                value = ...
                for all_known, so_far, amount, is_all in facts:
                    if was in (f"{all_known} {currency}", f"{so_far} {currency}"):
                        self.cells["Summary", cell.coordinate] = f"{all_known if is_all else so_far} {currency}"
                        value = amount
                if name.startswith("Fitting days, "):
                    people = int(name.split(", ")[1].split(" ")[0])
                    value = None if work is None else rounded(work / 60 / HOURS_A_DAY / people, 1)
                if name == "Openings not wholly in the total":
                    stored = self.was("Summary", figure.coordinate)
                    # Where some prices are filled in, which openings still lack one is not told here.
                    some = any(self.lacking) and not all(self.lacking)
                    value = range(self.held, stored + 1) if some else stored if any(self.lacking) else 0
                if value is not ...:
                    self.cells["Summary", figure.coordinate] = value
            # The table of floors repeats what they bear.
            bears = self.places.get(f"by floor {cells[0].value}") if cells else None
            if bears is not None and len(cells) == 4 and str(cells[2].value).startswith("='Cost summary'!"):
                self.cells["Summary", cells[2].coordinate] = bears[0]
                self.cells["Summary", cells[3].coordinate] = bears[3]
