"""CUT-801: whether a material cuts as its row says."""

from collections.abc import Iterator

import numpy as np

from gantrywright.base.quantities import show
from gantrywright.base.samples import typical
from gantrywright.base.units import Real
from gantrywright.findings import Change, Verdict, check, unknown
from gantrywright.model.machine import Machine
from gantrywright.results import Results
from gantrywright.results.readings import Reading

FACTOR = 2.0
"""What a coefficient from typical values alone is taken to be right within, until its own band is known; common practice, no source."""


@check(
    "CUT-801",
    title="The material cuts as its row of the table says",
    why="A batch of wood or an alloy may cut twice as hard as another of the same name: power, forces and chatter are then off in the same way.",
    source="common practice, no source",
    remedy="Repeat the cuts with a sharp cutter and read the idle power at the same speed; then give the material a row of its own with what was measured.",
)
def cuts_as_believed(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Shear and edge coefficient by the power of the spindle, against the band of the table; the radial ones cannot be found this way."""
    for reading in results.cutting.readings:
        subject = f"measured.{reading.name}"
        if reading.measured is None or reading.predicted is None:
            yield unknown(subject, missing=reading.missing, unit=reading.unit)
        else:
            yield _verdict(machine, results, subject, reading, typical(reading.measured), reading.predicted)


def _verdict(machine: Machine, results: Results, subject: str, reading: Reading, measured: float, predicted: Real) -> Verdict:
    """Distance to the nearer end of the band on a scale of factors, over that from its middle to that end; negative outside."""
    low, middle, high = _band(predicted)
    edge = np.log(high / middle) if measured >= middle else np.log(middle / low)
    margin = np.broadcast_to(np.asarray(1 - abs(np.log(measured / middle)) / edge), np.shape(predicted))
    error = 0.0 if reading.deviation is None else reading.deviation
    told = f"+- {show(2 * error, reading.unit, machine.show)} of {show(measured, reading.unit, machine.show)}"
    return Verdict(
        subject, measured, high if measured >= middle else low, reading.unit, float(margin) if margin.ndim == 0 else margin,
        note=f"expected {show(middle, reading.unit, machine.show)} {reading.where}; known to {told}", figure=reading.figure,
        what=f"measured {reading.observe} coefficient", changes=_own_row(machine, results, reading),
    )  # fmt: skip


def _band(predicted: Real) -> tuple[float, float, float]:
    spread = np.asarray(predicted, dtype=float)
    if spread.ndim and np.ptp(spread) > 0:
        low, middle, high = np.quantile(spread, (0.05, 0.5, 0.95))
        return float(low), float(middle), float(high)
    middle = typical(predicted)
    return middle / FACTOR, middle, middle * FACTOR


def _own_row(machine: Machine, results: Results, reading: Reading) -> tuple[Change, ...]:
    """A row of the material's own with all that the same cuts told, for every job that cuts it."""
    name = reading.name.rpartition(" (")[0]
    seen = next((one for one in machine.observations if one.name == name), None)
    job = next((job for job in machine.jobs if seen is not None and seen.cuts is not None and job.name == seen.cuts.job), None)
    if job is None or not job.material.id or job.material.across_shear is not None:
        return ()
    row = f"{job.material.id}-measured"
    edits: list[tuple[str, str]] = [(f"part.{row}.kind", "material"), (f"part.{row}.like", job.material.id)]
    for each in results.cutting.readings:
        if each.name.rpartition(" (")[0] == name and each.measured is not None and each.deviation is not None:
            worn = typical(job.edge_factor) if each.observe == "edge" else 1.0
            value, band, unit, scale = typical(each.measured) / worn, 1.645 * each.deviation / worn, *WRITTEN[each.observe]
            low, high = max(value - band, value / 10) / scale, (value + band) / scale
            edits.append((f"part.{row}.{each.observe}_force", f"{value / scale:.4g} {unit} ({low:.4g}..{high:.4g})"))
    edits += [(f"{other.path}.material", row) for other in machine.jobs if other.material.id == job.material.id]
    return (Change(f"{job.material.id} with a row of its own, as measured", tuple(edits)),)


WRITTEN = {"shear": ("MPa", 1e6), "edge": ("N/m", 1.0)}
"""Units in which the coefficients stand in a row."""
