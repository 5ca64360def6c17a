"""What the machine can promise, axis by axis and job by job: the first thing that a builder reads."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from gantrywright.base.quantities import show
from gantrywright.base.samples import typical
from gantrywright.findings import Status
from gantrywright.results.jobs import JobAnswer, Runs, Wall
from gantrywright.study.job_words import binds, following, job_of, runs, settings_in_short, verdict
from gantrywright.study.study import Study
from gantrywright.study.wall_words import NOTHING_WANTED


@dataclass(frozen=True, slots=True)
class Promise:
    """One promised number."""

    subject: str
    """``axis.x``, ``machine``, or ``job.frames``."""
    what: str
    """rapid, acceleration, cutting force at feed, drive stiffness, travel, mass; of a job: runs, removal rate, wall error."""
    value: float | None
    """Typical; None is unknown, or is told by `word` alone."""
    unit: str
    low: float | None = None
    high: float | None = None
    wanted: float | None = None
    binds: str = ""
    next: str = ""
    figure: str = ""
    place: str = ""
    """Where it holds, in words; empty where it holds everywhere."""
    at_least: bool = False
    """The value is a lower bound: something that adds to it is not known."""
    word: str = ""
    """What is promised instead of a number: whether a job runs."""
    pending: bool = False
    """It is worked out with the spread."""
    beside: str = ""
    """What stands beside the number: whose it is, and another that it replaces."""
    undecided: bool = False
    """The check that holds it against what is wanted cannot tell: it says unknown, and so does every face."""


def promises(study: Study) -> tuple[Promise, ...]:
    """All promises, axis by axis, then the whole machine, then job by job."""
    made: list[Promise] = []
    for axis in study.machine.axes:
        moved = study.results.motion.axes.get(axis.name)
        if moved is None:
            continue
        path = axis.path
        made.append(_promise(study, path, "rapid", moved.rapid, "m/s", axis.rapid, moved.binds, moved.next))
        made.append(_promise(study, path, "acceleration", moved.accel, "m/s2", axis.accel, moved.accel_binds))
        made.append(_promise(study, path, "force at feed", moved.feed_force, "N", study.results.cutting.mean_in_plane))
        made.append(_promise(study, path, "drive stiffness", moved.stiffness, "N/m", None, moved.softest))
        far = study.results.travel.axes.get(axis.name)
        if far is not None:
            made.append(_promise(study, path, "travel", far.gives, "m", far.wanted, far.binds))
    made.append(_stiffness(study))
    made.append(_promise(study, "machine", "mass", study.results.masses.total.mass, "kg", None))
    made.append(_cost(study))
    for answer in study.results.jobs.jobs.values():
        made.extend(_of_job(study, answer))
    unknown = {(f.id, f.subject) for f in study.findings if f.status is Status.UNKNOWN}
    return tuple(
        replace(p, undecided=(JUDGED_BY.get(p.what), p.subject) in unknown) if p.value is not None and p.wanted else p for p in made
    )


JUDGED_BY = {"rapid": "MOT-101", "acceleration": "MOT-102"}
"""The check that holds a promise of an axis against what is wanted."""
FIGURES = {
    "rapid": "rapid_promise", "acceleration": "accel_promise", "force at feed": "feed_force", "drive stiffness": "drive_stiffness",
    "travel": "travel_possible",
}  # fmt: skip


def _promise(
    study: Study, subject: str, what: str, value: Any, unit: str, wanted: Any, binds: str = "", following: str = ""
) -> Promise:
    figure = f"{subject}.{FIGURES[what]}" if what in FIGURES else "mass.total"
    low, high = study.bands.get(figure, (None, None))
    return Promise(subject, what, _plain(value), unit, low, high, _plain(wanted), binds, following, figure)


def _stiffness(study: Study) -> Promise:
    """Stiffness between tool and work where it is softest, with the part that gives most."""
    structure = study.results.structure
    tip, figure = structure.worst, "structure.tip.stiffness"
    if tip is None:
        lacks = "; ".join((*structure.broken, *structure.lacking))
        return Promise("machine", "stiffness at the tool", None, "N/m", wanted=_plain(study.machine.purpose.stiffness), binds=lacks)
    low, high = study.bands.get(figure, (None, None))
    soft = tip.soft_parts()
    words = [f"{part} ({share:.0%} of the give)".replace("%", " %") for part, share in soft[:2]]
    wanted, system = _plain(study.machine.purpose.stiffness), study.machine.show
    at = ", ".join(f"{name.upper()} {show(place, 'm', system)}" for name, place in sorted(tip.pose.items()))
    return Promise(
        "machine", "stiffness at the tool", _plain(tip.least), "N/m", low, high, wanted, words[0], words[1] if len(words) > 1 else "", figure,
        f"{_towards(tip.softest)} at {at}",
    )  # fmt: skip


def _of_job(study: Study, answer: JobAnswer) -> Iterator[Promise]:
    """Whether it runs and what binds it, how much it removes, how far its wall is off."""
    path, bound = f"job.{answer.job}", answer.binds
    figure = f"{path}.ceiling.{bound.id}" if bound is not None and f"{path}.ceiling.{bound.id}" in study.results.ledger else ""
    yield Promise(
        path,
        "runs",
        None,
        "",
        binds=binds(answer) or f"not known, it takes {answer.missing}",
        next=following(answer),
        figure=figure,
        place=verdict(study, answer),
        word=str(runs(answer)),
        pending=answer.pending,
    )
    yield _removal(study, answer, path)
    if job_of(study, answer).cutter.style != "drill":
        yield _wall(study, answer, path)


def _removal(study: Study, answer: JobAnswer, path: str) -> Promise:
    """What the settings remove that the machine can hold: the advised ones, or those of the file where they hold and remove more.
    What the settings of the file remove is told beside it: nobody wants it, it is what they come to."""
    what, unit, asked, advice = "removal rate", "m3/s", _plain(answer.removal), answer.advice
    if advice is not None and (answer.runs is not Runs.YES or (_plain(advice.removal) or 0.0) > (asked or 0.0)):
        lacks = f"; not known: {', '.join(limit.words for limit in answer.unknown)}" if answer.unknown else ""
        return Promise(
            path,
            what,
            _plain(advice.removal),
            unit,
            beside=f"advised; file {show(asked, unit, study.machine.show)}",
            binds=advice.binds,
            figure=f"{path}.advised",
            place=f"{settings_in_short(study, advice)}{lacks}",
        )
    words = binds(answer) or answer.missing
    if answer.runs is Runs.YES:
        return Promise(
            path, what, asked, unit, beside="as in the file", binds=words, figure=f"{path}.removal", place="as in the file"
        )
    return Promise(
        path,
        what,
        None,
        unit,
        beside=f"file {show(asked, unit, study.machine.show)}" if asked else "",
        binds=answer.no_advice or words,
        figure=f"{path}.removal" if asked else "",
        pending=answer.pending,
    )


def _wall(study: Study, answer: JobAnswer, path: str) -> Promise:
    """Deflection and run-out at the worst wall, whichever way: no more of the part's accuracy than that."""
    worst, wanted, figure = answer.wall, _plain(study.machine.purpose.accuracy), f"{path}.wall"
    if worst is None:
        return Promise(
            path,
            "wall error",
            None,
            "m",
            wanted=wanted,
            binds=answer.missing or "give of the machine at the tool, and the cutter's material",
        )
    low, high = study.bands.get(figure, (None, None))
    return Promise(path, "wall error", abs(_plain(worst.worst) or 0.0), "m", low, high, wanted, "", "", figure, _way(study, worst))


