"""Writes down what a job comes to, so that every number of it opens to its working."""

from collections.abc import Mapping
from typing import Any

import numpy as np

from gantrywright.base.samples import plain, typical
from gantrywright.disciplines.cutting.limits import Known
from gantrywright.disciplines.cutting.tabbed import bridges
from gantrywright.disciplines.cutting.tool import Body
from gantrywright.results.jobs import Advice, Limit
from gantrywright.results.ledger import Ledger, Named
from gantrywright.theory.cutting.cutter_give import tip_matrix
from gantrywright.theory.cutting.lobes import HELD, recommended_depth

ENGAGED = ("depth", "width", "diameter", "flutes")
"""Inputs of the force that say how the cutter stands in the work."""
OF_MATERIAL = ("shear", "edge", "shear_ratio", "edge_ratio", "edge_factor")
"""Inputs of the force that the material and the state of the edge give."""

MODES = 60
"""Modes of the machine that are figures, at most."""
SAME = 0.01
"""Of a frequency: so near it is the same mode with another cutter."""


def write_down(known: Known, limits: tuple[Limit, ...], ledger: Ledger) -> None:
    """Wall, bottom, hold, chatter and the ceilings of one job."""
    path = known.cut.job.path
    _walls(known, ledger, path)
    _bottom(known, ledger, path)
    _held(known, ledger, path)
    _tabs(known, ledger, path)
    _chatter(known, ledger, path)
    _ceilings(known, limits, ledger, path)


def write_advice(path: str, advice: Advice, ledger: Ledger) -> None:
    """The removal rate of the advised settings, each with its reason."""
    said = {
        "depth": (advice.depth, "m", f"{advice.passes} pass{'es' if advice.passes > 1 else ''}: {advice.reasons['depth']}"),
        "width": (advice.width, "m", advice.reasons["width"]), "feed": (advice.feed, "m/s", advice.reasons["feed"]),
        "speed": (advice.speed, "rad/s", advice.reasons["speed"]),
    }  # fmt: skip
    ledger.note(
        f"{path}.advised", advice.removal, unit="m3/s", source="derived", formula="Q = ap ae vf of the settings that keep every known limit and remove most",
        title=f"Removal rate at the settings that are advised; what sets the depth: {advice.binds}",
        **{name: Named("", value, unit, note) for name, (value, unit, note) in said.items()},
    )  # fmt: skip


def _walls(known: Known, ledger: Ledger, path: str) -> None:
    if not known.walls:
        return
    pushed = ledger.link(f"{path}.peak_in_plane", _peak(known), "N", "greatest force in the plane of the table")
    for wall in known.walls:
        ledger.note(
            f"{path}.wall.{wall.way}", wall.worst, unit="m", source="derived",
            formula="greatest |e(z)| over height and direction of feed, e(z) = s [C(z) F(theta_z)]_y + R_j - R at the moment when a tooth makes the wall",
            title=f"Deflection and run-out at the wall, {wall.way}; positive takes metal that should stay", force=pushed,
            **_of_force(ledger, path, (*OF_MATERIAL, "feed_per_tooth", *ENGAGED)), **_gives(known, ledger),
            run_out=Named(f"{path}.run_out", 2 * np.asarray(known.cut.run_out), "m", "reading of an indicator at the cutter"),
        )  # fmt: skip
    worst = max(known.walls, key=lambda wall: abs(typical(wall.worst)))
    ledger.note(
        f"{path}.wall", plain(np.abs(worst.worst)), unit="m", source="derived", formula="greatest of all walls of the job, without its sign",
        title="Deflection and run-out at the worst wall; squareness, leads and holes are not in it", force=pushed,
        **{wall.way: ledger.named(f"{path}.wall.{wall.way}") for wall in known.walls}, **_gives(known, ledger),
    )  # fmt: skip


