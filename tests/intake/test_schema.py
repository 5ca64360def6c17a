"""The schema accepts the examples and refuses what an editor can see to be wrong."""

import tomllib
from functools import cache
from typing import Any

import jsonschema
import pytest
from helper_reading import EXAMPLES, MACHINES
from test_mistakes import MISTAKES, F, L

from gantrywright.intake.schema import schema, shop_schema

SEEN = (
    "unit", "comma", "1,200", "a length", "a list", "found a table", "lbf", "peak", "-300", "180 x", "four M8", "whole number", "empty",
    "no key", "no table", "bloks", "direction", "belt", "plate-on-blocks", "moving-gantry", "letters", "each", "no face", "lacks name", "lacks stick_out",
    "lacks stance",
)  # fmt: skip
"""Words of mistakes that lie in one value or one name, which a schema can see."""


@cache
def validator(shop: bool = False) -> Any:
    made = shop_schema() if shop else schema()
    jsonschema.Draft202012Validator.check_schema(made)
    return jsonschema.Draft202012Validator(made)


@pytest.mark.parametrize("name", EXAMPLES)
def test_examples_are_accepted(name: str) -> None:
    tree = tomllib.loads((MACHINES / f"{name}.toml").read_text("utf-8"))
    assert [error.message for error in validator().iter_errors(tree)] == []


def test_the_shop_file_is_accepted_and_a_wrong_one_is_not() -> None:
    tree = tomllib.loads((MACHINES / "shop.toml").read_text("utf-8"))
    assert [error.message for error in validator(True).iter_errors(tree)] == []
    tree["person"]["owner"]["lift"] = tree["person"]["owner"].pop("lifts")
    assert not validator(True).is_valid(tree)


CHOSEN = [m for m in MISTAKES if any(word.startswith(SEEN) for word in m[5])]


def test_most_mistakes_are_of_the_kind_that_a_schema_sees() -> None:
    assert len(CHOSEN) >= 25


@pytest.mark.parametrize(("name", "text", "mistake"), [m[:3] for m in CHOSEN], ids=[f"{m[3]}: {m[2][:40]}" for m in CHOSEN])
def test_mistakes_are_refused(name: str, text: str, mistake: str) -> None:
    tree = tomllib.loads((MACHINES / f"{name}.toml").read_text("utf-8").replace(text, mistake, 1))
    assert not validator().is_valid(tree)


@pytest.mark.parametrize(
    ("value", "good"),
    [("12.7 mm", True), ("1/2 in", True), ('1-1/2"', True), ("5' 2-1/2\"", True), ("3 000 mm", True), ("2.5 mm (2..3)", True), ("1 mm +- 5 %", True),
     ("12.7 µm", True), (".5 in", True), ("12.7", False), ("12.7 kg", False), ("1,5 mm", False), ("unknown", False), ("twelve mm", False)],
)  # fmt: skip
def test_lengths(value: str, good: bool) -> None:
    tree = tomllib.loads((MACHINES / "long_bed.toml").read_text("utf-8"))
    tree["axis"]["y"]["stops"] = value
    assert validator().is_valid(tree) is good


@pytest.mark.parametrize(
    ("name", "text", "mistake"),
    [(F, "ratio = 1.5", "ratio = 0"), (L, "per_rail = 2", "per_rail = 0"), (L, "owned = true }", "owned = true, remaining = 8 }")],
)
def test_bare_numbers_out_of_their_range_are_refused(name: str, text: str, mistake: str) -> None:
    written = (MACHINES / f"{name}.toml").read_text("utf-8")
    assert text in written
    assert not validator().is_valid(tomllib.loads(written.replace(text, mistake, 1)))
