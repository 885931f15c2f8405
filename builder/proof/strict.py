"""A strict check of whole DXF files by the DXF reference; shares no code with the writer or with ezdxf.

General readers are lenient; this one is not. `faults(data)` returns one sentence for each thing wrong.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from builder.proof.records import Frame, faults_in
from builder.proof.tags import Record, Unpaired, first, handle_of, records_of, tags_of, text_of, value_faults

SECTIONS = ("HEADER", "CLASSES", "TABLES", "BLOCKS", "ENTITIES", "OBJECTS")
TABLES = {"VPORT", "LTYPE", "LAYER", "STYLE", "VIEW", "UCS", "APPID", "DIMSTYLE", "BLOCK_RECORD"}
R12_LACKS = {"CLASSES", "OBJECTS", "BLOCK_RECORD"}
_ENTITIES, _END = "\n  0\nSECTION\n  2\nENTITIES\n", "  0\nENDSEC\n"
# What differs from block to block beside the entities, and in how many values; the rest of their files is the same.
_VARIES = (
    ("$EXTMIN\n 10\n", 2),
    ("$EXTMAX\n 10\n", 2),
    ("$HANDSEED\n  5\n", 1),
    ("VPORT\n  5\n", 0),
    ("\n 12\n", 2),
    ("\n 40\n", 1),
    ("Model_Space\n 70\n", 1),
)
_LAYOUT = (("\n 14\n", 2), ("\n 15\n", 2), ("\n 14\n", 2), ("\n 15\n", 2))  # extents of both layouts
_FRAMES_KEPT = 32


@dataclass(slots=True)
class Tagged:
    """A file as tags: what is wrong with it, and the records that others look at."""

    text: str = ""
    faults: list[str] = field(default_factory=list)
    entities: list[Record] = field(default_factory=list)
    blocks: dict[str, list[Record]] = field(default_factory=dict)  # by name, BLOCK to ENDBLK; of a collection only
    frame: Frame = field(default_factory=lambda: Frame(False))

    def header(self, name: str) -> list[str]:
        """Return the values of a header variable; none where it is not set."""
        start = self.text.find(f"  9\n{name}\n")
        if start < 0:
            return []
        lines = self.text[start : start + 200].split("\n")[2:]
        found = []
        for code, value in zip(lines[::2], lines[1::2], strict=False):
            if code in ("  9", "  0"):
                break
            found.append(value)
        return found


def faults(data: bytes) -> list[str]:
    """Return everything wrong with a file; where its tags cannot be paired at all, only that."""
    return read_tags(data).faults


_frames: dict[str, Frame] = {}


def read_tags(data: bytes) -> Tagged:
    """Read and check a file. What it shares with a file before it, all but the entities, is not checked again."""
    try:
        text = text_of(data)
        return _known(text) or read_whole(text)
    except Unpaired as error:
        return Tagged(faults=[str(error)])


def _known(text: str) -> Tagged | None:
    """Check the entities of a file whose other parts have been found right in another; None for one without such."""
    found = _entities(text)
    if found is None:
        return None
    key, numbers = _key(text, *found)
    frame = _frames.get(key)
    if frame is None:
        return None
    tagged = Tagged(text, frame=frame)
    tagged.entities = records_of(tags_of(text[slice(*found)]))
    seed = handle_of(next(iter(tagged.header("$HANDSEED")), None)) or 0
    tagged.faults += _handle_faults(tagged.entities, frame, set(), seed)
    tagged.faults += _entity_faults(tagged.entities, frame)
    tagged.faults += _extent_faults(tagged)
    tagged.faults += (f"{number!r} is no number" for number in numbers if not _is_number(number))
    return tagged


def entities_in(text: str) -> str:
    """Return the text of the entities in model space."""
    found = _entities(text)
    return "" if found is None else text[slice(*found)]


def _entities(text: str) -> tuple[int, int] | None:
    """Return from where to where the entities stand."""
    start = text.find(_ENTITIES) + len(_ENTITIES)
    end = text.find(_END, start - 1) if start >= len(_ENTITIES) else -1
    return (start, end) if end >= 0 else None


def _key(text: str, start: int, end: int) -> tuple[str, list[str]]:
    """Return the text without entities and what varies, and the numbers that were left out of it."""
    head, numbers = _without(text, 0, start, _VARIES)
    tail, extents = _without(text, end, len(text), _LAYOUT)
    seed = head.find("$HANDSEED\n  5\n\0")  # a hexadecimal number, checked as such
    if seed >= 0:
        numbers.pop(4)
    return head + tail, numbers + extents


def _without(text: str, start: int, end: int, varies: Iterable[tuple[str, int]]) -> tuple[str, list[str]]:
    """Return a passage without what stands after some marks, as many values as each has, and these values."""
    parts, numbers, at = [], [], start
    for mark, count in varies:
        place = text.find(mark, at, end)
        if place < 0:
            continue
        place += len(mark)
        parts.append(text[at:place])
        for n in range(count):
            stop = text.find("\n", place)
            numbers.append(text[place:stop])
            place = stop if n == count - 1 else stop + 5  # past the next group's code
        at = place
    return "\0".join((*parts, text[at:end])), numbers


def _count(text: str | None) -> int:
    return int(text) if text is not None and text.strip().isdigit() else -1


def _is_number(text: str) -> bool:
    try:
        return abs(float(text)) < 1e300
    except ValueError:
        return False


def read_whole(text: str) -> Tagged:
    """Read and check all of a file; Unpaired where its tags do not pair up."""
    tagged = Tagged(text)
    check = _Check(tagged)
    tagged.faults += check.run()
    if not tagged.faults and (found := _entities(text)) and len(check.blocks) <= 2:
        if len(_frames) >= _FRAMES_KEPT:
            _frames.clear()
        own = {handle_of(first(record, 5)) or 0 for record in tagged.entities}
        frame = Frame(check.frame.r12, check.frame.names, check.frame.handles - own, check.frame.blocks)
        frame.space, frame.rows, frame.patterns = check.frame.space, check.frame.rows, check.frame.patterns
        frame.references = check.frame.references
        _frames[_key(text, *found)[0]] = frame
    return tagged


def _handle_faults(records: list[Record], frame: Frame, seen: set[int], seed: int) -> Iterator[str]:
    """Yield handles that are missing, used twice or not below the seed; note them in `seen`."""
    for record in records:
        kind = record[0][1]
        handle = first(record, 105 if kind == "DIMSTYLE" else 5)
        if handle is None:
            if not (kind == "ENDTAB" or (frame.r12 and kind == "TABLE")):
                yield f"{kind} has no handle"
            continue
        number = handle_of(handle)
        if number is None:
            yield f"{kind} has handle {handle[:40]!r}"
            continue
        if number in seen or number in frame.handles:
            yield f"handle {handle} is used twice"
        if not 0 < number < seed:
            yield f"handle {handle} is not below the seed"
        seen.add(number)


def _entity_faults(records: list[Record], frame: Frame) -> Iterator[str]:
    yield from _sequence_faults(records)
    insert: str | None = None
    for record in records:
        kind = record[0][1]
        yield from faults_in(record, frame, None if frame.r12 else (insert or frame.space))
        if kind == "INSERT" and (66, "1") in record:
            insert = first(record, 5)
        elif kind == "SEQEND":
            insert = None


def _sequence_faults(records: list[Record]) -> Iterator[str]:
    """ATTRIBs follow an INSERT, VERTEXes a POLYLINE, up to a SEQEND; nothing else stands between."""
    opener: str | None = None
    for record in records:
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


def _extent_faults(tagged: Tagged) -> Iterator[str]:
    low, high = tagged.header("$EXTMIN"), tagged.header("$EXTMAX")
    if len(low) < 2 or len(high) < 2:
        yield "the extents are not stated"
    elif all(map(_is_number, (*low, *high))) and any(float(a) > float(b) for a, b in zip(low, high, strict=False)):
        yield "the extents are empty"


class _Check:
    """Checks a whole file, section by section."""

    def __init__(self, tagged: Tagged) -> None:
        self.tagged = tagged
        self.tags = tags_of(tagged.text)
        self.records = records_of(self.tags)
        self.frame = Frame((1, "AC1009") in self.tags[:10])
        self.sections: dict[str, list[Record]] = {}
        self.blocks: list[str] = []
        tagged.frame = self.frame

    def run(self) -> Iterator[str]:
        found = list(self._structure())
        yield from found
        if found or not self.sections:
            return
        for name in ("CLASSES", "OBJECTS", "TABLES"):
            for record in self.sections.get(name, []):
                found += value_faults(record)
        found += value_faults(self.records[0])  # the header: nothing in it starts a record
        yield from found
        if found:
            return
        tables = list(self._tables())
        yield from tables
        if tables:
            return
        tables_named = ("LAYER", "LTYPE", "STYLE", "APPID")
        self.frame.references = frozenset((t, name) for t in tables_named for name in self.frame.names[t])
        yield from self._handles()
        self.tagged.entities = self.sections["ENTITIES"]
        for record in self.sections["TABLES"]:
            name = dict(record).get(2, "").upper()
            self.frame.rows[record[0][1], name] = dict(record)
            if record[0][1] == "LTYPE":
                self.frame.patterns[name] = tuple(float(value) for code, value in record if code == 49)
        yield from self._blocks()
        for record in self.sections["TABLES"]:
            yield from faults_in(record, self.frame, None)
        yield from _entity_faults(self.sections["ENTITIES"], self.frame)
        yield from _extent_faults(self.tagged)

    def _structure(self) -> Iterator[str]:
        if not self.records or self.records[-1] != [(0, "EOF")]:
            yield "the file does not end with EOF"
        name: str | None = None
        for record in self.records:
            if record[0] == (0, "SECTION"):
                if name is not None:
                    yield f"section {name} is not ended"
                name = record[1][1] if len(record) > 1 else "without a name"
                self.sections[name] = []
            elif record[0] == (0, "ENDSEC"):
                if name is None:
                    yield "ENDSEC without a section"
                name = None
            elif name is not None:
                self.sections[name].append(record)
            elif record[0] != (0, "EOF"):
                yield f"{record[0][1][:40]} outside every section"
        wanted = [s for s in SECTIONS if not (self.frame.r12 and s in R12_LACKS)]
        if list(self.sections) != wanted:
            yield f"sections are {list(self.sections)[:10]}, expected {wanted}"
            self.sections = {}

    def _tables(self) -> Iterator[str]:
        names, table, count, rows = self.frame.names, "", 0, 0
        for record in self.sections["TABLES"]:
            kind = record[0][1]
            if kind == "TABLE":
                if table:
                    yield f"table {table} is not ended"
                stated = dict(record)
                table, rows, count = stated.get(2, ""), 0, _count(stated.get(70))
                names[table] = set()
            elif kind == "ENDTAB":
                if rows != count:
                    yield f"table {table} states {count} rows and has {rows}"
                table = ""
            else:
                rows += 1
                name = dict(record).get(2, "").upper()
                if kind != table:
                    yield f"{kind} in table {table}"
                if name in names.get(table, set()):
                    yield f"{kind} {name} stands twice"
                names.setdefault(table, set()).add(name)
        if table:
            yield f"table {table} is not ended"
        wanted = TABLES - (R12_LACKS if self.frame.r12 else set())
        if set(names) != wanted:
            yield f"tables differ from those expected by {sorted(set(names) ^ wanted)}"

    def _handles(self) -> Iterator[str]:
        stated = self.tagged.header("$HANDSEED")
        seed = handle_of(stated[0]) if stated else None
        if seed is None:
            yield "the handle seed is not stated"
            return
        seen: set[int] = set()
        for name in ("TABLES", "BLOCKS", "ENTITIES", "OBJECTS"):
            yield from _handle_faults(self.sections.get(name, []), self.frame, seen, seed)
        self.frame.handles = seen

    def _blocks(self) -> Iterator[str]:
        rows = (r for r in self.sections["TABLES"] if r[0][1] == "BLOCK_RECORD")
        records = {dict(r).get(2, "").upper(): first(r, 5) or "" for r in rows}
        self.frame.space = records.get("*MODEL_SPACE", "")
        yield from _sequence_faults(self.sections["BLOCKS"])
        parts, block = list(self._parts()), None
        self.frame.blocks = set(self.blocks)
        for block, part in parts:
            wanted = None if self.frame.r12 else records.get(block, "")
            if part[-1][0][1] != "ENDBLK":
                yield f"block {block} is not ended"
            if part[0][0][1] != "BLOCK":
                yield f"{part[0][0][1]} outside every block"
            for record in part:
                yield from faults_in(record, self.frame, wanted)
        if not self.frame.r12 and set(self.blocks) != set(records):
            yield "blocks and block records differ"
        if len(set(self.blocks)) < len(self.blocks):
            yield "two blocks have one name"
        self.tagged.blocks = {dict(part[0]).get(2, ""): part for _, part in parts}

    def _parts(self) -> Iterator[tuple[str, list[Record]]]:
        """Yield the blocks of the section: name and records; what stands outside of them as a block without a name."""
        part: list[Record] = []
        for record in self.sections["BLOCKS"]:
            if record[0][1] == "BLOCK" and part:
                yield dict(part[0]).get(2, "").upper(), part
                part = []
            part.append(record)
            if part[0][0][1] == "BLOCK" and len(part) == 1:
                self.blocks.append(dict(record).get(2, "").upper())
            if record[0][1] == "ENDBLK":
                yield dict(part[0]).get(2, "").upper(), part
                part = []
        if part:
            yield dict(part[0]).get(2, "").upper(), part
