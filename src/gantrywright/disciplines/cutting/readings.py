"""What cuts at several feeds taught of a material: its coefficients by the power that the spindle drew, beside those of the table."""

import numpy as np

from gantrywright.base.errors import OutOfRange
from gantrywright.base.samples import plain, typical
from gantrywright.disciplines.cutting.cut import Cut, cut_of, hardest, missing, setting_of
from gantrywright.disciplines.cutting.drilling import is_drill
from gantrywright.model.machine import Machine, Observation, PowerCuts
from gantrywright.model.purpose import Job
from gantrywright.results.ledger import Ledger, Named
from gantrywright.results.readings import Reading
from gantrywright.theory.cutting.power_fit import PowerFit, fit_power, shaft_power

OBSERVED = "spindle-power"
EFFICIENCY = 0.85
"""Of a spindle at the added load, 0.8 to 0.9; common practice, no source."""
UNSURE = 0.04
"""What the efficiency may be off by where nobody measured it, one standard deviation over itself; common practice, no source."""
UNITS = {"shear": "Pa", "edge": "N/m"}


def readings(machine: Machine, ledger: Ledger) -> tuple[Reading, ...]:
    """Shear and edge coefficient of every row of powers that was read, each beside what was believed of it.

    Args:
        machine: Typical or sampled.
        ledger: Where figures are written down: ``cutting.reading.NAME.shear``.
    """
    jobs = {job.name: job for job in machine.jobs}
    found: list[Reading] = []
    for seen in machine.observations:
        if seen.observe == OBSERVED and seen.cuts is not None:
            found.extend(_read(machine, seen, seen.cuts, jobs.get(seen.cuts.job), ledger))
    return tuple(found)


def _read(machine: Machine, seen: Observation, cuts: PowerCuts, job: Job | None, ledger: Ledger) -> tuple[Reading, ...]:
    cut = None if job is None or is_drill(job) else cut_of(machine, job)
    if cut is None:
        lacking = f"a job of the name {cuts.job}" if job is None else missing(job) or "a job that mills: this fit is of milling"
        return tuple(_unknown(seen, observe, lacking) for observe in UNITS)
    try:
        fit = _fit(cut, cuts)
    except OutOfRange as fault:
        return tuple(_unknown(seen, observe, str(fault)) for observe in UNITS)
    believed = hardest(cut)
    doubt = UNSURE if cuts.efficiency is None else 0.0
    where = f"of {cut.job.material.id}, with the cutter of {cut.job.path}"
    made = []
    for observe, value, error, band in (
        ("shear", typical(fit.shear), typical(fit.shear_error), believed.shear),
        ("edge", typical(fit.edge), typical(fit.edge_error), believed.edge),
    ):
        if observe == "edge" and cuts.idle is None:
            made.append(_unknown(seen, observe, f"measured.{seen.name}.idle: without it the power in the air counts as rubbing"))
            continue
        if value <= 0:
            made.append(
                _unknown(
                    seen, observe, f"powers that grow with the feed and more than idle: the fit gives {value:.3g} {UNITS[observe]}"
                )
            )
            continue
        _write_down(ledger, seen, cuts, cut, observe, value, error)
        made.append(
            Reading(
                f"{seen.name} ({observe})", observe, UNITS[observe], value, float(np.hypot(error, doubt * value)), plain(np.asarray(band)), where,
                path=_figure(seen, observe),
            )
        )  # fmt: skip
    return tuple(made)


def _fit(cut: Cut, cuts: PowerCuts) -> PowerFit:
    """By typical values: what was read is one row of numbers."""
    told = setting_of(cut)
    depth, width, speed = (
        typical(own if own is not None else usual)
        for own, usual in ((cuts.depth, told.depth), (cuts.width, told.width), (cuts.speed, told.speed))
    )
    powers = shaft_power(
        inverter_power=np.asarray(cuts.powers), idle_power=0.0 if cuts.idle is None else typical(cuts.idle), efficiency=_efficiency(cuts)
    )  # fmt: skip
    return fit_power(
        feeds=np.asarray(cuts.feeds),
        powers=np.asarray(powers),
        depth=depth,
        width=width,
        diameter=typical(cut.diameter),
        flutes=cut.flutes,
        speed=speed,
    )


def _efficiency(cuts: PowerCuts) -> float:
    return EFFICIENCY if cuts.efficiency is None else typical(cuts.efficiency)


def _unknown(seen: Observation, observe: str, lacking: str) -> Reading:
    return Reading(f"{seen.name} ({observe})", observe, UNITS[observe], None, None, None, "", missing=lacking)


def _figure(seen: Observation, observe: str) -> str:
    return f"cutting.reading.{seen.name}.{observe}"


def _write_down(ledger: Ledger, seen: Observation, cuts: PowerCuts, cut: Cut, observe: str, value: float, error: float) -> None:
    path, job, told = f"measured.{seen.name}", cut.job.path, setting_of(cut)
    ledger.note(
        _figure(seen, observe), value, unit=UNITS[observe], source="derived",
        formula="P = Kt ap ae vf + Kte ap N n (D/2) phi_s; least squares over vf", title=f"Tangential {observe} coefficient by the power of the spindle",
        feeds=Named("", np.asarray(cuts.feeds), "m/s", f"{path}.feeds"), powers=Named("", np.asarray(cuts.powers), "W", f"{path}.powers"),
        idle=Named("", 0.0 if cuts.idle is None else cuts.idle, "W", f"{path}.idle" if cuts.idle is not None else "not told"),
        efficiency=Named("", _efficiency(cuts), "", f"{path}.efficiency" if cuts.efficiency is not None else "usual, 0.8 to 0.9"),
        depth=Named(f"{job}.depth", told.depth, "m") if cuts.depth is None else Named("", cuts.depth, "m", f"{path}.depth"),
        width=Named(f"{job}.width", told.width, "m", "of a slot the diameter") if cuts.width is None else Named("", cuts.width, "m", f"{path}.width"),
        speed=Named(f"{job}.speed", told.speed, "rad/s") if cuts.speed is None else Named("", cuts.speed, "rad/s", f"{path}.speed"),
        diameter=Named(f"{job}.cutter.diameter", cut.diameter, "m"), flutes=Named(f"{job}.cutter.flutes", cut.flutes),
        standard_error=Named("", error, UNITS[observe], "by the scatter about the line"),
    )  # fmt: skip
