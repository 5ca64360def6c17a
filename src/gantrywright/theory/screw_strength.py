"""What speed and what push a slender screw stands: whirl, speed value, buckling.

Exact end constants are used. The short forms of catalogues (f d/L^2, m d^4/L^2) already hold a factor of 0.8 on speed and of 0.5 on
load; here those factors stand apart, in ``SPEED_SHARE`` and ``LOAD_SHARE``, so that none is applied twice.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Kelvin, KilogramPerCubicMetre, Metre, Newton, Number, Pascal, PerKelvin, RadianPerSecond, Real


@dataclass(frozen=True, slots=True)
class EndFixity:
    """How the two ends of a screw are held, motor side first."""

    whirl_root: float
    """lambda^2 of the first bending mode."""
    buckling_factor: float
    """Euler factor: 1 for two supported ends."""
    far_end_held: float
    """1 where the far end takes axial load too."""


END_FIXITY: Mapping[str, EndFixity] = {
    "fixed-free": EndFixity(3.516015, 0.25, 0.0),
    "supported-supported": EndFixity(9.869604, 1.0, 0.0),
    "fixed-supported": EndFixity(15.418206, 2.045749, 0.0),
    "fixed-fixed": EndFixity(22.373285, 4.0, 1.0),
    "clamped-clamped": EndFixity(22.373285, 4.0, 1.0),
}
"""Roots of the frequency and buckling equations of a uniform bar (tests/against finds them again)."""

SPEED_SHARE = 0.8
"""Part of the whirl speed that may be used (common practice, no source)."""
LOAD_SHARE = 0.5
"""Part of the buckling load that may be used (common practice, no source)."""


@formula("w_c = lambda^2 (d_r/4) sqrt(E/rho) / L^2", source="blevins-1979")
def whirl_speed(
    *,
    root_diameter: Metre,
    free_length: Metre,
    whirl_root: Number,
    elastic_modulus: Pascal,
    density: KilogramPerCubicMetre,
) -> RadianPerSecond:
    """First speed at which a turning screw bows out.

    The screw is a uniform round bar of its root diameter; the nut, which would raise the speed (least beside the fixed end), is
    left out.

    Args:
        root_diameter: Thread root.
        free_length: Bearing to bearing.
        whirl_root: lambda^2 of the end fixity.
        elastic_modulus: Of the screw.
        density: Of the screw.

    Returns:
        Angular speed without any safety factor.

    Source:
        [blevins-1979] uniform single-span beams, first mode.

    Example:
        >>> round(float(whirl_speed(root_diameter=0.0131, free_length=1.0, whirl_root=3.516, elastic_modulus=206e9, density=7850.0)), 2)
        58.99
    """
    return whirl_root * root_diameter / 4 * np.sqrt(elastic_modulus / np.asarray(density)) / np.square(free_length)


@formula("w_max = 0.8 w_c", source="common practice, no source")
def whirl_limit(*, whirl_speed: RadianPerSecond) -> RadianPerSecond:
    """Turning speed that keeps clear of whirl.

    Args:
        whirl_speed: First whirl speed.

    Returns:
        Highest turning speed.

    Source:
        Common practice, no source.
    """
    return SPEED_SHARE * whirl_speed


@formula("w_max = (d n) / d", source="ball-screw-practice")
def speed_value_limit(*, speed_value: Number, diameter: Metre) -> RadianPerSecond:
    """Turning speed at which the balls of a nut reach what their return path stands.

    Args:
        speed_value: Largest nominal diameter times turning speed, mm/min (millimetres times turns a minute).
        diameter: Nominal.

    Returns:
        Highest turning speed.

    Source:
        [ball-screw-practice] 50 000 for cheap rolled screws with outer tubes, 70 000 usual, 100 000 and more with end caps.

    Example:
        >>> round(speed_value_limit(speed_value=70000.0, diameter=0.020) * 60 / (2 * np.pi), 6)
        3500.0
    """
    turns_per_minute = speed_value / (1000 * diameter)
    return turns_per_minute * 2 * np.pi / 60


@formula("P_cr = eta pi^3 E d_r^4 / (64 L^2)", source="shigley")
def euler_load(*, root_diameter: Metre, column_length: Metre, buckling_factor: Number, elastic_modulus: Pascal) -> Newton:
    """Push at which a slender screw bows out.

    Args:
        root_diameter: Thread root.
        column_length: Fixed bearing to nut at the far end of the travel.
        buckling_factor: Of the end fixity, 1 for two supported ends.
        elastic_modulus: Of the screw.

    Returns:
        Load without any safety factor.

    Source:
        [shigley] Euler column.
    """
    load: Real = buckling_factor * np.pi**3 * elastic_modulus * np.asarray(root_diameter) ** 4 / (64 * np.square(column_length))
    return load


@formula("s = (L / sqrt(eta)) / (d_r/4)", source="shigley")
def slenderness(*, root_diameter: Metre, column_length: Metre, buckling_factor: Number) -> Number:
    """Effective length of a column over its radius of gyration.

    Args:
        root_diameter: Thread root.
        column_length: Bearing to nut.
        buckling_factor: Of the end fixity.

    Returns:
        Slenderness ratio.

    Source:
        [shigley] definition.
    """
    return column_length / np.sqrt(buckling_factor) / (root_diameter / 4)


@formula("P_cr = Euler where s > sqrt(2 pi^2 E / S_y), else A (S_y - (S_y s / 2 pi)^2 / E)", source="shigley")
def buckling_load(
    *,
    root_diameter: Metre,
    column_length: Metre,
    buckling_factor: Number,
    elastic_modulus: Pascal,
    yield_strength: Pascal,
) -> Newton:
    """Push at which a screw gives way, slender (Euler) or stocky (Johnson).

    Args:
        root_diameter: Thread root.
        column_length: Fixed bearing to nut at the far end of the travel.
        buckling_factor: Of the end fixity.
        elastic_modulus: Of the screw.
        yield_strength: Of the screw.

    Returns:
        Load without any safety factor.

    Source:
        [shigley] Euler and J. B. Johnson columns; the two meet at half the yield strength.

    Example:
        >>> round(float(buckling_load(root_diameter=0.0131, column_length=0.25, buckling_factor=2.046, elastic_modulus=206e9,
        ...                           yield_strength=400e6)), -1)
        46360.0
    """
    ratio = slenderness(root_diameter=root_diameter, column_length=column_length, buckling_factor=buckling_factor)
    euler = euler_load(
        root_diameter=root_diameter,
        column_length=column_length,
        buckling_factor=buckling_factor,
        elastic_modulus=elastic_modulus,
    )
    area = np.pi / 4 * np.square(root_diameter)
    johnson = area * (yield_strength - np.square(yield_strength * ratio / (2 * np.pi)) / elastic_modulus)
    return np.where(ratio > np.sqrt(2 * np.pi**2 * elastic_modulus / np.asarray(yield_strength)), euler, johnson)


@formula("F_max = 0.5 P_cr", source="common practice, no source")
def buckling_limit(*, buckling_load: Newton) -> Newton:
    """Push that keeps clear of buckling.

    Args:
        buckling_load: At which the screw gives way.

    Returns:
        Greatest push.

    Source:
        Common practice, no source.
    """
    return LOAD_SHARE * buckling_load


@formula("dT_cr = eta pi^2 d_r^2 / (16 alpha L^2)", source="derived")
def buckling_warming(*, root_diameter: Metre, free_length: Metre, buckling_factor: Number, expansion: PerKelvin) -> Kelvin:
    """Warming over its frame at which a screw between two rigid axial bearings bows out.

    Args:
        root_diameter: Thread root.
        free_length: Bearing to bearing.
        buckling_factor: Of the end fixity.
        expansion: Of the screw.

    Returns:
        Temperature difference; yielding ends make the true one larger.

    Source:
        Derived: E A alpha dT equals the Euler load.

    Example:
        >>> round(float(buckling_warming(root_diameter=0.0131, free_length=1.0, buckling_factor=4.0, expansion=11.5e-6)), 1)
        36.8
    """
    return buckling_factor * np.pi**2 * np.square(root_diameter) / (16 * expansion * np.square(free_length))
