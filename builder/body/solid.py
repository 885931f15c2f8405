"""The questions that a view asks a solid, and the body: solids less voids, and marks of drafting conventions."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum
from functools import cached_property
from itertools import combinations
from typing import NamedTuple, Protocol

from builder.body.crossings import crossings
from builder.body.curves import Curve, Limb, Segment
from builder.body.faces import Face
from builder.body.material import Leaf, Material
from builder.body.rims import is_rim, known_rims
from builder.body.vectors import Array, Box, Truth, Vector


class Solid(Protocol):
    """A simple shape in space. Arrays of points have the shape (n, 3)."""

    def leaves(self) -> Sequence[Leaf]:
        """Return the simple shapes that it is the intersection of, perhaps itself alone."""

    def edges(self) -> Iterator[Curve]:
        """Offer the edges."""

    def silhouettes(self, toward: Vector) -> Iterator[Limb]:
        """Offer the curves where the surface turns away from a viewer in the direction `toward`."""

    def faces(self) -> Sequence[Face]:
        """Return the faces, to be crossed with those of other solids."""

    def contains(self, points: Array) -> Truth:
        """Tell which points are inside; on the surface either answer is right."""

    def roots(self, points: Array, toward: Vector) -> Array:
        """Return how far along the rays from points they meet faces, shape (n, k); infinite where they do not."""

    def box(self) -> Box:
        """Return two corners of an upright box round it."""

    def volume(self) -> float:
        """Return the volume."""


class Surface(Enum):
    """What a piece of the body is to the drafting conventions."""

    PLAIN = "plain"
    CREST = "crest"  # the cylinder through the crests of a thread
    CHAMFER = "chamfer"  # the chamfer or countersink at a thread's end


class Fit(Enum):
    """How a piece fits the body, for the check that the features make sense together."""

    STACKED = "stacked"  # a solid that stands end to end with the next along the axis
    ADDED = "added"  # a solid that grows out of others: a branch, a ball end
    BORED = "bored"  # a void with material all round it
    SUNK = "sunk"  # a void in the one feature that it opens in, not through it: a drive
    CUT = "cut"  # a void that breaks through the surface: a slot, a groove


@dataclass(frozen=True, slots=True)
class Piece:
    """A solid or void with the feature that it was lowered from."""

    solid: Solid
    feature: str
    fit: Fit = Fit.STACKED
    surface: Surface = Surface.PLAIN
    centred: bool = True  # about the part's own axis, which is then drawn

    @property
    def void(self) -> bool:
        """Tell what is taken away from what is there."""
        return self.fit in (Fit.BORED, Fit.SUNK, Fit.CUT)


@dataclass(frozen=True, slots=True)
class ThreadMark:
    """Where a thread runs: a convention of drafting, not a shape. Radii and places in the part's unit.

    Chamfers or countersinks have `end_radius` at the ends and reach in to `lead_in` at the start and `chamfer_x` at
    the end. `limits` are the places where full thread ends in the material; `run_out` leads on from
    there, with its sign along X.
    """

    feature: str
    external: bool
    start: float
    end: float
    major: float
    minor: float
    pitch: float
    lead_in: float
    chamfer_x: float
    end_radius: float
    limits: tuple[float, ...] = ()
    run_out: float = 0.0
    left_hand: bool = False
    starts: int = 1


@dataclass(frozen=True, slots=True)
class FlatMark:
    """A flat on a round part, marked by two thin diagonals: a convention of drafting (ISO 128)."""

    feature: str
    diagonals: tuple[Segment, Segment]
    normal: Vector


@dataclass(frozen=True, slots=True)
class AxisMark:
    """The axis of something off the part's own: a hole, a ball, a branch; `radius` is how far it reaches across."""

    start: Vector
    end: Vector
    radius: float


@dataclass(frozen=True, slots=True)
class PitchMark:
    """A circle of axes about the part's axis at a place, or an arc of it: a bolt circle, a row of balls."""

    curve: Curve


class Edge(NamedTuple):
    """A curve that a body offers as an edge, of one of its pieces; `known` where it is one all along."""

    piece: Piece
    curve: Curve
    known: bool | None


