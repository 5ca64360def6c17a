"""Every joint of a placed machine has springs: by kind, by what is chord and what is branch, by the file where it says so."""

from datetime import date

import numpy as np
import pytest
from placed import EXAMPLES, document, machine, problems_of, revised

from gantrywright.intake.document import revise
from gantrywright.intake.resolve import resolve
from gantrywright.model.bodies import OUTSIDE, Joint
from gantrywright.model.frame import Vector, cross, dot, length, subtract
from gantrywright.model.machine import Machine
from gantrywright.theory.tube_joints import open_end_share

STEEL = 210e9
SPRINGS = ("n", "a", "b", "rn", "ra", "rb")


def joint_of(found: Machine, path: str) -> Joint:
    return next(j for j in found.joints if j.path == path)


def springs(joint: Joint) -> list[float]:
    return [getattr(joint.stiffness, name) for name in SPRINGS]


def about(joint: Joint, axis: Vector) -> float:
    """Stiffness of turning about an axis of the machine."""
    along = [abs(dot(own, axis)) for own in joint.frame]
    assert max(along) == pytest.approx(1)
    return float(springs(joint)[3 + along.index(max(along))])


X, Y, Z = (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)


class TestEveryJoint:
    @pytest.mark.parametrize("name", EXAMPLES)
    def test_has_six_springs_a_loss_factor_and_a_frame(self, name: str) -> None:
        for joint in machine(name).joints:
            assert all(spring is not None and 1e2 < spring < 1e13 for spring in springs(joint)), joint.path
            assert 0.001 < joint.loss < 0.15, joint.path
            assert joint.note, joint.path
            n, a, b = joint.frame
            assert cross(n, a) == pytest.approx(b)
            assert [length(axis) for axis in joint.frame] == pytest.approx([1, 1, 1])
            assert n == joint.normal
            assert dot(n, a) == pytest.approx(0, abs=1e-9)

    @pytest.mark.parametrize("name", EXAMPLES)
    def test_bolts_have_places_on_the_face(self, name: str) -> None:
        bolted = [joint for joint in machine(name).joints if joint.bolts]
        assert bolted
        for joint in bolted:
            assert len(joint.bolt_points) == joint.bolts, joint.path
            for place in joint.bolt_points:
                assert abs(dot(subtract(place, joint.points[0]), joint.normal)) < 1e-6
            if any(joint.patch):
                inside = [max(p[k] for p in joint.bolt_points) - min(p[k] for p in joint.bolt_points) for k in range(3)]
                assert all(extent <= joint.patch[k] + 1e-6 for k, extent in enumerate(inside)), joint.path

    @pytest.mark.parametrize("name", EXAMPLES)
    def test_samples_give_samples(self, name: str) -> None:
        typical = machine(name)
        paths = [path for path in typical.spreads if ".joint." in path and path.endswith("times")]
        assert paths
        sampled = resolve(document(name), samples={path: np.array([1.0, 0.5]) for path in paths})
        for one, many in zip(typical.joints, sampled.joints, strict=True):
            for spring, both in zip(springs(one), springs(many), strict=True):
                assert np.asarray(both) == pytest.approx([spring, spring / 2])


