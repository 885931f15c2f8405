"""The parts of one size, each made once, and their views: lengths of one form share a projection.

Which length a view is stretched from depends on the family alone and not on what is asked for, so that a block has the
same bytes in every library.
"""

import math
from collections.abc import Set
from dataclasses import dataclass

from builder.body.stations import Stations, stations_of
from builder.definition.family import Family, Row, ViewSpec
from builder.part.part import Faults, Part, make_part
from builder.view.catalogue import thread_styles, view_kinds
from builder.view.drafting import Drafting
from builder.view.draw import Look, finished, projected
from builder.view.merge import Edge
from builder.view.stretch import Stretch, shows_stretch, stretch_between
from builder.view.view import View


@dataclass(frozen=True, slots=True)
class _Form:
    """A part that others of the size are stretched from, or itself where `stretch` is None."""

    part: Part
    stretch: Stretch | None = None


class Drawings:
    """The parts of one size of a family, drawn as a shop wants them."""

    def __init__(self, family: Family, row: Row, drafting: Drafting, wanted: Set[float | None], faults: Faults) -> None:
        """Make the parts; faults of those that nobody wants are not noted."""
        self._drafting = drafting
        lengths: tuple[float | None, ...] = family.lengths.of(row) if family.lengths else (None,)
        needed = lengths[: max((lengths.index(length) for length in wanted), default=-1) + 1]
        made = {n: make_part(family, row, n, faults if n in wanted else Faults()) for n in needed}
        self._parts = {length: part for length, part in made.items() if part is not None}
        self._forms = self._find_forms() if len(self._parts) > 1 else {}
        self._edges: dict[tuple[float | None, ViewSpec], tuple[Edge, ...]] = {}

    def part(self, length: float | None) -> Part | None:
        """Return the part of a length; None where it cannot be made."""
        return self._parts.get(length)

    def view(self, part: Part, spec: ViewSpec) -> View:
        """Return a view of one of the parts, in the family's unit."""
        kind = view_kinds()[spec.kind]
        look = Look(kind, math.radians(kind.roll if spec.roll is None else spec.roll), spec.hidden, self._drafting)
        return finished(part.bodies, look, self._edges_of(part, spec, look), part.drawn.get(kind.name, ()))

    def _find_forms(self) -> dict[float | None, _Form]:
        """Return for each length the first part of which it is a stretch."""
        rigid_threads = not thread_styles()[self._drafting.thread_style].UNIFORM
        firsts: list[tuple[Part, Stations]] = []
        forms = {}
        for length, part in self._parts.items():
            stations = stations_of(part.bodies, rigid_threads)
            found = stations and next(
                (_Form(first, way) for first, old in firsts if (way := stretch_between(old, stations))), None
            )
            if stations and not found:
                firsts.append((part, stations))
            forms[length] = found or _Form(part)
        return forms

    def _edges_of(self, part: Part, spec: ViewSpec, look: Look) -> tuple[Edge, ...]:
        form = self._forms.get(part.length)
        if form is None or form.stretch is None or not shows_stretch(look.frame):
            return self._projected(part, spec, look)
        return form.stretch.edges(self._projected(form.part, spec, look)) or projected(part.bodies, look)

    def _projected(self, part: Part, spec: ViewSpec, look: Look) -> tuple[Edge, ...]:
        key = part.length, spec
        if key not in self._edges:
            self._edges[key] = projected(part.bodies, look)
        return self._edges[key]
