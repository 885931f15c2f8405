"""The kernel's simple solids at any placement: outlines turned or extruded, cylinder, cone, sphere, torus, box."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge, BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakeWire
from OCP.BRepPrimAPI import (
    BRepPrimAPI_MakeBox,
    BRepPrimAPI_MakePrism,
    BRepPrimAPI_MakeRevol,
    BRepPrimAPI_MakeSphere,
    BRepPrimAPI_MakeTorus,
)
from OCP.GC import GC_MakeArcOfCircle
from OCP.gp import gp_Ax1, gp_Ax2, gp_Dir, gp_Pnt, gp_Vec
from OCP.TopoDS import TopoDS_Edge, TopoDS_Face, TopoDS_Shape

# Where a full turn starts and ends, radians: at no angle that an edge or a silhouette is likely to have, since the
# kernel takes a silhouette that runs along the seam for an edge.
_SEAM = 0.1234
Spot = tuple[float, float]
Vector = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Knot:
    """A point of an outline as definitions state it: a corner, rounded by a radius, or the end of an arc.

    An arc runs here from the knot before; it turns left for a radius > 0, right for one < 0, at most half a circle.
    """

    x: float
    y: float
    radius: float = 0.0
    arc: bool = False


Profile = Sequence[Knot | Spot]


@dataclass(frozen=True, slots=True)
class Place:
    """Where a shape stands: its origin, its own axis and the direction across that is its own `up`."""

    origin: Vector = (0.0, 0.0, 0.0)
    axis: Vector = (1.0, 0.0, 0.0)
    up: Vector = (0.0, 1.0, 0.0)

    @property
    def frame(self) -> gp_Ax2:
        """The kernel's coordinates: its Z is the axis, its X is up."""
        return gp_Ax2(gp_Pnt(*self.origin), gp_Dir(*self.axis), gp_Dir(*self.up))

    def at(self, along: float, up: float = 0.0, aside: float = 0.0) -> gp_Pnt:
        """Return a point by its place along the axis, up, and aside (axis cross up)."""
        frame = self.frame
        offsets = ((frame.Direction(), along), (frame.XDirection(), up), (frame.YDirection(), aside))
        point = gp_Pnt(*self.origin)
        for direction, by in offsets:
            point.Translate(gp_Vec(direction).Multiplied(by))
        return point

    def moved(self, along: float) -> "Place":
        """Return the place moved along its own axis."""
        point = self.at(along)
        return Place((point.X(), point.Y(), point.Z()), self.axis, self.up)


AXIS = Place()


@dataclass(frozen=True, slots=True)
class _Piece:
    start: Spot
    end: Spot
    middle: Spot | None = None  # of an arc


def revolve(profile: Profile, place: Place = AXIS, turn: float = 360.0) -> TopoDS_Shape:
    """Turn an outline in the half plane (along the axis, radius) about the axis, from `up`, through degrees."""
    first = place.frame
    axis = gp_Ax1(first.Location(), first.Direction())
    if turn == 360.0:
        first.Rotate(axis, _SEAM)
    across = gp_Vec(first.XDirection())
    along = gp_Vec(first.Direction())

    def at(spot: Spot) -> gp_Pnt:
        return first.Location().Translated(along.Multiplied(spot[0])).Translated(across.Multiplied(spot[1]))

    face = _face(profile, at)
    return BRepPrimAPI_MakeRevol(face, axis, math.radians(turn)).Shape()


def extrude(profile: Profile, start: float, end: float, place: Place = AXIS) -> TopoDS_Shape:
    """Extrude an outline in the plane (up, aside) along the axis."""
    face = _face(profile, lambda spot: place.at(start, spot[0], spot[1]))
    return BRepPrimAPI_MakePrism(face, gp_Vec(place.at(start), place.at(end))).Shape()


def cylinder(start: float, end: float, radius: float, place: Place = AXIS) -> TopoDS_Shape:
    """Return a cylinder between two places on the axis."""
    return cone(start, radius, end, radius, place)


def cone(start: float, first: float, end: float, last: float, place: Place = AXIS) -> TopoDS_Shape:
    """Return a cone between two places on the axis with the radii there; a radius of 0 is its tip."""
    spots = [(start, 0.0), (start, first), (end, last), (end, 0.0)]
    return revolve([a for a, b in pairwise([*spots, spots[0]]) if math.dist(a, b) > 0.0], place)


