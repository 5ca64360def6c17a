"""The springs of a drive in a row, from what turns it to what it grips."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any, TypeAlias

import numpy as np

from gantrywright.base.units import Array, Metre, NewtonPerMetre, Real
from gantrywright.theory.screw_stiffness import axial_from_torsional

Given: TypeAlias = tuple[str, Any] | tuple[str, Any, str]
"""Path in the machine file (empty where it has none), value, and what it is where the path does not say it."""


@dataclass(frozen=True, slots=True)
class Link:
    """One spring of the row as it is at a place."""

    name: str
    path: str
    """Of its figure: ``axis.x.drive.main.nut_stiffness``."""
    stiffness: NewtonPerMetre | None
    """Along the axis; None is unknown, infinite does not give."""
    part: str
    """Path in the machine file of what must change to change it: ``axis.x.drive.main.nut``."""


@dataclass(frozen=True, slots=True)
class Spring:
    """One spring of the row: what it is made of, wherever the grip stands."""

    drive: str
    """Path of its drive."""
    name: str
    """shaft, wind_up, bearing, nut, bracket, coupling, mesh, belt; with the machine around it stage and motor."""
    part: str
    """Path in the machine file of what must change to change it."""
    inputs: Mapping[str, Given]
    """What ``function`` takes, the distance left out; without a function the stiffness itself."""
    function: Callable[..., Any] | None = None
    moves: bool = False
    """It depends on the ``distance`` of the grip from the motor end, which its function then takes."""

    @property
    def path(self) -> str:
        """Of its figure."""
        return f"{self.drive}.{self.name}_stiffness"

    @property
    def known(self) -> bool:
        """Nothing is lacking."""
        return all(given[1] is not None for given in self.inputs.values())

    def stiffness(self, distance: Metre) -> NewtonPerMetre | None:
        """Along the axis at a place; None where something is lacking.

        Args:
            distance: Of the grip from the motor end; a float or an array of places (last axis).
        """
        if not self.known:
            return None
        wide = over(distance)
        values: dict[str, Any] = {name: wide(given[1]) for name, given in self.inputs.items()}
        if self.function is None:
            given: Real = next(iter(values.values()))
            return given
        if self.moves:
            values["distance"] = distance
        found: Real = self.function(**values)
        return found

    def at(self, distance: Metre) -> Link:
        """The spring as it is at a place."""
        return Link(self.name, self.path, self.stiffness(distance), self.part)


def over(places: Real) -> Callable[[Real], Array]:
    """Makes values with samples ready to meet an axis of places: a trailing axis where both are arrays."""

    def widened(value: Real) -> Array:
        array = np.asarray(value, dtype=float)
        return array[..., None] if np.ndim(places) and array.ndim else array

    return widened


def in_a_row(links: Iterable[Link], distance: Metre) -> NewtonPerMetre | None:
    """Stiffness of all links one behind the other at a place; None where one is unknown.

    Args:
        links: As they are at that place.
        distance: The place; the answer has its shape, samples in front.
    """
    compliance: Real = np.zeros_like(np.asarray(distance, dtype=float))
    for link in links:
        if link.stiffness is None:
            return None
        compliance = compliance + 1 / np.asarray(link.stiffness)
    stiffness: Real = 1 / compliance
    return stiffness


def torsional(drive: str, name: str, part: str, stiffness: Given, travel: Real) -> Spring:
    """A spring that twists with the driven shaft.

    Args:
        drive: Path of the drive.
        name: Of the spring.
        part: What must change to change it.
        stiffness: N m/rad at the driven shaft.
        travel: Of the axis per turn of that shaft.
    """
    inputs = {"torsional_stiffness": stiffness, "lead": (f"{drive}.travel_per_turn", travel)}
    return Spring(drive, name, part, inputs, axial_from_torsional)
