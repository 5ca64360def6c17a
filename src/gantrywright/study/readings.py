"""What was pushed, tapped and cut on the finished machine against the band of its prediction, and what is believed after it."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from gantrywright.base.quantities import show
from gantrywright.base.samples import typical
from gantrywright.base.spread import Spread
from gantrywright.base.units import Array
from gantrywright.findings import Finding, Status
from gantrywright.results.ledger import Ledger
from gantrywright.results.readings import Reading
from gantrywright.theory.readings import updated
from gantrywright.theory.statistics import draw

CHECK = "STR-601"
CHECKS = (CHECK, "CUT-801")
"""That hold a reading against the band of what was believed."""
POINTS = (0.05, 0.5, 0.95)
UNTOLD = 0.05
"""Standard uncertainty of a reading of which the file tells none, as part of it; common practice, no source."""
MODEL = {"stiffness": 0.1, "frequency": 0.05, "shear": 0.03, "edge": 0.1}
"""What the model itself may be off by with all its inputs right (one standard deviation): parts of the structure that are not counted,
run-out and wear of a cutter; our choice."""
OF_MATERIAL = ("shear", "edge")
"""Readings that hang on the row of one material alone: nothing else is asked what would explain them."""
WORTH = 0.05
"""Inputs that explain less of a prediction's variance than this are not named: with some hundred samples that is noise."""
NAMED = 3
"""Inputs that are named for a reading."""
FAR = 10.0
"""A factor on one input beyond this, or below its reciprocal, is not told as a number; our choice."""
MOVED = 0.2
"""Inputs whose middle moves by less than this part of half their band are not told as corrected."""


@dataclass(frozen=True, slots=True)
class Cause:
    """An uncertain input that would explain a reading alone."""

    path: str
    share: float
    """Of the variance of the prediction."""
    factor: float
    """On the input."""
    low: float
    """Factor at the 5 % point of what is believed of it."""
    high: float


@dataclass(frozen=True, slots=True)
class Compared:
    """One reading beside the band of its prediction."""

    reading: Reading
    """Of typical values."""
    band: tuple[float, float, float]
    """5 %, 50 % and 95 % point of the prediction."""
    percentile: float
    """Share of the samples that predict less than was read."""
    used: bool
    """Whether what is believed was corrected by it: not by a reading that lies outside of the band by more than its instrument may be off."""
    causes: tuple[Cause, ...]
    """Strongest first."""


@dataclass(frozen=True, slots=True)
class Corrected:
    """A number before and after the readings, each by its 5 %, 50 % and 95 % point."""

    path: str
    unit: str
    before: tuple[float, float, float]
    after: tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Lessons:
    """What the readings taught."""

    compared: tuple[Compared, ...] = ()
    figures: tuple[Corrected, ...] = ()
    inputs: tuple[Corrected, ...] = ()
    """Uncertain inputs that the readings moved; only those that are factors or amounts above zero."""


def lessons(
    readings: Sequence[Reading], sampled: Sequence[Reading], findings: Sequence[Finding], ledger: Ledger, figures: Sequence[str],
    spreads: Mapping[str, Spread], samples: Mapping[str, Array], unit_of: Callable[[str], str],
) -> Lessons:  # fmt: skip
    """Compare every reading with its prediction and correct what hangs on the same springs.

    Args:
        readings: Of typical values.
        sampled: The same, of the sampled machine.
        findings: Judged with samples.
        ledger: Of the sampled machine.
        figures: Paths of the figures to be corrected.
        spreads: Of the uncertain inputs.
        samples: Of them.
        unit_of: SI unit of an input.
    """
    status = {finding.subject: finding.status for finding in findings if finding.id in CHECKS}
    known = {reading.name: reading for reading in readings}
    inputs = {path: np.log(x) for path, x in samples.items() if np.ptp(x) > 0 and x.min() > 0 and not path.startswith("measured.")}
    compared = []
    for one in sampled:
        predicted = np.asarray(one.predicted, dtype=float) if one.predicted is not None else np.zeros(())
        if predicted.ndim == 0 or np.ptp(predicted) == 0 or one.measured is None:
            continue
        measured = typical(one.measured)
        compared.append(
            Compared(
                known[one.name],
                _points(predicted),
                float(np.mean(predicted < measured)),
                status.get(f"measured.{one.name}") in (Status.OK, Status.WATCH),
                _causes(np.log(predicted), np.log(measured), inputs, spreads),
            )
        )
    used = {each.reading.name for each in compared if each.used}
    taken = [one for one in sampled if one.name in used]
    if not taken:
        return Lessons(tuple(compared))
    of_cut = any(one.observe in OF_MATERIAL for one in taken)
    values = {path: np.asarray(ledger[path].value, dtype=float) for path in figures if path in ledger}
    told = {path: np.log(value) for path, value in values.items() if value.ndim and np.ptp(value) > 0 and value.min() > 0}
    after = _after({**told, **inputs}, taken)
    return Lessons(
        tuple(compared),
        tuple(
            Corrected(path, ledger[path].unit, _points(np.exp(log)), _points(np.exp(after[path])))
            for path, log in told.items()
            if not of_cut or _goes_with(log, taken)
        ),
        tuple(
            Corrected(path, unit_of(path), _points(np.exp(log)), _points(np.exp(after[path])))
            for path, log in sorted(inputs.items(), key=lambda pair: -_moved(pair[1], after[pair[0]]))
            if _moved(log, after[path]) >= MOVED and _goes_with(log, taken)
        ),
    )


