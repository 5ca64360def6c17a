"""The steps of a design in the order that a builder meets them: one place for all of them."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from gantrywright.intake.fields.force import Force
from gantrywright.intake.fields.places import table_of
from gantrywright.intake.fields.records import Stage
from gantrywright.intake.fields.words import title


@dataclass(frozen=True, slots=True)
class Step:
    """A stage as it is written down here."""

    id: str
    title: str
    words: str
    groups: Callable[[Force], Iterator[str]]


def stages_of(force: Force) -> tuple[Stage, ...]:
    """The stages of one file."""
    return tuple(
        Stage(step.id, step.title, step.words, tuple((path, title(path)) for path in step.groups(force))) for step in STEPS
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
    yield from ("part", *_named(force, "part"))


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


def _cut(force: Force) -> Iterator[str]:
    """What a cut rests on, in one place: some of it stands at its own stage, too."""
    yield from ("job", *_named(force, "job"))
    yield from (path for path in ("tool", "spoilboard", "spindle") if path != "tool" or force.raw(path) is not None)


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

OF_CHECKS = (
    ("CUT", "cut"), ("GDE", "guides"), ("DRV", "drives"), ("MOT", "drives"), ("ELE", "power"),
    ("STR-2", "ringing"), ("STR-6", "ringing"), ("STR", "stiffness"),
)  # fmt: skip
"""Where the findings of checks belong, by the beginning of their ids; those of no row here (places, making) belong where their subject does."""

OF_TABLES = {
    "purpose": "work", "job": "cut", "spoilboard": "cut", "site": "work", "axis": "guides", "spindle": "spindle", "tool": "spindle", "supply": "power",
    "controller": "power", "cabinet": "power", "cable": "power", "measured": "ringing",
}  # fmt: skip
"""The same by the first word of the subject; all others are bodies and what joins them."""


def stage_of(subject: str, check_id: str) -> str:
    """The one stage where a finding is listed: that of its check, else that of its subject.

    Example:
        >>> stage_of("axis.y.rail.left (against gantry.beam)", "GEO-301"), stage_of("axis.y", "STR-201")
        ('guides', 'ringing')
    """
    named = next((stage for begins, stage in OF_CHECKS if check_id.startswith(begins)), "")
    if named:
        return named
    words = subject.partition(" (")[0].split(".")
    return "drives" if words[0] == "axis" and "drive" in words else OF_TABLES.get(words[0], "frame")


STEPS = (
    Step("work", "What it is for", "The largest work, the wanted speeds, the cuts, and where the machine stands.", _work),
    Step("frame", "Frame", "The bodies, what they are made of, what they stand on, and how they are joined.", _frame),
    Step("guides", "Guides", "Travel, rails and blocks of each axis, and how true they can be set.", _guides),
    Step("drives", "Drives", "Screw, rack or belt of each axis, with motor and driver.", _drives),
    Step("spindle", "Spindle and tool", "The spindle, its mount, and the cutter that reach refers to.", _spindle),
    Step("cut", "The cut", "Whether each job runs on this machine, what binds first, how true its wall comes, and the settings that the machine can hold.", _cut),
    Step("power", "Power and control", "Supplies, controller, cabinet and cables.", _power),
    Step("stiffness", "Stiffness", "What gives when the cutter is pushed, and what joints, blocks and mount are taken to hold.", _stiffness),
    Step("ringing", "Ringing", "How the machine rings, and what was measured on it.", _ringing),
    Step("findings", "Findings", "Everything that the checks say, worst first.", _nothing),
    Step("compare", "Kept and compared", "States that were kept, side by side with what is open.", _nothing),
)  # fmt: skip
"""All stages; a new one is a line here."""
