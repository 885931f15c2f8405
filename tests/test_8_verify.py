"""`blockwright verify` finds what is wrong: an unharmed library passes, each of many harmed ones fails and is named.

Harm is done to files, pictures, the manifest, and to the stations that make them.
"""

import json
import shutil
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner
from PIL import Image
from proof_families import FAMILIES, write_families

import builder.block.library as block_library
import builder.output.dxf.content as dxf_content
import builder.output.dxf.dialect as dxf_dialect
import builder.output.dxf.document as dxf_document
import builder.output.dxf.entities as dxf_entities
import builder.output.dxf.template as dxf_template
from builder.block.block import Block
from builder.block.drawings import Drawings
from builder.body import polygons
from builder.body.catalogue import feature_kinds
from builder.body.features import thread as thread_feature
from builder.cli import cli
from builder.definition.family import ViewSpec
from builder.definition.shop import Shop
from builder.output.dxf import attributes as dxf_attributes
from builder.part.part import Part
from builder.pipeline import job
from builder.pipeline.build import build
from builder.pipeline.order import Order
from builder.pipeline.prepare import prepare
from builder.pipeline.resources import blocks_folder, schemas_folder
from builder.proof.outcome import Outcome
from builder.proof.schema import fits_of
from builder.proof.verify import Request, verify
from builder.view.catalogue import view_kinds
from builder.view.view import View
from builder.words.measures import Shown
from builder.words.roles import Role

SCHEMA = schemas_folder() / "library.schema.json"
PATTERNS = ("ISO4014-M12X50-*", "ISO4014-M12-*", "ISO4032-M12-*", "ISO7089-12-*")
SIDE, FLAT, HEAD = "ISO4014-M12X50-SIDEC-I", "ISO4014-M12X50-SIDEF-I", "ISO4014-M12-HEAD-I"
POINT, NUT, RING = "ISO4014-M12-POINT-I", "ISO4032-M12-SECT-I", "ISO7089-12-END"
MANIFEST, SHEET = "library.json", "index/iso-4014"
Tags = list[list[str]]  # pairs of group code and value, as text


def made(out: Path, *patterns: str, shop: str = "iso", definitions: tuple[Path, ...] = ()) -> Path:
    order = Order(shop, definitions, patterns or PATTERNS, out=out, jobs=1)
    build(order, prepare(order), lambda family, blocks: None)
    return out


def proved(out: Path, *patterns: str, definitions: tuple[Path, ...] = ()) -> Outcome:
    return verify(Request(out, (blocks_folder(), *definitions), SCHEMA, patterns, jobs=1))


@pytest.fixture(scope="module")
def unharmed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return made(tmp_path_factory.mktemp("unharmed") / "dist")


def file_of(out: Path, block: str) -> Path:
    (found,) = (out / "blocks").rglob(f"{block}.dxf")
    return found


def collection_of(out: Path, block: str) -> Path:
    return out / "collections" / f"{file_of(out, block).parent.name}.dxf"


def manifest_of(out: Path, _: str) -> Path:
    return out / MANIFEST


def picture_of(out: Path, block: str) -> Path:
    (found,) = (out / "thumbnails").rglob(f"{block}.png")
    return found


def read(path: Path) -> Tags:
    lines = path.read_bytes().decode("utf-8").split("\n")[:-1]
    return [list(pair) for pair in zip(lines[::2], lines[1::2], strict=True)]


def write(path: Path, tags: Tags) -> None:
    path.write_bytes("".join(f"{code}\n{value}\n" for code, value in tags).encode())


def spans(tags: Tags, kind: str, start: int = 0) -> Iterator[tuple[int, int]]:
    """Yield where records of a kind begin and end."""
    heads = [n for n, (code, _) in enumerate(tags) if code == "  0"]
    for a, b in zip(heads, [*heads[1:], len(tags)], strict=True):
        if a >= start and tags[a][1] == kind:
            yield a, b


def holds(tags: Tags, span: tuple[int, int], **wanted: str) -> bool:
    return all([code.removeprefix("g").rjust(3), value] in tags[slice(*span)] for code, value in wanted.items())


def record(tags: Tags, kind: str, **wanted: str) -> tuple[int, int]:
    """Find the first record of a kind that has some groups (`g8` is group 8)."""
    return next(span for span in spans(tags, kind) if holds(tags, span, **wanted))


def set_group(code: int, value: str, kind: str, block: str = SIDE, **wanted: str) -> Callable[[Path], None]:
    """Change one group of one record of a block's own file."""

    def harm(out: Path) -> None:
        tags = read(path := file_of(out, block))
        a, b = record(tags, kind, **wanted)
        place = next(n for n in range(b - 1, a - 1, -1) if tags[n][0].strip() == str(code))
        tags[place][1] = value
        write(path, tags)

    return harm


def drop(kind: str, block: str = SIDE, group: int | None = None, **wanted: str) -> Callable[[Path], None]:
    """Take one record, or one group of it, out of a block's own file."""

    def harm(out: Path) -> None:
        tags = read(path := file_of(out, block))
        a, b = record(tags, kind, **wanted)
        gone = range(a, b) if group is None else [n for n in range(a, b) if tags[n][0].strip() == str(group)][-1:]
        write(path, [tag for n, tag in enumerate(tags) if n not in gone])

    return harm


