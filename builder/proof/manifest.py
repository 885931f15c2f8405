"""The manifest as it is read back: against its schema, and sorted for those who measure by it."""

import json
import os
import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

from builder.proof.drawing import look_named
from builder.proof.schema import fits_of
from builder.words.problems import Position, Problems

NAME = "library.json"
_LARGEST = 1 << 30  # bytes
_FEW = 20  # schema faults that are reported
_KEY = re.compile(r"[a-z0-9][a-z0-9_-]{0,60}")
Entry = Mapping[str, Any]


@dataclass(frozen=True)
class Manifest:
    """A manifest that follows its schema."""

    facts: Mapping[str, Any]

    @property
    def shop(self) -> Mapping[str, Any]:
        """Return what it says of the shop standard."""
        found: Mapping[str, Any] = self.facts["shop"]
        return found

    @property
    def roles(self) -> Mapping[str, Mapping[str, Any]]:
        """Return how each role is drawn."""
        found: Mapping[str, Mapping[str, Any]] = self.facts["roles"]
        return found

    @property
    def entries(self) -> Sequence[Entry]:
        """Return the blocks."""
        found: Sequence[Entry] = self.facts["blocks"]
        return found

    @property
    def sheets(self) -> Sequence[str]:
        """Return the paths of the contact sheets."""
        found: Sequence[str] = self.facts["sheets"]
        return found

    @cached_property
    def looks(self) -> Mapping[str, str]:
        """Return how shapes of each role look, as the drawing's reader names it."""
        r12 = self.shop["dxf"] == "R12"
        return {
            role: look_named(style["layer"], style["linetype"], None if r12 else round(100.0 * style["lineweight"]))
            for role, style in self.roles.items()
        }

    def drawn(self, paper: float, unit: str) -> float:
        """Turn mm on paper into a length in a drawing of a unit."""
        return float(paper / self.shop["plot_scale"] / (25.4 if unit == "in" else 1.0))


def read_manifest(folder: Path, schema: Path, problems: Problems) -> Manifest | None:
    """Read the manifest of a library; None and problems where there is none that can be used."""
    path = folder / NAME
    facts = _facts(path, folder, problems)
    if facts is None:
        return None
    rules = json.loads(schema.read_text(encoding="utf-8"))
    try:
        fits = fits_of(rules, rules)(facts)
    except RecursionError:
        fits = False
    if not fits:
        _report(facts, rules, path, problems)
        return None
    before = len(problems)
    _check_entries(facts["blocks"], path, problems)
    _check_sheets(Manifest(facts), path, problems)
    missing = set(_ROLES) - set(facts["roles"])
    if missing:
        problems.add(path, f"no role {', '.join(sorted(missing))}", f"expected {', '.join(_ROLES)}")
    return None if len(problems) > before else Manifest(facts)


_ROLES = ("outline", "thread", "hidden", "axis", "hatching", "text", "narrow")


def _facts(path: Path, folder: Path, problems: Problems) -> Any:
    if not folder.is_dir():
        wrong = "is a file" if folder.exists() else "does not exist"
        problems.add(folder, wrong, "expected the folder of a built library")
        return None
    try:
        if path.stat().st_size > _LARGEST:
            problems.add(path, "is larger than 1 GB", "expected the manifest of a library")
            return None
        return json.loads(path.read_bytes(), parse_constant=_no_constant)
    except FileNotFoundError:
        problems.add(folder, f"holds no {NAME}", "expected the folder of a built library")
    except OSError as error:
        problems.add(path, f"cannot be read: {(error.strerror or str(error)).lower()}", "expected a readable manifest")
    except json.JSONDecodeError as error:
        where = Position(str(path), error.lineno, error.colno)
        problems.add(where, f"is no JSON: {error.msg.lower()}", "expected a manifest as build writes it")
    except (ValueError, RecursionError) as error:
        problems.add(path, f"is no JSON: {' '.join(str(error).split())[:80]}", "expected a manifest as build writes it")
    return None


def _no_constant(name: str) -> float:
    raise ValueError(f"{name} is no number of JSON")


def _report(facts: Any, rules: Mapping[str, Any], path: Path, problems: Problems) -> None:
    """Say where a manifest departs from its schema, in jsonschema's words."""
    from jsonschema import Draft202012Validator  # noqa: PLC0415 - slow to import, and hardly ever needed

    count = 0
    try:
        for finding in Draft202012Validator(rules).iter_errors(facts):
            count += 1
            if count > _FEW:
                return
            where = "/".join(map(str, finding.absolute_path)) or "the manifest"
            named = _block_at(facts, list(finding.absolute_path))
            problems.add(path, f"{named}{where}: {finding.message[:160]}", "expected what its schema describes")
    except RecursionError:
        pass
    if not count:
        problems.add(path, "does not follow its schema", "expected a manifest as build writes it")


