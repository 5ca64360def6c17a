"""The simple records of a machine out of the tree: purpose, site, supplies, motors, observations.

Every function takes branches that are whole; where a reading has problems there is no machine, so nobody calls them.
"""

from collections.abc import Callable, Iterator, Mapping
from typing import Any, TypeAlias

from gantrywright.base.quantities import about, show
from gantrywright.base.spread import Origin, Spread
from gantrywright.base.units import Real
from gantrywright.base.values import PhaseCurrent
from gantrywright.catalog import kinds
from gantrywright.intake.grammar.measured import OBSERVED
from gantrywright.intake.grammar.shape import CP
from gantrywright.intake.reading import Reading
from gantrywright.intake.tree import Branch
from gantrywright.intake.uses import record, use
from gantrywright.model.axis import DIRECT, Alignment, Counterweight, Home, Reduction
from gantrywright.model.drives.defaults import stage_stiffness_band
from gantrywright.model.electric import ControllerFit, DriverFit, MotorFit, OtherLoad, Outlet, Supply
from gantrywright.model.machine import Machine, Observation, PowerCuts
from gantrywright.model.purpose import Purpose, Site

STAGE_EFFICIENCY = {"belt": Spread(0.93, 0.96, 0.98), "gearbox": Spread(0.85, 0.92, 0.96)}
"""Of a stage between motor and drive whose part does not say it; common practice, no source."""
BELT_PLAY = Spread(1e-4, 3e-4, 1.5e-3)
"""Play at the output of a tensioned belt stage, rad: it settles in its grooves by friction; common practice, no source."""
REACHED = 0.5e-3
"""A reading may be told to have been taken so far beyond the reach, m: places are written in whole millimetres; our choice."""

Estimate: TypeAlias = Callable[[str, Spread, Origin], Real]
"""Takes note of an estimate at a path; gives its samples, else its typical value."""


def typical_of(_: str, spread: Spread, __: Origin) -> Real:
    """An estimate of which nobody takes note."""
    return spread.typical


def purpose(reading: Reading) -> Purpose:
    """What is wanted."""
    branch = _needed(reading, "purpose")
    return Purpose(
        work_area=branch["work_area"],
        rapid=branch["rapid"],
        feed=branch["feed"],
        accel=branch.get("accel"),
        accuracy=branch.get("accuracy"),
        stiffness=branch.get("stiffness"),
        budget=branch.get("budget"),
    )


def site(reading: Reading) -> Site:
    """Where the machine stands; the lowest and highest temperature are the ends of the band."""
    branch = _needed(reading, "site")
    entry = branch.entries["ambient"]
    low, high = (entry.spread.low, entry.spread.high) if entry.spread is not None else (entry.value, entry.value)
    return Site(
        ambient=entry.value,
        ambient_low=low,
        ambient_high=high,
        altitude=branch["altitude"],
        floor=branch["floor"],
        rules=branch.get("rules", ""),
        outlets=tuple(outlet(name, below) for name, below in branch.children("outlet")),
        loads=tuple(
            OtherLoad(name, below["power"], below["outlet"], below["runs"], below["start_factor"])
            for name, below in branch.children("load")
        ),
    )


def outlet(name: str, branch: Branch) -> Outlet:
    """One wall outlet."""
    return Outlet(name, branch["voltage"], branch["current"], branch["phases"], branch.get("note", ""))


def supplies(reading: Reading) -> tuple[Supply, ...]:
    """All supplies; a direct one is set to the rectified line, the square root of 2 times the outlet's voltage."""
    group, outlets = reading.branch("supply"), dict(_needed(reading, "site").children("outlet"))
    return tuple(_supply(name, branch, outlets) for name, branch in group.branches.items()) if group is not None else ()


def _supply(name: str, branch: Branch, outlets: Mapping[str, Branch]) -> Supply:
    part = record(branch.sub("part"), kinds.PowerSupply)
    direct = bool(branch["direct"])
    if branch.has("set"):
        level = branch.get("set")
    elif direct:
        fed = outlets.get(branch["outlet"])
        level = 2**0.5 * fed["voltage"] if fed is not None else None
    else:
        level = part.voltage if part is not None else None
    return Supply(name, part, direct, level, branch["outlet"], use(branch))


def controller(reading: Reading) -> ControllerFit | None:
    """The motion controller; None where the file has none."""
    branch = reading.branch("controller")
    if branch is None:
        return None
    part = record(branch.sub("part"), kinds.Controller) or kinds.Controller()
    return ControllerFit(
        part, branch.get("pulse_rate", part.pulse_rate), branch.get("supply_voltage", part.supply_voltage), use(branch)
    )


def motor(drive: Branch) -> MotorFit | None:
    """The motor of a drive; None where another drive turns it."""
    branch = drive.sub("motor")
    part = record(branch, kinds.Motor)
    return MotorFit(branch.path, part, use(branch)) if branch is not None and part is not None else None


