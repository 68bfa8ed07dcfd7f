"""What a survey says: the project, and each measured opening. None is a blank cell, lengths are nanometers."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction

import lists
from exact import INCH, inches


class Held(Exception):
    """A stop: the opening is held back, and this says why."""


@dataclass
class Project:
    step: int = inches("1/8")
    unit: str = "in"
    jurisdiction: str | None = None
    finished_sizes: bool = False
    floors_finished: str = "mixed"
    ceiling: int | None = None
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
    spare_parts: Fraction = Fraction(2, 100)
    products: dict[str, lists.Product] = field(default_factory=lambda: dict(lists.PRODUCTS))
    materials: dict[str, lists.Material] = field(default_factory=lambda: dict(lists.MATERIALS))
    fixings: list[lists.Fixing] = field(default_factory=lambda: list(lists.FIXINGS))

    @property
    def is_metric(self) -> bool:
        """Blinds are shown in inches or in millimeters, whatever metric unit the survey is in."""
        return self.unit != "in"


@dataclass
class Opening:
    """One row of the survey."""
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
    casing: int | None = None
    wall_left: int | None = None
    wall_right: int | None = None
    wall_above: int | None = None
    wall_below: int | None = None
    below_out: int | None = None
    left_ends_at: str = "free"
    right_ends_at: str = "free"
    sill: int | None = None
    surface: str | None = None
    to_come: int | None = None
    header: int | None = None
    header_offset: int | None = None
    board_layers: int | None = None
    board_thickness: int | None = None
    stud_spacing: int | None = None
    first_stud: int | None = None
    blocking: str | None = None
    mount: str = "either"
    drop_wanted: int | None = None
    product: str = "louver-89"
    color: str = "white"
    leaf: str | None = None
    opens: str | None = None
    draw: str | None = None
    control: str = "wand"
    motor_side: str | None = None
    substrate: str | None = None
    species: str | None = None
    steel_mil: int | None = None
    slab: str | None = None
    cord_device: str | None = None
    cord_height: int | None = None
    accessible: str | None = None
    escape: str | None = None
    escape_width: int | None = None
    escape_height: int | None = None
    heater: str | None = None
    unreadable: str | None = None  # why a cell holds the row back, if one does

    @property
    def width(self) -> int:
        return min(self.widths)

    @property
    def height(self) -> int:
        return min(self.heights)

    def kind_of(self) -> str:
        """A blank kind is a patio door from 72 in of height with its sill blank or up to 6 in, else a window."""
        if self.kind is not None:
            return self.kind
        is_low = self.sill is None or self.sill <= 6 * INCH
        return "patio door" if self.height >= 72 * INCH and is_low else "window"

    def is_door(self) -> bool:
        return self.kind_of() != "window"

    def counted_height(self) -> int:
        """A blind outside a door starts from the least height, outside a window from the most."""
        return self.height if self.is_door() else max(self.heights)

    def sill_height(self) -> int | None:
        """A blank sill is 0 for a door and unknown for a window."""
        return 0 if self.sill is None and self.is_door() else self.sill

    def has_header(self) -> bool:
        """A header of 0 is known: there is none."""
        return bool(self.header)

    def has_studs(self) -> bool:
        """Studs are known where both the first and the spacing are; a spacing of 0 is no grid."""
        return bool(self.stud_spacing) and self.first_stud is not None

    def has_blocking(self) -> bool:
        return self.blocking == "yes"
