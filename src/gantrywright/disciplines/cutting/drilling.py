"""A job whose cutter is a drill: thrust, torque and power of its lips, and what they must not exceed. It is not judged as milling."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from gantrywright.base.quantities.showing import show
from gantrywright.base.samples import plain, typical
from gantrywright.base.units import CubicMetrePerSecond, Metre, MetrePerTurn, Newton, NewtonMetre, Number, Pascal, Watt
from gantrywright.disciplines.cutting.cutting_speed import CuttingSpeed, drill_speeds
from gantrywright.disciplines.cutting.holding import held
from gantrywright.disciplines.cutting.limits import STRONG, in_order, lacks, made
from gantrywright.disciplines.cutting.power import available
from gantrywright.disciplines.cutting.power import lacking as power_lacks
from gantrywright.disciplines.cutting.tool import job_body
from gantrywright.model.machine import Machine
from gantrywright.model.purpose import Job
from gantrywright.results.cutting import JobForce
from gantrywright.results.electrics import ElectricResult
from gantrywright.results.jobs import Holding, JobAnswer, Limit
from gantrywright.results.ledger import Ledger, Named
from gantrywright.results.motion import MotionResult
from gantrywright.theory.cutting import drilling
from gantrywright.theory.cutting.leaving import thrown_speed
from gantrywright.theory.screw_strength import END_FIXITY, LOAD_SHARE, euler_load

POINT = np.radians(118.0)
"""Of a drill whose point is not told; common practice, no source."""
THRUST_RATIO = 0.5
"""Force that pushes a lip back over the one that turns it; from memory."""
CHISEL = 0.5
"""Part of the thrust that the chisel edge takes; from memory."""
TWISTED = 0.5
"""Shear stress over bending stress that a cutter is asked for; common practice, no source."""
FEEDS = {
    "softwood": (0.02, 0.08), "hardwood": (0.02, 0.06), "plywood": (0.02, 0.06), "fibreboard": (0.02, 0.08), "hard-plastic": (0.01, 0.03),
    "soft-plastic": (0.015, 0.05), "foam": (0.03, 0.1), "aluminium": (0.015, 0.04), "brass": (0.015, 0.04), "steel": (0.01, 0.025), "laminate": (0.01, 0.02),
}  # fmt: skip
"""Feed for a turn over the diameter of a drill that is usual, by group of the material; common practice, no source."""

HOT = frozenset({"aluminium", "brass", "steel"})
"""Groups in which a corner that goes too fast loses its hardness, so that the speed is a limit; in the others what is usual is none."""


def is_drill(job: Job) -> bool:
    """Whether the job drills."""
    return job.cutter.style == "drill"


@dataclass(frozen=True, slots=True)
class Drilled:
    """What a drill asks for."""

    diameter: Metre
    feed: MetrePerTurn
    """For a turn."""
    chip: Metre
    """At a lip."""
    torque: NewtonMetre
    thrust: Newton
    power: Watt
    removal: CubicMetrePerSecond


def feed_window(job: Job) -> tuple[Metre, Metre] | None:
    """Usual feed of the drill for a turn, least and most; None where nobody says what the material is cut like."""
    window, diameter = FEEDS.get(job.material.group), job.cutter.diameter
    return None if window is None or diameter is None else (window[0] * diameter, window[1] * diameter)


def usual_speed(job: Job) -> CuttingSpeed | None:
    """Usual speed of the drill's corners; None where nobody says what the material is cut like, or what the drill is of."""
    return drill_speeds().get((job.material.group, job.cutter.material))


def missing(job: Job) -> str:
    """What must be known before the drill has a thrust; empty where all is known."""
    material = job.material
    row = f"part.{material.id or 'NAME'}"
    known = {
        f"{row}.shear_force": material.shear_force, f"{row}.edge_force": material.edge_force, f"{job.path}.cutter.diameter": job.cutter.diameter,
        f"{job.path}.cutter.flutes": job.cutter.flutes or None,
    }  # fmt: skip
    return ", ".join(where for where, value in known.items() if value is None)


