"""Screws, motors, supplies and settings that may mend a finding: edits of the machine file that the study then tries."""

import math
from collections.abc import Iterator, Sequence
from functools import cache
from itertools import islice

from gantrywright.base.quantities.showing import show
from gantrywright.base.samples import typical
from gantrywright.base.units import Real
from gantrywright.catalog import kinds
from gantrywright.catalog.tables import Catalog, record_of
from gantrywright.disciplines.motion.loads import motor_drives, supply_voltage
from gantrywright.findings import Change
from gantrywright.model.axis import Axis, DriveFit
from gantrywright.model.electric import Supply
from gantrywright.model.machine import Machine
from gantrywright.theory.windings import FACTORS

SAME = 1e-6
LEAST_TEETH = 12
"""Of a pulley of which half the teeth are in mesh."""
STRONGER = 1.05
CLEARLY = 1.1
"""Another supply is proposed where it gives so many times the voltage."""
LEAST_MICROSTEPS = 4
BELOW_LIMIT = 0.9
"""Part of the drivers' limit that a supply is set to at most; common practice, no source."""


@cache
def _records(kind: str) -> tuple[kinds.Part, ...]:
    """Packaged rows of a kind."""
    return tuple(record_of(row) for row in Catalog().rows(kind))


def _size(value: Real | None) -> float:
    return 0.0 if value is None else typical(value)


def longer_leads(axis: Axis, most: int = 2) -> tuple[Change, ...]:
    """The next longer leads of the same diameter, on all drives of the axis together."""
    drives = motor_drives(axis)
    if not drives or any(not _turning_screw(drive) for drive in axis.drives):
        return ()
    old = drives[0].drive.parts.part
    if not isinstance(old, kinds.BallScrew):
        return ()
    screws = [row for row in _records(kinds.BallScrew.kind) if isinstance(row, kinds.BallScrew)]
    longer = sorted(
        (
            row
            for row in screws
            if abs(_size(row.diameter) - _size(old.diameter)) < SAME and _size(row.lead) > _size(old.lead) + SAME
        ),
        key=lambda row: _size(row.lead),
    )
    return tuple(_screw(axis, old, new) for new in islice(longer, most))


def _turning_screw(drive: DriveFit) -> bool:
    return isinstance(drive.drive.parts.part, kinds.BallScrew) and drive.drive.parts.turns == "screw"


def _screw(axis: Axis, old: kinds.BallScrew, new: kinds.BallScrew) -> Change:
    nuts = {row.id for row in _records(kinds.Nut.kind)}
    edits = []
    for drive in axis.drives:
        edits.append((f"{drive.path}.part", new.id))
        nut = drive.drive.parts.nut
        ending = "-preloaded" if nut is not None and nut.id.endswith("-preloaded") else ""
        name = new.id.replace("ball-screw", "nut") + ending
        if name in nuts:
            edits.append((f"{drive.path}.nut", name))
    return Change(f"screw {_words(new)} instead of {_words(old)}", tuple(edits))


def _words(screw: kinds.BallScrew) -> str:
    return f"{_size(screw.diameter) * 1000:g} x {_size(screw.lead) * 1000:g}"


def closed_loop(machine: Machine, axis: Axis) -> tuple[Change, ...]:
    """The same size of motor with an encoder, and a driver that closes the loop at this voltage."""
    edits, words = [], ""
    for drive in motor_drives(axis):
        motor = drive.motor.part if drive.motor else None
        voltage = supply_voltage(machine, drive.supply)
        if motor is None or motor.type != "stepper" or voltage is None or not motor.id.startswith("stepper-"):
            return ()
        name = motor.id.replace("stepper-", "closed-loop-", 1)
        driver = next(
            (row for row in _closing_drivers() if _size(row.lowest) < typical(voltage) <= BELOW_LIMIT * _size(row.highest)), None
        )
        if driver is None or name not in {row.id for row in _records(kinds.Motor.kind)}:
            return ()
        words = f"motor {name} on {driver.id} instead of {motor.id}"
        edits += [(f"{drive.path}.motor.part", name), (f"{drive.path}.driver.part", driver.id)]
    return (Change(words, tuple(edits)),) if edits else ()


def _closing_drivers() -> Iterator[kinds.Driver]:
    rows = [row for row in _records(kinds.Driver.kind) if isinstance(row, kinds.Driver) and row.id.startswith("closed-loop-")]
    return iter(sorted(rows, key=lambda row: _size(row.highest)))


