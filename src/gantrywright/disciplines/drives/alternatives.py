"""Screws, nuts and ends that may mend a finding: edits of the machine file that the study then tries."""

from collections.abc import Callable, Iterator
from functools import cache

from gantrywright.base.samples import typical
from gantrywright.base.units import Real
from gantrywright.catalog import kinds
from gantrywright.catalog.tables import Catalog, record_of
from gantrywright.findings import Change
from gantrywright.model.axis import Axis, DriveFit
from gantrywright.model.drives.shaft import ScrewShaft
from gantrywright.theory.lead_accuracy import variation_300

SAME = 1e-6
"""Sizes closer than this are one size, m."""
SPARE = 1.05
"""A proposed screw is at least this much better than just enough."""
FINER = (7, 5, 3, 1)
"""Numbers of accuracy grades, coarse ones first."""

SCREWS = (kinds.BallScrew, kinds.LeadScrew)

Merit = Callable[[kinds.BallScrew | kinds.LeadScrew], float]
Suits = Callable[[kinds.BallScrew], bool]


@cache
def _records(kind: str) -> tuple[kinds.Part, ...]:
    """Packaged rows of a kind."""
    return tuple(record_of(row) for row in Catalog().rows(kind))


@cache
def _screws() -> tuple[kinds.BallScrew, ...]:
    """Packaged ball screws, by diameter and lead."""
    screws = [record for record in _records(kinds.BallScrew.kind) if isinstance(record, kinds.BallScrew)]
    return tuple(sorted(screws, key=lambda screw: (_size(screw.diameter), _size(screw.lead))))


@cache
def _nuts() -> frozenset[str]:
    return frozenset(Catalog().names(kinds.Nut.kind))


def _size(value: Real | None) -> float:
    return 0.0 if value is None else typical(value)


def enough_for(fit: DriveFit, times: Real, merit: Merit) -> Suits:
    """Which screws are so much better than the present one.

    Args:
        fit: The drive with its present screw.
        times: How many times better a screw must be: what is asked over what is allowed.
        merit: What the limit grows with, everything else unchanged: lead times root diameter for whirl, and so on.
    """
    old = fit.drive.parts.part
    if not isinstance(old, SCREWS):
        return lambda _: False
    needed = _size(times) * SPARE * merit(old)
    return lambda screw: merit(screw) >= needed


def whirl_merit(screw: kinds.BallScrew | kinds.LeadScrew) -> float:
    """Travel speed at the whirl limit grows with lead and root diameter."""
    return _size(screw.lead) * _size(screw.root)


def speed_value_merit(screw: kinds.BallScrew | kinds.LeadScrew) -> float:
    """Travel speed at the largest d n grows with lead over diameter."""
    return _size(screw.lead) / _size(screw.diameter)


def buckling_merit(screw: kinds.BallScrew | kinds.LeadScrew) -> float:
    """The buckling load grows with the fourth power of the root diameter."""
    return float(_size(screw.root) ** 4)


def life_merit(screw: kinds.BallScrew | kinds.LeadScrew) -> float:
    """Travel in a life grows with the cube of the rating and with the lead."""
    return (
        0.0
        if not isinstance(screw, kinds.BallScrew) or screw.dynamic is None
        else float(_size(screw.dynamic.force) ** 3 * _size(screw.lead))
    )


def longer_lead(axis: Axis, fit: DriveFit, suits: Suits) -> tuple[Change, ...]:
    """The next longer lead of the same diameter that suits."""
    diameter, lead = _sizes(fit)
    same = (s for s in _screws() if abs(_size(s.diameter) - diameter) < SAME and _size(s.lead) > lead + SAME)
    return _first(axis, fit, filter(suits, same))


def shorter_lead(axis: Axis, fit: DriveFit) -> tuple[Change, ...]:
    """The next shorter lead of the same diameter."""
    diameter, lead = _sizes(fit)
    shorter = (s for s in reversed(_screws()) if abs(_size(s.diameter) - diameter) < SAME and _size(s.lead) < lead - SAME)
    return _first(axis, fit, shorter)


def thicker(axis: Axis, fit: DriveFit, suits: Suits) -> tuple[Change, ...]:
    """The next thicker screw with this lead or a longer one that suits; a ball screw for a plain one."""
    diameter, lead = _sizes(fit)
    larger = (s for s in _screws() if _size(s.diameter) > diameter + SAME and _size(s.lead) > lead - SAME)
    return _first(axis, fit, filter(suits, larger))


def both_ends_fixed(axis: Axis, fit: DriveFit) -> tuple[Change, ...]:
    """A fixed bearing at the far end too."""
    parts = fit.drive.parts
    if not isinstance(fit.drive, ScrewShaft) or parts.turns != "screw" or parts.ends == "fixed-fixed":
        return ()
    words = f"fixed bearings at both ends instead of {parts.ends}"
    return (_change(axis, fit, words, (("ends", "fixed-fixed"),)),)


def turning_nut(axis: Axis, fit: DriveFit) -> tuple[Change, ...]:
    """A still screw with a turning nut, where there is one for its size."""
    diameter, _ = _sizes(fit)
    nut = f"nut-turning-{diameter * 1000:.0f}"
    if fit.drive.kind != "ball-screw" or fit.drive.parts.turns != "screw" or nut not in _nuts():
        return ()
    keys = (("turns", "nut"), ("ends", "clamped-clamped"), ("nut", nut))
    return (_change(axis, fit, "a still screw clamped at both ends with a turning nut", keys),)


