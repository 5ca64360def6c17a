"""Whatever stands in a file: it is read, or its problems are told, and nothing else happens."""

import tomllib
from contextlib import suppress
from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from helper_reading import EXAMPLES, MACHINES, MADE
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from gantrywright.base.errors import FileProblems
from gantrywright.intake.document import Document, parse_toml, put, read_document
from gantrywright.intake.reading import Reading

QUIET = settings(deadline=None, suppress_health_check=[HealthCheck.too_slow], max_examples=120)


@cache
def text_of(name: str) -> str:
    return (MACHINES / f"{name}.toml").read_text("utf-8")


@cache
def paths_of(name: str) -> list[tuple[str, ...]]:
    def walk(tree: dict[str, Any], above: tuple[str, ...]) -> list[tuple[str, ...]]:
        found: list[tuple[str, ...]] = []
        for key, value in tree.items():
            found.append((*above, key))
            if isinstance(value, dict):
                found.extend(walk(value, (*above, key)))
        return found

    return walk(tomllib.loads(text_of(name)), ())


def read_all(document: Document, name: str) -> Reading:
    reading = Reading(document)
    for body in reading.bodies():
        reading.recipe(body)
        reading.body(body, MADE[name].get(body, {}))
        reading.axis(body)
    for axis in ("x", "y", "z"):
        reading.axis(axis, MADE[name].get(f"axis.{axis}", {}))
    reading.finish()
    assert all(str(problem) for problem in reading.problems)
    assert reading.origins is not None
    return reading


@given(st.binary(max_size=80))
def test_any_bytes(raw: bytes) -> None:
    with suppress(FileProblems):
        assert parse_toml(raw, Path("router.toml")).text is not None


@QUIET
@given(st.sampled_from(EXAMPLES), st.data())
def test_an_example_with_a_piece_of_its_text_changed(name: str, data: st.DataObject) -> None:
    text = text_of(name)
    start = data.draw(st.integers(12, len(text)))
    stop = start + data.draw(st.integers(0, 12))
    piece = data.draw(st.text(alphabet='abxyz0159 .,"[]{}=-_\n#+()', max_size=6))
    try:
        document = parse_toml((text[:start] + piece + text[stop:]).encode(), MACHINES / f"{name}.toml")
    except FileProblems:
        return
    read_all(document, name)


VALUES = st.one_of(
    st.sampled_from(["unknown", "1 mm", "left", "0, 0, 0 mm", "1 x 2 x 3 mm", "tube-80x80x4", "a or b", "8 x M8", "5 A peak", "each", "x" * 50, "1e99 mm", "-1 mm",
                     "0 mm", "1 mm (2..3)", "1 mm +- 900 %", "bed.left@from", "axis.y.rail.left", "\x00", "", "½ in"]),
    st.booleans(), st.integers(-5, 10**20), st.floats(), st.just(date(2026, 1, 1)), st.just([]), st.just(["1 mm"]), st.just([{}]), st.just({}),
    st.just({"part": "rail-20"}), st.just({"each": {"mirror": "each"}, "a": {"mirror": "b"}, "b": {"mirror": "a"}}), st.none(),
    st.just({"a": {"repeat": {"count": 3, "step": "1, 0, 0 mm"}}, "a-2": {"remove": True}, "b": {"mirror": "a-1"}}), st.text(max_size=5),
)  # fmt: skip


@QUIET
@given(st.sampled_from(EXAMPLES), st.data())
def test_an_example_with_any_value_anywhere(name: str, data: st.DataObject) -> None:
    document = read_document(MACHINES / f"{name}.toml")
    for _ in range(data.draw(st.integers(1, 3))):
        path = data.draw(st.sampled_from(paths_of(name)))
        more = data.draw(st.sampled_from([(), ("each",), ("note",), ("holes",), ("repeat",), ("mirror",), ("stock",), ("joint",)]))
        value = data.draw(VALUES)
        try:
            put(document.tree, [*path, *more], value)
        except (TypeError, AttributeError, ValueError, LookupError):
            continue  # an earlier change took the place away
    read_all(replace(document), name)


@pytest.mark.parametrize("name", EXAMPLES)
def test_an_example_without_any_one_table(name: str) -> None:
    for path in (path for path in paths_of(name) if len(path) <= 2):
        document = read_document(MACHINES / f"{name}.toml")
        put(document.tree, list(path), None)
        read_all(document, name)
