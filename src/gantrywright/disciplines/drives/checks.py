"""The checks of the linear drives, gathered."""

from gantrywright.disciplines.drives.accuracy_checks import lead_error, lost_motion, thermal_growth
from gantrywright.disciplines.drives.fit_checks import teeth_match
from gantrywright.disciplines.drives.load_checks import (
    belt_pretension,
    held_screw_warms,
    nut_heat,
    own_load_limits,
    teeth_in_mesh,
)
from gantrywright.disciplines.drives.service_checks import bearing_life, grip_life, stays_up
from gantrywright.disciplines.drives.speed_checks import cautions, own_speed_limits

__all__ = [
    "bearing_life", "belt_pretension", "cautions", "grip_life", "held_screw_warms", "lead_error", "lost_motion", "nut_heat",
    "own_load_limits", "own_speed_limits", "stays_up", "teeth_in_mesh", "teeth_match", "thermal_growth",
]  # fmt: skip
