"""The DXF output: equal to ezdxf's own to the byte, strictly well-formed, sound in a drawing."""

import hashlib
import io
import logging
import math
import os
import re
import subprocess
import sys
from collections import Counter
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from typing import Any

import cadkit
import dxf_oracle
import ezdxf
import pytest
import samples
import sights
from ezdxf import bbox
from ezdxf.addons import Importer
from ezdxf.document import Drawing

from builder.block.block import Attribute, Block
from builder.definition.shop import Shop, TextStyle
from builder.output.dxf.collection import collection_file
from builder.output.dxf.grid import items_of, lay_out, sheet_bounds
from builder.output.dxf.releases import RELEASES
from builder.output.dxf.single import single_file
from builder.output.dxf.tags import number, plain
from builder.proof.strict import faults
from builder.words.roles import Role
from builder.words.shapes import Arc, Circle, Ellipse, Line, Point, Text
from builder.words.units import Unit

VERSIONS = tuple(RELEASES)
LIBREV = Attribute("LIBREV", "Library revision", samples.FINGERPRINT)

every_version = pytest.mark.parametrize("version", VERSIONS)
every_mode = pytest.mark.parametrize("layer_zero", [False, True], ids=["by_role", "layer_zero"])
ROUND = Role.OUTLINE

ENTITIES: dict[str, Block] = {
    kind: replace(samples.with_shapes(samples.block(), *shapes), attributes=(*attributes, LIBREV))
    for kind, shapes, attributes in [
        ("line", [Line(Point(1 / 3, -0.0), Point(5.7e-16, 2), role) for role in Role], []),
        ("arc", [Arc(Point(-1e-5, 7.0), 12.5, 30.0, 1000 / 9, role) for role in Role], []),
        ("arc over 0", [Arc(Point(0.0, 0.0), 2.0, 300.0, 400.0, Role.OUTLINE)], []),
        ("circle", [Circle(Point(123456.789, -0.1 - 0.2), math.pi, role) for role in Role], []),
        ("ellipse", [Ellipse(Point(1 / 3, -1e-5), Point(5.7e-16, 7.0), 0.7, 20, 1000 / 9, role) for role in Role], []),
        ("whole ellipse", [Ellipse(Point(0.0, 0.0), Point(3.0, -4.0), 1 / 3, s, s + 360, ROUND) for s in (0, 30)], []),
        ("ellipse over 0", [Ellipse(Point(0.0, 0.0), Point(3.0, 4.0), 0.5, 300.0, 400.0, ROUND)], []),
        ("ellipse to 0", [Ellipse(Point(0.0, 0.0), Point(3.0, 4.0), 1.0, 270.0, 360.0, ROUND)], []),
        ("text", [Text(Point(1.0, 2.0), 2.5, "Ø 12° ±0.1 é"), Text(Point(0, 0), 1, "", Role.AXIS)], []),
        ("constant", [Circle(Point(0.0, 0.0), 1.0, Role.OUTLINE)], [Attribute("SIZE", "Size", "M12")]),
        ("editable", [Circle(Point(0.0, 0.0), 1.0, Role.OUTLINE)], [Attribute("CLASS", "", "8.8", True)]),
        ("visible", [Circle(Point(0.0, 0.0), 1.0, Role.OUTLINE)], [Attribute("A", "B", "C", True, True)]),
    ]
}


def read(data: bytes, tmp_path: Path) -> Drawing:
    path = tmp_path / "file.dxf"
    path.write_bytes(data)
    return ezdxf.readfile(path)


def sample_file(kind: str, shop: Shop) -> bytes:
    return single_file(samples.block(), shop) if kind == "single" else collection_file(samples.blocks(), shop)


# --- the oracle: ezdxf, entity by entity -----------------------------------------------------------


@every_version
@every_mode
@pytest.mark.parametrize("kind", ENTITIES)
def test_each_entity_is_written_as_ezdxf_writes_it(kind: str, version: str, layer_zero: bool) -> None:
    block, shop = ENTITIES[kind], samples.shop(version, layer_zero=layer_zero)
    assert single_file(block, shop) == dxf_oracle.single(block, shop)
    assert collection_file([block], shop) == dxf_oracle.collection([block], shop)


