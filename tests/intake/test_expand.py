"""A machine whose recipes are written out is the same machine."""

import tomllib
from copy import deepcopy
from dataclasses import replace

import pytest
from helper_reading import EXAMPLES, MACHINES

from gantrywright.intake.document import read_document
from gantrywright.intake.expand import expanded_text
from gantrywright.intake.resolve import resolve


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_expanded_text_gives_the_same_machine(name: str) -> None:
    document = read_document(MACHINES / f"{name}.toml")
    listed = tomllib.loads(expanded_text(document))
    tree = deepcopy(document.tree)
    axes = listed.pop("axis", {})
    tree |= listed
    tree["axis"] |= {key: {**table, "travel": tree["axis"][key]["travel"]} for key, table in axes.items()}
    first, second = resolve(document), resolve(replace(document, tree=tree))
    assert not any("recipe" in table for body, table in listed.items())
    assert [solid.path for solid in second.solids] == [solid.path for solid in first.solids]
    for one, other in zip(first.solids, second.solids, strict=True):
        assert other.centre == pytest.approx(one.centre, abs=1e-9), one.path
        assert other.size == pytest.approx(one.size, abs=1e-9), one.path
        assert other.mass == (pytest.approx(one.mass, rel=1e-9) if one.mass is not None else None), one.path
    assert [joint.path for joint in second.joints] == [joint.path for joint in first.joints]
