"""Fits the motor model to points that were read off a data sheet's pull-out curve.

The curve is then taken to another bus voltage through the model; scaling its speeds would be wrong, since voltage and inductance cannot be
told apart from one curve.
"""

from dataclasses import dataclass

import numpy as np

from gantrywright.base.errors import OutOfRange
from gantrywright.base.formula import formula
from gantrywright.base.units import Ampere, Array, Henry, NewtonMetre, NewtonMetrePerAmpere, Number, Ohm, Volt
from gantrywright.theory.steppers import SQUARE_WAVE, pull_out_torque

PLATEAU = 0.6
"""A point below this part of the greatest torque lies on the falling branch."""


@dataclass(frozen=True, slots=True)
class FittedMotor:
    """What a curve says of the winding."""

    torque_constant: NewtonMetrePerAmpere
    inductance: Henry
    deviation: NewtonMetre
    """Root mean square of the points off the fitted curve."""


@formula("least soft-L1 deviation of K iq(K, L) from the points, scale 5 % of the greatest torque", source="derived")
def fit_pull_out_curve(
    *, speeds: Array, torques: Array, resistance: Ohm, voltage: Volt, current: Ampere, pole_pairs: Number,
    torque_constant: NewtonMetrePerAmpere | None = None,
) -> FittedMotor:  # fmt: skip
    """Torque constant and inductance from points of a pull-out curve.

    Args:
        speeds: Of the points, rad/s, shape (n_points,).
        torques: Of the points, N m, shape (n_points,).
        resistance: Of one phase, from the sheet; one number, like all that follow.
        voltage: Bus voltage of the curve.
        current: Peak of the sine of the curve.
        pole_pairs: Rotor teeth.
        torque_constant: Fixed value, for a curve without a level part; None fits it.

    Source: derived; points of a simulated motor come back to 1.4 %.
    """
    from scipy.optimize import least_squares  # a heavy import that only machines with a measured curve pay for

    if len(speeds) != len(torques) or len(speeds) < 3:
        raise OutOfRange("points of the curve", len(speeds), "", "at least 3, as many torques as speeds", "a curve needs both")
    greatest = float(np.max(torques))
    held = None if torque_constant is None else float(torque_constant)
    constant = held or greatest / float(current)
    low = np.flatnonzero(torques < PLATEAU * greatest)
    at = int(low[0]) if low.size else len(speeds) - 1
    inductance = constant * SQUARE_WAVE * float(voltage) / (float(pole_pairs) * speeds[at] * torques[at])

    def deviations(logs: Array) -> Array:
        fitted = pull_out_torque(
            speed=speeds, resistance=resistance, inductance=float(np.exp(logs[0])), current=current, voltage=voltage,
            torque_constant=held or float(np.exp(logs[1])), pole_pairs=pole_pairs,
        )  # fmt: skip
        return np.asarray(fitted - torques)

    start = np.log([inductance] if held else [inductance, constant])
    found = least_squares(deviations, start, loss="soft_l1", f_scale=0.05 * greatest)
    deviation = float(np.sqrt(np.mean(deviations(found.x) ** 2)))
    return FittedMotor(held or float(np.exp(found.x[1])), float(np.exp(found.x[0])), deviation)
