"""What all screws share: a slender shaft between bearings, whether balls or plain flanks run on it."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from gantrywright.base.errors import OutOfRange
from gantrywright.base.units import (
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
from gantrywright.model.drives.series import Given, Link, Spring, in_a_row, torsional
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

    @property
    def nut_stiffness(self) -> NewtonPerMetre:
        """As stated, else usual for the size."""
        nut = self.parts.nut
        return self.usual_nut_stiffness if nut is None or nut.stiffness is None else nut.stiffness

    @property
    def usual_nut_stiffness(self) -> NewtonPerMetre:
        """Of a nut that does not say its own."""
        return usual_stiffness("plain_nut", self.diameter)

    def springs(self) -> tuple[Spring, ...]:
        """Bearing, shaft, twist, coupling, nut and bracket."""
        path, parts = self.parts.path, self.parts
        made = [self._shaft_spring()]
        if self.screw_turns or parts.bearing is not None:
            made.append(self._bearing_spring())
        if self.screw_turns:
            made.append(Spring(path, "wind_up", f"{path}.part", {
                "root_diameter": self.of_part("root", self.root), "shear_modulus": ("", parts.shear_modulus, STEEL), "lead": self._lead,
            }, screw_stiffness.wind_up_stiffness, moves=True))  # fmt: skip
        coupling = parts.coupling
        if coupling is not None and coupling.stiffness is not None:
            given = self.of_drive("coupling.stiffness", coupling.stiffness)
            made.append(torsional(path, "coupling", f"{path}.coupling", given, self.travel_per_turn))
        nut = parts.nut
        stated = nut is not None and nut.stiffness is not None
        made.append(Spring(path, "nut", f"{path}.nut", {
            "nut": self.of_drive("nut.stiffness", self.nut_stiffness) if stated else ("", self.nut_stiffness, "usual for the size; common practice, no source"),
        }))  # fmt: skip
        return (*made, Spring(path, "bracket", f"{path}.bracket", {"bracket": self.of_drive("bracket", parts.bracket)}))

    def series(self, distance: Metre) -> tuple[Link, ...]:
        """The springs as they are at a place."""
        return tuple(spring.at(distance) for spring in self.springs())

    def axial_stiffness(self, distance: Metre) -> NewtonPerMetre | None:
        """Of the whole row at a place; None where the end bearing of a turning screw is unknown."""
        return in_a_row(self.series(distance), distance)

    @property
    def _both_ends(self) -> dict[str, Given]:
        """Inputs of a shaft that both its ends may hold; a still screw is clamped in blocks, which are part of the bracket."""
        held = self.of_drive("ends", self.parts.far_end_held, "1 where the far end takes axial load as well")
        still = ("", np.inf, "clamped; the seats are part of the bracket")
        return {
            "root_diameter": self.of_part("root", self.root), "elastic_modulus": self._modulus, "free_length": self._length,
            "bearing_stiffness": self._bearing if self.screw_turns else still, "far_end_held": held,
        }  # fmt: skip

    @property
    def _bearing(self) -> Given:
        bearing = self.parts.bearing
        if bearing is None or bearing.stiffness is not None:
            return self.of_drive("bearing.stiffness", self.bearing_stiffness)
        return self.of_drive("bearing.bore", self.bearing_stiffness, "usual for the bore; common practice, no source")

    def _shaft_spring(self) -> Spring:
        path = self.parts.path
        if np.any(np.asarray(self.parts.far_end_held) > 0.5):
            return Spring(path, "shaft", f"{path}.part", self._both_ends, screw_stiffness.held_shaft_stiffness, moves=True)
        inputs = {"root_diameter": self.of_part("root", self.root), "elastic_modulus": self._modulus}
        return Spring(path, "shaft", f"{path}.part", inputs, screw_stiffness.shaft_stiffness, moves=True)

    def _bearing_spring(self) -> Spring:
        """Of the end or ends of a turning screw; of the nut where that turns."""
        path = self.parts.path
        if self.screw_turns and np.any(np.asarray(self.parts.far_end_held) > 0.5):
            return Spring(path, "bearing", f"{path}.bearing", self._both_ends, screw_stiffness.held_bearing_stiffness, moves=True)
        return Spring(path, "bearing", f"{path}.bearing", {"bearing": self._bearing})

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
        made = [self.whirl(), self.buckling(), self.buckling_warming()]
        if self.screw_turns:
            made.append(self._shaft_inertia())
        elif self.parts.nut is None or self.parts.nut.inertia is None:
            made.append(self._nut_inertia())
        return tuple(made)

    def lead_slope(self, diameter: Metre) -> Working:
        """Lead angle on a diameter; of the thread, not of a measured travel per turn."""
        lead = self.of_part("lead", known(self.screw.lead, "lead"))
        given = self.of_part("diameter", diameter) if diameter is self.diameter else self.of_drive("pitch_diameter", diameter)
        return Working("lead_angle", screws.lead_angle, {"lead": lead, "diameter": given})
