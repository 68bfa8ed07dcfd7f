"""The trade rules of vertical-louver blinds, worked out a second time.

The rules are common practice, no source, where none is named beside them. This is an independent
calculation, written from the rules alone and sharing no code with the command that it checks. Left and
right are as seen from inside the room.

`size_opening` turns one measured opening into one finished blind; `order`, `costs` and `sourcing` turn many
of those into an order, pieces, items and a bill.
"""

from __future__ import annotations

import depths
import fixings
import grips
import loads
import parts
import sizes
from exact import half_away
from facts import Held, Opening, Project
from lists import BRACKETS, INSIDE_BRACKET, Product
from sizes import Size


def is_floor_unfinished(o: Opening, project: Project) -> bool:
    """Whether it is not laid, and nobody says how thick it will be."""
    unlaid = o.surface == "unfinished" or (o.surface is None and project.floors_finished == "no")
    return unlaid and o.to_come is None


def is_floor_unlaid(o: Opening, project: Project) -> bool:
    return o.is_door() and is_floor_unfinished(o, project)


def is_provisional(o: Opening, mount: str, project: Project) -> bool:
    return (mount == "inside" and o.measured != "tape") or is_floor_unlaid(o, project)


def fit(o: Opening, size: Size, project: Project, product: Product) -> dict:
    """Every field of the blind, by the names of the result; lengths that may be parts of a nanometer rounded."""
    drawn = parts.draw(o)
    louvers = parts.louver_count(size.width, drawn, product)
    length, stack = parts.louver_length(size), parts.stack(louvers, drawn)
    hanging = parts.louvers_weight(project, product, louvers, length)
    rail = parts.rail_weight(project, size)
    motor = parts.MOTOR if o.control == "motor" else 0
    weight = hanging + rail + motor
    load = loads.Load(size.width, hanging, rail, stack, parts.stacked(drawn), motor, o.motor_side)
    held = fixings.fix(o, project, size, load)
    left_end = None if size.overlaps is None else -size.overlaps[0] - size.tilt
    clear = parts.clear_open(o, size, drawn, stack)
    left, right = size.overlaps or (None, None)
    return_left, return_right = parts.returns(o, size, product)
    above_floor, above_head = parts.bracket_top(size)
    found = sizes.out_of_plumb(o)
    return {
        "product": product.name, "color": o.color, "mount": size.mount, "mount_on": size.on, "draw": drawn,
        "width": size.width, "drop": size.drop, "source": "made",
        "lean": None if project.finished_sizes or found is None else half_away(found),
        "louvers": louvers, "louver_length": length, "stack": stack,
        "clear_open": None if clear is None else half_away(clear),
        "bracket": BRACKETS[size.reach] if size.mount == "outside" else INSIDE_BRACKET,
        "brackets": len(held.centers), "reach": size.reach, "setback": size.line,
        "stands_proud": depths.stands_proud(o, product) if size.mount == "inside" else None,
        "from_left": [half_away(center) for center in held.centers],
        "from_opening_left": None if left_end is None else [half_away(center + left_end) for center in held.centers],
        "clips": [half_away(clip) for clip in parts.clips(size.width, held.centers)],
        "top_above_floor": above_floor, "top_above_head": above_head,
        "fixing": held.item, "fixing_also": held.also, "fixings": sum(held.screws.values()), "screws": held.screws,
        "anchors": [fixing.name for fixing in project.fixings if fixing.substrate == "drywall"],
        "in_steel": held.in_steel,
        "into_steel": held.into == "steel",
        "on_studs": held.on_studs, "edge": grips.greatest_edge(o, project, size.mount), "top_of_drop": size.top,
        "use": held.use, "hung": held.hung, "pulled": held.pulled, "needed": held.needed, "asks": held.asks,
        "valance": parts.valance(size), "return_left": return_left, "return_right": return_right,
        "overlap_left": None if left is None else half_away(left),
        "overlap_right": None if right is None else half_away(right),
        "see_past": parts.see_past(o, size), "control": o.control, "control_side": parts.control_side(o, drawn),
        "wand": parts.wand(o, size, project), "weight": weight, "people": parts.people(size, weight),
    }


def size_opening(o: Opening, project: Project) -> dict:
    """The blind of one opening, with its `state`; a held one holds nothing but that and why."""
    try:
        return _sized(o, project)
    except Held as why:
        return {"state": "held", "why": str(why)}


def _sized(o: Opening, project: Project) -> dict:
    if o.unreadable:
        raise Held(o.unreadable)
    if not o.widths or not o.heights:
        raise Held("no width or no height")
    if o.product not in project.products:
        raise Held("no such product")
    for name, most in sizes.IMPLAUSIBLE.items():
        if (getattr(o, name) or 0) > most:
            raise Held(f"{name} is implausible")
    if o.control == "cord":
        # Whether a rule allows one with a device is not worked out here: no survey that is compared names a device.
        raise Held("a cord that the rule forbids, or without its device")
    product = project.products[o.product]
    size = sizes.size(o, project, product)
    if o.slab == "tensioned" and (is_slab_overhead(o, size.mount)
                                  or (size.mount == "inside" and o.substrate in (None, "masonry"))):
        # Somebody names a slab, and nothing says that the screws stay clear of it.
        raise Held("no screw goes up into a tensioned slab until it is cleared")
    state = "provisional" if is_provisional(o, size.mount, project) else "sized"
    release = "provisional" if state == "provisional" else "make"
    return {"state": state, "release": release, **fit(o, size, project, product)}


def is_slab_overhead(o: Opening, mount: str) -> bool:
    """Screws that go up into a ceiling, or into a head of concrete."""
    return mount == "ceiling" or (mount == "inside" and o.substrate == "concrete")
