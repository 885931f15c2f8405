"""Views along the axis, base point on it; the same corner is up as in the side view across corners."""

from functools import partial

from builder.view.frame import along
from builder.view.kind import ViewKind


def _end(name: str, code: str, doc: str, sign: float) -> ViewKind:
    return ViewKind(name, code, doc, partial(along, sign), 30.0, shows_length=False, counts=0)


KINDS = (
    _end("head end", "HEAD", "Along the shank, from the head's end.", -1.0),
    _end("point end", "POINT", "Along the shank, from the point's end.", 1.0),
    _end("end", "END", "Along the axis, from the end away from the base point.", 1.0),
    _end("base end", "BASE", "Along the axis, from the end of the base point.", -1.0),
)
