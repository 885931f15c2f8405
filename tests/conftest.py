"""What several tests share: the families as read from the shipped definitions, and one built library."""

from pathlib import Path

import pytest
from readback import Library, build_library

from builder.definition.family import Family
from builder.definition.reader import read_definitions
from builder.words.problems import Problems

ROOT = Path(__file__).parents[1]


@pytest.fixture(scope="session")
def families() -> tuple[Family, ...]:
    """The families of the shipped definitions."""
    problems = Problems()
    read = read_definitions((ROOT / "blocks",), problems)
    problems.raise_any()
    return read


@pytest.fixture(scope="session")
def library(tmp_path_factory: pytest.TempPathFactory) -> Library:
    """The whole library, built once for the `iso` shop."""
    return build_library(tmp_path_factory.mktemp("library"), "iso")
