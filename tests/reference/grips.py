"""What a bracket's screws go into: which fixings could be used there, at which edge, and what each may carry.

Where the rules leave a choice, the one taken is the one that is safest for who hangs the blind:
drywall takes wood screws where wood is known behind it, as a stud wall does; blocking behind a
steel wall's board is wood; a casing under 5/8 in holds nothing, whatever is behind it.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import isqrt

from exact import INCH, inches
from facts import Opening, Project
from lists import POUND_FORCE, Fixing

# A bracket's screws below its top, and the metal that they pass.
UPPER_SCREW, LOWER_SCREW = inches("1/2"), inches("1 1/2")
SCREWS_APART = inches("1")
METAL = inches("1/16")
BRACKET_ABOVE_RAIL = inches("1/4")
HEADER_EDGE = inches("3/4")
BOARD = inches("1/2")
BOARD_OVER_HEAD = inches("1 1/4")  # what may lie between the head of a recess and its header
STEEL_PAST_BOARD = inches("3/8")
THIN_CASING = inches("5/8")
IN_WOOD = 6  # diameters of a screw, its tip included, below which it is not counted (ANSI/AWC NDS-2018)

# Load duration: ANSI/AWC NDS-2018, table 2.3.2: permanent load, and ten minutes.
SUSTAINED, TEN_MINUTES = Fraction("0.9"), Fraction("1.6")
# A hollow wall anchor's working load is a quarter of what breaks it, and for seconds it may carry half of that.
HOLLOW_FACTOR, HOLLOW_FOR_SECONDS = 4, 2

# Assigned specific gravities of ANSI/AWC NDS-2018, table 12.3.3A (the names' figures from memory).
GRAVITIES = {"northern species": "0.35", "western cedars": "0.35", "western woods": "0.36",
             "spruce-pine-fir (south)": "0.36", "spruce-pine-fir": "0.42", "hem-fir": "0.43",
             "hem-fir (north)": "0.46", "douglas fir-larch (north)": "0.49", "douglas fir-larch": "0.50",
             "southern pine": "0.55", "mixed maple": "0.55", "red oak": "0.67"}
UNKNOWN_GRAVITY = Fraction("0.42")

# Design thickness by mils, from memory of AISI S220 and S240; 45 ksi is the weaker of the two usual steels.
STEEL_THICKNESS = {18: Fraction("0.0188"), 27: Fraction("0.0283"), 30: Fraction("0.0312"), 33: Fraction("0.0346"),
                   43: Fraction("0.0451"), 54: Fraction("0.0566"), 68: Fraction("0.0713")}
STEEL_STRENGTH, STEEL_SAFETY = 45_000, 3


def wood_screw_withdrawal(gravity: Fraction, diameter: Fraction) -> Fraction:
    """ANSI/AWC NDS-2018 12.2.2: pounds an inch of thread; inches."""
    return 2850 * gravity**2 * diameter


def root(value: Fraction, places: int = 40) -> Fraction:
    """The square root, down to so many decimal places."""
    scale = 10 ** (2 * places)
    return Fraction(isqrt(int(value * scale)), 10**places)


def lag_screw_withdrawal(gravity: Fraction, diameter: Fraction) -> Fraction:
    """ANSI/AWC NDS-2018 12.2.1: 1800 G^1.5 D^0.75, pounds an inch of thread."""
    return 1800 * root(gravity**3) * root(root(diameter**3))


def steel_pull_out(thickness: Fraction, diameter: Fraction, strength: int = STEEL_STRENGTH) -> Fraction:
    """AISI S100 J4.4.1, nominal pounds; the coefficient is from memory."""
    return Fraction("0.85") * thickness * diameter * strength


@dataclass(frozen=True)
class Place:
    """`into` is the substrate whose fixings are used; `casing` the thickness of the casing that carries the
    bracket, 0 if that is unknown, None if none does; `has_header` that both screws lie in a known header; `deep` how much
    wood there is along the screw, None if that is not known: no thread beyond it is in wood."""
    into: str
    board: int = 0
    casing: int | None = None
    has_header: bool = False
    gravity: Fraction = UNKNOWN_GRAVITY
    mil: int | None = None
    deep: int | None = None

    def takes(self, fixing: Fixing) -> bool:
        """Whether the fixing is long enough: with 6 diameters in wood, 3/8 in past a board in front of steel."""
        if fixing.substrate != self.into:
            return False
        if self.casing is not None or fixing.length is None:
            return True
        past = self.past_board(fixing)
        if self.into == "wood":
            return fixing.diameter is None or past >= IN_WOOD * fixing.diameter * INCH
        return past >= STEEL_PAST_BOARD if self.into == "steel" else True

    def past_board(self, fixing: Fixing) -> int:
        past = fixing.length - METAL - self.board
        return past if self.deep is None else min(past, self.deep)

    def thread(self, fixing: Fixing) -> Fraction:
        """The thread that is in wood."""
        if self.casing is None:
            return min(fixing.thread, self.past_board(fixing))
        if self.has_header:
            behind = max(0, fixing.length - METAL - self.casing - self.board)
            return min(fixing.thread, self.casing + behind)
        return min(fixing.thread, self.casing, fixing.length - METAL)

    def capacities(self, fixing: Fixing) -> tuple[Fraction, Fraction] | None:
        """Newtons that the fixing may carry for good, and for as long as someone pulls."""
        if fixing.capacity is None or (self.casing is not None and self.casing < THIN_CASING):
            return None
        match fixing.capacity.by:
            case "screw" | "lag":
                if None in (fixing.diameter, fixing.length, fixing.thread):
                    return None
                an_inch = wood_screw_withdrawal if fixing.capacity.by == "screw" else lag_screw_withdrawal
                force = an_inch(self.gravity, fixing.diameter) * self.thread(fixing) / INCH * POUND_FORCE
                return force * SUSTAINED, force * TEN_MINUTES
            case "steel":
                thickness = STEEL_THICKNESS[self.mil or fixing.capacity.mil]
                force = steel_pull_out(thickness, fixing.diameter) / STEEL_SAFETY * POUND_FORCE
                return force, force
            case "load":
                force = fixing.capacity.newtons
                return force, force * HOLLOW_FOR_SECONDS if self.into == "drywall" else force


def board_in_front(o: Opening) -> int:
    """`Board layers` of `Board thickness`; where both are blank one of 1/2 in on studs and drywall, none elsewhere."""
    if o.board_layers is None and o.board_thickness is None and o.substrate not in ("stud wall", "drywall"):
        return 0
    layers = 1 if o.board_layers is None else o.board_layers
    return layers * (BOARD if o.board_thickness is None else o.board_thickness)


def screws_in_header(o: Opening, above: int | None) -> bool:
    """On a wall: both screws of a bracket at least 3/4 in inside the header, for a rail so far above the head."""
    if not o.has_header() or above is None:
        return False
    start, top = o.header_offset or 0, above + BRACKET_ABOVE_RAIL
    return (top - LOWER_SCREW >= start + HEADER_EDGE
            and top - UPPER_SCREW <= start + o.header - HEADER_EDGE)


def is_header_over_recess(o: Opening) -> bool:
    """In a recess the screws go straight up; up to 1 1/4 in below the header is board."""
    return o.has_header() and (o.header_offset or 0) <= BOARD_OVER_HEAD


def _gravity(o: Opening) -> Fraction:
    return Fraction(GRAVITIES[o.species]) if o.species in GRAVITIES else UNKNOWN_GRAVITY


def on_casing(o: Opening, above: int) -> Place:
    """A wood fixing whatever the wall; a lintel behind the casing is no wood."""
    is_wood = o.substrate not in ("masonry", "concrete")
    return Place("wood", board_in_front(o), o.trim or 0, is_wood and screws_in_header(o, above), _gravity(o))


def on_wall(o: Opening, above: int | None) -> Place | None:
    """Where no stud is counted on: the header, blocking, or what the wall itself is."""
    board, gravity = board_in_front(o), _gravity(o)
    is_header = screws_in_header(o, above)
    wood = Place("wood", board, has_header=is_header, gravity=gravity)
    match o.substrate:
        case None:
            return None
        case "wood":
            return wood
        case "concrete":
            return Place("concrete")
        case "masonry":
            return Place("concrete" if is_header else "masonry", has_header=is_header)
        case "steel":
            return wood if is_header or o.has_blocking() else Place("steel", board, mil=o.steel_mil)
        case _:
            return wood if is_header or o.has_blocking() else Place("drywall", board)


def on_stud(o: Opening) -> Place:
    into = "steel" if o.substrate == "steel" else "wood"
    return Place(into, board_in_front(o), gravity=_gravity(o), mil=o.steel_mil)


def overhead(o: Opening, is_recess: bool) -> Place | None:
    """Screws straight up: into the head of a recess, or into a ceiling, which has no header."""
    is_header = is_recess and is_header_over_recess(o)
    board = board_in_front(o)
    if is_header and o.header_offset:
        is_board_given = o.board_layers is not None or o.board_thickness is not None
        board = max(board, o.header_offset) if is_board_given else o.header_offset
    if is_recess and o.has_header() and (o.header_offset or 0) > BOARD_OVER_HEAD and o.substrate in ("stud wall", "drywall"):
        # All the wood that is known is further up: what is below it counts as board.
        board = max(board, o.header_offset)
    match o.substrate:
        case None:
            return None
        case "concrete":
            return Place("concrete")
        case "masonry":
            return Place("concrete" if is_header else "masonry", has_header=is_header)
        case "steel" if not is_header:
            return Place("steel", board, mil=o.steel_mil)
        case _:
            # Framing lies right behind the board there, where a toggle cannot open.
            deep = o.header if is_header and o.substrate != "wood" else None
            return Place("wood", board, has_header=is_header, gravity=_gravity(o), deep=deep)


def likely(o: Opening, mount: str) -> Place | None:
    """The place before the blind's height is known: wood alone where header, studs or blocking are known."""
    if mount != "outside":
        return overhead(o, mount == "inside")
    if o.substrate == "masonry" and o.has_header():
        return Place("concrete")
    if o.substrate in ("stud wall", "drywall", "steel"):
        if o.has_header() or o.has_blocking():
            return Place("wood", board_in_front(o))
        if o.has_studs():
            return on_stud(o)
    return on_wall(o, None)


def greatest_edge(o: Opening, project: Project, mount: str) -> int:
    """The greatest edge distance of the listed fixings that could be used here: of all where the substrate is unknown,
    for any may be what is used at last; 0 where none is listed."""
    if o.substrate is None:
        is_wood = mount == "outside" and (o.has_header() or o.has_blocking())
        return max((f.edge for f in project.fixings if not is_wood or f.substrate == "wood"), default=0)
    place = likely(o, mount)
    if place is None:
        return 0
    # Who finds a stud behind a board uses a screw for wood there.
    into = ("wood", "drywall") if place.into == "drywall" else (place.into,)
    return max((f.edge for f in project.fixings if f.substrate in into), default=0)
