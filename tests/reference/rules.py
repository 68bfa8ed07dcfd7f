"""The trade rules of vertical-louver blinds, worked out a second time.

The rules are common practice, no source, where none is named beside them. This is an
independent calculation, written from the rules alone and sharing no code with the
command that it checks. It is exact: a length is a whole number of nanometers (an `int`, or a
`Fraction` where a half may stand for a moment), money is a `Fraction` rounded once where the
rules round it. Left and right are as seen from inside the room.

`size_opening` turns one measured opening into one finished blind; `group`, `pieces`, `hardware`
and `costs` turn many of those into an order, a list of pieces, a list of items and a bill.
"""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction

import loads

MM = 1_000_000
INCH = 25_400_000


def inches(text: str) -> int:
    """`"3 1/2"` to nanometers."""
    return int(sum(Fraction(part) for part in text.split()) * INCH)


def half_away(value: Fraction) -> int:
    """The nearest whole number; a half goes away from zero."""
    sign = -1 if value < 0 else 1
    return sign * math.floor(abs(Fraction(value)) + Fraction(1, 2))


def round_down(length: int, step: int) -> int:
    return length // step * step


def money(value: Fraction) -> Fraction:
    """To the cent, half away from zero."""
    return Fraction(half_away(Fraction(value) * 100), 100)


# --- the rules' numbers -------------------------------------------------------------------------

LEAST_WIDTH, MOST_WIDTH = inches("12"), inches("192")
LEAST_DROP, MOST_DROP = inches("12"), inches("144")
SIDE_CLEARANCE = inches("1/4")
DROP_CLEARANCE = inches("1/2")
LOUVER_CLEARANCE = inches("3/8")
HALF_RAIL = inches("7/8")
OVERLAP_WANTED, OVERLAP_LEAST = inches("2"), inches("1")
WALL_ROOM = inches("3/8")  # the valance's 1/4 in past the rail, and 1/8 in for a hand
ABOVE_WANTED, ABOVE_LEAST, ABOVE_MOST = inches("6"), inches("2 1/2"), inches("12")
ABOVE_LEAST_BY_WISH = inches("1/4")
ROOM_ABOVE = inches("3/4")
BRACKET_ABOVE_RAIL = inches("1/4")
FLOOR_GAP, FLOOR_GAP_CARPET = inches("1/2"), inches("3/4")
BELOW_WANTED, BELOW_LEAST, ROOM_BELOW = inches("2"), inches("1"), inches("1/2")
ABOVE_SILL = inches("1/2")
REACHES = {inches("3"): "bracket 3 in", inches("4 1/2"): "bracket 4 1/2 in", inches("6"): "bracket 6 in"}
IMPLAUSIBLE = {"depth": inches("24"), "handle": inches("8"), "trim": inches("4"), "to_come": inches("6")}
WAND_STEP, WAND_END = inches("12"), inches("40")
RETURN_BEYOND = inches("1/4")

BAR = {"rail": (5800 * MM, 3 * MM, 10 * MM, Fraction(26)), "rod": (5800 * MM, 3 * MM, 10 * MM, Fraction(9)),
       "valance": (5800 * MM, 3 * MM, 10 * MM, Fraction(14)),
       "fabric-89": (100_000 * MM, 0, 10 * MM, Fraction(95)), "fabric-127": (100_000 * MM, 0, 10 * MM, Fraction(130))}
HEM = inches("2")

# Price and pack of each part.
PARTS = {"bracket 3 in": ("1.80", 10), "bracket 4 1/2 in": ("2.40", 10), "bracket 6 in": ("3.00", 10),
         "inside bracket": ("1.20", 10), "valance clip": ("0.35", 20), "carrier": ("0.30", 100),
         "hanger": ("0.12", 100), "bottom weight": ("0.25", 100), "spacer link": ("0.04", 100),
         "end cap": ("0.40", 10), "corner piece": ("0.90", 10)}
FIXINGS = {"wood screw 8 x 1 1/2": ("6.00", 100), "wood screw 10 x 2 1/2": ("11.00", 100),
           "steel-stud screw 8 x 1 5/8": ("8.00", 100), "toggle 1/8": ("9.00", 20),
           "concrete screw 1/4 x 1 3/4": ("24.00", 100), "plug and screw 8 x 1 1/2": ("9.00", 100)}
FIXING_OF = {"wood": "wood screw 8 x 1 1/2", "drywall": "toggle 1/8", "steel": "steel-stud screw 8 x 1 5/8",
             "concrete": "concrete screw 1/4 x 1 3/4", "masonry": "plug and screw 8 x 1 1/2"}


