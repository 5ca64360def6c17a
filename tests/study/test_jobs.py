"""What jobs come to: promises, words and data from one study."""

import json
from dataclasses import replace
from pathlib import Path

import pytest

from gantrywright.base.errors import NotFound
from gantrywright.base.quantities import show
from gantrywright.base.samples import typical
from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import resolve
from gantrywright.results.jobs import Runs
from gantrywright.study import job_words
from gantrywright.study.cautions import cautions
from gantrywright.study.export import export
from gantrywright.study.jobs import asked, jobs
from gantrywright.study.opened import opened
from gantrywright.study.promises import Promise, promises
from gantrywright.study.study import Study, run, simulated
from gantrywright.study.wall_words import offs

DEMO = Path(__file__).parents[2] / "src" / "gantrywright" / "data" / "demo"


@pytest.fixture(scope="module")
def quick() -> Study:
    return run(resolve(read_document(DEMO / "as-built.toml")))


@pytest.fixture(scope="module")
def deep(quick: Study) -> Study:
    return simulated(quick)


def of(study: Study, job: str) -> dict[str, Promise]:
    return {made.what: made for made in promises(study) if made.subject == f"job.{job}"}


def test_each_job_promises_whether_it_runs_what_it_removes_and_its_wall(deep: Study) -> None:
    for name, answer in deep.results.jobs.jobs.items():
        made = of(deep, name)
        assert list(made) == ["runs", "removal rate", "wall error"]
        assert made["runs"].word == str(answer.runs)
        assert answer.binds is not None
        assert made["runs"].binds.startswith(answer.binds.words)
        assert made["wall error"].value == max(abs(typical(wall.worst)) for wall in answer.walls)
        assert made["wall error"].wanted == deep.machine.purpose.accuracy
        assert made["removal rate"].wanted is None  # nobody wants what the file's own settings come to
        assert f"file {show(typical(answer.removal), 'm3/s', deep.machine.show)}" in made["removal rate"].beside  # type: ignore[arg-type]
        assert all(each.figure in deep.results.ledger for each in made.values())


def test_the_removal_rate_is_that_of_settings_that_hold(deep: Study) -> None:
    answer = deep.results.jobs.jobs["fittings"]
    assert answer.runs is Runs.IF
    assert answer.advice is not None
    made = of(deep, "fittings")["removal rate"]
    assert made.value == pytest.approx(answer.advice.removal)
    figure = deep.results.ledger[made.figure]
    parts = {given.name: given.value for given in figure.inputs}
    assert parts["depth"] * parts["width"] * parts["feed"] == pytest.approx(made.value)


def test_nothing_is_promised_before_chatter_is_known(quick: Study) -> None:
    made = of(quick, "fittings")
    assert made["runs"].word == "unknown"
    assert made["runs"].pending
    assert made["removal rate"].value is None
    assert made["wall error"].value is not None


def test_a_verdict_names_what_is_over_and_what_mends_it(deep: Study) -> None:
    answer = deep.results.jobs.jobs["fittings"]
    words = job_words.verdict(deep, answer)
    assert words.startswith("runs if ")
    assert all(limit.words in words for limit in answer.limits if limit.exceeded)
    assert f"{answer.advice.passes} passes" in words  # type: ignore[union-attr]
    none = replace(answer, advice=None, no_advice="the axes are too slow")
    assert job_words.verdict(deep, none).startswith("does not run")
    assert "the axes are too slow" in job_words.verdict(deep, none)


def test_an_unknown_limit_is_named_with_what_it_takes(deep: Study) -> None:
    answer = deep.results.jobs.jobs["frames"]
    first, *rest = (limit for limit in answer.limits if not limit.exceeded)
    lacking = replace(first, value=None, limit=None, ceiling=None, missing="a.key.of.the.file")
    words = job_words.verdict(deep, replace(answer, limits=(*rest, lacking)))
    assert words.startswith("unknown")
    assert "a.key.of.the.file" in words


def test_a_run_that_hangs_on_the_typical_value_says_so(deep: Study) -> None:
    answer = deep.results.jobs.jobs["frames"]
    kept = replace(answer, limits=tuple(limit for limit in answer.limits if not limit.exceeded and limit.ceiling is not None))
    removes, name = typical(answer.removal), kept.limits[0].id  # type: ignore[arg-type]
    assert kept.runs is Runs.YES
    assert "worse end" not in job_words.verdict(deep, kept)
    doubtful = replace(deep, bands={f"job.frames.ceiling.{name}": (0.5 * removes, 2 * removes)})
    assert kept.limits[0].words in job_words.verdict(doubtful, kept).partition("worse end")[2]


def test_a_wall_is_told_by_size_and_side(deep: Study) -> None:
    answer = deep.results.jobs.jobs["fittings"]
    told = {off.what: off.way for off in offs(deep, answer)}
    for wall in answer.walls:
        side = "cuts into the part" if typical(wall.worst) > 0 else "leaves material standing"
        assert told[f"wall, {wall.way}"].startswith(side)


def test_the_wall_and_the_ceiling_of_chatter_open_to_named_inputs(deep: Study) -> None:
    wall = opened(deep, "job.frames.wall.conventional").figure
    assert wall is not None
    named = {row["name"]: row for row in wall["inputs"]}
    assert {"force", "shear", "edge", "feed_per_tooth", "depth", "width", "run_out", "stiffness", "bare_cutter"} <= set(named)
    assert named["shear"]["path"] == "material.plywood-birch.shear_force"
    assert all(row["unit"] for name, row in named.items() if name not in ("shear_ratio", "edge_ratio", "edge_factor", "flutes"))
    ceiling = opened(deep, "job.frames.ceiling.chatter").figure
    assert ceiling is not None
    parts = {row["name"]: row for row in ceiling["inputs"]}
    used = parts["at_the_job"]["value"] / parts["allowed"]["value"]
    assert ceiling["value"] == pytest.approx(parts["removal"]["value"] / used)
    limit = opened(deep, "job.frames.chatter_limit").figure
    assert limit is not None
    assert {"mode", "damping", "modal_stiffness", "shear", "width"} <= {row["name"] for row in limit["inputs"]}


def test_the_data_is_plain_and_of_the_job_that_was_asked_for(deep: Study) -> None:
    data = json.loads(json.dumps(jobs(deep, "frames"), allow_nan=False))
    assert list(data) == ["frames"]
    assert {limit["id"] for limit in data["frames"]["limits"]} >= {"chatter", "accuracy", "hold-down", "spindle-power"}
    assert data["frames"]["trace"]["angles"]


def test_a_name_that_is_none_is_refused(deep: Study) -> None:
    assert asked(deep.machine) == ("frames", "fittings")
    with pytest.raises(NotFound, match="frames, fittings"):
        asked(deep.machine, "frame")


def test_cautions_of_one_job_know_what_else_the_machine_cuts(deep: Study) -> None:
    all_, metal = ({each.caution.id for each in cautions(deep, *names)} for names in ((), ("fittings",)))
    assert metal < all_
    assert "dust-wood" not in metal
    mixed = next(each for each in cautions(deep, "fittings") if each.caution.when.get("together"))
    assert mixed.jobs == ("fittings",)


def test_the_word_of_a_promise_is_exported(deep: Study) -> None:
    words = {p["subject"]: p["word"] for p in export(deep)["promises"] if p["what"] == "runs"}
    assert words == {f"job.{name}": str(answer.runs) for name, answer in deep.results.jobs.jobs.items()}
