"""The contract of a view kind: its name and code, how it looks at the body, and whether it counts as the part."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from builder.view.drafting import Drafting
from builder.view.frame import Frame
from builder.words.shapes import Shape


def as_drawn(shapes: Sequence[Shape], _: Drafting) -> Sequence[Shape]:
    """Return the shapes as they are."""
    return shapes


@dataclass(frozen=True, slots=True)
class ViewKind:
    """A kind of view. A view that does not show the part's length is one block per size.

    `look` turns a roll about the axis, radians, into a frame; `roll` is the kind's own, in degrees, unless a
    definition states another. `finish` has the last word on the drawn shapes.
    """

    name: str
    code: str  # in the block's name
    doc: str
    look: Callable[[float], Frame]
    roll: float
    shows_length: bool
    counts: int  # how many parts the view stands for in a parts list (trade: a part in several views counts once)
    finish: Callable[[Sequence[Shape], Drafting], Sequence[Shape]] = as_drawn
