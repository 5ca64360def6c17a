"""Forces of every job, from the linear-edge coefficients of its material."""

from typing import Any

import numpy as np

from gantrywright.base.samples import plain
from gantrywright.base.units import NewtonMetre, Real
from gantrywright.disciplines.cutting.cut import ROUND_OR_POINTED, cut_of, hardest, loads, power_of, setting_of
from gantrywright.disciplines.cutting.drilling import force_of, is_drill
from gantrywright.disciplines.cutting.readings import readings
from gantrywright.model.machine import Machine
from gantrywright.model.purpose import Job
from gantrywright.results.cutting import CuttingResult, JobForce
from gantrywright.results.ledger import Ledger, Named
from gantrywright.theory.cutting.engagement import feed_per_tooth
from gantrywright.theory.cutting.forces import cutting_power


def analyse(machine: Machine, ledger: Ledger) -> CuttingResult:
    """What the jobs ask of the machine.

    A job whose material has no coefficients, or whose cutter has no count of flutes, has no forces; the result is then not known.

    Args:
        machine: Typical or sampled.
        ledger: Where figures are written down: ``job.NAME.peak_in_plane`` and the like.
    """
    found = [force for job in machine.jobs if (force := _force(machine, job, ledger)) is not None]
    whole = CuttingResult(
        jobs=tuple(found),
        mean_in_plane=_greatest([job.mean_in_plane for job in found]),
        peak_in_plane=_greatest([job.peak_in_plane for job in found]),
        peak_axial=_greatest([np.abs(job.peak_axial) for job in found]),
        known=bool(found) and len(found) == len(machine.jobs),
        readings=readings(machine, ledger),
    )
    for name in ("mean_in_plane", "peak_in_plane", "peak_axial"):
        inputs: dict[str, Any] = {job.job: ledger.named(f"job.{job.job}.{name}") for job in found}
        ledger.note(
            f"cutting.{name}", getattr(whole, name), unit="N", formula="greatest of all jobs", title=_TITLES[name],
            **inputs,
        )  # fmt: skip
    return whole


_TITLES = {
    "mean_in_plane": "Mean cutting force in the plane of the table",
    "peak_in_plane": "Greatest cutting force in the plane of the table",
    "mean_axial": "Mean cutting force along the spindle, towards the work",
    "peak_axial": "Greatest cutting force along the spindle, towards the work",
    "torque": "Mean torque at the cutter",
}


def _force(machine: Machine, job: Job, ledger: Ledger) -> JobForce | None:
    if is_drill(job):
        return force_of(job, ledger)
    cut = cut_of(machine, job)
    if cut is None:
        return None
    material, path, setting = job.material, job.path, setting_of(cut)
    ledger.figure(
        f"{path}.chip", feed_per_tooth, feed=Named(f"{path}.feed", job.feed), speed=Named(f"{path}.speed", job.speed),
        flutes=Named(f"{path}.cutter.flutes", cut.flutes),
    )  # fmt: skip
    row = f"material.{material.id}"
    hard = hardest(cut, setting)
    inputs: dict[str, Any] = {
        "shear": Named(f"{row}.shear_force", hard.shear, "", "the grain as it is hardest to cut" if cut.across is not None else ""),
        "edge": Named(f"{row}.edge_force", hard.edge, "", f"times {path}.edge_factor"),
        "shear_ratio": Named(f"{row}.shear_ratio", material.shear_ratio), "edge_ratio": Named(f"{row}.edge_ratio", material.edge_ratio),
        "edge_factor": Named(f"{path}.edge_factor", job.edge_factor), "run_out": Named(f"{path}.run_out", 2 * np.asarray(cut.run_out), "m", "reading of an indicator"),
        "helix": Named(f"{path}.cutter.helix", cut.helix), "diameter": Named(f"{path}.cutter.diameter", cut.diameter),
        "depth": Named(f"{path}.depth", setting.depth), "width": Named(f"{path}.width", setting.width),
        "flutes": Named(f"{path}.cutter.flutes", cut.flutes), "feed_per_tooth": ledger.named(f"{path}.chip"),
    }  # fmt: skip
    found = loads(cut, setting)
    if cut.style in ROUND_OR_POINTED:
        power = ledger.note(
            f"{path}.power", plain(np.asarray(power_of(cut, setting, found))), unit="W", source="altintas-manufacturing-automation", formula="P = T w, T the mean torque of all slices of the edge",
            title="Mean power at the cutting edges", **inputs,
        )  # fmt: skip
    else:
        power = ledger.figure(
            f"{path}.power", cutting_power, cut=Named("", hard, note=f"Kt and Kte of {row}, SI"), flutes=inputs["flutes"], depth=inputs["depth"], width=inputs["width"],
            diameter=inputs["diameter"], feed=Named(f"{path}.feed", job.feed), speed=Named(f"{path}.speed", job.speed),
        )  # fmt: skip
    values = {
        "mean_in_plane": _greatest([load.mean.in_plane for load in found]),
        "peak_in_plane": _greatest([load.peak.in_plane for load in found]),
        "mean_axial": _farthest([load.mean.axial for load in found]),
        "peak_axial": _farthest([load.peak.axial for load in found]),
        "torque": _greatest([load.mean.torque for load in found]),
    }
    side = "slot" if job.slot else " or ".join(cut.ways)
    for name, value in values.items():
        ledger.note(
            f"{path}.{name}", value, unit="N m" if name == "torque" else "N", source="altintas-manufacturing-automation",
            formula=f"linear-edge model over a turn, with run-out; {side}; greatest way", title=_TITLES[name], **inputs,
        )  # fmt: skip
    return JobForce(job=job.name, power=power, chip=setting.chip, share=job.share, **values)


def _greatest(values: list[Real]) -> NewtonMetre:
    result: Real = 0.0
    for value in values:
        result = np.maximum(result, value)
    return plain(result)


def _farthest(values: list[Real]) -> Real:
    """Of several the one farthest from zero, with its sign."""
    result: Real = 0.0
    for value in values:
        result = np.where(np.abs(value) > np.abs(result), value, result)
    return plain(result)
