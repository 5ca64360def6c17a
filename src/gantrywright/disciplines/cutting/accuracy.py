"""How true the walls and the bottom of a job come out: deflection of machine, spindle, collet and cutter, and run-out. Nothing else."""

from dataclasses import dataclass

import numpy as np

from gantrywright.base.samples import plain, typical
from gantrywright.base.units import Array, Metre
from gantrywright.disciplines.cutting.cut import Cut, Setting, edge_of, grain_of
from gantrywright.disciplines.cutting.tool import Body, rest_at
from gantrywright.results.jobs import Wall, WallProfile
from gantrywright.theory.cutting.cutter_give import tip_matrix
from gantrywright.theory.cutting.engagement import Way
from gantrywright.theory.cutting.other_tool import give_at_heights, give_in_feed_axes
from gantrywright.theory.cutting.wall import HEIGHTS, floor_error, tall_wall_error, wall_heights

DIRECTIONS = np.radians([0.0, 45.0, 90.0, 135.0])
"""Of the feed that are looked at, from X; those turned round by half a turn come to the same."""
WORDS = ("along X", "between X and Y", "along Y", "between Y and X")
"""What they are called."""


@dataclass(frozen=True, slots=True)
class Off:
    """Where the tool stands off the wall and the floor."""

    walls: tuple[Wall, ...]
    bottom: Metre
    """The larger of too deep and too shallow, with its sign: positive is too deep."""
    profile: WallProfile


def off(cut: Cut, setting: Setting, give: Array, drawn: Body, own: Body) -> Off:
    """Errors of all walls of a job.

    Args:
        cut: The cutter in its material.
        setting: Its settings.
        give: At the tip of the drawn cutter, shape (..., 6, 6).
        drawn: The drawn cutter.
        own: That of the job.
    """
    rest = rest_at(give, drawn, own)
    sides: tuple[Way, ...] = ("conventional", "climb") if cut.job.slot else cut.ways
    walls, profiles, bottoms = [], [], []
    for side in sides:
        way: Way = "conventional" if cut.job.slot else side
        edge = edge_of(cut, setting, way)
        heights = wall_heights(edge, HEIGHTS)
        gives = give_at_heights(
            rest=rest, axial=tip_matrix(**own.bar)[..., 2, 2], force_at=setting.depth / 2, heights=heights, **own.bar
        )  # fmt: skip
        turned = np.stack([give_in_feed_axes(give=gives, direction=angle) for angle in DIRECTIONS])
        grain = grain_of(cut, setting, way)
        error = tall_wall_error(
            cut=cut.coefficients, edge=edge, flutes=cut.flutes, feed_per_tooth=setting.chip, run_out=cut.run_out, run_out_angle=0.0,
            gives=turned, way=side, grain=grain,
        )  # fmt: skip
        profiles.append(error)
        most, least = np.max(error.most, axis=0), np.min(error.least, axis=0)
        walls.append(Wall(side, plain(most), plain(least), plain(np.mean(error.mean, axis=0))))
        bottoms += _bottoms(cut, setting, edge, turned[..., HEIGHTS // 2, :, :], grain)
    worst = max(range(len(walls)), key=lambda k: abs(typical(walls[k].worst)))
    shown = profiles[worst]
    return Off(tuple(walls), _farthest(bottoms), WallProfile(walls[worst].way, shown.heights, shown.error, WORDS))


def _bottoms(cut: Cut, setting: Setting, edge: object, gives: Array, grain: object) -> list[Metre]:
    floor = floor_error(
        cut=cut.coefficients, edge=edge, flutes=cut.flutes, feed_per_tooth=setting.chip, run_out=cut.run_out, run_out_angle=0.0,  # type: ignore[arg-type]
        give=gives, grain=grain,  # type: ignore[arg-type]
    )  # fmt: skip
    return [plain(np.max(floor.deepest, axis=0)), plain(np.min(floor.shallowest, axis=0))]


def _farthest(values: list[Metre]) -> Metre:
    worst = values[0]
    for value in values[1:]:
        worst = np.where(np.abs(value) > np.abs(worst), value, worst)
    return plain(np.asarray(worst))
