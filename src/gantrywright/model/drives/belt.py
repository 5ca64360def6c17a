"""Toothed belt: a loop that carries the clamped carriage, or a fixed belt along which the motor rides."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from gantrywright.base.errors import OutOfRange
from gantrywright.base.units import KilogramSquareMetre, Metre, MetrePerTurn, Newton, NewtonMetre, NewtonPerMetre, Number, Real
from gantrywright.catalog import kinds
from gantrywright.model.drives.protocol import DriveParts, LoadLimit, SpeedLimit, Working
from gantrywright.model.drives.series import Link, Spring, in_a_row, torsional
from gantrywright.model.drives.shaft import known
from gantrywright.theory import belts, lead_accuracy, rotation, screw_stiffness, screws

KIND = "belt"
PART = kinds.Belt

EFFICIENCY = 0.96
"""Of a belt on two pulleys (common practice, no source: 0.94 to 0.98)."""
DRAG = 0.05
"""Drag torque of two pulleys in their bearings, N m (common practice, no source: 0.02 to 0.15)."""
TOP_SPEED = 10.0
"""Largest belt speed, m/s (common practice, no source: 5 to 20)."""
PITCH_ERROR = 3e-4
"""Error per length (common practice, no source: 1e-4 to 8e-4)."""
ALUMINIUM = 2700.0
"""Density of the pulleys, kg/m3."""
USUAL_WIDTH = 3.0
"""Width of a belt that does not say its own, over the pitch (common practice, no source)."""
PULLEYS = 2
"""Drive pulley and idler, taken as alike; a riding motor has two small idlers, taken together as one."""


@dataclass(frozen=True, slots=True)
class BeltDrive:
    """A belt on its pulleys."""

    parts: DriveParts
    belt: kinds.Belt
    pulley: kinds.Pulley

    @property
    def kind(self) -> str:
        """Word of the machine file."""
        return KIND

    @property
    def belt_moves(self) -> bool:
        """A loop; else the belt is still and the motor rides."""
        return self.parts.runs == "moving-belt"

    @property
    def travel_per_turn(self) -> MetrePerTurn:
        """Given or measured, else the pulley's pitch circle."""
        return self._travel().value if self.parts.travel_per_turn is None else self.parts.travel_per_turn

    @property
    def inertia(self) -> KilogramSquareMetre:
        """Of the pulleys, and of a loop that runs with them."""
        pulley = self._pulley_inertia().value if self.pulley.inertia is None else self.pulley.inertia
        loop = self._loop_inertia()
        return PULLEYS * pulley + (loop.value if loop else 0.0)

    @property
    def efficiency(self) -> Number:
        """Given, else usual."""
        return EFFICIENCY if self.parts.efficiency is None else self.parts.efficiency

    @property
    def back_efficiency(self) -> Number:
        """While the load drives."""
        return screws.backdriving_from_driving(efficiency=self.efficiency)

    @property
    def drag_torque(self) -> NewtonMetre:
        """Of the pulleys' bearings."""
        return DRAG

    @property
    def lost_motion(self) -> Metre | None:
        """None: play of teeth in grooves depends on both profiles and must be measured."""
        return None

    def springs(self) -> tuple[Spring, ...]:
        """Belt (both sides tight), coupling and bracket."""
        path, parts, coupling = self.parts.path, self.parts, self.parts.coupling
        sides = belts.loop_stiffness if self.belt_moves else belts.fixed_belt_stiffness
        inputs = {
            "specific_stiffness": self._of_part("stiffness", self.belt.stiffness),
            "span": (f"{path}.length", parts.free_length),
        }
        made = [Spring(path, "belt", f"{path}.part", inputs, sides, moves=True)]
        if coupling is not None and coupling.stiffness is not None:
            given = (f"{path}.coupling.stiffness", coupling.stiffness)
            made.append(torsional(path, "coupling", f"{path}.coupling", given, self.travel_per_turn))
        return (*made, Spring(path, "bracket", f"{path}.bracket", {"bracket": (f"{path}.bracket", parts.bracket)}))

    def series(self, distance: Metre) -> tuple[Link, ...]:
        """The springs as they are at a place."""
        return tuple(spring.at(distance) for spring in self.springs())

    def axial_stiffness(self, distance: Metre) -> NewtonPerMetre | None:
        """Of the whole row at a place; None where the belt's stiffness is unknown."""
        return in_a_row(self.series(distance), distance)

    @property
    def teeth_in_mesh(self) -> Number:
        """On the drive pulley, half wrapped."""
        return belts.teeth_in_mesh(teeth=known(self.pulley.teeth, "teeth"))

    def speed_limits(self) -> tuple[SpeedLimit, ...]:
        """Belt speed."""
        top = TOP_SPEED if self.belt.top_speed is None else self.belt.top_speed
        turning = top * 2 * np.pi / self.travel_per_turn
        return (SpeedLimit("belt speed", turning, "common practice, no source", "a belt made for a higher speed"),)

    def load_limits(self) -> tuple[LoadLimit, ...]:
        """Tight side at its allowed tension; slack side at none."""
        pretension = self.parts.pretension
        if pretension is None:
            return ()
        limits = [LoadLimit("slack side", pretension, "belt-maker-tables", "more pretension")]
        tight = self._tension()
        if tight is not None:
            limits.append(LoadLimit("belt tension", tight.value * self.parts.remaining, "belt-maker-tables", "a wider belt"))
        return tuple(limits)

    def life(self, *, mean_force: Newton) -> Metre | None:
        """None: no law gives the life of a belt."""
        return None

    def lead_error(self) -> Metre | None:
        """Stated or usual pitch error along the travel."""
        return self._lead_error().value

    def growth(self, warming: Real) -> Metre:
        """Growth of the steel cords over the travel."""
        return screw_stiffness.growth(expansion=self.parts.expansion, length=self.parts.travel, warming=warming)

    def self_locking(self) -> Real:
        """0: it can always be driven back."""
        return 0.0

    def workings(self) -> tuple[Working, ...]:
        """The figures behind its answers."""
        optional = (
            self._loop_inertia(), self._tension(), self._note(), self._pulley_inertia() if self.pulley.inertia is None else None
        )  # fmt: skip
        return (self._travel(), self._mesh(), self._lead_error(), *(working for working in optional if working))

    def _of_part(self, field: str, value: Any) -> tuple[str, Any]:
        return f"{self.parts.path}.part.{field}", value

    def _of_pulley(self, field: str, value: Any) -> tuple[str, Any]:
        return f"{self.parts.path}.pulley.{field}", value

    def _travel(self) -> Working:
        return Working("pitch_circle", belts.travel_per_turn, {
            "pitch": self._of_pulley("pitch", known(self.pulley.pitch, "pitch")),
            "teeth": self._of_pulley("teeth", known(self.pulley.teeth, "teeth")),
        })  # fmt: skip

    def _mesh(self) -> Working:
        return Working("teeth_in_mesh", belts.teeth_in_mesh, {"teeth": self._of_pulley("teeth", known(self.pulley.teeth, "teeth"))})

    def _pulley_inertia(self) -> Working:
        width = self.pulley.width if self.pulley.width is not None else self.belt.width
        width = USUAL_WIDTH * known(self.pulley.pitch, "pitch") if width is None else width
        return Working("pulley_inertia", rotation.cylinder_inertia, {
            "diameter": (f"{self.parts.path}.pitch_circle", self._travel().value / np.pi),
            "length": self._of_pulley("width", width), "density": ("", ALUMINIUM, "of aluminium; common practice, no source"),
        })  # fmt: skip

    def _loop_inertia(self) -> Working | None:
        if not self.belt_moves or self.belt.mass_per_length is None:
            return None
        return Working("loop_inertia", rotation.inertia_of_mass, {
            "mass": (
                f"{self.parts.path}.part.mass_per_length", 2 * self.parts.free_length * self.belt.mass_per_length, "that times twice the length",
            ),
            "travel_per_turn": (f"{self.parts.path}.pitch_circle", self.travel_per_turn),
        })  # fmt: skip

    def _tension(self) -> Working | None:
        if self.belt.allowed is None or self.parts.pretension is None:
            return None
        return Working("tension_limit", belts.tension_limit, {
            "allowed": self._of_part("allowed", self.belt.allowed),
            "pretension": (f"{self.parts.path}.pretension", self.parts.pretension),
        })  # fmt: skip

    def _note(self) -> Working | None:
        if self.belt.mass_per_length is None or self.parts.pretension is None:
            return None
        return Working("span_frequency", belts.span_frequency, {
            "tension": (f"{self.parts.path}.pretension", self.parts.pretension),
            "mass_per_length": self._of_part("mass_per_length", self.belt.mass_per_length), "span": (f"{self.parts.path}.length", self.parts.free_length),
        })  # fmt: skip

    def _lead_error(self) -> Working:
        rate = PITCH_ERROR if self.belt.pitch_error is None else self.belt.pitch_error
        inputs = {"error_per_length": self._of_part("pitch_error", rate), "length": self.parts.travel_input}
        return Working("lead_error_by_rate", lead_accuracy.proportional_error, inputs)


def make(parts: DriveParts) -> BeltDrive:
    """A belt drive from its parts."""
    if not isinstance(parts.part, PART):
        raise TypeError(f"{parts.path}: a {KIND} drive is made from a {PART.kind} part")
    if parts.pulley is None:
        raise OutOfRange("pulley", "nothing", "", "a pulley", "a belt drive cannot be made without it")
    return BeltDrive(parts, parts.part, parts.pulley)
