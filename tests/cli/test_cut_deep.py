"""``gantrywright cut``: what it works out, and only that."""

from pathlib import Path
from typing import Any

import pytest

from gantrywright.cli.main import main
from gantrywright.results.jobs import Second
from gantrywright.study import deep_cut
from gantrywright.study.study import Study

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


def test_a_machine_without_jobs_is_told_where_they_are_written(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = (DEMO / "bench.toml").read_text()
    first = text.index("[job.")
    kept = [block for block in ("\n" + text).split("\n[") if not block.startswith("job.")]
    assert first > 0
    path = tmp_path / "none.toml"
    path.write_text("\n[".join(kept).lstrip("\n"))
    main(["cut", str(path)])
    assert "how fast ([job.NAME])." in capsys.readouterr().out
