"""CUT-104, 105, 107 to 109: speed and power of the spindle."""

from collections.abc import Iterator

from gantrywright.base.quantities.showing import show
from gantrywright.base.samples import greatest, typical
from gantrywright.base.units import Real
from gantrywright.disciplines.cutting.changes import RPM, mends, part_used, turn, turn_with_feed
from gantrywright.disciplines.cutting.cut import cut_of, setting_of, widest
from gantrywright.disciplines.cutting.cutting_speed import CuttingSpeed, cutting_speeds
from gantrywright.disciplines.cutting.drilling import is_drill
from gantrywright.disciplines.cutting.power import USEFUL
from gantrywright.disciplines.cutting.told import limited, used_of
from gantrywright.findings import Change, Verdict, cautioned, ceiling, check, floor, unknown
from gantrywright.model.electric import Outlet
from gantrywright.model.machine import Machine
from gantrywright.model.purpose import Job
from gantrywright.results import Results
from gantrywright.results.jobs import Limit
from gantrywright.theory.cutting.leaving import thrown_speed
from gantrywright.theory.cutting.spindle_power import fan_share

MARKED = 16e-3
"""A cutter of at least this diameter is looked at for a mark; smaller ones seldom have any; common practice, no source."""
MELTS = frozenset({"hard-plastic", "soft-plastic", "foam"})
"""Groups that an edge melts before it wears."""


@check(
    "CUT-104",
    title="The spindle turns as slowly and as fast as the jobs want",
    why="A speed that the spindle cannot turn is quietly replaced by another, and the chip changes with it.",
    source="definition",
    remedy="Choose a speed within the spindle's range, or another spindle.",
)
def spindle_reaches_the_speed(machine: Machine, results: Results) -> Iterator[Verdict]:
    spindle = machine.spindle
    for job in machine.jobs:
        if spindle is None:
            yield unknown(job.path, missing="the spindle: spindle.part", unit="rad/s")
            continue
        for which, key, end, judge in (
            ("fastest", "highest", spindle.part.highest, ceiling), ("slowest", "lowest", spindle.part.lowest, floor),
        ):  # fmt: skip
            subject = f"{job.path} ({which})"
            if end is None:
                yield unknown(subject, missing=f"spindle.part.{key}", unit="rad/s")
                continue
            beyond = typical(job.speed) > typical(end) if judge is ceiling else typical(job.speed) < typical(end)
            yield judge(subject, value=job.speed, limit=end, unit="rad/s", what="speed", changes=turn(job, end) if beyond else ())


