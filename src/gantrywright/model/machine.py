"""The machine: every part looked up, in SI, placed in the machine frame as drawn."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from gantrywright.base.spread import Origin, Spread, Stated
from gantrywright.base.units import Real
from gantrywright.model.axis import Axis
from gantrywright.model.bodies import Body, Box, Foot, Joint, Layer, Link, Member, Plate, Solid
from gantrywright.model.electric import ControllerFit, SpindleFit, Supply, ToolFit
from gantrywright.model.frame import Vector, add, scale
from gantrywright.model.purpose import Job, Purpose, Site, Spoilboard


def nowhere(_: str) -> str:
    """Place of everything in a machine of no file."""
    return ""


@dataclass(frozen=True, slots=True)
class PowerCuts:
    """Cuts at several feeds, all else held, with the power that the inverter told; what the file does not say is None."""

    job: str
    feeds: tuple[float, ...]
    """m/s."""
    powers: tuple[float, ...]
    """W."""
    idle: Real | None = None
    efficiency: Real | None = None
    depth: Real | None = None
    width: Real | None = None
    speed: Real | None = None


@dataclass(frozen=True, slots=True)
class Observation:
    """What the finished machine was seen to do; replaces nothing."""

    name: str
    observe: str
    of: str
    value: Real | None
    uncertainty: float | None
    """Standard uncertainty of the instrument."""
    unit: str
    fields: Mapping[str, str] = field(default_factory=dict)
    at: Vector | None = None
    """Tip of the tool from the machine's zero; None is as drawn."""
    along: Vector | None = None
    between: tuple[str, ...] = ()
    """Empty: tool and work."""
    cuts: PowerCuts | None = None
    """Of spindle power alone."""


@dataclass(frozen=True, slots=True)
class Machine:
    """One resolved machine.

    Numbers are typical values, or arrays with one value a sample where the file was resolved with samples; places are always
    typical. ``solids`` is the one list of everything with a mass: bodies are weighed, drawn and kept apart from it.
    """

    name: str
    layout: str
    show: str
    """metric or inch."""
    currency: str
    purpose: Purpose
    jobs: tuple[Job, ...]
    site: Site
    links: tuple[Link, ...]
    """Ground body first."""
    bodies: tuple[Body, ...]
    work_body: str
    tool_body: str
    solids: tuple[Solid, ...]
    members: tuple[Member, ...]
    plates: tuple[Plate, ...]
    joints: tuple[Joint, ...]
    feet: tuple[Foot, ...]
    axes: tuple[Axis, ...]
    """In the order x, y, z where they have these names."""
    supplies: tuple[Supply, ...]
    controller: ControllerFit | None
    spindle: SpindleFit | None
    tool: ToolFit | None
    drawn_at: Vector
    """Pose as drawn, by axis letter x, y, z."""
    table: Box
    """The work area over the top of what the work lies on: from z = 0 up to the wanted height, as drawn."""
    reach: Box
    """Tip against the work over all poses."""
    table_top: Box | None
    """The slab that the work lies on, if the file has one."""
    origins: Mapping[str, Origin]
    spreads: Mapping[str, Spread]
    """Every uncertain input by path."""
    observations: tuple[Observation, ...] = ()
    layers: tuple[Layer, ...] = ()
    """What the work lies on, lowest first."""
    planned: tuple[Solid, ...] = ()
    """Planned parts: priced, not placed."""
    stray: tuple[tuple[str, str], ...] = ()
    """Placing found these, by subject: an overlap, an end that touches nothing, a rail longer than its face."""
    stated: Mapping[str, Stated] = field(default_factory=dict)
    """Every value with where it came from; gathered when it is asked for. Finds short and inherited paths as well."""
    spoilboard: Spoilboard | None = None
    """None where the file has none."""
    place_of: Callable[[str], str] = nowhere
    """``router.toml:41`` of a subject, or of the nearest table above it that is written; empty where there is none."""

    def axis(self, name: str) -> Axis:
        """The axis of that name; raises ``KeyError``."""
        for axis in self.axes:
            if axis.name == name:
                return axis
        raise KeyError(name)

    def above(self, body: str) -> frozenset[str]:
        """The body and all bodies that hang on it."""
        names = {body}
        for link in self.links:  # links run from the ground outwards
            if link.on in names:
                names.add(link.body)
        return frozenset(names)


def shifts(machine: Machine, pose: Mapping[str, float]) -> dict[str, Vector]:
    """How far each body stands from its drawn place at a pose.

    Args:
        machine: The machine.
        pose: Place of each axis by name, m, from 0 to its travel; axes left out stand as drawn.

    Returns:
        Shift of every body in the machine frame, m.
    """
    moved: dict[str, Vector] = {}
    axes = {axis.name: axis for axis in machine.axes}
    for link in machine.links:
        shift = moved.get(link.on, (0.0, 0.0, 0.0))
        if link.axis:
            axis = axes[link.axis]
            shift = add(shift, scale(axis.direction, axis.sign * (pose.get(link.axis, axis.drawn) - axis.drawn)))
        moved[link.body] = shift
    return moved


def movements(machine: Machine) -> dict[str, tuple[Vector, ...]]:
    """Shift of each body per metre of each axis, axes in the order of the machine: `shifts` as a linear map.

    A pose shifts a body by the sum over the axes of (q - drawn) times its movement.
    """
    still: Vector = (0.0, 0.0, 0.0)
    moved: dict[str, tuple[Vector, ...]] = {"": (still,) * len(machine.axes)}
    for link in machine.links:  # links run from the ground outwards
        own = (scale(axis.direction, axis.sign) if axis.name == link.axis else still for axis in machine.axes)
        moved[link.body] = tuple(add(below, step) for below, step in zip(moved[link.on], own, strict=True))
    del moved[""]
    return moved