def _bottom(known: Known, ledger: Ledger, path: str) -> None:
    if known.bottom is None:
        return
    ledger.note(
        f"{path}.bottom", known.bottom, unit="m", source="derived", formula="-[C F(theta)]_z, farthest over a turn and directions of feed",
        title="How much too deep the bottom comes; negative: too shallow",
        force=ledger.link(f"{path}.peak_axial", ledger[f"{path}.peak_axial"].value, "N", "along the spindle"),
        across=ledger.link(f"{path}.peak_in_plane", _peak(known), "N", "in the plane of the table: it tips the spindle, and so lifts or sinks the tip"),
        **_gives(known, ledger),
    )  # fmt: skip


def _peak(known: Known) -> Any:
    worst: Any = 0.0
    for load in known.loads:
        worst = np.maximum(worst, load.peak.in_plane)
    return plain(np.asarray(worst))


def _of_force(ledger: Ledger, path: str, names: tuple[str, ...]) -> dict[str, Named]:
    """Inputs of the force that the job pushes with, by name: what moves it moves this too."""
    known = {given.name: given for given in ledger[f"{path}.peak_in_plane"].inputs}
    return {name: Named(known[name].path, known[name].value, known[name].unit, known[name].note) for name in names if name in known}


def _gives(known: Known, ledger: Ledger) -> Mapping[str, Named]:
    """What gives way: the machine with the cutter that it is drawn with, and the cutter of the job."""
    job, body = known.cut.job, known.body
    whole = "structure.tip.stiffness"
    found = {"stick_out": Named(f"{job.path}.stick_out", job.stick_out, "m")}
    if whole in ledger:
        words = "in the softest direction, with the cutter that is drawn; that one is taken out of it and the job's put in"
        found["stiffness"] = Named(whole, ledger[whole].value, "N/m", words)
    if body is not None:
        words = f"{job.cutter.id or 'the cutter'} alone, of {job.cutter.material or 'its material'}, pushed at its tip"
        found["bare_cutter"] = Named("", _cutter_stiffness(body), "N/m", words)
    return found


def _cutter_stiffness(body: Body) -> Any:
    return plain(1 / np.asarray(tip_matrix(**body.bar)[..., 0, 0]))


def _held(known: Known, ledger: Ledger, path: str) -> None:
    held = known.holding
    if held is None or held.slip is None:
        return
    ledger.note(
        f"{path}.held_push", held.slip, unit="N", source="derived", formula=held.formula, title="Push in the plane of the table that the hold-down stands", **held.inputs
    )  # fmt: skip
    if held.lift is not None:
        ledger.note(
            f"{path}.held_lift", held.lift, unit="N", source="derived", formula=held.lift_formula, title="Lift that the hold-down stands", **held.inputs
        )  # fmt: skip


def _tabs(known: Known, ledger: Ledger, path: str) -> None:
    found = bridges(known.cut.job, known.holding)
    if found is None or isinstance(found, str):
        return
    ledger.note(
        f"{path}.tabs_push", found.push, unit="N", source="derived", formula="F = (n/2) min(w t tau, w^2 t sigma/(3 k))/S + F_held", title="Push that half of the tabs bear", **found.inputs
    )  # fmt: skip
    ledger.note(
        f"{path}.tabs_lift", found.lift, unit="N", source="derived", formula="F = n min(w t tau, w t^2 sigma/(3 k))/S + F_held", title="Lift that all tabs bear", **found.inputs
    )  # fmt: skip


