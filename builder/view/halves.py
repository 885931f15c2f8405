"""What need not be asked: curves on the near side of a section's plane, and what a nearer twin hides.

Seen square to a plane in which a body is its own mirror image, a curve behind the plane has a twin before it on the
same line of sight: where that one is hidden the curve is too, and where that one shows it covers the curve.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from builder.body.contour import TINY
from builder.body.curves import FaceCurve, Level, Meridian, RingArc, Segment
from builder.body.mirror import is_symmetric
from builder.body.solid import Body
from builder.body.surroundings import STEP
from builder.body.vectors import Vector, dot
from builder.view.frame import Cut, Frame
from builder.view.offer import Kind, Offer


@dataclass(frozen=True, slots=True)
class Halves:
    """How a view looks at a body, and the depth of the plane behind which it need not look, if there is one."""

    frame: Frame
    plane: float | None
    step: float

    @property
    def idle(self) -> bool:
        """Tell that nothing can be left out."""
        return self.plane is None and self.frame.cut is Cut.NONE

    def needed(self, offer: Offer) -> Offer | None:
        """Return an offer as far as it need be asked, None where it need not; of partial circles `lay` knows more."""
        curve = offer.curve
        if self.idle or offer.kind is Kind.CONVENTION:
            return offer
        if isinstance(curve, Segment):
            return None if self._needless((curve.start, curve.end)) else offer
        if isinstance(curve, Meridian | FaceCurve):
            return None if self._needless((curve.at(0.0), curve.at(1.0))) else offer
        if type(curve) is RingArc and self.frame.cut is not Cut.HALF:
            half = self._half(curve)
            return offer if half is None else Offer(half, offer.feature, offer.surface, offer.role, offer.kind)
        return offer

    def needs(self, offer: Offer, first: float, last: float) -> bool:
        """Tell whether a circle need be asked between two of its breaks."""
        curve = offer.curve
        ring = curve.ring if isinstance(curve, Level) else curve
        if self.idle or offer.kind is Kind.CONVENTION or not isinstance(ring, RingArc):
            return True
        along = abs(dot(ring.place.x, self.frame.toward))
        return TINY < along < 1.0 - TINY or not self._needless(
            [ring.at(t) for t in (first, (first + last) / 2.0, last)]
        )

    def _half(self, ring: RingArc) -> RingArc | None:
        """Return the half of a whole circle seen edge-on that need be asked; None of any other."""
        place, toward = ring.place, self.frame.toward
        if ring.end - ring.start < math.tau - TINY or abs(dot(place.x, toward)) > TINY:
            return None
        depth, full = dot(place.origin, toward), self.frame.cut is Cut.FULL
        plane = 0.0 if full else self.plane
        if plane is None or abs(depth - plane) > TINY:
            return None
        _, y, z = place.local_direction(toward)
        front = math.atan2(-z, -y) if full else math.atan2(z, y)
        return RingArc(ring.x, ring.radius, front - math.pi / 2.0, front + math.pi / 2.0, place, ring.slopes)

    def _needless(self, points: Sequence[Vector]) -> bool:
        """Tell that what runs between points is cut away, or has a twin before it."""
        frame = self.frame
        depths = [dot(point, frame.toward) for point in points]
        if frame.cut is Cut.NONE:
            return self._before(self.plane, depths)
        if frame.cut is Cut.FULL:
            return self._beyond(0.0, depths)
        ups = [dot(point, frame.up) for point in points]
        return (self._beyond(0.0, ups) and self._beyond(0.0, depths)) or (
            self._before(0.0, ups) and self._before(self.plane, depths)
        )

    def _beyond(self, plane: float, places: list[float]) -> bool:
        return min(places) > plane - TINY and max(places) > plane + self.step

    def _before(self, plane: float | None, places: list[float]) -> bool:
        return plane is not None and max(places) < plane + TINY and min(places) < plane - self.step


def halves_of(body: Body, frame: Frame, alone: bool) -> Halves:
    """Return what a view may leave out of a body; `alone` where no other body's thread covers parts of it."""
    low, high = body.box
    middle = tuple((a + b) / 2.0 for a, b in zip(low, high, strict=True))
    plane = dot((middle[0], middle[1], middle[2]), frame.toward)
    if abs(plane) < TINY:
        plane = 0.0
    mirrored = alone and frame.cut is not Cut.FULL and is_symmetric(body.pieces, frame.toward, plane, 1e-9 * body.size)
    return Halves(frame, plane if mirrored else None, STEP * body.size)
