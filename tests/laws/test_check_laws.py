"""Rules on the checks: id, words and source of each, and a place in the catalogue page."""

import re
from pathlib import Path

import pytest

from gantrywright.base.sources import PLAIN, sources
from gantrywright.findings import Check
from gantrywright.study.checking import all_checks

CHECKS = all_checks()
ROOT = Path(__file__).parents[2]


def test_there_are_checks_of_every_room() -> None:
    assert {check.id[:3] for check in CHECKS} >= {"GDE", "DRV", "MOT", "ELE", "GEO"}


def test_ids_are_unique() -> None:
    ids = [check.id for check in CHECKS]
    assert len(ids) == len(set(ids))


@pytest.mark.parametrize("check", CHECKS, ids=lambda c: c.id)
def test_a_check_says_title_why_source_and_remedy(check: Check) -> None:
    assert len(check.title) > 10
    assert len(check.why) > 20
    assert len(check.remedy) > 10
    known = check.source in (PLAIN - {""}) | {"of each limit"}
    assert known or all(part.strip() in sources() or part.strip() in PLAIN for part in re.split(r"[;,]", check.source)), (
        check.source
    )


@pytest.mark.parametrize("check", CHECKS, ids=lambda c: c.id)
def test_no_check_promises_safety(check: Check) -> None:
    words = f"{check.title} {check.why} {check.remedy}".lower()
    assert not re.search(r"\b(is|are) safe\b|compliant", words)
