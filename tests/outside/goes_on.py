"""A fit-out in which other programs typed, or which they saved anew, is taken up as it was meant.

    python goes_on.py COMMAND SURVEY...

Of each survey: openpyxl types states, dates and a note on `Blinds` and another labor rate on `Cost summary`,
and a run goes on from that file. LibreOffice then saves the file anew, as .xlsx and as .ods, and runs that go
on from those give the same document. What was ordered stands as it was printed, what was typed is there, and
the rate is the one that was typed. Controls: a file without one of the states, and the untyped one, give
other documents. Prints a line for each difference; exits 1 if there is any.
"""

from __future__ import annotations

import datetime
import json
import subprocess
import sys
import tempfile
from pathlib import Path

import openpyxl

import office

STATES = ["ordered", "made", "delivered", "fitted", "remake"]
RATE = 51.25
# What people type, by key; all else of a blind is printed.
TYPED = {"state", "order_number", "ordered_on", "delivered_on", "fitted_on", "reason", "paid_by", "do", "goes_to", "left", "note"}


def table(sheet, first: str):
    """The columns by heading, and the rows below the headings that begin with `first`."""
    rows = list(sheet.iter_rows())
    head = next(place for place, row in enumerate(rows) if row[0].value == first)
    columns = {cell.value: cell.column - 1 for cell in rows[head] if cell.value}
    return columns, rows[head + 1 :]


def type_in(book: Path, to: Path, every: int = 3) -> None:
    """Types beside every third blind, and another labor rate."""
    workbook = openpyxl.load_workbook(book)
    columns, rows = table(workbook["Blinds"], "What")
    blinds = [row for row in rows if row[0].value == "blind"]
    for number, row in enumerate(blinds[::every]):
        state = STATES[number % len(STATES)]
        row[columns["State"]].value = state
        row[columns["Ordered on"]].value = datetime.date(2026, 3, 4 + number % 20)
        row[columns["Order number"]].value = f"{1000 + number}"
        if state == "remake":
            row[columns["Reason"]].value = "Damaged"
    blinds[1][columns["Note"]].value = "= ask about the tiles"
    blinds[1][columns["Note"]].data_type = "s"
    columns, rows = table(workbook["Cost summary"], "Section")
    rate = next(place for name, place in columns.items() if name.startswith("Rate"))
    labor = next(row for row in rows if row[columns["Item"]].value == "labor rate")
    labor[rate].value = RATE
    workbook.save(to)


def run_after(command: str, survey: Path, earlier: Path, folder: Path) -> dict:
    """The document of a run that goes on from a fit-out, but for where its answers stand."""
    out = folder / f"after {earlier.parent.name} {earlier.name}.xlsx"
    arguments = [command, "run", str(survey), "--after", str(earlier), "-o", str(out)]
    arguments += ["--json", str(out.with_suffix(".json")), "--no-drawings"]
    done = subprocess.run(arguments, capture_output=True, text=True)
    if done.returncode:
        raise SystemExit(f"{earlier}: {done.stderr}")
    document = json.loads(out.with_suffix(".json").read_text())
    # Cells are told with the file that they are in.
    for query in document["queries"]:
        query["at"] = None
    document["answers"] = None
    return document


def differences(one: dict, other: dict) -> list[str]:
    return [key for key in one if one[key] != other[key]]


def faults(command: str, survey: Path, folder: Path) -> list[str]:
    book = office.fit_out(command, survey, folder)
    first = json.loads(book.with_suffix(".json").read_text())
    typed = folder / "typed" / "fit-out.xlsx"
    typed.parent.mkdir()
    type_in(book, typed)
    went_on = run_after(command, survey, typed, folder)
    found = []
    printed = {(row["line"], row["blind"]): row for row in first["blinds"] if row["what"] == "blind"}
    states = 0
    for row in went_on["blinds"]:
        if row["state"] is None:
            continue
        states += 1
        then = printed.get((row["line"], row["blind"]))
        changed = [key for key in row if key not in TYPED and then and row[key] != then[key]]
        if then is None or changed:
            found.append(f"line {row['line']}, {row['blind']}: ordered, and not as it was: {changed}")
        if row["ordered_on"] is None or not row["order_number"]:
            found.append(f"line {row['line']}, {row['blind']}: what was typed is not there")
    if states != (len(printed) + 2) // 3:
        found.append(f"{states} states of {(len(printed) + 2) // 3} came back")
    if not any(row["note"] == "= ask about the tiles" for row in went_on["blinds"]):
        found.append("the note is not there")
    labor = [line["rate"] for line in went_on["cost"]["lines"] if line["unit"] == "min"]
    if not labor or any(float(rate) != RATE for rate in labor):
        found.append(f"labor is charged at {sorted(set(labor))}, not at the rate that was typed")
    for kind in ["xlsx", "ods"]:
        anew = run_after(command, survey, office.convert(typed, kind, folder), folder)
        found += [f"saved anew as {kind}: {key} differs" for key in differences(went_on, anew)]
    # Controls.
    untyped = run_after(command, survey, book, folder)
    if "blinds" not in differences(went_on, untyped) or "cost" not in differences(went_on, untyped):
        found.append("control: an untyped fit-out gives the same document")
    fewer = folder / "fewer" / "fit-out.xlsx"
    fewer.parent.mkdir()
    type_in(book, fewer, every=4)
    if "blinds" not in differences(went_on, run_after(command, survey, fewer, folder)):
        found.append("control: other states give the same document")
    return found


def main() -> int:
    command, *surveys = sys.argv[1:]
    count = 0
    for survey in map(Path, surveys):
        with tempfile.TemporaryDirectory() as folder:
            found = faults(command, survey.resolve(), Path(folder))
        for fault in found:
            print(f"{survey.name}: {fault}")
        print(f"{survey.name}: taken up as openpyxl typed it and LibreOffice saved it, {len(found)} differences")
        count += len(found)
    return 1 if count else 0


if __name__ == "__main__":
    sys.exit(main())