@dataclass(frozen=True)
class Product:
    name: str
    louver: int
    pitch: int
    fabric: str


PRODUCTS = {"louver-89": Product("louver-89", inches("3 1/2"), inches("3 1/8"), "fabric-89"),
            "louver-127": Product("louver-127", inches("5"), inches("4 1/2"), "fabric-127")}


@dataclass
class Project:
    step: int = inches("1/8")
    unit: str = "in"
    finished_sizes: bool = False
    floors_finished: str = "mixed"
    ceiling: int | None = None
    loads: bool = False  # whether fixings are chosen by what they hold
    stock: bool = False
    merge: int | None = None  # how far a size may move to share another
    basis: str = "buy"
    tax_on: str = "all"
    tax: Fraction = Fraction(0)
    overhead: Fraction = Fraction(0)
    profit: Fraction = Fraction(0)
    contingency: Fraction = Fraction(0)
    labor: Fraction = Fraction(45)
    spare_louvers: Fraction = Fraction(2, 100)
    spare_fixings: Fraction = Fraction(10, 100)


@dataclass
class Opening:
    """One row of the survey; None is a blank cell, lengths are nanometers."""
    at: str
    opening: str | None = None
    building: str = ""
    floor: str = ""
    unit: str = ""
    room: str = ""
    phase: str = ""
    kind: str | None = None
    quantity: int = 1
    widths: list[int] = field(default_factory=list)
    heights: list[int] = field(default_factory=list)
    diagonals: list[int] = field(default_factory=list)
    measured: str = "tape"
    depth: int | None = None
    depth_to: str | None = None
    handle: int | None = None
    trim: int | None = None
    wall_left: int | None = None
    wall_right: int | None = None
    wall_above: int | None = None
    wall_below: int | None = None
    left_ends_at: str = "free"
    right_ends_at: str = "free"
    sill: int | None = None
    surface: str | None = None
    to_come: int | None = None
    header: int | None = None
    header_offset: int | None = None
    mount: str = "either"
    drop_wanted: int | None = None
    product: str = "louver-89"
    color: str = "white"
    leaf: str | None = None
    opens: str | None = None
    draw: str | None = None
    control: str = "wand"
    substrate: str | None = None
    unreadable: str | None = None  # why a cell holds the row back, if one does

    @property
    def width(self) -> int:
        return min(self.widths)

    @property
    def height(self) -> int:
        return min(self.heights)

    def is_door(self) -> bool:
        if self.kind is not None:
            return self.kind in ("door", "patio door")
        return self.height >= inches("72") and (self.sill is None or self.sill <= inches("6"))

    def sill_height(self) -> int | None:
        """A blank sill is 0 for a door and unknown for a window."""
        return 0 if self.sill is None and self.is_door() else self.sill


class Held(Exception):
    """A stop: the opening is held back, and this says why."""


# --- sizes --------------------------------------------------------------------------------------

@dataclass
class Size:
    """Where a blind hangs and how large it is; unknown heights and overlaps are None."""
    mount: str
    width: int
    drop: int
    above: int | None  # rail top above the head of the opening; 0 within the recess
    top: int | None  # top of the drop above the floor as it is
    overlaps: tuple[Fraction, Fraction] | None
    reach: int | None
    setback: int | None


def within_limits(width: int, drop: int) -> bool:
    return LEAST_WIDTH <= width <= MOST_WIDTH and LEAST_DROP <= drop <= MOST_DROP


def standing_handle(o: Opening) -> int:
    return 0 if o.handle is None or o.depth_to == "handle" else o.handle


def lean(o: Opening) -> Fraction:
    if len(o.diagonals) < 2:
        return Fraction(0)
    first, second = o.diagonals
    return Fraction(abs(first * first - second * second), 4 * o.width)


def floor_gap(o: Opening) -> int:
    return FLOOR_GAP_CARPET if o.surface == "carpet" else FLOOR_GAP


def inside_size(o: Opening, project: Project) -> tuple[int, int]:
    drop = o.height - DROP_CLEARANCE
    if o.is_door():
        drop -= floor_gap(o) - FLOOR_GAP + (o.to_come or 0)
    return round_down(o.width - 2 * SIDE_CLEARANCE, project.step), round_down(drop, project.step)


def depth_needed(o: Opening, product: Product) -> int:
    return standing_handle(o) + LOUVER_CLEARANCE + product.louver // 2 + HALF_RAIL


