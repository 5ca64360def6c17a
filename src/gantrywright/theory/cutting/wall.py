"""How far a pushed cutter stands off the wall and the floor that it leaves, slowly loaded: each place counts at the moment it is made.

A place of the wall is made when a tooth passes it: at angle 0 on the left of the feed (conventional), at half a turn on its right (climb). With
a helix that moment is another at every height. Positive errors take metal that should stay. What swinging adds is told in `surface`.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Array, Metre, Radian, Real
from gantrywright.theory.cutting.cycle import Cycle, Grain, force_cycle, rotation_angles
from gantrywright.theory.cutting.edges import STRAIGHT, Stretch
from gantrywright.theory.cutting.engagement import Way
from gantrywright.theory.cutting.forces import Coefficients
from gantrywright.theory.cutting.run_out import radius_offsets

HEIGHTS = 9
"""Places over the height of a wall at which its error is told."""
FLOOR_ANGLES = 72
"""Places of a turn at which the floor is looked at."""


@dataclass(frozen=True, slots=True)
class WallError:
    """How far a wall is off, positive into what should stay."""

    heights: Array
    """Above the tip, m, shape (h,), or (n, h) where the depth is sampled."""
    error: Array
    """Shape (..., h)."""

    @property
    def most(self) -> Metre:
        """Farthest into what should stay."""
        return _plain(self.error.max(axis=-1))

    @property
    def least(self) -> Metre:
        """Farthest short of it."""
        return _plain(self.error.min(axis=-1))

    @property
    def mean(self) -> Metre:
        """Over the height."""
        return _plain((self.error[..., 1:] + self.error[..., :-1]).mean(axis=-1) / 2)

    @property
    def worst(self) -> Metre:
        """The larger of `most` and `least`, with its sign."""
        worst: Real = np.where(np.abs(self.most) >= np.abs(self.least), self.most, self.least)[()]
        return worst


@dataclass(frozen=True, slots=True)
class FloorError:
    """How far the tip is off over a turn, positive too deep."""

    deepest: Metre
    """What stays of the floor: teeth that pass later do not put metal back."""
    shallowest: Metre
    mean: Metre


def wall_heights(edge: Sequence[Stretch], count: int = HEIGHTS) -> Array:
    """Even heights over the engaged edge, from the tip up; shape (h,), or (n, h) where the depth is sampled."""
    depth: Real = sum((part.height for part in edge), 0.0)
    even: Array = np.asarray(depth)[..., None] * np.linspace(0.0, 1.0, count)
    return even


def making_angles(*, edge: Sequence[Stretch], way: Way, heights: Array) -> Array:
    """Angle of the tip of a tooth at the moment when it makes the wall at some heights.

    A straight flute makes the whole height at once, while all of it is still in the work.

    Args:
        edge: Stretches of the engaged edge, from the tip up.
        way: Climb or conventional.
        heights: Above the tip, shape (h,), or (n, h).

    Returns:
        Shape (..., h).
    """
    late: Real = 0.0 * heights
    foot: Real = 0.0
    ahead: Real = 0.0
    behind: Real = 0.0
    total: Real = 0.0
    straight: Real = True
    for part in edge:
        within = np.clip(heights - np.asarray(foot)[..., None], 0.0, np.asarray(part.height)[..., None])
        late = late + np.asarray(part.lag)[..., None] * within
        foot, total = foot + part.height, total + part.lag * part.height
        ahead, behind = np.maximum(ahead, total), np.minimum(behind, total)
        straight = straight & (np.abs(part.lag) * part.diameter / 2 <= np.tan(1.01 * STRAIGHT))
    at_once = ahead if way == "conventional" else behind
    angles: Array = made_at(way) + np.where(np.asarray(straight)[..., None], np.asarray(at_once)[..., None], late)
    return angles


def made_at(way: Way) -> float:
    """Angle at which a tooth makes the wall: 0 on the left of the feed, half a turn on its right."""
    return 0.0 if way == "conventional" else float(np.pi)


def overcut(way: Way) -> float:
    """Sign that turns a motion to the left of the feed into one into the wall."""
    return 1.0 if way == "conventional" else -1.0


@formula("e(z) = s [C F(theta_z)]_y + max(R_j) - R, s = +1 conventional, -1 climb", source="derived")
def wall_error(
    *, cut: Coefficients, edge: Sequence[Stretch], flutes: int, feed_per_tooth: Metre, run_out: Metre, run_out_angle: Radian,
    give: Array, way: Way, grain: Grain | None = None,
) -> WallError:  # fmt: skip
    """Error of a wall by push-off and run-out, the same give at all heights.

    Args:
        cut: Coefficients; along the fibres where the material has grain.
        edge: Stretches of the engaged edge, from the tip up (`edges`).
        flutes: Teeth.
        feed_per_tooth: From tooth to tooth.
        run_out: Eccentricity; half of what an indicator shows.
        run_out_angle: Where it points, from tooth 0.
        give: Of the cutter against the work along the feed, to its left and upwards, for a force at half the depth, shape (..., 3, 3).
        way: Which wall: that of climb or of conventional milling.
        grain: Of the material.

    Returns:
        Error at `HEIGHTS` heights.
    """
    return tall_wall_error(
        cut=cut, edge=edge, flutes=flutes, feed_per_tooth=feed_per_tooth, run_out=run_out, run_out_angle=run_out_angle,
        gives=np.repeat(np.asarray(give)[..., None, :, :], HEIGHTS, axis=-3), way=way, grain=grain,
    )  # fmt: skip


@formula("e(z) = s [C(z) F(theta_z)]_y + max(R_j) - R, s = +1 conventional, -1 climb", source="derived")
def tall_wall_error(
    *, cut: Coefficients, edge: Sequence[Stretch], flutes: int, feed_per_tooth: Metre, run_out: Metre, run_out_angle: Radian,
    gives: Array, way: Way, grain: Grain | None = None,
) -> WallError:  # fmt: skip
    """Error of a wall by push-off and run-out, with the give of every height.

    The tooth that turns on the largest circle makes the wall. (Where push-off is much more than run-out, the others follow it: pushed off less,
    they cut more than a stiff cutter would let them.)

    Args:
        cut: Coefficients; along the fibres where the material has grain.
        edge: Stretches of the engaged edge, from the tip up (`edges`).
        flutes: Teeth.
        feed_per_tooth: From tooth to tooth.
        run_out: Eccentricity; half of what an indicator shows.
        run_out_angle: Where it points, from tooth 0.
        gives: At `wall_heights(edge, h)`, for a force at half the depth, see `other_tool.give_at_heights`, in feed axes, shape (..., h, 3, 3).
        way: Which wall: that of climb or of conventional milling.
        grain: Of the material.

    Returns:
        Error at the heights.
    """
    heights = wall_heights(edge, gives.shape[-3])
    longer = np.asarray(radius_offsets(flutes=flutes, run_out=1.0, run_out_angle=run_out_angle))
    longest = longer.argmax(axis=-1)
    angles = making_angles(edge=edge, way=way, heights=heights) + (2 * np.pi / flutes * longest)[..., None]
    cycle = force_cycle(
        cut=cut, edge=edge, flutes=flutes, feed_per_tooth=feed_per_tooth, run_out=run_out, run_out_angle=run_out_angle, grain=grain,
        angles=angles,
    )  # fmt: skip
    forces = on_tool(cycle)
    pushed = sum(gives[..., 1, k] * forces[..., k, :] for k in range(3))
    return WallError(heights, np.asarray(overcut(way) * pushed + np.asarray(run_out * longer.max(axis=-1))[..., None]))


@formula("d(theta) = -[C F(theta)]_z", source="derived")
def floor_error(
    *, cut: Coefficients, edge: Sequence[Stretch], flutes: int, feed_per_tooth: Metre, run_out: Metre, run_out_angle: Radian,
    give: Array, grain: Grain | None = None,
) -> FloorError:  # fmt: skip
    """How much too deep a cut gets: an up-cut helix pulls the cutter down, and a push sideways lifts or lowers the tip of a head that leans.

    Args:
        cut: Coefficients; along the fibres where the material has grain.
        edge: Stretches of the engaged edge, from the tip up (`edges`).
        flutes: Teeth.
        feed_per_tooth: From tooth to tooth.
        run_out: Eccentricity.
        run_out_angle: Where it points, from tooth 0.
        give: As of `wall_error`, shape (..., 3, 3).
        grain: Of the material.
    """
    cycle = force_cycle(
        cut=cut, edge=edge, flutes=flutes, feed_per_tooth=feed_per_tooth, run_out=run_out, run_out_angle=run_out_angle, grain=grain,
        angles=rotation_angles(FLOOR_ANGLES),
    )  # fmt: skip
    deep = -np.asarray(np.asarray(give)[..., 2:, :] @ on_tool(cycle))[..., 0, :]
    return FloorError(_plain(deep.max(axis=-1)), _plain(deep.min(axis=-1)), _plain(deep.mean(axis=-1)))


@formula("u = C F", source="definition")
def pushed(*, give: Array, force: Array) -> Array:
    """Motion of the cutter under a force.

    Args:
        give: Shape (..., 3, 3).
        force: Along the feed, to its left and upwards: an up-cut helix pulls downwards; shape (..., 3).

    Returns:
        Shape (..., 3).
    """
    motion: Array = (np.asarray(give) @ np.asarray(force)[..., None])[..., 0]
    return motion


def on_tool(cycle: Cycle) -> Array:
    """Forces of a cycle along the feed, to its left and UPWARDS, shape (..., 3, angles)."""
    forces: Array = np.stack(np.broadcast_arrays(cycle.along_feed, cycle.across, -cycle.axial), axis=-2)
    return forces


def _plain(value: Array) -> Real:
    return float(value) if value.ndim == 0 else value
