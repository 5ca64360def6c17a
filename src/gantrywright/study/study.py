"""One study: a machine, its results, its findings. First from typical values, then settled with the spread of its inputs."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace

import numpy as np

from gantrywright.base.samples import ranked
from gantrywright.base.spread import Spread
from gantrywright.base.units import Array
from gantrywright.disciplines.motion.simulate import simulate
from gantrywright.findings import Finding, Status, Verdict, judge_spread
from gantrywright.model.machine import Machine
from gantrywright.results import Results
from gantrywright.results.ledger import band
from gantrywright.results.readings import Reading
from gantrywright.study.analyses import analyse, jobs_in_depth
from gantrywright.study.checking import BROKEN, findings, verdicts
from gantrywright.study.readings import Lessons, explained, lessons
from gantrywright.theory.statistics import Sliced, draw

SAMPLES = 512
"""With these the 5 % and 95 % points of an ordinary answer move by less than a twentieth of their band with the seed (tests/study)."""

FEW = 96
"""Samples of a first spread that is there in half the time; of twenty ends nineteen move by less than a sixth of their band (tests/study)."""

NARROWED = ("structure.tip.stiffness", *(f"structure.tip.stiffness_{letter}" for letter in "xyz"))
"""Figures for which the study says which measurement would narrow their band most."""
OF_CUT = ("power", "peak_in_plane", "wall")
"""Figures of a job that are corrected where cutting coefficients were measured."""
WORTH = 0.03
"""Inputs that take away less of the variance than this are not told."""

Again = Callable[[Mapping[str, Array], tuple[tuple[str, str], ...]], Machine]
"""Resolves the same file again with samples of its uncertain values and with edits; given by the caller, who knows the file."""


@dataclass(frozen=True, slots=True)
class Study:
    """What a face shows."""

    machine: Machine
    results: Results
    findings: tuple[Finding, ...]
    """By id and subject."""
    bands: Mapping[str, tuple[float, float]] = field(default_factory=dict)
    """The 5 % and 95 % point of every figure that spreads; empty until settled."""
    settled: bool = False
    samples: int = 0
    """How many samples the bands are made of; 0 where there are none yet, or nothing is uncertain."""
    unknowns: Mapping[str, tuple[tuple[str, float], ...]] = field(default_factory=dict)
    """Of the figures in `NARROWED`: inputs that widen their band most, with the share of its variance that each would take away."""
    lessons: Lessons = Lessons()
    """What was pushed and tapped against what was expected, and what is believed after it; empty until settled."""
    pending: tuple[str, ...] = ()
    """Ids of checks whose findings are those of an earlier machine, while theirs are worked out (see `glance`)."""

    def count(self, status: Status) -> int:
        """How many findings have this status."""
        return sum(finding.status is status for finding in self.findings)

    def worst(self) -> tuple[Finding, ...]:
        """Findings by severity; within a status the likelier to fail first, then by margin: plain cautions come last."""
        order = {Status.FAIL: 0, Status.BROKEN: 1, Status.UNKNOWN: 2, Status.WATCH: 3, Status.OK: 4}
        return tuple(
            sorted(self.findings, key=lambda f: (order[f.status], _chance(f), _typical_margin(f.verdict), f.id, f.subject))
        )


def run(machine: Machine) -> Study:
    """Study from typical values."""
    return _found(machine, analyse(machine))


def settle(study: Study, again: Again, *, count: int = SAMPLES) -> Study:
    """Refine a study with samples of all uncertain inputs together.

    Values that move parts are not sampled with the others: their effect is taken at both ends of the band, one at a time, and
    added to the sampled margins by linear interpolation (first order).

    Args:
        study: From typical values.
        again: Resolves the file again.
        count: Number of samples.
    """
    study = simulated(study)
    spreads = {path: spread for path, spread in study.machine.spreads.items() if spread.high > spread.low}
    if not spreads:
        return replace(study, settled=True)
    samples = draw(spreads, count)
    moving = {path: spread for path, spread in spreads.items() if spread.placed}
    sampled = again({path: values for path, values in samples.items() if path not in moving}, ())
    results = replace(analyse(sampled, study.results), simulation=study.results.simulation)
    checks = {finding.id: finding.check for finding in study.findings}
    said = {(id, verdict.subject): verdict for id, check in checks.items() for verdict in verdicts(check, sampled, results)}
    crashed = {id: verdict.missing for (id, _), verdict in said.items() if verdict.missing.startswith(BROKEN)}
    moved = {path: _at_ends(path, spread, again) for path, spread in moving.items()}
    refined, inputs = [], ranked(samples)
    for finding in study.findings:
        verdict = said.get((finding.id, finding.subject))
        if verdict is not None:
            verdict = _with_moved(verdict, finding, moved, spreads, samples)
            finding = judge_spread(finding, verdict, inputs)
        # what it said of typical values must not stand as if it had been looked at with samples
        if finding.id in crashed and (verdict is None or verdict.missing == crashed[finding.id]):
            finding = replace(finding, status=Status.BROKEN, verdict=replace(finding.verdict, missing=crashed[finding.id]))
        refined.append(finding)
    bands = {figure.path: pair for figure in results.ledger if (pair := band(figure.value)) is not None}
    sliced = Sliced.of(samples)
    unknowns = {path: _widest(results.ledger[path].value, sliced) for path in NARROWED if path in results.ledger}
    corrected = [*NARROWED, *(f"{job.path}.give_peak" for job in study.machine.jobs)]
    if study.results.cutting.readings:
        corrected += [f"{job.path}.{name}" for job in study.machine.jobs for name in OF_CUT]
    taught = lessons(
        _readings(study.results), _readings(results), refined, results.ledger, corrected, spreads, samples,
        lambda path: stated.unit if (stated := study.machine.stated.get(path)) is not None else "",
    )  # fmt: skip
    refined = [explained(finding, taught, study.machine.show) for finding in refined]
    answered = replace(study.results, structure=replace(study.results.structure, response=results.structure.response))
    return replace(
        study,
        results=answered,
        findings=tuple(refined),
        bands=bands,
        settled=True,
        samples=count,
        unknowns=unknowns,
        lessons=taught,
    )


def _readings(results: Results) -> tuple[Reading, ...]:
    """All that was read on the finished machine."""
    return (*results.structure.readings, *results.cutting.readings)


def _widest(value: object, inputs: Sliced) -> tuple[tuple[str, float], ...]:
    """Inputs by the share of a figure's variance that they explain alone, largest first."""
    output = np.asarray(value, dtype=float)
    if output.ndim != 1 or not np.all(np.isfinite(output)) or np.ptp(output) == 0:
        return ()
    found = sorted(inputs.shares(output).items(), key=lambda pair: -float(pair[1]))
    return tuple((path, float(share)) for path, share in found[:3] if float(share) >= WORTH)


