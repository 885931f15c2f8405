"""Proves the file of one block: its tags, what it shows against its measures, its attributes, fingerprint, picture."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from builder.proof.attributes import attribute_faults, definitions_in
from builder.proof.contents import Content, content_of
from builder.proof.digest import digest_of
from builder.proof.drawing import Arc, Drawing, Ellipse, Line, Text, Unreadable, read_drawing
from builder.proof.finding import Sight, find
from builder.proof.findings import Compared, Findings
from builder.proof.manifest import Entry, Manifest
from builder.proof.pictures import THUMBNAIL, picture_faults
from builder.proof.strict import Tagged, read_tags
from builder.proof.tables import header_faults, table_faults
from builder.words.measures import DEGREES, Measure, Shown, measure_of

NEAR = 1e-6  # of the unit: coordinates are written to nine decimals, and a measure adds up to two of them
_ANGLE = 1e-3  # degrees: what a coordinate's last digits turn the shortest chamfer by
_LARGEST = 1 << 24  # bytes of a single file or picture


@dataclass(frozen=True, slots=True)
class Proved:
    """What came out of one block's files; `content` is what its entities are, None where the file is wrong."""

    name: str
    findings: Findings
    content: Content | None = None


def prove_block(folder: Path, entry: Entry, manifest: Manifest, wanted: Sequence[Measure] | None) -> Proved:
    """Prove the file and the picture of a block; `wanted` are its measures by the definition, None where it is gone."""
    findings, path, name = Findings(), folder / str(entry["dxf"]), str(entry["block"])
    data = _content(path, name, findings)
    if data is None:
        return Proved(name, findings)
    tagged = read_tags(data)
    findings.add_all(path, name, tagged.faults, "expected DXF by its reference")
    if tagged.faults:
        return Proved(name, findings)
    try:
        drawing = read_drawing(data)
    except Unreadable as error:
        findings.add(path, f"{name}: cannot be read: {error}", "expected a DXF file")
        return Proved(name, findings)
    findings.add_all(path, name, header_faults(tagged, manifest, entry["units"]), "expected the manifest's")
    findings.add_all(path, name, _tables(tagged, manifest, entry["units"]), "expected the shop standard's")
    definitions = definitions_in(tagged.entities)
    findings.add_all(path, name, attribute_faults(definitions, entry, manifest), "expected the manifest's")
    findings.add_all(path, name, _drawing_faults(drawing, tagged, entry, manifest), "expected the manifest's")
    _measure(drawing, entry, manifest, wanted, path, findings)
    _check_picture(folder / str(entry["thumbnail"]), drawing, entry, manifest, findings)
    _check_digest(drawing, entry, manifest, [(d.tag, d.text) for d in definitions], path, findings)
    return Proved(name, findings, content_of(tagged))


def _content(path: Path, name: str, findings: Findings) -> bytes | None:
    """Return a file's bytes; None where it is missing, which is told elsewhere, too large or cannot be read."""
    try:
        if path.stat().st_size <= _LARGEST:
            return path.read_bytes()
        findings.add(path, f"{name}: is larger than 16 MB", "expected a block by itself")
    except FileNotFoundError:
        pass
    except OSError as error:
        findings.add(path, f"{name}: cannot be read: {(error.strerror or str(error)).lower()}", "expected a file")
    return None


def _check_picture(path: Path, drawing: Drawing, entry: Entry, manifest: Manifest, findings: Findings) -> None:
    """Check the thumbnail: it shows the block, its axes cut short or not."""
    name, (left, bottom, right, top) = str(entry["block"]), entry["bounds"]
    png = _content(path, name, findings)
    if png is None:
        return
    shapes = [(right - left, top - bottom)]
    bare = drawing.like(look for role, look in manifest.looks.items() if role != "axis").extent
    if bare is not None and not drawing.polylines:
        shapes.append((bare[2] - bare[0], bare[3] - bare[1]))
    findings.add_all(path, name, picture_faults(png, THUMBNAIL, shapes), "expected a picture of the block")


_seen: dict[tuple[int, str, int], tuple[str, ...]] = {}


def _tables(tagged: Tagged, manifest: Manifest, unit: str) -> tuple[str, ...]:
    """Check the tables, once for all files that share them."""
    key = id(tagged.frame), unit, id(manifest)
    if key not in _seen or not tagged.frame.checked:
        if len(_seen) > 256:
            _seen.clear()
        _seen[key] = tuple(table_faults(tagged.frame, manifest, unit))
        tagged.frame.checked = True
    return _seen[key]


