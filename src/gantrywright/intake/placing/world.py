"""The machine while it is being placed: bodies with their parts in own measures, and what has been found wrong."""

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from gantrywright.base.names import nearest_sentence
from gantrywright.base.quantities import show
from gantrywright.base.units import Real
from gantrywright.catalog import kinds
from gantrywright.intake.geometry.frames import Face as Side
from gantrywright.intake.geometry.frames import Unclear, face_of
from gantrywright.intake.grammar.recipes import makes
from gantrywright.intake.placing.doubts import Doubts
from gantrywright.intake.tree import Branch
from gantrywright.model.axis import Axis
from gantrywright.model.bodies import Foot, Layer, Link, Member, Plate, Solid
from gantrywright.model.frame import ZERO, Vector, add, subtract

if TYPE_CHECKING:
    from gantrywright.intake.reading import Reading

END = re.compile(r"@(left|right|front|back|bottom|top|from|to)\Z")
COLLECTIONS = ("member", "plate", "item", "foot")


class Unplaced(Exception):
    """Something that a part hangs on failed and was told already; the part stays silent."""


@dataclass(slots=True)
class Placed:
    """One body: where it stands and its parts in its own measures."""

    name: str
    branch: Branch
    middle: float | None
    origin: Vector = ZERO
    """In the measures of the ground body, as drawn."""
    solids: dict[str, Solid] = field(default_factory=dict)
    """By path; parts that can be referred to."""
    members: dict[str, Member] = field(default_factory=dict)
    plates: dict[str, Plate] = field(default_factory=dict)
    branches: dict[str, Branch] = field(default_factory=dict)
    """The table of each part by path."""
    feet: list[Foot] = field(default_factory=list)
    layers: list[Solid] = field(default_factory=list)
    """What the work lies on, lowest first."""
    sheets: list[Layer] = field(default_factory=list)
    """The same with their materials, in own measures."""
    planned: list[Solid] = field(default_factory=list)


@dataclass(slots=True)
class World:
    """Everything that has been placed so far."""

    reading: "Reading"
    bodies: dict[str, Placed] = field(default_factory=dict)
    links: tuple[Link, ...] = ()
    doubts: Doubts = field(default_factory=Doubts)
    axes: dict[str, Axis] = field(default_factory=dict)
    """In own measures: rails and blocks of their bodies, lines of the body that holds them."""
    loose: list[Solid] = field(default_factory=list)
    """Solids of no list of parts (rails, motors ...), in own measures of their body."""
    planned: list[Solid] = field(default_factory=list)
    stray: list[tuple[str, str]] = field(default_factory=list)
    unplaced: list[str] = field(default_factory=list)
    """Paths of what could not be placed."""
    shared: dict[str, Branch] = field(default_factory=dict)
    """What all joints of one kind of a body share, by its path."""
    unmade: dict[str, str] = field(default_factory=dict)
    """Recipes that could not be followed, by body: what they promise is not missed."""

    def problem(self, path: str, message: str) -> Unplaced:
        """Note a problem; returns what the caller may raise."""
        self.reading.problem(path, message)
        return Unplaced(path)

    def problem_once(self, path: str, message: str) -> Unplaced:
        """The same, unless the very words were told already, of a sibling or of another part that names the same file."""
        told = any(known.message == message for known in self.reading.problems)
        return Unplaced(path) if told else self.problem(path, message)

    def said(self, length: float) -> str:
        """A length in the units of the machine."""
        machine = self.reading.branch("machine")
        return show(length, "m", str(machine.get("show") or "metric") if machine is not None else "metric")

    # ---- references

    def body_of(self, reference: str) -> str:
        """Body that a part reference names."""
        return reference.split("@")[0].split(".")[0]

    def solids_named(self, reference: str, where: str) -> list[Solid]:
        """The parts that a reference names: one, or all copies of a repeated name.

        Args:
            reference: ``bed.left-side``, with an end after @ perhaps, or with the word of its collection.
            where: Path of the key that refers.
        """
        name = END.sub("", reference)
        parts = name.split(".")
        if len(parts) > 2 and parts[1] in COLLECTIONS:
            parts = [parts[0], *parts[2:]]
        body = self.bodies.get(parts[0])
        if body is None:
            raise self._unknown_body(parts[0], reference, where)
        name = ".".join(parts[:2])
        if name in body.solids:
            return [body.solids[name]]
        if name == f"{body.name}.top" and body.layers:
            return [body.layers[-1]]
        copies = [solid for path, solid in body.solids.items() if re.fullmatch(re.escape(name) + r"-\d+", path)]
        if copies:
            return copies
        if self._is_silent(name):
            raise Unplaced(where)
        raise self.problem(where, f"no part '{reference}'{nearest_sentence(name, body.solids)}")

    def solid_named(self, reference: str, where: str) -> Solid:
        """The one part that a reference names."""
        found = self.solids_named(reference, where)
        if len(found) > 1:
            raise self.problem(where, f"'{reference}' means {len(found)} parts; name one of {', '.join(s.path for s in found)}")
        return found[0]

    def _is_silent(self, name: str) -> bool:
        """The part is written but could not be placed: told already."""
        body, _, part = name.partition(".")
        recipe = self.unmade.get(body, "")
        if makes(recipe, part) or makes(recipe, f"{part}-1"):
            return True
        branch = self.bodies[body].branch
        copies = re.compile(re.escape(part) + r"(-\d+)?")
        return any(copies.fullmatch(name) for group in COLLECTIONS for name, _ in branch.children(group))

    def _unknown_body(self, name: str, reference: str, where: str) -> Unplaced:
        known = [link.body for link in self.links]
        if name in known:
            return Unplaced(where)
        return self.problem(where, f"'{reference}': no body '{name}'{nearest_sentence(name, known)}")

    # ---- places

    def face(self, solid: Solid, word: Any, where: str) -> Side:
        """A side of a part, told as a problem where the word does not name one."""
        try:
            return face_of(solid, word, self.bodies[solid.body].middle)
        except Unclear as error:
            raise self.problem(where, str(error)) from None

    def between(self, start: str, stop: str) -> Vector:
        """From the origin of one body to that of another, as drawn."""
        return subtract(self.bodies[stop].origin, self.bodies[start].origin)

    def in_ground(self, body: str, point: Vector) -> Vector:
        """A point in own measures as a point in the measures of the ground body."""
        return add(self.bodies[body].origin, point)

    # ---- materials

    def material(self, name: str | None, where: str) -> kinds.Material:
        """A material by name; the problem of an unknown one is told."""
        if not name:
            raise Unplaced(where)
        found = self.reading.material(name, where)
        if found is None:
            raise Unplaced(where)
        return found

    def density(self, name: str, where: str) -> Real | None:
        """Density of a material, kg/m3."""
        return self.material(name, where).density
