"""The questions that a view asks a solid, and the body: solids less voids, and marks where threads run."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from functools import cached_property
from typing import Protocol

from builder.body.curves import Curve, Meridian
from builder.body.vectors import Vector

Span = tuple[float, float]


class Solid(Protocol):
    """A simple shape about the X axis. Directions of sight are along X or square to it."""

    def edges(self, toward: Vector) -> Iterator[Curve]:
        """Offer the edges, cut so that each runs one way when seen against `toward`."""

    def silhouettes(self, toward: Vector) -> Iterator[Meridian]:
        """Offer the curves where the surface turns away from a viewer in the direction `toward`."""

    def contains(self, point: Vector) -> bool:
        """Tell whether a point is inside; on the surface either answer is right."""

    def spans(self, point: Vector, toward: Vector) -> list[Span]:
        """Return the stretches of the ray from `point` along `toward` that lie inside; touching does not count."""

    def extent(self) -> tuple[float, float, float]:
        """Return the first and last place on the axis and the greatest radius."""

    def volume(self) -> float:
        """Return the volume."""


class Surface(Enum):
    """What a piece of the body is to the drafting conventions."""

    PLAIN = "plain"
    CREST = "crest"  # the cylinder through the crests of a thread
    CHAMFER = "chamfer"  # the chamfer or countersink at a thread's end


@dataclass(frozen=True, slots=True)
class Piece:
    """A solid or void with the feature that it was lowered from."""

    solid: Solid
    feature: str
    void: bool = False
    surface: Surface = Surface.PLAIN


@dataclass(frozen=True, slots=True)
class ThreadMark:
    """Where a thread runs: a convention of drafting, not a shape. Radii and places in the part's unit.

    `start` is where the full thread ends inside the part (external) or the entry face (internal). An external
    thread's point chamfer starts at `chamfer_x` and ends at `end` with `end_radius`; an internal thread's
    countersinks have `end_radius` at the faces and reach in to `lead_in` at the start and `chamfer_x` at the end.
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


@dataclass(frozen=True)
class Body:
    """A part's body: union of the solids less union of the voids, axis along X."""

    pieces: tuple[Piece, ...]
    threads: tuple[ThreadMark, ...]

    @cached_property
    def solids(self) -> tuple[Solid, ...]:
        """Return what is filled."""
        return tuple(p.solid for p in self.pieces if not p.void)

    @cached_property
    def voids(self) -> tuple[Solid, ...]:
        """Return what is cut away."""
        return tuple(p.solid for p in self.pieces if p.void)

    @cached_property
    def size(self) -> float:
        """Return the longest extent: the scale for tolerances."""
        extents = [solid.extent() for solid in self.solids]
        length = max(e[1] for e in extents) - min(e[0] for e in extents)
        return max(length, 2.0 * max(e[2] for e in extents))

    def contains(self, point: Vector) -> bool:
        """Tell whether a point is in the material."""
        for solid in self.solids:
            if solid.contains(point):
                break
        else:
            return False
        return not any(void.contains(point) for void in self.voids)

    def material(self, point: Vector, toward: Vector, limit: float) -> float:
        """Return the longest unbroken stretch of material on the ray, up to a distance."""
        filled = [span for s in self.solids for span in s.spans(point, toward)]
        if not filled:
            return 0.0
        empty = sorted(span for v in self.voids for span in v.spans(point, toward))
        return max((_longest(max(a, 0.0), min(b, limit), empty) for a, b in filled), default=0.0)


def _longest(start: float, end: float, empty: list[Span]) -> float:
    best = 0.0
    for a, b in empty:
        best = max(best, min(a, end) - start)
        start = max(start, b)
    return max(best, end - start)


def volume(body: Body) -> float:
    """Return the volume of a body whose solids touch but do not overlap and whose voids lie within.

    A thread counts as a cylinder of its pitch diameter (common practice, no source).
    """
    total = sum(p.solid.volume() * (-1.0 if p.void else 1.0) for p in body.pieces)
    for thread in body.threads:
        flank = thread.major - 0.649519 * thread.pitch / 2.0  # ISO 68-1: d2 = d - 0.649519 P
        crest = thread.major if thread.external else thread.minor
        total -= math.pi * abs(crest * crest - flank * flank) * (thread.chamfer_x - thread.lead_in)
    return total
