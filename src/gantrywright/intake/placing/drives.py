"""Drives: their parts looked up, the kind object made, the motor put in its place."""

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from gantrywright.base.errors import GantrywrightError
from gantrywright.base.units import Real
from gantrywright.base.values import PhaseCurrent
from gantrywright.catalog import kinds
from gantrywright.intake import records
from gantrywright.intake.placing.lines import Line, Placed, place_line
from gantrywright.intake.placing.motors import motor_place
from gantrywright.intake.placing.usual import usual_bearing, usual_coupling, usual_nut
from gantrywright.intake.placing.world import Unplaced, World
from gantrywright.intake.tree import Branch
from gantrywright.intake.uses import record, use
from gantrywright.model.axis import DIRECT, DriveFit, Reduction
from gantrywright.model.drives import drive_kinds
from gantrywright.model.drives.protocol import DriveParts
from gantrywright.model.electric import DriverFit

ENDS: dict[str, tuple[float, float, float]] = {
    "fixed-free": (3.516, 0.25, 0.0),
    "supported-supported": (9.870, 1.0, 0.0),
    "fixed-supported": (15.418, 2.046, 0.0),
    "fixed-fixed": (22.373, 4.0, 1.0),
    "clamped-clamped": (22.373, 4.0, 1.0),
}
"""Whirl root lambda^2, Euler factor, and whether the far end takes axial load, by how the ends are held (Blevins 1979; Euler)."""
SCREWS = ("ball-screw", "lead-screw")


@dataclass(frozen=True, slots=True)
class Driven:
    """Where the motor of a drive sits."""

    body: str
    at: tuple[float, float, float]
    axis: tuple[float, float, float]


def place_drive(
    world: World, name: str, branch: Branch, guide: Placed, estimate: records.Estimate = records.typical_of
) -> tuple[DriveFit, Driven]:
    """One drive, in own measures: line and motor of their bodies, grip of the gripping one.

    Args:
        world: Bodies and references.
        name: Of the drive.
        branch: Its table.
        guide: Of its axis.
        estimate: Takes note of what neither file nor row says.
    """
    path = f"axis.{guide.motion.name}.drive.{name}"
    kind = str(branch.get("kind") or "")
    if kind not in drive_kinds() or branch.sub("part") is None:
        raise Unplaced(path)
    long_piece = record(branch.sub("part"), kinds.KINDS[kind])
    if long_piece is None or (not long_piece.id and not branch.branches["part"].entries):
        raise Unplaced(path)
    line = place_line(world, branch, guide)
    if line.over > 5e-4:
        world.stray.append((path, f"the grip runs {world.said(line.over)} off the end of the drive"))
    reduction = records.reduction(branch, estimate)
    motor = record(branch.sub("motor"), kinds.Motor)
    coupling = _part(world, branch, "coupling", kinds.Coupling, usual_coupling(motor) if reduction is DIRECT else "")
    parts = _parts(world, path, kind, long_piece, branch, line, guide, coupling, reduction)
    try:
        drive = drive_kinds()[kind](parts)
    except GantrywrightError as error:
        raise world.problem(branch.path, str(error)) from None
    place = motor_place(branch, line, guide, motor, rides=rides(kind, branch))
    fit = DriveFit(
        path=path, drive=drive, line=(line.start, line.stop), grip=line.grip, holds=line.holds, grips=line.grips, motor_at=place.at,
        motor_body=place.body, motor_end_first=line.motor_first, driven_by=str(branch.get("driven_by") or ""),
        motor=records.motor(branch), driver=driver_of(world, branch), supply=str(branch.get("supply") or ""), reduction=reduction, coupling=coupling,
        use=use(branch), loss=branch["loss"],
    )  # fmt: skip
    return fit, Driven(place.body, place.at, place.axis)


def rides(kind: str, branch: Branch) -> bool:
    """Whether the motor sits at the grip: turning nut, rack, belt that lies still."""
    if kind in SCREWS:
        return bool(branch.get("turns") == "nut")
    return kind == "rack" or bool(branch.get("runs") == "fixed-belt")


def _parts(
    world: World, path: str, kind: str, long_piece: kinds.Part, branch: Branch, line: Line, guide: Placed,
    coupling: kinds.Coupling | None, reduction: Reduction,
) -> DriveParts:  # fmt: skip
    screw = long_piece if isinstance(long_piece, kinds.BallScrew | kinds.LeadScrew) else None
    turning = screw is not None and branch.get("turns") != "nut"
    root, euler, held = end_numbers(branch.get("ends", "fixed-supported"))
    given: dict[str, Any] = {}
    if branch.has("bracket") or branch.get("bracket") is not None:
        given["bracket"] = branch.get("bracket")
    return DriveParts(
        path=path, kind=kind, part=long_piece, free_length=line.free_length, travel=guide.motion.travel, nearest=line.nearest,
        farthest=line.farthest, rise=abs(guide.motion.t[2]), turns=str(branch.get("turns") or "screw"),
        runs=str(branch.get("runs") or "moving-belt"), ends=_word(branch.get("ends", "fixed-supported")), whirl_root=root,
        buckling_factor=euler, far_end_held=held, far_end_may_hold=_may_hold(branch), nut=_part(world, branch, "nut", kinds.Nut, usual_nut(world, screw)),
        bearing=_part(world, branch, "bearing", kinds.Bearing, usual_bearing(screw) if turning else ""),
        pinion=record(branch.sub("pinion"), kinds.Pinion), pulley=record(branch.sub("pulley"), kinds.Pulley),
        pretension=branch.get("pretension"), travel_per_turn=branch.get("travel_per_turn"), efficiency=branch.get("efficiency"),
        coupling=coupling, ratio=reduction.ratio, remaining=use(branch).remaining, **given,
    )  # fmt: skip


def _part(world: World, branch: Branch, key: str, kind: type[Any], usual: str) -> Any:
    """A part of the drive as written; else the one that is usual there."""
    written = branch.sub(key)
    if written is None and usual:
        written = world.reading.usual_part(kind.kind, usual, f"{branch.path}.{key}")
    return record(written, kind)


def _word(ends: Any) -> str:
    """The typical word of a choice that may be in doubt."""
    if isinstance(ends, str):
        return ends
    words, counts = np.unique(ends, return_counts=True)
    return str(words[int(np.argmax(counts))])


def end_numbers(ends: Any) -> tuple[Real, Real, Real]:
    """Whirl root, Euler factor and whether the far end is held; arrays where the word is sampled."""
    if ends is None:
        ends = "fixed-supported"
    if isinstance(ends, str):
        return ENDS[ends]
    table = np.array([ENDS[str(word)] for word in ends])
    return table[:, 0], table[:, 1], table[:, 2]


def _may_hold(branch: Branch) -> bool:
    """Whether any of the words that may be true has the far end held."""
    entry = branch.entries.get("ends")
    if entry is None or entry.value is None:
        return False
    words = entry.spread.choices if entry.spread is not None else (entry.value,)
    return any(ENDS[str(word)][2] > 0 for word in words)


def driver_of(world: World, branch: Branch) -> DriverFit | None:
    """The driver with its setting; its part keeps the largest one, which the parts row says."""
    fit = records.driver(branch)
    entry = branch.branches["driver"].entries.get("current") if fit is not None else None
    if fit is None or entry is None or entry.origin.kind in ("row", "default") or not fit.part.id:
        return fit
    cell = world.reading.catalog.find("driver", fit.part.id).cells.get("current")
    largest = cell.value if cell is not None and isinstance(cell.value, PhaseCurrent) else None
    return replace(fit, part=replace(fit.part, current=largest))
