"""A six-lobe socket (hexalobular internal driving feature, ISO 10664)."""

import math

from builder.body.contour import Bow, Loop, bows
from builder.body.drives import SOCKET, socket
from builder.body.feature import Impossible, Lowered, Parameter, Values, require_positive
from builder.body.statement import Pattern, Statement, span
from builder.body.statement import socket as stated_socket

KIND = "six_lobe"
DOC = "A six-lobe socket: six rounded lobes and six hollows between them, tangent to each other."
THREADED = False
PARAMETERS = (
    Parameter("diameter", "Diameter over the lobes: A of ISO 10664."),
    Parameter("inner", "Diameter between the hollows: B of ISO 10664."),
    Parameter(
        "lobe_radius",
        "Radius of a lobe; unless stated 0.08 A, about the mean of the gauges of ISO 10664.",
        required=False,
        default="0.08 * diameter",
    ),
    *SOCKET,
)


def lower(values: Values) -> Lowered:
    """Lower to the socket's prism; the drilled floor lies in the circle between the hollows."""
    require_positive(values, "diameter", "inner", "lobe_radius")
    return socket(values, outline(values), values["inner"] / 2.0)


def outline(values: Values) -> Loop:
    """Return lobes and hollows in turn; the hollows' radius is the one that makes them tangent."""
    outer, inner, lobe = values["diameter"] / 2.0, values["inner"] / 2.0, values["lobe_radius"]
    if inner >= outer:
        raise Impossible("inner", f"inner {2 * inner:g} with {2 * outer:g} over the lobes", "must be smaller")
    # centres at a (lobe) and inner + r (hollow), 30 degrees apart, are lobe + r from each other: the cosine rule
    a, c = outer - lobe, math.cos(math.radians(30.0))
    room = a * c + lobe - inner
    hollow = (a * a + inner * inner - lobe * lobe - 2.0 * a * inner * c) / (2.0 * room) if room > 0.0 else 0.0
    if hollow <= 0.0:
        wrong = f"lobes of radius {lobe:g} on {2 * outer:g} meet no hollow at {2 * inner:g}"
        raise Impossible("lobe_radius", wrong, "must leave room for hollows between the lobes")
    pieces: list[Bow] = []
    for n in range(6):
        centre, after = _spot(a, 60.0 * n), _spot(inner + hollow, 60.0 * n + 30.0)
        start = _between(centre, _spot(inner + hollow, 60.0 * n - 30.0), lobe)
        end, on = _between(centre, after, lobe), _between(_spot(a, 60.0 * n + 60.0), after, lobe)
        pieces += bows(start, end, centre, left=True)
        pieces += bows(end, on, after, left=False)
    return tuple(pieces)


def _spot(radius: float, degrees: float) -> tuple[float, float]:
    return radius * math.cos(math.radians(degrees)), radius * math.sin(math.radians(degrees))


def _between(p: tuple[float, float], q: tuple[float, float], off: float) -> tuple[float, float]:
    """Return the place on the way from p to q at a distance from p."""
    share = off / math.dist(p, q)
    return p[0] + (q[0] - p[0]) * share, p[1] + (q[1] - p[1]) * share


def stated(values: Values) -> tuple[Statement, ...]:
    """State the lobes as an end view shows them: arcs about a circle of centres."""
    lobe, depth = 2.0 * values["lobe_radius"], span(values["from"], values["to"])
    centres = values["diameter"] - lobe
    return Pattern(lobe, centres, 6, 0.0, *depth, parameter="lobe_radius"), *stated_socket(values, values["inner"])
