"""All checks of motors on axes."""

from gantrywright.disciplines.motion.dual_checks import power_up, stalled_side
from gantrywright.disciplines.motion.pulse_checks import rate, resolution
from gantrywright.disciplines.motion.speed_checks import accel, beyond_corner, feed, rapid, simulated
from gantrywright.disciplines.motion.torque_checks import duty, feed_torque, lag, ratio, resonance

__all__ = [
    "accel", "beyond_corner", "duty", "feed", "feed_torque", "lag", "power_up", "rapid", "rate", "ratio", "resolution", "resonance",
    "simulated", "stalled_side",
]  # fmt: skip
