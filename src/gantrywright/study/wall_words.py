"""How far the walls and the bottom of a job come off, in words: while the cutter bends, and while it swings."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from gantrywright.base.quantities import show, unit_for
from gantrywright.base.samples import typical
from gantrywright.results.jobs import JobAnswer, Wall
from gantrywright.study.study import Study
from gantrywright.study.words import with_band

SEEN = 0.5e-6
"""What a wall is off by less than is nothing, m."""
NOTHING_WANTED = "nothing wanted: purpose.accuracy is not told"


@dataclass(frozen=True, slots=True)
class Off:
    """One wall, or the bottom."""

    what: str
    text: str
    """Its size with its band."""
    way: str
    """Which way it is off, or what else there is to say."""
    figure: str = ""
    """Where its working is."""


def wanted(study: Study) -> str:
    """``wanted 0.3 mm``, or that nothing is."""
    most = study.machine.purpose.accuracy
    return NOTHING_WANTED if most is None else f"wanted {show(typical(most), 'm', study.machine.show)}"


def offs(study: Study, answer: JobAnswer) -> Iterator[Off]:
    """Each wall and the bottom: which, how far off with its band, and which way; then what swinging leaves at the speed of the job."""
    path = f"job.{answer.job}"
    for wall in answer.walls:
        worst = typical(wall.worst)
        words = "cuts into the part that should stay" if worst > 0 else "leaves material standing"
        way = _other_side(study, worst, typical(wall.most), typical(wall.least), words)
        if wall is answer.wall:  # one number has one band: that of the promise and of the finding
            yield Off(f"wall, {wall.way}", *_worst(study, f"{path}.wall", wall, way), f"{path}.wall")
        else:
            yield Off(f"wall, {wall.way}", _off(study, f"{path}.wall.{wall.way}", worst), way, f"{path}.wall.{wall.way}")
    if answer.bottom is not None:
        low = typical(answer.bottom)
        way = "cuts too deep" if low > 0 else "cuts too shallow"
        yield Off("bottom", _off(study, f"{path}.bottom", low), way, f"{path}.bottom")
    swings = swung(study, answer)
    if swings is not None:
        yield Off("wall, swinging", show(swings, "m", study.machine.show), _beside(study, answer, swings))


def swung(study: Study, answer: JobAnswer) -> float | None:
    """What the swinging cutter leaves on the worst wall at the speed of the job, m; None where it was not worked out."""
    found = answer.lobes
    if found is None or not len(found.error):
        return None
    job = next(job for job in study.machine.jobs if job.name == answer.job)
    error = float(np.interp(typical(job.speed), found.speeds, found.error))
    return error if np.isfinite(error) else None


def _beside(study: Study, answer: JobAnswer, swings: float) -> str:
    """The same wall while the cutter only bends, and which of both is larger."""
    said = ["in a steady cut, by typical values, run-out not in it"]
    if answer.wall is not None:
        still = abs(typical(answer.wall.worst))
        larger = "larger" if swings > still else "smaller"
        said.append(f"{larger} than the {show(still, 'm', study.machine.show)} while it only bends")
    most = study.machine.purpose.accuracy
    if most is not None and swings > typical(most):
        said.append("more than is wanted")
    return "; ".join(said)


def _worst(study: Study, path: str, wall: Wall, way: str) -> tuple[str, str]:
    """The size of the worst wall and which way it is off; where its band reaches over nothing, that it may come out on either side."""
    low, high = study.bands.get(path, (None, None))
    text = with_band(abs(typical(wall.worst)), low, high, "m", study.machine.show)
    least, most = study.bands.get(f"{path}.{wall.way}", (0.0, 0.0))
    return text, f"{way}; may come out on either side" if least < -SEEN and most > SEEN else way


def _other_side(study: Study, worst: float, most: float, least: float, words: str) -> str:
    other = least if worst > 0 else most
    if abs(other) < SEEN or other * worst > 0:
        return words
    return f"{words}; elsewhere {show(abs(other), 'm', study.machine.show)} {'standing' if worst > 0 else 'into the part'}"


def _off(study: Study, path: str, value: float) -> str:
    """A size without its sign, its band turned with it; where the band reaches to the other side, that is said."""
    system = study.machine.show
    low, high = study.bands.get(path, (None, None))
    if low is None or high is None:
        return show(abs(value), "m", system)
    if value < 0:
        low, high = -high, -low
    if low < 0:
        hint = unit_for(value, "m", system)
        return f"{show(abs(value), 'm', system, hint=hint)} (up to {show(high, 'm', system, hint=hint)}, or {show(-low, 'm', system, hint=hint)} the other way)"
    return with_band(abs(value), low, high, "m", system)
