"""The structure as plain data: what ``--json`` prints, and what a 3-D view draws and animates. Keys are stable; numbers are SI."""

from dataclasses import asdict
from typing import Any

import numpy as np

from gantrywright.base.errors import OutOfRange
from gantrywright.base.quantities import show
from gantrywright.base.samples import typical
from gantrywright.disciplines.structure.analyse import tip_at
from gantrywright.disciplines.structure.readings import pose_at
from gantrywright.disciplines.structure.speeds import free_speeds, resonances, spindle_range, worded
from gantrywright.model.table import over_table, places_of
from gantrywright.results.structure import LETTERS, Drawing, Mode, Share, StructureResult, Tip, TipResponse
from gantrywright.study.readings import CHECKS
from gantrywright.study.softest import softest_along
from gantrywright.study.standing import doubtful
from gantrywright.study.study import Study

LEAST_SHARE = 0.001
"""Parts that hold less of the give in every direction are left out of the list of shares."""
OFF_TABLE = "this place is not over the table"


def structured(study: Study) -> dict[str, Any]:
    """Everything that the structure answers, shapes left out."""
    found = study.results.structure
    return {
        "lacking": list(found.lacking), "broken": list(found.broken), "adrift": dict(found.adrift), "failing": [[each.id, each.subject] for each in doubtful(study)], "notes": dict(found.notes),
        "softest": tip(study, found.worst, "structure.tip"), "middle": tip(study, found.middle, ""), "map": grid(found),
        "unknowns": {path: [list(pair) for pair in pairs] for path, pairs in study.unknowns.items()},
        "over_table": softest_over_table(found), "softest_along": along_each(found),
        "jobs": [{"job": j.job, "mean": _plain(j.mean), "peak": _plain(j.peak), "upright": _plain(j.upright), "needed": _plain(j.needed)} for j in found.jobs],
        "axes": {name: {key: _plain(getattr(a, key)) for key in AXIS_KEYS} | {"binds": a.binds} for name, a in found.axes.items()},
        "slotted": [{"member": s.member, "section": s.section, "bending": _plain(s.bending), "torsion": _plain(s.torsion)} for s in found.slotted],
        "sag": _plain(found.sag), "modes": [mode(m) for m in found.modes], "speeds": speeds(study), "response": response(study),
        "bolted": [{"joint": b.joint, "slip": _plain(b.slip), "opening": _plain(b.opening), "shear": _plain(b.shear), "worst": b.worst, "missing": b.missing} | {key: _plain(getattr(b, key)) for key in CLAMP_KEYS} | {"limited": b.limited} for b in found.bolted],
        "heat": [{"subject": h.subject, "value": _plain(h.value), "relieved": _plain(h.relieved), "warming": _plain(h.warming), "kind": h.kind, "words": h.words} for h in found.heat],
        "least_foot": _plain(found.least_foot), **taught(study),
    }  # fmt: skip


def taught(study: Study) -> dict[str, Any]:
    """What was pushed and tapped beside what was expected, and what is believed before and after it (5 %, 50 % and 95 % points)."""
    compared = {each.reading.name: each for each in study.lessons.compared}
    status = {finding.subject: str(finding.status) for finding in study.findings if finding.id in CHECKS}
    return {
        "readings": [
            {
                "name": r.name, "observe": r.observe, "unit": r.unit, "where": r.where, "mode": r.mode, "missing": r.missing,
                "measured": _plain(r.measured), "deviation": r.deviation, "predicted": _plain(r.predicted), "status": status.get(f"measured.{r.name}"),
                "band": list(compared[r.name].band) if r.name in compared else None,
                "percentile": compared[r.name].percentile if r.name in compared else None,
                "used": compared[r.name].used if r.name in compared else False,
                "held": [list(pair) for pair in r.held], "others": [list(pair) for pair in r.others],
                "causes": [asdict(cause) for cause in (compared[r.name].causes if r.name in compared else ())],
            }
            for r in (*study.results.structure.readings, *study.results.cutting.readings)
        ],
        "after_readings": [asdict(each) for each in (*study.lessons.figures, *study.lessons.inputs)],
    }  # fmt: skip


CLAMP_KEYS = ("clamp", "bears", "tightened", "torque")
AXIS_KEYS = ("accel", "tilt", "rock", "settle", "tolerance", "ramp", "jerk", "rise", "period")


