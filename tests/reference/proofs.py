"""Checks plans and the proofs of their bounds, in whole numbers and by other means than the solver's own check.

requirements: Python 3.11 or later

    python proofs.py EXAMPLE [FILE.csp...] [--random COUNT] [--first SEED]

EXAMPLE is the built example target `cut`, whose `--plan` prints what is checked here: that every
piece is cut once, that no bar is over-full with its kerfs and trims, that no pieces on a bar weigh
more than is said, for every kind of bar and every weighing, and that no whole bars that hold what
all pieces weigh cost less than the bound. Nothing here is a floating-point number. Before that, a
plan worked by hand must pass, and every slip made in it must be found. Prints a line for each
fault and how many plans are proven to cost least; exits 1 if there is a fault or nothing to check.
"""

from __future__ import annotations

import math
import random
import re
import subprocess
import sys

import jobs

MOST_STEPS = 1_000_000


class Fault(Exception):
    pass


class TooLong(Exception):
    pass


class Problem:
    def __init__(self) -> None:
        self.bars: list[tuple[int, int, int | None]] = []
        self.pieces: dict[int, int] = {}
        self.kerf = self.trim = 0


class Answer:
    def __init__(self, cost: int, bound: int) -> None:
        self.cost, self.bound = cost, bound
        self.cuts: list[tuple[int, int, dict[int, int]]] = []
        self.weighings: list[tuple[dict[int, int], dict[int, int]]] = []


def problems(text: str) -> dict[str, Problem]:
    found: dict[str, Problem] = {}
    problem = Problem()
    for line in text.splitlines():
        match line.split("#")[0].split():
            case ["instance", name]:
                problem = found[name] = Problem()
            case ["capacity", length]:
                problem.bars.append((int(length), 1, None))
            case ["stock", length, cost, *limit]:
                known = int(limit[0]) if limit and limit[0] != "-" else None
                problem.bars.append((int(length), int(cost), known))
            case ["item", length, count]:
                problem.pieces[int(length)] = int(count)
            case ["saw", kerf, trim]:
                problem.kerf, problem.trim = int(kerf), int(trim)
    return found


def answers(text: str) -> dict[str, Answer]:
    found: dict[str, Answer] = {}
    for line in text.splitlines():
        numbers = [int(number) for number in re.findall(r"\d+", line)]
        if line.startswith("  cut "):
            bars, bar, *pieces = numbers
            answer.cuts.append((bars, bar - 1, dict(zip(pieces[1::2], pieces[::2], strict=True))))
        elif line.startswith("  weighing"):
            answer.weighings.append(({}, {}))
        elif line.startswith("  weight "):
            answer.weighings[-1][0][numbers[0]] = numbers[1]
        elif line.startswith("  holds "):
            answer.weighings[-1][1][numbers[0] - 1] = numbers[1]
        else:
            name, _, cost, _, _, bound, *_ = line.split()
            answer = found[name] = Answer(int(cost), int(bound))
    return found


def check(problem: Problem, answer: Answer) -> None:
    check_plan(problem, answer)
    for weights, holds in answer.weighings:
        if set(weights) != set(problem.pieces) or set(holds) != set(range(len(problem.bars))):
            raise Fault("the weights are for other pieces or bars")
        for bar, most in holds.items():
            if weighs_more(problem, problem.bars[bar][0], weights, most):
                raise Fault(f"a bar {bar + 1} can weigh more than {most}")
    if held_for_less(problem, answer):
        raise Fault(f"the weights do not prove {answer.bound}")
    if answer.cost < answer.bound:
        raise Fault("the plan costs less than the bound")


def check_plan(problem: Problem, answer: Answer) -> None:
    cut = dict.fromkeys(problem.pieces, 0)
    used = [0] * len(problem.bars)
    for bars, bar, pieces in answer.cuts:
        count = sum(pieces.values())
        length = sum(length * each for length, each in pieces.items()) + (count - 1) * problem.kerf
        if length > problem.bars[bar][0] - 2 * problem.trim:
            raise Fault(f"a bar {bar + 1} is over-full: {pieces}")
        for length, each in pieces.items():
            cut[length] += each * bars
        used[bar] += bars
    if cut != problem.pieces:
        raise Fault("pieces are missing or cut twice")
    if any(limit is not None and count > limit for count, (_, _, limit) in zip(used, problem.bars)):
        raise Fault("more bars are cut than there are")
    if sum(count * cost for count, (_, cost, _) in zip(used, problem.bars)) != answer.cost:
        raise Fault(f"the bars do not cost {answer.cost}")


