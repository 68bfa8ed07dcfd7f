"""Runs the command on surveys and compares its JSON with the independent calculation of `rules`.

requirements: Python 3.11 or later, pip install openpyxl

    python compare.py COMMAND --random COUNT [--first SEED]     random surveys
    python compare.py COMMAND SURVEY.xlsx...                    surveys that exist

A survey that exists is compared as a copy with stock sizes and merging off and without rule
sheets, because those are not worked out here. Prints a line for each difference; exits 1 if
there is any.
"""

from __future__ import annotations

import argparse
import json
import subprocess
import sys
import tempfile
from decimal import Decimal
from pathlib import Path

import openpyxl

import agree
import reading
import rules
import surveys
from agree import Check

RULE_SHEETS = {"products", "materials", "stock sizes", "bars", "offcuts", "fixings", "prices", "rates"}


def plain_copy(survey: Path, folder: Path) -> Path:
    """The survey with stock sizes and merging off and every rule as built in."""
    book = openpyxl.load_workbook(survey)
    for page in list(book):
        if page.title.strip().lower() in RULE_SHEETS:
            book.remove(page)
    project = reading.sheet(book, "project")
    wanted = {"stock sizes": "no", "merge sizes": "no"}
    for row in project.iter_rows(max_col=2):
        name = str(row[0].value or "").strip().lower()
        if name in wanted:
            row[1].value = wanted[name]
    copy = folder / f"plain-{survey.name}"
    book.save(copy)
    return copy


def compare(command: str, survey: Path, folder: Path) -> Check:
    check = Check(survey.name)
    out = folder / f"{survey.stem}.json"
    run = subprocess.run([command, "run", str(survey), "--json", str(out), "-o", str(folder / "out.xlsx"), "--force"],
                         capture_output=True, text=True)
    if run.returncode not in (0, 1):
        check.same("exit code", 0, f"{run.returncode}: {run.stderr.strip()[-300:]}")
        return check
    result = json.loads(out.read_text(), parse_float=Decimal)
    project, openings = reading.read(survey)
    agree.check_all(check, [(o, rules.size_opening(o, project)) for o in openings], project, result)
    return check


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("command", help="the command to check, such as target/release/sillbook")
    parser.add_argument("surveys", nargs="*", type=Path)
    parser.add_argument("--random", type=int, default=0, help="how many random surveys to make and compare")
    parser.add_argument("--first", type=int, default=1, help="the first seed")
    parser.add_argument("--rows", type=int, default=40, help="openings in a random survey")
    parser.add_argument("--sourcing", choices=["yes", "no"], default="no",
                        help="whether random surveys may use stock sizes and merge sizes")
    parser.add_argument("--as-is", choices=["yes", "no"], default="no",
                        help="whether surveys that exist are compared as they stand; they must have no rule sheets")
    parser.add_argument("--keep", type=Path, help="a folder to leave surveys and results in")
    asked = parser.parse_args()
    passed = failed = 0
    with tempfile.TemporaryDirectory() as scratch:
        folder = asked.keep or Path(scratch)
        folder.mkdir(parents=True, exist_ok=True)
        for_comparison = [(lambda s=s: s if asked.as_is == "yes" else plain_copy(s, folder)) for s in asked.surveys]
        for_comparison += [(lambda seed=seed: surveys.make(folder, seed, asked.rows, asked.sourcing))
                           for seed in range(asked.first, asked.first + asked.random)]
        for made in for_comparison:
            check = compare(asked.command, made(), folder)
            passed, failed = passed + check.passed, failed + len(check.failures)
            for failure in check.failures:
                print(failure)
    print(f"{passed} passed, {failed} failed")
    not_named = [name for name, code in agree.CODES.items() if code is None]
    if not_named:
        print(f"not compared, as no code of theirs is known: {', '.join(not_named)}")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
