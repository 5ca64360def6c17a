"""Whether a text can stand at a path, as the reader would take it: without making a machine."""

from gantrywright.base.errors import NotFound, Problem
from gantrywright.base.names import nearest_sentence
from gantrywright.base.quantities import SCALARS, show
from gantrywright.intake.document import Document
from gantrywright.intake.edits import typed_as
from gantrywright.intake.fields.choices import rows_beside
from gantrywright.intake.fields.force import Force
from gantrywright.intake.fields.naming import leads, not_found
from gantrywright.intake.fields.one import choices_for, example
from gantrywright.intake.fields.places import Place
from gantrywright.intake.grammar.measured import OBSERVED
from gantrywright.intake.grammar.shape import Key
from gantrywright.intake.trouble import Trouble
from gantrywright.intake.typed import Typist
from gantrywright.intake.values import most_in_words, wanted


def problem_of(document: Document, path: str, text: str) -> Problem | None:
    """What is wrong with a text as the value at a path; None where the reader would take it."""
    force = Force(document, None)
    line = document.line(path)
    file = str(document.path)
    try:
        place = force.places.find(path)
    except NotFound as error:
        return Problem(file, line, path, str(error))
    key = _key(force, place)
    if key is None:
        return Problem(
            file,
            line,
            path,
            f"'{path}' is a table, not a value; write one of its keys: {', '.join([key.name for key in place.table.keys][:6])}",
        )
    told = _read(document, key, path, text) or _not_there(document, force, place, key, text)
    return Problem(file, line, path, f"{_with_value(told, text)}{_allowed(told, key, force.system)}") if told else None


def _key(force: Force, place: Place) -> Key | None:
    """The key that a path names; what a measurement reads is of the kind of what it observes."""
    if place.field and place.key is not None and place.key.kind == "quantity" and place.path.startswith("measured."):
        kind = OBSERVED.get(str(force.raw(f"{place.path}.observe")))
        return Key("value", kind, place.key.help) if kind else place.key
    return place.key if place.field or place.shape == "part" else None


def _read(document: Document, key: Key, path: str, text: str) -> str:
    """What the reader says of the text; empty where it takes it."""
    trouble = Trouble()
    Typist(document, trouble).key(key, typed_as(document.tree, path, text), path)
    return next((problem.message for problem in trouble), "")


def _not_there(document: Document, force: Force, place: Place, key: Key, text: str) -> str:
    """A name that no table or file has."""
    if text == "unknown":
        return ""
    if leads(key) and not key.item_kind:
        return not_found(force, place, key, text)
    kind = key.part_kind or ("material" if key.names == "material" else "")
    if place.shape == "part" and key.name == "part" and place.table.is_part:
        kind = place.table.name.removeprefix("part ")
    if kind and kind != "drive":
        rows = rows_beside(document)
        return (
            "" if text in rows.names(kind) else f"no {kind} '{text}' in the parts tables{nearest_sentence(text, rows.names(kind))}"
        )
    if key.names in ("supply", "outlet"):
        known = choices_for(force, key)
        return "" if text in known else f"no {key.names} '{text}' in this file{nearest_sentence(text, known)}"
    return ""


def _with_value(told: str, text: str) -> str:
    return told if text in told else f"'{text}' {told}"


def _allowed(told: str, key: Key, system: str) -> str:
    """The range that is allowed and a text that would be taken, where the sentence does not say so already."""
    words = []
    if key.least is not None and "from 0 on" not in told and "greater than 0" not in told:
        zero = show(0.0, key.kind, system) if key.kind in SCALARS and key.kind != "money" else "0"
        words.append(
            f"allowed is {wanted(key)} {'of more than' if key.is_positive else 'from'} {zero}{'' if key.is_positive else ' on'}"
        )
    if key.most is not None and "at most" not in told:
        words.append(f"{most_in_words(key, system)} at most")
    sample = example(key, system)
    if sample and sample not in told and "write" not in told.partition("write a")[0]:
        words.append(f'write it as in "{sample}"')
    return f"; {', '.join(words)}" if words else ""
