"""Everything that a job must not exceed, each with the removal rate at which it would: the lowest binds."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from gantrywright.base.quantities.showing import show
from gantrywright.base.samples import plain, typical
from gantrywright.base.units import Metre, Newton, Pascal, Real
from gantrywright.disciplines.cutting.chip_load import chip_loads
from gantrywright.disciplines.cutting.cut import Cut, Load, Setting
from gantrywright.disciplines.cutting.power import Available
from gantrywright.disciplines.cutting.power import lacking as power_lacks
from gantrywright.disciplines.cutting.tabbed import bridges
from gantrywright.disciplines.cutting.tool import CORE, Body
from gantrywright.model.machine import Machine
from gantrywright.results.jobs import Holding, Limit, Lobes, Wall
from gantrywright.results.motion import MotionResult
from gantrywright.theory.cutting.cutter_give import cutter_stress
from gantrywright.theory.cutting.engagement import largest_chip
from gantrywright.theory.cutting.lobes import HELD

STRONG: dict[str, Pascal] = {"carbide": 0.9e9, "high-speed-steel": 0.7e9}
"""Bending stress of a cutter that is not asked for more, Pa: of carbide 0.8 to 1.0e9; common practice, no source."""
PLACES = 16
"""Heights at which a pointed cutter's stress is looked at."""
THINNEST = 0.3
"""Of the usual least chip: below it a tooth rubs; common practice, no source."""
SLOWEST = 1e-6
"""Instead of nothing where something is divided by a use."""


@dataclass(frozen=True, slots=True)
class Known:
    """What was worked out of a job, for its limits."""

    cut: Cut
    setting: Setting
    loads: tuple[Load, ...]
    power: Real
    available: Available | None
    walls: tuple[Wall, ...]
    bottom: Metre | None
    holding: Holding | None
    lobes: Lobes | None
    body: Body | None
    removal: Real
    """m3/s, at these settings."""
    later: bool = False
    """Whether chatter is worked out later."""


LATER = "worked out with the spread"


def limits_of(machine: Machine, motion: MotionResult, known: Known) -> tuple[Limit, ...]:
    """All limits of a job: those with a ceiling first, the lowest leading; then the unknown ones."""
    found = [
        *_speed(machine, known), *_spindle(machine, known), *_strength(known), *_axes(machine, motion, known), *_accuracy(machine, known), *_hold(known), *_tabs(known),
        *_chatter(known), *_chip(machine, known), *_feed(machine, motion, known), *_flutes(known),
    ]  # fmt: skip
    return in_order(found)


def _made(
    known: Known, id: str, words: str, value: Real, limit: Real, unit: str, scales: str, *, figure: str = "", note: str = "",
    least: bool = False,
) -> Limit:  # fmt: skip
    """A limit on a value that grows with depth or feed as a straight line does: the ceiling is the removal rate over the part used."""
    return made(known.removal, id, words, value, limit, unit, scales, figure=figure, note=note, least=least)


def made(
    removal: Real, id: str, words: str, value: Real, limit: Real, unit: str, scales: str, *, figure: str = "", note: str = "",
    least: bool = False,
) -> Limit:  # fmt: skip
    """The same of any removal rate at the settings of the file."""
    high, low = (limit, value) if least else (value, limit)
    used = np.maximum(np.abs(np.asarray(high)) / np.maximum(np.abs(np.asarray(low)), SLOWEST * SLOWEST), SLOWEST)
    return Limit(id, words, value, limit, unit, scales, plain(removal / used), figure, "", note, least)


def in_order(limits: Sequence[Limit]) -> tuple[Limit, ...]:
    """By ceiling, the lowest first; then those that are unknown."""
    return tuple(sorted(limits, key=lambda limit: float("inf") if limit.ceiling is None else typical(limit.ceiling)))


def lacks(id: str, words: str, unit: str, scales: str, missing: str) -> Limit:
    """A limit of which something must be known first."""
    return Limit(id, words, None, None, unit, scales, None, missing=missing)


def _spindle(machine: Machine, known: Known) -> Iterator[Limit]:
    path = known.cut.job.path
    if known.available is None:
        yield lacks("spindle-power", "power of the spindle", "W", "depth", power_lacks(machine))
        return
    yield _made(
        known, "spindle-power", "power of the spindle", known.power, known.available.shaft, "W", "depth", figure=f"{path}.power"
    )
    if known.available.outlet is not None:
        yield _made(
            known, "outlet", "what the outlet leaves for the spindle", known.power, known.available.outlet, "W", "depth", figure=f"{path}.power",
            note=known.available.words,
        )  # fmt: skip


