"""The faces of solids, flat or turned, as far as crossing them with other faces needs."""

from dataclasses import dataclass
from typing import NamedTuple

from builder.body.contour import Contour
from builder.body.vectors import Place, Vector, cross, unit


class Flat(NamedTuple):
    """A flat face within a parallelogram: a corner and two sides."""

    corner: Vector
    side_u: Vector
    side_v: Vector

    @property
    def normal(self) -> Vector:
        """Return the direction square to it."""
        return unit(cross(self.side_u, self.side_v))


@dataclass(frozen=True, slots=True)
class Round:
    """A contour piece turned about the x axis of a place; whole turns here, the solid knows what it leaves out."""

    contour: Contour
    place: Place


Face = Flat | Round
