"""How deep each job may cut before it chatters, at every speed of the spindle: where the machine is softest, in every direction of feed."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from gantrywright.base.samples import typical
from gantrywright.base.units import Array, Metre, Number
from gantrywright.disciplines.cutting.accuracy import DIRECTIONS, WORDS
from gantrywright.disciplines.cutting.cut import Cut, Setting, edge_of, grain_of
from gantrywright.disciplines.cutting.tool import Body, rest_at
from gantrywright.model.machine import Machine
from gantrywright.results.jobs import Lobes, Ringing
from gantrywright.results.structure import TipMotion
from gantrywright.theory.cutting.cutter_give import tip_matrix
from gantrywright.theory.cutting.engagement import Way, engagement
from gantrywright.theory.cutting.grain import blend, chip_share
from gantrywright.theory.cutting.lobes import SPEED_DOUBT, directional_factors, lobe_curves, zero_order_limit
from gantrywright.theory.cutting.modes import FeedModes, feed_receptance, turned_receptance, worth_scanning
from gantrywright.theory.cutting.other_tool import without_cutter
from gantrywright.theory.cutting.process_damping import held_limit, ploughing
from gantrywright.theory.cutting.surface import surface_error
from gantrywright.theory.cutting.tool_modes import Swinging, in_feed_axes, modes_with_other

CUTTER_DAMPING = 0.02
"""Damping ratio of a cutter's own bending, 0.01 to 0.03; common practice, no source."""
SPEEDS = 160
"""Speeds at which a limit is told."""
CUTTER_SPEEDS = 16
"""Of them those at which the cutter's own bending is looked at: its limit has no lobes worth the name at these speeds."""
CUTTER_FREQUENCIES = 90
LEAST_DAMPING = 0.01
"""Damping ratio that no mode of a built machine is taken below, of 0.01 to 0.05 that are usual; common practice, no source."""
LITTLE = 0.01
"""Modes that hold less than this of the static give along every direction of the plane stand still with the rest."""
EVEN = 80
"""Frequencies in even steps besides those about the modes."""
SOME = 0.05
"""Modes of the cutter that hold less than this of what the softest of them holds are left out."""
FORCED = (0.0, np.pi / 2)
"""Directions of feed in which the error of a swinging cutter is looked at."""
LOWEST = 5.0
"""Hz."""
OF_CUTTER = 0.6
"""Part of the cutter's own frequency up to which the machine is looked at; above, the cutter swings by itself."""
DEEPEST = 4.0
"""Depth over diameter up to which the cutter's own limit is looked for."""
LOW_IMMERSION = 0.5
"""Width over diameter below which the zero-order limit may be far too high when climbing."""


@dataclass(frozen=True, slots=True)
class Swing:
    """The machine with a job's cutter, as the cut sees it with the feed along X."""

    machine: FeedModes
    """All modes of the machine that matter; the cutter bends with them as if it had no mass."""
    cutter: FeedModes
    """Those in which the cutter itself bends."""
    highest: float
    """Where the machine ends and the cutter begins, Hz."""


def swing_of(tip: TipMotion, drawn: Body, own: Body) -> Swing | None:
    """Modes in the plane of the table at the tip of a job's cutter, typical; None where the mass of a cutter is not known."""
    first, other = drawn.first(), own.first()
    if first is None or other is None:
        return None
    rest = without_cutter(give=tip.give, cutter=tip_matrix(**drawn.bar))
    found = modes_with_other(
        drawn_modes=Swinging(tip.squares, tip.at_tip, tip.damping), rest=rest, drawn=first, other=other, cutter_damping=CUTTER_DAMPING,
        stick_out=drawn.out, other_stick_out=own.out,
    )  # fmt: skip
    whole = in_feed_axes(modes=found, give=rest_at(tip.give, drawn, own) + tip_matrix(**own.bar), direction=0.0)
    split = OF_CUTTER * float(other.frequency)
    return Swing(_that_matter(whole.below(split)), _above(whole, split), split)


def _that_matter(modes: FeedModes) -> FeedModes:
    """Modes that hold something of the give; what the others hold of it goes to the residual."""
    held = modes.shapes**2 / modes.squares
    whole = held.sum(axis=1) + np.diagonal(modes.residual)
    kept = (held / whole[:, None]).max(axis=0) > LITTLE
    lost = modes.shapes[:, ~kept]
    damping = np.maximum(modes.damping[kept], LEAST_DAMPING)
    return FeedModes(modes.squares[kept], modes.shapes[:, kept], damping, modes.residual + (lost / modes.squares[~kept]) @ lost.T)


