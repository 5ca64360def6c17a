"""Ball screw: a turning screw, or a still screw on which the nut turns."""

from dataclasses import dataclass

import numpy as np

from gantrywright.base.units import Metre, Newton, NewtonMetre, NewtonPerMetre, Number, Real
from gantrywright.base.values import Rating
from gantrywright.catalog import kinds
from gantrywright.model.drives.defaults import usual_stiffness
from gantrywright.model.drives.protocol import DriveParts, LoadLimit, SpeedLimit, Working
from gantrywright.model.drives.shaft import STATIC_SAFETY, ScrewShaft
from gantrywright.theory import lead_accuracy, screw_life, screw_strength, screws

KIND = "ball-screw"
PART = kinds.BallScrew

FRICTION = 0.01
"""Effective friction coefficient of a rolling thread (common practice, no source: 0.005 to 0.015)."""
DRAG = 0.03
"""Drag torque of nut and seals, N m (common practice, no source: 0.01 to 0.06)."""
SPEED_VALUE = 70_000.0
"""Largest diameter times speed, mm/min (common practice, no source: 50 000 to 100 000)."""
PLAY_SOFTENS = 0.5
"""Stiffness of a nut with play over that of a preloaded one (common practice, no source: 0.4 to 0.6)."""


@dataclass(frozen=True, slots=True)
class BallScrewDrive(ScrewShaft):
    """A ball screw in its bearings."""

    screw: kinds.BallScrew

    @property
    def kind(self) -> str:
        """Word of the machine file."""
        return KIND

    @property
    def efficiency(self) -> Number:
        """Given, else of the thread's slope and friction."""
        return self._driving().value if self.parts.efficiency is None else self.parts.efficiency

    @property
    def back_efficiency(self) -> Number:
        """While the load drives."""
        return self._backdriving().value

    @property
    def drag_torque(self) -> NewtonMetre:
        """Nut and seals, the nut's preload where it is stated, end bearings."""
        drag = DRAG if self.screw.drag is None else self.screw.drag
        preload = self._preload()
        return drag + self.bearing_drag + (preload.value if preload else 0.0)

    @property
    def usual_nut_stiffness(self) -> NewtonPerMetre:
        """By size; a nut with play is about half as stiff once the play is taken up."""
        usual = usual_stiffness("ball_nut", self.diameter)
        nut = self.parts.nut
        play = 0.0 if nut is None or nut.backlash is None else nut.backlash
        return usual * np.where(np.asarray(play) > 0, PLAY_SOFTENS, 1.0)

    def speed_limits(self) -> tuple[SpeedLimit, ...]:
        """Whirl and speed value."""
        limit = SpeedLimit(
            "speed value", self._speed_value().value, "ball-screw-practice",
            "a longer lead, or a nut whose ball return is made for speed",
        )  # fmt: skip
        return self.whirl_limit(), limit

    def load_limits(self) -> tuple[LoadLimit, ...]:
        """Buckling, static ratings."""
        limits = self.shaft_loads()
        if self.screw.static is None:
            return limits
        force = self.screw.static.force * self.parts.remaining / STATIC_SAFETY
        return (*limits, LoadLimit("nut, static", force, "common practice, no source", "a larger screw"))

    def life(self, *, mean_force: Newton) -> Metre | None:
        """Travel that nine of ten nuts survive."""
        rating = self._rating()
        if rating is None:
            return None
        capacity, force = rating.force * self.parts.remaining, np.abs(mean_force)
        nut = self.parts.nut
        if nut is None or nut.preload is None:
            units = screw_life.life_turns(dynamic_rating=capacity, mean_force=force)
        else:
            units = screw_life.preloaded_life_turns(dynamic_rating=capacity, preload=nut.preload, force=force)
        if rating.basis == "distance":
            return units * rating.reference
        return units * rating.reference * self.travel_per_turn

    def lead_error(self) -> Metre | None:
        """By grade: a P grade keeps its mean travel, others add up their error on 300 mm."""
        held = lead_accuracy.mean_travel_tolerance(self.screw.grade, self.parts.travel)
        if held is not None:
            return held
        working = self._lead_error()
        return working.value if working else None

    def self_locking(self) -> Real:
        """1 where back-driving is impossible."""
        return np.where(np.asarray(self.back_efficiency) > 0, 0.0, 1.0)

    def workings(self) -> tuple[Working, ...]:
        """The figures behind its answers."""
        made = [*self.shaft_workings(), self.lead_slope(self.diameter), self._backdriving(), self._speed_value()]
        if self.parts.efficiency is None:
            made.append(self._driving())
        made.extend(working for working in (self._preload(), self._lead_error()) if working)
        return tuple(made)

    def _rating(self) -> Rating | None:
        nut = self.parts.nut
        return nut.dynamic if nut is not None and nut.dynamic is not None else self.screw.dynamic

    def _friction(self) -> tuple[str, Number, str]:
        nut = self.parts.nut
        if nut is not None and nut.friction is not None:
            return self.of_drive("nut.friction", nut.friction)
        return self.of_part("friction", FRICTION if self.screw.friction is None else self.screw.friction)

    def _driving(self) -> Working:
        slope = (f"{self.parts.path}.lead_angle", self.lead_slope(self.diameter).value)
        return Working("screw_efficiency", screws.driving_efficiency, {"lead_angle": slope, "friction": self._friction()})

    def _backdriving(self) -> Working:
        if self.parts.efficiency is not None:
            given = self.of_drive("efficiency", self.parts.efficiency)
            return Working("screw_back_efficiency", screws.backdriving_from_driving, {"efficiency": given})
        slope = (f"{self.parts.path}.lead_angle", self.lead_slope(self.diameter).value)
        return Working("screw_back_efficiency", screws.backdriving_efficiency, {"lead_angle": slope, "friction": self._friction()})

    def _preload(self) -> Working | None:
        nut = self.parts.nut
        if nut is None or nut.preload is None:
            return None
        return Working("preload_torque", screws.preload_torque, {
            "preload": self.of_drive("nut.preload", nut.preload), "lead": self._lead,
            "lead_angle": (f"{self.parts.path}.lead_angle", self.lead_slope(self.diameter).value),
        })  # fmt: skip

    def _speed_value(self) -> Working:
        value = SPEED_VALUE if self.screw.speed_value is None else self.screw.speed_value
        return Working("speed_value_limit", screw_strength.speed_value_limit, {
            "speed_value": self.of_part("speed_value", value), "diameter": self.of_part("diameter", self.diameter),
        })  # fmt: skip

    def _lead_error(self) -> Working | None:
        rate = lead_accuracy.variation_300(self.screw.grade)
        if rate is None:
            return None
        return Working("lead_error_by_rate", lead_accuracy.accumulated_error, {
            "variation_300": self.of_part("grade", rate, "on 300 mm by the grade"), "length": self.parts.travel_input,
        })  # fmt: skip


def make(parts: DriveParts) -> BallScrewDrive:
    """A ball screw drive from its parts."""
    if not isinstance(parts.part, PART):
        raise TypeError(f"{parts.path}: a {KIND} drive is made from a {PART.kind} part")
    return BallScrewDrive(parts, parts.part)
