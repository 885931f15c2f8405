"""Answers for all stretches of a view at once whether they are edges and whether they are seen."""

from collections.abc import Callable, Sequence
from functools import partial
from typing import NamedTuple

import numpy as np

from builder.body.curves import Limb
from builder.body.solid import Body
from builder.body.surroundings import STEP, Indices, Surroundings
from builder.body.vectors import Array, Truth
from builder.view.ellipses import is_aslant
from builder.view.flat import Flat
from builder.view.offer import Kind, Offer
from builder.view.scene import Scene
from builder.words.roles import Role


class Stretch(NamedTuple):
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

    def leads_to(self, other: "Stretch") -> bool:
        """Tell whether another one goes on in the same shape: an image of its own, or an ellipse of several arcs."""
        if self.flat is other.flat:
            return True
        curve = self.offer.curve
        return curve is other.offer.curve and self.t1 == other.t0 and is_aslant(curve, self.flat.frame)


class Sight:
    """The stretches of a view's curves, asked at their midpoints."""

    def __init__(self, scene: Scene, stretches: Sequence[Stretch]) -> None:
        self.scene, self.stretches = scene, stretches
        self.step = STEP * scene.size
        self.thick = 1e-4 * scene.size  # thinner material hides nothing: it is rounding
        middles = [(s.offer.curve, s.middle) for s in stretches]
        self.points = np.array([curve.at(t) for curve, t in middles])
        self.alongs = _units(np.array([curve.along(t) for curve, t in middles]))

    def roles(self, shows_hidden: Callable[[str], bool]) -> list[Role | None]:
        """Return the role of each stretch; None where there is nothing to draw."""
        drawn = self._exists()
        index = np.nonzero(drawn)[0]
        hidden = np.zeros(len(drawn), dtype=bool)
        hidden[index] = self._hidden(self.points[index], self.alongs[index])
        wanted = not self.scene.frame.cuts
        roles: list[Role | None] = []
        for stretch, real, covered in zip(self.stretches, drawn.tolist(), hidden.tolist(), strict=True):
            offer = stretch.offer
            if not real or (covered and not (wanted and shows_hidden(offer.feature) and offer.role is not Role.NARROW)):
                roles.append(None)
            else:
                roles.append(Role.HIDDEN if covered else offer.role)
        return roles

    def _exists(self) -> Truth:
        kinds = [s.offer.kind for s in self.stretches]
        found = np.array([kind is Kind.CONVENTION for kind in kinds])
        for body in self.scene.bodies:
            mine = [(n, kinds[n]) for n, s in enumerate(self.stretches) if s.body is body and not found[n]]
            frame = self.scene.frame_of(body)
            if frame.cuts:
                gone = frame.removed(self.points, self.step).tolist()
                mine = [(n, kind) for n, kind in mine if not gone[n]]
            limbs = [n for n, kind in mine if kind is Kind.LIMB]
            edges = np.array([n for n, kind in mine if kind in (Kind.EDGE, Kind.CUT)], dtype=np.intp)
            found[[n for n, kind in mine if kind is Kind.KNOWN]] = True
            found[edges] = self._edges(body, edges)
            found[limbs] = self._turns_away(body, limbs)
        if len(self.scene.bodies) > 1:
            for body in self.scene.bodies:
                own = np.array([s.body is body for s in self.stretches])
                found &= own | ~self._threaded_into(body)
        return found

    def _edges(self, body: Body, index: Indices) -> Truth:
        points, alongs = self.points[index], self.alongs[index]
        found = Surroundings(partial(self.scene.contains, body), points, alongs, self.step).are_edges()
        border = self.scene.on_border(points, self.step)
        if border.any():
            found[border] = Surroundings(body.contains, points[border], alongs[border], self.step).are_edges()
        return found

    def _threaded_into(self, body: Body) -> Truth:
        """Tell what lies inside a body with an external thread: that covers what it is screwed into."""
        if any(thread.external for thread in body.threads):
            return body.contains(self.points)
        return np.zeros(len(self.points), dtype=bool)

    def _turns_away(self, body: Body, index: Sequence[int]) -> Truth:
        """Tell which silhouettes lie between material and none."""
        if not index:
            return np.zeros(0, dtype=bool)
        frame, points = self.scene.frame_of(body), self.points[index]
        normals = self.step * np.array([_normal(self.stretches[n]) for n in index])
        if frame.cuts:  # a silhouette may lie in the cut plane itself: ask just behind it
            points = points - 0.1 * self.step * np.array(frame.toward)
        sides = self.scene.contains(body, np.concatenate((points + normals, points - normals)))
        return np.asarray(sides[: len(index)] != sides[len(index) :])

    def _hidden(self, points: Array, alongs: Array) -> Truth:
        """Tell which curves have material before them on both their sides."""
        if not len(points):
            return np.zeros(0, dtype=bool)
        (x, y, z), (a, b, c) = alongs.T, self.scene.frame.toward
        aside = 0.1 * self.step * _units(np.stack((y * c - z * b, z * a - x * c, x * b - y * a), axis=1))
        both = self.scene.hidden(np.concatenate((points + aside, points - aside)), self.thick)
        return np.asarray(both[: len(points)] & both[len(points) :])


def _normal(stretch: Stretch) -> tuple[float, float, float]:
    limb: Limb = stretch.offer.curve  # type: ignore[assignment]
    return limb.normal(stretch.middle)


def _units(vectors: Array) -> Array:
    lengths = np.sqrt((vectors * vectors).sum(axis=1))
    return np.asarray(vectors / np.maximum(lengths, 1e-300)[:, None])
