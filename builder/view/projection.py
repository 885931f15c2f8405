"""Projects bodies: which curves are real edges, which stretches of them are seen, which are hidden.

Every solid offers its edges and silhouettes; their images are cut where they cross; a stretch is kept where the body
around it has an edge, and hidden where material lies between it and the viewer.
"""

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from builder.body.curves import Limb, RingArc
from builder.body.measure import filled_lengths
from builder.body.solid import Body
from builder.body.vectors import Array, Truth
from builder.view.ellipses import ellipse_of, is_aslant
from builder.view.flat import Flat, cut_places, lay
from builder.view.frame import Cut, Frame
from builder.view.halves import halves_of
from builder.view.offer import Kind, Offer
from builder.words.roles import Role
from builder.words.shapes import Arc, Ellipse, Line, Point

Edge = Line | Arc | Ellipse
Indices = NDArray[np.intp]

FIT = 2e-4  # of a body's size: how close arcs come to a curve that is none
PIN = 2e-3  # of a body's size: how near to an image the end of a silhouette counts as on it

LEAST_BEND = math.radians(1.0)  # a surface that bends by less is smooth

# Around a point of an edge the body is asked in 24 directions, 15 degrees apart and none along a likely face,
# in three rounds of eight: most edges show in the first.
_FINER = 8  # steps, twice, between two of them
_ROUNDS = tuple(np.radians(4.1 + 15.0 * first + 45.0 * np.arange(8)) for first in range(3))


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
        return filled if body.whole else filled & ~self.frame.removed(points)

    def on_border(self, points: Array, margin: float) -> Truth:
        """Tell which points lie on the border of a half section, where the axis stands for the edge of the cut."""
        if self.frame.cut is not Cut.HALF:
            return np.zeros(len(points), dtype=bool)
        up, depth = points @ np.array(self.frame.up), points @ np.array(self.frame.toward)
        return np.asarray((np.abs(up) < margin) & (depth > margin))

    def any_contains(self, points: Array) -> Truth:
        """Tell which points are in what the view leaves of any body."""
        filled = np.zeros(len(points), dtype=bool)
        for body in self.bodies:
            filled |= self.contains(body, points)
        return filled

    def roots(self, points: Array, toward: tuple[float, float, float]) -> Array:
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


def project(
    scene: Scene, offers: Iterable[tuple[Body, Offer]], shows_hidden: Callable[[str], bool]
) -> Iterator[tuple[Body, Edge]]:
    """Return the visible and, where the feature shows them, the hidden stretches of the offered curves.

    Sizes are in the bodies' unit. Images are lines, arcs and ellipses with overlaps, for `merge` to join.
    """
    laid = list(_laid(scene, offers))
    if not laid:
        return
    limbs = [flat for _, offer, flat in laid if offer.kind is Kind.LIMB]
    places = cut_places([flat for _, _, flat in laid], _fence(scene), limbs, PIN * scene.size)
    stretches = [
        _Stretch(body, offer, flat, t0, t1)
        for (body, offer, flat), cuts in zip(laid, places, strict=True)
        for t0, t1 in pairwise(cuts)
    ]
    for stretch, role in _joined(zip(stretches, _Sight(scene).roles(stretches, shows_hidden), strict=True)):
        yield stretch.body, _drawn(stretch, scene.frame, role)


def _laid(scene: Scene, offers: Iterable[tuple[Body, Offer]]) -> Iterator[tuple[Body, Offer, Flat]]:
    """Return the images of the offered curves, as far as they need to be asked."""
    alone = len(scene.bodies) == 1 or not any(thread.external for body in scene.bodies for thread in body.threads)
    halves = {id(body): halves_of(body, scene.frame_of(body), alone) for body in scene.bodies}
    for body, whole in offers:
        half = halves[id(body)]
        offer = half.needed(whole)
        if offer is None:
            continue
        for flat in lay(offer.curve, scene.frame, FIT * scene.size):
            if half.needs(offer, flat.first, flat.last):
                yield body, offer, flat


def _fence(scene: Scene) -> tuple[Line, ...]:
    """Return the line where a half section passes from cut to uncut: everything ends or changes there."""
    if scene.frame.cut is not Cut.HALF:
        return ()
    reach = 4.0 * max(abs(v) for body in scene.bodies for corner in body.box for v in corner)
    return (Line(Point(-reach, 0.0), Point(reach, 0.0), Role.AXIS),)


