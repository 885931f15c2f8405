"""Proves a family's collection: every block defined as in its own file and inserted once, with its attributes."""

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from builder.proof.attributes import EDITABLE
from builder.proof.contents import Collected, Content, read_collection
from builder.proof.findings import Findings
from builder.proof.manifest import Entry, Manifest
from builder.proof.pictures import picture_faults
from builder.proof.strict import Tagged
from builder.proof.tables import header_faults, table_faults
from builder.proof.tags import Record, records_of, tags_of

_ROOM, _EACH = 1 << 22, 1 << 20  # bytes: of a collection, and for every block in it
_NEAR = 1e-6
_LAYOUTS = ("*MODEL_SPACE", "*PAPER_SPACE", "$MODEL_SPACE", "$PAPER_SPACE")
_SCALES = {41: 1.0, 42: 1.0, 43: 1.0, 50: 0.0}  # of an insert, where they are stated


def prove_collection(
    folder: Path, entries: Sequence[Entry], contents: Mapping[str, Content], manifest: Manifest
) -> Findings:
    """Prove the collection of one family; `contents` are those of its blocks' own files that are right."""
    findings = Findings()
    path = folder / str(entries[0]["collection"])
    try:
        if path.stat().st_size > _ROOM + _EACH * len(entries):
            findings.add(path, "is larger than its blocks can be", "expected a collection")
            return findings
        collected = read_collection(path.read_bytes(), contents)
    except FileNotFoundError:
        return findings  # told with all that is missing
    except OSError as error:
        findings.add(path, f"cannot be read: {(error.strerror or str(error)).lower()}", "expected a file")
        return findings
    tagged = collected.tagged
    findings.add_all(path, "", tagged.faults, "expected DXF by its reference")
    if tagged.faults:
        return findings
    unit = str(entries[0]["units"])
    findings.add_all(path, "", header_faults(tagged, manifest, unit), "expected the manifest's")
    findings.add_all(path, "", table_faults(tagged.frame, manifest, unit), "expected the shop standard's")
    wanted = {str(entry["block"]) for entry in entries}
    for name in sorted(tagged.blocks.keys() - wanted):
        if name.upper() not in _LAYOUTS:
            findings.add(path, f"{name}: is defined", "expected no block that the manifest does not list")
    inserts = _Inserts(tagged)
    for entry in entries:
        name = str(entry["block"])
        faults = [*_block_faults(name, tagged, manifest, unit)]
        if name in contents and name in tagged.blocks and name not in collected.same:
            faults.append("is defined otherwise than in its own file")
        faults += inserts.faults(entry, collected, manifest)
        findings.add_all(path, name, faults, "expected the block as in its own file")
    return findings


def _block_faults(name: str, tagged: Tagged, manifest: Manifest, unit: str) -> Iterator[str]:
    records = tagged.blocks.get(name)
    if records is None:
        yield "is not defined"
        return
    head = dict(records[0])
    if any(float(head.get(code, "0")) != 0.0 for code in (10, 20, 30)):
        yield f"has its base point at {head.get(10)}, {head.get(20)}; expected 0, 0"
    if head.get(3, name) != name:
        yield f"is called {head[3]!r} at its second place"
    row = tagged.frame.rows.get(("BLOCK_RECORD", name.upper()), {})
    if manifest.shop["dxf"] not in ("R12", "R2000", "R2004") and row.get(70) != ("1" if unit == "in" else "4"):
        yield f"states the unit {row.get(70)}; expected that of the file"


class _Inserts:
    """The inserts of a collection by name, each with its attributes."""

    def __init__(self, tagged: Tagged) -> None:
        self.found: dict[str, list[tuple[Record, list[Record]]]] = {}
        self.captions = {dict(r).get(1, "") for r in tagged.entities if r[0][1] == "TEXT"}
        for record in tagged.entities:
            if record[0][1] == "INSERT":
                pair: tuple[Record, list[Record]] = (record, [])
                self.found.setdefault(dict(record)[2], []).append(pair)
            elif record[0][1] == "ATTRIB":
                pair[1].append(record)

    def faults(self, entry: Entry, collected: Collected, manifest: Manifest) -> Iterator[str]:
        """Yield what is wrong with the insert of one block."""
        name = str(entry["block"])
        inserts = self.found.get(name, [])
        if len(inserts) != 1:
            yield f"is inserted {len(inserts)} times, expected once"
            return
        if entry["designation"] not in self.captions:
            yield "has no caption"
        insert, attribs = dict(inserts[0][0]), inserts[0][1]
        if insert[8] != "0" or any(abs(float(insert.get(c, v)) - v) > _NEAR for c, v in _SCALES.items()):
            yield "is inserted scaled, turned or on another layer than 0"
        x, y = float(insert[10]), float(insert[20])
        low, high = (list(map(float, collected.tagged.header(v)[:2])) for v in ("$EXTMIN", "$EXTMAX"))
        left, bottom, right, top = entry["bounds"]
        inside = low[0] <= x + left + _NEAR and low[1] <= y + bottom + _NEAR
        if not inside or x + right > high[0] + _NEAR or y + top > high[1] + _NEAR:
            yield "lies beyond the extents of the file"
        yield from _attrib_faults(attribs, entry, (x, y), collected, manifest)


def _attrib_faults(
    attribs: Sequence[Record], entry: Entry, at: tuple[float, float], collected: Collected, manifest: Manifest
) -> Iterator[str]:
    definitions = _definitions(collected.texts.get(str(entry["block"]), ""))
    stated = {tag: text for tag, text in entry["attributes"].items() if tag in EDITABLE}
    tags = [dict(r)[2] for r in attribs]
    if tags != list(stated):
        yield f"is inserted with the attributes {', '.join(tags) or 'none'}, expected {', '.join(stated)}"
        return
    for record in attribs:
        found = dict(record)
        tag, own = found[2], definitions.get(found[2], {})
        if found[1] != stated[tag]:
            yield f"is inserted with {tag} {found[1]!r}, expected {stated[tag]!r}"
        if (found[70] != "0") != (tag not in manifest.shop["visible"]):
            yield f"is inserted with {tag} {'in' if found[70] != '0' else ''}visible"
        off = [float(found[c]) - float(own.get(c, found[c])) - shift for c, shift in ((10, at[0]), (20, at[1]))]
        if any(abs(number) > _NEAR for number in off) or found[40] != own.get(40, found[40]) or found[8] != own.get(8):
            yield f"is inserted with {tag} at another place, height or layer than its definition has"


def _definitions(text: str) -> dict[str, dict[int, str]]:
    """Return the attribute definitions among a block's entities, last of them, by tag."""
    start = text.find("  0\nATTDEF\n")
    found = (dict(record) for record in records_of(tags_of(text[start:] if start >= 0 else "")))
    return {stated.get(2, ""): stated for stated in found if stated[0] == "ATTDEF"}


def prove_sheet(path: Path) -> Findings:
    """Prove a contact sheet."""
    findings = Findings()
    try:
        if path.stat().st_size > _ROOM * 16:
            findings.add(path, "is larger than 64 MB", "expected a contact sheet")
        else:
            findings.add_all(path, "", picture_faults(path.read_bytes()), "expected a contact sheet")
    except FileNotFoundError:
        pass  # told with all that is missing
    except OSError as error:
        findings.add(path, f"cannot be read: {(error.strerror or str(error)).lower()}", "expected a picture")
    return findings
