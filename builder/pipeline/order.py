"""What a build is asked for, and what it has made."""

from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Order:
    """What a build is asked for."""

    shop: str
    definitions: tuple[Path, ...] = ()
    patterns: tuple[str, ...] = ()
    dxf: str | None = None
    out: Path = Path("dist")
    jobs: int = 0  # 0: as many as the machine has cores


@dataclass(frozen=True, slots=True)
class Built:
    """What a build has made: blocks in the library, and how many of them had to be made anew."""

    out: Path
    blocks: int
    families: int
    renewed: int
