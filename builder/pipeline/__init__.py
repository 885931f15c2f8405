"""Definitions in, a library on disk out: all of it, or nothing changed. The only station that touches files."""
