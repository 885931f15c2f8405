"""Circles seen aslant: their images are ellipses, drawn as such once it is known which stretches show."""

import math

from builder.body.curves import Curve, RingArc
from builder.body.vectors import cross, dot
from builder.view.frame import Frame
from builder.words.roles import Role
from builder.words.shapes import Ellipse, Point


def is_aslant(curve: Curve, frame: Frame) -> bool:
    """Tell a circle that is seen neither square nor edge-on."""
    return isinstance(curve, RingArc) and 1e-6 < abs(dot(curve.place.x, frame.toward)) < 1.0 - 1e-9


def ellipse_of(ring: RingArc, frame: Frame, t0: float, t1: float, role: Role) -> Ellipse:
    """Return the image of a circle aslant between two of its parameters."""
    centre = frame.flat(ring.place.world((ring.x, 0.0, 0.0)))
    x, y = frame.flat(cross(ring.place.x, frame.toward))
    if x < -1e-12 or (abs(x) <= 1e-12 and y < 0.0):
        x, y = -x, -y  # one ellipse has one major half axis, whichever way its plane looks
    size = math.hypot(x, y)
    major = Point(ring.radius * x / size, ring.radius * y / size)
    ratio = abs(dot(ring.place.x, frame.toward))
    if t1 - t0 > 1.0 - 1e-9 and ring.end - ring.start > math.tau - 1e-9:
        return Ellipse(centre, major, ratio, 0.0, 360.0, role)

    def angle(t: float) -> float:
        point = frame.flat(ring.at(t))
        dx, dy = point.x - centre.x, point.y - centre.y
        return math.degrees(math.atan2((dy * major.x - dx * major.y) / ratio, dx * major.x + dy * major.y))

    sweep = math.degrees((ring.end - ring.start) * (t1 - t0))
    step = (angle(t0 + 1e-3 * (t1 - t0)) - angle(t0) + 180.0) % 360.0 - 180.0
    start = (angle(t0) if step > 0.0 else angle(t1)) % 360.0
    return Ellipse(centre, major, ratio, start, start + sweep, role)