@every_version
@every_mode
@pytest.mark.parametrize("unit", Unit)
def test_whole_files_are_what_ezdxf_writes(version: str, layer_zero: bool, unit: Unit) -> None:
    shop = samples.shop(version, layer_zero=layer_zero, plot_scale=0.5)
    blocks = [replace(b, units=unit) for b in samples.blocks()]
    assert single_file(blocks[0], shop) == dxf_oracle.single(blocks[0], shop)
    assert collection_file(blocks, shop) == dxf_oracle.collection(blocks, shop)


@every_version
def test_names_that_every_drawing_has_already_are_taken_over(version: str) -> None:
    shop = samples.shop(version)
    roles = {**shop.roles, Role.OUTLINE: replace(shop.roles[Role.OUTLINE], layer="0")}
    shop = replace(shop, roles=roles, text=TextStyle("Standard", "simplex", 3.5))
    data = single_file(samples.block(), shop)
    assert data == dxf_oracle.single(samples.block(), shop)
    assert faults(data) == []
    assert b"simplex" in data


def test_the_comparison_with_the_oracle_can_fail() -> None:
    moved = samples.with_shapes(samples.block(), Line(Point(0.0, 0.0), Point(1.0, 1e-9), Role.OUTLINE))
    still = samples.with_shapes(samples.block(), Line(Point(0.0, 0.0), Point(1.0, 0.0), Role.OUTLINE))
    assert single_file(moved, samples.shop()) != dxf_oracle.single(still, samples.shop())


# --- well-formed --------------------------------------------------------------------------------------------


@every_version
@every_mode
@pytest.mark.parametrize("kind", ["single", "collection"])
def test_ezdxf_finds_nothing_to_mend(kind: str, version: str, layer_zero: bool, tmp_path: Path) -> None:
    doc = read(sample_file(kind, samples.shop(version, layer_zero=layer_zero)), tmp_path)
    auditor = doc.audit()
    assert (auditor.errors, auditor.fixes) == ([], [])
    assert doc.dxfversion == sights.VERSIONS[version]


