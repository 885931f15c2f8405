"""A shop standard and a few views entered by hand: pictures are tested without the stations before them.

The bolt is drawn to ISO 4014 (M12: s 18, k 7.5; b 30 up to 125 long), the socket screw to ISO 4762
(M12: dk 18, k 12, s 10, t 6), both from memory; the bush, the flanges and the rods are invented. Line widths and
patterns as in ISO 128-2: wide to narrow 2:1, dashed 12d 3d, long-dash dot 24d 3d 0.5d 3d.
"""

import math

from builder.block.block import Block
from builder.definition.shop import LineStyle, LineType, Shop, TextStyle
from builder.view.view import View
from builder.words.roles import Role
from builder.words.shapes import Arc, Circle, Ellipse, Line, Point, Shape, arc_through
from builder.words.units import Unit

LINETYPES = {
    "CONTINUOUS": LineType("CONTINUOUS", "", ()),
    "DASHED": LineType("DASHED", "dashed", (3.0, -0.75)),
    "CHAIN": LineType("CHAIN", "long-dash dot", (6.0, -0.75, 0.125, -0.75)),
}
ROLES = {
    Role.OUTLINE: LineStyle("OUTLINE", 7, "CONTINUOUS", 0.5),
    Role.THREAD: LineStyle("THREAD", 3, "CONTINUOUS", 0.25),
    Role.HIDDEN: LineStyle("HIDDEN", 4, "DASHED", 0.25),
    Role.AXIS: LineStyle("AXIS", 1, "CHAIN", 0.25),
    Role.HATCHING: LineStyle("HATCHING", 8, "CONTINUOUS", 0.25),
    Role.TEXT: LineStyle("TEXT", 7, "CONTINUOUS", 0.25),
    Role.NARROW: LineStyle("NARROW", 3, "CONTINUOUS", 0.25),
}


def shop() -> Shop:
    return Shop(
        key="test",
        title="Test",
        dxf="R2010",
        units=None,
        plot_scale=1.0,
        thread_style="simplified",
        hidden_lines=True,
        axis_overhang=3.0,
        layer_zero=False,
        roles=ROLES,
        linetypes=LINETYPES,
        text=TextStyle("TEXT", "txt.shx", 2.5),
        visible=frozenset(),
        defaults={},
        family_defaults={},
        stock=(),
    )


def line(x1: float, y1: float, x2: float, y2: float, role: Role = Role.OUTLINE) -> Line:
    return Line(Point(x1, y1), Point(x2, y2), role)


def both(x1: float, y1: float, x2: float, y2: float, role: Role = Role.OUTLINE) -> tuple[Line, Line]:
    """A line and its mirror image below the axis."""
    return line(x1, y1, x2, y2, role), line(x1, -y1, x2, -y2, role)


def rectangle(left: float, bottom: float, right: float, top: float, role: Role = Role.OUTLINE) -> tuple[Line, ...]:
    corners = [Point(left, bottom), Point(right, bottom), Point(right, top), Point(left, top)]
    return tuple(Line(a, b, role) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True))


def bolt_side(d: float = 12.0, length: float = 60.0, s: float = 18.0, k: float = 7.5, b: float = 30.0) -> View:
    """A hexagon head bolt, across corners."""
    half, root, point = s / math.sqrt(3), 0.425 * d, 0.075 * d
    drop = s / 2 * (2 / math.sqrt(3) - 1) * math.tan(math.radians(30))
    shapes: list[Shape] = [
        line(0, -half, 0, half),
        *both(-k + drop, half, 0, half),
        *both(-k + drop, half / 2, 0, half / 2),
        line(-k, -s / 2, -k, s / 2),
        *both(-k, s / 2, -k + drop, half),
        arc_through(Point(-k + drop, half / 2), Point(-k, 0), Point(-k + drop, -half / 2), Role.OUTLINE),
        *both(0, d / 2, length - point, d / 2),
        line(length - b, -d / 2, length - b, d / 2),
        line(length - point, -d / 2, length - point, d / 2),
        line(length, -root, length, root),
        *both(length - point, d / 2, length, root),
        *both(length - b, root, length, root, Role.THREAD),
        line(-k - 3, 0, length + 3, 0, Role.AXIS),
    ]
    for sign in (1, -1):
        ends = Point(-k + drop, sign * half / 2), Point(-k + drop, sign * half)
        shapes.append(arc_through(ends[0], Point(-k, sign * half * 0.75), ends[1], Role.OUTLINE))
    return View("side", tuple(shapes))


