"""Values that no key of the file holds but that figures start from: masses of parts, what an axis or a job takes from the purpose."""

from collections.abc import Iterator, Mapping
from typing import Any

from gantrywright.base.quantities import show
from gantrywright.base.spread import Origin, Stated
from gantrywright.model.axis import Axis, DriveFit
from gantrywright.model.bodies import Solid
from gantrywright.model.machine import Machine

WORDS = {
    "member": "mass per length of its section x {0}",
    "plate": "{0} x {1} x {2} less its openings, by the density of its material",
    "layer": "{0} x {1} x {2}, by the density of its material",
    "foot": "of its part",
    "rail": "mass per length x {0}",
    "screw": "mass per length x {0}, turned ends included",
    "rack": "mass per length x {0}",
    "belt": "mass per length x twice {0}",
    "cable-chain": "half of the chain: half the travel and the bend, by its mass per length",
    "cabinet": "walls of sheet of its size, and the devices in it",
    "lump": "what the scale showed less the listed parts",
}
"""How the mass of a solid came about where nobody wrote it down."""


def derived(machine: Machine) -> Mapping[str, Stated]:
    """Every such value by path; one that stands in the file under the same path goes before it."""
    found = {f"{solid.path}.mass": _mass(solid, machine.show) for solid in machine.solids if solid.mass is not None}
    for solid in (*machine.solids, *machine.planned):
        if solid.use.price is not None:
            path = f"{solid.path}.price"
            found[path] = _plain(
                path, solid.use.price, machine.currency, "of its part, or of its table for each like it", help="Price of this part"
            )
    for axis in machine.axes:
        found.update((made.path, made) for made in _of_axis(axis))
    for job in machine.jobs:
        found.update((made.path, made) for made in (
            _from(f"{job.path}.feed", job.feed, "m/s", "purpose.feed", "wanted of the whole machine"),
            _from(f"{job.path}.plunge", job.plunge, "m/s", f"{job.path}.feed", "a third of the feed"),
            *([_from(f"{job.path}.run_out", job.run_out, "m", "spindle.part.run_out", "of the spindle")] if job.run_out is not None else []),
            _from(f"{job.path}.width", job.width, "m", f"{job.path}.cutter.diameter", "a slot is as wide as its cutter"),
            _plain(f"{job.path}.share", job.share, "", "an equal part of what the other jobs leave"),
        ))  # fmt: skip
    for supply in machine.supplies:
        if supply.set is not None:
            made = (
                _plain(f"{supply.path}.set", supply.set, "V", "the rectified line: the square root of 2 times the outlet's voltage")
                if supply.direct
                else _from(f"{supply.path}.set", supply.set, "V", f"{supply.path}.part.voltage", "as it is sold")
            )
            found[made.path] = made
    return found


def _mass(solid: Solid, system: str) -> Stated:
    words = WORDS.get(solid.kind, "").format(*(show(size, "m", system) for size in solid.size))
    note = solid.use.note if solid.kind in ("rail", "block", "screw") and solid.mass is not None and _is_nothing(solid.mass) else ""
    return _plain(f"{solid.path}.mass", solid.mass, "kg", note or words or "of its part", help=f"Mass of this {solid.kind}")


def _is_nothing(mass: Any) -> bool:
    return isinstance(mass, int | float) and mass == 0


def _of_axis(axis: Axis) -> Iterator[Stated]:
    wanted = "wanted of the whole machine"
    yield _from(f"{axis.path}.rapid", axis.rapid, "m/s", "purpose.rapid", wanted)
    yield _from(f"{axis.path}.feed", axis.feed, "m/s", "purpose.feed", wanted)
    if axis.accel is not None:
        yield _from(f"{axis.path}.accel", axis.accel, "m/s2", "purpose.accel", wanted)
    for fit in axis.drives:
        yield from _of_drive(fit)


def _of_drive(fit: DriveFit) -> Iterator[Stated]:
    stage = fit.reduction
    if stage.kind == "direct":
        for key, value, unit in (
            ("ratio", stage.ratio, ""),
            ("efficiency", stage.efficiency, ""),
            ("backlash", stage.backlash, "rad"),
        ):
            yield _plain(f"{fit.path}.reduction.{key}", value, unit, "no stage between motor and drive")
    yield _plain(f"{fit.path}.length", fit.free_length, "m", "from where its ends were placed")


def _plain(path: str, value: Any, unit: str, note: str, *, help: str = "") -> Stated:
    return Stated(path, value, Origin("derived", note=note, source="derived"), unit=unit, help=help)


def _from(path: str, value: Any, unit: str, other: str, note: str) -> Stated:
    """A value taken from another one, whose path the origin names."""
    return Stated(path, value, Origin("derived", path=other, note=note, source="derived"), unit=unit)