HEX = rb"[0-9A-F]+"
FAULTS = {  # in a collection of R2018: what is replaced by what, and the words in which it must be found
    "a line lost": (rb" 70\n0\n 10\n0.0\n", rb"0\n 10\n0.0\n", "pair up"),
    "a bad group code": (rb"  0\nSECTION\n  2\nENTITIES", rb"  x\nSECTION\n  2\nENTITIES", "no group code"),
    "no end of file": (rb"  0\nEOF\n", rb"", "EOF"),
    "a section left open": (rb"  0\nENDSEC\n(  0\nSECTION\n  2\nBLOCKS)", rb"\1", "not ended"),
    "a section missing": (rb"  2\nOBJECTS\n", rb"  2\nTHINGS\n", "sections are"),
    "a table left open": (rb"  0\nENDTAB\n(  0\nTABLE\n  2\nLAYER)", rb"\1", "not ended"),
    "a table missing": (rb"  0\nTABLE\n  2\nVIEW\n(?:.|\n)*?ENDTAB\n", rb"", "tables differ"),
    "a wrong count of rows": (rb"(AcDbSymbolTable\n 70\n)8\n", rb"\g<1>9\n", "states 9 rows"),
    "a layer twice": (rb"  2\nBW-AXIS\n", rb"  2\nBW-TEXT\n", "stands twice"),
    "a lost marker": (rb"100\nAcDbLine\n", rb"", "subclass markers"),
    "a foreign marker": (rb"100\nAcDbArc\n", rb"100\nAcDbEllipse\n", "subclass markers"),
    "a layer unknown": (rb"  8\nBW-AXIS\n", rb"  8\nNOWHERE\n", "LAYER 'NOWHERE'"),
    "a line type unknown": (rb"  6\nBW_CHAIN\n", rb"  6\nNOWHERE\n", "LTYPE 'NOWHERE'"),
    "a text style unknown": (rb"  7\nBW_TEXT\n", rb"  7\nNOWHERE\n", "STYLE 'NOWHERE'"),
    "a block unknown": (rb"( 66\n1\n  2\n)ISO", rb"\1DIN", "block that does not exist"),
    "a block without a record": (rb"(AcDbBlockBegin\n  2\n)ISO", rb"\1DIN", "records differ"),
    "an application unknown": (rb"1001\nBLOCKWRIGHT", rb"1001\nNOWHERE", "APPID 'NOWHERE'"),
    "not a number": (rb" 20\n4.0\n", rb" 20\nnan\n", "not finite"),
    "a word for a number": (rb" 20\n4.0\n", rb" 20\nfour\n", "not a number"),
    "a negative radius": (rb" 40\n4.0\n(100\nAcDbArc)", rb" 40\n-4.0\n\1", "not positive"),
    "a radius left out": (rb" 40\n4.0\n(100\nAcDbArc)", rb"\1", "ARC lacks group [40]"),
    "a ratio above 1": (rb"( 40\n)0\.4\n( 41)", rb"\g<1>1.4\n\2", "ratio 1.4"),
    "no major axis": (rb"( 11\n)1.0\n( 21\n)1.33\d*\n( 31\n0.0\n 40\n)", rb"\g<1>0.0\n\g<2>0.0\n\3", "major axis"),
    "an ellipse of no length": (rb"( 41\n0.0\n 42\n)6.28\d*\n", rb"\g<1>0.0\n", "runs from 0.0 to 0.0"),
    "an end left out": (rb"( 41\n0.0\n) 42\n6.28\d*\n", rb"\1", "ELLIPSE lacks group [42]"),
    "a handle twice": (rb"(  0\nLINE\n  5\n)" + HEX, rb"\g<1>17", "used twice"),
    "a handle left out": (rb"(  0\nLINE\n)  5\n" + HEX + rb"\n", rb"\1", "no handle"),
    "a seed too low": (rb"(\$HANDSEED\n  5\n)" + HEX, rb"\g<1>40", "below the seed"),
    "an owner unknown": (rb"(  0\nLAYER\n  5\n27\n330\n)1", rb"\1FFFF", "which does not exist"),
    "another block's entity": (rb"(  0\nARC\n  5\n" + HEX + rb"\n330\n)" + HEX, rb"\g<1>17", "owner 17, exp"),
    "an attribute not its insert's": (
        rb"(  0\nATTRIB\n  5\n" + HEX + rb"\n330\n)" + HEX,
        rb"\g<1>17",
        "ATTRIB has owner 17, exp",
    ),
    "no end of attributes": (rb"  0\nSEQEND\n", rb"  0\nPOINT\n", "after INSERT"),
    "a block left open": (rb"  0\nENDBLK\n", rb"  0\nPOINT\n", "not ended"),
    "a width of no pen": (rb"370\n50\n", rb"370\n51\n", "line width 51"),
    "a colour out of range": (rb" 62\n2\n", rb" 62\n257\n", "colour 257"),
    "a pattern too long": (rb"( 73\n2\n 40\n)3.75\n", rb"\g<1>3.8\n", "wrong length"),
    "empty extents": (rb"(\$EXTMIN\n 10\n)[^\n]+", rb"\g<1>1e+20", "extents"),
}


@pytest.mark.parametrize("fault", FAULTS)
def test_the_tag_check_can_fail(fault: str) -> None:
    data = collection_file(samples.blocks(), samples.shop("R2018"))
    pattern, new, found = FAULTS[fault]
    spoilt, count = re.subn(pattern, new, data, count=1)
    assert count == 1
    assert any(found in sentence for sentence in faults(spoilt)), faults(spoilt)