def bolt_end(d: float = 12.0, s: float = 18.0) -> View:
    """The same bolt from its point."""
    e = 2 * s / math.sqrt(3)
    corners = [Point(e / 2 * math.cos(math.radians(a)), e / 2 * math.sin(math.radians(a))) for a in range(30, 390, 60)]
    hexagon = [Line(a, b, Role.OUTLINE) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True)]
    return View(
        "end",
        (
            *hexagon,
            Circle(Point(0, 0), s / 2, Role.OUTLINE),
            Circle(Point(0, 0), d / 2, Role.OUTLINE),
            Arc(Point(0, 0), 0.425 * d, 100, 350, Role.THREAD),
            line(-e / 2 - 3, 0, e / 2 + 3, 0, Role.AXIS),
            line(0, -e / 2 - 3, 0, e / 2 + 3, Role.AXIS),
        ),
    )


def threaded_rod(pitch: float, turns: int, d: float = 12.0) -> View:
    """A rod with its thread turn by turn: V profile, crests as wide and roots as narrow sloped lines."""
    length, root = pitch * turns, d / 2 - pitch * 0.866
    shapes: list[Shape] = [line(x, -d / 2, x, d / 2) for x in (0, length)]
    for turn in range(turns):
        x, half = pitch * turn, pitch / 2
        shapes += [*both(x, d / 2, x + half, root), *both(x + half, root, x + pitch, d / 2)]
        shapes.append(line(x, d / 2, x + half, -d / 2))
        shapes.append(line(x + half, root, x + pitch, -root, Role.THREAD))
    return View("side", tuple(shapes))


def schematic_rod(step: float, turns: int, d: float = 12.0) -> View:
    """A rod with long narrow and short wide lines across it, in turn, a plain end on the left, a chamfer."""
    length = step * (turns + 1)
    shapes: list[Shape] = [line(x, -d / 2, x, d / 2) for x in (-d, 0)]
    shapes += both(-d, d / 2, length - 1, d / 2)
    shapes += [*both(length - 1, d / 2, length, 0.3 * d), line(length, -0.3 * d, length, 0.3 * d)]
    for turn in range(1, turns + 1):
        reach, role = (d / 2, Role.THREAD) if turn % 2 == 0 else (0.3 * d, Role.OUTLINE)
        shapes.append(line(step * turn, -reach, step * turn, reach, role))
    return View("side", tuple(shapes))


def socket_screw_side() -> View:
    """A socket head cap screw M12 x 40 with its socket in hidden lines."""
    d, length, k, head, across, deep = 12.0, 40.0, 12.0, 9.0, 5.0 * 2 / math.sqrt(3), 6.0
    return View(
        "side",
        (
            *rectangle(-k, -head, 0, head),
            *both(0, d / 2, length - 0.9, d / 2),
            line(length - 0.9, -d / 2, length - 0.9, d / 2),
            line(length, -5.1, length, 5.1),
            *both(length - 0.9, d / 2, length, 5.1),
            line(4, -d / 2, 4, d / 2),
            *both(4, 5.1, length, 5.1, Role.THREAD),
            *both(-k, across, -k + deep, across, Role.HIDDEN),
            *both(-k, across / 2, -k + deep, across / 2, Role.HIDDEN),
            line(-k + deep, -across, -k + deep, across, Role.HIDDEN),
            *both(-k + deep, across, -k + deep + 2.5, 0, Role.HIDDEN),
            line(-k - 3, 0, length + 3, 0, Role.AXIS),
        ),
    )


def bush_section(outer: float = 30.0, inner: float = 16.0, length: float = 40.0, spacing: float = 2.0) -> View:
    """A plain bush in section, hatched at 45 degrees."""
    shapes: list[Shape] = [
        *rectangle(0, inner, length, outer),
        *rectangle(0, -outer, length, -inner),
        *both(0, inner, 0, 0),
        *both(length, inner, length, 0),
        line(-3, 0, length + 3, 0, Role.AXIS),
    ]
    step = spacing * math.sqrt(2)
    for low, high in ((inner, outer), (-outer, -inner)):
        for count in range(-120, 120):
            offset = count * step  # y = x + offset
            left, right = max(0.0, low - offset), min(length, high - offset)
            if right - left > 1e-6:
                shapes.append(line(left, left + offset, right, right + offset, Role.HATCHING))
    return View("section", tuple(shapes))


