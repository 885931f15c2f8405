"""What single records must hold by the DXF reference: markers, groups, references, sizes."""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from operator import itemgetter

from builder.proof.tags import INTEGERS, REALS, Record, value_faults

MARKERS = {
    "LINE": ("AcDbEntity", "AcDbLine"),
    "CIRCLE": ("AcDbEntity", "AcDbCircle"),
    "ARC": ("AcDbEntity", "AcDbCircle", "AcDbArc"),
    "ELLIPSE": ("AcDbEntity", "AcDbEllipse"),
    "TEXT": ("AcDbEntity", "AcDbText", "AcDbText"),
    "ATTDEF": ("AcDbEntity", "AcDbText", "AcDbAttributeDefinition"),
    "ATTRIB": ("AcDbEntity", "AcDbText", "AcDbAttribute"),
    "INSERT": ("AcDbEntity", "AcDbBlockReference"),
    "SEQEND": ("AcDbEntity",),
    "BLOCK": ("AcDbEntity", "AcDbBlockBegin"),
    "ENDBLK": ("AcDbEntity", "AcDbBlockEnd"),
    "LAYER": ("AcDbSymbolTableRecord", "AcDbLayerTableRecord"),
    "LTYPE": ("AcDbSymbolTableRecord", "AcDbLinetypeTableRecord"),
    "STYLE": ("AcDbSymbolTableRecord", "AcDbTextStyleTableRecord"),
    "APPID": ("AcDbSymbolTableRecord", "AcDbRegAppTableRecord"),
    "VPORT": ("AcDbSymbolTableRecord", "AcDbViewportTableRecord"),
    "BLOCK_RECORD": ("AcDbSymbolTableRecord", "AcDbBlockTableRecord"),
}
NEEDS: Mapping[str, frozenset[int]] = {
    "LINE": frozenset({8, 10, 20, 30, 11, 21, 31}),
    "CIRCLE": frozenset({8, 10, 20, 30, 40}),
    "ARC": frozenset({8, 10, 20, 30, 40, 50, 51}),
    "ELLIPSE": frozenset({8, 10, 20, 30, 11, 21, 31, 40, 41, 42}),
    "POLYLINE": frozenset({8, 66, 10, 20, 30, 70}),
    "VERTEX": frozenset({8, 10, 20, 30, 70}),
    "TEXT": frozenset({8, 10, 20, 30, 40, 1}),
    "ATTDEF": frozenset({8, 10, 20, 30, 40, 1, 2, 3, 70}),
    "ATTRIB": frozenset({8, 10, 20, 30, 40, 1, 2, 70}),
    "INSERT": frozenset({8, 2, 10, 20, 30}),
    "SEQEND": frozenset({8}),
    "BLOCK": frozenset({8, 2, 70, 10, 20, 30}),
    "ENDBLK": frozenset({8}),
    "LTYPE": frozenset({2, 40, 73}),
}
R12_ENTITIES_LACK = frozenset({"ELLIPSE", "HATCH", "LWPOLYLINE", "MTEXT", "SPLINE"})
WIDTHS = {-3, -2, -1, 0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120, 140}
WIDTHS |= {158, 200, 211}
_SIZED = frozenset({"ARC", "CIRCLE", "TEXT", "ATTDEF", "ATTRIB"})
_REFERENCES = {8: "LAYER", 6: "LTYPE", 7: "STYLE", 1001: "APPID"}
_NONE: frozenset[int] = frozenset()


@dataclass(slots=True)
class Frame:
    """What a file has beside its entities, as far as these refer to it."""

    r12: bool
    names: dict[str, set[str]] = field(default_factory=dict)  # upper case, by table
    handles: set[int] = field(default_factory=set)
    blocks: set[str] = field(default_factory=set)  # upper case
    space: str = ""  # handle of the model space's block record
    rows: dict[tuple[str, str], dict[int, str]] = field(default_factory=dict)  # by table and upper-case name
    patterns: dict[str, tuple[float, ...]] = field(default_factory=dict)  # dashes and gaps by line type
    references: frozenset[tuple[str, str]] = frozenset()  # what entities may name: table and upper-case name
    checked: bool = False  # against the shop standard
    sound: set[tuple[object, ...]] = field(default_factory=set)  # what has been found right, but for its numbers


_STATIC = frozenset({0, 6, 7, 8, 62, 66, 70, 100, 370, 420, 440, 1001})  # what rules look at beside numbers
_Values = Sequence[str]


def _picker(places: Sequence[int]) -> Callable[[_Values], tuple[str, ...]]:
    if not places:
        return lambda values: ()
    if len(places) == 1:
        return lambda values: (values[places[0]],)
    return itemgetter(*places)


class _Form:
    """Records with the same group codes in the same order: where their numbers, references and owner stand."""

    def __init__(self, codes: Sequence[int]) -> None:
        self.reals = _picker([n for n, code in enumerate(codes) if code in REALS])
        self.integers = _picker([n for n, code in enumerate(codes) if code in INTEGERS])
        self.static = _picker([n for n, code in enumerate(codes) if code in _STATIC])
        common = list(codes[: codes.index(100)]) if 100 in codes else list(codes)
        self.owner = common.index(330) if 330 in common else -1
        self.size = codes.index(40) if 40 in codes else -1


