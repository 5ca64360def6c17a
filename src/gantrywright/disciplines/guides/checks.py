"""Checks on guides: static safety, life, alignment, ratings."""

from collections.abc import Iterator

import numpy as np

from gantrywright.base.quantities.showing import show
from gantrywright.base.samples import least, typical
from gantrywright.base.units import Real
from gantrywright.disciplines.guides.larger import better_aligned, blocks_apart, larger_blocks, softer_preload
from gantrywright.disciplines.guides.loads import alone
from gantrywright.disciplines.guides.misaligned import across
from gantrywright.disciplines.guides.tolerance import tolerance
from gantrywright.findings import Change, Verdict, ceiling, check, floor, holds, unknown
from gantrywright.model.axis import Axis, Block
from gantrywright.model.machine import Machine
from gantrywright.results import Results
from gantrywright.results.guides import BlockLoad
from gantrywright.theory.guide_misalignment import share_on_blocks

STATIC_SAFETY = 2.0
"""Least static safety under milling loads; watched up to twice that. Common practice, no source."""
HOURS = 5000.0
"""Hours at feed speed that guides should last: ten years of ten hours a week. Common practice, no source."""
SAME_SIZE = 1e-4
"""Size numbers are whole or half millimetres, m: what differs by more is another size. Definition."""
FRICTION_SHARE = 0.25
"""Of the stall thrust that friction may take. Common practice, no source."""
SURELY = 0.6
"""Alignments are proposed that use so much of the tolerance: how stiff the structure is spreads by about the rest."""
OTHER_MAKERS = 1.5
"""The most forgiving makers publish about so many times the tolerance of the table: over the table is to be watched, over this it fails."""


@check(
    "GDE-101",
    title="Blocks bear weight, acceleration and cutting peaks without dents in their raceways",
    why="A ball that is pressed too hard leaves a dent; from then on the axis runs rough and the dent grows.",
    source="common practice, no source",
    remedy="Put the blocks farther apart, take the next size, bring the cutter nearer to the guide, or align the rails better.",
)
def static_safety(machine: Machine, results: Results) -> Iterator[Verdict]:
    for axis, loads in _guides(machine, results):
        worst = min(loads, key=_least_safe)
        if any(load.static_safety is None for load in loads):
            yield unknown(f"{axis.path}.blocks", missing=_lacking_static(axis), limit=STATIC_SAFETY)
            continue
        safety = least(*(load.static_safety for load in loads if load.static_safety is not None))
        lacking = _lacking_force(machine, results)
        if lacking and not np.all(np.asarray(safety) < STATIC_SAFETY):
            note = f"Without the cut: static safety {typical(safety):.1f}."
            yield unknown(f"{axis.path}.blocks", missing=lacking, limit=STATIC_SAFETY, note=note)
            continue
        misaligned = f"misalignment adds {show(typical(worst.misalignment), 'N', machine.show)}"
        changes = (*_less_misaligned(machine.show, axis, worst, safety), *blocks_apart(axis, machine.show), *larger_blocks(axis))
        yield floor(
            f"{axis.path}.blocks", value=safety, limit=STATIC_SAFETY, unit="", what="static safety", watch=1.0, figure=f"{worst.block}.static_safety",
            note=f"Hardest on {worst.block.rpartition('.')[2]}. {worst.worst}; {misaligned}. Up to twice the limit is to be watched: a crash is not in it.",
            changes=changes if np.any(np.asarray(safety) < 2 * STATIC_SAFETY) else (),
        )  # fmt: skip


def _less_misaligned(system: str, axis: Axis, worst: BlockLoad, safety: Real) -> tuple[Change, ...]:
    """Rails laid so well that the load has twice the least safety, where misalignment alone stands against that."""
    added, whole = typical(worst.misalignment), typical(worst.equivalent) + typical(worst.misalignment)
    allowed = whole * typical(safety) / (2 * STATIC_SAFETY) - typical(worst.equivalent)
    return better_aligned(axis, system, "parallel height", added, allowed) if allowed > 0 else ()