def _way(study: Study, worst: Wall) -> str:
    off = typical(worst.worst)
    held = f"; {NOTHING_WANTED}" if study.machine.purpose.accuracy is None else ""
    return f"{worst.way}, {'cuts into the part' if off > 0 else 'leaves material standing'}; as in the file{held}"


def _cost(study: Study) -> Promise:
    """What is still to be paid: a lower bound where parts lack a price, unknown where none has one."""
    found, machine = study.results.masses.cost, study.machine
    lacking = len(found.lacking)
    words = f"{lacking} part{'s' if lacking != 1 else ''} without a price, such as {found.lacking[0]}" if lacking else ""
    if not found.known:
        words = f"no part to be bought has a price: {words}"
    low, high = study.bands.get("cost.total", (None, None))
    wanted = _plain(machine.purpose.budget)
    total = _plain(found.total) if found.known else None
    return Promise(
        "machine", "cost", total, machine.currency, low, high, wanted, words, figure="cost.total", at_least=total is not None and bool(lacking)
    )  # fmt: skip


def _towards(direction: tuple[float, float, float]) -> str:
    """The machine axis that a direction is nearest to, or the two it lies between."""
    size = sorted(((abs(part), letter) for part, letter in zip(direction, "XYZ", strict=True)), reverse=True)
    return f"along {size[0][1]}" if size[1][0] < 0.4 else f"between {size[0][1]} and {size[1][1]}"


def _plain(value: Any) -> float | None:
    return None if value is None else typical(value)
