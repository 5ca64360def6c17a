"""Points of a pull-out curve as a record tells them: ``60, 120, 240 rpm`` and ``4.4, 4.4, 4.3 N m``."""

from dataclasses import dataclass

from gantrywright.base.quantities.characters import plain
from gantrywright.base.quantities.scalar import read_scalar
from gantrywright.base.samples import typical
from gantrywright.model.motors.protocol import Missing, MotorParts


@dataclass(frozen=True, slots=True)
class Curve:
    """Points in SI, with the voltage and current that they hold for."""

    speeds: tuple[float, ...]
    torques: tuple[float, ...]
    voltage: float
    current: float
    """Peak of the sine."""

    @property
    def has_plateau(self) -> bool:
        """The two slowest points are level within 5 %, so that the torque constant can be read from them."""
        return len(self.torques) > 2 and abs(self.torques[1] / self.torques[0] - 1) < 0.05

    @property
    def top(self) -> float:
        """Fastest point, rad/s."""
        return self.speeds[-1]


def curve_of(parts: MotorParts) -> Curve | Missing | None:
    """The curve of a motor's record; None where it has none, `Missing` where its voltage or current is not told."""
    motor = parts.motor
    if not motor.curve_speeds:
        return None
    lacking = [name for name in ("curve_torques", "curve_voltage", "curve_current") if not getattr(motor, name)]
    if motor.curve_voltage is None or motor.curve_current is None or lacking:
        return Missing(", ".join(f"{parts.path}.motor.{name}" for name in lacking))
    speeds, torques = read_points(motor.curve_speeds, "turn-speed"), read_points(motor.curve_torques, "torque")
    if len(speeds) != len(torques) or len(speeds) < 3 or list(speeds) != sorted(speeds) or min(*speeds, *torques) <= 0:
        return Missing(f"{parts.path}.motor.curve_torques (at least 3 points, as many as speeds, speeds growing, all above 0)")
    return Curve(speeds, torques, typical(motor.curve_voltage), typical(motor.curve_current.peak))


def read_points(text: str, kind: str) -> tuple[float, ...]:
    """Numbers parted by commas, the unit behind the last serves all; in SI.

    Example:
        >>> read_points("4.4, 4.3, 390 N m", "torque")
        (4.4, 4.3, 390.0)
    """
    *others, last = (plain(part) for part in text.split(","))
    measured = read_scalar(last, kind)
    return (*(read_scalar(part, kind, measured.unit).value for part in others), measured.value)
