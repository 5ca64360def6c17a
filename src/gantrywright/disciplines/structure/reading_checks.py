"""STR-6xx: whether the finished machine does what the structure says of it."""

from collections.abc import Iterator

import numpy as np

from gantrywright.base.quantities import show
from gantrywright.base.samples import typical
from gantrywright.base.units import Real
from gantrywright.disciplines.structure.readings import OBSERVED
from gantrywright.disciplines.structure.stiffness_checks import lacks
from gantrywright.findings import Verdict, check, unknown
from gantrywright.model.machine import Machine
from gantrywright.results import Results
from gantrywright.results.readings import Reading
from gantrywright.theory.readings import spring_factor_of_frequency, spring_factor_of_stiffness

FACTOR = {"stiffness": 2.0, "frequency": 2.0**0.5}
"""What a prediction from typical values alone is taken to be right within, until its own band is known; common practice, no source."""
LEAST = 1e-3
"""A reading with noise is never taken to be less than this part of itself, so that it has a logarithm."""


@check(
    "STR-601", title="What was measured lies within what was predicted",
    why="Where the finished machine is far from its prediction, something is not as the file says, and every other answer about its give is"
    " off in the same way.",
    source="common practice, no source",
    remedy="First repeat the reading and look for a loose screw; then measure the part that is named, and write what was found as [measured.NAME] with its path.",
)  # fmt: skip
def measured_as_predicted(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Every reading of a stiffness or a frequency, against the band of its prediction."""
    told = {reading.name: reading for reading in results.structure.readings}
    for seen in machine.observations:
        if seen.observe not in OBSERVED:
            continue
        subject, reading = f"measured.{seen.name}", told.get(seen.name)
        if reading is None:
            yield unknown(subject, missing=lacks(results.structure), unit=seen.unit)
        elif reading.measured is None or reading.predicted is None:
            yield unknown(subject, missing=reading.missing, unit=seen.unit)
        else:
            yield _verdict(subject, reading, reading.measured, reading.predicted, machine.show)


def _verdict(subject: str, reading: Reading, measured: Real, predicted: Real, system: str) -> Verdict:
    """Distance to the nearer end of the band on a scale of factors, over that from its middle to that end; negative outside.

    Of a sampled machine the reading has the noise of its instrument: outside of the band by less than that is to be watched.
    """
    low, middle, high = band_of(reading.observe, predicted)
    limit = high if typical(measured) >= middle else low
    ratio = np.maximum(np.asarray(measured, dtype=float) / middle, LEAST)
    edge = np.where(ratio >= 1, np.log(high / middle), np.log(middle / low))
    margin = 1 - np.abs(np.log(ratio)) / edge
    if low <= typical(measured) <= high:
        margin = np.maximum(margin, 0.0)
    size = np.shape(predicted)
    margin = np.broadcast_to(margin, np.broadcast_shapes(np.shape(margin), size))
    plain = float(margin) if margin.ndim == 0 else margin
    return Verdict(
        subject, measured, limit, reading.unit, plain, note=f"expected {show(middle, reading.unit, system)} {reading.where}; {_words(reading)}",
        figure=reading.figure, remedy=_remedy(reading), what=f"measured {reading.observe}",
    )  # fmt: skip


def band_of(observe: str, predicted: Real) -> tuple[float, float, float]:
    """The 5 %, 50 % and 95 % points of a prediction; of typical values alone, what is usual."""
    spread = np.asarray(predicted, dtype=float)
    if spread.ndim and np.ptp(spread) > 0:
        low, middle, high = np.quantile(spread, (0.05, 0.5, 0.95))
        return float(low), float(middle), float(high)
    middle = typical(predicted)
    return middle / FACTOR[observe], middle, middle * FACTOR[observe]


def _words(reading: Reading) -> str:
    """Which mode, and what one spring would explain it."""
    said = f"the mode that was heard is taken to be {reading.mode}" if reading.mode else ""
    if reading.others:
        said += ", others that a tap shows there: " + ", ".join(f"{name} at {hertz:.3g} Hz" for name, hertz in reading.others[:3])
    return "; ".join(part for part in (said, _explained(reading)) if part)


def _explained(reading: Reading) -> str:
    """The part with the largest share, and the factor on its stiffness that alone would do."""
    if not reading.held or reading.measured is None or reading.predicted is None:
        return ""
    name, share = reading.held[0]
    by = spring_factor_of_stiffness if reading.observe == "stiffness" else spring_factor_of_frequency
    factor = float(by(measured=typical(reading.measured), predicted=typical(reading.predicted), share=share))
    holds = f"{name} holds {100 * share:.0f} % of {'the give' if reading.observe == 'stiffness' else 'the strain'}"
    if not 0 < factor < np.inf:
        return f"{holds}, and not even that alone could explain it"
    return f"{holds}: {factor:.2g} times as stiff it alone would explain it"


def _remedy(reading: Reading) -> str:
    """Which key says otherwise."""
    name = reading.held[0][0] if reading.held else ""
    return (
        f"Repeat the reading, look for a loose screw, then measure {name} by itself, or set the stiffness of it that the file gives."
        if name
        else ""
    )
