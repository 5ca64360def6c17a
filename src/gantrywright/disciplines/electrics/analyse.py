"""Every supply: what its motors draw, what a hard stop gives back, and the best setting."""

from dataclasses import replace
from typing import Any

import numpy as np

from gantrywright.base.samples import greatest, least, typical
from gantrywright.base.units import GRAVITY, Farad, Real, Volt, Watt
from gantrywright.disciplines.electrics.power import DrivePower, Powers, power_of
from gantrywright.model.axis import Axis, DriveFit
from gantrywright.model.electric import Supply
from gantrywright.model.machine import Machine
from gantrywright.model.motors import Missing
from gantrywright.results.drives import DriveResult
from gantrywright.results.electrics import ElectricResult, SupplyLoad
from gantrywright.results.guides import FrictionResult
from gantrywright.results.ledger import Ledger, Named
from gantrywright.results.masses import MassResult
from gantrywright.results.motion import MotionResult
from gantrywright.theory.supplies import bus_rise, highest_setting, two_thirds_power

LINE = 0.10
"""The line may be this much low or high (supply band of IEC 60038, from memory)."""
NO_LOAD = 0.07
"""An unregulated supply rises by about this much without load (5 to 10 %); common practice, no source."""
DEFAULT_TOLERANCE = 0.02


def analyse(
    machine: Machine, masses: MassResult, friction: FrictionResult, driven: DriveResult, moved: MotionResult, ledger: Ledger
) -> ElectricResult:
    """All supplies of motors."""
    return ElectricResult({
        supply.name: _supply(machine, supply, masses, friction, driven, moved, ledger) for supply in machine.supplies
    })  # fmt: skip


def fed_by(machine: Machine, supply: Supply) -> list[tuple[Axis, DriveFit]]:
    """The motors that hang on a supply."""
    return [(axis, drive) for axis in machine.axes for drive in axis.drives if drive.supply == supply.name and not drive.driven_by]


def set_voltage(supply: Supply) -> Volt | None:
    """What it is set to, else its nominal voltage."""
    return supply.part.voltage if supply.set is None and supply.part is not None else supply.set


def _supply(
    machine: Machine,
    supply: Supply,
    masses: MassResult,
    friction: FrictionResult,
    driven: DriveResult,
    moved: MotionResult,
    ledger: Ledger,
) -> SupplyLoad:
    fed = fed_by(machine, supply)
    powers = [_power(axis, drive, masses, friction, driven, moved, ledger) for axis, drive in fed]
    known = [power for power in powers if isinstance(power, DrivePower)]
    missing = [power.what for power in powers if isinstance(power, Missing)]
    lacking_power = [power.lacking for power in known if power.lacking]
    voltage, limit = set_voltage(supply), _driver_limit(fed)
    if voltage is None:
        missing.append(f"{supply.path}.set")
    capacitance, lacking = _capacitance(supply, fed)
    low, high = _line(supply, voltage)
    plain = SupplyLoad(
        supply=supply.name, drives=tuple(drive.path for _, drive in fed), holding=None, typical=None, greatest=None, returned=None,
        bus_peak=None, driver_limit=limit, set=voltage, best_set=None, two_thirds=_two_thirds(supply, voltage, fed, ledger),
        capacitance=capacitance, capacitance_missing=lacking, low_line=low, high_line=high, missing=", ".join(dict.fromkeys(missing)),
    )  # fmt: skip
    if plain.missing or not known or voltage is None:
        return plain
    return replace(_with_energy(plain, supply, fed, known, voltage, ledger), missing=", ".join(lacking_power))


Fed = list[tuple[Axis, DriveFit]]
"""Motors on a supply."""


