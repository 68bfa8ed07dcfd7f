"""Whether the JSON of a run agrees with the independent calculation, list by list."""

from __future__ import annotations

import math
from collections import Counter
from decimal import Decimal
from fractions import Fraction

import costs
import lists
import order
import questions
import rolls
import sourcing
from exact import MM, half_away


def nm(value) -> int | None:
    """Millimeters of the result as nanometers."""
    return None if value is None else int(Decimal(str(value)) * MM)


def nms(values) -> list[int] | None:
    return None if values is None else [nm(value) for value in values]


def rounded(value, places: int) -> Decimal | None:
    if value is None:
        return None
    return Decimal(half_away(Fraction(value) * 10**places)).scaleb(-places)


MISSING = "no such key"


class Check:
    def __init__(self, survey: str):
        self.survey, self.passed, self.failures = survey, 0, []
        self.lacking: set[str] = set()  # keys that the result has nowhere, each named once

    def same(self, where: str, expected, got) -> None:
        if got == MISSING:
            self.lacking.add(where.split()[1])
        elif expected == got:
            self.passed += 1
        else:
            self.failures.append(f"{self.survey}: {where}: expected {shown(expected)}, got {shown(got)}")

    def holds(self, where: str, fact: bool) -> None:
        self.same(where, True, fact)


def shown(value) -> str:
    text = str(float(value)) if isinstance(value, Fraction) else str(value)
    return text if len(text) < 400 else text[:400] + "..."


# --- openings -------------------------------------------------------------------------------------

# Where a field of the result stands, and its name in the blind: as they are, lengths, and rounded to so many places.
SAME = {name: name for name in ("product", "color", "mount", "mount_on", "draw", "source", "control", "control_side",
                                "people")} | {
    "louvers.count": "louvers", "brackets.item": "bracket", "brackets.count": "brackets",
    "fixings.item": "fixing", "fixings.also": "fixing_also", "fixings.count": "fixings"}
LENGTHS = {f"{name}_mm": name for name in ("width", "drop", "lean", "stack", "clear_open", "valance", "return_left",
                                           "return_right", "overlap_left", "overlap_right", "wand")} | {
    "louvers.length_mm": "louver_length", "brackets.reach_mm": "reach", "brackets.setback_mm": "setback",
    "brackets.from_left_mm": "from_left", "brackets.from_opening_left_mm": "from_opening_left",
    "brackets.top_above_floor_mm": "top_above_floor", "brackets.top_above_head_mm": "top_above_head",
    "clips_from_left_mm": "clips", "stands_proud_mm": "stands_proud"}
ROUNDED = {"fixings.use": ("use", 4), "fixings.hung": ("hung", 4), "fixings.pulled": ("pulled", 4),
           "see_past_deg": ("see_past", 1), "weight_kg": ("weight", 3)}


def value_at(entry: dict, path: str):
    for name in path.split("."):
        entry = None if entry is None else entry.get(name, MISSING)
        if entry == MISSING:
            return MISSING
    if path.endswith("_mm"):
        return nms(entry) if isinstance(entry, list) else nm(entry)
    return entry


def check_openings(check: Check, rows, found: list) -> None:
    by_row = {entry["at"]: entry for entry in found}
    check.same("rows of openings", [o.at for o, _ in rows], [entry["at"] for entry in found])
    for o, blind in rows:
        entry = by_row.get(o.at)
        if entry is None:
            continue
        why = blind.get("why", f"{blind.get('mount')} {blind.get('width')} x {blind.get('drop')}")
        check.same(f"{o.at} state ({why}; theirs {entry['mount']})", blind["state"], entry["state"])
        if blind["state"] != entry["state"]:
            continue
        check.same(f"{o.at} quantity", o.quantity, entry["quantity"])
        if blind["state"] == "held":
            for name in ("louvers", "brackets", "fixings"):
                check.same(f"{o.at} {name} of a held opening", None, entry[name])
            continue
        check.same(f"{o.at} kind", o.kind_of(), entry["kind"])
        measured = {"width_mm_measured": o.width, "height_mm_measured": o.height}
        for path, length in measured.items():
            check.same(f"{o.at} {path}", length, nm(entry[path]) if path in entry else MISSING)
        expected = {path: blind[name] for path, name in (SAME | LENGTHS).items()}
        expected |= {path: rounded(blind[name], places) for path, (name, places) in ROUNDED.items()}
        for path, value in expected.items():
            check.same(f"{o.at} {path} ({blind['mount']})", value, value_at(entry, path))
        # Newtons to as many places as are shown.
        needed = value_at(entry, "fixings.needed_n")
        places = -Decimal(str(needed)).as_tuple().exponent if isinstance(needed, (int, Decimal)) else 0
        check.same(f"{o.at} fixings.needed_n", rounded(blind["needed"], max(0, places)), needed)


