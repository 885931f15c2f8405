"""A turned solid: everything within a contour that is a function of the place on the axis."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from builder.body.curves import Curve, Meridian, RingArc
from builder.body.profile import TINY, Contour, Straight, joins_smoothly
from builder.body.solid import Span
from builder.body.vectors import Vector


@dataclass(frozen=True, slots=True)
class Turned:
    """A solid of revolution about X; its contour pieces follow each other along the axis."""

    contours: tuple[Contour, ...]

    @property
    def start(self) -> float:
        """Return the first place on the axis."""
        return self.contours[0].x0

    @property
    def end(self) -> float:
        """Return the last place on the axis."""
        return self.contours[-1].x1

    def rims(self) -> Iterator[tuple[float, float]]:
        """Return place and radius of every circle that is an edge: both ends, and corners of the contour."""
        first, last = self.contours[0], self.contours[-1]
        yield first.x0, first.r0
        for before, after in pairwise(self.contours):
            if not joins_smoothly(before, after):
                yield after.x0, after.r0
        yield last.x1, last.r1

    def radius_at(self, x: float) -> float:
        """Return the radius at a place between start and end."""
        for contour in self.contours:
            if x <= contour.x1:
                return contour.radius_at(x)
        return self.contours[-1].r1

    def beyond(self, radius: float) -> list[Span]:
        """Return the stretches of the axis where the contour lies outside a radius."""
        found: list[Span] = []
        for c in self.contours:
            start, end = c.r0 > radius + TINY, c.r1 > radius + TINY
            if not (start or end):
                continue
            low = c.x0 if start else c.x_at(radius)
            high = c.x1 if end else c.x_at(radius)
            if found and low <= found[-1][1] + TINY:
                found[-1] = (found[-1][0], high)
            else:
                found.append((low, high))
        return found

    def edges(self, toward: Vector) -> Iterator[Curve]:
        """Offer each rim as a front and a back half."""
        for x, radius in self.rims():
            if radius > TINY:
                yield from ring(x, radius, toward)

    def silhouettes(self, toward: Vector) -> Iterator[Meridian]:
        """Offer the contour above and below the axis to a viewer beside it, nothing to one at an end."""
        if abs(toward[0]) < 0.5:
            for contour in self.contours:
                for angle in limbs(toward):
                    yield Meridian(contour, angle, contour.x0, contour.x1)

    def contains(self, point: Vector) -> bool:
        """Tell whether a point is inside."""
        x, y, z = point
        return self.start < x < self.end and math.sqrt(y * y + z * z) < self.radius_at(x)

    def spans(self, point: Vector, toward: Vector) -> list[Span]:
        """Return the stretches of a ray along or square to the axis that lie inside."""
        x, y, z = point
        if abs(toward[0]) > 0.5:
            spans = self.beyond(math.sqrt(y * y + z * z))
            return [(a - x, b - x) if toward[0] > 0 else (x - b, x - a) for a, b in spans]
        if not self.start < x < self.end:
            return []
        depth = y * toward[1] + z * toward[2]
        chord = self.radius_at(x) ** 2 - (y * y + z * z - depth * depth)
        if chord <= 0.0:
            return []
        half = math.sqrt(chord)
        return [(-depth - half, -depth + half)]

    def extent(self) -> tuple[float, float, float]:
        """Return start, end and greatest radius."""
        return self.start, self.end, max(max(c.r0, c.r1) for c in self.contours)

    def volume(self) -> float:
        """Return the volume."""
        return sum(contour.volume() for contour in self.contours)


def limbs(toward: Vector) -> tuple[float, float]:
    """Return the angles, from Y toward Z, at which a round surface turns away from a viewer beside it."""
    front = math.atan2(toward[2], toward[1])
    return front - math.pi / 2.0, front + math.pi / 2.0


def ring(x: float, radius: float, toward: Vector) -> Iterator[RingArc]:
    """Return a circle about the axis as the half in front and the half behind."""
    first, last = limbs(toward)
    yield RingArc(x, radius, first, last)
    yield RingArc(x, radius, last, last + math.pi)


def cylinder(start: float, end: float, radius: float) -> Turned:
    """Return a plain cylinder between two places on the axis."""
    return Turned((Straight(start, radius, end, radius),))


def cone(start: float, radius_start: float, end: float, radius_end: float) -> Turned:
    """Return a frustum between two places on the axis."""
    return Turned((Straight(start, radius_start, end, radius_end),))