def tip(study: Study, found: Tip | None, figure: str) -> dict[str, Any] | None:
    """Give and stiffness at one pose with all shares; of a place that is not over the table only that it is not."""
    if found is None:
        return None
    if not over(study, found):
        return {"pose": dict(found.pose), "place": list(found.place), "over_table": False, "words": OFF_TABLE}
    bands = {letter: study.bands.get(f"{figure}.stiffness_{letter}") for letter in LETTERS} if figure else {}
    return {
        "pose": dict(found.pose), "place": list(found.place), "over_table": True, "give": _typical(found.give).tolist(),
        "stiffness": {letter: _plain(k) for letter, k in zip(LETTERS, found.stiffness, strict=True)},
        "band": {letter: list(pair) for letter, pair in bands.items() if pair},
        "first_order": _first_order(study, figure), "least": _plain(found.least), "softest": list(found.softest),
        "shares": [share(s) for s in found.shares if max(typical(v) for v in (*s.along, s.weakest)) >= LEAST_SHARE],
    }  # fmt: skip


def over(study: Study, found: Tip) -> bool:
    """Whether the tool is over what the work lies on."""
    poses = np.array(list(found.pose.values()))
    return bool(over_table(study.machine, places_of(study.machine, tuple(found.pose), poses)))


def _first_order(study: Study, figure: str) -> dict[str, list[float]]:
    """Bands from the energy shares alone, at no cost; to be held against ``band``, which the full solution gave."""
    found = {letter: study.bands.get(f"{figure}.first_order_{letter}") for letter in LETTERS} if figure else {}
    return {letter: list(pair) for letter, pair in found.items() if pair}


def at_place(study: Study, place: tuple[float, float, float]) -> dict[str, Any] | None:
    """Give and shares with the tip of the tool at a place of the work (from the machine's zero, m); None where there is no structure.

    Raises:
        OutOfRange: The tip does not reach there.
    """
    machine = study.machine
    moved = {max(range(3), key=lambda k: abs(direction[k])) for direction in (axis.direction for axis in machine.axes)}
    for k in sorted(moved):
        letter, at, least, most = LETTERS[k], place[k], machine.reach.least[k], machine.reach.most[k]
        if not least - 1e-6 <= at <= most + 1e-6:
            said, first, last = (show(length, "m", machine.show) for length in (at, least, most))
            raise OutOfRange(letter, said, "", f"{first} to {last}", "the tool does not reach there")
    pose = pose_at(machine, place)
    found = tip_at(machine, pose)
    return None if found is None else tip(study, found, "")


def share(found: Share) -> dict[str, Any]:
    """What one part holds."""
    return {
        "part": found.part, "kind": found.kind, "group": found.group, "along": [_plain(v) for v in found.along], "weakest": _plain(found.weakest),
        "ways": {way: [_plain(v) for v in parts] for way, parts in found.ways.items()},
    }  # fmt: skip


def grid(found: StructureResult) -> dict[str, Any] | None:
    """The give over all poses: a 3 x 3 at every place, axes in the order of ``axes``; of nothing where a place is not over the table."""
    if found.grid is None:
        return None
    made = found.grid
    give = made.give.astype(object)
    give[np.logical_not(made.over)] = None
    return {"axes": list(made.axes), "places": [p.tolist() for p in made.places], "give": give.tolist(), "over": made.over.tolist()}


def speeds(study: Study) -> list[dict[str, Any]]:
    """Speeds of the spindle, rpm, at which the cutter of each job rings no mode: by the rule of check STR-201."""
    machine, modes = study.machine, study.results.structure.modes
    allowed, found = spindle_range(machine), resonances(modes)
    if allowed is None or not modes:
        return []
    free = {job.name: free_speeds(found, job.cutter.flutes, allowed) for job in machine.jobs if job.cutter.flutes is not None}
    return [
        {"job": name, "allowed": list(allowed), "free": [list(pair) for pair in ranges], "words": worded(ranges) or "none"}
        for name, ranges in free.items()
    ]


def mode(found: Mode) -> dict[str, Any]:
    """One mode."""
    return {
        "number": found.number, "frequency": _plain(found.frequency), "name": found.name, "damping": _plain(found.damping),
        "tip_share": [_plain(share) for share in found.tip_share], "strain": [list(pair) for pair in found.strain], "kinetic": [list(pair) for pair in found.kinetic],
    }  # fmt: skip


