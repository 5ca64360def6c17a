"""Friction of the guides, and what each block bears."""

from typing import Any

import numpy as np

from gantrywright.base.quantities.showing import show
from gantrywright.base.units import Array, MetrePerSecondSquared, Newton, NewtonPerMetre, Real
from gantrywright.base.values import Rating
from gantrywright.disciplines.guides.loads import BlockLoads, alone, block_loads, corners, inner, middle
from gantrywright.disciplines.guides.misaligned import misalignment_load
from gantrywright.model.axis import Axis, Block
from gantrywright.model.machine import Machine
from gantrywright.results.cutting import CuttingResult
from gantrywright.results.guides import AxisFriction, BlockLoad, FrictionResult, GuideResult
from gantrywright.results.ledger import Ledger, Named
from gantrywright.results.masses import MassResult
from gantrywright.results.motion import AxisMotion, MotionResult
from gantrywright.theory import guides as formulas
from gantrywright.theory.carriage import worst_sum
from gantrywright.theory.guide_life import cube_mean, cube_mean_of_ramp, rating_life

LOAD_FACTOR = 1.5
"""On the mean load for life: medium vibration, 1.2 to 2.0; common practice, no source."""
USUAL_FRICTION = 0.004
"""0.002 to 0.006; common practice, no source."""
USUAL_SEAL = 4.0
"""Drag of the seals of one block, N, 2 to 8; common practice, no source."""


def friction(machine: Machine, masses: MassResult, cutting: CuttingResult, ledger: Ledger) -> FrictionResult:
    """What the drive of each axis must overcome while it moves and cuts.

    Args:
        machine: Typical or sampled.
        masses: Of the bodies.
        cutting: Its mean forces press on the blocks.
        ledger: Where figures are written down: ``axis.NAME.friction``.
    """
    return FrictionResult({axis.name: _friction(machine, axis, masses, cutting, ledger) for axis in machine.axes})


def analyse(machine: Machine, masses: MassResult, cutting: CuttingResult, motion: MotionResult, ledger: Ledger) -> GuideResult:
    """What each block bears: greatest and mean load, safety, life.

    Args:
        machine: Typical or sampled.
        masses: Of the bodies.
        cutting: Peak and mean forces.
        motion: Promised accelerations and stiffness of the drives.
        ledger: Where figures are written down: ``axis.NAME.block.BLOCK.equivalent`` and the like.
    """
    corner_poses, mean_poses = corners(machine), inner(machine)
    accel = {axis.name: acceleration(axis, motion.axes.get(axis.name)) for axis in machine.axes}
    pushes: dict[str, Any] = {f"acceleration of {axis.name}": _push(axis, accel[axis.name], ledger) for axis in machine.axes}
    blocks: dict[str, BlockLoad] = {}
    for axis in machine.axes:
        if not axis.blocks:
            continue
        stiffness, factors = drive_stiffness(axis, motion.axes.get(axis.name)), factors_of(axis)
        loads = block_loads(machine, axis, masses, stiffness)
        at_corners = loads.at(corner_poses)
        accels = [accel[name] for name, _ in at_corners.per_accel]
        greatest = worst_of(at_corners, factors, accels, cutting.peak_in_plane, cutting.peak_axial)
        lifts = _lifts(axis, at_corners, accels, cutting)
        mean = _mean(loads.at(mean_poses), factors, cutting)
        for i, block in enumerate(axis.blocks):
            words = _worst(machine, at_corners, greatest[..., i], i, accels, cutting)
            peak = _plain(greatest[..., i].max(axis=-1))
            blocks[block.path] = _block(axis, block, peak, _plain(mean[..., i]), _plain(lifts[..., i]), words, pushes, ledger)
    return GuideResult(blocks)


def acceleration(axis: Axis, moved: AxisMotion | None) -> MetrePerSecondSquared:
    """The promised acceleration, or the wanted one if that is larger; 0 where neither is known."""
    promised = None if moved is None else moved.accel
    known = [value for value in (promised, axis.accel) if value is not None]
    result: Real = 0.0
    for value in known:
        result = np.maximum(result, value)
    return result