def test_the_tag_check_knows_what_r12_lacks() -> None:
    data = single_file(samples.block(), samples.shop("R12"))
    line = b"  0\nLINE\n  5\n" + re.findall(rb"  0\nLINE\n  5\n(" + HEX + b")", data)[0] + b"\n"
    for added, found in [
        (b"330\n1F\n", "owner in R12"),
        (b"100\nAcDbEntity\n", "marker in R12"),
        (b"370\n25\n", "group 370"),
    ]:
        assert any(found in s for s in faults(data.replace(line, line + added)))
    for lost, found in [
        (rb"  0\nSEQEND\n", "in the wrong place after POLYLINE"),
        (rb"  0\nPOLYLINE\n", "VERTEX in the wrong place"),
    ]:
        spoilt = re.sub(lost + rb"(?:(?!  0\n).+\n.*\n)+", b"", data, count=1)
        assert any(found in s for s in faults(spoilt)), faults(spoilt)
    later = single_file(samples.block(), samples.shop("R2000"))
    ellipse = re.findall(rb"  0\nELLIPSE\n(?:(?!  0\n).+\n.*\n)+", later)[0]
    start = b"  2\nENTITIES\n"
    assert "ELLIPSE in R12" in faults(data.replace(start, start + ellipse))


# --- a reader that shares no code with the writer; four of them in test_6_readers ------------------


def cad_entities(data: bytes) -> tuple[dict[str, Any], list[dict[str, Any]]]:
    whole = cadkit.read(data).to_dict()
    assert whole["source"]["format"] == "dxf"
    return whole, next(m for m in whole["models"] if m["name"] == "Model")["entities"]


def xy(place: dict[str, float]) -> Point:
    return Point(place["x"], place["y"])


@pytest.mark.parametrize(("ratio", "most"), [(1.0, 4), (0.9, 20), (0.5, 32), (0.1, 40)])
@pytest.mark.parametrize("end", [360.0, 250.0])
def test_r12_has_a_polyline_of_arcs_near_each_ellipse(ratio: float, most: int, end: float) -> None:
    """R12 knows no ELLIPSE; bulge is the tangent of a quarter of an arc's angle, flag 128 lets dashes run on (DXF
    reference). Every place of it lies within 1e-4 of the major half axis of the ellipse."""
    ellipse = Ellipse(Point(10.0, 20.0), Point(30.0, 40.0), ratio, 0.0, end, Role.HIDDEN)
    block = samples.with_shapes(samples.block(), ellipse)
    _, (polyline, *others) = cad_entities(single_file(block, samples.shop("R12")))
    kind, whole = polyline["kind"], end == 360.0
    assert (kind["type"], kind["closed"], len(others)) == ("polyline", whole, len(block.attributes))
    assert polyline["layer"] == samples.ROLES[Role.HIDDEN].layer
    assert polyline["props"]["dxf.plinegen"] is True
    knots = [(xy(vertex["position"]), vertex["bulge"]) for vertex in kind["vertices"]]
    assert len(knots) - (not whole) <= most
    assert knots[0][0] == pytest.approx(ellipse.at(0.0))
    assert (knots[0] if whole else knots[-1])[0] == pytest.approx(ellipse.at(end))
    for (start, bulge), (stop, _) in pairwise([*knots, knots[0]] if whole else knots):
        dx, dy = stop.x - start.x, stop.y - start.y
        top = start.plus(dx / 2 + bulge * dy / 2, dy / 2 - bulge * dx / 2)  # the sagitta is half the chord times it
        assert all(off_ellipse(place, ellipse) < 1e-4 * 50.0 for place in (start, top, stop))


def off_ellipse(place: Point, ellipse: Ellipse) -> float:
    """How far a place lies from an ellipse, to first order: what is left of its equation over the gradient of that."""
    length = math.hypot(*ellipse.major)
    ux, uy = ellipse.major.x / length, ellipse.major.y / length
    dx, dy = place.x - ellipse.centre.x, place.y - ellipse.centre.y
    u, v, b = dx * ux + dy * uy, dy * ux - dx * uy, ellipse.ratio * length
    left = (u / length) ** 2 + (v / b) ** 2 - 1
    return abs(left) / math.hypot(2 * u / length**2, 2 * v / b**2)


