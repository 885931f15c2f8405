"""Projects bodies: which curves are real edges, which stretches of them are seen, which are hidden.

Every solid offers its edges and silhouettes; their images are cut where they cross; a stretch is kept where the body
around it has an edge, and hidden where material lies between it and the viewer.
"""

from collections.abc import Callable, Iterable, Iterator
from itertools import pairwise

from builder.body.curves import RingArc
from builder.body.solid import Body
from builder.view.ellipses import ellipse_of, is_aslant
from builder.view.flat import Flat, lay
from builder.view.frame import Cut, Frame
from builder.view.halves import halves_of
from builder.view.offer import Kind, Offer
from builder.view.places import cut_places
from builder.view.scene import Scene
from builder.view.sight import Sight, Stretch
from builder.words.roles import Role
from builder.words.shapes import Arc, Ellipse, Line, Point

Edge = Line | Arc | Ellipse

FIT = 2e-4  # of a body's size: how close arcs come to a curve that is none
PIN = 2e-3  # of a body's size: how near to an image the end of a silhouette counts as on it


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
        Stretch(body, offer, flat, t0, t1)
        for (body, offer, flat), cuts in zip(laid, places, strict=True)
        for t0, t1 in pairwise(cuts)
    ]
    for stretch, role in _joined(zip(stretches, Sight(scene, stretches).roles(shows_hidden), strict=True)):
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


def _joined(found: Iterable[tuple[Stretch, Role | None]]) -> Iterator[tuple[Stretch, Role]]:
    """Join neighbours of one role on one image: a curve is cut only where it must be."""
    held: tuple[Stretch, Role] | None = None
    for stretch, role in found:
        if held and held[1] is role and held[0].leads_to(stretch):
            first = held[0]
            held = Stretch(first.body, first.offer, first.flat, first.t0, stretch.t1), held[1]
            continue
        if held:
            yield held
        held = (stretch, role) if role is not None else None
    if held:
        yield held


def _drawn(stretch: Stretch, frame: Frame, role: Role) -> Edge:
    curve = stretch.offer.curve
    if isinstance(curve, RingArc) and is_aslant(curve, frame):
        return ellipse_of(curve, frame, stretch.t0, stretch.t1, role)
    shape = stretch.flat.part(stretch.t0, stretch.t1)
    if isinstance(shape, Line):
        return Line(shape.start, shape.end, role)
    return Arc(shape.centre, shape.radius, shape.start, shape.end, role)
