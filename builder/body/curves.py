"""Curves in space that solids offer to a view: each runs one way, over at most half a turn.

A view needs only a point and the derivative at a parameter from 0 to 1.
"""

import math
from dataclasses import dataclass
from typing import Protocol

from builder.body.profile import Contour
from builder.body.vectors import Vector, add, radial


class Curve(Protocol):
    """A curve in space, parameter 0 to 1."""

    def at(self, t: float) -> Vector:
        """Return the point at a parameter."""

    def along(self, t: float) -> Vector:
        """Return the direction of travel at a parameter, of any length but 0."""


@dataclass(frozen=True, slots=True)
class Segment:
    """A straight piece."""

    start: Vector
    end: Vector

    def at(self, t: float) -> Vector:
        """Return the point at a parameter."""
        return add(self.start, self.along(t), t)

    def along(self, t: float) -> Vector:
        """Return the direction of travel."""
        return add(self.end, self.start, -1.0)


@dataclass(frozen=True, slots=True)
class RingArc:
    """An arc round the X axis at a place x, between two angles in radians from Y toward Z."""

    x: float
    radius: float
    start: float
    end: float

    def at(self, t: float) -> Vector:
        """Return the point at a parameter."""
        angle = self.start + (self.end - self.start) * t
        return (self.x, self.radius * math.cos(angle), self.radius * math.sin(angle))

    def along(self, t: float) -> Vector:
        """Return the direction of travel."""
        angle = self.start + (self.end - self.start) * t
        return (0.0, -math.sin(angle), math.cos(angle))


@dataclass(frozen=True, slots=True)
class Meridian:
    """A contour piece in the half plane through the axis at an angle: a turned solid's silhouette."""

    contour: Contour
    angle: float
    x0: float
    x1: float

    def at(self, t: float) -> Vector:
        """Return the point at a parameter."""
        x = self.x0 + (self.x1 - self.x0) * t
        return add((x, 0.0, 0.0), radial(self.angle), self.contour.radius_at(x))

    def along(self, t: float) -> Vector:
        """Return the direction of travel."""
        slope = self.contour.slope_at(self.x0 + (self.x1 - self.x0) * t)
        return add((math.cos(slope), 0.0, 0.0), radial(self.angle), math.sin(slope))

    def normal(self, t: float) -> Vector:
        """Return the direction out of the turned solid."""
        slope = self.contour.slope_at(self.x0 + (self.x1 - self.x0) * t)
        return add((-math.sin(slope), 0.0, 0.0), radial(self.angle), math.cos(slope))


@dataclass(frozen=True, slots=True)
class FaceCurve:
    """Where a flat face parallel to the axis cuts a turned contour; on a cone it is a hyperbola.

    The face stands at `distance` from the axis, its normal at `angle`; `w0` to `w1` runs along it, across the axis.
    """

    contour: Contour
    angle: float
    distance: float
    w0: float
    w1: float

    def at(self, t: float) -> Vector:
        """Return the point at a parameter."""
        w = self.w0 + (self.w1 - self.w0) * t
        x = self.contour.x_at(math.hypot(self.distance, w))
        return add(add((x, 0.0, 0.0), radial(self.angle), self.distance), radial(self.angle + math.pi / 2), w)

    def along(self, t: float) -> Vector:
        """Return the direction of travel, by a central difference."""
        return add(self.at(t + 1e-4), self.at(t - 1e-4), -1.0)
