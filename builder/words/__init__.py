"""Words that every station uses: problems, shapes, roles, units, formulas. Imports nothing else of builder."""
