"""A strict check of DXF tags by the DXF reference, sharing no code with the writer or with ezdxf.

General readers are lenient; this one is not. `faults(data)` returns one sentence for each thing wrong.
"""

import math
from collections.abc import Iterator

Tag = tuple[int, str]
Record = list[Tag]

SECTIONS = ("HEADER", "CLASSES", "TABLES", "BLOCKS", "ENTITIES", "OBJECTS")
TABLES = {"VPORT", "LTYPE", "LAYER", "STYLE", "VIEW", "UCS", "APPID", "DIMSTYLE", "BLOCK_RECORD"}
R12_LACKS = {"CLASSES", "OBJECTS", "BLOCK_RECORD"}
R12_ENTITIES_LACK = {"ELLIPSE", "HATCH", "LWPOLYLINE", "MTEXT", "SPLINE"}
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
NEEDS = {
    "LINE": {8, 10, 20, 30, 11, 21, 31},
    "CIRCLE": {8, 10, 20, 30, 40},
    "ARC": {8, 10, 20, 30, 40, 50, 51},
    "ELLIPSE": {8, 10, 20, 30, 11, 21, 31, 40, 41, 42},
    "POLYLINE": {8, 66, 10, 20, 30, 70},
    "VERTEX": {8, 10, 20, 30, 70},
    "TEXT": {8, 10, 20, 30, 40, 1},
    "ATTDEF": {8, 10, 20, 30, 40, 1, 2, 3, 70},
    "ATTRIB": {8, 10, 20, 30, 40, 1, 2, 70},
    "INSERT": {8, 2, 10, 20, 30},
    "SEQEND": {8},
    "BLOCK": {8, 2, 70, 10, 20, 30},
    "ENDBLK": {8},
}
WIDTHS = {-3, -2, -1, 0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120, 140}
WIDTHS |= {158, 200, 211}
REALS = (range(10, 60), range(110, 150), range(210, 240), range(1010, 1060))
INTEGERS = (
    range(60, 80),
    range(90, 100),
    range(170, 180),
    range(270, 290),
    range(370, 380),
    range(1060, 1072),
)


def faults(data: bytes) -> list[str]:
    """Everything wrong with a file; where its tags cannot be paired at all, only that."""
    try:
        tags = list(_tags(data))
    except ValueError as error:
        return [str(error)]
    return list(_Check(tags).run())


def _tags(data: bytes) -> Iterator[Tag]:
    later = any(b"\n%s\n" % v in data[:200] for v in (b"AC1021", b"AC1024", b"AC1027", b"AC1032"))
    lines = data.decode("utf-8" if later else "cp1252").split("\n")
    if lines.pop() != "" or len(lines) % 2:
        raise ValueError("group codes and values do not pair up")
    for number, (code, value) in enumerate(zip(lines[::2], lines[1::2], strict=True)):
        if not code.strip().isdigit() or len(code) < 3:
            raise ValueError(f"line {2 * number + 1}: no group code: {code!r}")
        yield int(code), value