def _speed(machine: Machine, known: Known) -> Iterator[Limit]:
    """Speed of the spindle: how fast it may turn; how slowly only where that is asked too much of."""
    spindle, words = machine.spindle, "speed of the spindle"
    if spindle is None or spindle.part.highest is None:
        yield lacks("speed", words, "rad/s", "speed", "the spindle's highest speed: spindle.part.highest")
        return
    fastest, marked = spindle.part.highest, known.cut.job.cutter.highest
    if marked is not None:
        fastest = plain(np.minimum(fastest, marked))
    yield _made(known, "speed", words, known.setting.speed, fastest, "rad/s", "speed")
    slowest = spindle.part.lowest
    if slowest is not None and np.any(typical(known.setting.speed) < typical(slowest) * (1 - 1e-9)):
        yield _made(
            known,
            "slow-speed",
            "least speed of the spindle",
            known.setting.speed,
            slowest,
            "rad/s",
            "speed",
            least=True,
        )


def _strength(known: Known) -> Iterator[Limit]:
    words, material = "strength of the cutter", known.cut.job.cutter.material
    if known.body is None or material not in STRONG:
        yield lacks("cutter", words, "Pa", "depth", f"{known.cut.job.path}.cutter.material, of which the strength is known")
        return
    force, deep = in_plane(known.loads), known.setting.depth
    stress = cutter_stress(force=force, force_at=deep / 2, **known.body.shape)
    if known.cut.style in ("v-bit", "engraver") and known.cut.job.cutter.point is not None:
        stress = np.maximum(stress, _at_the_point(known, force, known.cut.job.cutter.point))
    yield _made(known, "cutter", words, plain(np.asarray(stress)), STRONG[material], "Pa", "depth")


def _at_the_point(known: Known, force: Newton, point: Real) -> Pascal:
    """Greatest bending stress along a cone, above what is cut; round bars of `CORE` of its diameter."""
    tip = known.cut.diameter if known.cut.style == "engraver" else 0.0
    worst: Real = 0.0
    for times in np.geomspace(1.0, 12.0, PLACES):
        height = times * known.setting.depth
        wide = CORE * (tip + 2 * height * np.tan(np.asarray(point) / 2))
        worst = np.maximum(worst, 32 * force * (height - known.setting.depth / 2) / (np.pi * wide**3))
    return worst


def in_plane(loads: tuple[Load, ...]) -> Newton:
    """Greatest force across the spindle of all ways of cutting."""
    worst: Real = 0.0
    for load in loads:
        worst = np.maximum(worst, load.peak.in_plane)
    return plain(np.asarray(worst))


def along_spindle(loads: tuple[Load, ...]) -> tuple[Newton, Newton]:
    """Greatest lift of the work and greatest pressure on it, both positive or nothing."""
    lift: Real = 0.0
    press: Real = 0.0
    for load in loads:
        lift, press = np.maximum(lift, load.peak.axial), np.maximum(press, -np.asarray(load.peak.axial))
    return plain(np.asarray(lift)), plain(np.asarray(press))


def _axes(machine: Machine, motion: MotionResult, known: Known) -> Iterator[Limit]:
    """Any force in the plane may come along any level axis: jobs go all ways."""
    lift, press = along_spindle(known.loads)
    for axis in machine.axes:
        moved = motion.axes.get(axis.name)
        words = f"force of {axis.name.upper()} at the feed"
        if moved is None or moved.feed_force is None:
            yield lacks(
                f"axis-{axis.name}",
                words,
                "N",
                "depth",
                moved.missing if moved is not None and moved.missing else f"{axis.path}: force at feed",
            )
            continue
        value = np.maximum(lift, press) if axis.rise > 0.5 else in_plane(known.loads)
        yield _made(
            known,
            f"axis-{axis.name}",
            words,
            plain(np.asarray(value)),
            moved.feed_force,
            "N",
            "depth",
            figure=f"{axis.path}.feed_force",
        )


def _accuracy(machine: Machine, known: Known) -> Iterator[Limit]:
    wanted = machine.purpose.accuracy
    if wanted is None:
        return
    path = known.cut.job.path
    if not known.walls or known.bottom is None:
        yield lacks(
            "accuracy", "deflection at the wall", "m", "depth", "give of the machine at the tool, and the cutter's material"
        )
        return
    worst = max(known.walls, key=lambda wall: abs(typical(wall.worst)))
    yield _made(
        known, "accuracy", f"deflection at the wall ({worst.way})", np.abs(worst.worst), wanted, "m", "depth", figure=f"{path}.wall"
    )
    yield _made(known, "bottom", "deflection at the bottom", np.abs(known.bottom), wanted, "m", "depth", figure=f"{path}.bottom")


