"""Rack and pinion."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from gantrywright.base.errors import OutOfRange
from gantrywright.base.units import KilogramSquareMetre, Metre, MetrePerTurn, Newton, NewtonMetre, NewtonPerMetre, Number, Real
from gantrywright.catalog import kinds
from gantrywright.model.drives.protocol import DriveParts, LoadLimit, SpeedLimit, Working
from gantrywright.model.drives.series import Link, Spring, in_a_row, torsional
from gantrywright.model.drives.shaft import known
from gantrywright.theory import lead_accuracy, racks, rotation, screw_stiffness, screws

KIND = "rack"
PART = kinds.Rack

EFFICIENCY = 0.965
"""Of a greased open mesh (common practice, no source: 0.95 to 0.98)."""
DRAG = 0.02
"""Drag torque of the pinion's bearings, N m (common practice, no source: 0.01 to 0.05)."""
STRENGTH = 150e6
"""Allowed tooth root stress, Pa (common practice, no source: 100 to 250 MPa)."""
OPENING = 5e-5
"""Centre-distance opening that a builder leaves, m (common practice, no source: 0.02 to 0.15 mm)."""
PITCH_ERROR = 1e-4
"""Error per length (common practice, no source: 4e-5 to 2e-4)."""


@dataclass(frozen=True, slots=True)
class RackDrive:
    """A pinion on its rack."""

    parts: DriveParts
    rack: kinds.Rack
    pinion: kinds.Pinion

    @property
    def kind(self) -> str:
        """Word of the machine file."""
        return KIND

    @property
    def travel_per_turn(self) -> MetrePerTurn:
        """Given or measured, else the pinion's pitch circle."""
        return self._travel().value if self.parts.travel_per_turn is None else self.parts.travel_per_turn

    @property
    def inertia(self) -> KilogramSquareMetre:
        """Of the pinion."""
        return self._inertia().value if self.pinion.inertia is None else self.pinion.inertia

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
        """Of the pinion's bearings."""
        return DRAG

    @property
    def lost_motion(self) -> Metre | None:
        """Play from the opening; none where a spring holds the pinion in."""
        return 0.0 if self.pinion.preload is not None else self._backlash().value

    def springs(self) -> tuple[Spring, ...]:
        """Mesh, coupling and bracket."""
        path, parts, coupling = self.parts.path, self.parts, self.parts.coupling
        made = [Spring(path, "mesh", f"{path}.part", {"width": (f"{path}.part.width", self.width, "the narrower of rack and pinion")},
                       racks.mesh_stiffness)]  # fmt: skip
        if coupling is not None and coupling.stiffness is not None:
            given = (f"{path}.coupling.stiffness", coupling.stiffness)
            made.append(torsional(path, "coupling", f"{path}.coupling", given, self.travel_per_turn))
        return (*made, Spring(path, "bracket", f"{path}.bracket", {"bracket": (f"{path}.bracket", parts.bracket)}))

    def series(self, distance: Metre) -> tuple[Link, ...]:
        """The springs at a place; the same everywhere."""
        return tuple(spring.at(distance) for spring in self.springs())

    def axial_stiffness(self, distance: Metre) -> NewtonPerMetre | None:
        """Of the whole row at a place; None where the face width is unknown."""
        return in_a_row(self.series(distance), distance)

    @property
    def width(self) -> Metre | None:
        """The narrower face."""
        if self.rack.width is None or self.pinion.width is None:
            return self.rack.width if self.pinion.width is None else self.pinion.width
        return np.minimum(self.rack.width, self.pinion.width)

    def speed_limits(self) -> tuple[SpeedLimit, ...]:
        """None of its own at the speeds of such machines."""
        return ()

    def load_limits(self) -> tuple[LoadLimit, ...]:
        """Tooth root; the spring that holds the pinion in."""
        limits = []
        tooth = self._tooth()
        if tooth is not None:
            limits.append(LoadLimit("tooth root", tooth.value * self.parts.remaining, "shigley", "a larger module or a wider rack"))
        if self.pinion.preload is not None:
            force = self.pinion.preload / np.tan(racks.transverse_pressure_angle(helix=self._helix))
            limits.append(LoadLimit("pinion spring", force, "derived", "a stronger spring, or a pinion that is clamped in place"))
        return tuple(limits)

    def life(self, *, mean_force: Newton) -> Metre | None:
        """None: open teeth wear, no law gives their life."""
        return None

    def lead_error(self) -> Metre | None:
        """Stated or usual pitch error along the travel."""
        return self._lead_error().value

    def growth(self, warming: Real) -> Metre:
        """Growth of the rack over the travel."""
        return screw_stiffness.growth(expansion=self.parts.expansion, length=self.parts.travel, warming=warming)

    def self_locking(self) -> Real:
        """0: it can always be driven back."""
        return 0.0

    def workings(self) -> tuple[Working, ...]:
        """The figures behind its answers."""
        made = [self._travel(), self._backlash(), self._lead_error()]
        if self.pinion.inertia is None:
            made.append(self._inertia())
        tooth = self._tooth()
        return (*made, tooth) if tooth else tuple(made)

    @property
    def _helix(self) -> Real:
        return 0.0 if self.pinion.helix is None else self.pinion.helix

    @property
    def _module(self) -> Metre:
        return known(self.pinion.module, "module")

    def _of_pinion(self, field: str, value: Any) -> tuple[str, Any]:
        return f"{self.parts.path}.pinion.{field}", value

    def _travel(self) -> Working:
        return Working("pitch_circle", racks.travel_per_turn, {
            "module": self._of_pinion("module", self._module), "teeth": self._of_pinion("teeth", known(self.pinion.teeth, "teeth")),
            "helix": self._of_pinion("helix", self._helix),
        })  # fmt: skip

    def _inertia(self) -> Working:
        return Working("pinion_inertia", rotation.cylinder_inertia, {
            "diameter": (f"{self.parts.path}.pitch_circle", self._travel().value / np.pi),
            "length": self._of_pinion("width", 20 * self._module if self.width is None else self.width), "density": ("", self.parts.density, "of steel; common practice, no source"),
        })  # fmt: skip

    def _backlash(self) -> Working:
        opening = OPENING if self.pinion.play is None else self.pinion.play
        inputs = {"opening": self._of_pinion("play", opening), "helix": self._of_pinion("helix", self._helix)}
        return Working("opening_backlash", racks.opening_backlash, inputs)

    def _tooth(self) -> Working | None:
        if self.width is None:
            return None
        form = racks.lewis_form(teeth=known(self.pinion.teeth, "teeth"), helix=self._helix)
        strength = STRENGTH if self.pinion.strength is None else self.pinion.strength
        return Working("tooth_force_limit", racks.tooth_force_limit, {
            "strength": self._of_pinion("strength", strength), "width": self._of_pinion("width", self.width),
            "module": self._of_pinion("module", self._module), "form": ("", form, f"form of {self.parts.path}.pinion.teeth at that helix"),
        })  # fmt: skip

    def _lead_error(self) -> Working:
        rate = PITCH_ERROR if self.rack.pitch_error is None else self.rack.pitch_error
        inputs = {"error_per_length": (f"{self.parts.path}.part.pitch_error", rate), "length": self.parts.travel_input}
        return Working("lead_error_by_rate", lead_accuracy.proportional_error, inputs)


def make(parts: DriveParts) -> RackDrive:
    """A rack drive from its parts."""
    if not isinstance(parts.part, PART):
        raise TypeError(f"{parts.path}: a {KIND} drive is made from a {PART.kind} part")
    if parts.pinion is None:
        raise OutOfRange("pinion", "nothing", "", "a pinion", "a rack drive cannot be made without it")
    return RackDrive(parts, parts.part, parts.pinion)
