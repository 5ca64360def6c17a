"""Limit and margin agree in every face."""

import re
from pathlib import Path

import pytest

from gantrywright.board import views
from gantrywright.findings import Status, watched
from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import again
from gantrywright.study.export import finding as exported
from gantrywright.study.remedies import with_remedies
from gantrywright.study.sentences import margin, measured, percent, sentence
from gantrywright.study.study import Study, run

DEMO = Path(__file__).parents[2] / "src" / "gantrywright" / "data" / "demo"


@pytest.fixture(scope="module")
def study() -> Study:
    resolved = again(read_document(DEMO / "first-idea.toml"))
    return with_remedies(run(resolved({}, ())), resolved, most=None)


def test_what_is_only_watched_never_reads_as_well_fulfilled(study: Study) -> None:
    seen = [f for f in study.findings if f.status is Status.WATCH and watched(f)]
    assert "CUT-103" in {f.id for f in seen}
    for found in seen:
        begins = watched(found)
        assert begins is not None
        assert begins.margin < 0
        words, row, data = sentence(study, found), views.finding(study, found), exported(found)
        assert f"margin {percent(begins.margin)}" in words
        assert row["margin"] == percent(begins.margin)
        assert data["watched"] == {"limit": begins.limit, "margin": begins.margin}
        assert re.search(r" against \S+.* \(fails (below|above) ", measured(study, found))
        for remedy in found.remedies:
            told = [effect for effect in remedy.effects if effect.startswith("margin ")]
            assert all(effect.startswith(f"margin {percent(begins.margin)} to ") for effect in told)
            if remedy.mends:
                assert all(" to +" in effect for effect in told), "it has come past where watching begins"


def test_others_keep_their_limit(study: Study) -> None:
    for found in study.findings:
        if watched(found) is None:
            assert margin(found) == exported(found)["margin"]
            assert "(fails " not in measured(study, found)