# --- queries --------------------------------------------------------------------------------------

# The codes in the result of each question of `questions`; None where it has none yet.
CODES = {
    "handle from what": "depth-to-unknown", "handle blank": "handle-unknown", "leaf blank": "leaf-unknown",
    "no fixed leaf": "draw-unknown", "stack over leaf": "stack-over-leaf", "not tape": "not-from-tape",
    "floor not laid": "floor-to-come", "one measurement": "measure-each", "unknown substrate": "substrate-unknown",
    "no stud": "board-alone", "depth unknown": "depth-unknown", "out of square": "out-of-square",
    "widths differ": "width-spread", "heights differ": "height-spread", "leaf meets stack": "leaf-meets-stack",
    "leaf meets rail": "leaf-meets-rail", "left closed by wall": "left-closed-by-wall",
    "right closed by wall": "right-closed-by-wall", "left laps too little": "left-overlap-too-small",
    "right laps too little": "right-overlap-too-small", "drop wanted far": "drop-moves-rail",
    "header has no place": "header-misses-screws", "ends above the sill": "ends-above-sill",
    "on the casing": "on-casing", "thin casing": "thin-casing", "casing not measured": "casing-width-unknown",
    "wood or steel behind": "wood-or-steel", "end without stud": "no-stud-at-end", "studs far apart": "studs-far-apart",
    "no fixing long enough": "fixing-too-short", "too heavy": "fixing-overloaded", "pulled off": "fixing-pulled-out",
    "capacity unknown": "capacity-unknown", "motor side blank": "motor-side-unknown", "motor supply": "motor-supply",
    "wand near the bottom": "wand-past-bottom", "wand out of reach": ("wand-too-high", "window-too-high"), "slab unknown": "slab-unknown",
    "edge over setback": "screws-near-edge", "find the steel stud": "steel-unknown", "weak steel": "thin-steel",
    "board over the head": "thick-board", "no wand in a seated reach": ("wand-out-of-reach", "window-out-of-reach"),
    "seated reach unknown": ("reach-unknown", "reach-not-measured"), "wand that twists": "wand-twists",
    "accessible door": "accessible-door-too-narrow", "escape by motor": "motor-on-escape",
    "escape not measured": "escape-sash-unknown", "ask the authority": "escape-code-unknown",
    "escape too small": ("escape-too-narrow", "escape-too-low", "escape-too-small", "escape-sill-too-high"),
}


