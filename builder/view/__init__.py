"""A part becomes a view: its body projected, hidden lines found, drafting conventions applied."""
