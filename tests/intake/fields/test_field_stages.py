"""The stages of a design: every table belongs to one, every finding to one."""

import pytest
from helper_fields import FILES, groups, opened

from gantrywright.intake.document import parse_toml
from gantrywright.intake.fields import fields_of, stage_of, stages
from gantrywright.study.study import run


@pytest.mark.parametrize("name", FILES)
def test_every_finding_is_listed_at_a_stage_whose_tables_hold_its_subject(name: str) -> None:
    document, machine = opened(name)
    tables = {stage.id: {path.split(".")[0] for path, _ in stage.groups} for stage in stages(document, machine)}
    shown = set().union(*tables.values())  # bodies of a bought slide have no table
    placed = [(f, f.subject.partition(" (")[0].split(".")[0]) for f in run(machine).findings if f.id.startswith(("GEO", "FAB"))]
    held = [(f, table) for f, table in placed if table in shown - {"machine"}]
    assert held
    for found, table in held:
        assert table in tables[stage_of(found.subject, found.id)], (found.id, found.subject)


@pytest.mark.parametrize(
    ("subject", "check_id", "stage"),
    [
        ("axis.y", "MOT-101", "drives"),
        ("gantry.beam", "STR-501", "stiffness"),
        ("machine", "STR-601", "ringing"),
        ("spindle.main", "ELE-101", "power"),
        ("job.fittings", "CUT-101", "cut"),
        ("job.fittings", "COM-101", "cut"),
        ("spoilboard", "CUT-107", "cut"),
        ("axis.y", "GEO-102", "guides"),
        ("axis.y.drive.left", "GEO-103", "drives"),
        ("bed.top (against axis.x.drive.main)", "GEO-301", "frame"),
        ("purpose.work_area (height)", "GEO-203", "work"),
        ("tool.stick_out", "GEO-206", "spindle"),
        ("supply.drives", "FAB-101", "power"),
        ("nothing.known", "COM-101", "frame"),
    ],
)
def test_a_finding_is_listed_at_the_stage_of_its_check_else_of_its_subject(subject: str, check_id: str, stage: str) -> None:
    assert stage_of(subject, check_id) == stage


def test_stages_come_in_the_order_of_a_build() -> None:
    names = [stage.id for stage in stages(*opened("as-built"))]
    assert names == ["work", "frame", "guides", "drives", "spindle", "cut", "power", "stiffness", "ringing", "findings", "compare"]


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


def test_the_cut_holds_every_job_with_what_it_rests_on() -> None:
    made = {stage.id: [path for path, _ in stage.groups] for stage in stages(*opened("as-built"))}
    assert made["cut"] == ["job", "job.frames", "job.fittings", "tool", "spoilboard", "spindle"]
    assert set(made["cut"][:3]) <= set(made["work"])


def test_stages_stand_without_a_machine() -> None:
    document = parse_toml(b'format = 1\n[machine]\nname = "x"\nlayout = "nonsense"\n', opened("as-built")[0].path)
    made = {stage.id: stage.groups for stage in stages(document, None)}
    assert ("purpose", "What it is for") in made["work"]
    assert made["drives"] == ()
