"""The file format's own rules: no part of a fit-out or of a blank survey breaks one.

requirements: Python 3.11 or later, pip install openpyxl openxml-audit

    python audit.py COMMAND SURVEY...

Control: a part whose elements stand in the wrong order must be reported. Prints a line for each
finding; exits 1 if there is any.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path

from openxml_audit import OpenXmlValidator

import office


def findings(book: Path) -> list[str]:
    result = OpenXmlValidator(max_errors=0).validate(str(book))
    errors = [f"{book.name}: {error.part_uri}: {error}" for error in result.errors]
    if not errors and not result.is_valid:
        errors.append(f"{book.name}: not valid")
    return errors


def broken_part_is_seen(book: Path, folder: Path) -> list[str]:
    def margins_first(data: bytes) -> bytes:
        text = data.decode()
        start, end = text.index("<pageMargins"), text.index("/>", text.index("<pageMargins")) + 2
        margins = text[start:end]
        return (text[:start] + text[end:]).replace("<sheetData", f"{margins}<sheetData", 1).encode()

    copy = office.rewritten(book, folder / "broken.xlsx", office.part_of(book, "Summary"), margins_first)
    return [] if findings(copy) else ["control: a broken part was not reported"]


def main() -> int:
    command, surveys = sys.argv[1], [Path(name) for name in sys.argv[2:]]
    failures = []
    with tempfile.TemporaryDirectory() as temporary:
        folder = Path(temporary)
        blank = folder / "blank.xlsx"
        subprocess.run([command, "new", str(blank)], check=True, capture_output=True)
        books = [blank] + [office.fit_out(command, survey, folder) for survey in surveys]
        for book in books:
            found = findings(book)
            print(f"{book.name}: {len(found)} findings")
            failures += found
        failures += broken_part_is_seen(books[-1], folder)
    print(*failures[:40], sep="\n")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
