"""Threads to ISO 6410-1: crest wide, root narrow, three quarters of a narrow circle in the end view."""

from collections.abc import Iterator

from builder.body.solid import ThreadMark
from builder.view.frame import Frame
from builder.view.offer import Offer
from builder.view.thread_style import is_chamfer_rim, root_lines
from builder.words.roles import Role

NAME = "iso"
CODE = "I"
DOC = "ISO 6410-1: root drawn as a narrow continuous line."
UNIFORM = True


def lines(mark: ThreadMark, frame: Frame, gap: float) -> Iterator[Offer]:
    """Offer root lines and thread limit, or the open root circle, turned off the axes by 10 degrees."""
    return root_lines(mark, frame, gap, Role.THREAD, start=100.0, turn=270.0)


def replaces(offer: Offer, mark: ThreadMark, frame: Frame) -> bool:
    """Leave out the chamfer's circles in an end view."""
    return is_chamfer_rim(offer, mark, frame)


def empty(mark: ThreadMark, frame: Frame, x: float, y: float) -> bool:
    """Cut nothing away: hatching runs to the crests."""
    return False
