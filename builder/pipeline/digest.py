"""Digests of what a build depends on: the tool itself, files as they lie on the disk, values of the stations."""

import hashlib
import importlib.metadata
from collections.abc import Mapping
from collections.abc import Set as AbstractSet
from dataclasses import fields, is_dataclass
from enum import Enum
from functools import cache
from pathlib import Path

from builder import __version__
from builder.definition.files import shop_files, yaml_files
from builder.definition.source import is_file
from builder.pipeline.order import Order
from builder.pipeline.resources import blocks_folder, shops_folder
from builder.words.limits import FILE
from builder.words.problems import Position, Problems

_PACKAGES = ("ezdxf", "numpy", "Pillow")  # a newer one may write other bytes


def digest(*texts: str) -> str:
    """Return a digest of some texts in their order."""
    return hashlib.blake2b("\0".join(texts).encode("utf-8", "surrogatepass"), digest_size=16).hexdigest()


@cache
def tool_digest() -> str:
    """Return a digest of the tool's own code and of the packages that have a say in what it writes."""
    package = Path(__file__).resolve().parent.parent
    code = (_content(path, path.relative_to(package).as_posix()) for path in sorted(package.rglob("*.py")))
    return digest(__version__, *(importlib.metadata.version(name) for name in _PACKAGES), *code)


def order_digest(order: Order) -> str:
    """Return a digest of all that an order's library depends on, from files unread; OSError where one cannot be had.

    Where the files lie does not count: a library is the same in every folder.
    """
    folders = (yaml_files(place, Problems()) for place in (blocks_folder(), *order.definitions))
    places = (
        digest(*(_content(path, path.name) for path in files if is_file(path)))
        for files in (*folders, shop_files(order.shop, shops_folder()))
    )
    asked = repr((Path(order.shop).name, order.patterns, order.dxf))
    return digest(tool_digest(), asked, *places)


def _content(path: Path, name: str) -> str:
    with path.open("rb") as file:
        content = file.read(FILE + 1)  # no reader takes more
    return f"{name} {hashlib.blake2b(content, digest_size=16).hexdigest()}"


def value_digest(value: object) -> str:
    """Return a digest of a value of the stations, wherever in a file it stands."""
    return digest(_spelt(value))


def _spelt(value: object) -> str:
    if value is None or isinstance(value, (str, bool, int, float)):
        return repr(value)
    if isinstance(value, Mapping):
        return f"{{{','.join(sorted(f'{_spelt(key)}:{_spelt(item)}' for key, item in value.items()))}}}"
    if isinstance(value, (tuple, list, AbstractSet)):
        parts = map(_spelt, value)
        return f"[{','.join(sorted(parts) if isinstance(value, AbstractSet) else parts)}]"
    return f"{type(value).__name__}({_inside(value)})"


def _inside(value: object) -> str:
    if isinstance(value, Position):
        return ""
    if isinstance(value, Enum):
        return value.name
    if is_dataclass(value):
        return ",".join(_spelt(getattr(value, field.name)) for field in fields(value))
    raise TypeError(f"no digest of {type(value).__name__}")
