"""What presses or sticks the work to the table, by the way it is held; every number with where it came from."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import lru_cache

import numpy as np

from gantrywright.base.quantities.showing import show
from gantrywright.base.samples import typical
from gantrywright.base.units import Metre, Newton, Number, Pascal, Real, SquareMetre
from gantrywright.catalog.holding import holding as usual
from gantrywright.model.machine import Machine
from gantrywright.model.purpose import HoldDown, Job
from gantrywright.results.ledger import Named
from gantrywright.theory.cutting.fasteners import path_clearance, screw_clamp_force, tape_force, wood_screw_clamp
from gantrywright.theory.cutting.grip import least_share, worst_rectangle_share
from gantrywright.theory.cutting.hold_down import pressing_force
from gantrywright.theory.cutting.screw_shear import bearing_strength, screw_shear, screw_yield_moment, screws_hold
from gantrywright.theory.cutting.vacuum import held_pressure, open_area, slot_width

STRIP = 0.41
"""Part of the friction force that is left wherever a long part is pushed: of a part whose size is not known; derived (`grip`)."""
WATER = 1000.0
"""Density that specific gravity counts from, kg/m3."""
HEAD = 2.0
"""Head of a wood screw over the diameter of its thread; common practice, no source."""
SHANK = 1.1
"""What a threaded shank bears like, over its core (en-1995-1-1)."""
GRAINED = frozenset({"softwood", "hardwood", "plywood", "fibreboard"})
"""Works that bear on the shank of a wood screw as timber does."""


@dataclass(frozen=True, slots=True)
class Pressed:
    """What holds the work before anything cuts."""

    force: Newton | None
    """That presses; None is unknown, or nothing does."""
    share: Number
    """Part of the hold that is left where the work is pushed at its worst place."""
    words: str
    missing: str = ""
    pressure: Pascal | None = None
    """Of vacuum, over its area."""
    sideways: Newton = 0.0
    """What screws hold sideways besides the friction under their heads."""
    sheared: Pascal | None = None
    """Strength of tape against a push; nothing else then holds."""
    pulled: Pascal | None = None
    """Strength of tape against a lift."""
    note: str = ""
    """What else is to be kept in mind, a sentence."""
    inputs: Mapping[str, Named] = field(default_factory=dict)


def lacks(words: str, missing: str) -> Pressed:
    """A hold of which something must be known first."""
    return Pressed(None, 1.0, words, missing)


def stated(name: str, unit: str) -> Named:
    """A row of the table of what is usual, with its words and source."""
    row = usual()[name]
    return Named("", row.value, unit, f"{row.title}, {row.text}; {row.source}")


def _vacuum(machine: Machine, job: Job, hold: HoldDown) -> Pressed:
    path = f"{job.path}.hold_down"
    if hold.area is None:
        return lacks("vacuum", f"{path}.area")
    inputs, note = {"area": Named(f"{path}.area", hold.area, "m2")}, ""
    pressure, words = hold.pressure, "vacuum as told"
    if hold.pump_pressure is not None and hold.pump_flow is not None:
        if hold.board is None and hold.leak is None:
            return lacks("vacuum", f"where air leaks in: {path}.leak, or {path}.board")
        leaks, note = _leaks(machine, job, hold)
        inputs |= {
            "pump_pressure": Named(f"{path}.pump_pressure", hold.pump_pressure, "Pa"), "pump_flow": Named(f"{path}.pump_flow", hold.pump_flow, "m3/s"), **leaks,
        }  # fmt: skip
        pressure = held_pressure(
            blocked_pressure=hold.pump_pressure,
            open_flow=hold.pump_flow,
            gap_area=leaks["leak"].value,
            permeability=leaks["permeability"].value if "permeability" in leaks else 0.0,
            board_area=leaks["open_board"].value if "open_board" in leaks else 0.0,
            thickness=leaks["board"].value if "board" in leaks else 1.0,
        )
        words = "vacuum where the pump draws just what leaks in"
    if pressure is None:
        return lacks("vacuum", f"{path}.pressure, or {path}.pump_pressure and {path}.pump_flow")
    inputs["pressure"] = Named("" if words != "vacuum as told" else f"{path}.pressure", pressure, "Pa", words)
    return Pressed(
        pressing_force(pressure=pressure, area=hold.area),
        _face(job),
        f"{words}, over its area",
        pressure=pressure,
        note=note,
        inputs=inputs,
    )


def _leaks(machine: Machine, job: Job, hold: HoldDown) -> tuple[dict[str, Named], str]:
    """Where air comes in: gaps as told, the board that nothing covers, and the kerf of a slot that goes through the work."""
    path = f"{job.path}.hold_down"
    leaks = {"leak": Named("", 0.0, "m2", "no gaps are told") if hold.leak is None else Named(f"{path}.leak", hold.leak, "m2")}
    if hold.board is None:
        return leaks, ""
    assert hold.area is not None
    open_board = _open_board(machine, hold.area, _outline(job, hold.area), hold.board)
    note = ""
    if job.slot:
        thick = None if job.work is None else job.work.size[2]
        through = np.asarray(True if thick is None else job.depth * job.passes >= thick)
        kerf = slot_width(width=job.width, thickness=hold.board) * _outline(job, hold.area)
        open_board = open_board + np.where(through, kerf, 0.0)
        if np.any(through):
            note = "Once the slot is through it leaks all round the part, as is counted here."
    leaks |= {
        "board": Named("spoilboard.thickness", hold.board, "m", "thickness that the air is drawn through"), "permeability": stated("board-permeability", "m2"),
        "open_board": Named("", open_board, "m2", "board that nothing covers, with its edges and the kerf round the part"),
    }  # fmt: skip
    return leaks, note


def _outline(job: Job, area: SquareMetre) -> Metre:
    """Edge of the part: of a square where its size is not known, the least that an area has."""
    return 4 * np.sqrt(area) if job.work is None else 2 * (job.work.size[0] + job.work.size[1])


def _open_board(machine: Machine, area: SquareMetre, outline: Metre, thickness: Metre) -> SquareMetre:
    """What the field that is left open leaks like: it draws from under the edge of the part as well."""
    bare = machine.purpose.work_area[0] * machine.purpose.work_area[1] - area
    leaking: Real = np.where(bare > 0, open_area(area=np.maximum(bare, 0.0), perimeter=outline, thickness=thickness), 0.0)
    return leaking


def _face(job: Job) -> Number:
    """Share of an evenly held part; that of a strip, the least of all, where its size is not known."""
    return STRIP if job.work is None else worst_rectangle_share(length=job.work.size[0], width=job.work.size[1])


def _points(job: Job, count: int) -> Number:
    """Share of a few clamps that stand evenly along the two long sides of the part."""
    if job.work is None or count < 2:
        return 0.0 if count < 2 else STRIP
    return _clamp_share(job.work.size[0] / 2, job.work.size[1] / 2, count)


@lru_cache(maxsize=256)
def _clamp_share(x: float, y: float, count: int) -> Number:
    """Of a part of half sizes ``x`` and ``y``: a search, and asked for again at every change of anything."""
    along = np.linspace(-1.0, 1.0, (count + 1) // 2)
    places = np.array([(side * x, edge * y) if x >= y else (edge * x, side * y) for edge in (-1.0, 1.0) for side in along][:count])
    corners = np.array([(x, y), (x, -y), (-x, y), (-x, -y)])
    return least_share(points=places, shares=np.full(count, 1 / count), corners=corners)


def _clamps(machine: Machine, job: Job, hold: HoldDown) -> Pressed:
    path, count, force = f"{job.path}.hold_down", hold.count, hold.force
    inputs = {}
    if force is None and hold.torque is not None and hold.thread is not None and hold.thread.diameter is not None:
        if hold.nut_factor is None:
            return lacks("clamps", f"{path}.nut_factor, or {path}.force")
        inputs = {
            "torque": Named(f"{path}.torque", hold.torque, "N m"), "diameter": Named(f"{path}.thread", hold.thread.diameter, "m", "of the clamp's screw"),
            "nut_factor": Named(f"{path}.nut_factor", hold.nut_factor),
        }  # fmt: skip
        force = screw_clamp_force(torque=hold.torque, diameter=hold.thread.diameter, nut_factor=hold.nut_factor)
    elif force is not None:
        inputs = {"force": Named(f"{path}.force", force, "N", "of each clamp")}
    if force is None:
        return lacks("clamps", f"{path}.force, or {path}.torque and {path}.thread")
    if count is None:
        return lacks("clamps", f"{path}.count")
    away = show(typical(path_clearance(cutter=_cutter(job), fastener=0.0)), "m", machine.show)
    return Pressed(
        count * force, _points(job, count), f"{count} clamps, spread along the work",
        note=f"Keep the middle of the cutter {away} off the edge of every clamp.", inputs={"count": Named(f"{path}.count", count), **inputs},
    )  # fmt: skip


def _screws(machine: Machine, job: Job, hold: HoldDown) -> Pressed:
    path, count, force = f"{job.path}.hold_down", hold.count, hold.force
    if count is None:
        return lacks("screws", f"{path}.count")
    inputs = {"count": Named(f"{path}.count", count)}
    board = machine.spoilboard.material if machine.spoilboard is not None else None
    if force is not None:
        inputs["force"] = Named(f"{path}.force", force, "N", "of each screw")
    else:
        if hold.screw_diameter is None or hold.screw_depth is None:
            return lacks("screws", f"{path}.screw_diameter and {path}.screw_depth, or {path}.force")
        if board is None or board.density is None:
            return lacks("screws", "spoilboard.material, which the screws bite in")
        inputs |= {
            "screw_diameter": Named(f"{path}.screw_diameter", hold.screw_diameter, "m"), "screw_depth": Named(f"{path}.screw_depth", hold.screw_depth, "m"),
            "board_density": Named(f"material.{board.id}.density", board.density, "kg/m3"), "used": stated("wood-screw-use", ""),
        }  # fmt: skip
        force = wood_screw_clamp(
            specific_gravity=board.density / WATER, diameter=hold.screw_diameter, length=hold.screw_depth, used=usual()["wood-screw-use"].value
        )  # fmt: skip
    each, why, more = _sheared(machine, job, hold)
    sideways = screws_hold(count=count, each=each, used=usual()["wood-screw-shear-use"].value) if each is not None else 0.0
    return Pressed(
        count * force, _points(job, count), f"{count} screws, spread along the work; {why}", sideways=sideways,
        note=_off_screws(machine, job, hold), inputs={**inputs, **more},
    )  # fmt: skip


def _sheared(machine: Machine, job: Job, hold: HoldDown) -> tuple[Newton | None, str, dict[str, Named]]:
    """What one screw holds sideways; None, and why, where it is not counted."""
    board = machine.spoilboard.material if machine.spoilboard is not None else None
    alone = "friction alone is counted, as"
    if hold.screw_diameter is None or hold.screw_depth is None or board is None or board.density is None:
        return None, f"{alone} size of the screws and spoilboard.material are not told", {}
    if job.work is None:
        return None, f"{alone} {job.path}.work does not tell how thick the work is", {}
    if job.material.group not in GRAINED or board.group not in GRAINED or job.material.density is None:
        return None, f"{alone} a screw bears on wood and board only", {}
    shank = SHANK * usual()["wood-screw-core"].value * hold.screw_diameter
    each = screw_shear(
        work_bearing=bearing_strength(density=job.material.density, diameter=shank),
        board_bearing=bearing_strength(density=board.density, diameter=shank),
        work_thickness=job.work.size[2],
        board_depth=hold.screw_depth,
        diameter=shank,
        yield_moment=screw_yield_moment(strength=usual()["wood-screw-steel"].value, diameter=shank),
    )
    return each, "their shanks hold sideways, friction besides", {
        "sideways_each": Named("", each, "N", "least of six ways in which a screw yields (en-1995-1-1)"), "core": stated("wood-screw-core", ""),
        "work_density": Named(f"material.{job.material.id}.density", job.material.density, "kg/m3"),
        "work_thickness": Named(f"{job.path}.work.size", job.work.size[2], "m", "its thickness"), "steel": stated("wood-screw-steel", "Pa"), "used_sideways": stated("wood-screw-shear-use", ""),
    }  # fmt: skip


def _off_screws(machine: Machine, job: Job, hold: HoldDown) -> str:
    """How far the path stays off the screws: a cutter that meets one breaks and throws its pieces."""
    head = 0.0 if hold.screw_diameter is None else HEAD * hold.screw_diameter
    away = show(typical(path_clearance(cutter=_cutter(job), fastener=head)), "m", machine.show)
    return f"Keep the middle of the cutter {away} off {'the edge of every head' if hold.screw_diameter is None else 'the middle of every screw'}."


def _cutter(job: Job) -> Metre:
    return 0.0 if job.cutter.diameter is None else job.cutter.diameter


def _tape(machine: Machine, job: Job, hold: HoldDown) -> Pressed:
    path = f"{job.path}.hold_down"
    if hold.area is None:
        return lacks("tape", f"{path}.area")
    if hold.strength is None:
        return lacks("tape", f"{path}.strength")
    shear = hold.strength
    pull = shear * usual()["tape-tension"].value / usual()["tape-shear"].value
    return Pressed(
        None,
        _face(job),
        "double-sided tape",
        sheared=shear,
        pulled=pull,
        inputs={
            "area": Named(f"{path}.area", hold.area, "m2"),
            "shear_strength": Named(f"{path}.strength", shear, "Pa"),
            "tensile_strength": Named("", pull, "Pa", f"in the proportion of {stated('tape-tension', 'Pa').note}"),
            "sheared": Named("", tape_force(strength=shear, area=hold.area), "N", "what the tape holds against a push alone"),
        },
    )


WAYS: dict[str, Callable[[Machine, Job, HoldDown], Pressed]] = {
    "vacuum": _vacuum, "clamps": _clamps, "slots": _clamps, "screws": _screws, "tape": _tape,
}  # fmt: skip
"""A new way of holding is a row of this."""
