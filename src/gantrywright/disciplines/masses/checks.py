"""Checks on masses: what is not known, and what must be lifted."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from gantrywright.base.quantities.showing import show
from gantrywright.base.samples import typical
from gantrywright.findings import Verdict, ceiling, check, holds, unknown
from gantrywright.model.machine import Machine
from gantrywright.results import Results

ONE_PERSON = 25.0
"""Reference mass, kg (iso-11228-1); 23 kg in the lifting equation (niosh-94-110)."""
NOTABLE = 0.1
"""Part of what was weighed that the list of parts may lack or have too much; common practice, no source."""
TWO_PERSONS = 2 / 3 * 2 * 23.0
"""Two thirds of the sum of single capabilities, kg: common guidance for a team of two."""


@check(
    "GEO-501",
    title="Every part that an axis moves has a mass",
    why="Loads, accelerations and stopping are worked out from what moves; a part without a mass makes all of them too good.",
    source="definition",
    remedy="Weigh the part or give it a mass, as a band if need be.",
)
def moving_masses_are_known(machine: Machine, results: Results) -> Iterator[Verdict]:
    for axis in machine.axes:
        weighed = results.masses.axes[axis.name]
        if weighed.unknown:
            yield unknown(axis.path, missing=f"mass of {_list(weighed.unknown)}", unit="kg")
        else:
            yield holds(axis.path, true=True, note=f"{len(weighed.parts)} parts move with this axis, each has a mass.")


@check(
    "GEO-502",
    title="A person can handle each body by its mass alone",
    why="Bodies are lifted on and off several times while a machine is built; dropped or twisted, they hurt people and bend rails.",
    source="iso-11228-1",
    remedy="Plan the lift: strip the body first, lift with a second person or a hoist, put it down at rail height and slide it home.",
)
def bodies_can_be_lifted(machine: Machine, results: Results) -> Iterator[Verdict]:
    for name, weighed in results.masses.bodies.items():
        if not weighed.parts:
            continue
        verdict = ceiling(name, value=weighed.mass, limit=ONE_PERSON, unit="kg", what="mass", figure=f"mass.{name}")
        # guidance, not a limit of the machine: over it is to be watched, never a failure
        margin = np.maximum(np.asarray(verdict.margin, dtype=float), 0.0)
        yield replace(
            verdict,
            margin=margin if margin.ndim else float(margin),
            watch=1e-9,
            note=_words(machine, weighed.mass, weighed.unknown),
        )


@check(
    "GEO-503",
    title="What was weighed agrees with the list of parts",
    why="What the list lacks is put at the middle of the body, which may be the wrong place; what it has too much is a size or a"
    " material that is not the real one.",
    source="common practice, no source",
    remedy="Look for parts that are not listed, or for a size, wall or material that is not what was built.",
)
def weighed_as_listed(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Difference of what the scale showed and the masses of the parts, never worse than to be watched: the scale counts."""
    lumps = {solid.path: solid.mass for solid in machine.solids}
    for seen in machine.observations:
        rest = lumps.get(f"{seen.of}.not-listed")
        if seen.observe != "mass" or seen.value is None or rest is None:
            continue
        verdict = ceiling(f"{seen.of} ({seen.name})", value=np.abs(rest), limit=NOTABLE * seen.value, unit="kg", what="difference")
        margin = np.maximum(np.asarray(verdict.margin, dtype=float), 0.0)
        scale, listed = (show(typical(mass), "kg", machine.show) for mass in (seen.value, seen.value - rest))
        yield replace(
            verdict, margin=margin if margin.ndim else float(margin), watch=1e-9,
            note=f"caution: a difference over {NOTABLE:.0%} of the mass is to be looked into; the scale showed {scale}, the listed parts weigh {listed}",
        )  # fmt: skip


def _words(machine: Machine, mass: object, missing: tuple[str, ...]) -> str:
    typical = float(np.median(np.asarray(mass, dtype=float)))
    lower = f" Lower bound: no mass for {_list(missing)}." if missing else ""
    if typical <= ONE_PERSON:
        return "Caution: by mass alone one person's lift in a good posture; reach and twist lower that." + lower
    if typical <= TWO_PERSONS:
        return "Caution: a lift for two by mass alone." + lower
    return (
        f"Caution: more than two persons should lift together ({show(TWO_PERSONS, 'kg', machine.show)}): use a hoist, or take it apart for the lift."
        + lower
    )


def _list(paths: tuple[str, ...]) -> str:
    return ", ".join(paths[:6]) + (f" and {len(paths) - 6} more" if len(paths) > 6 else "")