def _with_energy(
    plain: SupplyLoad, supply: Supply, fed: Fed, known: list[DrivePower], voltage: Volt, ledger: Ledger
) -> SupplyLoad:  # fmt: skip
    path, paths = supply.path, [power.path for power in known]
    returned = ledger.note(
        f"{path}.returned", sum((power.returned for power in known), 0.0), unit="J", formula="sum over the motors",
        title="Energy that a hard stop of all axes at once gives back", **_named(paths, "returned_energy", ledger),
    )  # fmt: skip
    kinetic = sum((power.kinetic for power in known), 0.0)
    ledger.note(f"{path}.kinetic", kinetic, unit="J", formula="sum over the motors",
                title="Energy of all axes at speed together", **_named(paths, "kinetic_energy", ledger))  # fmt: skip
    peak = best = None
    if plain.capacitance is not None:
        ledger.note(
            f"{path}.bus_capacitance", plain.capacitance, unit="F", formula="sum of supply and drivers", source="definition",
            title="Capacitance on the bus" + (f"; without {', '.join(plain.capacitance_missing)}" if plain.capacitance_missing else ""),
            **_capacitors(supply, fed),
        )  # fmt: skip
        peak = ledger.figure(
            f"{path}.bus_peak", bus_rise, voltage=Named(f"{path}.set", voltage), energy=ledger.named(f"{path}.returned"),
            capacitance=ledger.named(f"{path}.bus_capacitance"),
        )  # fmt: skip
        if plain.driver_limit is not None:
            best = ledger.figure(
                f"{path}.best_set", highest_setting, highest=Named(_lowest_limit(fed), plain.driver_limit), energy=ledger.named(f"{path}.returned"),
                capacitance=ledger.named(f"{path}.bus_capacitance"), tolerance=_tolerance_input(supply),
            )  # fmt: skip
    drawn = [(power.path, power.axis, power.power) for power in known if power.power is not None]
    whole = drawn if len(drawn) == len(known) else []
    return replace(
        plain, holding=_sum(path, "holding", whole, ledger), typical=_typical(path, whole, ledger), greatest=_sum(path, "greatest", whole, ledger),
        returned=returned, bus_peak=peak, best_set=best, kinetic=kinetic,
    )  # fmt: skip


def _power(
    axis: Axis,
    drive: DriveFit,
    masses: MassResult,
    friction: FrictionResult,
    driven: DriveResult,
    moved: MotionResult,
    ledger: Ledger,
) -> DrivePower | Missing:
    whole = moved.axes[axis.name]
    made = next((made for made in whole.drives if made.path == drive.path), None)
    if made is None:
        return Missing(whole.missing or f"{drive.path}.motor")
    even = 1 / len(whole.drives)
    mass = masses.axes[axis.name].mass * even
    carried = axis.counterweight.force * even if axis.counterweight else 0.0
    weight = np.maximum(mass * GRAVITY * axis.rise - carried, 0.0)
    return power_of(
        axis, drive, made, whole, driven.drives[drive.path], mass, (friction.axes[axis.name].moving * even, weight), ledger
    )


Drawn = list[tuple[str, str, Powers]]
"""Path of the drive, its axis, its powers; empty where one of them is unknown."""


def _named(paths: list[str], word: str, ledger: Ledger) -> dict[str, Any]:
    return {f"motor_{number}": ledger.named(f"{path}.{word}") for number, path in enumerate(paths, 1)}


def _sum(path: str, word: str, drawn: Drawn, ledger: Ledger) -> Watt | None:
    if not drawn:
        return None
    total: Real = sum((getattr(powers, word) for _, _, powers in drawn), 0.0)
    return ledger.note(
        f"{path}.power.{word}", total, unit="W", formula="sum over the motors", title=f"Power of all motors on this supply, {word}",
        **_named([drive for drive, _, _ in drawn], f"power.{word}", ledger),
    )  # fmt: skip


def _typical(path: str, drawn: Drawn, ledger: Ledger) -> Watt | None:
    """All feed, and the one axis that then takes most more accelerates instead."""
    if not drawn:
        return None
    feeding: Real = sum((powers.feeding for _, _, powers in drawn), 0.0)
    more: dict[str, Real] = {}
    for _, axis, powers in drawn:
        more[axis] = more.get(axis, 0.0) + np.maximum(powers.accelerating - powers.feeding, 0.0)
    ramps: dict[str, Any] = {f"ramp_{n}": ledger.named(f"{drive}.power.accelerating") for n, (drive, _, _) in enumerate(drawn, 1)}
    return ledger.note(
        f"{path}.power.typical", feeding + greatest(*more.values()), unit="W",
        formula="sum of P at feed + greatest over the axes of (P on the ramp - P at feed)",
        title="Power of all motors on this supply while one axis accelerates and the others feed",
        **_named([drive for drive, _, _ in drawn], "power.feeding", ledger),
        **ramps,
    )  # fmt: skip


