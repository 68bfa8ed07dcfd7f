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
import math
import subprocess
import sys
import tempfile
from collections import Counter
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import openpyxl

import reading
import rules
import surveys
from rules import MM

RULE_SHEETS = {"products", "stock sizes", "bars", "offcuts", "fixings", "prices", "rates"}


def nm(value) -> int | None:
    """Millimeters of the result as nanometers."""
    return None if value is None else int(Decimal(str(value)) * MM)


def nms(values) -> list[int] | None:
    return None if values is None else [nm(value) for value in values]


def rounded(value, places: int) -> Decimal | None:
    if value is None:
        return None
    return Decimal(rules.half_away(Fraction(value) * 10**places)).scaleb(-places)


class Check:
    def __init__(self, survey: str):
        self.survey, self.passed, self.failures = survey, 0, []

    def same(self, where: str, expected, got) -> None:
        if expected == got:
            self.passed += 1
        else:
            self.failures.append(f"{self.survey}: {where}: expected {shown(expected)}, got {shown(got)}")

    def holds(self, where: str, fact: bool) -> None:
        self.same(where, True, fact)


def shown(value) -> str:
    text = str(float(value)) if isinstance(value, Fraction) else str(value)
    return text if len(text) < 400 else text[:400] + "..."


def opening_fields(blind: dict) -> dict:
    """The independent result in the shape of one opening of the JSON, lengths in nanometers."""
    same = ("product", "color", "mount", "draw", "source", "control", "control_side", "people")
    lengths = {"width_mm": "width", "drop_mm": "drop", "stack_mm": "stack", "clear_open_mm": "clear_open",
               "valance_mm": "valance", "return_left_mm": "return_left", "return_right_mm": "return_right",
               "overlap_left_mm": "overlap_left", "overlap_right_mm": "overlap_right", "wand_mm": "wand"}
    result = {name: blind[name] for name in same} | {to: blind[name] for to, name in lengths.items()}
    return result | {
        "louvers.count": blind["louvers"], "louvers.length_mm": blind["louver_length"],
        "brackets.item": blind["bracket"], "brackets.count": blind["brackets"], "brackets.reach_mm": blind["reach"],
        "brackets.setback_mm": blind["setback"], "brackets.from_left_mm": blind["from_left"],
        "brackets.from_opening_left_mm": blind["from_opening_left"],
        "brackets.top_above_floor_mm": blind["top_above_floor"], "brackets.top_above_head_mm": blind["top_above_head"],
        "fixings.item": blind["fixing"], "fixings.count": blind["fixings"],
        "fixings.use": rounded(blind["use"], 4), "see_past_deg": rounded(blind["see_past"], 1), "weight_kg": rounded(blind["weight"], 3),
    }


def value_at(entry: dict, path: str):
    for name in path.split("."):
        entry = None if entry is None else entry[name]
    if path.endswith("_mm"):
        return nms(entry) if isinstance(entry, list) else nm(entry)
    return entry


# The words of the result's queries for each question of `rules.questions`.
QUESTIONS = {
    "handle from what": "a handle is given, but not what", "handle blank": "handle is blank on a door",
    "leaf blank": "opening leaf is blank on a door", "no fixed leaf": "opening leaf is * and draw is blank",
    "stack over leaf": "the louvers stack over the opening leaf", "not tape": "not measured with a tape",
    "floor not laid": "the floor is not laid", "one measurement": "one measurement is used for several inside mounts",
    "unknown substrate": "substrate is blank", "no stud": "no stud or header is known",
    "depth unknown": "recess depth is unknown", "lean": "the opening is out of square",
    "widths differ": "the measured widths differ", "heights differ": "the measured heights differ",
    "leaf meets stack": "a leaf that opens into the room hits the stack",
    "leaf meets rail": "a leaf that opens into the room hits the rail",
    "left closed by wall": "the overlap on the left is less than * a side wall closes it",
    "right closed by wall": "the overlap on the right is less than * a side wall closes it",
    "left laps too little": "the overlap on the left is less than", "right laps too little": "the overlap on the right is less than",
    "drop wanted far": "with the drop wanted, the rail is not between", "header has no place": "the header cannot take both",
    "ends above the sill": "not enough wall below the sill",
}


