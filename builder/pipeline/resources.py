"""Where the shipped definitions and shop standards lie: in the wheel, or beside the package in a checkout."""

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent.parent


def blocks_folder() -> Path:
    """Return the folder of the family definitions that come with the tool."""
    return _data("blocks")


def shops_folder() -> Path:
    """Return the folder of the shop standards that come with the tool."""
    return blocks_folder() / "shops"


def schemas_folder() -> Path:
    """Return the folder of the schemas that come with the tool."""
    return _data("schemas")


def _data(name: str) -> Path:
    installed = _PACKAGE / "data" / name
    return installed if installed.is_dir() else _PACKAGE.parent / name
