"""Proposals are round in the units of the machine, lie on the side that mends, and read back as what they say."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.base.quantities import parse
from gantrywright.base.quantities.proposing import ROUND, beside, propose

KIND = {"fine-length": "length", "depth": "length"}


@given(value=st.floats(0.02, 5.0), system=st.sampled_from(["metric", "inch"]), what=st.sampled_from(sorted(ROUND)))
def test_a_proposal_lies_on_the_side_that_mends(value: float, system: str, what: str) -> None:
    kind = KIND.get(what, what)
    up, down = (propose(value, what, system, side) for side in ("up", "down"))  # type: ignore[arg-type]
    assert float(parse(up, kind).value) >= value * (1 - 1e-5)
    unit, top, under = ROUND[what][system]
    least = float(parse(f"{top / under} {unit}", kind).value)
    assert float(parse(down, kind).value) <= max(value * (1 + 1e-5), least * (1 + 1e-9))


@pytest.mark.parametrize(
    ("value", "what", "system", "side", "text"),
    [
        (0.0762e-3, "fine-length", "inch", "down", "0.003 in"),
        (0.0762e-3, "fine-length", "metric", "down", "0.075 mm"),
        (1e-6, "fine-length", "metric", "down", "0.005 mm"),
        (0.0261, "length", "inch", "up", "1.05 in"),
        (0.0261, "length", "metric", "up", "27 mm"),
        (83.0, "force", "metric", "nearest", "80 N"),
        (2.5 / 60, "speed", "metric", "down", "2.5 m/min"),
    ],
)
def test_round_values(value: float, what: str, system: str, side: str, text: str) -> None:
    assert propose(value, what, system, side) == text  # type: ignore[arg-type]


def test_what_was_there_is_told_in_the_unit_of_the_proposal() -> None:
    assert beside(0.0762e-3, "0.001 in", "length", "inch") == "0.003 in"
