"""Trapezoidal (30 degrees) and Acme (29 degrees) lead screws with plain nuts."""

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import (
    Metre,
    MetrePerSecond,
    MetrePerTurn,
    Newton,
    NewtonMetre,
    Number,
    Pascal,
    PascalMetrePerSecond,
    Radian,
    RadianPerSecond,
    Real,
    SquareMetre,
)


@formula("d_2 = d - P/2", source="iso-2904")
def pitch_diameter(*, diameter: Metre, pitch: Metre) -> Metre:
    """Diameter at half the depth of the thread.

    Args:
        diameter: Nominal.
        pitch: From thread to thread: lead over starts.

    Returns:
        Pitch diameter.

    Source:
        [iso-2904].
    """
    return diameter - pitch / 2


@formula("tan(alpha_n) = tan(alpha/2) cos(phi)", source="derived")
def normal_flank_angle(*, flank: Radian, lead_angle: Radian) -> Radian:
    """Half flank angle in the section square to the thread.

    Args:
        flank: Included angle of the flanks; 0 for a square thread.
        lead_angle: Slope of the thread.

    Returns:
        Half angle that the friction works with.

    Source:
        Derived; 0.1 % on the torque.
    """
    half: Real = np.arctan(np.tan(np.asarray(flank) / 2) * np.cos(lead_angle))
    return half


@formula("rho' = atan(mu / cos(alpha_n))", source="shigley")
def friction_angle(*, friction: Number, normal_flank_angle: Radian) -> Radian:
    """Friction angle of a thread with sloping flanks.

    Args:
        friction: Coefficient between screw and nut.
        normal_flank_angle: Half flank angle square to the thread.

    Returns:
        Angle to set against the lead angle.

    Source:
        [shigley].
    """
    return np.arctan(friction / np.cos(normal_flank_angle))


def _angles(lead: MetrePerTurn, pitch_diameter: Metre, flank: Radian, friction: Number) -> tuple[Radian, Radian]:
    slope = np.arctan(lead / (np.pi * pitch_diameter))
    return slope, friction_angle(friction=friction, normal_flank_angle=normal_flank_angle(flank=flank, lead_angle=slope))


@formula("T = F d_2/2 tan(phi + rho') + F mu_c d_c/2", source="shigley")
def raising_torque(
    *,
    force: Newton,
    lead: MetrePerTurn,
    pitch_diameter: Metre,
    flank: Radian,
    friction: Number,
    collar_friction: Number = 0.0,
    collar_diameter: Metre = 0.0,
) -> NewtonMetre:
    """Torque that pushes against a load.

    Args:
        force: Of the load along the axis.
        lead: Travel per turn.
        pitch_diameter: Of the thread.
        flank: Included flank angle.
        friction: Of the thread.
        collar_friction: Of a plain thrust collar.
        collar_diameter: Mean diameter of the collar.

    Returns:
        Torque at the screw.

    Source:
        [shigley] power screws.

    Example:
        >>> round(float(raising_torque(force=1000.0, lead=0.004, pitch_diameter=0.014, flank=np.radians(30), friction=0.12)), 3)
        1.523
    """
    slope, rubbing = _angles(lead, pitch_diameter, flank, friction)
    return force * pitch_diameter / 2 * np.tan(slope + rubbing) + force * collar_friction * collar_diameter / 2


@formula("T = F d_2/2 tan(rho' - phi) + F mu_c d_c/2", source="shigley")
def lowering_torque(
    *,
    force: Newton,
    lead: MetrePerTurn,
    pitch_diameter: Metre,
    flank: Radian,
    friction: Number,
    collar_friction: Number = 0.0,
    collar_diameter: Metre = 0.0,
) -> NewtonMetre:
    """Torque that lets a load down.

    Args:
        force: Of the load along the axis.
        lead: Travel per turn.
        pitch_diameter: Of the thread.
        flank: Included flank angle.
        friction: Of the thread.
        collar_friction: Of a plain thrust collar.
        collar_diameter: Mean diameter of the collar.

    Returns:
        Torque at the screw; negative where the load drives the screw by itself.

    Source:
        [shigley] power screws.
    """
    slope, rubbing = _angles(lead, pitch_diameter, flank, friction)
    return force * pitch_diameter / 2 * np.tan(rubbing - slope) + force * collar_friction * collar_diameter / 2


@formula("eta = tan(phi) / tan(phi + rho')", source="shigley")
def efficiency(*, lead: MetrePerTurn, pitch_diameter: Metre, flank: Radian, friction: Number) -> Number:
    """Work out over work in while it pushes; collar and bearings left out.

    Args:
        lead: Travel per turn.
        pitch_diameter: Of the thread.
        flank: Included flank angle.
        friction: Of the thread.

    Returns:
        Efficiency.

    Source:
        [shigley]; the same as F l / (2 pi T).
    """
    slope, rubbing = _angles(lead, pitch_diameter, flank, friction)
    return np.tan(slope) / np.tan(slope + rubbing)


@formula("eta_b = max(0, tan(phi - rho') / tan(phi))", source="derived")
def back_efficiency(*, lead: MetrePerTurn, pitch_diameter: Metre, flank: Radian, friction: Number) -> Number:
    """Work out over work in while the load drives.

    Args:
        lead: Travel per turn.
        pitch_diameter: Of the thread.
        flank: Included flank angle.
        friction: Of the thread.

    Returns:
        Efficiency; 0 where the thread locks itself (shaking can still loosen it near the limit).

    Source:
        Derived from the statics of a wedge.
    """
    slope, rubbing = _angles(lead, pitch_diameter, flank, friction)
    return np.maximum(np.tan(slope - rubbing) / np.tan(slope), 0.0)


@formula("A = pi d_2 H_1 L_n / P, H_1 = P/2", source="shigley")
def flank_area(*, pitch_diameter: Metre, nut_length: Metre) -> SquareMetre:
    """Bearing area of the flanks in the nut, square to the axis.

    Args:
        pitch_diameter: Of the thread.
        nut_length: Engaged.

    Returns:
        Area; the pitch falls out, for a thread half a pitch deep.

    Source:
        [shigley].
    """
    return np.pi * pitch_diameter * nut_length / 2


@formula("p = F / A", source="definition")
def flank_pressure(*, force: Newton, flank_area: SquareMetre) -> Pascal:
    """Mean pressure on the flanks.

    Args:
        force: Along the axis.
        flank_area: Bearing area.

    Returns:
        Pressure.

    Source:
        Definition.
    """
    return force / flank_area


@formula("v = d_2 w / (2 cos(phi))", source="derived")
def sliding_speed(*, pitch_diameter: Metre, lead_angle: Radian, turning_speed: RadianPerSecond) -> MetrePerSecond:
    """Speed of the flanks against each other.

    Args:
        pitch_diameter: Of the thread.
        lead_angle: Slope of the thread.
        turning_speed: Of the screw.

    Returns:
        Speed along the thread.

    Source:
        Derived.
    """
    return pitch_diameter * turning_speed / (2 * np.cos(lead_angle))


@formula("p v", source="definition")
def pressure_speed(*, pressure: Pascal, sliding_speed: MetrePerSecond) -> PascalMetrePerSecond:
    """Pressure times sliding speed, which sets the heat of a plain nut.

    Args:
        pressure: On the flanks.
        sliding_speed: Along the thread.

    Returns:
        Their product.

    Source:
        Definition.
    """
    return pressure * sliding_speed
