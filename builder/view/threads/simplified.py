"""Threads to ASME Y14.6, simplified: the root as a dashed line, a dashed circle in the end view."""

from collections.abc import Iterator

from builder.body.solid import ThreadMark
from builder.view.frame import Frame
from builder.view.offer import Offer
from builder.view.thread_style import is_chamfer_rim, root_lines
from builder.words.roles import Role

NAME = "simplified"
CODE = "S"
DOC = "ASME Y14.6 simplified: root drawn as a hidden line."
UNIFORM = True


def lines(mark: ThreadMark, frame: Frame, gap: float) -> Iterator[Offer]:
    """Offer dashed root lines and the thread limit, or the dashed root circle."""
    return root_lines(mark, frame, gap, Role.HIDDEN)


def replaces(offer: Offer, mark: ThreadMark, frame: Frame) -> bool:
    """Leave out the chamfer's circles in an end view."""
    return is_chamfer_rim(offer, mark, frame)


def empty(mark: ThreadMark, frame: Frame, x: float, y: float) -> bool:
    """Cut nothing away."""
    return False
