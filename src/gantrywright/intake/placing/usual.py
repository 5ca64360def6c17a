"""Parts that are taken where a file leaves them out: nut, end bearing, coupling."""

from gantrywright.base.units import Real
from gantrywright.catalog import kinds
from gantrywright.intake.placing.world import World

BORES = (6, 8, 10, 12, 15, 17, 20, 25, 30)
"""Bores of ordinary screw end bearings, mm."""
NECK = 0.8
"""Greatest bearing seat over the nominal diameter of the screw; common practice, no source."""
COUPLINGS = ((50.0, "coupling-jaw-20"), (70.0, "coupling-jaw-30"), (100.0, "coupling-jaw-40"), (1e9, "coupling-jaw-55"))
"""Usual coupling up to a motor flange of so many mm; common practice, no source."""
FLANGES = {"8": 20.0, "11": 28.0, "14": 35.0, "16": 39.0, "17": 42.3, "23": 57.2, "24": 60.0, "34": 86.0, "42": 110.0}
"""Flange of the NEMA ICS 16 frame sizes, mm; from memory."""


def flange(motor: kinds.Motor | None) -> float:
    """Side of the motor's flange, mm; that of the middle size where its frame says nothing."""
    word = (motor.frame if motor is not None else "").replace("-", " ")
    numbers = [part for part in word.split() if part.replace(".", "").isdigit()]
    if not numbers:
        return FLANGES["23"]
    return FLANGES.get(numbers[0], float(numbers[0])) if "NEMA" in word.upper() else float(numbers[0])


def usual_coupling(motor: kinds.Motor | None) -> str:
    """Name of the coupling that goes with a motor; empty where there is none."""
    if motor is None:
        return ""
    side = flange(motor)
    return next(name for limit, name in COUPLINGS if side <= limit)


def usual_bearing(screw: kinds.BallScrew | kinds.LeadScrew | None) -> str:
    """Name of the fixed end bearing that goes with a screw."""
    if screw is None or screw.diameter is None:
        return ""
    room = NECK * _number(screw.diameter) * 1e3
    bore = max((size for size in BORES if size <= room + 1e-6), default=BORES[0])
    return f"bearing-fixed-{bore}"


def usual_nut(world: World, screw: kinds.BallScrew | kinds.LeadScrew | None) -> str:
    """Name of the plain single nut of a screw that is named after a row; empty where the tables have none."""
    if screw is None or not screw.id:
        return ""
    stem = screw.id.removeprefix("ball-screw-").removeprefix("lead-screw-")
    name = f"nut-bronze-{stem}" if isinstance(screw, kinds.LeadScrew) else f"nut-{stem}"
    return name if name in world.reading.catalog.names("nut") else ""


def _number(value: Real) -> float:
    """A dimension that may be sampled, for choosing a part: its mean."""
    return float(value) if not hasattr(value, "mean") else float(value.mean())
