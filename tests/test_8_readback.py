"""What the written files show, measured on their lines alone by a reader that did not write them, against the tables.

Each figure is compared with the part's own (the family's table and formulas), for every size and view, at the lengths
where something may change; and with the published one in tests/reference wherever somebody read it on a page, by the
rule of test_3_tables.
"""

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import pairwise
from pathlib import Path

import pytest
import second_entry
from readback import NEAR, Arc, Block, Drawing, Library, Line, build_library
from second_entry import BOLT, CAP, INCH_NUTS
from sights import by_gdal
from witness import DRAWN, Witness

from builder.definition.family import Family

SCREWS = ("iso-4014", "iso-4017", BOLT, CAP)
NUTS = ("iso-4032", INCH_NUTS)
WASHERS = ("iso-7089", "asme-b18-22-1-plain-washer-a")
CORNERS, FLATS = "side across corners", "side across flats"
WASHER_FACED = ("iso-4014", "iso-4017", CAP)
TAN_30 = math.tan(math.pi / 6)

# Published cells that the drawings show, each counted once. Measured; a test fails when one drops.
SHOWN = {
    "iso-4014": 113,
    "iso-4017": 107,
    BOLT: 65,
    CAP: 51,
    "iso-4032": 93,
    INCH_NUTS: 32,
    "iso-7089": 42,
    "asme-b18-22-1-plain-washer-a": 51,
}


@pytest.fixture(scope="module")
def witness(families: tuple[Family, ...]) -> Witness:
    return Witness(families)


def test_there_is_a_drawing_of_every_size(library: Library, families: Sequence[Family]) -> None:
    for family in families:
        for spec in family.views:
            drawn = {block.size for block in library.of(family.key, spec.kind)}
            assert drawn == {row.size for row in family.rows}, (family.key, spec.kind)


@pytest.mark.parametrize("family", SCREWS)
def test_screws_from_the_side(library: Library, witness: Witness, family: str) -> None:
    for block in library.of(family, CORNERS, FLATS):
        outline = block.drawing.of("outline")
        head, shank = outline.between(-math.inf, 0.0), outline.between(NEAR, math.inf)
        measured = {
            "height of head": -outline.left,
            "diameter": shank.levels[-1],
            "length": outline.right,
            "fillet": fillet(shank),
            "end of point": shank.uprights[-1].length,
        }
        if block.view == FLATS:
            measured["flats"] = head.height
        if family in WASHER_FACED:
            bearing, under = head.uprights[-1], head.uprights[-2]
            measured |= {"washer face": bearing.length, "height of washer face": bearing.x1 - under.x1}
        witness.check(block, measured)
        assert outline.right == pytest.approx(block.length, abs=DRAWN)
        thread = thread_start(shank)
        check_thread(block, witness, thread)


def fillet(shank: Drawing) -> float:
    """Return the radius of the two fillets under the head."""
    assert len(shank.arcs) == 2
    assert shank.arcs[0].radius == pytest.approx(shank.arcs[1].radius, abs=DRAWN)
    return shank.arcs[0].radius


def thread_start(shank: Drawing) -> float:
    """Return where the wide line across the shank shows the end of the full thread."""
    across = [n for n in shank.uprights if n.length == pytest.approx(shank.levels[-1], abs=DRAWN)]
    assert len(across) == 2, "limit of thread and rim of the point"
    return across[0].x1


def check_thread(block: Block, witness: Witness, start: float) -> None:
    """Hold the drawn length of thread against the rule of ISO 888 or ASME B18.2.1, or the run-out against ISO 4017."""
    length = block.length - start
    own = witness.own(block)
    if block.facts["family"] == "iso-4017":
        witness.check(block, {"a_max": start})
    elif block.facts["family"] == "iso-4014":
        witness.check(block, {"b": length})
        witness.published(block, f"b @ {100 if block.length <= 125 else 160 if block.length <= 200 else 260}", length)
    else:
        witness.check(block, {"Lb": start})
        assert length <= own["LT"] + DRAWN
        if length > own["LT"] - DRAWN:
            witness.published(block, f"LT @ {6 if block.length <= 6 else 7}", length)


@pytest.mark.parametrize("family", NUTS)
def test_nuts_from_the_side(library: Library, witness: Witness, family: str) -> None:
    for block in library.of(family, CORNERS, FLATS):
        outline, hidden = block.drawing.of("outline"), block.drawing.of("hidden")
        assert outline.left == pytest.approx(0.0, abs=DRAWN)
        assert len(hidden.levels) == 2
        measured = {"height of nut": outline.right, "diameter": hidden.levels[1]}
        if block.view == FLATS:
            measured["flats"] = outline.height
        witness.check(block, measured)
        check_minor(block, witness, hidden.levels[0])