def stronger_motor(axis: Axis, times: float = STRONGER) -> tuple[Change, ...]:
    """The next motor of the same kind and frame that is so many times stronger; of servo motors in any frame, with its drive."""
    drives = motor_drives(axis)
    old = drives[0].motor.part if drives and drives[0].motor else None
    if old is None or not old.frame:
        return ()
    rows = [row for row in _records(kinds.Motor.kind) if isinstance(row, kinds.Motor) and row.type == old.type]
    alike = [row for row in rows if (_family(row) == _family(old) if old.type == "servo" else row.frame == old.frame)]
    stronger = sorted((row for row in alike if _torque(row) > max(times, STRONGER) * _torque(old)), key=_torque)
    if not stronger:
        return ()
    new = stronger[0]
    edits = [(f"{drive.path}.motor.part", new.id) for drive in drives]
    own = new.id.replace("servo-", "servo-drive-", 1)
    if new.type == "servo" and own in {row.id for row in _records(kinds.Driver.kind)}:
        edits += [(f"{drive.path}.driver.part", own) for drive in drives]
    return (Change(f"motor {new.id} instead of {old.id}", tuple(edits)),)


def _family(servo: kinds.Motor) -> bool:
    """Whether a servo motor is for a low voltage."""
    return servo.id.endswith("-48v")


def shorter_travel(axis: Axis) -> tuple[Change, ...]:
    """Less travel per turn: the next shorter lead of the same diameter, or the next smaller pulley of the same belt."""
    old = axis.drives[0].drive.parts.part if axis.drives else None
    pulley = axis.drives[0].drive.parts.pulley if axis.drives else None
    if isinstance(old, kinds.BallScrew) and all(_turning_screw(drive) for drive in axis.drives):
        screws = [row for row in _records(kinds.BallScrew.kind) if isinstance(row, kinds.BallScrew)]
        alike = [row for row in screws if abs(_size(row.diameter) - _size(old.diameter)) < SAME]
        shorter = [row for row in alike if _size(row.lead) < _size(old.lead) - SAME]
        return (_screw(axis, old, max(shorter, key=lambda row: _size(row.lead))),) if shorter else ()
    if pulley is None:
        return ()
    family = pulley.id.rpartition("-")[0]
    rows = [row for row in _records(kinds.Pulley.kind) if isinstance(row, kinds.Pulley) and row.id.rpartition("-")[0] == family]
    smaller = [row for row in rows if LEAST_TEETH <= _size(row.teeth) < _size(pulley.teeth)]
    if not smaller:
        return ()
    new = max(smaller, key=lambda row: _size(row.teeth))
    edits = tuple((f"{drive.path}.pulley", new.id) for drive in axis.drives)
    return (Change(f"pulley {new.id} instead of {pulley.id}", edits),)


def more_microsteps(fit: DriveFit, times: float) -> tuple[Change, ...]:
    """So many times more microsteps, as the next power of two."""
    now = fit.driver.part.microsteps if fit.driver else None
    if now is None or times <= 1:
        return ()
    new = now * 2 ** math.ceil(math.log2(times))
    return (Change(f"{new} microsteps instead of {now}", ((f"{fit.path}.driver.microsteps", str(new)),)),)


def _torque(motor: kinds.Motor) -> float:
    return _size(motor.rated_torque if motor.type == "servo" else motor.holding)


def higher_voltage(machine: Machine, axis: Axis) -> tuple[Change, ...]:
    """The supplies of the axis set higher, and the highest ones that their drivers bear where those give clearly more."""
    higher: list[Change] = []
    others: list[Change] = []
    for name in dict.fromkeys(drive.supply for drive in motor_drives(axis)):
        supply = next((supply for supply in machine.supplies if supply.name == name), None)
        limits = [
            _size(drive.driver.part.highest) for a in machine.axes for drive in a.drives if drive.supply == name and drive.driver
        ]
        if supply is None or supply.direct or supply.part is None or not limits or min(limits) <= 0:
            continue
        turned = _set_higher(supply, BELOW_LIMIT * min(limits))
        other = _other_supply(supply, BELOW_LIMIT * min(limits), 1.0 if turned is None else _size(supply.part.highest))
        higher.extend(() if turned is None else (turned,))
        others.extend(() if other is None else (other,))
    return tuple(together(found) for found in (higher, others) if found)


def together(changes: Sequence[Change]) -> Change:
    """Several changes as one."""
    return Change(" and ".join(change.words for change in changes), tuple(edit for change in changes for edit in change.edits))


