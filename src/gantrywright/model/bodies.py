"""Bodies and what they are made of, placed in the machine frame as drawn."""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Literal

from gantrywright.base.units import (
    FourthMetre,
    Kilogram,
    KilogramPerMetre,
    Metre,
    Money,
    Newton,
    NewtonMetre,
    NewtonMetrePerRadian,
    NewtonPerMetre,
    Number,
    Pascal,
    SquareMetre,
)
from gantrywright.catalog.kinds import Material
from gantrywright.model.frame import ZERO, Vector
from gantrywright.theory.sections.outline import Outline, Ring


@dataclass(frozen=True, slots=True)
class Use:
    """How a part is used in this machine."""

    part: str = ""
    """Name of its row in the parts tables; empty for a part given in place."""
    stock: str = ""
    owned: bool = False
    price: Money | None = None
    """In the machine's currency; None is unknown."""
    condition: str = ""
    remaining: Number = 1.0
    """Factor on load ratings."""
    fitted: bool = True
    made: Literal["here", "cut", "bought"] = "here"
    state: str = "idea"
    """idea, bought, cut, drilled or fitted."""
    label: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Solid:
    """Anything with a place and a mass: what is weighed, drawn, lifted and kept from running into others."""

    path: str
    body: str
    kind: str
    """member, plate, item, layer, foot, rail, block, screw, rack, belt, motor, spindle, mount, cutter, slide, cabinet, lump."""
    mass: Kilogram | None
    """None is unknown."""
    centre: Vector
    axes: tuple[Vector, Vector, Vector]
    """Unit vectors of its own box: for a bar along, height, width; for a plate first, second, normal."""
    size: Vector
    """Full extent along each of its axes, m; zeros for a point."""
    use: Use = Use()
    round: bool = False
    """A cylinder about its first axis (screws, motors, spindles)."""


@dataclass(frozen=True, slots=True)
class Section:
    """Cross-section of a bar: what the geometry gives."""

    name: str
    shape: str
    height: float
    width: float
    area: SquareMetre
    second_moment_height: FourthMetre
    """Resists bending in the plane of the height axis, m4."""
    second_moment_width: FourthMetre
    torsion: FourthMetre | None
    shear_height: SquareMetre | None
    """Shear area for a force along the height axis, m2."""
    shear_width: SquareMetre | None
    mass_per_length: KilogramPerMetre | None = None
    """Of the bar that has this section, its filling included; None is unknown."""
    product: FourthMetre = 0.0
    """Product of inertia about the centroid; not zero where height and width are no principal axes (angles)."""
    centre: tuple[float, float] = (0.0, 0.0)
    """Centroid from the middle of the section's box, (width, height), m."""
    shear_centre: tuple[float, float] = (0.0, 0.0)
    """Point through which a force bends without twisting, from the middle of the section's box, (width, height), m."""
    cores: tuple[tuple[float, float], ...] = ()
    """Middles of the bores that can be tapped at the ends, m."""
    estimated: bool = False
    """From outer size and mass per length alone: there is no outline."""
    draw: Callable[[], Outline] | None = field(default=None, compare=False, repr=False)
    """Draws the outline; it is drawn when somebody looks at it."""

    @property
    def outline(self) -> Ring:
        """Outer outline about the middle of the section's box, (width, height) points, m; empty where it is not known."""
        return self.draw().ring if self.draw is not None else ()

    @property
    def openings(self) -> tuple[Ring, ...]:
        """Rings of the voids inside it."""
        return self.draw().openings if self.draw is not None else ()


@dataclass(frozen=True, slots=True)
class HolePattern:
    """Holes on one face of a part, as written, expanded to points."""

    name: str
    face: str
    points: tuple[tuple[float, float], ...]
    """(along, across) on that face, m."""
    size: float | None
    thread: str = ""
    depth: float | None = None
    through: str = ""
    planned: bool = False
    note: str = ""


@dataclass(frozen=True, slots=True)
class Member:
    """A bar: a tube, profile, flat or slab that carries as a beam."""

    path: str
    body: str
    start: Vector
    stop: Vector
    height_axis: Vector
    width_axis: Vector
    section: Section
    material: Material
    fill: str
    ends: tuple[str, ...]
    holes: tuple[HolePattern, ...]
    use: Use
    joint: str = ""
    filling: Material | None = None
    """Material of ``fill``."""


