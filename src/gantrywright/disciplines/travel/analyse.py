"""How far everything goes, what meets what, what stops it."""

from typing import Any

from gantrywright.disciplines.travel.distance import least_room, travel_by_rails, travel_by_screw
from gantrywright.disciplines.travel.meeting import daylight, meetings
from gantrywright.disciplines.travel.stopping import stopping
from gantrywright.model.axis import Axis
from gantrywright.model.machine import Machine
from gantrywright.results.drives import DriveResult
from gantrywright.results.ledger import Ledger, Named
from gantrywright.results.masses import MassResult
from gantrywright.results.motion import MotionResult
from gantrywright.results.travel import AxisTravel, TravelResult

SIDES = (("left", "right"), ("front", "back"), ("bottom", "top"))
"""Of the work area along x, y and z: where the coordinate is least, where it is greatest."""


def analyse(machine: Machine, masses: MassResult, drives: DriveResult, motion: MotionResult, ledger: Ledger) -> TravelResult:
    """Travels, reach, clashes, stops.

    Args:
        machine: Typical or sampled.
        masses: Of what each axis moves.
        drives: Inertias and load limits.
        motion: Promised speeds and stall thrusts.
        ledger: Where figures are written down.
    """
    axes = {axis.name: _axis(axis, masses, drives, motion, ledger) for axis in machine.axes}
    under = daylight(machine)
    if under is not None:
        ledger.note("daylight", under[0], unit="m", formula="lowest face of what passes over the table, table taken as 0",
                    source="definition", title="Room under the gantry", lowest=Named("", under[1], note="with its lowest face"))  # fmt: skip
    for letter, least, most in zip("xyz", machine.reach.least, machine.reach.most, strict=True):
        ledger.note(f"reach.{letter}", most - least, unit="m", formula="tip against the work, over all poses", source="definition",
                    title=f"Reach along {letter}",
                    least=Named("", least, "m", "of the tip, work area from 0"), most=Named("", most, "m", "of the tip"))  # fmt: skip
    return TravelResult(
        axes=axes, daylight=None if under is None else under[0], z_reach_low=machine.reach.least[2], z_reach_high=machine.reach.most[2],
        meetings=meetings(machine), short=_short(machine),
    )  # fmt: skip


def _axis(axis: Axis, masses: MassResult, drives: DriveResult, motion: MotionResult, ledger: Ledger) -> AxisTravel:
    least_room(axis, ledger)
    rails = travel_by_rails(axis, ledger)
    screw, screw_path, _ = travel_by_screw(axis, ledger)
    known = {name: value for name, value in (("rails", rails), (screw_path, screw)) if value is not None}
    binds = min(known, key=lambda name: known[name]) if known else ""
    gives = known.get(binds)
    if gives is not None:
        rooms = {"rails": f"{axis.path}.travel_by_rails"}
        inputs: dict[str, Any] = {name: ledger.named(rooms.get(name, f"{name}.travel")) for name in known}
        ledger.note(f"{axis.path}.travel_possible", gives, unit="m", formula="least of what rails and screws allow", source="definition",
                    title="Travel that the metal gives", **inputs)  # fmt: skip
    stop = stopping(axis, masses.axes[axis.name], drives.of_axis(axis.name), motion.axes.get(axis.name), ledger)
    return AxisTravel(
        axis=axis.name, wanted=axis.travel, by_rails=rails, by_screw=screw, gives=gives, binds=binds, stop_energy=stop.energy,
        stop_force=stop.force, bumper_stroke=stop.stroke, weakest=stop.weakest, weakest_force=stop.weakest_force,
        bumper_force=stop.bumper_force,
    )  # fmt: skip


def _short(machine: Machine) -> tuple[tuple[str, float], ...]:
    """Sides of the work area that the tip does not reach, and by how much, m."""
    found = []
    for i, (low, high) in enumerate(SIDES):
        found.append((low, machine.reach.least[i] - machine.table.least[i]))
        found.append((high, machine.table.most[i] - machine.reach.most[i]))
    return tuple((side, gap) for side, gap in found if gap > 1e-9)