def drilled(job: Job, ledger: Ledger) -> Drilled | None:
    """Thrust, torque and power of a drill in full material; None where something is lacking.

    Wood is taken as it is hardest, across the grain, which every lip meets twice a turn.

    Args:
        job: It goes down with its `plunge`.
        ledger: Where figures are written down: ``job.NAME.thrust`` and the like.
    """
    if missing(job):
        return None
    material, cutter, path, row = job.material, job.cutter, job.path, f"material.{job.material.id}"
    assert cutter.diameter is not None
    assert cutter.flutes is not None
    assert material.shear_force is not None
    assert material.edge_force is not None
    shear, edge, way = material.shear_force, material.edge_force, ("shear_force", "edge_force")
    if material.across_shear is not None and material.across_edge is not None:
        shear, edge, way = material.across_shear, material.across_edge, ("across_shear", "across_edge")
    feed = plain(np.asarray(job.plunge / (job.speed / (2 * np.pi))))
    ledger.note(
        f"{path}.feed_per_turn", feed, unit="m/rev", source="definition", formula="f = v/n", title="Feed of the drill for a turn",
        plunge=Named(f"{path}.plunge", job.plunge, "m/s"), speed=Named(f"{path}.speed", job.speed, "rad/s"),
    )  # fmt: skip
    turned, wide = ledger.named(f"{path}.feed_per_turn"), Named(f"{path}.cutter.diameter", cutter.diameter)
    point = Named("", POINT, "", "usual") if cutter.point is None else Named(f"{path}.cutter.point", cutter.point)
    chip = ledger.figure(
        f"{path}.lip_chip", drilling.chip, feed=Named("", feed * 2 / cutter.flutes, "m/rev", f"feed for a turn times 2 over {cutter.flutes} lips"), point_angle=point,
    )  # fmt: skip
    ledger.figure(
        f"{path}.lip_force", drilling.lip_force, shear=Named(f"{row}.{way[0]}", shear),
        edge=Named(f"{row}.{way[1]}", edge * job.edge_factor, "", f"times {path}.edge_factor"), chip=ledger.named(f"{path}.lip_chip"),
    )  # fmt: skip
    full = Named("", 0.0, "m", "full material")
    specific = ledger.named(f"{path}.lip_force")
    torque = ledger.figure(f"{path}.torque", drilling.torque, specific_force=specific, diameter=wide, pilot=full, feed=turned)
    thrust = ledger.figure(
        f"{path}.thrust", drilling.thrust, specific_force=specific, diameter=wide, pilot=full, feed=turned, point_angle=point,
        thrust_ratio=Named("", THRUST_RATIO, "", "usual, from memory"), chisel_share=Named("", CHISEL, "", "of a plain point, from memory"),
    )  # fmt: skip
    power = ledger.figure(
        f"{path}.power", drilling.power, torque=ledger.named(f"{path}.torque"), speed=Named(f"{path}.speed", job.speed)
    )
    removal = plain(np.asarray(np.pi / 4 * np.square(cutter.diameter) * job.plunge))
    return Drilled(cutter.diameter, feed, chip, torque, thrust, power, removal)


def force_of(job: Job, ledger: Ledger) -> JobForce | None:
    """What a drill asks of the axes: nothing across, its thrust along the spindle, which presses on the work."""
    found = drilled(job, ledger)
    if found is None:
        return None
    assert job.cutter.flutes is not None
    values: dict[str, Number] = {
        "mean_in_plane": 0.0,
        "peak_in_plane": 0.0,
        "mean_axial": -found.thrust,
        "peak_axial": -found.thrust,
    }
    for name, value in values.items():
        ledger.note(
            f"{job.path}.{name}", value, unit="N", source="from memory", formula="-F" if "axial" in name else "0: both lips are alike",
            title="Thrust of the drill; negative: it presses on the work" if "axial" in name else "Force of the drill in the plane of the table", thrust=ledger.named(f"{job.path}.thrust"),
        )  # fmt: skip
    return JobForce(
        job=job.name, torque=found.torque, power=found.power, chip=found.feed / job.cutter.flutes, share=job.share, **values
    )


