"""Spindle, collet and cutter as bars and ties: mount, body as a tube, shaft on two bearings, collet, stepped cutter.

The body hangs on one spring at the middle of the clamped length, which stands for mount, bolts and clamp together. The shaft is round
from the rear bearing to the collet face; its core of laminations rides on the body. The spindle is held against turning by its motor.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field

import numpy as np

from gantrywright.base.samples import typical
from gantrywright.base.units import Kilogram, Metre, Real
from gantrywright.disciplines.structure.rounds import bar_mass, elastic_of, round_bar
from gantrywright.model.bodies import Solid
from gantrywright.model.electric import SpindleFit, ToolFit
from gantrywright.model.frame import Vector, along, cross, dot, subtract
from gantrywright.model.machine import Machine
from gantrywright.theory.frames.skeleton import Anchor, Bar, Lump, Tie
from gantrywright.theory.rigid_bodies import box_inertia, cylinder_inertia
from gantrywright.theory.tools import bending_diameter, pointed_diameter

Carrier = Callable[[str, str, Vector], Anchor | None]
"""Finds the bar that holds a point: part, body, point."""

BODY, SHAFT, BEARINGS, COLLET, MOUNT, CUTTER = (
    "spindle", "spindle.shaft", "spindle.bearings", "spindle.collet", "spindle.mount", "tool.cutter"
)  # fmt: skip
"""Paths that shares are booked to."""
OF_PART = ("bearing_span", "overhang", "shaft", "wall", "bearing_radial", "bearing_rear", "bearing_axial")
OF_COLLET = ("collet_stiffness", "collet_tilt")
SHORTEST = 3e-3
"""A step of a cutter shorter than this is taken into its neighbour, m."""
ONE_PIECE = (1e3, 1e4)
"""Where the shank becomes the flutes: stiffness of the seam over that of the shank, along and about; costs the cutter's give 1e-4."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SpindleModel:
    """What spindle and tool add to a skeleton."""

    bars: tuple[Bar, ...]
    ties: tuple[Tie, ...]
    lumps: tuple[Lump, ...]
    tip: Anchor
    """Tip of the tool; of a machine without one the middle of the collet face."""
    notes: Mapping[str, str] = field(default_factory=dict)
    """What was left out or taken for granted, by part."""


@dataclass(frozen=True, slots=True)
class _Parts:
    """A spindle of which everything is known, with places above its collet face."""

    fit: SpindleFit
    solid: Solid
    mount: Solid

    @property
    def axes(self) -> tuple[Vector, Vector, Vector]:
        """Square, square, along the spindle towards the work; right-handed."""
        side = self.mount.axes[2]
        return side, cross(self.fit.direction, side), self.fit.direction

    def up(self, distance: float) -> Vector:
        """The point of the spindle's axis so far above the collet face."""
        return along(self.fit.nose, self.fit.direction, -distance)

    @property
    def front(self) -> float:
        """Front bearings."""
        return typical(_known(self.fit.part.overhang))

    @property
    def rear(self) -> float:
        """Rear bearings."""
        return self.front + typical(_known(self.fit.part.bearing_span))

    @property
    def clamp(self) -> float:
        """Middle of the clamped length."""
        return dot(subtract(self.fit.nose, self.mount.centre), self.fit.direction)


def spindle_gaps(machine: Machine) -> tuple[str, ...]:
    """Paths of values without which there is no model; of a machine without spindle ``spindle`` alone."""
    fit = machine.spindle
    if fit is None:
        return ("spindle",)
    return tuple(_gaps(machine, fit))


def spindle_bars(machine: Machine, first: int, carrier: Carrier) -> SpindleModel | None:
    """Spindle and tool at the drawn pose; None where something is lacking (see `spindle_gaps`).

    Args:
        machine: Typical or sampled.
        first: Number that the first bar gets.
        carrier: Finds the anchor in the part that the mount is bolted to.
    """
    fit = machine.spindle
    if fit is None or spindle_gaps(machine):
        return None
    solids = {solid.path: solid for solid in machine.solids}
    parts = _Parts(fit, solids[BODY], solids[MOUNT])
    held = carrier(fit.on, parts.solid.body, parts.up(parts.clamp))
    under = carrier(fit.on, parts.solid.body, parts.mount.centre)
    if held is None or under is None:
        return None
    notes: dict[str, str] = {}
    body, shaft = _body(parts), _shaft(parts)
    tool = _tool_bars(machine.tool, parts, notes) if machine.tool is not None else ()
    ties = [_clamp(parts, held, first), *_bearings(parts, shaft, first), *_tool_ties(machine.tool, tool, parts, first)]
    lumps = [*_body_lumps(parts, shaft, first, under, notes), *_cutter_rest(solids.get(CUTTER), tool, parts, first)]
    tip = machine.tool.tip if machine.tool is not None else fit.nose
    bars = (body, shaft, *tool)
    return SpindleModel(
        bars=bars, ties=tuple(ties), lumps=tuple(lumps), tip=Anchor(first + len(bars) - 1, tip), notes=notes
    )  # fmt: skip


