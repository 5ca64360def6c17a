"""Rules on the formulas: every number has a unit, every formula a text and a source that exists."""

import importlib
import inspect
import pkgutil
from collections.abc import Callable, Iterator
from typing import Any, get_type_hints

import pytest

import gantrywright.theory
from gantrywright.base.formula import stamp_of, units_of
from gantrywright.base.sources import PLAIN, sources
from gantrywright.base.units import Real


def formulas() -> Iterator[tuple[str, Callable[..., Any]]]:
    for module in pkgutil.walk_packages(gantrywright.theory.__path__, "gantrywright.theory."):
        loaded = importlib.import_module(module.name)
        for name, function in vars(loaded).items():
            if inspect.isfunction(function) and function.__module__ == module.name and hasattr(function, "__stamp__"):
                yield f"{module.name}:{name}", function


FORMULAS = dict(formulas())


def test_there_are_formulas() -> None:
    assert len(FORMULAS) > 60


@pytest.mark.parametrize("name", FORMULAS)
def test_every_number_of_a_formula_has_a_unit(name: str) -> None:
    function = FORMULAS[name]
    hints = get_type_hints(function, include_extras=True)
    bare = [key for key, hint in hints.items() if hint in (float, Real)]
    assert not bare, f"{name}: {bare} without a unit"
    assert set(units_of(function)) >= {"return"}


@pytest.mark.parametrize("name", FORMULAS)
def test_every_formula_names_a_known_source(name: str) -> None:
    stamp = stamp_of(FORMULAS[name])
    assert stamp.text
    assert stamp.source in PLAIN - {""} or stamp.source.split(",")[0].strip() in sources(), stamp.source


@pytest.mark.parametrize("name", FORMULAS)
def test_every_formula_is_explained(name: str) -> None:
    text = inspect.getdoc(FORMULAS[name]) or ""
    assert len(text.split("\n")[0]) > 10


@pytest.mark.parametrize("name", FORMULAS)
def test_numbers_are_given_by_name(name: str) -> None:
    kinds = [p.kind for p in inspect.signature(FORMULAS[name]).parameters.values()]
    assert sum(kind is not inspect.Parameter.KEYWORD_ONLY for kind in kinds) <= 1
