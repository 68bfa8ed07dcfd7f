"""Compares the use of scarce stock sizes with HiGHS on the whole project.

requirements: Python 3.11 or later, pip install highspy openpyxl

    python stock.py COMMAND [--random COUNT] [--first SEED]

COMMAND is the built command. Random surveys without dates, in which every price is known, come to one
question: which rows get which boxes, so that the project costs least. HiGHS (Huangfu and Hall, Mathematical
Programming Computation 10, 2018) answers it in whole numbers from the candidates of each opening, and again
with one box more and one less of each size. Prints a line for each difference; exits 1 if there is any, or
if nothing was scarce.
"""

from __future__ import annotations

import argparse
import json
import random
import re
import subprocess
import sys
import tempfile
from decimal import Decimal
from pathlib import Path

import highspy
import openpyxl

NOT_A_CHOICE = ("does not fit", "not stocked", "another way", "made to measure")


def survey(path: Path, seed: int) -> None:
    """Rows of much the same widths, of single blinds or of several, and about half as many boxes as they want."""
    chance = random.Random(seed)
    book = openpyxl.Workbook()
    project = book.active
    project.title = "Project"
    for row in [("Units", "mm"), ("Stock sizes", "yes"), ("Accept less cover", chance.choice([0, 15, 30]))]:
        project.append(row)
    openings = book.create_sheet("Openings")
    openings.append(["Opening", "Kind", "Quantity", "Width", "Height", "Recess depth", "Substrate"])
    rows = chance.randrange(20, 160)
    quantities = chance.choice([[1], [1], [1, 1, 2], [2, 3, 4, 6], [5]])
    blinds = 0
    for number in range(rows):
        quantity = chance.choice(quantities)
        blinds += quantity
        openings.append([f"D{number}", "patio door", quantity, chance.randrange(1500, 1720, 5), 1980, 0, "wood"])
    sizes = book.create_sheet("Stock sizes")
    sizes.append(["Product", "Nominal width", "Nominal drop", "Price", "Lead days", "On hand"])
    for width in chance.sample(range(1580, 1760, 10), chance.randrange(1, 6)):
        on_hand = chance.randrange(1, max(2, blinds // 4))
        price = chance.choice([36, 40.25, 90, 104.5])
        sizes.append(["louver-89", width, 2130, price, chance.choice([0, 5]), on_hand])
    book.save(path)


def worked(command: str, path: Path, folder: Path) -> dict:
    out = folder / "result.json"
    run = subprocess.run([command, "run", str(path), "--json", str(out), "-o", str(folder / "out.xlsx"),
                          "--force", "--no-drawings"], capture_output=True, text=True)
    if run.returncode not in (0, 1):
        raise RuntimeError(run.stderr)
    return json.loads(out.read_text(), parse_float=Decimal)


def size(what: str) -> tuple[int, int] | None:
    """The nominal size of a candidate from stock."""
    found = re.match(r"stock (\d+) mm x (\d+) mm", what)
    return (int(found[1]), int(found[2])) if found else None


def ways(opening: dict) -> list[tuple[tuple[int, int] | None, Decimal]]:
    """What the opening could have, each with the price of one."""
    choices = [candidate for candidate in opening["candidates"]
               if not (candidate["why"] or "").endswith(NOT_A_CHOICE) and "not stocked" not in (candidate["why"] or "")]
    return [(size(candidate["what"]), Decimal(candidate["price"])) for candidate in choices]


def least(openings: list[dict], shelf: dict[tuple[int, int], int]) -> Decimal:
    """The least money for which all openings get their blinds."""
    model = highspy.Highs()
    for option, value in [("output_flag", False), ("mip_rel_gap", 0.0), ("mip_abs_gap", 0.0)]:
        model.setOptionValue(option, value)
    columns = 0
    takers: dict[tuple[int, int], list[tuple[int, float]]] = {place: [] for place in shelf}
    for opening in openings:
        own = []
        for place, price in ways(opening):
            model.addVar(0.0, 1.0)
            model.changeColCost(columns, float(100 * price * opening["quantity"]))
            model.changeColIntegrality(columns, highspy.HighsVarType.kInteger)
            own.append(columns)
            if place is not None:
                takers[place].append((columns, float(opening["quantity"])))
            columns += 1
        model.addRow(1.0, 1.0, len(own), own, [1.0] * len(own))
    for place, rows in takers.items():
        model.addRow(0.0, float(shelf[place]), len(rows), [row for row, _ in rows], [count for _, count in rows])
    model.run()
    if model.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        raise RuntimeError(f"HiGHS ends with {model.getModelStatus()}")
    return Decimal(round(model.getInfo().objective_function_value)) / 100


def compare(name: str, result: dict) -> tuple[list[str], int, int]:
    """The differences, how many sizes were scarce, and how many were not proven."""
    openings = result["openings"]
    used = {(int(row["nominal_width_mm"]), int(row["nominal_drop_mm"])): row for row in result["stock_use"]}
    shelf = {place: row["on_hand"] for place, row in used.items()}
    differences = []
    taken = Decimal(0)
    left = dict(shelf)
    for opening in openings:
        candidate = next(candidate for candidate in opening["candidates"] if candidate["taken"])
        taken += Decimal(candidate["price"]) * opening["quantity"]
        if (place := size(candidate["what"])) is not None:
            left[place] -= opening["quantity"]
        for place, _ in ways(opening):
            if place is not None and place not in shelf:
                # Nobody takes it rather than a made one.
                shelf[place] = 0
    differences += [f"{name}: {-count} of {place} too many" for place, count in left.items() if count < 0]
    best = least(openings, shelf)
    proven = all(row["proven"] for row in used.values())
    if taken != best if proven else taken < best:
        differences.append(f"{name}: costs {taken}, HiGHS finds {best}")
    for place, row in used.items():
        for key, box, sign in [("one_more_saves", 1, -1), ("last_saves", -1, 1)]:
            if row[key] is None:
                if proven and row["on_hand"] + box >= 0 and single(openings):
                    differences.append(f"{name}: {key} of {place} is not known")
                continue
            other = least(openings, {**shelf, place: shelf[place] + box})
            if sign * (other - best) != Decimal(row[key]):
                differences.append(f"{name}: {key} of {place} is {row[key]}, HiGHS finds {sign * (other - best)}")
    scarce = sum(row["wanted"] > row["on_hand"] for row in used.values())
    return differences, scarce, sum(not row["proven"] for row in used.values())


def single(openings: list[dict]) -> bool:
    return all(opening["quantity"] == 1 for opening in openings)


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("command")
    parser.add_argument("--random", type=int, default=20)
    parser.add_argument("--first", type=int, default=1)
    given = parser.parse_args()
    differences, scarce, open_ones = [], 0, 0
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch)
        for seed in range(given.first, given.first + given.random):
            path = folder / f"random-{seed}.xlsx"
            survey(path, seed)
            found, more_scarce, more_open = compare(path.stem, worked(given.command, path, folder))
            differences += found
            scarce, open_ones = scarce + more_scarce, open_ones + more_open
    for difference in differences:
        print(difference)
    print(f"{given.random} projects with {scarce} scarce sizes compared with HiGHS, {open_ones} not proven, "
          f"{len(differences)} differences")
    return 1 if differences or not scarce else 0


if __name__ == "__main__":
    sys.exit(main())