@dataclass(frozen=True, slots=True)
class Plate:
    """A plate."""

    path: str
    body: str
    middle: Vector
    normal: Vector
    first: Vector
    second: Vector
    size: Vector
    """Along first, along second, thickness, m."""
    strip: Vector | None
    rigid: bool
    material: Material
    openings: tuple[tuple[float, float, float, float], ...]
    """(middle along first, middle along second, size first, size second), m."""
    holes: tuple[HolePattern, ...]
    use: Use
    outline: str = ""
    rounds: tuple[bool, ...] = ()
    """Of each opening: an ellipse instead of a rectangle."""
    drawn: Outline | None = None
    """What its outline's file draws about the middle, (first, second) points, m; None for a rectangle."""


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer of what the work lies on, lowest first in the machine."""

    path: str
    body: str
    kind: str
    """sheet, skin or webs."""
    material: Material
    middle: Vector
    size: Vector
    """Along x, y, z, m."""
    web: tuple[float, float, float] | None = None
    """Of webs: thickness, pitch of those along the long side, pitch of those across it, m."""


OUTSIDE = "outside the range of the estimate"
"""In the note of a joint that is estimated beyond what is known."""


@dataclass(frozen=True, slots=True)
class JointStiffness:
    """Six springs of a joint in its own frame: n mating face's normal, a along the section's height, b the third."""

    n: NewtonPerMetre | None = None
    a: NewtonPerMetre | None = None
    b: NewtonPerMetre | None = None
    rn: NewtonMetrePerRadian | None = None
    ra: NewtonMetrePerRadian | None = None
    rb: NewtonMetrePerRadian | None = None


@dataclass(frozen=True, slots=True)
class Bolting:
    """How the screws of a joint are tightened, and what they go into."""

    path: str = ""
    """Of its table."""
    friction: Number = 0.12
    """Of the thread and under the head."""
    tightening: str = "torque-wrench"
    scatter: Number = 1.6
    """Largest over least clamp force."""
    torque: NewtonMetre | None = None
    """None: as much as screw and thread bear."""
    into: str = "nut"
    """tapped, nut, insert or slot-nut."""
    bears: Newton | None = None
    """Pull that what one is screwed into bears, where the file or a published table tells; None: as much as the screw, or by its thread."""
    engagement: Metre | None = None
    """Of the thread in what is tapped."""
    tapped: str = ""
    """What is tapped."""
    strength: Pascal | None = None
    """Tensile, of what is tapped."""
    missing: str = ""
    """What must be known of it before anything is said of its clamp force."""


@dataclass(frozen=True, slots=True)
class Joint:
    """Two parts that touch and hold each other."""

    path: str
    """Path of its table, or the two parts joined by `` + `` where the rule of touching made it."""
    a: str
    b: str
    kind: str
    points: tuple[Vector, ...]
    normal: Vector
    bolts: int
    thread: str
    faces: str
    friction: Number | None
    stiffness: JointStiffness
    """Of each of its points: what the file gives, else estimated and multiplied by ``times``; None where a modulus is unknown."""
    times: Number = 1.0
    count: int = 1
    bolt_class: str = "8.8"
    frame: tuple[Vector, Vector, Vector] = ((0.0, 0.0, 1.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
    """n, a, b of its springs: unit vectors, right-handed."""
    patch: Vector = ZERO
    """Extent of the contact along x, y, z, 0 along the normal, m; zeros where the two share no face."""
    bolt_points: tuple[Vector, ...] = ()
    """Middles of its bolts on the mating face, as many as ``bolts``; empty where the file tells of no bolts."""
    loss: Number = 0.0
    """Loss factor."""
    note: str = ""
    """What its springs were estimated as, in words."""
    bolting: Bolting = Bolting()


@dataclass(frozen=True, slots=True)
class Foot:
    """A foot on the floor."""

    path: str
    at: Vector
    on: str
    vertical: NewtonPerMetre | None
    horizontal: NewtonPerMetre | None
    use: Use


@dataclass(frozen=True, slots=True)
class Body:
    """One body of the chain."""

    name: str
    origin: Vector
    middle: float | None
    """Middle plane in own measures, m."""


@dataclass(frozen=True, slots=True)
class Link:
    """How one body hangs on another."""

    body: str
    on: str
    """Empty for the ground body."""
    axis: str
    """Empty where it is bolted on."""
    sign: int
    """+1 on the tool's side, -1 on the work's side of the ground, 0 where it stands still."""


@dataclass(frozen=True, slots=True)
class Box:
    """An upright box by its least and greatest corner, m."""

    least: Vector
    most: Vector

    @property
    def size(self) -> Vector:
        """Extent in x, y, z."""
        return (self.most[0] - self.least[0], self.most[1] - self.least[1], self.most[2] - self.least[2])
