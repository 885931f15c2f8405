"""The seven DXF releases and what differs between them in the entities that blocks need."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType


@dataclass(frozen=True, slots=True)
class Release:
    """One DXF release: its name, and which parts of an entity it knows."""

    name: str
    owners: bool  # owner handles, subclass markers, line widths, units: nearly everything that R12 lacks
    ellipses: bool  # entities for ellipses
    record_units: bool  # unit and scaling flags in the block record
    attribute_kind: bool  # kind of attribute after its flags
    encoding: str


RELEASES: Mapping[str, Release] = MappingProxyType(
    {
        "R12": Release("R12", False, False, False, False, "cp1252"),
        "R2000": Release("R2000", True, True, False, False, "cp1252"),
        "R2004": Release("R2004", True, True, False, False, "cp1252"),
        "R2007": Release("R2007", True, True, True, False, "utf-8"),
        "R2010": Release("R2010", True, True, True, False, "utf-8"),
        "R2013": Release("R2013", True, True, True, False, "utf-8"),
        "R2018": Release("R2018", True, True, True, True, "utf-8"),
    }
)