@dataclass(frozen=True, slots=True)
class _Stretch:
    """A piece of a laid curve between two cuts."""

    body: Body
    offer: Offer
    flat: Flat
    t0: float
    t1: float

    @property
    def middle(self) -> float:
        """Return a parameter well inside, off the middle, where symmetric bodies may have a point unlike the rest."""
        return self.t0 + 0.41 * (self.t1 - self.t0)

    def leads_to(self, other: "_Stretch") -> bool:
        """Tell whether another one goes on in the same shape: an image of its own, or an ellipse of several arcs."""
        if self.flat is other.flat:
            return True
        curve = self.offer.curve
        return curve is other.offer.curve and self.t1 == other.t0 and is_aslant(curve, self.flat.frame)


def _joined(found: Iterable[tuple[_Stretch, Role | None]]) -> Iterator[tuple[_Stretch, Role]]:
    """Join neighbours of one role on one image: a curve is cut only where it must be."""
    held: tuple[_Stretch, Role] | None = None
    for stretch, role in found:
        if held and held[1] is role and held[0].leads_to(stretch):
            first = held[0]
            held = _Stretch(first.body, first.offer, first.flat, first.t0, stretch.t1), held[1]
            continue
        if held:
            yield held
        held = (stretch, role) if role is not None else None
    if held:
        yield held


def _drawn(stretch: _Stretch, frame: Frame, role: Role) -> Edge:
    curve = stretch.offer.curve
    if isinstance(curve, RingArc) and is_aslant(curve, frame):
        return ellipse_of(curve, frame, stretch.t0, stretch.t1, role)
    return replace(stretch.flat.part(stretch.t0, stretch.t1), role=role)


