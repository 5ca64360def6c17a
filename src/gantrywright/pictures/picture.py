"""A picture as data: what it shows, in which units, where to look. Drawn by the page, and here as SVG; saved as CSV."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from gantrywright.study.study import Study

Kind = Literal["lines", "bars", "map", "table"]


@dataclass(frozen=True, slots=True)
class Dimension:
    """One axis of a diagram."""

    label: str
    unit: str = ""
    log: bool = False
    si: float = 1.0
    """SI per unit."""


@dataclass(frozen=True, slots=True)
class Series:
    """One line, with its band where there is one."""

    name: str
    points: tuple[tuple[float, float | None], ...]
    """None leaves a gap."""
    dash: str = ""
    """Empty: solid; else lengths of line and gap."""
    band: tuple[tuple[float, float, float], ...] = ()
    """x, 5 % and 95 % points."""
    mark: str = ""
    """"points" for single points instead of a line."""
    tone: int | None = None
    """Number of its colour; by its place among the lines where None."""


@dataclass(frozen=True, slots=True)
class Mark:
    """A word at a place of the diagram."""

    x: float
    y: float
    text: str


@dataclass(frozen=True, slots=True)
class Field:
    """Values over a grid."""

    xs: tuple[float, ...]
    ys: tuple[float, ...]
    values: tuple[tuple[float | None, ...], ...]
    """Rows from the least y up."""
    unit: str
    worst: Mark | None = None
    axes: tuple[str, ...] = ()
    """Axes of the machine that run along x and y."""
    metres: float = 1.0
    """Metres per unit of xs and ys."""
    si: float = 1.0
    """SI per unit of the values."""
    name: str = ""
    """Of the machine, where two are held side by side."""
    low: float | None = None
    high: float | None = None
    """Ends of the scale that two machines share; its own where None."""


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar."""

    label: str
    value: float
    text: str
    part: str = ""
    """Path in the machine file; empty where it is none."""
    other: float | None = None
    """Value of the other machine, where two are held side by side."""
    other_text: str = ""


@dataclass(frozen=True, slots=True)
class Key:
    """A number that the picture is about, in words."""

    label: str
    text: str
    other: str = ""
    """The same of the other machine, where two are held side by side."""


@dataclass(frozen=True, slots=True)
class Picture:
    """One picture. Numbers are in the units that its axes name: those of the builder."""

    id: str
    title: str
    words: str
    """What it says, in a sentence or two: the picture without eyes."""
    kind: Kind
    key: tuple[Key, ...] = ()
    x: Dimension | None = None
    y: Dimension | None = None
    series: tuple[Series, ...] = ()
    marks: tuple[Mark, ...] = ()
    map: Field | None = None
    bars: tuple[Bar, ...] = ()
    columns: tuple[str, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()
    heads: tuple[str, ...] = ()
    """Headings with units of `numbers`; empty where the rows hold none."""
    numbers: tuple[tuple[str | float, ...], ...] = ()
    """The rows as they are saved."""
    names: tuple[str, ...] = ()
    """Of two machines, where they are held side by side."""
    other: Field | None = None
    """Map of the second machine."""
    of: str = ""
    """Job that it is of, where each has its own."""
    rising: bool = False
    """Of bars: the least comes first. Their marks are lines across all of them, at x."""

    @property
    def empty(self) -> bool:
        """Nothing is drawn: its words say what is lacking."""
        return not (any(series.points for series in self.series) or self.bars or self.rows or self.map)


@dataclass(frozen=True, slots=True)
class Maker:
    """One picture that can be asked for."""

    id: str
    title: str
    stage: str
    """Stage of the board that shows it."""
    words: str
    make: Callable[[Study], Picture]
    of_job: Callable[[Study, str], Picture] | None = None
    """Of a job by its name, where each has a picture of its own."""


DASHES = ("", "7 4", "2 3", "10 3 2 3", "1 2", "12 4")
"""One a series, in order, so that lines are told apart without colour."""