def _friction(machine: Machine, axis: Axis, masses: MassResult, cutting: CuttingResult, ledger: Ledger) -> AxisFriction:
    path = f"{axis.path}.friction"
    seals: Real = 0.0
    rolling: Real = 0.0
    if axis.blocks:
        loads = block_loads(machine, axis, masses, None).at(middle(machine))
        pressed = worst_of(loads, np.ones((1, 2)), [], cutting.mean_in_plane, 0.0)
        for i, block in enumerate(axis.blocks):
            coefficient = USUAL_FRICTION if block.part.friction is None else block.part.friction
            load = _plain(pressed[:, 0, i])
            rolling = rolling + formulas.rolling_friction(load=load, preload=block.preload_force, friction=coefficient)
            seals = seals + (USUAL_SEAL if block.part.seal_force is None else block.part.seal_force)
    count = len(axis.blocks)
    ledger.note(f"{path}.rolling", rolling, unit="N", formula="sum over blocks of mu (F1 + F2), loads at mid travel with mean cutting force",
                source="common practice, no source", title="Rolling friction of all blocks",
                mean_force=ledger.link("cutting.mean_in_plane", cutting.mean_in_plane, "N"),
                moving_mass=ledger.link(f"mass.{axis.path}", masses.axes[axis.name].mass, "kg"), **_rubbing(axis))  # fmt: skip
    each = seals / count if count else 0.0
    moving = ledger.figure(path, formulas.guide_friction, rolling=ledger.named(f"{path}.rolling"), blocks=Named("", count, note="on all rails of the axis"),
                           seal=Named(f"{axis.path}.blocks.part.seal_force", each))  # fmt: skip
    return AxisFriction(axis.name, moving, seals)


def _rubbing(axis: Axis) -> dict[str, Any]:
    """Friction and preload of the blocks, as inputs; those of the first stand for all."""
    if not axis.blocks:
        return {}
    first = axis.blocks[0]
    return {
        "friction": Named(
            f"{axis.path}.blocks.part.friction", USUAL_FRICTION if first.part.friction is None else first.part.friction
        ),
        "preload": Named("", first.preload_force, "N", f"of {axis.path}.blocks.preload: its part of the dynamic rating"),
    }


def drive_stiffness(axis: Axis, moved: AxisMotion | None) -> NewtonPerMetre | None:
    """Of one drive of an axis; None where it is not known."""
    if moved is None or moved.stiffness is None or not axis.drives:
        return None
    return moved.stiffness / len(axis.drives)


def worst_of(loads: BlockLoads, factors: Array, accels: list[Real], in_plane: Newton, axial: Newton) -> Array:
    """Greatest equivalent load of each block, shape (s, n_poses, n_blocks).

    Args:
        loads: Load by load.
        factors: What each component counts, shape (n_blocks or 1, n_components) or with samples before; components in their order.
        accels: m/s2 of each entry of ``loads.per_accel``; fewer leave the rest out.
        in_plane: Cutting force across the spindle.
        axial: Along it.
    """
    count = factors.shape[-1]
    steady = loads.weight[..., :count] * factors
    jerks = [_column(accel) * load[..., :count] * factors for (_, load), accel in zip(loads.per_accel, accels, strict=False)]
    either = np.stack(np.broadcast_arrays(*jerks)) if jerks else np.zeros((1, *steady.shape))
    worst: Array = worst_sum(
        steady=steady, either_way=either, plane=loads.in_plane[..., :count] * factors, plane_force=in_plane,
        axial=loads.along_spindle[..., :count] * factors, axial_force=axial,
    )  # fmt: skip
    return worst


