"""Sizes of a first machine that follow from its work area, in millimetres: proportions of an ordinary build (common practice, no source).

The demo machines taught them; the tests hold every size between to a machine that stands.
"""


def rail_length(travel: float, spacing: float, block: float, *, stops: float) -> float:
    """Both blocks stay on the rail over the travel, with room for a stop, and the end of a rail that is cut past a hole."""
    return travel + spacing + block + 2 * stops


def beam_over_blocks(z: float) -> float:
    """Middle of a moving beam over the line of the Y blocks: half of the Z stack hangs below it at rest, and work of the wanted height,
    clamps and cutter on top of it, still passes under the carriage at the highest Z."""
    return 1.5 * z + 225


def beam_over_base(z: float) -> float:
    """As `beam_over_blocks`, over a base that carries a table with its blocks, spacers and spoil board."""
    return 1.5 * z + 187


def spindle_before_beam(z: float) -> float:
    """Axis of the spindle in front of the middle of a fixed beam: half of the beam, X guide, carriage, Z guide, head and spindle mount."""
    return 178 + plate_thickness(z)


def upright_height(lift: float) -> float:
    """From below the Y blocks, which are bolted to its foot, to the upper edge of the beam (half of 160 mm)."""
    return 150 + lift + 80


def table_screw(y: float) -> float:
    """The motor stays behind the table at the end of its travel: half a table, the travel, and as much again in front."""
    return 2 * y + 80


def z_travel(z: float) -> float:
    """A little beyond what is wanted: a longer cutter, a thinner board, the back-off of the home sensor."""
    return z + 20


def accuracy(x: float, y: float, z: float) -> float:
    """What an ordinary build of that size may be asked for: less of a wide machine, and of one whose Z axis hangs far out."""
    reach = max(x, y, 6 * z)
    return 0.3 if reach <= 600 else 0.5 if reach <= 1300 else 0.8


def table_rail(x: float) -> float:
    """Each rail of a table from its middle: under the edges of a small one, further in under a wide one, so that it sags less between."""
    return min(x / 2 - 25, max(125.0, 0.32 * x))


def table_spacing(y: float) -> float:
    """Blocks of a table along its travel: the longer it is, the farther apart, so that its ends do not hang far beyond them."""
    return max(230.0, 0.45 * y)


def plate_thickness(z: float) -> float:
    """Of carriage and head: the longer the Z axis, the more its plates bend under the cutter."""
    return 15 + 5 * round(z / 40)


def carriage_height(z: float) -> float:
    """The Z rails lie on it in full."""
    return z_rail(z)


def z_rail(z: float) -> float:
    """Short ends: the rails lie on the carriage, and every millimetre of it hangs lower over the work."""
    return rail_length(z_travel(z), 110, 77, stops=6.5)


def z_screw(z: float) -> float:
    """Bearing to bearing: the travel, the nut, and little more, since what hangs below the carriage takes daylight."""
    return z_travel(z) + 120


def mount_height(reach: float, z: float) -> float:
    """Middle of the spindle's mount from the middle of the head: the higher the beam stands over the table, the lower it hangs, so that
    the tip just reaches the table.

    Args:
        reach: What the parts between rail line and tip leave, found by the reach check.
        z: Wanted height of the work area.
    """
    return reach - z
