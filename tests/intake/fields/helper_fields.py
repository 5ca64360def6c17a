"""Demo machines, read once, and a walk over all their tables."""

from collections.abc import Iterator
from functools import cache
from pathlib import Path

import gantrywright.data
from gantrywright.intake.document import Document, read_document
from gantrywright.intake.fields import FieldGroup, fields_of, stages
from gantrywright.intake.resolve import resolve
from gantrywright.model.machine import Machine

DEMO = Path(gantrywright.data.__file__).parent / "demo"
MACHINES = Path(__file__).parents[2] / "machines"
FILES = {
    **{name: DEMO / f"{name}.toml" for name in ("as-built", "bench", "first-idea")},
    **{name: MACHINES / f"{name}.toml" for name in ("fixed_gantry", "tube_bridge", "long_bed", "salvaged")},
}


@cache
def opened(name: str) -> tuple[Document, Machine]:
    """A machine file and its machine."""
    document = read_document(FILES[name])
    return document, resolve(document)


@cache
def groups(name: str) -> tuple[FieldGroup, ...]:
    """Every table that can be reached from the stages and from the root."""
    return tuple(_walk(*opened(name)))


def _walk(document: Document, machine: Machine) -> Iterator[FieldGroup]:
    seen: set[str] = set()
    ahead = ["", *(path for stage in stages(document, machine) for path, _ in stage.groups)]
    while ahead:
        path = ahead.pop(0)
        if path not in seen:
            seen.add(path)
            group = fields_of(document, machine, path)
            yield group
            ahead.extend(group.groups)