class _Sight:
    """Answers for all stretches of a view at once whether they are edges and whether they are seen."""

    def __init__(self, scene: Scene) -> None:
        self.scene = scene
        self.step = 1e-5 * scene.size  # how far off a point its surroundings are asked
        self.thick = 1e-4 * scene.size  # thinner material hides nothing: it is rounding

    def roles(self, stretches: Sequence[_Stretch], shows_hidden: Callable[[str], bool]) -> list[Role | None]:
        """Return the role of each stretch by its midpoint; None where there is nothing to draw."""
        points = np.array([s.offer.curve.at(s.middle) for s in stretches])
        alongs = _units(np.array([s.offer.curve.along(s.middle) for s in stretches]))
        drawn = self._exists(stretches, points, alongs)
        index = np.nonzero(drawn)[0]
        hidden = np.zeros(len(stretches), dtype=bool)
        hidden[index] = self._hidden(points[index], alongs[index])
        wanted = not self.scene.frame.cuts
        roles: list[Role | None] = []
        for stretch, real, covered in zip(stretches, drawn.tolist(), hidden.tolist(), strict=True):
            offer = stretch.offer
            if not real or (covered and not (wanted and shows_hidden(offer.feature) and offer.role is not Role.NARROW)):
                roles.append(None)
            else:
                roles.append(Role.HIDDEN if covered else offer.role)
        return roles

    def _exists(self, stretches: Sequence[_Stretch], points: Array, alongs: Array) -> Truth:
        kinds = np.array([s.offer.kind.value for s in stretches])
        owners = np.array([self.scene.bodies.index(s.body) for s in stretches])
        found = kinds == Kind.CONVENTION.value
        for n, body in enumerate(self.scene.bodies):
            frame = self.scene.frame_of(body)
            mine = (owners == n) & ~(frame.removed(points, self.step) & ~found)
            limbs, conventions = kinds == Kind.LIMB.value, kinds == Kind.CONVENTION.value
            edges, limbs = np.nonzero(mine & ~limbs & ~conventions)[0], np.nonzero(mine & limbs)[0]
            found[edges] = self._is_edge(partial(self.scene.contains, body), points[edges], alongs[edges])
            border = edges[self.scene.on_border(points[edges], self.step)]
            found[border] = self._is_edge(body.contains, points[border], alongs[border])
            normals = np.array([_normal(stretches[i]) for i in limbs.tolist()]).reshape(-1, 3)
            found[limbs] = self._turns_away(body, points[limbs], normals)
        for n, body in enumerate(self.scene.bodies if len(self.scene.bodies) > 1 else ()):
            found &= (owners == n) | ~self._threaded_into(body, points)
        return np.asarray(found)

    def _threaded_into(self, body: Body, points: Array) -> Truth:
        """Tell what lies inside a body with an external thread: that covers what it is screwed into."""
        return body.contains(points) if any(thread.external for thread in body.threads) else np.zeros(len(points), bool)

    def _turns_away(self, body: Body, points: Array, normals: Array) -> Truth:
        frame = self.scene.frame_of(body)
        # a silhouette may lie in the cut plane itself: ask just behind it
        points = points - 0.1 * self.step * np.array(frame.toward) if frame.cuts else points
        out, back = (self.scene.contains(body, points + by * self.step * normals) for by in (1.0, -1.0))
        return np.asarray(out != back)

    def _is_edge(self, contains: Callable[[Array], Truth], points: Array, alongs: Array) -> Truth:
        if not len(points):
            return np.zeros(0, dtype=bool)
        helper = np.where(np.abs(alongs[:, 1:2]) < 0.9, (0.0, 1.0, 0.0), (1.0, 0.0, 0.0))
        first = _units(np.cross(alongs, helper))
        second = np.cross(alongs, first)

        def around(open_: Indices, angles: Array) -> Truth:
            """Ask each open point in directions of its own, angles of shape (points, n), in radians."""
            c, s = np.cos(angles)[:, :, None], np.sin(angles)[:, :, None]
            asked = points[open_, None] + self.step * (c * first[open_, None] + s * second[open_, None])
            return contains(asked.reshape(-1, 3)).reshape(angles.shape)

        edge, smooth = np.zeros(len(points), dtype=bool), np.arange(len(points))
        found = np.zeros((len(points), 0), dtype=bool)
        for angles in _ROUNDS:
            truths = around(smooth, np.broadcast_to(angles, (len(smooth), len(angles))))
            found = np.concatenate((found, truths), axis=1)
            # where every opposite pair differs the surface runs straight through: no edge so far
            bent = (truths[:, :4] == truths[:, 4:]).any(axis=1) & found.any(axis=1) & ~found.all(axis=1)
            edge[smooth[bent]] = True
            smooth, found = smooth[~bent], found[~bent]
        mixed = found.any(axis=1) & ~found.all(axis=1)
        smooth, found = smooth[mixed], found[mixed]
        if len(smooth):
            edge[smooth] = self._bends(found, smooth, around)
        return edge

    def _bends(self, found: Truth, smooth: Indices, around: Callable[[Indices, Array], Truth]) -> Truth:
        """Tell surfaces that bend by less than the directions are apart: find where both sides turn, in finer steps."""
        order = np.argsort(np.concatenate(_ROUNDS))
        angles, truths = np.concatenate(_ROUNDS)[order], found[:, order]
        half = len(angles) // 2
        turns = truths[:, :half] != truths[:, 1 : half + 1]
        index = turns.argmax(axis=1)
        low = np.stack((angles[index], angles[index + half]), axis=1)
        at_low = np.take_along_axis(truths, np.stack((index, index + half), axis=1), axis=1)
        step = math.tau / len(angles)
        for _ in range(2):
            step /= _FINER
            asked = low[:, :, None] + step * np.arange(1, _FINER)
            same = around(smooth, asked.reshape(len(smooth), -1)).reshape(asked.shape) == at_low[:, :, None]
            low = low + step * np.logical_and.accumulate(same, axis=2).sum(axis=2)
        return np.asarray(turns.any(axis=1) & (np.abs(low[:, 1] - low[:, 0] - math.pi) > LEAST_BEND))

    def _hidden(self, points: Array, alongs: Array) -> Truth:
        if not len(points):
            return np.zeros(0, dtype=bool)
        aside = 0.1 * self.step * _units(np.cross(alongs, np.array(self.scene.frame.toward)))
        both = self.scene.hidden(np.concatenate((points + aside, points - aside)), self.thick)
        return np.asarray(both[: len(points)] & both[len(points) :])


def _normal(stretch: _Stretch) -> tuple[float, float, float]:
    limb: Limb = stretch.offer.curve  # type: ignore[assignment]
    return limb.normal(stretch.middle)


def _units(vectors: Array) -> Array:
    lengths = np.sqrt(np.einsum("ij,ij->i", vectors, vectors))[:, None]
    return np.asarray(vectors / np.maximum(lengths, 1e-300))
