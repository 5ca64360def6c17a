"""Whether the work stays where it is: slip, lift, tipping, the smallest part that holds, and how a sheet gives between its clamps.

Forces are those on the work: a push in the plane of the table and a lift away from it (an up-cut helix lifts; below 0 it presses).
"""

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import GRAVITY, Kilogram, Metre, Newton, NewtonSquareMetre, Number, Pascal, Real, SquareMetre

PRESSED: float = 1e-9
"""Share of the push below which what presses counts as nothing."""


@formula("N = dp A + m g + F_clamps", source="definition")
def pressing_force(*, pressure: Pascal = 0.0, area: SquareMetre = 0.0, mass: Kilogram = 0.0, clamps: Newton = 0.0) -> Newton:
    """Force that presses the work on the table before anything cuts.

    Args:
        pressure: Held by the vacuum, below that of the air.
        area: That it acts on; without pockets and cuts that go through.
        mass: Of the work.
        clamps: Forces of all clamps together, at the work.

    Example:
        >>> pressing_force(pressure=30e3, area=0.06)
        1800.0
    """
    return pressure * area + mass * GRAVITY + clamps


@formula("F = mu max(N - F_lift, 0) s/S", source="definition")
def slip_push(*, pressing: Newton, friction: Number, lift: Newton = 0.0, share: Number = 1.0, safety: Number = 1.0) -> Newton:
    """Push in the plane of the table that friction holds.

    Args:
        pressing: Force that presses the work down.
        friction: Coefficient between work and table.
        lift: Pull of the cutter on the work, upwards.
        share: Of the friction that is left where the push passes beside the middle (`rectangle_share`).
        safety: Divisor.

    Example:
        >>> float(slip_push(pressing=1800.0, friction=0.3))
        540.0
    """
    force: Newton = friction * np.maximum(pressing - lift, 0.0) * share / safety
    return force


@formula("u = S F/(mu (N - F_lift) s)", source="definition")
def slip_use(*, push: Newton, pressing: Newton, friction: Number, lift: Newton = 0.0, share: Number = 1.0) -> Number:
    """How near the work is to slipping: 1 slips.

    Args:
        push: In the plane of the table.
        pressing: Force that presses the work down.
        friction: Coefficient between work and table.
        lift: Pull upwards.
        share: Of the friction that is left where the push passes beside the middle.

    Returns:
        Infinite where nothing presses any more.
    """
    holds = np.asarray(slip_push(pressing=pressing, friction=friction, lift=lift, share=share))
    loose = holds <= PRESSED * push
    used: Number = np.where(loose, np.inf, push / np.where(loose, 1.0, holds))
    return used


@formula("F = N/S", source="definition")
def lift_pull(*, pressing: Newton, safety: Number = 1.0) -> Newton:
    """Pull that lifts the work off the table, right over the middle of what presses.

    Args:
        pressing: Force that presses the work down.
        safety: Divisor.
    """
    return pressing / safety


@formula("u = (F h + F_lift a)/(N b)", source="derived")
def tipping_use(
    *, push: Newton, height: Metre, pressing: Newton, lever: Metre, lift: Newton = 0.0, lift_lever: Metre = 0.0
) -> Number:
    """How near the work is to tipping over an edge: at 1 its other side comes up.

    Args:
        push: Square to the edge, in the plane of the table.
        height: Of the push over the table.
        pressing: Force that presses the work down.
        lever: Of what presses from the edge: half the width for a part that is held all over.
        lift: Pull upwards; one that presses is left out, as it may act right over the edge.
        lift_lever: Of the lift from the edge: the whole width at worst.

    Returns:
        Infinite where nothing presses.

    Source:
        [derived] moments about the edge.

    Example:
        >>> tipping_use(push=60.0, height=0.05, pressing=120.0, lever=0.05)
        0.5
    """
    tips = push * height + np.maximum(lift, 0.0) * lift_lever
    rights = np.asarray(pressing * lever)
    used: Number = np.where(rights > 0, tips / np.where(rights > 0, rights, 1.0), np.inf)
    return used if np.ndim(used) else float(used)