def driver(drive: Branch) -> DriverFit | None:
    """The driver of a drive with the current that it is set to: what the file says, else its own largest, else unknown."""
    branch = drive.sub("driver")
    part = record(branch, kinds.Driver)
    if branch is None or part is None:
        return None
    current: PhaseCurrent | None = part.current
    return DriverFit(branch.path, part, current, use(branch))


def reduction(drive: Branch, estimate: Estimate = typical_of) -> Reduction:
    """What stands between motor and driven shaft.

    Args:
        drive: Table of the drive.
        estimate: Takes note of what neither file nor row says.
    """
    branch = drive.sub("reduction")
    if branch is None:
        return DIRECT
    part = record(branch.sub("part"), kinds.Gearbox)
    known: Any = part if part is not None else kinds.Gearbox()
    is_belt = branch["kind"] == "belt"
    efficiency = branch.get("efficiency", known.efficiency)
    if efficiency is None:
        efficiency = _estimated(branch, "efficiency", STAGE_EFFICIENCY[branch["kind"]], estimate)
    stiffness = branch.get("stiffness", known.stiffness)
    if stiffness is None:
        stiffness = _estimated(branch, "stiffness", stage_stiffness_band(branch["kind"]), estimate)
    backlash = branch.get("backlash", known.backlash)
    if backlash is None and is_belt and part is None and not branch.has("backlash"):
        backlash = _estimated(branch, "backlash", BELT_PLAY, estimate)
    return Reduction(
        kind=branch["kind"],
        ratio=branch["ratio"],
        efficiency=efficiency,
        backlash=backlash,
        stiffness=stiffness,
        inertia=known.inertia if known.inertia is not None else 0.0,
        part=part,
    )


def _estimated(branch: Branch, key: str, spread: Spread, estimate: Estimate) -> Real:
    band = f"{spread.typical:g} ({spread.low:g}..{spread.high:g})"
    origin = Origin("default", path=f"usual {branch['kind']} stage", source=CP, text=band)
    return estimate(f"{branch.path}.{key}", spread, origin)


def alignment(axis: Branch) -> Alignment:
    """What the builder can reach."""
    branch = axis.branches["alignment"]
    return Alignment(branch["parallel"], branch["height"], branch["straight"], branch["structure"])


def home(axis: Branch) -> Home | None:
    """Where the axis finds its zero."""
    branch = axis.sub("home")
    return Home(branch["at"], record(branch.sub("sensor"), kinds.Sensor), branch["each_drive"]) if branch is not None else None


def counterweight(axis: Branch, carrier: str) -> Counterweight | None:
    """What carries the weight of an upright axis; held by the carrying body where the file does not say."""
    branch = axis.sub("counterweight")
    return Counterweight(branch["kind"], branch["force"], branch.get("on", carrier)) if branch is not None else None


def observations(reading: Reading) -> tuple[Observation, ...]:
    """What the finished machine was seen to do; those with ``use = false`` are left out."""
    group = reading.branch("measured")
    if group is None:
        return ()
    return tuple(
        observation(name, branch) for name, branch in group.branches.items() if branch.has("observe") and branch["use"] is not False
    )


def observation(name: str, branch: Branch) -> Observation:
    """One observation; its uncertainty is the standard one, half of an expanded one that was written after +-."""
    kind = OBSERVED[branch["observe"]]
    entry = branch.entries.get("value")
    value = entry.value if entry is not None else None
    spread = entry.spread if entry is not None else None
    uncertainty = (spread.high - spread.low) / (2 * 1.645) if spread is not None else None
    told = {
        key: entry.origin.text
        for key, entry in branch.entries.items()
        if key not in ("observe", "of", "value") and entry.origin.text
    }
    return Observation(
        name, branch["observe"], branch.get("of", ""), value, uncertainty, about(kind).si, told, branch.get("at"), branch.get("along"),
        tuple(branch.get("between") or ()), _power_cuts(branch) if branch["observe"] == "spindle-power" else None,
    )  # fmt: skip


def _power_cuts(branch: Branch) -> PowerCuts:
    feeds, powers = (tuple(float(value) for value in branch.get(key) or ()) for key in ("feeds", "powers"))
    told = {key: branch.get(key) for key in ("idle", "efficiency", "depth", "width", "speed")}
    return PowerCuts(branch["job"], feeds, powers, **told)


def out_of_reach(machine: Machine) -> Iterator[tuple[str, str]]:
    """Readings that were taken where the tool does not reach: path and what is wrong with it."""
    least, most = machine.reach.least, machine.reach.most
    for seen in machine.observations:
        if seen.at is None:
            continue
        for letter, place, low, high in zip("XYZ", seen.at, least, most, strict=True):
            if not low - REACHED <= place <= high + REACHED:
                said, first, last = (show(length, "m", machine.show) for length in (place, low, high))
                yield f"measured.{seen.name}.at", f"the tool does not reach {letter} {said}; allowed are {first} to {last}"


def _needed(reading: Reading, name: str) -> Branch:
    branch = reading.branch(name)
    if branch is None:
        raise KeyError(name)
    return branch
