"""ELE-2xx and ELE-3xx: power of the supplies, and the energy that a hard stop gives back."""

import math
from collections.abc import Iterator
from functools import cache

import numpy as np

from gantrywright.base.quantities.showing import show
from gantrywright.base.samples import least, typical
from gantrywright.base.units import Watt
from gantrywright.catalog.kinds import PowerSupply
from gantrywright.catalog.tables import Catalog, record_of
from gantrywright.disciplines.electrics.voltage_checks import drivers_key, lower
from gantrywright.findings import Change, Verdict, ceiling, check, unknown
from gantrywright.model.electric import Supply
from gantrywright.model.machine import Machine
from gantrywright.results import Results
from gantrywright.results.electrics import SupplyLoad
from gantrywright.theory.supplies import capacitance_needed

MOST_CAPACITANCE = 1.0
"""More on a bus than this, F, is no mend; common practice, no source."""
MORE = 1.15
"""A proposed supply has so many times the power that is drawn."""


def _rated(supply: Supply, load: SupplyLoad) -> Watt | None:
    """Least of its power and of its current at the set voltage."""
    part = supply.part
    if part is None:
        return None
    limits = [part.power, None if part.current is None or load.set is None else part.current * load.set]
    known = [limit for limit in limits if limit is not None]
    return least(*known) if known else None


@check(
    "ELE-201", title="Supplies give the power that the motors draw",
    why="The supply limits its current, the bus sags, and axes lose steps together when one of them accelerates.",
    source="derived", remedy="A stronger supply, one supply for each axis.",
)  # fmt: skip
def power(machine: Machine, results: Results) -> Iterator[Verdict]:
    """One axis accelerating while the others feed. Phase current is not supply current."""
    for supply in machine.supplies:
        load = results.electrics.supplies[supply.name]
        if not load.drives or supply.direct:
            continue
        rated = _rated(supply, load)
        if load.typical is None or rated is None:
            yield unknown(supply.path, missing=load.missing or f"{supply.path}.power", unit="W", limit=rated)
            continue
        yield ceiling(
            supply.path,
            value=load.typical,
            limit=rated,
            unit="W",
            what="power drawn",
            watch=0.1,
            note=_beside(load),
            figure=f"{supply.path}.power.typical",
            changes=_stronger(supply, load) if np.any(np.asarray(load.typical) > rated) else (),
        )


def _stronger(supply: Supply, load: SupplyLoad) -> tuple[Change, ...]:
    """The weakest supply of the tables that can be set to the same voltage and has the power to spare."""
    old = supply.part
    if old is None or load.typical is None or load.set is None:
        return ()
    needed, volts = MORE * typical(load.typical), typical(load.set)
    enough = [row for row in _supplies() if _reaches(row, volts) and _power(row, volts) >= needed]
    if not enough:
        return ()
    new = min(enough, key=lambda row: _power(row, volts))
    words = f"{supply.path} of kind {new.id} instead of {old.id}"
    return (Change(words, ((f"{supply.path}.part", new.id), (f"{supply.path}.set", f"{volts:g} V"))),)


@cache
def _supplies() -> tuple[PowerSupply, ...]:
    records = (record_of(row) for row in Catalog().rows(PowerSupply.kind))
    return tuple(record for record in records if isinstance(record, PowerSupply) and record.regulated)


def _reaches(row: PowerSupply, volts: float) -> bool:
    ends = (row.lowest, row.highest) if row.adjustable else (row.voltage, row.voltage)
    return all(end is not None for end in ends) and typical(ends[0] or 0.0) <= volts <= typical(ends[1] or 0.0)


def _power(row: PowerSupply, volts: float) -> float:
    """Least of its power and of its current at a voltage, W."""
    limits = [limit for limit in (row.power, None if row.current is None else row.current * volts) if limit is not None]
    return min(typical(limit) for limit in limits) if limits else 0.0


def _beside(load: SupplyLoad) -> str:
    words = ["less than a tenth to spare is to be watched"]
    if load.holding is not None:
        words.append(f"{show(typical(load.holding), 'W')} at rest")
    if load.greatest is not None:
        words.append(f"{show(typical(load.greatest), 'W')} with every motor at its greatest power at once")
    if load.two_thirds is not None:
        words.append(
            f"{show(typical(load.two_thirds), 'W')} by the rule of two thirds of the phase currents (common practice, no source)"
        )
    return "; ".join(words)


@check(
    "ELE-301", title="A hard stop of all axes leaves the bus below the drivers' limit",
    why="Rotors and tables that are braked feed their energy back; a regulated supply takes none of it, so that it lifts the bus until drivers"
    " trip or fail.",
    source="derived", remedy="A lower setting, more bus capacitance, a braking resistor, softer ramps.",
)  # fmt: skip
def bus_peak(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Friction, copper and iron taken off."""
    for supply in machine.supplies:
        load = results.electrics.supplies[supply.name]
        if not load.drives:
            continue
        if load.returned is None or load.bus_peak is None or load.driver_limit is None or load.set is None:
            missing = load.missing or (
                drivers_key(machine, supply, "highest") if load.driver_limit is None else " or ".join(load.capacitance_missing)
            )
            yield unknown(supply.path, missing=missing, unit="V", limit=load.driver_limit)
            continue
        needed = capacitance_needed(voltage=load.set, highest=load.driver_limit, energy=load.returned)
        motion = "" if load.kinetic is None else f" of the {show(typical(load.kinetic), 'J')} in motion"
        words = [f"{show(typical(load.returned), 'J')}{motion} come back", _would_take(load, typical(needed))]
        if load.capacitance_missing:
            words.append(f"unknown and left out: {', '.join(load.capacitance_missing)}")
        if supply.direct:
            words.append("a braking resistor of the drives is not counted")
        best = float(int(typical(load.best_set))) if load.best_set is not None else 0.0
        yield ceiling(
            supply.path, value=load.bus_peak, limit=load.driver_limit, unit="V", what="bus peak", note="; ".join(words), figure=f"{supply.path}.bus_peak",
            changes=(*lower(supply, best), *_bank(supply, load)),
        )  # fmt: skip


def _would_take(load: SupplyLoad, needed: float) -> str:
    if load.set is None or load.driver_limit is None or typical(load.set) >= typical(load.driver_limit):
        return "no capacitor would take it, since the setting alone reaches the drivers' limit"
    if needed > MOST_CAPACITANCE:
        return "no bank of capacitors of a sensible size would take it"
    return f"{show(needed, 'F')} on the bus would take it"


def _bank(supply: Supply, load: SupplyLoad) -> tuple[Change, ...]:
    """Capacitors on the output, half as much again as is needed."""
    if supply.direct or supply.part is None or load.set is None or load.driver_limit is None or load.returned is None:
        return ()
    if typical(load.set) >= typical(load.driver_limit) or load.capacitance is None:
        return ()
    needed = typical(capacitance_needed(voltage=load.set, highest=load.driver_limit, energy=load.returned))
    own = 0.0 if supply.part.capacitance is None else typical(supply.part.capacitance)
    more = 1.5 * needed - typical(load.capacitance)
    if more <= 0 or needed > MOST_CAPACITANCE:
        return ()
    bank = f"{math.ceil(1000 * (own + more))} mF"
    return (Change(f"a bank of capacitors on {supply.path}, {bank} with its own", ((f"{supply.path}.part.capacitance", bank),)),)
