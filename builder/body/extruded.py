"""An extruded leaf: a closed profile carried along the x axis of its place."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from builder.body.contour import TINY, Bow, Contour, Loop, Straight, area, joints, reach, smooth
from builder.body.curves import Curve, Limb, RingArc, Segment
from builder.body.faces import Face, Flat, Round
from builder.body.outlines import Outlines
from builder.body.rays import flat_root, quadratic
from builder.body.vectors import AXIS, Array, Box, Place, Truth, Vector


@dataclass(frozen=True, slots=True)
class Ruling(Segment):
    """A straight silhouette with the direction that the surface faces there."""

    facing: Vector = (0.0, 0.0, 0.0)

    def normal(self, t: float) -> Vector:
        """Return the direction out of the surface."""
        return self.facing


@dataclass(frozen=True)
class Extruded:
    """A profile, closed in the (y, z) of a place, between two values of its x."""

    loop: Loop
    start: float
    end: float
    place: Place = AXIS

    @cached_property
    def _outlines(self) -> Outlines:
        return Outlines((self.loop,))

    def leaves(self) -> Sequence["Extruded"]:
        """Return itself."""
        return (self,)

    def coaxial(self) -> None:
        """Return nothing: it is not turned."""

    def profile(self) -> tuple[Straight, ...] | None:
        """Return its outline where it is a polygon carried along the part's own axis."""
        sides = tuple(piece for piece in self.loop if isinstance(piece, Straight))
        return sides if self.place is AXIS and len(sides) == len(self.loop) else None

    def edges(self) -> Iterator[Curve]:
        """Offer the lines at the profile's corners and its outline at both ends."""
        for before, after in joints(self.loop):
            if not smooth(before, after):
                yield self._line(after.a0, after.b0)
        for x in (self.start, self.end):
            yield from self._outline(x)

    def _line(self, y: float, z: float) -> Segment:
        return Segment(self.place.world((self.start, y, z)), self.place.world((self.end, y, z)))

    def _outline(self, x: float) -> Iterator[Curve]:
        for run in _runs(self.loop):
            if isinstance(run[0], Bow):
                first = run[0].angles()[0]
                last = first + sum(b - a for a, b in (bow.angles() for bow in run if isinstance(bow, Bow)))
                low, high = sorted((first, last))
                yield RingArc(x, run[0].radius, low, high, self._about(run[0]))
            else:
                a, b = (x, run[0].a0, run[0].b0), (x, run[0].a1, run[0].b1)
                yield Segment(self.place.world(a), self.place.world(b))

    def _about(self, bow: Bow) -> Place:
        return Place(self.place.world((0.0, bow.ca, bow.cb)), self.place.x, self.place.y)

    def silhouettes(self, toward: Vector) -> Iterator[Limb]:
        """Offer the lines where rounded sides turn away; nothing to a viewer at an end."""
        _, y, z = self.place.local_direction(toward)
        if math.hypot(y, z) < TINY:
            return
        for bow in self.loop:
            if not isinstance(bow, Bow):
                continue
            low, high = sorted(bow.angles())
            for angle in (math.atan2(z, y) - math.pi / 2.0, math.atan2(z, y) + math.pi / 2.0):
                if (angle - low + 1e-7) % math.tau <= high - low + 2e-7:
                    c, s = math.cos(angle), math.sin(angle)
                    line = self._line(bow.ca + bow.radius * c, bow.cb + bow.radius * s)
                    yield Ruling(line.start, line.end, self.place.world_direction((0.0, c, s)))

    def faces(self) -> Sequence[Face]:
        """Return both ends and the sides."""
        return self._faces

    @cached_property
    def _faces(self) -> tuple[Face, ...]:
        low_y, low_z, high_y, high_z = reach(self.loop)
        world, way = self.place.world, self.place.world_direction
        across, up = way((0.0, high_y - low_y, 0.0)), way((0.0, 0.0, high_z - low_z))
        ends = [Flat(world((x, low_y, low_z)), across, up) for x in (self.start, self.end)]
        return (*ends, *(self._side(piece) for piece in self.loop))

    def _side(self, piece: Contour) -> Face:
        if isinstance(piece, Bow):
            low, high = sorted(piece.angles())
            return Round(Straight(self.start, piece.radius, self.end, piece.radius), self._about(piece), (low, high))
        way = self.place.world_direction
        along, side = (self.end - self.start, 0.0, 0.0), (0.0, piece.a1 - piece.a0, piece.b1 - piece.b0)
        return Flat(self.place.world((self.start, piece.a0, piece.b0)), way(along), way(side))

    def contains(self, points: Array) -> Truth:
        """Tell which points are inside."""
        local = self.place.local_points(points)
        x = local[:, 0]
        within: Truth = self._outlines.inside(local[:, 1], local[:, 2])[0]
        return (self.start < x) & (x < self.end) & within

    def roots(self, points: Array, toward: Vector) -> Array:
        """Return how far along the rays they meet the faces."""
        local, sight = self.place.local_points(points), self.place.local_direction(toward)
        found = [flat_root(local, sight, 0, x)[:, None] for x in (self.start, self.end)]
        if math.hypot(sight[1], sight[2]) > TINY:
            found.extend(_bow_roots(piece, local, sight) for piece in self.loop if isinstance(piece, Bow))
            found.append(self._side_roots(local, sight))
        return np.concatenate(found, axis=1)

    @cached_property
    def _sides(self) -> tuple[Array, ...]:
        """Return where its flat sides start and which way they run, each as an array."""
        flat = [(p.a0, p.b0, p.a1 - p.a0, p.b1 - p.b0) for p in self.loop if isinstance(p, Straight)]
        return tuple(np.array(flat).reshape(-1, 4).T)

    def _side_roots(self, points: Array, toward: Vector) -> Array:
        """Return where rays meet the flat sides, shape (n, sides)."""
        (y0, z0, sy, sz), (_, dy, dz) = self._sides, toward
        rate = dy * sz - dz * sy
        y, z = points[:, 1, None] - y0, points[:, 2, None] - z0
        with np.errstate(divide="ignore", invalid="ignore"):
            roots = (z * sy - y * sz) / rate
            share = ((y + dy * roots) * sy + (z + dz * roots) * sz) / (sy * sy + sz * sz)
            roots[~((share > -1e-6) & (share < 1.0 + 1e-6) & (np.abs(rate) >= 1e-12))] = np.inf
        return np.asarray(roots)

    def box(self) -> Box:
        """Return a box round it."""
        return self._box

    @cached_property
    def _box(self) -> Box:
        low_y, low_z, high_y, high_z = reach(self.loop)
        spots = [
            self.place.world((x, y, z))
            for x in (self.start, self.end)
            for y in (low_y, high_y)
            for z in (low_z, high_z)
        ]
        xs, ys, zs = zip(*spots, strict=True)
        return (min(xs), min(ys), min(zs)), (max(xs), max(ys), max(zs))

    def volume(self) -> float:
        """Return the volume."""
        return area(self.loop) * (self.end - self.start)


def _runs(loop: Loop) -> list[list[Contour]]:
    """Return straight pieces alone, and arcs about one centre together."""
    runs: list[list[Contour]] = []
    for piece in loop:
        if runs and _same_circle(runs[-1][-1], piece):
            runs[-1].append(piece)
        else:
            runs.append([piece])
    if len(runs) > 1 and _same_circle(runs[-1][-1], runs[0][0]):
        runs[0] = runs.pop() + runs[0]
    return runs


def _same_circle(p: Contour, q: Contour) -> bool:
    if not (isinstance(p, Bow) and isinstance(q, Bow)):
        return False
    return math.dist((p.ca, p.cb, p.radius), (q.ca, q.cb, q.radius)) < TINY and smooth(p, q)


def _bow_roots(bow: Bow, points: Array, toward: Vector) -> Array:
    _, dy, dz = toward
    y, z = points[:, 1] - bow.ca, points[:, 2] - bow.cb
    return quadratic(dy * dy + dz * dz, y * dy + z * dz, y * y + z * z - bow.radius**2)