class _Check:
    def __init__(self, tags: list[Tag]) -> None:
        self.tags = tags
        self.r12 = (1, "AC1009") in tags[:10]
        self.records: list[Record] = []
        for tag in tags:
            if tag[0] == 0 or not self.records:
                self.records.append([])
            self.records[-1].append(tag)
        self.sections: dict[str, list[Record]] = {}

    def run(self) -> Iterator[str]:
        yield from self._values()
        yield from self._structure()
        if not self.sections:
            return
        yield from self._tables()
        yield from self._handles()
        yield from self._blocks()
        for record in [r for name in ("TABLES", "BLOCKS", "ENTITIES") for r in self.sections[name]]:
            yield from self._record(record)
        yield from self._header()

    def _values(self) -> Iterator[str]:
        for code, value in self.tags:
            try:
                if any(code in r for r in REALS) and not math.isfinite(float(value)):
                    yield f"group {code} is not finite: {value}"
                if any(code in r for r in INTEGERS):
                    int(value)
            except ValueError:
                yield f"group {code} is not a number: {value!r}"

    def _structure(self) -> Iterator[str]:
        if [t[:1] for t in self.tags[-1:]] != [(0,)] or self.records[-1] != [(0, "EOF")]:
            yield "the file does not end with EOF"
        name: str | None = None
        for record in self.records:
            if record[0] == (0, "SECTION"):
                if name is not None:
                    yield f"section {name} is not ended"
                name = record[1][1]
                self.sections[name] = []
            elif record[0] == (0, "ENDSEC"):
                if name is None:
                    yield "ENDSEC without a section"
                name = None
            elif name is not None:
                self.sections[name].append(record)
            elif record[0] != (0, "EOF"):
                yield f"{record[0][1]} outside every section"
        wanted = [s for s in SECTIONS if not (self.r12 and s in R12_LACKS)]
        if list(self.sections) != wanted:
            yield f"sections are {list(self.sections)}, expected {wanted}"
            self.sections = {}

    def _tables(self) -> Iterator[str]:
        self.names: dict[str, set[str]] = {}
        table, count, rows = "", 0, 0
        for record in self.sections["TABLES"]:
            kind = record[0][1]
            if kind == "TABLE":
                if table:
                    yield f"table {table} is not ended"
                table, rows, count = record[1][1], 0, int(dict(record)[70])
                self.names[table] = set()
            elif kind == "ENDTAB":
                if rows != count:
                    yield f"table {table} states {count} rows and has {rows}"
                table = ""
            else:
                rows += 1
                name = dict(record).get(2, "").upper()
                if kind != table:
                    yield f"{kind} in table {table}"
                if name in self.names.get(table, set()):
                    yield f"{kind} {name} stands twice"
                self.names.setdefault(table, set()).add(name)
        if table:
            yield f"table {table} is not ended"
        wanted = TABLES - (R12_LACKS if self.r12 else set())
        if set(self.names) != wanted:
            yield f"tables differ from those expected by {sorted(set(self.names) ^ wanted)}"

    def _handles(self) -> Iterator[str]:
        seed = next(int(v, 16) for (_, n), (_, v) in zip(self.tags, self.tags[1:], strict=False) if n == "$HANDSEED")
        self.handles: set[int] = set()
        for name in ("TABLES", "BLOCKS", "ENTITIES", "OBJECTS"):
            for record in self.sections.get(name, []):
                kind = record[0][1]
                handle = _first(record, 105 if kind == "DIMSTYLE" else 5)
                if handle is None:
                    if not (kind == "ENDTAB" or (self.r12 and kind == "TABLE")):
                        yield f"{kind} has no handle"
                    continue
                number = int(handle, 16)
                if number in self.handles:
                    yield f"handle {handle} is used twice"
                if not 0 < number < seed:
                    yield f"handle {handle} is not below the seed"
                self.handles.add(number)

    def _blocks(self) -> Iterator[str]:
        self.owners: dict[int, str] = {}  # by identity of the record: the handle that must own it
        records = {dict(r)[2].upper(): _first(r, 5) for r in self._kind("TABLES", "BLOCK_RECORD")}
        self.blocks: list[str] = []
        block: str | None = None
        for record in self.sections["BLOCKS"]:
            kind = record[0][1]
            if kind == "BLOCK":
                if block is not None:
                    yield f"block {block} is not ended"
                block = dict(record)[2].upper()
                self.blocks.append(block)
            if block is None:
                yield f"{kind} outside every block"
            self.owners[id(record)] = records.get(block or "", "") or ""
            if kind == "ENDBLK":
                block = None
        if block is not None:
            yield f"block {block} is not ended"
        yield from self._sequences("BLOCKS")
        if not self.r12 and set(self.blocks) != set(records):
            yield "blocks and block records differ"
        if len(set(self.blocks)) < len(self.blocks):
            yield "two blocks have one name"
        yield from self._entities(records.get("*MODEL_SPACE") or "")

    def _entities(self, space: str) -> Iterator[str]:
        yield from self._sequences("ENTITIES")
        insert: str | None = None
        for record in self.sections["ENTITIES"]:
            kind = record[0][1]
            self.owners[id(record)] = space if insert is None else insert
            if kind == "INSERT" and (66, "1") in record:
                insert = _first(record, 5)
            elif kind == "SEQEND":
                insert = None

    def _sequences(self, section: str) -> Iterator[str]:
        """ATTRIBs follow an INSERT, VERTEXes a POLYLINE, up to a SEQEND; nothing else stands between."""
        opener: str | None = None
        for record in self.sections[section]:
            kind = record[0][1]
            wanted = {"INSERT": "ATTRIB", "POLYLINE": "VERTEX"}.get(opener or "")
            if (kind in {"ATTRIB", "VERTEX", "SEQEND"}) != (opener is not None) or (
                opener is not None and kind not in {wanted, "SEQEND"}
            ):
                yield f"{kind} in the wrong place after {opener or 'no opener'}"
            if kind in {"INSERT", "POLYLINE"} and (66, "1") in record:
                opener = kind
            elif kind == "SEQEND":
                opener = None
        if opener is not None:
            yield f"a sequence after {opener} has no SEQEND"

    def _record(self, record: Record) -> Iterator[str]:
        kind = record[0][1]
        markers = tuple(v for c, v in record if c == 100)
        if self.r12 and markers:
            yield f"{kind} has a subclass marker in R12"
        if not self.r12 and kind in MARKERS and markers != MARKERS[kind]:
            yield f"{kind} has the subclass markers {markers}"
        yield from self._owner(record)
        yield from self._references(record)
        codes = {c for c, _ in record}
        if missing := NEEDS.get(kind, set()) - codes:
            yield f"{kind} lacks group {sorted(missing)}"
        if kind in {"ARC", "CIRCLE", "TEXT", "ATTDEF", "ATTRIB"} and not float(dict(record).get(40, 1)) > 0:
            yield f"{kind} has a radius or height that is not positive"
        if self.r12 and kind in R12_ENTITIES_LACK:
            yield f"{kind} in R12"
        if kind == "ELLIPSE" and not missing:
            yield from _ellipse({c: float(v) for c, v in record if c in NEEDS[kind] and c != 8})
        if kind == "LTYPE":
            dashes = [abs(float(v)) for c, v in record if c == 49]
            if int(dict(record)[73]) != len(dashes) or abs(sum(dashes) - float(dict(record)[40])) > 1e-8:
                yield f"line type {dict(record)[2]} has the wrong length or count"

    def _owner(self, record: Record) -> Iterator[str]:
        kind, owner = record[0][1], _first(record, 330)
        if kind == "ENDTAB" or self.r12:
            if owner is not None:
                yield f"{kind} has an owner in R12"
        elif owner is None:
            yield f"{kind} has no owner"
        elif owner != self.owners.get(id(record), owner):
            yield f"{kind} has owner {owner}, expected {self.owners[id(record)]}"
        elif int(owner, 16) not in self.handles | {0}:
            yield f"{kind} has owner {owner}, which does not exist"

    def _references(self, record: Record) -> Iterator[str]:
        kind = record[0][1]
        known = {8: "LAYER", 6: "LTYPE", 7: "STYLE", 1001: "APPID"}
        for code, value in record:
            if kind not in {"DIMSTYLE", "STYLE"} and code in known and value.upper() not in self.names[known[code]]:
                yield f"{kind} names {known[code]} {value!r}, which does not exist"
            if code == 370 and int(value) not in WIDTHS:
                yield f"{kind} has line width {value}"
            if code == 62 and not 0 <= int(value) <= 256:
                yield f"{kind} has colour {value}"
            if self.r12 and code in {370, 420, 440}:
                yield f"{kind} has group {code} in R12"
        if kind == "INSERT" and dict(record).get(2, "").upper() not in self.blocks:
            yield "INSERT names a block that does not exist"

    def _header(self) -> Iterator[str]:
        flat = self.records[0]  # nothing in the header starts a new record
        for low, high in zip(*(_point(flat, name) for name in ("$EXTMIN", "$EXTMAX")), strict=True):
            if not low <= high:
                yield "the extents are empty"

    def _kind(self, section: str, kind: str) -> list[Record]:
        return [r for r in self.sections[section] if r[0][1] == kind]


def _ellipse(groups: dict[int, float]) -> Iterator[str]:
    """By the DXF reference: 11 to 31 the end of the major axis, 40 minor to major, 41 and 42 radians, 0 to 2 pi."""
    if not any(groups[code] for code in (11, 21, 31)):
        yield "ELLIPSE has no major axis"
    if not 1e-6 <= groups[40] <= 1:
        yield f"ELLIPSE has ratio {groups[40]}"
    start, end = groups[41], groups[42]
    if start == end or not all(0 <= angle <= math.tau for angle in (start, end)):
        yield f"ELLIPSE runs from {start} to {end}"


def _point(tags: list[Tag], name: str) -> list[float]:
    at = tags.index((9, name))
    return [float(v) for _, v in tags[at + 1 : at + 4]]


def _first(record: Record, code: int) -> str | None:
    """The value of a group among the common ones, those before the first subclass marker."""
    for c, value in record:
        if c == code:
            return value
        if c == 100:
            return None
    return None
