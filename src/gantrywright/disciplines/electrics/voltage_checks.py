"""ELE-1xx: the voltage that supplies are set to."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from gantrywright.base.quantities.showing import show
from gantrywright.base.samples import greatest, least, typical
from gantrywright.disciplines.electrics.analyse import fed_by
from gantrywright.findings import Change, Verdict, ceiling, check, floor, unknown
from gantrywright.model.electric import Supply
from gantrywright.model.machine import Machine
from gantrywright.results import Results
from gantrywright.results.electrics import SupplyLoad
from gantrywright.theory.supplies import guide_voltage

BELOW_LIMIT = 0.9
"""Part of the drivers' limit that practice stays below; common practice, no source. A 60 V driver is usually fed 50 V, a 48 V one 36 V."""


def _each(machine: Machine, results: Results) -> Iterator[tuple[Supply, SupplyLoad]]:
    """Supplies that motors hang on."""
    for supply in machine.supplies:
        load = results.electrics.supplies[supply.name]
        if load.drives:
            yield supply, load


def drivers_key(machine: Machine, supply: Supply, key: str) -> str:
    """The keys of an end of what drivers take, of those where it is not known."""
    lacking = [
        f"{drive.path}.driver.{key}"
        for _, drive in fed_by(machine, supply)
        if drive.driver is None or getattr(drive.driver.part, key) is None
    ]
    return f"{key} voltage of its drivers: {', '.join(lacking)}"


def caution(verdict: Verdict, words: str) -> Verdict:
    """Never worse than to be watched; the note says first that it is a caution, and why.

    Args:
        verdict: By its numbers.
        words: What is to be heeded.
    """
    if verdict.margin is None:
        return verdict
    note = f"caution: {words}; {verdict.note}" if verdict.note else f"caution: {words}"
    return replace(verdict, margin=np.maximum(verdict.margin, 0.0), watch=max(verdict.watch, 1e-9), note=note)


def lower(supply: Supply, volts: float) -> tuple[Change, ...]:
    """The supply set lower, if it can be."""
    part = supply.part
    able = part is not None and part.adjustable and (part.lowest is None or typical(part.lowest) <= volts)
    if not able or supply.set is None or volts >= typical(supply.set) or volts < 1:
        return ()
    return (
        Change(f"{supply.path} set to {volts:g} V instead of {typical(supply.set):g} V", ((f"{supply.path}.set", f"{volts:g} V"),)),
    )


