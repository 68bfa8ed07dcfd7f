"""What someone must look at: the checks and notes that the rules ask for on an opening that is not held."""

from __future__ import annotations

from fractions import Fraction

import depths
import grips
import heights
import parts
import rules
import sizes
from exact import INCH, inches
from facts import Opening, Project

SMALL = 20 * 144 * INCH * INCH
SPREAD, SPREAD_SMALL = inches("1/4"), inches("1/8")
# Emergency escape: International Residential Code R310.2, of one's own jurisdiction if that has another.
ESCAPE_WIDTH, ESCAPE_HEIGHT, ESCAPE_SILL = inches("20"), inches("24"), inches("44")
ESCAPE_AREA = Fraction("5.7") * 144 * INCH * INCH
# 2010 ADA Standards, 404.2.3 (from memory).
DOOR_CLEAR = inches("32")
# Steel whose thickness is not known may be as thin as this.
THINNEST = 18


def questions(o: Opening, project: Project, blind: dict) -> set[str]:
    """`blind` as it hangs in the end, after stock and merging."""
    asked = set()

    def ask(name: str, is_asked: bool) -> None:
        if is_asked:
            asked.add(name)

    mount, is_door = blind["mount"], o.is_door()
    is_inside = mount == "inside"
    ask("handle from what", bool(o.handle) and o.depth_to is None)
    ask("handle blank", is_door and o.handle is None)
    ask("leaf blank", is_door and o.leaf is None)
    ask("no fixed leaf", is_door and o.draw is None and o.leaf not in ("left", "right"))
    ask("stack over leaf", o.draw is not None and o.leaf in parts.stacked(blind["draw"]))
    ask("not tape", o.measured != "tape")
    ask("floor not laid", rules.is_floor_unlaid(o, project))
    ask("one measurement", is_inside and o.quantity > 1 and (len(o.widths) == 1 or len(o.heights) == 1))
    _of_fixings(o, blind, ask)
    _of_control(o, project, blind, ask)
    _of_site(o, blind, ask)
    _of_access(o, project, blind, ask)
    if project.finished_sizes:
        return asked
    _of_shape(o, blind, ask)
    if is_inside:
        ask("depth unknown", o.depth is None)
        return asked
    for side, end in (("left", o.left_ends_at), ("right", o.right_ends_at)):
        if blind[f"overlap_{side}"] < sizes.OVERLAP_LEAST:
            asked.add(f"{side} closed by wall" if end == "wall" else f"{side} laps too little")
    _of_heights(o, project, blind, ask)
    return asked


def _of_shape(o: Opening, blind: dict, ask) -> None:
    ask("out of square", (sizes.out_of_plumb(o) or 0) > sizes.SIDE_CLEARANCE)
    is_small = blind["mount"] == "inside" and o.width * o.height < SMALL
    limit = SPREAD_SMALL if is_small else SPREAD
    ask("widths differ", max(o.widths) - min(o.widths) > limit)
    ask("heights differ", max(o.heights) - min(o.heights) > limit)


def _of_heights(o: Opening, project: Project, blind: dict, ask) -> None:
    product = project.products[blind["product"]]
    is_outside = blind["mount"] == "outside"
    above = blind["top_above_head"] - (grips.BRACKET_ABOVE_RAIL if is_outside else 0)
    line = blind["reach"] if is_outside else blind["setback"]
    trim = (o.trim or 0) if blind["mount_on"] == "casing" else 0
    counts = heights.ends_wall_below(o, depths.behind(line, product) + trim)
    ask("ends above the sill", not o.is_door() and counts and o.wall_below - heights.ROOM_BELOW < heights.BELOW_LEAST)
    if o.opens in ("in", "tilt") and blind["mount"] != "inside":
        ask("leaf meets stack", blind["clear_open"] < o.width)
        ask("leaf meets rail", above < heights.ABOVE_LEAST)
    if not is_outside:
        return
    ask("drop wanted far", o.drop_wanted is not None and blind["mount_on"] == "wall"
        and not heights.least_above(o, project) <= above <= heights.ABOVE_MOST)
    ask("on the casing", blind["mount_on"] == "casing")
    ask("thin casing", blind["mount_on"] == "casing" and (o.trim or 0) < grips.THIN_CASING)
    ask("casing not measured", bool(o.trim) and o.casing is None)
    ask("header has no place", blind["mount_on"] == "wall" and o.has_header() and not grips.screws_in_header(o, above))


