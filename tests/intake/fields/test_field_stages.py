"""The stages of a design: every table belongs to one, every check to one."""

import pytest
from helper_fields import FILES, groups, opened

from gantrywright.intake.document import parse_toml
from gantrywright.intake.fields import fields_of, stages
from gantrywright.study.study import run


@pytest.mark.parametrize("name", FILES)
def test_every_finding_belongs_to_one_stage_and_to_findings(name: str) -> None:
    document, machine = opened(name)
    made = stages(document, machine)
    for found in run(machine).findings:
        held = [stage.id for stage in made if stage.holds(found.subject, found.id)]
        assert "findings" in held
        assert 2 <= len(held) <= 3, (found.id, found.subject, held)
        assert "compare" not in held


def test_stages_come_in_the_order_of_a_build() -> None:
    names = [stage.id for stage in stages(*opened("as-built"))]
    assert names == ["work", "frame", "guides", "drives", "spindle", "power", "stiffness", "ringing", "findings", "compare"]


@pytest.mark.parametrize("name", FILES)
def test_every_table_of_the_file_can_be_reached(name: str) -> None:
    document, _ = opened(name)
    reached = {made.path for made in groups(name)} | {field.path for made in groups(name) for field in made.fields}
    for path in document.lines:
        if path not in ("format",) and not path.startswith("chain."):
            known = path in reached or f"{path}.part" in reached or any(other.startswith(f"{path}.") for other in reached)
            assert known, path


@pytest.mark.parametrize("name", FILES)
def test_every_table_of_a_stage_opens(name: str) -> None:
    document, machine = opened(name)
    for stage in stages(document, machine):
        assert stage.title
        assert stage.words
        paths = [path for path, _ in stage.groups]
        assert len(set(paths)) == len(paths)
        for path, title in stage.groups:
            assert title == fields_of(document, machine, path).title


def test_stages_stand_without_a_machine() -> None:
    document = parse_toml(b'format = 1\n[machine]\nname = "x"\nlayout = "nonsense"\n', opened("as-built")[0].path)
    made = {stage.id: stage.groups for stage in stages(document, None)}
    assert ("purpose", "What it is for") in made["work"]
    assert made["drives"] == ()