@pytest.mark.parametrize("family", NUTS)
def test_nuts_in_section(library: Library, witness: Witness, family: str) -> None:
    for block in library.of(family, "section"):
        outline, thread = block.drawing.of("outline"), block.drawing.of("thread")
        cut = [n for n in outline.lines if not n.upright and not n.level and n.x1 < NEAR]
        sink = 2.0 * min(abs(n.y1) for n in cut)
        witness.check(block, {"height of nut": outline.right, "diameter": thread.levels[0], "countersink": sink})
        check_minor(block, witness, outline.levels[0])
        check_hatching(block, outline.levels[0], outline.levels[-1])


@pytest.mark.parametrize("family", NUTS)
def test_nuts_from_the_end(library: Library, witness: Witness, family: str) -> None:
    for block in library.of(family, "end"):
        arcs = block.drawing.of("thread").arcs
        assert len(arcs) == 1
        assert arcs[0].turn == pytest.approx(1.5 * math.pi)  # ISO 6410-1: about three quarters
        witness.check(block, {"diameter": 2.0 * arcs[0].radius})
        check_minor(block, witness, block.drawing.of("outline").circles[0])


def check_minor(block: Block, witness: Witness, minor: float) -> None:
    """Internal thread: D1 = D - 1.082532 P (ISO 68-1); UNC minor diameters as printed, to four decimals."""
    own = witness.own(block)
    diameter = own.get("d", own.get("D", 0.0))
    assert minor == pytest.approx(diameter - 1.082532 * own["P"], abs=2e-6), block.label
    family, _ = witness.rows[block.facts["family"], block.size]
    printed = second_entry.of_size("asme_b1_1_unc_threads", family, block.size) if "tpi" in own else None
    if printed is not None:
        assert minor == pytest.approx(printed.number("minor_dia_int_basic"), abs=6e-5), block.label


def check_hatching(block: Block, inner: float, outer: float) -> None:
    """Every hatching line lies at 45 degrees in the cut face."""
    lines = block.drawing.of("hatching").lines
    above = sum(n.y1 > 0.0 for n in lines)
    assert min(above, len(lines) - above) >= 2, block.label
    for n in lines:
        assert abs(n.y2 - n.y1) == pytest.approx(n.x2 - n.x1, abs=1e-6), block.label
        assert inner / 2 - 1e-6 <= min(abs(n.y1), abs(n.y2)), block.label
        assert max(abs(n.y1), abs(n.y2)) <= outer / 2 + 1e-6, block.label


@pytest.mark.parametrize("family", WASHERS)
def test_washers(library: Library, witness: Witness, family: str) -> None:
    for block in library.of(family, "side", "section", "end"):
        outline, hidden = block.drawing.of("outline"), block.drawing.of("hidden")
        if block.view == "end":
            hole, outside = outline.circles
            witness.check(block, {"hole": hole, "outside": outside})
            continue
        assert outline.left == pytest.approx(0.0, abs=DRAWN)
        levels = hidden.levels + outline.levels if block.view == "side" else outline.levels
        assert levels[1:] == pytest.approx([outline.height], abs=1e-6)
        witness.check(block, {"hole": levels[0], "outside": outline.height, "thickness": outline.right})
        if block.view == "section":
            check_hatching(block, *levels)


@pytest.mark.parametrize("family", SCREWS + NUTS)
def test_corners_and_flats_are_the_same_in_every_view(library: Library, witness: Witness, family: str) -> None:
    """e = 2 s / sqrt 3; the end views show the same hexagon as the side views, a corner up as across corners."""
    nut = family in NUTS
    sides: dict[tuple[str, str], set[float]] = defaultdict(set)
    for block in library.of(family, CORNERS, FLATS, *(("section",) if nut else ())):
        outline = block.drawing.of("outline")
        head = outline if nut else outline.between(-math.inf, 0.0)
        sides[block.size, FLATS if block.view == FLATS else CORNERS].add(round(head.height, 6))
    for block in library.of(family, *(("end",) if nut else ("head end", "point end"))):
        flats, corners = block.drawing.of("outline").hexagon
        for view, width in ((FLATS, flats), (CORNERS, corners)):
            assert sorted(sides[block.size, view]) == pytest.approx([width], abs=2e-6), block.label
        assert corners == pytest.approx(2.0 * flats / math.sqrt(3.0), abs=3e-6), block.label
        witness.check(block, {"flats": flats})
        for cell in witness.read[family, block.size, "G_max"]:
            assert corners == pytest.approx(cell.published, abs=0.0011), block.label
        for cell in witness.read[family, block.size, "e_min"]:
            assert corners > cell.published, block.label


