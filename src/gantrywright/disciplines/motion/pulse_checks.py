"""MOT-5xx: step pulses and resolution."""

from collections.abc import Iterator

from gantrywright.base.samples import typical
from gantrywright.disciplines.motion import alternatives
from gantrywright.disciplines.motion.promise import pulse_rate, takes_pulses
from gantrywright.findings import Verdict, ceiling, check, unknown
from gantrywright.model.machine import Machine
from gantrywright.results import Results
from gantrywright.theory.pulses import step_length

STEP_SHARE = 0.25
"""Part of the accuracy wanted that one pulse may move; common practice, no source."""


@check(
    "MOT-501", title="Controller and drivers make the pulses that the wanted rapid asks for",
    why="The controller cannot reach the speed, or pulses get lost.",
    source="definition", remedy="Fewer microsteps, a longer lead, a faster controller.",
)  # fmt: skip
def rate(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Pulse rate at the wanted rapid."""
    for axis in machine.axes:
        made = {drive.path: drive for drive in results.motion.axes[axis.name].drives}
        for fit in axis.drives:
            if fit.driven_by or not takes_pulses(fit):
                continue
            limit, pulses = pulse_rate(machine, fit), made[fit.path].pulses if fit.path in made else None
            if limit is None:
                yield unknown(fit.path, missing=f"controller.pulse_rate or {fit.path}.driver.pulse_rate", unit="Hz")
            elif pulses is None:
                what = results.motion.axes[axis.name].missing or f"{fit.path}.driver.microsteps, {fit.path}.motor.pole_pairs"
                yield unknown(fit.path, missing=what, unit="Hz", limit=limit)
            else:
                yield ceiling(
                    fit.path, value=pulses[1], limit=limit, unit="Hz", what="pulse rate", figure=f"{fit.path}.pulse_rate",
                    note=_pulse_words(machine, pulses[0]) if isinstance(pulses[0], float) else "",
                    changes=alternatives.fewer_microsteps(fit, pulses[1] / limit),
                )  # fmt: skip


def _pulse_words(machine: Machine, steps_per_metre: float) -> str:
    """Pulses by the unit of the machine, with every digit that there is."""
    unit, length = ("an inch", 0.0254) if machine.show == "inch" else ("a millimetre", 1e-3)
    return f"{steps_per_metre * length:.12g} pulses {unit}: enter them unrounded"


@check(
    "MOT-502", title="One pulse moves less than a small part of the accuracy wanted",
    why="Slow curves come out in facets, and small corrections are lost. Resolution is not accuracy: more microsteps do not add torque.",
    source="common practice, no source", remedy="More microsteps, a shorter lead.",
)  # fmt: skip
def resolution(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Travel of a pulse against a quarter of the wanted accuracy."""
    if machine.purpose.accuracy is None:
        return
    for axis in machine.axes:
        for made in results.motion.axes[axis.name].drives:
            if made.pulses is not None:
                step, limit = step_length(steps_per_metre=made.pulses[0]), STEP_SHARE * machine.purpose.accuracy
                fit = next(fit for fit in axis.drives if fit.path == made.path)
                yield ceiling(
                    made.path, value=step, limit=limit, unit="m", what="step", figure=f"{made.path}.steps_per_metre",
                    changes=alternatives.more_microsteps(fit, typical(step) / typical(limit)),
                )  # fmt: skip