@every_version
def test_a_second_reader_sees_the_identity(version: str) -> None:
    block = samples.block()
    _, entities = cad_entities(single_file(block, samples.shop(version)))
    marks = [e["props"].get("dxf.xdata.BLOCKWRIGHT") for e in entities if e["kind"]["type"] == "unknown"]
    identity = [[1000, block.name], [1000, block.family], [1000, block.fingerprint]]
    assert marks == [None] * 11 + [identity]


@every_version
def test_a_second_reader_sees_line_types_and_widths(version: str) -> None:
    shop = samples.shop(version, plot_scale=0.5)
    whole, _ = cad_entities(single_file(samples.block(), shop))
    patterns = {t["name"]: t["pattern"] for t in whole["linetypes"]}
    # twice as long in the drawing where it is plotted 1:2
    assert patterns["BW_DASHED"] == pytest.approx([6.0, -1.5])
    assert patterns["BW_CHAIN"] == pytest.approx([12.0, -1.5, 0.25, -1.5])
    layers = {layer["name"]: layer for layer in whole["layers"]}
    for style in shop.roles.values():
        layer = layers[style.layer]
        assert layer["color"]["index"] == style.colour
        assert layer["linetype"].upper() == style.linetype
        if version != "R12":
            assert layer["lineweight"]["value"] == pytest.approx(style.lineweight)


# --- behaviour in a drawing ------------------------------------------------------------------------


@every_version
def test_a_single_file_becomes_a_block_of_another_drawing(version: str, tmp_path: Path) -> None:
    block = samples.block()
    source = read(single_file(block, samples.shop(version)), tmp_path)
    assert tuple(source.header["$INSBASE"]) == (0.0, 0.0, 0.0)
    target = ezdxf.new("R2018" if version != "R12" else "R12", units=0 if version == "R12" else 4)
    layout = target.blocks.new(block.name)
    importer = Importer(source, target)
    importer.import_modelspace(layout)
    importer.finalize()
    kinds = Counter(e.dxftype() for e in layout)
    ellipses = "POLYLINE" if version == "R12" else "ELLIPSE"
    assert kinds == {"LINE": 6, "ARC": 3, "CIRCLE": 1, ellipses: 2, "TEXT": 1, "ATTDEF": 12}
    insert = target.modelspace().add_blockref(block.name, (100.0, 50.0))
    insert.add_auto_attribs({})
    assert {d.dxf.tag for d in layout.attdefs()} == {a.tag for a in block.attributes}
    first = next(e for e in insert.virtual_entities() if e.dxftype() == "LINE")
    assert tuple(first.dxf.start)[:2] == (100.0, 44.0)  # the base point is the origin of the file
    assert target.audit().errors == []


@every_version
def test_units_are_stated(version: str, tmp_path: Path) -> None:
    # $INSUNITS 1 inches, 4 millimetres; $MEASUREMENT 0 English, 1 metric: DXF reference, header section
    for unit, code, measurement in [(Unit.INCH, 1, 0), (Unit.MM, 4, 1)]:
        block = replace(samples.block(), units=unit)
        data = collection_file([block], samples.shop(version))
        doc = read(data, tmp_path)
        if version == "R12":
            assert b"$INSUNITS" not in data
            assert b"$MEASUREMENT" not in data
            continue
        assert (doc.header["$INSUNITS"], doc.header["$MEASUREMENT"]) == (code, measurement)
        assert (doc.header["$LWDISPLAY"], doc.header["$LTSCALE"]) == (1, 1.0)
        record = doc.blocks[block.name].block_record
        if RELEASES[version].record_units:
            assert (record.dxf.units, record.dxf.explode, record.dxf.scale) == (code, 1, 1)


