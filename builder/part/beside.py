"""What a view from beside the axis must show of a part, cut or not."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from builder.body.statement import Bow, Disturbed, Prism, Round, Threaded
from builder.part.covers import Cover, Covers, Span
from builder.part.looks import Conventions, Look
from builder.part.stating import Said
from builder.words.measures import Measure, Shown
from builder.words.roles import Role


@dataclass(frozen=True, slots=True)
class Beside:
    """One view from beside the axis; yields its measures."""

    said: Sequence[Said]
    covers: Covers
    look: Look
    conventions: Conventions
    dimensions: Mapping[str, float]

    def measures(self) -> Iterator[Measure]:
        """Yield what shows; of a broken view what needs no place along the axis."""
        for one in self.said:
            match one.statement:
                case Round():
                    yield from self._round(one, one.statement)
                case Prism():
                    yield from self._prism(one, one.statement)
                case Bow():
                    yield from self._bow(one, one.statement)
                case Threaded():
                    yield from self._thread(one, one.statement)
                case Disturbed() if one.statement.diameter:
                    yield from self._hole(one, one.statement)
        yield from self._faces()

    def _cut(self, one: Said) -> str:
        return "" if one.whole else self.look.cut

    def _inner(self, one: Said) -> tuple[tuple[Role, ...], bool] | None:
        """Return the roles of what lies inside, and whether above the axis only; None where nothing of it is drawn."""
        if cut := self._cut(one):
            return (Role.OUTLINE,), cut == "half"
        return ((Role.HIDDEN,), False) if self.conventions.shows_hidden(one.feature) else None

    def _round(self, one: Said, turned: Round) -> Iterator[Measure]:
        detailed = self.conventions.thread_style == "detailed" and turned.thread
        inner = self._inner(one) if turned.void and not turned.ring else ((Role.OUTLINE,), False)
        if inner is None or (detailed and (not turned.void or self._cut(one))):
            return
        roles, half = inner
        span, low = (turned.start, turned.end), min(turned.first, turned.last) / 2.0
        if turned.ring:
            clear = [] if self.covers.touched(turned.start) or self.covers.touched(turned.end) else [span]
        elif turned.void:
            clear = self.covers.clear_inside(span, low, one)
        else:
            clear = self.covers.clear(span, low, one)
        if turned.first == turned.last:
            yield from self._across(one, turned.parameter, turned.first, clear, roles, half)
        elif clear == [span]:
            ends = turned.first, turned.last
            yield self._slant(one, span, ends, roles, half)

    def _across(
        self, one: Said, name: str, value: float, clear: Sequence[Span], roles: tuple[Role, ...], half: bool = False
    ) -> Iterator[Measure]:
        start, end = max(clear, key=lambda span: span[1] - span[0], default=(0.0, 0.0))
        if end - start > 10.0 * self.covers.slack and value > self.covers.slack:
            across = Measure(one.feature, name, one.symbol(name), value, Shown.ACROSS, roles, start, end, half=half)
            yield replace(across, start=None, end=None) if self.look.broken else across

    def _slant(self, one: Said, span: Span, ends: Span, roles: tuple[Role, ...], half: bool = False) -> Measure:
        angle = math.degrees(math.atan2(abs(ends[1] - ends[0]) / 2.0, span[1] - span[0]))
        return Measure(one.feature, "angle", "", angle, Shown.SLANT, roles, *span, ends, half=half)

    def _prism(self, one: Said, prism: Prism) -> Iterator[Measure]:
        inner = self._inner(one) if prism.void else ((Role.OUTLINE,), False)
        reach = prism_reach(prism, self.look.turn)
        aligned = is_aligned(prism, self.look.turn)
        if inner is None or prism.faces % 2 or (self._cut(one) and not aligned):
            return
        name = "across corners" if math.isclose(reach, prism.corner) else "width"
        name = prism.parameter if math.isclose(2.0 * reach, prism.across) else name
        depths = [max(0.0, self._depth(prism, circle, prism.corner)) for circle in prism.circles]
        span = prism.start + depths[0], prism.end - depths[1]
        clear = self.covers.clear_inside(span, reach, one) if prism.void else self.covers.clear(span, reach, one)
        yield from self._across(one, name, 2.0 * reach, clear, *inner)
        for n, circle in enumerate(prism.circles):
            depth = self._depth(prism, circle, reach)
            if not aligned or depth <= self.covers.slack or prism.faces > 8:
                continue
            span = (prism.end - depth, prism.end) if n else (prism.start, prism.start + depth)
            ends = (2.0 * reach, circle) if n else (circle, 2.0 * reach)
            if self.covers.clear(span, reach, one) == [span]:
                yield replace(self._slant(one, span, ends, *inner), name="chamfer_angle")

    def _depth(self, prism: Prism, circle: float, reach: float) -> float:
        return (reach - circle / 2.0) * math.tan(math.radians(prism.angle)) if circle else 0.0

    def _bow(self, one: Said, bow: Bow) -> Iterator[Measure]:
        inner = self._inner(one) if bow.void else ((Role.OUTLINE,), False)
        if inner is None or not bow.radius or (not bow.ring and self.covers.touched(bow.start)):
            return
        clear = [(bow.start, bow.end)]
        if not (bow.ring or bow.void):
            clear = self.covers.clear(clear[0], bow.high / 2.0, one)
        if clear:
            name = bow.parameter
            symbol, roles, half = one.symbol(name), *inner
            across = (2.0 * bow.off,)
            yield Measure(
                one.feature, name, symbol, bow.radius, Shown.ARC, roles, bow.at, across=across, half=half or not bow.off
            )

    def _thread(self, one: Said, thread: Threaded) -> Iterator[Measure]:
        cut, style = self._cut(one), self.conventions.thread_style
        span = thread.lead_in, thread.lead_out
        if style == "detailed" and (thread.external or cut):
            if span[1] - span[0] > 2.0 * thread.pitch and not self.covers.touched(span[0]):
                across = (thread.major,)
                half = cut == "half" and not thread.external
                pitch = Measure(one.feature, "pitch", one.symbol("pitch"), thread.pitch, Shown.PITCH, (Role.OUTLINE,))
                yield replace(pitch, start=span[0], end=span[1], across=across, half=half)
        else:
            yield from self._root(one, thread, cut)
        yield from self._limits(one, thread, cut)

    def _root(self, one: Said, thread: Threaded, cut: str) -> Iterator[Measure]:
        style, half = self.conventions.thread_style, cut == "half" and not thread.external
        value, name = self._root_of(thread)
        role = self.conventions.root_role()
        if not thread.external and not cut:
            if not self.conventions.shows_hidden(one.feature):
                return
            role = Role.HIDDEN
        elif style == "schematic":
            if not (cut and thread.external):
                return
            half = cut == "half"
        clear = [] if self.covers.touched(thread.start) else [(thread.lead_in, thread.lead_out)]
        yield from self._across(one, name, value, clear, (role,), half)

    def _root_of(self, thread: Threaded) -> tuple[float, str]:
        if not thread.external:
            return thread.major, "diameter"
        root = self.conventions.root(thread.major, thread.minor)
        return root, "minor_diameter" if root == thread.minor else "drawn root"

    def _limits(self, one: Said, thread: Threaded, cut: str) -> Iterator[Measure]:
        inner = self._inner(one) if not thread.external else ((Role.OUTLINE,), False)
        if inner is None or self.look.broken:
            return
        low = self._root_of(thread)[0] if cut and thread.external else 0.0
        if self.conventions.thread_style == "schematic" and cut:
            low = self.conventions.root(thread.major, thread.minor)
        across = () if self.conventions.thread_style == "detailed" else (low, thread.major)
        for x in thread.limits:
            yield self._face(one, x, across, *inner)

    def _face(
        self, one: Said, x: float, across: tuple[float, ...], roles: tuple[Role, ...], half: bool = False
    ) -> Measure:
        for name in ("from", "to", "at"):
            symbol = one.symbol(name)
            if symbol and math.isclose(abs(self.dimensions[symbol]), abs(x), abs_tol=self.covers.slack):
                return Measure(one.feature, name, symbol, x, Shown.FACE, roles, across=across, half=half)
        return Measure(one.feature, "face", "", x, Shown.FACE, roles, across=across, half=half)

    def _faces(self) -> Iterator[Measure]:
        if self.look.broken:
            return
        for cover in self.covers.solids:
            for x, way, radius in self._ends(cover):
                yield from self._solid_face(cover, x, way, radius)
        for cover in self.covers.hollows:
            for x, way, radius in self._ends(cover):
                yield from self._floor(cover, x, way, radius)

    def _ends(self, cover: Cover) -> Iterator[tuple[float, float, float]]:
        """Yield the ends of a cylinder, cone or prism: place, way out, how far from the axis it reaches there."""
        statement = cover.said.statement
        if isinstance(statement, Round):
            yield statement.start, -1.0, statement.first / 2.0
            yield statement.end, 1.0, statement.last / 2.0
        elif isinstance(statement, Prism) and (not self._cut(cover.said) or is_aligned(statement, self.look.turn)):
            reach = prism_reach(statement, self.look.turn)
            for x, way, circle in zip((cover.start, cover.end), (-1.0, 1.0), statement.circles, strict=True):
                yield x, way, min(reach, circle / 2.0) if circle else reach

    def _solid_face(self, cover: Cover, x: float, way: float, radius: float) -> Iterator[Measure]:
        covers, one, slack = self.covers, cover.said, 2.0 * self.covers.slack
        outside = covers.beyond(x, way, covers.solids, one)
        inside = covers.beyond(x, -way, covers.solids, one)
        if radius <= slack or outside > radius - slack or inside > radius + slack or covers.buried(x):
            return
        hollow = max(covers.beyond(x, side, covers.hollows) for side in (way, -way))
        if hollow > radius - slack:
            return
        low = max(outside, hollow) if self._cut(one) else 0.0
        across: tuple[float, ...] = (2.0 * low, 2.0 * radius)
        turned = one.statement
        broken_off = any(c.start - slack <= x <= c.end + slack for c in covers.rings) or covers.touched(x)
        profiled = isinstance(turned, Round) and turned.thread and self.conventions.thread_style == "detailed"
        yield self._face(one, x, () if broken_off or profiled else across, (Role.OUTLINE,))

    def _floor(self, cover: Cover, x: float, way: float, radius: float) -> Iterator[Measure]:
        covers, one, slack = self.covers, cover.said, 2.0 * self.covers.slack
        inner = self._inner(one)
        filled = covers.beyond(x, way, [c for c in covers.solids if c.said.body == one.body])
        hollow = covers.beyond(x, way, covers.hollows, one)
        same = covers.beyond(x, -way, covers.hollows, one)
        if (
            inner is None
            or radius <= slack
            or filled <= radius + slack
            or hollow > radius - slack
            or same > radius + slack
        ):
            return
        profiled = isinstance(one.statement, Round) and one.statement.thread
        across = () if profiled or covers.touched(x) else (2.0 * hollow, 2.0 * radius)
        yield self._face(one, x, across, *inner)

    def _hole(self, one: Said, hole: Disturbed) -> Iterator[Measure]:
        toward = (hole.looks - self.look.turn - 90.0) % 360.0
        if self.look.broken or self._cut(one) or not (toward == 0.0 or (hole.both and toward == 180.0)):
            return
        middle = (hole.start + hole.end) / 2.0
        symbol = one.symbol("diameter")
        yield Measure(one.feature, "diameter", symbol, hole.diameter, Shown.HOLE, (Role.OUTLINE,), middle)


def prism_reach(prism: Prism, direction: float) -> float:
    """Return how far a prism reaches in a direction from up."""
    step = 360.0 / prism.faces
    off = (direction - prism.at_corner) % step
    return prism.corner * math.cos(math.radians(min(off, step - off)))


def is_aligned(prism: Prism, direction: float) -> bool:
    """Tell whether a direction from up leads to a face's middle or to a corner."""
    off = (direction - prism.at_corner) % (180.0 / prism.faces)
    return min(off, 180.0 / prism.faces - off) < 1e-9
