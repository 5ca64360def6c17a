"""How far a screw gives along its axis, and how far warmth moves it.

A distance may carry an axis of places that is last; the caller expands other inputs with ``[..., None]`` where they have samples.
"""

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import (
    Hertz,
    Kelvin,
    Kilogram,
    Metre,
    MetrePerTurn,
    Newton,
    NewtonMetrePerRadian,
    NewtonPerMetre,
    Number,
    Pascal,
    PerKelvin,
)


@formula("k = E (pi/4 d^2) / x", source="iso-3408-4")
def shaft_stiffness(*, root_diameter: Metre, elastic_modulus: Pascal, distance: Metre) -> NewtonPerMetre:
    """Axial stiffness of the screw between one axial bearing and the nut.

    Args:
        root_diameter: Thread root.
        elastic_modulus: Of the screw.
        distance: Bearing to nut.

    Returns:
        Stiffness of that length.

    Source:
        [iso-3408-4].

    Example:
        >>> round(float(shaft_stiffness(root_diameter=0.0131, elastic_modulus=206e9, distance=0.8)) / 1e6, 2)
        34.71
    """
    return elastic_modulus * np.pi / 4 * np.square(root_diameter) / distance


@formula("1/k = 1/k_a + 1/k_b", source="definition")
def in_series(*, first: NewtonPerMetre, second: NewtonPerMetre) -> NewtonPerMetre:
    """Stiffness of two springs in a row.

    Args:
        first: One spring.
        second: The other.

    Returns:
        Stiffness of both.

    Source:
        Definition.
    """
    return first * second / (np.asarray(first) + second)


@formula("k = 1/(1/k_1 + x/(E A)) + 1/(1/k_2 + (L - x)/(E A))", source="iso-3408-4")
def both_ends_stiffness(
    *,
    root_diameter: Metre,
    elastic_modulus: Pascal,
    distance: Metre,
    free_length: Metre,
    near_bearing: NewtonPerMetre,
    far_bearing: NewtonPerMetre,
) -> NewtonPerMetre:
    """Axial stiffness at the nut of a screw that two axial bearings hold.

    Args:
        root_diameter: Thread root.
        elastic_modulus: Of the screw.
        distance: Near bearing to nut, less than the free length.
        free_length: Bearing to bearing.
        near_bearing: Stiffness of the bearing at the motor.
        far_bearing: Stiffness of the other.

    Returns:
        Sum of the two sides: each is a bearing and its length of screw in series, and the sides add.

    Source:
        [iso-3408-4]; rigid bearings give E A L / (x (L - x)).
    """
    strength = elastic_modulus * np.pi / 4 * np.square(root_diameter)
    return 1 / (1 / np.asarray(near_bearing) + distance / strength) + 1 / (
        1 / np.asarray(far_bearing) + (free_length - distance) / strength
    )


@formula("s = c_f/(c_n + c_f), c_n = 1/k_b + x/(E A), c_f = 1/k_b + (L - x)/(E A); 1 where the far end lets go", source="derived")
def near_end_part(
    *,
    root_diameter: Metre,
    elastic_modulus: Pascal,
    distance: Metre,
    free_length: Metre,
    bearing_stiffness: NewtonPerMetre,
    far_end_held: Number,
) -> Number:
    """Part of the nut's force that the bearing at the motor takes.

    Args:
        root_diameter: Thread root.
        elastic_modulus: Of the screw.
        distance: Near bearing to nut.
        free_length: Bearing to bearing.
        bearing_stiffness: Of each axial bearing; infinite is rigid.
        far_end_held: 1 where the far end takes axial load as well, else 0.

    Returns:
        Between 0 and 1.

    Source:
        Derived: both sides give alike.

    Example:
        >>> float(near_end_part(
        ...     root_diameter=0.0169, elastic_modulus=206e9, distance=0.25, free_length=1.0, bearing_stiffness=float("inf"), far_end_held=1.0
        ... ))
        0.75
    """
    strength = elastic_modulus * np.pi / 4 * np.square(root_diameter)
    bearing = 1 / np.asarray(bearing_stiffness, dtype=float)
    near, far = bearing + distance / strength, bearing + (free_length - distance) / strength
    part: Number = np.where(np.asarray(far_end_held) > 0.5, far / (near + far), 1.0)[()]
    return part


@formula("1/k = (s^2 x + (1 - s)^2 (L - x)) / (E A), s the part that the near end takes", source="derived")
def held_shaft_stiffness(
    *,
    root_diameter: Metre,
    elastic_modulus: Pascal,
    distance: Metre,
    free_length: Metre,
    bearing_stiffness: NewtonPerMetre,
    far_end_held: Number,
) -> NewtonPerMetre:
    """What both lengths of a screw that is held at its two ends give at the nut, its bearings left out.

    Args:
        root_diameter: Thread root.
        elastic_modulus: Of the screw.
        distance: Near bearing to nut.
        free_length: Bearing to bearing.
        bearing_stiffness: Of each axial bearing; infinite is rigid.
        far_end_held: 1 where the far end takes axial load as well, else 0.

    Returns:
        In series with `held_bearing_stiffness` it is exactly `both_ends_stiffness`.

    Source:
        Derived: energy of the two lengths, each under its part of the force.

    Example:
        >>> middle = held_shaft_stiffness(
        ...     root_diameter=0.0169, elastic_modulus=206e9, distance=0.5, free_length=1.0, bearing_stiffness=float("inf"), far_end_held=1.0
        ... )
        >>> round(float(middle) / 1e6, 2)
        184.84
    """
    part = near_end_part(
        root_diameter=root_diameter, elastic_modulus=elastic_modulus, distance=distance, free_length=free_length,
        bearing_stiffness=bearing_stiffness, far_end_held=far_end_held,
    )  # fmt: skip
    strength = elastic_modulus * np.pi / 4 * np.square(root_diameter)
    return strength / (part**2 * distance + (1 - part) ** 2 * (free_length - distance))


