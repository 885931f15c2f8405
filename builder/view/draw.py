"""Draws a view of a part's bodies: projection, thread style, hatching, axes and what is drawn directly."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from builder.body.solid import Body
from builder.body.vectors import Array, Truth
from builder.view.axes import axes_of
from builder.view.catalogue import thread_styles
from builder.view.drafting import Drafting
from builder.view.flats import diagonals
from builder.view.frame import Cut, Frame
from builder.view.hatching import hatch
from builder.view.kind import ViewKind
from builder.view.merge import Edge, merge
from builder.view.offer import Offer, cuts_of, edges_of, limbs_of
from builder.view.projection import project
from builder.view.regions import shapes_of
from builder.view.scene import Scene
from builder.view.thread_style import ThreadStyle
from builder.view.view import View
from builder.words.regions import Region
from builder.words.roles import Role
from builder.words.shapes import Line, Point, Shape, bounds_of

HATCH_LINES = 16  # about so many across a part (common practice, no source)
# Adjacent bodies differ in direction, then in spacing (ISO 128); spacing as a share of the usual.
_PATTERNS = ((45.0, 1.0), (135.0, 1.0), (45.0, 0.6), (135.0, 0.6), (45.0, 1.5), (135.0, 1.5))


@dataclass(frozen=True, slots=True)
class Look:
    """What is to be drawn of bodies: a kind of view, rolled by radians about the axis.

    `hidden` names the features whose hidden lines show, None all.
    """

    kind: ViewKind
    roll: float
    hidden: frozenset[str] | None
    drafting: Drafting

    @property
    def frame(self) -> Frame:
        """Return the way that the view looks."""
        return self.kind.look(self.roll)

    @property
    def style(self) -> ThreadStyle:
        """Return the style in which threads are drawn."""
        return thread_styles()[self.drafting.thread_style]

    def shows_hidden(self, feature: str) -> bool:
        """Tell whether a feature's hidden lines are drawn."""
        return self.drafting.hidden_lines and (self.hidden is None or feature in self.hidden)


def draw(bodies: Sequence[Body], look: Look, drawn: Sequence[Shape | Region] = ()) -> View:
    """Return a view of bodies in their own unit, and of shapes that are drawn directly."""
    return finished(bodies, look, projected(bodies, look), drawn)


def projected(bodies: Sequence[Body], look: Look) -> tuple[Edge, ...]:
    """Return the edges that a view shows, visible and hidden, threads drawn in their style."""
    if not bodies:
        return ()
    scene = Scene(tuple(bodies), look.frame)
    offers = [
        (body, offer)
        for body in scene.bodies
        for offer in _offers(body, scene.frame_of(body), look.style, look.drafting)
    ]
    return merge(shape for _, shape in project(scene, offers, look.shows_hidden))


def finished(bodies: Sequence[Body], look: Look, edges: tuple[Edge, ...], drawn: Sequence[Shape | Region]) -> View:
    """Return the view whose edges have been found: hatched, with axes, and with what is drawn directly."""
    shapes: list[Shape] = [*edges]
    if edges:  # or there is no body, or all of it is cut away
        scene = Scene(tuple(bodies), look.frame)
        if scene.frame.cuts:
            shapes.extend(_hatching(scene, look.style, edges, look.drafting))
        shapes.extend(axes_of(scene, bounds_of(edges), look.drafting.axis_overhang))
    shapes.extend(shape for shape in drawn if not isinstance(shape, Region))
    for region in (shape for shape in drawn if isinstance(shape, Region)):
        bounds = bounds_of(region.edges)
        shapes.extend(shapes_of(region, _spacing(max(bounds.width, bounds.height), look.drafting)))
    return View(look.kind.name, tuple(look.kind.finish(shapes, look.drafting)))


def _spacing(size: float, drafting: Drafting) -> float:
    least, most = drafting.hatch_spacing
    return min(max(size / HATCH_LINES, least), most)


def outlines(bodies: Sequence[Body], frame: Frame) -> tuple[Edge, ...]:
    """Return the projected edges alone, visible and hidden: no thread style, flats, hatching or axes."""
    scene = Scene(tuple(bodies), frame)
    offers = [(body, offer) for body in bodies for offer in _edges(body, scene.frame_of(body))]
    return merge(shape for _, shape in project(scene, offers, lambda feature: True))


def _edges(body: Body, frame: Frame) -> Iterator[Offer]:
    yield from edges_of(body)
    yield from limbs_of(body, frame)
    if frame.cuts:
        yield from cuts_of(body, frame)


def _offers(body: Body, frame: Frame, style: ThreadStyle, drafting: Drafting) -> Iterator[Offer]:
    for offer in _edges(body, frame):
        if not any(style.replaces(offer, mark, frame) for mark in body.threads):
            yield offer
    for mark in body.threads:
        yield from style.lines(mark, frame, drafting.thread_gap)
    yield from diagonals(body, frame)


def _hatching(scene: Scene, style: ThreadStyle, edges: tuple[Edge, ...], drafting: Drafting) -> Iterator[Shape]:
    usual = _spacing(scene.size, drafting)
    if scene.frame.cut is Cut.HALF:
        extent = bounds_of(edges)
        edges = (*edges, Line(Point(extent.left, 0.0), Point(extent.right, 0.0), Role.AXIS))
    for n, body in enumerate(body for body in scene.bodies if not body.whole):
        degrees, share = _PATTERNS[n % len(_PATTERNS)]
        yield from hatch(edges, _CutFace(scene, body, style), max(usual * share, drafting.hatch_spacing[0]), degrees)


class _CutFace:
    """Tells which points of the cut plane are in a body's cut face and in nobody's shade."""

    def __init__(self, scene: Scene, body: Body, style: ThreadStyle) -> None:
        self.scene, self.body, self.style = scene, body, style

    def __call__(self, points: Array) -> Truth:
        frame, margin = self.scene.frame, 1e-7 * self.scene.size
        behind, before = frame.spaces(points, -margin), frame.spaces(points, margin)
        filled = self.body.contains(behind) & self.body.contains(before) & frame.removed(before)
        if any(body.whole for body in self.scene.bodies):
            filled &= ~self.scene.hidden(before, 1e-4 * self.scene.size)
        for mark in self.body.threads:
            filled &= ~np.array([self.style.empty(mark, frame, x, y) for x, y in points.tolist()], dtype=bool)
        return filled
