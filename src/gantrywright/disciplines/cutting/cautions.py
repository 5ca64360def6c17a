"""What is told beside a job about dust, fire, noise, eyes, ears and thrown parts, from ``data/defaults/cautions.toml``.

They are no findings: nothing is judged and nothing is ticked off. Local rules, manuals and licensed practice come first, and each says so.
"""

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from importlib.resources import files
from typing import Any

from gantrywright.base.quantities import show
from gantrywright.theory.cutting.leaving import thrown_energy, thrown_speed

KEYS = frozenset({"groups", "together", "hold_down", "cooling", "diameter", "edge_speed"})
"""What a caution may hang on."""


@dataclass(frozen=True, slots=True)
class Facts:
    """What a caution needs to know of a job; plain typical numbers."""

    job: str
    group: str = ""
    """Of the material; empty where it is not known."""
    diameter: float = 0.0
    """Of the cutter, m."""
    speed: float | None = None
    """Of the spindle, rad/s."""
    hold_down: str = ""
    cooling: str = ""
    """Of the spindle."""

    @property
    def edge_speed(self) -> float | None:
        """Of the cutter's edge, m/s."""
        return None if self.speed is None else float(thrown_speed(diameter=self.diameter, speed=self.speed))


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution of the table."""

    id: str
    subject: str
    """dust, fumes, chips, fire, noise, eyes, thrown parts, hold-down, hands, electrics, lifting."""
    title: str
    words: str
    defers: str
    """What comes before these words."""
    sources: tuple[str, ...]
    when: Mapping[str, Any] = field(default_factory=dict)
    measured: str = ""
    """Sentence with the numbers of the job."""
    mass: float = 0.0
    """Of the piece that `measured` tells of, kg."""

    def applies(self, cut: Facts, groups: frozenset[str]) -> bool:
        """Whether it is told for a job; a speed that is not known may be any.

        Args:
            cut: The job.
            groups: Of all materials that the machine cuts.
        """
        when = self.when
        sides = when.get("together", ())
        return (
            all(groups & set(side) for side in sides)
            and (not sides or any(cut.group in side for side in sides))
            and cut.group in when.get("groups", (cut.group,))
            and cut.hold_down in when.get("hold_down", (cut.hold_down,))
            and cut.cooling in when.get("cooling", (cut.cooling,))
            and cut.diameter >= when.get("diameter", 0.0)
            and (cut.edge_speed is None or cut.edge_speed >= when.get("edge_speed", 0.0))
        )


@dataclass(frozen=True, slots=True)
class Told:
    """A caution as it is told of this machine."""

    caution: Caution
    words: str
    """With the numbers of the job that is worst."""
    jobs: tuple[str, ...]
    """Those that it is told for."""


def cautions_of(cuts: Sequence[Facts], groups: frozenset[str] = frozenset()) -> tuple[Told, ...]:
    """The cautions that the jobs of a machine call for, in the order of the table.

    Args:
        cuts: Its jobs; without any nothing is told.
        groups: Of the materials of its other jobs, where not all of them are asked for.

    Returns:
        Each once, with the jobs that it is for.
    """
    groups = groups | frozenset(cut.group for cut in cuts)
    told = []
    for caution in cautions().values():
        met = [cut for cut in cuts if caution.applies(cut, groups)]
        if met:
            words = " ".join(part for part in (caution.words, _measured(caution, met), caution.defers) if part)
            told.append(Told(caution, words, tuple(cut.job for cut in met)))
    return tuple(told)


@cache
def cautions() -> Mapping[str, Caution]:
    """All of them, by name."""
    text = files("gantrywright.data").joinpath("defaults/cautions.toml").read_text("utf-8")
    return {name: _caution(name, **fields) for name, fields in tomllib.loads(text).items()}


def _caution(name: str, *, sources: Sequence[str], when: Mapping[str, Any] | None = None, **fields: Any) -> Caution:
    unknown = set(when or {}) - KEYS
    if unknown:
        raise ValueError(f"cautions.toml: {name} hangs on {', '.join(sorted(unknown))}, which no job has")
    return Caution(name, sources=tuple(sources), when=dict(when or {}), **fields)


def _measured(caution: Caution, cuts: Sequence[Facts]) -> str:
    """The sentence with numbers, of the job whose edge is fastest; empty where no speed is known."""
    known = [(speed, cut.diameter) for cut in cuts if (speed := cut.edge_speed) is not None]
    if not caution.measured or not known:
        return ""
    speed, diameter = max(known)
    energy = float(thrown_energy(mass=caution.mass, speed=speed))
    return caution.measured.format(
        mass=show(caution.mass, "kg"), speed=f"{speed:.0f} m/s", energy=f"{energy:.2g} J", diameter=show(diameter, "m")
    )
