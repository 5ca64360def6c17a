"""The spindle in its mount, and the tip of the tool."""

from dataclasses import dataclass

from gantrywright.base.samples import typical
from gantrywright.base.units import Real
from gantrywright.catalog import kinds
from gantrywright.intake.geometry.frames import face_axes
from gantrywright.intake.placing.motors import frame_of
from gantrywright.intake.placing.weights import mass_given
from gantrywright.intake.placing.world import Unplaced, World
from gantrywright.intake.tree import Branch
from gantrywright.intake.uses import record, use
from gantrywright.model.bodies import JointStiffness, Solid
from gantrywright.model.electric import SpindleFit, ToolFit
from gantrywright.model.frame import DIRECTIONS, Vector, add, along, cross, scale

DOWN = DIRECTIONS["bottom"]
CLAMP = 0.02
"""Metal of the mount round the spindle, m; common practice, no source."""
BODY = (0.08, 0.2)
"""Diameter and length of a spindle whose row does not say them, m; common practice, no source."""
SHAFT = "steel"
"""Material of every spindle shaft."""


@dataclass(frozen=True, slots=True)
class Mounted:
    """Spindle and tool in the measures of the body that carries them."""

    body: str
    spindle: SpindleFit
    solids: tuple[Solid, ...]
    nose: Vector


def place_spindle(world: World, branch: Branch) -> Mounted:
    """The spindle, its collet face below the lower end of the mount."""
    mount = branch.sub("mount")
    part = record(branch.sub("part"), kinds.Spindle)
    if mount is None or part is None:
        raise Unplaced("spindle")
    wanted = ("on", "face", "at", "stand_off", "length", "nose_below")
    if any(mount.get(key) is None for key in wanted):
        raise Unplaced("spindle.mount")
    carrier = world.solid_named(mount["on"], f"{mount.path}.on")
    face = world.face(carrier, mount["face"], f"{mount.path}.face")
    first, second = face_axes(face.normal)
    foot = add(face.middle, add(scale(first, mount["at"][0]), scale(second, mount["at"][1])))
    bore = along(foot, face.normal, mount["stand_off"])
    nose = along(bore, DOWN, mount["length"] / 2 + mount["nose_below"])
    fit = SpindleFit(
        part=part, inverter=record(branch.sub("inverter"), kinds.Inverter), outlet=str(branch.get("outlet") or ""),
        cooling=str(branch.get("cooling") or part.cooling), nose=nose, direction=DOWN, on=carrier.path, use=use(branch),
        mount=_springs(mount), mount_loss=_loss(mount), body=_material(world, part.material, "spindle.part.material"),
        shaft=_material(world, SHAFT, "spindle.part"),
    )  # fmt: skip
    solids = (_spindle_solid(branch, part, carrier.body, nose), _mount_solid(mount, part, carrier.body, foot, face.normal))
    return Mounted(carrier.body, fit, solids, nose)


def _springs(mount: Branch) -> JointStiffness:
    """Springs of the mount; those sideways are as the one along the normal where the file does not say them, those about likewise."""
    given = mount.sub("stiffness")
    if given is None:
        return JointStiffness()
    shift, tilt = given.get("n"), given.get("rn")
    return JointStiffness(
        n=shift, a=given.get("a", shift), b=given.get("b", shift), rn=tilt, ra=given.get("ra", tilt), rb=given.get("rb", tilt)
    )


def _loss(mount: Branch) -> Real | None:
    given = mount.sub("stiffness")
    return given.get("loss") if given is not None else None


def _material(world: World, name: str, where: str) -> kinds.Material | None:
    """A material by name; None where the part does not say it."""
    return world.reading.material(name, where) if name else None


def _size(part: kinds.Spindle) -> tuple[float, float, float]:
    """Diameter, length, nose."""
    diameter, long = (
        float(given) if given is not None else usual for given, usual in zip((part.diameter, part.length), BODY, strict=True)
    )
    return diameter, long, float(part.nose or 0.0)


def _spindle_solid(branch: Branch, part: kinds.Spindle, body: str, nose: Vector) -> Solid:
    diameter, long, tail = _size(part)
    centre = along(nose, DOWN, -(tail + long) / 2)
    mass = mass_given(branch)
    return Solid(
        "spindle", body, "spindle", mass, centre, frame_of(DOWN), (tail + long, diameter, diameter), use(branch), round=True
    )


def _mount_solid(mount: Branch, part: kinds.Spindle, body: str, foot: Vector, normal: Vector) -> Solid:
    diameter = _size(part)[0]
    deep = mount["stand_off"] + diameter / 2 + CLAMP
    side = cross(normal, DOWN)
    size = (mount["length"], diameter + 2 * CLAMP, deep)
    return Solid(
        "spindle.mount", body, "mount", mount.get("mass"), along(foot, normal, deep / 2), (DOWN, side, normal), size, use(mount)
    )


def place_tool(world: World, branch: Branch, mounted: Mounted) -> tuple[ToolFit, Solid]:
    """The reference cutter in the collet, and its cylinder."""
    cutter = record(branch.sub("cutter"), kinds.Cutter)
    stick_out = branch.get("stick_out")
    if cutter is None or stick_out is None:
        raise Unplaced("tool")
    tip = along(mounted.nose, DOWN, stick_out)
    diameter = typical(cutter.diameter) if cutter.diameter is not None else 0.0
    middle = along(mounted.nose, DOWN, stick_out / 2)
    solid = Solid(
        "tool.cutter", mounted.body, "cutter", cutter.mass, middle, frame_of(DOWN), (stick_out, diameter, diameter), use(branch, "cutter"),
        round=True,
    )  # fmt: skip
    return ToolFit(cutter, stick_out, tip, _material(world, cutter.material, "tool.cutter.material")), solid