def question_of(message: str) -> str | None:
    return next((name for name, words in QUESTIONS.items() if all(part in message for part in words.split("*"))), None)


def check_questions(check: Check, rows, project, result: dict) -> None:
    asked: dict[str, set] = {}
    for query in result["queries"]:
        name = question_of(query["message"])
        if name and query["severity"] != "stop":
            for opening in query["openings"]:
                asked.setdefault(opening, set()).add(name)
    names = {entry["at"]: entry["name"] for entry in result["openings"]}
    for o, blind in rows:
        if blind["state"] != "held":
            expected, got = rules.questions(o, project, blind), asked.get(names[o.at], set())
            missing, extra = sorted(expected - got), sorted(got - expected)
            check.same(f"{o.at} questions ({blind['mount']})", [], [f"missing: {q}" for q in missing] + [f"extra: {q}" for q in extra])


def sourced(check: Check, rows, project, result: dict) -> list:
    """The rows at the sizes that the result gave them, once those are seen to be allowed.

    Which of the allowed sizes wins is a matter for a solver; that it is allowed, cheap enough and
    on hand is not.
    """
    by_row = {entry["at"]: entry for entry in result["openings"]}
    used: Counter = Counter()
    for entry in result["openings"]:
        if entry["source"] == "stock":
            used[nm(entry["width_mm"])] += entry["quantity"]
    for width, count in used.items():
        check.holds(f"{count} blinds from stock, {width} wide", width in rules.STOCK and count <= rules.STOCK_ON_HAND)
    moved = []
    for o, blind in rows:
        entry = by_row.get(o.at)
        if blind["state"] == "held" or entry is None or entry["state"] == "held" or blind["mount"] != entry["mount"]:
            moved.append((o, blind))
            continue
        width, drop, source = nm(entry["width_mm"]), nm(entry["drop_mm"]), entry["source"]
        if project.finished_sizes:
            check.same(f"{o.at} keeps its finished size", (blind["width"], blind["drop"], "made"), (width, drop, source))
            moved.append((o, blind))
            continue
        is_same = (width, drop) == (blind["width"], blind["drop"])
        said = f"{o.at} {blind['width']} x {blind['drop']} to {width} x {drop}, {source}"
        check.holds(f"{said}: in its window", is_same or rules.in_window(o, project, blind["mount"], width, drop))
        made = rules.blind_price(blind)
        if source == "stock":
            check.holds(f"{said}: a stock size", project.stock and blind["product"] == "louver-89"
                        and width in rules.STOCK and drop == rules.STOCK_DROP)
            check.holds(f"{said}: no dearer than made", rules.STOCK.get(width, made) <= made)
        else:
            most = project.merge or 0
            check.holds(f"{said}: moved no further than asked", max(abs(width - blind["width"]), abs(drop - blind["drop"])) <= most)
            for stock, price in rules.STOCK.items() if project.stock and blind["product"] == "louver-89" else ():
                fits = rules.in_window(o, project, blind["mount"], stock, rules.STOCK_DROP)
                enough = used[stock] + o.quantity <= rules.STOCK_ON_HAND
                check.holds(f"{said}: stock {stock} at {price} is cheaper than {made}", not (fits and enough and price < made))
        moved.append((o, rules.resized(o, project, blind, width, drop, source)))
    before, after = rules.counts(rows)["sizes"], rules.counts(moved)["sizes"]
    if not project.stock:
        check.holds(f"sizes: {before} before, {after} after", after <= before)
    return moved


def check_openings(check: Check, rows, found: list) -> None:
    by_row = {entry["at"]: entry for entry in found}
    check.same("rows of openings", [o.at for o, _ in rows], [entry["at"] for entry in found])
    for o, blind in rows:
        entry = by_row.get(o.at)
        if entry is None:
            continue
        if blind["state"] != entry["state"]:
            why = blind.get("why", f"{blind.get('mount')} {blind.get('width')} x {blind.get('drop')}")
            check.same(f"{o.at} state ({why}; theirs {entry['mount']})", blind["state"], entry["state"])
            continue
        check.same(f"{o.at} state", blind["state"], entry["state"])
        check.same(f"{o.at} quantity", o.quantity, entry["quantity"])
        if blind["state"] == "held":
            for name in ("louvers", "brackets", "fixings"):
                check.same(f"{o.at} {name} of a held opening", None, entry[name])
            continue
        for path, expected in opening_fields(blind).items():
            check.same(f"{o.at} {path} ({blind['mount']})", expected, value_at(entry, path))


