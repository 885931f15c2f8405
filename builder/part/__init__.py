"""A family becomes parts: one size and length each, every dimension a number, the body made of solids."""
