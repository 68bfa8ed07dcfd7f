"""Every stored result is what LibreOffice works out, and what changes follows a second calculation.

    python recalculate.py COMMAND SURVEY...

Of each survey's fit-out: every formula cell is worked out again and equals its stored result; none
is an error. Then inputs, rates, minutes and percentages are changed and what is unknown is filled in, in
copies, and every live cell must be what `sums` makes of the cells. The last survey is run once more
with one price taken out, and without any price. Controls: a wrong stored result must be reported,
and so must sums of other figures. Prints a line for each difference; exits 1 if there is any.
"""

from __future__ import annotations

import re
import sys
import tempfile
from fractions import Fraction
from pathlib import Path

import openpyxl

import office
import sums

# A double holds the exact result to about fifteen digits.
NEAR = Fraction(1, 10**8)
PRICES = {"Bars": "Price", "Prices": "Price", "Fixings": "Price", "Stock sizes": "Price", "Rates": "Rate"}


def agree(expected, found) -> bool:
    if isinstance(expected, (int, float, Fraction)) and isinstance(found, (int, float)):
        return abs(Fraction(expected) - Fraction(found)) <= NEAR
    return found in expected if isinstance(expected, range) else expected == found


def stale(book: Path, folder: Path) -> list[str]:
    """Formula cells whose stored result is not what LibreOffice works out, and errors anywhere."""
    stored, worked = office.values(book), office.values(office.convert(book, "xlsx", folder))
    faults = []
    for (sheet, at), formula in office.formulas(book).items():
        was, now = stored[sheet][at].value, worked[sheet][at].value
        if was is None or not agree(was, now):
            faults.append(f"{sheet}!{at}: {formula} is {now!r}, stored is {was!r}")
    for sheet in worked:
        errors = (cell for row in sheet.iter_rows() for cell in row if cell.data_type == "e")
        faults += [f"{sheet.title}!{cell.coordinate}: {cell.value}" for cell in errors]
    return faults


def differences(expected: sums.Sums, worked) -> list[str]:
    """Live cells that are not what the second calculation makes of them."""
    faults = []
    for (sheet, at), value in expected.cells.items():
        wanted, found = sums.UNKNOWN if value is None else value, worked[sheet][at].value
        if not agree(wanted, found):
            shown = wanted if isinstance(wanted, str) else float(wanted)
            faults.append(f"{sheet}!{at}: {found!r}, the second calculation makes it {shown}")
    return faults


def first(cells, wanted):
    return next((cell for cell in cells if wanted(cell)), None)


def money_alone(book: Path, to: Path) -> Path:
    """A copy of the two sheets with formulas."""
    copy = openpyxl.load_workbook(book)
    for name in set(copy.sheetnames) - {"Summary", "Cost summary"}:
        del copy[name]
    copy.save(to)
    return to


def changed(book: Path, stored, to: Path, fill: int | None) -> Path:
    """A copy with a rate, a quantity of minutes, overhead and tax changed, and the first `fill` of
    the unknown rates and quantities (None: all) filled in."""
    copy = openpyxl.load_workbook(book)
    before = sums.Sums(copy, stored)
    sheet, columns = copy["Cost summary"], before.columns
    cell = lambda name, row: sheet[f"{columns[name]}{row}"]
    priced = first(before.lines, lambda line: line.is_own and line.rate and line.section == "parts")
    timed = first(before.lines, lambda line: line.quantity and line.unit == sums.HOURS)
    shares = [line for line in before.lines if line.section in sums.MARKUPS]
    if priced:
        cell("Rate", priced.row).value = float(sums.rounded(priced.rate * 137 / 100, 2))
    if timed:
        cell("Minutes", timed.row).value += 125
    for line, share in zip(shares, (0.155, 0.08, 0.045)):
        cell("Rate", line.row).value = share
    cell("Rate", before.rows["tax"]).value = 0.19
    for (name, _), (row, value) in before.inputs.items():
        if value is not None:
            cell("Rate", row).value = 0.0325 if name == sums.DISCOUNT else float(sums.rounded(value * 9 / 8, 2))
    blanks = [cell("Rate", row) for row, value in before.inputs.values() if value is None]
    for line in before.lines:
        at = [("Minutes" if line.unit == sums.HOURS else "Quantity", line.quantity)]
        at += [("Rate", line.rate)] if line.is_own else []
        blanks += [cell(name, line.row) for name, value in at if value is None]
    for place, blank in enumerate(blanks):
        if blank.value is not None:
            raise SystemExit(f"{book}: {blank.coordinate} is unknown, and not blank")
        if fill is None or place < fill:
            blank.value = 12.35 + place
    copy.save(to)
    return to


