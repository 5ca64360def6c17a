"""A job's cutter in its material: everything about a cut but its settings, and the forces that settings make of it."""

from dataclasses import dataclass, replace

import numpy as np

from gantrywright.base.samples import typical
from gantrywright.base.units import Array, Metre, MetrePerSecond, Number, RadianPerSecond, Real
from gantrywright.model.machine import Machine
from gantrywright.model.purpose import Job
from gantrywright.theory.cutting import edges, forces
from gantrywright.theory.cutting.cycle import FEW_ANGLES, Cycle, Grain, force_cycle, telling_angles
from gantrywright.theory.cutting.engagement import Way, engagement, feed_per_tooth
from gantrywright.theory.cutting.grain import blend, chip_share, edge_share
from gantrywright.theory.cutting.run_out import from_reading

USUAL_HELIX = np.radians(30.0)
"""Of a cutter whose helix is not told: common practice, no source."""
WAYS: dict[str, tuple[Way, ...]] = {"climb": ("climb",), "conventional": ("conventional",), "both": ("climb", "conventional")}
ROUND_OR_POINTED = ("ball-nose", "v-bit", "engraver")
"""Styles of cutters whose edge is no cylinder."""
LIES = {"along": (0.0,), "across": (np.pi / 2,), "all": tuple(np.radians(np.arange(0.0, 180.0, 15.0)))}
"""Angles from the feed to the grain among which the hardest is looked for."""


@dataclass(frozen=True, slots=True)
class Setting:
    """What may be chosen of a cut; all `Real`, so that many settings can be looked at together."""

    depth: Metre
    width: Metre
    feed: MetrePerSecond
    speed: RadianPerSecond
    chip: Metre
    """Feed per tooth."""

    @property
    def removal(self) -> Real:
        """Volume a second, m3/s."""
        return self.depth * self.width * self.feed


@dataclass(frozen=True, slots=True)
class Cut:
    """A job whose forces can be worked out."""

    job: Job
    diameter: Metre
    flutes: int
    helix: Real
    coefficients: forces.Coefficients
    """Of wood those along the grain."""
    across: forces.Coefficients | None
    """Of wood those across it; None for a material without grain."""
    run_out: Metre
    """Eccentricity: half of what an indicator shows."""
    ways: tuple[Way, ...]

    @property
    def style(self) -> str:
        """Of the cutter."""
        return self.job.cutter.style or "end-mill"


def cut_of(machine: Machine, job: Job) -> Cut | None:
    """The cut of a job; None where something is lacking (see `missing`)."""
    if missing(job):
        return None
    material, cutter = job.material, job.cutter
    helix = USUAL_HELIX if cutter.helix is None else cutter.helix
    along = _coefficients(job, material.shear_force, material.edge_force, material.shear_ratio, material.edge_ratio, helix)
    grained = (material.across_shear, material.across_edge, material.across_shear_ratio, material.across_edge_ratio)
    across = None if any(value is None for value in grained) else _coefficients(job, *grained, helix)
    assert cutter.diameter is not None
    assert cutter.flutes is not None
    return Cut(
        job, cutter.diameter, cutter.flutes, helix, along, across, from_reading(reading=run_out_of(machine, job)),
        ("conventional",) if job.slot else WAYS[job.way],
    )  # fmt: skip


def _coefficients(
    job: Job, shear: Real | None, edge: Real | None, shear_ratio: Number | None, edge_ratio: Number | None, helix: Real
) -> forces.Coefficients:
    assert shear is not None
    assert edge is not None
    assert shear_ratio is not None
    assert edge_ratio is not None
    return forces.coefficients(
        shear=shear, edge=edge * job.edge_factor, shear_ratio=shear_ratio, edge_ratio=edge_ratio, helix=helix
    )


def missing(job: Job) -> str:
    """What must be known before the job has forces; empty where all is known."""
    material = job.material
    lacking = [
        f"{words} of {material.id or 'the material'} (part.{material.id or 'NAME'}.{words.replace(' ', '_')})"
        for words, value in (("shear force", material.shear_force), ("edge force", material.edge_force))
        if value is None
    ]
    ratios = (
        []
        if material.shear_ratio is not None and material.edge_ratio is not None
        else [f"radial ratios of {material.id or 'the material'} (shear_ratio, edge_ratio)"]
    )
    flutes = (
        []
        if job.cutter.flutes and job.cutter.diameter is not None
        else [f"{job.path}.cutter.flutes and {job.path}.cutter.diameter"]
    )
    return ", ".join(lacking + ratios + flutes)


def run_out_of(machine: Machine, job: Job) -> Metre:
    """What an indicator at the cutter shows: of the job, else of the spindle; none is 0."""
    if job.run_out is not None:
        return job.run_out
    spindle = machine.spindle
    return 0.0 if spindle is None or spindle.part.run_out is None else spindle.part.run_out


def setting_of(cut: Cut) -> Setting:
    """The settings of the file."""
    job = cut.job
    chip = feed_per_tooth(feed=job.feed, speed=job.speed, flutes=cut.flutes)
    return Setting(job.depth, cut.diameter if job.slot else job.width, job.feed, job.speed, chip)


