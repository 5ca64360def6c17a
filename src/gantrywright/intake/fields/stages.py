"""The steps of a design in the order that a builder meets them: one place for all of them."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from gantrywright.intake.fields.force import Force
from gantrywright.intake.fields.places import table_of
from gantrywright.intake.fields.records import Stage
from gantrywright.intake.fields.words import title

RINGING = ("STR-2", "STR-6")
"""Beginnings of the ids of checks about how the machine rings."""


@dataclass(frozen=True, slots=True)
class Step:
    """A stage as it is written down here."""

    id: str
    title: str
    words: str
    groups: Callable[[Force], Iterator[str]]
    holds: Callable[[str, str], bool]


def stages_of(force: Force) -> tuple[Stage, ...]:
    """The stages of one file."""
    return tuple(
        Stage(step.id, step.title, step.words, tuple((path, title(path)) for path in step.groups(force)), step.holds)
        for step in STEPS
    )


# ---- which tables


def _work(force: Force) -> Iterator[str]:
    yield from ("purpose", "job", *_named(force, "job"), "site", "machine")


def _frame(force: Force) -> Iterator[str]:
    guided = _guided(force)
    yield from (body for body in force.places.bodies if body not in guided or force.raw(body) is not None)
    yield from ("joint", *_named(force, "joint"))
    if force.raw("chain") is not None:
        yield "chain"
    yield from _named(force, "part")


def _guides(force: Force) -> Iterator[str]:
    for axis in _axes(force):
        yield axis
        for below in ("slide", "rail", "blocks", "alignment"):
            if below == "alignment" or force.raw(f"{axis}.{below}") is not None:
                yield f"{axis}.{below}"


def _drives(force: Force) -> Iterator[str]:
    for axis in _axes(force):
        written = list(table_of(force.raw(f"{axis}.drive")))
        if written:
            yield f"{axis}.drive"
        yield from (f"{axis}.drive.{name}" for name in sorted(written, key=lambda name: name != "each"))


def _spindle(force: Force) -> Iterator[str]:
    yield from (path for path in ("spindle", "spindle.mount", "tool") if path == "spindle" or force.raw(path) is not None)


def _power(force: Force) -> Iterator[str]:
    yield "supply"
    yield from _named(force, "supply")
    yield from ("controller", "cabinet", "cable", *_named(force, "cable"))


def _stiffness(force: Force) -> Iterator[str]:
    yield from (f"{body}.joint" for body in force.places.bodies if force.raw(body) is not None)
    yield from (f"{axis}.blocks.stiffness" for axis in _axes(force) if force.raw(f"{axis}.blocks") is not None)
    if force.raw("spindle.mount") is not None:
        yield "spindle.mount.stiffness"


def _ringing(force: Force) -> Iterator[str]:
    yield from ("measured", *_named(force, "measured"))


def _nothing(force: Force) -> Iterator[str]:
    yield from ()


def _named(force: Force, group: str) -> Iterator[str]:
    names = list(table_of(force.raw(group)))
    yield from (f"{group}.{name}" for name in sorted(names, key=lambda name: name != "each"))


def _axes(force: Force) -> list[str]:
    return [f"axis.{name}" for name in sorted(table_of(force.raw("axis"))) if name != "each"]


def _guided(force: Force) -> set[str]:
    """Bodies of an axis with a bought slide, which makes all of them."""
    return {body for body in force.places.bodies if force.raw(body) is None}


# ---- which findings


def _of(*starts: str) -> Callable[[str, str], bool]:
    return lambda subject, check_id: check_id.startswith(starts)


def _holds_frame(subject: str, check_id: str) -> bool:
    if check_id.startswith(("FAB", "COM")):
        return True
    return check_id.startswith("GEO") and not subject.startswith(
        ("axis.", "spindle", "tool", "purpose", "job", "cabinet", "controller", "supply")
    )


def _holds_guides(subject: str, check_id: str) -> bool:
    return check_id.startswith("GDE") or (check_id.startswith("GEO") and subject.startswith("axis.") and ".drive" not in subject)


def _holds_drives(subject: str, check_id: str) -> bool:
    return check_id.startswith(("DRV", "MOT")) or (check_id.startswith("GEO") and ".drive" in subject)


def _holds_spindle(subject: str, check_id: str) -> bool:
    return subject.startswith(("spindle", "tool")) and not check_id.startswith(("ELE", "STR"))


def _holds_power(subject: str, check_id: str) -> bool:
    return check_id.startswith("ELE") or (check_id.startswith("GEO") and subject.startswith(("cabinet", "controller", "supply")))


def _holds_work(subject: str, check_id: str) -> bool:
    return check_id.startswith("CUT") or (check_id.startswith("GEO") and subject.startswith(("purpose", "job")))


def _holds_stiffness(subject: str, check_id: str) -> bool:
    return check_id.startswith("STR") and not check_id.startswith(RINGING)


def _always(subject: str, check_id: str) -> bool:
    return True


def _never(subject: str, check_id: str) -> bool:
    return False


STEPS = (
    Step("work", "What it is for", "The largest work, the wanted speeds, the cuts, and where the machine stands.", _work, _holds_work),
    Step("frame", "Frame", "The bodies, what they are made of, what they stand on, and how they are joined.", _frame, _holds_frame),
    Step("guides", "Guides", "Travel, rails and blocks of each axis, and how true they can be set.", _guides, _holds_guides),
    Step("drives", "Drives", "Screw, rack or belt of each axis, with motor and driver.", _drives, _holds_drives),
    Step("spindle", "Spindle and tool", "The spindle, its mount, and the cutter that reach refers to.", _spindle, _holds_spindle),
    Step("power", "Power and control", "Supplies, controller, cabinet and cables.", _power, _holds_power),
    Step("stiffness", "Stiffness", "What gives when the cutter is pushed, and what joints, blocks and mount are taken to hold.", _stiffness, _holds_stiffness),
    Step("ringing", "Ringing", "How the machine rings, and what was measured on it.", _ringing, _of(*RINGING)),
    Step("findings", "Findings", "Everything that the checks say, worst first.", _nothing, _always),
    Step("compare", "Kept and compared", "States that were kept, side by side with what is open.", _nothing, _never),
)  # fmt: skip
"""All stages; a new one is a line here."""
