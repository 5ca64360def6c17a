"""The checks of the cut, gathered."""

from gantrywright.disciplines.cutting.accuracy_checks import bottoms_are_true, walls_are_true
from gantrywright.disciplines.cutting.axis_checks import axes_push_enough
from gantrywright.disciplines.cutting.chatter_checks import cut_is_quiet, job_runs
from gantrywright.disciplines.cutting.chip_checks import (
    chip_is_not_too_thick,
    chip_is_not_too_thin,
    every_tooth_cuts,
    forces_are_known,
)
from gantrywright.disciplines.cutting.cutter_checks import (
    cutter_is_strong_enough,
    cutter_plunges,
    cutters_stand_out_little,
    flutes_are_long_enough,
)
from gantrywright.disciplines.cutting.drilling_checks import drill_is_fed_as_usual, drill_turns_as_usual
from gantrywright.disciplines.cutting.hold_checks import small_parts_hold, tabs_hold, work_does_not_slip, work_is_not_lifted
from gantrywright.disciplines.cutting.reading_checks import cuts_as_believed
from gantrywright.disciplines.cutting.spindle_checks import (
    cutter_bears_the_speed,
    edge_goes_as_usual,
    outlet_gives_the_power,
    spindle_has_the_power,
    spindle_reaches_the_speed,
)
from gantrywright.disciplines.cutting.spoilboard_checks import (
    can_be_faced,
    does_not_sag,
    passes_overlap,
    ridges_are_low,
    turns_slowly_enough,
)

__all__ = [
    "axes_push_enough",
    "bottoms_are_true",
    "can_be_faced",
    "chip_is_not_too_thick",
    "chip_is_not_too_thin",
    "cut_is_quiet",
    "cuts_as_believed",
    "cutter_bears_the_speed",
    "cutter_is_strong_enough",
    "cutter_plunges",
    "cutters_stand_out_little",
    "does_not_sag",
    "drill_is_fed_as_usual",
    "drill_turns_as_usual",
    "edge_goes_as_usual",
    "every_tooth_cuts",
    "flutes_are_long_enough",
    "forces_are_known",
    "job_runs",
    "outlet_gives_the_power",
    "passes_overlap",
    "ridges_are_low",
    "small_parts_hold",
    "spindle_has_the_power",
    "spindle_reaches_the_speed",
    "tabs_hold",
    "turns_slowly_enough",
    "walls_are_true",
    "work_does_not_slip",
    "work_is_not_lifted",
]  # fmt: skip
