"""Rules on defaults: every one has a source, and every uncertain one a band."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from gantrywright.base.quantities.kinds import SCALARS
from gantrywright.base.sources import PLAIN, sources
from gantrywright.catalog.columns import columns_of
from gantrywright.catalog.kinds import KINDS
from gantrywright.catalog.tables import defaults_of
from gantrywright.intake.document import read_document
from gantrywright.intake.grammar import ROOT
from gantrywright.intake.grammar.recipes import BODY_TABLES
from gantrywright.intake.grammar.shape import Key, Table
from gantrywright.intake.resolve import resolve
from gantrywright.intake.values import default_of

MACHINES = Path(__file__).parents[1] / "machines"
CHOSEN = {
    "altitude": "where the shop stands is no matter of chance: sea level until it is said",
    "stops": "the builder sets them: a choice of the design",
    "end_loss": "the builder has the ends turned: a choice of the design",
    "per_rail": "a choice of the design",
    "safety": "how much more shall hold than pulls: a choice",
    "microsteps": "a switch on the driver: a choice of the design",
}
"""Quantities that are taken without a band, and why."""


def _keys(table: Table, seen: set[int]) -> Iterator[Key]:
    if id(table) in seen:
        return
    seen.add(id(table))
    yield from table.defaults
    for sub in table.sub_map.values():
        yield from _keys(sub.table, seen)


def _all_keys() -> list[Key]:
    seen: set[int] = set()
    return [key for table in (ROOT, *BODY_TABLES.values()) for key in _keys(table, seen)]


def _known(source: str) -> bool:
    return source in PLAIN - {""} or source in sources()


def test_every_default_of_the_file_has_a_source() -> None:
    keys = _all_keys()
    assert len(keys) > 40
    assert [key.name for key in keys if not _known(key.source)] == []


def test_every_uncertain_default_of_the_file_has_a_band() -> None:
    plain = {
        key.name for key in _all_keys()
        if key.source != "definition" and key.kind in (*SCALARS, "number") and default_of(key).spread is None
    }  # fmt: skip
    assert plain <= set(CHOSEN)


@pytest.mark.parametrize("kind", KINDS)
def test_every_default_of_a_part_has_a_source_and_a_band(kind: str) -> None:
    for name, cell in defaults_of(kind).items():
        assert _known(cell.source), name
        if cell.source != "definition" and columns_of(KINDS[kind])[name].kind in (*SCALARS, "number", "count"):
            assert cell.spread is not None or name in CHOSEN, name


@pytest.mark.parametrize("name", ["fixed_gantry", "long_bed", "salvaged"])
def test_every_default_of_a_machine_can_be_told(name: str) -> None:
    """Those that placing brings in are among them: stiffness of blocks, stages."""
    stated = resolve(read_document(MACHINES / f"{name}.toml")).stated
    told = [stated[path] for path in stated if stated[path].origin.kind == "default"]
    assert any("stiffness" in found.path for found in told)
    for found in told:
        assert found.origin.text, found.path
        assert _known(found.origin.source), found.path
        number = isinstance(found.value, float) and found.origin.source != "definition"
        assert not number or found.spread is not None or found.path.rpartition(".")[2] in CHOSEN, found.path
