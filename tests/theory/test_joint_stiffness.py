"""Joints: the cone by integration, groups by their laws, each kind within what practice says."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory.bolts import clamp_stiffness
from gantrywright.theory.joint_stiffness import (
    CONE,
    bolt_group,
    bonded_springs,
    bracket_springs,
    cone_stiffness,
    pressed_diameter,
    screwed_springs,
    seat_springs,
    springs_in_series,
)

END_FACE = tuple((along, across) for along in (-0.06, -0.02, 0.02, 0.06) for across in (-0.02, 0.02))
LENGTHS = st.floats(0.002, 0.08)


class TestCone:
    @given(length=LENGTHS, size=st.floats(0.003, 0.02))
    def test_is_the_integral_of_its_slices(self, length: float, size: float) -> None:
        head, hole = 1.6 * size, 1.1 * size
        depth = np.linspace(0, length / 2, 4001)
        area = np.pi / 4 * ((head + 2 * CONE * depth) ** 2 - hole**2)
        assert cone_stiffness(head_bearing=head, hole=hole, length=length, elastic_modulus=70e9) == pytest.approx(
            70e9 / (2 * np.trapezoid(1 / area, depth)), rel=1e-5
        )

    @given(length=LENGTHS)
    def test_agrees_with_the_frustum_under_standard_heads(self, length: float) -> None:
        own = cone_stiffness(head_bearing=0.012, hole=0.008, length=length, elastic_modulus=70e9)
        assert own == pytest.approx(clamp_stiffness(diameter=0.008, length=length, elastic_modulus=70e9), rel=1e-3)

    def test_end_face_of_a_profile(self) -> None:
        """M8 through 20 mm of aluminium is taken as about 690 N/um; exact cones under a 13 mm head give a little less."""
        one = cone_stiffness(head_bearing=0.013, hole=0.009, length=0.020, elastic_modulus=70e9)
        assert one == pytest.approx(690e6, rel=0.12)
        pressed = pressed_diameter(head_bearing=0.013, length=0.020)
        soft, stiff = (bolt_group(clamped=one, places=END_FACE, pressed=pressed, hole=0.009, share=share) for share in (0.1, 0.3))
        assert 0.9e6 < soft[5] < stiff[5] < 3.1e6
        assert 0.2e6 < soft[4] < stiff[4] < 1e6
        assert 0.4e9 < soft[0] < stiff[0] < 1.6e9


class TestGroup:
    @given(angle=st.floats(0, np.pi))
    def test_stiffness_about_the_normal_does_not_depend_on_the_axes(self, angle: float) -> None:
        turned = [(a * np.cos(angle) - b * np.sin(angle), a * np.sin(angle) + b * np.cos(angle)) for a, b in END_FACE]
        first, second = (bolt_group(clamped=6e8, places=p, pressed=0.02, hole=0.008, share=0.2) for p in (END_FACE, turned))
        assert first[3] == pytest.approx(second[3])
        assert first[4] + first[5] == pytest.approx(second[4] + second[5])

    def test_one_screw_turns_on_its_ring(self) -> None:
        """Ring of 25 over 9 mm: radius of gyration squared is (D^2 + d^2)/16."""
        n, a, _, rn, ra, rb = bolt_group(clamped=1e9, places=((0.0, 0.0),), pressed=0.025, hole=0.009, share=0.5)
        assert (n, a) == (0.5e9, 0.25e9)
        assert ra == rb == pytest.approx(0.5e9 * (0.025**2 + 0.009**2) / 16)
        assert rn == pytest.approx(0.5 * 2 * ra)

    def test_samples_stay_beside_each_other(self) -> None:
        many = bolt_group(clamped=np.array([1e9, 2e9]), places=END_FACE, pressed=0.02, hole=0.008, share=np.array([0.1, 0.2]))
        alone = bolt_group(clamped=2e9, places=END_FACE, pressed=0.02, hole=0.008, share=0.2)
        assert [spring[1] for spring in many] == pytest.approx(list(alone))  # type: ignore[index]


class TestOthers:
    def test_bracket_is_stiff_in_its_own_plane(self) -> None:
        about_b = bracket_springs(count=2, module=0.04, in_plane_about_b=1.0)
        about_a = bracket_springs(count=2, module=0.04, in_plane_about_b=0.0)
        assert 20e3 <= about_b[5] <= 100e3
        assert about_b[4] == pytest.approx(about_b[5] / 3)
        assert (about_a[1], about_a[2], about_a[4], about_a[5]) == pytest.approx((about_b[2], about_b[1], about_b[5], about_b[4]))

    @given(factor=st.floats(0.3, 3))
    def test_brackets_alike_in_shape(self, factor: float) -> None:
        one = bracket_springs(count=1, module=0.04, in_plane_about_b=1.0)
        other = bracket_springs(count=1, module=0.04 * factor, in_plane_about_b=1.0)
        assert other[0] / one[0] == pytest.approx(factor)
        assert other[5] / one[5] == pytest.approx(factor**3)

    def test_screws_spread_evenly_turn_like_their_row(self) -> None:
        """Many screws in a row of 1 m: sum of squares is n L^2/12."""
        places = (np.arange(1000) + 0.5) / 1000 - 0.5
        springs = screwed_springs(count=1000, along_a=1.0, along_b=0.1)
        assert springs[5] == pytest.approx(2.2e6 * np.sum(places**2), rel=1e-5)
        assert 1e9 <= springs[0] <= 5e9

    def test_a_glue_line_is_no_weak_place(self) -> None:
        springs = bonded_springs(along_a=0.08, along_b=0.02)
        assert springs[0] == pytest.approx(3e12 * 0.0016)
        assert springs[4] == pytest.approx(springs[0] * 0.02**2 / 12)
        assert springs[3] == pytest.approx(0.4 * (springs[4] + springs[5]))

    def test_round_foot_on_a_half_space(self) -> None:
        """A square of the area of a circle of 100 mm: k = 2 E R/(1 - nu^2)."""
        side = np.sqrt(np.pi) * 0.05
        springs = seat_springs(elastic_modulus=210e9, along_a=side, along_b=side)
        assert springs[0] == pytest.approx(2 * 210e9 * 0.05 / 0.91)
        assert springs[4] == springs[5] == pytest.approx(4 * 210e9 * 0.05**3 / (3 * 0.91), rel=0.04)

    def test_pieces_in_a_row(self) -> None:
        one, two = (2.0,) * 6, (6.0, 2.0, 1.0, 6.0, 2.0, 1.0)
        assert springs_in_series(parts=(one, two)) == pytest.approx((1.5, 1.0, 2 / 3, 1.5, 1.0, 2 / 3))
        assert springs_in_series(parts=(one, one, two))[0] == pytest.approx(6 / 7)
