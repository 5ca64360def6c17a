"""Rules on every figure of whole machines: it says what it is, opens to what it was made of, and is written once."""

from pathlib import Path
from typing import Any

import numpy as np
import pytest

from gantrywright.base.sources import PLAIN, sources
from gantrywright.base.values import PhaseCurrent, Rating
from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import resolve
from gantrywright.results.ledger import Figure, Ledger
from gantrywright.study.links import Links
from gantrywright.study.study import Study, run, simulated

ROOT = Path(__file__).parents[2]
MACHINES = (*sorted((ROOT / "src/gantrywright/data/demo").glob("*.toml")), *(
    ROOT / "tests/machines" / f"{name}.toml" for name in ("fixed_gantry", "long_bed", "salvaged")
))  # fmt: skip
NO_ARITHMETIC = {"axis.z.fall"}
"""Figures without inputs: a brake holds."""


@pytest.fixture(scope="module", params=MACHINES, ids=lambda path: path.stem)
def study(request: pytest.FixtureRequest) -> Study:
    return simulated(run(resolve(read_document(request.param))))


def test_a_figure_has_title_formula_and_source(study: Study) -> None:
    for figure in study.results.ledger:
        assert len(figure.title) > 8, figure.path
        assert not figure.title.endswith("."), figure.path
        assert len(figure.formula) > 4, figure.path
        ids = [part.strip() for part in figure.source.replace(";", ",").split(",")]
        assert figure.source in PLAIN - {""} or all(part in sources() or part in PLAIN for part in ids), (
            figure.path,
            figure.source,
        )


def test_a_figure_has_inputs(study: Study) -> None:
    assert {figure.path for figure in study.results.ledger if not figure.inputs} <= NO_ARITHMETIC


def test_every_input_says_where_it_is_from(study: Study) -> None:
    silent = [
        f"{figure.path}: {given.name}"
        for figure in study.results.ledger
        for given in figure.inputs
        if not given.path and not given.note
    ]
    assert silent == []


def test_every_input_leads_to_a_figure_or_a_value(study: Study) -> None:
    links = Links(study)
    lost = [
        f"{figure.path}: {given.path}" for figure in study.results.ledger for given in figure.inputs
        if given.path and not links.leads_to(figure, given)
    ]  # fmt: skip
    assert lost == []


def test_an_input_is_the_value_that_it_leads_to(study: Study) -> None:
    """Unless a note says what was done to it."""
    links, ledger, stated = Links(study), study.results.ledger, study.machine.stated
    other = []
    for figure in ledger:
        for given in figure.inputs:
            path = links.leads_to(figure, given)
            if not path or given.note:
                continue
            there = ledger[path].value if path in ledger and path != figure.path else stated[path].value
            if not _equal(given.value, there):
                other.append(f"{figure.path}: {given.name} = {given.value}, {path} = {there}")
    assert other == []


def _equal(first: Any, second: Any) -> bool:
    first, second = (v.force if isinstance(v, Rating) else v.value if isinstance(v, PhaseCurrent) else v for v in (first, second))
    if isinstance(first, str) or first is None or isinstance(second, str) or second is None:
        return bool(first == second)
    return bool(np.all(np.isclose(np.asarray(first, dtype=float), np.asarray(second, dtype=float), rtol=1e-9, atol=0)))


def test_no_figure_bears_the_path_of_a_value_that_it_is_not_made_of(study: Study) -> None:
    stated = set(study.machine.stated)
    for figure in study.results.ledger:
        if figure.path in stated:
            assert figure.path in {given.path for given in figure.inputs}, figure.path


def test_no_figure_is_written_twice_with_two_meanings(study: Study, monkeypatch: pytest.MonkeyPatch) -> None:
    written: dict[str, set[str]] = {}

    class Watched(dict[str, Figure]):
        def __setitem__(self, path: str, figure: Figure) -> None:
            written.setdefault(path, set()).add(figure.title)
            super().__setitem__(path, figure)

    def begin(ledger: Ledger) -> None:
        ledger._figures = Watched()

    monkeypatch.setattr(Ledger, "__init__", begin)
    run(study.machine)
    assert len(written) > 200
    assert {path: titles for path, titles in written.items() if len(titles) > 1} == {}


def test_values_of_figures_are_numbers_of_sense(study: Study) -> None:
    for figure in study.results.ledger:
        value = np.asarray(figure.value, dtype=float)
        assert not np.any(np.isnan(value)), figure.path
        if figure.unit in ("kg", "N/m", "Hz", "rad/s", "F", "K", "kg m2"):
            assert np.all(value >= 0), figure.path
        if "efficiency" in figure.path:
            assert np.all((value >= 0) & (value <= 1)), figure.path
        if "share" in figure.path.rpartition(".")[2]:
            assert np.all((value >= 0) & (value <= 1.5)), figure.path
