"""``gantrywright cut``: what it works out, and only that."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from gantrywright.cli import cut
from gantrywright.cli.main import main
from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import resolve
from gantrywright.results.jobs import JobsResult, Second
from gantrywright.study import deep_cut
from gantrywright.study.study import Study, run, simulated

DEMO = Path(__file__).parents[2] / "src" / "gantrywright" / "data" / "demo"


@pytest.mark.parametrize(("words", "wanted"), [((), ""), (("--job", "escutcheons"), "escutcheons")])
def test_a_second_opinion_is_of_the_job_that_is_asked_for(
    words: tuple[str, ...], wanted: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[str] = []

    def found(study: Study, told: Any, only: str = "") -> dict[str, Second]:
        asked.append(only)
        return {}

    monkeypatch.setattr(deep_cut, "second_opinions", found)
    main(["cut", str(DEMO / "bench.toml"), "--deep", *words])
    assert asked == [wanted]


@pytest.mark.parametrize(("here", "code"), [(1.0, 0), (1e-3, 1)])
def test_a_job_that_is_over_a_limit_is_no_success(here: float, code: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where nothing else fails: here by the second opinion, or by the first."""
    study = whole(DEMO / "bench.toml")
    first = study.results.jobs.jobs["box-sides"]
    kept = replace(first, limits=tuple(limit for limit in first.limits if not limit.exceeded))
    quiet = replace(study, findings=(), results=replace(study.results, jobs=JobsResult({"box-sides": kept})))
    monkeypatch.setattr(cut, "settle", lambda *_: quiet)
    monkeypatch.setattr(cut, "asked", lambda *_: ("box-sides",))
    monkeypatch.setattr(deep_cut, "second_opinions", lambda *_, only: {"box-sides": opinion("box-sides", here=here)})
    assert main(["cut", str(DEMO / "bench.toml"), "--deep"]) == code
    over = replace(kept, limits=first.limits)
    assert any(limit.exceeded for limit in over.limits)
    loud = replace(quiet, results=replace(study.results, jobs=JobsResult({"box-sides": over})))
    monkeypatch.setattr(cut, "settle", lambda *_: loud)
    assert main(["cut", str(DEMO / "bench.toml")]) == 1


def whole(path: Path) -> Study:
    return simulated(run(resolve(read_document(path))))


def opinion(job: str, *, here: float) -> Second:
    none = np.zeros(0)
    return Second(job, none, none, none, here, 1.0, "along X", "climb", 0.5, 1e-6, 1e-6, (none, none))


def test_a_machine_without_jobs_is_told_where_they_are_written(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = (DEMO / "bench.toml").read_text()
    first = text.index("[job.")
    kept = [block for block in ("\n" + text).split("\n[") if not block.startswith("job.")]
    assert first > 0
    path = tmp_path / "none.toml"
    path.write_text("\n[".join(kept).lstrip("\n"))
    main(["cut", str(path)])
    assert "how fast ([job.NAME])." in capsys.readouterr().out


def test_help_and_page_tell_when_a_job_is_no_success(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(["cut", "--help"])
    told = " ".join(capsys.readouterr().out.split())
    assert "1 too where a job that is told is over a limit at the settings of the file" in told
    page = (Path(__file__).parents[2] / "docs" / "cutting.md").read_text()
    assert "over a limit at the settings of the file" in page
