"""How far everything really goes, what meets what, and what stops it."""

from dataclasses import dataclass

from gantrywright.base.units import Joule, Metre, Newton


@dataclass(frozen=True, slots=True)
class AxisTravel:
    """One axis: travel that the metal gives against the travel that is wanted."""

    axis: str
    wanted: float
    by_rails: float | None
    """Rail length less block row, block length and two stops, m."""
    by_screw: float | None
    """Free thread less nut and end clearances, m; None for racks and belts without such a limit."""
    gives: float | None
    """The least of them."""
    binds: str
    stop_energy: Joule | None
    """Energy of everything that moves with the axis at the promised rapid, rotors included."""
    stop_force: Newton | None
    """Thrust of the stalled drives on the stop."""
    bumper_stroke: Metre | None
    """Stroke that a bumper needs so that its force stays under what the weakest part bears."""
    weakest: str
    weakest_force: Newton | None
    bumper_force: Newton | None = None
    """At the end of a bumper that fills the room between travel and stop."""


@dataclass(frozen=True, slots=True)
class Meeting:
    """Two solids that come together somewhere in the work area."""

    a: str
    b: str
    overlap: float
    """Depth of the deepest overlap, m; negative is the least gap."""
    pose: tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class TravelResult:
    """All axes by name, and the whole."""

    axes: dict[str, AxisTravel]
    daylight: float | None
    """Least height of the gantry's lower edge over the table, m."""
    z_reach_low: float
    """Lowest place of the tip above the table at full travel, m; negative: it reaches into the table."""
    z_reach_high: float
    meetings: tuple[Meeting, ...]
    """Deepest first."""
    short: tuple[tuple[str, float], ...]
    """Side of the work area that the tip does not reach, and by how much, m."""
