"""How a view looks at a body: which way is right, up and toward the viewer, and what is cut away."""

import math
from dataclasses import dataclass
from enum import Enum
from functools import cached_property

import numpy as np

from builder.body.vectors import Array, Truth, Vector, add, cross, dot, radial
from builder.words.shapes import Point


class Cut(Enum):
    """What a view takes away of a body that is cut: nothing, the near half, or the upper near quarter."""

    NONE = "none"
    FULL = "full"
    HALF = "half"


@dataclass(frozen=True)
class Frame:
    """A direction of sight: three unit vectors, right-handed."""

    right: Vector
    up: Vector
    toward: Vector
    cut: Cut = Cut.NONE

    def flat(self, point: Vector) -> Point:
        """Project a point onto the drawing."""
        return Point(dot(point, self.right), dot(point, self.up))

    @property
    def at_end(self) -> bool:
        """Tell a view along the axis from one beside it."""
        return abs(self.toward[0]) > 0.5

    @property
    def cuts(self) -> bool:
        """Tell a section of any kind."""
        return self.cut is not Cut.NONE

    @cached_property
    def _axes(self) -> Array:
        return np.array((self.right, self.up, self.toward))

    def removed(self, points: Array, margin: float = 0.0) -> Truth:
        """Tell which points are cut away, and further than a margin from the cut plane."""
        if self.cut is Cut.NONE:
            return np.zeros(len(points), dtype=bool)
        gone = points @ self._axes[2] > margin
        if self.cut is Cut.HALF:
            gone &= points @ self._axes[1] > margin
        return np.asarray(gone)

    def whole(self) -> "Frame":
        """Return the same direction of sight at an uncut body."""
        return Frame(self.right, self.up, self.toward)

    def around(self, angle: float) -> float:
        """Turn an angle on the drawing of an end view into one about the axis, Y toward Z, in radians."""
        return math.atan2(self.right[2], self.right[1]) + self.toward[0] * angle

    def space(self, point: Point, depth: float = 0.0) -> Vector:
        """Return the point in space behind a point of the drawing."""
        across = add((0.0, 0.0, 0.0), self.right, point.x)
        return add(add(across, self.up, point.y), self.toward, depth)

    def spaces(self, points: Array, depth: float) -> Array:
        """Return the points in space behind points of the drawing, shapes (n, 2) and (n, 3)."""
        flat = np.concatenate((points, np.full((len(points), 1), depth)), axis=1)
        return np.asarray(flat @ self._axes)


def beside(roll: float = 0.0, cut: Cut = Cut.NONE) -> Frame:
    """Look at the axis from the side, +X to the right, with the direction at `roll` up, radians from Y toward Z."""
    up, toward = radial(roll), radial(roll + math.pi / 2.0)
    return Frame(cross(up, toward), up, toward, cut)


def along(sign: float, roll: float = 0.0) -> Frame:
    """Look along the axis, from its +X end for sign +1 or its -X end for -1, with the same side up as `beside`."""
    up, toward = radial(roll), (sign, 0.0, 0.0)
    return Frame(cross(up, toward), up, toward)
