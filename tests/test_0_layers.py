"""The architecture, read from the code's own imports: data flows one way, and each outside package has one door."""

import ast
import sys
from collections.abc import Iterator
from pathlib import Path

BUILDER = Path(__file__).parents[1] / "builder"

# Each station may import from those before it; the order is the data's way.
STATIONS = (
    "words",
    "body",
    "definition",
    "part",
    "view",
    "block",
    "output",
    "pipeline",
    "proof",
    "report",
    "cli",
    "__main__",
)
DOORS = {
    "yaml": {"builder.definition.source"},
    "jsonschema": {"builder.definition.schema", "builder.proof.manifest"},
    "ezdxf": {"builder.output.dxf.document", "builder.output.dxf.template"},
    "PIL": {"builder.output.ink", "builder.output.lettering", "builder.proof.pictures"},
    "click": {"builder.cli"},
    "numpy": {f"builder.output.{pixels}" for pixels in ("ink", "lettering", "marks", "png", "raster")},
    "cadkit": {"builder.proof.drawing"},
}
ARRAYS = ("builder.body.", "builder.view.")  # numpy: stations that ask thousands of points at once


def modules() -> dict[str, Path]:
    found = {}
    for path in BUILDER.rglob("*.py"):
        parts = path.relative_to(BUILDER.parent).with_suffix("").parts
        found[".".join(parts[:-1] if parts[-1] == "__init__" else parts)] = path
    return found


def imports_of(path: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0 and node.module, path
            yield node.module
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def station(module: str) -> int:
    parts = module.split(".")
    return STATIONS.index(parts[1]) if len(parts) > 1 else -1


def test_no_module_imports_one_that_stands_later_on_the_datas_way():
    """words, body, definition, part, view, block, output, pipeline, proof, report, cli."""
    known = modules()
    for name, path in known.items():
        for wanted in imports_of(path):
            if wanted in known:
                assert station(wanted) <= station(name), f"{name} imports {wanted}"


def test_there_is_no_import_cycle():
    """Every module can be put in an order in which it comes after what it imports."""
    known = modules()
    needs = {
        n: {w for w in imports_of(p) if w in known and w != n and not n.startswith(w + ".")} for n, p in known.items()
    }
    while ready := [name for name, wanted in needs.items() if not wanted & needs.keys()]:
        for name in ready:
            del needs[name]
    assert not needs


def test_each_outside_package_has_its_door():
    """YAML is known to one module, pixels to a few, DXF documents to two; arrays to those and to body and view."""
    allowed = sys.stdlib_module_names | {"builder"}
    for name, path in modules().items():
        for wanted in imports_of(path):
            top = wanted.split(".")[0]
            if top == "numpy" and name.startswith(ARRAYS) and not name.startswith("builder.body.features."):
                continue
            if top not in allowed:
                assert name in DOORS.get(top, set()), f"{name} imports {top}"


def test_views_question_solids_and_never_see_features():
    """Features are lowered to solids; a view that knew features would need a change for each new one."""
    for name, path in modules().items():
        unseen = {"view": ("builder.body.feature", "builder.definition"), "output": ("builder.body", "builder.part")}
        for station_name, later in unseen.items():
            if name.startswith(f"builder.{station_name}"):
                assert not any(wanted.startswith(later) for wanted in imports_of(path)), name


def test_the_proof_shares_nothing_with_what_it_proves():
    """What measures a library knows neither writer nor projection, nor the solids that views are projected from."""
    allowed = ("builder.proof", "builder.words", "builder.definition")
    of_the_part = {
        "builder.part.measures",  # what features state in numbers; makes no solids
        "builder.part.looks",
        "builder.part.part",  # dimensions alone
        "builder.part.faults",
    }
    for name, path in modules().items():
        if name.startswith("builder.proof"):
            wanted = {w for w in imports_of(path) if w in modules()} - of_the_part
            assert all(w.startswith(allowed) for w in wanted), (name, wanted)