@check(
    "GDE-201",
    title="Guides outlast ten years of hobby use",
    why="Worn raceways run rough and loose, and blocks are the dearest parts to replace.",
    source="common practice, no source",
    remedy="Take the next size, put the blocks farther apart, or align the rails better: misalignment wears day and night.",
)
def life(machine: Machine, results: Results) -> Iterator[Verdict]:
    for axis, loads in _guides(machine, results):
        limit = HOURS * 3600 * axis.feed
        if any(load.life is None for load in loads):
            yield unknown(f"{axis.path}.blocks", missing=_lacking_dynamic(axis), unit="m", limit=limit)
            continue
        shortest = least(*(load.life for load in loads if load.life is not None))
        lacking = _lacking_force(machine, results)
        if lacking and not np.all(np.asarray(shortest) < limit):
            yield unknown(f"{axis.path}.blocks", missing=lacking, unit="m", limit=limit)
            continue
        worst = min(loads, key=lambda load: 0.0 if load.life is None else typical(load.life))
        share = typical(worst.misalignment) / max(typical(worst.mean), 1e-9)
        cause = "Misalignment of the rails, not cutting, wears it." if share > 0.75 else ""
        yield floor(
            f"{axis.path}.blocks", value=shortest, limit=limit, unit="m", what="life", watch=1.0, figure=f"{worst.block}.life",
            note=f"Shortest on {worst.block.rpartition('.')[2]}, wanted {HOURS:.0f} h at feed speed; up to twice that is to be watched, since life goes with the cube of the load. {cause}".strip(),
            changes=_longer_lived(machine.show, axis, worst, shortest / limit) if np.any(np.asarray(shortest) < 2 * limit) else (),
        )  # fmt: skip


def _longer_lived(system: str, axis: Axis, worst: BlockLoad, share: Real) -> tuple[Change, ...]:
    """Life goes with the inverse cube of the load; where misalignment makes most of that, rails that are laid so much better."""
    load = typical(worst.misalignment)
    aligned = better_aligned(axis, system, "parallel height", load, load * np.cbrt(typical(share) / 2)) if load > 0 else ()
    return (*aligned, *softer_preload(axis), *larger_blocks(axis))


@check(
    "GDE-301",
    title="Rails can be laid as parallel as their blocks want",
    why="Rails that run together or apart press the blocks sideways, often harder than any cut: stiff running, short life.",
    source="guide-maker-tables",
    remedy="Clamp one rail to a straight edge, let the other follow the carriage before it is tightened; or choose less preload.",
)
def parallel(machine: Machine, results: Results) -> Iterator[Verdict]:
    for axis, block, opposite in _pairs(machine):
        share = share_on_blocks(
            first=block.lateral_stiffness, second=opposite.lateral_stiffness, structure=axis.alignment.structure
        )
        yield _against_table(machine, axis, block, "parallel", axis.alignment.parallel * share, 1.0, share)


@check(
    "GDE-302",
    title="Rails can be laid as level to each other as their blocks want",
    why="One rail higher than the other tilts every block on its raceways: stiff running, short life.",
    source="guide-maker-tables",
    remedy="Shim or bed the lower rail; or choose less preload.",
)
def level(machine: Machine, results: Results) -> Iterator[Verdict]:
    for axis, block, opposite in _pairs(machine):
        share = share_on_blocks(first=block.normal_stiffness, second=opposite.normal_stiffness, structure=axis.alignment.structure)
        yield _against_table(machine, axis, block, "height", axis.alignment.height * share, across(axis), share)


@check(
    "GDE-303",
    title="Guides run light enough for their drives",
    why="What seals and preload eat up is missing for cutting and accelerating, and stiff guides stick and slip at slow feed.",
    source="common practice, no source",
    remedy="Less preload, better aligned rails, seals of less drag, or a stronger drive.",
)
def light_running(machine: Machine, results: Results) -> Iterator[Verdict]:
    for axis in machine.axes:
        stall = results.motion.axes[axis.name].stall_force
        if stall is None or not axis.blocks:
            yield unknown(
                axis.path,
                missing=results.motion.axes[axis.name].missing or f"{axis.path}.blocks and the motors of the axis",
                unit="N",
            )
            continue
        motors = sum(fit.motor is not None for fit in axis.drives)
        friction = results.friction.axes[axis.name]
        note = f"Seals {show(typical(friction.seals), 'N', machine.show)} of it; against a quarter of the thrust at which the motors stall; over 60 % of that is to be watched."
        yield ceiling(axis.path, value=friction.moving, limit=FRICTION_SHARE * motors * stall, unit="N", what="friction", watch=0.4, note=note,
                      figure=f"{axis.path}.friction", changes=softer_preload(axis) if _much(friction.moving, motors * stall) else ())  # fmt: skip


@check(
    "GDE-401",
    title="Every block has ratings that say what they refer to",
    why="A dynamic rating for the shorter of the two usual distances, read as one for the longer, doubles the life on paper.",
    source="iso-14728-1",
    remedy="Take ratings with their reference distance from the data sheet, or use a block of the tables.",
)
def ratings_are_known(machine: Machine, results: Results) -> Iterator[Verdict]:
    for axis in machine.axes:
        if not axis.blocks:
            yield unknown(axis.path, missing=f"blocks and rails: {axis.path}.rail, {axis.path}.blocks")
            continue
        lacking = "; ".join(part for part in (_lacking_dynamic(axis), _lacking_static(axis)) if part)
        if lacking:
            yield unknown(f"{axis.path}.blocks", missing=lacking)
        else:
            yield holds(f"{axis.path}.blocks", true=True, note="Dynamic and static ratings are there, with what they refer to.")


