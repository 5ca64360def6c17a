"""What the machine can promise, axis by axis: the first thing that a builder reads."""

from dataclasses import dataclass, replace
from typing import Any

from gantrywright.base.quantities import show
from gantrywright.base.samples import typical
from gantrywright.findings import Status
from gantrywright.study.study import Study


@dataclass(frozen=True, slots=True)
class Promise:
    """One promised number."""

    subject: str
    """``axis.x``, or ``machine``."""
    what: str
    """rapid, acceleration, cutting force at feed, drive stiffness, travel, mass."""
    value: float | None
    """Typical; None is unknown."""
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
    undecided: bool = False
    """The check that holds it against what is wanted cannot tell: it says unknown, and so does every face."""


def promises(study: Study) -> tuple[Promise, ...]:
    """All promises, axis by axis, then the whole machine."""
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
    made.append(_pushed_off(study))
    made.append(_promise(study, "machine", "mass", study.results.masses.total.mass, "kg", None))
    made.append(_cost(study))
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


def _pushed_off(study: Study) -> Promise:
    """How far the peak force of the worst job pushes the tool off: the part of a wall's error that the machine's give makes."""
    worst = max(study.results.structure.jobs, key=lambda job: _plain(job.peak) or 0.0, default=None)
    accuracy = _plain(study.machine.purpose.accuracy)
    if worst is None:
        return Promise("machine", "push-off at the worst job", None, "m", wanted=accuracy, binds="a job with known cutting forces")
    figure = f"job.{worst.job}.give_peak"
    low, high = study.bands.get(figure, (None, None))
    return Promise(
        "machine", "push-off at the worst job", _plain(worst.peak), "m", low, high, accuracy, f"job.{worst.job}", "", figure
    )


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