class TestWelds:
    def test_the_member_whose_end_touches_is_the_branch(self) -> None:
        """Cross bar along x on the side bar along y, both 80 x 80 x 4: in plane about z, out of plane about y."""
        found = joint_of(machine("salvaged"), "bed.cross-2 + bed.left-side")
        assert about(found, Z) == pytest.approx(0.0171 * STEEL * 0.08**3)
        assert about(found, Y) == pytest.approx(0.0033 * STEEL * 0.08**3, rel=0.01)  # its open end is half a metre away

    def test_at_an_open_end_of_the_chord_the_wall_is_softer(self) -> None:
        found = joint_of(machine("salvaged"), "bed.cross-1 + bed.left-side")
        assert about(found, Z) == pytest.approx(0.70 * 0.0171 * STEEL * 0.08**3)
        askew = open_end_share(to_end=0.04, width=0.08, wall=0.004)
        assert about(found, Y) == pytest.approx(askew * 0.0033 * STEEL * 0.08**3)
        assert "open end of it 40 mm away" in found.note

    def test_narrow_branch(self) -> None:
        """40 wide on 80 x 80 x 4: stretcher along y on an upright leg."""
        found = joint_of(machine("salvaged"), "bed.leg-left-1 + bed.stretcher-left-1")
        assert about(found, X) == pytest.approx(0.0004 * STEEL * 0.08**3)
        assert about(found, Z) == pytest.approx(0.0005 * STEEL * 0.08**3, rel=0.06)  # an open end of the leg is 180 mm away

    def test_the_chord_decides_and_not_the_branch(self) -> None:
        """cross-4 has walls of 3 mm, the chord 4 mm: as any other cross bar."""
        thin, other = (joint_of(machine("salvaged"), f"bed.cross-{k} + bed.left-side") for k in (4, 3))
        assert springs(thin) == pytest.approx(springs(other), rel=0.01)  # one is nearer to an end

    def test_outside_the_range_is_said_and_widens_the_band(self) -> None:
        """80 x 80 with walls of 40, 6 and 1 mm: width over wall 2, 13.3 and 80, where the estimate reaches from 5 to 60."""
        path, doubt = "bed.cross-2 + bed.left-side", "bed.joint.welded.beyond"
        for wall, told, factor in ((20.0, "W/t 4 against 5..60", 1.25), (6.0, "", 1.0), (1.0, "W/t 80 against 5..60", 80 / 60)):
            section = {"shape": "tube", "width": "80 mm", "height": "80 mm", "wall": f"{wall} mm", "material": "steel-s235"}
            edit = ("bed.member.left-side.section", section)
            found = revised("salvaged", edit)  # type: ignore[arg-type]
            note = joint_of(found, path).note
            assert (OUTSIDE in note) is bool(told)
            assert told in note
            if not told:
                assert doubt not in found.spreads
                continue
            assert (found.spreads[doubt].low, found.spreads[doubt].high) == (0.0, 2.0)
            ends = resolve(revise(document("salvaged"), [edit]), samples={doubt: np.array([0.0, 1.0, 2.0])})  # type: ignore[list-item]
            many = np.asarray(joint_of(ends, path).stiffness.rb) / joint_of(found, path).stiffness.rb  # type: ignore[operator]
            assert many == pytest.approx([1 / factor, 1.0, factor])

    def test_a_branch_wider_than_its_chord_hangs_on_the_walls_that_cross_it(self) -> None:
        """Cross bar 100 high, across the side bar of 80."""
        section = {"shape": "tube", "width": "80 mm", "height": "100 mm", "wall": "4 mm", "material": "steel-s235"}
        found = revised("salvaged", ("bed.member.cross-2.section", section))  # type: ignore[arg-type]
        joint = joint_of(found, "bed.cross-2 + bed.left-side")
        assert "branch wider than its chord" in joint.note
        assert about(joint, Y) == pytest.approx(STEEL * 0.08**3 / (1 / 0.0033 + 3 * 20), rel=0.01)
        assert about(joint, Z) == pytest.approx(0.0171 * STEEL * 0.08**3)
        assert "bed.joint.welded.beyond" in found.spreads

    def test_a_wide_end_is_one_point(self) -> None:
        assert {len(j.points) for j in machine("fixed_gantry").joints if j.kind == "welded"} == {1}


class TestScrews:
    def test_end_face_of_the_beam(self) -> None:
        """80 x 160 end, 8 screws M8 at 20 and 60 mm: 1 to 3 MN m/rad about the strong axis, 0.3 to 1 about the weak, 0.4 to 1.5 kN/um."""
        found = joint_of(machine("salvaged"), "gantry.beam + gantry.upright-left")
        assert 1e6 < about(found, Y) < 3e6
        assert 0.3e6 < about(found, Z) < 1e6
        assert 0.4e9 < found.stiffness.n < 1.5e9  # type: ignore[operator]
        ends = sorted((round(p[1] - found.points[0][1], 3), round(p[2] - found.points[0][2], 3)) for p in found.bolt_points)
        assert ends == sorted((y, z) for y in (-0.02, 0.02) for z in (-0.06, -0.02, 0.02, 0.06))

    def test_better_faces_are_stiffer(self) -> None:
        sawn, milled, bedded = (
            joint_of(revised("salvaged", ("gantry.joint.faces", faces)), "gantry.beam + gantry.upright-left").stiffness.rb
            for faces in ("sawn", "milled", "bedded")
        )
        assert sawn * 2.5 == pytest.approx(milled)  # type: ignore[operator]
        assert milled < bedded  # type: ignore[operator]

    def test_fewer_bolts_are_softer(self) -> None:
        found = revised("salvaged", ("gantry.joint.bolts", "4 x M8"))
        few, all_of_them = (joint_of(m, "gantry.beam + gantry.upright-left") for m in (found, machine("salvaged")))
        assert few.stiffness.n == pytest.approx(all_of_them.stiffness.n / 2)  # type: ignore[operator]
        assert {round(abs(p[2] - few.points[0][2]), 3) for p in few.bolt_points} == {0.06}

    def test_bolts_through_holes_are_counted(self) -> None:
        found = joint_of(machine("salvaged"), "joint.strip-left")
        assert found.bolts == len(found.points) == 14
        assert found.bolt_points == found.points

    def test_pattern_of_the_file(self) -> None:
        """Corners of 60 x 120 mm on the end of the upright's inner face, about the middle of the plate."""
        found = revised(
            "salvaged", ("joint.beam.between", ["gantry.upright-left", "gantry.beam"]), ("joint.beam.kind", "bolted"),  # type: ignore[arg-type]
            ("joint.beam.bolts", {"thread": "M10", "count": 4, "pattern": {"face": "inner", "pattern": "corners", "pitch": "60 mm", "pitch_across": "120 mm"}}),
        )  # fmt: skip
        places = joint_of(found, "joint.beam").bolt_points
        assert len(places) == 4
        assert max(p[1] for p in places) - min(p[1] for p in places) == pytest.approx(0.06)
        assert max(p[2] for p in places) - min(p[2] for p in places) == pytest.approx(0.12)

    def test_without_bolts_a_usual_grid_is_taken_and_said(self) -> None:
        found = joint_of(machine("salvaged"), "carriage.plate + carriage.slide-base")
        assert (found.bolts, found.bolt_points) == (0, ())
        assert "the file tells no bolts" in found.note

    def test_sheets_of_a_box_are_glued_however_it_is_held_down(self) -> None:
        kinds = {j.path: j.kind for j in machine("long_bed").joints}
        assert kinds["bed.top.skin-lower + bed.top.webs"] == kinds["bed.top.skin-upper + bed.top.webs"] == "glued"
        assert kinds["bed.bearer-1 + bed.top.skin-lower"] == "bolted"

    def test_bracket_in_its_plane(self) -> None:
        """Leg along z on the foot bar along x, two brackets: stiff about y."""
        found = joint_of(machine("long_bed"), "bed.foot-bar-1 + bed.spine-leg-1")
        assert about(found, Y) == pytest.approx(44e3)
        assert about(found, X) == about(found, Z) == pytest.approx(44e3 / 3)