def _hold(known: Known) -> Iterator[Limit]:
    held, path = known.holding, known.cut.job.path
    if held is None or held.slip is None:
        yield lacks("hold-down", "hold of the work", "N", "depth", f"{path}.hold_down" if held is None else held.missing)
        return
    yield _made(
        known,
        "hold-down",
        "hold of the work against slipping",
        held.push,
        held.slip,
        "N",
        "depth",
        figure=f"{path}.held_push",
        note=_words(held),
    )
    if held.lift is not None and typical(held.pull) > 0:
        yield _made(
            known,
            "lift",
            "hold of the work against lifting",
            held.pull,
            held.lift,
            "N",
            "depth",
            figure=f"{path}.held_lift",
            note=_words(held),
        )


def _tabs(known: Known) -> Iterator[Limit]:
    """What a part that is cut free hangs on; only where the file tells tabs."""
    path, found = known.cut.job.path, bridges(known.cut.job, known.holding)
    if found is None or known.holding is None:
        return
    words = "hold of the tabs"
    if isinstance(found, str):
        yield lacks("tabs", words, "N", "depth", found)
        return
    yield _made(
        known,
        "tabs",
        f"{words} against a push",
        known.holding.push,
        found.push,
        "N",
        "depth",
        figure=f"{path}.tabs_push",
        note=found.words,
    )
    if typical(known.holding.pull) > 0:
        yield _made(
            known, "tabs-lift", f"{words} against lifting", known.holding.pull, found.lift, "N", "depth", figure=f"{path}.tabs_lift", note=found.words
        )  # fmt: skip


def _words(held: Holding) -> str:
    return f"{held.words}. {held.note}" if held.note else held.words


def _chatter(known: Known) -> Iterator[Limit]:
    if known.lobes is None:
        yield lacks(
            "chatter",
            "chatter",
            "m",
            "depth",
            LATER if known.later else "modes of the machine with this cutter, and the spindle's range",
        )
        return
    allowed = HELD * np.asarray(known.lobes.here)
    if not np.isfinite(typical(allowed)):
        return
    yield _made(
        known, "chatter", f"chatter, {HELD:g} of the limit", known.setting.depth, plain(allowed), "m", "depth", figure=f"{known.cut.job.path}.chatter_depth",
        note=f"at {known.lobes.frequency:.0f} Hz, feed {known.lobes.direction}",
    )  # fmt: skip


def _chip(machine: Machine, known: Known) -> Iterator[Limit]:
    window = chip_window(known.cut)
    if window is None:
        yield lacks(
            "chip-load",
            "chip that a tooth bears",
            "m",
            "feed",
            f"a usual chip load of {known.cut.job.material.id or 'the material'}",
        )
        return
    thick = largest_chip(feed_per_tooth=known.setting.chip, diameter=known.cut.diameter, width=known.setting.width)
    low, high, group = window
    yield _made(
        known, "chip-load", "chip that a tooth usually bears", thick, high, "m", "feed", figure=f"{known.cut.job.path}.chip",
        note=f"{group}: {show(low, 'm', machine.show)} to {show(high, 'm', machine.show)} a tooth",
    )  # fmt: skip
    if np.any(typical(thick) < THINNEST * low):
        yield _made(
            known, "rubbing", "least chip that cuts and does not rub", thick, THINNEST * low, "m", "feed", figure=f"{known.cut.job.path}.chip",
            note="feed faster, turn slower, or fewer flutes", least=True,
        )  # fmt: skip


def chip_window(cut: Cut) -> tuple[float, float, str] | None:
    """Usual thickness of chip, least and most, and the group of materials it is of."""
    usual = chip_loads().get(cut.job.material.group)
    return None if usual is None else (*usual.band(typical(cut.diameter)), usual.group)


def _feed(machine: Machine, motion: MotionResult, known: Known) -> Iterator[Limit]:
    fastest = level_speed(machine, motion)
    if fastest is None:
        yield lacks("axis-feed", "speed of the axes", "m/s", "feed", "promised rapid of the level axes")
        return
    yield _made(known, "axis-feed", "speed of the axes", known.setting.feed, fastest, "m/s", "feed")


def level_speed(machine: Machine, motion: MotionResult) -> Real | None:
    """What every level axis can promise."""
    level = [motion.axes.get(axis.name) for axis in machine.axes if axis.rise < 0.5]
    speeds = [moved.rapid for moved in level if moved is not None and moved.rapid is not None]
    if not level or len(speeds) < len(level):
        return None
    least: Real = speeds[0]
    for speed in speeds[1:]:
        least = np.minimum(least, speed)
    return plain(np.asarray(least))


def _flutes(known: Known) -> Iterator[Limit]:
    long = known.cut.job.cutter.flute_length
    if long is None:
        yield lacks("flutes", "length of the flutes", "m", "depth", f"{known.cut.job.path}.cutter.flute_length")
        return
    yield _made(known, "flutes", "length of the flutes", known.setting.depth, long, "m", "depth")
