"""Definition files become families. Everything wrong with any of them is noted before anybody gives up."""

from collections.abc import Sequence
from copy import deepcopy
from functools import cache
from pathlib import Path

from builder.body.catalogue import feature_kinds
from builder.definition.draft import Draft
from builder.definition.family import Family
from builder.definition.files import yaml_files
from builder.definition.node import Node
from builder.definition.refining import Entry, entry_of, resolve
from builder.definition.schema import check
from builder.definition.schema_parts import Schema
from builder.definition.schema_text import family_schema
from builder.definition.shop_reader import tells_shop
from builder.definition.source import read_source
from builder.words.problems import Problems

# A file or folder of such a name cannot be made on Windows; the key names both.
_DEVICES = {"con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(10))}


def read_definitions(places: Sequence[Path], problems: Problems) -> tuple[Family, ...]:
    """Read every definition of some folders or single files, sorted by key; later ones refine or replace earlier.

    A shop standard that lies among the definitions is left out: it is read by its own reader.
    """
    layers: list[list[Entry]] = []
    for place in places:
        read = [(path, read_source(path, problems)) for path in yaml_files(place, problems)]
        layers.append([entry_of(path, root) for path, root in read if not tells_shop(root)])
        if not layers[-1] and not problems:
            problems.add(place, "no definitions", "expected at least one .yaml file with a family")
    return _families(layers, problems)


def _families(layers: Sequence[Sequence[Entry]], problems: Problems) -> tuple[Family, ...]:
    families: list[Family] = []
    codes: dict[str, Entry] = {}
    for entry in resolve(layers, problems):
        if entry.root is None:
            continue
        family = _read(entry, entry.root, problems)
        if family is None:
            continue
        if family.code in codes:
            wrong = f"code {family.code} is that of {codes[family.code].path} already"
            problems.add(entry.place("code"), wrong, "expected a code of its own, since block names begin with it")
        codes.setdefault(family.code, entry)
        families.append(family)
    return tuple(families)


@cache
def _schema() -> Schema:
    """Return the family schema without its rows, which the table's reader checks faster and more plainly.

    Nor does it say what shapes a family must have: that too is said more plainly elsewhere.
    """
    schema = deepcopy(family_schema(feature_kinds().values()))
    schema["then"] = {"required": schema["then"]["required"]}
    schema["properties"]["table"]["properties"]["rows"]["items"] = {"type": "array"}
    return schema


def _read(entry: Entry, root: Node, problems: Problems) -> Family | None:
    before = len(problems)
    faulty = check(root, _schema(), problems)
    if "" in faulty:
        return None
    if "family" not in faulty and entry.key != entry.path.stem:
        expected = f"expected the file name {entry.key}.yaml, or family: {entry.path.stem}"
        problems.add(entry.place("family"), f"family {entry.key} in {entry.path.name}", expected)
    if entry.key in _DEVICES:
        problems.add(entry.place("family"), f"family {entry.key}", "expected a name that is no device of Windows")
    draft = Draft(root, faulty, problems)
    draft.check_figures()
    draft.check_drawing()
    draft.check_texts()
    return draft.family() if len(problems) == before else None
