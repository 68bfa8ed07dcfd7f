"""A second calculation of `Cost summary`, in exact fractions, from the quantities and rates that
stand in its cells.

It knows the sheet by its headings and words alone, and reads no formula.
"""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

UNKNOWN = "unknown"
MARKUPS = ["overhead", "profit", "contingency"]
# Common practice, no source.
HOURS_A_DAY = 8
# The unit of a line whose rate is an hour's.
MINUTES = "min, rate per hour"


def exact(value) -> Fraction | None:
    """A stored number as it was written; None for a word or nothing."""
    return Fraction(Decimal(repr(value))) if isinstance(value, (int, float)) else None


def rounded(value: Fraction, decimals: int) -> Fraction:
    """Half away from zero."""
    scaled = abs(value) * 10**decimals
    whole = (2 * scaled.numerator + scaled.denominator) // (2 * scaled.denominator)
    return Fraction(whole if value >= 0 else -whole, 10**decimals)


def total(parts) -> Fraction | None:
    """The sum, or None if a part is unknown."""
    parts = list(parts)
    return None if any(part is None for part in parts) else sum(parts, Fraction(0))


def known(parts) -> Fraction:
    return sum((part for part in parts if part is not None), Fraction(0))


class Line:
    def __init__(self, row, section, item, quantity, unit, rate, taxable):
        self.row, self.section, self.item, self.unit = row, section, item, unit
        self.quantity, self.rate, self.taxable = quantity, rate, taxable
        self.amount = None


class Sums:
    """What every live cell should show: `cells` by sheet and coordinate, None for the word."""

    def __init__(self, book, decimals: int = 2):
        self.book, self.sheet, self.decimals = book, book["Cost summary"], decimals
        self.cells: dict[tuple[str, str], Fraction | None] = {}
        self.find_columns()
        self.read_lines()
        self.work_out_sums()
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

    def put(self, name: str, row: int, value: Fraction | None) -> None:
        if name in self.columns:
            self.cells["Cost summary", f"{self.columns[name]}{row}"] = value

    def read_lines(self) -> None:
        self.lines, self.sections, self.rows = [], {}, {}
        row = self.top
        while "TOTAL" not in self.rows:
            row += 1
            section, item = self.at("Section", row), self.at("Item", row)
            if self.at("Taxable", row) in ("yes", "no"):
                quantity = None if section in MARKUPS else exact(self.at("Quantity", row))
                rate, taxable = exact(self.at("Rate", row)), self.at("Taxable", row) == "yes"
                self.lines.append(Line(row, section, item, quantity, self.at("Counted in", row), rate, taxable))
            elif section:
                self.sections[section] = row
            else:
                self.rows[item.split(" ")[0]] = row

    def work_out_sums(self) -> None:
        for line in self.lines:
            if line.section in MARKUPS:
                below = MARKUPS[MARKUPS.index(line.section) :]
                line.quantity = total(other.amount for other in self.lines if other.section not in below)
                self.put("Quantity", line.row, line.quantity)
            if line.quantity is not None and line.rate is not None:
                hours = 60 if line.unit == MINUTES else 1
                line.amount = rounded(line.quantity * line.rate / hours, self.decimals)
            self.put("Amount", line.row, line.amount)
        for section, row in self.sections.items():
            amounts = [line.amount for line in self.lines if line.section == section]
            self.put("Amount", row, total(amounts))
            self.put("Known part", row, known(amounts))
        amounts = [line.amount for line in self.lines]
        self.subtotal, self.known_subtotal = total(amounts), known(amounts)
        base = total(line.amount for line in self.lines if line.taxable)
        rate = exact(self.at("Rate", self.rows["tax"]))
        self.tax = None if base is None or rate is None else rounded(base * rate, self.decimals)
        self.total = total([self.subtotal, self.tax])
        self.put("Quantity", self.rows["tax"], base)
        for name, amount, part in [
            ("SUBTOTAL", self.subtotal, self.known_subtotal),
            ("tax", self.tax, known([self.tax])),
            ("TOTAL", self.total, self.known_subtotal + known([self.tax])),
        ]:
            self.put("Amount", self.rows[name], amount)
            self.put("Known part", self.rows[name], part)

    def work_out_places(self) -> None:
        """The tables of where the direct cost lies, from the quantities to their right."""
        direct = known(line.amount for line in self.lines if line.section not in MARKUPS)
        lines = {line.row: line for line in self.lines}
        self.places: dict[str, Fraction] = {}
        beside, shown = [], Fraction(0)
        for row in self.sheet.iter_rows(min_row=self.rows["TOTAL"] + 1):
            number = row[0].row
            names = [cell for cell in row if isinstance(cell.value, str) and cell.value.startswith("row ")]
            if names:
                beside = [(cell.column_letter, lines[int(cell.value[4:])]) for cell in names]
                for letter, line in beside:
                    self.cells["Cost summary", f"{letter}{number + 1}"] = line.rate
            by, name = row[0].value, row[1].value
            if not (isinstance(by, str) and by.startswith("by ") and beside):
                shown = Fraction(0)
                continue
            if name == "all direct cost":
                amount = direct
            elif name == "whole project":
                amount = direct - shown
            else:
                amount = Fraction(0)
                for letter, line in beside:
                    part = exact(self.sheet[f"{letter}{number}"].value)
                    if part is not None and line.rate is not None:
                        amount += part * line.rate / (60 if line.unit == MINUTES else 1)
                amount = rounded(amount, self.decimals)
                shown += amount
                blinds = exact(self.at("Quantity", number))
                if blinds:
                    self.put("Rate", number, rounded(amount / blinds, self.decimals))
                self.places[f"{by} {name}"] = amount
            self.put("Amount", number, amount)

    def work_out_summary(self) -> None:
        minutes = [
            line.quantity for line in self.lines if line.section == "fitting" and line.unit == MINUTES
        ]
        work = total(minutes)
        for row in self.book["Summary"].iter_rows():
            cells = [cell for cell in row if cell.value is not None]
            for cell, figure in zip(cells, cells[1:]):
                name = str(cell.value)
                value = {
                    "Subtotal of known amounts": self.known_subtotal,
                    "Tax": self.tax,
                    "Total": self.total,
                }.get(name.split(" (")[0], ...)
                if name.startswith("Fitting days, "):
                    people = int(name.split(", ")[1].split(" ")[0])
                    value = None if work is None else rounded(work / 60 / HOURS_A_DAY / people, 1)
                if value is not ...:
                    self.cells["Summary", figure.coordinate] = value
            # The table of floors repeats their amounts.
            floor = self.places.get(f"by floor {cells[0].value}") if cells else None
            if floor is not None and len(cells) == 3 and str(cells[2].value).startswith("='Cost summary'!"):
                self.cells["Summary", cells[2].coordinate] = floor