def factors_of(axis: Axis) -> Array:
    """What each component of a block's load counts: forces themselves, moments of lone blocks as C0/M0."""
    if not alone(axis):
        return np.ones((1, 2))
    rows = []
    for block in axis.blocks:
        static = block.part.static
        ratings = (block.part.moment_roll, block.part.moment_pitch, block.part.moment_yaw)
        moments = [0.0 if static is None or rating is None else static.force / rating for rating in ratings]
        rows.append(np.stack(np.broadcast_arrays(1.0, 1.0, *moments), axis=-1))
    stacked = np.stack(np.broadcast_arrays(*rows), axis=-2)
    factors: Array = stacked if stacked.ndim == 2 else stacked[:, None]
    return factors


def _mean(loads: BlockLoads, factors: Array, cutting: CuttingResult) -> Array:
    """Cube mean over poses and four directions of the mean cutting force, shape (s, n_blocks)."""
    count = factors.shape[-1]
    force = _column(cutting.mean_in_plane)
    steady = loads.weight[..., :count] * factors
    pushed = [sign * force * plane[..., :count] * factors for plane in loads.in_plane for sign in (1.0, -1.0)]
    found = [np.abs(steady + push).sum(axis=-1) for push in pushed]
    every = np.concatenate(found, axis=-2)  # poses of all directions one after another
    mean: Array = np.asarray(cube_mean(loads=every.swapaxes(-1, -2), shares=np.ones(every.shape[-2])))
    return mean


def _lifts(axis: Axis, loads: BlockLoads, accels: list[Real], cutting: CuttingResult) -> Array:
    """Greatest pull off the rail, shape (s, n_blocks)."""
    away = -1.0 if axis.rails_ride else 1.0
    pull = away * loads.weight[..., 0] + np.abs(loads.along_spindle[..., 0]) * _column(cutting.peak_axial)[..., 0]
    pull = pull + np.hypot(*loads.in_plane[..., 0]) * _column(cutting.peak_in_plane)[..., 0]
    for (_, load), accel in zip(loads.per_accel, accels, strict=True):
        pull = pull + np.abs(load[..., 0]) * _column(accel)[..., 0]
    lifts: Array = np.maximum(pull.max(axis=-2), 0.0)
    return lifts


def _push(axis: Axis, accel: MetrePerSecondSquared, ledger: Ledger) -> Named:
    """The acceleration that blocks are loaded with, as an input of a figure."""
    promised = f"{axis.path}.accel_promise"
    return ledger.link(promised, accel, "m/s2", f"the greater of the wanted and the promised one of {axis.path}")


def _block(
    axis: Axis, block: Block, greatest: Newton, mean: Newton, lifts: Newton, worst: str, pushes: dict[str, Any], ledger: Ledger
) -> BlockLoad:  # fmt: skip
    path = block.path
    ledger.note(f"{path}.equivalent", greatest, unit="N", title="Greatest equivalent load of the block",
                formula="max over poses, directions and signs of |lateral| + |normal|" + (" + C0 |M|/M0" if alone(axis) else ""),
                peak_in_plane=ledger.named("cutting.peak_in_plane"), peak_axial=ledger.named("cutting.peak_axial"),
                moving_mass=ledger.named(f"mass.{axis.path}"), spacing=Named(f"{axis.path}.blocks.spacing", axis.block_spacing), **pushes)  # fmt: skip
    misaligned = misalignment_load(axis, block, ledger)
    # off by nothing at the best place and by all of it at the worst
    on_the_way = ledger.figure(
        f"{path}.misalignment_mean",
        cube_mean_of_ramp,
        least=Named("", 0.0, note="at the best place"),
        most=_borne(f"{path}.misalignment", misaligned, ledger),
    )
    borne = formulas.loaded_side(load=LOAD_FACTOR * mean + on_the_way, preload=block.preload_force)
    ledger.note(f"{path}.mean", borne, unit="N", title="Mean load for life",
                formula="fw P_m + misalignment; loaded side where the preload is larger",
                cube_mean=Named("", mean, "N", "P_m over poses and directions of the mean cutting force"),
                load_factor=Named("", LOAD_FACTOR, note="medium vibration, 1.2 to 2; common practice, no source"),
                misalignment=ledger.named(f"{path}.misalignment_mean"),
                preload=Named("", block.preload_force, "N", f"of {path}.preload: its part of the dynamic rating"))  # fmt: skip
    return BlockLoad(
        block=path, equivalent=greatest, mean=borne, misalignment=misaligned, static_safety=_safety(axis, block, greatest, misaligned, ledger),
        life=_life(block, borne, ledger), lifts=lifts, worst=worst,
    )  # fmt: skip