def setback(o: Opening, product: Product) -> int | None:
    if o.depth is None:
        return None
    half = product.louver // 2
    return max(min(o.depth - standing_handle(o) - LOUVER_CLEARANCE - half, half), HALF_RAIL)


def reach(o: Opening, product: Product) -> int:
    out = max(o.trim or 0, standing_handle(o) - (o.depth or 0))
    needed = product.louver // 2 + LOUVER_CLEARANCE + out
    for length in sorted(REACHES):
        if length >= needed:
            return length
    raise Held("no bracket reaches far enough")


def limits_of(width: int, drop: int) -> None:
    if not within_limits(width, drop):
        raise Held("outside the product's limits")


def inside(o: Opening, project: Project, product: Product) -> Size:
    width, drop = inside_size(o, project)
    return inside_at(o, project, product, width, drop if o.drop_wanted is None else o.drop_wanted)


def choose_mount(o: Opening, project: Project, product: Product) -> str:
    if o.mount == "outside":
        return "outside"
    width, most_drop = inside_size(o, project)
    drop = most_drop if o.drop_wanted is None else o.drop_wanted
    rest_fits = (lean(o) <= 2 * SIDE_CLEARANCE and within_limits(width, drop) and o.opens not in ("in", "tilt"))
    deep_enough = o.depth is not None and o.depth >= depth_needed(o, product)
    too_long = o.drop_wanted is not None and o.drop_wanted > most_drop
    if o.mount == "either":
        if not (rest_fits and deep_enough):
            return "outside"
        if too_long:
            raise Held("the drop wanted is longer than the inside drop")
        return "inside"
    if not rest_fits or too_long or (o.depth is not None and not deep_enough):
        raise Held("inside does not fit")
    return "inside"


def overlaps(width: int, most: int, wanted: tuple[int, int], walls: tuple[int | None, int | None]) -> tuple[int, int]:
    """How far a blind of a given width laps each side of the opening."""
    total = width - most
    short = wanted[0] + wanted[1] - total
    left = wanted[0] - short // 2
    room_left, room_right = (None if wall is None else wall - WALL_ROOM for wall in walls)
    if room_right is not None:
        left = max(left, total - room_right)
    if room_left is not None:
        left = min(left, room_left)
    right = total - left
    if left < OVERLAP_LEAST < right:
        move = min(OVERLAP_LEAST - left, right - OVERLAP_LEAST)
        if room_left is not None:
            move = max(0, min(move, room_left - left))
        left += move
    elif right < OVERLAP_LEAST < left:
        move = min(OVERLAP_LEAST - right, left - OVERLAP_LEAST)
        if room_right is not None:
            move = max(0, min(move, room_right - right))
        left -= move
    return left, total - left


def outside_width(o: Opening, project: Project) -> tuple[int, tuple[int, int]]:
    walls = (o.wall_left, o.wall_right)
    wanted = tuple(OVERLAP_WANTED if wall is None else min(OVERLAP_WANTED, wall - WALL_ROOM) for wall in walls)
    most = max(o.widths)
    width = round_down(most + sum(wanted), project.step)
    need = sum(OVERLAP_LEAST for side in wanted if side >= OVERLAP_LEAST)
    if width - most < need and None in walls:
        width += project.step
    elif width - most < need and width + project.step - most <= sum(wall - WALL_ROOM for wall in walls):
        width += project.step
    return width, wanted


def most_above(o: Opening, head: int | None, project: Project) -> int | None:
    """What the wall above allows, apart from the rule's own most; None where nothing is known."""
    if o.wall_above is not None:
        return o.wall_above - ROOM_ABOVE
    if project.ceiling is not None and head is not None:
        return project.ceiling - head - ROOM_ABOVE
    return None


@dataclass
class Heights:
    """An outside blind up and down, from the sill line: where it ends, and how far above the head it may start."""
    height: int
    bottom: int
    least: int
    most: int
    above: int
    drop: int


