"""What a change of the shop's temperature does: rails bow what carries them, drives and frame grow otherwise than the work."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np

from gantrywright.base.formula import stamp_of
from gantrywright.base.quantities import show
from gantrywright.base.samples import typical
from gantrywright.base.units import Kelvin, Metre, Newton, PerKelvin, Real
from gantrywright.catalog import kinds
from gantrywright.disciplines.structure.bars import Lacking, elastic, plate_factor
from gantrywright.model.axis import Axis, Rail
from gantrywright.model.bodies import Member, Plate
from gantrywright.model.frame import Vector, add, along, cross, dot, middle, scale, subtract, unit
from gantrywright.model.machine import Machine
from gantrywright.results.ledger import Ledger, Named
from gantrywright.results.structure import HeatAnswer
from gantrywright.theory.bolts import WRENCH_SCATTER, least_preload, yield_preload
from gantrywright.theory.thermal import Strip, ThermalBow, growth_mismatch, rail_bow

RAIL_MODULUS, RAIL_DENSITY, RAIL_EXPANSION = 206e9, 7850.0, 11.5e-6
"""Of the steel of profile rails: the row ``rail-steel`` of the materials (common practice, no source)."""
SCREWS = ((0.0045, 0.004, 0.0007), (0.006, 0.005, 0.0008), (0.007, 0.006, 0.001), (0.009, 0.008, 0.00125), (0.014, 0.012, 0.00175))
"""Hole of a rail, screw that goes through it and its coarse pitch (iso-12090-1, iso-724), m."""
PROOF = 640e6
"""0.2 % proof strength of screws of class 8.8 (iso-898-1), Pa."""
THREAD_FRICTION = 0.12
FACE_FRICTION = 0.15
"""Under a rail (common practice, no source)."""
METAL = 24e-6
"""The most that a metal of the materials grows, 1/K (work-materials)."""
ALIGNED = 0.95
"""A rail bows what carries it where it runs along it."""
WAYS = (("right", "left"), ("to the back", "to the front"), ("up", "down"))
"""Of motion along X, Y, Z: positive, negative."""


@dataclass(frozen=True, slots=True)
class Carried:
    """A bar or plate with the rails that run along one of its directions."""

    path: str
    material: kinds.Material
    axes: tuple[Vector, Vector]
    """Height and width."""
    centroid: Vector
    """Any point of its axis, m."""
    area: Real
    second_height: Real
    second_width: Real
    rails: tuple[Rail, ...]


def heat(machine: Machine, ledger: Ledger) -> tuple[HeatAnswer, ...]:
    """What the shop's coldest and warmest day do against the day on which the machine was built.

    Args:
        machine: Typical or sampled; ``site.ambient`` is the temperature at which it was screwed together and measured.
        ledger: Where figures are written down: ``structure.heat.*``.

    Returns:
        The bow of everything that carries rails, then the growth of drives and frame against the work.
    """
    warming = _warming(machine, ledger)
    bows = (_bow(machine, one, warming, ledger) for one in carried(machine))
    grown = (answer for axis in machine.axes for answer in _growths(machine, axis, warming, ledger))
    return (*(answer for answer in bows if answer is not None), *grown)


def carried(machine: Machine) -> tuple[Carried, ...]:
    """Every member and plate along which rails run."""
    rails = [rail for axis in machine.axes for rail in axis.rails]
    found = [_member(member, rails) for member in machine.members]
    found += [_plate(plate, rails, first) for plate in machine.plates for first in (True, False)]
    return tuple(one for one in found if one.rails)


def _member(member: Member, rails: list[Rail]) -> Carried:
    section, run = member.section, unit(subtract(member.stop, member.start))
    centroid = along(along(member.start, member.width_axis, section.centre[0]), member.height_axis, section.centre[1])
    return Carried(
        member.path, member.material, (member.height_axis, member.width_axis), centroid, section.area,
        section.second_moment_height, section.second_moment_width, _along(rails, member.path, run),
    )  # fmt: skip


def _plate(plate: Plate, rails: list[Rail], first: bool) -> Carried:
    run, thick = plate.first if first else plate.second, plate.size[2]
    wide = plate.size[1] if first else plate.size[0]
    left = plate_factor(replace(plate, rigid=False))
    return Carried(
        plate.path, plate.material, (plate.normal, cross(plate.normal, run)), plate.middle, wide * thick * left,
        wide * thick**3 / 12 * left, thick * wide**3 / 12 * left, _along(rails, plate.path, run),
    )  # fmt: skip


def _along(rails: Iterable[Rail], path: str, run: Vector) -> tuple[Rail, ...]:
    return tuple(r for r in rails if r.on == path and abs(dot(unit(subtract(r.stop, r.start)), run)) > ALIGNED)


def strip_of(rail: Rail, one: Carried) -> Strip | None:
    """A rail as a strip on what carries it; None where its size or mass is unknown."""
    part = rail.part
    if part.width is None or part.height is None or part.mass_per_length is None:
        return None
    area = part.mass_per_length / RAIL_DENSITY
    upright = abs(dot(rail.normal, one.axes[0])) > abs(dot(rail.normal, one.axes[1]))
    tall, wide = (part.height, part.width) if upright else (part.width, part.height)
    at = subtract(along(middle(rail.start, rail.stop), rail.normal, typical(part.height) / 2), one.centroid)
    return Strip(
        axial=RAIL_MODULUS * area, expansion=RAIL_EXPANSION, place=(dot(at, one.axes[0]), dot(at, one.axes[1])),
        bend_height=RAIL_MODULUS * area * tall**2 / 12, bend_width=RAIL_MODULUS * area * wide**2 / 12, hold=hold_of(rail),
    )  # fmt: skip


def hold_of(rail: Rail) -> Newton:
    """Friction that the screws of one unbroken piece of a rail have at least; without end where they are unknown."""
    part = rail.part
    if part.hole is None or part.pitch is None:
        return float("inf")
    hole = typical(part.hole)
    through = [row for row in SCREWS if row[0] <= hole + 1e-4]
    if not through:
        return float("inf")
    ends = 0.0 if part.end_min is None else 2 * typical(part.end_min)
    number = max(np.floor((rail.length - ends) / typical(part.pitch) + 1e-9), 0.0) + 1
    preload = least_preload(
        preload=yield_preload(diameter=through[-1][1], pitch=through[-1][2], proof_strength=PROOF, thread_friction=THREAD_FRICTION),
        scatter=WRENCH_SCATTER,
    )  # fmt: skip
    held: Newton = number / (len(rail.joined_at) + 1) * FACE_FRICTION * preload
    return held


def _warming(machine: Machine, ledger: Ledger) -> Kelvin:
    """Signed difference of the farther end of the shop's band from the temperature of assembly."""
    site = machine.site
    built = typical(site.ambient)  # the band of site.ambient is what the shop does later, not a doubt of the day of assembly
    farthest = max(site.ambient_high - built, site.ambient_low - built, key=abs)
    return ledger.note(
        "structure.heat.warming", farthest, unit="tempdiff", source="definition",
        formula="dT: the one of T_low - T and T_high - T that is farther from 0", title="Farthest from the temperature of assembly that the shop gets",
        ambient=Named("site.ambient", built, "temperature"), low=Named("", site.ambient_low, "temperature", "coldest, of site.ambient"),
        high=Named("", site.ambient_high, "temperature", "warmest, of site.ambient"),
    )  # fmt: skip


