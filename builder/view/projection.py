"""Projects a body: which curves are real edges, which stretches of them are seen, which are hidden.

Every solid offers its edges and silhouettes; their images are cut where they cross; a piece is kept where the body
around it has an edge, and hidden where material lies between it and the viewer.
"""

import math
import operator
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from builder.body.curves import Curve, Meridian, RingArc
from builder.body.solid import Body, Piece, Surface
from builder.body.vectors import Vector, add, cross, unit
from builder.view.flat import Flat, cut_places, image
from builder.view.frame import Frame
from builder.words.roles import Role
from builder.words.shapes import Arc, Line

# Around a point of an edge the body is asked in 24 directions, 15 degrees apart and none along a likely face,
# in three rounds of eight: most edges show in the first.
_ROUNDS = tuple(
    tuple((math.cos(a), math.sin(a)) for a in (math.radians(4.1 + 15.0 * first + 45.0 * n) for n in range(8)))
    for first in range(3)
)


@dataclass(frozen=True, slots=True)
class Offer:
    """A curve offered to a view: by which feature, from what surface; conventional lines bring their own role."""

    curve: Curve
    feature: str
    surface: Surface = Surface.PLAIN
    role: Role = Role.OUTLINE
    conventional: bool = False

    @property
    def is_silhouette(self) -> bool:
        """Tell a silhouette from an edge."""
        return isinstance(self.curve, Meridian) and not self.conventional

    @property
    def is_rim(self) -> bool:
        """Tell a circle about the axis."""
        return isinstance(self.curve, RingArc) and not self.conventional


def offers_of(body: Body, frame: Frame) -> Iterator[Offer]:
    """Return what the body's own pieces offer to a view."""
    for piece in body.pieces:
        for curve in piece.solid.edges(frame.toward):
            yield _offer(curve, piece)
        for curve in piece.solid.silhouettes(frame.toward):
            yield _offer(curve, piece)


def _offer(curve: Curve, piece: Piece) -> Offer:
    return Offer(curve, piece.feature, piece.surface)


def project(
    body: Body, frame: Frame, offers: Iterable[Offer], shows_hidden: Callable[[str], bool]
) -> tuple[Line | Arc, ...]:
    """Return the visible and, where the feature shows them, the hidden stretches of the offered curves.

    Sizes are in the body's unit. The images are uncut lines and arcs; overlaps are for `merge` to join.
    """
    laid = [(offer, flat) for offer in offers if (flat := _lay(offer, frame)) is not None]
    places = cut_places([flat for _, flat in laid])
    sight = _Sight(body, frame)
    found: list[Line | Arc] = []
    for (offer, flat), cuts in zip(laid, places, strict=True):
        wants_hidden = not frame.cut and shows_hidden(offer.feature)
        for t0, t1, role in _stretches(cuts, [sight.role(offer, t, wants_hidden) for t in _middles(cuts)]):
            found.append(_in_role(flat.part(t0, t1), role))
    return tuple(found)


def _middles(places: list[float]) -> Iterator[float]:
    return ((a + b) / 2.0 for a, b in pairwise(places))


def _stretches(cuts: list[float], roles: list[Role | None]) -> Iterator[tuple[float, float, Role]]:
    """Return the drawn stretches; neighbours of one role are one: a curve is cut only where it must be."""
    first = 0
    for n, role in enumerate(roles):
        if n + 1 == len(roles) or roles[n + 1] is not role:
            if role is not None:
                yield cuts[first], cuts[n + 1], role
            first = n + 1


def _lay(offer: Offer, frame: Frame) -> Flat | None:
    start, end = (frame.flat(offer.curve.at(t)) for t in (0.0, 1.0))
    middle = frame.flat(offer.curve.at(0.5))
    if math.dist(start, end) < 1e-9 and math.dist(start, middle) < 1e-9:
        return None  # seen along itself: a point
    return Flat(offer.curve, image(offer.curve, frame), frame)


def _in_role(shape: Line | Arc, role: Role) -> Line | Arc:
    if isinstance(shape, Line):
        return Line(shape.start, shape.end, role)
    return Arc(shape.centre, shape.radius, shape.start, shape.end, role)


class _Sight:
    """Answers, for one body and frame, whether a point of a curve is an edge and whether it is seen."""

    def __init__(self, body: Body, frame: Frame) -> None:
        self.body, self.frame = body, frame
        self.step = 1e-5 * body.size  # how far off a point its surroundings are asked
        self.thick = 1e-4 * body.size  # thinner material hides nothing: it is rounding

    def role(self, offer: Offer, t: float, wants_hidden: bool) -> Role | None:
        """Return the role of a stretch by its midpoint; None where there is nothing to draw."""
        curve, point = offer.curve, offer.curve.at(t)
        if self.frame.cut and not offer.conventional and self.frame.depth(point) > self.step:
            return None
        hidden = self._hidden(curve, point, t)
        if hidden and not wants_hidden:
            return None
        exists = offer.conventional or (self._turns_away if offer.is_silhouette else self._is_edge)(curve, point, t)
        if not exists:
            return None
        return Role.HIDDEN if hidden else offer.role

    def _filled(self, point: Vector) -> bool:
        return not (self.frame.cut and self.frame.depth(point) > 0.0) and self.body.contains(point)

    def _turns_away(self, curve: Curve, point: Vector, t: float) -> bool:
        assert isinstance(curve, Meridian)
        normal = curve.normal(t)
        return self._solid(add(point, normal, self.step)) != self._solid(add(point, normal, -self.step))

    def _solid(self, point: Vector) -> bool:
        # a silhouette lies in the cut plane itself: ask just behind it
        behind = add(point, self.frame.toward, -0.1 * self.step) if self.frame.cut else point
        return self._filled(behind)

    def _is_edge(self, curve: Curve, point: Vector, t: float) -> bool:
        along = unit(curve.along(t))
        first = unit(cross(along, (0.0, 1.0, 0.0) if abs(along[1]) < 0.9 else (1.0, 0.0, 0.0)))
        second = cross(along, first)
        step, found = self.step, set[bool]()
        for directions in _ROUNDS:
            around = [self._filled(add(add(point, first, step * c), second, step * s)) for c, s in directions]
            found.update(around)
            # where every opposite pair differs the surface runs straight through: no edge so far
            if len(found) == 2 and any(map(operator.eq, around[:4], around[4:])):
                return True
        return False

    def _hidden(self, curve: Curve, point: Vector, t: float) -> bool:
        aside = unit(cross(curve.along(t), self.frame.toward))
        limit = -self.frame.depth(point) if self.frame.cut else math.inf
        starts = (add(point, aside, by) for by in (0.1 * self.step, -0.1 * self.step))
        return all(self.body.material(p, self.frame.toward, limit) > self.thick for p in starts)
