"""Finds the feature kinds: every module in the features folder, by its KIND."""

import importlib
import pkgutil
from collections.abc import Mapping
from functools import cache
from types import MappingProxyType
from typing import cast

from builder.body import features
from builder.body.feature import Feature


@cache
def feature_kinds() -> Mapping[str, Feature]:
    """Return every feature kind by name, in alphabetical order."""
    names = sorted(module.name for module in pkgutil.iter_modules(features.__path__))
    modules = (importlib.import_module(f"{features.__name__}.{name}") for name in names)
    kinds = (cast(Feature, module) for module in modules)
    return MappingProxyType({feature.KIND: feature for feature in kinds})
