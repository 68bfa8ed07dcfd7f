"""Every sheet of a fit-out and of a blank survey as another program finds it: order, lists, paper,
what comes again on every page, what stays in sight, what folds, headers and footers, links, charts.

requirements: Python 3.11 or later, pip install openpyxl

    python structure.py COMMAND SURVEY...

What is intended stands below as data. Prints a line for each difference; exits 1 if there is any.
"""

from __future__ import annotations

import re
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

import openpyxl

import office

# Paper numbers of the file format, for surveys in inches and in millimeters: usual and twice the size.
PAPER = {"in": {"usual": 1, "double": 3}, "mm": {"usual": 9, "double": 8}}


@dataclass
class Page:
    """How a sheet is printed and scrolled."""

    lie: str
    paper: str = "usual"
    # What comes again on every page: the rows that stay in sight, the last of them, or nothing.
    again: str | None = "frozen"
    first_column_again: bool = False
    pages_wide: int | None = 1
    # The scale that it may be printed at instead of fitting the pages' width.
    or_at: tuple[int, ...] = ()
    stays_in_sight: bool = True
    rows_fold: bool = False
    columns_fold: bool = False
    charts: int | tuple[int, ...] = 0


FIT_OUT = {
    "Summary": Page("portrait", charts=3),
    "Queries": Page("landscape"),
    "Columns read": Page("landscape"),
    "As surveyed": Page("landscape", "double", again="headings", first_column_again=True, pages_wide=3),
    "Openings": Page("landscape", "double", again="headings", first_column_again=True, pages_wide=3),
    "Order": Page("landscape", "double"),
    "Order's openings": Page("portrait"),
    "Blinds": Page("landscape", "double", again="headings", first_column_again=True, pages_wide=3),
    "Also fits": Page("landscape"),
    "Labels": Page("portrait", again=None),
    "Cut list": Page("portrait", again=None, rows_fold=True),
    "Offcuts": Page("portrait"),
    "Hardware": Page("landscape", rows_fold=True),
    "Options compared": Page("landscape", "double", charts=(2, 3)),
    "Phases": Page("landscape", "double"),
    "Fitting days": Page("landscape", "double"),
    "Notices": Page("portrait", again=None),
    "Pilot": Page("landscape"),
    "Install index": Page("landscape"),
    "a unit": Page("portrait", again=None, stays_in_sight=False, or_at=(90,)),
    "a unit, two abreast": Page("landscape", "double", again=None, stays_in_sight=False, or_at=(77, 90)),
    "Cost summary": Page("landscape", rows_fold=True, columns_fold=True),
    "Working": Page("landscape"),
    "Rules used": Page("landscape"),
}
FIRST, LAST = list(FIT_OUT)[:18], list(FIT_OUT)[-3:]
# Columns of an opening's block on a unit's sheet.
COLUMNS_OF_A_BLOCK = 7
FOOTER = "Page &P of &N"

# Sheets of a blank survey, and lists from which a cell is chosen: at least so many, or none.
BLANK = {
    "Read me first": 0,
    "Project": 8,
    "Openings": 16,
    "Types": 14,
    "Phases": 0,
    "Products": 0,
    "Stock sizes": 2,
    "Materials": 2,
    "Bars": 0,
    "Offcuts": 0,
    "Fixings": 1,
    "Prices": 1,
    "Rates": 0,
    "Options": 0,
    "Columns explained": 0,
}


# What a spreadsheet allows for a list of words, its quotes counted in.
MOST_LIST = 257


class Differences(list):
    def expect(self, what: str, wanted, found) -> None:
        if wanted != found:
            self.append(f"{what}: {found!r}, not {wanted!r}")


def units_of(book) -> str:
    cells = [cell.value for row in book["Summary"].iter_rows() for cell in row if cell.value is not None]
    return cells[cells.index("Unit of length") + 1]


def check_page(differences: Differences, sheet, page: Page, units: str) -> None:
    name, setup = sheet.title, sheet.page_setup
    differences.expect(f"{name}: lies", page.lie, setup.orientation)
    differences.expect(f"{name}: paper", PAPER[units][page.paper], int(setup.paperSize))
    # A sheet with breaks of its own is printed at its scale; any other fits the pages' width.
    if not sheet.row_breaks.brk and setup.scale not in page.or_at:
        differences.expect(f"{name}: fits", True, sheet.sheet_properties.pageSetUpPr.fitToPage)
        differences.expect(f"{name}: pages wide", page.pages_wide, int(setup.fitToWidth or 1))
    frozen = int(re.sub(r"\D", "", sheet.freeze_panes)) - 1 if sheet.freeze_panes else 0
    differences.expect(f"{name}: something stays in sight", page.stays_in_sight, frozen > 0)
    again = {"frozen": f"$1:${frozen}", "headings": f"${frozen}:${frozen}", None: None}[page.again]
    differences.expect(f"{name}: comes again", again, sheet.print_title_rows)
    column = "$A:$A" if page.first_column_again else None
    differences.expect(f"{name}: column comes again", column, sheet.print_title_cols)
    rows = any(row.outlineLevel for row in sheet.row_dimensions.values())
    columns = any(column.outlineLevel for column in sheet.column_dimensions.values())
    differences.expect(f"{name}: rows fold", page.rows_fold, rows)
    differences.expect(f"{name}: levels of rows", page.rows_fold, bool(sheet.sheet_format.outlineLevelRow))
    differences.expect(f"{name}: columns fold", page.columns_fold, columns)
    differences.expect(f"{name}: levels of columns", page.columns_fold, bool(sheet.sheet_format.outlineLevelCol))
    charts = page.charts if isinstance(page.charts, tuple) else (page.charts,)
    if len(sheet._charts) not in charts:
        differences.append(f"{name}: {len(sheet._charts)} charts, not {charts}")
    differences.expect(f"{name}: header names the sheet", True, "&A" in (sheet.oddHeader.center.text or ""))
    differences.expect(f"{name}: header has the revision", True, "Revision" in (sheet.oddHeader.right.text or ""))
    differences.expect(f"{name}: footer", FOOTER, sheet.oddFooter.right.text)


