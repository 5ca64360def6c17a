"""The spoilboard: ridges that a tilted head leaves, how much to face off and how often, and how far the board sags.

Tilt across the feed is the slope of the spindle seen along the feed; tilt along the feed is its nod forward or back.
"""

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Metre, MetrePerMetre, Newton, NewtonMetre, Number, Pascal, Real


@formula("t = (difference of the dial)/(diameter of its sweep)", source="definition")
def tram_slope(*, difference: Metre, sweep: Metre) -> MetrePerMetre:
    """Slope of the head, from a dial that is swept round by the spindle.

    Args:
        difference: Of the readings at opposite ends of the sweep.
        sweep: Diameter of the circle that the dial runs on.
    """
    return difference / sweep


@formula(
    "c = sqrt(t_a^2 + t_f^2) (R - sqrt(R^2 - s^2 (1 + t_a^2/t_f^2)/4)); where t_a^2 s >= t_f^2 (2 R - s): "
    "t_a (s - R) - t_f sqrt(s (2 R - s)) + R sqrt(t_a^2 + t_f^2)",
    source="derived",
)
def tram_step(*, across: MetrePerMetre, along: MetrePerMetre, diameter: Metre, spacing: Metre) -> Metre:
    """Height of the ridges between the passes of a flat cutter whose spindle is not square to the board.

    Tilt across the feed alone leaves steps of the spacing times the slope. Tilt along it leaves hollows that are far lower; both
    together can leave less than the first alone, because each pass takes the ridge of the last.

    Args:
        across: Slope across the feed, either way.
        along: Slope along the feed, either way.
        diameter: Of the cutter.
        spacing: Between passes.

    Returns:
        From valley to ridge; infinite where passes lie further apart than the cutter is wide, so that strips are left.

    Source:
        [derived] lower envelope of the half ellipses that the passes sweep; brute force finds the same (tests/against).

    Example:
        >>> round(float(tram_step(across=1e-3, along=0.0, diameter=0.025, spacing=0.01)) * 1e6, 3)
        10.0
        >>> round(float(tram_step(across=1e-3, along=1e-3, diameter=0.025, spacing=0.01)) * 1e6, 2)
        3.1
    """
    radius, side, nod = np.asarray(diameter) / 2, np.abs(across), np.abs(along)
    gap = np.minimum(spacing, 2 * radius)
    slope = np.hypot(side, nod)
    edge = gap * (2 * radius - gap)
    stepped = side**2 * gap**2 >= nod**2 * edge
    step = side * (gap - radius) - nod * np.sqrt(edge) + radius * slope
    chord = np.where(stepped, 0.0, (gap / 2) ** 2 * (1 + (side / np.where(stepped, 1.0, nod)) ** 2))
    hollow = slope * chord / (radius + np.sqrt(np.maximum(radius**2 - chord, 0.0)))
    height: Real = np.where(spacing > 2 * radius, np.inf, np.where(stepped, step, hollow))
    return height


@formula("s = h/t", source="derived")
def spacing_for_step(*, across: MetrePerMetre, step: Metre, diameter: Metre, most: Number = 0.6) -> Metre:
    """Spacing of passes at which a head tilted across the feed leaves no higher ridges than are wanted.

    Args:
        across: Slope across the feed, either way.
        step: Height of ridges that is still good.
        diameter: Of the cutter.
        most: Greatest spacing, as a part of the diameter.
    """
    slope = np.asarray(np.abs(across), dtype=float)
    spacing: Real = np.where(slope * most * diameter > step, step / np.where(slope > 0, slope, 1.0), most * diameter)
    return spacing


@formula("a = unevenness + |slope| l + ridge + margin", source="derived")
def facing_depth(*, unevenness: Metre, slope: MetrePerMetre, length: Metre, ridge: Metre = 0.0, margin: Metre = 0.0) -> Metre:
    """How much must come off the board at its highest place before the cutter has touched all of it.

    Args:
        unevenness: Highest over lowest place of the board as it lies, grooves of old cuts included where they must go.
        slope: Of the board against the plane that the machine moves in.
        length: Over which it slopes.
        ridge: Between passes.
        margin: Taken besides.
    """
    depth: Real = unevenness + np.abs(slope) * length + ridge + margin
    return depth


@formula("n = ceil(a/ap)", source="definition")
def facing_passes(*, depth: Metre, each: Metre) -> Number:
    """Passes over the whole board.

    Args:
        depth: That must come off.
        each: Depth of one pass.
    """
    count: Real = np.ceil(np.asarray(depth / each) - 1e-9)
    return count


@formula("n = floor((t - t_min)/a)", source="definition")
def facings_left(*, thickness: Metre, least: Metre, depth: Metre) -> Number:
    """How many times a board can be faced before it is too thin, its screws are met or it sags too far.

    Args:
        thickness: Of the board now.
        least: Thickness that must stay.
        depth: Taken off each time.
    """
    count: Real = np.maximum(np.floor(np.asarray((thickness - least) / depth) + 1e-9), 0.0)
    return count


@formula("w = c p l^4/(384 D), c = 5 on two bearers, 1 running on over many", source="timoshenko-plates")
def pressed_sag(*, pressure: Pascal, span: Metre, plate: NewtonMetre, continuous: Number = 1.0) -> Metre:
    """How far the board sinks between its bearers, or over a channel of a vacuum table, under an even pressure.

    Args:
        pressure: Weight per area, or what the vacuum pulls with.
        span: Between bearers, or width of the channel.
        plate: Bending stiffness per width (`plate_stiffness`).
        continuous: 1: the board runs on over many bearers and its slope over each is nil; 0: it lies on two.

    Returns:
        In the middle of the span.
    """
    factor = 5 - 4 * continuous
    return factor * pressure * span**4 / (384 * plate)


@formula("w = 0.01695 F l^2/D", source="timoshenko-plates")
def pushed_sag(*, force: Newton, span: Metre, plate: NewtonMetre) -> Metre:
    """How far the board sinks under the cutter in the middle between two bearers; `plate_strip` knows other places and more spans.

    Args:
        force: Of the cutter, downwards.
        span: Between bearers.
        plate: Bending stiffness per width.
    """
    return 0.01695 * force * span**2 / plate


@formula("h = dt_board + dt_work + sag", source="definition")
def depth_left_over(*, board_band: Metre, work_band: Metre, sag: Metre = 0.0) -> Metre:
    """How far a cut must go into the board to come through the work everywhere.

    Args:
        board_band: Highest over lowest place of the board.
        work_band: Thickest over thinnest place of the work.
        sag: Of both under the cut.
    """
    return board_band + work_band + sag