def answer(machine: Machine, job: Job, motion: MotionResult, fed: ElectricResult, ledger: Ledger) -> JobAnswer:
    """What a drilling job comes to: thrust, power, feed for a turn and hold; walls and chatter are not of it.

    Args:
        machine: Typical or sampled.
        job: Of the file.
        motion: What each axis promises.
        fed: What else hangs on the outlet.
        ledger: Where figures are written down.
    """
    found = drilled(job, ledger)
    if found is None:
        return JobAnswer(job.name, None, missing=missing(job))
    lever = _lever(job)
    holding = None if lever is None else held(machine, job, plain(np.asarray(found.torque / lever)), 0.0)
    limits = in_order(
        [
            *_speed(machine, job, found), *_spindle(machine, job, found, fed), *_axis(machine, motion, found), *_strength(machine, job, found), *_hold(job, found, holding),
            *_feeds(machine, job, found), *_turns(machine, job, found), *_depth(job, found),
        ]
    )  # fmt: skip
    ledger.note(
        f"{job.path}.removal", found.removal, unit="m3/s", source="definition", formula="Q = pi D^2/4 v", title="Removal rate",
        diameter=Named(f"{job.path}.cutter.diameter", found.diameter, "m"), plunge=Named(f"{job.path}.plunge", job.plunge, "m/s"),
    )  # fmt: skip
    if holding is not None and holding.slip is not None:
        ledger.note(
            f"{job.path}.held_push", holding.slip, unit="N", source="derived", formula=holding.formula, title="Push in the plane of the table that the hold-down stands", **holding.inputs
        )  # fmt: skip
    for limit in limits:
        if limit.ceiling is not None:
            ledger.note(
                f"{job.path}.ceiling.{limit.id}", limit.ceiling, unit="m3/s", source="derived", formula=f"Q limit/value: the {limit.scales} changed until the limit is met",
                title=f"Removal rate at which {limit.words} is used up", at_the_job=Named("", limit.value, limit.unit, "at the settings of the file"),
                allowed=Named("", limit.limit, limit.unit, limit.note or limit.words),
            )  # fmt: skip
    return JobAnswer(job.name, found.removal, limits, holding=holding, no_advice=_usual(machine, job))


def _usual(machine: Machine, job: Job) -> str:
    window = feed_window(job)
    if window is None:
        return f"no usual feed of a drill in {job.material.id or 'the material'} is known"
    low, high = (show(typical(end), "m", machine.show) for end in window)
    return f"settings are advised for milling only; usual for this drill are {low} to {high} for a turn"


def _speed(machine: Machine, job: Job, found: Drilled) -> Iterator[Limit]:
    """Speed of the spindle; how slowly it may turn only where that is asked too much of."""
    if machine.spindle is None or machine.spindle.part.highest is None:
        yield lacks("speed", "speed of the spindle", "rad/s", "speed", "the spindle's highest speed: spindle.part.highest")
        return
    part, marked, figure = machine.spindle.part, job.cutter.highest, f"{job.path}.feed_per_turn"
    fastest = machine.spindle.part.highest
    if marked is not None:
        fastest = plain(np.minimum(fastest, marked))
    yield made(found.removal, "speed", "speed of the spindle", job.speed, fastest, "rad/s", "speed", figure=figure)
    if part.lowest is not None and typical(job.speed) < typical(part.lowest) * (1 - 1e-9):
        yield made(
            found.removal, "slow-speed", "least speed of the spindle", job.speed, part.lowest, "rad/s", "speed", figure=figure, least=True
        )  # fmt: skip


def _spindle(machine: Machine, job: Job, found: Drilled, fed: ElectricResult) -> Iterator[Limit]:
    power = available(machine, job.speed, fed)
    if power is None:
        yield lacks("spindle-power", "power of the spindle", "W", "feed", power_lacks(machine))
        return
    figure = f"{job.path}.power"
    yield made(found.removal, "spindle-power", "power of the spindle", found.power, power.shaft, "W", "feed", figure=figure)
    if power.outlet is not None:
        yield made(
            found.removal, "outlet", "what the outlet leaves for the spindle", found.power, power.outlet, "W", "feed", figure=figure, note=power.words
        )  # fmt: skip


def _axis(machine: Machine, motion: MotionResult, found: Drilled) -> Iterator[Limit]:
    """The axis that pushes the drill."""
    for axis in machine.axes:
        if axis.rise <= 0.5:
            continue
        moved, words = motion.axes.get(axis.name), f"force of {axis.name.upper()} at the feed"
        if moved is None or moved.feed_force is None:
            said = moved.missing if moved is not None and moved.missing else f"{axis.path}: force at feed"
            yield lacks(f"axis-{axis.name}", words, "N", "feed", said)
        else:
            yield made(
                found.removal, f"axis-{axis.name}", words, found.thrust, moved.feed_force, "N", "feed", figure=f"{axis.path}.feed_force"
            )  # fmt: skip


