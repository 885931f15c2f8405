"""The faces of solids, flat or turned, as far as crossing them with other faces needs."""

import math
from dataclasses import dataclass
from typing import NamedTuple

from builder.body.contour import Contour, Straight
from builder.body.vectors import Place, Vector, add, cross, dot, unit


class Flat(NamedTuple):
    """A flat face within a parallelogram: a corner and two sides; `disc` is the turned piece that it is, if any."""

    corner: Vector
    side_u: Vector
    side_v: Vector
    disc: "Round | None" = None

    @property
    def sides(self) -> tuple[Vector, Vector]:
        """Return both sides."""
        return self.side_u, self.side_v

    @property
    def normal(self) -> Vector:
        """Return the direction square to it."""
        return unit(cross(self.side_u, self.side_v))

    def shares_plane(self, other: "Flat") -> bool:
        """Tell whether another lies in its plane."""
        normal, off = cross(self.side_u, self.side_v), add(other.corner, self.corner, -1.0)
        square = 1e-18 * dot(normal, normal)
        if dot(normal, off) ** 2 > square * (1.0 + dot(off, off)):
            return False
        return all(dot(normal, side) ** 2 <= square * dot(side, side) for side in other.sides)


@dataclass(frozen=True, slots=True)
class Round:
    """A contour piece turned about the x axis of a place, whole or between two angles, radians."""

    contour: Contour
    place: Place
    turn: tuple[float, float] | None = None

    def normal(self, point: Vector) -> Vector:
        """Return a direction square to it at a point of it."""
        x, y, z = self.place.local(point)
        radius, c = math.hypot(y, z), self.contour
        along, out = (c.b0 - c.b1, c.a1 - c.a0) if isinstance(c, Straight) else (x - c.ca, radius - c.cb)
        aside = out / radius if radius else 0.0  # on its axis a pole looks along it
        return self.place.world_direction((along, aside * y, aside * z))

    def holds(self, point: Vector) -> bool:
        """Tell whether a point of the whole turn lies between the limits."""
        if self.turn is None:
            return True
        _, y, z = self.place.local(point)
        first, last = self.turn
        return (math.atan2(z, y) - first + 1e-9) % math.tau <= last - first + 2e-9


Face = Flat | Round
