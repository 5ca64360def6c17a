"""The second opinion on a machine: the delay method against the first one where zero-order is known to hold, and the run in time."""

from pathlib import Path

import numpy as np
import pytest

from gantrywright.intake.document import read_document, revise
from gantrywright.intake.resolve import resolve
from gantrywright.results.jobs import Second
from gantrywright.study.deep_cut import exported, second_opinions
from gantrywright.study.study import run

DEMO = Path(__file__).parents[3] / "src" / "gantrywright" / "data" / "demo"


def opinion(name: str, depth: str) -> Second:
    document = revise(read_document(DEMO / "as-built.toml"), [(f"job.{name}.depth", depth)])
    return second_opinions(run(resolve(document)), only=name)[name]


@pytest.fixture(scope="module")
def calm() -> Second:
    return opinion("frames", "6 mm")


def test_both_methods_agree_in_a_slot(calm: Second) -> None:
    """At half immersion and more zero-order is within some per cent of the exact limit (altintas-budak-1995); here modes are left out too."""
    assert calm.here == pytest.approx(calm.first, rel=0.2)
    assert calm.growth < 1.0


def test_a_cut_beyond_the_limit_grows_and_shows_in_time(calm: Second) -> None:
    wild = opinion("frames", "20 mm")
    assert wild.growth > 1.0 > calm.growth
    assert wild.unlike > 3 * calm.unlike
    assert np.ptp(wild.wall[1]) > np.ptp(calm.wall[1])


def test_it_can_be_written_as_plain_data(calm: Second) -> None:
    data = exported({"frames": calm})
    assert all(isinstance(value, float | None) for value in data["frames"]["depth"])
    assert data["frames"]["here"] == calm.here


def test_it_tells_how_far_it_is() -> None:
    told: list[tuple[float, str]] = []
    study = run(resolve(read_document(DEMO / "as-built.toml")))
    assert second_opinions(study, lambda fraction, words: told.append((fraction, words)), only="nothing") == {}
    assert told[0][0] == 0.0
    assert told[-1][0] == 1.0
