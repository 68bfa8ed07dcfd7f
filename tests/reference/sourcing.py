"""Sizes that stock and merging may give, and the least money for which all blinds are to be had.

Which boxes go where is found by going through the rows one by one and keeping, for each number of boxes left of
each size, the least that the rows so far can cost. Which of the sizes that merging allows wins is a matter for a
solver; that it is allowed is not."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

import costs
import lists
import rules
import sizes
from facts import Held, Opening, Project
from lists import Box


def in_window(o: Opening, project: Project, mount: str, width: int, drop: int) -> bool:
    window = sizes.window(o, project, project.products[o.product], mount)
    return window.width.holds(width) and window.drop.holds(drop)


def is_least_of_both(o: Opening, project: Project, width: int, drop: int) -> bool:
    """An inside blind is never moved to the least width and the least drop at once."""
    window = sizes.window(o, project, project.products[o.product], "inside")
    return width == window.width.least < window.width.most and drop == window.drop.least < window.drop.most


def resized(o: Opening, project: Project, blind: dict, width: int, drop: int, source: str) -> dict:
    """The blind of an opening at the size that stock or merging gave it."""
    product = project.products[blind["product"]]
    size = sizes.placed(o, project, product, blind["mount"], width, drop)
    try:
        return {**blind, **rules.fit(o, size, project, product), "source": source}
    except Held as why:
        return {"state": "held", "why": str(why)}


def is_filled_from(box: Box, o: Opening, project: Project, blind: dict) -> bool:
    """A box is what its row says: another product, color, draw or control is not filled from it."""
    return (project.stock and blind["product"] == box.product and blind["color"] == box.color
            and blind["draw"] in box.draws and blind["control"] == box.control
            and in_window(o, project, blind["mount"], box.width, box.drop))


def box_price(box: Box, blind: dict) -> Fraction:
    """Brackets that the box lacks are bought besides; `blind` is the one that hangs from it."""
    if blind["bracket"] == box.bracket:
        return box.price
    return box.price + blind["brackets"] * lists.PARTS[blind["bracket"]][0]


def made_price(blind: dict) -> Fraction:
    return costs.blind_price({**blind, "source": "made"})


@dataclass(frozen=True)
class Wish:
    """A row: how many blinds, what one costs made, and what from each box that it is filled from."""
    quantity: int
    made: Fraction
    boxes: dict[int, Fraction]


def wish(o: Opening, project: Project, blind: dict) -> Wish | None:
    """What a row could have; None if it would be held with a box, so that its brackets are not known."""
    boxes = {}
    for box in lists.BOXES.values():
        if is_filled_from(box, o, project, blind):
            hung = resized(o, project, blind, box.width, box.drop, "stock")
            if hung["state"] == "held":
                return None
            boxes[box.width] = box_price(box, hung)
    return Wish(o.quantity, made_price(blind), boxes)


def least_money(wishes: list[Wish]) -> Fraction:
    """Over every use of the boxes; a row takes one for each of its blinds or none."""
    places = {width: place for place, width in enumerate(lists.BOXES)}
    least = {tuple(box.on_hand for box in lists.BOXES.values()): Fraction(0)}
    for row in wishes:
        after: dict[tuple[int, ...], Fraction] = {}
        for left, cost in least.items():
            ways = [(left, cost + row.quantity * row.made)]
            for width, price in row.boxes.items():
                place = places[width]
                if left[place] >= row.quantity:
                    fewer = (*left[:place], left[place] - row.quantity, *left[place + 1:])
                    ways.append((fewer, cost + row.quantity * price))
            for now, total in ways:
                after[now] = min(total, after.get(now, total))
        least = after
    return min(least.values())
