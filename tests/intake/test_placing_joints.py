"""What touches is joined; what looks wrong is told and still drawn."""

import itertools

import pytest
from placed import machine, mm, problems_of, revised

from gantrywright.base.spread import Origin
from gantrywright.intake.geometry.frames import LEVEL, Unclear, direction_of, face_axes, face_of, left_over, square_to
from gantrywright.intake.placing.holes import expanded
from gantrywright.intake.placing.touching import along_patch, pieces, touching
from gantrywright.intake.tree import Branch, Entry
from gantrywright.model.bodies import Joint, Solid
from gantrywright.model.frame import Vector


def box(path: str, centre: Vector, size: Vector, kind: str = "plate") -> Solid:
    return Solid(path, path.split(".")[0], kind, 1.0, centre, LEVEL, size)


def joint(name: str, path: str) -> Joint:
    return next(j for j in machine(name).joints if j.path == path)


class TestTouching:
    def test_a_shared_face_is_a_patch_of_its_size(self) -> None:
        patches, overlaps = touching([box("a.one", (0, 0, 0), (1, 1, 1)), box("a.two", (0.9, 0.2, 0.7), (1, 1, 0.4))])
        assert overlaps == []
        (patch,) = patches
        assert patch.normal == (0, 0, 1)
        assert patch.size == pytest.approx((0.1, 0.8, 0))
        assert patch.middle == pytest.approx((0.45, 0.1, 0.5))

    @pytest.mark.parametrize(
        ("gap", "kind", "touches"),
        [(0.0, "plate", True), (0.0015, "plate", False), (0.0015, "member", True), (0.0025, "member", False)],
    )
    def test_the_end_of_a_bar_may_stay_two_millimetres_off(self, gap: float, kind: str, touches: bool) -> None:
        bar = box("a.bar", (0.5 + gap, 0, 0), (1, 0.1, 0.1), kind)
        assert bool(touching([bar, box("a.post", (-0.05, 0, 0), (0.1, 0.1, 1))])[0]) is touches

    def test_edges_and_corners_do_not_hold(self) -> None:
        assert touching([box("a.one", (0, 0, 0), (1, 1, 1)), box("a.two", (1, 1, 0), (1, 1, 1))]) == ([], [])

    def test_going_into_each_other_is_told_with_its_depth(self) -> None:
        _, overlaps = touching([box("a.one", (0, 0, 0), (1, 1, 1)), box("a.two", (0.99, 0, 0), (1, 1, 1))])
        ((a, b, depth),) = overlaps
        assert (a.path, b.path) == ("a.one", "a.two")
        assert depth == pytest.approx(0.01)

    def test_a_long_patch_is_a_row(self) -> None:
        (patch,) = touching([box("a.one", (0, 0, 0), (0.1, 2.0, 0.1)), box("a.two", (0.1, 0, 0), (0.1, 2.0, 0.1))])[0]
        row = along_patch(patch, 0.15)
        assert len(row) == 15
        assert [row[0], row[-1]] == [pytest.approx((0.05, -1.0, 0.0)), pytest.approx((0.05, 1.0, 0.0))]
        steps = {round(b[1] - a[1], 9) for a, b in itertools.pairwise(row)}
        assert len(steps) == 1
        assert max(steps) <= 0.15

    def test_pieces(self) -> None:
        assert pieces(["a", "b", "c", "d"], [("a", "b"), ("b", "d"), ("x", "a")]) == [{"a", "b", "d"}, {"c"}]


class TestJoints:
    def test_bolts_go_through_the_holes_that_are_there(self) -> None:
        """Every second of 27 holes at 75 mm, measured as 75.1 mm: 14 bolts, all within the strip from 20 to 2080 mm."""
        found = joint("salvaged", "joint.strip-left")
        assert len(found.points) == 14
        along = [point[1] for point in found.points]
        assert along[1] - along[0] == pytest.approx(2 * 0.0751)
        assert along[0] == pytest.approx(0.075 - 0.143)
        assert (found.kind, found.thread, found.bolt_class, found.faces) == ("bolted", "M10", "8.8", "shimmed")

    def test_mirrored_joint_joins_the_other_side(self) -> None:
        found = joint("salvaged", "joint.strip-right")
        assert {found.a, found.b} == {"bed.strip-right", "bed.right-side"}

    def test_slanted_bar_is_joined_by_name_at_the_end_that_is_named(self) -> None:
        left, right = joint("salvaged", "joint.brace-left"), joint("salvaged", "joint.brace-right")
        assert (left.a, left.b) == ("bed.brace", "bed.leg-left-3")
        assert mm(left.points[0]) == (-120, 1960, -627)
        assert mm(right.points[0]) == (1120, 1960, -217)

    def test_kind_by_body_and_by_pair(self) -> None:
        kinds = {j.path: j.kind for j in machine("salvaged").joints}
        welded = [kind for path, kind in kinds.items() if path.startswith(("bed.left-side + bed.cross", "bed.cross-1 + bed"))]
        assert set(welded) == {"welded"}
        assert kinds["gantry.beam + gantry.upright-left"] == "end-tapped"
        assert next(j for j in machine("long_bed").joints if j.path == "bed.spine + bed.spine-leg-1").kind == "bracket"

    def test_end_tapped_joint_says_its_bolts(self) -> None:
        found = joint("salvaged", "gantry.beam + gantry.upright-left")
        assert (found.bolts, found.thread) == (8, "M8")
        assert abs(found.normal[0]) == 1

    def test_none_takes_a_joint_away(self) -> None:
        found = revised("salvaged", ("joint.loose.between", ["gantry.beam", "gantry.upright-left"]), ("joint.loose.kind", "none"))  # type: ignore[arg-type]
        assert "gantry.beam + gantry.upright-left" not in {j.path for j in found.joints}

    def test_two_joints_of_one_pair_are_refused(self) -> None:
        told = problems_of("salvaged", ("joint.twin.between", ["bed.left-side", "bed.strip-left"]))  # type: ignore[arg-type]
        assert any("joins the same two parts as joint.strip-left" in line for line in told)


