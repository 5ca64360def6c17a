"""Settings that this machine can hold for a job: speed, feed, depth and passes, each with its reason.

Many speeds are looked at together: at each the chip is the usual one, or what the axes leave of it; the depth then follows from the limit
that binds first. The setting that removes most is advised.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from gantrywright.base.quantities import parse
from gantrywright.base.quantities.proposing import propose
from gantrywright.base.quantities.showing import show
from gantrywright.base.samples import typical
from gantrywright.base.units import Array, Metre, MetrePerSecond, RadianPerSecond
from gantrywright.disciplines.cutting.cut import Cut, Setting, removal_of, widest
from gantrywright.disciplines.cutting.cutting_speed import cutting_speeds
from gantrywright.disciplines.cutting.limits import THINNEST, chip_window
from gantrywright.model.machine import Machine
from gantrywright.results.jobs import Advice, Limit
from gantrywright.theory.cutting.engagement import thinning

SPEEDS = 17
"""Speeds that are looked at."""
RESERVE = 0.8
"""Part of each limit that the advice uses; common practice, no source."""
ROUNDED = 1.05
"""What rounding to a builder's numbers may take of a chip."""
PASSES = 40
"""More passes than these nobody makes; common practice, no source."""
SHALLOW = 0.02
"""Of the diameter: a pass that may not be deeper is none; common practice, no source."""
DEEPEST = {"softwood": 2.0, "hardwood": 1.0, "fibreboard": 2.0, "plywood": 1.5, "hard-plastic": 1.0, "soft-plastic": 1.5, "foam": 4.0,
           "aluminium": 0.5, "brass": 0.5, "steel": 0.2, "laminate": 0.5}  # fmt: skip
"""Depth of a slot over the diameter that is usual at most, by group; common practice, no source. A light side pass may be the flutes deep."""
ROUNDS = 3
"""Times that a depth is tried again with what the limits say of it."""
RPM = 30 / np.pi

Judge = Callable[[Setting], Sequence[Limit]]
"""Limits of many settings together, values of shape (n,)."""


@dataclass(frozen=True, slots=True)
class _Window:
    """What of the chip and of the speed is usual."""

    chip_low: float
    chip_high: float
    group: str
    slowest: RadianPerSecond
    fastest: RadianPerSecond
    words: str
    """What bounds the speed."""


def advise(machine: Machine, cut: Cut, setting: Setting, fastest: MetrePerSecond | None, judge: Judge) -> Advice | str:
    """Settings that keep all known limits, or why there are none.

    Args:
        machine: With typical values.
        cut: The cutter in its material.
        setting: Of the file: its width stays, its depth times its passes is what is to be cut.
        fastest: Feed that all level axes can promise; None: that is not known.
        judge: Limits of other settings.
    """
    window = _window(machine, cut, setting)
    if isinstance(window, str):
        return window
    if fastest is None:
        return "what the axes can promise is not known"
    speeds = np.linspace(window.slowest, window.fastest, SPEEDS)
    width = np.full(SPEEDS, typical(setting.width))
    thin = np.asarray(thinning(diameter=typical(cut.diameter), width=width))
    wanted = np.sqrt(window.chip_low * window.chip_high) * thin
    feed = np.minimum(wanted * cut.flutes * speeds / (2 * np.pi), RESERVE * typical(fastest))
    chip = feed / (cut.flutes * speeds / (2 * np.pi))
    thick = chip >= ROUNDED * THINNEST * window.chip_low * thin
    cuts = thick.copy()
    if not np.any(cuts):
        return f"at every speed of the spindle the axes are too slow for a chip of {show(window.chip_low, 'm', machine.show)} a tooth: the teeth would rub"
    whole = typical(setting.depth) * cut.job.passes
    depth, binds = _depths(cut, Setting(np.full(SPEEDS, whole), width, feed, speeds, chip), window.group, judge)
    cuts &= depth >= SHALLOW * typical(cut.diameter)
    if not np.any(cuts):
        return (
            f"even a pass of {show(SHALLOW * typical(cut.diameter), 'm', machine.show)} is too much: {binds[int(np.argmax(depth))]}"
        )
    if np.all(whole / np.maximum(depth[cuts], 1e-9) > PASSES):
        return f"it would take more than {PASSES} passes: {binds[int(np.argmax(np.where(cuts, depth, 0.0)))]}"
    good = chip >= window.chip_low * thin
    best = int(np.argmax(np.where(cuts, depth * feed, 0.0) * np.where(good | ~np.any(good & cuts), 1.0, 0.0)))
    later = thick[best + 1 :]
    return _told(
        machine, cut, window, whole, Setting(depth[best], width[best], feed[best], speeds[best], chip[best]), wanted[best], binds[best],
        bool(len(later)) and not np.any(later),
    )  # fmt: skip


