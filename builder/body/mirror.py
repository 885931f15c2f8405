"""Whether a body is its own mirror image in a plane: then a viewer square to the plane need only look at one half."""

from collections.abc import Sequence

from builder.body.common import Common
from builder.body.contour import TINY, Contour, Loop, Spot, Straight
from builder.body.extruded import Extruded
from builder.body.solid import Piece, Solid
from builder.body.turned import Turned
from builder.body.vectors import AXIS, Vector, dot


def is_symmetric(pieces: Sequence[Piece], normal: Vector, offset: float, slack: float) -> bool:
    """Tell whether pieces are their own mirror image in the plane p . normal = offset, feature by feature.

    False may be wrong: only leaves square to the plane or along it are recognised.
    """
    return all(
        _mirrors(piece.solid, piece.solid, normal, offset, slack)
        or any(_paired(piece, other, normal, offset, slack) for other in pieces)
        for piece in pieces
    )


def _paired(a: Piece, b: Piece, normal: Vector, offset: float, slack: float) -> bool:
    same = (a.feature, a.surface, a.fit) == (b.feature, b.surface, b.fit)
    return a is not b and same and _mirrors(a.solid, b.solid, normal, offset, slack)


def _mirrors(a: Solid, b: Solid, normal: Vector, offset: float, slack: float) -> bool:
    """Tell whether one solid is the mirror image of another, or of itself."""
    if isinstance(a, Turned) and isinstance(b, Turned):
        return (a is b or a.place is b.place is AXIS) and _turned(a, b, normal, offset, slack)
    if a is not b:
        return False
    if isinstance(a, Common):
        return all(_mirrors(part, part, normal, offset, slack) for part in a.parts)
    return isinstance(a, Extruded) and _extruded(a, normal, offset, slack)


def _turned(a: Turned, b: Turned, normal: Vector, offset: float, slack: float) -> bool:
    along, off = dot(a.place.x, normal), offset - dot(a.place.origin, normal)
    if abs(along) < TINY:
        return a is b and a.turn is None and abs(off) < slack
    return abs(along) > 1.0 - TINY and a.turn == b.turn and _alike(a.loop, b.loop, (along, 0.0), off, slack)


def _extruded(solid: Extruded, normal: Vector, offset: float, slack: float) -> bool:
    place = solid.place
    along, off = dot(place.x, normal), offset - dot(place.origin, normal)
    if abs(along) > 1.0 - TINY:
        return abs(along * (solid.start + solid.end) / 2.0 - off) < slack
    across = (dot(place.y, normal), dot(place.z, normal))
    return abs(along) < TINY and _alike(solid.loop, solid.loop, across, off, slack)


def _alike(loop: Loop, other: Loop, normal: Spot, offset: float, slack: float) -> bool:
    """Tell whether a loop mirrored in the line p . normal = offset runs through the same places as another."""
    (n, m), others = normal, [_spots(piece) for piece in other]

    def mirrored(spot: Spot) -> Spot:
        by = 2.0 * (spot[0] * n + spot[1] * m - offset)
        return spot[0] - by * n, spot[1] - by * m

    def near(p: Spot, q: Spot) -> bool:
        return abs(p[0] - q[0]) < slack and abs(p[1] - q[1]) < slack

    for piece in loop:
        first, middle, last = map(mirrored, _spots(piece))
        if not any(
            near(b, middle) and ((near(a, last) and near(c, first)) or (near(a, first) and near(c, last)))
            for a, b, c in others
        ):
            return False
    return len(loop) == len(other)


def _spots(piece: Contour) -> tuple[Spot, Spot, Spot]:
    """Return the ends of a piece and, between them, a place that tells it from others of the same ends."""
    start, end = (piece.a0, piece.b0), (piece.a1, piece.b1)
    return start, piece.at(0.5) if not isinstance(piece, Straight) else _half(start, end), end


def _half(p: Spot, q: Spot) -> Spot:
    return (p[0] + q[0]) / 2.0, (p[1] + q[1]) / 2.0