_forms: dict[tuple[int, ...], _Form] = {}


def faults_in(record: Record, frame: Frame, owner: str | None) -> Iterator[str]:
    """Yield all that is wrong with one record but its handle; `owner` is who must own it.

    Most records differ from one before in their numbers alone: their other groups are not checked again.
    """
    codes, values = zip(*record, strict=True)
    form = _forms.get(codes)
    if form is None:
        if len(_forms) > 4096:
            _forms.clear()
        form = _forms[codes] = _Form(codes)
    kind = values[0]
    owned = frame.r12 or form.owner < 0 or values[form.owner] == owner
    owned = owned or (owner is None and _exists(values[form.owner], frame))
    known = (codes, *form.static(values))
    try:
        finite = all(map(math.isfinite, map(float, form.reals(values))))
        for text in form.integers(values):
            int(text)
        if finite and owned and known in frame.sound and not (kind in _SIZED and not float(values[form.size]) > 0.0):
            return
    except ValueError:
        pass
    found = list(value_faults(record))
    yield from found
    if not found:
        found = list(record_faults(record, frame, owner))
        yield from found
        if not found and kind not in _UNLIKE:
            frame.sound.add(known)


_UNLIKE = frozenset({"INSERT", "ELLIPSE", "LTYPE"})  # for these the rules look at numbers and names too


def record_faults(record: Record, frame: Frame, owner: str | None) -> Iterator[str]:
    """Yield what is wrong with one record whose numbers have been found to be numbers; `owner` is who must own it."""
    kind = record[0][1]
    codes = {code for code, _ in record}
    markers = tuple(value for code, value in record if code == 100) if 100 in codes else ()
    if frame.r12 and markers:
        yield f"{kind} has a subclass marker in R12"
    if not frame.r12 and kind in MARKERS and markers != MARKERS[kind]:
        yield f"{kind} has the subclass markers {markers}"
    yield from _owner_faults(record, frame, owner)
    yield from _reference_faults(record, frame, codes)
    if missing := NEEDS.get(kind, _NONE) - codes:
        yield f"{kind} lacks group {sorted(missing)}"
        return
    if kind in _SIZED and not float(dict(record).get(40, "1")) > 0:
        yield f"{kind} has a radius or height that is not positive"
    if frame.r12 and kind in R12_ENTITIES_LACK:
        yield f"{kind} in R12"
    if kind == "ELLIPSE":
        yield from _ellipse_faults({code: float(value) for code, value in record if code in NEEDS[kind] and code != 8})
    if kind == "LTYPE":
        dashes = [abs(float(value)) for code, value in record if code == 49]
        stated = dict(record)
        if int(stated[73]) != len(dashes) or abs(sum(dashes) - float(stated[40])) > 1e-8:
            yield f"line type {stated[2]} has the wrong length or count"


def _owner_faults(record: Record, frame: Frame, wanted: str | None) -> Iterator[str]:
    kind = record[0][1]
    owner = None
    for code, value in record:
        if code == 330:
            owner = value
            break
        if code == 100:
            break
    if kind == "ENDTAB" or frame.r12:
        if owner is not None:
            yield f"{kind} has an owner in R12"
    elif owner is None:
        yield f"{kind} has no owner"
    elif wanted is not None and owner != wanted:
        yield f"{kind} has owner {owner}, expected {wanted}"
    elif wanted is None and not _exists(owner, frame):
        yield f"{kind} has owner {owner}, which does not exist"


def _exists(handle: str, frame: Frame) -> bool:
    try:
        number = int(handle, 16)
    except ValueError:
        return False
    return number == 0 or number in frame.handles


def _reference_faults(record: Record, frame: Frame, codes: set[int]) -> Iterator[str]:
    kind = record[0][1]
    if kind not in {"DIMSTYLE", "STYLE"}:
        for code, value in record:
            if code in _REFERENCES and value.upper() not in frame.names.get(_REFERENCES[code], ()):
                yield f"{kind} names {_REFERENCES[code]} {value!r}, which does not exist"
    for code in codes & {62, 370, 420, 440}:
        value = dict(record)[code]
        if code == 370 and int(value) not in WIDTHS:
            yield f"{kind} has line width {value}"
        if code == 62 and not 0 <= int(value) <= 256:
            yield f"{kind} has colour {value}"
        if frame.r12 and code != 62:
            yield f"{kind} has group {code} in R12"
    if kind == "INSERT" and dict(record).get(2, "").upper() not in frame.blocks:
        yield "INSERT names a block that does not exist"


def _ellipse_faults(groups: Mapping[int, float]) -> Iterator[str]:
    """By the DXF reference: 11 to 31 the end of the major axis, 40 minor to major, 41 and 42 radians, 0 to 2 pi."""
    if not any(groups[code] for code in (11, 21, 31)):
        yield "ELLIPSE has no major axis"
    if not 1e-6 <= groups[40] <= 1:
        yield f"ELLIPSE has ratio {groups[40]}"
    start, end = groups[41], groups[42]
    if start == end or not all(0 <= angle <= 6.283185307179587 for angle in (start, end)):
        yield f"ELLIPSE runs from {start} to {end}"
