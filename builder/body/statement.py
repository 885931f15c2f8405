"""What a feature states of itself in numbers, beside the solids that it is lowered to: what its drawings must show.

Statements are for measuring a written drawing against. They come from a feature's parameters by their own arithmetic,
not from its solids, so that a fault of those is found. Places along the axis and diameters in the part's unit, angles
in degrees, directions about the axis from up (Y toward Z). `parameter` is the one that a number is taken from.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from builder.body.feature import Values

Vector = tuple[float, float, float]
X_AXIS: Vector = (1.0, 0.0, 0.0)
EVERYWHERE = (-math.inf, math.inf)


@dataclass(frozen=True, slots=True)
class Round:
    """A cylinder or cone about the axis, filled or hollow from there; a `ring` is taken away from outside."""

    start: float
    end: float
    first: float  # diameter at the start
    last: float  # and at the end
    parameter: str = "diameter"
    void: bool = False
    ring: bool = False
    smooth: tuple[bool, bool] = (False, False)  # which ends run into a fillet, without an edge
    thread: str = ""  # "crest" or "chamfer": what a thread style may draw in another way


@dataclass(frozen=True, slots=True)
class Prism:
    """A prism about the axis with even faces; `circles` are those of chamfers at its start and end, 0 for none."""

    start: float
    end: float
    across: float
    faces: int
    corner: float  # distance of a corner from the axis
    turn: float = 0.0  # direction in which a face looks
    at_corner: float = 0.0  # direction of a corner
    void: bool = False
    circles: tuple[float, float] = (0.0, 0.0)
    angle: float = 30.0  # of the chamfers, to the end face
    parameter: str = "across_flats"


@dataclass(frozen=True, slots=True)
class Bow:
    """A surface turned from an arc: fillet, rounding, crown, ball; it lies between two diameters."""

    radius: float
    at: float  # centre along the axis
    off: float  # and its distance from the axis
    start: float
    end: float
    low: float
    high: float
    parameter: str
    void: bool = False
    ring: bool = False  # of a groove, open to the outside


@dataclass(frozen=True, slots=True)
class Pattern:
    """Circles evenly round a circle about the axis, as an end view shows them; holes go from start to end."""

    diameter: float
    circle: float
    count: int
    first: float
    start: float
    end: float
    void: bool = True
    parameter: str = "diameter"


@dataclass(frozen=True, slots=True)
class Threaded:
    """A thread: full and unbroken by chamfers from `lead_in` to `lead_out`; `limits` are where it ends in material."""

    external: bool
    start: float
    end: float
    major: float
    minor: float
    pitch: float
    lead_in: float
    lead_out: float
    limits: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Disturbed:
    """A stretch in which something that is not round cuts the surface or, where it `adds`, covers it.

    A round hole has a diameter, and a direction in which its circle looks.
    """

    start: float
    end: float
    diameter: float = 0.0
    looks: float = 0.0
    both: bool = False
    adds: bool = False


@dataclass(frozen=True, slots=True)
class Reach:
    """How far a solid reaches: a disc square to an axis, as thick all round as `thick` (a point, a ball, a ring)."""

    centre: Vector
    axis: Vector = X_AXIS
    radius: float = 0.0
    thick: float = 0.0
    square: bool = False  # holds only for directions square to each other, along the axis and up

    def along(self, way: Vector) -> float:
        """Return how far it reaches in a direction of length 1."""
        c, a = self.centre, self.axis
        lean = a[0] * way[0] + a[1] * way[1] + a[2] * way[2]
        middle = c[0] * way[0] + c[1] * way[1] + c[2] * way[2]
        return middle + self.radius * math.sqrt(max(0.0, 1.0 - lean * lean)) + self.thick


@dataclass(frozen=True, slots=True)
class Unmeasured:
    """What a feature leaves to be looked at by eye."""

    what: str


Statement = Round | Prism | Bow | Pattern | Threaded | Disturbed | Reach | Unmeasured


def span(a: float, b: float) -> tuple[float, float]:
    """Return two places in order."""
    return (a, b) if a <= b else (b, a)


def regular(values: Values, sides: int, start: float, end: float, *, void: bool = False) -> Prism:
    """State a regular prism, a face up."""
    across = values["across_flats"]
    corner = across / 2.0 / math.cos(math.pi / sides)
    return Prism(*span(start, end), across, sides, corner, 0.0, 180.0 / sides, void)


def head(values: Values, sides: int) -> tuple[Prism, ...]:
    """State a head of even faces with the circles of its chamfers; twelve faces are two hexagons."""
    across, ends = values["across_flats"], values.choices["chamfer"]
    corner = across / 2.0 / math.cos(math.pi / (6 if sides == 12 else sides))
    circles = tuple(values["chamfer_diameter"] * (ends in (end, "both")) for end in ("from", "to"))
    at_corner = 0.0 if sides == 12 else 180.0 / sides
    start, end, angle = values["from"], values["to"], values["chamfer_angle"]
    return (Prism(start, end, across, sides, corner, 0.0, at_corner, False, (circles[0], circles[1]), angle),)


def bored(start: float, end: float, first: float, last: float, parameter: str = "diameter") -> Round:
    """State a hollow that goes in from one place to another, either way."""
    if start <= end:
        return Round(start, end, first, last, parameter, void=True)
    return Round(end, start, last, first, parameter, void=True)


def drilled(at: float, way: float, diameter: float, point_angle: float) -> Round:
    """State the point of a drill beyond its full diameter."""
    depth = diameter / 2.0 / math.tan(math.radians(point_angle) / 2.0)
    return bored(at, at + way * depth, diameter, 0.0, "")


def socket(values: Values, across: float) -> Iterator[Statement]:
    """State what all sockets have beside their profile: the drilled floor and the chamfered mouth, cut by it."""
    mouth, start = values["mouth"], values["from"]
    if mouth:
        deep = math.copysign((mouth - across) / 2.0, values["to"] - start)
        yield Bow(0.0, start, 0.0, *span(start, start + deep), across, mouth, "", void=True)
    if mouth or values["point_angle"]:
        yield Unmeasured(f"drilled floor or mouth of {values.feature}")
