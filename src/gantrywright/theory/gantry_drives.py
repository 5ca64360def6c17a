"""Two drives that share one gantry: who bears how much, and what happens when one of them stops."""

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Metre, MetrePerTurn, Newton, NewtonMetre, NewtonMetrePerRadian, NewtonPerMetre, Number


@formula("f1/F = 1/2 + (x/W) / (1 + 2 k_psi / (k_d W^2))", source="derived")
def drive_share(*, offset: Metre, distance: Metre, drive_stiffness: NewtonPerMetre, yaw_stiffness: NewtonMetrePerRadian) -> Number:
    """Share of a force that the nearer drive bears; the rule of the lever where the guides do not resist yaw.

    Args:
        offset: Of the force from the middle between the drives, towards the drive in question.
        distance: Between the drives.
        drive_stiffness: Of each drive along the axis.
        yaw_stiffness: Of guides and portal about the normal of the guide.

    Source: derived.
    """
    return 0.5 + offset / distance / (1 + 2 * yaw_stiffness / (drive_stiffness * distance**2))


@formula("k_psi = sum k_lateral d^2", source="derived")
def guide_yaw_stiffness(*, lateral_stiffness: NewtonPerMetre, sum_of_squares: Number) -> NewtonMetrePerRadian:
    """Resistance of blocks against yaw about the normal of their guide.

    Args:
        lateral_stiffness: Of each block, sideways.
        sum_of_squares: Sum of the squared distances of the blocks from their middle along the rails, m2.

    Source: derived.
    """
    return lateral_stiffness * sum_of_squares


@formula("M = F W", source="derived")
def stall_moment(*, thrust: Newton, distance: Metre) -> NewtonMetre:
    """Yaw moment on the guides when one of two drives stalls and the other goes on until it stalls too.

    Args:
        thrust: Of one drive at stall.
        distance: Between the drives.

    Source: derived.
    """
    return thrust * distance


@formula("D = F W^2 / k_psi", source="derived")
def stall_offset(*, thrust: Newton, distance: Metre, yaw_stiffness: NewtonMetrePerRadian) -> Metre:
    """How far the running side gets ahead before it stalls too.

    Args:
        thrust: Of one drive at stall.
        distance: Between the drives.
        yaw_stiffness: Of guides and portal.

    Source: derived.
    """
    return thrust * distance**2 / yaw_stiffness


@formula("M = k_psi D / W", source="derived")
def racking_moment(*, offset: Metre, distance: Metre, yaw_stiffness: NewtonMetrePerRadian) -> NewtonMetre:
    """Yaw moment on the guides when one side stands ahead of the other.

    Args:
        offset: Of one side against the other.
        distance: Between the drives.
        yaw_stiffness: Of guides and portal.

    Source: derived.
    """
    return yaw_stiffness * offset / distance


@formula("D = travel per turn of the motor / p", source="derived")
def slip(*, travel_per_motor_turn: MetrePerTurn, pole_pairs: Number) -> Metre:
    """Travel of one slip of an open-loop stepper: a lost rotor locks again whole electrical turns away.

    It is also the most that two sides can stand apart after their drivers were switched on again, since each rotor pulls to the start
    phase of its own driver, up to two full steps either way.

    Args:
        travel_per_motor_turn: Travel of the axis per turn of the motor.
        pole_pairs: Rotor teeth.

    Source: derived.
    """
    return travel_per_motor_turn / pole_pairs


@formula("F_block = M d / sum d^2", source="derived")
def block_force_of_yaw(*, moment: NewtonMetre, farthest: Metre, sum_of_squares: Number) -> Newton:
    """Sideways force on the farthest block from a yaw moment, all blocks equally stiff.

    Args:
        moment: About the normal of the guide.
        farthest: Distance of that block from the middle along the rails.
        sum_of_squares: Sum of the squared distances of all blocks, m2.

    Source: derived.
    """
    return moment * farthest / np.maximum(sum_of_squares, 1e-12)