LINE = {"product": "product", "color": "color", "width_mm": "width", "drop_mm": "drop", "louver_count": "louvers",
        "louver_length_mm": "louver_length", "draw": "draw", "control": "control", "control_side": "control_side",
        "wand_mm": "wand", "mount": "mount", "bracket": "bracket", "reach_mm": "reach", "valance_mm": "valance",
        "return_left_mm": "return_left", "return_right_mm": "return_right", "source": "source", "release": "release"}


def check_order(check: Check, lines, result: dict) -> None:
    names = {entry["at"]: entry["name"] for entry in result["openings"]}
    check.same("order: numbers", list(range(1, len(result["order"]) + 1)), [line["line"] for line in result["order"]])
    expected, got = {}, {}
    for line in lines.values():
        key = tuple(line.blind[name] for name in LINE.values()) + (line.rows[0][0].phase,)
        expected.setdefault(key, []).append((line.quantity, tuple(names[o.at] for o, _ in line.rows)))
    for line in result["order"]:
        key = tuple(value_at(line, name) for name in LINE) + (line["phase"],)
        got.setdefault(key, []).append((line["quantity"], tuple(line["openings"])))
    for key in sorted(expected.keys() | got.keys(), key=str):
        check.same(f"order line {key}", expected.get(key), got.get(key))


def check_cuts(check: Check, lines, project, result: dict) -> None:
    expected = rules.pieces(lines, project)
    found = {(cut["material"], cut["color"]): cut for cut in result["cuts"]}
    check.same("cuts: materials", sorted(expected, key=str), sorted(found, key=str))
    blinds = {line["line"]: line for line in result["order"]}
    for key, pieces in expected.items():
        cut = found.get(key)
        if cut is None:
            continue
        where = f"cuts {key[0]} {key[1]}"
        bar, kerf, trim, price = rules.BAR[key[0]]
        got: Counter = Counter()
        by_line: dict = {}
        used = bars = 0
        for pattern in cut["patterns"]:
            times, stock, cuts = pattern["bars"], nm(pattern["stock_mm"]), nms(pattern["pieces_mm"])
            total = sum(cuts)
            check.same(f"{where}: from", "bar", pattern["from"])
            check.same(f"{where}: stock length", bar, stock)
            check.holds(f"{where}: {cuts} fit the bar", total + (len(cuts) - 1) * kerf <= stock - 2 * trim)
            left = max(0, stock - trim - total - len(cuts) * kerf)
            check.same(f"{where}: offcut", left, nm(pattern["offcut_mm"]))
            used += times * stock
            bars += times
            check.same(f"{where}: a line for each piece", len(cuts), len(pattern["lines"]))
            for piece, line in zip(cuts, pattern["lines"]):
                got[piece] += times
                by_line.setdefault(line, Counter())[piece] += times
        check.same(f"{where}: pieces", pieces, got)
        check.same(f"{where}: number of pieces", sum(pieces.values()), cut["pieces"])
        for number, line in blinds.items():
            if line["release"] != "make" or line["source"] != "made":
                check.holds(f"{where}: no piece for line {number}", number not in by_line)
                continue
            blind = {"color": line["color"], "product": line["product"], "louvers": line["louver_count"]} | {
                name: nm(line[f"{name}_mm"]) for name in ("width", "valance", "return_left", "return_right", "louver_length")}
            wanted = Counter(length for material, color, length in rules.pieces_of(blind) if (material, color) == key)
            wanted = Counter({length: count * line["quantity"] for length, count in wanted.items()})
            check.same(f"{where}: pieces of line {number}", wanted, by_line.get(number, Counter()))
        check.same(f"{where}: bars", bars, cut["bars"])
        check.same(f"{where}: kerf and trim", (kerf, trim), (nm(cut["kerf_mm"]), nm(cut["trim_mm"])))
        # No plan needs fewer bars than the pieces and their kerfs fill.
        filled = math.ceil(Fraction(sum((length + kerf) * count for length, count in pieces.items()), bar - 2 * trim + kerf))
        check.holds(f"{where}: at_least {cut['at_least']} between {filled} and {bars}", filled <= cut["at_least"] <= bars)
        check.same(f"{where}: proven", bars == cut["at_least"], cut["proven"])
        check.same(f"{where}: cost", bars * price, Fraction(cut["cost"]))
        check.same(f"{where}: cost at least", cut["at_least"] * price, Fraction(cut["cost_at_least"]))
        share = Fraction(sum(length * count for length, count in pieces.items()), used)
        check.same(f"{where}: used_share", rounded(share, 4), cut["used_share"])


