"""The contract of a view kind: its name and code, how it looks at the body, and whether it counts as the part."""

from dataclasses import dataclass

from builder.view.frame import Frame


@dataclass(frozen=True, slots=True)
class ViewKind:
    """A kind of view. A view that does not show the part's length is one block per size."""

    name: str
    code: str  # in the block's name
    doc: str
    frame: Frame
    shows_length: bool
    counts: int  # how many parts the view stands for in a parts list (trade: a part in several views counts once)
