"""A drafter's own families with bodies that no shipped family has: YAML alone, from the definition to the files.

Invented data: parts of a hand-cranked canal lock-gate winch.
"""

import json

import ezdxf
import pytest

from builder.pipeline.build import build
from builder.pipeline.order import Order
from builder.pipeline.prepare import prepare

PAWL_PIN = """
family: winch-pawl-pin
code: WPAWL
title: Pawl pin
group: pins
standard: {number: Works 12, edition: "1", source: invented for the demonstration}
units: mm
density: 7.85
designation: "Pawl pin {size}"
symbols:
  d: {is: diameter, draws: nominal}
  l: {is: length under the head, draws: nominal}
table:
  columns: [size, d, l]
  rows:
    - [P16, 16, 90]
    - [P20, 20, 240]
body:
  - crown: {diameter: 1.5*d, from: -d/4, to: -d/2}
  - cylinder: {name: head, diameter: 1.5*d, from: -d/4, to: 0}
  - cylinder: {name: shank, diameter: d, from: 0, to: l, chamfer: to, chamfer_length: 2}
  - fillet: {diameter: d, at: 0, radius: 1, side: from}
  - groove: {diameter: 0.8*d, outer: d, from: d/2, to: d/2 + 3, radius: 0.5}
  - flats: {across_flats: 0.8*d, diameter: d, from: d, to: 2*d, count: 2}
  - cross_hole: {diameter: d/4, outer: d, at: l - d/2}
  - slot: {width: 2, diameter: 1.5*d, from: -d/2, to: -d/4}
views:
  - side
  - side across flats: {roll: 45}
  - plan
  - broken side
  - end
  - base end
  - section
  - half section
"""


@pytest.fixture(scope="module")
def library(tmp_path_factory):
    folder = tmp_path_factory.mktemp("winch")
    (folder / "winch-pawl-pin.yaml").write_text(PAWL_PIN, encoding="utf-8")
    order = Order("iso", (folder,), patterns=("winch-pawl-pin",), out=folder / "dist", jobs=1)
    build(order, prepare(order), lambda family, blocks: None)
    return folder / "dist"


def test_every_view_is_built_and_sound(library):
    """Sixteen blocks; every file opens and passes the library's own audit; narrow diagonals mark the flats."""
    blocks = json.loads((library / "library.json").read_text())["blocks"]
    assert len(blocks) == 16
    layers = set()
    for block in blocks:
        document = ezdxf.readfile(library / block["dxf"])
        assert not document.audit().errors
        layers |= {entity.dxf.layer for entity in document.modelspace()}
    assert "BW-NARROW" in layers and "BW-HIDDEN" in layers


def test_only_the_long_pin_is_broken(library):
    """240 on 20 is broken; 90 on 16 is short enough to be drawn whole."""
    width = {}
    for block in json.loads((library / "library.json").read_text())["blocks"]:
        left, _, right, _ = block["bounds"]
        width[block["size"], block["view"]] = right - left
    assert width["P16", "broken side"] == pytest.approx(width["P16", "side"])
    assert width["P20", "broken side"] < 0.9 * width["P20", "side"]