def _drawing_faults(drawing: Drawing, tagged: Tagged, entry: Entry, manifest: Manifest) -> Iterator[str]:
    """Yield shapes that no role looks like, and extents that are not those stated."""
    for kind in sorted(set(drawing.strange)):
        yield f"holds a {kind}, which no block has"
    looks = set(manifest.looks.values())
    for look in sorted({shape.look for shape in _shapes(drawing)} - looks):
        yield f"shapes drawn as {look!r}; roles are drawn as {', '.join(sorted(looks))}"
    extent = _extent(drawing)
    if drawing.polylines:
        return  # the reader gives no curved polylines: what they reach is not known here
    if extent is None or any(abs(a - b) > NEAR for a, b in zip(extent, entry["bounds"], strict=True)):
        yield f"reaches {_numbers(extent or ())}; the manifest's bounds are {_numbers(entry['bounds'])}"
        return
    (left, bottom, right, top) = extent
    low, high = (list(map(float, tagged.header(name)[:2])) for name in ("$EXTMIN", "$EXTMAX"))
    letters = [float(value) for record in tagged.entities if record[0][1] == "ATTDEF" for c, value in record if c == 20]
    lowest = min([bottom, *letters])
    if abs(low[0] - left) > NEAR or abs(high[1] - top) > NEAR or abs(low[1] - lowest) > NEAR or high[0] < right - NEAR:
        yield f"$EXTMIN and $EXTMAX are {_numbers((*low, *high))}; it reaches {_numbers((left, lowest, right, top))}"


def _numbers(numbers: Iterable[float]) -> str:
    return ", ".join(f"{number:.7g}" for number in numbers)


def _shapes(drawing: Drawing) -> Iterator[Line | Arc | Ellipse | Text]:
    yield from drawing.lines
    yield from drawing.arcs
    yield from drawing.ellipses
    yield from drawing.texts


def _extent(drawing: Drawing) -> tuple[float, float, float, float] | None:
    spots = [(t.x, y) for t in drawing.texts for y in (t.y, t.y + t.height)]
    if (extent := drawing.extent) is not None:
        spots += [extent[:2], extent[2:]]
    if not spots:
        return None
    xs, ys = zip(*spots, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def _measure(
    drawing: Drawing,
    entry: Entry,
    manifest: Manifest,
    wanted: Sequence[Measure] | None,
    path: Path,
    findings: Findings,
) -> None:
    """Find every measure; those of the definition, where it is at hand, else those that the manifest lists."""
    name, left = str(entry["block"]), list(entry["unmeasured"])
    measures = wanted
    if measures is None:
        measures = [measure_of(facts) for facts in entry["measures"]]
    elif [m.facts() for m in measures] != entry["measures"]:
        wrong = f"{name}: the manifest lists other measures than its definition gives"
        findings.add(path.parents[2] / "library.json", wrong, f"expected {_first_difference(measures, entry)}")
    if drawing.polylines:
        left.append("ellipses, which R12 has as polylines")
    sights: dict[tuple[str, ...], Sight] = {}
    found = []
    for measure in measures:
        if drawing.polylines and measure.shown in _EXTENTS:
            continue
        looks = tuple(manifest.looks[role] for role in measure.roles)
        if looks not in sights:
            sights[looks] = Sight(drawing.like(looks), NEAR)
        value = find(sights[looks], measure)
        allowed = _ANGLE if measure.shown in DEGREES else 2.0 * NEAR
        holds = value is not None and abs(value - measure.value) <= allowed
        found.append(Compared(measure, value, holds))
        if not holds:
            findings.add(path, f"{name}: {described(measure)} {_measured(value)}", f"expected {measure.value:.9g}")
    findings.compared, findings.measures, findings.left = tuple(found), len(found), tuple(left)


_EXTENTS = frozenset({Shown.LEFT, Shown.RIGHT, Shown.BOTTOM, Shown.TOP})


def _first_difference(measures: Sequence[Measure], entry: Entry) -> str:
    listed = list(entry["measures"])
    for measure in measures:
        if measure.facts() not in listed:
            return f"{described(measure)} of {measure.value:.9g}"
    return f"{len(measures)} measures, not {len(listed)}"


def described(measure: Measure) -> str:
    """Name a measure: its symbol, the feature and its parameter, how it is shown."""
    of = f"{measure.name} of {measure.feature}" if measure.feature else f"{measure.name} {measure.shown}"
    return f"{measure.symbol + ', ' if measure.symbol else ''}{of.replace('_', ' ')} ({measure.shown})"


def _measured(value: float | None) -> str:
    return "is not there" if value is None else f"measures {value:.9g}"


def _check_digest(
    drawing: Drawing,
    entry: Entry,
    manifest: Manifest,
    texts: Sequence[tuple[str, str]],
    path: Path,
    findings: Findings,
) -> None:
    roles = {look: role for role, look in manifest.looks.items()}
    used = {shape.look for shape in _shapes(drawing)}
    shared = used & {look for look in roles if sum(look == other for other in manifest.looks.values()) > 1}
    if shared or drawing.polylines:
        findings.left += ("the fingerprint: " + ("roles look alike" if shared else "ellipses are polylines"),)
        return
    stated = [(tag, text) for tag, text in texts if tag != "LIBREV"]
    digest = digest_of(str(entry["block"]), str(entry["units"]), drawing, roles, stated)
    if digest != entry["fingerprint"]:
        wrong = f"{entry['block']}: has the fingerprint {digest} by what it shows and states"
        findings.add(path, wrong, f"expected {entry['fingerprint']}, as the manifest has it")
