"""GEO-205: whether there is a table under the work."""

from collections.abc import Iterator

from gantrywright.base.quantities.proposing import beside, propose
from gantrywright.base.quantities.showing import show
from gantrywright.disciplines.travel.analyse import SIDES
from gantrywright.findings import Change, Verdict, ceiling, check, unknown
from gantrywright.model.bodies import Box
from gantrywright.model.frame import Vector
from gantrywright.model.machine import Machine
from gantrywright.model.table import bearing_box
from gantrywright.results import Results

AREA = "purpose.work_area"
SETTLED = 9
"""Digits of a metre that sums of lengths are good for."""


@check(
    "GEO-205",
    title="The work area lies over the table at every place",
    why="Beyond the edge nothing carries the work: it cannot be clamped there, bends away from the cutter, and cannot be cut through.",
    source="definition",
    remedy="Move the table, the gantry or the spindle until one stands over the middle of the other; or a larger table, or want less.",
    structural=True,
)
def lies_over_the_table(machine: Machine, results: Results) -> Iterator[Verdict]:
    top = bearing_box(machine)
    if top is None:
        yield unknown(AREA, missing=f"what the work lies on: {machine.work_body}.top", unit="m", limit=0.0)
        return
    beyond = {(k, end): round(far, SETTLED) for k in (0, 1) for end, far in enumerate(_beyond(machine.table, top, k))}
    k, end = max(beyond, key=lambda side: beyond[side])
    note = f"Worst at the {SIDES[k][end]}{_pose(machine, k, end)}: {_words(machine, beyond[k, end])}."
    yield ceiling(AREA, value=beyond[k, end], limit=0.0, unit="m", what="overhang", note=note, changes=_changes(machine, top))


def _beyond(area: Box, top: Box, k: int) -> tuple[float, float]:
    """How far the work area reaches beyond the top at both ends of a direction; negative inside."""
    return top.least[k] - area.least[k], area.most[k] - top.most[k]


def _words(machine: Machine, far: float) -> str:
    size = show(abs(far), "m", machine.show)
    return f"{size} of it have nothing under them" if far > 0 else f"the table reaches {size} beyond it"


def _pose(machine: Machine, k: int, end: int) -> str:
    """Where the axis of that direction stands with the tool over that side."""
    axis = next((axis for axis in machine.axes if abs(axis.direction[k]) > 0.9), None)
    if axis is None:
        return ""
    side = (machine.table.least, machine.table.most)[end][k]
    pose = min(max(side - machine.reach.least[k], 0.0), axis.travel)
    return f" ({axis.name.upper()} at {show(pose, 'm', machine.show)})"


def _changes(machine: Machine, top: Box) -> tuple[Change, ...]:
    """A top as large as the work area, where it is smaller, and one over the middle of the other."""
    lacking = [max(sum(_beyond(machine.table, top, k)), 0.0) for k in (0, 1)]
    apart = [_apart(machine.table, top, k) for k in (0, 1)]
    larger, moved = (_larger(machine, top) if any(lacking) else None), (_moved(machine, top, apart) if any(apart) else None)
    found = [change for change in (larger, moved) if change is not None]
    if len(found) < 2:
        return tuple(found)
    return (Change(" and ".join(change.words for change in found), tuple(edit for change in found for edit in change.edits)),)


def _apart(area: Box, top: Box, k: int) -> float:
    """From the middle of the top to that of the work area, where either end hangs over; else 0."""
    near, far = (round(end, SETTLED) for end in _beyond(area, top, k))
    return (far - near) / 2 if max(near, far) > 0 else 0.0


def _larger(machine: Machine, top: Box) -> Change | None:
    path = f"{machine.work_body}.top.size"
    if machine.table_top is None:
        return None
    size = [propose(max(machine.table.size[k], top.size[k]), "length", machine.show, "up") for k in (0, 1)]
    new = _joined(size)
    old = _joined([beside(top.size[k], size[k], "length", machine.show) for k in (0, 1)])
    return Change(f"top {new} instead of {old}", ((path, new),))


def _moved(machine: Machine, top: Box, apart: list[float]) -> Change | None:
    """The body that is bolted on and carries the tool moved back, else the top moved."""
    bolted = _bolted(machine)
    if bolted:
        body, under = ({b.name: b for b in machine.bodies}[name] for name in bolted)
        at = tuple(body.origin[k] - under.origin[k] - (apart[k] if k < 2 else 0.0) for k in range(3))
        return Change(f"{body.name} {_far(machine, [-part for part in apart])}", ((f"{body.name}.at", _point(machine, at)),))
    if machine.table_top is None:
        return None
    origin = next(body.origin for body in machine.bodies if body.name == machine.work_body)
    middle = tuple((top.least[k] + top.most[k]) / 2 + apart[k] - origin[k] for k in (0, 1))
    return Change(f"top {_far(machine, apart)}", ((f"{machine.work_body}.top.at", _point(machine, middle)),))


def _bolted(machine: Machine) -> tuple[str, str] | None:
    """A body on the way to the tool that stands on another without an axis, with that other; None where there is none."""
    links = {link.body: link for link in machine.links}
    name = machine.tool_body
    while name:
        link = links[name]
        if link.on and not link.axis and f"{name}.at" in machine.origins:
            return name, link.on
        name = link.on
    return None


def _far(machine: Machine, by: list[float]) -> str:
    """``100 mm further to the back``."""
    return ", ".join(
        f"{show(abs(step), 'm', machine.show)} further to the {SIDES[k][step > 0]}" for k, step in enumerate(by) if step
    )


def _point(machine: Machine, at: tuple[float, ...] | Vector) -> str:
    unit, metre = ("in", 0.0254) if machine.show == "inch" else ("mm", 1e-3)
    return ", ".join(f"{value / metre:.6g}" for value in at) + f" {unit}"


def _joined(sizes: list[str]) -> str:
    numbers = " x ".join(size.rpartition(" ")[0] for size in sizes)
    return f"{numbers} {sizes[0].rpartition(' ')[2]}"
