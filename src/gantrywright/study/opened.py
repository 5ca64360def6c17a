"""Opens one figure or one value: what it is, what it comes from, what uses it."""

from dataclasses import dataclass
from typing import Any

from gantrywright.base.errors import NotFound
from gantrywright.base.names import nearest
from gantrywright.findings import Finding
from gantrywright.results.ledger import Figure
from gantrywright.study.export import value, working
from gantrywright.study.links import Links
from gantrywright.study.study import Study

FEW = 10
"""Names that are told where nothing bears the one asked for."""


@dataclass(frozen=True, slots=True)
class Opened:
    """What ``--show`` opens: a figure, a value, or a figure and the value of the same path that it is made of."""

    path: str
    figure: dict[str, Any] | None
    value: dict[str, Any] | None
    used_by: tuple[str, ...]
    findings: tuple[Finding, ...]


def opened(study: Study, path: str) -> Opened:
    """Open a figure or a value of the machine.

    Raises:
        NotFound: There is neither; names the nearest of both.
    """
    links = Links(study)
    figure = study.results.ledger[path] if path in study.results.ledger else None  # noqa: SIM401 - a ledger is no mapping
    stated = study.machine.stated.get(path)
    if figure is None and stated is None:
        raise NotFound(_nothing(study, path))
    if figure is not None and stated is not None and stated.path != path:
        stated = None  # another value that only a short path would lead to
    at = path if stated is None else stated.path
    return Opened(
        at, None if figure is None else working(study, figure, links), None if stated is None else value(study, stated),
        links.used_by(at), links.rests_on(at),
    )  # fmt: skip


def family(study: Study, path: str) -> tuple[Figure, ...]:
    """The figures below a path that is itself neither a figure nor a value."""
    if path in study.results.ledger or study.machine.stated.get(path) is not None:
        return ()
    return tuple(figure for figure in study.results.ledger if figure.path.startswith(f"{path.rstrip('.')}."))


def _nothing(study: Study, path: str) -> str:
    figures, stated = [figure.path for figure in study.results.ledger], list(study.machine.stated)
    below = [name for name in (*figures, *stated) if path in name]
    if below:
        more = f" and {len(below) - FEW} more" if len(below) > FEW else ""
        return f"no figure and no value {path!r}; those that contain it: {', '.join(below[:FEW])}{more}"
    near = dict.fromkeys((*nearest(path, figures, 3), *nearest(path, stated, 3)))
    return f"no figure and no value {path!r}" + (f"; near: {', '.join(near)}" if near else "") + " (--figures lists all figures)"