def _bow(machine: Machine, one: Carried, warming: Kelvin, ledger: Ledger) -> HeatAnswer | None:
    strips = [strip for rail in one.rails if (strip := strip_of(rail, one)) is not None]
    expansion = one.material.expansion
    try:
        modulus, _ = elastic(one.material, one.path)
    except Lacking:
        return None
    if expansion is None or len(strips) < len(one.rails):
        return None
    longest = max(rail.length for rail in one.rails)
    paths = {rail.path for rail in one.rails}
    travel = max(axis.travel for axis in machine.axes if paths & {rail.path for rail in axis.rails})
    length = min(longest, travel)  # what the tool runs along; beyond it nobody sees the curve
    beam = {"axial": modulus * one.area, "bend_height": modulus * one.second_height, "bend_width": modulus * one.second_width}
    found = rail_bow(strips=strips, expansion=expansion, warming=warming, length=length, **beam)
    held, relieved = np.hypot(found.held_height, found.held_width), np.hypot(found.height, found.width)
    figure = f"structure.heat.{one.path}.bow"
    inputs = {
        "warming": ledger.link("structure.heat.warming", warming, "tempdiff"), "length": Named("", length, "m", "that the axis travels, at most the rail"),
        "axial": Named("", beam["axial"], "N", "E A of what carries the rails"), "bend_height": Named("", beam["bend_height"], "N m2", "its E I in the plane of its height"),
        "bend_width": Named("", beam["bend_width"], "N m2", "its E I in the other plane"), "expansion": Named("", expansion, "1/K", f"of {one.material.title or one.material.id}"),
        "rail_expansion": Named("", RAIL_EXPANSION, "1/K", "rail steel; common practice, no source"),
    }  # fmt: skip
    for number, (rail, strip) in enumerate(zip(one.rails, strips, strict=True), 1):
        inputs[f"rail_axial_{number}"] = Named("", strip.axial, "N", f"E A of {rail.path}")
        inputs[f"height_{number}"] = Named("", strip.place[0], "m", f"place of {rail.path} along the height, from the middle")
        inputs[f"width_{number}"] = Named("", strip.place[1], "m", f"place of {rail.path} along the width")
    stamp = stamp_of(rail_bow)
    title = "Bow of what carries rails over the travel, middle against ends, on the shop's farthest day"
    ledger.note(figure, held, unit="m", formula=stamp.text, source=stamp.source, title=f"{title}; screws hold", **inputs)
    ledger.note(
        f"{figure}_relieved", relieved, unit="m", formula="each rail's pull times f = 1 - (4/3) r^2 up to r = 1/2, then 1/(3 r); r = N/(n mu F_M)",
        source="derived", title=f"{title}; screws slip", held=ledger.named(figure),
        **{f"pull_{k}": Named("", pull, "N", f"of {rail.path}, held") for k, (rail, pull) in enumerate(zip(one.rails, found.pulls, strict=True), 1)},
        **{f"hold_{k}": Named("", strip.hold, "N", f"screws of {rail.path}: class 8.8 tightened by torque wrench, friction {FACE_FRICTION}") for k, (rail, strip) in enumerate(zip(one.rails, strips, strict=True), 1)},
    )  # fmt: skip
    return HeatAnswer(one.path, held, relieved, warming, _bow_words(machine, one, found, warming), "bow", figure)


