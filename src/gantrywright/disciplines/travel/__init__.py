"""How far everything goes, what meets what, what stops it."""
