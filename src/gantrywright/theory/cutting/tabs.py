"""Bridges that keep a part in its sheet while it is cut out: what they bear, and how many are needed.

A tab is as wide as it is along the kerf, as thick as what the cutter leaves below it, and as long as the kerf is wide.
"""

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Metre, Newton, Number, Pascal, Real


@formula("F = n w t tau", source="definition")
def tab_shear(*, count: Number, width: Metre, thickness: Metre, shear_strength: Pascal) -> Newton:
    """Force along the kerf, or up, that shears all tabs at once.

    Args:
        count: Tabs that bear it.
        width: Of each, along the kerf.
        thickness: Of each.
        shear_strength: Of the work.

    Example:
        >>> tab_shear(count=4, width=6e-3, thickness=1.5e-3, shear_strength=8e6)
        288.0
    """
    return count * width * thickness * shear_strength


@formula("F = n w t^2 sigma/(3 k)", source="derived")
def tab_bending(*, count: Number, width: Metre, thickness: Metre, kerf: Metre, strength: Pascal) -> Newton:
    """Lift that breaks the tabs by bending them across the kerf: both their ends stay level, so that the moment is F k/2.

    A thin tab breaks like this long before it shears.

    Args:
        count: Tabs that bear it.
        width: Of each, along the kerf.
        thickness: Of each.
        kerf: Width of the cut that they bridge.
        strength: In bending, of the work in that direction; the yield strength of a metal.

    Source:
        [derived] beam held at both ends that are shifted against each other.
    """
    return count * width * thickness**2 * strength / (3 * kerf)


@formula("F = n min(w t tau, w t^2 sigma/(3 k))", source="derived")
def tab_lift(*, count: Number, width: Metre, thickness: Metre, kerf: Metre, shear_strength: Pascal, strength: Pascal) -> Newton:
    """Lift that the tabs of a part bear.

    Args:
        count: Tabs that bear it.
        width: Of each, along the kerf.
        thickness: Of each.
        kerf: Width of the cut that they bridge.
        shear_strength: Of the work.
        strength: In bending.
    """
    shear = tab_shear(count=count, width=width, thickness=thickness, shear_strength=shear_strength)
    force: Newton = np.minimum(shear, tab_bending(count=count, width=width, thickness=thickness, kerf=kerf, strength=strength))
    return force


@formula("F = n min(w t tau, w^2 t sigma/(3 k))", source="derived")
def tab_push(*, count: Number, width: Metre, thickness: Metre, kerf: Metre, shear_strength: Pascal, strength: Pascal) -> Newton:
    """Push along the kerf that the tabs of a part bear.

    Args:
        count: Tabs on the sides that run along the push.
        width: Of each, along the kerf.
        thickness: Of each.
        kerf: Width of the cut that they bridge.
        shear_strength: Of the work.
        strength: In bending.
    """
    shear = tab_shear(count=count, width=width, thickness=thickness, shear_strength=shear_strength)
    bent = tab_bending(count=count, width=thickness, thickness=width, kerf=kerf, strength=strength)
    force: Newton = np.minimum(shear, bent)
    return force


@formula("n = ceil(S F/F_1)", source="definition")
def tabs_needed(*, force: Newton, each: Newton, safety: Number = 2.0) -> Number:
    """Tabs that a force takes, of which none is spared.

    Args:
        force: Lift or push on the part.
        each: That one tab bears.
        safety: Factor on the force.
    """
    count: Real = np.ceil(safety * np.maximum(force, 0.0) / each - 1e-9)
    return count