@every_version
@pytest.mark.parametrize("kind", ["single", "collection"])
def test_extents_and_first_view_show_everything(kind: str, version: str, tmp_path: Path) -> None:
    doc = read(sample_file(kind, samples.shop(version)), tmp_path)
    low, high = doc.header["$EXTMIN"], doc.header["$EXTMAX"]
    space = doc.modelspace()
    inserted = [e for insert in space.query("INSERT") for e in insert.virtual_entities()]  # no attributes
    drawn = bbox.extents([*space.query("LINE ARC CIRCLE ELLIPSE POLYLINE"), *inserted])
    assert low[0] <= drawn.extmin.x + 1e-6
    assert low[1] <= drawn.extmin.y + 1e-6
    assert high[0] >= drawn.extmax.x - 1e-6
    assert high[1] >= drawn.extmax.y - 1e-6
    (view,) = doc.viewports.get_config("*Active")
    (x, y, *_), height = view.dxf.center, view.dxf.height
    width = height * view.dxf.aspect_ratio
    assert x - width / 2 < low[0] < high[0] < x + width / 2
    assert y - height / 2 < low[1] < high[1] < y + height / 2


def test_attributes_stand_below_the_geometry_in_lines() -> None:
    doc = ezdxf.read(io.StringIO(single_file(samples.block(), samples.shop()).decode()))
    attdefs = list(doc.modelspace().query("ATTDEF"))
    bottom = samples.block().view.bounds.bottom
    assert max(a.dxf.insert.y + a.dxf.height for a in attdefs) < bottom
    heights = sorted((a.dxf.insert.y for a in attdefs), reverse=True)
    assert [a - b for a, b in pairwise(heights)] == pytest.approx([4.0] * 11)  # 1.6 x 2.5
    top_two = {a.dxf.tag for a in attdefs if a.dxf.insert.y >= heights[1]}
    assert top_two == {"DESIGNATION", "PARTNO"}  # those that show


# --- the sheet of a collection ---------------------------------------------------------------------


def test_nothing_on_the_sheet_lies_on_anything_else() -> None:
    placed = lay_out(items_of(samples.blocks(12, ("side", "end", "section")), samples.shop()), 2.5)
    rooms = [
        (p.at.x + r.left, min(p.at.y + r.bottom, p.caption.at.y), p.at.x + r.right, p.at.y + r.top)
        for p in placed
        for r in [p.item.room]
    ]
    for i, a in enumerate(rooms):
        for b in rooms[i + 1 :]:
            assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
    whole = sheet_bounds(placed)
    assert 0.5 < whole.width / whole.height < 3.0


def test_a_size_stays_in_one_row_and_its_base_points_line_up() -> None:
    placed = lay_out(items_of(samples.blocks(12), samples.shop()), 2.5)
    rows = {p.item.block.size: set[float]() for p in placed}
    for p in placed:
        rows[p.item.block.size].add(p.at.y)
    assert all(len(heights) == 1 for heights in rows.values())
    assert len({y for heights in rows.values() for y in heights}) > 2


def test_a_size_too_long_for_a_row_takes_several() -> None:
    many = [replace(samples.block(), name=f"B{i}") for i in range(40)]
    placed = lay_out(items_of(many, samples.shop()), 2.5)
    assert len({p.at.y for p in placed}) > 3


# --- the same bytes, always ------------------------------------------------------------------------

DIGEST = """
import hashlib, samples
from builder.output.dxf.collection import collection_file
from builder.output.dxf.releases import RELEASES
from builder.output.dxf.single import single_file
for version in RELEASES:
    shop = samples.shop(version)
    print(hashlib.sha256(single_file(samples.block(), shop)).hexdigest())
    print(hashlib.sha256(collection_file(samples.blocks(), shop)).hexdigest())
"""


def test_bytes_repeat_in_another_process_with_another_hash_seed() -> None:
    here = []
    for version in VERSIONS:
        shop = samples.shop(version)
        here.append(hashlib.sha256(single_file(samples.block(), shop)).hexdigest())
        here.append(hashlib.sha256(collection_file(samples.blocks(), shop)).hexdigest())
    tests = Path(__file__).parent
    paths = os.pathsep.join([str(tests.parent), str(tests)])
    for seed in (
        "1",
        "5",
        "7",
    ):  # R2018 had its classes in another order under 5 and 7 until they were sorted
        env = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": paths}
        run = subprocess.run(
            [sys.executable, "-c", DIGEST], env=env, capture_output=True, text=True, check=True, timeout=60
        )
        assert run.stdout.split() == here
        assert run.stderr == ""  # R12 included: nothing is warned about


