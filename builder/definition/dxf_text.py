"""What a text must be so that every DXF version and every program shows it as it was written."""

from builder.definition.node import Node
from builder.words.problems import Problems

_CODES = ("%%", "\\", "^")


def check_text(node: Node, problems: Problems) -> None:
    """Note what keeps a text, or any text inside a group or list, from going into a drawing."""
    for entry in (*node.entries.values(), *node.members):
        check_text(entry, problems)
    if not isinstance(node.value, str):
        return
    for index, character in enumerate(node.value):
        if not _shown(character):
            wrong = f"{character!r} in a text for drawings"
            where = node.inside.moved(index) if node.lines == 1 else node.position
            problems.add(where, wrong, "expected letters of code page 1252 (Western Europe), on one line")
            break
    for code in _CODES:
        if code in node.value:
            where = node.inside.moved(node.value.index(code)) if node.lines == 1 else node.position
            problems.add(where, f"{code} in a text for drawings", "expected no formatting codes")


def _shown(character: str) -> bool:
    try:
        character.encode("cp1252")
    except UnicodeEncodeError:
        return False
    return character.isprintable()
