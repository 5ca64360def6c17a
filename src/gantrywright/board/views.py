"""What the page is told of a desk: every number as a ready text in the builder's units, beside its SI value. No number is made here."""

from collections.abc import Iterable, Mapping
from datetime import UTC, datetime
from typing import Any

from gantrywright.base.errors import Problem
from gantrywright.base.quantities import show, unit_for
from gantrywright.board.desk import Desk, Sheet
from gantrywright.findings import Finding, Status
from gantrywright.intake.fields import stage_of
from gantrywright.study.export import finding as exported
from gantrywright.study.promises import Promise, promises
from gantrywright.study.sentences import margin, percent, sentence
from gantrywright.study.study import Study
from gantrywright.study.words import with_band

ORDER = (Status.FAIL, Status.BROKEN, Status.UNKNOWN, Status.WATCH, Status.OK)
MORE_IS_BETTER: Mapping[str, bool | None] = {"mass": None, "cost": False, "wall error": False, "runs": None}
"""Of a promise that grows: better, worse or neither; all others are better when they grow."""
NOTICED = 0.002
"""A promise that moved by less than this share did not change for the eye."""

Json = dict[str, Any]


def verdict(study: Study | None) -> Json:
    """Counts by status, and the whole in a few words."""
    counts = {str(status): study.count(status) if study is not None else 0 for status in ORDER}
    return {**counts, "words": _verdict_words(counts) if study is not None else "no machine yet"}


def _verdict_words(counts: Mapping[str, int]) -> str:
    said = {"fail": "fail", "broken": "broken", "unknown": "unknown", "watch": "to watch"}
    told = [f"{counts[name]} {word}" for name, word in said.items() if counts[name]]
    return ", ".join(told) if told else f"all {counts['ok']} checks pass"


def promised(study: Study, whole: Study | None, kept: Mapping[tuple[str, str], float | None]) -> list[Json]:
    """What the machine can promise, with the change since the kept state.

    Args:
        study: As it is known now.
        whole: As it was settled last: its bands stand, marked as stale, until new ones come.
        kept: Values of the kept state by subject and name; empty where nothing is kept.
    """
    old = {} if whole is None or study.settled else {(p.subject, p.what): p for p in promises(whole)}
    return [_promise(study, made, old.get((made.subject, made.what)), kept) for made in promises(study)]


def _promise(study: Study, made: Promise, before: Promise | None, kept: Mapping[tuple[str, str], float | None]) -> Json:
    system = study.machine.show
    if made.pending and before is not None:
        made = before  # what was known of it stands, marked as stale, until it is worked out again
    low, high = (made.low, made.high) if before is None else (before.low, before.high)
    hint = unit_of(made, system)
    band = with_band(made.value, low, high, made.unit, system, hint) if made.value is not None else ""
    told = {
        "subject": made.subject, "what": made.what, "label": label(made), "text": text_of(made, system),
        "band": band.partition("(")[2].rstrip(")") if "(" in band else "", "wanted": show(made.wanted, made.unit, system, hint=hint) if made.wanted else "",
        "beside": made.beside, "reached": reached(made), "undecided": made.undecided, "binds": made.binds, "place": made.place, "figure": made.figure, "stale": not study.settled,
        "value": made.value, "unit": made.unit,
    }  # fmt: skip
    return {**told, **change(made, kept.get((made.subject, made.what)), system, is_kept=bool(kept))}


def label(made: Promise) -> str:
    """``X rapid``, ``frames wall error``, ``mass``."""
    whose = made.subject.removeprefix("axis.").upper() if made.subject.startswith("axis.") else made.subject.removeprefix("job.")
    return made.what if made.subject == "machine" else f"{whose} {made.what}"


def text_of(made: Promise, system: str) -> str:
    """Its word, or its number in its unit."""
    return made.word or f"{'at least ' if made.at_least else ''}{show(made.value, made.unit, system, hint=unit_of(made, system))}"


def unit_of(made: Promise, system: str) -> str:
    """The one unit in which a promise, its band, what is wanted and its change are told; that of what is wanted where it is unknown."""
    return unit_for(made.value or made.wanted or 0.0, made.unit, system)


