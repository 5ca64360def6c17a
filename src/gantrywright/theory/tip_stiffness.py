"""From give to push-off and back: the small sums round the stiffness at the tool."""

from gantrywright.base.formula import formula
from gantrywright.base.units import Metre, MetrePerNewton, Newton, NewtonPerMetre, Number


@formula("d = C F", source="definition")
def pushed_off(*, give: MetrePerNewton, force: Newton) -> Metre:
    """How far the tool is pushed off the work.

    Args:
        give: Of the tool against the work along the force.
        force: On the tool.

    Example:
        >>> round(pushed_off(give=0.25e-6, force=40.0) * 1e6, 9)
        10.0
    """
    return give * force


@formula("k = F / (s e)", source="definition")
def needed_stiffness(*, force: Newton, accuracy: Metre, share: Number) -> NewtonPerMetre:
    """Stiffness at the tool that keeps the push-off within its share of an accuracy.

    Args:
        force: That presses the tool off the wall.
        accuracy: Wanted of the part.
        share: Part of it that the push-off may use.

    Example:
        >>> round(needed_stiffness(force=30.0, accuracy=0.1e-3, share=0.5) / 1e6, 9)
        0.6
    """
    return force / (share * accuracy)


@formula("C = greatest eigenvalue of the give in the plane", source="definition")
def give_in_plane(*, along_x: MetrePerNewton, along_y: MetrePerNewton, across: MetrePerNewton) -> MetrePerNewton:
    """Greatest give over all directions of a plane.

    Args:
        along_x: Give along the first direction.
        along_y: Give along the second.
        across: Motion along one per force along the other.

    Example:
        >>> round(give_in_plane(along_x=3.0, along_y=1.0, across=0.0), 9)
        3.0
    """
    mean, half = (along_x + along_y) / 2, (along_x - along_y) / 2
    return mean + (half**2 + across**2) ** 0.5
