"""Finds the bar that holds a point: of the part that is named, else the nearest of the body."""

from collections.abc import Iterable

import numpy as np

from gantrywright.base.units import Array
from gantrywright.model.bodies import Solid
from gantrywright.model.frame import Vector
from gantrywright.theory.frames.frame import Numbers
from gantrywright.theory.frames.skeleton import Anchor, Bar


class Carriers:
    """The bars of a machine, found by part, or by place within a body."""

    def __init__(self, bars: Iterable[Bar], solids: Iterable[Solid]) -> None:
        """Take the bars and the boxes of the parts that they stand for."""
        self.bars = list(bars)
        self.number = {bar.part: index for index, bar in reversed(list(enumerate(self.bars)))}
        boxes = {solid.path: solid for solid in solids}
        held = [boxes.get(bar.part) for bar in self.bars]
        self._centre = np.array(
            [_middle(bar) if solid is None else solid.centre for bar, solid in zip(self.bars, held, strict=True)]
        )
        self._axes = np.array([np.eye(3) if solid is None else solid.axes for solid in held]).reshape(-1, 3, 3)
        self._half = np.array([(0.0, 0.0, 0.0) if solid is None else solid.size for solid in held]).reshape(-1, 3) / 2
        self._body = np.array([bar.body for bar in self.bars])

    def of_part(self, part: str, point: Vector) -> Anchor | None:
        """The anchor at a point of a part; None where the part is no bar."""
        number = self.number.get(part)
        return None if number is None else Anchor(number, point)

    def hold(self, part: str, body: str, point: Vector) -> Anchor | None:
        """The anchor at a point, on the part if it is a bar, else on the nearest bar of the body; None where it has none."""
        return self.of_part(part, point) or self.nearest(body, point)

    def nearest(self, body: str, point: Vector) -> Anchor | None:
        """The anchor at a point, held by the nearest bar of a body."""
        own = np.flatnonzero(self._body == body)
        if not len(own):
            return None
        return Anchor(int(own[np.argmin(self._distance(own, point))]), point)

    def _distance(self, own: Numbers, point: Vector) -> Array:
        """Distance of a point from the boxes of some bars."""
        offset = np.abs(np.einsum("nij,nj->ni", self._axes[own], np.array(point) - self._centre[own]))
        outside = np.maximum(offset - self._half[own], 0.0)
        result: Array = np.sqrt((outside**2).sum(axis=1))
        return result


def _middle(bar: Bar) -> Vector:
    return tuple((a + b) / 2 for a, b in zip(bar.start, bar.stop, strict=True))  # type: ignore[return-value]