def _gaps(machine: Machine, fit: SpindleFit) -> Iterator[str]:
    known = {solid.path for solid in machine.solids}
    yield from (path for path in (BODY, MOUNT) if path not in known)
    yield from (f"spindle.part.{name}" for name in OF_PART if getattr(fit.part, name) is None)
    for name, usual in (("n", "n"), ("a", "n"), ("b", "n"), ("rn", "rn"), ("ra", "rn"), ("rb", "rn")):
        if getattr(fit.mount, name) is None and (name == usual or getattr(fit.mount, usual) is not None):
            yield f"spindle.mount.stiffness.{name}"
    materials = [("spindle.part.material", fit.body), ("spindle.part.material", fit.shaft)]
    if machine.tool is not None:
        yield from (f"spindle.part.{name}" for name in OF_COLLET if getattr(fit.part, name) is None)
        yield from (f"tool.cutter.{name}" for name in ("diameter", "core") if getattr(machine.tool.cutter, name) is None)
        materials.append(("tool.cutter.material", machine.tool.material))
    for path, material in materials:
        if material is None:
            yield path
        else:
            yield from (f"{path}.{name}" for name in ("modulus", "shear_modulus") if getattr(material, name) is None)


# ---- body and shaft


def _body(parts: _Parts) -> Bar:
    """The body as a tube over the bearings and the middle of the mount; its mass is a lump."""
    outer, wall = parts.solid.size[1], _known(parts.fit.part.wall)
    places = (parts.front, parts.rear, parts.clamp)
    return round_bar(
        BODY, parts.solid.body, (parts.up(max(places)), parts.up(min(places))), parts.axes[0], outer=outer,
        inner=np.maximum(outer - 2 * wall, 0.0), of=elastic_of(parts.fit.body), kind="spindle", tube=True, weighs=False,
    )  # fmt: skip


def _shaft(parts: _Parts) -> Bar:
    """The shaft from the rear bearings to the collet face."""
    part = parts.fit.part
    return round_bar(
        SHAFT, parts.solid.body, (parts.up(parts.rear), parts.fit.nose), parts.axes[0], outer=_known(part.shaft), inner=_known(part.bore),
        of=elastic_of(parts.fit.shaft), kind="spindle",
    )  # fmt: skip


def _clamp(parts: _Parts, held: Anchor, first: int) -> Tie:
    springs = parts.fit.mount
    normal, spindle = parts.mount.axes[2], parts.fit.direction
    stiffness = (springs.n, springs.a, springs.b, springs.rn, springs.ra, springs.rb)
    return Tie(
        part=MOUNT, kind="clamp", a=held, b=Anchor(first, held.point), axes=(normal, spindle, cross(normal, spindle)),
        stiffness=stiffness, loss=_known(parts.fit.mount_loss),  # type: ignore[arg-type]  # `_gaps`
    )  # fmt: skip


def _bearings(parts: _Parts, shaft: Bar, first: int) -> Iterator[Tie]:
    """The front bearings hold the shaft sideways and endways, the rear ones sideways.

    Against turning the rear one holds as stiffly as its shaft: something must, and what it is reaches no tip that lies on the axis.
    """
    part = parts.fit.part
    held = shaft.torsion / (parts.rear - parts.front)
    sideways, endways, behind = _known(part.bearing_radial), _known(part.bearing_axial), _known(part.bearing_rear)
    for place, stiffness in (
        (parts.front, (sideways, sideways, endways, 0.0, 0.0, 0.0)), (parts.rear, (behind, behind, 0.0, 0.0, 0.0, held))
    ):  # fmt: skip
        point = parts.up(place)
        yield Tie(
            part=BEARINGS, kind="bearing", a=Anchor(first, point), b=Anchor(first + 1, point), axes=parts.axes, stiffness=stiffness,
            loss=_known(part.bearing_loss),
        )  # fmt: skip


