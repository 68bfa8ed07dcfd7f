"""An order of many blinds: lines of identical ones, pieces to cut, and the items to buy or to bring."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction

import lists
import parts
from exact import INCH, MM
from facts import Opening, Project

IDENTICAL = ("product", "color", "width", "drop", "louvers", "louver_length", "draw", "control", "control_side",
             "wand", "mount", "bracket", "brackets", "reach", "return_left", "return_right", "valance", "source",
             "release", "phase")
LEAST_SPARE_LOUVERS = 2
NOT_CHOSEN = "not chosen"
MOTOR = "motor"
# What a louver hangs by: without these a spare one cannot be hung.
HANGING = ("carrier", "hanger", "bottom weight")
WITH_SPARES = HANGING + ("valance clip", "packer", lists.INSIDE_BRACKET) + tuple(lists.BRACKETS.values())


@dataclass
class Line:
    blind: dict
    quantity: int = 0
    rows: list[tuple[Opening, dict]] = field(default_factory=list)

    @property
    def is_cut(self) -> bool:
        """Blinds from stock have no cuts, provisional ones not yet."""
        return self.blind["release"] == "make" and self.blind["source"] == "made"


def group(rows: list[tuple[Opening, dict]]) -> dict[tuple, Line]:
    """Identical blinds as one line each, in the order of the survey."""
    lines: dict[tuple, Line] = {}
    for o, blind in rows:
        if blind["state"] == "held":
            continue
        key = tuple({**blind, "phase": o.phase}[name] for name in IDENTICAL)
        line = lines.setdefault(key, Line(blind))
        line.quantity += o.quantity
        line.rows.append((o, blind))
    return lines


# --- pieces ---------------------------------------------------------------------------------------

def louver_material(blind: dict, project: Project) -> lists.Material:
    return project.materials[project.products[blind["product"]].material]


def pieces_of(blind: dict, project: Project) -> list[tuple[str, str | None, int]]:
    """What is cut for one blind: material, color, length."""
    color, louvers = blind["color"], louver_material(blind, project)
    cut = [("rail", blind["width"] - 2 * parts.END_CAP), ("rod", blind["width"] - parts.ROD_SHORTER),
           ("valance", blind["valance"])]
    cut += [("valance", side) for side in (blind["return_left"], blind["return_right"]) if side > 0]
    cut += [(louvers.name, blind["louver_length"] + louvers.hem)] * blind["louvers"]
    return [(name, color if project.materials[name].is_colored else None, length) for name, length in cut]


@dataclass
class Spare:
    count: int
    length: int  # of the longest louver, without its hem


def spare_louvers(lines: dict[tuple, Line], project: Project) -> dict[tuple[str, str], Spare]:
    """Spares of each color of each louver that is made, as long as the longest, once for the project."""
    made: Counter = Counter()
    longest: dict[tuple[str, str], int] = {}
    for line in lines.values():
        if line.is_cut:
            kind = louver_material(line.blind, project).name, line.blind["color"]
            made[kind] += line.quantity * line.blind["louvers"]
            longest[kind] = max(longest.get(kind, 0), line.blind["louver_length"])
    return {kind: Spare(max(LEAST_SPARE_LOUVERS, math.ceil(count * project.spare_louvers)), longest[kind])
            for kind, count in made.items()}


def pieces(lines: dict[tuple, Line], project: Project) -> dict[tuple, Counter]:
    """Lengths to cut for release `make`, by material and color. Spare louvers are cut only by who makes the blinds:
    in `buy` they are ordered."""
    cut: dict[tuple, Counter] = {}
    for line in lines.values():
        for material, color, length in pieces_of(line.blind, project) if line.is_cut else ():
            cut.setdefault((material, color), Counter())[length] += line.quantity
    if project.basis == "make":
        for (name, color), spare in spare_louvers(lines, project).items():
            material = project.materials[name]
            cut[name, color if material.is_colored else None][spare.length + material.hem] += spare.count
    return cut


# --- items ----------------------------------------------------------------------------------------

def wand_name(length: int, project: Project) -> str:
    if project.is_metric:
        return f"wand {Decimal(length).scaleb(-6).normalize():f} mm"
    return f"wand {length // INCH} in"


@dataclass
class Item:
    """`with_blinds` of the needed come in the boxes of blinds that are bought; `pack` is None without a list price."""
    needed: int = 0
    to_make: int = 0  # of them, for release `make`
    with_blinds: int = 0
    spare: int = 0
    pack: int | None = None
    packs: int | None = None
    price: Fraction | None = None  # of one
    pieces: int = 0  # bought by the piece


def parts_of(o: Opening, blind: dict, project: Project) -> Counter:
    """What one blind is made of and hung by, apart from its screws."""
    louvers, drawn = blind["louvers"], blind["draw"]
    found = Counter({
        blind["bracket"]: blind["brackets"], "valance clip": blind["brackets"],
        "carrier": louvers, "hanger": louvers, "bottom weight": louvers,
        "spacer link": parts.spacer_links(louvers, drawn), "end cap": 2,
        "corner piece": sum(1 for side in ("return_left", "return_right") if blind[side] > 0)})
    if blind["wand"] is not None:
        found[wand_name(blind["wand"], project)] += len(parts.stacked(drawn))
    if blind["control"] == "motor":
        found[MOTOR] += 1
    if blind["mount"] != "outside":
        found["packer"] += blind["brackets"]
    return found


def comes_with(item: str, blind: dict, project: Project) -> bool:
    """What is in the price of a blind that is bought: all but packers, motors, and brackets that a box lacks."""
    if item in ("packer", MOTOR):
        return False
    if blind["source"] == "stock":
        return item != blind["bracket"] or item == lists.BOXES[blind["width"]].bracket
    return project.basis == "buy"


def items(rows: list[tuple[Opening, dict]], lines: dict[tuple, Line], project: Project) -> dict[str, Item]:
    """Every item of both releases, with its spares for release `make`."""
    found: dict[str, Item] = {}
    fixings = {fixing.name: fixing for fixing in project.fixings}
    for o, blind in rows:
        if blind["state"] == "held":
            continue
        for item, count in (parts_of(o, blind, project) + blind["screws"]).items():
            entry = found.setdefault(item, Item())
            entry.needed += o.quantity * count
            if blind["release"] == "make":
                entry.to_make += o.quantity * count
            if item not in blind["screws"] and comes_with(item, blind, project):
                entry.with_blinds += o.quantity * count
    spare = sum(kind.count for kind in spare_louvers(lines, project).values())
    for item, entry in found.items():
        if item in fixings or item == NOT_CHOSEN:
            entry.spare = math.ceil(entry.to_make * project.spare_fixings)
        elif item in WITH_SPARES:
            entry.spare = math.ceil(entry.to_make * project.spare_parts)
            if item in HANGING:
                entry.spare = max(entry.spare, spare)
        _bought(item, entry, project, fixings.get(item))
    return {item: entry for item, entry in found.items() if entry.needed}


def _bought(item: str, entry: Item, project: Project, fixing: lists.Fixing | None) -> None:
    """In whole packs; parts that come with bought blinds by the piece, for what is spare or is not in the box."""
    if fixing is not None:
        entry.pack, entry.price = fixing.pack, fixing.each
    elif item.startswith("wand "):
        length = Fraction(item.split()[1]) * (MM if project.is_metric else INCH)
        entry.pack, entry.price = 1, lists.WAND_PRICE * length / parts.wand_step(project)
    elif item == MOTOR:
        entry.pack = 1
    elif item in lists.PARTS:
        entry.price, entry.pack = lists.PARTS[item]
    elif item == MOTOR:
        entry.pack = 1  # sold by the piece, at a price that nobody knows yet
    if entry.pack is None:
        return
    wanted = entry.needed - entry.with_blinds + entry.spare
    if project.basis == "buy" and item in lists.PARTS and item != "packer":
        entry.pieces, entry.packs = wanted, 0
    else:
        entry.packs = -(-wanted // entry.pack)
        entry.pieces = entry.packs * entry.pack


def counts(rows) -> dict:
    def blinds(*states: str) -> int:
        return sum(o.quantity for o, b in rows if b["state"] in states)

    sizes = {(b["product"], b["width"], b["drop"]) for _, b in rows if b["state"] != "held"}
    return {"rows": len(rows), "openings": blinds("sized", "provisional", "held"), "sized": blinds("sized"),
            "provisional": blinds("provisional"), "held": blinds("held"), "blinds": blinds("sized", "provisional"),
            "sizes": len(sizes)}