@formula("u = 6 M/(b (N - F_lift)), M = F h + F_lift (a - b/2)", source="derived")
def gaping_use(
    *, push: Newton, height: Metre, pressing: Newton, width: Metre, lift: Newton = 0.0, lift_lever: Metre = 0.0
) -> Number:
    """How near an evenly held face is to opening at one edge: at 1 nothing presses there any more, and a vacuum begins to leak.

    That is a third of the moment that tips it over.

    Args:
        push: Square to the edge, in the plane of the table.
        height: Of the push over the table.
        pressing: Force that presses the work down.
        width: Of the face, square to the edge.
        lift: Pull upwards.
        lift_lever: Of the lift from the edge that the work would tip over.

    Returns:
        Infinite where nothing presses.

    Source:
        [derived] middle third: a resultant within it leaves the whole face pressed.
    """
    up = np.maximum(lift, 0.0)
    moment = push * height + up * (lift_lever - width / 2)
    left = np.asarray((pressing - up) * width)
    used: Number = np.where(left > 0, 6 * moment / np.where(left > 0, left, 1.0), np.inf)
    return used if np.ndim(used) else float(used)


@formula("A = S (F/(mu s) + F_lift)/dp", source="derived")
def smallest_area(
    *, push: Newton, pressure: Pascal, friction: Number, lift: Newton = 0.0, share: Number = 1.0, safety: Number = 2.0
) -> SquareMetre:
    """Least area of a part that the vacuum, or the tape, still holds by itself.

    Args:
        push: In the plane of the table, greatest.
        pressure: That is held under the part.
        friction: Coefficient between work and table.
        lift: Pull upwards, greatest.
        share: Of the friction that is left where the push passes beside the middle.
        safety: Factor on the forces.

    Example:
        >>> round(float(smallest_area(push=60.0, pressure=40e3, friction=0.3)), 6)
        0.01
    """
    return safety * (push / (friction * share) + np.maximum(lift, 0.0)) / pressure


@formula("w = F l^3/(c E I), c = 48 resting, 192 held at both ends", source="shigley")
def sheet_rise(*, lift: Newton, span: Metre, bending: NewtonSquareMetre, held: Number = 0.0) -> Metre:
    """How far a sheet comes up in the middle between two clamps: this much the cut is too deep.

    Args:
        lift: Pull of the cutter.
        span: Between the clamps.
        bending: Stiffness E I of the strip of sheet that bends; its width is about the span at most.
        held: 0: the sheet may tilt at its clamps; 1: they hold it level. Between them by straight line of the stiffness.
    """
    stiffness = (48 + (192 - 48) * held) * bending
    return lift * span**3 / stiffness


@formula("E I = E b t^3/12", source="definition")
def strip_bending(*, modulus: Pascal, width: Metre, thickness: Metre) -> NewtonSquareMetre:
    """Bending stiffness of a strip of sheet.

    Args:
        modulus: Elastic, of the sheet.
        width: Of the strip.
        thickness: Of the sheet.
    """
    return modulus * width * thickness**3 / 12


@formula("l = (c E I w/F)^(1/3)", source="shigley")
def clamp_spacing(*, lift: Newton, bending: NewtonSquareMetre, rise: Metre, held: Number = 0.0) -> Metre:
    """Distance between clamps at which a sheet comes up by no more than is wanted.

    Args:
        lift: Pull of the cutter, above 0.
        bending: Stiffness E I of the strip of sheet that bends.
        rise: Allowed, in the middle.
        held: 0: the sheet may tilt at its clamps; 1: they hold it level.
    """
    spacing: Real = np.cbrt((48 + (192 - 48) * held) * bending * rise / lift)
    return spacing
