"""What need not be asked: curves on the near side of a section's plane, and what a nearer twin hides.

Seen square to a plane in which a body is its own mirror image, a curve behind the plane has a twin before it on the
same line of sight: where that one is hidden the curve is too, and where that one shows it covers the curve.
"""

import math
from dataclasses import dataclass, replace

from builder.body.contour import TINY
from builder.body.curves import Curve, FaceCurve, Level, Meridian, RingArc, Segment
from builder.body.mirror import is_symmetric
from builder.body.solid import Body
from builder.body.vectors import dot
from builder.view.frame import Cut, Frame
from builder.view.offer import Kind, Offer

_STEP = 1e-5  # of a body's size: nearer to the plane a curve counts as in it


@dataclass(frozen=True, slots=True)
class Halves:
    """How a view looks at a body, and the depth of the plane behind which it need not look; None where there is none."""

    frame: Frame
    plane: float | None
    step: float

    def clipped(self, offer: Offer) -> Offer:
        """Return an offered circle seen edge-on as far as it needs to be asked."""
        ring = offer.curve
        if type(ring) is not RingArc or offer.kind is Kind.CONVENTION or self.frame.cut is Cut.HALF:
            return offer
        if ring.end - ring.start < math.tau - TINY or not _edge_on(ring, self.frame):
            return offer
        depth = dot(ring.place.origin, self.frame.toward)
        if self.frame.cut is Cut.FULL and abs(depth) < TINY:
            side = -1.0
        elif self.frame.cut is Cut.NONE and self.plane is not None and abs(depth - self.plane) < TINY:
            side = 1.0
        else:
            return offer
        _, y, z = ring.place.local_direction(self.frame.toward)
        front = math.atan2(side * z, side * y)
        return replace(offer, curve=replace(ring, start=front - math.pi / 2.0, end=front + math.pi / 2.0))

    def needless(self, kind: Kind, curve: Curve, first: float, last: float) -> bool:
        """Tell that a stretch of a curve is cut away, or has a twin before it."""
        cut = self.frame.cut
        if kind is Kind.CONVENTION or (cut is Cut.NONE and self.plane is None) or not _bounded(curve, self.frame):
            return False
        points = [curve.at(first + share * (last - first)) for share in (0.0, 0.5, 1.0)]
        depths = [dot(point, self.frame.toward) for point in points]
        if cut is Cut.NONE:
            return self._before(self.plane, depths)
        if cut is Cut.FULL:
            return self._beyond(0.0, depths)
        ups = [dot(point, self.frame.up) for point in points]
        if self._beyond(0.0, ups):
            return self._beyond(0.0, depths)
        return self._before(0.0, ups) and self._before(self.plane, depths)

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
    return Halves(frame, plane if mirrored else None, _STEP * body.size)


def _edge_on(ring: RingArc, frame: Frame) -> bool:
    return abs(dot(ring.place.x, frame.toward)) < TINY


def _bounded(curve: Curve, frame: Frame) -> bool:
    """Tell a curve that, between its breaks, lies no deeper and no nearer than its ends and its middle."""
    ring = curve.ring if isinstance(curve, Level) else curve
    if isinstance(ring, RingArc):
        return _edge_on(ring, frame) or abs(dot(ring.place.x, frame.toward)) > 1.0 - TINY
    return isinstance(curve, Segment | Meridian | FaceCurve)