def outside_heights(o: Opening, project: Project) -> Heights:
    sill = o.sill_height()
    height = o.height if o.is_door() else max(o.heights)
    lowest = floor_gap(o) + (o.to_come or 0)
    if o.is_door():
        bottom = lowest - sill
    else:
        below = BELOW_WANTED
        if o.wall_below is not None:
            below = min(below, o.wall_below - ROOM_BELOW)
        bottom = -below if below >= BELOW_LEAST else ABOVE_SILL
        if sill is not None:
            bottom = max(bottom, lowest - sill)
    allowed = most_above(o, None if sill is None else sill + height, project)
    if o.drop_wanted is not None:
        above = bottom + o.drop_wanted - height
        if allowed is not None and above > allowed:
            raise Held("the wall above forbids the drop wanted")
        if above < ABOVE_LEAST_BY_WISH:
            raise Held("the drop wanted ends too low")
        return Heights(height, bottom, above, above, above, o.drop_wanted)
    least, most = ABOVE_LEAST, ABOVE_MOST if allowed is None else min(ABOVE_MOST, allowed)
    above = min(ABOVE_WANTED, most)
    if above < least:
        raise Held("too little wall above")
    if o.header:
        low = max(least, (o.header_offset or 0) + inches("2"))
        high = min(most, (o.header_offset or 0) + o.header - inches("1/2"))
        if low <= high:
            least, most, above = low, high, min(max(above, low), high)
    return Heights(height, bottom, least, most, above, round_down(height + above - bottom, project.step))


def outside_at(o: Opening, project: Project, product: Product, width: int, drop: int) -> Size:
    """An outside blind of any size: another drop than the preferred one moves the top."""
    _, wanted = outside_width(o, project)
    up = outside_heights(o, project)
    above = up.above if drop == up.drop else up.bottom + drop - up.height
    sides = overlaps(width, max(o.widths), wanted, (o.wall_left, o.wall_right))
    sill = o.sill_height()
    return Size("outside", width, drop, above, None if sill is None else sill + up.height + above,
                tuple(Fraction(side) for side in sides), reach(o, product), None)


def outside(o: Opening, project: Project, product: Product) -> Size:
    width, drop = outside_width(o, project)[0], outside_heights(o, project).drop
    limits_of(width, drop)
    return outside_at(o, project, product, width, drop)


def inside_at(o: Opening, project: Project, product: Product, width: int, drop: int) -> Size:
    sill = o.sill_height()
    side = -Fraction(o.width - width, 2)
    return Size("inside", width, drop, 0, None if sill is None else sill + o.height, (side, side), None,
                setback(o, product))


def window(o: Opening, project: Project, mount: str) -> tuple[tuple[int, int], tuple[int, int]]:
    """The least and most of width and of drop that would also do, rounded inward to the step."""
    if mount == "inside":
        width, drop = o.width, o.height
        if o.is_door():
            drop -= floor_gap(o) - FLOOR_GAP + (o.to_come or 0)
        drops = (drop - inches("1"), drop - inches("1/2"))
        widths = (width - inches("1"), width - inches("1/2"))
    else:
        up = outside_heights(o, project)
        _, wanted = outside_width(o, project)
        # The least overlaps are asked of the sides that have room for them; another keeps what it has.
        widths = (max(o.widths) + sum(min(OVERLAP_LEAST, side) for side in wanted), max(o.widths) + sum(wanted))
        drops = (up.height + up.least - up.bottom, up.height + up.most - up.bottom)
    widths, drops = ((-round_down(-least, project.step), round_down(most, project.step))
                     for least, most in (widths, drops))
    return widths, drops if o.drop_wanted is None else (o.drop_wanted, o.drop_wanted)


def finished(o: Opening, product: Product) -> Size:
    if o.mount == "either":
        raise Held("a finished size needs its mount")
    drop = o.height if o.drop_wanted is None else o.drop_wanted
    if o.mount == "inside" and drop > o.height:
        raise Held("the drop wanted is longer than the drop given")
    if o.mount == "inside" and o.opens in ("in", "tilt"):
        raise Held("the leaf opens into the blind")
    limits_of(o.width, drop)
    if o.mount == "inside" and o.depth is not None and o.depth < depth_needed(o, product):
        raise Held("the recess is too shallow")
    far = reach(o, product) if o.mount == "outside" else None
    return Size(o.mount, o.width, drop, None, None, None, far, setback(o, product) if o.mount == "inside" else None)


def is_provisional(o: Opening, mount: str, project: Project) -> bool:
    unlaid = o.surface == "unfinished" or (o.surface is None and project.floors_finished == "no")
    return (mount == "inside" and o.measured != "tape") or (o.is_door() and unlaid and o.to_come is None)


# --- what follows from the size -----------------------------------------------------------------

def bracket_inset(width: int) -> Fraction:
    return min(Fraction(inches("4")), Fraction(width, 4))


def bracket_count(width: int) -> int:
    return max(2, math.ceil((width - 2 * bracket_inset(width)) / inches("32")) + 1)


def bracket_centers(width: int, count: int) -> list[Fraction]:
    inset = bracket_inset(width)
    between = width - 2 * inset
    return [inset + between * i / (count - 1) for i in range(count)]