def _two_thirds(supply: Supply, voltage: Volt | None, fed: list[tuple[Axis, DriveFit]], ledger: Ledger) -> Watt | None:
    currents = [drive.motor.part.current for _, drive in fed if drive.motor is not None]
    if voltage is None or not currents or any(current is None for current in currents):
        return None
    total: Real = sum((current.peak / 2**0.5 for current in currents if current is not None), 0.0)
    return ledger.figure(
        f"{supply.path}.power.two_thirds_rule",
        two_thirds_power,
        voltage=Named(f"{supply.path}.set", voltage),
        phase_current=Named("", total, note="sum of the rated phase currents, rms"),
    )


def _capacitors(supply: Supply, fed: Fed) -> dict[str, Any]:
    parts = [] if supply.direct or supply.part is None else [(f"{supply.path}.part.capacitance", supply.part.capacitance)]
    parts += [(f"{drive.path}.driver.capacitance", drive.driver.part.capacitance) for _, drive in fed if drive.driver is not None]
    return {f"C_{n}": Named(path, value) for n, (path, value) in enumerate(parts, 1) if value is not None}


def _lowest_limit(fed: Fed) -> str:
    """Path of the lowest limit of the drivers, by typical value."""
    drivers = [(drive.path, drive.driver.part.highest) for _, drive in fed if drive.driver is not None]
    limits = {path: typical(highest) for path, highest in drivers if highest is not None}
    return f"{min(limits, key=lambda path: limits[path])}.driver.highest"


def _driver_limit(fed: list[tuple[Axis, DriveFit]]) -> Volt | None:
    """The lowest of the drivers' limits; unknown where that of any driver is."""
    limits = [drive.driver.part.highest for _, drive in fed if drive.driver is not None]
    known = [limit for limit in limits if limit is not None]
    return least(*known) if known and len(known) == len(limits) else None


def _capacitance(supply: Supply, fed: list[tuple[Axis, DriveFit]]) -> tuple[Farad | None, tuple[str, ...]]:
    """What is known of it, and the paths of what is not."""
    parts: list[tuple[str, Farad | None]] = [
        (f"{drive.path}.driver.capacitance", None if drive.driver is None else drive.driver.part.capacitance) for _, drive in fed
    ]
    if not supply.direct:
        parts.insert(0, (f"{supply.path}.capacitance", None if supply.part is None else supply.part.capacitance))
    known = [value for _, value in parts if value is not None]
    return (sum(known, 0.0) if known else None), tuple(path for path, value in parts if value is None)


def _tolerance_input(supply: Supply) -> Named:
    given = None if supply.part is None else supply.part.tolerance
    if given is None:
        return Named("", DEFAULT_TOLERANCE, note="of a regulated supply; common practice, no source")
    return Named(f"{supply.path}.part.tolerance", given)


def _tolerance(supply: Supply) -> Real:
    tolerance = None if supply.part is None else supply.part.tolerance
    return DEFAULT_TOLERANCE if tolerance is None else tolerance


def _line(supply: Supply, voltage: Volt | None) -> tuple[Volt | None, Volt | None]:
    """Bus voltage with the line low and high; a regulated supply holds its own within its tolerance."""
    if voltage is None:
        return None, None
    if supply.direct:
        return voltage * (1 - LINE), voltage * (1 + LINE)
    if supply.part is not None and supply.part.regulated is False:
        return voltage * (1 - LINE), voltage * (1 + LINE) * (1 + NO_LOAD)
    return voltage * (1 - _tolerance(supply)), voltage * (1 + _tolerance(supply))
