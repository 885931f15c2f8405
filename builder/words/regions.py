"""An area that is hatched on a drawing. A value only: the view station turns it into edges and hatching lines."""

from dataclasses import dataclass

from builder.words.shapes import Arc, Line


@dataclass(frozen=True, slots=True)
class Region:
    """A closed outline, its pieces in order with the role outline, and the angle of its hatching in degrees."""

    edges: tuple[Line | Arc, ...]
    angle: float