def test_the_switch_for_fixed_metadata_is_put_back(caplog: pytest.LogCaptureFixture) -> None:
    assert ezdxf.options.write_fixed_meta_data_for_testing is False
    with caplog.at_level(logging.WARNING):
        single_file(samples.block(), samples.shop("R12", plot_scale=0.123))
    assert ezdxf.options.write_fixed_meta_data_for_testing is False
    assert caplog.records == []


def test_shops_that_differ_do_not_share_a_template() -> None:
    shop = samples.shop()
    red = {**shop.roles, Role.OUTLINE: replace(shop.roles[Role.OUTLINE], colour=1)}
    first, second = single_file(samples.block(), shop), single_file(samples.block(), replace(shop, roles=red))
    assert first != second
    assert first == single_file(samples.block(), replace(shop, title="Another title"))


# --- what is refused -------------------------------------------------------------------------------


@pytest.mark.parametrize("text", ["two\nlines", "tab\t", "≤ 5", "a\0b", "50%%c", "^J", "\\U+2205", "x" * 256])
def test_text_that_some_release_cannot_hold_is_refused(text: str) -> None:
    with pytest.raises(ValueError):
        plain(text)
    spoilt = replace(samples.block(), attributes=(Attribute("SIZE", "Size", text), LIBREV))
    with pytest.raises(ValueError):
        single_file(spoilt, samples.shop())


def test_text_of_the_trade_passes() -> None:
    for text in ("", 'HEX CAP SCREW, 1/2-13 x 3"', "Ø 12 ± 0.1 °", "€ µ é", "100 % x 2"):
        assert plain(text) == text


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf, 1e9])
def test_a_coordinate_that_is_none_is_refused(value: float) -> None:
    with pytest.raises(ValueError):
        number(value)


@pytest.mark.parametrize(
    ("value", "text"),
    [(0.1 + 0.2, "0.3"), (-1e-10, "0.0"), (-0.0, "0.0"), (5, "5.0"), (1 / 3, "0.333333333")],
)
def test_numbers_are_rounded_once_to_nine_decimals(value: float, text: str) -> None:
    assert number(value) == text


def test_a_radius_that_vanishes_is_refused() -> None:
    with pytest.raises(ValueError):
        single_file(samples.with_shapes(samples.block(), Circle(Point(0, 0), 1e-12, Role.OUTLINE)), samples.shop())


@pytest.mark.parametrize(
    ("major", "ratio", "start", "end"),
    [(0, 0.5, 0, 90), (1e-9, 0.5, 0, 90), (1, 1e-7, 0, 360), (1, 1.1, 0, 360), (1, 0.5, -1, 9), (1, 0.5, 0, math.nan)],
)
def test_an_ellipse_that_is_none_is_refused(major: float, ratio: float, start: float, end: float) -> None:
    ellipse = Ellipse(Point(0, 0), Point(major, 0.0), ratio, start, end, Role.OUTLINE)
    with pytest.raises(ValueError):
        single_file(samples.with_shapes(samples.block(), ellipse), samples.shop())


def test_a_block_without_its_identity_is_refused() -> None:
    block = samples.block()
    for attributes in (block.attributes[:-1], (*block.attributes[:-1], replace(LIBREV, text="other"))):
        with pytest.raises(ValueError, match="LIBREV"):
            single_file(replace(block, attributes=attributes), samples.shop())


def test_blocks_that_do_not_go_together_are_refused() -> None:
    block, shop = samples.block(), samples.shop()
    with pytest.raises(ValueError, match="same name"):
        collection_file([block, replace(block, name=block.name.lower())], shop)
    with pytest.raises(ValueError, match="one unit"):
        collection_file([block, replace(block, name="B", units=Unit.INCH)], shop)
    with pytest.raises(ValueError, match="at least one"):
        collection_file([], shop)
