"""Tangential coefficients from the power that a spindle draws at several feeds: the cheapest way to replace a band of the tables.

Power is a line over the feed: its slope is the shear coefficient, what is left at no feed the edge coefficient. The radial coefficients cannot
be found this way.
"""

from dataclasses import dataclass

import numpy as np

from gantrywright.base.errors import OutOfRange
from gantrywright.base.formula import formula
from gantrywright.base.units import Array, Metre, NewtonPerMetre, Number, Pascal, RadianPerSecond, Real, Watt
from gantrywright.theory.cutting.engagement import engagement

FEWEST = 3
"""Feeds below which a line leaves nothing over to tell its uncertainty by."""


@dataclass(frozen=True, slots=True)
class PowerFit:
    """Coefficients with how well the readings know them."""

    shear: Pascal
    edge: NewtonPerMetre
    covariance: Array
    """Of (shear, edge), shape (2, 2), in units of their product; by the scatter about the line."""
    scatter: Watt
    """Of the readings about the line, as a standard deviation."""

    @property
    def shear_error(self) -> Pascal:
        """Standard error of the shear coefficient."""
        return float(np.sqrt(self.covariance[0, 0]))

    @property
    def edge_error(self) -> NewtonPerMetre:
        """Standard error of the edge coefficient."""
        return float(np.sqrt(self.covariance[1, 1]))


@formula("P = (P_inverter - P_idle) eta", source="definition")
def shaft_power(*, inverter_power: Watt, idle_power: Watt, efficiency: Number) -> Watt:
    """Power that reaches the cut, from what the inverter tells.

    Args:
        inverter_power: Told during the cut.
        idle_power: Told at the same speed in the air.
        efficiency: Of the spindle at the added load; 0.8 to 0.9.

    Returns:
        Power at the shaft.
    """
    return (inverter_power - idle_power) * efficiency


@formula("P = Kt ap ae vf + Kte ap N n (D/2) phi_s; least squares over vf", source="derived")
def fit_power(
    *, feeds: Array, powers: Array, depth: Metre, width: Metre, diameter: Metre, flutes: int, speed: RadianPerSecond
) -> PowerFit:
    """Shear and edge coefficient from powers at several feeds, all else held.

    Args:
        feeds: Feed of every reading, m/s.
        powers: Shaft power of every reading, W.
        depth: Of cut, along the spindle.
        width: Of cut.
        diameter: Of the cutter.
        flutes: Teeth.
        speed: Of the spindle.

    Returns:
        Coefficients, their covariance and the scatter.

    Raises:
        OutOfRange: Fewer than three feeds, or all the same.
    """
    feeds, powers = np.asarray(feeds, dtype=float), np.asarray(powers, dtype=float)
    if feeds.shape != powers.shape or len(feeds) < FEWEST or np.ptp(feeds) == 0:
        raise OutOfRange(
            "feeds", len(feeds), "", f"{FEWEST} or more that differ, as many powers", "a line and its scatter need them"
        )
    start, stop = engagement(diameter=diameter, width=width, way="conventional")
    rubbed: Real = depth * flutes * speed / (2 * np.pi) * diameter / 2 * (stop - start)
    design = np.column_stack([depth * width * feeds, np.full_like(feeds, rubbed)])
    size = np.abs(design).max(axis=0)  # the columns differ by many powers of ten
    inverse = np.linalg.inv((design / size).T @ (design / size)) / np.outer(size, size)
    shear, edge = inverse @ design.T @ powers
    over = powers - design @ (shear, edge)
    variance = float(over @ over) / (len(feeds) - 2)
    return PowerFit(float(shear), float(edge), inverse * variance, float(np.sqrt(variance)))
