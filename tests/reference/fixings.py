"""Which fixing holds a blind, in how many brackets and where, and how hard it works.

What hangs there for good is one case; a steady pull of 100 N straight down on the worst bracket is the other
(common practice, no source). On a wall the bracket turns about its foot, so that its top screw is pulled by
load x reach / arm; overhead its two screws are pulled straight, half each.

Where the rules leave a choice: the first listed is taken if it holds; a fixing of unknown capacity is taken only where none of known capacity is
listed; where some hold for good but none holds the pull as well, the strongest is taken; the bracket more
near the stack stays while others are added, as long as it has its 6 in; and no hollow-wall anchor is let
pass over its load, also where it is at one end of a rail on studs.
"""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass, field, replace
from fractions import Fraction

import grips
import loads
import studs
from exact import inches
from facts import Held, Opening, Project
from grips import Place
from lists import Fixing
from loads import Load
from sizes import Size

PULL = 100
ARM = inches("2")  # from a wall bracket's upper screw to its foot
INSET, BRACKET_SPACING = inches("4"), inches("32")
BESIDE = inches("6")
SCREWS = 2


def inset(width: int) -> Fraction:
    return min(Fraction(INSET), Fraction(width, 4))


def count(width: int) -> int:
    return max(2, math.ceil((width - 2 * inset(width)) / BRACKET_SPACING) + 1)


def evenly(width: int, brackets: int) -> list[Fraction]:
    between = width - 2 * inset(width)
    return [inset(width) + between * i / (brackets - 1) for i in range(brackets)]


@dataclass
class Fixed:
    """The brackets' centers, the fixing (None: not chosen) and its use in both cases; screws by item."""
    centers: list[Fraction]
    item: str | None = None
    also: str | None = None
    screws: Counter = field(default_factory=Counter)
    hung: Fraction | None = None
    pulled: Fraction | None = None
    needed: Fraction | None = None
    asks: set[str] = field(default_factory=set)
    on_studs: bool = False
    into: str | None = None  # what all brackets are in
    in_steel: list[tuple[Fraction, int]] = field(default_factory=list)  # each known use of a steel screw, and for which mil

    @property
    def use(self) -> Fraction | None:
        return None if self.hung is None else max(self.hung, self.pulled)


@dataclass(frozen=True)
class Work:
    """One fixing at some brackets of a blind."""
    fixing: Fixing
    hung: Fraction | None
    pulled: Fraction | None
    needed: Fraction

    @property
    def is_known(self) -> bool:
        return self.hung is not None

    @property
    def holds_for_good(self) -> bool:
        return self.is_known and self.hung <= 1

    @property
    def holds(self) -> bool:
        return self.holds_for_good and self.pulled <= 1

    @property
    def price(self) -> tuple[bool, Fraction]:
        each = self.fixing.each
        return each is None, each or Fraction(0)


def pull(force: Fraction, fixing: Fixing, reach: int | None) -> Fraction:
    """On the screw that works hardest, of a bracket that carries so much."""
    if reach is not None:
        return force * reach / ARM
    # Of two screws nearer each other than their spacing one counts.
    return force if fixing.spacing > grips.SCREWS_APART else force / SCREWS


def work(fixing: Fixing, place: Place, force: Fraction, reach: int | None) -> Work:
    """`force` is the worst weight on any of the brackets."""
    hung, pulled = pull(force, fixing, reach), pull(force + PULL, fixing, reach)
    held = place.capacities(fixing)
    return Work(fixing, *((hung / held[0], pulled / held[1]) if held else (None, None)), pulled)


def best(works: list[Work]) -> Work | None:
    """The first listed if it holds both cases, else the cheapest that does, else the strongest, of those that hold for
    good if any does; one of unknown capacity, the first, only if none is known."""
    known = [w for w in works if w.is_known]
    holding = [w for w in known if w.holds]
    if not known or works[0].holds:
        return works[0] if works else None
    if holding:
        return min(holding, key=lambda w: w.price)
    return min([w for w in known if w.holds_for_good] or known, key=lambda w: max(w.hung, w.pulled))


def with_one_more(load: Load, brackets: int) -> list[Fraction]:
    """One more bracket as far from the first as the stack is wide, at each end to which louvers stack."""
    centers, room = evenly(load.width, brackets), load.stack - inset(load.width)
    more = [room if end == "left" else load.width - room for end in load.stacked]
    if all(0 < new < load.width and abs(new - old) >= BESIDE for new in more for old in centers):
        return sorted(centers + more)
    return centers


