"""A whole build: what stands in the folder, what a shop standard changes, and that a failed build changes nothing."""

import json
import math
from collections import Counter
from pathlib import Path

import ezdxf
import jsonschema
import pytest
from PIL import Image

from builder.block.fingerprint import canonical
from builder.block.library import drafting_for
from builder.definition.reader import read_definitions
from builder.definition.shop_reader import read_shop
from builder.definition.shop_schema import SHOWABLE
from builder.part.part import Faults, make_part
from builder.pipeline.build import build
from builder.pipeline.order import Order
from builder.pipeline.prepare import prepare
from builder.pipeline.resources import shops_folder
from builder.proof.strict import faults
from builder.view.catalogue import thread_styles, view_kinds
from builder.view.draw import Look, draw
from builder.words.problems import Problems, Rejected

ROOT = Path(__file__).parents[1]
SMALL = (
    "ISO4014-M12X5?-*",
    "ISO4014-M12-*",
    "ISO4032-M12-*",
    "ISO7089-12-*",
    "B1821B-1-8X3-*",
    "B18221A-1_2N-*",
)


def made(out: Path, patterns=SMALL, shop="iso", **more) -> dict:
    order = Order(shop=str(shop), patterns=tuple(patterns), out=out, jobs=more.pop("jobs", 1), **more)
    build(order, prepare(order), lambda family, blocks: None)
    return json.loads((out / "library.json").read_text(encoding="utf-8"))


def shop_file(folder: Path, *lines: str, name: str = "winch") -> Path:
    """A shop standard that states only what differs from the metric one."""
    path = folder / f"{name}.yaml"
    path.write_text("\n".join([f"shop: {name}", "title: Winch repair shop", "based_on: iso", *lines]), encoding="utf-8")
    return path


def blocks_by_name(library: dict) -> dict:
    return {block["block"]: block for block in library["blocks"]}


