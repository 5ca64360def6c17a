"""CUT-106, 111 to 113: flutes, strength, plunging and stick-out of the cutters."""

from collections.abc import Iterator

from gantrywright.base.samples import typical
from gantrywright.disciplines.cutting.changes import mends, more_passes, shorter
from gantrywright.disciplines.cutting.drilling import is_drill
from gantrywright.disciplines.cutting.told import length, limited
from gantrywright.findings import Verdict, cautioned, ceiling, check, holds, unknown
from gantrywright.model.machine import Machine
from gantrywright.results import Results

SLENDER = 4.0
"""Diameters of its shank that a cutter stands out at most where nothing is told against it, 3 to 4; common practice, no source."""
JUST = 1e-6
"""A stick-out of just so many is well."""
GUESSED = 8.0
"""The same of a cutter whose length nobody said: beyond, GEO-206 says so."""


@check(
    "CUT-106",
    title="No pass is deeper than the flutes are long",
    why="The shank then rubs on the wall: heat, a broken cutter, a spoilt part.",
    source="definition",
    remedy="Cut in more passes, or use a cutter with longer flutes.",
)
def flutes_are_long_enough(machine: Machine, results: Results) -> Iterator[Verdict]:
    for job in machine.jobs:
        flutes = job.cutter.flute_length
        if flutes is None:
            yield unknown(job.path, missing=f"flute length of the cutter: {job.path}.cutter.flute_length", unit="m")
        else:
            yield ceiling(
                job.path, value=job.depth, limit=flutes, unit="m", what="depth", changes=more_passes(machine, job, flutes)
            )


@check(
    "CUT-111",
    title="The cutter bears the greatest force of each job",
    why="A cutter that is bent beyond its strength breaks at the collet or at the end of its flutes, and its pieces fly.",
    source="common practice, no source",
    remedy="Cut less deep, push the cutter further into its collet, or use a thicker one.",
)
def cutter_is_strong_enough(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Bending stress of the stepped bar under the peak force at half the depth; a chipped edge or a crash is not in it."""
    for job, answer, limit in limited(machine, results, "cutter"):
        if limit.value is None or limit.limit is None:
            yield unknown(job.path, missing=limit.missing, unit="Pa")
            continue
        made = mends(machine, job, answer, limit)
        out, depth = length(machine, job.stick_out), length(machine, job.depth)
        bent = f"{out} out of the collet, the greatest force in the middle of the depth of {depth}"
        yield ceiling(
            job.path, value=limit.value, limit=limit.limit, unit="Pa", what="stress", figure=limit.figure,
            note=f"{'Its core in twist' if is_drill(job) else bent}; {job.cutter.material}.",
            changes=(*shorter(machine, job), *made) if made and not is_drill(job) else made,
        )  # fmt: skip
    for job, answer, limit in limited(machine, results, "cutter-buckling"):
        if limit.value is not None and limit.limit is not None:
            yield ceiling(
                f"{job.path} (bending away)", value=limit.value, limit=limit.limit, unit="N", what="thrust", figure=limit.figure, note=f"{limit.note}.",
                changes=mends(machine, job, answer, limit),
            )  # fmt: skip


@check(
    "CUT-112",
    title="A cutter that plunges cuts to its centre",
    why="One that does not stands on a core that nothing cuts: it presses, burns, lifts the work or breaks.",
    source="definition",
    remedy="Use a cutter whose teeth reach its centre, or enter from the side or along a ramp.",
)
def cutter_plunges(machine: Machine, results: Results) -> Iterator[Verdict]:
    """A slot begins in the full material; a pass along an edge may enter from the side, so that it is a caution there."""
    for job in machine.jobs:
        if job.cutter.centre is None:
            yield unknown(job.path, missing=f"{job.path}.cutter.centre")
            continue
        side = "it must enter from the side or along a ramp" if job.slot else "enter beside the work or along a ramp"
        note = "cuts to its centre" if job.cutter.centre else f"does not cut to its centre; {side}"
        found = holds(job.path, true=job.cutter.centre, note=f"{job.cutter.id or 'the cutter'} {note}")
        yield found if job.slot or job.cutter.centre else cautioned(found)


@check(
    "CUT-113",
    title="Cutters stand out of their collet no farther than is usual",
    why="The give of a cutter grows with the cube of what stands out: twice as far out gives eight times as much, and sings.",
    source="common practice, no source",
    remedy="Push the cutter further into its collet, as far as depth and clamps allow; do not clamp it on its flutes.",
)
def cutters_stand_out_little(machine: Machine, results: Results) -> Iterator[Verdict]:
    """A caution of the trade: what the length really does to wall, strength and chatter, their checks say. GEO-206 looks at the collet."""
    for job in machine.jobs:
        shank = job.cutter.diameter if job.cutter.shank is None else job.cutter.shank
        if shank is None or is_drill(job):  # CUT-101 says what is missing; a drill is as long as its hole wants it
            continue
        if job.cutter.length is None and typical(job.stick_out) > GUESSED * typical(shank):
            continue
        limit = (1 + JUST) * SLENDER * shank
        note = f"{typical(job.stick_out) / typical(shank):.1f} diameters of its {length(machine, shank)} shank; more than {SLENDER:g} are to be weighed against depth and clamps"
        too_far = typical(job.stick_out) > typical(limit)
        yield cautioned(
            ceiling(
                f"{job.path}.stick_out", value=job.stick_out, limit=limit, unit="m", what="stick-out", note=note,
                changes=shorter(machine, job, 0.999 * limit) if too_far else (),
            )
        )  # fmt: skip