@pytest.mark.parametrize("family", SCREWS)
def test_screws_from_their_ends(library: Library, witness: Witness, family: str) -> None:
    """Shank, washer face and open root circle; the root is drawn alike from the side and from the end."""
    roots: dict[str, set[float]] = defaultdict(set)
    for block in library.of(family, CORNERS, FLATS):
        roots[block.size].update(block.drawing.of("thread").levels)
    for block in library.of(family, "point end"):
        circles = block.drawing.of("outline").circles
        witness.check(block, {"diameter": circles[0]})
        if family in WASHER_FACED:
            witness.check(block, {"washer face": circles[1]})
        check_root(block.drawing.of("thread").arcs, roots[block.size])
    for block in library.of(family, "head end"):
        hidden = block.drawing.of("hidden")
        witness.check(block, {"diameter": hidden.circles[0]})
        check_root([arc for arc in hidden.arcs if not arc.whole], roots[block.size])


def check_root(arcs: Sequence[Arc], levels: set[float]) -> None:
    assert len(arcs) == 1
    assert arcs[0].turn == pytest.approx(1.5 * math.pi)
    assert sorted(levels) == pytest.approx([2.0 * arcs[0].radius], abs=2e-6)


@pytest.mark.parametrize("family", SCREWS + NUTS)
def test_chamfer_of_hexagons(library: Library, witness: Witness, family: str) -> None:
    """A cone of 30 degrees (common practice, no source) cuts each face in a hyperbola; the arcs keep to it.

    The chamfer circle is at most the width across flats and no more than 15 percent less, nuts 5 percent (ASME
    B18.2.1, B18.2.2; ISO gives no diameter).
    """
    for block in library.of(family, CORNERS, FLATS):
        outline = block.drawing.of("outline")
        nut = family in NUTS
        body = outline if nut else outline.between(-math.inf, 0.0)
        own = witness.own(block)
        flats = own.get("s", own.get("F", 0.0))
        faces = (body.uprights[0], body.uprights[-1]) if nut else (body.uprights[0],)
        for face in faces:
            assert (0.95 if nut else 0.85) * flats - NEAR <= face.length <= flats, block.label
            near = [arc for arc in body.arcs if not nut or abs(middle(arc)[0] - face.x1) < outline.right / 2]
            assert len(near) == (3 if block.view == CORNERS else 2), block.label
            for arc in near:
                check_hyperbola(block, arc, face, flats)
            slopes = [n for n in body.lines if is_chamfer(n, face)]
            assert len(slopes) == 2, block.label
            for n in slopes:
                assert abs(n.x2 - n.x1) / abs(n.y2 - n.y1) == pytest.approx(TAN_30, abs=1e-4), block.label


def check_hyperbola(block: Block, arc: Arc, face: Line, flats: float) -> None:
    """From the end face x = (sqrt((s/2)^2 + t^2) - dc/2) tan 30, t along the face.

    An arc meets it at both ends and in the middle. Between them it stays within 0.0012 s, measured along the axis;
    on the two faces that are seen aslant across corners within 0.0019 s, which is 0.0017 s square to the curve.
    """
    aslant = block.view == CORNERS and abs(middle(arc)[1]) > flats / 4
    off = []
    for x, y in arc.points():
        exact = (math.hypot(flats / 2, along_face(y, flats, block.view)) - face.length / 2) * TAN_30
        off.append(abs(abs(x - face.x1) - exact) / flats)
    assert max(off[0], off[6], off[12]) <= 3e-6, block.label
    assert max(off) <= (0.0019 if aslant else 0.0012), block.label


def middle(arc: Arc) -> tuple[float, float]:
    return list(arc.points(3))[1]


def is_chamfer(line: Line, face: Line) -> bool:
    """Tell the sloped line that runs outward from an end face's own end."""
    ends = ((line.x1, line.y1), (line.x2, line.y2))
    on_face = [e for e in ends if abs(e[0] - face.x1) < NEAR and abs(abs(e[1]) - face.length / 2) < NEAR]
    return len(on_face) == 1 and not line.upright and not line.level


def along_face(y: float, flats: float, view: str) -> float:
    """Return how far from a face's middle a point of its edge lies, measured along the face."""
    side = flats / math.sqrt(3.0)
    if view == FLATS:  # two faces, 30 degrees from the line of sight's square
        return (abs(y) - flats / 4) / math.cos(math.pi / 6)
    return y if abs(y) <= side / 2 + NEAR else (abs(y) - 0.75 * side) / 0.5


@pytest.mark.parametrize("family", SCREWS + NUTS + WASHERS)
def test_outlines_are_closed(library: Library, family: str) -> None:
    """Every end of a wide line lies on another wide line, in the longest part of each size."""
    views = {block.view for block in library.blocks if block.facts["family"] == family}
    longest = {(block.size, block.view): block for block in library.of(family, *views)}
    for block in longest.values():
        assert block.drawing.of("outline").loose_ends == [], block.label