def _above(modes: FeedModes, frequency: float) -> FeedModes:
    """Modes above a frequency, those that hold something of their own give."""
    high = modes.frequencies > frequency
    held = (modes.shapes**2 / modes.squares).sum(axis=0)
    kept = high & (held > SOME * np.max(held, where=high, initial=0.0))
    return FeedModes(modes.squares[kept], modes.shapes[:, kept], modes.damping[kept], np.zeros((2, 2)))


def lobes(machine: Machine, cut: Cut, setting: Setting, swing: Swing) -> Lobes | None:
    """Limit of depth over the speeds of the spindle, zero-order; None where the spindle's range is not known.

    Args:
        machine: With typical values.
        cut: The cutter in its material, typical.
        setting: Of the file.
        swing: Of the machine with that cutter.
    """
    spindle = machine.spindle
    if spindle is None or spindle.part.lowest is None or spindle.part.highest is None:
        return None
    lowest, highest, now = typical(spindle.part.lowest), typical(spindle.part.highest), typical(setting.speed)
    speeds = np.linspace(min(lowest, now), max(highest, now), SPEEDS)
    beyond = np.geomspace(speeds[0] / (1 + SPEED_DOUBT), speeds[-1] / (1 - SPEED_DOUBT), SPEEDS)
    looked = worth_scanning(
        frequencies=np.asarray(swing.machine.frequencies),
        damping=swing.machine.damping,
        lowest=LOWEST,
        highest=swing.highest,
        even=EVEN,
    )
    receptance = turned_receptance(receptance=feed_receptance(modes=swing.machine, frequencies=looked), angle=DIRECTIONS)
    found = [_of_way(cut, setting, way, looked, receptance, np.concatenate(([now], beyond)), swing) for way in cut.ways]
    worst = min(found, key=lambda part: part.depth[0])
    limit = np.min([part.depth for part in found], axis=0)
    depth = np.interp(speeds, beyond, limit[1:])
    doubtful = _worst_near(speeds, beyond, limit[1:])
    place = int(np.argmax(np.minimum(doubtful, _deepest(cut))))
    error = forced_error(cut, setting, swing, speeds)
    return Lobes(
        speeds=speeds, depth=depth, error=error, here=float(limit[0]), low=float(min(limit[0], np.interp(now, speeds, doubtful))),
        frequency=worst.frequency, direction=worst.direction, method="zero-order", way=worst.way, worst=doubtful, best=float(speeds[place]),
        best_depth=float(doubtful[place]), rings=_rings(swing.machine if worst.frequency < swing.highest else swing.cutter, worst.frequency),
    )  # fmt: skip


def _rings(modes: FeedModes, frequency: float) -> Ringing | None:
    """Of some modes the one that answers most at a frequency."""
    if not len(modes.squares):
        return None
    size, at = (modes.shapes**2).sum(axis=0), 2 * np.pi * frequency
    answers = size / np.hypot(modes.squares - at**2, 2 * modes.damping * np.sqrt(modes.squares) * at)
    k = int(np.argmax(answers))
    return Ringing(float(np.asarray(modes.frequencies)[k]), float(modes.damping[k]), float(modes.squares[k] / size[k]))


def forced_error(cut: Cut, setting: Setting, swing: Swing, speeds: Array) -> Array:
    """Size of the error that a swinging cutter leaves on the worst wall in a steady cut, at the depth and the chip of the file; m."""
    modes = joined(swing)
    worst = np.zeros(len(speeds))
    sides: tuple[Way, ...] = ("conventional", "climb") if cut.job.slot else cut.ways
    for side in sides:
        way: Way = "conventional" if cut.job.slot else side
        edge = edge_of(cut, setting, way)
        for angle in FORCED:
            found = surface_error(
                cut=cut.coefficients, edge=edge, flutes=cut.flutes, feed_per_tooth=setting.chip, modes=modes.turned(angle), speeds=speeds,
                way=side, grain=grain_of(cut, setting, way),
            )  # fmt: skip
            worst = np.maximum(worst, np.abs(found.worst))
    return worst


def joined(swing: Swing) -> FeedModes:
    """Machine and cutter together, for those methods that want all modes."""
    machine, cutter = swing.machine, swing.cutter
    return FeedModes(
        np.concatenate((machine.squares, cutter.squares)), np.hstack((machine.shapes, cutter.shapes)),
        np.concatenate((machine.damping, np.maximum(cutter.damping, LEAST_DAMPING))), machine.residual * 0.0,
    )  # fmt: skip