def sphere(radius: float, centre: Vector) -> TopoDS_Shape:
    """Return a sphere."""
    return BRepPrimAPI_MakeSphere(Place(centre).frame, radius).Shape()


def torus(along: float, ring: float, radius: float, place: Place = AXIS) -> TopoDS_Shape:
    """Return a torus about the axis: the radius of its ring and that of its round section."""
    return BRepPrimAPI_MakeTorus(place.moved(along).frame, ring, radius).Shape()


def box(start: float, end: float, height: float, width: float, place: Place = AXIS) -> TopoDS_Shape:
    """Return a box between two places on the axis, centred on it, so high (up) and so wide (aside)."""
    corner = gp_Ax2(place.at(start, -height / 2.0, -width / 2.0), gp_Dir(*place.axis), gp_Dir(*place.up))
    return BRepPrimAPI_MakeBox(corner, height, width, end - start).Shape()


def regular(sides: int, across_flats: float, turn: float = 0.0) -> list[Spot]:
    """Return a regular polygon with a face toward up, turned by degrees."""
    corner, step = across_flats / 2.0 / math.cos(math.pi / sides), math.tau / sides
    angles = [math.radians(turn) + step * (n + 0.5) for n in range(sides)]
    return [(corner * math.cos(a), corner * math.sin(a)) for a in angles]


def _face(profile: Profile, at) -> TopoDS_Face:
    wire = BRepBuilderAPI_MakeWire()
    for piece in _pieces([knot if isinstance(knot, Knot) else Knot(*knot) for knot in profile]):
        wire.Add(_edge(piece, at))
    return BRepBuilderAPI_MakeFace(wire.Wire(), True).Face()


def _edge(piece: _Piece, at) -> TopoDS_Edge:
    if piece.middle is None:
        return BRepBuilderAPI_MakeEdge(at(piece.start), at(piece.end)).Edge()
    return BRepBuilderAPI_MakeEdge(GC_MakeArcOfCircle(at(piece.start), at(piece.middle), at(piece.end)).Value()).Edge()


def _pieces(knots: Sequence[Knot]) -> Iterator[_Piece]:
    """Return the lines and arcs of an outline, its rounded corners made tangent arcs."""
    corners = [_corner(*knots_of) for knots_of in zip([knots[-1], *knots], knots, [*knots[1:], knots[0]], strict=False)]
    for (_, _, leave), (arrive, middle, after), knot in zip([corners[-1], *corners], corners, knots, strict=False):
        if knot.arc:
            yield _Piece(leave, arrive, _arc_middle(leave, arrive, knot.radius))
        elif math.dist(leave, arrive) > 1e-12:
            yield _Piece(leave, arrive)
        if middle is not None:
            yield _Piece(arrive, after, middle)


def _corner(before: Knot, knot: Knot, after: Knot) -> tuple[Spot, Spot | None, Spot]:
    """Return where the outline arrives at a knot, the middle of its rounding if any, and where it leaves."""
    spot = (knot.x, knot.y)
    if knot.arc or knot.radius == 0.0:
        return spot, None, spot
    (ax, ay), (bx, by) = _toward(knot, before), _toward(knot, after)
    half = math.acos(ax * bx + ay * by) / 2.0
    reach, inward = knot.radius / math.tan(half), knot.radius / math.sin(half) - knot.radius
    mx, my = ax + bx, ay + by
    size = math.hypot(mx, my)
    middle = (knot.x + inward * mx / size, knot.y + inward * my / size)
    return (knot.x + reach * ax, knot.y + reach * ay), middle, (knot.x + reach * bx, knot.y + reach * by)


def _toward(knot: Knot, other: Knot) -> Spot:
    apart = math.dist((knot.x, knot.y), (other.x, other.y))
    return (other.x - knot.x) / apart, (other.y - knot.y) / apart


def _arc_middle(start: Spot, end: Spot, radius: float) -> Spot:
    """Return the middle of the smaller arc; turning left it bulges to the right of its chord."""
    chord = math.dist(start, end)
    rise = abs(radius) - math.sqrt(max(0.0, radius * radius - chord * chord / 4.0))
    dx, dy = (end[0] - start[0]) / chord, (end[1] - start[1]) / chord
    side = math.copysign(rise, radius)
    return (start[0] + end[0]) / 2.0 + side * dy, (start[1] + end[1]) / 2.0 - side * dx