def twice(kind: str, new_handle: str | None = None, **wanted: str) -> Callable[[Path], None]:
    """Write a record of a block's file a second time."""

    def harm(out: Path) -> None:
        tags = read(path := file_of(out, SIDE))
        a, b = record(tags, kind, **wanted)
        copy = [list(tag) for tag in tags[a:b]]
        for tag in copy:
            if tag[0] == "  5" and new_handle:
                tag[1] = new_handle
        if new_handle:
            seed = next(n for n, tag in enumerate(tags) if tag[1] == "$HANDSEED")
            tags[seed + 1][1] = f"{int(new_handle, 16) + 1:X}"
        write(path, tags[:b] + copy + tags[b:])

    return harm


def variable(name: str, *values: str, block: str = SIDE) -> Callable[[Path], None]:
    """Set a header variable."""

    def harm(out: Path) -> None:
        tags = read(path := file_of(out, block))
        at = next(n for n, tag in enumerate(tags) if tag == ["  9", name])
        for n, value in enumerate(values, start=1):
            tags[at + n][1] = value
        write(path, tags)

    return harm


def moved(change: Callable[[float, float], tuple[float, float]], block: str = SIDE) -> Callable[[Path], None]:
    """Move every line of a block's file."""

    def harm(out: Path) -> None:
        tags = read(path := file_of(out, block))
        for a, b in spans(tags, "LINE"):
            for n in range(a, b - 1):
                if tags[n][0] in (" 10", " 11"):
                    x, y = change(float(tags[n][1]), float(tags[n + 1][1]))
                    tags[n][1], tags[n + 1][1] = str(x), str(y)
        write(path, tags)

    return harm


def content(change: Callable[[bytes], bytes], which: Callable[[Path, str], Path] = file_of, block: str = SIDE):
    def harm(out: Path) -> None:
        path = which(out, block)
        path.write_bytes(change(path.read_bytes()))

    return harm


def text_in(old: str, new: str, which: Callable[[Path, str], Path] = file_of, block: str = SIDE):
    def change(data: bytes) -> bytes:
        assert old.encode() in data, old
        return data.replace(old.encode(), new.encode(), 1)

    return content(change, which, block)


def in_collection(change: Callable[[Tags], Tags]) -> Callable[[Path], None]:
    def harm(out: Path) -> None:
        path = collection_of(out, SIDE)
        write(path, change(read(path)))

    return harm


def within(kind: str, code: int, value: str, name: str = SIDE) -> Callable[[Path], None]:
    """Change a group of the first record of a kind after a block's beginning in the collection, or of the insert."""

    def change(tags: Tags) -> Tags:
        head = "INSERT" if kind in ("INSERT", "ATTRIB") else "BLOCK"
        start = record(tags, head, g2=name)[0]
        a, b = next(spans(tags, kind, start))
        place = next(n for n in range(a, b) if tags[n][0].strip() == str(code))
        tags[place][1] = value
        return tags

    return in_collection(change)


def without_insert(tags: Tags) -> Tags:
    a, _ = record(tags, "INSERT", g2=SIDE)
    _, b = next(spans(tags, "SEQEND", a))
    return tags[:a] + tags[b:]


def without_caption(tags: Tags) -> Tags:
    text = "Hexagon head bolt ISO 4014 - M12 x 50 - 8.8"
    gone = {n for a, b in spans(tags, "TEXT") if holds(tags, (a, b), g1=text) for n in range(a, b)}
    return [tag for n, tag in enumerate(tags) if n not in gone]


def first_lines(tags: Tags) -> Iterator[tuple[int, int]]:
    """Yield the first line of each of two blocks."""
    for name in (SIDE, FLAT):
        yield next(spans(tags, "LINE", record(tags, "BLOCK", g2=name)[0]))


def shared_handle(tags: Tags) -> Tags:
    (one, _), (other, _) = first_lines(tags)
    tags[other + 1][1] = tags[one + 1][1]
    return tags


def without_handle(tags: Tags) -> Tags:
    (one, _), _ = first_lines(tags)
    return tags[: one + 1] + tags[one + 2 :]


def without_layer(tags: Tags) -> Tags:
    a, b = record(tags, "LAYER", g2="BW-HATCHING")
    count = max(n for n, tag in enumerate(tags[:a]) if tag[0] == " 70" and tags[n - 1][1] == "AcDbSymbolTable")
    tags[count][1] = str(int(tags[count][1]) - 1)
    return tags[:a] + tags[b:]


def scaled_insert(tags: Tags) -> Tags:
    a, b = record(tags, "INSERT", g2=SIDE)
    at = next(n for n in range(a, b) if tags[n][0] == " 30")
    return [*tags[: at + 1], [" 41", "2.0"], *tags[at + 1 :]]


def in_manifest(change: Callable[[dict], None]) -> Callable[[Path], None]:
    def harm(out: Path) -> None:
        path = out / "library.json"
        facts = json.loads(path.read_text(encoding="utf-8"))
        change(facts)
        path.write_text(json.dumps(facts), encoding="utf-8")

    return harm


