"""Parts of a study that the page asks for one by one, in words of the builder's units."""

from collections.abc import Mapping
from dataclasses import fields, is_dataclass, replace
from typing import Any

from gantrywright.base.errors import NotFound
from gantrywright.base.quantities import show, show_band
from gantrywright.findings import Finding
from gantrywright.intake.fields import FieldGroup
from gantrywright.scene import carried, motion_to_json, scene_of
from gantrywright.study.assumed import assumed
from gantrywright.study.links import Links
from gantrywright.study.opened import opened
from gantrywright.study.posed import posed
from gantrywright.study.study import Study
from gantrywright.study.words import value_in_words

Json = dict[str, Any]


def plain(made: Any) -> Any:
    """Frozen records as plain data; empty fields too."""
    if is_dataclass(made) and not isinstance(made, type):
        return {field.name: plain(getattr(made, field.name)) for field in fields(made)}
    if isinstance(made, Mapping):
        return {str(key): plain(value) for key, value in made.items()}
    if isinstance(made, list | tuple):
        return [plain(each) for each in made]
    return made


def as_it_was(group: FieldGroup) -> FieldGroup:
    """The fields of an earlier text, to be looked at: the file as it is now cannot be read, so nothing can be put into it."""
    still = tuple(replace(field, editable=False, why_not=AS_IT_WAS) for field in group.fields)
    return replace(group, fields=still, can_add=(), can_remove=False)


AS_IT_WAS = "of the last text that could be read; the file as it is cannot be changed here until it can be read again"


def figure(study: Study, path: str) -> Json:
    """A figure or a value, opened."""
    found = opened(study, path)
    links, system = Links(study), study.machine.show
    data = found.figure or {}
    value = found.value or {}
    unit = data.get("unit") or value.get("unit", "")
    number, low, high = (data.get(key, value.get(key)) for key in ("value", "low", "high"))
    return {
        "path": found.path, "title": data.get("title") or value.get("help", "") or found.path, "text": value_in_words(number, unit, system),
        "band": _band(number, low, high, unit, system),
        "formula": data.get("formula", ""), "source": data.get("source") or value.get("source", ""), "origin": value.get("origin", ""),
        "inputs": [_input(study, given) for given in data.get("inputs", [])],
        "used_by": [{"path": name, "title": study.results.ledger[name].title} for name in links.used_by(found.path)],
        "findings": [{"key": f"{f.id}|{f.subject}", "title": f.check.title, "status": str(f.status)} for f in found.findings],
    }  # fmt: skip


def _band(number: Any, low: float | None, high: float | None, unit: str, system: str) -> str:
    """``0.304..0.332``, in the unit in which the value stands beside it; empty where nothing spreads."""
    if low is None or high is None or not isinstance(number, float):
        return ""
    return show_band(low, number, high, unit, system).partition("(")[2].rstrip(")")


def _input(study: Study, given: Mapping[str, Any]) -> Json:
    path = given["path"]
    is_figure = bool(path) and path in study.results.ledger
    return {
        "name": given["name"], "text": value_in_words(given["value"], given["unit"], study.machine.show), "path": path, "note": given["note"],
        "is": "figure" if is_figure else "value" if path else "", "field": bool(path) and path in study.machine.stated,
    }  # fmt: skip


def figures(study: Study) -> list[Json]:
    """Every figure in a line."""
    system = study.machine.show
    return [{"path": f.path, "title": f.title, "text": value_in_words(f.value, f.unit, system)} for f in study.results.ledger]


def defaults(study: Study) -> list[Json]:
    """What was taken where the file is silent."""
    return [
        {"path": row.path, "title": row.help, "text": row.text, "source": row.source, "count": row.count, "paths": list(row.paths)}
        for row in assumed(study)
    ]


def at_pose(study: Study, given: Mapping[str, str]) -> Json:
    """Give and stiffness where the axes stand now."""
    pose = {}
    for axis in study.machine.axes:
        try:
            place = float(given.get(axis.name, axis.drawn))
        except ValueError:
            raise NotFound(f"{axis.name} = {given[axis.name]!r} is no place of an axis, in metres") from None
        pose[axis.name] = min(max(place, 0.0), axis.travel)
    found = posed(study, pose)
    if found is None:
        return {"give": {}, "stiffness": "unknown", "soft": list(study.results.structure.lacking), "off_table": False}
    system = study.machine.show
    return {
        "give": {letter: show(value, "m/N", system) for letter, value in found.give.items()}, "stiffness": show(found.least, "N/m", system),
        "soft": [f"{part}: {100 * share:.0f} % of the give" for part, share in found.soft[:5]], "off_table": not found.over_table,
    }  # fmt: skip


def spot(study: Study, found: Finding) -> Json | None:
    """Where two parts meet, for a finding that speaks of two: both parts, and the pose at which they overlap most."""
    met = next((m for m in study.results.travel.meetings if found.subject == f"{m.a} (against {m.b})"), None)
    return None if met is None else {"parts": [met.a, met.b], "pose": dict(zip("xyz", met.pose, strict=True))}


def motions(study: Study) -> list[Json]:
    """Loads and modes that can be shown moving."""
    structure = study.results.structure
    rows: list[Json] = []
    for shape in structure.drawing.shapes if structure.drawing else ():
        rows.append({"name": shape.name, "title": _spoken(shape.name), "kind": "load", "words": "how the machine gives"})
    named = {mode.number: mode for mode in structure.modes}
    for number, shape in enumerate(structure.modes_drawing.shapes if structure.modes_drawing else (), 1):
        mode = named.get(number)
        heard = (
            show(float(mode.frequency), "Hz", study.machine.show) if mode is not None and isinstance(mode.frequency, float) else ""
        )
        rows.append(
            {
                "name": shape.name,
                "title": mode.name if mode else shape.name,
                "kind": "mode",
                "frequency": heard,
                "words": _held(mode),
            }
        )
    return rows


def _spoken(load: str) -> str:
    """A load as it is chosen: ``X axis accelerating at 1 m/s2`` of ``axis.x accelerating at 1 m/s2``."""
    axis, _, rest = load.removeprefix("axis.").partition(" ")
    return f"{axis.upper()} axis {rest}" if load.startswith("axis.") else load


def _held(mode: Any) -> str:
    return "" if mode is None else ", ".join(f"{part} {100 * share:.0f} %" for part, share in mode.strain[:3])


def motion(study: Study, name: str) -> Json:
    """How every piece moves in one of `motions`."""
    structure = study.results.structure
    for drawing in (structure.drawing, structure.modes_drawing):
        if drawing is not None and any(shape.name == name for shape in drawing.shapes):
            return motion_to_json(carried(scene_of(study.machine), drawing, name))
    raise NotFound(f"there is no motion {name!r}")
