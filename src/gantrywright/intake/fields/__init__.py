"""What of a machine file may be edited, as data made from the grammar and from the values in force."""

from gantrywright.base.errors import Problem
from gantrywright.intake.document import Document
from gantrywright.intake.fields.records import Addable, Edit, Field, FieldGroup, PartChoice, Stage
from gantrywright.model.machine import Machine

__all__ = ["Addable", "Edit", "Field", "FieldGroup", "PartChoice", "Stage", "check_text", "choices_of", "fields_of", "stages"]


def fields_of(document: Document, machine: Machine | None, path: str) -> FieldGroup:
    """The fields of one table."""
    return FieldGroup(path, path)


def choices_of(document: Document, path: str) -> tuple[PartChoice, ...]:
    """Rows of the parts tables that fit a key."""
    return ()


def stages(document: Document, machine: Machine | None) -> tuple[Stage, ...]:
    """The steps of a design."""
    return (Stage("findings", "Findings", "What the checks say.", (), lambda subject, check_id: True),)


def check_text(document: Document, path: str, text: str) -> Problem | None:
    """What is wrong with a text as the value at a path."""
    return None