@pytest.mark.parametrize("family", SHOWN)
def test_as_many_published_cells_are_shown_as_ever(
    witness: Witness, family: str, request: pytest.FixtureRequest
) -> None:
    """Counted over the tests above, so it says something only where they ran."""
    ran = {item.originalname for item in request.session.items if hasattr(item, "originalname")}
    if not ran >= {name for name in globals() if name.startswith("test_")}:
        pytest.skip("only a part of this module was asked for")
    assert witness.shown(family) >= SHOWN[family]


def test_worked_example(tmp_path: Path) -> None:
    """ASME B18.2.1 hex bolt, 1-8 x 3: 1-1/2 across flats, 1.732 across corners, 43/64 high, 2-1/4 of thread.

    Eight threads to the inch, a profile of 60 degrees (ASME B1.1), chamfer 30 degrees (common practice, no source).
    """
    library = build_library(tmp_path, "B1821B-1-8X3-SIDE?-D", style="detailed")
    assert [block.view for block in library.blocks] == [CORNERS, FLATS]
    for block in library.blocks:
        outline = block.drawing.of("outline")
        head, shank = outline.between(-math.inf, 0.0), outline.between(NEAR, math.inf)
        width = {CORNERS: 1.732, FLATS: 1.5}[block.view]
        assert head.height == pytest.approx(width, abs=0.0006)
        assert -outline.left == pytest.approx(43 / 64, abs=DRAWN)
        assert (shank.levels[-1], outline.right) == pytest.approx((1.0, 3.0), abs=DRAWN)
        limits = [n.x1 for n in shank.uprights if n.length == pytest.approx(1.0, abs=DRAWN)]
        assert [outline.right - x for x in limits] == pytest.approx([2.25], abs=DRAWN)
        check_profile(shank)


def test_detailed_threads_leave_no_loose_ends(tmp_path: Path) -> None:
    """Every wide line of a detailed thread ends on another, in the shortest and longest part of every size."""
    patterns = ("ISO4014-*-SIDEC-D", "ISO4032-*-SECT-D", "B1821C-*-SIDEF-D", "B1822N-*-SECT-D")
    library = build_library(tmp_path, *patterns, style="detailed", lengths="ends")
    first = {(b.facts["family"], b.size): b for b in reversed(library.blocks)}
    last = {(b.facts["family"], b.size): b for b in library.blocks}
    assert len(last) == 29 + 29 + 20 + 14
    for block in (*first.values(), *last.values()):
        assert block.drawing.of("outline").loose_ends == [], block.label


def check_profile(shank: Drawing) -> None:
    """Measure the thread on the zigzag above the axis."""
    above = [n for n in shank.lines if not n.upright and not n.level and min(n.y1, n.y2) > 0.0]
    crests = sorted({round(x, 6) for n in above for x, y in ((n.x1, n.y1), (n.x2, n.y2)) if abs(y - 0.5) < NEAR})
    pitches = [b - a for a, b in pairwise(crests)]
    assert len(pitches) == 17  # 18 turns in 2-1/4 in, the last crest cut off by the point
    assert pitches == pytest.approx([1 / 8] * 17, abs=2e-6)
    flanks = [math.degrees(math.atan2(abs(n.y2 - n.y1), n.x2 - n.x1)) for n in above if n.x2 < crests[-1] + NEAR]
    assert len(flanks) == 34
    assert flanks == pytest.approx([60.0] * 34, abs=1e-4)  # to the axis, so 60 degrees between two of them


def test_a_second_reader_sees_the_same_lines(library: Library) -> None:
    """GDAL's reader shares no code with the first: layer and ends of every straight line, longest of each size."""
    layers = {role: look["layer"] for role, look in library.manifest["roles"].items()}
    longest = {(b.facts["family"], b.size, b.view): b for b in library.blocks}
    assert len(longest) > 700
    for block in longest.values():
        ours = sorted((layers[n.role], *rounded(n.x1, n.y1, n.x2, n.y2)) for n in block.drawing.lines)
        assert sorted(second_reading(library.folder / block.facts["dxf"])) == ours, block.label


def second_reading(path: Path) -> Iterator[tuple[object, ...]]:
    """Return layer and ends of each straight line; arcs come as chains of many points."""
    for seen in by_gdal(path, "R2010")["entities"]:
        if seen["kind"] == "CHAIN" and len(seen["knots"]) == 2:
            (x1, y1, _), (x2, y2, _) = sorted(seen["knots"])
            yield (seen["layer"], *rounded(x1, y1, x2, y2))


def rounded(*places: float) -> tuple[float, ...]:
    return tuple(round(place, 6) + 0.0 for place in places)
