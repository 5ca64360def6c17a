"""The board under the work: ridges that a tilted head leaves on it, how it is faced, how often it still can be, how far it sags."""

from typing import Any

import numpy as np

from gantrywright.base.samples import plain
from gantrywright.base.units import Metre, MetrePerSecond, Number, Pascal, Real, Second
from gantrywright.disciplines.cutting.held import stated
from gantrywright.model.machine import Machine
from gantrywright.model.purpose import Spoilboard
from gantrywright.results.cutting import CuttingResult
from gantrywright.results.jobs import JobsResult
from gantrywright.results.ledger import Ledger, Named
from gantrywright.results.spoilboard import SpoilboardResult
from gantrywright.theory.cutting.spoilboard import (
    facing_depth,
    facing_passes,
    facings_left,
    pressed_sag,
    pushed_sag,
    spacing_for_step,
    tram_step,
)
from gantrywright.theory.plate_strip import plate_stiffness

MARGIN = 0.1e-3
"""Taken off besides, so that no place is left untouched, m; our choice."""
FELT = 1e-5
"""Ridges above this are felt by a finger, m: the upper end of the band of the table; common practice, no source."""


def spoilboard(machine: Machine, cut: CuttingResult, jobs: JobsResult, ledger: Ledger) -> SpoilboardResult | None:
    """What is known of the board; None for a machine without one.

    Args:
        machine: Typical or sampled.
        cut: What the jobs press down with.
        jobs: What vacuum their work is held by.
        ledger: Where figures are written down: ``spoilboard.ridge`` and the like.
    """
    board = machine.spoilboard
    if board is None:
        return None
    found: dict[str, Any] = {}
    missing: dict[str, str] = {}
    _ridge(board, ledger, found, missing)
    _turns(machine, board, ledger, found, missing)
    _faced(machine, board, ledger, found, missing)
    _sag(machine, board, cut, jobs, ledger, found, missing)
    return SpoilboardResult(**found, missing=tuple(missing.items()))


def _ridge(board: Spoilboard, ledger: Ledger, found: dict[str, Any], missing: dict[str, str]) -> None:
    diameter = None if board.cutter is None else board.cutter.diameter
    if diameter is None or board.step_over is None:
        missing["ridge"] = "spoilboard.cutter, and its diameter"
        return
    if board.tram_across is None or board.tram_along is None:
        missing["ridge"] = "spoilboard.tram_across and spoilboard.tram_along: a dial that the spindle sweeps over the board"
        return
    across, wide = Named("spoilboard.tram_across", board.tram_across), Named("spoilboard.cutter.diameter", diameter)
    found["ridge"] = ledger.figure(
        "spoilboard.ridge", tram_step, across=across, along=Named("spoilboard.tram_along", board.tram_along), diameter=wide, spacing=Named("spoilboard.step_over", board.step_over),
    )  # fmt: skip
    found["spacing"] = ledger.figure(
        "spoilboard.spacing",
        spacing_for_step,
        across=across,
        step=stated("ridge", "m"),
        diameter=wide,
        most=stated("facing-spacing", ""),
    )


def _turns(machine: Machine, board: Spoilboard, ledger: Ledger, found: dict[str, Any], missing: dict[str, str]) -> None:
    """Speed at which the facing cutter may turn, and the time of a pass at the wanted feed."""
    if board.cutter is None or board.step_over is None:
        missing["fastest"] = "spoilboard.cutter"
        return
    marked = board.cutter.highest
    part = None if machine.spindle is None else machine.spindle.part
    if marked is None or part is None or part.lowest is None:
        missing["fastest"] = (
            "spoilboard.cutter.highest: the speed that is marked on it"
            if marked is None
            else "spindle.part.lowest: how slowly it turns"
        )
    else:
        most: Real = marked if part.highest is None else np.minimum(marked, part.highest)
        found["fastest"] = plain(np.asarray(most))
        ledger.note(
            "spoilboard.fastest", found["fastest"], unit="rad/s", source="definition", formula="least of both", title="Speed at which the spoilboard may be faced",
            marked=Named("spoilboard.cutter.highest", marked, "rad/s"), spindle=Named("spindle.part.highest", part.highest, "rad/s"),
        )  # fmt: skip
    x, y, _ = machine.purpose.work_area
    found["time"] = ledger.note(
        "spoilboard.time", _time(x, y, board.step_over, machine.purpose.feed), unit="s", source="derived", formula="t = (ceil(b/s) + 1) l/v, turns left out",
        title="Time of one facing pass over the work area", length=Named("purpose.work_area", x, "m", "along X"), width=Named("purpose.work_area", y, "m", "along Y"),
        step_over=Named("spoilboard.step_over", board.step_over, "m"), feed=Named("purpose.feed", machine.purpose.feed, "m/s"),
    )  # fmt: skip


