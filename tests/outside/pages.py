"""The page of each unit as it is printed: one sheet of paper, with every bracket's center on it.

requirements: Python 3.11 or later, LibreOffice Calc, poppler-utils, pip install openpyxl

    python pages.py COMMAND SURVEY...

The units' sheets of each fit-out are made a PDF. A unit of no more openings than fit must be one
page, one of more no more pages than it needs; they must say its bracket centers from the opening's edge, in the
sheet's own figures. Control: a center that is nowhere must be missed. Exits 1 if anything fails.
"""

from __future__ import annotations

import json
import math
import re
import subprocess
import sys
import tempfile
from fractions import Fraction
from pathlib import Path

import openpyxl

import office

# Openings with their drawings that one page must hold whatever is said of them; one of five or six is mostly
# one page too, and a unit of more goes on on the next.
FIT_ON_A_PAGE = 4
FIXED_BEFORE, FIXED_AFTER = "Install index", "Cost summary"


def units_alone(book: Path, to: Path) -> list[str]:
    """Hides all sheets but the units' in a copy, so that the PDF is short; gives the units' names."""
    names = openpyxl.load_workbook(book, read_only=True).sheetnames
    units = names[names.index(FIXED_BEFORE) + 1 : names.index(FIXED_AFTER)]

    def hide(data: bytes) -> bytes:
        text = data.decode()
        for name in set(names) - set(units):
            text = re.sub(rf'(<sheet name="{re.escape(name)}")', r'\1 state="hidden"', text)
        # The first sheet that is seen must be the one that is open.
        active = names.index(units[0])
        return re.sub(r"<workbookView ", f'<workbookView firstSheet="{active}" activeTab="{active}" ', text).encode()

    office.rewritten(book, to, "xl/workbook.xml", hide)
    return units


def shown(millimeters: float, units: str) -> set[str]:
    """A length as the sheets may show it: millimeters to a tenth where there is one, or inches to a
    sixteenth with the fraction reduced. Halfway between two sixteenths a program takes either, and may
    leave it in sixteenths."""
    exact = Fraction(str(millimeters))
    if units == "mm":
        tenths = rounded(exact * 10)
        return {str(tenths // 10) if tenths % 10 == 0 else f"{tenths / 10:.1f}"}
    sixteenths = exact / Fraction("25.4") * 16
    # The document rounds to a millionth of a millimeter.
    halfway = abs(sixteenths % 1 - Fraction(1, 2)) < Fraction(1, 10_000)
    if not halfway:
        return {inches(rounded(sixteenths))}
    lower = math.floor(sixteenths)
    whole, part = divmod(lower, 16)
    return {inches(lower), inches(lower + 1), f"{whole} {part}/16", f"{whole} {part + 1}/16"}


def inches(sixteenths: int) -> str:
    """Sixteenths of an inch with the fraction reduced: `28 1/16`."""
    sign, sixteenths = ("-" if sixteenths < 0 else ""), abs(sixteenths)
    whole, part = divmod(sixteenths, 16)
    fraction = str(Fraction(part, 16)) if part else ""
    return sign + " ".join(piece for piece in [str(whole) if whole or not part else "", fraction] if piece)


def rounded(value: Fraction) -> int:
    half = Fraction(1, 2)
    return int(abs(value) + half) * (-1 if value < 0 else 1)


def pages_of(pdf: Path) -> list[str]:
    # As laid out, a dense page runs neighbors together; as it was written, each cell stands alone.
    texts = [subprocess.run(["pdftotext", way, str(pdf), "-"], check=True, capture_output=True) for way in ("-layout", "-raw")]
    laid_out, written = (text.stdout.decode().split("\f")[:-1] for text in texts)
    return [f"{page}\n{words}" for page, words in zip(laid_out, written, strict=True)]


def holds(page: str, ways: set[str]) -> bool:
    """Whether a figure stands on a page in one of these ways."""
    spelled = (re.escape(way).replace(r"\ ", r"\s+") for way in ways)
    return any(re.search(rf"(?<![\d/.]){way}(?![\d/.])", page) for way in spelled)


def faults_of(book: Path, folder: Path) -> list[str]:
    document = json.loads(book.with_suffix(".json").read_text())
    units = document["project"]["units"]
    rows: dict[tuple[str, str], list] = {}
    for opening in document["openings"]:
        rows.setdefault((opening["building"], opening["unit"]), []).append(opening)
    alone = folder / f"{book.stem}-units.xlsx"
    sheets = units_alone(book, alone)
    pages = pages_of(office.convert(alone, "pdf", folder))
    if len(sheets) != len(rows):
        return [f"{len(sheets)} sheets for {len(rows)} units"]
    faults = []
    for sheet, openings in zip(sheets, rows.values()):
        # Every page says in its header whose it is.
        own = [page for page in pages if re.search(rf"\s\s{re.escape(sheet)}(\s\s|$)", page.splitlines()[0])]
        text = "\n".join(own)
        if not 1 <= len(own) <= math.ceil(len(openings) / FIT_ON_A_PAGE):
            faults.append(f"{sheet}: {len(own)} pages for {len(openings)} openings")
        for opening in openings:
            centers = (opening["brackets"] or {}).get("from_opening_left_mm") or []
            for center in centers:
                if not holds(text, shown(center, units)):
                    faults.append(f"{sheet}: {opening['name']}: no bracket center {sorted(shown(center, units))[-1]}")
    if holds("\n".join(pages), shown(123456.7, units)):
        faults.append("control: a center that is nowhere was found")
    return faults


def main() -> int:
    command, surveys = sys.argv[1], [Path(name) for name in sys.argv[2:]]
    failures = []
    with tempfile.TemporaryDirectory() as temporary:
        folder = Path(temporary)
        for survey in surveys:
            faults = faults_of(office.fit_out(command, survey, folder), folder)
            print(f"{survey.name}: {len(faults)} faults of units' pages")
            failures += [f"{survey.name}: {fault}" for fault in faults]
    print(*failures[:40], sep="\n")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