def _block_at(facts: Any, where: Sequence[Any]) -> str:
    if len(where) > 1 and where[0] == "blocks" and isinstance(facts["blocks"][where[1]], dict):
        return f"{facts['blocks'][where[1]].get('block', '?')}: "
    return ""


def _check_entries(entries: Sequence[Entry], path: Path, problems: Problems) -> None:
    """Check names and paths, so that nothing outside of the library is ever opened."""
    seen: set[str] = set()
    units = _usual_units(entries)
    for entry in entries:
        name, family = entry["block"], entry["family"]
        if name.upper() in seen:
            problems.add(path, f"{name}: listed for the second time", "expected every block once, whatever the case")
        seen.add(name.upper())
        if not _KEY.fullmatch(family):
            problems.add(path, f"{name}: family {family!r}", "expected the key of a family")
            continue
        for key, wanted in paths_of(name, family).items():
            if entry[key] != wanted:
                problems.add(path, f"{name}: {key} is {entry[key]!r}", f"expected {wanted}")
        if not re.fullmatch(rf"collections/{re.escape(family)}(_[1-9]\d{{0,5}})?\.dxf", entry["collection"]):
            expected = f"expected collections/{family}.dxf, or one with _ and a number"
            problems.add(path, f"{name}: collection is {entry['collection']!r}", expected)
        if entry["units"] != units[family]:
            problems.add(path, f"{name}: in {entry['units']}", "expected one unit for a family")
    if not entries:
        problems.add(path, "lists no blocks", "expected at least one")


def _check_sheets(manifest: Manifest, path: Path, problems: Problems) -> None:
    """Check that every collection has contact sheets, numbered from 1, and nothing else has any."""
    counts = Counter(volume_of_sheet(sheet) for sheet in manifest.sheets)
    volumes = {volume_of(entry) for entry in manifest.entries}
    for volume in sorted(volumes | counts.keys()):
        wanted = (
            {f"index/{volume}-{n}.png" for n in range(1, max(counts[volume], 1) + 1)} if volume in volumes else set()
        )
        stated = {sheet for sheet in manifest.sheets if volume_of_sheet(sheet) == volume}
        if stated != wanted or len(stated) < counts[volume]:
            wrong = f"lists the contact sheets {', '.join(sorted(stated)[:_FEW]) or 'none'} of {volume}"
            problems.add(path, wrong, "expected those of its collections, numbered from 1, each once")


def volume_of_sheet(sheet: str) -> str:
    """Return the name of the collection whose blocks a contact sheet shows."""
    return sheet.removeprefix("index/").rpartition("-")[0]


def _usual_units(entries: Sequence[Entry]) -> Mapping[str, str]:
    """Return the unit of most of a family's blocks."""
    counts: dict[str, Counter[str]] = {}
    for entry in entries:
        counts.setdefault(entry["family"], Counter())[entry["units"]] += 1
    return {family: count.most_common(1)[0][0] for family, count in counts.items()}


def paths_of(name: str, family: str) -> dict[str, str]:
    """Return where the files of its own lie in a library."""
    return {
        "dxf": f"blocks/{family}/{name}.dxf",
        "thumbnail": f"thumbnails/{family}/{name}.png",
    }


def misplaced(folder: Path, manifest: Manifest) -> Iterator[tuple[Path, str, str]]:
    """Yield files that are missing or left over: path, what is wrong, what was expected."""
    named = {str(entry[key]) for entry in manifest.entries for key in ("dxf", "collection", "thumbnail")}
    named.update(manifest.sheets)
    there = {name for top in ("blocks", "collections", "thumbnails", "index") for name in _files(folder, top)}
    for name in sorted(named - there):
        yield folder / name, "is missing", "expected the file that the manifest names"
    for name in sorted(there - named):
        yield folder / name, "is left over", "expected no file that the manifest does not name"


def _files(folder: Path, top: str) -> Iterator[str]:
    """Yield the files of a folder and all below it, as paths from the library on."""
    for where, _, names in os.walk(folder / top):
        within = Path(where).relative_to(folder).as_posix()
        yield from (f"{within}/{name}" for name in names)


def volume_of(entry: Entry) -> str:
    """Return the name of the collection that holds a block; its contact sheets go by it too."""
    return str(entry["collection"]).removeprefix("collections/").removesuffix(".dxf")
