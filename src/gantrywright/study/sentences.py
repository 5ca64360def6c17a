"""Findings and promises as sentences, the same on every face."""

from gantrywright.base.quantities import show, show_band, unit_for
from gantrywright.findings import Finding, Status
from gantrywright.study.export import finding
from gantrywright.study.study import Study

SURE = 0.995
"""From this probability on it is not worth a word."""


def sentence(study: Study, found: Finding) -> str:
    """One line: value against limit with margin, or what is missing."""
    said = found.verdict
    if found.status in (Status.UNKNOWN, Status.BROKEN) or said.margin is None:
        return f"{found.check.title}: {'not known without ' if found.status is Status.UNKNOWN else ''}{said.missing or 'more data'}"
    data, numbers = finding(found), measured(study, found)
    if not numbers:
        return f"{HOLDS[found.status]}{found.check.title}" + (f": {said.note}" if said.note else "")
    chance = (
        f", passes {100 * data['probability']:.0f} %"
        if found.status is Status.WATCH and found.probability is not None and found.probability < SURE
        else ""
    )
    margin = f", margin {percent(data['margin'])}" if data["margin"] else ""
    held = HOLDS[found.status]
    if found.status is Status.WATCH and not data["margin"]:  # over a guide value that no machine has to keep
        held = "caution, does not hold: "
    return f"{held}{found.check.title}: {numbers}{margin}{chance}"


def measured(study: Study, found: Finding) -> str:
    """``stiffness 0.487 N/um (0.437..0.5) against 0.453 N/um``; empty for a fact that has no number, or none that is known."""
    said, system, data = found.verdict, study.machine.show, finding(found)
    if found.status in (Status.UNKNOWN, Status.BROKEN) or said.margin is None or said.limit is None:
        return ""
    if not said.unit and data["limit"] == 1.0 and data["margin"] in (1.0, -1.0):
        return ""
    hint = unit_for(data["limit"], said.unit, system)
    value = with_band(data["value"], found.low, found.high, said.unit, system, hint)
    return f"{f'{said.what} ' if said.what else ''}{value} against {show(data['limit'], said.unit, system, hint=hint)}"


HOLDS = {Status.FAIL: "does not hold: ", Status.WATCH: "may not hold: ", Status.OK: "holds: "}
"""What a status says of the title, which words what is true where the check passes."""
FAR = 999
"""Per cent from which a margin says no more than that it is far off."""


def percent(margin: float) -> str:
    """A margin in per cent with its sign.

    Example:
        >>> percent(0.125), percent(-25.0)
        ('+12 %', 'below -999 %')
    """
    part = 100 * margin
    if abs(part) > FAR:
        return f"{'over +' if part > 0 else 'below -'}{FAR} %"
    return f"{part:+.0f} %"


def with_band(value: float, low: float | None, high: float | None, unit: str, system: str, hint: str = "") -> str:
    """``10.9 m/min (10.7..11.1)``; without the band where it is too narrow to be seen."""
    if low is None or high is None or show(low, unit, system, hint=hint) == show(high, unit, system, hint=hint):
        return show(value, unit, system, hint=hint)
    return show_band(low, value, high, unit, system, hint=hint)
