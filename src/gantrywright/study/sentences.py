"""Findings and promises as sentences, the same on every face."""

from math import isfinite

from gantrywright.base.quantities import show, unit_for
from gantrywright.base.samples import typical
from gantrywright.base.units import Real
from gantrywright.findings import Finding, Status, watched
from gantrywright.study.study import Study
from gantrywright.study.words import with_band

SURE = 0.995
"""From this probability on it is not worth a word."""


def sentence(study: Study, found: Finding) -> str:
    """One line: value against limit with margin, or what is missing."""
    said = found.verdict
    if found.status in (Status.UNKNOWN, Status.BROKEN) or said.margin is None:
        return f"{found.check.title}: {'not known without ' if found.status is Status.UNKNOWN else ''}{said.missing or 'more data'}"
    numbers = measured(study, found)
    if not numbers:
        return f"{HOLDS[found.status]}{found.check.title}" + (f": {said.note}" if said.note else "")
    chance = (
        f", passes {100 * found.probability:.0f} %"
        if found.status is Status.WATCH and found.probability is not None and found.probability < SURE
        else ""
    )
    told = margin(found)
    left = f", margin {percent(told)}" if told else ""
    held = HOLDS[found.status]
    if found.status is Status.WATCH and not told:  # over a guide value that no machine has to keep
        held = "caution, does not hold: "
    return f"{held}{found.check.title}: {numbers}{left}{chance}"


def margin(found: Finding) -> float | None:
    """What is left up to the limit that is told: where a value is only watched, up to where watching begins."""
    begins = watched(found)
    return begins.margin if begins is not None else _number(found.verdict.margin)


def measured(study: Study, found: Finding) -> str:
    """``stiffness 0.487 N/um (0.437..0.5) against 0.453 N/um``; empty for a fact that has no number, or none that is known."""
    said, system = found.verdict, study.machine.show
    value, limit = _number(said.value), _number(said.limit)
    if found.status in (Status.UNKNOWN, Status.BROKEN) or said.margin is None or value is None or limit is None:
        return ""
    if not said.unit and limit == 1.0 and _number(said.margin) in (1.0, -1.0):
        return ""
    begins = watched(found)
    told = limit if begins is None else begins.limit
    hint = unit_for(told, said.unit, system)
    fails = (
        ""
        if begins is None
        else f" (fails {'below' if said.kind == 'floor' else 'above'} {show(limit, said.unit, system, hint=hint)})"
    )
    numbers = with_band(value, found.low, found.high, said.unit, system, hint)
    return f"{f'{said.what} ' if said.what else ''}{numbers} against {show(told, said.unit, system, hint=hint)}{fails}"


def _number(value: Real | None) -> float | None:
    """A finite number, or none."""
    number = None if value is None else typical(value)
    return number if number is not None and isfinite(number) else None


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
