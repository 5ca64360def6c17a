"""Two machines side by side: the file on the desk against a kept state or another file."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from gantrywright.base.errors import NotFound
from gantrywright.base.quantities import show
from gantrywright.board import views
from gantrywright.board.office import Office
from gantrywright.findings import Finding, Status
from gantrywright.intake.document import parse_toml, read_document
from gantrywright.intake.resolve import resolve
from gantrywright.pictures import PICTURES, Picture, together
from gantrywright.study.promises import Promise, promises
from gantrywright.study.sentences import measured
from gantrywright.study.study import Study, run, simulated

Json = dict[str, Any]

WORDS = "typical values against typical values"
"""Both machines are held against each other by their typical values: a band on one side alone would tell differences that are none. What is
said of a finding of this machine is what all other faces say of it: its settled status where that is known."""
TYPICALLY = " by typical values"
"""Stands beside a status that is not settled."""


def compared(office: Office, other: str) -> Json:
    """Promises and findings of the desk (a) beside those of another machine (b), both from typical values.

    Args:
        office: Whose desk it is.
        other: ``kept:ID``, ``file:NAME``, or ``step:ID`` or ``before:ID`` for the text after or before a step.
    """
    mine = _mine(office)
    theirs, name = _other(office, other)
    rows = _rows(mine, theirs)
    ours, others = ({(f.id, f.subject): f for f in study.findings} for study in (mine, theirs))
    names = ("now", "before") if not other.startswith("file:") else (office.desk.path.name, name)
    said = Said(*names, _settled(office))
    ill_a, ill_b = ({key for key, f in found.items() if f.status is not Status.OK} for found in (ours, others))
    return {
        "names": [office.desk.path.name, name], "words": WORDS, "promises": [row for row in rows if row["what"] not in ("cost", "mass")],
        "findings": {
            "only_a": [_stands(mine, f, f, others.get(key), said) for key, f in ours.items() if key in ill_a - ill_b],
            "only_b": [_stands(theirs, f, ours.get(key), f, said) for key, f in others.items() if key in ill_b - ill_a],
            "both_judged": [
                _stands(mine, f, f, others[key], said) for key, f in ours.items() if key in ill_a & ill_b and _otherwise(f, others[key], said)
            ],
            "both_moved": [
                row for key, f in ours.items() if key in ill_a & ill_b and not _otherwise(f, others[key], said)
                and (row := _moved((mine, f), (theirs, others[key]), said))
            ],
        },
        "cost": next((row for row in rows if row["what"] == "cost"), None), "mass": next((row for row in rows if row["what"] == "mass"), None),
        "pictures": _pictures(mine, theirs),
    }  # fmt: skip


def _pictures(mine: Study, theirs: Study) -> list[str]:
    """Those that both have: of single jobs the ones that both machines are for."""
    jobs = [name for name in mine.results.jobs.jobs if name in theirs.results.jobs.jobs]
    return [name for made in PICTURES.values() for name in ([f"{made.id}:{job}" for job in jobs] if made.of_job else [made.id])]


def picture_of_both(office: Office, name: str, other: str) -> Picture:
    """A picture of the desk's machine and another on one scale, both from typical values.

    Args:
        office: Whose desk it is.
        name: Of the picture.
        other: ``kept:ID``, ``file:NAME``, or ``step:ID`` or ``before:ID`` for the text after or before a step.
    """
    mine = office.desk.sheet.study
    if mine is None:
        raise NotFound("the file makes no machine yet; there is nothing to compare")
    theirs, called = _other(office, other)
    return together(name, mine, theirs, (office.desk.path.name, called))


def _mine(office: Office) -> Study:
    """Typical answers of the desk, worked out the same way as those of the other: none held over, none with a spread.

    Raises:
        NotFound: The file makes no machine, and never made one here.
    """
    sheet = office.desk.sheet
    if sheet.study is None:
        raise NotFound("the file makes no machine yet; there is nothing to compare")
    if sheet.problems:  # the page still shows the last machine
        return simulated(run(sheet.study.machine))
    return _typical(sheet.text.encode(), office.desk.path, sheet.answers)


@lru_cache(maxsize=3)
def _typical(text: bytes, path: Path, _: int) -> Study:
    """Typical answers of a text; kept while all pictures of it are asked for."""
    return simulated(run(resolve(parse_toml(text, path))))


def _other(office: Office, which: str) -> tuple[Study, str]:
    kind, _, rest = which.partition(":")
    desk = office.desk
    if kind == "kept":
        found = next((one for one in desk.kept() if str(one.id) == rest), None)
        if found is None:
            raise NotFound(f"there is no kept state {rest!r}")
        return _typical(found.text.encode(), desk.path, desk.sheet.answers), found.name
    if kind in ("step", "before"):
        step = desk.book.step(int(rest)) if desk.book is not None and rest.isdigit() else None
        if step is None:
            raise NotFound(f"the history holds no step {rest!r}")
        text, name = step.beside(before=kind == "before")
        return _typical(text.encode(), desk.path, desk.sheet.answers), name
    if kind == "file":
        file: Path = office.shelf.found(rest)
        return _typical(read_document(file).text.encode(), file, desk.sheet.answers), file.name
    raise NotFound(f"compare with kept:ID, step:ID, before:ID or file:NAME, not with {which!r}")


def _rows(mine: Study, theirs: Study) -> list[Json]:
    before = {(p.subject, p.what): p for p in promises(theirs)}
    return [_row(mine, made, before[(made.subject, made.what)]) for made in promises(mine) if (made.subject, made.what) in before]


def _row(mine: Study, made: Promise, other: Promise) -> Json:
    system = mine.machine.show
    moved = views.change(made, other.value, system, is_kept=True)
    a, b = views.text_of(made, system), _beside(made, other, system)
    return {
        "label": views.label(made),
        "what": made.what,
        "a": a,
        "b": b,
        "change": moved["change"],
        "better": moved["better"],
    }


def _beside(made: Promise, other: Promise, system: str) -> str:
    """The other one in the unit of the first."""
    return (
        other.word
        or f"{'at least ' if other.at_least else ''}{show(other.value, other.unit, system, hint=views.unit_of(made, system))}"
    )


@dataclass(frozen=True, slots=True)
class Said:
    """How both machines are named, and what is settled of the one on the desk."""

    mine: str
    theirs: str
    settled: tuple[Study, Mapping[tuple[str, str], Finding]] | None

    def of(self, found: Finding) -> Finding | None:
        """The settled finding of the desk's machine in place of a typical one; None where it is not known."""
        return self.settled[1].get((found.id, found.subject)) if self.settled else None


