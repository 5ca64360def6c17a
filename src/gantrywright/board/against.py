"""What the promises are told against: a kept state that was chosen, or the machine as it was opened."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from gantrywright.base.errors import GantrywrightError
from gantrywright.board.book import AS_OPENED, Kept
from gantrywright.board.desk import Desk
from gantrywright.intake.document import parse_toml
from gantrywright.intake.resolve import resolve
from gantrywright.study.promises import promises
from gantrywright.study.study import Study, run

Values = Mapping[tuple[str, str], float | None]
"""Of promises, by subject and name."""


@dataclass(frozen=True, slots=True)
class Against:
    """An earlier machine as far as changes are told against it."""

    kept: dict[str, Any] | None = None
    """Id and name; None for the machine as it was opened."""
    values: Values = field(default_factory=dict)


def values_of(study: Study | None) -> Values:
    """What a machine promises; nothing where there is none."""
    return {(p.subject, p.what): p.value for p in promises(study)} if study is not None else {}


def against(desk: Desk, one: Kept) -> Against:
    """A kept state.

    Raises:
        FileProblems: Its text makes no machine (any more: tables of parts may have changed).
    """
    return Against({"id": one.id, "name": one.name}, values_of(run(resolve(parse_toml(one.text.encode(), desk.path)))))


def chosen(desk: Desk, opened: Values) -> Against:
    """What was chosen last; where nothing was, or it is gone, the newest kept state; the machine as it was opened where there is none.

    Args:
        desk: With its history.
        opened: Promises of the machine as it was opened.
    """
    wanted, kept = desk.chosen(), desk.kept()
    one = next((each for each in kept if each.id == wanted), kept[0] if kept else None)
    if one is None or wanted == AS_OPENED:
        return Against(None, opened)
    try:
        return against(desk, one)
    except GantrywrightError:
        return Against(None, opened)
