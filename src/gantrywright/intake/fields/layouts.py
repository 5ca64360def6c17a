"""Another chain of bodies: the one that is there, written out so that it can be changed."""

from collections.abc import Iterator

from gantrywright.intake.fields.force import Force
from gantrywright.intake.fields.places import table_of
from gantrywright.intake.fields.records import Addable, Edit
from gantrywright.intake.grammar import LAYOUTS


def other_layouts(force: Force) -> Iterator[Addable]:
    """The chain of bodies in the file itself, for a machine whose layout the program writes."""
    layout = str(force.raw("machine.layout"))
    known = LAYOUTS.get(layout, {})
    if not known:
        return
    written = table_of(force.raw("chain"))
    edits: list[Edit] = [("machine.layout", "own")]
    for name, link in known.items():
        if name in written:
            continue
        if isinstance(link, str):
            edits.append((f"chain.{name}", link))
        elif not link:
            edits.append((f"chain.{name}", "{}"))
        else:
            edits.extend((f"chain.{name}.{key}", text) for key, text in link.items())
    yield Addable("the chain of bodies of its own, to change what carries what", tuple(edits))
