"""From numbers to places on the paper, with round ticks."""

import math

from gantrywright.pictures.picture import Dimension

ROUND = (1, 2, 2.5, 5, 10)


class Scale:
    """One axis of a diagram."""

    def __init__(self, values: list[float], of: Dimension, start: float, stop: float, *, tight: bool = False) -> None:
        """Take all that must lie on it, and where it begins and ends on the paper."""
        self.log, self.start, self.stop = of.log, start, stop
        if of.log:
            values = [v for v in values if v > 0] or [1.0]
            self.least, self.most = math.log10(min(values)), math.log10(max(values))
        else:
            self.least, self.most = min(values), max(values)
            if not tight and 0 < self.least < 0.5 * self.most:
                self.least = 0.0
        if self.most - self.least < 1e-12 * max(abs(self.most), 1e-12):
            self.least, self.most = self.least - 0.5 * abs(self.least or 1), self.most + 0.5 * abs(self.most or 1)
        elif not tight:
            self.most += 0.04 * (self.most - self.least)

    def at(self, value: float) -> float:
        """Place of a number."""
        if self.log:
            value = math.log10(value) if value > 0 else self.least
        return self.start + (value - self.least) / (self.most - self.least) * (self.stop - self.start)

    def ticks(self, wanted: int = 5) -> list[tuple[float, str]]:
        """Round numbers with their words, about as many as wanted."""
        if self.log:
            decades = range(math.floor(self.least), math.ceil(self.most) + 1)
            told = [10.0**d * k for d in decades for k in ((1, 2, 5) if self.most - self.least < 3 else (1,))]
            return [(v, f"{v:g}") for v in told if self.least <= math.log10(v) <= self.most]
        step = _round((self.most - self.least) / wanted)
        first = math.ceil(self.least / step - 1e-9)
        last = math.floor(self.most / step + 1e-9)
        return [(k * step, f"{k * step:.6g}") for k in range(first, last + 1)]


def named(of: Dimension) -> str:
    """What an axis is called, with its unit."""
    return f"{of.label} [{of.unit}]" if of.unit else of.label


def _round(step: float) -> float:
    power = 10.0 ** math.floor(math.log10(step))
    return next(k * power for k in ROUND if k * power >= step * 0.999)