def _settled(office: Office) -> tuple[Study, Mapping[tuple[str, str], Finding]] | None:
    """What the desk shows, where it is settled."""
    sheet = office.desk.sheet
    if sheet.study is None or sheet.problems or not sheet.study.settled:
        return None
    return sheet.study, {(f.id, f.subject): f for f in sheet.study.findings}


def _otherwise(ours: Finding, other: Finding, said: Said) -> bool:
    """Whether both are judged otherwise, as it is told."""
    return ours.status is not other.status and (said.of(ours) or ours).status is not other.status


def _stands(study: Study, found: Finding, ours: Finding | None, other: Finding | None, said: Said) -> Json:
    """A finding with its status here (a) and there (b), and both in words."""
    known = said.of(ours) if ours is not None else None
    a = "not asked" if ours is None else str((known or ours).status)
    b = "not asked" if other is None else str(other.status)
    here = f"{said.mine}: {a}{TYPICALLY if ours is not None and known is None else ''}"
    there = f"{said.theirs}: {b}{TYPICALLY if other is not None else ''}"
    shown = (
        views.finding(study, found)
        if known is None or found is not ours or said.settled is None
        else views.finding(said.settled[0], known)
    )
    return {**shown, "a": a, "b": b, "words": f"{there}, {here}"}


def _moved(ours: tuple[Study, Finding], other: tuple[Study, Finding], said: Said) -> Json | None:
    """A finding that is judged the same in both, with its numbers in both; None where they are shown alike."""
    a, b = measured(*ours), measured(*other)
    if a == b:
        return None
    known = (f"{name}: {numbers or 'no number'}" for name, numbers in ((said.theirs, b), (said.mine, a)))
    return {**_stands(*ours, ours[1], other[1], said), "words": ", ".join(known)}