def entry_of(facts: dict, block: str = SIDE) -> dict:
    return next(e for e in facts["blocks"] if e["block"] == block)


def entry(change: Callable[[dict], object]) -> Callable[[Path], None]:
    return in_manifest(lambda facts: change(entry_of(facts)))


def pixels(change: Callable[[Image.Image], Image.Image], which=picture_of, block: str = SIDE) -> Callable[[Path], None]:
    def harm(out: Path) -> None:
        path = which(out, block)
        with Image.open(path) as image:
            harmed = change(image.convert("L"))
        harmed.save(path)

    return harm


def sheet_of(out: Path, block: str) -> Path:
    return out / "index" / f"{file_of(out, block).parent.name}-1.png"


def files_swapped(which: Callable[[Path, str], Path], other: str) -> Callable[[Path], None]:
    def harm(out: Path) -> None:
        one, two = which(out, SIDE), which(out, other)
        a, b = one.read_bytes(), two.read_bytes()
        one.write_bytes(b)
        two.write_bytes(a)

    return harm


def removed(which: Callable[[Path, str], Path]) -> Callable[[Path], None]:
    return lambda out: which(out, SIDE).unlink()


def one_more_sheet(out: Path) -> None:
    shutil.copy(sheet_of(out, SIDE), out / f"{SHEET}-2.png")


def added(name: str) -> Callable[[Path], None]:
    return lambda out: (out / name).write_bytes(b"x")


def to_edge(image: Image.Image) -> Image.Image:
    return image.crop(image.point([255 if v < 200 else 0 for v in range(256)]).getbbox()).resize(image.size)


def shrunk(image: Image.Image) -> Image.Image:
    small = Image.new("L", image.size, 255)
    small.paste(image.resize((64, 64)), (96, 96))
    return small


POINT_ENTITY = (
    "  0\nPOINT\n  5\n51\n330\n17\n100\nAcDbEntity\n  8\nBW-AXIS\n100\nAcDbPoint\n 10\n0.0\n 20\n0.0\n 30\n0.0\n"
)
BY_LAYER = "  8\nBW-OUTLINE\n100\nAcDbLine"
OBJECTS = "  0\nENDSEC\n  0\nSECTION\n  2\nOBJECTS"
OUTLINE, AXIS, THREAD = {"g8": "BW-OUTLINE"}, {"g8": "BW-AXIS"}, {"g8": "BW-THREAD"}
LIBREV = {"g2": "LIBREV"}

