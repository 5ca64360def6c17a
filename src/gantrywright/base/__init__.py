"""The ground floor: units, errors, spreads, sources, formulas. Imports nothing else of the house."""
