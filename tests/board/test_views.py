"""What the page is told of a promise."""

import pytest

from gantrywright.board.views import reached
from gantrywright.study.promises import Promise


@pytest.mark.parametrize(
    ("what", "value", "wanted", "expected"),
    [
        ("rapid", 0.2, 0.1, True),
        ("rapid", 0.1, 0.1, True),
        ("rapid", 0.05, 0.1, False),
        ("push-off at the worst job", 0.2e-3, 0.3e-3, True),  # less is better
        ("push-off at the worst job", 0.4e-3, 0.3e-3, False),
        ("cost", 3000.0, 2400.0, False),
        ("mass", 300.0, 200.0, None),  # neither is better
        ("rapid", None, 0.1, None),
        ("rapid", 0.1, None, None),
    ],
)
def test_reached_is_told_by_the_way_that_is_better(
    what: str, value: float | None, wanted: float | None, expected: bool | None
) -> None:
    assert reached(Promise("axis.x", what, value, "m/s", wanted=wanted)) is expected
