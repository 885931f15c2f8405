"""The attribute definitions of a block as the tags of its file have them, against the manifest."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from builder.proof.manifest import Entry, Manifest
from builder.proof.tags import Record

APPID = "BLOCKWRIGHT"
IDENTITY = "LIBREV"
EDITABLE = frozenset({"MATERIAL", "FINISH", "PARTNO", "ITEM", "COUNT"})  # the drafter's, by the README
_INVISIBLE, _CONSTANT = 1, 2
_NEAR = 1e-6
_END_VIEWS = ("end", "plan", "below")  # views that count no part


@dataclass(frozen=True, slots=True)
class Definition:
    """One ATTDEF."""

    tag: str
    prompt: str
    text: str
    flags: int
    x: float
    y: float
    height: float
    layer: str
    style: str
    extended: tuple[tuple[int, str], ...]


def definitions_in(records: Sequence[Record]) -> tuple[Definition, ...]:
    """Return the attribute definitions among records that have been found sound, in their order."""
    return tuple(_definition(record) for record in records if record[0][1] == "ATTDEF")


def _definition(record: Record) -> Definition:
    start = next((n for n, (code, _) in enumerate(record) if code == 1001), len(record))
    of = dict(record[:start])
    return Definition(
        of[2], of[3], of[1], int(of[70]), float(of[10]), float(of[20]), float(of[40]), of[8], of.get(7, "Standard"),
        tuple(record[start:]),
    )  # fmt: skip


def attribute_faults(definitions: Sequence[Definition], entry: Entry, manifest: Manifest) -> Iterator[str]:
    """Yield what is wrong with a block's attribute definitions."""
    stated: Mapping[str, str] = entry["attributes"]
    tags = [d.tag for d in definitions]
    if tags != list(stated):
        yield f"attributes are {', '.join(tags) or 'none'}; the manifest has {', '.join(stated)}"
    height = manifest.drawn(manifest.shop["text"]["height"], entry["units"])
    visible = frozenset(manifest.shop["visible"])
    for d in definitions:
        if d.tag in stated and d.text != stated[d.tag]:
            yield f"attribute {d.tag} holds {d.text!r}; the manifest has {stated[d.tag]!r}"
        flags = _INVISIBLE * (d.tag not in visible) + _CONSTANT * (d.tag not in EDITABLE)
        if d.flags != flags:
            yield f"attribute {d.tag} has flags {d.flags}, should have {flags}"
        if abs(d.height - height) > _NEAR:
            yield f"attribute {d.tag} has letters {d.height:g} high, should have {height:g}"
        if (d.layer, d.style) != (manifest.roles["text"]["layer"], manifest.shop["text"]["style"]):
            yield f"attribute {d.tag} is on layer {d.layer} in style {d.style}"
        if not d.prompt:
            yield f"attribute {d.tag} has no prompt"
    yield from _place_faults(definitions, entry)
    yield from _identity_faults(definitions, entry)
    yield from _sense_faults(entry)


def _place_faults(definitions: Sequence[Definition], entry: Entry) -> Iterator[str]:
    left, bottom = entry["bounds"][:2]
    lines = sorted(d.y for d in definitions)
    for d in definitions:
        if abs(d.x - left) > _NEAR or d.y > bottom + _NEAR:
            yield f"attribute {d.tag} stands at {d.x:g}, {d.y:g}, not below the geometry at its left"
    if any(b - a < 1e-9 for a, b in pairwise(lines)):
        yield "attributes stand on each other"


def _identity_faults(definitions: Sequence[Definition], entry: Entry) -> Iterator[str]:
    wanted = ((1001, APPID), (1000, entry["block"]), (1000, entry["family"]), (1000, entry["fingerprint"]))
    for d in definitions:
        if d.tag == IDENTITY:
            if d.text != entry["fingerprint"]:
                yield f"identity {d.text!r} differs from the manifest's fingerprint {entry['fingerprint']}"
            if d.extended != wanted:
                yield f"extended data hold {[value for _, value in d.extended]}, not name, family and fingerprint"
        elif d.extended:
            yield f"attribute {d.tag} has extended data"


def _sense_faults(entry: Entry) -> Iterator[str]:
    """Yield attributes that disagree with the manifest's own facts."""
    view = entry["view"]
    counts = "0" if view.split()[-1] in _END_VIEWS else "1"
    facts = {
        "DESIGNATION": entry["designation"],
        "STANDARD": entry["standard"],
        "SIZE": entry["size"],
        "VIEW": view.upper(),
        "COUNT": counts,
        IDENTITY: entry["fingerprint"],
    }
    for tag, fact in facts.items():
        if tag in entry["attributes"] and entry["attributes"][tag] != fact:
            yield f"attribute {tag} is {entry['attributes'][tag]!r} in the manifest, whose facts say {fact!r}"
    if bool(entry["attributes"].get("LENGTH")) != (entry["length"] is not None):
        yield f"attribute LENGTH is {entry['attributes'].get('LENGTH')!r} with a length of {entry['length']}"