def all_bytes(folder: Path) -> dict:
    return {str(p.relative_to(folder)): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


@pytest.fixture(scope="module")
def small(tmp_path_factory):
    out = tmp_path_factory.mktemp("small") / "dist"
    return out, made(out)


def test_the_manifest_follows_its_schema_and_names_every_file(small):
    """Every file that the manifest names is there, and nothing else but manifest and record."""
    out, library = small
    schema = json.loads((ROOT / "schemas" / "library.schema.json").read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator(schema).validate(library)
    named = {block[key] for block in library["blocks"] for key in ("dxf", "collection", "thumbnail")}
    named.update(library["sheets"])
    there = {str(p.relative_to(out).as_posix()) for p in out.rglob("*") if p.is_file()}
    assert named <= there
    assert {name.split("/")[0] for name in there - named} == {"library.json", "build.json"}
    assert {f"index/{block['family']}-1.png" for block in library["blocks"]} <= there


def test_every_block_of_the_small_library(small):
    """A view that does not show the length is one block; sides and sections count one, ends none."""
    _, library = small
    blocks = blocks_by_name(library)
    views = Counter(block["view"] for block in library["blocks"] if block["family"] == "iso-4014")
    assert views == {"side across corners": 2, "side across flats": 2, "head end": 1, "point end": 1}
    bolt = blocks["ISO4014-M12X50-SIDEC-I"]
    assert bolt["designation"] == "Hexagon head bolt ISO 4014 - M12 x 50 - 8.8"  # ISO 4014, clause on designation
    assert (bolt["length"], bolt["units"], bolt["thread"], bolt["base_point"]) == (
        50.0,
        "mm",
        "iso",
        [0.0, 0.0],
    )
    assert bolt["attributes"]["COUNT"] == "1" and bolt["attributes"]["LENGTH"] == "50"
    head = blocks["ISO4014-M12-HEAD-I"]
    assert head["length"] is None and head["attributes"]["COUNT"] == "0" and head["attributes"]["LENGTH"] == ""
    assert "l" not in head["dimensions"] and "b" not in head["dimensions"] and head["dimensions"]["s"] == 18.0
    assert blocks["ISO7089-12-SIDE"]["thread"] is None
    inch = blocks["B1821B-1-8X3-SIDEC-I"]
    assert inch["units"] == "in" and inch["designation"].startswith("HEX BOLT, 1-8 x 3, ")
    assert list(inch["attributes"]) == list(bolt["attributes"])


def test_mass_is_computed_from_the_body(small):
    """M12 x 50: head, shank and thread as a handbook would add them up, 7.85 g/cm3; within 3 percent."""
    _, library = small
    text = blocks_by_name(library)["ISO4014-M12X50-SIDEC-I"]["attributes"]["MASS"]
    d2 = 12 - 0.649519 * 1.75
    cubic_mm = 0.8660254 * 18**2 * 7.5 + 0.785398 * (12**2 * 20 + d2**2 * 30)
    assert float(text.removesuffix(" kg")) == pytest.approx(cubic_mm * 7.85e-6, rel=0.03)


@pytest.mark.parametrize("version", ["R12", "R2000", "R2004", "R2007", "R2010", "R2013", "R2018"])
@pytest.mark.parametrize("layers", ["by role", "zero"])
def test_every_version_passes_the_audit(tmp_path, version, layers):
    """ezdxf's audit finds no error and fixes nothing; our own strict tag check finds nothing either."""
    shop = shop_file(tmp_path, f"layers: {layers}")
    out = tmp_path / "dist"
    made(out, ("*-M12-*", "ISO4014-M12X50-*", "ISO7089-12-*"), shop, dxf=version)
    found = list(out.rglob("*.dxf"))
    assert len(found) > 10
    for path in found:
        auditor = ezdxf.readfile(path).audit()
        assert not auditor.errors and not auditor.fixes, path
        assert not faults(path.read_bytes()), path


def test_pictures_can_be_opened(small):
    """Every thumbnail and sheet is a PNG with ink on it."""
    out, _ = small
    pictures = list(out.rglob("*.png"))
    assert pictures
    for path in pictures:
        with Image.open(path) as image:
            assert image.convert("L").getextrema()[0] < 128, path


def test_the_same_input_gives_the_same_bytes_whatever_the_processes(tmp_path, small):
    """One process or two, another folder: equal to the byte."""
    out, _ = small
    made(tmp_path / "again", jobs=2)
    assert all_bytes(tmp_path / "again") == all_bytes(out)


@pytest.mark.parametrize("style", sorted(thread_styles()))
def test_one_thread_style_a_library(tmp_path, style):
    """The style is the shop's, its letter ends the block's name."""
    library = made(
        tmp_path / "dist",
        ("ISO4014-M12X50-*", "*ISO4032-M12-*"),
        shop_file(tmp_path, f"thread_style: {style}"),
    )
    code = thread_styles()[style].CODE
    assert {b["thread"] for b in library["blocks"]} == {style}
    assert all(b["block"].endswith(f"-{code}") for b in library["blocks"])


def test_an_inch_part_in_a_metric_library(tmp_path, small):
    """25.4 exactly (ISO 80000-3): lengths scale, a count of threads does not, and the name says so."""
    _, library = small
    own = blocks_by_name(library)["B1821B-1-8X3-SIDEC-I"]
    shop = shop_file(tmp_path, "units: mm")
    metric = blocks_by_name(made(tmp_path / "dist", ("B1821B-1-8X3-*",), shop))["B1821B-1-8X3-SIDEC-IM"]
    assert metric["units"] == "mm" and metric["dimensions"]["F"] == pytest.approx(38.1)
    assert metric["dimensions"]["tpi"] == own["dimensions"]["tpi"] == 8
    assert metric["bounds"] == pytest.approx([25.4 * place for place in own["bounds"]])
    doc = ezdxf.readfile(tmp_path / "dist" / metric["dxf"])
    assert doc.header["$INSUNITS"] == 4


def test_a_library_holds_what_the_shop_stocks(tmp_path):
    """Families, sizes and lengths in stock, and no more."""
    stock = "stock: [{family: iso-4014, sizes: [M12], lengths: [50..60]}, {family: iso-7089, sizes: ['12', '16']}]"
    library = made(tmp_path / "dist", (), shop_file(tmp_path, stock))
    parts = {(b["family"], b["size"], b["length"]) for b in library["blocks"]}
    ends = {("iso-4014", "M12", None), ("iso-7089", "12", None), ("iso-7089", "16", None)}
    assert parts == ends | {("iso-4014", "M12", length) for length in (50.0, 55.0, 60.0)}


def test_attribute_defaults_of_the_shop(tmp_path):
    """Class, material and finish are the shop's where it states them; the designation follows."""
    lines = ("attributes: {visible: [DESIGNATION], finish: Zinc plated, families: {iso-4014: {class: '10.9'}}}",)
    out = tmp_path / "dist"
    block = made(out, ("ISO4014-M12X50-SIDEC-*",), shop_file(tmp_path, *lines))["blocks"][0]
    assert block["designation"].endswith("M12 x 50 - 10.9")
    assert block["attributes"]["FINISH"] == "Zinc plated" and block["attributes"]["MATERIAL"] == "Steel, 10.9"
    attdefs = {a.dxf.tag: a for a in ezdxf.readfile(out / block["dxf"]).modelspace().query("ATTDEF")}
    assert not attdefs["DESIGNATION"].is_invisible and attdefs["MASS"].is_invisible
    constant = {tag for tag, a in attdefs.items() if a.is_const}
    assert set(attdefs) - constant == {"MATERIAL", "FINISH", "PARTNO", "ITEM", "COUNT"}


def test_plot_scale_moves_what_belongs_to_the_paper(tmp_path, small):
    """At 1:2 the axis stands out twice as far on the drawing; the part does not change."""
    _, library = small
    full = blocks_by_name(library)["ISO7089-12-END"]
    half = blocks_by_name(made(tmp_path / "dist", ("ISO7089-12-END*",), shop_file(tmp_path, "plot_scale: 1/2")))
    assert half["ISO7089-12-END"]["bounds"][2] - full["bounds"][2] == pytest.approx(3.0)
    assert half["ISO7089-12-END"]["dimensions"] == full["dimensions"]


def test_the_shops_own_definitions_refine_and_replace(tmp_path):
    """A definition of the shop's own states what differs from a shipped one that it names."""
    own = tmp_path / "own"
    own.mkdir()
    (own / "iso-4014.yaml").write_text("family: iso-4014\nrefines: iso-4014\ntitle: Winch bolt\n", encoding="utf-8")
    problems = Problems()
    read = {f.key: f for f in read_definitions((ROOT / "blocks", own), problems)}
    assert not problems and read["iso-4014"].title == "Winch bolt" and len(read["iso-4014"].rows) == 29


def refused(order: Order) -> str:
    with pytest.raises(Rejected) as rejected:
        build(order, prepare(order), lambda family, blocks: None)
    return str(rejected.value)


def test_names_that_clash_or_are_too_long(tmp_path):
    """Both are found before anything is drawn, at the row that makes the name."""
    own = tmp_path / "own"
    own.mkdir()
    (own / "shop-washer.yaml").write_text(
        "family: shop-washer\nrefines: iso-7089\ncode: WASHERXX\n"
        "table:\n  columns: [size, d, d1, d1_max, d2, d2_min, h, h_min, h_max]\n  rows:\n"
        "    - [a size that has a very long label, 12, 13, 13.27, 24, 23.48, 2.5, 2.3, 2.7]\n",
        encoding="utf-8",
    )
    report = refused(Order("iso", (own,), out=tmp_path / "dist"))
    assert "characters" in report and "shop-washer.yaml:7:" in report
    assert not (tmp_path / "dist").exists()


def test_two_lengths_that_are_written_alike_clash(tmp_path):
    """Lengths that differ by less than a name can say: found at the row, not overwritten in the library."""
    own = tmp_path / "own"
    own.mkdir()
    (own / "iso-4017.yaml").write_text(
        "family: iso-4017\nrefines: iso-4017\n"
        "lengths: {symbol: l, from: l_from, to: l_to, listed: [2, 5, 10, 16, 25, 25.0000001, 50, 100, 150, 200]}\n",
        encoding="utf-8",
    )
    assert "X25-SIDEC-I is taken at" in refused(Order("iso", (own,), out=tmp_path / "dist"))


def test_a_pattern_that_matches_nothing(tmp_path):
    """The nearest words are offered."""
    report = refused(Order("iso", patterns=("iso-4033",), out=tmp_path / "dist"))
    assert "nothing matches 'iso-4033'" in report and "iso-4032" in report


def test_a_view_that_does_not_show_the_length_does_not_depend_on_it(families):
    """Drawn from the shortest and the longest part of every size: the same view, so one block a size is enough."""
    problems = Problems()
    shop = read_shop("iso", shops_folder(), problems)
    kinds = [kind for kind in view_kinds().values() if not kind.shows_length]
    faults = Faults()
    for family in families:
        for row in family.rows if family.lengths else ():
            lengths = family.lengths.of(row)
            parts = [make_part(family, row, length, faults) for length in (lengths[0], lengths[-1])]
            for spec in family.views:
                kind = view_kinds()[spec.kind]
                if kind in kinds:
                    views = [
                        draw(part.bodies, Look(kind, math.radians(kind.roll), spec.hidden, drafting_for(family, shop)))
                        for part in parts
                    ]
                    assert len({canonical("", family.units, view, {}) for view in views}) == 1, (family.key, row.size)


def test_texts_too_long_for_a_dxf_file(tmp_path):
    """Each text is short enough by itself, together they are not: a problem, not a fault of the writer."""
    shop = shop_file(tmp_path, f"attributes: {{material: {'m' * 200}, class: {'c' * 200}}}")
    report = refused(Order(str(shop), patterns=("ISO7089-12-*",), out=tmp_path / "dist", jobs=1))
    assert "attribute MATERIAL has 402 characters" in report and "iso-7089.yaml:" in report


def test_the_tags_of_the_schema_are_those_of_the_blocks(small):
    """LIBREV alone cannot be shown: it is kept for recognising the block."""
    _, library = small
    assert {*SHOWABLE, "LIBREV"} == set(library["blocks"][0]["attributes"])
    assert "LIBREV" not in SHOWABLE
