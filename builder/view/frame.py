"""How a view looks at a body: which way is right, up and toward the viewer, and whether the near half is cut away."""

import math
from dataclasses import dataclass

from builder.body.vectors import Vector, add, cross, dot, radial
from builder.words.shapes import Point


@dataclass(frozen=True, slots=True)
class Frame:
    """A direction of sight: three unit vectors. `cut` takes away what lies nearer to the viewer than the axis."""

    right: Vector
    up: Vector
    toward: Vector
    cut: bool = False

    def flat(self, point: Vector) -> Point:
        """Project a point onto the drawing."""
        return Point(dot(point, self.right), dot(point, self.up))

    def depth(self, point: Vector) -> float:
        """Return how far a point lies on the viewer's side of the axis."""
        return dot(point, self.toward)

    @property
    def at_end(self) -> bool:
        """Tell a view along the axis from one beside it."""
        return abs(self.toward[0]) > 0.5

    def around(self, angle: float) -> float:
        """Turn an angle on the drawing of an end view into one about the axis, Y toward Z, in radians."""
        return math.atan2(self.right[2], self.right[1]) + self.toward[0] * angle

    def space(self, point: Point, depth: float = 0.0) -> Vector:
        """Return the point in space behind a point of the drawing."""
        across = add((0.0, 0.0, 0.0), self.right, point.x)
        return add(add(across, self.up, point.y), self.toward, depth)


def beside(roll: float = 0.0, cut: bool = False) -> Frame:
    """Look at the axis from the side, +X to the right, with the direction at `roll` up, radians from Y toward Z."""
    up, toward = radial(roll), radial(roll + math.pi / 2.0)
    return Frame(cross(up, toward), up, toward, cut)


def along(sign: float, roll: float = 0.0) -> Frame:
    """Look along the axis, from its +X end for sign +1 or its -X end for -1, with the same side up as `beside`."""
    up, toward = radial(roll), (sign, 0.0, 0.0)
    return Frame(cross(up, toward), up, toward)
