"""All checks of travels, reach, clashes and stops."""

from gantrywright.disciplines.travel.piece_checks import pieces_lie_in_reach
from gantrywright.disciplines.travel.stop_checks import bumper_fits, drives_bear_a_stall, hands, nothing_meets
from gantrywright.disciplines.travel.table_checks import lies_over_the_table
from gantrywright.disciplines.travel.tool_checks import cutters_are_long_enough
from gantrywright.disciplines.travel.travel_checks import (
    blocks_stay_on,
    chains_have_room,
    grips_stay_on,
    long_enough,
    passes_under,
    placed_well,
    reaches_down_and_up,
    reaches_the_sides,
)

__all__ = [
    "blocks_stay_on", "bumper_fits", "chains_have_room", "cutters_are_long_enough", "drives_bear_a_stall", "grips_stay_on", "hands", "lies_over_the_table", "long_enough", "nothing_meets",
    "passes_under", "pieces_lie_in_reach", "placed_well", "reaches_down_and_up", "reaches_the_sides",
]  # fmt: skip
