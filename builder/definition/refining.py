"""Which file stands for a family, where a later folder refines or replaces families of an earlier one."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from builder.definition.node import Node, Value, merged
from builder.words.limits import CHAIN
from builder.words.near import suggestion
from builder.words.problems import Position, Problems

_LAYERING = ("refines", "replaces")


@dataclass(frozen=True, slots=True)
class Entry:
    """One definition file as it was read; `root` is None where it could not be."""

    path: Path
    root: Node | None
    key: str
    refines: str | None
    replaces: str | None

    def place(self, key: str) -> Position:
        """Return where the value of a key stands."""
        entry = self.root.entries.get(key) if self.root else None
        return entry.position if entry else Position(str(self.path))


def entry_of(path: Path, root: Node | None) -> Entry:
    """Note the keys of a file that tell which families it is about."""
    entries = root.entries if root else {}
    texts = {name: node.value for name, node in entries.items() if isinstance(node.value, str)}
    return Entry(path, root, texts.get("family", path.stem), texts.get("refines"), texts.get("replaces"))


def resolve(folders: Sequence[Sequence[Entry]], problems: Problems) -> tuple[Entry, ...]:
    """Return the entries that stand for their families, each with all that it takes over laid under it."""
    families: dict[str, Entry] = {}
    for folder in folders:
        here = _by_key(folder, families, problems)
        taken = {key: done for key, entry in here.items() if (done := _whole(entry, here, families, (), problems))}
        for entry in here.values():
            if entry.replaces and entry.replaces not in families:
                _unknown(entry, "replaces", entry.replaces, families, problems)
            elif entry.replaces and entry.replaces not in here:
                del families[entry.replaces]
        families.update(taken)
    return tuple(families[key] for key in sorted(families))


def _by_key(folder: Iterable[Entry], earlier: Mapping[str, Entry], problems: Problems) -> dict[str, Entry]:
    here: dict[str, Entry] = {}
    for entry in folder:
        other = here.get(entry.key)
        if other is None and entry.key not in (entry.refines, entry.replaces):
            other = earlier.get(entry.key)
        if other is not None:
            expected = f"expected refines: {entry.key}, replaces: {entry.key} or another key"
            problems.add(entry.place("family"), f"{entry.key} is the family of {other.path} already", expected)
        here.setdefault(entry.key, entry)
    return here


def _whole(
    entry: Entry,
    here: Mapping[str, Entry],
    earlier: Mapping[str, Entry],
    trail: tuple[str, ...],
    problems: Problems,
) -> Entry | None:
    """Return an entry with what it refines laid under it; None where that fails."""
    if fault := _endless(entry, trail):
        problems.add(entry.place("refines"), *fault)
        return None
    if entry.root is None or entry.refines is None:
        return entry
    base = earlier.get(entry.refines)
    if entry.refines != entry.key and entry.refines in here:
        base = _whole(here[entry.refines], here, earlier, (*trail, entry.key), problems)
        if base is None:
            return None
    if base is None:
        _unknown(entry, "refines", entry.refines, {**here, **earlier}, problems)
        return None
    if base.root is None:
        return None
    return replace(entry, root=_laid_over(base.root, entry.root))


def _endless(entry: Entry, trail: tuple[str, ...]) -> tuple[str, str] | None:
    """Say what is wrong, and what was expected, where families refine one another in a circle or without end."""
    if entry.key in trail:
        circle = " -> ".join((*trail[trail.index(entry.key) :], entry.key))
        return f"{circle} refine each other", "expected one that refines none of them"
    if len(trail) >= CHAIN:
        return f"{CHAIN} families refine one another in turn", "expected fewer"
    return None


def _laid_over(base: Node, own: Node) -> Node:
    whole = merged(_yielding(base, own), own)
    return replace(whole, value={k: v for k, v in whole.entries.items() if k not in _LAYERING})


def _yielding(base: Node, own: Node) -> Node:
    """Return a base without what a refinement does away with: the body it states anew, drawings of views it drops."""
    kept = dict(base.entries)
    if own.entries.keys() & {"body", "bodies"}:
        kept = {key: node for key, node in kept.items() if key not in ("body", "bodies")}
    if "drawn" in kept and "views" in own.entries:
        views = {name for view in own.entries["views"].members for name in view.entries or (view.text,)}
        shapes: Value = {name: node for name, node in kept["drawn"].entries.items() if name in views}
        kept["drawn"] = replace(kept["drawn"], value=shapes)
    return replace(base, value=kept)


def _unknown(entry: Entry, key: str, name: str, known: Mapping[str, Entry], problems: Problems) -> None:
    others = known.keys() - {entry.key}
    expected = f"expected the key of a family{suggestion(name, others)}"
    problems.add(entry.place(key), f"{key} the unknown family {name}", expected)
