"""A view becomes a block: named, with attributes and a fingerprint, ready for any output."""