def louver_count(width: int, draw: str, product: Product) -> int:
    count = math.ceil(Fraction(width - product.louver, product.pitch)) + 1
    return count + 1 if draw == "split" and count % 2 else count


def choose_draw(o: Opening) -> str:
    if o.draw is not None:
        return o.draw
    return {"left": "right", "right": "left"}.get(o.leaf, "left")


def wand_length(size: Size) -> int:
    hangs = Fraction(size.drop, 2) if size.top is None else size.top - WAND_END
    return max(WAND_STEP, math.floor(hangs / WAND_STEP) * WAND_STEP)


def is_solid(o: Opening, size: Size) -> bool:
    """Whether both screws of a bracket lie in the header; on a wall, 3/4 in inside its edges."""
    if not o.header:
        return False
    start, edge = o.header_offset or 0, inches("3/4")
    if size.mount == "inside":  # its screws go straight up into the head of the recess
        return start == 0
    if size.above is None:
        return False
    top = size.above + BRACKET_ABOVE_RAIL
    return top - inches("1 1/2") >= start + edge and top - inches("1/2") <= start + o.header - edge


def choose_fixing(o: Opening, size: Size) -> str | None:
    if o.substrate == "stud wall":
        return FIXING_OF["wood" if is_solid(o, size) else "drywall"]
    return FIXING_OF.get(o.substrate)


def fit(o: Opening, size: Size, project: Project, product: Product) -> dict:
    """Every field of the blind, by the names of the result."""
    draw = choose_draw(o)
    count = louver_count(size.width, draw, product)
    length = size.drop - inches("1 3/4" if size.mount == "inside" else "1 1/2")
    a_side = count // 2 if draw == "split" else count
    stack = inches("3/8") * a_side + inches("3 1/2")
    is_outside = size.mount == "outside"
    ends = (o.left_ends_at, o.right_ends_at)
    closed = [is_outside and size.overlaps is not None and end == "wall" and lap < OVERLAP_LEAST
              for end, lap in zip(ends, size.overlaps or (0, 0))]
    valance = size.width + inches("1/2") if is_outside else size.width
    arm = size.reach + product.louver // 2 + RETURN_BEYOND if is_outside else 0
    returns = [0 if not is_outside or shut else arm for shut in closed]

    clear = see_past = None
    if size.overlaps is not None:
        stacked = {"left": [0], "right": [1], "split": [0, 1]}[draw]
        clear = max(Fraction(0), o.width - sum(max(Fraction(0), stack - size.overlaps[side]) for side in stacked))
        open_sides = [lap for lap, shut in zip(size.overlaps, closed) if not shut]
        if is_outside and open_sides:
            see_past = math.degrees(math.atan(min(open_sides) / size.reach))

    kg = Fraction(1, 1000)
    area = Fraction(product.louver * length, 10**18)
    meter = 10**9
    louvers = count * (280 * kg * area + 60 * kg + 12 * kg)
    rail = 750 * kg * Fraction(size.width, meter) + 350 * kg * Fraction(valance, meter)
    weight = louvers + rail
    fixing, holders, use = choose_fixing(o, size), bracket_count(size.width), None
    if project.loads and fixing is not None:
        listed = [fixing]
        if fixing == FIXING_OF["wood"]:
            listed.append("wood screw 10 x 2 1/2")
        hung = loads.Hung(size.width, bracket_inset(size.width), louvers, rail, stack, draw == "split", size.reach)
        fixing, holders, use = loads.hold(hung, listed, holders)
    centers = bracket_centers(size.width, holders)
    above = None if size.above is None else size.above + (BRACKET_ABOVE_RAIL if is_outside else 0)
    floor = None if size.top is None else size.top + (BRACKET_ABOVE_RAIL if is_outside else 0)
    has_wand = o.control == "wand"
    return {
        "product": product.name, "color": o.color, "mount": size.mount, "draw": draw,
        "width": size.width, "drop": size.drop, "source": "made",
        "louvers": count, "louver_length": length, "stack": stack,
        "clear_open": None if clear is None else half_away(clear),
        "bracket": REACHES[size.reach] if is_outside else "inside bracket", "brackets": len(centers),
        "reach": size.reach, "setback": size.setback, "from_left": [half_away(c) for c in centers],
        "from_opening_left": None if size.overlaps is None else [half_away(c - size.overlaps[0]) for c in centers],
        "top_above_floor": floor, "top_above_head": above,
        "fixing": fixing, "fixings": 2 * len(centers), "use": use,
        "valance": valance, "return_left": returns[0], "return_right": returns[1],
        "overlap_left": None if size.overlaps is None else half_away(size.overlaps[0]),
        "overlap_right": None if size.overlaps is None else half_away(size.overlaps[1]),
        "see_past": see_past, "control": o.control,
        "control_side": {"left": "right", "right": "left", "split": "middle"}[draw] if has_wand else None,
        "wand": wand_length(size) if has_wand else None,
        "weight": weight, "people": 2 if size.width >= inches("96") or weight > 15 else 1,
    }


