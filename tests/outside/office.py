"""Workbooks as others read them: LibreOffice works every formula out again, openpyxl reads the cells.

requirements: Python 3.11 or later, LibreOffice Calc, pip install openpyxl
"""

from __future__ import annotations

import subprocess
import zipfile
from pathlib import Path

import openpyxl

# Told to work out every formula when it opens a file, which it does not do by itself.
PROFILE = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load">
<prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>
"""


def convert(book: Path, kind: str, folder: Path) -> Path:
    """The workbook, worked out anew by LibreOffice, as `xlsx` or `pdf`, in a folder of its own."""
    subprocess.run(conversion(book, kind, folder), check=True, capture_output=True)
    made = folder / kind / f"{book.stem}.{kind}"
    if not made.exists():
        raise SystemExit(f"{book}: LibreOffice made no {kind}")
    return made


def conversion(book: Path, kind: str, folder: Path) -> list[str]:
    """The command that converts so, its folders and settings made."""
    profile, out = folder / "profile", folder / kind
    (profile / "user").mkdir(parents=True, exist_ok=True)
    out.mkdir(exist_ok=True)
    settings = profile / "user" / "registrymodifications.xcu"
    if not settings.exists():
        settings.write_text(PROFILE)
    command = ["soffice", "--headless", f"-env:UserInstallation=file://{profile.resolve()}"]
    return command + ["--convert-to", kind, "--outdir", str(out), str(book)]


def fit_out(command: str, survey: Path, folder: Path) -> Path:
    """The fit-out of a survey, and beside it the JSON of the same run."""
    book = folder / f"{survey.stem}-fitout.xlsx"
    arguments = [command, "run", str(survey), "-o", str(book), "--json", str(book.with_suffix(".json"))]
    subprocess.run(arguments, check=True, capture_output=True)
    return book


def formulas(book: Path) -> dict[tuple[str, str], str]:
    """Every formula by its sheet and cell."""
    sheets = openpyxl.load_workbook(book)
    cells = ((sheet.title, cell) for sheet in sheets for row in sheet.iter_rows() for cell in row)
    return {(sheet, cell.coordinate): cell.value for sheet, cell in cells if cell.data_type == "f"}


def values(book: Path):
    """The workbook with what is stored for each cell."""
    return openpyxl.load_workbook(book, data_only=True)


def rewritten(book: Path, to: Path, part: str, change) -> Path:
    """A copy of a workbook with one part changed."""
    with zipfile.ZipFile(book) as source, zipfile.ZipFile(to, "w", zipfile.ZIP_DEFLATED) as copy:
        for name in source.namelist():
            data = source.read(name)
            copy.writestr(name, change(data) if name == part else data)
    return to


def part_of(book: Path, sheet: str) -> str:
    """The part of the file that holds a sheet."""
    names = openpyxl.load_workbook(book, read_only=True).sheetnames
    return f"xl/worksheets/sheet{names.index(sheet) + 1}.xml"
