"""Two machines side by side: the file on the desk against a kept state or another file."""

from functools import lru_cache
from pathlib import Path
from typing import Any

from gantrywright.base.errors import NotFound
from gantrywright.base.quantities import show
from gantrywright.board import views
from gantrywright.board.office import Office
from gantrywright.findings import Finding
from gantrywright.intake.document import parse_toml, read_document
from gantrywright.intake.resolve import resolve
from gantrywright.pictures import PICTURES, Picture, together
from gantrywright.study.promises import Promise, promises
from gantrywright.study.study import Study, run

Json = dict[str, Any]


def compared(office: Office, other: str) -> Json:
    """Promises and findings of the desk (a) beside those of another machine (b), both from typical values.

    Args:
        office: Whose desk it is.
        other: ``kept:ID`` or ``file:NAME``.
    """
    mine = office.desk.sheet.study
    if mine is None:
        raise NotFound("the file makes no machine yet; there is nothing to compare")
    theirs, name = _other(office, other)
    rows = _rows(mine, theirs)
    ours, others = ({(f.id, f.subject): f for f in study.findings if str(f.status) != "ok"} for study in (mine, theirs))
    both = [key for key in ours if key in others and ours[key].status != others[key].status]
    return {
        "names": [office.desk.path.name, name], "promises": [row for row in rows if row["what"] not in ("cost", "mass")],
        "findings": {
            "only_a": [views.finding(mine, f) for key, f in ours.items() if key not in others],
            "only_b": [views.finding(theirs, f) for key, f in others.items() if key not in ours],
            "both_changed": [_both(mine, theirs, ours[key], others[key]) for key in both],
        },
        "cost": next((row for row in rows if row["what"] == "cost"), None), "mass": next((row for row in rows if row["what"] == "mass"), None),
        "pictures": list(PICTURES),
    }  # fmt: skip


def picture_of_both(office: Office, name: str, other: str) -> Picture:
    """A picture of the desk's machine and another on one scale, both from typical values.

    Args:
        office: Whose desk it is.
        name: Of the picture.
        other: ``kept:ID`` or ``file:NAME``.
    """
    mine = office.desk.sheet.study
    if mine is None:
        raise NotFound("the file makes no machine yet; there is nothing to compare")
    theirs, called = _other(office, other)
    return together(name, mine, theirs, (office.desk.path.name, called))


@lru_cache(maxsize=2)
def _typical(text: bytes, path: Path, _: int) -> Study:
    """Typical answers of a machine that is not on the desk; kept while all its pictures are asked for."""
    return run(resolve(parse_toml(text, path)))


def _other(office: Office, which: str) -> tuple[Study, str]:
    kind, _, rest = which.partition(":")
    desk = office.desk
    if kind == "kept":
        found = next((one for one in desk.kept() if str(one.id) == rest), None)
        if found is None:
            raise NotFound(f"there is no kept state {rest!r}")
        return _typical(found.text.encode(), desk.path, desk.sheet.answers), found.name
    if kind == "file":
        file: Path = office.shelf.found(rest)
        return _typical(read_document(file).text.encode(), file, desk.sheet.answers), file.name
    raise NotFound(f"compare with kept:ID or file:NAME, not with {which!r}")


def _rows(mine: Study, theirs: Study) -> list[Json]:
    before = {(p.subject, p.what): p for p in promises(theirs)}
    return [_row(mine, made, before[(made.subject, made.what)]) for made in promises(mine) if (made.subject, made.what) in before]


def _row(mine: Study, made: Promise, other: Promise) -> Json:
    system = mine.machine.show
    axis = made.subject.removeprefix("axis.").upper() if made.subject.startswith("axis.") else ""
    moved = views.change(made, other.value, system, is_kept=True)
    a, b = (show(value, made.unit, system) if value is not None else "unknown" for value in (made.value, other.value))
    return {
        "label": f"{axis} {made.what}".strip(),
        "what": made.what,
        "a": a,
        "b": b,
        "change": moved["change"],
        "better": moved["better"],
    }


def _both(mine: Study, theirs: Study, ours: Finding, other: Finding) -> Json:
    return {
        **views.finding(mine, ours),
        "a": str(ours.status),
        "b": str(other.status),
        "other": views.finding(theirs, other)["sentence"],
    }