@dataclass(frozen=True)
class Body:
    """One body of a part: union of the solids less union of the voids."""

    pieces: tuple[Piece, ...]
    threads: tuple[ThreadMark, ...] = ()
    flats: tuple[FlatMark, ...] = ()
    axes: tuple[AxisMark | PitchMark, ...] = ()
    name: str = "body"
    whole: bool = False  # drawn uncut in a section: a bolt, a ball

    @cached_property
    def solids(self) -> tuple[Solid, ...]:
        """Return what is filled."""
        return tuple(p.solid for p in self.pieces if not p.void)

    @cached_property
    def voids(self) -> tuple[Solid, ...]:
        """Return what is cut away."""
        return tuple(p.solid for p in self.pieces if p.void)

    @cached_property
    def box(self) -> Box:
        """Return two corners of an upright box round the solids."""
        return union_box([box for piece, box in zip(self.pieces, self.boxes, strict=True) if not piece.void])

    @cached_property
    def boxes(self) -> tuple[Box, ...]:
        """Return the box round each piece."""
        return tuple(piece.solid.box() for piece in self.pieces)

    @cached_property
    def size(self) -> float:
        """Return the longest side of the box: the scale for tolerances."""
        low, high = self.box
        return max(b - a for a, b in zip(low, high, strict=True))

    @cached_property
    def edges(self) -> tuple[Edge, ...]:
        """Return the edges of all pieces, and the curves in which pieces cross: what it offers to every view."""
        offered = self._offered()
        rims = [curve for _, curve in offered if is_rim(curve)]
        leaves = [leaf for piece in self.pieces for leaf in piece.solid.leaves()]
        known = iter(known_rims(rims, leaves, self.contains, self.size))
        edges = (Edge(piece, curve, next(known) if is_rim(curve) else None) for piece, curve in offered)
        return tuple(edge for edge in edges if edge.known is not False)

    def _offered(self) -> list[tuple[Piece, Curve]]:
        """Return what may be an edge, a circle about the axis once.

        A crossing belongs to that of the two pieces on which a convention hangs, or else to the first.
        """
        edges = [(piece, curve) for piece in self.pieces for curve in piece.solid.edges()]
        slack = 1e-7 * self.size
        for (a, box_a), (b, box_b) in combinations(zip(self.pieces, self.boxes, strict=True), 2):
            if overlap(box_a, box_b, slack):
                owner = a if b.surface is Surface.PLAIN else b
                edges.extend((owner, curve) for curve in crossings(a.solid.faces(), b.solid.faces()))
        once: dict[object, tuple[Piece, Curve]] = {}
        for n, (piece, curve) in enumerate(edges):
            place = (round(curve.x, 9), round(curve.radius, 9)) if is_rim(curve) else n
            once.setdefault((piece.feature, piece.surface, place), (piece, curve))
        return list(once.values())

    @cached_property
    def met(self) -> tuple[tuple[Solid, ...], ...]:
        """Return for each piece what may cut into its surface: the solids and voids that share room with it."""
        slack, boxed = 1e-7 * self.size, tuple(zip(self.pieces, self.boxes, strict=True))
        return tuple(
            tuple(other.solid for other, box in boxed if other is not piece and overlap(own, box, slack))
            for piece, own in boxed
        )

    def contains(self, points: Array) -> Truth:
        """Tell which points are in the material."""
        return self._material.contains(points)

    def roots(self, points: Array, toward: Vector) -> Array:
        """Return how far along the rays they meet any face; infinite where they do not."""
        return self._material.roots(points, toward)

    @cached_property
    def _material(self) -> Material:
        return Material([solid.leaves() for solid in self.solids], [void.leaves() for void in self.voids])


def union_box(boxes: Sequence[Box]) -> Box:
    """Return the box round some boxes."""
    lows, highs = zip(*boxes, strict=True)
    return (
        (min(p[0] for p in lows), min(p[1] for p in lows), min(p[2] for p in lows)),
        (max(p[0] for p in highs), max(p[1] for p in highs), max(p[2] for p in highs)),
    )


def overlap(a: Box, b: Box, slack: float = 0.0) -> bool:
    """Tell whether two boxes share more than a touch."""
    return all(
        low_a + slack < high_b and low_b + slack < high_a
        for low_a, high_a, low_b, high_b in zip(a[0], a[1], b[0], b[1], strict=True)
    )


def thread_share(body: Body) -> float:
    """Return by how much threads change the volume: a thread weighs as its pitch cylinder (common practice)."""
    total = 0.0
    for thread in body.threads:
        flank = thread.major - 0.649519 * thread.pitch / 2.0  # ISO 68-1: d2 = d - 0.649519 P
        crest = thread.major if thread.external else thread.minor
        total -= math.pi * abs(crest * crest - flank * flank) * (thread.chamfer_x - thread.lead_in)
    return total
