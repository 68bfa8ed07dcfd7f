"""Compares the cutting solver's answers with HiGHS on the full pattern model.

requirements: Python 3.11 or later, pip install highspy

    python cutting.py EXAMPLE [FILE.csp...] [--random COUNT] [--first SEED]

EXAMPLE is the built example target `cut`. Every pattern of every bar is listed, and HiGHS
(Huangfu and Hall, Mathematical Programming Computation 10, 2018) chooses among them in whole
numbers: an answer that shares nothing with the solver's. Problems with too many patterns are
named and left to the proofs. Prints a line for each difference; exits 1 if there is any, or if
nothing could be compared.
"""

from __future__ import annotations

import random
import subprocess
import sys
from pathlib import Path

import highspy

import jobs

MOST_PATTERNS = 20_000


class Problem:
    def __init__(self, name: str) -> None:
        self.name = name
        self.stocks: list[tuple[int, int, int | None]] = []
        self.items: list[tuple[int, int]] = []
        self.kerf = self.trim = 0

    def count_saw_in(self) -> None:
        """A kerf goes with every piece; the last one's is beyond the end of what a bar gives."""
        usable = [(length - 2 * self.trim, cost, limit) for length, cost, limit in self.stocks]
        self.stocks = [(length + self.kerf if length > 0 else 0, cost, limit) for length, cost, limit in usable]
        self.items = [(length + self.kerf, demand) for length, demand in self.items]


def read(path: Path) -> list[Problem]:
    problems = []
    for line in path.read_text(encoding="utf-8").splitlines():
        match line.split("#")[0].split():
            case ["instance", name]:
                problems.append(Problem(name))
            case ["capacity", capacity]:
                problems[-1].stocks.append((int(capacity), 1, None))
            case ["stock", capacity, cost, *limit]:
                known = int(limit[0]) if limit and limit[0] != "-" else None
                problems[-1].stocks.append((int(capacity), int(cost), known))
            case ["item", size, demand]:
                problems[-1].items.append((int(size), int(demand)))
            case ["saw", kerf, trim]:
                problems[-1].kerf, problems[-1].trim = int(kerf), int(trim)
            case ["end"]:
                problems[-1].count_saw_in()
    return problems


def patterns(capacity: int, items: list[tuple[int, int]]):
    """Every filling of a bar to which no further piece could be added, as counts by item."""
    order = sorted(range(len(items)), key=lambda item: -items[item][0])
    counts = [0] * len(items)

    def fill(level: int, room: int):
        if level == len(order):
            spare = any(
                counts[item] < demand and size <= room for item, (size, demand) in enumerate(items)
            )
            if not spare and any(counts):
                yield tuple(counts)
            return
        item = order[level]
        size, demand = items[item]
        for count in range(min(demand, room // size), -1, -1):
            counts[item] = count
            yield from fill(level + 1, room - count * size)
        counts[item] = 0

    yield from fill(0, capacity)


def least_cost(problem: Problem) -> int | None:
    """The optimum, or None if there are too many patterns."""
    columns = []
    for stock, (capacity, _, _) in enumerate(problem.stocks):
        for counts in patterns(capacity, problem.items):
            columns.append((stock, counts))
            if len(columns) > MOST_PATTERNS:
                return None
    model = highspy.Highs()
    model.setOptionValue("output_flag", False)
    model.setOptionValue("mip_rel_gap", 0.0)
    model.setOptionValue("mip_abs_gap", 0.0)
    for position, (stock, _) in enumerate(columns):
        model.addVar(0.0, highspy.kHighsInf)
        model.changeColCost(position, float(problem.stocks[stock][1]))
        model.changeColIntegrality(position, highspy.HighsVarType.kInteger)
    for item, (_, demand) in enumerate(problem.items):
        used = [position for position, (_, counts) in enumerate(columns) if counts[item]]
        numbers = [float(columns[position][1][item]) for position in used]
        model.addRow(float(demand), highspy.kHighsInf, len(used), used, numbers)
    for stock, (_, _, limit) in enumerate(problem.stocks):
        if limit is not None:
            used = [position for position, (other, _) in enumerate(columns) if other == stock]
            model.addRow(0.0, float(limit), len(used), used, [1.0] * len(used))
    model.run()
    if model.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        raise RuntimeError(f"{problem.name}: HiGHS ends with {model.getModelStatus()}")
    return round(model.getInfo().objective_function_value)


def answers(example: str, path: Path) -> dict[str, tuple[int, int, str]]:
    """Cost, bound and `proven` or `open` by name, as the example prints them."""
    run = subprocess.run([example, str(path)], capture_output=True, text=True, check=True)
    found = {}
    for line in run.stdout.splitlines():
        name, _, cost, _, _, at_least, word, *_ = line.split()
        found[name] = (int(cost), int(at_least), word)
    return found


def at_random(count: int, first: int) -> str:
    """Small jobs: one bar, several with prices, a bar with offcuts on hand, or all of these."""
    lines = []
    for seed in range(first, first + count):
        chance = random.Random(seed)
        lines.append(f"instance random-{seed}")
        lines.append(f"stock 100 {chance.choice([1, 50])}")
        if seed % 3 == 1:
            lines += [f"stock {chance.randrange(50, 95)} {chance.randrange(26, 49)}"]
        if seed % 3 == 2:
            lines += [f"stock {size} 0 {chance.randrange(1, 3)}" for size in chance.sample(range(20, 80), 2)]
        if seed % 4 == 3:
            lines += [f"stock {size} {size // 2 + chance.randrange(3)}" for size in chance.sample(range(55, 98), 2)]
            lines += [f"stock {chance.randrange(70, 99)} {chance.randrange(20, 40)} {chance.randrange(1, 6)}"]
        for size in chance.sample(range(12, 70), chance.randrange(3, 9)):
            lines.append(f"item {size} {chance.randrange(1, 30)}")
        lines.append("end")
    return "\n".join(lines) + "\n"


def main() -> int:
    differences = compared = 0
    with jobs.wanted(__doc__, at_random) as (example, files):
        for path in files:
            found = answers(example, path)
            for problem in read(path):
                least = least_cost(problem)
                if least is None:
                    print(f"{problem.name}: more than {MOST_PATTERNS} patterns, not compared")
                    continue
                compared += 1
                cost, at_least, word = found[problem.name]
                # An open plan may cost more than the least, which its bound may not pass.
                if cost != least if word == "proven" else not at_least <= least <= cost:
                    differences += 1
                    print(f"{problem.name}: {cost}, at least {at_least}, {word}; HiGHS finds {least}")
    print(f"{compared} problems compared with HiGHS, {differences} differences")
    return 1 if differences or not compared else 0


if __name__ == "__main__":
    sys.exit(main())
