"""A YAML file becomes a family or a shop standard: read with positions, checked against its schema and for sense."""
