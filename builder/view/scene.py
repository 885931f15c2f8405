"""The bodies of a part as a view looks at them: what the view leaves of them, and what stands before a point."""

from dataclasses import dataclass

import numpy as np

from builder.body.measure import filled_lengths
from builder.body.solid import Body
from builder.body.vectors import Array, Truth, Vector
from builder.view.frame import Cut, Frame


@dataclass(frozen=True, slots=True)
class Scene:
    """The bodies of a part as a view looks at them."""

    bodies: tuple[Body, ...]
    frame: Frame

    def frame_of(self, body: Body) -> Frame:
        """Return how the view looks at one body: one drawn whole is not cut."""
        return self.frame.whole() if body.whole else self.frame

    @property
    def size(self) -> float:
        """Return the size of the largest body."""
        return max(body.size for body in self.bodies)

    def contains(self, body: Body, points: Array) -> Truth:
        """Tell which points are in the material that the view leaves of a body."""
        filled = body.contains(points)
        if self.frame.cuts and not body.whole:
            filled &= ~self.frame.removed(points)
        return filled

    def on_border(self, points: Array, margin: float) -> Truth:
        """Tell which points lie on the border of a half section, where the axis stands for the edge of the cut."""
        if self.frame.cut is not Cut.HALF:
            return np.zeros(len(points), dtype=bool)
        up, depth = points @ np.array(self.frame.up), points @ np.array(self.frame.toward)
        return np.asarray((np.abs(up) < margin) & (depth > margin))

    def any_contains(self, points: Array) -> Truth:
        """Tell which points are in what the view leaves of any body."""
        filled = self.contains(self.bodies[0], points)
        for body in self.bodies[1:]:
            filled |= self.contains(body, points)
        return filled

    def roots(self, points: Array, toward: Vector) -> Array:
        """Return how far along the rays they meet any face, or the plane of the section."""
        found = [body.roots(points, toward) for body in self.bodies]
        if self.frame.cuts:
            found.append(-(points @ np.array(self.frame.toward))[:, None])
        return np.concatenate(found, axis=1)

    def hidden(self, points: Array, thick: float) -> Truth:
        """Tell before which points, on their way to the viewer, lies material thicker than rounding."""
        limits = np.full(len(points), np.inf)
        stretches = filled_lengths(points, self.frame.toward, limits, self.any_contains, self.roots)[1]
        return np.asarray(stretches > thick)