class TestWhatTheFileSays:
    def test_given_springs_win_one_by_one(self) -> None:
        beam = joint_of(machine("salvaged"), "gantry.beam + gantry.upright-left")
        found = joint_of(revised("salvaged", ("gantry.joint.stiffness.rb", "5 MN m/rad"), ("gantry.joint.times", 2)), beam.path)  # type: ignore[arg-type]
        assert found.stiffness.rb == pytest.approx(5e6)
        assert found.stiffness.ra == pytest.approx(2 * beam.stiffness.ra)  # type: ignore[operator]

    def test_factor_of_a_named_joint(self) -> None:
        left, right = "joint.strip-left", "joint.strip-right"
        found = revised("salvaged", ("joint.strip-right.times", "0.7 (0.6..0.8)"))
        assert springs(joint_of(found, right)) == pytest.approx([0.7 * spring for spring in springs(joint_of(found, left))])
        assert found.spreads["joint.strip-right.times"].low == 0.6
        assert "bed.joint.bolted.times" in found.spreads

    def test_one_band_a_kind_and_body(self) -> None:
        found = machine("salvaged")
        shared = sorted(path for path in found.spreads if path.endswith("times"))
        assert shared == ["bed.joint.bolted.times", "bed.joint.welded.times", "bed.top.joint.screwed.times",
                          "carriage.joint.bolted.times", "gantry.joint.end-tapped.times"]  # fmt: skip
        welded = found.stated["bed.joint.welded.times"]
        assert (welded.origin.kind, welded.origin.source) == ("default", "tube-joint-shells")
        assert (welded.spread.low, welded.spread.high) == (0.8, 1.4)  # type: ignore[union-attr]
        assert welded.help

    def test_factor_of_a_kind_replaces_its_band(self) -> None:
        found = revised("salvaged", ("bed.joint.welded.times", 0.9), ("bed.joint.welded.loss", 0.004))  # type: ignore[arg-type]
        before, after = (joint_of(m, "bed.cross-2 + bed.left-side") for m in (machine("salvaged"), found))
        assert springs(after) == pytest.approx([0.9 * spring for spring in springs(before)])
        assert after.loss == 0.004
        assert "bed.joint.welded.times" not in found.spreads
        assert springs(joint_of(found, "joint.strip-left")) == pytest.approx(
            springs(joint_of(machine("salvaged"), "joint.strip-left"))
        )

    @pytest.mark.parametrize(
        ("path", "joint"),
        [("bed.joint.welded.times", "bed.cross-2 + bed.left-side"), ("gantry.joint.end-tapped.times", "gantry.beam + gantry.upright-left"),
         ("bed.top.joint.screwed.times", "bed.cross-2 + bed.top.layer-1"), ("joint.strip-left.times", "joint.strip-left")],
    )  # fmt: skip
    def test_it_can_be_measured(self, path: str, joint: str) -> None:
        """Whether or not the file has a table there."""
        reading = {"path": path, "value": "1.4 +- 0.1", "on": date(2026, 6, 2), "with": "steel-rule-1m"}
        other = revise(document("salvaged"), [("measured.corner", reading)])  # type: ignore[list-item]
        found = resolve(other)
        before, after = (joint_of(m, joint) for m in (machine("salvaged"), found))
        assert after.times == pytest.approx(1.4)
        assert springs(after) == pytest.approx([1.4 * spring for spring in springs(before)])
        assert found.stated[path].origin.kind == "measured"
        assert found.spreads[path].shape == "normal"
        sampled = resolve(other, samples={path: np.array([1.3, 1.5])})
        assert np.asarray(joint_of(sampled, joint).stiffness.n).tolist() == pytest.approx(
            [1.3 * before.stiffness.n, 1.5 * before.stiffness.n]  # type: ignore[operator]
        )

    def test_a_wrong_kind_is_told(self) -> None:
        assert any("bed.joint.wleded" in line for line in problems_of("salvaged", ("bed.joint.wleded.times", 1.0)))  # type: ignore[arg-type]
