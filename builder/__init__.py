"""Builds a library of standard-part DXF blocks: definition, part, view, block, outputs."""

__version__ = "0.1.0"