def edge_of(cut: Cut, setting: Setting, way: Way) -> edges.Edge:
    """The engaged edge of the cutter at some settings."""
    cutter, depth, diameter = cut.job.cutter, setting.depth, cut.diameter
    if cut.style == "ball-nose":
        return edges.ball_nose(depth=depth, diameter=diameter, helix=cut.helix, width=setting.width, way=way)
    if cut.style in ("v-bit", "engraver") and cutter.point is not None:
        tip = diameter if cut.style == "engraver" else 0.0
        largest = np.maximum(diameter, cutter.shank if cutter.shank is not None else diameter)
        return edges.v_bit(depth=depth, diameter=largest, tip=tip, included_angle=cutter.point, width=setting.width, way=way)
    start, stop = engagement(diameter=diameter, width=setting.width, way=way)
    if cut.style == "compression" and cutter.up_length is not None:
        return edges.compression(depth=depth, diameter=diameter, helix=cut.helix, up_cut=cutter.up_length, start=start, stop=stop)
    return edges.end_mill(depth=depth, diameter=diameter, helix=cut.helix, start=start, stop=stop)


def grain_of(cut: Cut, setting: Setting, way: Way) -> Grain | None:
    """The lie of the grain that makes the chip hardest to cut; None for a material without grain.

    It follows from the arc of contact alone, by typical values: which it is must not hang on a sample.
    """
    if cut.across is None:
        return None
    start, stop = engagement(diameter=typical(cut.diameter), width=typical(setting.width), way=way)
    shares = [float(chip_share(grain_angle=angle, start=start, stop=stop)) for angle in LIES[cut.job.grain]]
    return Grain(cut.across, LIES[cut.job.grain][int(np.argmax(shares))])


def turn(cut: Cut, setting: Setting, way: Way, *, angles: Array | None = None) -> Cycle:
    """Forces over a turn of the spindle, the grain lying as it is hardest.

    Args:
        cut: The cutter in its material.
        setting: May hold many settings, shape (n,).
        way: Climb or conventional.
        angles: Where they are wanted; none: even ones.
    """
    return force_cycle(
        cut=cut.coefficients, edge=edge_of(cut, setting, way), flutes=cut.flutes, feed_per_tooth=setting.chip, run_out=cut.run_out,
        run_out_angle=0.0, angles=angles, grain=grain_of(cut, setting, way),
    )  # fmt: skip


def removal_of(cut: Cut, setting: Setting) -> Real:
    """Volume a second that a cut takes off, m3/s: of a ball or a V bit that of its groove, not of a cylinder."""
    if cut.style not in ROUND_OR_POINTED:
        return setting.removal
    area: Real = 0.0
    for part in edge_of(cut, setting, cut.ways[0]):
        area = area + part.height * part.diameter / 2 * np.abs(np.cos(part.start) - np.cos(part.stop))
    return area * setting.feed


def power_of(cut: Cut, setting: Setting, found: "tuple[Load, ...]") -> Real:
    """Mean power at the edges; of a ball or a V bit by the torque of its slices, of others by the closed form."""
    if cut.style in ROUND_OR_POINTED:
        worst: Real = 0.0
        for load in found:
            worst = np.maximum(worst, load.mean.torque)
        return worst * setting.speed
    return forces.cutting_power(
        cut=hardest(cut, setting), flutes=cut.flutes, depth=setting.depth, width=setting.width, diameter=cut.diameter, feed=setting.feed,
        speed=setting.speed,
    )  # fmt: skip


def widest(cut: Cut, setting: Setting) -> Metre:
    """Diameter of the circle that the fastest part of the engaged edge runs on."""
    return edge_of(cut, setting, cut.ways[0])[-1].diameter


@dataclass(frozen=True, slots=True)
class Load:
    """Mean and greatest forces of one way of cutting."""

    way: Way
    mean: forces.MeanForces
    peak: forces.PeakForces


def loads(cut: Cut, setting: Setting) -> tuple[Load, ...]:
    """Forces of every way of cutting that the job may meet."""
    found = []
    for way in cut.ways:
        angles = telling_angles(edge_of(cut, setting, way), cut.flutes, FEW_ANGLES)
        whole = turn(cut, setting, way, angles=angles)
        found.append(Load(way, _first(whole, FEW_ANGLES).mean, whole.peak))
    return tuple(found)


def _first(cycle: Cycle, count: int) -> Cycle:
    """The even angles come first: their mean is that over a turn."""
    parts = (cycle.angles, cycle.along_feed, cycle.across, cycle.axial, cycle.torque)
    return Cycle(*(part[..., :count] for part in parts))


def hardest(cut: Cut, setting: Setting | None = None) -> forces.Coefficients:
    """Coefficients that the power of a cut goes by: those of the chip, the grain lying as it is hardest."""
    if cut.across is None:
        return cut.coefficients
    setting = setting or setting_of(cut)
    found = []
    for way in cut.ways:
        grain = grain_of(cut, setting, way)
        assert grain is not None
        start, stop = engagement(diameter=typical(cut.diameter), width=float(np.max(typical(setting.width))), way=way)
        found.append(
            (
                float(chip_share(grain_angle=grain.angle, start=start, stop=stop)),
                float(edge_share(grain_angle=grain.angle, start=start, stop=stop)),
            )
        )
    chip, rubbing = max(found)
    a, b = cut.coefficients, cut.across
    return forces.Coefficients(
        blend(along=a.shear, across=b.shear, share=chip), blend(along=a.edge, across=b.edge, share=rubbing),
        blend(along=a.radial_shear, across=b.radial_shear, share=chip), blend(along=a.radial_edge, across=b.radial_edge, share=rubbing),
        blend(along=a.axial_shear, across=b.axial_shear, share=chip), blend(along=a.axial_edge, across=b.axial_edge, share=rubbing),
    )  # fmt: skip


def deeper(setting: Setting, times: Array | Number) -> Setting:
    """The same with other depths."""
    return replace(setting, depth=setting.depth * times)
