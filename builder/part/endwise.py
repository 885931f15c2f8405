"""What a view along the axis must show of a part: circles about the axis, straight sides, patterns of holes."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from builder.body.statement import Pattern, Prism, Round, Threaded
from builder.part.covers import Cover, Covers
from builder.part.looks import Conventions, Look
from builder.part.stating import Said
from builder.words.measures import Measure, Shown
from builder.words.roles import Role

_SEEN, _UNSEEN, _EITHER = (Role.OUTLINE,), (Role.HIDDEN,), (Role.OUTLINE, Role.HIDDEN)
_OPEN_TURN = 270.0  # of an open root circle, ISO 6410-1: about three quarters


@dataclass(frozen=True, slots=True)
class Endwise:
    """One view along the axis; yields its measures."""

    said: Sequence[Said]
    covers: Covers
    look: Look
    conventions: Conventions

    def measures(self) -> Iterator[Measure]:
        """Yield what shows; a circle that is seen at one place and hidden at another counts as seen."""
        found = [measure for one in self.said for measure in self._of(one)]
        seen = {round(m.value, 9) for m in found if m.shown is Shown.CIRCLE and m.roles == _SEEN}
        for m in found:
            again = m.shown is Shown.CIRCLE and m.roles == _UNSEEN and round(m.value, 9) in seen
            yield replace(m, roles=_EITHER) if again else m

    def _of(self, one: Said) -> Iterator[Measure]:
        match one.statement:
            case Round():
                yield from self._round(one, one.statement)
            case Prism():
                yield from self._prism(one, one.statement)
            case Threaded():
                yield from self._thread(one, one.statement)
            case Pattern():
                yield from self._pattern(one, one.statement)

    def _roles(self, one: Said, start: float, end: float, radius: float, hollow: bool) -> tuple[Role, ...] | None:
        """Return the roles of a circle or outline at a radius; None where it is hidden and not drawn."""
        clear = self.covers.clear_inside if hollow else self.covers.clear
        ends = [place for span in clear((start, end), radius, one) for place in span]
        if not ends:
            return None
        near = max(ends) if self.look.end > 0 else min(ends)
        blocked = self._blocked(near, radius, hollow, one)
        if blocked is False:
            return _SEEN
        if not self.conventions.shows_hidden(one.feature):
            return None
        return _EITHER if blocked is None else _UNSEEN

    def _blocked(self, near: float, radius: float, hollow: bool, one: Said) -> bool | None:
        """Tell whether others lie between a place and the viewer at a radius; None where it cannot be told."""
        covers, slack = self.covers, self.covers.slack
        unsure = any(self._before(start, end, near) for start, end in covers.added)
        for cover in (*covers.solids, *(c for c in covers.rings if not hollow)):
            if not self._before(cover.start, cover.end, near) or cover.most <= radius + slack:
                continue
            if cover in covers.rings or (cover.said is one and not hollow):
                continue
            left = self._stretch(cover, near)
            if self._bored(left, radius):
                continue
            if cover.least > radius + slack and not self.covers.touched(cover.start):
                return True
            unsure = True
        return None if unsure else False

    def _before(self, start: float, end: float, near: float) -> bool:
        slack = 2.0 * self.covers.slack
        return end > near + slack if self.look.end > 0 else start < near - slack

    def _stretch(self, cover: Cover, near: float) -> tuple[float, float]:
        return (max(cover.start, near), cover.end) if self.look.end > 0 else (cover.start, min(cover.end, near))

    def _bored(self, span: tuple[float, float], radius: float) -> bool:
        """Tell whether hollows at least as wide leave nothing of a stretch."""
        left = [span]
        slack = 2.0 * self.covers.slack
        for hollow in self.covers.hollows:
            if hollow.least >= radius - slack:
                parts = [((a, min(b, hollow.start)), (max(a, hollow.end), b)) for a, b in left]
                left = [(a, b) for pair in parts for a, b in pair if b - a > slack]
        return not left

    def _circle(self, one: Said, name: str, value: float, roles: tuple[Role, ...], turn: float = 360.0) -> Measure:
        return Measure(one.feature, name, one.symbol(name), value, Shown.CIRCLE, roles, turn=turn)

    def _round(self, one: Said, turned: Round) -> Iterator[Measure]:
        if turned.ring or turned.thread == "chamfer" or self.covers.touched(turned.start):
            return
        ends = ((turned.start, -1.0, turned.first, 0), (turned.end, 1.0, turned.last, 1))
        values = {value for x, way, value, n in ends if self._edge(one, turned, x, way, value / 2.0, n)}
        for value in sorted(values):
            roles = self._roles(one, turned.start, turned.end, value / 2.0, turned.void)
            if roles is not None:
                name = turned.parameter if turned.first == turned.last else "end diameter"
                yield self._circle(one, name, value, roles)

    def _edge(self, one: Said, turned: Round, x: float, way: float, radius: float, end: int) -> bool:
        """Tell whether a cylinder or cone ends in an edge: another surface goes on otherwise, or none does."""
        covers, slack = self.covers, 2.0 * self.covers.slack
        if radius <= slack or turned.smooth[end] or covers.touched(x):
            return False
        if any(c.start - slack <= x <= c.end + slack for c in covers.rings):
            return False
        same = covers.hollows if turned.void else covers.solids
        inside = covers.beyond(x, -way, same, one)
        outside = [c for c in same if c.said is not one and c.start < x + way * slack < c.end]
        if inside > radius + slack or any(c.most > radius + slack and c.least < radius - slack for c in outside):
            return False
        if turned.void and covers.beyond(x, -way, covers.solids) < radius - slack:
            return False  # opens where there is no material
        level = turned.first == turned.last
        return not any(self._goes_on(c, level, radius) for c in outside)

    def _goes_on(self, cover: Cover, level: bool, radius: float) -> bool:
        """Tell whether a neighbour's surface may run on smoothly at a radius."""
        slack = 2.0 * self.covers.slack
        meets = any(abs(r - radius) <= slack for r in (cover.least, cover.most))
        straight = isinstance(cover.said.statement, Round)
        return meets and (not straight or (level == (cover.least == cover.most)))

    def _prism(self, one: Said, prism: Prism) -> Iterator[Measure]:
        if self.covers.touched(prism.start) or self.covers.touched(prism.end):
            return
        roles = self._roles(one, prism.start, prism.end, prism.across / 2.0, prism.void)
        blocked_corners = self._roles(one, prism.start, prism.end, prism.corner, prism.void)
        if roles is not None and roles == blocked_corners:
            turn = self.look.end * (prism.turn - self.look.turn) % (360.0 / prism.faces)
            flats = Measure(one.feature, prism.parameter, one.symbol(prism.parameter), prism.across, Shown.FLATS, roles)
            yield replace(flats, count=prism.faces, turn=turn)
        near, circle = (prism.end, prism.circles[1]) if self.look.end > 0 else (prism.start, prism.circles[0])
        if circle and self._blocked(near, circle / 2.0, False, one) is False:
            yield self._circle(one, "chamfer_diameter", circle, _SEEN)

    def _thread(self, one: Said, thread: Threaded) -> Iterator[Measure]:
        iso = self.conventions.thread_style == "iso"
        value, name, radius = thread.major, "diameter", thread.minor / 2.0
        if thread.external:
            value, radius = self.conventions.root(thread.major, thread.minor), thread.major / 2.0
            name = "minor_diameter" if value == thread.minor else "drawn root"
        roles = self._roles(one, thread.start, thread.end, radius, not thread.external)
        if roles is None and not iso and self._shown_through(one):
            roles = _UNSEEN
        if roles is None or self.covers.touched(thread.start):
            return
        shown: tuple[Role, ...] = _UNSEEN
        if iso and roles != _UNSEEN:
            shown = (Role.THREAD,) if roles == _SEEN else (Role.THREAD, Role.HIDDEN)
        if roles == _SEEN and not iso and not self.conventions.shows_hidden(one.feature):
            shown = (Role.HIDDEN,)
        yield self._circle(one, name, value, shown, _OPEN_TURN if iso else 360.0)

    def _shown_through(self, one: Said) -> bool:
        return self.conventions.shows_hidden(one.feature)

    def _pattern(self, one: Said, row: Pattern) -> Iterator[Measure]:
        radius = (row.circle - row.diameter) / 2.0
        roles = self._roles(one, row.start, row.end, radius, row.void)
        if roles is None:
            return
        turn = self.look.end * (row.first - self.look.turn) % 360.0
        symbol = one.symbol(row.parameter)
        pattern = Measure(one.feature, row.parameter, symbol, row.diameter, Shown.PATTERN, _EITHER)
        yield replace(
            pattern, across=(row.circle,), count=row.count, turn=turn, roles=_SEEN if roles == _SEEN else _EITHER
        )