# What is done, and what the report must name: the block's own name, or the file.
HARM: dict[str, tuple[Callable[[Path], None], str]] = {
    "a line moved by 0.01": (set_group(21, "10.402304845", "LINE", **OUTLINE), SIDE),
    "a line lost": (drop("LINE", **OUTLINE), SIDE),
    "a line drawn twice": (twice("LINE", "FFF", **OUTLINE), SIDE),
    "an axis lost": (drop("LINE", **AXIS), SIDE),
    "a thread root missing": (drop("LINE", **THREAD), SIDE),
    "a line on another layer": (set_group(8, "BW-HIDDEN", "LINE", **OUTLINE), SIDE),
    "a line on a layer that does not exist": (set_group(8, "BW-OUTLIN", "LINE", **OUTLINE), SIDE),
    "a line on layer 0": (set_group(8, "0", "LINE", **OUTLINE), SIDE),
    "a fillet's radius off by 0.01": (set_group(40, "0.61", "ARC", g40="0.6"), SIDE),
    "an arc turned": (set_group(51, "95.0", "ARC", g40="0.6"), SIDE),
    "a circle's radius off by 0.01": (set_group(40, "12.01", "CIRCLE", block=RING, g40="12.0"), RING),
    "a circle off its centre": (set_group(10, "0.01", "CIRCLE", block=RING, g40="12.0"), RING),
    "a negative radius": (set_group(40, "-12.0", "CIRCLE", block=RING, g40="12.0"), RING),
    "the open root circle closed further": (set_group(51, "20.0", "ARC", block=POINT, **THREAD), POINT),
    "hidden circles drawn visible": (set_group(8, "BW-OUTLINE", "CIRCLE", block=HEAD, g8="BW-HIDDEN"), HEAD),
    "mirrored along the axis": (moved(lambda x, y: (-x, y)), SIDE),
    "a quarter turned": (moved(lambda x, y: (-y, x)), SIDE),
    "moved off the base point": (moved(lambda x, y: (x + 1.0, y)), SIDE),
    "moved across the axis": (moved(lambda x, y: (x, y + 0.001)), SIDE),
    "drawn in inches": (moved(lambda x, y: (x / 25.4, y / 25.4)), SIDE),
    "stretched by a thousandth": (moved(lambda x, y: (x * 1.001, y)), SIDE),
    "the hatching lost": (drop("LINE", block=NUT, g8="BW-HATCHING"), NUT),
    "a point added": (text_in(OBJECTS, POINT_ENTITY + OBJECTS), SIDE),
    "a line with a colour of its own": (text_in(BY_LAYER, BY_LAYER.replace("100", " 62\n1\n100", 1)), SIDE),
    "the unit is metres": (variable("$INSUNITS", "6"), SIDE),
    "inch patterns in a metric file": (variable("$MEASUREMENT", "0"), SIDE),
    "another release": (variable("$ACADVER", "AC1015"), SIDE),
    "a base point of the file's own": (variable("$INSBASE", "1.0"), SIDE),
    "extents too small": (variable("$EXTMAX", "10.0"), SIDE),
    "extents too large": (variable("$EXTMIN", "-1000.0"), SIDE),
    "extents that are no number": (variable("$EXTMIN", "nan"), SIDE),
    "an attribute lost": (drop("ATTDEF", g2="FINISH"), SIDE),
    "an attribute twice": (twice("ATTDEF", "FFF", g2="FINISH"), SIDE),
    "an attribute's text changed": (set_group(1, "12.9", "ATTDEF", g2="MATERIAL"), SIDE),
    "an attribute's letters larger": (set_group(40, "5.0", "ATTDEF", g2="SIZE"), SIDE),
    "an attribute made visible": (set_group(70, "2", "ATTDEF", g2="MASS"), SIDE),
    "a constant attribute made editable": (set_group(70, "1", "ATTDEF", g2="MASS"), SIDE),
    "an attribute with another tag": (set_group(2, "COLOUR", "ATTDEF", g2="FINISH"), SIDE),
    "an attribute in the drawing": (set_group(20, "0.0", "ATTDEF", g2="FINISH"), SIDE),
    "another identity": (set_group(1, "0123456789abcdef", "ATTDEF", **LIBREV), SIDE),
    "extended data of another block": (text_in(f"1000\n{SIDE}\n", f"1000\n{FLAT}\n"), SIDE),
    "no extended data": (text_in("1001\nBLOCKWRIGHT\n", "999\nnothing\n"), SIDE),
    "a handle used twice": (twice("LINE", **OUTLINE), SIDE),
    "a handle beyond the seed": (set_group(5, "FFFFF", "LINE", **OUTLINE), SIDE),
    "an owner that is not the model space": (set_group(330, "1", "LINE", **OUTLINE), SIDE),
    "a subclass marker dropped": (drop("LINE", group=100, **OUTLINE), SIDE),
    "a coordinate dropped": (drop("LINE", group=21, **OUTLINE), SIDE),
    "a coordinate that is no number": (set_group(21, "nan", "LINE", **OUTLINE), SIDE),
    "an infinite coordinate": (set_group(21, "inf", "LINE", **OUTLINE), SIDE),
    "a word for a coordinate": (set_group(21, "ten", "LINE", **OUTLINE), SIDE),
    "a layer in another colour": (set_group(62, "1", "LAYER", g2="BW-OUTLINE"), SIDE),
    "a layer in another width": (set_group(370, "25", "LAYER", g2="BW-OUTLINE"), SIDE),
    "a layer in another line type": (set_group(6, "BW_CHAIN", "LAYER", g2="BW-OUTLINE"), SIDE),
    "another dash": (text_in(" 49\n3.0\n", " 49\n3.5\n"), SIDE),
    "another font": (set_group(3, "arial.ttf", "STYLE", g2="BW-TEXT"), SIDE),
    "cut off in the middle": (content(lambda data: data[: len(data) // 2]), SIDE),
    "cut off at the end": (content(lambda data: data[:-10]), SIDE),
    "a line of text lost": (content(lambda data: data.replace(b" 10\n", b"", 1)), SIDE),
    "rubbish for a file": (content(lambda data: bytes(range(256)) * 20), SIDE),
    "an empty file": (content(lambda data: b""), SIDE),
    "another block's file": (files_swapped(file_of, FLAT), SIDE),
    "a file missing": (removed(file_of), f"{SIDE}.dxf"),
    "a file left over": (added("blocks/iso-4014/OLD.dxf"), "OLD.dxf"),
    "a collection left over": (added("collections/iso-4014_2.dxf"), "iso-4014_2.dxf"),
    "a contact sheet left over": (added("index/iso-4014_2-1.png"), "iso-4014_2-1.png"),
    "a block of the collection changed": (within("LINE", 20, "9.0"), SIDE),
    "a handle of the collection used twice": (within("LINE", 5, "1"), "iso-4014.dxf"),
    "a handle of two blocks of the collection": (in_collection(shared_handle), "iso-4014.dxf"),
    "a handle of the collection beyond the seed": (within("LINE", 5, "FFFFFF"), "iso-4014.dxf"),
    "an owner in the collection that is another block": (within("LINE", 330, "1"), "iso-4014.dxf"),
    "a handle of the collection lost": (in_collection(without_handle), "iso-4014.dxf"),
    "a layer of the collection lost": (in_collection(without_layer), "iso-4014.dxf"),
    "a block of the collection off its base point": (within("BLOCK", 10, "1.0"), SIDE),
    "an insert lost": (in_collection(without_insert), SIDE),
    "an insert scaled": (in_collection(scaled_insert), SIDE),
    "an insert on another layer": (within("INSERT", 8, "BW-AXIS"), SIDE),
    "an insert's attribute changed": (within("ATTRIB", 1, "Brass"), SIDE),
    "an insert's attribute moved": (within("ATTRIB", 10, "1.0"), SIDE),
    "the captions lost": (in_collection(without_caption), SIDE),
    "another unit of a block": (text_in(f"{SIDE}\n340\n0\n 70\n4", f"{SIDE}\n340\n0\n 70\n1", collection_of), SIDE),
    "a block of the collection renamed": (content(lambda d: d.replace(SIDE.encode(), b"OTHER"), collection_of), SIDE),
    "a collection cut off": (content(lambda data: data[: len(data) // 2], collection_of), "iso-4014.dxf"),
    "a collection missing": (removed(collection_of), "iso-4014.dxf"),
    "a blank thumbnail": (pixels(lambda image: Image.new("L", image.size, 255)), SIDE),
    "a thumbnail of another size": (pixels(lambda image: image.resize((128, 128))), SIDE),
    "a thumbnail cut at its edge": (pixels(to_edge), SIDE),
    "another view's thumbnail": (files_swapped(picture_of, HEAD), SIDE),
    "a small thumbnail": (pixels(shrunk), SIDE),
    "a thumbnail cut off": (content(lambda data: data[: len(data) // 2], picture_of), SIDE),
    "rubbish for a thumbnail": (content(lambda data: b"GIF89a" + data, picture_of), SIDE),
    "a thumbnail missing": (removed(picture_of), f"{SIDE}.png"),
    "a blank contact sheet": (pixels(lambda image: Image.new("L", image.size, 255), sheet_of), "iso-4014-1.png"),
    "a contact sheet missing": (removed(sheet_of), "iso-4014-1.png"),
    "the last contact sheet missing": (in_manifest(lambda f: f["sheets"].append(f"{SHEET}-2.png")), f"{SHEET}-2.png"),
    "a contact sheet too many": (one_more_sheet, f"{SHEET}-2.png"),
    "a contact sheet unlisted": (in_manifest(lambda f: f["sheets"].pop()), MANIFEST),
    "a contact sheet listed twice": (in_manifest(lambda f: f["sheets"].append(f["sheets"][0])), MANIFEST),
    "a dimension off by 0.1": (entry(lambda e: e["dimensions"].update(k=7.6)), SIDE),
    "a dimension lost": (entry(lambda e: e["dimensions"].pop("k")), SIDE),
    "a measure off by 0.1": (entry(lambda e: e["measures"][0].update(value=20.9)), SIDE),
    "a measure lost": (entry(lambda e: e["measures"].pop()), SIDE),
    "other bounds": (entry(lambda e: e["bounds"].__setitem__(2, 54.0)), SIDE),
    "another fingerprint": (entry(lambda e: e.update(fingerprint="0123456789abcdef")), SIDE),
    "another text of an attribute": (entry(lambda e: e["attributes"].update(FINISH="Zinc")), SIDE),
    "another designation": (entry(lambda e: e.update(designation="Bolt")), SIDE),
    "another standard": (entry(lambda e: e.update(standard="DIN 931:1987")), SIDE),
    "another length": (entry(lambda e: e.update(length=55.0)), SIDE),
    "a length that is not listed": (entry(lambda e: e.update(length=51.0)), SIDE),
    "a size that the table has not": (entry(lambda e: e.update(size="M13")), SIDE),
    "another view": (entry(lambda e: e.update(view="section")), SIDE),
    "another unit": (entry(lambda e: e.update(units="in")), SIDE),
    "an entry twice": (in_manifest(lambda f: f["blocks"].append(entry_of(f))), SIDE),
    "an entry lost": (in_manifest(lambda f: f["blocks"].remove(entry_of(f))), SIDE),
    "a path out of the library": (entry(lambda e: e.update(dxf="../../etc/passwd")), SIDE),
    "a name that no file system has": (entry(lambda e: e.update(block="a/b")), MANIFEST),
    "a key missing": (entry(lambda e: e.pop("bounds")), SIDE),
    "a key too many": (entry(lambda e: e.update(colour=1)), SIDE),
    "a role on another layer": (in_manifest(lambda f: f["roles"]["hidden"].update(layer="BW-AXIS")), HEAD),
    "another thread style": (in_manifest(lambda f: f["shop"].update(thread_style="simplified")), SIDE),
    "no blocks": (in_manifest(lambda f: f["blocks"].clear()), MANIFEST),
    "a manifest cut off": (content(lambda data: data[:500], manifest_of), MANIFEST),
    "a manifest nested too deep": (content(lambda data: b"[" * 100_000, manifest_of), MANIFEST),
    "a manifest with an infinite number": (text_in('"bounds":[-', '"bounds":[-Infinity,-', manifest_of), MANIFEST),
    "no manifest": (lambda out: (out / "library.json").unlink(), MANIFEST),
}  # fmt: skip


def test_an_unharmed_library_passes(unharmed: Path) -> None:
    """Eleven blocks, each with measures of its own; nothing is left to the eye."""
    outcome = proved(unharmed)
    assert outcome.problems == () and outcome.notes == ()
    assert outcome.blocks == len(outcome.listing) == 11
    assert all(len(compared) >= 4 and not left for _, compared, left in outcome.listing)
    assert outcome.measures == sum(len(compared) for _, compared, _ in outcome.listing)


def test_there_are_many_kinds_of_harm() -> None:
    assert len(HARM) + len(STATIONS) >= 100


@pytest.mark.parametrize("harm", HARM)
def test_harm_to_a_file_is_found(harm: str, unharmed: Path, tmp_path: Path) -> None:
    """The report names the block, or the file where the harm is to no single block."""
    shutil.copytree(unharmed, tmp_path / "dist")
    do, named = HARM[harm]
    do(tmp_path / "dist")
    told = list(map(str, proved(tmp_path / "dist").problems))
    assert told and any(named in line for line in told), told


# Harm to the stations that make a library.


@pytest.fixture
def fresh() -> Iterator[None]:
    """Templates of the writer are kept between builds: none of a harmed one may be."""
    dxf_template._template.cache_clear()
    yield
    dxf_template._template.cache_clear()


def swapped_layers(patch: pytest.MonkeyPatch) -> None:
    own = dxf_dialect.look_of
    swap = {Role.HIDDEN: Role.THREAD, Role.THREAD: Role.HIDDEN}
    patch.setattr(dxf_dialect, "look_of", lambda shop, role: own(shop, swap.get(role, role)))


def larger_arcs(patch: pytest.MonkeyPatch) -> None:
    own = dxf_entities._circle
    patch.setattr(dxf_entities, "_circle", lambda s, dialect: own(replace(s, radius=s.radius + 0.01), dialect))


def on_lines(change: Callable[[float, float], tuple[float, float]]) -> Callable[[pytest.MonkeyPatch], None]:
    def harm(patch: pytest.MonkeyPatch) -> None:
        own = dxf_entities._line

        def line(shape, handle, owner, dialect):
            ends = (type(p)(*change(p.x, p.y)) for p in (shape.start, shape.end))
            return own(type(shape)(*ends, shape.role), handle, owner, dialect)

        patch.setattr(dxf_entities, "_line", line)

    return harm


def unit_of_files(patch: pytest.MonkeyPatch) -> None:
    units = dict.fromkeys(dxf_dialect.INSERT_UNITS, 6)
    patch.setattr(dxf_document, "INSERT_UNITS", units)
    patch.setattr(dxf_dialect, "INSERT_UNITS", units)


def letters(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(dxf_attributes, "LINE_SPACING", 0.0)


def lost_attribute(patch: pytest.MonkeyPatch) -> None:
    own = dxf_content.attdef_tags
    patch.setattr(dxf_content, "attdef_tags", lambda d, *more: "" if d.tag == "FINISH" else own(d, *more))


def on_views(change: Callable[[View], View]) -> Callable[[pytest.MonkeyPatch], None]:
    def harm(patch: pytest.MonkeyPatch) -> None:
        own = Drawings.view
        patch.setattr(Drawings, "view", lambda self, part, spec: change(own(self, part, spec)))

    return harm


def visible(view: View) -> View:
    roles = {Role.HIDDEN: Role.OUTLINE}
    return View(view.kind, tuple(replace(s, role=roles.get(s.role, s.role)) for s in view.shapes))


def one_less(role: Role) -> Callable[[View], View]:
    def change(view: View) -> View:
        gone = next((s for s in view.shapes if s.role is role), None)
        return View(view.kind, tuple(s for s in view.shapes if s is not gone))

    return change


def rolled(patch: pytest.MonkeyPatch) -> None:
    own = Drawings.view

    def view(self: Drawings, part: Part, spec: ViewSpec) -> View:
        return own(self, part, replace(spec, roll=view_kinds()[spec.kind].roll + 30.0))

    patch.setattr(Drawings, "view", view)


def wider_hexagons(patch: pytest.MonkeyPatch) -> None:
    own = polygons.regular
    for module in (polygons, __import__("builder.body.features.hexagon", fromlist=["regular"])):
        patch.setattr(module, "regular", lambda sides, across, turn=0.0: own(sides, across + 0.1, turn))


def longer_threads(patch: pytest.MonkeyPatch) -> None:
    own = thread_feature._mark
    patch.setattr(thread_feature, "_mark", lambda *given: replace(m := own(*given), limits=(m.limits[0] - 0.1,)))


def other_pitch(patch: pytest.MonkeyPatch) -> None:
    own = thread_feature._mark
    patch.setattr(thread_feature, "_mark", lambda *given: replace(m := own(*given), pitch=m.pitch * 1.01))


def thinner_roots(patch: pytest.MonkeyPatch) -> None:
    own = thread_feature._mark
    patch.setattr(thread_feature, "_mark", lambda *given: replace(m := own(*given), minor=m.minor - 0.1))


def other_digest(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(block_library, "fingerprint", lambda name, unit, view, texts: "0123456789abcdef")


def other_pictures(patch: pytest.MonkeyPatch) -> None:
    own = job.thumbnails

    def thumbnails(blocks: Sequence[Block], shop: Shop) -> Iterator[bytes]:
        return own([replace(block, view=View("", block.view.shapes[:1])) for block in blocks], shop)

    patch.setattr(job, "thumbnails", thumbnails)


def short_collection(patch: pytest.MonkeyPatch) -> None:
    own = job.collection_file
    patch.setattr(job, "collection_file", lambda blocks, shop: own(blocks[:-1] or blocks, shop))


def twice_scaled(patch: pytest.MonkeyPatch) -> None:
    own = block_library.factor
    patch.setattr(block_library, "factor", lambda a, b: 2.0 * own(a, b))


STATIONS: dict[str, tuple[Callable[[pytest.MonkeyPatch], None], str]] = {
    "the writer swaps two layers": (swapped_layers, SIDE),
    "the writer's arcs are 0.01 larger": (larger_arcs, SIDE),
    "the writer mirrors": (on_lines(lambda x, y: (-x, y)), SIDE),
    "the writer moves the base point": (on_lines(lambda x, y: (x - 7.5, y)), SIDE),
    "the writer rounds to a tenth": (on_lines(lambda x, y: (round(x, 1), round(y, 1))), SIDE),
    "the writer states metres": (unit_of_files, SIDE),
    "the writer puts attributes on each other": (letters, SIDE),
    "the writer loses an attribute": (lost_attribute, SIDE),
    "a view shows hidden lines as visible": (on_views(visible), HEAD),
    "a view loses an outline": (on_views(one_less(Role.OUTLINE)), SIDE),
    "a view loses a root": (on_views(one_less(Role.THREAD)), SIDE),
    "flats and corners are swapped": (rolled, SIDE),
    "a hexagon is 0.1 wider": (wider_hexagons, SIDE),
    "a thread is 0.1 longer": (longer_threads, SIDE),
    "a thread root is 0.1 thinner": (thinner_roots, SIDE),
    "the fingerprint is a constant": (other_digest, SIDE),
    "pictures show one line": (other_pictures, SIDE),
    "the collection lacks a block": (short_collection, HEAD),
    "blocks are twice as large": (twice_scaled, SIDE),
}


@pytest.mark.usefixtures("fresh")
@pytest.mark.parametrize("harm", STATIONS)
def test_harm_to_a_station_is_found(harm: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    do, named = STATIONS[harm]
    do(monkeypatch)
    out = made(tmp_path / "dist", "ISO4014-M12X50-*", "ISO4014-M12-HEAD-*")
    told = list(map(str, proved(out).problems))
    assert told and any(named in line for line in told), told


DETAILED = "shop: detailed\nbased_on: iso\ntitle: Threads drawn in detail\nthread_style: detailed\n"


@pytest.mark.parametrize("harm", [None, other_pitch])
def test_the_pitch_of_detailed_threads(harm, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """ISO 261: M12 has a pitch of 1.75; one that is a hundredth longer is found."""
    (tmp_path / "detailed.yaml").write_text(DETAILED, encoding="utf-8")
    if harm:
        harm(monkeypatch)
    out = made(tmp_path / "dist", "ISO4014-M12X50-SIDEC-*", shop=str(tmp_path / "detailed.yaml"))
    outcome = proved(out)
    (pitch,) = [one for _, compared, _ in outcome.listing for one in compared if one.measure.name == "pitch"]
    assert pitch.measure.value == 1.75 and pitch.found == pytest.approx(1.75 if harm is None else 1.7675, abs=1e-6)
    assert [
        str(p) for p in outcome.problems if "ISO4014-M12X50-SIDEC-D: P, pitch of thread" in str(p)
    ] != [] or not harm
    assert bool(outcome.problems) == bool(harm)


def test_a_table_that_has_changed_since(tmp_path: Path) -> None:
    """k of M12 is 7.5 (ISO 4014); a library made with 7.6 is told by name, and passes by its own definitions."""
    table = (blocks_folder() / "iso-4014.yaml").read_text(encoding="utf-8")
    row = next(line for line in table.splitlines() if "[M12," in line)
    thicker = row.replace(" 7.5,", " 7.6,").replace("7.32,", "7.42,").replace("7.68,", "7.78,")
    (tmp_path / "own").mkdir()
    own = tmp_path / "own" / "iso-4014.yaml"
    own.write_text(
        table.replace(row, thicker).replace("code: ISO4014", "code: ISO4014\nreplaces: iso-4014"), encoding="utf-8"
    )
    out = made(tmp_path / "dist", "ISO4014-M12X50-SIDEC-I", definitions=(tmp_path / "own",))
    assert proved(out, definitions=(tmp_path / "own",)).problems == ()
    told = "\n".join(map(str, proved(out).problems))
    assert f"{SIDE}: k is 7.6, by the table 7.5" in told and "--definitions" in told
    assert f"{SIDE}: k, from of head (face) measures -7.6; expected -7.5" in told


def test_a_library_whose_definitions_are_gone(unharmed: Path) -> None:
    """It is proved against the manifest alone, and says so."""
    outcome = verify(Request(unharmed, (blocks_folder() / "iso-7089.yaml",), SCHEMA, jobs=1))
    assert outcome.problems == ()
    assert [note for note in outcome.notes if "no definition of iso-4014 at hand" in note]


def test_only_what_is_asked_for(unharmed: Path, tmp_path: Path) -> None:
    """Harm elsewhere is not found; a pattern that matches nothing is a problem."""
    shutil.copytree(unharmed, tmp_path / "dist")
    HARM["a line moved by 0.01"][0](tmp_path / "dist")
    assert proved(tmp_path / "dist", "ISO7089-12-*").problems == ()
    assert proved(tmp_path / "dist", "ISO4014*").problems
    (problem,) = proved(tmp_path / "dist", "iso-7098").problems
    assert "nothing matches" in str(problem) and "iso-7089" in str(problem)


def test_the_command(unharmed: Path, tmp_path: Path) -> None:
    """A line where all is well, a table on request, JSON for programs, exit code 1 with the faults."""
    run = CliRunner().invoke
    done = run(cli, ["verify", str(unharmed), "-j", "1"])
    assert done.exit_code == 0 and done.stdout.endswith("files: no problems\n")
    listed = run(cli, ["verify", str(unharmed), "--only", SIDE, "--measures"])
    assert listed.exit_code == 0 and "k, from of head" in listed.stdout and "-7.500000" in listed.stdout
    facts = json.loads(run(cli, ["verify", str(unharmed), "--only", SIDE, "--measures", "--json"]).stdout)
    assert facts["ok"] and facts["blocks"] == 1 and facts["listing"][0]["block"] == SIDE
    assert all(measure["holds"] for measure in facts["listing"][0]["measures"])
    shutil.copytree(unharmed, tmp_path / "dist")
    HARM["a line moved by 0.01"][0](tmp_path / "dist")
    failed = run(cli, ["verify", str(tmp_path / "dist")])
    assert failed.exit_code == 1 and SIDE in failed.stderr
    told = run(cli, ["verify", str(tmp_path / "dist"), "--json"])
    assert told.exit_code == 1 and not json.loads(told.stdout)["ok"]


@pytest.mark.parametrize("kind", ["missing", "file", "empty"])
def test_what_is_no_library(kind: str, tmp_path: Path) -> None:
    """Exit code 1 and one clear problem."""
    place = tmp_path / "dist"
    if kind == "file":
        place.write_text("x", encoding="utf-8")
    elif kind == "empty":
        place.mkdir()
    done = CliRunner().invoke(cli, ["verify", str(place)], catch_exceptions=False)
    assert done.exit_code == 1 and "expected the folder of a built library" in done.stderr


def test_the_quick_check_of_the_schema_agrees_with_jsonschema(unharmed: Path) -> None:
    """jsonschema is the outside reference: each fact of an entry in turn left out, and put otherwise."""
    rules = json.loads(SCHEMA.read_text(encoding="utf-8"))
    fits, slow = fits_of(rules, rules), jsonschema.Draft202012Validator(rules)
    facts = json.loads((unharmed / "library.json").read_text(encoding="utf-8"))
    facts["blocks"] = facts["blocks"][:1]
    tried = [facts]
    for where in (facts, facts["shop"], facts["roles"]["axis"], facts["blocks"][0], facts["blocks"][0]["measures"][0]):
        for key, kept in list(where.items()):
            for value in (None, -1, "x", "Ä", [], {}, True, [1, 2], {"a": "b"}, ["x"]):
                where[key] = value
                tried.append(json.loads(json.dumps(facts)))
            del where[key]
            tried.append(json.loads(json.dumps(facts)))
            where[key] = kept
    assert len(tried) > 400 and {fits(one) for one in tried} == {True, False}
    assert [fits(one) for one in tried] == [slow.is_valid(one) for one in tried]


def test_every_feature_kind_states_what_it_shows() -> None:
    """A kind that states nothing would leave its blocks unmeasured; each stands in a family of the trial."""
    for kind, feature in feature_kinds().items():
        assert hasattr(feature, "stated"), kind
        assert any(f"{kind}:" in line for lines in FAMILIES.values() for line in lines), kind


@pytest.fixture(scope="module")
def trial(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Outcome]:
    """Parts of every kind in eight views, drawn and measured."""
    folder = tmp_path_factory.mktemp("trial")
    write_families(folder / "own")
    out = made(folder / "dist", "trial-*", definitions=(folder / "own",))
    return out, proved(out, definitions=(folder / "own",))


def test_every_kind_in_every_way_of_looking(trial: tuple[Path, Outcome]) -> None:
    """What features state and what the projection draws agree, where anything is stated: two ways to one drawing."""
    _, outcome = trial
    assert outcome.problems == ()
    assert outcome.blocks == 8 * len(FAMILIES)
    shown = Counter(one.measure.shown for _, compared, _ in outcome.listing for one in compared)
    assert set(shown) == set(Shown) - {Shown.PITCH}  # that of detailed threads has its own test
    unmeasured = {name.split("-")[0] for name, compared, _ in outcome.listing if not compared}
    assert unmeasured <= {"TANGLE", "TBALLS", "TKEY", "TELBOW", "TEYEB", "TPOCKET", "TTEE", "TROLLERS"}


def test_what_is_not_measured_is_said(trial: tuple[Path, Outcome]) -> None:
    _, outcome = trial
    assert "not measured in 8 blocks: the keyway" in outcome.notes
    assert "not measured in 8 blocks: the slots" in outcome.notes