def limits_along(cut: Cut, setting: Setting, swing: Swing, way: Way, angle: float, speeds: Array) -> Array:
    """Zero-order limit of one way of cutting in one direction of feed, to be held against another method; shape of the speeds."""
    modes = swing.machine
    looked = worth_scanning(
        frequencies=np.asarray(modes.frequencies), damping=modes.damping, lowest=LOWEST, highest=swing.highest, even=EVEN
    )
    receptance = turned_receptance(receptance=feed_receptance(modes=modes, frequencies=looked), angle=np.array([angle]))
    return _of_way(cut, setting, way, looked, receptance, speeds, swing).depth


@dataclass(frozen=True, slots=True)
class _Found:
    depth: Array
    """Of the job's speed first."""
    frequency: float
    direction: str
    way: Way


def _of_way(
    cut: Cut, setting: Setting, way: Way, looked: Array, receptance: NDArray[np.complex128], speeds: Array, swing: Swing
) -> _Found:
    start, stop = engagement(diameter=typical(cut.diameter), width=typical(setting.width), way=way)
    shear, ratio = hardness(cut, setting, way)
    factors = directional_factors(start=start, stop=stop, radial_ratio=ratio)
    curves = lobe_curves(frequencies=looked, receptance=receptance, factors=factors)
    limits = zero_order_limit(curves=curves, shear=shear, flutes=cut.flutes, speeds=speeds, deepest=DEEPEST * typical(cut.diameter))
    depth = np.asarray(limits.depth)
    which = int(np.argmin(depth[:, 0]))
    alone = _of_cutter(cut, swing.cutter, speeds, shear=shear, ratio=ratio, start=float(start), stop=float(stop))
    of_cutter = alone[0] < depth[which, 0]
    frequency = float(np.min(swing.cutter.frequencies)) if of_cutter else float(np.asarray(limits.frequency)[which, 0])
    return _Found(
        np.minimum(depth.min(axis=0), alone), frequency, "any way: the cutter itself bends" if of_cutter else WORDS[which], way
    )


def _of_cutter(cut: Cut, modes: FeedModes, speeds: Array, *, shear: float, ratio: Number, start: float, stop: float) -> Array:
    """Limit of the cutter's own bending, its waves rubbed down by the flanks; shape of the speeds."""
    if not len(modes.squares):
        return np.full(len(speeds), np.inf)
    own = float(np.min(modes.frequencies)), float(np.max(modes.frequencies))
    few = np.linspace(speeds.min(), speeds.max(), CUTTER_SPEEDS)
    found = held_limit(
        modes=modes, frequencies=np.linspace(0.9 * own[0], 1.5 * own[1], CUTTER_FREQUENCIES), coefficient=ploughing(shear=shear), shear=shear,
        radial_ratio=ratio, flutes=cut.flutes, diameter=typical(cut.diameter), start=start, stop=stop, speeds=few,
        deepest=DEEPEST * typical(cut.diameter),
    )  # fmt: skip
    deepest = DEEPEST * typical(cut.diameter)
    told = np.interp(speeds, few, np.minimum(found, deepest))
    return np.where(told >= deepest * (1 - 1e-9), np.inf, told)


def _worst_near(speeds: Array, known: Array, depth: Array) -> Array:
    """Least limit where every frequency may be off by its doubt: that of all speeds as far off the other way."""
    near = (known >= speeds[:, None] / (1 + SPEED_DOUBT)) & (known <= speeds[:, None] / (1 - SPEED_DOUBT))
    worst: Array = np.where(near, depth, np.inf).min(axis=1)
    return np.minimum(worst, np.interp(speeds, known, depth))


def hardness(cut: Cut, setting: Setting, way: Way) -> tuple[float, Number]:
    """Tangential shear coefficient and radial ratio of a way, the grain lying as it is hardest; typical."""
    along = cut.coefficients
    grain = grain_of(cut, setting, way)
    if grain is None:
        return typical(along.shear), typical(along.radial_shear) / typical(along.shear)
    start, stop = engagement(diameter=typical(cut.diameter), width=typical(setting.width), way=way)
    share = chip_share(grain_angle=grain.angle, start=start, stop=stop)
    shear = blend(along=typical(along.shear), across=typical(grain.across.shear), share=share)
    radial = blend(along=typical(along.radial_shear), across=typical(grain.across.radial_shear), share=share)
    return float(shear), float(radial / shear)


def _deepest(cut: Cut) -> Metre:
    """No pass is deeper than the flutes, or than four diameters where they are not known."""
    cutter = cut.job.cutter
    return typical(cutter.flute_length) if cutter.flute_length is not None else 4 * typical(cut.diameter)


def zero_order_holds(cut: Cut, setting: Setting) -> bool:
    """Whether the zero-order limit is known to be good for this arc of contact."""
    return "climb" not in cut.ways or typical(setting.width) >= LOW_IMMERSION * typical(cut.diameter)