def response(study: Study) -> dict[str, Any] | None:
    """Receptance of the tool along X, Y, Z: real and imaginary part, and once settled the band of its size."""
    made = study.results.structure.response
    if made is None:
        return None
    return {
        "frequencies": np.asarray(made.frequencies).tolist(), "real": np.real(made.receptance).tolist(), "imaginary": np.imag(made.receptance).tolist(),
        "peak": list(made.peak), "peak_at": list(made.peak_at), "lowest_real": list(made.lowest_real),
        **{f"{name}_band": [_pair(study, f"structure.tip.{name}_{letter}") for letter in LETTERS] for name in ("peak", "lowest_real")},
        "band": _response_band(made),
    }  # fmt: skip


def _pair(study: Study, figure: str) -> list[float] | None:
    pair = study.bands.get(figure)
    return None if pair is None else list(pair)


def _response_band(made: TipResponse) -> dict[str, Any] | None:
    """Size of the receptance that 5 %, 50 % and 95 % of the samples stay below, at frequencies of its own; rows X, Y, Z."""
    if made.band is None or made.band_frequencies is None:
        return None
    points = {name: made.band[k].tolist() for k, name in enumerate(("low", "middle", "high"))}
    return {"frequencies": made.band_frequencies.tolist(), **points}


def deflected(study: Study) -> dict[str, Any]:
    """Members and how they move under each load and in each mode, for a view that animates them.

    Every drawing has ``nodes`` (n x 3, m, machine frame), ``lines`` (two nodes and the path of the part) and ``shapes`` (name, what one unit
    of it is, shift and turn of every node).
    """
    found = study.results.structure
    drawings = [d for d in (found.drawing, found.modes_drawing) if d is not None]
    return {"lacking": list(found.lacking), "broken": list(found.broken), "drawings": [_drawing(d) for d in drawings]}


def _drawing(made: Drawing) -> dict[str, Any]:
    return {
        "pose": dict(made.pose), "nodes": made.nodes.tolist(), "lines": [list(line) for line in made.lines],
        "shapes": [
            {"name": s.name, "shift": np.asarray(s.shift).tolist(), "turn": None if s.turn is None else np.asarray(s.turn).tolist()} for s in made.shapes
        ],
    }  # fmt: skip


def _typical(values: Any) -> Any:
    array = np.asarray(values)
    return array if array.ndim == 2 else np.median(array.reshape(-1, *array.shape[-2:]), axis=0)


def _plain(value: Any) -> float | None:
    if value is None:
        return None
    number = typical(value)
    return number if np.isfinite(number) else None


def along_each(found: StructureResult) -> dict[str, Any]:
    """X, Y and Z, each at the place of the map where it is softest itself: pose, stiffness there along all three and in the softest direction."""
    return {
        soft.along: {"pose": dict(soft.pose), "stiffness": dict(zip(LETTERS, soft.stiffness, strict=True)), "least": soft.least}
        for soft in softest_along(found.grid)
    }


def softest_over_table(found: StructureResult) -> dict[str, Any]:
    """Stiffness in the softest direction over the two longest axes, at the place of the others where it is least.

    Returns:
        ``across`` and ``along`` (axis, places), ``values`` (rows along, N/m; None where the place is not over the table), ``others`` (place
        of the remaining axes); empty without a map.
    """
    made = found.grid
    if made is None:
        return {}
    least = 1 / np.linalg.eigvalsh(made.give)[..., -1]
    order = [number for number, name in enumerate(made.axes) if name in ("x", "y")]
    order = order if len(order) == 2 else list(np.argsort([-np.ptp(places) for places in made.places])[:2])
    across, along = sorted(order, key=lambda number: made.axes[number])
    at = list(np.unravel_index(int(np.argmin(np.where(made.over, least, np.inf))), least.shape))
    index = tuple(slice(None) if k in (across, along) else at[k] for k in range(least.ndim))
    claimed = least.astype(object)
    claimed[np.logical_not(made.over)] = None
    values = claimed[index]
    values = values if along < across else values.T
    return {
        "across": {"axis": made.axes[across], "places": made.places[across].tolist()},
        "along": {"axis": made.axes[along], "places": made.places[along].tolist()}, "values": values.tolist(),
        "others": {made.axes[k]: float(made.places[k][at[k]]) for k in range(least.ndim) if k not in (across, along)},
    }  # fmt: skip
