"""The contour of a turned solid: its radius over the axis, in straight lines and circular arcs."""

import math
from dataclasses import dataclass

TINY = 1e-9


@dataclass(frozen=True, slots=True)
class Straight:
    """A contour piece from (x0, r0) to (x1, r1): a cylinder or a cone. x0 < x1."""

    x0: float
    r0: float
    x1: float
    r1: float

    def radius_at(self, x: float) -> float:
        """Return the radius at a place on the axis."""
        return self.r0 + (self.r1 - self.r0) * (x - self.x0) / (self.x1 - self.x0)

    def x_at(self, radius: float) -> float:
        """Return where a cone has a radius; only for r0 != r1."""
        return self.x0 + (self.x1 - self.x0) * (radius - self.r0) / (self.r1 - self.r0)

    def slope_at(self, x: float) -> float:
        """Return the direction of the contour, radians from the axis."""
        return math.atan2(self.r1 - self.r0, self.x1 - self.x0)

    def volume(self) -> float:
        """Return the volume of the frustum between contour and axis."""
        squares = self.r0 * self.r0 + self.r0 * self.r1 + self.r1 * self.r1
        return math.pi * (self.x1 - self.x0) * squares / 3.0


@dataclass(frozen=True, slots=True)
class Hollow:
    """A concave arc from (x0, r0) down or up to (x1, r1), its centre outside the solid: a fillet."""

    x0: float
    r0: float
    x1: float
    r1: float
    xc: float
    rc: float
    radius: float

    def radius_at(self, x: float) -> float:
        """Return the radius at a place on the axis."""
        across = self.radius**2 - (x - self.xc) ** 2
        return self.rc - math.sqrt(max(0.0, across))

    def x_at(self, radius: float) -> float:
        """Return where the arc has a radius."""
        along = math.sqrt(max(0.0, self.radius**2 - (self.rc - radius) ** 2))
        return self.xc - along if self.x0 < self.xc else self.xc + along

    def slope_at(self, x: float) -> float:
        """Return the direction of the contour, radians from the axis."""
        return math.atan2(x - self.xc, self.rc - self.radius_at(x))

    def volume(self) -> float:
        """Return the volume between arc and axis, by integrating r^2 in closed form."""
        return math.pi * (self._integral(self.x1 - self.xc) - self._integral(self.x0 - self.xc))

    def _integral(self, u: float) -> float:
        c, rho = self.rc, self.radius
        root = math.sqrt(max(0.0, rho * rho - u * u))
        return (c * c + rho * rho) * u - u**3 / 3.0 - c * (u * root + rho * rho * math.asin(u / rho))


Contour = Straight | Hollow


def joins_smoothly(before: Contour, after: Contour) -> bool:
    """Tell whether two consecutive pieces meet without an edge."""
    x = after.x0
    return abs(before.r1 - after.r0) < TINY and abs(before.slope_at(x) - after.slope_at(x)) < 1e-6
