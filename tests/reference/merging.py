"""Compares sizes that blinds share with HiGHS on the full model of sizes and windows.

requirements: Python 3.11 or later, pip install openpyxl highspy

    python merging.py COMMAND [--random COUNT] [--first SEED]

COMMAND is the built command. Random surveys of 20 to 100 openings are run, and at each limit of `sizes_curve`
HiGHS (Huangfu and Hall, Mathematical Programming Computation 10, 2018) looks for the fewest sizes, the least
adjustment with so few, and the least cost, over every size on the step that any window holds: windows and prices
are those of this calculation, and nothing is shared with the command's search. What is said to be proven must be
found by both; what is not may not pass what HiGHS finds. Prints a line for each difference; exits 1 if there is
any, or if nothing proven could be compared.
"""

from __future__ import annotations

import argparse
import json
import random
import subprocess
import sys
import tempfile
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import highspy
import openpyxl

import costs
import reading
import rules
import sizes
from exact import MM

SET_UPS = [4, 20, 90]


class Room:
    """The sizes of one opening's blinds, and how many blinds there are."""

    def __init__(self, o, project, blind: dict) -> None:
        self.mount, self.count, self.product = blind["mount"], o.quantity, blind["product"]
        self.window = sizes.window(o, project, project.products[o.product], self.mount)
        self.preferred = (blind["width"], blind["drop"])
        self.blind, self.step = blind, project.step

    def along(self, span: sizes.Span, furthest: int | None) -> list[int]:
        """Lengths on the step within the span and no further than that from the preferred one, and that one."""
        least, most = span.least, span.most
        if furthest is not None:
            least, most = max(least, span.preferred - furthest), min(most, span.preferred + furthest)
        on_step = range(-(-least // self.step) * self.step, most + 1, self.step)
        return sorted({*on_step, span.preferred})

    def sizes(self, furthest: int | None) -> list[tuple[int, int]]:
        across, down = self.window.width, self.window.drop
        found = [(w, d) for w in self.along(across, furthest) for d in self.along(down, furthest)]
        has_choice = across.least < across.most and down.least < down.most
        if self.mount == "inside" and has_choice and self.preferred != (across.least, down.least):
            found = [size for size in found if size != (across.least, down.least)]
        return found

    def moved(self, size: tuple[int, int]) -> int:
        return self.count * (abs(size[0] - self.preferred[0]) + abs(size[1] - self.preferred[1]))

    def cost(self, size: tuple[int, int]) -> Fraction:
        return self.count * costs.blind_price({**self.blind, "width": size[0], "drop": size[1], "source": "made"})


def least(rooms: list[list[tuple]], cost, taking: int, most: int | None) -> int:
    """The least that sizes and rooms come to: each size costs `taking`, and there are `most` at most."""
    model = highspy.Highs()
    model.setOptionValue("output_flag", False)
    for gap in ("mip_rel_gap", "mip_abs_gap"):
        model.setOptionValue(gap, 0.0)
    places = {size: place for place, size in enumerate(sorted({size for room in rooms for size in room}))}
    for place in places.values():
        model.addVar(0.0, 1.0)
        model.changeColCost(place, float(taking))
        model.changeColIntegrality(place, highspy.HighsVarType.kInteger)
    if most is not None:
        model.addRow(0.0, float(most), len(places), list(places.values()), [1.0] * len(places))
    base, column = 0, len(places)
    for number, room in enumerate(rooms):
        own = [cost(number, size) for size in room]
        base += min(own)
        if len(set(own)) == 1:
            used = [places[size] for size in room]
            model.addRow(1.0, highspy.kHighsInf, len(used), used, [1.0] * len(used))
            continue
        first = column
        for size, amount in zip(room, own):
            model.addVar(0.0, 1.0)
            model.changeColCost(column, float(amount - min(own)))
            model.addRow(-highspy.kHighsInf, 0.0, 2, [column, places[size]], [1.0, -1.0])
            column += 1
        used = list(range(first, column))
        model.addRow(1.0, 1.0, len(used), used, [1.0] * len(used))
    model.run()
    if model.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        raise RuntimeError(f"HiGHS ends with {model.getModelStatus()}")
    return base + round(model.getInfo().objective_function_value)


def survey(path: Path, seed: int) -> int:
    """A survey of openings that differ a little from some types, and the set-up of a size."""
    chance = random.Random(seed)
    book = openpyxl.Workbook()
    page = book.active
    page.title = "Project"
    unit = chance.choice(["in", "mm"])
    for row in (["Project", f"Random {seed}"], ["Units", unit], ["Floors finished", "yes"], ["Merge sizes", "no"]):
        page.append(row)
    step, inch = (Fraction(1, 8), 1) if unit == "in" else (Fraction(3), Fraction("25.4"))
    table = book.create_sheet("Openings")
    table.append(["Unit", "Opening", "Kind", "Quantity", "Width", "Height", "Mount", "Recess depth", "Handle",
                  "Drop wanted", "Substrate", "Draw"])
    types = [(chance.randrange(24, 90), chance.randrange(30, 80), chance.random() < 0.7)
             for _ in range(chance.randrange(2, 9))]
    spread = chance.choice([2, 4, 8])
    for number in range(chance.randrange(20, 101)):
        width, height, inside = chance.choice(types)
        width, height = (float(round(size * inch / step) * step + chance.randint(-spread, spread) * step)
                         for size in (width, height))
        wanted = None if inside and chance.random() < 0.9 else float(round(28 * inch / step) * step)
        table.append([1 + number // 10, f"W{number + 1}", "window", chance.choice([1, 1, 1, 2, 5]), width, height,
                      "inside" if inside else "outside", float(6 * inch), 0, wanted, "wood", "left"])
    rates = book.create_sheet("Rates")
    rates.append(["Item", "Rate", "Unit"])
    set_up = SET_UPS[seed % len(SET_UPS)]
    rates.append(["set-up per size", set_up, "per size"])
    book.save(path)
    return set_up


def compared(command: str, seed: int, folder: Path) -> tuple[int, int, list[str]]:
    """How many results are proven, of how many, and what differs."""
    path, out = folder / f"merging-{seed}.xlsx", folder / f"merging-{seed}.json"
    set_up = survey(path, seed)
    run = subprocess.run([command, "run", str(path), "--json", str(out), "-o", str(folder / "out.xlsx"), "--force"],
                         capture_output=True, text=True)
    if run.returncode not in (0, 1):
        return 0, 0, [f"exit code {run.returncode}: {run.stderr.strip()[-300:]}"]
    result = json.loads(out.read_text(), parse_float=Decimal)
    project, openings = reading.read(path)
    sized = [(o, rules.size_opening(o, project)) for o in openings]
    rooms = [Room(o, project, blind) for o, blind in sized if blind["state"] != "held"]
    proven, differences = 0, []

    def check(what: str, found: int, is_proven: bool, optimum: int) -> None:
        nonlocal proven
        proven += is_proven
        if found != optimum if is_proven else found < optimum:
            differences.append(f"{what}: {found}, {'proven' if is_proven else 'open'}; HiGHS finds {optimum}")

    for entry in result["sizes_curve"]:
        furthest = entry["adjusted_by_mm"]
        furthest = None if furthest is None else int(furthest * MM)
        windows = [room.sizes(furthest) for room in rooms]
        fewest = least(windows, lambda *_: 0, 1, None)
        check(f"sizes at {furthest}", entry["sizes"], entry["sizes_proven"], fewest)
        if entry["sizes_at_least"] > fewest:
            differences.append(f"bound at {furthest}: {entry['sizes_at_least']}; HiGHS finds {fewest}")
        if entry["sizes"] == fewest:
            # In units in which every movement is whole, for a solver in floating-point numbers.
            unit = MM // 40
            moved = least(windows, lambda room, size: Fraction(rooms[room].moved(size), unit), 0, fewest)
            check(f"adjusted at {furthest}", int(entry["adjusted_mm"] * MM / unit), entry["adjusted_proven"], moved)
        cost = least(windows, lambda room, size: int(rooms[room].cost(size) * 100), set_up * 100, None)
        check(f"cost at {furthest}", int(Decimal(entry["cheapest_cost"]) * 100), entry["cheapest_proven"], cost)
    return proven, 3 * len(result["sizes_curve"]), [f"seed {seed}, {len(rooms)} windows, {text}" for text in differences]


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("command")
    parser.add_argument("--random", type=int, default=20)
    parser.add_argument("--first", type=int, default=1)
    given = parser.parse_args()
    proven = compared_in_all = differences = 0
    with tempfile.TemporaryDirectory() as folder:
        for seed in range(given.first, given.first + given.random):
            own, of, said = compared(given.command, seed, Path(folder))
            proven, compared_in_all, differences = proven + own, compared_in_all + of, differences + len(said)
            for line in said:
                print(line)
    print(f"{compared_in_all} results compared with HiGHS, {proven} of them proven, {differences} differences")
    return 1 if differences or not proven else 0


if __name__ == "__main__":
    sys.exit(main())