def _bow_words(machine: Machine, one: Carried, found: ThermalBow, warming: Kelvin) -> str:
    """Which way the middle moves, typically."""
    moved = add(scale(one.axes[0], typical(found.held_height)), scale(one.axes[1], typical(found.held_width)))
    k = max(range(3), key=lambda i: abs(moved[i]))
    when = f"{show(abs(typical(warming)), 'K', machine.show)} {'warmer' if typical(warming) >= 0 else 'colder'} than at assembly"
    if abs(moved[k]) < 1e-9:
        return f"{when}: it stays straight, its rails balance or grow as it does"
    return f"{when}: the middle moves {WAYS[k][0] if moved[k] > 0 else WAYS[k][1]} against the ends, as far as nothing holds it straight"


def _growths(machine: Machine, axis: Axis, warming: Kelvin, ledger: Ledger) -> Iterable[HeatAnswer]:
    """Drives of one axis, then the parts that carry its rails, against the work that grows most differently."""
    if axis.name not in ("x", "y", "z"):
        return
    length = machine.purpose.work_area["xyz".index(axis.name)]
    for fit in axis.drives:
        answer = _against_work(machine, fit.path, fit.drive.parts.expansion, "the drive", length, warming, ledger)
        if answer is not None:
            yield answer
    materials = {member.path: member.material for member in machine.members} | {
        plate.path: plate.material for plate in machine.plates
    }
    for path in dict.fromkeys(rail.on for rail in axis.rails):
        expansion = materials[path].expansion if path in materials else None
        if expansion is not None:
            answer = _against_work(machine, path, expansion, "frame", length, warming, ledger)
            if answer is not None:
                yield answer


def _against_work(
    machine: Machine, path: str, expansion: PerKelvin, what: str, length: float, warming: Kelvin, ledger: Ledger
) -> HeatAnswer | None:
    """Greatest growth against the work of any job; a length on a part is off by as much.

    Of a drive, work counts up to the expansion of metals: what a plastic grows beyond that is its own, and no drive can follow it.
    """
    frame = what == "frame"
    given = {
        "length": Named("", length, "m", "of the work area along the axis, purpose.work_area"), "first_expansion": Named("", expansion, "1/K", f"of {'what carries the rails' if frame else what}"),
        "first_warming": ledger.link("structure.heat.warming", warming, "tempdiff"), "second_warming": ledger.link("structure.heat.warming", warming, "tempdiff"),
    }  # fmt: skip
    found: list[tuple[str, Metre, Metre]] = []
    for job in machine.jobs:
        own = job.material.expansion
        if own is None:
            continue
        whole = ledger.figure(
            f"structure.heat.{path}.growth_against.{job.name}", growth_mismatch, second_expansion=Named("", own, "1/K", f"of {job.material.title or job.material.id}"), **given
        )  # fmt: skip
        counted = whole if frame else ledger.figure(
            f"structure.heat.{path}.growth_counted.{job.name}", growth_mismatch, **given,
            second_expansion=Named("", np.minimum(own, METAL), "1/K", f"of the work of {job.path}, at most that of metals, 24 um/m/K (work-materials)"),
        )  # fmt: skip
        found.append((job.name, counted, whole))
    if not found:
        return None
    name, worst, whole = max(found, key=lambda row: abs(typical(row[1])))
    value = np.max(np.abs(np.stack(np.broadcast_arrays(*(counted for _, counted, _ in found)))), axis=0)
    if frame:
        words = f"job {name}: what carries the rails grows {'less' if typical(worst) * typical(warming) < 0 else 'more'} than the work on it"
        return HeatAnswer(path, value, value, warming, words, "frame", f"structure.heat.{path}.growth_against.{name}")
    words = f"job {name}: what is cut on the farthest day is {'short' if typical(worst) < 0 else 'long'} by this at the temperature of assembly"
    if abs(typical(whole)) > abs(typical(worst)) * (1 + 1e-9):
        size = show(abs(typical(whole)), "m", machine.show)
        words = f"{words}; its work grows more than any metal, so that in all it is {size}: cut and measure it at one temperature"
    return HeatAnswer(path, value, value, warming, words, "growth", f"structure.heat.{path}.growth_counted.{name}")