def _set_higher(supply: Supply, limit: float) -> Change | None:
    part = supply.part
    now = _size(supply.set)
    if part is None or not part.adjustable or part.highest is None:
        return None
    new = float(int(min(limit, typical(part.highest))))
    return (
        Change(f"{supply.path} set to {new:g} V instead of {now:g} V", ((f"{supply.path}.set", f"{new:g} V"),))
        if new > 1.03 * now
        else None
    )


def _other_supply(supply: Supply, limit: float, reached: float) -> Change | None:
    """The regulated supply of at least this power that comes nearest to a limit, where that is clearly more than is reached now."""
    old = supply.part
    if old is None:
        return None
    least = CLEARLY * max(_size(supply.set), reached)
    fit = [
        (_settable(row, limit), -_size(row.power), row)
        for row in _records(kinds.PowerSupply.kind)
        if isinstance(row, kinds.PowerSupply) and row.regulated and _size(row.power) >= _size(old.power)
    ]
    volts, _, new = max(fit, key=lambda each: each[:2], default=(0.0, 0.0, old))
    if volts < least:
        return None
    words = f"{supply.path} of kind {new.id} at {volts:g} V instead of {_size(supply.set):g} V"
    return Change(words, ((f"{supply.path}.part", new.id), (f"{supply.path}.set", f"{volts:g} V")))


def _settable(row: kinds.PowerSupply, limit: float) -> float:
    """The highest voltage up to a limit that a supply can be set to, in whole volts; 0 where its lowest is above."""
    if not row.adjustable or row.highest is None:
        return _size(row.voltage) if _size(row.voltage) <= limit else 0.0
    volts = float(int(min(limit, _size(row.highest))))
    return volts if volts >= _size(row.lowest) else 0.0


def full_current(axis: Axis) -> tuple[Change, ...]:
    """Drivers set to the rated current of their motors, where it is less now and the driver can."""
    edits, words = [], ""
    for drive in motor_drives(axis):
        if drive.motor is None or drive.driver is None or drive.motor.part.current is None or drive.driver.current is None:
            continue
        able = _size(drive.driver.part.current.peak) if drive.driver.part.current else float("inf")
        most, now = min(_size(drive.motor.part.current.peak), able), _size(drive.driver.current.peak)
        new = math.floor(most * 10 + 1e-6) / 10  # not rounded up over the rating
        if new > 1.05 * now:
            edits.append((f"{drive.path}.driver.current", f"{new:.1f} A peak"))
            words = f"driver current {new:.1f} A peak instead of {now:.1f} A peak"
    return (Change(words, tuple(edits)),) if edits else ()


def parallel_winding(axis: Axis) -> tuple[Change, ...]:
    """Eight-lead motors that are wired in series, wired in parallel."""
    resistance, inductance, current, _ = FACTORS["series", "parallel"]
    edits = []
    for drive in motor_drives(axis):
        part = drive.motor.part if drive.motor else None
        if part is None or part.winding != "series" or part.current is None:
            return ()
        path = f"{drive.path}.motor"
        peak = part.current.peak * current
        edits += [
            (f"{path}.winding", "parallel"), (f"{path}.resistance", f"{_size(part.resistance) * resistance:.4g} ohm"),
            (f"{path}.inductance", f"{_size(part.inductance) * inductance * 1000:.4g} mH"), (f"{path}.current", f"{typical(peak):.3g} A peak"),
        ]  # fmt: skip
    return (Change("windings in parallel instead of series", tuple(edits)),) if edits else ()


def fewer_microsteps(fit: DriveFit, ratio: Real) -> tuple[Change, ...]:
    """As many microsteps as the pulse rate allows, by halving; at least 4, since a rotor is shaken by less.

    Args:
        fit: The drive.
        ratio: Pulse rate that is wanted over the one there can be.
    """
    now = fit.driver.part.microsteps if fit.driver else None
    if now is None:
        return ()
    new = now
    while new / now * typical(ratio) > 1 and new % 2 == 0:
        new //= 2
    if new == now or new < LEAST_MICROSTEPS:
        return ()
    return (Change(f"{new} microsteps instead of {now}", ((f"{fit.path}.driver.microsteps", str(new)),)),)


def speed_words(machine: Machine, speed: Real) -> str:
    """A speed in the user's units, by its typical value."""
    return show(typical(speed), "m/s", machine.show)