def explained(finding: Finding, found: Lessons, system: str) -> Finding:
    """A finding of the check with the band of the prediction and the input that would explain the reading best."""
    one = next((each for each in found.compared if f"measured.{each.reading.name}" == finding.subject), None)
    if finding.id not in CHECKS or one is None:
        return finding
    low, middle, high = (show(value, one.reading.unit, system) for value in one.band)
    said = f"expected {middle} ({low} .. {high}) {one.reading.where}; the reading lies at {100 * one.percentile:.0f} % of that band"
    if one.reading.mode:
        said += f"; the mode that was heard is taken to be {one.reading.mode}"
    limit = one.band[2] if _read(one.reading) >= one.band[1] else one.band[0]
    verdict = replace(finding.verdict, limit=limit, note=said)
    if finding.status is Status.OK or not one.causes:
        return replace(finding, verdict=verdict)
    if one.reading.observe in OF_MATERIAL:
        return replace(finding, verdict=verdict)
    words, remedy = _told(one.causes[0])
    return replace(finding, verdict=replace(verdict, note=f"{said}; {words}", remedy=remedy))


def _told(cause: Cause) -> tuple[str, str]:
    """What would explain a reading, and what to do about it."""
    first = "Repeat the reading, look for a loose screw, then"
    if cause.low <= cause.factor <= cause.high:
        return (
            f"{cause.path} times {cause.factor:.2g} alone would explain it",
            f"{first} measure {cause.path} by itself (measured.NAME with that path), or set it to {cause.factor:.2g} times what it is.",
        )
    if not 1 / FAR <= cause.factor <= FAR:
        by = f"not even a factor of {FAR:.0f} on {cause.path}, which the prediction hangs on most,"
    else:
        by = f"{cause.path}, which the prediction hangs on most, would have to be {cause.factor:.2g} times what it is, more than is believed of it ({cause.low:.2g} to {cause.high:.2g});"
    return (
        f"{by} would explain it: more than one thing is not as the file says"
        if by.endswith(",")
        else f"{by} more than one thing is not as the file says",
        f"{first} compare sizes, walls, materials and the place of the reading with the file; measure {cause.path} by itself.",
    )


def _after(logs: Mapping[str, Array], taken: Sequence[Reading]) -> dict[str, Array]:
    predicted = np.stack([np.log(np.asarray(one.predicted, dtype=float)) for one in taken], axis=-1)
    deviation = np.array([_deviation(one) for one in taken])
    noise = draw({f"noise of measured.{one.name}": Spread(-1.645, 0.0, 1.645) for one in taken}, len(predicted))
    seen = np.stack([np.log(_read(one)) + sd * z for one, sd, z in zip(taken, deviation, noise.values(), strict=True)], axis=-1)  # fmt: skip
    return {path: np.asarray(updated(samples=log, predicted=predicted, seen=seen, variance=deviation**2)) for path, log in logs.items()}  # fmt: skip


def _deviation(one: Reading) -> float:
    """Standard deviation of the logarithm of a reading against what the structure can tell."""
    own = UNTOLD if one.deviation is None else one.deviation / _read(one)
    return float(np.hypot(own, MODEL[one.observe]))


def _read(one: Reading) -> float:
    """What was read; readings without a value are not compared."""
    return float("nan") if one.measured is None else typical(one.measured)


def _causes(predicted: Array, measured: float, inputs: Mapping[str, Array], spreads: Mapping[str, Spread]) -> tuple[Cause, ...]:
    """Inputs that would explain a reading alone, by the share of the prediction's variance that goes with them (logarithms)."""
    found = []
    off = predicted - predicted.mean()
    for path, log in inputs.items():
        own = log - log.mean()
        covariance, variance = float(own @ off), float(own @ own)
        share = covariance**2 / (variance * float(off @ off))
        spread = spreads[path]
        if share >= WORTH and spread.low > 0:
            factor = float(np.exp((measured - np.median(predicted)) * variance / covariance))
            found.append(Cause(path, share, factor, spread.low / spread.typical, spread.high / spread.typical))
    return tuple(sorted(found, key=lambda cause: -cause.share)[:NAMED])


def _goes_with(log: Array, taken: Sequence[Reading]) -> bool:
    """Whether a prediction hangs on an input more than chance would have it."""
    return any(np.corrcoef(log, np.log(np.asarray(one.predicted, dtype=float)))[0, 1] ** 2 >= WORTH for one in taken)


def _moved(before: Array, after: Array) -> float:
    """Shift of the middle over half the band."""
    return float(
        abs(np.median(after) - np.median(before)) / max((np.quantile(before, 0.95) - np.quantile(before, 0.05)) / 2, 1e-12)
    )


def _points(values: Array) -> tuple[float, float, float]:
    low, middle, high = (float(value) for value in np.quantile(values, POINTS))
    return low, middle, high
