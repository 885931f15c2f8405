"""Three-dimensional points and directions as plain tuples: fast, and nothing to construct."""

import math

Vector = tuple[float, float, float]


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