def _chatter(known: Known, ledger: Ledger, path: str) -> None:
    found = known.lobes
    if found is None:
        return
    rings: dict[str, Named] = {}
    if found.rings is not None:
        rings = {
            "mode": Named(_mode(ledger, found.rings.frequency), found.rings.frequency, "Hz", "the mode that answers it most, with the job's cutter in the collet"),
            "damping": Named("", found.rings.damping, "", "ratio, of that mode"),
            "modal_stiffness": Named("", found.rings.stiffness, "N/m", "of that mode at the tip"),
        }  # fmt: skip
    ledger.note(
        f"{path}.chatter_limit", found.here, unit="m", source="altintas-budak-1995" if found.method == "zero-order" else "insperger-stepan-2004",
        formula="least a over all lobes and directions of feed with det(I + (N a Kt/4 pi)(1 - exp(-j w T)) [alpha][H]) = 0",
        title=f"Depth at which the cut begins to chatter at this speed ({found.method}), feed {found.direction}, {found.way}",
        speed=Named(f"{path}.speed", known.setting.speed, "rad/s"), frequency=Named("", found.frequency, "Hz", "of the chatter that begins first"),
        **rings, **_of_force(ledger, path, ("shear", "shear_ratio", "width", "diameter", "flutes")),
        if_frequencies_are_off=Named("", found.low, "m", "least where every frequency may be 4 % off"),
    )  # fmt: skip
    ledger.figure(
        f"{path}.chatter_depth",
        recommended_depth,
        limit=ledger.named(f"{path}.chatter_limit"),
        share=Named("", HELD, "", "of the limit; forced vibration above the chip misbehaves from 0.8 of it"),
    )


def _mode(ledger: Ledger, frequency: float) -> str:
    """The figure of a mode of the machine with this frequency; empty where the job's cutter makes it another one."""
    known = {
        path: abs(typical(ledger[path].value) - frequency)
        for n in range(1, MODES + 1)
        if (path := f"structure.mode.{n}.frequency") in ledger
    }
    path = min(known, key=lambda each: known[each], default="")
    return path if path and known[path] < SAME * frequency else ""


def _ceilings(known: Known, limits: tuple[Limit, ...], ledger: Ledger, path: str) -> None:
    ledger.note(
        f"{path}.removal", plain(np.asarray(known.removal)), unit="m3/s", source="definition", formula="Q = ap ae vf; of a ball or a V bit the area of its groove times vf", title="Removal rate",
        depth=Named(f"{path}.depth", known.setting.depth, "m"), width=Named(f"{path}.width", known.setting.width, "m"), feed=Named(f"{path}.feed", known.setting.feed, "m/s"),
    )  # fmt: skip
    for limit in limits:
        if limit.ceiling is None:
            continue
        at, allowed = _paths(limit, path)
        ledger.note(
            f"{path}.ceiling.{limit.id}", limit.ceiling, unit="m3/s", source="derived", formula=f"Q {'value/limit' if limit.least else 'limit/value'}: the {limit.scales} changed until the limit is met",
            title=f"Removal rate at which {limit.words} is used up", removal=ledger.named(f"{path}.removal"),
            at_the_job=Named(at, limit.value, limit.unit, _SIZED.get(limit.id, "") if at else "at the settings of the file"),
            allowed=Named(allowed, limit.limit, limit.unit, "" if allowed else limit.note or limit.words),
        )  # fmt: skip


def _paths(limit: Limit, path: str) -> tuple[str, str]:
    """Where value and limit come from: a figure, or a key of the file; empty where neither says it."""
    if limit.id in _SETTINGS:
        at, allowed = _SETTINGS[limit.id]
        return f"{path}.{at}", limit.figure or (f"{path}.{allowed}" if allowed else "")
    if limit.id in ("hold-down", "lift", "tabs", "tabs-lift") or limit.id.startswith("axis-"):
        return f"{path}.{'peak_axial' if limit.id in ('lift', 'tabs-lift', 'axis-z') else 'peak_in_plane'}", limit.figure
    if limit.id in ("chip-load", "rubbing"):
        return "", ""  # the chip is as thick as its arc of contact makes it, which is not the feed per tooth
    return limit.figure, "purpose.accuracy" if limit.id in ("accuracy", "bottom") else ""


_SIZED = {"bottom": "without its sign", "axis-z": "without its sign"}
"""Limits on the size of a value that has a sign where it is worked out."""
_SETTINGS = {
    "chatter": ("depth", ""),
    "flutes": ("depth", "cutter.flute_length"),
    "axis-feed": ("feed", ""),
    "speed": ("speed", ""),
    "slow-speed": ("speed", ""),
}
"""Limits whose value is a setting of the file, and the key of what is allowed."""