def preloaded_nut(axis: Axis, fit: DriveFit) -> tuple[Change, ...]:
    """The preloaded nut of the same screw."""
    parts = fit.drive.parts
    nut = f"{_nut_of(parts.part.id)}-preloaded"
    if parts.nut is None or parts.nut.id == nut or nut not in _nuts() or parts.turns != "screw":
        return ()
    return (_change(axis, fit, "a preloaded nut", (("nut", nut),)),)


def one_end_free(axis: Axis, fit: DriveFit) -> tuple[Change, ...]:
    """A far bearing that lets the screw grow."""
    parts = fit.drive.parts
    if parts.turns != "screw" or parts.ends != "fixed-fixed":
        return ()
    return (_change(axis, fit, "a far bearing that slides (fixed-supported)", (("ends", "fixed-supported"),)),)


def finer_grade(axis: Axis, fit: DriveFit, times: Real) -> tuple[Change, ...]:
    """The coarsest grade of the same letter that is so many times finer."""
    part = fit.drive.parts.part
    old = variation_300(part.grade) if isinstance(part, kinds.BallScrew) else None
    if old is None or not isinstance(part, kinds.BallScrew):
        return ()
    letter = part.grade.strip()[0]
    finer = ((rate, f"{letter}{number}") for number in FINER if (rate := variation_300(f"{letter}{number}")) is not None)
    grade = next((name for rate, name in finer if rate < old and old / rate >= _size(times)), None)
    if grade is None:
        return ()
    return (_change(axis, fit, f"a screw of grade {grade} instead of {part.grade}", (("part.grade", grade),)),)


def more_teeth(axis: Axis, fit: DriveFit, least: float) -> tuple[Change, ...]:
    """The smallest pulley of the same pitch with so many teeth."""
    old = fit.drive.parts.pulley
    if old is None:
        return ()
    family = old.id.rpartition("-")[0]
    pulleys = [row for row in _records(kinds.Pulley.kind) if isinstance(row, kinds.Pulley) and row.id.rpartition("-")[0] == family]
    enough = [row for row in pulleys if _size(row.teeth) >= least]
    if not enough:
        return ()
    new = min(enough, key=lambda row: _size(row.teeth))
    return (_change(axis, fit, f"pulley {new.id} instead of {old.id}", (("pulley", new.id),)),)


def stronger_bearing(axis: Axis, fit: DriveFit, times: Real) -> tuple[Change, ...]:
    """The least fixed bearing of the same bore whose dynamic rating is so many times larger."""
    old = fit.drive.parts.bearing
    if old is None or old.dynamic is None:
        return ()
    needed = _size(times) * _size(old.dynamic.force)
    stronger = [
        (_size(row.dynamic.force), row)
        for row in _records(kinds.Bearing.kind)
        if isinstance(row, kinds.Bearing) and row.dynamic is not None and row.holding == "fixed" and abs(_size(row.bore) - _size(old.bore)) < SAME
    ]  # fmt: skip
    enough = [(force, row) for force, row in stronger if force >= needed]
    if not enough:
        return ()
    new = min(enough, key=lambda each: each[0])[1]
    return (_change(axis, fit, f"end bearing {new.id}", (("bearing", new.id),)),)


def _change(axis: Axis, fit: DriveFit, words: str, keys: tuple[tuple[str, str], ...]) -> Change:
    """The same edit on every drive of the axis that is like this one: two screws of a gantry are changed together."""
    alike = [other.path for other in axis.drives if other.drive.parts.part.id == fit.drive.parts.part.id]
    return Change(words, tuple((f"{path}.{key}", value) for path in alike for key, value in keys))


def _sizes(fit: DriveFit) -> tuple[float, float]:
    part = fit.drive.parts.part
    return (_size(part.diameter), _size(part.lead)) if isinstance(part, SCREWS) else (0.0, 0.0)


def _nut_of(screw: str) -> str:
    return screw.replace("ball-screw", "nut")


def _first(axis: Axis, fit: DriveFit, found: Iterator[kinds.BallScrew]) -> tuple[Change, ...]:
    old = fit.drive.parts.part
    if not isinstance(old, SCREWS) or fit.drive.parts.turns != "screw":
        return ()
    screw = next(found, None)
    if screw is None:
        return ()
    plain = isinstance(old, kinds.LeadScrew)
    keys = [*((("kind", screw.kind),) if plain else ()), ("part", screw.id)]
    preloaded = fit.drive.parts.nut is not None and fit.drive.parts.nut.id.endswith("-preloaded")
    nut = _nut_of(screw.id) + ("-preloaded" if preloaded else "")
    if nut in _nuts():
        keys.append(("nut", nut))
    name = "ball screw" if plain else "screw"
    return (_change(axis, fit, f"{name} {_words(screw)} instead of {_words(old)}", tuple(keys)),)


def _words(screw: kinds.BallScrew | kinds.LeadScrew) -> str:
    if isinstance(screw, kinds.LeadScrew) and screw.thread:
        return screw.thread
    return f"{_size(screw.diameter) * 1000:g} x {_size(screw.lead) * 1000:g}"
