"""The same job done in three ways: time, memory, and whether all sizes are the same.

    python compare.py COMMAND [OPENINGS...]

COMMAND is sillbook's release build. Each way is run three times in a process of its own, the ways in turn so that a
busy minute falls on all of them, and the medians are told: time, time of one core, and peak memory.
Exits 1 if mount, width, drop or the count of a size differ anywhere.

requirements: Linux, LibreOffice Calc, pip install openpyxl
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path
from statistics import median
from typing import NamedTuple

import openpyxl

HERE = Path(__file__).parent
sys.path.append(str(HERE.parents[1] / "outside"))
import office

RUNS = 3


class Measured(NamedTuple):
    """What a command took, with all that it started."""

    seconds: float
    # Of all cores together: what other work on the machine hardly changes.
    core_seconds: float
    # 10^6 bytes, of the largest process.
    megabytes: float


def measured(command: list[str]) -> Measured:
    started = time.monotonic()
    child = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    _, status, used = os.wait4(child.pid, 0)
    if os.waitstatus_to_exitcode(status):
        raise SystemExit(f"failed: {' '.join(command)}")
    return Measured(time.monotonic() - started, used.ru_utime + used.ru_stime, used.ru_maxrss * 1024 / 1e6)


def sizes_of(book: Path) -> list[tuple]:
    rows = openpyxl.load_workbook(book, read_only=True, data_only=True)["Sizes"].iter_rows(values_only=True, max_col=5)
    next(rows)
    return [(unit, opening, mount, int(width), int(drop)) for unit, opening, mount, width, drop in rows]


def order_of(book: Path) -> Counter:
    rows = openpyxl.load_workbook(book, read_only=True, data_only=True)["Order"].iter_rows(values_only=True, max_col=5)
    next(rows)
    # Formulas that have no line show nothing.
    return Counter({(mount, int(width), int(drop)): int(count) for line, count, mount, width, drop in rows if line})


def bars_of(book: Path, column: int) -> int:
    rows = openpyxl.load_workbook(book, read_only=True, data_only=True)["Cuts"].iter_rows(values_only=True)
    next(rows)
    return max(int(row[column]) for row in rows)


def ours(document: dict) -> list[tuple]:
    """In whole millimeters, as the survey's rounding step makes them."""
    return [(row["unit"], row["opening"], row["mount"], row["width_mm"], row["drop_mm"]) for row in document["openings"]]


def compare(command: str, count: int, folder: Path) -> list[str]:
    survey, script, sheet = (folder / f"{name}-{count}.xlsx" for name in ("survey", "script", "sheet"))
    book, document = folder / f"fit-out-{count}.xlsx", folder / f"{count}.json"
    python, run = [sys.executable, "-B"], [command, "run", str(survey), "--force", "-o", str(book)]
    subprocess.run([*python, str(HERE / "survey.py"), str(count), str(survey)], check=True)
    subprocess.run([*python, str(HERE / "formulas.py"), str(survey), str(sheet)], check=True)
    # The first start of a profile is not timed.
    worked = office.convert(sheet, "xlsx", folder)
    ways = {
        "sillbook, everything": run,
        "sillbook, no pictures": [*run, "--no-drawings"],
        "sillbook, check alone": [command, "check", str(survey)],
        "script, core alone": [*python, str(HERE / "script.py"), str(survey), str(script)],
        "formulas, core alone": office.conversion(sheet, "xlsx", folder),
    }
    taken: dict[str, list[Measured]] = {way: [] for way in ways}
    for _ in range(RUNS):
        for way, line in ways.items():
            taken[way].append(measured(line))
    subprocess.run([*run, "--json", str(document), "--no-drawings"], check=True, capture_output=True)
    result = json.loads(document.read_text())
    rail = next(cut for cut in result["cuts"] if cut["material"] == "rail")

    middle = {way: Measured(*map(median, zip(*runs))) for way, runs in taken.items()}
    base = middle["sillbook, everything"].core_seconds
    print(f"{count} openings, {len(order_of(script))} sizes")
    for way, (seconds, core_seconds, megabytes) in middle.items():
        print(f"  {way:24} {seconds:7.2f} s, {core_seconds:7.2f} s of one core, {core_seconds / base:5.2f} of "
              f"sillbook's, {megabytes:6.0f} MB")
    print(f"  bars of rail: sillbook {rail['bars']} (at least {rail['at_least']}), script {bars_of(script, 0)}, "
          f"formulas {bars_of(worked, 1)}")

    wanted = ours(result)
    faults = []
    for way, found in {"script": sizes_of(script), "formulas": sizes_of(worked)}.items():
        if len(found) != len(wanted):
            faults.append(f"{way}: {len(found)} openings, not {len(wanted)}")
        faults += [f"{way}: {theirs}, sillbook {own}" for theirs, own in zip(found, wanted) if theirs != own]
    counted = Counter(own[2:] for own in wanted)
    for way, found in {"script": order_of(script), "formulas": order_of(worked)}.items():
        if found != counted:
            faults.append(f"{way}: the counts of sizes differ")
    return faults


def main() -> int:
    command, counts = sys.argv[1], [int(count) for count in sys.argv[2:]] or [500, 10_000]
    faults = []
    with tempfile.TemporaryDirectory() as temporary:
        for count in counts:
            faults += [f"{count} openings: {fault}" for fault in compare(command, count, Path(temporary))]
    print(*faults[:20], f"{len(faults)} differences", sep="\n")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
