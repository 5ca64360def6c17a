"""Prices that an edit leaves behind."""

from pathlib import Path

import pytest

from gantrywright.findings import Change, Finding, Status, ceiling
from gantrywright.findings.check import Check
from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import again
from gantrywright.study.priced import outdated_prices
from gantrywright.study.remedies import with_remedies
from gantrywright.study.study import Study, run

MACHINE = Path(__file__).parents[1] / "machines" / "fixed_gantry.toml"
AGAIN = again(read_document(MACHINE))


@pytest.fixture(scope="module")
def study() -> Study:
    return run(AGAIN({}, ()))


@pytest.mark.parametrize(
    ("edits", "expected"),
    [
        ([("axis.y.drive.main.part", "ball-screw-2510")], "210 USD was written for ball-screw-3210"),
        ([("axis.y.drive.main.part.part", "ball-screw-2510")], "210 USD was written for ball-screw-3210"),
        ([("axis.y.drive.main.motor.part", "'servo-400w'")], "240 USD was written for servo-750w"),
        ([("axis.x.rail.each.part", "rail-20")], "95 USD was written for rail-25"),  # a price of each
        ([("axis.y.drive.main.part", "ball-screw-3210")], ""),  # the same part
        ([("axis.y.drive.main.part", "ball-screw-2510"), ("axis.y.drive.main.price", "160 USD")], ""),
        ([("axis.y.drive.main.part", None)], ""),
        ([("axis.z.drive.main.part", "ball-screw-1605")], ""),  # no price beside it
        ([("axis.y.rapid", "1 m/min")], ""),
    ],
)
def test_a_written_price_stays_with_the_part_it_was_written_for(
    study: Study, edits: list[tuple[str, str | None]], expected: str
) -> None:
    told = outdated_prices(study.machine, edits)
    assert len(told) == bool(expected)
    assert all(each.startswith(expected) for each in told)


def test_two_alike_are_told_in_one_sentence(study: Study) -> None:
    edits = [(f"axis.y.rail.{side}.part", "rail-20") for side in ("left", "right")]
    (told,) = outdated_prices(study.machine, edits)
    assert told == "160 USD was written for rail-25, not for rail-20 (axis.y.rail.left.price, axis.y.rail.right.price)"


def test_a_remedy_tells_it_among_its_effects(study: Study) -> None:
    change = Change("another screw", (("axis.y.drive.main.part", "ball-screw-2510"),))
    check = Check("DRV-999", "t", "w", "definition", "r", lambda *_: ())
    bad = Finding(check, ceiling("axis.y", value=2.0, limit=1.0, unit="", changes=(change,)), Status.FAIL)
    tried = with_remedies(Study(study.machine, study.results, (bad,)), AGAIN, most=1).findings[0].remedies[0]
    assert any(effect.startswith("210 USD was written for ball-screw-3210") for effect in tried.effects)
