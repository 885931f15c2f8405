"""Where along the axis a body changes: what tells whether one body is another with uniform stretches made longer.

A shank of another length is the usual case: the head, the point and the run of the thread's end stay as they are and
only ride along. `stations_of` takes a body apart into its form, which holds no place along the axis, and its places.
"""

from collections.abc import Hashable, Sequence
from dataclasses import dataclass, fields

from builder.body.common import Common
from builder.body.contour import Contour, Straight
from builder.body.curves import RingArc
from builder.body.extruded import Extruded
from builder.body.solid import AxisMark, Body, FlatMark, PitchMark, Solid, ThreadMark
from builder.body.turned import Turned
from builder.body.vectors import AXIS, Place, Vector

_DIGITS = 9  # offsets of rigid things count to so many, so that rounding at another place does not


@dataclass(frozen=True, slots=True)
class Stations:
    """Bodies of one form are alike but for `places`, in the order of the form; `rigid` are indices of places
    between which nothing may be made longer."""

    form: Hashable
    places: tuple[float, ...]
    rigid: tuple[tuple[int, int], ...]


class NotAlong(Exception):
    """A body has something that cannot be told along the axis."""


def stations_of(bodies: Sequence[Body], rigid_threads: bool) -> Stations | None:
    """Return the stations of bodies, None where one has something of which it is not known what a stretch does.

    `rigid_threads` says that a thread is drawn with more than lines along it, so that it must keep its length.
    """
    notes = _Notes(rigid_threads)
    try:
        form = tuple(_body(body, notes) for body in bodies)
    except NotAlong:
        return None
    return Stations(form, tuple(notes.places), tuple(notes.rigid))


class _Notes:
    def __init__(self, rigid_threads: bool) -> None:
        self.rigid_threads = rigid_threads
        self.places: list[float] = []
        self.rigid: list[tuple[int, int]] = []

    def place(self, x: float) -> None:
        self.places.append(x)

    def span(self, a: float, b: float) -> None:
        """Note two places that keep their distance, with nothing uniform between them."""
        first = len(self.places)
        self.places += (a, b)
        self.rigid.append((first, first + 1))


def _body(body: Body, notes: _Notes) -> Hashable:
    return (
        tuple((p.feature, p.fit, p.surface, p.centred, _solid(p.solid, notes)) for p in body.pieces),
        tuple(_thread(mark, notes) for mark in body.threads),
        tuple(_flat(mark, notes) for mark in body.flats),
        tuple(_axis(mark, notes) for mark in body.axes),
        body.name,
        body.whole,
    )


def _solid(solid: Solid, notes: _Notes) -> Hashable:
    match solid:
        case Common():
            return "common", tuple(_solid(part, notes) for part in solid.parts)
        case Turned() if _lengthwise(solid.place):
            contour = tuple(_along(piece, solid.place, notes) for piece in solid.loop)
            return "turned", contour, solid.turn, _turned_place(solid.place)
        case Extruded() if _lengthwise(solid.place):
            for x in (solid.start, solid.end):
                notes.place(_on_axis(x, solid.place))
            return "extruded", solid.loop, _turned_place(solid.place)
        case Turned() | Extruded():
            return _crosswise(solid, notes)
        case _:
            raise NotAlong


def _lengthwise(place: Place) -> bool:
    return place is AXIS or (place.x[1] == 0.0 == place.x[2])


def _turned_place(place: Place) -> Hashable:
    return place.origin[1:], place.x, place.y


def _on_axis(x: float, place: Place) -> float:
    return place.origin[0] + place.x[0] * x


def _along(piece: Contour, place: Place, notes: _Notes) -> Hashable:
    """Note where a contour's piece runs; only a level one may be made longer."""
    a0, a1 = _on_axis(piece.a0, place), _on_axis(piece.a1, place)
    if isinstance(piece, Straight) and (piece.b0 == piece.b1 or piece.a0 == piece.a1):
        notes.place(a0)
        notes.place(a1)
        return piece.b0, piece.b1, piece.a0 == piece.a1
    notes.span(a0, a1)
    if isinstance(piece, Straight):
        return piece.b0, piece.b1
    return piece.b0, piece.b1, round(piece.ca - piece.a0, _DIGITS), piece.cb, piece.radius


def _crosswise(solid: Turned | Extruded, notes: _Notes) -> Hashable:
    """Take a leaf across the axis as rigid: it rides along as a whole."""
    low, high = solid.box()
    notes.span(low[0], high[0])
    place = solid.place
    within = round(place.origin[0] - low[0], _DIGITS), place.origin[1:], place.x, place.y
    rest = (solid.turn,) if isinstance(solid, Turned) else (solid.start, solid.end)
    return type(solid).__name__, within, solid.loop, rest


def _thread(mark: ThreadMark, notes: _Notes) -> Hashable:
    if notes.rigid_threads:
        notes.span(mark.start, mark.end)
    notes.span(mark.start, mark.lead_in)
    notes.span(mark.chamfer_x, mark.end)
    for x in mark.limits:
        notes.span(x, x + mark.run_out)
    moving = {"start", "end", "lead_in", "chamfer_x", "limits"}
    return len(mark.limits), tuple(getattr(mark, f.name) for f in fields(mark) if f.name not in moving)


def _flat(mark: FlatMark, notes: _Notes) -> Hashable:
    ends = [end for line in mark.diagonals for end in (line.start, line.end)]
    return mark.feature, mark.normal, _rigid(ends, notes)


def _rigid(points: Sequence[Vector], notes: _Notes) -> Hashable:
    low = min(p[0] for p in points)
    notes.span(low, max(p[0] for p in points))
    return tuple((round(x - low, _DIGITS), y, z) for x, y, z in points)


def _axis(mark: AxisMark | PitchMark, notes: _Notes) -> Hashable:
    if isinstance(mark, AxisMark):
        if mark.start[1:] == mark.end[1:]:
            notes.place(mark.start[0])
            notes.place(mark.end[0])
            return mark.start[1:], mark.radius, mark.start[0] < mark.end[0]
        return mark.radius, _rigid((mark.start, mark.end), notes)
    curve = mark.curve
    if not (isinstance(curve, RingArc) and curve.place is AXIS):
        raise NotAlong
    notes.place(curve.x)
    return curve.radius, curve.start, curve.end