def size_opening(o: Opening, project: Project) -> dict:
    """The blind of one opening, with its `state`; a held one holds nothing but that and why."""
    try:
        if o.unreadable:
            raise Held(o.unreadable)
        if not o.widths or not o.heights:
            raise Held("no width or no height")
        if o.product not in PRODUCTS:
            raise Held("no such product")
        for name, most in IMPLAUSIBLE.items():
            if (getattr(o, name) or 0) > most:
                raise Held(f"{name} is implausible")
        if o.control == "cord":
            raise Held("cords are not worked out")
        product = PRODUCTS[o.product]
        if project.finished_sizes:
            size = finished(o, product)
        elif choose_mount(o, project, product) == "inside":
            size = inside(o, project, product)
        else:
            size = outside(o, project, product)
    except Held as why:
        return {"state": "held", "why": str(why)}
    state = "provisional" if is_provisional(o, size.mount, project) else "sized"
    return {"state": state, "release": "provisional" if state == "provisional" else "make", **fit(o, size, project, product)}


# --- what someone must look at ------------------------------------------------------------------

def has_clear_wall(o: Opening, size: dict) -> bool:
    return size["clear_open"] is not None and size["clear_open"] >= o.width


def questions(o: Opening, project: Project, blind: dict) -> set[str]:
    """The checks and notes that the rules ask for on an opening that is not held."""
    asked = set()

    def ask(name: str, is_asked: bool) -> None:
        if is_asked:
            asked.add(name)

    is_inside, is_door = blind["mount"] == "inside", o.is_door()
    ask("handle from what", bool(o.handle) and o.depth_to is None)
    ask("handle blank", is_door and o.handle is None)
    ask("leaf blank", is_door and o.leaf is None)
    ask("no fixed leaf", is_door and o.draw is None and o.leaf not in ("left", "right"))
    stacks = {"left", "right"} if blind["draw"] == "split" else {blind["draw"]}
    ask("stack over leaf", o.draw is not None and o.leaf in stacks)
    ask("not tape", o.measured != "tape")
    unlaid = o.surface == "unfinished" or (o.surface is None and project.floors_finished == "no")
    ask("floor not laid", is_door and unlaid and o.to_come is None)
    ask("one measurement", is_inside and o.quantity > 1 and (len(o.widths) == 1 or len(o.heights) == 1))
    ask("unknown substrate", o.substrate is None)
    ask("no stud", o.substrate == "stud wall" and blind["fixing"] == FIXING_OF["drywall"])
    if project.finished_sizes:
        return asked
    ask("depth unknown", is_inside and o.depth is None)
    ask("lean", lean(o) > SIDE_CLEARANCE)
    is_small = o.width * o.height < 20 * 144 * INCH * INCH
    limit = inches("1/8") if is_inside and is_small else inches("1/4")
    ask("widths differ", max(o.widths) - min(o.widths) > limit)
    ask("heights differ", max(o.heights) - min(o.heights) > limit)
    if is_inside:
        return asked
    above = blind["top_above_head"] - BRACKET_ABOVE_RAIL
    if o.opens in ("in", "tilt"):
        ask("leaf meets stack", not has_clear_wall(o, blind))
        ask("leaf meets rail", above < ABOVE_LEAST)
    for side, end in (("left", o.left_ends_at), ("right", o.right_ends_at)):
        if blind[f"overlap_{side}"] < OVERLAP_LEAST:
            asked.add(f"{side} closed by wall" if end == "wall" else f"{side} laps too little")
    ask("drop wanted far", o.drop_wanted is not None and not ABOVE_LEAST <= above <= ABOVE_MOST)
    # A header of 0 is known: there is none.
    ask("header has no place", o.header is not None and not is_solid(
        o, Size("outside", 0, 0, above, None, None, None, None)))
    ask("ends above the sill", not is_door and o.wall_below is not None and o.wall_below - ROOM_BELOW < BELOW_LEAST)
    return asked


# --- sizes chosen by stock and merging ----------------------------------------------------------