def _time(length: Metre, width: Metre, step: Metre, feed: MetrePerSecond) -> Second:
    return (np.ceil(np.asarray(width / step) - 1e-9) + 1) * length / feed


def _faced(machine: Machine, board: Spoilboard, ledger: Ledger, found: dict[str, Any], missing: dict[str, str]) -> None:
    if board.unevenness is None:
        missing["facing"] = missing["left"] = "spoilboard.unevenness: a dial in the spindle that is moved over it"
        return
    ridge = found.get("ridge")
    found["facing"] = ledger.figure(
        "spoilboard.facing", facing_depth, unevenness=Named("spoilboard.unevenness", board.unevenness), slope=Named("", 0.0, "m/m", "in the unevenness, as the machine finds it"),
        length=Named("", 0.0, "m", "in the unevenness as well"), ridge=0.0 if ridge is None else ledger.named("spoilboard.ridge"), margin=Named("", MARGIN, "m", "our choice"),
    )  # fmt: skip
    taken = ledger.named("spoilboard.facing")
    found["passes"] = ledger.figure("spoilboard.passes", facing_passes, depth=taken, each=stated("facing-depth", "m"))
    least = _least(machine, board)
    if board.thickness is None or least is None:
        missing["left"] = (
            "spoilboard.thickness" if board.thickness is None else "spoilboard.least: the thickness below which it is replaced"
        )
        return
    found["least"] = least.value
    found["left"] = ledger.figure(
        "spoilboard.left", facings_left, thickness=Named("spoilboard.thickness", board.thickness), least=least, depth=taken
    )


def _least(machine: Machine, board: Spoilboard) -> Named | None:
    """Thickness that stays: as told, or what screws reach into it."""
    if board.least is not None:
        return Named("spoilboard.least", board.least)
    deep = [job for job in machine.jobs if job.hold_down is not None and job.hold_down.screw_depth is not None]
    longest: Real = 0.0
    for job in deep:
        assert job.hold_down is not None
        assert job.hold_down.screw_depth is not None
        longest = np.maximum(longest, job.hold_down.screw_depth)
    where = ", ".join(f"{job.path}.hold_down.screw_depth" for job in deep)
    return Named("", plain(np.asarray(longest)), "m", f"what screws reach into it: {where}") if deep else None


def _sag(
    machine: Machine, board: Spoilboard, cut: CuttingResult, jobs: JobsResult, ledger: Ledger, found: dict[str, Any], missing: dict[str, str]
) -> None:  # fmt: skip
    if board.span is None:
        found["rests"] = len(machine.layers) > 1
        if not found["rests"]:
            missing["sag"] = "spoilboard.span: between the bearers that it lies on"
        return
    modulus = None if board.material is None else board.material.modulus
    if board.thickness is None or modulus is None or not cut.known:
        missing["sag"] = (
            "spoilboard.thickness"
            if board.thickness is None
            else "elastic modulus of spoilboard.material"
            if modulus is None
            else "forces of all jobs"
        )
        return
    ledger.figure(
        "spoilboard.plate", plate_stiffness, modulus=Named(f"material.{board.material.id}.modulus" if board.material is not None else "", modulus), thickness=Named("spoilboard.thickness", board.thickness)
    )  # fmt: skip
    plate, span = ledger.named("spoilboard.plate"), Named("spoilboard.span", board.span)
    pushed = ledger.figure("spoilboard.sag_cutter", pushed_sag, force=ledger.named("cutting.peak_axial"), span=span, plate=plate)
    pulled = ledger.figure(
        "spoilboard.sag_vacuum", pressed_sag, pressure=Named("", _pressure(jobs), "Pa", "greatest vacuum of all jobs"), span=span, plate=plate, continuous=Named("", 0.0, "", "on two bearers, the worst"),
    )  # fmt: skip
    found["sag"] = ledger.note(
        "spoilboard.sag", pushed + pulled, unit="m", source="derived", formula="w = w_cutter + w_vacuum", title="How far the spoilboard sinks between two bearers",
        cutter=ledger.named("spoilboard.sag_cutter"), vacuum=ledger.named("spoilboard.sag_vacuum"),
    )  # fmt: skip


def _pressure(jobs: JobsResult) -> Pascal:
    most: Number = 0.0
    for job in jobs.jobs.values():
        held = None if job.holding is None else job.holding.inputs.get("pressure")
        if held is not None:
            most = np.maximum(most, held.value)
    return plain(np.asarray(most))
