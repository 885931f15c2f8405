"""Hostile input, made by the million: `python -m fuzz.run --help`, from the folder tests."""