def check_links(differences: Differences, book) -> None:
    """Every link leads to a cell of a sheet that is there."""
    for sheet in book:
        for link in sheet._hyperlinks:
            found = re.fullmatch(r"'?(.*?)'?!\$?[A-Z]+\$?\d+", link.location or "")
            target = found[1].replace("''", "'") if found else None
            if target not in book.sheetnames:
                differences.append(f"{sheet.title}!{link.ref}: leads to {link.location or link.target!r}")


def check_charts(differences: Differences, path: Path) -> None:
    """Every chart keeps what the cells of its bars and of their names show, for programs that read no cells."""
    book = openpyxl.load_workbook(path, data_only=True)
    for sheet in book:
        for chart in sheet._charts:
            for series in chart.series:
                for kept in (series.cat.strRef, series.cat.numRef, series.val.numRef):
                    if kept is None:
                        continue
                    name, cells = re.fullmatch(r"'?(.*?)'?!(.+)", kept.f).groups()
                    shown = [cell.value for row in book[name][cells.replace("$", "")] for cell in row]
                    cache = kept.strCache if hasattr(kept, "strCache") else kept.numCache
                    points = {point.idx: point.v for point in (cache.pt if cache else [])}
                    found = [points.get(place) for place in range(len(shown))]
                    same = lambda one, other: str(one) == str(other) or float(one) == float(other)
                    if any(None in pair or not same(*pair) for pair in zip(shown, found)):
                        differences.append(f"{kept.f}: a chart keeps {found}, not {shown}")


def check_fit_out(path: Path) -> Differences:
    differences, book = Differences(), openpyxl.load_workbook(path)
    names = book.sheetnames
    # Only where there is something to compare, a phase, or something to choose.
    if_any = ("Options compared", "Phases", "Fitting days", "Notices", "Pilot")
    first = [name for name in FIRST if name not in if_any or name in names]
    differences.expect("first sheets", first, names[: len(first)])
    differences.expect("last sheets", LAST, [name for name in names[-8:] if name in LAST])
    units = units_of(book)
    for sheet in book:
        stem = re.sub(r" \d+$", "", sheet.title)
        unit = "a unit, two abreast" if sheet.max_column > COLUMNS_OF_A_BLOCK else "a unit"
        page = FIT_OUT.get(sheet.title) or (FIT_OUT.get(stem) if stem in LAST else None) or FIT_OUT[unit]
        check_page(differences, sheet, page, units)
        tables, lists = list(sheet.tables), sheet.data_validations.dataValidation
        differences.expect(f"{sheet.title}: tables and lists", ([], []), (tables, list(lists)))
    own = [name for name in book.defined_names if not name.startswith("_xlnm.")]
    differences.expect("defined names", [], own)
    check_links(differences, book)
    check_charts(differences, path)
    return differences


def check_blank(path: Path, units: str) -> Differences:
    differences, book = Differences(), openpyxl.load_workbook(path)
    differences.expect("sheets", list(BLANK), book.sheetnames)
    for sheet in book:
        name, setup = sheet.title, sheet.page_setup
        rules = sheet.data_validations.dataValidation
        lists = [rule for rule in rules if rule.type == "list"]
        if len(lists) < BLANK[name]:
            differences.append(f"{name}: {len(lists)} lists to choose from, not {BLANK[name]}")
        for rule in lists:
            words, cells = re.fullmatch(r'".+"', rule.formula1), re.match(r"'(.+)'!\$A\$\d+:", rule.formula1)
            if not (words and len(words[0]) <= MOST_LIST) and not (cells and cells[1] in BLANK):
                differences.append(f"{name}: a list of {rule.formula1!r}")
        words_alone = name in ("Read me first", "Columns explained")
        differences.expect(f"{name}: lies", "portrait" if words_alone else "landscape", setup.orientation)
        differences.expect(f"{name}: paper", PAPER[units]["usual"], int(setup.paperSize))
        if name not in ("Read me first", "Project"):
            frozen = int(re.sub(r"\D", "", sheet.freeze_panes)) - 1
            differences.expect(f"{name}: comes again", f"${frozen}:${frozen}", sheet.print_title_rows)
    return differences


def main() -> int:
    command, surveys = sys.argv[1], [Path(name) for name in sys.argv[2:]]
    failures = []
    with tempfile.TemporaryDirectory() as temporary:
        folder = Path(temporary)
        for units in ("in", "mm"):
            blank = folder / f"blank-{units}.xlsx"
            subprocess.run([command, "new", str(blank), "--units", units], check=True, capture_output=True)
            failures += [f"{blank.name}: {difference}" for difference in check_blank(blank, units)]
        for survey in surveys:
            book = office.fit_out(command, survey, folder)
            failures += [f"{book.name}: {difference}" for difference in check_fit_out(book)]
    print(f"{len(failures)} differences of structure")
    print(*failures[:40], sep="\n")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
