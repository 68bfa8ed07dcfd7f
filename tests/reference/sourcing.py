"""Sizes that stock and merging may give. Which of the allowed sizes wins is a matter for a solver; that it is
allowed, cheap enough and on hand is not."""

from __future__ import annotations

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
