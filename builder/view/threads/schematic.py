"""Threads to ASME Y14.6, schematic: long thin crest lines and short thick root lines across the axis, in turn.

The standard keeps the schematic form off hidden internal threads and sections of external ones (from memory): those,
and end views, are drawn simplified.
"""

import math
from collections.abc import Iterator

from builder.body.solid import ThreadMark
from builder.view.frame import Cut, Frame
from builder.view.offer import Offer
from builder.view.thread_style import (
    front,
    full_thread_limit,
    is_chamfer_rim,
    root_radius,
    run_outs,
    straight,
    where_wide,
)
from builder.view.threads import simplified
from builder.words.limits import LINES
from builder.words.roles import Role
from builder.words.shapes import Point

NAME = "schematic"
CODE = "H"
DOC = "ASME Y14.6 schematic: crest and root as lines across the axis."
UNIFORM = False


def lines(mark: ThreadMark, frame: Frame, gap: float) -> Iterator[Offer]:
    """Offer crest and root lines in turn, whole pitches apart and at least `gap` from each other."""
    if frame.at_end or not (mark.external or frame.cuts):
        yield from simplified.lines(mark, frame, gap)
        return
    root = root_radius(mark, gap) if mark.external else mark.minor
    if mark.external and frame.cuts:
        yield from _cut(mark, frame, root)
    for n, x in enumerate(_places(mark, gap), start=1):
        radius, role = (mark.major, Role.THREAD) if n % 2 == 0 else (root, Role.OUTLINE)
        yield from front(mark, frame, Point(x, -radius), Point(x, radius), role)
    yield from run_outs(mark, frame, root if mark.external else mark.major, Role.THREAD)
    yield from full_thread_limit(mark, frame, root)


def _places(mark: ThreadMark, gap: float) -> Iterator[float]:
    """Return the places of root and crest lines in turn, from where the full thread ends toward the point."""
    length = mark.chamfer_x - mark.lead_in
    gap = max(min(gap, length / 4.0), length / LINES)  # a short thread shows lines all the same, a long one not all
    step = mark.pitch * math.ceil(2.0 * gap / mark.pitch - 1e-9)
    turns = math.floor((length - gap / 2.0) / (step / 2.0))
    origin, way = (mark.chamfer_x, -1.0) if mark.end in mark.limits else (mark.lead_in, 1.0)
    yield from (origin + way * n * step / 2.0 for n in range(1, turns + 1))


def _cut(mark: ThreadMark, frame: Frame, root: float) -> Iterator[Offer]:
    """Offer the simplified form's roots where an external thread is cut."""
    sides = (1.0, -1.0) if frame.cut is Cut.FULL else (1.0,)
    first, last = where_wide(mark, root)
    for side in sides:
        yield straight(mark, frame, Point(first, side * root), Point(last, side * root), Role.HIDDEN)


def replaces(offer: Offer, mark: ThreadMark, frame: Frame) -> bool:
    """Leave out the chamfer's circles in an end view."""
    return is_chamfer_rim(offer, mark, frame)


def empty(mark: ThreadMark, frame: Frame, x: float, y: float) -> bool:
    """Cut nothing away."""
    return False
