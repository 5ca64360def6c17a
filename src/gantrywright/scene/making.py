"""The bench on which a scene is put together: pieces get their number, matrix and words here."""

from collections.abc import Iterable

from gantrywright.base.quantities import show
from gantrywright.base.samples import typical
from gantrywright.base.units import Real
from gantrywright.model.bodies import Solid
from gantrywright.model.frame import Vector, cross, dot, scale
from gantrywright.model.machine import Machine
from gantrywright.scene.pieces import Matrix, Piece
from gantrywright.scene.shapes import BOX, Shape
from gantrywright.scene.words import owned_of

Axes = tuple[Vector, Vector, Vector]
Facts = list[tuple[str, str]]
DIGITS = 5
"""Of dimensions: a sixteenth of an inch is four digits behind the point."""


class Maker:
    """Everything of one scene while it is made."""

    def __init__(self, machine: Machine) -> None:
        """Start with nothing drawn."""
        self.machine = machine
        self.shapes: dict[str, Shape] = {}
        self.pieces: list[Piece] = []
        self._said: dict[tuple[float, str], str] = {}

    def draw(
        self, solid: Solid, shape: Shape, axes: Axes, size: Vector, at: Vector, label: str, what: str, *, facts: Iterable[tuple[str, str]] = (),
        beyond: bool = False, on: str = "", material: str = "", section: str = "", part: str = "",
    ) -> None:  # fmt: skip
        """Draw a piece.

        Args:
            solid: The placed solid that it belongs to.
            shape: Unit shape.
            axes: Of the shape, unit vectors; a left-handed set of a symmetric shape is mended.
            size: Along these axes; of an extrusion the first alone is used to stretch it.
            at: Middle.
            label: Its name.
            what: What it is.
            facts: Dimensions and more, beside the mass.
            beyond: It is drawn beyond the solid's box.
            on: Part of the structure that carries it.
            material: Its material.
            section: Its section.
            part: Path that it is picked as; the solid's own where it is left out.
        """
        if dot(cross(axes[0], axes[1]), axes[2]) < 0.0:
            axes = (axes[0], axes[1], scale(axes[2], -1.0))
        self.shapes.setdefault(shape.id, shape)
        mass = None if solid.mass is None else typical(solid.mass)
        weight = (("Mass", self.said(mass, "kg")),) if mass else ()
        stretch = size if shape.kind != "extrusion" else (size[0], 1.0, 1.0)
        self.pieces.append(
            Piece(
                id=len(self.pieces), part=part or solid.path, solid="" if beyond else solid.path, body=solid.body, on=on, kind=solid.kind,
                label=label, what=what, shape=shape.id, matrix=matrix_of(axes, stretch, at), size=size, mass=mass, owned=owned_of(solid),
                material=material, section=section, detail=(*facts, *weight),
            )
        )  # fmt: skip

    def box(
        self, solid: Solid, label: str, what: str, *, facts: Iterable[tuple[str, str]] = (), on: str = "", material: str = ""
    ) -> None:
        """Draw a solid as its own box."""
        facts = (*facts, ("Size", self.sizes(solid.size)))
        self.draw(solid, BOX, solid.axes, solid.size, solid.centre, label, what, facts=facts, on=on, material=material)

    def said(self, value: Real | None, unit: str) -> str:
        """A value in the machine's units."""
        if value is None:
            return "unknown"
        number = typical(value)
        key = (number, unit)
        if key not in self._said:
            digits = DIGITS if unit == "m" else 3
            self._said[key] = show(number, unit, self.machine.show, digits=digits)
        return self._said[key]

    def sizes(self, size: Iterable[float]) -> str:
        """Dimensions as they are written: ``300 x 620 x 20 mm``."""
        texts = [self.said(extent, "m") for extent in size]
        units = {text.rpartition(" ")[2] for text in texts}
        if len(units) > 1:
            return " x ".join(texts)
        return f"{' x '.join(text.rpartition(' ')[0] for text in texts)} {units.pop()}"

    def facts(self, *given: tuple[str, Real | None, str]) -> Facts:
        """Label and text of every value that is known."""
        return [(label, self.said(value, unit)) for label, value, unit in given if value is not None]


def matrix_of(axes: Axes, size: Vector, at: Vector) -> Matrix:
    """From the unit shape to its place: three scaled axes and the middle, column by column."""
    columns = (scale(axis, extent) for axis, extent in zip(axes, size, strict=True))
    return (*(number for column in columns for number in (*column, 0.0)), *at, 1.0)


def length_of(value: Real | None, usual: float) -> float:
    """A dimension; a usual one where no table says it, for the view alone."""
    return usual if value is None else typical(value)