def simulated(study: Study) -> Study:
    """The study with the promise tested in the time domain and the jobs looked at in depth, and what the checks say of that."""
    if study.results.simulation is not None:
        return study
    deep = jobs_in_depth(study.machine, study.results)
    return _found(study.machine, replace(deep, simulation=simulate(study.machine, deep)))


def _found(machine: Machine, results: Results) -> Study:
    found = (replace(finding, place=machine.place_of(finding.subject)) for finding in findings(machine, results))
    return Study(machine, results, tuple(sorted(found, key=lambda f: (f.id, f.subject))))


Ends = tuple[dict[tuple[str, str], Verdict], dict[tuple[str, str], Verdict]]


def _at_ends(path: str, spread: Spread, again: Again) -> Ends:
    """Verdicts with one value at its low and at its high end."""
    ends = []
    for value in (spread.low, spread.high):
        machine = again({}, ((path, f"{value:.9f} m"),))
        ends.append({(f.id, f.subject): f.verdict for f in findings(machine, analyse(machine))})
    return ends[0], ends[1]


def _with_moved(
    verdict: Verdict, finding: Finding, moved: Mapping[str, Ends], spreads: Mapping[str, Spread], samples: Mapping[str, Array]
) -> Verdict:
    key = (finding.id, finding.subject)
    if not moved or verdict.margin is None or verdict.value is None or finding.verdict.margin is None:
        return verdict
    margin, value = verdict.margin, verdict.value
    for path, (low, high) in moved.items():
        if key not in low or key not in high:
            continue
        spread = spreads[path]
        points = (spread.low, spread.typical, spread.high)
        margin = margin + np.interp(samples[path], points, _steps(finding.verdict.margin, low[key].margin, high[key].margin))
        value = value + np.interp(samples[path], points, _steps(finding.verdict.value, low[key].value, high[key].value))
    return replace(verdict, margin=margin, value=value)


def _steps(typical: object, low: object, high: object) -> tuple[float, float, float]:
    if typical is None or low is None or high is None:
        return (0.0, 0.0, 0.0)
    base = float(np.asarray(typical))
    return (float(np.asarray(low)) - base, 0.0, float(np.asarray(high)) - base)


def _chance(finding: Finding) -> float:
    """Of passing; only a finding to watch is sorted by it."""
    return finding.probability if finding.status is Status.WATCH and finding.probability is not None else 1.0


def _typical_margin(verdict: Verdict) -> float:
    return float("inf") if verdict.margin is None else float(np.mean(np.asarray(verdict.margin)))
