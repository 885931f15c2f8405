"""What is offered to a view: curves with the feature that they come from. Most of them turn out not to be seen."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from itertools import pairwise

import numpy as np

from builder.body.contour import Straight
from builder.body.crossings import crossings
from builder.body.curves import Curve, Limb, Meridian, RingArc
from builder.body.extruded import Ruling
from builder.body.faces import Flat
from builder.body.solid import Body, Surface
from builder.body.vectors import add, unit
from builder.view.frame import Frame
from builder.words.roles import Role


class Kind(Enum):
    """What makes an offered curve real: an edge of the body, a limb of its surface,
    an edge that the plane of a section makes, or a convention of drafting."""

    EDGE = "edge"
    LIMB = "limb"
    CUT = "cut"
    CONVENTION = "convention"


@dataclass(frozen=True, slots=True)
class Offer:
    """A curve offered to a view by a feature, from what surface; conventional lines bring their own role."""

    curve: Curve
    feature: str
    surface: Surface = Surface.PLAIN
    role: Role = Role.OUTLINE
    kind: Kind = Kind.EDGE

    @property
    def is_rim(self) -> bool:
        """Tell a circle about the axis."""
        return isinstance(self.curve, RingArc) and self.kind is Kind.EDGE


def edges_of(body: Body) -> tuple[Offer, ...]:
    """Return the edges of all pieces and the curves in which they cross: what a body offers to every view."""
    return tuple(Offer(curve, piece.feature, piece.surface) for piece, curve in body.edges)


def limbs_of(body: Body, frame: Frame) -> Iterator[Offer]:
    """Return the silhouettes of all pieces, straight ones cut where they pass through faces.

    A silhouette may touch the edge at which it ends: on the drawing the two do not cross, in space they do.
    """
    for piece in body.pieces:
        for limb in piece.solid.silhouettes(frame.toward):
            for curve in _passages(limb, body):
                yield Offer(curve, piece.feature, piece.surface, kind=Kind.LIMB)


def _passages(limb: Limb, body: Body) -> Iterator[Limb]:
    straight = isinstance(limb, Ruling) or (isinstance(limb, Meridian) and isinstance(limb.contour, Straight))
    start, end = limb.at(0.0), limb.at(1.0)
    length = math.dist(start, end)
    if not straight or length < 1e-9:
        yield limb
        return
    toward = unit(add(end, start, -1.0))
    roots = body.roots(np.array([start]), toward)[0]
    inner = {round(float(t) / length, 9) for t in roots if 1e-7 * length < t < (1.0 - 1e-7) * length}
    for first, last in pairwise((0.0, *sorted(inner), 1.0)):
        yield Ruling(limb.at(first), limb.at(last), limb.normal(0.5))


def cuts_of(body: Body, frame: Frame) -> Iterator[Offer]:
    """Return the curves in which the faces of a body cross the plane of a section."""
    reach = 4.0 * body.size + max(abs(v) for corner in body.box for v in corner)
    corner = add(add((0.0, 0.0, 0.0), frame.right, -reach), frame.up, -reach)
    side_u, side_v = (add((0.0, 0.0, 0.0), way, 2.0 * reach) for way in (frame.right, frame.up))
    plane = (Flat(corner, side_u, side_v),)
    for piece in body.pieces:
        for curve in crossings(plane, piece.solid.faces()):
            yield Offer(curve, piece.feature, piece.surface, kind=Kind.CUT)
