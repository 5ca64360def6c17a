"""Where parts meet that share no face square to the machine."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from placed import machine

from gantrywright.intake.geometry.frames import LEVEL
from gantrywright.intake.placing.contacts import contact_between, contact_of
from gantrywright.intake.placing.fasteners import grid
from gantrywright.intake.placing.touching import touching
from gantrywright.model.bodies import Solid
from gantrywright.model.frame import Vector, cross, middle, subtract, unit

X, Y, Z = LEVEL


def bar(start: Vector, stop: Vector, up: Vector, height: float = 0.08, width: float = 0.08) -> Solid:
    along = unit(subtract(stop, start))
    size = (sum((b - a) ** 2 for a, b in zip(start, stop, strict=True)) ** 0.5, height, width)
    return Solid("a.bar", "a", "member", 1.0, middle(start, stop), (along, up, cross(along, up)), size)


POST = bar((0, 0, 0), (0, 0, 1), X)


class TestMeeting:
    def test_a_brace_meets_the_post_with_its_end(self) -> None:
        """A brace up to the right face of a post at 45 degrees: at the face, out of the brace towards the post."""
        brace = bar((0.54, 0, 0), (0.04, 0, 0.5), (2**-0.5, 0, 2**-0.5), 0.04, 0.04)
        found = contact_between(brace, POST)
        assert found.middle == pytest.approx((0.04, 0, 0.5))
        assert found.normal == pytest.approx((-1, 0, 0))
        assert found.by_end(brace)
        assert not found.by_end(POST)
        assert contact_between(POST, brace).normal == pytest.approx((1, 0, 0))

    def test_its_foot_on_the_face(self) -> None:
        """Height leans by 45 degrees, so along the post it covers less than itself; across the post its width."""
        brace = bar((0.54, 0, 0), (0.04, 0, 0.5), (2**-0.5, 0, 2**-0.5), 0.04, 0.03)
        found = contact_between(brace, POST)
        assert abs(found.frame[1][2]) == pytest.approx(1)
        assert found.size == pytest.approx((0.04 * 2**-0.5, 0.03))

    def test_bars_that_cross_are_joined_where_they_come_nearest(self) -> None:
        """Neither end is near: side by side, 10 mm apart."""
        rail = bar((-1, 0.09, 0.3), (1, 0.09, 0.7), Y)
        found = contact_between(POST, rail)
        assert found.middle[1] == pytest.approx(0.045)
        assert found.middle[2] == pytest.approx(0.5, abs=0.1)
        assert found.normal == pytest.approx((0, 1, 0))

    def test_a_flat_that_laps_over_a_post(self) -> None:
        """Its end lies on the post's axis, beside its back face: the face is that one, and the flat lies in it."""
        flat = bar((0, 0.043, 0.2), (1, 0.043, 0.6), unit((-0.4, 0, 1)), 0.06, 0.006)
        found = contact_between(flat, POST)
        assert found.normal == pytest.approx((0, -1, 0))
        assert not found.is_end

    def test_a_named_end_is_kept(self) -> None:
        brace = next(j for j in machine("salvaged").joints if j.path == "joint.brace-left")
        assert brace.normal == pytest.approx((0, -1, 0))
        assert brace.frame[1] == pytest.approx((-0.3139, 0, 0.9494), abs=1e-4)


class TestFrames:
    def test_height_of_the_section_whose_end_touches(self) -> None:
        beam = bar((0.04, 0, 0.5), (1, 0, 0.5), Z, 0.16, 0.08)
        (patch,) = touching([POST, beam])[0]
        found = contact_of(patch)
        assert found.frame == ((1, 0, 0), (0, 0, 1), (0, -1, 0))
        assert found.size == pytest.approx((0.16, 0.08))

    def test_two_bars_that_lie_on_each_other(self) -> None:
        strip = bar((0.045, 0, 0), (0.045, 0, 1), X, 0.01, 0.06)
        (patch,) = touching([POST, strip])[0]
        found = contact_of(patch)
        assert found.frame[1] == pytest.approx((0, 1, 0))
        assert sorted(found.size) == pytest.approx([0.06, 1.0])


class TestGrid:
    def test_follows_the_shape_of_the_face(self) -> None:
        assert set(grid(8, 0.16, 0.08, 0.016)) == {
            (x, y) for x in (-0.064, -0.064 / 3, 0.064 / 3, 0.064) for y in (-0.024, 0.024)
        } or (len({round(x, 6) for x, _ in grid(8, 0.16, 0.08, 0.016)}) == 4)
        assert {round(y, 6) for _, y in grid(4, 0.6, 0.04, 0.016)} == {0.0}
        assert len({x for x, _ in grid(4, 0.1, 0.1, 0.016)}) == 2

    @given(count=st.integers(1, 60), long=st.floats(0.02, 2), wide=st.floats(0.02, 2))
    def test_as_many_as_wanted_all_inside(self, count: int, long: float, wide: float) -> None:
        places = grid(count, long, wide, 0.016)
        assert len(set(places)) == count
        assert all(abs(a) <= long / 2 and abs(b) <= wide / 2 for a, b in places)
