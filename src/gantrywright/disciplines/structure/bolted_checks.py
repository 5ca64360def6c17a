"""STR-4xx: whether joints hold and feet stay down."""

from collections.abc import Iterator

import numpy as np

from gantrywright.base.quantities import show
from gantrywright.base.samples import typical
from gantrywright.base.units import Real
from gantrywright.disciplines.structure.stiffness_checks import lacks
from gantrywright.findings import Change, Verdict, ceiling, check, floor, holds, unknown
from gantrywright.model.machine import Machine
from gantrywright.results import Results
from gantrywright.results.structure import BoltedAnswer

USED = 0.8
"""Part of what friction or clamp force holds that may be used: 1/1.25; common practice, no source."""
PRESSED = 0.1
"""Part of its share of the weight with which every foot stays pressed; common practice, no source."""
CAREFUL = 0.9
"""Part of the torque that at the usual friction brings a screw to what it and its thread bear, which is advised; our choice."""
SIZES = (("M3", "M4", "M5", "M6", "M8", "M10", "M12", "M16"), ("1/4-20", "5/16-18", "3/8-16", "1/2-13"))
"""Bolts that are easily bought, the next larger after each."""


@check(
    "STR-401", title="Bolted joints hold their loads by friction",
    why="Bolts sit in clearance holes: a joint that creeps by a hair's breadth has lost the squareness that took a day to set.",
    source="common practice, no source", remedy="More or larger bolts, a torque wrench, bare and flat faces, or two dowel pins once all is square.",
)  # fmt: skip
def holds_by_friction(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Every joint of bolts, in its worst case."""
    for answer in _answers(machine, results):
        if answer.slip is None:
            yield unknown(answer.joint, missing=answer.missing, limit=USED)
        else:
            yield ceiling(
                answer.joint,
                value=answer.slip,
                limit=USED,
                unit="",
                figure=f"{answer.figure}.slip",
                what="use of the friction",
                note=f"worst: {answer.worst}; {_pressed(machine, answer)}",
                changes=_mends(machine, answer),
            )


@check(
    "STR-402", title="Bolts keep their joints closed",
    why="A face that opens has lost its stiffness and works its bolts loose.", source="vdi-2230",
    remedy="More or larger bolts, farther from the line about which the joint opens.",
)  # fmt: skip
def stays_closed(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Greatest pull on a bolt over its least clamp force."""
    for answer in _answers(machine, results):
        if answer.opening is None:
            yield unknown(answer.joint, missing=answer.missing, limit=USED)
        else:
            yield ceiling(
                answer.joint, value=answer.opening, limit=USED, unit="", figure=f"{answer.figure}.opening", what="use of the clamp force",
                note=f"worst: {answer.worst_opening}; {_pressed(machine, answer)}", changes=_mends(machine, answer),
            )  # fmt: skip


@check(
    "STR-403", title="The feet stay on the floor while the machine works",
    why="A light frame under a fast gantry walks and rocks: marks on the work, and a machine that is out of level by the evening.",
    source="common practice, no source", remedy="Accelerate less, set the feet wider, weigh the frame down, or bolt it to the floor.",
)  # fmt: skip
def stays_down(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Least force under a foot against a part of its even share of the weight."""
    least, total = results.structure.least_foot, results.masses.total
    missing = "feet" if not machine.feet else lacks(results.structure) if least is None else _loads_unknown(machine, results)
    if least is None or missing:
        yield unknown("machine", missing=missing, unit="N")
        return
    share = 9.80665 * np.asarray(total.mass) / len(machine.feet)
    yield floor(
        "machine", value=least, limit=PRESSED * share, unit="N", figure="structure.least_foot", what="force under the lightest foot",
        note=f"when {results.structure.foot_case or 'it rests'}{_driven(machine, results)}; at the pose where the machine is softest; the floor is taken level",
    )  # fmt: skip


def _driven(machine: Machine, results: Results) -> str:
    """The acceleration of the axis that decides, and who asks for it."""
    name = results.structure.foot_axis
    given = results.structure.axes.get(name)
    if given is None:
        return ""
    wanted, promised = machine.axis(name).accel, results.motion.axes[name].accel
    said = show(typical(given.accel), "m/s2", machine.show)
    if wanted is None:
        return f": {name.upper()} with {said}, all that is promised, for axis.{name}.accel wants nothing less"
    if promised is not None and typical(promised) < typical(wanted):
        return f": {name.upper()} with {said}, as promised, which is less than wanted"
    return f": {name.upper()} with {said}, as wanted"


@check(
    "STR-404", title="Screws and threads bear what they are tightened to",
    why="A thread that strips or a slot that opens while it is tightened holds nothing afterwards, and may look as if it did.",
    source="vdi-2230", remedy="Tighten to the torque that is told, engage more thread, or use more screws of less force each.",
)  # fmt: skip
def bears_its_torque(machine: Machine, results: Results) -> Iterator[Verdict]:
    """What the told torque gives a screw, against what it and its thread bear; without a torque, which one they bear."""
    for answer in _tightened(machine, results):
        if answer.bears is None or answer.torque is None:
            yield unknown(answer.joint, missing=answer.missing, unit="N")
            continue
        if answer.tightened is None:
            torque = _said(answer.torque, "N m", machine)
            yield holds(
                answer.joint,
                true=True,
                note=f"no torque is told; {torque} brings a screw to what it and its thread bear: {answer.limited}",
            )
        else:
            yield ceiling(
                answer.joint, value=answer.tightened, limit=answer.bears, unit="N", figure=f"{answer.figure}.tightened", what="force of a screw",
                note=f"limit: {answer.limited if typical(answer.tightened) > typical(answer.bears) else 'screw or thread, whichever bears less'}",
                remedy=f"Tighten to {_advised(machine, answer)}, engage more thread, or use more screws.", changes=_torque(machine, answer),
            )  # fmt: skip


def _tightened(machine: Machine, results: Results) -> tuple[BoltedAnswer, ...]:
    """Of every joint whose bolts are told: what tightening does hangs on no load, and what is lacking of others is told by STR-401."""
    bolted = {joint.path: joint for joint in machine.joints if joint.bolts and joint.bolting.path}
    if results.structure.worst is None:
        return tuple(BoltedAnswer(path, None, None, None, missing=lacks(results.structure)) for path in bolted)
    return tuple(
        answer for answer in results.structure.bolted
        if answer.joint in bolted and (answer.bears is not None or bolted[answer.joint].bolting.missing)
    )  # fmt: skip


def _pressed(machine: Machine, answer: BoltedAnswer) -> str:
    """How hard a screw presses at least, and why not harder."""
    return f"a screw presses with {_said(answer.clamp, 'N', machine)} at least, limited by {answer.limited}"


def _said(value: Real | None, unit: str, machine: Machine, times: float = 1.0) -> str:
    return "unknown" if value is None else show(times * typical(value), unit, machine.show)


def _advised(machine: Machine, answer: BoltedAnswer) -> str:
    """Torque that leaves something for a thread that is more slippery than usual."""
    return _said(answer.torque, "N m", machine, CAREFUL)


def _torque(machine: Machine, answer: BoltedAnswer) -> tuple[Change, ...]:
    path = next(joint.bolting.path for joint in machine.joints if joint.path == answer.joint)
    advised = _advised(machine, answer)
    return (Change(f"{path}: {advised}", ((f"{path}.torque", advised),)),)


def _mends(machine: Machine, answer: BoltedAnswer) -> tuple[Change, ...]:
    """More torque where that is what limits it, then larger and more bolts."""
    more: tuple[Change, ...] = ()
    if answer.tightened is not None and answer.bears is not None and typical(answer.tightened) < typical(answer.bears):
        more = _torque(machine, answer)
    return (*more, *_more_bolts(machine, answer.joint))


def _answers(machine: Machine, results: Results) -> tuple[BoltedAnswer, ...]:
    """Of every joint of bolts; where there is no structure, or not all loads are known, each says so."""
    if results.structure.worst is None:
        bolted, missing = [joint.path for joint in machine.joints if joint.bolts], lacks(results.structure)
    else:
        bolted, missing = [answer.joint for answer in results.structure.bolted], _loads_unknown(machine, results)
        if not missing:
            return results.structure.bolted
    return tuple(BoltedAnswer(path, None, None, None, missing=missing) for path in bolted)


def _loads_unknown(machine: Machine, results: Results) -> str:
    """Loads that nobody knows, without which no worst case can be told."""
    moved = results.motion.axes
    still = [
        f"the acceleration of {axis.path}" for axis in machine.axes if axis.name not in moved or moved[axis.name].accel is None
    ]
    return "; ".join([*([] if results.cutting.known else ["the cutting forces of a job"]), *still])


def _more_bolts(machine: Machine, path: str) -> tuple[Change, ...]:
    """Larger bolts, or twice as many; how many cores an end has to be tapped is not ours to change."""
    joint = next(joint for joint in machine.joints if joint.path == path)
    where = path if path.startswith("joint.") else f"{joint.a.partition('.')[0]}.joint"
    word = path if path.startswith("joint.") else f"joints of {joint.a.partition('.')[0]}"
    found = []
    for sizes in SIZES:
        if joint.thread in sizes[:-1]:
            larger = sizes[sizes.index(joint.thread) + 1]
            found.append(Change(f"{word}: {larger} instead of {joint.thread}", ((f"{where}.bolts.thread", larger),)))
    if joint.bolting.tightening != "torque-wrench" and joint.bolting.path:
        found.append(Change(f"{word}: a torque wrench", ((f"{joint.bolting.path}.tightening", "torque-wrench"),)))
    if joint.kind == "bolted":
        found.append(
            Change(f"{word}: {2 * joint.bolts} bolts instead of {joint.bolts}", ((f"{where}.bolts.count", str(2 * joint.bolts)),))
        )
    return tuple(found)