def washer_side(thick: float = 2.5, outer: float = 24.0, bore: float = 13.0) -> View:
    """A washer ISO 7089-12, its bore in hidden lines."""
    return View(
        "side",
        (
            *rectangle(0, -outer / 2, thick, outer / 2),
            *both(0, bore / 2, thick, bore / 2, Role.HIDDEN),
            line(-3, 0, thick + 3, 0, Role.AXIS),
        ),
    )


def hidden_flange() -> View:
    """A flange from the front with a hidden ring and a bolt circle."""
    holes = [Point(30 * math.cos(math.radians(a)), 30 * math.sin(math.radians(a))) for a in (45, 135, 225, 315)]
    return View(
        "end",
        (
            Circle(Point(0, 0), 40, Role.OUTLINE),
            Circle(Point(0, 0), 12, Role.OUTLINE),
            Circle(Point(0, 0), 20, Role.HIDDEN),
            Circle(Point(0, 0), 30, Role.AXIS),
            *(Circle(hole, 4, Role.OUTLINE) for hole in holes),
            *(line(h.x - 6, h.y, h.x + 6, h.y, Role.AXIS) for h in holes),
            *(line(h.x, h.y - 6, h.x, h.y + 6, Role.AXIS) for h in holes),
            line(-44, 0, 44, 0, Role.AXIS),
            line(0, -44, 0, 44, Role.AXIS),
        ),
    )


def drilled_rod(d: float = 24.0, length: float = 60.0, hole: float = 10.0, turned: float = 50.0) -> View:
    """A rod with a cross hole and a milled flat, turned about its axis: the hole's rims are drawn as ellipses."""
    reach, lean = d / 2, math.radians(turned)
    ratio, off = math.cos(lean), reach * math.sin(lean)

    def rim(x: float, y: float, start: float, end: float, role: Role) -> Ellipse:
        return Ellipse(Point(x, y), Point(hole / 2, 0), ratio, start, end, role)

    return View(
        "side",
        (
            *rectangle(0, -reach, length, reach),
            rim(length / 3, -off + 4, 0, 360, Role.OUTLINE),
            rim(length / 3, off - 4, 0, 360, Role.HIDDEN),
            Ellipse(Point(0.75 * length, 0), Point(0, 0.8 * reach), 0.4, 90, 270, Role.OUTLINE),
            Ellipse(Point(0.75 * length, 0), Point(0, 0.8 * reach), 0.4, 270, 450, Role.HIDDEN),
            line(0.55 * length, 0.7 * reach, 0.66 * length, -0.7 * reach, Role.NARROW),
            line(0.55 * length, -0.7 * reach, 0.66 * length, 0.7 * reach, Role.NARROW),
            line(-3, 0, length + 3, 0, Role.AXIS),
        ),
    )


def tilted_flange(lean: float = 40.0, about: float = 25.0) -> View:
    """A flange seen at a slant: every circle an ellipse, a hidden ring, a pitch circle, four holes."""
    ratio, turn = math.cos(math.radians(lean)), math.radians(about)
    ways = math.cos(turn), math.sin(turn)

    def ring(x: float, y: float, radius: float, role: Role) -> Ellipse:
        return Ellipse(Point(x, y), Point(radius * ways[0], radius * ways[1]), ratio, 0, 360, role)

    whole = ring(0, 0, 30, Role.AXIS)
    holes = [ring(*whole.at(angle), 4, Role.OUTLINE) for angle in (45, 135, 225, 315)]
    rings = [ring(0, 0, radius, role) for radius, role in ((40, Role.OUTLINE), (12, Role.OUTLINE), (20, Role.HIDDEN))]
    return View("end", (*rings, whole, *holes, line(-44, 0, 44, 0, Role.AXIS)))


def block(view: View, name: str = "TEST-1", size: str = "M12", length: float | None = 60.0, caption: str = "") -> Block:
    designation = f"Hexagon head bolt ISO 4014 - {size} x {length:g} - 8.8" if length else f"ISO 4032 - {size} - 8"
    return Block(
        name=name,
        family="iso-4014",
        title="Hexagon head bolt",
        standard="ISO 4014",
        size=size,
        length=length,
        view=view,
        thread=size,
        units=Unit.MM,
        designation=caption or designation,
        dimensions={},
        attributes=(),
        fingerprint="",
    )
