"""From a machine file to one machine: everything looked up, in SI, placed."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from pathlib import Path

from gantrywright.base.errors import FileProblems, Problem
from gantrywright.base.units import Array
from gantrywright.intake import jobs, records
from gantrywright.intake.derived import derived
from gantrywright.intake.document import Document, read_document, revise
from gantrywright.intake.edits import typed_as
from gantrywright.intake.origins import Origins, StatedValues
from gantrywright.intake.placing import groups, weighed, whole
from gantrywright.intake.placing.builder import Builder
from gantrywright.intake.reading import Reading
from gantrywright.intake.tree import Branch
from gantrywright.model.bodies import Box, Joint, Solid
from gantrywright.model.electric import SpindleFit, ToolFit
from gantrywright.model.frame import Vector, add
from gantrywright.model.machine import Machine


def load_machine(path: Path | str) -> Machine:
    """Read a machine file and resolve it.

    Raises:
        FileProblems: Everything that must be mended before there is a machine.
    """
    return resolve(read_document(path))


def resolve(document: Document, *, samples: Mapping[str, Array] | None = None) -> Machine:
    """One machine from a document, perhaps a revised one.

    Args:
        document: The machine file.
        samples: Samples of uncertain values by path; those values, and all that follows from them, are then arrays.

    Raises:
        FileProblems: Everything that must be mended before there is a machine.
    """
    reading = Reading(document, samples=samples)
    if not reading.links() or reading.branch("purpose") is None or _cannot_start(reading):
        raise FileProblems(reading.problems or [Problem(str(document.path), 0, "", "there is no chain of bodies to place")])
    builder = place(reading, samples or {})
    joints = groups.joined(builder.world, _named_joints(reading), builder.doubts)
    reading.finish()
    _refuse(reading, builder)
    try:
        machine = _explained(_machine(reading, builder, joints), reading, builder)
    except KeyError as error:  # everything is whole, so a needed word was written as "unknown"
        reading.problem(str(error.args[0] or ""), "cannot be unknown: what it decides has no other value to go by")
        raise FileProblems(reading.problems) from error
    for path, words in records.out_of_reach(machine):
        reading.problem(path, words)
    _refuse(reading, builder)
    return machine


def again(document: Document) -> Callable[[Mapping[str, Array], Iterable[tuple[str, str]]], Machine]:
    """A function that resolves the same file again, with samples of uncertain values and with edits that stay in memory."""

    def resolve_again(samples: Mapping[str, Array], edits: Iterable[tuple[str, str]]) -> Machine:
        typed = tuple((path, typed_as(document.tree, path, text)) for path, text in edits)
        return resolve(revise(document, typed), samples=samples or None)

    return resolve_again


def place(reading: Reading, samples: Mapping[str, Array]) -> Builder:
    """Place everything that a reading describes."""
    builder = Builder(reading, records.purpose(reading), samples)
    builder.place()
    return builder


def _cannot_start(reading: Reading) -> bool:
    """What every step of placing needs."""
    purpose, machine = reading.branch("purpose"), reading.branch("machine")
    return machine is None or purpose is None or any(purpose.get(key) is None for key in ("work_area", "rapid", "feed"))


def _refuse(reading: Reading, builder: Builder) -> None:
    """Raise what was told; a part that nothing was told of lacks a value that was written as unknown."""
    if not reading.problems:
        for path in dict.fromkeys(builder.world.unplaced):
            reading.problem(path, "cannot be placed: a place, a size or a part that it needs is unknown")
    if reading.problems:
        raise FileProblems(reading.problems)


def _named_joints(reading: Reading) -> list[tuple[str, Branch]]:
    group = reading.branch("joint")
    return [(f"joint.{name}", branch) for name, branch in group.branches.items()] if group is not None else []


def _machine(reading: Reading, builder: Builder, joints: Iterable[Joint]) -> Machine:
    world = builder.world
    by = whole.bodies(world, builder.zero)
    found = records.observations(reading)
    solids = list(whole.moved_solids(_all_solids(builder), by))
    lumps = weighed.lumps(world, found, solids)
    solids = [*weighed.without_unknown(solids, lumps), *lumps]
    machine = reading.branch("machine")
    assert machine is not None  # `_cannot_start`
    work, size = reading.chain.work, builder.purpose.work_area
    back = tuple(-part for part in builder.zero)
    return Machine(
        name=machine["name"],
        layout=machine["layout"],
        show=machine["show"],
        currency=machine["currency"],
        purpose=builder.purpose,
        jobs=jobs.jobs(reading, builder.doubts.value),
        site=records.site(reading),
        links=world.links,
        bodies=whole.body_records(world, by),
        work_body=work,
        tool_body=reading.chain.tool,
        solids=tuple(solids),
        members=tuple(m for body in world.bodies.values() for m in whole.members_of(body, by[body.name])),
        plates=tuple(p for body in world.bodies.values() for p in whole.plates_of(body, by[body.name])),
        joints=tuple(whole.moved_joint(joint, back) for joint in joints),  # type: ignore[arg-type]
        feet=tuple(f for body in world.bodies.values() for f in whole.feet_of(body, by[body.name])),
        axes=tuple(whole.moved_axis(world.axes[name], by) for name in sorted(world.axes)),
        supplies=records.supplies(reading),
        controller=records.controller(reading),
        spindle=_spindle(builder, by),
        tool=_tool(builder, by),
        drawn_at=_drawn_at(builder),
        table=Box((0.0, 0.0, 0.0), size),
        reach=builder.reach,
        table_top=whole.box_of(whole.moved_solids(world.bodies[work].layers, by)),
        origins={},
        spreads={**builder.doubts.spreads, **reading.spreads},
        observations=found,
        layers=tuple(layer for body in world.bodies.values() for layer in whole.layers_of(body, by[body.name])),
        planned=tuple(whole.moved_solids(_planned(builder), by)),
        stray=tuple(dict.fromkeys(world.stray)),
        spoilboard=jobs.spoilboard(reading),
    )


def _all_solids(builder: Builder) -> Iterator[Solid]:
    for body in builder.world.bodies.values():
        yield from body.solids.values()
    yield from builder.world.loose
    if builder.cabinet is not None:
        yield builder.cabinet


def _planned(builder: Builder) -> Iterator[Solid]:
    for body in builder.world.bodies.values():
        yield from body.planned
    yield from builder.world.planned


def _spindle(builder: Builder, by: Mapping[str, Vector]) -> SpindleFit | None:
    if builder.spindle is None or builder.mounted is None:
        return None
    return replace(builder.spindle, nose=add(builder.spindle.nose, by[builder.mounted.body]))


def _tool(builder: Builder, by: Mapping[str, Vector]) -> ToolFit | None:
    if builder.tool is None or builder.mounted is None:
        return None
    return replace(builder.tool, tip=add(builder.tool.tip, by[builder.mounted.body]))


def _drawn_at(builder: Builder) -> Vector:
    pose = [0.0, 0.0, 0.0]
    for motion in builder.motions:
        pose[max(range(3), key=lambda number: abs(motion.t[number]))] = motion.drawn
    return (pose[0], pose[1], pose[2])


def _explained(machine: Machine, reading: Reading, builder: Builder) -> Machine:
    """The machine with what it takes to say where each value came from."""
    stated = StatedValues(lambda: {**builder.doubts.entries, **reading.entries}, lambda: derived(machine), reading.paths.find)
    name = reading.document.path.name

    def place_of(subject: str) -> str:
        line = reading.line(subject)
        return f"{name}:{line}" if line else ""

    return replace(machine, origins=Origins(stated), stated=stated, place_of=place_of)
