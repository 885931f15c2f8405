"""Fingerprints: every figure of a shape counts, to a millionth of the unit, and nothing else does."""

from dataclasses import replace

import pytest

from builder.block.fingerprint import canonical, fingerprint
from builder.view.view import View
from builder.words.roles import Role
from builder.words.shapes import Ellipse, Line, Point, Shape
from builder.words.units import Unit

ELLIPSE = Ellipse(Point(1.0, 2.0), Point(30.0, 40.0), 0.5, 20.0, 110.0, Role.HIDDEN)


def digest(*shapes: Shape) -> str:
    return fingerprint("X", Unit.MM, View("side", shapes), {})


@pytest.mark.parametrize(
    "changed",
    [
        replace(ELLIPSE, centre=Point(1.0, 2.00001)),
        replace(ELLIPSE, major=Point(30.00001, 40.0)),
        replace(ELLIPSE, ratio=0.5000001),  # the minor half axis is longer by 0.000005
        replace(ELLIPSE, start=20.00001),
        replace(ELLIPSE, end=110.00001),
        replace(ELLIPSE, role=Role.NARROW),
    ],
)
def test_each_figure_of_an_ellipse_counts(changed: Ellipse) -> None:
    assert digest(changed) != digest(ELLIPSE)


def test_noise_and_order_do_not_count() -> None:
    line = Line(Point(0.0, 0.0), Point(1.0, 0.0), Role.NARROW)
    noisy = replace(ELLIPSE, centre=Point(1.0 + 1e-9, 2.0), ratio=0.5 + 1e-10, start=20.0 - 1e-9)
    assert digest(noisy, line) == digest(line, ELLIPSE)


def test_an_ellipse_in_words() -> None:
    text = canonical("X", Unit.MM, View("side", (ELLIPSE,)), {})
    shape = "ellipse hidden 1.000000,2.000000 30.000000,40.000000 25.000000 20.000000 110.000000"
    assert text.splitlines() == ["block X mm", shape]