def _safety(axis: Axis, block: Block, greatest: Newton, misaligned: Newton, ledger: Ledger) -> Real | None:
    static = block.part.static
    moments = (block.part.moment_roll, block.part.moment_pitch, block.part.moment_yaw)
    if static is None or (alone(axis) and None in moments):
        return None
    ledger.note(
        f"{block.path}.greatest_load", greatest + misaligned, unit="N", formula="equivalent + misalignment", source="derived",
        title="Greatest load of the block with that from misalignment", equivalent=ledger.named(f"{block.path}.equivalent"),
        misalignment=_borne(f"{block.path}.misalignment", misaligned, ledger),
    )  # fmt: skip
    return ledger.figure(
        f"{block.path}.static_safety", formulas.static_safety, load=ledger.named(f"{block.path}.greatest_load"),
        static_rating=Named(f"{block.path}.part.static", static.force * block.use.remaining, note=_left(block)),
    )  # fmt: skip


def _borne(path: str, value: Newton, ledger: Ledger) -> Named:
    return ledger.link(path, value, "N", "" if path in ledger else "one rail: nothing to be parallel to")


def _left(block: Block) -> str:
    """What wear leaves of a rating; empty where it is whole."""
    return (
        "" if isinstance(block.use.remaining, float) and block.use.remaining == 1.0 else f"what {block.path}.remaining leaves of it"
    )


def _life(block: Block, load: Newton, ledger: Ledger) -> Real | None:
    rating = block.part.dynamic
    if rating is None or rating.basis != "distance":
        return None
    left = Rating(rating.force * block.use.remaining, rating.basis, rating.reference)
    return ledger.figure(
        f"{block.path}.life",
        rating_life,
        rating=Named(f"{block.path}.part.dynamic", left, note=_left(block)),
        load=ledger.named(f"{block.path}.mean"),
    )


def _worst(machine: Machine, loads: BlockLoads, greatest: Array, row: int, accels: list[Real], cutting: CuttingResult) -> str:
    """Where the greatest load of a block stands, and what it is made of, by typical values."""
    by_corner = np.median(greatest, axis=0)
    at = int(by_corner.argmax())
    ends = by_corner.reshape((2,) * len(machine.axes))
    far = np.unravel_index(at, ends.shape)
    places = [
        f"{axis.name} at its {'far' if far[i] else 'near'} end"
        for i, axis in enumerate(machine.axes)
        if np.abs(np.diff(ends, axis=i)).max() > 0.01 * ends.max()
    ]

    def share(load: Array, times: Real = 1.0) -> float:
        pushed = np.abs(load[..., at, row, :2]).sum(axis=-1)
        return float(np.median(np.hypot(*pushed) if pushed.ndim == 2 else pushed)) * float(np.median(times))

    parts = {
        "weight": share(loads.weight), "cutting force across the spindle": share(loads.in_plane, cutting.peak_in_plane),
        "cutting force along the spindle": share(loads.along_spindle, cutting.peak_axial),
    }  # fmt: skip
    parts |= {f"acceleration of {name}": share(load, accel) for (name, load), accel in zip(loads.per_accel, accels, strict=True)}
    largest = sorted(parts.items(), key=lambda part: -part[1])[:3]
    words = ", ".join(f"{name} up to {show(value, 'N', machine.show)}" for name, value in largest if value >= 0.5)
    return f"With {' and '.join(places)}: {words}" if places else f"{words[:1].upper()}{words[1:]}, at every place alike"


def _column(value: Real) -> Array:
    return np.atleast_1d(np.asarray(value, dtype=float))[:, None, None, None]


def _plain(value: Array) -> Real:
    return float(value.reshape(())) if value.size == 1 else value