def check_hardware(check: Check, rows, project, result: dict) -> None:
    expected = rules.hardware(rows, project)
    got = {item["item"]: (item["needed"], item["spare"], item["pack_of"], item["packs"]) for item in result["hardware"]}
    check.same("hardware: items once each", len(got), len(result["hardware"]))
    for item in sorted(expected.keys() | got.keys()):
        check.same(f"hardware {item} (needed, spare, pack, packs)", expected.get(item), got.get(item))


def check_cost(check: Check, rows, lines, project, result: dict) -> None:
    bars = {(cut["material"], cut["color"]): cut["bars"] for cut in result["cuts"]}
    expected, cost = rules.costs(rows, lines, project, bars), result["cost"]
    ours = Counter((section, amount) for section, _, amount in expected["lines"])
    theirs = Counter((line["section"], Fraction(line["amount"])) for line in cost["lines"]
                     if line["amount"] is not None and Fraction(line["amount"]))
    for section, amount in (ours - theirs):
        what = [w for s, w, a in expected["lines"] if (s, a) == (section, amount)]
        check.same(f"cost {section} {what}", float(amount), "no such line")
    for section, amount in (theirs - ours):
        what = [line["item"] for line in cost["lines"] if line["section"] == section and line["amount"] and Fraction(line["amount"]) == amount]
        check.same(f"cost {section} {what}", "no such line", float(amount))
    check.passed += sum((ours & theirs).values())
    check.same("cost: subtotal", expected["subtotal"], Fraction(cost["subtotal"]))
    total = expected["total"]
    if total is not None:
        check.same("cost: tax", expected["tax"], None if cost["tax"] is None else Fraction(cost["tax"]))
    check.same("cost: total", total, None if cost["total"] is None else Fraction(cost["total"]))


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


def compare(command: str, survey: Path, folder: Path, with_loads: str) -> Check:
    check = Check(survey.name)
    out = folder / f"{survey.stem}.json"
    run = subprocess.run([command, "run", str(survey), "--json", str(out), "-o", str(folder / "out.xlsx"), "--force"],
                         capture_output=True, text=True)
    if run.returncode not in (0, 1):
        check.same("exit code", 0, f"{run.returncode}: {run.stderr.strip()[-300:]}")
        return check
    result = json.loads(out.read_text(), parse_float=Decimal)
    project, openings = reading.read(survey)
    project.loads = with_loads == "yes"
    rows = [(o, rules.size_opening(o, project)) for o in openings]
    if project.stock or project.merge:
        rows = sourced(check, rows, project, result)
    lines = rules.group(rows)
    check_openings(check, rows, result["openings"])
    check_questions(check, rows, project, result)
    for name, value in rules.counts(rows).items():
        check.same(f"counts: {name}", value, result["counts"][name])
    check.same("complete", all(b["state"] == "sized" for _, b in rows), result["complete"])
    check_order(check, lines, result)
    check_cuts(check, lines, project, result)
    check_hardware(check, rows, project, result)
    check_cost(check, rows, lines, project, result)
    return check


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("command", help="the command to check, such as target/release/sillbook")
    parser.add_argument("surveys", nargs="*", type=Path)
    parser.add_argument("--random", type=int, default=0, help="how many random surveys to make and compare")
    parser.add_argument("--first", type=int, default=1, help="the first seed")
    parser.add_argument("--rows", type=int, default=40, help="openings in a random survey")
    parser.add_argument("--loads", choices=["yes", "no"], default="no",
                        help="whether fixings are to be chosen by what they hold; no expects an unknown use")
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
            check = compare(asked.command, made(), folder, asked.loads)
            passed, failed = passed + check.passed, failed + len(check.failures)
            for failure in check.failures:
                print(failure)
    print(f"{passed} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