def _of_fixings(o: Opening, blind: dict, ask) -> None:
    on_casing = blind["mount_on"] == "casing"
    ask("unknown substrate", o.substrate is None and not on_casing)
    into_anchor = blind["mount_on"] == "wall" and any(name in blind["screws"] for name in blind["anchors"])
    ask("no stud", o.substrate in ("stud wall", "drywall") and into_anchor and not blind["on_studs"])
    header_behind = blind["mount"] == "inside" and o.has_header() and (o.header_offset or 0) <= grips.BOARD_OVER_HEAD
    ask("wood or steel behind", o.substrate == "drywall" and (blind["on_studs"] or blind["mount"] != "outside" and not header_behind))
    ask("find the steel stud", blind["into_steel"] and not blind["on_studs"])
    ask("weak steel", o.steel_mil is None and any(
        use * grips.STEEL_THICKNESS[mil] / grips.STEEL_THICKNESS[THINNEST] > 1 for use, mil in blind["in_steel"]))
    is_deep = o.has_header() and (o.header_offset or 0) > grips.BOARD_OVER_HEAD
    ask("board over the head", blind["mount"] == "inside" and o.substrate in ("stud wall", "drywall")
        and (is_deep or grips.overhead(o, True).board > grips.BOARD_OVER_HEAD))
    for name in blind["asks"]:
        is_thin = blind["mount_on"] == "casing" and (o.trim or 0) < grips.THIN_CASING
        ask(name, not (name == "no fixing long enough" and o.substrate is None or name == "capacity unknown" and is_thin))


def _of_control(o: Opening, project: Project, blind: dict, ask) -> None:
    if o.control == "motor":
        ask("motor side blank", o.motor_side is None)
        ask("motor supply", True)
        return
    if o.control != "wand":
        return
    ask("wand near the bottom", blind["wand"] > blind["drop"] - parts.WAND_ABOVE_BOTTOM)
    if o.accessible == "yes":
        size = sizes.Size(blind["mount"], blind["mount_on"], blind["width"], blind["drop"], top=blind["top_of_drop"])
        reached = parts.reachable_wand(o, size, parts.wand_step(project))
        ask("no wand in a seated reach", size.top is not None and reached is None)
        ask("seated reach unknown", _is_reach_unknown(o, project, size, reached))
        ask("wand that twists", True)
    if blind["top_of_drop"] is None:
        return
    end = blind["top_of_drop"] - blind["wand"] - (o.to_come or 0)
    ask("wand out of reach", o.accessible != "yes" and end > parts.WAND_IN_REACH)


def _of_site(o: Opening, blind: dict, ask) -> None:
    ask("slab unknown", rules.is_slab_overhead(o, blind["mount"]) and o.slab is None)
    ask("edge over setback", blind["mount"] != "outside" and blind["setback"] is not None
        and blind["setback"] < blind["edge"])


def _is_reach_unknown(o: Opening, project: Project, size: sizes.Size, reached: int | None) -> bool:
    """Without a sill; where something below may stand out further than a seated hand reaches over at that height; and
    where a floor of unknown thickness may bring the end too low."""
    if size.top is None:
        return True
    if reached is None:
        return False
    end = size.top - reached - (o.to_come or 0)
    is_over = o.below_out is None and o.wall_below is not None and end > parts.REACH_OVER
    may_sink = rules.is_floor_unfinished(o, project) and end - sizes.IMPLAUSIBLE["to_come"] < parts.REACH_LOW
    return is_over or may_sink


def _of_access(o: Opening, project: Project, blind: dict, ask) -> None:
    clear = blind["clear_open"]
    ask("accessible door", o.accessible == "yes" and o.is_door() and clear is not None and clear < DOOR_CLEAR)
    if o.escape != "yes":
        return
    ask("escape by motor", o.control == "motor")
    ask("escape not measured", o.escape_width is None or o.escape_height is None)
    if project.jurisdiction not in (None, "US"):
        return ask("ask the authority", True)
    width = min((known for known in (clear, o.escape_width) if known is not None), default=None)
    sill = o.sill_height()
    is_small = (width is not None and width < ESCAPE_WIDTH) or (sill is not None and sill > ESCAPE_SILL)
    if o.escape_height is not None:
        is_small = is_small or o.escape_height < ESCAPE_HEIGHT or (
            width is not None and width * o.escape_height < ESCAPE_AREA)
    ask("escape too small", is_small)