def weighs_more(problem: Problem, bar: int, weights: dict[int, int], most: int) -> bool:
    """Whether pieces that fit a bar weigh more: piece by piece, the heaviest for each length used,
    of those that could still pass `most` if the rest were filled as densely as pieces allow."""
    room = bar - 2 * problem.trim + problem.kerf
    pieces = [(length + problem.kerf, weight) for length, weight in weights.items() if weight]
    counts = {length + problem.kerf: count for length, count in problem.pieces.items()}
    pieces.sort(key=lambda piece: piece[0] * 10**30 // piece[1])
    reached = {0: 0}
    for position, (size, weight) in enumerate(pieces):
        after = dict(reached)
        for used, so_far in reached.items():
            for count in range(1, min(counts[size], (room - used) // size) + 1):
                length, total = used + count * size, so_far + count * weight
                if total > most:
                    return True
                after[length] = max(after.get(length, 0), total)
        # As dense as this piece, and a little more for its rounded place in the order.
        densest = max((weight * 10**30 // size + 1 for size, weight in pieces[position + 1 :]), default=0)
        reached, best = {}, -1
        for length in sorted(after):
            if after[length] > best and (most - after[length]) * 10**30 < (room - length) * densest:
                best = reached[length] = after[length]
    return False


def held_for_less(problem: Problem, answer: Answer) -> bool:
    """Whether some whole bars hold what all pieces weigh, by every weighing, for less than the bound."""
    needs, kinds = [], [(cost, limit, []) for _, cost, limit in problem.bars]
    for weights, holds in answer.weighings:
        if any(cost == 0 and limit is None and holds[bar] for bar, (_, cost, limit) in enumerate(problem.bars)):
            continue
        free = sum(holds[bar] * limit for bar, (_, cost, limit) in enumerate(problem.bars) if not cost and limit)
        needs.append(sum(weights[length] * count for length, count in problem.pieces.items()) - free)
        for bar, held in holds.items():
            kinds[bar][2].append(held)
    priced = [kind for kind in kinds if kind[0]]
    unit = math.gcd(*(cost for cost, _, _ in priced))
    # What holds least for its price first: of that there can be few.
    priced.sort(key=lambda kind: (kind[2][0] if kind[2] else 0) * 10**30 // kind[0])
    steps = MOST_STEPS

    def held(position: int, money: int, needs: list[int]) -> bool:
        nonlocal steps
        steps -= 1
        if steps < 0:
            raise TooLong
        if money >= 0 and all(need <= 0 for need in needs):
            return True
        rest = priced[position:]
        if money < 0 or not rest:
            return False
        for number, need in enumerate(needs):
            if all(money * holds[number] < need * cost for cost, _, holds in rest):
                return False
        cost, limit, holds = rest[0]
        most = money // cost if limit is None else min(limit, money // cost)
        # Of the last kind as many as there can be.
        counts = range(most + 1) if len(rest) > 1 else [most]
        return any(
            held(position + 1, money - count * cost, [need - count * each for need, each in zip(needs, holds)])
            for count in counts
        )

    return answer.bound > 0 and held(0, answer.bound - (unit or 1), needs)


BY_HAND = """instance by-hand
stock 13 4
stock 10 3
item 4 3
saw 1 2
end
"""
# 4 + 1 + 4 and two trims of 2 are a bar of 13; one piece is all that a bar of 10 holds. Bars at 6 or less
# hold two pieces, so 7 is the least.
ANSWER = """by-hand cost 7 at least 7 proven
  cut 1 of bar 1: 2 x 4
  cut 1 of bar 2: 1 x 4
  weighing
  weight 4: 5
  holds 1: 10
  holds 2: 5
"""
SLIPS = [
    ("cut 1 of bar 2", "cut 2 of bar 2", "cut twice"),
    ("cut 1 of bar 2: 1 x 4", "cut 0 of bar 2: 1 x 4", "missing"),
    ("cut 1 of bar 1: 2 x 4", "cut 1 of bar 1: 3 x 4", "over-full"),
    ("cut 1 of bar 2: 1 x 4", "cut 1 of bar 2: 2 x 4", "over-full"),
    ("cost 7", "cost 6", "do not cost"),
    ("at least 7", "at least 8", "do not prove"),
    ("holds 1: 10", "holds 1: 9", "can weigh more"),
    ("holds 2: 5", "holds 2: 4", "can weigh more"),
    ("weight 4: 5", "weight 4: 6", "can weigh more"),
    ("holds 2: 5", "holds 2: 8", "do not prove"),
    ("weight 4: 5", "weight 5: 5", "other pieces"),
]


def check_by_hand() -> None:
    problem = problems(BY_HAND)["by-hand"]
    check(problem, answers(ANSWER)["by-hand"])
    for right, wrong, words in SLIPS:
        spoilt = ANSWER.replace(right, wrong)
        try:
            check(problem, answers(spoilt)["by-hand"])
        except Fault as fault:
            if words in str(fault):
                continue
        raise SystemExit(f"the slip `{wrong}` is not found")


def at_random(count: int, first: int) -> str:
    """Jobs with one to five kinds of bar, at prices that follow their length or do not, some free."""
    lines = []
    for seed in range(first, first + count):
        chance = random.Random(seed)
        lines += [f"instance random-{seed}", f"saw {chance.choice([0, 3, 4])} {chance.choice([0, 5, 25])}"]
        lengths = sorted(chance.sample(range(2_500, 7_001, 100), chance.randrange(1, 6)), reverse=True)
        for place, length in enumerate(lengths):
            price = length // 10 * chance.randrange(90, 130) // 100
            if place and chance.randrange(6) == 0:
                lines.append(f"stock {length // 2} 0 {chance.choice(['-', 1, 4])}")
            else:
                lines.append(f"stock {length} {price} {chance.choice(['-', '-', 3]) if place else '-'}")
        for length in chance.sample(range(300, min(3_500, lengths[0] - 60)), chance.randrange(2, 25)):
            lines.append(f"item {length} {chance.randrange(1, 12)}")
        lines.append("end")
    return "\n".join(lines) + "\n"


def main() -> int:
    check_by_hand()
    faults = checked = proven = too_long = 0
    with jobs.wanted(__doc__, at_random) as (example, files):
        for path in files:
            run = subprocess.run([example, "--plan", str(path)], capture_output=True, text=True, check=True)
            found = answers(run.stdout)
            for name, problem in problems(path.read_text(encoding="utf-8")).items():
                try:
                    check(problem, found[name])
                    checked += 1
                    proven += found[name].cost == found[name].bound
                except Fault as fault:
                    faults += 1
                    print(f"{name}: {fault}")
                except TooLong:
                    too_long += 1
                    print(f"{name}: its bound takes more than {MOST_STEPS} steps to follow")
    print(f"{checked} plans checked with their proofs, {proven} proven to cost least, {too_long} too long, {faults} faults")
    return 1 if faults or not checked else 0


if __name__ == "__main__":
    sys.exit(main())
