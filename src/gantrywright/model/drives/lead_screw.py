"""Trapezoidal or Acme lead screw with a plain nut."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from gantrywright.base.units import (
    Metre,
    MetrePerTurn,
    Newton,
    NewtonMetre,
    Number,
    PascalMetrePerSecond,
    Real,
    SquareMetre,
)
from gantrywright.catalog import kinds
from gantrywright.model.drives.protocol import DriveParts, LoadLimit, SpeedLimit, Working
from gantrywright.model.drives.shaft import ScrewShaft, known
from gantrywright.theory import lead_accuracy, lead_screws, screws

KIND = "lead-screw"
PART = kinds.LeadScrew

FRICTION = 0.12
"""Friction coefficient of a greased bronze or polymer nut on steel (common practice, no source: 0.10 to 0.15)."""
DRAG = 0.03
"""Drag torque of seals and an adjusted nut, N m (common practice, no source: 0.01 to 0.08)."""
FLANK = np.radians(30.0)
"""Included flank angle of a trapezoidal thread (iso-2904)."""
LEAD_ERROR = 3e-4
"""Error of lead per length (common practice, no source: 1e-4 to 6e-4)."""
DUTY = 0.5
"""Part of a stated flank pressure that may be used all day (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class LeadScrewDrive(ScrewShaft):
    """A lead screw in its bearings."""

    screw: kinds.LeadScrew

    @property
    def kind(self) -> str:
        """Word of the machine file."""
        return KIND

    @property
    def pitch_diameter(self) -> Metre:
        """Diameter at half the depth of the thread."""
        return self._pitch_diameter().value

    @property
    def friction(self) -> Number:
        """Of screw in nut."""
        nut = self.parts.nut
        return FRICTION if nut is None or nut.friction is None else nut.friction

    @property
    def efficiency(self) -> Number:
        """Given, else of the thread's slope, flanks and friction."""
        return (
            self._thread("screw_efficiency", lead_screws.efficiency).value
            if self.parts.efficiency is None
            else self.parts.efficiency
        )

    @property
    def back_efficiency(self) -> Number:
        """While the load drives; 0 where the thread locks itself."""
        return self._backdriving().value

    @property
    def drag_torque(self) -> NewtonMetre:
        """Seals and an adjusted nut, end bearings."""
        return (DRAG if self.screw.drag is None else self.screw.drag) + self.bearing_drag

    def speed_limits(self) -> tuple[SpeedLimit, ...]:
        """Whirl; what the flanks bear at speed depends on the force too and is a check of its own."""
        return (self.whirl_limit(),)

    def load_limits(self) -> tuple[LoadLimit, ...]:
        """Buckling, end bearing, flank pressure of the nut."""
        nut, limits = self.parts.nut, self.shaft_loads()
        if nut is None or nut.pressure is None or nut.length is None:
            return limits
        force = DUTY * nut.pressure * self.flank_area * self.parts.remaining
        return (*limits, LoadLimit("flank pressure", force, "common practice, no source", "a longer nut or a larger screw"))

    @property
    def flank_area(self) -> SquareMetre:
        """Bearing area of the nut's flanks, m2; 0 where the nut's length is unknown."""
        nut = self.parts.nut
        length = 0.0 if nut is None or nut.length is None else nut.length
        return lead_screws.flank_area(pitch_diameter=self.pitch_diameter, nut_length=length)

    def pressure_speed(self, *, force: Newton, turning_speed: Real) -> PascalMetrePerSecond | None:
        """Flank pressure times sliding speed, Pa m/s; None where the nut's length is unknown."""
        nut = self.parts.nut
        if nut is None or nut.length is None:
            return None
        pressure = lead_screws.flank_pressure(force=np.abs(force), flank_area=self.flank_area)
        sliding = lead_screws.sliding_speed(
            pitch_diameter=self.pitch_diameter, lead_angle=self.lead_slope(self.pitch_diameter).value, turning_speed=turning_speed
        )
        return lead_screws.pressure_speed(pressure=pressure, sliding_speed=sliding)

    def life(self, *, mean_force: Newton) -> Metre | None:
        """None: a plain nut wears, no law gives its life."""
        return None

    def lead_error(self) -> Metre | None:
        """Stated rate, or the usual one, along the travel."""
        return self._lead_error().value

    def self_locking(self) -> Real:
        """1 where back-driving is impossible without shaking."""
        return np.where(np.asarray(self.back_efficiency) > 0, 0.0, 1.0)

    def workings(self) -> tuple[Working, ...]:
        """The figures behind its answers."""
        made = [
            *self.shaft_workings(),
            self._pitch_diameter(),
            self.lead_slope(self.pitch_diameter),
            self._backdriving(),
            self._lead_error(),
        ]
        if self.parts.efficiency is None:
            made.append(self._thread("screw_efficiency", lead_screws.efficiency))
        return tuple(made)

    @property
    def _pitch(self) -> MetrePerTurn:
        starts = 1 if self.screw.starts is None else self.screw.starts
        return known(self.screw.lead, "lead") / starts

    def _pitch_diameter(self) -> Working:
        inputs = {"diameter": self.of_part("diameter", self.diameter), "pitch": self.of_part("lead", self._pitch)}
        return Working("pitch_diameter", lead_screws.pitch_diameter, inputs)

    def _thread(self, name: str, function: Callable[..., Any]) -> Working:
        flank = FLANK if self.screw.flank is None else self.screw.flank
        return Working(name, function, {
            "lead": self.of_part("lead", known(self.screw.lead, "lead")),
            "pitch_diameter": (f"{self.parts.path}.pitch_diameter", self.pitch_diameter),
            "flank": self.of_part("flank", flank), "friction": self.of_drive("nut.friction", self.friction),
        })  # fmt: skip

    def _backdriving(self) -> Working:
        if self.parts.efficiency is not None:
            given = self.of_drive("efficiency", self.parts.efficiency)
            return Working("screw_back_efficiency", screws.backdriving_from_driving, {"efficiency": given})
        return self._thread("screw_back_efficiency", lead_screws.back_efficiency)

    def _lead_error(self) -> Working:
        rate = LEAD_ERROR if self.screw.lead_error is None else self.screw.lead_error
        return Working("lead_error_by_rate", lead_accuracy.proportional_error, {
            "error_per_length": self.of_part("lead_error", rate), "length": self.parts.travel_input,
        })  # fmt: skip


def make(parts: DriveParts) -> LeadScrewDrive:
    """A lead screw drive from its parts."""
    if not isinstance(parts.part, PART):
        raise TypeError(f"{parts.path}: a {KIND} drive is made from a {PART.kind} part")
    return LeadScrewDrive(parts, parts.part)
