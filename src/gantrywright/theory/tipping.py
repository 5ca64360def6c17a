"""A machine that stands on its feet without being held down: what acceleration lifts a foot, what each foot bears.

The machine is rigid here; how it rocks on soft feet is a matter of its modes.
"""

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import (
    GRAVITY,
    Array,
    Kilogram,
    Metre,
    MetrePerSecondSquared,
    Newton,
    NewtonMetre,
    NewtonPerMetre,
    Number,
)


@formula("M = m a h", source="definition")
def tilting_moment(*, mass: Kilogram, acceleration: MetrePerSecondSquared, height: Metre) -> NewtonMetre:
    """Moment with which what an axis accelerates tilts the machine about the floor.

    Args:
        mass: That the axis moves.
        acceleration: Of the axis.
        height: Of the centre of that mass over the floor.
    """
    return mass * acceleration * height


@formula("M = m g b", source="definition")
def righting_moment(*, mass: Kilogram, lever: Metre) -> NewtonMetre:
    """Moment with which the weight holds the machine down against tilting about the line through two feet.

    Args:
        mass: Of the whole machine.
        lever: Level distance of its centre of mass from that line; below 0 it falls over by itself.
    """
    return mass * GRAVITY * lever


@formula("u = m_a a h/(m g b)", source="derived")
def tipping_use(*, moving: Kilogram, acceleration: MetrePerSecondSquared, height: Metre, mass: Kilogram, lever: Metre) -> Number:
    """How much of what holds the machine down an acceleration uses up; at 1 the feet on the far side lift off.

    1 minus it is the part of the far feet's rest load that is left.

    Args:
        moving: Mass that the axis moves.
        acceleration: Of the axis.
        height: Of the centre of the moving mass over the floor.
        mass: Of the whole machine.
        lever: Level distance of its centre of mass from the line of feet that it would tip over.

    Returns:
        Infinite where the centre stands over the line or beyond.

    Source:
        Derived: moments about the line.

    Example:
        >>> round(float(tipping_use(moving=20.0, acceleration=2.0, height=1.0, mass=80.0, lever=0.25)), 4)
        0.2039
    """
    holds = righting_moment(mass=mass, lever=lever)
    tilts = tilting_moment(mass=moving, acceleration=acceleration, height=height)
    return np.where(np.asarray(holds) > 0, tilts / np.where(np.asarray(holds) > 0, holds, 1.0), np.inf)


@formula("a = m g b/(m_a h)", source="derived")
def tipping_acceleration(*, moving: Kilogram, height: Metre, mass: Kilogram, lever: Metre) -> MetrePerSecondSquared:
    """Acceleration that just lifts the feet on the far side.

    Args:
        moving: Mass that the axis moves.
        height: Of the centre of the moving mass over the floor, above 0.
        mass: Of the whole machine.
        lever: Level distance of its centre of mass from the line of feet that it would tip over.

    Source:
        Derived: moments about the line.

    Example:
        >>> round(float(tipping_acceleration(moving=20.0, height=1.0, mass=80.0, lever=0.25)), 5)
        9.80665
    """
    return np.maximum(righting_moment(mass=mass, lever=lever), 0.0) / (moving * height)


def tipping_lines(feet: Array) -> tuple[Array, Array]:
    """Lines over which a machine on feet can tip: the sides of the outline of its feet.

    Args:
        feet: Places on the floor, m, shape (n, 2), not all on one line.

    Returns:
        Inward unit normals, shape (s, 2), and the distance of each line from the origin along its normal, shape (s,): the lever of
        a centre (x, y) is normal . (x, y) - distance.
    """
    from shapely import MultiPoint

    outline = MultiPoint(np.asarray(feet, dtype=float)).convex_hull
    if outline.geom_type != "Polygon":
        raise ValueError("feet on one line hold nothing upright")
    corners = np.array(outline.normalize().exterior.coords)
    sides = np.diff(corners, axis=0)
    inward = np.stack((-sides[:, 1], sides[:, 0]), axis=1) / np.hypot(sides[:, 0], sides[:, 1])[:, None]
    inward *= np.sign(((corners[:-1].mean(axis=0) - corners[:-1]) * inward).sum(axis=1))[:, None]
    return inward, (inward * corners[:-1]).sum(axis=1)


@formula("N_i = k_i (z + r_x y_i - r_y x_i), sum N = W, moments balance", source="derived")
def foot_forces(*, feet: Array, stiffness: NewtonPerMetre, weight: Newton, centre: tuple[Metre, Metre],
                moment: tuple[NewtonMetre, NewtonMetre] = (0.0, 0.0)) -> Newton:  # fmt: skip
    """What each foot of a rigid machine bears, on feet that all give.

    Args:
        feet: Places on the floor, m, shape (n, 2).
        stiffness: Of each foot upwards, shape (n,), or one for all.
        weight: Of the machine.
        centre: Of mass, level, m.
        moment: About x and y of the machine, right-hand rule, of all but the weight; what accelerates along x with m a at height h
            reacts with (0, -m a h), along y with (m a h, 0).

    Returns:
        Shape (..., n); below 0 where a foot would have to pull.

    Source:
        Derived: the lever rule for more than three feet.

    Example:
        >>> corners = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]])
        >>> foot_forces(feet=corners, stiffness=1e7, weight=800.0, centre=(0.5, 0.5), moment=(100.0, 0.0))
        array([250., 250., 150., 150.])
    """
    places = np.asarray(feet, dtype=float)
    springs = np.broadcast_to(np.asarray(stiffness, dtype=float), (len(places),))
    basis = np.stack((np.ones(len(places)), places[:, 1], -places[:, 0]), axis=1)
    loads = np.broadcast_arrays(weight, weight * centre[1] - moment[0], -weight * centre[0] - moment[1])
    sinking = np.linalg.solve((basis.T * springs) @ basis, np.stack(loads, axis=0).reshape(3, -1)).T
    forces: Array = (sinking @ basis.T) * springs
    return forces.reshape(*np.shape(loads[0]), len(places))