@check(
    "ELE-101", title="Bus voltage stays within what the drivers take, line and tolerance included",
    why="Above their limit drivers trip or burn; below it they do not start.",
    source="of each limit", remedy="Another setting, another supply, another driver.",
)  # fmt: skip
def window(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Both ends, for each supply."""
    for supply, load in _each(machine, results):
        if load.high_line is None or load.low_line is None:
            yield unknown(supply.path, missing=f"{supply.path}.set", unit="V")
            continue
        drivers = [drive.driver.part for _, drive in fed_by(machine, supply) if drive.driver is not None]
        lowest = [part.lowest for part in drivers if part.lowest is not None]
        if load.driver_limit is None:
            yield unknown(f"{supply.path} (highest)", missing=drivers_key(machine, supply, "highest"), unit="V")
        else:
            yield ceiling(
                f"{supply.path} (highest)", value=load.high_line, limit=load.driver_limit, unit="V", what="bus",
                changes=lower(supply, float(int(BELOW_LIMIT * typical(load.driver_limit)))),
            )  # fmt: skip
        if lowest:
            yield floor(f"{supply.path} (lowest)", value=load.low_line, limit=greatest(*lowest), unit="V", what="bus")
        else:
            yield unknown(f"{supply.path} (lowest)", missing=drivers_key(machine, supply, "lowest"), unit="V")


@check(
    "ELE-102", title="Supplies are set some way below the drivers' limit",
    why="Braking motors lift the bus, settings drift with temperature, capacitors age faster near their limit, and one over-voltage trip"
    " drops all axes at once: this is why an adjustable supply is turned down.",
    source="common practice, no source", remedy="Set 10 to 20 % below the limit.",
)  # fmt: skip
def distance(machine: Machine, results: Results) -> Iterator[Verdict]:
    """A caution: what really comes back is judged by ELE-301."""
    for supply, load in _each(machine, results):
        if load.set is None or load.driver_limit is None or supply.direct:
            continue
        best = _best(load)
        limit = BELOW_LIMIT * load.driver_limit
        yield caution(ceiling(
            supply.path, value=load.set, limit=limit, unit="V", what="setting", note=best, figure=f"{supply.path}.best_set" if best else "",
            changes=lower(supply, float(np.ceil(typical(limit)) - 1)),
        ), f"{1 - BELOW_LIMIT:.0%} below the drivers' limit of {show(typical(load.driver_limit), 'V')} is usual")  # fmt: skip


def _best(load: SupplyLoad) -> str:
    if load.best_set is None:
        return ""
    if typical(load.best_set) <= 0:
        return "the energy that comes back lifts the bus over the limit from any setting"
    return f"by the energy that comes back, {show(typical(load.best_set), 'V')} would do"


@check(
    "ELE-103", title="Supplies are set within their own range",
    why="The setting cannot be reached.", source="of each limit", remedy="Another setting or supply.",
)  # fmt: skip
def own_range(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Of supplies that are set to something else than their nominal voltage."""
    for supply, load in _each(machine, results):
        part = supply.part
        if part is None or load.set is None or supply.set is None:
            continue
        if part.highest is not None:
            yield ceiling(
                f"{supply.path} (upper end)",
                value=load.set,
                limit=part.highest,
                unit="V",
                what="setting",
                changes=_set(supply, typical(part.highest)),
            )
        if part.lowest is not None:
            yield floor(
                f"{supply.path} (lower end)",
                value=load.set,
                limit=part.lowest,
                unit="V",
                what="setting",
                changes=_set(supply, typical(part.lowest)),
            )


def _set(supply: Supply, volts: float) -> tuple[Change, ...]:
    words = f"{supply.path} set to {volts:g} V, the end of its range"
    return (Change(words, ((f"{supply.path}.set", f"{volts:g} V"),)),)


@check(
    "ELE-104", title="A low line still lets the motors reach the wanted rapid",
    why="Shaft power at speed goes with the bus voltage: on a weak evening line an axis that was just fast enough loses steps.",
    source="derived", remedy="A regulated supply, a higher setting, a lower rapid.",
)  # fmt: skip
def low_line(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Only unregulated supplies and drives on the line itself pass a low line on; speed taken in proportion."""
    for supply, load in _each(machine, results):
        regulated = supply.part is None or supply.part.regulated is not False
        if (regulated and not supply.direct) or load.low_line is None or load.set is None:
            continue
        for axis in dict.fromkeys(axis.name for axis, _ in fed_by(machine, supply)):
            moved = results.motion.axes[axis]
            electric = [cap.speed for cap in moved.caps if cap.reason.startswith(("motor torque", "step loss"))]
            if moved.rapid is None or not electric:
                continue
            value = least(least(*electric) * load.low_line / load.set, *(cap.speed for cap in moved.caps))
            yield floor(
                f"axis.{axis}",
                value=value,
                limit=machine.axis(axis).rapid,
                unit="m/s",
                what="rapid at low line",
                figure=f"axis.{axis}.rapid_promise",
            )


@check(
    "ELE-105", title="Bus voltage suits the inductance of the motors",
    why="Far above 32 V times the root of the inductance in millihenry, iron and ripple heat a stepper without making it faster where it works.",
    source="common practice, no source", remedy="Watch the motors' temperature, or set the supply lower; it is no limit.",
)  # fmt: skip
def iron(machine: Machine, results: Results) -> Iterator[Verdict]:
    """A rule of thumb, never worse than to be watched."""
    for supply, load in _each(machine, results):
        motors = [
            drive.motor.part for _, drive in fed_by(machine, supply) if drive.motor is not None and drive.motor.part.type != "servo"
        ]
        guides = [guide_voltage(inductance=motor.inductance) for motor in motors if motor.inductance is not None]
        if load.set is not None and guides:
            verdict = ceiling(supply.path, value=load.set, limit=least(*guides), unit="V", what="setting")
            yield caution(verdict, "a rule of thumb, no limit: above it a stepper runs hotter, not faster")