# Width and price of the sizes in stock, all 84 in long, 10 of each on hand.
STOCK = {inches("66"): Fraction(36), inches("78"): Fraction(42), inches("104"): Fraction(54)}
STOCK_DROP, STOCK_ON_HAND = inches("84"), 10


def in_window(o: Opening, project: Project, mount: str, width: int, drop: int) -> bool:
    (least_width, most_width), (least_drop, most_drop) = window(o, project, mount)
    return (least_width <= width <= most_width and least_drop <= drop <= most_drop and within_limits(width, drop))


def resized(o: Opening, project: Project, blind: dict, width: int, drop: int, source: str) -> dict:
    """The blind of an opening at the size that stock or merging gave it."""
    product = PRODUCTS[blind["product"]]
    size = (inside_at if blind["mount"] == "inside" else outside_at)(o, project, product, width, drop)
    moved = fit(o, size, project, product)
    return {**blind, **moved, "source": source}


# --- the order ----------------------------------------------------------------------------------

IDENTICAL = ("product", "color", "width", "drop", "louvers", "louver_length", "draw", "control", "wand", "mount",
             "bracket", "reach", "return_left", "return_right", "valance", "source", "release", "phase")


@dataclass
class Line:
    blind: dict
    quantity: int = 0
    rows: list[tuple[Opening, dict]] = field(default_factory=list)


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


def pieces_of(blind: dict) -> list[tuple[str, str | None, int]]:
    """What is cut for one blind: material, color, length."""
    color = blind["color"]
    cut = [("rail", color, blind["width"] - 2 * inches("1/8")), ("rod", None, blind["width"] - inches("1")),
           ("valance", color, blind["valance"])]
    cut += [("valance", color, side) for side in (blind["return_left"], blind["return_right"]) if side > 0]
    cut += [(PRODUCTS[blind["product"]].fabric, color, blind["louver_length"] + HEM)] * blind["louvers"]
    return cut


def pieces(lines: dict[tuple, Line], project: Project) -> dict[tuple, Counter]:
    """Lengths to cut for release `make`, by material and color, spare louvers included."""
    cut: dict[tuple, Counter] = {}
    louvers: dict[tuple, int] = Counter()
    for line in lines.values():
        if line.blind["release"] != "make" or line.blind["source"] != "made":
            continue
        for material, color, length in pieces_of(line.blind):
            cut.setdefault((material, color), Counter())[length] += line.quantity
        fabric = (PRODUCTS[line.blind["product"]].fabric, line.blind["color"])
        louvers[fabric] += line.quantity * line.blind["louvers"]
    for fabric, count in louvers.items():
        spare = max(2, math.ceil(count * project.spare_louvers))
        cut[fabric][max(cut[fabric])] += spare
    return cut


def wand_name(length: int, project: Project) -> str:
    if project.unit == "in":
        return f"wand {length // INCH} in"
    return f"wand {Decimal(length).scaleb(-6).normalize():f} mm"


