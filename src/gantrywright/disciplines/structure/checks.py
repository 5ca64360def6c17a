"""The checks of the structure, gathered."""

from gantrywright.disciplines.structure.bolted_checks import bears_its_torque, holds_by_friction, stays_closed, stays_down
from gantrywright.disciplines.structure.dynamic_checks import apart_from_the_teeth, quiet_stop, settles
from gantrywright.disciplines.structure.heat_checks import grows_with_the_work, straight_when_warm
from gantrywright.disciplines.structure.reading_checks import measured_as_predicted
from gantrywright.disciplines.structure.stiffness_checks import proves_itself, push_off, sag, stiffness_for_jobs, wanted_stiffness

__all__ = [
    "apart_from_the_teeth", "bears_its_torque", "grows_with_the_work", "holds_by_friction", "measured_as_predicted", "proves_itself", "push_off", "quiet_stop", "sag", "settles", "stays_closed", "stays_down", "stiffness_for_jobs",
    "straight_when_warm", "wanted_stiffness",
]  # fmt: skip
