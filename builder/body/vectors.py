"""Points and directions in space: plain tuples one at a time, arrays of shape (n, 3) many at a time; and placements."""

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

Vector = tuple[float, float, float]
Box = tuple[Vector, Vector]  # the least and the greatest corner
Array = NDArray[np.float64]
Truth = NDArray[np.bool_]


def add(a: Vector, b: Vector, by: float = 1.0) -> Vector:
    """Return a + by*b."""
    return (a[0] + by * b[0], a[1] + by * b[1], a[2] + by * b[2])


def dot(a: Vector, b: Vector) -> float:
    """Return the scalar product."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def cross(a: Vector, b: Vector) -> Vector:
    """Return the vector product."""
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def unit(a: Vector) -> Vector:
    """Return the direction of a, of length 1."""
    length = math.sqrt(dot(a, a))
    return (a[0] / length, a[1] / length, a[2] / length)


def radial(angle: float) -> Vector:
    """Return the direction across the X axis at an angle from Y toward Z, in radians."""
    return (0.0, math.cos(angle), math.sin(angle))


@dataclass(frozen=True)
class Place:
    """Where a leaf stands: its own origin and its own right-handed axes in space. A turned leaf turns about `x`."""

    origin: Vector = (0.0, 0.0, 0.0)
    x: Vector = (1.0, 0.0, 0.0)
    y: Vector = (0.0, 1.0, 0.0)

    @cached_property
    def z(self) -> Vector:
        """Return the third axis."""
        return cross(self.x, self.y)

    @cached_property
    def _rows(self) -> Array:
        return np.array((self.x, self.y, self.z))

    def world(self, p: Vector) -> Vector:
        """Return a point of the leaf's own as one in space."""
        return add(self.origin, self.world_direction(p))

    def world_direction(self, d: Vector) -> Vector:
        """Return a direction of the leaf's own as one in space."""
        if self is AXIS:
            return d
        (a, b, c), x, y, z = d, self.x, self.y, self.z
        return (
            a * x[0] + b * y[0] + c * z[0],
            a * x[1] + b * y[1] + c * z[1],
            a * x[2] + b * y[2] + c * z[2],
        )

    def local(self, p: Vector) -> Vector:
        """Return a point in space as one of the leaf's own."""
        return self.local_direction(add(p, self.origin, -1.0))

    def local_direction(self, d: Vector) -> Vector:
        """Return a direction in space as one of the leaf's own."""
        return d if self is AXIS else (dot(d, self.x), dot(d, self.y), dot(d, self.z))

    def local_points(self, points: Array) -> Array:
        """Return points in space as points of the leaf's own."""
        if self is AXIS:
            return points
        return np.asarray((points - np.array(self.origin)) @ self._rows.T)


AXIS = Place()  # the part's own axis


def across(angle: float, at: Vector = (0.0, 0.0, 0.0)) -> Place:
    """Return a place whose x axis points away from X at an angle from Y toward Z, in radians; its y lies along X."""
    return Place(at, radial(angle), (1.0, 0.0, 0.0))