def arrangements(load: Load) -> list[list[Fraction]]:
    """Section by section: as few brackets as may be, one more near the stack, then more and more, up to twice."""
    first = count(load.width)
    tried = [evenly(load.width, first)]
    for brackets in range(first, 2 * first + 1):
        centers = with_one_more(load, brackets)
        if len(centers) <= 2 * first and centers not in tried:
            tried.append(centers)
    return tried


def uniform(place: Place, listed: list[Fixing], load: Load, reach: int | None) -> Fixed:
    """All brackets in one kind of place, with as many of them as the weight asks for."""
    fits = [fixing for fixing in listed if place.takes(fixing)]
    plain = evenly(load.width, count(load.width))

    def at(centers: list[Fraction]) -> list[Work]:
        worst = max(loads.reactions(load, centers))
        return [work(fixing, place, worst, reach) for fixing in fits]

    centers, works = plain, at(plain)
    if any(w.is_known for w in works):
        for more in arrangements(load):
            found = at(more)
            if any(w.holds_for_good for w in found):
                centers, works = more, found
                break
    return replace(fixed(centers, [(best(works), len(centers))]), into=place.into)


def on_studs(o: Opening, size: Size, listed: list[Fixing], load: Load, grid: list[Fraction]) -> Fixed:
    """Brackets on studs, and an end without a stud in an anchor; none are added for load."""
    placed = studs.centers(size.width, inset(size.width), grid)
    centers = [center for center, _ in placed]
    weights = loads.reactions(load, centers)
    anchor = Place("drywall", grips.board_in_front(o))
    chosen = []
    for is_stud, place in ((True, grips.on_stud(o)), (False, anchor)):
        here = [weight for weight, (_, is_on) in zip(weights, placed) if is_on == is_stud]
        if here:
            works = [work(fixing, place, max(here), size.reach) for fixing in listed if place.takes(fixing)]
            chosen.append((best(works), len(here)))
    found = fixed(centers, chosen)
    found.on_studs = True
    if not all(is_on for _, is_on in placed):
        found.asks.add("end without stud")
    if any(right - left > studs.SPACING for left, right in zip(centers, centers[1:])):
        found.asks.add("studs far apart")
    return found


def fixed(centers: list[Fraction], chosen: list[tuple[Work | None, int]]) -> Fixed:
    """`chosen` says what holds how many of the brackets; the worse use stands."""
    found = Fixed(centers)
    for w, brackets in chosen:
        found.screws[w.fixing.name if w else "not chosen"] += SCREWS * brackets
        if w is not None and w.is_known and w.fixing.capacity.by == "steel":
            found.in_steel.append((max(w.hung, w.pulled), w.fixing.capacity.mil))
    most_first = sorted(found.screws, key=lambda item: -found.screws[item])
    found.item, found.also = most_first[0], most_first[1] if len(most_first) > 1 else None
    for w in (w for w, _ in chosen if w is not None and w.is_known):
        if w.hung > 1 and w.fixing.substrate == "drywall":
            raise Held("a hollow-wall anchor would work over its load")
        if w.hung > 1 or w.pulled > 1:
            found.asks.add("too heavy" if w.hung > 1 else "pulled off")
    if any(w is None for w, _ in chosen):
        found.asks.add("no fixing long enough")
        found.item = None if found.item == "not chosen" else found.item
    elif all(w.is_known for w, _ in chosen):
        found.hung, found.pulled = max(w.hung for w, _ in chosen), max(w.pulled for w, _ in chosen)
    else:
        found.needed = max(w.needed for w, _ in chosen if not w.is_known)
        found.asks.add("capacity unknown")
    return found


def fix(o: Opening, project: Project, size: Size, load: Load) -> Fixed:
    listed = project.fixings
    if size.on == "casing":
        return uniform(grips.on_casing(o, size.above), listed, load, size.reach)
    is_wall = size.mount == "outside"
    place = grips.on_wall(o, size.above) if is_wall else grips.overhead(o, size.mount == "inside")
    if place is None:
        return Fixed(evenly(size.width, count(size.width)),
                     screws=Counter({"not chosen": SCREWS * count(size.width)}))
    is_wall_solid = o.substrate in ("wood", "masonry", "concrete") or (place.into == "wood")
    if is_wall and o.has_studs() and not is_wall_solid and size.overlaps is not None:
        left_end = -size.overlaps[0] - size.tilt
        grid = studs.along(size.width, o.first_stud - left_end, o.stud_spacing)
        return on_studs(o, size, listed, load, grid)
    return uniform(place, listed, load, size.reach)