@check(
    "CUT-105",
    title="The spindle has the mean power that each job takes",
    why="An overloaded spindle slows down, the chip grows with it, and cutter or spindle gives up.",
    source="altintas-manufacturing-automation",
    remedy="Cut less deep or less wide, feed slower, turn faster, or use a stronger spindle.",
)
def spindle_has_the_power(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Against the shaft power that lasts at that speed; what the outlet leaves of it, CUT-109 says."""
    for job, answer, limit in limited(machine, results, "spindle-power"):
        if limit.value is None or limit.limit is None:
            yield unknown(job.path, missing=limit.missing, unit="W")
            continue
        yield ceiling(
            job.path, value=limit.value, limit=limit.limit, unit="W", what="power taken", note=_curve(machine, job, limit), figure=limit.figure,
            changes=mends(machine, job, answer, limit),
        )  # fmt: skip


def _curve(machine: Machine, job: Job, limit: Limit) -> str:
    """Plate, lasting share, curve and cooling in a sentence."""
    spindle = machine.spindle
    assert spindle is not None  # it has a power
    part = spindle.part
    base = part.highest if part.base_speed is None else part.base_speed
    cooled = spindle.cooling or part.cooling
    share = typical(USEFUL if part.useful is None else part.useful)
    fan = f", of which its own fan cools {100 * typical(fan_share(speed=job.speed, base_speed=base)):.0f} %" if cooled == "fan" and base is not None else ""  # fmt: skip
    told = "" if cooled else "; how it is cooled is not told"
    return (
        f"Of {_watts(machine, part.power)} on its plate {100 * share:.0f} % last at {typical(base if base is not None else job.speed) * RPM:.0f} rpm and above, "
        f"below in proportion to the speed: {_watts(machine, limit.limit)} at {typical(job.speed) * RPM:.0f} rpm{fan}{told}. A worn edge takes more."
    )


def _watts(machine: Machine, value: Real | None) -> str:
    return show(None if value is None else typical(value), "W", machine.show)


@check(
    "CUT-107",
    title="The cutting edge goes about as fast as is usual in the material",
    why="An edge that is too fast melts plastic, burns wood and wears out in metal; one that is too slow takes long and tears.",
    source="common practice, no source",
    remedy="Another speed of the spindle with the feed in proportion, or another diameter of the cutter.",
)
def edge_goes_as_usual(machine: Machine, results: Results) -> Iterator[Verdict]:
    """A caution: what is usual is no limit."""
    for job in machine.jobs:
        usual, cut = cutting_speeds().get(job.material.group), cut_of(machine, job)
        if usual is None or cut is None or is_drill(job):  # CUT-101 and CUT-102 say what is missing
            continue
        diameter = widest(cut, setting_of(cut))
        speed = thrown_speed(diameter=diameter, speed=job.speed)
        heat = "; heat is carried away by thick chips and air: a fast edge in a thin chip melts it" if usual.group in MELTS else ""
        note = f"in {usual.group.replace('-', ' ')} {_edge(machine, usual)} are usual with carbide{heat}"
        for which, limit, judge in (("fast", usual.high, ceiling), ("slow", usual.low, floor)):
            beyond = typical(speed) > limit if which == "fast" else typical(speed) < limit
            yield cautioned(
                judge(
                    f"{job.path} ({which})", value=speed, limit=limit, unit="m/s", what="speed of the edge", note=note, source=usual.source,
                    changes=turn_with_feed(machine, job, 2 * limit / typical(diameter)) if beyond else (),
                )
            )  # fmt: skip


def _edge(machine: Machine, usual: CuttingSpeed) -> str:
    return f"{show(usual.low, 'm/s', machine.show)} to {show(usual.high, 'm/s', machine.show)}"


@check(
    "CUT-108",
    title="No cutter turns faster than it is marked for",
    why="Beyond the speed on its shank a cutter may burst or throw an insert with the speed of its edge.",
    source="definition",
    remedy="Turn slower, or use a cutter that is marked for the speed; the mark on the cutter outranks this table.",
)
def cutter_bears_the_speed(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Small cutters without a mark are passed over."""
    for job in machine.jobs:
        most, diameter = job.cutter.highest, job.cutter.diameter
        if most is None:
            if diameter is not None and typical(diameter) >= MARKED:
                yield unknown(job.path, missing=f"greatest speed marked on the cutter: {job.path}.cutter.highest", unit="rad/s")
            continue
        changes = turn_with_feed(machine, job, most) if typical(job.speed) > typical(most) else ()
        yield ceiling(job.path, value=job.speed, limit=most, unit="rad/s", what="speed", changes=changes)


@check(
    "CUT-109",
    title="The outlet gives the power that the hungriest job takes, with all else that hangs on it",
    why="The breaker trips in the middle of a cut: the spindle stops while the axes move on, and cutter or work is lost.",
    source="derived",
    remedy="Feed vacuum cleaner and supplies from another circuit, cut less, or have a stronger circuit made by an electrician.",
)
def outlet_gives_the_power(machine: Machine, results: Results) -> Iterator[Verdict]:
    """One verdict for the outlet of the spindle; what the spindle itself bears, CUT-105 says."""
    spindle = machine.spindle
    if spindle is None or not machine.jobs:
        return
    outlet = next((one for one in machine.site.outlets if one.name == spindle.outlet), None)
    if outlet is None:
        yield unknown("spindle.outlet", missing="which outlet feeds the spindle: spindle.outlet and site.outlet", unit="W")
        return
    found = [one for one in limited(machine, results, "outlet") if one[2].value is not None and one[2].limit is not None]
    if not found:
        return
    job, answer, limit = max(found, key=lambda one: used_of(one[2]))
    assert limit.limit is not None
    value = greatest(*(one[2].value for one in found if one[2].value is not None))
    yield ceiling(
        "spindle.outlet", value=value, limit=limit.limit, unit="W", what="power at the shaft", note=_hanging(machine, outlet, job), figure=limit.figure,
        changes=(*_elsewhere(machine, outlet), *mends(machine, job, answer, limit)) if part_used(limit) > 1 else (),
    )  # fmt: skip


def _hanging(machine: Machine, outlet: Outlet, job: Job) -> str:
    others = [
        f"{load.name} ({_watts(machine, load.power)})"
        for load in machine.site.loads
        if load.outlet == outlet.name and load.runs != "seldom"
    ]
    others += [f"supply {supply.name}" for supply in machine.supplies if supply.outlet == outlet.name]
    also = (
        f"also feeds {' and '.join((', '.join(others[:-1]), others[-1]) if len(others) > 1 else others)}"
        if others
        else "feeds nothing else"
    )
    return f"Outlet {outlet.name} ({outlet.voltage:g} V, {outlet.current:g} A) {also}; hungriest is {job.path}."


def _elsewhere(machine: Machine, outlet: Outlet) -> Iterator[Change]:
    """Other loads on another outlet, where there is one."""
    other = next((one.name for one in machine.site.outlets if one.name != outlet.name), None)
    for load in machine.site.loads:
        if other is not None and load.outlet == outlet.name and load.runs != "seldom":
            yield Change(f"{load.name} on outlet {other}", ((f"site.load.{load.name}.outlet", other),))
