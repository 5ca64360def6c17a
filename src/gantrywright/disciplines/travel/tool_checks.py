"""GEO-206: whether a cutter is as long as it is said to stand out of its collet."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from gantrywright.base.quantities.proposing import propose
from gantrywright.base.quantities.showing import show
from gantrywright.base.samples import plain, typical
from gantrywright.base.units import Metre
from gantrywright.catalog.kinds import Cutter
from gantrywright.findings import Change, Verdict, ceiling, check, unknown
from gantrywright.model.machine import Machine
from gantrywright.results import Results

HELD = 2.0
"""A collet should hold so many diameters of the shank; common practice, no source."""
SLENDER = 8.0
"""A cutter of unknown length that stands out more than so many diameters is to be looked at; common practice, no source."""


@check(
    "GEO-206",
    title="Cutters are as long as they stand out, and their collet holds enough of the rest",
    why="A cutter that stands out farther than it is long is not there; one that is held short pulls out of its collet and runs out of true.",
    source="common practice, no source",
    remedy="Push the cutter further into its collet, or take a longer one.",
    structural=True,
)
def cutters_are_long_enough(machine: Machine, results: Results) -> Iterator[Verdict]:
    tool = machine.tool
    if tool is not None:
        yield _judged(machine, "tool", tool.cutter, tool.stick_out)
    for job in machine.jobs:
        if tool is None or job.cutter.id != tool.cutter.id or not _same(job.stick_out, tool.stick_out):
            yield _judged(machine, job.path, job.cutter, job.stick_out)


def _same(one: Metre, other: Metre) -> bool:
    """Whether a job takes the stick-out of the tool: one that it tells with a band is its own."""
    return isinstance(one, float) and isinstance(other, float) and one == other


def _judged(machine: Machine, path: str, cutter: Cutter, out: Metre) -> Verdict:
    subject = f"{path}.stick_out"
    shank = cutter.shank if cutter.shank is not None else cutter.diameter
    if cutter.length is None:
        return _slender(machine, path, cutter, out)
    held = 0.0 if shank is None else HELD * typical(shank) / typical(cutter.length)
    note = f"{show(typical(cutter.length - out), 'm', machine.show)} of the cutter are left for the collet; less than {HELD:g} diameters of its shank is watched."
    return ceiling(
        subject,
        value=out,
        limit=cutter.length,
        unit="m",
        watch=held,
        what="stick-out",
        note=note,
        changes=_changes(machine, path, cutter, out, held),
    )


def _slender(machine: Machine, path: str, cutter: Cutter, out: Metre) -> Verdict:
    """Of a cutter whose length nobody said: what is usual of its diameter, to be looked at and no failure by itself."""
    if cutter.diameter is None:
        return unknown(f"{path}.stick_out", missing=f"{path}.cutter.length", unit="m")
    note = f"The length of the cutter ({path}.cutter.length) is not known; one of this diameter is seldom long enough to stand out farther."
    said = ceiling(f"{path}.stick_out", value=out, limit=SLENDER * cutter.diameter, unit="m", what="stick-out", note=note)
    assert said.margin is not None  # value and limit are known
    return replace(said, margin=plain(np.maximum(said.margin, 0.0)), watch=1e-9)


def _changes(machine: Machine, path: str, cutter: Cutter, out: Metre, held: float) -> tuple[Change, ...]:
    """As far in as the collet wants it; what the tip then no longer reaches, other checks tell."""
    key = f"{path}.stick_out"
    if cutter.length is None or held >= 1 or typical(out) <= typical(cutter.length) * (1 - held) or key not in machine.origins:
        return ()
    new = propose(typical(cutter.length) * (1 - held), "length", machine.show, "down")
    return (Change(f"cutter {new} out of its collet", ((key, new),)),)
