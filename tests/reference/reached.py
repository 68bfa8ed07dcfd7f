"""Counts what random surveys reach, so that no rule goes uncompared in silence.

    python reached.py [COUNT]

Every question must be asked somewhere and left unasked elsewhere, every reason for a stop and every kind of
place be met. Prints the counts; exits 1 if anything is never reached. Needs `pip install openpyxl`.
"""

from __future__ import annotations

import sys
import tempfile
from collections import Counter
from pathlib import Path

import agree
import fixings
import questions
import reading
import rules
import surveys

STOPS = ("wall above", "casing", "limits", "foot", "forbids", "cord", "inside does not fit", "inside drop", "ceiling",
         "reaches far enough", "reaches too low", "implausible", "hollow", "slab", "drop given", "its mount", "too shallow")


def outcomes(o, blind: dict) -> set[str]:
    """What is remarkable about a blind that hangs."""
    plain = fixings.count(blind["width"])
    found = {f"on {blind['mount_on']}", f"{blind['people']} people", f"bracket {blind['bracket']}"}
    facts = {
        "on studs": blind["on_studs"], "an anchor beside studs": blind["fixing_also"] is not None,
        "one bracket more near the stack": not blind["on_studs"] and blind["brackets"] == plain + 1,
        "more brackets": not blind["on_studs"] and blind["brackets"] > plain + 1,
        "over its load": blind["hung"] is not None and blind["hung"] > 1,
        "pulled over its load": blind["pulled"] is not None and blind["pulled"] > 1,
        "within its load": blind["use"] is not None and blind["use"] <= 1, "load needed": blind["needed"] is not None,
        "a lean": bool(blind["lean"]), "a wand for a seated hand": o.accessible == "yes" and blind["wand"] is not None,
        "a motor": blind["control"] == "motor", "PVC": blind["product"].startswith("pvc"),
        "a wide overlap": max(blind["overlap_left"] or 0, blind["overlap_right"] or 0) > 50_800_000}
    return found | {name for name, is_so in facts.items() if is_so}


def main() -> int:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 40
    met: Counter = Counter()
    hanging = 0
    with tempfile.TemporaryDirectory() as scratch:
        for seed in range(1, count + 1):
            project, openings = reading.read(surveys.make(Path(scratch), seed))
            for o in openings:
                blind = rules.size_opening(o, project)
                if blind["state"] == "held":
                    met.update(f"stop: {words}" for words in STOPS if words in blind["why"])
                    continue
                hanging += 1
                met.update(f"asks: {name}" for name in questions.questions(o, project, blind))
                met.update(outcomes(o, blind))
    wanted = {f"asks: {name}" for name in agree.CODES} | {f"stop: {words}" for words in STOPS}
    wanted |= {"on wall", "on casing", "on recess", "on ceiling", "on studs", "an anchor beside studs",
               "one bracket more near the stack", "more brackets", "over its load", "pulled over its load",
               "within its load", "load needed", "a lean", "a wand for a seated hand", "a motor", "PVC", "a wide overlap"}
    for name, times in sorted(met.items(), key=lambda pair: (-pair[1], pair[0])):
        print(f"{times:6} {name}")
    never = sorted(wanted - met.keys()) + [f"{name} of every one" for name in wanted if met[name] == hanging]
    for name in never:
        print(f"never reached: {name}")
    return 1 if never else 0


if __name__ == "__main__":
    sys.exit(main())
