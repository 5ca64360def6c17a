"""STR-1xx: whether the tool stays where it is put."""

from collections.abc import Iterator

import numpy as np

from gantrywright.base.quantities import show
from gantrywright.findings import Verdict, ceiling, check, floor, holds, unknown
from gantrywright.model.machine import Machine
from gantrywright.results import Results
from gantrywright.results.structure import JobGive, StructureResult, Tip

GIVE_SHARE = 0.5
"""Part of the wanted accuracy that the give under the cut may use, and as much for the sag; common practice, no source."""


def lacks(structure: StructureResult) -> str:
    """What must be known before the structure answers."""
    return "; ".join((*structure.broken, *structure.lacking)) or "the structure"


def soft_words(tip: Tip, system: str) -> str:
    """The parts that hold most of the give."""
    parts = ", ".join(f"{part} {share:.0%}".replace("%", " %") for part, share in tip.soft_parts()[:3])
    where = ", ".join(f"{name.upper()} {show(place, 'm', system)}" for name, place in sorted(tip.pose.items()))
    return f"softest at {where}; of the give there: {parts}"


@check(
    "STR-101", title="Stiff enough at the tool in every direction, everywhere",
    why="A machine that gives more than you wanted cuts slower, leaves marks and chatters; metal once cut is dear to stiffen.",
    source="definition", remedy="Stiffen the part that holds most of the give: gantrywright stiffen lists what each change brings.",
)  # fmt: skip
def wanted_stiffness(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Against the stiffness that is wanted, where one is."""
    wanted, tip = machine.purpose.stiffness, results.structure.worst
    if wanted is None:
        return
    if tip is None:
        yield unknown("machine", missing=lacks(results.structure), unit="N/m", limit=wanted)
        return
    yield floor(
        "machine", value=tip.least, limit=wanted, unit="N/m", figure="structure.tip.stiffness", note=soft_words(tip, machine.show), what="stiffness",
    )  # fmt: skip


@check(
    "STR-102", title="Cutting pushes the tool off by no more than its part of the wanted accuracy",
    why="What the tool is pushed off stays on the part: walls lean, slots grow narrow, a finishing pass must mend it.",
    source="common practice, no source", remedy="Cut shallower or slower, take a finishing pass, or stiffen the part that gives most.",
)  # fmt: skip
def push_off(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Each job: mean force in the softest direction of the table's plane, where the machine is softest."""
    for name in (job.path for job in machine.jobs):
        given = _job(results, name)
        if given is None or machine.purpose.accuracy is None:
            missing = "purpose.accuracy" if machine.purpose.accuracy is None else lacks(results.structure)
            yield unknown(name, missing=missing if results.cutting.known else "cutting forces of the job", unit="m")
            continue
        yield ceiling(
            name, value=given.mean, limit=GIVE_SHARE * machine.purpose.accuracy, unit="m", figure=f"{name}.give_mean", what="push-off",
            note=_note(machine, results),
        )  # fmt: skip


@check(
    "STR-103", title="Stiff enough that even the peak force of each job stays within the wanted accuracy",
    why="The peak of the force comes with every tooth: it is what the surface shows and what makes the machine ring.",
    source="common practice, no source", remedy="A cutter with more flutes or helix, less width or depth, or a stiffer machine.",
)  # fmt: skip
def stiffness_for_jobs(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Stiffness in the softest direction of the plane against peak force over the part of the accuracy that it may use."""
    for name in (job.path for job in machine.jobs):
        given = _job(results, name)
        if given is None or given.needed is None or results.structure.worst is None:
            missing = "purpose.accuracy" if machine.purpose.accuracy is None else lacks(results.structure)
            yield unknown(name, missing=missing if results.cutting.known else "cutting forces of the job", unit="N/m")
            continue
        plane = np.linalg.eigvalsh(results.structure.worst.give[..., :2, :2])[..., -1]
        yield floor(
            name, value=1 / plane, limit=given.needed, unit="N/m", figure=f"{name}.needed_stiffness", what="stiffness in the plane",
            note=_note(machine, results),
        )  # fmt: skip


@check(
    "STR-104", title="The depth of the cut changes little over the table by the weight of the parts",
    why="A beam that sags under its carriage cuts deeper in the middle; facing the spoilboard hides it only where it was faced.",
    source="common practice, no source", remedy="A deeper beam, a lighter head, or face the spoilboard with the machine itself.",
)  # fmt: skip
def sag(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Change of the height of the tool over the table against a part of the wanted accuracy."""
    value = results.structure.sag
    if value is None or machine.purpose.accuracy is None:
        yield unknown(
            "machine", missing="purpose.accuracy" if machine.purpose.accuracy is None else lacks(results.structure), unit="m"
        )
        return
    yield ceiling(
        "machine", value=value, limit=GIVE_SHARE * machine.purpose.accuracy, unit="m", figure="structure.sag", what="change of height",
    )  # fmt: skip


@check(
    "STR-901", title="The structure can be worked out and its answer proves itself",
    why="A part that nothing holds, or a sum that does not close, makes every figure of the structure worthless.",
    source="definition", remedy="Join the part that is named, give the axis its drive, or report what does not close.",
)  # fmt: skip
def proves_itself(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Residual, balance, symmetry, shares, and the two routes to one give."""
    structure = results.structure
    if structure.broken:
        yield holds("machine", true=False, note="; ".join(structure.broken))
    elif structure.worst is None:
        yield unknown("machine", missing=lacks(structure))
    else:
        notes = "; ".join(f"{part} {words}" for part, words in structure.notes.items())
        yield holds("machine", true=True, note=notes)


def _job(results: Results, path: str) -> JobGive | None:
    return next((given for given in results.structure.jobs if f"job.{given.job}" == path), None)


def _note(machine: Machine, results: Results) -> str:
    return soft_words(results.structure.worst, machine.show) if results.structure.worst is not None else ""