class TestStray:
    def test_overlap(self) -> None:
        found = revised("salvaged", ("bed.member.cross.from", "75, 40, 780 mm"))
        assert ("bed.left-side", "goes 5 mm into bed.cross-1") in found.stray or (
            "bed.cross-1",
            "goes 5 mm into bed.left-side",
        ) in found.stray

    def test_bar_that_touches_nothing(self) -> None:
        found = revised("salvaged", ("bed.member.cross-4.from", "90, 1555, 780 mm"), ("bed.member.cross-4.to", "1230, 1555, 780 mm"),
                        ("bed.top.on", "bed.cross-2"), ("bed.top.size", "1160 x 700 mm"))  # fmt: skip
        assert [subject for subject, words in found.stray if "touches nothing" in words] == ["bed.cross-4"]

    def test_rail_longer_than_its_face(self) -> None:
        found = revised("salvaged", ("axis.x.rail.each.length", "1450 mm"))
        assert ("axis.x.rail.upper", "stands 46 mm over the end of gantry.beam") in found.stray


class TestHoles:
    @staticmethod
    def branch(**values: object) -> Branch:
        return Branch("bed.slab.holes.x", 0, {name: Entry(value, Origin("file")) for name, value in values.items()})

    def test_row(self) -> None:
        assert expanded("row", self.branch(first=0.1, pitch=0.06, count=3, across=-0.2)) == (
            (0.1, -0.2),
            (0.16, -0.2),
            (0.22, -0.2),
        )

    def test_grid(self) -> None:
        found = expanded("grid", self.branch(first=0.0, pitch=0.05, count=2, pitch_across=0.04, count_across=3, across=0.01))
        assert len(found) == 6
        assert {along for along, _ in found} == {0.0, 0.05}
        assert sorted({round(across, 9) for _, across in found}) == [-0.03, 0.01, 0.05]

    def test_corners_and_circle(self) -> None:
        corners = expanded("corners", self.branch(pitch=0.2, pitch_across=0.1, centre=(0.5, 0.0)))
        assert set(corners) == {(0.4, -0.05), (0.6, -0.05), (0.4, 0.05), (0.6, 0.05)}
        circle = expanded("circle", self.branch(diameter=0.1, count=4))
        assert [round(a * a + b * b, 9) for a, b in circle] == [0.0025] * 4

    def test_what_a_pattern_lacks_is_told(self) -> None:
        told = problems_of("salvaged", ("bed.member.left-side.holes.old-row.count", None))
        assert any("a row of holes lacks count" in line for line in told)


class TestFaces:
    def test_face_is_the_side_nearest_to_the_word(self) -> None:
        tilted = Solid("a.bar", "a", "member", 1.0, (0, 0, 0), ((0, 1, 0), (0.6, 0, 0.8), (0.8, 0, -0.6)), (1.0, 0.2, 0.1))
        top = face_of(tilted, "top")
        assert top.normal == pytest.approx((0.6, 0, 0.8))
        assert top.middle == pytest.approx((0.06, 0, 0.08))
        assert face_of(tilted, "right").normal == pytest.approx((0.8, 0, -0.6))

    def test_tie_asks_for_the_vector(self) -> None:
        half = 2**-0.5
        tilted = Solid("a.bar", "a", "member", 1.0, (0, 0, 0), ((0, 1, 0), (half, 0, half), (half, 0, -half)), (1.0, 0.2, 0.1))
        with pytest.raises(Unclear, match="write the vector"):
            face_of(tilted, "right")
        assert face_of(tilted, "0.7, 0, 0.7").normal == pytest.approx((half, 0, half))

    def test_outer_and_inner_by_the_middle_plane(self) -> None:
        assert direction_of("outer", x=0.2, middle=0.5) == (-1, 0, 0)
        assert direction_of("inner", x=0.2, middle=0.5) == (1, 0, 0)
        with pytest.raises(Unclear, match="middle"):
            direction_of("outer", x=0.2, middle=None)

    def test_axes_of_faces_in_the_order_x_y_z(self) -> None:
        x, y, z = LEVEL
        assert face_axes((0, -1, 0)) == (x, z)
        assert face_axes((1, 0, 0)) == (y, z)
        assert face_axes((0, 0, 1)) == (x, y)

    def test_across_is_the_axis_left_over(self) -> None:
        x, y, z = LEVEL
        assert left_over(y, (-1, 0, 0)) == z
        assert left_over(y, (1, 0, 0)) == z
        assert left_over(x, (0, -1, 0)) == z
        assert left_over(z, (0, -1, 0)) == x

    def test_up_along_the_bar_is_refused(self) -> None:
        with pytest.raises(Unclear):
            square_to((0, 0, 1), (0, 0, 1))
