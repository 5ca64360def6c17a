"""All checks of supplies and settings."""

from gantrywright.disciplines.electrics.current_checks import overheats, too_little, within_the_driver
from gantrywright.disciplines.electrics.power_checks import bus_peak, power
from gantrywright.disciplines.electrics.voltage_checks import distance, iron, low_line, own_range, window

__all__ = [
    "bus_peak",
    "distance",
    "iron",
    "low_line",
    "overheats",
    "own_range",
    "power",
    "too_little",
    "window",
    "within_the_driver",
]
