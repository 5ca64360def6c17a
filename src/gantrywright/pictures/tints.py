"""What the pieces of the machine are coloured by: share of the give, mass, what is owned, findings."""

from collections.abc import Callable, Mapping
from typing import Any

from gantrywright.base.errors import NotFound
from gantrywright.base.quantities import show
from gantrywright.base.samples import typical
from gantrywright.findings import Status
from gantrywright.scene import Piece, scene_of
from gantrywright.study.study import Study

Json = dict[str, Any]
ORDER = (Status.FAIL, Status.BROKEN, Status.UNKNOWN, Status.WATCH, Status.OK)
"""Worst first."""


def tints(study: Study, by: str) -> Json:
    """One value a piece, with the scale that it lies on.

    Args:
        study: Of the machine.
        by: A key of `KINDS`.

    Raises:
        NotFound: There is no such colouring.
    """
    if by not in KINDS:
        raise NotFound(f"pieces are coloured by {', '.join(KINDS)}, not by {by!r}")
    return {"by": by, **KINDS[by](study, scene_of(study.machine).pieces)}


def _give(study: Study, pieces: tuple[Piece, ...]) -> Json:
    """Share of the give at the softest place, in the softest direction."""
    tip = study.results.structure.worst
    shares: dict[str, float] = {}
    for share in tip.shares if tip is not None else ():
        shares[share.part] = shares.get(share.part, 0.0) + typical(share.weakest)
    held = {piece.id: _nearest(piece.part, shares) for piece in pieces}
    rows = [
        {
            "id": number,
            "value": None if value is None else 100 * value,
            "text": "" if value is None else f"{100 * value:.1f} % of the give",
        }
        for number, value in held.items()
    ]
    most = max((value for value in held.values() if value is not None), default=0.0)
    words = "Share of the give between tool and work that each part and each joint holds, at the softest place."
    return {"pieces": rows, "scale": {"low": 0.0, "high": 100 * most, "unit": "%", "kind": "amount"}, "words": words}


def _nearest(part: str, shares: Mapping[str, float]) -> float | None:
    """The share of a part, or of all that lies below it."""
    if part in shares:
        return shares[part]
    below = [value for path, value in shares.items() if path.startswith(f"{part}.")]
    return sum(below) if below else None


def _mass(study: Study, pieces: tuple[Piece, ...]) -> Json:
    system = study.machine.show
    rows = [{"id": p.id, "value": p.mass, "text": "" if p.mass is None else show(p.mass, "kg", system)} for p in pieces]
    most = max((p.mass for p in pieces if p.mass is not None), default=0.0)
    return {"pieces": rows, "scale": {"low": 0.0, "high": most, "unit": "kg", "kind": "amount"}, "words": "Mass of each part."}


def _owned(_: Study, pieces: tuple[Piece, ...]) -> Json:
    words = {"owned": "owned", "buy": "to buy", "make": "to make", "unknown": "unknown"}
    rows = [{"id": p.id, "value": p.owned, "text": words[p.owned]} for p in pieces]
    return {
        "pieces": rows,
        "scale": {"low": 0.0, "high": 0.0, "unit": "", "kind": "state"},
        "words": "What is owned, what is still to buy or to make.",
    }


def _finding(study: Study, pieces: tuple[Piece, ...]) -> Json:
    worst: dict[str, Status] = {}
    for found in study.findings:
        subject = found.subject.partition(" (")[0]
        if subject not in worst or ORDER.index(found.status) < ORDER.index(worst[subject]):
            worst[subject] = found.status
    rows = []
    for piece in pieces:
        status = _worst_of(piece.part, worst)
        rows.append(
            {"id": piece.id, "value": str(status) if status else None, "text": str(status) if status else "no check speaks of it"}
        )
    words = "Worst finding of each part, or of the nearest that it belongs to."
    return {"pieces": rows, "scale": {"low": 0.0, "high": 0.0, "unit": "", "kind": "state"}, "words": words}


def _worst_of(part: str, worst: Mapping[str, Status]) -> Status | None:
    """That of the part, of what lies below it, else of the nearest table above."""
    own = [status for path, status in worst.items() if path == part or path.startswith(f"{part}.")]
    if own:
        return min(own, key=ORDER.index)
    above = part.rpartition(".")[0]
    while above.count("."):
        if above in worst:
            return worst[above]
        above = above.rpartition(".")[0]
    return None


KINDS: dict[str, Callable[[Study, tuple[Piece, ...]], Json]] = {"give": _give, "mass": _mass, "owned": _owned, "finding": _finding}
