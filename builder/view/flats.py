"""Flats marked by two thin diagonals (ISO 128): a convention of drafting."""

from collections.abc import Iterator

import numpy as np

from builder.body.curves import Segment
from builder.body.solid import Body
from builder.body.vectors import add, dot
from builder.view.frame import Frame
from builder.view.offer import Kind, Offer
from builder.words.roles import Role

_FACING = 0.7  # cosine of how far a flat may be turned from the viewer to be marked


def diagonals(body: Body, frame: Frame) -> Iterator[Offer]:
    """Offer the diagonals of the flats that face the viewer and are not cut away, a little in front of them."""
    for flat in body.flats:
        corners = np.array([end for line in flat.diagonals for end in (line.start, line.end)])
        if dot(flat.normal, frame.toward) > _FACING and not frame.removed(corners).any():
            off = 2e-5 * body.size
            for line in flat.diagonals:
                raised = Segment(add(line.start, flat.normal, off), add(line.end, flat.normal, off))
                yield Offer(raised, flat.feature, role=Role.NARROW, kind=Kind.CONVENTION)
