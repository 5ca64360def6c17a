"""Kinds of parts and the tables that list them."""
