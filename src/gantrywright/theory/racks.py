"""Rack and pinion, straight or helical, pressure angle 20 degrees square to the tooth."""

import tomllib
from functools import cache
from importlib.resources import files

import numpy as np

from gantrywright.base.errors import OutOfRange
from gantrywright.base.formula import formula
from gantrywright.base.units import Array, Metre, MetrePerTurn, Newton, NewtonMetre, NewtonPerMetre, Number, Pascal, Radian, Real

PRESSURE_ANGLE = np.radians(20.0)
MESH_STIFFNESS = 20e9
"""Stiffness of meshing steel teeth per face width, N/m per m: 20 N/(mm um) (iso-6336-1 default)."""


@cache
def _lewis() -> tuple[Array, Array]:
    table = tomllib.loads(files("gantrywright.data").joinpath("lewis_form.toml").read_text("utf-8"))
    return np.asarray(table["teeth"], dtype=float), np.asarray(table["form"], dtype=float)


@formula("s = pi m_n z / cos(beta)", source="definition")
def travel_per_turn(*, module: Metre, teeth: Number, helix: Radian) -> MetrePerTurn:
    """Travel for one turn of the pinion.

    Args:
        module: Normal module.
        teeth: Of the pinion.
        helix: Helix angle; 0 straight.

    Returns:
        Circumference of the pitch circle.

    Source:
        Definition.

    Example:
        >>> round(float(travel_per_turn(module=0.001, teeth=20, helix=0.0)) * 1e3, 3)
        62.832
    """
    return np.pi * module * teeth / np.cos(helix)


@formula("T = F s / (2 pi eta)", source="derived")
def pinion_torque(*, force: Newton, travel_per_turn: MetrePerTurn, efficiency: Number) -> NewtonMetre:
    """Torque at the pinion that pushes with a force.

    Args:
        force: Along the rack.
        travel_per_turn: Of the pinion.
        efficiency: Of the mesh.

    Returns:
        Torque.

    Source:
        Derived from the work of one turn.
    """
    return force * travel_per_turn / (2 * np.pi * efficiency)


@formula("tan(alpha_t) = tan(alpha_n) / cos(beta)", source="definition")
def transverse_pressure_angle(*, helix: Radian) -> Radian:
    """Pressure angle in the plane of rotation.

    Args:
        helix: Helix angle.

    Returns:
        Angle.

    Source:
        Definition.
    """
    angle: Real = np.arctan(np.tan(PRESSURE_ANGLE) / np.cos(helix))
    return angle


@formula("j = 2 da tan(alpha_t)", source="derived")
def opening_backlash(*, opening: Metre, helix: Radian) -> Metre:
    """Play along the rack that a pinion has which stands off its closest mesh.

    Args:
        opening: Of the centre distance.
        helix: Helix angle; 0 straight.

    Returns:
        Play along the rack, both flanks.

    Source:
        Derived from the wedge of the tooth.

    Example:
        >>> round(float(opening_backlash(opening=1e-4, helix=0.0)) * 1e3, 4)
        0.0728
    """
    return 2 * opening * np.tan(transverse_pressure_angle(helix=helix))


@formula("F_r = F tan(alpha_t)", source="derived")
def separating_force(*, force: Newton, helix: Radian) -> Newton:
    """Force that pushes the pinion out of the rack.

    Args:
        force: Along the rack.
        helix: Helix angle.

    Returns:
        Force square to the rack.

    Source:
        Derived.
    """
    return force * np.tan(transverse_pressure_angle(helix=helix))


@formula("F_a = F tan(beta)", source="derived")
def side_thrust(*, force: Newton, helix: Radian) -> Newton:
    """Force of helical teeth across the rack, on the pinion's bearings.

    Args:
        force: Along the rack.
        helix: Helix angle.

    Returns:
        Force along the pinion's axis.

    Source:
        Derived.
    """
    return force * np.tan(helix)


@formula("Y(z / cos(beta)^3)", source="shigley")
def lewis_form(*, teeth: Number, helix: Radian) -> Number:
    """Form factor of the weakest tooth root, by the straight tooth of the same curvature.

    Args:
        teeth: Of the pinion, at least 12.
        helix: Helix angle.

    Returns:
        Form factor Y, interpolated between the rows of the table.

    Raises:
        OutOfRange: Below 12 teeth, where the root is undercut beyond the table.

    Source:
        [shigley] table for 20 degree full-depth teeth.
    """
    known, form = _lewis()
    if np.any(np.asarray(teeth) < known[0]):
        raise OutOfRange("teeth", teeth, "", ">= 12", "such a root is undercut beyond what the table of forms covers")
    factor: Real = np.interp(np.asarray(teeth) / np.cos(helix) ** 3, known, form)
    return factor


@formula("s = F / (b m_n Y)", source="shigley")
def root_stress(*, force: Newton, width: Metre, module: Metre, form: Number) -> Pascal:
    """Bending stress at the root of a tooth that bears the whole force at its tip.

    Args:
        force: Along the rack.
        width: Of the narrower face.
        module: Normal module.
        form: Form factor.

    Returns:
        Stress; shocks are not in it.

    Source:
        [shigley] Lewis.
    """
    return force / (width * module * form)


@formula("F = s b m_n Y", source="shigley")
def tooth_force_limit(*, strength: Pascal, width: Metre, module: Metre, form: Number) -> Newton:
    """Force at which the root of a tooth reaches its allowed stress.

    Args:
        strength: Allowed root stress.
        width: Of the narrower face.
        module: Normal module.
        form: Form factor.

    Returns:
        Force along the rack.

    Source:
        [shigley] Lewis.
    """
    return strength * width * module * form


@formula("k = 20 N/(mm um) b", source="iso-6336-1")
def mesh_stiffness(*, width: Metre) -> NewtonPerMetre:
    """Stiffness of the teeth in mesh along the rack.

    Args:
        width: Of the narrower face.

    Returns:
        Stiffness along the rack.

    Source:
        [iso-6336-1] default for steel gears.
    """
    return MESH_STIFFNESS * width
