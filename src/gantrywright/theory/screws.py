"""Torque, efficiency and back-driving of screws that roll on balls.

Lead is travel per turn: pitch times starts. All functions are elementwise.
"""

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Metre, MetrePerTurn, Newton, NewtonMetre, Number, Radian

TURN = 2 * np.pi


@formula("phi = atan(p / (pi d))", source="definition")
def lead_angle(*, lead: MetrePerTurn, diameter: Metre) -> Radian:
    """Slope of the thread at its working diameter.

    Args:
        lead: Travel per turn.
        diameter: Circle of the ball centres (close to the nominal size) or pitch diameter of a plain thread.

    Returns:
        Angle between the thread and a plane square to the axis.

    Source:
        Definition.
    """
    return np.arctan(lead / (np.pi * diameter))


@formula("eta = tan(phi) / tan(phi + atan(mu))", source="derived")
def driving_efficiency(*, lead_angle: Radian, friction: Number) -> Number:
    """Work out over work in while the screw pushes the nut.

    Args:
        lead_angle: Slope of the thread.
        friction: Effective friction coefficient of the rolling thread.

    Returns:
        Efficiency, 0 to 1.

    Source:
        Derived from the statics of a wedge.

    Example:
        >>> phi = lead_angle(lead=0.005, diameter=0.016)
        >>> round(float(driving_efficiency(lead_angle=phi, friction=0.01)), 4)
        0.9077
    """
    return np.tan(lead_angle) / np.tan(lead_angle + np.arctan(friction))


@formula("eta_b = max(0, tan(phi - atan(mu)) / tan(phi))", source="derived")
def backdriving_efficiency(*, lead_angle: Radian, friction: Number) -> Number:
    """Work out over work in while the load turns the screw.

    Args:
        lead_angle: Slope of the thread.
        friction: Effective friction coefficient.

    Returns:
        Efficiency; 0 where the thread locks itself.

    Source:
        Derived from the statics of a wedge.
    """
    return np.maximum(np.tan(lead_angle - np.arctan(friction)) / np.tan(lead_angle), 0.0)


@formula("eta_b = max(0, 2 - 1/eta)", source="derived")
def backdriving_from_driving(*, efficiency: Number) -> Number:
    """Efficiency of back-driving where only the driving one is known.

    Args:
        efficiency: While driving.

    Returns:
        Efficiency; 0 at a driving efficiency of one half and below.

    Source:
        Derived: equal friction loss both ways, within 0.1 % for ball screws.
    """
    return np.maximum(2 - 1 / np.asarray(efficiency), 0.0)


@formula("T = F p / (2 pi eta)", source="derived")
def drive_torque(*, force: Newton, lead: MetrePerTurn, efficiency: Number) -> NewtonMetre:
    """Torque that pushes with a force.

    Args:
        force: Along the axis.
        lead: Travel per turn.
        efficiency: While driving.

    Returns:
        Torque at the turning part, without drag.

    Source:
        Derived from the work of one turn.

    Example:
        >>> round(drive_torque(force=500.0, lead=0.005, efficiency=0.9), 4)
        0.4421
    """
    return force * lead / (TURN * efficiency)


@formula("T_b = F p eta_b / (2 pi)", source="derived")
def back_torque(*, force: Newton, lead: MetrePerTurn, back_efficiency: Number) -> NewtonMetre:
    """Torque with which a load turns the screw back.

    Args:
        force: Along the axis.
        lead: Travel per turn.
        back_efficiency: While the load drives.

    Returns:
        Torque that something must hold.

    Source:
        Derived from the work of one turn.
    """
    return force * lead * back_efficiency / TURN


@formula("T_pr = 0.05 F_pr p / (2 pi sqrt(tan phi))", source="ball-screw-practice")
def preload_torque(*, preload: Newton, lead: MetrePerTurn, lead_angle: Radian) -> NewtonMetre:
    """Drag that the preload of a nut adds.

    Args:
        preload: Of the nut.
        lead: Travel per turn.
        lead_angle: Slope of the thread.

    Returns:
        Torque without load.

    Source:
        [ball-screw-practice] form that makers print.
    """
    return 0.05 * preload * lead / (TURN * np.sqrt(np.tan(lead_angle)))