def reached(made: Promise) -> bool | None:
    """Whether the typical value is as good as what is wanted; None where one of them is not known, or neither way is better.

    None too where the check that would judge it cannot. A lower bound may be over a limit for sure, never under it.
    """
    more = MORE_IS_BETTER.get(made.what, True)
    if more is None or not made.wanted or made.value is None or made.undecided:
        return None
    if made.at_least and (made.value < made.wanted if more else made.value <= made.wanted):
        return None
    return made.value >= made.wanted if more else made.value <= made.wanted


def change(made: Promise, before: float | None, system: str, *, is_kept: bool) -> Json:
    """How a promise stands against an earlier one: text with sign, direction, and whether that is better."""
    nothing = {"change": "", "changed": "", "better": None}
    if not is_kept or before is None or made.value is None:
        return nothing
    moved = made.value - before
    if abs(moved) <= NOTICED * max(abs(before), abs(made.value)):
        return nothing
    up = moved > 0
    good = None if made.at_least else MORE_IS_BETTER.get(made.what, True)  # a bound may grow because a price became known
    share = f" ({percent(moved / before)})" if before else ""
    text = f"{'+' if up else '-'}{show(abs(moved), made.unit, system, hint=unit_of(made, system))}{share}"
    return {"change": text, "changed": "up" if up else "down", "better": None if good is None else good is up}


def findings(study: Study) -> list[Json]:
    """All findings, worst first, those that pass too."""
    return [finding(study, found) for found in study.worst()]


def finding(study: Study, found: Finding) -> Json:
    """One finding in a line."""
    left = margin(found)
    return {
        "key": f"{found.id}|{found.subject}", "id": found.id, "subject": found.subject, "part": found.subject.partition(" (")[0], "status": str(found.status),
        "title": found.check.title, "sentence": sentence(study, found), "margin": percent(left) if left else "",
        "settled": study.settled, "pending": found.id in study.pending, "stage": stage_of(found.subject, found.id),
    }  # fmt: skip


def opened(study: Study, found: Finding) -> Json:
    """The long form of a finding, with the changes that were tried for it."""
    data = exported(found)
    tried = {remedy.words: remedy for remedy in found.remedies}
    remedies = [
        {
            "words": change.words, "mends": tried[change.words].mends if change.words in tried else False,
            "harms": tried[change.words].harms if change.words in tried else False,
            "effects": list(tried[change.words].effects) if change.words in tried else ["not tried yet"],
            "edits": [list(edit) for edit in change.edits], "tried": change.words in tried,
        }
        for change in found.verdict.changes
    ]  # fmt: skip
    figure = data["figure"] if data["figure"] in study.results.ledger else ""  # one of before the change may not be worked out yet
    return {
        **finding(study, found), "why": data["why"], "source": data["source"], "note": data["note"], "remedy": data["remedy"],
        "remedies": remedies, "figure": figure, "place": data["place"], "missing": data["missing"], "settle": data["settle"],
        "probability": data["probability"],
    }  # fmt: skip


def problem(told: Problem, folder: str) -> Json:
    """One thing that must be mended before there is a machine."""
    name = told.file.removeprefix(folder).lstrip("/\\")
    return {
        "place": f"{name}:{told.line}" if told.line else name,
        "line": told.line or None,
        "path": told.path,
        "message": told.message,
    }


def problems(told: Iterable[Problem], desk: Desk) -> list[Json]:
    """All of them."""
    return [problem(each, str(desk.path.parent)) for each in told]


def title(desk: Desk, sheet: Sheet) -> Json:
    """The title block, with the field names of ISO 7200."""
    study = sheet.study
    document = sheet.document or sheet.good
    tree = document.tree.get("machine", {}) if document is not None else {}
    last, count = (desk.book.last_done(), desk.book.count_done()) if desk.book else (None, 0)
    system = study.machine.show if study is not None else "metric"
    return {
        "title": study.machine.name if study is not None else desk.path.stem, "document_type": "Design of a machine", "owner": str(tree.get("owner", "")),
        "identification": desk.path.name, "revision": str(count), "date_of_issue": when(last.at)[:10] if last else "",
        "units": "mm, N, m/min" if system == "metric" else "in, lbf, in/min", "sheet": "1 / 1", "verdict": verdict(study)["words"],
    }  # fmt: skip


def when(at: float) -> str:
    """A moment as people write it, local time."""
    return datetime.fromtimestamp(at, UTC).astimezone().strftime("%Y-%m-%d %H:%M")
