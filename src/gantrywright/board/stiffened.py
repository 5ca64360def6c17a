"""What to stiffen first, as the page tells it: every change with its numbers as ready texts, and the edits that would make it."""

from typing import Any

from gantrywright.base.quantities import show
from gantrywright.base.samples import typical
from gantrywright.model.machine import Machine
from gantrywright.study.standing import no_answer, warning
from gantrywright.study.stiffen import ESTIMATED, Gain, Stiffening, place_in_words
from gantrywright.study.study import Study

LITTLE = 0.002
"""Changes that take away less of the give than this are only counted."""

Json = dict[str, Any]


def stiffened(found: Stiffening | None, study: Study) -> Json:
    """All of it; where the structure has no answer, why."""
    if found is None:
        why = no_answer(study.results.structure)
        return {"lead": "", "none": why, "warning": "", "rows": [], "estimate": "", "little": 0, "together": None, "refused": []}
    machine = study.machine
    worth = [gain for gain in found.gains if abs(gain.gain) >= LITTLE]
    place = place_in_words(found.before.pose, machine.show)
    return {
        "lead": f"{show(typical(found.before.least), 'N/m', machine.show)} at the tool in the softest direction, at the softest place ({place})",
        "none": [], "warning": warning(study), "rows": [_row(gain, machine) for gain in worth],
        "estimate": f"About: {ESTIMATED}" if any(gain.estimated for gain in worth) else "", "little": len(found.gains) - len(worth),
        "together": None if found.together is None else _row(found.together, machine),
        "refused": [{"words": each.words, "reason": each.reason, "share": _share(each.share)} for each in found.refused],
    }  # fmt: skip


def _row(gain: Gain, machine: Machine) -> Json:
    return {
        "words": gain.words, "edits": [list(edit) for edit in gain.edits], "parts": list(gain.groups),
        "stiffness": show(gain.least, "N/m", machine.show), "give": _give(gain.gain), "holds": _share(gain.share),
        "mass": _more(gain.mass, machine), "moving": _more(gain.moving, machine), "cost": _cost(gain, machine), "notes": list(gain.notes),
    }  # fmt: skip


def _give(gain: float) -> str:
    """How much less the tool gives, with its sign: less is what is wanted."""
    return f"{-100 * gain:+.1f} %"


def _share(share: float) -> str:
    return f"{100 * share:.0f} %"


def _more(mass: float | None, machine: Machine) -> str:
    """Mass that is added, with its sign; "unknown" where it is."""
    if mass is None:
        return "unknown"
    text = show(abs(mass), "kg", machine.show)
    return f"{'+' if mass > 0 else '-' if mass < 0 else ''}{text}"


def _cost(gain: Gain, machine: Machine) -> str:
    return "unknown" if gain.cost is None else f"{'about ' if gain.estimated else ''}{gain.cost:.0f} {machine.currency}"
