"""A view: shapes round a base point at 0,0. The value that the view station hands to the block station."""

from dataclasses import dataclass
from functools import cached_property

from builder.words.shapes import Bounds, Shape, bounds_of


@dataclass(frozen=True)
class View:
    """One projection of a part, drafting conventions applied, in the unit of the block; base point at 0,0."""

    kind: str
    shapes: tuple[Shape, ...]

    @cached_property
    def bounds(self) -> Bounds:
        """Return the extent of everything drawn, axes included."""
        return bounds_of(self.shapes)
