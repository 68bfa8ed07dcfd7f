"""The bill. Rates and prices are examples, not quotes; an amount is rounded to the cent once, on its line.

While a price is unknown there is no total; overhead, profit, contingency and tax are on what is known.
"""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

import lists
import order
from exact import money
from facts import Project

BLIND, SQUARE_METER, LEAST_SQUARE_METERS = Fraction(30), Fraction(22), Fraction(3, 2)
SURVEY, MAKING, FITTING, HARD_BRACKET, UNIT = 5, 25, 30, 8, 8  # minutes
DELIVERY = Fraction(90)


def blind_price(blind: dict) -> Fraction:
    if blind["source"] == "stock":
        return lists.BOXES[blind["width"]].price
    area = max(LEAST_SQUARE_METERS, Fraction(blind["width"] * blind["drop"], 10**18))
    return money(BLIND + SQUARE_METER * area)


def is_drilled(o, blind: dict) -> bool:
    """A bracket in masonry or concrete takes longer; one on a casing is in neither."""
    return o.substrate in ("masonry", "concrete") and blind["mount_on"] != "casing"


def costs(rows, lines, project: Project, bars: dict[tuple, int]) -> dict:
    """`bars` are the bars bought for each material and color: the cutting plan's own number."""
    bill: list[tuple[str, str, Fraction]] = []  # section, what, amount

    def charge(section: str, what: str, amount: Fraction) -> None:
        if amount:
            bill.append((section, what, money(amount)))

    hung = [(o, blind) for o, blind in rows if blind["state"] != "held"]
    minute = project.labor / 60
    for number, line in enumerate(lines.values(), 1):
        if project.basis == "buy" or line.blind["source"] == "stock":
            charge("blinds", f"line {number}", line.quantity * blind_price(line.blind))
    if project.basis == "buy":
        for (name, color), spare in order.spare_louvers(lines, project).items():
            charge("blinds", f"spare louvers {name} {color}", spare.count * lists.SPARE_LOUVER)
    else:
        _materials(charge, lines, project, bars)
        charge("making", "making", sum(o.quantity for o, b in hung if b["source"] == "made") * MAKING * minute)
    needs = order.items(rows, lines, project)
    is_known = True
    for item, entry in needs.items():
        if entry.price is not None:
            charge("parts", item, entry.pieces * entry.price)
        else:
            is_known = False
    charge("fitting", "a blind", sum(o.quantity * FITTING * b["people"] for o, b in hung) * minute)
    hard = sum(o.quantity * b["brackets"] for o, b in hung if is_drilled(o, b))
    charge("fitting", "masonry or concrete bracket", hard * HARD_BRACKET * minute)
    charge("fitting", "set-up per unit", len({(o.building, o.unit) for o, _ in hung}) * UNIT * minute)
    charge("survey", "survey", sum(o.quantity for o, _ in rows) * SURVEY * minute)
    charge("delivery", "delivery", DELIVERY)
    direct = sum(amount for _, _, amount in bill)
    materials = sum(amount for section, _, amount in bill if section in ("blinds", "parts"))
    overhead = money(direct * project.overhead)
    profit = money((direct + overhead) * project.profit)
    contingency = money((direct + overhead + profit) * project.contingency)
    for section, amount in (("overhead", overhead), ("profit", profit), ("contingency", contingency)):
        charge(section, section, amount)
    subtotal = direct + overhead + profit + contingency
    on_materials = project.tax_on == "materials"
    tax = money((materials if on_materials else subtotal) * project.tax)
    # What has no price here are parts: they are taxed either way.
    return {"lines": bill, "subtotal": subtotal, "known_tax": tax, "known_total": subtotal + tax,
            "tax": tax if is_known else None, "total": subtotal + tax if is_known else None,
            "shares": {"direct": direct, "overheads": subtotal - direct, "tax": tax, "whole": subtotal + tax}}


def bears(direct: Fraction, project: Project) -> dict:
    """What comes on the direct cost of a place, each rounded once; tax where it is on all."""
    on_it = (1 + project.overhead) * (1 + project.profit) * (1 + project.contingency) - 1
    overheads = money(direct * on_it)
    return {"overheads": overheads, "tax": money((direct + overheads) * project.tax)}


def _materials(charge, lines, project: Project, bars: dict[tuple, int]) -> None:
    """Whole bars for what is made, lengths of them for what is provisional."""
    for (material, color), count in bars.items():
        charge("parts", f"{material} {color}", count * project.materials[material].price)
    by_length: Counter = Counter()
    for line in lines.values():
        if line.blind["release"] == "provisional" and line.blind["source"] == "made":
            for material, color, length in order.pieces_of(line.blind, project):
                by_length[material, color] += length * line.quantity
    for (material, color), length in by_length.items():
        bar = project.materials[material]
        charge("parts", f"{material} {color}, provisional", Fraction(length, bar.length) * bar.price)
