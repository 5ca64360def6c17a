"""What may be added to a table of the file, and the edits that add it."""

from gantrywright.intake.fields.force import Force
from gantrywright.intake.fields.places import Place
from gantrywright.intake.fields.records import Addable


def addables(force: Force, place: Place) -> tuple[Addable, ...]:
    """Everything that may be added here."""
    return ()
