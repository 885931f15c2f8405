"""Sound files to begin with: shipped and sample definitions cut to a few rows, shop standards, formulas."""

import re
from pathlib import Path

ROOT = Path(__file__).parents[2]
TESTS = ROOT / "tests"
_ROWS = 3


def definitions() -> tuple[list[str], list[str]]:
    """Return sound definitions and broken ones."""
    from test_3_definition import SAMPLE

    texts = [SAMPLE, Path(__file__).with_name("pin.yaml").read_text(encoding="utf-8")]
    texts += [_cut(path.read_text(encoding="utf-8")) for path in sorted((ROOT / "blocks").glob("*.yaml"))]
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    texts += [block for block in re.findall(r"```yaml\n(.*?)```", readme, re.DOTALL) if block.startswith("family")]
    broken = [_read(path) for path in sorted((TESTS / "definitions" / "bad").glob("*.yaml"))]
    return texts, broken + corpus("definition")


def shops() -> tuple[list[str], list[str]]:
    """Return sound shop standards and broken ones."""
    sound = [_read(path) for path in sorted((ROOT / "blocks" / "shops").glob("*.yaml"))]
    broken = [_read(path) for path in sorted((TESTS / "definitions" / "bad-shops").glob("*.yaml"))]
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    found = [block for block in re.findall(r"```yaml\n(.*?)```", readme, re.DOTALL) if block.startswith("shop")]
    mine = [re.sub(r"iso-\d+", "pin", re.sub(r"sizes: \[.*?\]", 'sizes: ["6"]', text)) for text in found]
    return sound + [re.sub(r", lengths: \[.*?\]", "", text) for text in mine], broken + corpus("shop")


def corpus(kind: str) -> list[str]:
    """Return what was found before."""
    return [_read(path) for path in sorted((Path(__file__).with_name("corpus") / kind).iterdir())]


def _read(path: Path) -> str:
    return path.read_text(encoding="utf-8", errors="replace")


def _cut(text: str) -> str:
    """Leave a table's first rows."""
    head, rows, tail = re.split(r"(?m)^  rows:\n((?:    .*\n)*)", text, maxsplit=1)
    return f"{head}  rows:\n{''.join(rows.splitlines(keepends=True)[:_ROWS])}{tail}"