@check(
    "GDE-402",
    title="Blocks have the size of the rails that they run on",
    why="A block of another size does not go onto the rail, and its ratings are then those of a guide that cannot be built.",
    source="iso-12090-1",
    remedy="Take blocks and rails of one size number.",
    structural=True,
)
def blocks_fit_rails(machine: Machine, results: Results) -> Iterator[Verdict]:
    for axis in machine.axes:
        rails = {rail.path: rail.part for rail in axis.rails}
        pairs = [(block.part, rails[block.rail]) for block in axis.blocks if block.rail in rails]
        if not pairs:
            continue
        sizes = [(block, rail, block.size, rail.size) for block, rail in pairs]
        wrong = [
            pair
            for pair in sizes
            if pair[2] is not None and pair[3] is not None and abs(typical(pair[2]) - typical(pair[3])) > SAME_SIZE
        ]
        if not wrong and any(one is None or other is None for _, _, one, other in sizes):
            yield unknown(f"{axis.path}.blocks", missing=f"size numbers of blocks and rails: {axis.path}.blocks.part.size")
            continue
        block, rail, one, other = (wrong or sizes)[0]
        note = f"{block.id or 'the block'} of size {typical(one or 0.0) * 1000:.0f} on {rail.id or 'the rail'} of size {typical(other or 0.0) * 1000:.0f}."
        yield holds(f"{axis.path}.blocks", true=not wrong, note=note)


def _guides(machine: Machine, results: Results) -> Iterator[tuple[Axis, list[BlockLoad]]]:
    for axis in machine.axes:
        if axis.blocks:
            yield axis, [results.guides.blocks[block.path] for block in axis.blocks]


def _pairs(machine: Machine) -> Iterator[tuple[Axis, Block, Block]]:
    """Of each axis with two rails a block and one opposite."""
    for axis in machine.axes:
        for block in axis.blocks[:1]:
            opposite = next((other for other in axis.blocks if other.rail != block.rail), None)
            if opposite is not None and across(axis) > 0:
                yield axis, block, opposite


def _against_table(machine: Machine, axis: Axis, block: Block, what: str, error: Real, spacing: float, share: Real) -> Verdict:
    subject = f"{axis.path}.alignment.{what}"
    published = tolerance(block.part.size, block.preload)
    if published is None:
        return unknown(subject, missing="mounting tolerance of this guide size, from its data sheet", unit="m")
    table = published.parallel if what == "parallel" else published.height * spacing
    written = typical(error) / max(typical(share), 1e-9)
    note = (
        f"Of the {show(written, 'm', machine.show)} that can be reached {typical(share):.0%} come on the blocks, the rest bends the structure;"
        f" one maker allows {show(table, 'm', machine.show)} for size {typical(block.part.size or 0.0) * 1000:.0f} with {block.preload} preload,"
        " the most forgiving half as much again: between the two it is to be watched."
    )
    changes = (
        (*better_aligned(axis, machine.show, what, error, SURELY * table), *softer_preload(axis))
        if np.any(np.asarray(error) > table)
        else ()
    )
    return ceiling(subject, value=error, limit=OTHER_MAKERS * table, unit="m", what=f"out of {'parallel' if what == 'parallel' else 'level'}",
                   watch=1 - 1 / OTHER_MAKERS, note=note, source=published.source,
                   figure=f"{block.path}.misalignment", changes=changes)  # fmt: skip


def _much(friction: Real, thrust: Real) -> bool:
    return typical(friction) > FRICTION_SHARE * typical(thrust)


def _lacking_force(machine: Machine, results: Results) -> str:
    if not results.cutting.known:
        return "cutting forces: a [job] whose work material has cutting coefficients"
    return "" if machine.tool or machine.spindle else "tool: where the cutter stands"


def _lacking_dynamic(axis: Axis) -> str:
    bad = [b.path for b in axis.blocks if b.part.dynamic is None or b.part.dynamic.basis != "distance"]
    return f"dynamic rating over a distance of {axis.blocks[0].use.part or bad[0]}: {axis.path}.blocks.part.dynamic" if bad else ""


def _lacking_static(axis: Axis) -> str:
    if any(block.part.static is None for block in axis.blocks):
        return f"static rating of {axis.blocks[0].use.part or axis.blocks[0].path}: {axis.path}.blocks.part.static"
    moments = [(b.part.moment_roll, b.part.moment_pitch, b.part.moment_yaw) for b in axis.blocks]
    if alone(axis) and any(None in ratings for ratings in moments):
        keys = ", ".join(f"{axis.path}.blocks.part.moment_{turn}" for turn in ("roll", "pitch", "yaw"))
        return f"moment ratings of {axis.blocks[0].use.part or axis.blocks[0].path}, since a block alone must bear moments: {keys}"
    return ""


def _least_safe(load: BlockLoad) -> float:
    return float("inf") if load.static_safety is None else typical(load.static_safety)
