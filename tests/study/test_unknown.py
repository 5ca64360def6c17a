"""Any value may be "unknown": there is a machine with findings that say so, or a problem with a place; never a crash."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from gantrywright.base.errors import FileProblems
from gantrywright.findings import Status
from gantrywright.intake.document import read_document, revise
from gantrywright.intake.resolve import resolve
from gantrywright.study.study import run

DEMO = Path(__file__).parents[2] / "src" / "gantrywright" / "data" / "demo"


def leaves(table: dict[str, Any], above: str = "") -> Iterator[str]:
    for key, value in table.items():
        path = f"{above}.{key}" if above else key
        if isinstance(value, dict):
            yield from leaves(value, path)
        else:
            yield path


def test_no_unknown_value_breaks_an_analysis_or_a_check() -> None:
    document = read_document(DEMO / "as-built.toml")
    told, broken = 0, []
    for path in leaves(document.tree):
        try:
            machine = resolve(revise(document, ((path, "unknown"),)))
        except FileProblems:
            told += 1
            continue
        broken += [(path, f.id, f.verdict.missing) for f in run(machine).findings if f.status is Status.BROKEN]
    assert broken == []
    assert told > 20, "what no machine can do without is refused with its place"
