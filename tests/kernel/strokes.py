"""What both sides of the comparison are turned into: curves on the drawing as chains of points, seen or hidden."""

from dataclasses import dataclass
from enum import Enum

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]
Truth = npt.NDArray[np.bool_]

# A chord of a chain stands for so much of a turn, and is no longer than this share of the curve's extent: it stays
# within 3.5e-4 of the extent.
CHORD = np.radians(3.0)
LONGEST = 0.05


class Nature(Enum):
    """What makes a curve: a sharp edge, the surface turning away, or faces that meet without an edge."""

    SHARP = "edge"
    OUTLINE = "silhouette"
    SMOOTH = "smooth edge"


@dataclass(frozen=True, slots=True)
class Stroke:
    """A curve on the drawing as points (n, 2), so close that the chain between them is the curve."""

    points: Array
    visible: bool
    nature: Nature = Nature.SHARP


def spread(points: Array, spacing: float) -> Array:
    """Return points along a chain, its corners among them, no further apart than a spacing."""
    steps = np.diff(points, axis=0)
    counts = np.maximum(1, np.ceil(np.hypot(steps[:, 0], steps[:, 1]) / spacing)).astype(int)
    which = np.repeat(np.arange(len(steps)), counts)
    place = (np.arange(len(which)) - np.repeat(np.cumsum(counts) - counts, counts)) / counts[which]
    return np.concatenate((points[which] + place[:, None] * steps[which], points[-1:]))


def thinned(points: Array) -> Array:
    """Return a chain with no more points than it needs: two of a straight one, maybe run back and forth."""
    low, high = points.min(axis=0), points.max(axis=0)
    middle, reach = (low + high) / 2.0, float(np.hypot(*(high - low)))
    far = points[np.argmax(((points - middle) ** 2).sum(axis=1))] - middle
    along = far / max(float(np.hypot(*far)), 1e-300)
    offset = points - points[0]
    if np.abs(offset @ np.array((-along[1], along[0]))).max() <= 1e-6 * reach:
        places = offset @ along
        return points[[int(places.argmin()), int(places.argmax())]]
    steps = np.diff(points, axis=0)
    turns = np.abs(np.diff(np.unwrap(np.arctan2(steps[:, 1], steps[:, 0]))))
    turned = np.floor(np.cumsum(turns) / CHORD)
    gone = np.floor(np.cumsum(np.hypot(steps[:-1, 0], steps[:-1, 1])) / (LONGEST * reach))
    kept = np.flatnonzero(np.diff(turned + gone, prepend=0.0)) + 1
    return points[[0, *kept.tolist(), len(points) - 1]]


def length_of(points: Array) -> float:
    """Return the length of a chain."""
    steps = np.diff(points, axis=0)
    return float(np.hypot(steps[:, 0], steps[:, 1]).sum())
