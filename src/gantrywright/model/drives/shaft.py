"""What all screws share: a slender shaft between bearings, whether balls or plain flanks run on it."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from gantrywright.base.errors import OutOfRange
from gantrywright.base.units import (
    Array,
    KilogramSquareMetre,
    Metre,
    MetrePerTurn,
    NewtonMetre,
    NewtonPerMetre,
    Real,
)
from gantrywright.catalog import kinds
from gantrywright.model.drives.defaults import usual_stiffness
from gantrywright.model.drives.protocol import DriveParts, LoadLimit, SpeedLimit, Working
from gantrywright.theory import rotation, screw_stiffness, screw_strength, screws

SCREW_YIELD = 400e6
"""Yield strength of the core of a screw, Pa (common practice, no source)."""
STATIC_SAFETY = 2.0
"""Part of a static rating that milling shocks leave: one over this (common practice, no source)."""
SEALED_DRAG = 0.02
"""Drag torque of a pair of end bearings that do not say their own, N m (common practice, no source)."""
MASS_DIAMETER = 0.9
"""Diameter of the plain bar that weighs like a threaded one, over the nominal size (common practice, no source)."""
NUT_OUTER, NUT_LENGTH = 2.2, 2.5
"""Outer diameter and length of a nut that turns, over the nominal size of its screw (common practice, no source)."""
STEEL = "of screw steel; common practice, no source"
THICKER = "a thicker screw, a shorter span, better held ends"


def known(value: Real | None, what: str) -> Real:
    """A value that the tables refuse to leave out; raises `OutOfRange` for a record made without it."""
    if value is None:
        raise OutOfRange(what, "nothing", "", "a number", "a drive cannot be made without it")
    return value


def over(places: Real) -> Callable[[Real], Array]:
    """Makes values with samples ready to meet an axis of places: a trailing axis where both are arrays."""

    def widened(value: Real) -> Array:
        array = np.asarray(value, dtype=float)
        return array[..., None] if np.ndim(places) and array.ndim else array

    return widened


@dataclass(frozen=True, slots=True)
class ScrewShaft:
    """The shaft of a screw drive."""

    parts: DriveParts
    screw: kinds.BallScrew | kinds.LeadScrew

    @property
    def diameter(self) -> Metre:
        """Nominal."""
        return known(self.screw.diameter, "diameter")

    @property
    def root(self) -> Metre:
        """Thread root."""
        return known(self.screw.root, "root")

    @property
    def travel_per_turn(self) -> MetrePerTurn:
        """Given or measured, else the lead."""
        given = self.parts.travel_per_turn
        return known(self.screw.lead, "lead") if given is None else given

    @property
    def screw_turns(self) -> bool:
        """Whether the shaft turns; else the nut does."""
        return self.parts.turns == "screw"

    @property
    def inertia(self) -> KilogramSquareMetre:
        """Of the shaft, or of the nut where that turns."""
        if self.screw_turns:
            return self._shaft_inertia().value
        nut = self.parts.nut
        if nut is not None and nut.inertia is not None:
            return nut.inertia
        return self._nut_inertia().value

    @property
    def bearing_drag(self) -> NewtonMetre:
        """Drag of the end bearings (of the nut's where that turns)."""
        bearing = self.parts.bearing
        return SEALED_DRAG if bearing is None or bearing.drag is None else bearing.drag

    @property
    def lost_motion(self) -> Metre | None:
        """Play of the nut; none in a preloaded one."""
        nut = self.parts.nut
        if nut is None:
            return None
        if nut.backlash is not None:
            return nut.backlash
        return None if nut.preload is None else 0.0

    def of_part(self, field: str, value: Any, note: str = "") -> tuple[str, Any, str]:
        """A field of the long piece as an input of a working."""
        return f"{self.parts.path}.part.{field}", value, note

    def of_drive(self, field: str, value: Any, note: str = "") -> tuple[str, Any, str]:
        """A key of the drive itself as an input of a working."""
        return f"{self.parts.path}.{field}", value, note

    @property
    def _length(self) -> tuple[str, Any, str]:
        return self.of_drive("length", self.parts.free_length)

    @property
    def _lead(self) -> tuple[str, Any, str]:
        """Travel per turn: measured or given on the drive, else the lead of the row."""
        field = "part.lead" if self.parts.travel_per_turn is None else "travel_per_turn"
        return self.of_drive(field, self.travel_per_turn)

    @property
    def _farthest(self) -> tuple[str, Any, str]:
        return "", self.parts.farthest, "from the motor end to the nut where the travel takes it farthest"

    @property
    def _modulus(self) -> tuple[str, Any, str]:
        return "", self.parts.elastic_modulus, STEEL

    @property
    def _density(self) -> tuple[str, Any, str]:
        return "", self.parts.density, STEEL

    def _shaft_inertia(self) -> Working:
        return Working("shaft_inertia", rotation.cylinder_inertia, {
            "diameter": self.of_part("diameter", MASS_DIAMETER * self.diameter, f"{MASS_DIAMETER} of it: a plain bar of the same weight"),
            "length": self._length, "density": self._density,
        })  # fmt: skip

    def _nut_inertia(self) -> Working:
        nut = self.parts.nut
        usual = "of a usual nut for the size; common practice, no source"
        outer = (
            ("", NUT_OUTER * self.diameter, usual) if nut is None or nut.outer is None else self.of_drive("nut.outer", nut.outer)
        )
        length = (
            ("", NUT_LENGTH * self.diameter, usual)
            if nut is None or nut.length is None
            else self.of_drive("nut.length", nut.length)
        )
        return Working("nut_inertia", rotation.cylinder_inertia, {
            "diameter": outer, "length": length,
            "density": self._density, "bore": self.of_part("diameter", self.diameter),
        })  # fmt: skip

    def whirl(self) -> Working:
        """First whirl speed."""
        return Working("whirl_speed", screw_strength.whirl_speed, {
            "root_diameter": self.of_part("root", self.root), "free_length": self._length,
            "whirl_root": self.of_drive("ends", self.parts.whirl_root, "lambda^2 of that fixity"), "elastic_modulus": self._modulus, "density": self._density,
        })  # fmt: skip

    def buckling(self) -> Working:
        """Load at which the length between fixed bearing and farthest nut gives way."""
        return Working("buckling_load", screw_strength.buckling_load, {
            "root_diameter": self.of_part("root", self.root), "column_length": self._farthest,
            "buckling_factor": self.of_drive("ends", self.parts.buckling_factor, "factor of that fixity"), "elastic_modulus": self._modulus,
            "yield_strength": ("", SCREW_YIELD, "of the core of a screw; common practice, no source"),
        })  # fmt: skip

    def buckling_warming(self) -> Working:
        """Warming over the frame at which a shaft held rigidly at both ends bows out."""
        return Working("buckling_warming", screw_strength.buckling_warming, {
            "root_diameter": self.of_part("root", self.root), "free_length": self._length,
            "buckling_factor": self.of_drive("ends", self.parts.buckling_factor, "factor of that fixity"), "expansion": ("", self.parts.expansion, STEEL),
        })  # fmt: skip

    def whirl_limit(self) -> SpeedLimit:
        """0.8 of the whirl speed; only a caution where the screw stands still and its nut turns."""
        limit = screw_strength.whirl_limit(whirl_speed=self.whirl().value)
        return SpeedLimit("whirl", limit, "blevins-1979", f"{THICKER}, a longer lead, or a turning nut", hard=self.screw_turns)

    def shaft_loads(self) -> tuple[LoadLimit, ...]:
        """Buckling and the static rating of the end bearing."""
        limits = [LoadLimit("buckling", screw_strength.buckling_limit(buckling_load=self.buckling().value), "shigley", THICKER)]
        bearing = self.parts.bearing
        if bearing is not None and bearing.static is not None:
            limits.append(LoadLimit("end bearing, static", bearing.static.force / STATIC_SAFETY, "common practice, no source",
                                    "a larger fixed bearing, or bearings that share the load at both ends"))  # fmt: skip
        return tuple(limits)

    def chain_stiffness(self, distance: Real, nut: NewtonPerMetre) -> NewtonPerMetre | None:
        """Bearing, shaft, twist, coupling, nut and bracket in series at a place.

        Args:
            distance: Of the nut from the motor end, m; a float or an array of places (last axis).
            nut: Stiffness of the nut.
        """
        parts = self.parts
        bearing = self.bearing_stiffness
        if bearing is None:
            return None
        wide = over(distance)
        root, modulus = wide(self.root), wide(parts.elastic_modulus)
        compliance = 1 / wide(nut) + 1 / wide(parts.bracket)
        one_end = 1 / wide(bearing) + 1 / screw_stiffness.shaft_stiffness(
            root_diameter=root, elastic_modulus=modulus, distance=distance
        )
        both_ends = 1 / screw_stiffness.both_ends_stiffness(
            root_diameter=root, elastic_modulus=modulus, distance=distance, free_length=parts.free_length,
            near_bearing=wide(bearing), far_bearing=wide(bearing),
        )  # fmt: skip
        compliance = compliance + np.where(wide(parts.far_end_held) > 0.5, both_ends, one_end)
        if self.screw_turns:
            compliance = compliance + 1 / screw_stiffness.wind_up_stiffness(
                root_diameter=root, shear_modulus=wide(parts.shear_modulus), distance=distance, lead=wide(self.travel_per_turn)
            )
        if parts.coupling is not None and parts.coupling.stiffness is not None:
            compliance = compliance + 1 / screw_stiffness.axial_from_torsional(
                torsional_stiffness=wide(parts.coupling.stiffness), lead=wide(self.travel_per_turn)
            )
        return 1 / compliance

    @property
    def bearing_stiffness(self) -> NewtonPerMetre | None:
        """Of the axial bearing; None where neither it nor its bore is known."""
        bearing = self.parts.bearing
        if bearing is None:
            return None
        if bearing.stiffness is not None:
            return bearing.stiffness
        return None if bearing.bore is None else usual_stiffness("fixed_bearing", bearing.bore)

    def growth(self, warming: Real) -> Metre:
        """Growth over the travel when it warms freely by so many kelvin."""
        return screw_stiffness.growth(expansion=self.parts.expansion, length=self.parts.travel, warming=warming)

    def shaft_workings(self) -> tuple[Working, ...]:
        """Figures of the shaft."""
        root, modulus, far, lead = self.of_part("root", self.root), self._modulus, self._farthest, self._lead
        made = [self.whirl(), self.buckling(), self.buckling_warming(), Working(
            "shaft_stiffness_farthest", screw_stiffness.shaft_stiffness,
            {"root_diameter": root, "elastic_modulus": modulus, "distance": far},
        )]  # fmt: skip
        if self.screw_turns:
            made += [self._shaft_inertia(), Working("wind_up_stiffness_farthest", screw_stiffness.wind_up_stiffness, {
                "root_diameter": root, "shear_modulus": ("", self.parts.shear_modulus, STEEL), "distance": far, "lead": lead,
            })]  # fmt: skip
        elif self.parts.nut is None or self.parts.nut.inertia is None:
            made.append(self._nut_inertia())
        coupling = self.parts.coupling
        if coupling is not None and coupling.stiffness is not None:
            stiffness = self.of_drive("coupling.stiffness", coupling.stiffness)
            made.append(Working("coupling_stiffness", screw_stiffness.axial_from_torsional,
                                {"torsional_stiffness": stiffness, "lead": lead}))  # fmt: skip
        return tuple(made)

    def lead_slope(self, diameter: Metre) -> Working:
        """Lead angle on a diameter; of the thread, not of a measured travel per turn."""
        lead = self.of_part("lead", known(self.screw.lead, "lead"))
        given = self.of_part("diameter", diameter) if diameter is self.diameter else self.of_drive("pitch_diameter", diameter)
        return Working("lead_angle", screws.lead_angle, {"lead": lead, "diameter": given})
