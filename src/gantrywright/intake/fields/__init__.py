"""What of a machine file may be edited, as data made from the grammar and from the values in force.

Nothing is listed twice: a key that is new in the grammar is a field without a line here.
"""

from gantrywright.base.errors import Problem
from gantrywright.intake.document import Document
from gantrywright.intake.fields.checking import problem_of
from gantrywright.intake.fields.choices import choices_at
from gantrywright.intake.fields.force import Force
from gantrywright.intake.fields.group import group_of
from gantrywright.intake.fields.records import Addable, Edit, Field, FieldGroup, PartChoice, Stage
from gantrywright.intake.fields.stages import stage_of, stages_of
from gantrywright.model.machine import Machine

__all__ = [
    "Addable",
    "Edit",
    "Field",
    "FieldGroup",
    "PartChoice",
    "Stage",
    "check_text",
    "choices_of",
    "fields_of",
    "stage_of",
    "stages",
]


def fields_of(document: Document, machine: Machine | None, path: str) -> FieldGroup:
    """The fields of the table that a path leads to: of the file, of a drawn piece, or of a part that a recipe made.

    Args:
        document: The machine file.
        machine: What it made, or last made; None where it never made one.
        path: A dotted path; empty for the whole file.

    Raises:
        NotFound: The path leads nowhere.
    """
    return group_of(Force(document, machine), path)


def choices_of(document: Document, path: str, machine: Machine | None = None) -> tuple[PartChoice, ...]:
    """Rows of the parts tables, or things of the machine, that may be named at a path, with numbers in the units of the machine.

    Args:
        document: The machine file.
        path: Of the key that names one.
        machine: What the file made; without it only what stands in the file itself is known.

    Raises:
        NotFound: The path leads nowhere.
    """
    return choices_at(document, machine, path)


def stages(document: Document, machine: Machine | None) -> tuple[Stage, ...]:
    """The steps of a design, each with its tables."""
    return stages_of(Force(document, machine))


def check_text(document: Document, path: str, text: str) -> Problem | None:
    """What is wrong with a text as the value at a path, as the reader would say it; None where it is taken.

    Quick: no machine is made, so that what only the whole machine can tell is not told.
    """
    return problem_of(document, path, text)
