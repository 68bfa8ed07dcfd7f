"""Rolls blind by blind: the order of use, and that a blind comes from one roll or from two neighbors.

From RULES alone. The JSON lists rolls in the order of use, each with its pieces in theirs; a rest that waited
gave its last blinds later than the rolls below it.
"""

from __future__ import annotations

from dataclasses import dataclass

# Rests that may wait for a later blind at a time.
MOST_WAITING = 4


@dataclass(frozen=True)
class Blind:
    floor: int  # rises in the order of cutting
    louvers: int
    length: int  # of all its pieces


def floors(openings) -> dict[str, int]:
    """The floor of each opening, by its place in the survey: by phase, building and floor as the survey names them."""
    phases, buildings, seen = {}, {}, {}
    keys = {}
    for o in openings:
        keys[o.at] = (phases.setdefault(o.phase, len(phases)), buildings.setdefault(o.building, len(buildings)),
                      seen.setdefault((o.building, o.floor), len(seen)))
    order = {key: place for place, key in enumerate(sorted(set(keys.values())))}
    return {at: order[key] for at, key in keys.items()}


def check_rolls(check, where: str, cut: dict, blinds: dict[tuple[str, int], Blind], roll: int) -> None:
    """`blinds` by opening's name and number; `roll` is what a new roll gives."""
    rolls = cut["patterns"]
    check.same(f"{where}: cut in", "blinds", cut["cut_in"])
    check.same(f"{where}: each roll by itself", [1] * len(rolls), [pattern["bars"] for pattern in rolls])
    on_hand = [pattern["from"] == "offcut" for pattern in rolls]
    check.same(f"{where}: rolls on hand come first", sorted(on_hand, reverse=True), on_hand)
    on: dict[tuple[str, int], list[int]] = {}
    count: dict[tuple[str, int], int] = {}
    first: list[int | None] = []
    last: list[int] = []
    for number, pattern in enumerate(rolls):
        cells = list(zip(pattern["openings"], pattern["blinds"], pattern["lines"], strict=True))
        check.same(f"{where}: roll {number}: a blind to each piece", len(cells), len(pattern["pieces_mm"]))
        spare = [opening is None for opening, _, _ in cells]
        check.same(f"{where}: roll {number}: spares last", sorted(spare), spare)
        check.same(f"{where}: roll {number}: spares have no line", spare, [line is None for _, _, line in cells])
        keys = [(opening, which) for opening, which, _ in cells if opening is not None]
        turns = [key for place, key in enumerate(keys) if place == 0 or keys[place - 1] != key]
        check.same(f"{where}: roll {number}: a blind in one go", len(turns), len(set(turns)))
        for key in keys:
            count[key] = count.get(key, 0) + 1
        for key in turns:
            on.setdefault(key, []).append(number)
        cut_on = [blinds[key].floor for key in turns if key in blinds]
        check.same(f"{where}: roll {number}: floors in order", sorted(cut_on), cut_on)
        first.append(turns[0] if turns else None)
        last.append(turns[-1] if turns else None)
    check.same(f"{where}: blinds and their louvers", {key: blind.louvers for key, blind in blinds.items()}, count)
    begun = [blinds[key].floor for key in first if key in blinds]
    check.same(f"{where}: rolls begun floor after floor", sorted(begun), begun)
    # What serves a later floor than the one that a roll is begun on waited while that was begun.
    for number, key in enumerate(first):
        if key in blinds:
            waiting = sum(1 for other in last[:number] if other in blinds and blinds[other].floor > blinds[key].floor)
            check.holds(f"{where}: {waiting} rests wait at roll {number}", waiting <= MOST_WAITING)
    used = [number for number, key in enumerate(first) if key is not None]
    for key, numbers in on.items():
        if len(numbers) > 1 and key in blinds:
            places = [used.index(number) for number in numbers]
            check.same(f"{where}: {key} on neighbors", list(range(places[0], places[0] + len(places))), places)
            check.holds(f"{where}: {key} on {len(numbers)} rolls", len(numbers) == 2 or blinds[key].length > roll)
            check.holds(f"{where}: {key} from the ends", all(last[number] == key for number in numbers[:-1]))
            check.holds(f"{where}: {key} on to beginnings", all(first[number] == key for number in numbers[1:]))
    check.same(f"{where}: torn", sum(1 for numbers in on.values() if len(numbers) > 1), cut["torn"])
    if cut["fewest_rolls"] is not None:
        check.holds(f"{where}: fewer rolls tear more", cut["fewest_rolls"] < cut["bars"]
                    and cut["fewest_torn"] > cut["torn"])
