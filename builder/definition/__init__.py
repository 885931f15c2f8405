"""A YAML file becomes a family or a shop standard: read with positions, checked against schema and for sense."""
