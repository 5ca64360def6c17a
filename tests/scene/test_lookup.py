"""From what checks and shares speak of to the pieces that show it."""

import pytest

from gantrywright.scene import pieces_of
from gantrywright.study.study import run
from scene_cases import machine, scene


def parts(path: str, name: str = "as-built") -> set[str]:
    """Parts of the pieces that show a path."""
    return {scene(name).pieces[number].part for number in pieces_of(scene(name), path)}


@pytest.mark.parametrize(
    ("path", "shown"),
    [
        ("gantry.beam", {"gantry.beam"}),
        ("gantry.beam@left", {"gantry.beam"}),
        ("axis.x.drive.main (whirl)", {"axis.x.drive.main"}),
        ("axis.y.drive.left.coupling_stiffness", {"axis.y.drive.left.coupling"}),
        ("axis.y.drive.left.bracket_stiffness", {"axis.y.drive.left"}),
        ("axis.x.blocks.preload", {f"axis.x.block.{rail}-{n}" for rail in ("upper", "lower") for n in (1, 2)}),
        ("axis.z.alignment.parallel", {"axis.z.rail.left", "axis.z.rail.right"}),
        ("gantry.beam + gantry.upright-left", {"gantry.beam", "gantry.upright-left", "gantry.beam + gantry.upright-left"}),
        ("bed.top (between its bearers)", {"bed.top.layer-1", "bed.top.layer-2"}),
        ("bed.member.leg-left-1.section", {"bed.leg-left-1"}),
        ("carriage.size", {"carriage.plate"}),
        ("spindle.shaft", {"spindle"}),
        ("spindle.mount.stiffness", {"spindle.mount"}),
        ("tool.stick_out", {"tool.cutter"}),
        ("supply.gantry (highest)", {"cabinet"}),
        ("purpose.work_area (left)", {"purpose.work_area"}),
        ("purpose.accuracy", {"purpose.work_area"}),
        ("job.frames.feed", {"job.frames.work"}),
        ("job.frames.work.size", {"job.frames.work"}),
        ("job.fittings", {"purpose.work_area"}),
        ("machine", set()),
        ("site.outlet.wall", set()),
    ],
)
def test_paths_lead_to_parts(path: str, shown: set[str]) -> None:
    assert parts(path) == shown


def test_a_joint_of_its_own_leads_to_what_it_holds_together() -> None:
    assert parts("joint.foot-left", "bench") == {"gantry.upright-left", "bed.slab", "joint.foot-left"}
    joint = next(row for row in scene("bench").joints if row.part == "joint.foot-left")
    assert set(joint.between) == {"gantry.upright-left", "bed.slab"}
    assert len(joint.points) >= 1


@pytest.mark.parametrize("name", ["as-built", "long_bed", "fixed_gantry"])
def test_whatever_gives_can_be_shown(name: str) -> None:
    tip = run(machine(name)).results.structure.worst
    assert tip is not None
    assert tip.shares
    for share in tip.shares:
        assert pieces_of(scene(name), share.part), share.part
