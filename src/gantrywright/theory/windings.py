"""Rewiring the four half-windings of an eight-lead stepper: series against parallel."""

from dataclasses import dataclass

from gantrywright.base.errors import OutOfRange
from gantrywright.base.formula import formula
from gantrywright.base.units import Ampere, Henry, NewtonMetrePerAmpere, Ohm


@dataclass(frozen=True, slots=True)
class Winding:
    """One phase as wired."""

    resistance: Ohm
    inductance: Henry
    current: Ampere
    """Rated, by the same convention as before."""
    torque_constant: NewtonMetrePerAmpere


FACTORS = {
    ("parallel", "series"): (4.0, 4.0, 0.5, 2.0),
    ("series", "parallel"): (0.25, 0.25, 2.0, 0.5),
    ("unipolar", "parallel"): (0.5, 1.0, 2**0.5, 1.0),
    ("unipolar", "series"): (2.0, 4.0, 2**-0.5, 2.0),
}
"""Resistance, inductance, rated current, torque constant. Unipolar data are those of one half-winding that carries current alone."""


@formula("series: 4 R, 4 L, I/2, 2 K of parallel", source="derived")
def rewire(
    *, resistance: Ohm, inductance: Henry, current: Ampere, torque_constant: NewtonMetrePerAmpere, wired: str, to: str
) -> Winding:
    """Data of a phase after rewiring; the torque curve of series equals that of parallel at twice the bus voltage.

    Args:
        resistance: Of one phase as wired now.
        inductance: Of one phase as wired now.
        current: Rated current as wired now.
        torque_constant: Per ampere as wired now.
        wired: parallel, series or unipolar (one half-winding).
        to: series or parallel.

    Source: derived.

    Example:
        >>> rewire(resistance=0.45, inductance=3.8e-3, current=5.5, torque_constant=0.578542, wired="parallel", to="series").resistance
        1.8
    """
    if wired == to:
        return Winding(resistance, inductance, current, torque_constant)
    if (wired, to) not in FACTORS:
        raise OutOfRange("winding", f"{wired} to {to}", "", "parallel, series, unipolar", "no such way to wire it")
    factors = FACTORS[wired, to]
    return Winding(resistance * factors[0], inductance * factors[1], current * factors[2], torque_constant * factors[3])
