"""Formulas of the trade: numbers in, numbers out. No machine, no file, no print."""