def follows(book: Path, stored, folder: Path, fill: int | None) -> list[str]:
    """What does not follow a change; and that changes change something."""
    name = f"{book.stem}-changed-{'all' if fill is None else fill}.xlsx"
    copy = changed(book, stored, folder / name, fill)
    worked = office.values(office.convert(copy, "xlsx", folder))
    now = sums.Sums(openpyxl.load_workbook(copy), stored)
    before = sums.Sums(openpyxl.load_workbook(book), stored)
    faults = differences(before, stored) + differences(now, worked)
    missed = set(office.formulas(book)) - set(now.cells)
    if missed:
        faults.append(f"{len(missed)} live cells are not worked out a second time: {sorted(missed)[:5]}")
    if now.subtotal == before.subtotal:
        faults.append("a changed rate changed no total")
    if fill is None and not now.is_known:
        faults.append("every price is filled in, and the total is still unknown")
    if not differences(before, worked):
        faults.append("control: sums of other figures agree")
    return faults


def wrong_result_is_seen(book: Path, folder: Path) -> list[str]:
    def one_more(data: bytes) -> bytes:
        text = data.decode()
        wrong = re.sub(r"(</f><v>)(\d)", lambda found: f"{found[1]}{(int(found[2]) + 1) % 10}", text, count=1)
        assert wrong != text
        return wrong.encode()

    part = office.part_of(book, "Cost summary")
    copy = office.rewritten(book, folder / f"{book.stem}-wrong.xlsx", part, one_more)
    return [] if len(stale(copy, folder)) == 1 else ["control: a wrong stored result was not reported"]


def without(survey: Path, to: Path, all_of_them: bool) -> Path:
    """A survey without its first price of a bar, or without any price."""
    copy = openpyxl.load_workbook(survey)
    for sheet in copy:
        headings = {cell.value: cell.column for cell in sheet[1]}
        column = headings.get(PRICES.get(sheet.title))
        for row in range(2, sheet.max_row + 1 if column else 2):
            if all_of_them or (sheet.title == "Bars" and row == 2):
                # A rate that cannot be read is unknown; a blank one is as built in.
                sheet.cell(row, column).value = "to be asked" if sheet.title == "Rates" else None
    copy.save(to)
    return to


def main() -> int:
    command, surveys = sys.argv[1], [Path(name) for name in sys.argv[2:]]
    failures = []
    with tempfile.TemporaryDirectory() as temporary:
        folder = Path(temporary)
        last = surveys[-1]
        runs = [(survey, [None]) for survey in surveys]
        runs.append((without(last, folder / f"{last.stem}-unpriced-bar.xlsx", False), [1]))
        runs.append((without(last, folder / f"{last.stem}-unpriced.xlsx", True), [1, None]))
        for survey, fills in runs:
            book = office.fit_out(command, survey, folder)
            faults = stale(book, folder)
            money = money_alone(book, folder / f"{survey.stem}-money.xlsx")
            for fill in fills:
                faults += follows(money, office.values(book), folder, fill)
            if survey == last:
                faults += wrong_result_is_seen(book, folder)
            print(f"{survey.name}: {len(office.formulas(money))} formulas, {len(faults)} differences")
            failures += [f"{survey.name}: {fault}" for fault in faults]
    print(*failures[:40], sep="\n")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