def check_questions(check: Check, rows, project, result: dict) -> None:
    names = {code: name for name, of in CODES.items() if of for code in ([of] if isinstance(of, str) else of)}
    asked: dict[str, set] = {}
    for query in result["queries"]:
        if query["severity"] != "stop" and query["code"] in names:
            for at in query["at"]:
                asked.setdefault(at.rpartition("!")[2].lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ"), set()).add(names[query["code"]])
    for o, blind in rows:
        if blind["state"] == "held":
            continue
        expected = {name for name in questions.questions(o, project, blind) if CODES[name]}
        got = asked.get(o.at.rpartition("!A")[2], set())
        missing, extra = sorted(expected - got), sorted(got - expected)
        check.same(f"{o.at} questions ({blind['mount']})", [],
                   [f"missing: {name}" for name in missing] + [f"extra: {name}" for name in extra])


# --- sizes from stock and merging -----------------------------------------------------------------

def sourced(check: Check, rows, project, result: dict) -> list:
    """The rows at the sizes that the result gave them, once those are seen to be allowed."""
    by_row = {entry["at"]: entry for entry in result["openings"]}
    used: Counter = Counter()
    for entry in result["openings"]:
        if entry["source"] == "stock":
            used[nm(entry["width_mm"])] += entry["quantity"]
    for width, count in used.items():
        check.holds(f"{count} blinds from stock, {width} wide",
                    width in lists.BOXES and count <= lists.BOXES[width].on_hand)
    moved = []
    wishes, spent = [], 0
    for o, blind in rows:
        entry = by_row.get(o.at)
        if blind["state"] == "held" or entry is None or entry["state"] == "held" or blind["mount"] != entry["mount"]:
            moved.append((o, blind))
            if blind["state"] != "held":
                wishes.append(None)  # it may have had a box before it was held
            continue
        width, drop, source = nm(entry["width_mm"]), nm(entry["drop_mm"]), entry["source"]
        if project.finished_sizes:
            check.same(f"{o.at} keeps its finished size", (blind["width"], blind["drop"], "made"), (width, drop, source))
            moved.append((o, blind))
            continue
        new = sourcing.resized(o, project, blind, width, drop, source)
        said = f"{o.at} {blind['width']} x {blind['drop']} to {width} x {drop}, {source}"
        is_same = (width, drop) == (blind["width"], blind["drop"])
        check.holds(f"{said}: in its window", is_same or sourcing.in_window(o, project, blind["mount"], width, drop))
        made = sourcing.made_price(blind)
        if source == "stock":
            box = lists.BOXES.get(width)
            is_filled = box is not None and drop == box.drop and sourcing.is_filled_from(box, o, project, blind)
            check.holds(f"{said}: a stock size of its color, draw and control", is_filled)
            if is_filled and new["state"] != "held":
                check.holds(f"{said}: no dearer than made", sourcing.box_price(box, new) <= made)
        else:
            _check_made(check, said, o, project, blind, new)
        moved.append((o, new))
        wishes.append(sourcing.wish(o, project, blind))
        if wishes[-1] is not None:
            spent += o.quantity * (made if source == "made" else wishes[-1].boxes.get(width, made))
    if project.stock and None not in wishes:
        check.same("the boxes go where they save the most: money of all blinds", sourcing.least_money(wishes), spent)
    before, after = order.counts(rows)["sizes"], order.counts(moved)["sizes"]
    if not project.stock:
        check.holds(f"sizes: {before} before, {after} after", after <= before)
    return moved


def _check_made(check: Check, said: str, o, project, blind: dict, new: dict) -> None:
    most = project.merge or 0
    aside = max(abs(new["width"] - blind["width"]), abs(new["drop"] - blind["drop"])) if new["state"] != "held" else 0
    check.holds(f"{said}: moved no further than asked", aside <= most)
    if blind["mount"] == "inside" and aside:
        check.holds(f"{said}: not the least width and drop at once",
                    not sourcing.is_least_of_both(o, project, new["width"], new["drop"]))


# --- order, cuts, hardware, cost ------------------------------------------------------------------

LINE = {"product": "product", "color": "color", "width_mm": "width", "drop_mm": "drop", "louver_count": "louvers",
        "louver_length_mm": "louver_length", "draw": "draw", "control": "control", "control_side": "control_side",
        "wand_mm": "wand", "mount": "mount", "bracket": "bracket", "bracket_count": "brackets", "reach_mm": "reach",
        "valance_mm": "valance", "return_left_mm": "return_left", "return_right_mm": "return_right",
        "source": "source", "release": "release"}


def check_order(check: Check, lines, project, result: dict) -> None:
    names = {entry["at"]: entry["name"] for entry in result["openings"]}
    check.same("order: numbers", list(range(1, len(result["order"]) + 1)), [line["line"] for line in result["order"]])
    expected, got = {}, {}
    for line in lines.values():
        key = tuple(line.blind[name] for name in LINE.values()) + (line.rows[0][0].phase,)
        expected.setdefault(key, []).append((line.quantity, tuple(names[o.at] for o, _ in line.rows)))
    spare: Counter = Counter()
    for line in result["spare_louvers"]:
        spare[line["color"], nm(line["length_mm"]), line["quantity"]] += 1
    for line in result["order"]:
        key = tuple(value_at(line, name) for name in LINE) + (line["phase"],)
        got.setdefault(key, []).append((line["quantity"], tuple(line["openings"])))
    for key in sorted(expected.keys() | got.keys(), key=str):
        check.same(f"order line {key}", expected.get(key), got.get(key))
    # In `buy` spare louvers are lines of their own, in `make` they are cut.
    wanted = order.spare_louvers(lines, project) if project.basis == "buy" else {}
    check.same("order: spare louvers", Counter((color, kind.length, kind.count) for (_, color), kind in wanted.items()),
               spare)


def check_cuts(check: Check, rows, lines, project, result: dict) -> None:
    expected = order.pieces(lines, project)
    found = {(cut["material"], cut["color"]): cut for cut in result["cuts"]}
    check.same("cuts: materials", sorted(expected, key=str), sorted(found, key=str))
    for key, pieces in expected.items():
        if key in found:
            _check_cut(check, key, pieces, project, result, found[key])
            if project.materials[key[0]].is_by_blind:
                _check_rolls(check, key, rows, lines, project, result, found[key])


def _check_rolls(check: Check, key, rows, lines, project, result: dict, cut: dict) -> None:
    names = {entry["at"]: entry["name"] for entry in result["openings"]}
    floors = rolls.floors(o for o, _ in rows)
    material, blinds = project.materials[key[0]], {}
    for line in lines.values():
        lengths = [length for name, color, length in order.pieces_of(line.blind, project) if (name, color) == key]
        for o, _ in line.rows if line.is_cut and lengths else ():
            for number in range(1, o.quantity + 1):
                taken = sum(lengths) + (len(lengths) - 1) * material.kerf
                blinds[names[o.at], number] = rolls.Blind(floors[o.at], len(lengths), taken)
    rolls.check_rolls(check, f"cuts {key[0]} {key[1]}", cut, blinds, material.length - 2 * material.trim)


def _check_cut(check: Check, key, pieces: Counter, project, result: dict, cut: dict) -> None:
    where = f"cuts {key[0]} {key[1]}"
    material = project.materials[key[0]]
    bar, kerf, trim = material.length, material.kerf, material.trim
    got: Counter = Counter()
    by_line: dict = {}
    used = bars = 0
    for pattern in cut["patterns"]:
        times, stock, lengths = pattern["bars"], nm(pattern["stock_mm"]), nms(pattern["pieces_mm"])
        total = sum(lengths)
        check.same(f"{where}: from", "bar", pattern["from"])
        check.same(f"{where}: stock length", bar, stock)
        check.holds(f"{where}: {lengths} fit the bar", total + (len(lengths) - 1) * kerf <= stock - 2 * trim)
        left = max(0, stock - trim - total - len(lengths) * kerf)
        check.same(f"{where}: offcut", left, nm(pattern["offcut_mm"]))
        used += times * stock
        bars += times
        check.same(f"{where}: a line for each piece", len(lengths), len(pattern["lines"]))
        for piece, line in zip(lengths, pattern["lines"]):
            got[piece] += times
            by_line.setdefault(line, Counter())[piece] += times
    check.same(f"{where}: pieces", pieces, got)
    check.same(f"{where}: number of pieces", sum(pieces.values()), cut["pieces"])
    for line in result["order"]:
        is_cut = line["release"] == "make" and line["source"] == "made" and line["openings"]
        blind = {"color": line["color"], "product": line["product"], "louvers": line["louver_count"]} | {
            name: nm(line[f"{name}_mm"]) for name in ("width", "valance", "return_left", "return_right", "louver_length")}
        wanted = Counter(length for name, color, length in (order.pieces_of(blind, project) if is_cut else ())
                         if (name, color) == key)
        wanted = Counter({length: count * line["quantity"] for length, count in wanted.items()})
        check.same(f"{where}: pieces of line {line['line']}", wanted, by_line.get(line["line"], Counter()))
    check.same(f"{where}: bars", bars, cut["bars"])
    check.same(f"{where}: kerf and trim", (kerf, trim), (nm(cut["kerf_mm"]), nm(cut["trim_mm"])))
    # No plan needs fewer bars than the pieces and their kerfs fill.
    filled = math.ceil(Fraction(sum((length + kerf) * count for length, count in pieces.items()), bar - 2 * trim + kerf))
    check.holds(f"{where}: at_least {cut['at_least']} between {filled} and {bars}", filled <= cut["at_least"] <= bars)
    if material.is_by_blind:  # the bound by length alone
        check.same(f"{where}: at_least", filled, cut["at_least"])
    check.same(f"{where}: proven", bars == cut["at_least"], cut["proven"])
    check.same(f"{where}: cost", bars * material.price, Fraction(cut["cost"]))
    check.same(f"{where}: cost at least", cut["at_least"] * material.price, Fraction(cut["cost_at_least"]))
    share = Fraction(sum(length * count for length, count in pieces.items()), used)
    check.same(f"{where}: used_share", rounded(share, 4), cut["used_share"])


def check_hardware(check: Check, rows, lines, project, result: dict) -> None:
    expected = {item: (entry.needed, entry.spare, entry.pack, entry.packs)
                for item, entry in order.items(rows, lines, project).items()}
    got = {item["item"]: (item["needed"], item["spare"], item["pack_of"], item["packs"]) for item in result["hardware"]}
    check.same("hardware: items once each", len(got), len(result["hardware"]))
    for item in sorted(expected.keys() | got.keys()):
        check.same(f"hardware {item} (needed, spare, pack, packs)", expected.get(item), got.get(item))


def check_cost(check: Check, rows, lines, project, result: dict) -> None:
    bars = {(cut["material"], cut["color"]): cut["bars"] for cut in result["cuts"]}
    expected, cost = costs.costs(rows, lines, project, bars), result["cost"]
    ours = Counter((section, amount) for section, _, amount in expected["lines"])
    theirs = Counter((line["section"], Fraction(line["amount"])) for line in cost["lines"]
                     if line["amount"] is not None and Fraction(line["amount"]))
    for section, amount in (ours - theirs):
        what = [w for s, w, a in expected["lines"] if (s, a) == (section, amount)]
        check.same(f"cost {section} {what}", float(amount), "no such line")
    for section, amount in (theirs - ours):
        what = [line["item"] for line in cost["lines"]
                if line["section"] == section and line["amount"] and Fraction(line["amount"]) == amount]
        check.same(f"cost {section} {what}", "no such line", float(amount))
    check.passed += sum((ours & theirs).values())
    for name in ("subtotal", "tax", "total", "known_tax", "known_total"):
        got = cost[name]
        check.same(f"cost: {name}", expected[name], None if got is None else Fraction(got))
    check_shares(check, expected, project, cost["shares"])


def check_shares(check: Check, expected: dict, project, shares: list[dict]) -> None:
    """Places and the whole project add up to the cost, by each property, and a place bears what comes on it."""
    for by in ("phase", "floor", "unit", "product"):
        of_it = [row for row in shares if row["by"] == by]
        for key, wanted in expected["shares"].items():
            check.same(f"shares by {by}: {key}", wanted, sum(Fraction(row[key]) for row in of_it))
        for row in of_it:
            if row["name"] == "whole project":
                continue
            for key, wanted in costs.bears(Fraction(row["direct"]), project).items():
                if key == "overheads" or project.tax_on != "materials":
                    check.same(f"share of {by} {row['name']}: {key}", wanted, Fraction(row[key]))


def check_all(check: Check, rows, project, result: dict) -> None:
    if project.stock or project.merge:
        rows = sourced(check, rows, project, result)
    lines = order.group(rows)
    check_openings(check, rows, result["openings"])
    check_questions(check, rows, project, result)
    for name, value in order.counts(rows).items():
        check.same(f"counts: {name}", value, result["counts"][name])
    check.same("complete", all(b["state"] == "sized" for _, b in rows), result["complete"])
    check_order(check, lines, project, result)
    check_cuts(check, rows, lines, project, result)
    check_hardware(check, rows, lines, project, result)
    check_cost(check, rows, lines, project, result)
    check.same("keys that the result lacks", [], sorted(check.lacking))
