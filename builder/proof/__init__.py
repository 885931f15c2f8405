"""Proves a built library from its files alone: read back, measured, compared. Shares no code with what wrote them."""
