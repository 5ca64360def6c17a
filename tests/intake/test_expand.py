"""What recipes became can be pasted in their place."""

import re
import tomllib
from pathlib import Path

import pytest
from placed import EXAMPLES, MACHINES, document, machine, places

from gantrywright.intake.document import read_document
from gantrywright.intake.expand import expanded_text
from gantrywright.intake.resolve import resolve


@pytest.mark.parametrize("name", EXAMPLES)
def test_pasted_over_the_bodies_it_is_the_same_machine(name: str, tmp_path: Path) -> None:
    text = expanded_text(document(name))
    bodies = [body.name for body in machine(name).bodies]
    kept = _without_bodies(document(name).text, bodies)
    (tmp_path / "shop.toml").write_text((MACHINES / "shop.toml").read_text("utf-8"), "utf-8")
    path = tmp_path / f"{name}.toml"
    path.write_text(f"{kept}\n{text}", "utf-8")
    other = resolve(read_document(path))
    assert places(other) == places(machine(name))
    assert {(j.path, j.kind, j.bolts, len(j.points)) for j in other.joints} == {
        (j.path, j.kind, j.bolts, len(j.points)) for j in machine(name).joints
    }
    assert {s.path: (s.use.owned, s.use.stock, s.use.price) for s in other.solids} == {
        s.path: (s.use.owned, s.use.stock, s.use.price) for s in machine(name).solids
    }


def test_a_recipe_is_listed_bar_by_bar() -> None:
    tree = tomllib.loads(expanded_text(document("fixed_gantry")))
    assert set(tree["gantry"]["member"]) == {"upright-left", "upright-right", "beam"}
    assert tree["gantry"]["member"]["beam"]["from"] == "-21, 0, 22 in"
    assert "recipe" not in tree["gantry"]


def test_a_slide_stays_a_slide() -> None:
    text = expanded_text(document("salvaged"))
    assert "# [carriage.plate.slide-base]" in text
    assert "# [axis.z.rail.left]" in text
    assert "axis" not in tomllib.loads(text)


def _without_bodies(text: str, bodies: list[str]) -> str:
    """The file less every table of a body."""
    kept, keep = [], True
    for line in text.splitlines():
        found = re.match(r"\[+([a-z]+)", line)
        if found:
            keep = found.group(1) not in bodies
        if keep:
            kept.append(line)
    return "\n".join(kept)