@formula("k = k_b / (s^2 + (1 - s)^2), s the part that the near end takes", source="derived")
def held_bearing_stiffness(
    *,
    root_diameter: Metre,
    elastic_modulus: Pascal,
    distance: Metre,
    free_length: Metre,
    bearing_stiffness: NewtonPerMetre,
    far_end_held: Number,
) -> NewtonPerMetre:
    """What the axial bearings of a screw that is held at its two ends give at the nut, the screw left out.

    Args:
        root_diameter: Thread root.
        elastic_modulus: Of the screw.
        distance: Near bearing to nut.
        free_length: Bearing to bearing.
        bearing_stiffness: Of each axial bearing.
        far_end_held: 1 where the far end takes axial load as well, else 0.

    Returns:
        In series with `held_shaft_stiffness` it is exactly `both_ends_stiffness`.

    Source:
        Derived: energy of the two bearings, each under its part of the force.
    """
    part = near_end_part(
        root_diameter=root_diameter, elastic_modulus=elastic_modulus, distance=distance, free_length=free_length,
        bearing_stiffness=bearing_stiffness, far_end_held=far_end_held,
    )  # fmt: skip
    return bearing_stiffness / (part**2 + (1 - part) ** 2)


@formula("k_t = (G pi d^4 / 32 / x) (2 pi / p)^2", source="derived")
def wind_up_stiffness(*, root_diameter: Metre, shear_modulus: Pascal, distance: Metre, lead: MetrePerTurn) -> NewtonPerMetre:
    """Twist of the screw, seen as stiffness along the axis.

    Args:
        root_diameter: Thread root.
        shear_modulus: Of the screw.
        distance: Driven end to nut.
        lead: Travel per turn.

    Returns:
        Stiffness along the axis.

    Source:
        Derived from the energy of the twisted shaft.

    Example:
        >>> round(float(wind_up_stiffness(root_diameter=0.0131, shear_modulus=79.3e9, distance=0.8, lead=0.005)) / 1e6, 1)
        452.6
    """
    return axial_from_torsional(
        torsional_stiffness=shear_modulus * np.pi * np.asarray(root_diameter) ** 4 / 32 / distance, lead=lead
    )


@formula("k = k_t (2 pi / p)^2", source="derived")
def axial_from_torsional(*, torsional_stiffness: NewtonMetrePerRadian, lead: MetrePerTurn) -> NewtonPerMetre:
    """Torsional stiffness at a driven shaft, seen as stiffness along the axis.

    Args:
        torsional_stiffness: Of coupling, belt stage or gearbox, at the driven shaft.
        lead: Travel per turn of that shaft.

    Returns:
        Stiffness along the axis.

    Source:
        Derived: twist times lead/(2 pi) is travel.
    """
    return torsional_stiffness * (2 * np.pi / np.asarray(lead)) ** 2


@formula("f = sqrt(k/m) / (2 pi)", source="definition")
def axial_resonance(*, stiffness: NewtonPerMetre, mass: Kilogram) -> Hertz:
    """Frequency of a mass on the stiffness of its drive.

    Args:
        stiffness: Along the axis.
        mass: That moves.

    Returns:
        Frequency.

    Source:
        Definition.
    """
    return np.sqrt(stiffness / np.asarray(mass)) / (2 * np.pi)


@formula("dL = alpha L dT", source="definition")
def growth(*, expansion: PerKelvin, length: Metre, warming: Kelvin) -> Metre:
    """Growth of a length that warms freely.

    Args:
        expansion: Coefficient of linear expansion.
        length: That warms.
        warming: Temperature difference.

    Returns:
        Growth.

    Source:
        Definition.

    Example:
        >>> round(growth(expansion=11.5e-6, length=1.0, warming=5.0) * 1e6, 1)
        57.5
    """
    return expansion * length * warming


@formula("F = alpha dT L / (L/(E A) + 1/k_1 + 1/k_2)", source="derived")
def held_growth_force(
    *,
    expansion: PerKelvin,
    warming: Kelvin,
    free_length: Metre,
    root_diameter: Metre,
    elastic_modulus: Pascal,
    near_bearing: NewtonPerMetre,
    far_bearing: NewtonPerMetre,
) -> Newton:
    """Push of a warming screw on the two axial bearings that hold it; the same as the pull of a pre-stretch for that warming.

    Args:
        expansion: Of the screw, less that of the frame.
        warming: Of the screw over its frame.
        free_length: Bearing to bearing.
        root_diameter: Thread root.
        elastic_modulus: Of the screw.
        near_bearing: Stiffness of the bearing at the motor; infinite is rigid.
        far_bearing: Stiffness of the other.

    Returns:
        Force on each bearing.

    Source:
        Derived: growth shared among three springs in series.
    """
    strength = elastic_modulus * np.pi / 4 * np.square(root_diameter)
    yielding = free_length / strength + 1 / np.asarray(near_bearing) + 1 / np.asarray(far_bearing)
    return expansion * warming * free_length / yielding
