"""Draws a view of a body: projection, thread style, hatching and axes, in that order."""

from collections.abc import Iterator

from builder.body.solid import Body
from builder.view.catalogue import thread_styles
from builder.view.drafting import Drafting, axes
from builder.view.frame import Frame
from builder.view.hatching import Edge, hatch
from builder.view.kind import ViewKind
from builder.view.merge import merge
from builder.view.projection import Offer, offers_of, project
from builder.view.thread_style import ThreadStyle
from builder.view.view import View
from builder.words.shapes import Point, Shape, bounds_of

HATCH_LINES = 16  # about so many across a part (common practice, no source)


def draw(body: Body, kind: ViewKind, hidden: frozenset[str] | None, drafting: Drafting) -> View:
    """Return a view of a body in its own unit; `hidden` names the features whose hidden lines show, None all."""
    style, frame = thread_styles()[drafting.thread_style], kind.frame
    offers = _offers(body, frame, style, drafting)
    edges = merge(project(body, frame, offers, lambda feature: hidden is None or feature in hidden))
    shapes: list[Shape] = [*edges]
    if frame.cut:
        shapes.extend(_hatching(body, frame, style, edges, drafting))
    shapes.extend(axes(frame, bounds_of(edges), drafting.axis_overhang))
    return View(kind.name, tuple(shapes))


def _offers(body: Body, frame: Frame, style: ThreadStyle, drafting: Drafting) -> Iterator[Offer]:
    for offer in offers_of(body, frame):
        if not any(style.replaces(offer, mark, frame) for mark in body.threads):
            yield offer
    for mark in body.threads:
        yield from style.lines(mark, frame, drafting.thread_gap)


def _hatching(
    body: Body, frame: Frame, style: ThreadStyle, edges: tuple[Edge, ...], drafting: Drafting
) -> tuple[Shape, ...]:
    behind = -1e-7 * body.size

    def filled(point: Point) -> bool:
        empty = any(style.empty(mark, frame, point) for mark in body.threads)
        return not empty and body.contains(frame.space(point, behind))

    least, most = drafting.hatch_spacing
    return hatch(edges, filled, min(max(body.size / HATCH_LINES, least), most))
