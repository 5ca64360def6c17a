"""Profile rail guides: equivalent load, static safety, friction, preload. Loads of blocks come from `carriage`."""

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Newton, NewtonMetre, Number, Real

UNLOADING = 2**1.5
"""Load over preload at which the unloaded row of an opposed pair of ball rows lets go (Hertz contact, exact)."""


@formula("P = |Py| + |Pz|", source="derived")
def equivalent_load(*, lateral: Newton, normal: Newton) -> Newton:
    """Load of a block with four rows at 45 degrees and equal ratings in all directions: it falls on one row.

    Example:
        >>> float(equivalent_load(lateral=93.75, normal=-130.31))
        224.06
    """
    return np.abs(lateral) + np.abs(normal)


@formula("P = C0 |M|/M0", source="common practice, no source")
def moment_load(*, moment: NewtonMetre, static_moment: NewtonMetre, static_rating: Newton) -> Newton:
    """Load that stands for a moment on one block alone."""
    return static_rating * np.abs(moment) / static_moment


@formula("S0 = C0/P", source="iso-14728-2")
def static_safety(*, static_rating: Newton, load: Newton) -> Number:
    """Static safety of a block: its static rating over the greatest equivalent load."""
    return static_rating / np.maximum(load, 1e-9)


@formula("F1 = Fp (1 + P/(2.83 Fp))^1.5 while P < 2.83 Fp, else P", source="common practice, no source")
def loaded_side(*, load: Newton, preload: Newton) -> Newton:
    """Force of the loaded rows of a preloaded block; at most 2.5 % above the exact Hertz solution.

    Args:
        load: On the block.
        preload: Force of the opposed rows against each other.
    """
    held = np.maximum(preload, 1e-9)
    ratio = load / (UNLOADING * held)
    force: Real = np.where(ratio < 1, held * (1 + np.minimum(ratio, 1.0)) ** 1.5, load)
    return force if np.ndim(force) else float(force)


@formula("F = mu (F1 + F2), F2 = F1 - P; F1 from the preload", source="common practice, no source")
def rolling_friction(*, load: Newton, preload: Newton, friction: Number) -> Newton:
    """Rolling friction of one block: coefficient times the force of all its rows, loaded and unloaded.

    Without preload this is friction times load.
    """
    return friction * (2 * loaded_side(load=load, preload=preload) - load)


@formula("F = sum of rolling friction + n seals", source="common practice, no source")
def guide_friction(*, rolling: Newton, blocks: int, seal: Newton) -> Newton:
    """Friction of a whole guide.

    Args:
        rolling: Of all blocks together.
        blocks: Their number.
        seal: Drag of the seals of one block.
    """
    return rolling + blocks * seal
