"""Writes down what a job comes to, so that every number of it opens to its working."""

from typing import Any

import numpy as np

from gantrywright.base.samples import plain, typical
from gantrywright.disciplines.cutting.limits import Known
from gantrywright.model.machine import Machine
from gantrywright.results.jobs import Limit
from gantrywright.results.ledger import Ledger, Named
from gantrywright.theory.cutting.lobes import HELD

EDGE = "altintas-manufacturing-automation"


def write_down(machine: Machine, known: Known, limits: tuple[Limit, ...], ledger: Ledger) -> None:
    """Wall, bottom, hold, chatter and the ceilings of one job."""
    path = known.cut.job.path
    pushed = ledger.link(f"{path}.peak_in_plane", _peak(known), "N", "greatest force in the plane of the table")
    give = Named("structure.tip.stiffness", _stiffness(ledger), "N/m", "with the cutter that is drawn; moved to this cutter's tip")
    for wall in known.walls:
        ledger.note(
            f"{path}.wall.{wall.way}", wall.worst, unit="m", source="derived",
            formula="greatest |e(z)| over height and direction of feed, e(z) = s [C(z) F(theta_z)]_y + R_j - R at the moment when a tooth makes the wall",
            title=f"Deflection and run-out at the wall, {wall.way}; positive takes metal that should stay", force=pushed, stiffness=give,
            run_out=Named(f"{path}.run_out", 2 * np.asarray(known.cut.run_out), "m", "reading of an indicator at the cutter"),
            stick_out=Named(f"{path}.stick_out", known.cut.job.stick_out, "m"),
        )  # fmt: skip
    if known.walls:
        worst = max(known.walls, key=lambda wall: abs(typical(wall.worst)))
        ledger.note(
            f"{path}.wall", plain(np.abs(worst.worst)), unit="m", source="derived", formula="greatest of all walls of the job, without its sign",
            title="Deflection and run-out at the worst wall; squareness, leads and holes are not in it",
            **{wall.way: ledger.named(f"{path}.wall.{wall.way}") for wall in known.walls},
        )  # fmt: skip
    if known.bottom is not None:
        ledger.note(
            f"{path}.bottom", known.bottom, unit="m", source="derived", formula="-[C F(theta)]_z, farthest over a turn and directions of feed",
            title="How much too deep the bottom comes; negative: too shallow",
            force=ledger.link(f"{path}.peak_axial", ledger[f"{path}.peak_axial"].value, "N", "along the spindle"), stiffness=give,
        )  # fmt: skip
    _held(known, ledger, path)
    _chatter(known, ledger, path)
    _ceilings(known, limits, ledger, path)


def _peak(known: Known) -> Any:
    worst: Any = 0.0
    for load in known.loads:
        worst = np.maximum(worst, load.peak.in_plane)
    return plain(np.asarray(worst))


def _stiffness(ledger: Ledger) -> Any:
    return ledger["structure.tip.stiffness"].value if "structure.tip.stiffness" in ledger else None


def _held(known: Known, ledger: Ledger, path: str) -> None:
    held = known.holding
    if held is None or held.slip is None:
        return
    ledger.note(
        f"{path}.held_push", held.slip, unit="N", source="derived", formula=held.formula, title="Push in the plane of the table that the hold-down stands", **held.inputs
    )  # fmt: skip
    if held.lift is not None:
        ledger.note(
            f"{path}.held_lift", held.lift, unit="N", source="derived", formula="F = N/S", title="Lift that the hold-down stands", **held.inputs
        )  # fmt: skip


def _chatter(known: Known, ledger: Ledger, path: str) -> None:
    found = known.lobes
    if found is None:
        return
    limit = ledger.note(
        f"{path}.chatter_limit", found.here, unit="m", source="altintas-budak-1995" if found.method == "zero-order" else "insperger-stepan-2004",
        formula="least a over all lobes and directions of feed with det(I + (N a Kt/4 pi)(1 - exp(-j w T)) [alpha][H]) = 0",
        title=f"Depth at which the cut begins to chatter at this speed ({found.method}), feed {found.direction}, {found.way}",
        speed=Named(f"{path}.speed", known.setting.speed, "rad/s"), frequency=Named("", found.frequency, "Hz", "of the chatter that begins first"),
        width=Named(f"{path}.width", known.setting.width, "m"), if_frequencies_are_off=Named("", found.low, "m", "least where every frequency may be 4 % off"),
    )  # fmt: skip
    ledger.note(
        f"{path}.chatter_depth", HELD * np.asarray(limit), unit="m", source="derived", formula="0.7 a_lim",
        title="Depth that is recommended against chatter", limit=ledger.named(f"{path}.chatter_limit"),
    )  # fmt: skip


def _ceilings(known: Known, limits: tuple[Limit, ...], ledger: Ledger, path: str) -> None:
    ledger.note(
        f"{path}.removal", plain(np.asarray(known.setting.removal)), unit="m3/s", source="definition", formula="Q = ap ae vf", title="Removal rate",
        depth=Named(f"{path}.depth", known.setting.depth, "m"), width=Named(f"{path}.width", known.setting.width, "m"), feed=Named(f"{path}.feed", known.setting.feed, "m/s"),
    )  # fmt: skip
    for limit in limits:
        if limit.ceiling is None:
            continue
        ledger.note(
            f"{path}.ceiling.{limit.id}", limit.ceiling, unit="m3/s", source="derived", formula=f"Q limit/value: the {limit.scales} changed until the limit is met",
            title=f"Removal rate at which {limit.words} is used up",
            at_the_job=ledger.named(limit.figure) if limit.figure in ledger and limit.id not in _OF_LIMIT else Named("", limit.value, limit.unit, "at the settings of the file"),
            allowed=ledger.named(limit.figure) if limit.figure in ledger and limit.id in _OF_LIMIT else Named("", limit.limit, limit.unit, limit.note or limit.words),
        )  # fmt: skip


_OF_LIMIT = ("hold-down", "lift", "chatter", *(f"axis-{letter}" for letter in "xyzabc"))
"""Limits whose figure is the limit and not the value."""
