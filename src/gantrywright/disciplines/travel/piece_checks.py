"""GEO-207: whether the tool gets to the pieces of the jobs."""

from collections.abc import Iterator

from gantrywright.base.quantities.showing import show
from gantrywright.disciplines.travel.analyse import SIDES
from gantrywright.findings import Verdict, cautioned, ceiling, check, holds
from gantrywright.model.machine import Machine
from gantrywright.model.purpose import Workpiece
from gantrywright.results import Results

SETTLED = 9
"""Digits of a metre that sums of lengths are good for."""


@check(
    "GEO-207",
    title="The tool gets to all of the piece of every job",
    why="What lies beyond the travel cannot be cut without moving the piece; a piece that lies there whole was written down wrongly.",
    source="definition",
    remedy="Write where the least corner of the piece lies, from the machine's zero (work.at), and its true size; or a machine with more travel.",
    structural=True,
)
def pieces_lie_in_reach(machine: Machine, results: Results) -> Iterator[Verdict]:
    """A caution where part of a piece is in reach, as a long sheet may be cut bit by bit; a fault where none of it is."""
    for job in machine.jobs:
        if job.work is None:
            continue
        beyond = {(k, end): far for k in range(3) for end, far in enumerate(_beyond(machine, job.work, k))}
        k, end = max(beyond, key=lambda side: beyond[side])
        far, where = beyond[k, end], SIDES[k][end]
        size = show(abs(far), "m", machine.show)
        if far <= 0:
            yield holds(f"{job.path}.work", true=True, note=f"Least at the {where}, where the tip gets {size} beyond it.")
            continue
        note = f"Worst at the {where}: {size} of it lie beyond what the tip reaches."
        found = ceiling(f"{job.path}.work", value=far, limit=0.0, unit="m", what="beyond reach", note=note)
        yield cautioned(found) if _meets(machine, job.work) else found


def _beyond(machine: Machine, piece: Workpiece, k: int) -> tuple[float, float]:
    """How far a piece reaches beyond the tip at both ends of a direction; of its underside nothing is asked."""
    least, most = machine.reach.least[k] - piece.at[k], piece.at[k] + piece.size[k] - machine.reach.most[k]
    return (round(least, SETTLED) if k < 2 else -float("inf"), round(most, SETTLED))


def _meets(machine: Machine, piece: Workpiece) -> bool:
    """Whether any of a piece is in reach."""
    return all(piece.at[k] < machine.reach.most[k] and piece.at[k] + piece.size[k] > machine.reach.least[k] for k in range(3))