def _body_lumps(parts: _Parts, shaft: Bar, first: int, under: Anchor, notes: dict[str, str]) -> Iterator[Lump]:
    """Body less the shaft, which weighs as a bar; and the mount, which rides on what it is bolted to."""
    body, mount = parts.solid, parts.mount
    if body.mass is None:
        notes[BODY] = "its mass is unknown and left out"
    else:
        rest = np.maximum(body.mass - bar_mass(shaft), 0.0)
        inertia = _diagonal(cylinder_inertia(mass=typical(rest), size=body.size, axes=body.axes))
        yield Lump(BODY, Anchor(first, body.centre), rest, inertia)
    if mount.mass is None:
        notes[MOUNT] = "its mass is unknown and left out"
    else:
        yield Lump(MOUNT, under, mount.mass, _diagonal(box_inertia(mass=typical(mount.mass), size=mount.size, axes=mount.axes)))


# ---- tool


def _tool_bars(tool: ToolFit, parts: _Parts, notes: dict[str, str]) -> tuple[Bar, ...]:
    """Shank and fluted part, as far as they stand out; none where nothing stands out."""
    cutter = tool.cutter
    if tool.stick_out < SHORTEST:
        notes[CUTTER] = "it does not stand out of its collet"
        return ()
    out = flutes = typical(tool.stick_out)
    if cutter.flute_length is None:
        notes[CUTTER] = "the length of its flutes is unknown: it is taken as fluted up to the collet"
    else:
        flutes = min(out, typical(cutter.flute_length))
    if out - flutes < SHORTEST:
        flutes = out
    of, step, nose = elastic_of(tool.material), parts.up(flutes - out), parts.fit.nose
    body, side = parts.solid.body, parts.axes[0]
    fluted = round_bar(CUTTER, body, (step, tool.tip), side, outer=_fluted(tool, flutes), of=of, kind="tool")
    if flutes == out:
        return (fluted,)
    return round_bar(CUTTER, body, (nose, step), side, outer=_shank(tool), of=of, kind="tool"), fluted


def _shank(tool: ToolFit) -> Metre:
    """Diameter of the shank; as the cutting diameter where the row does not say it."""
    return _known(tool.cutter.diameter if tool.cutter.shank is None else tool.cutter.shank)


def _fluted(tool: ToolFit, flutes: float) -> Metre:
    """Diameter of the round bar that bends like the fluted part."""
    cutter = tool.cutter
    diameter = _known(cutter.diameter)
    if cutter.point is not None:
        diameter = pointed_diameter(diameter=diameter, shank=_shank(tool), point=cutter.point, length=flutes)
    return bending_diameter(diameter=diameter, core=_known(cutter.core))


def _tool_ties(tool: ToolFit | None, bars: tuple[Bar, ...], parts: _Parts, first: int) -> Iterator[Tie]:
    """The collet, and the seam of shank and flutes."""
    if tool is None or not bars:
        return
    part, shaft, cutter = parts.fit.part, first + 1, first + 2
    shift, tilt = _known(part.collet_stiffness), _known(part.collet_tilt)
    nose = parts.fit.nose
    yield Tie(
        part=COLLET, kind="collet", a=Anchor(shaft, nose), b=Anchor(cutter, nose), axes=parts.axes,
        stiffness=(shift, shift, shift, tilt, tilt, tilt), loss=_known(part.collet_loss),
    )  # fmt: skip
    if len(bars) == 2:
        shank = bars[0]
        along_it, about_it = ONE_PIECE[0] * shank.axial / tool.stick_out, ONE_PIECE[1] * shank.bend_height / tool.stick_out
        yield Tie(
            part=CUTTER, kind="joint", a=Anchor(cutter, shank.stop), b=Anchor(cutter + 1, shank.stop), axes=parts.axes,
            stiffness=(along_it, along_it, along_it, about_it, about_it, about_it), loss=shank.loss,
        )  # fmt: skip


def _cutter_rest(solid: Solid | None, bars: tuple[Bar, ...], parts: _Parts, first: int) -> Iterator[Lump]:
    """What of the cutter's mass is not in its bars sits in the collet."""
    if solid is None or solid.mass is None:
        return
    outside: Kilogram = sum((bar_mass(bar) for bar in bars), 0.0)
    yield Lump(CUTTER, Anchor(first + 1, parts.fit.nose), np.maximum(solid.mass - outside, 0.0))


def _known(value: Real | None) -> Real:
    """A value that `_gaps` looked for; what may be unknown (a loss, a bore) is none."""
    return 0.0 if value is None else value


def _diagonal(moments: tuple[Real, Real, Real]) -> tuple[tuple[float, float, float], ...]:
    x, y, z = (float(moment) for moment in moments)
    return (x, 0.0, 0.0), (0.0, y, 0.0), (0.0, 0.0, z)