def _strength(machine: Machine, job: Job, found: Drilled) -> Iterator[Limit]:
    """Twist of its core, and bending away under the thrust."""
    body, strong = job_body(job), _strong(job)
    if body is None or strong is None:
        yield lacks("cutter", "strength of the drill", "Pa", "feed", f"{job.path}.cutter.material, of which the strength is known")
        return
    stress = drilling.twist_stress(torque=found.torque, core=body.flute_diameter)
    yield made(found.removal, "cutter", "strength of the drill in twist", stress, strong, "Pa", "feed")
    load = LOAD_SHARE * euler_load(
        root_diameter=body.flute_diameter, column_length=body.out, buckling_factor=END_FIXITY["fixed-supported"].buckling_factor, elastic_modulus=body.elastic_modulus,
    )  # fmt: skip
    yield made(
        found.removal, "cutter-buckling", "stiffness of the drill against bending away", found.thrust, load, "N", "feed",
        figure=f"{job.path}.thrust", note=f"{show(typical(body.out), 'm', machine.show)} out of the collet",
    )  # fmt: skip


def _strong(job: Job) -> Pascal | None:
    bends = STRONG.get(job.cutter.material)
    return None if bends is None else TWISTED * bends


def _hold(job: Job, found: Drilled, holding: Holding | None) -> Iterator[Limit]:
    """The thrust presses the work down, its torque turns it; where a drill breaks through it may lift, which nobody can work out."""
    words, path = "hold of the work against being turned", job.path
    if job.hold_down is None:
        yield lacks("hold-down", words, "N", "feed", f"{path}.hold_down")
    elif holding is None or holding.slip is None:
        yield lacks("hold-down", words, "N", "feed", f"how wide the work is: {path}.work" if holding is None else holding.missing)
    else:
        yield made(
            found.removal, "hold-down", words, holding.push, holding.slip, "N", "feed", figure=f"{path}.held_push",
            note=f"{holding.words}. The thrust presses the work down and is not counted on; where the drill breaks through it may catch and lift. {holding.note}".strip(),
        )  # fmt: skip


def _lever(job: Job) -> Metre | None:
    """Arm at which what holds the work resists a turn: a quarter of its diagonal; None where neither size nor area is known."""
    if job.work is not None:
        return float(np.hypot(job.work.size[0], job.work.size[1]) / 4)
    area = None if job.hold_down is None else job.hold_down.area
    return None if area is None else np.sqrt(2 * area) / 4


def _feeds(machine: Machine, job: Job, found: Drilled) -> Iterator[Limit]:
    window = feed_window(job)
    if window is None:
        yield lacks(
            "chip-load",
            "feed for a turn that a drill bears",
            "m",
            "feed",
            f"a usual feed of a drill in {job.material.id or 'the material'}",
        )
        return
    low, high = window
    yield made(
        found.removal, "chip-load", "feed for a turn that a drill usually bears", found.feed, high, "m", "feed", figure=f"{job.path}.feed_per_turn",
        note=f"{job.material.group}: {show(typical(low), 'm', machine.show)} to {show(typical(high), 'm', machine.show)} for a turn",
    )  # fmt: skip


def _turns(machine: Machine, job: Job, found: Drilled) -> Iterator[Limit]:
    """Speed of the corners in metal: with the feed for a turn kept, the removal rate goes with it."""
    if job.material.group not in HOT:
        return
    usual, words = usual_speed(job), "speed that the corners of a drill usually bear"
    if usual is None:
        yield lacks(
            "edge-speed",
            words,
            "m/s",
            "speed",
            f"{job.path}.cutter.material, of which a usual speed in {job.material.group} is known",
        )
        return
    yield made(
        found.removal, "edge-speed", words, plain(np.asarray(thrown_speed(diameter=found.diameter, speed=job.speed))), usual.high, "m/s", "speed",
        note=f"{job.material.group}, drill of {job.cutter.material.replace('-', ' ')}: {show(usual.low, 'm/s', machine.show)} to {show(usual.high, 'm/s', machine.show)}",
    )  # fmt: skip


def _depth(job: Job, found: Drilled) -> Iterator[Limit]:
    """A hole no deeper than the flutes, which carry the chips out."""
    long, words = job.cutter.flute_length, "length of the flutes"
    if long is None:
        yield lacks("flutes", words, "m", "depth", f"{job.path}.cutter.flute_length")
        return
    yield made(found.removal, "flutes", words, job.depth * job.passes, long, "m", "depth")
