"""Finds the view kinds and the thread styles: every module in their folders."""

import importlib
import pkgutil
from collections.abc import Iterator, Mapping
from functools import cache
from types import MappingProxyType, ModuleType
from typing import cast

from builder.view import kinds, threads
from builder.view.kind import ViewKind
from builder.view.thread_style import ThreadStyle


def _modules(folder: ModuleType) -> Iterator[ModuleType]:
    names = sorted(module.name for module in pkgutil.iter_modules(folder.__path__))
    return (importlib.import_module(f"{folder.__name__}.{name}") for name in names)


@cache
def view_kinds() -> Mapping[str, ViewKind]:
    """Return every view kind by name."""
    return MappingProxyType({kind.name: kind for module in _modules(kinds) for kind in module.KINDS})


@cache
def thread_styles() -> Mapping[str, ThreadStyle]:
    """Return every thread style by name."""
    styles = (cast(ThreadStyle, module) for module in _modules(threads))
    return MappingProxyType({style.NAME: style for style in styles})
