"""Where the machine is softest along each axis of its own, from the map over all poses."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from gantrywright.results.structure import LETTERS, StiffnessGrid


@dataclass(frozen=True, slots=True)
class SoftPlace:
    """A pose of the map where one direction gives most."""

    along: str
    """x, y or z."""
    pose: Mapping[str, float]
    """Place of each axis by name, m."""
    stiffness: tuple[float, float, float]
    """Along X, Y, Z there, N/m."""
    least: float
    """In the softest direction there, N/m."""


def softest_along(made: StiffnessGrid | None) -> tuple[SoftPlace, ...]:
    """X, Y and Z, each where over the table it gives most; none without a map."""
    if made is None or not made.over.any():
        return ()
    places = []
    for k, letter in enumerate(LETTERS):
        at = np.unravel_index(int(np.argmax(np.where(made.over, made.give[..., k, k], -np.inf))), made.over.shape)
        give = made.give[at]
        stiffness = 1 / np.diag(give)
        pose = {name: float(values[n]) for name, values, n in zip(made.axes, made.places, at, strict=True)}
        least = float(1 / np.linalg.eigvalsh(give)[-1])
        places.append(SoftPlace(letter, pose, (float(stiffness[0]), float(stiffness[1]), float(stiffness[2])), least))
    return tuple(places)


def softest_pose(made: StiffnessGrid | None, along: str) -> dict[str, float]:
    """The pose where a direction gives most, of x, y, z; with none the softest direction of all. Empty without a map."""
    if made is None:
        return {}
    if not along:
        return made.softest()
    return next((dict(place.pose) for place in softest_along(made) if place.along == along), {})
