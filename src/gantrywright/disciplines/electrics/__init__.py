"""Supplies of the motors: power drawn, energy given back, voltage and current settings."""
