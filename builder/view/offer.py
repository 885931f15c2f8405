"""What is offered to a view: curves with the feature that they come from. Most of them turn out not to be seen."""

from collections.abc import Iterator
from enum import Enum
from typing import NamedTuple

from builder.body.crossings import crossings
from builder.body.curves import Curve, RingArc
from builder.body.faces import Flat
from builder.body.limbs import parted
from builder.body.solid import Body, Surface
from builder.body.vectors import add
from builder.view.frame import Frame
from builder.words.roles import Role


class Kind(Enum):
    """What makes an offered curve real: an edge of the body, or one known to be an edge all along, a limb of its
    surface, an edge that the plane of a section makes, or a convention of drafting."""

    EDGE = "edge"
    KNOWN = "known"
    LIMB = "limb"
    CUT = "cut"
    CONVENTION = "convention"


class Offer(NamedTuple):
    """A curve offered to a view by a feature, from what surface; conventional lines bring their own role."""

    curve: Curve
    feature: str
    surface: Surface = Surface.PLAIN
    role: Role = Role.OUTLINE
    kind: Kind = Kind.EDGE

    @property
    def is_rim(self) -> bool:
        """Tell a circle about the axis."""
        return isinstance(self.curve, RingArc) and self.kind in (Kind.EDGE, Kind.KNOWN)


def edges_of(body: Body) -> tuple[Offer, ...]:
    """Return the edges of all pieces and the curves in which they cross: what a body offers to every view."""
    kinds = {True: Kind.KNOWN, None: Kind.EDGE}
    return tuple(Offer(e.curve, e.piece.feature, e.piece.surface, kind=kinds[e.known]) for e in body.edges)


def limbs_of(body: Body, frame: Frame) -> Iterator[Offer]:
    """Return the silhouettes of all pieces, cut where they pass through faces."""
    for piece, met in zip(body.pieces, body.met, strict=True):
        for limb in parted(piece.solid.silhouettes(frame.toward), met):
            yield Offer(limb, piece.feature, piece.surface, kind=Kind.LIMB)


def cuts_of(body: Body, frame: Frame) -> Iterator[Offer]:
    """Return the curves in which the faces of a body cross the plane of a section."""
    reach = 4.0 * body.size + max(abs(v) for corner in body.box for v in corner)
    corner = add(add((0.0, 0.0, 0.0), frame.right, -reach), frame.up, -reach)
    side_u, side_v = (add((0.0, 0.0, 0.0), way, 2.0 * reach) for way in (frame.right, frame.up))
    plane = (Flat(corner, side_u, side_v),)
    for piece in body.pieces:
        for curve in crossings(plane, piece.solid.faces()):
            yield Offer(curve, piece.feature, piece.surface, kind=Kind.CUT)
