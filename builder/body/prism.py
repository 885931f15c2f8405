"""A regular prism turned to a contour: a hexagon with its chamfer, a square, a socket."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from builder.body.curves import Curve, FaceCurve, Meridian, RingArc, Segment
from builder.body.profile import TINY
from builder.body.solid import Span
from builder.body.turned import Turned, limbs, ring
from builder.body.vectors import Vector, dot, radial


@dataclass(frozen=True, slots=True)
class Prism:
    """A regular prism about X within a turned contour.

    `distance` is from the axis to a face (half the width across flats); `first` is the angle of one face's
    normal from Y toward Z in radians.
    """

    sides: int
    distance: float
    first: float
    within: Turned

    @property
    def corner(self) -> float:
        """Return the distance from the axis to a corner (half the width across corners)."""
        return self.distance / math.cos(math.pi / self.sides)

    @property
    def half_face(self) -> float:
        """Return half the width of a face."""
        return self.distance * math.tan(math.pi / self.sides)

    def normals(self) -> Iterator[float]:
        """Return the angles of the faces' normals."""
        return (self.first + 2.0 * math.pi * n / self.sides for n in range(self.sides))

    def edges(self, toward: Vector) -> Iterator[Curve]:
        """Offer the corner lines, the faces' ends, the chamfer's curves on the faces and its rims."""
        for angle in self.normals():
            yield from self._corner_lines(angle + math.pi / self.sides)
            yield from self._face_ends(angle)
            yield from self._face_curves(angle, toward)
        for x, radius in self.within.rims():
            yield from self._rim(x, radius, toward)

    def _corner_lines(self, angle: float) -> Iterator[Curve]:
        _, y, z = radial(angle)
        for a, b in self.within.beyond(self.corner):
            yield Segment((a, y * self.corner, z * self.corner), (b, y * self.corner, z * self.corner))

    def _face_ends(self, angle: float) -> Iterator[Curve]:
        for x in (self.within.start, self.within.end):
            radius = min(self.within.radius_at(x), self.corner)
            if radius > self.distance + TINY:
                w = math.sqrt(radius**2 - self.distance**2)
                yield Segment(self._on_face(x, angle, -w), self._on_face(x, angle, w))

    def _on_face(self, x: float, angle: float, w: float) -> Vector:
        n, d = radial(angle), radial(angle + math.pi / 2)
        return (x, n[1] * self.distance + d[1] * w, n[2] * self.distance + d[2] * w)

    def _face_curves(self, angle: float, toward: Vector) -> Iterator[Curve]:
        edge_on = abs(toward[0]) < 0.5 and abs(dot(radial(angle), toward)) < 1e-9
        for contour in self.within.contours:
            low, high = sorted((contour.r0, contour.r1))
            low, high = max(low, self.distance), min(high, self.corner)
            if high - low < TINY:
                continue
            inner = math.sqrt(max(0.0, low**2 - self.distance**2))
            outer = math.sqrt(high**2 - self.distance**2)
            if inner > TINY or edge_on:
                yield FaceCurve(contour, angle, self.distance, -outer, -inner)
                yield FaceCurve(contour, angle, self.distance, inner, outer)
            else:
                yield FaceCurve(contour, angle, self.distance, -outer, outer)

    def _rim(self, x: float, radius: float, toward: Vector) -> Iterator[Curve]:
        if radius <= TINY or radius >= self.corner - TINY:
            return
        if radius <= self.distance:
            yield from ring(x, radius, toward)
            return
        reach = math.pi / self.sides - math.acos(self.distance / radius)
        for angle in self.normals():
            middle = angle + math.pi / self.sides
            yield RingArc(x, radius, middle - reach, middle + reach)

    def silhouettes(self, toward: Vector) -> Iterator[Meridian]:
        """Offer the chamfer's contour above and below the axis, as far as it lies within the faces."""
        if abs(toward[0]) > 0.5:
            return
        for angle in limbs(toward):
            reach = self._reach(angle)
            for c in self.within.contours:
                if min(c.r0, c.r1) >= reach - TINY:
                    continue
                low = c.x0 if c.r0 <= reach else c.x_at(reach)
                high = c.x1 if c.r1 <= reach else c.x_at(reach)
                yield Meridian(c, angle, low, high)

    def _reach(self, angle: float) -> float:
        step = 2.0 * math.pi / self.sides
        off = (angle - self.first + step / 2.0) % step - step / 2.0
        return self.distance / math.cos(off)

    def contains(self, point: Vector) -> bool:
        """Tell whether a point is inside."""
        if not self.within.contains(point):
            return False
        _, y, z = point
        return all(y * ny + z * nz < self.distance for ny, nz in _normals(self.sides, self.first))

    def spans(self, point: Vector, toward: Vector) -> list[Span]:
        """Return the stretches of a ray along or square to the axis that lie inside."""
        turned = self.within.spans(point, toward)
        if not turned:
            return []
        low, high = -math.inf, math.inf
        for ny, nz in _normals(self.sides, self.first):
            room = self.distance - point[1] * ny - point[2] * nz
            rate = toward[1] * ny + toward[2] * nz
            if abs(rate) < 1e-12:
                if room <= TINY:
                    return []
            elif rate > 0.0:
                high = min(high, room / rate)
            else:
                low = max(low, room / rate)
        return [(max(a, low), min(b, high)) for a, b in turned if max(a, low) < min(b, high)]

    def extent(self) -> tuple[float, float, float]:
        """Return start, end and greatest radius."""
        return self.within.start, self.within.end, min(self.corner, self.within.extent()[2])

    def volume(self) -> float:
        """Return the volume: the cross section is integrated by Gauss's rule between the contour's corners."""
        return sum(self._slice_volume(a, b) for a, b in self._smooth_stretches())

    def _smooth_stretches(self) -> Iterator[Span]:
        for c in self.within.contours:
            low, high = sorted((c.r0, c.r1))
            inner = (c.x_at(r) for r in (self.distance, self.corner) if low + TINY < r < high - TINY)
            places = sorted((c.x0, *inner, c.x1))
            yield from pairwise(places)

    def _slice_volume(self, a: float, b: float) -> float:
        half, middle = (b - a) / 2.0, (a + b) / 2.0
        return half * sum(w * self._area(self.within.radius_at(middle + half * u)) for u, w in _GAUSS)

    def _area(self, radius: float) -> float:
        if radius <= self.distance:
            return math.pi * radius * radius
        if radius >= self.corner:
            return self.sides * self.distance * self.half_face
        off = math.acos(self.distance / radius)
        flat = self.distance * math.sqrt(radius**2 - self.distance**2)
        return self.sides * (flat + radius * radius * (math.pi / self.sides - off))


@lru_cache(maxsize=64)
def _normals(sides: int, first: float) -> tuple[tuple[float, float], ...]:
    angles = (first + 2.0 * math.pi * n / sides for n in range(sides))
    return tuple((math.cos(a), math.sin(a)) for a in angles)


# Abscissas and weights of Gauss-Legendre quadrature with 5 points (Abramowitz and Stegun, table 25.4).
_GAUSS = (
    (0.0, 0.568888888888889),
    (0.538469310105683, 0.478628670499366),
    (-0.538469310105683, 0.478628670499366),
    (0.906179845938664, 0.236926885056189),
    (-0.906179845938664, 0.236926885056189),
)
