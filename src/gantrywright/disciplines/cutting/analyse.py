"""Forces of every job, from the linear-edge coefficients of its material."""

from typing import Any

import numpy as np

from gantrywright.base.samples import plain
from gantrywright.base.units import NewtonMetre, Real
from gantrywright.model.machine import Machine
from gantrywright.model.purpose import Job
from gantrywright.results.cutting import CuttingResult, JobForce
from gantrywright.results.ledger import Ledger, Named
from gantrywright.theory.cutting import edges
from gantrywright.theory.cutting import engagement as eg
from gantrywright.theory.cutting import forces as cf
from gantrywright.theory.cutting.cycle import peak_forces

USUAL_HELIX = np.radians(30.0)
"""Of a cutter whose helix is not told: common practice, no source."""
ALONG = ("shear_force", "edge_force", "shear_ratio", "edge_ratio")
ACROSS = ("across_shear", "across_edge", "across_shear_ratio", "across_edge_ratio")
"""Wood is taken as cut across its grain all the way round, the hardest that it can be met."""
WAYS: dict[str, tuple[eg.Way, ...]] = {"climb": ("climb",), "conventional": ("conventional",), "both": ("climb", "conventional")}


def analyse(machine: Machine, ledger: Ledger) -> CuttingResult:
    """What the jobs ask of the machine.

    A job whose material has no coefficients, or whose cutter has no count of flutes, has no forces; the result is then not known.

    Args:
        machine: Typical or sampled.
        ledger: Where figures are written down: ``job.NAME.peak_in_plane`` and the like.
    """
    found = [force for job in machine.jobs if (force := _force(job, ledger)) is not None]
    whole = CuttingResult(
        jobs=tuple(found),
        mean_in_plane=_greatest([job.mean_in_plane for job in found]),
        peak_in_plane=_greatest([job.peak_in_plane for job in found]),
        peak_axial=_greatest([np.abs(job.peak_axial) for job in found]),
        known=bool(found) and len(found) == len(machine.jobs),
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


def missing(job: Job) -> str:
    """What must be known before the job has forces; empty where all is known."""
    material = job.material
    lacking = [
        f"{words} of {material.id or 'the material'} (part.{material.id or 'NAME'}.{words.replace(' ', '_')})"
        for words, value in (("shear force", material.shear_force), ("edge force", material.edge_force))
        if value is None
    ]
    ratios = (
        []
        if material.shear_ratio is not None and material.edge_ratio is not None
        else [f"radial ratios of {material.id or 'the material'} (shear_ratio, edge_ratio)"]
    )
    flutes = (
        []
        if job.cutter.flutes and job.cutter.diameter is not None
        else [f"{job.path}.cutter.flutes and {job.path}.cutter.diameter"]
    )
    return ", ".join(lacking + ratios + flutes)


def _force(job: Job, ledger: Ledger) -> JobForce | None:
    if missing(job):
        return None
    material, cutter = job.material, job.cutter
    names = ACROSS if all(getattr(material, name) is not None for name in ACROSS) else ALONG
    shear, edge, shear_ratio, edge_ratio = (getattr(material, name) for name in names)
    assert cutter.diameter is not None
    assert cutter.flutes is not None
    helix = USUAL_HELIX if cutter.helix is None else cutter.helix
    cut = cf.coefficients(shear=shear, edge=edge, shear_ratio=shear_ratio, edge_ratio=edge_ratio, helix=helix)
    path, diameter, flutes = job.path, cutter.diameter, cutter.flutes
    chip = ledger.figure(
        f"{path}.chip", eg.feed_per_tooth, feed=Named(f"{path}.feed", job.feed), speed=Named(f"{path}.speed", job.speed),
        flutes=Named(f"{path}.cutter.flutes", flutes),
    )  # fmt: skip
    width = diameter if job.slot else job.width
    ways = ("conventional",) if job.slot else WAYS[job.way]
    means, peaks = [], []
    for way in ways:
        start, stop = eg.engagement(diameter=diameter, width=width, way=way)
        means.append(
            cf.mean_forces(cut=cut, flutes=flutes, depth=job.depth, feed_per_tooth=chip, diameter=diameter, start=start, stop=stop)
        )
        engaged = edges.end_mill(depth=job.depth, diameter=diameter, helix=helix, start=start, stop=stop)
        peaks.append(peak_forces(cut=cut, edge=engaged, flutes=flutes, feed_per_tooth=chip, run_out=0.0, run_out_angle=0.0))
    row = f"material.{material.id}"
    inputs: dict[str, Any] = {
        "shear": Named(f"{row}.{names[0]}", shear), "edge": Named(f"{row}.{names[1]}", edge),
        "shear_ratio": Named(f"{row}.{names[2]}", shear_ratio), "edge_ratio": Named(f"{row}.{names[3]}", edge_ratio), "helix": Named(f"{path}.cutter.helix", helix),
        "diameter": Named(f"{path}.cutter.diameter", diameter), "depth": Named(f"{path}.depth", job.depth),
        "width": Named(f"{path}.width", width), "flutes": Named(f"{path}.cutter.flutes", flutes), "feed_per_tooth": ledger.named(f"{path}.chip"),
    }  # fmt: skip
    power = ledger.figure(
        f"{path}.power", cf.cutting_power, cut=Named("", cut, note=f"Kt and Kte of {row}, SI"), flutes=inputs["flutes"], depth=inputs["depth"], width=inputs["width"],
        diameter=inputs["diameter"], feed=Named(f"{path}.feed", job.feed), speed=Named(f"{path}.speed", job.speed),
    )  # fmt: skip
    values = {
        "mean_in_plane": _greatest([mean.in_plane for mean in means]),
        "peak_in_plane": _greatest([peak.in_plane for peak in peaks]),
        "mean_axial": _farthest([mean.axial for mean in means]),
        "peak_axial": _farthest([peak.axial for peak in peaks]),
        "torque": _greatest([mean.torque for mean in means]),
    }
    side = "slot" if job.slot else " or ".join(ways)
    for name, value in values.items():
        ledger.note(
            f"{path}.{name}", value, unit="N m" if name == "torque" else "N", source="altintas-manufacturing-automation",
            formula=f"linear-edge model, sum over engaged edges; {side}; greatest way", title=_TITLES[name], **inputs,
        )  # fmt: skip
    return JobForce(job=job.name, power=power, chip=chip, share=job.share, **values)


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
