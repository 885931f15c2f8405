"""Axes and pitch circles: chain lines that stand out over what they belong to."""

import math
from collections.abc import Iterator

from builder.body.curves import RingArc
from builder.body.solid import AxisMark, PitchMark
from builder.body.vectors import dot
from builder.view.flat import lay
from builder.view.frame import Frame
from builder.view.projection import FIT
from builder.view.scene import Scene
from builder.words.roles import Role
from builder.words.shapes import Arc, Bounds, Circle, Line, Point, Shape


def axes_of(scene: Scene, extent: Bounds, overhang: float) -> Iterator[Shape]:
    """Return the part's own axis, or its centre mark at an end, and the axes of what stands off it."""
    frame = scene.frame
    if any(piece.centred and not piece.void for body in scene.bodies for piece in body.pieces):
        yield from _main(frame, extent, overhang)
    for body in scene.bodies:
        for mark in body.axes:
            if isinstance(mark, AxisMark):
                yield from _axis(mark, frame, overhang)
            else:
                yield from _pitch(mark, frame, FIT * scene.size)


def _main(frame: Frame, extent: Bounds, overhang: float) -> Iterator[Line]:
    yield Line(Point(extent.left - overhang, 0.0), Point(extent.right + overhang, 0.0), Role.AXIS)
    if frame.at_end:
        yield Line(Point(0.0, extent.bottom - overhang), Point(0.0, extent.top + overhang), Role.AXIS)


def _axis(mark: AxisMark, frame: Frame, overhang: float) -> Iterator[Line]:
    start, end = frame.flat(mark.start), frame.flat(mark.end)
    if math.dist(start, end) > 1e-6 * math.dist(mark.start, mark.end):
        length = math.dist(start, end)
        dx, dy = ((end.x - start.x) * overhang / length, (end.y - start.y) * overhang / length)
        yield Line(start.plus(-dx, -dy), end.plus(dx, dy), Role.AXIS)
        return
    reach = mark.radius + overhang
    out = _outward(start)
    for dx, dy in (out, (-out[1], out[0])):
        yield Line(start.plus(-reach * dx, -reach * dy), start.plus(reach * dx, reach * dy), Role.AXIS)


def _outward(at: Point) -> tuple[float, float]:
    """Return the direction of a centre mark: toward the part's axis, so that a row of holes points to its centre."""
    length = math.hypot(at.x, at.y)
    return (at.x / length, at.y / length) if length > 1e-9 else (1.0, 0.0)


def _pitch(mark: PitchMark, frame: Frame, tolerance: float) -> Iterator[Line | Arc | Circle]:
    curve = mark.curve
    if isinstance(curve, RingArc) and curve.end - curve.start > math.tau - 1e-9:
        facing = abs(dot(curve.place.x, frame.toward))
        if facing > 1.0 - 1e-9:
            yield Circle(frame.flat(curve.place.world((curve.x, 0.0, 0.0))), curve.radius, Role.AXIS)
        return  # beside a pitch circle the axes of what stands on it say it all
    for flat in lay(curve, frame, tolerance):
        if isinstance(flat.shape, Line):
            yield Line(flat.shape.start, flat.shape.end, Role.AXIS)
        else:
            arc = flat.shape
            yield Arc(arc.centre, arc.radius, arc.start, arc.end, Role.AXIS)
