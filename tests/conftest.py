"""What several tests share: the families as read from the shipped definitions, and one built library."""

from pathlib import Path

import pytest
from readback import Library, build_library, shipped_families

from builder.definition.family import Family

ROOT = Path(__file__).parents[1]


@pytest.fixture(scope="session")
def families() -> tuple[Family, ...]:
    """The families of the shipped definitions."""
    return shipped_families()


@pytest.fixture(scope="session")
def library(tmp_path_factory: pytest.TempPathFactory) -> Library:
    """Every size in every view, built once for a metric shop; lengths where something may change."""
    return build_library(tmp_path_factory.mktemp("library"), lengths="steps")
