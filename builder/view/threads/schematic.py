"""Threads to ASME Y14.6, schematic: long thin crest lines and short thick root lines across the axis, in turn.

The standard keeps the schematic form off hidden threads: those, and end views, are drawn simplified.
"""

import math
from collections.abc import Iterator

from builder.body.solid import ThreadMark
from builder.view.frame import Frame
from builder.view.offer import Offer
from builder.view.thread_style import full_thread_limit, is_chamfer_rim, root_radius, straight
from builder.view.threads import simplified
from builder.words.roles import Role
from builder.words.shapes import Point

NAME = "schematic"
CODE = "H"
DOC = "ASME Y14.6 schematic: crest and root as lines across the axis."


def lines(mark: ThreadMark, frame: Frame, gap: float) -> Iterator[Offer]:
    """Offer crest and root lines in turn, whole pitches apart and at least `gap` from each other."""
    if frame.at_end or not (mark.external or frame.cuts):
        yield from simplified.lines(mark, frame, gap)
        return
    root = root_radius(mark, gap) if mark.external else mark.minor
    gap = min(gap, (mark.chamfer_x - mark.lead_in) / 4.0)  # a short thread shows lines all the same
    step = mark.pitch * math.ceil(2.0 * gap / mark.pitch - 1e-9)
    turns = math.floor((mark.chamfer_x - mark.lead_in - gap / 2.0) / (step / 2.0))
    for n in range(1, turns + 1):
        radius, role = (mark.major, Role.THREAD) if n % 2 == 0 else (root, Role.OUTLINE)
        x = mark.lead_in + n * step / 2.0
        yield straight(mark, frame, Point(x, -radius), Point(x, radius), role)
    yield from full_thread_limit(mark, frame)


def replaces(offer: Offer, mark: ThreadMark, frame: Frame) -> bool:
    """Leave out the chamfer's circles in an end view."""
    return is_chamfer_rim(offer, mark, frame)


def empty(mark: ThreadMark, frame: Frame, x: float, y: float) -> bool:
    """Cut nothing away."""
    return False
