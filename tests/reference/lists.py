"""The lists that a survey may replace: products, materials, fixings, parts, stock sizes, with what is built in.

Prices are examples, not quotes; the other numbers are common practice, no source, where none is named.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from exact import INCH, MM, inches


@dataclass(frozen=True)
class Product:
    name: str
    louver: int
    pitch: int
    material: str  # what its louvers are cut from


@dataclass(frozen=True)
class Material:
    """`mass` is a meter's, or a square meter's of louvers; `is_by_blind` says that a blind's pieces stay together."""
    name: str
    length: int
    price: Fraction
    kerf: int = 3 * MM
    trim: int = 10 * MM
    hem: int = 0
    mass: Fraction = Fraction(0)
    is_colored: bool = True
    is_by_blind: bool = False


@dataclass(frozen=True)
class Capacity:
    """How a fixing's capacity is known: `screw` and `lag` in wood, `steel` by its thickness in mils, or a `load`
    in newtons to work to."""
    by: str
    newtons: Fraction = Fraction(0)
    mil: int = 0


@dataclass(frozen=True)
class Fixing:
    name: str
    substrate: str
    capacity: Capacity | None
    pack: int
    price: Fraction | None
    diameter: Fraction | None = None  # inches
    length: int | None = None
    thread: Fraction | None = None
    own_edge: int | None = None
    own_spacing: int | None = None

    @property
    def edge(self) -> int:
        """The least distance to an edge, where the anchor's own approval says nothing."""
        return EDGE[self.substrate] if self.own_edge is None else self.own_edge

    @property
    def spacing(self) -> int:
        return SPACING[self.substrate] if self.own_spacing is None else self.own_spacing

    @property
    def each(self) -> Fraction | None:
        return None if self.price is None else self.price / self.pack


EDGE = {"wood": inches("3/4"), "steel": inches("1/2"), "drywall": inches("2"), "concrete": inches("1 1/2"),
        "masonry": inches("2")}
SPACING = {"wood": 0, "steel": inches("1/2"), "drywall": inches("2"), "concrete": inches("1 1/2"),
           "masonry": inches("2")}

PRODUCTS = {"louver-89": Product("louver-89", inches("3 1/2"), inches("3 1/8"), "fabric-89"),
            "louver-127": Product("louver-127", inches("5"), inches("4 1/2"), "fabric-127")}
COLORS = ("white", "cream", "gray")

_FABRIC, _PVC = Fraction("0.28"), Fraction("1.12")
MATERIALS = {material.name: material for material in (
    Material("rail", 5800 * MM, Fraction(26), mass=Fraction("0.75")),
    Material("rod", 5800 * MM, Fraction(9), is_colored=False),
    Material("valance", 5800 * MM, Fraction(14), mass=Fraction("0.35")),
    Material("fabric-89", 100_000 * MM, Fraction(95), kerf=0, hem=2 * INCH, mass=_FABRIC, is_by_blind=True),
    Material("fabric-127", 100_000 * MM, Fraction(130), kerf=0, hem=2 * INCH, mass=_FABRIC, is_by_blind=True),
    Material("pvc-89", 4000 * MM, Fraction("5.20"), mass=_PVC),
    Material("pvc-127", 4000 * MM, Fraction("7.00"), mass=_PVC),
)}

# Standard gravity and the pound-force: NIST SP 811, appendix B.8.
GRAVITY = Fraction("9.80665")
POUND = Fraction("0.45359237")
POUND_FORCE = POUND * GRAVITY

SCREW = Capacity("screw")
FIXINGS = [
    Fixing("wood screw 8 x 1 1/2", "wood", SCREW, 100, Fraction(6), Fraction("0.164"), inches("1 1/2"), inches("1")),
    Fixing("wood screw 8 x 1 3/4", "wood", SCREW, 100, Fraction(7), Fraction("0.164"), inches("1 3/4"),
           Fraction(7, 6) * INCH),
    Fixing("wood screw 10 x 2 1/2", "wood", SCREW, 100, Fraction(11), Fraction("0.190"), inches("2 1/2"),
           Fraction(5, 3) * INCH),
    Fixing("steel-stud screw 8 x 1 5/8", "steel", Capacity("steel", mil=33), 100, Fraction(8), Fraction("0.164"),
           inches("1 5/8")),
    Fixing("toggle 1/8", "drywall", Capacity("load", 30 * POUND_FORCE), 20, Fraction(9)),
    Fixing("concrete screw 1/4 x 1 3/4", "concrete", None, 100, Fraction(24), Fraction("0.25"), inches("1 3/4")),
    Fixing("plug and screw 8 x 1 1/2", "masonry", None, 100, Fraction(9), Fraction("0.164"), inches("1 1/2")),
]

# The wall brackets by their reach, shortest first.
BRACKETS = {inches("3"): "bracket 3 in", inches("4 1/2"): "bracket 4 1/2 in", inches("6"): "bracket 6 in"}
INSIDE_BRACKET = "inside bracket"

# Price and pack of each part. A wand's price is that of one step of its length.
PARTS = {name: (Fraction(price), pack) for name, price, pack in (
    ("bracket 3 in", "1.80", 10), ("bracket 4 1/2 in", "2.40", 10), ("bracket 6 in", "3.00", 10),
    (INSIDE_BRACKET, "1.20", 10), ("valance clip", "0.35", 20), ("carrier", "0.30", 100), ("hanger", "0.12", 100),
    ("bottom weight", "0.25", 100), ("spacer link", "0.04", 100), ("end cap", "0.40", 10),
    ("corner piece", "0.90", 10), ("packer", "0.10", 50))}
WAND_PRICE = Fraction("1.50")
SPARE_LOUVER = Fraction("3.50")


@dataclass(frozen=True)
class Box:
    """A stock size in its shelf box, not cut down: white, one way and either hand, a wand, the shortest brackets."""
    width: int
    price: Fraction
    product: str = "louver-89"
    drop: int = inches("84")
    color: str = COLORS[0]
    draws: tuple[str, ...] = ("left", "right")
    control: str = "wand"
    bracket: str = "bracket 3 in"
    on_hand: int = 10


BOXES = {box.width: box for box in (
    Box(inches("66"), Fraction(36)), Box(inches("78"), Fraction(42)), Box(inches("104"), Fraction(54)))}