def _depths(cut: Cut, setting: Setting, group: str, judge: Judge) -> tuple[Array, list[str]]:
    """Depth that each speed can hold, and what binds it."""
    flutes = cut.job.cutter.flute_length
    most = np.full(SPEEDS, np.inf if flutes is None else typical(flutes))
    usual = DEEPEST.get(group, 1.0) * typical(cut.diameter) * np.minimum(typical(cut.diameter) / setting.width, 8.0)
    start = np.minimum(np.minimum(setting.depth, most), usual)
    words = ["the whole depth at once" if d >= w - 1e-9 else "what is usual in this material" if d >= u - 1e-9 else "length of the flutes"
             for d, w, u in zip(start, np.asarray(setting.depth), usual, strict=True)]  # fmt: skip
    depth = start
    for _ in range(ROUNDS):
        used, names = _worst(judge(replace(setting, depth=depth)))
        over = used > RESERVE
        depth = np.where(over, depth * RESERVE / used, depth)
        words = [_said(names[k]) if over[k] else words[k] for k in range(SPEEDS)]
    return depth, words


def _said(words: str) -> str:
    """Chatter is looked at more carefully here than at the settings of the file."""
    return f"{words} even if every frequency is 4 % off" if words.startswith("chatter") else words


def _worst(limits: Sequence[Limit]) -> tuple[Array, list[str]]:
    """Largest part used of the limits that go by depth, and of which."""
    of_depth = [limit for limit in limits if limit.scales == "depth" and limit.used is not None and limit.id != "flutes"]
    used = np.array([np.broadcast_to(np.abs(np.asarray(limit.used)), (SPEEDS,)) for limit in of_depth])
    if not len(used):
        return np.zeros(SPEEDS), [""] * SPEEDS
    return used.max(axis=0), [of_depth[k].words for k in used.argmax(axis=0)]


def _window(machine: Machine, cut: Cut, setting: Setting) -> _Window | str:
    chip = chip_window(cut)
    if chip is None:
        return f"no usual chip load of {cut.job.material.id or 'the material'} is known"
    spindle = machine.spindle
    if spindle is None or spindle.part.lowest is None or spindle.part.highest is None:
        return "the range of the spindle is not known: spindle.part.lowest, spindle.part.highest"
    slowest, fastest, words = typical(spindle.part.lowest), typical(spindle.part.highest), "range of the spindle"
    if cut.job.cutter.highest is not None and typical(cut.job.cutter.highest) < fastest:
        fastest, words = typical(cut.job.cutter.highest), "greatest speed marked on the cutter"
    if fastest < slowest:
        return f"the spindle turns no slower than {slowest * RPM:.0f} rpm, the cutter bears {fastest * RPM:.0f} rpm"
    usual = cutting_speeds().get(cut.job.material.group)
    if usual is not None:
        radius = float(np.max(typical(widest(cut, setting)))) / 2
        low, high = usual.low / radius, usual.high / radius
        if high < slowest:
            fastest, words = (
                slowest,
                f"slowest of the spindle; the edge would rather go {usual.low * 60:.0f} to {usual.high * 60:.0f} m/min",
            )
        elif high < fastest:
            fastest, words = high, f"edge no faster than {usual.high * 60:.0f} m/min in {usual.group}"
        slowest = min(max(slowest, low), fastest)
    return _Window(chip[0], chip[1], chip[2], slowest, fastest, words)


def _told(
    machine: Machine, cut: Cut, window: _Window, whole: Metre, best: Setting, wanted: Metre, binds: str, faster_rubs: bool
) -> Advice:  # fmt: skip
    """Rounded to what a builder would set, to the careful side."""
    system = machine.show
    passes = max(1, int(np.ceil(whole / typical(best.depth) - 1e-6)))
    depth = whole / passes
    feed = _rounded(float(best.feed), "speed", system)
    speed = float(np.floor(best.speed * RPM / 100) * 100 / RPM)
    chip = feed / (cut.flutes * speed / (2 * np.pi))
    slow = best.chip < 0.99 * wanted
    why = (
        "the fastest at which the axes still feed a chip that does not rub" if faster_rubs
        else "the one at which most can be removed with depths that are usual, even if every frequency of the machine is 4 % off"
    )  # fmt: skip
    removal = removal_of(cut, Setting(depth, float(best.width), feed, speed, chip))
    reasons: Mapping[str, str] = {
        "speed": f"of {window.slowest * RPM:.0f} to {window.fastest * RPM:.0f} rpm ({window.words}) {why}",
        "feed": (
            f"{100 * RESERVE:.0f} % of what the axes promise; the chip is then {show(float(chip), 'm', system)} a tooth"
            if slow else f"{show(float(chip), 'm', system)} a tooth, in the middle of what is usual in {window.group}"
        ),
        "depth": f"{binds} allows {show(float(best.depth), 'm', system)}" if passes > 1 or binds != "the whole depth at once" else "the whole depth at once",
        "passes": f"{show(float(whole), 'm', system)} in even passes" if passes > 1 else "one pass",
        "width": "as in the file",
    }  # fmt: skip
    return Advice(speed, feed, depth, float(best.width), passes, chip, float(typical(removal)), reasons, binds)


def _rounded(value: float, what: str, system: str) -> float:
    return float(parse(propose(value, what, system, "down"), what).value)