def hardware(rows: list[tuple[Opening, dict]], project: Project) -> dict[str, tuple[int, int, int | None, int | None]]:
    """Needed, spare, pack and packs of each item, for both releases."""
    needed: Counter = Counter()
    bought_with: Counter = Counter()  # what comes with stock blinds in an order that is made
    to_make: Counter = Counter()
    for o, blind in rows:
        if blind["state"] == "held":
            continue
        n, louvers, is_split = o.quantity, blind["louvers"], blind["draw"] == "split"
        parts = Counter({
            blind["bracket"]: blind["brackets"], "valance clip": blind["brackets"],
            "carrier": louvers, "hanger": louvers, "bottom weight": louvers,
            "spacer link": 2 * (louvers - (2 if is_split else 1)), "end cap": 2,
            "corner piece": sum(1 for side in ("return_left", "return_right") if blind[side] > 0)})
        if blind["wand"] is not None:
            parts[wand_name(blind["wand"], project)] += 2 if is_split else 1
        for item, count in parts.items():
            needed[item] += n * count
            if project.basis == "make" and blind["source"] == "stock":
                bought_with[item] += n * count
        fixing = blind["fixing"] or "not chosen"
        needed[fixing] += n * blind["fixings"]
        if blind["release"] == "make":
            to_make[fixing] += n * blind["fixings"]
    result = {}
    for item, count in needed.items():
        if not count:
            continue
        is_fixing = item in FIXINGS or item == "not chosen"
        spare = math.ceil(to_make[item] * project.spare_fixings) if is_fixing else 0
        pack = 1 if item.startswith("wand ") else (PARTS.get(item) or FIXINGS.get(item) or (None, None))[1]
        packs = None if pack is None else -(-(count - bought_with[item] + spare) // pack)
        result[item] = (count, spare, pack, packs)
    return result


# --- cost ---------------------------------------------------------------------------------------

def blind_price(blind: dict) -> Fraction:
    if blind["source"] == "stock":
        return STOCK[blind["width"]]
    area = max(Fraction(3, 2), Fraction(blind["width"] * blind["drop"], 10**18))
    return money(30 + 22 * area)


def costs(rows, lines, project: Project, bars: dict[tuple, int]) -> dict:
    """The bill. `bars` are the bars bought for each material and color: the cutting plan's own number."""
    bill: list[tuple[str, str, Fraction]] = []  # section, what, amount

    def charge(section: str, what: str, amount: Fraction) -> None:
        if amount:
            bill.append((section, what, money(amount)))

    hung = [(o, blind) for o, blind in rows if blind["state"] != "held"]
    needs = hardware(rows, project)
    minute = project.labor / 60
    if project.basis == "buy":
        for number, line in enumerate(lines.values(), 1):
            charge("blinds", f"line {number}", line.quantity * blind_price(line.blind))
    else:
        for number, line in enumerate(lines.values(), 1):
            if line.blind["source"] == "stock":
                charge("blinds", f"line {number}", line.quantity * blind_price(line.blind))
        for (material, color), count in bars.items():
            charge("parts", f"{material} {color}", count * BAR[material][3])
        by_length: Counter = Counter()
        for line in lines.values():
            if line.blind["release"] == "provisional" and line.blind["source"] == "made":
                for material, color, length in pieces_of(line.blind):
                    by_length[material, color] += length * line.quantity
        for (material, color), length in by_length.items():
            charge("parts", f"{material} {color}, provisional", Fraction(length, BAR[material][0]) * BAR[material][3])
        for item, (count, _, pack, packs) in needs.items():
            if item.startswith("wand "):
                length = next(b["wand"] for _, b in hung if b["wand"] and wand_name(b["wand"], project) == item)
                charge("parts", item, packs * Fraction("1.50") * Fraction(length, WAND_STEP))
            elif item in PARTS:
                charge("parts", item, packs * pack * Fraction(PARTS[item][0]))
        charge("making", "making", sum(o.quantity for o, b in hung if b["source"] == "made") * 25 * minute)
    for item, (count, spare, pack, packs) in needs.items():
        if item in FIXINGS:
            charge("parts", item, packs * Fraction(FIXINGS[item][0]))
    charge("fitting", "a blind", sum(o.quantity * 30 * b["people"] for o, b in hung) * minute)
    hard = sum(o.quantity * b["brackets"] for o, b in hung if o.substrate in ("masonry", "concrete"))
    charge("fitting", "masonry or concrete bracket", hard * 8 * minute)
    charge("fitting", "set-up per unit", len({(o.building, o.unit) for o, _ in hung}) * 8 * minute)
    charge("survey", "survey", sum(o.quantity for o, _ in rows) * 5 * minute)
    charge("delivery", "delivery", Fraction(90))
    direct = sum(amount for _, _, amount in bill)
    materials = sum(amount for section, _, amount in bill if section in ("blinds", "parts"))
    # Fixings not yet chosen have no price, so nothing that rests on their sum is known, and no total.
    is_known = "not chosen" not in needs
    overhead = money(direct * project.overhead) if is_known else Fraction(0)
    profit = money((direct + overhead) * project.profit) if is_known else Fraction(0)
    contingency = money((direct + overhead + profit) * project.contingency) if is_known else Fraction(0)
    for section, amount in (("overhead", overhead), ("profit", profit), ("contingency", contingency)):
        charge(section, section, amount)
    subtotal = direct + overhead + profit + contingency
    tax = money((materials if project.tax_on == "materials" else subtotal) * project.tax)
    return {"lines": bill, "subtotal": subtotal, "tax": tax, "total": subtotal + tax if is_known else None}


def counts(rows) -> dict:
    def blinds(*states: str) -> int:
        return sum(o.quantity for o, b in rows if b["state"] in states)

    sizes = {(b["product"], b["width"], b["drop"]) for _, b in rows if b["state"] != "held"}
    return {"rows": len(rows), "openings": blinds("sized", "provisional", "held"), "sized": blinds("sized"),
            "provisional": blinds("provisional"), "held": blinds("held"), "blinds": blinds("sized", "provisional"),
            "sizes": len(sizes)}
