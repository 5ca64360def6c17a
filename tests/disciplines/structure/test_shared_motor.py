"""One motor that turns two drives: a push and a twist by hand, what a twist no longer feels, and whole machines."""

from pathlib import Path

import numpy as np
import pytest

from gantrywright.disciplines.structure.carriers import Carriers
from gantrywright.disciplines.structure.shared_motor import shared_motor
from gantrywright.disciplines.structure.skeleton import skeleton_of
from gantrywright.disciplines.structure.statics import give_of, solved
from gantrywright.disciplines.structure.ties import drive_ties
from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import again
from gantrywright.model.axis import Axis, DriveFit
from gantrywright.model.drive_chain import drive_chain
from gantrywright.model.frame import along
from gantrywright.model.machine import Machine
from gantrywright.study.study import run
from gantrywright.theory.frames.mesh import Mesher
from gantrywright.theory.frames.skeleton import GROUND, Anchor, Bar, Motion, Rest, Skeleton, Tie

SALVAGED = Path(__file__).parents[3] / "tests" / "machines" / "salvaged.toml"
ONE_MOTOR = (("axis.y.drive.right.driven_by", "axis.y.drive.left"), ("axis.y.drive.right.motor", None))
FIXED = ("axis.y.drive.each.ends", "fixed-fixed")
WAYS = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
HELD = 1e13


def machine_of(*edits: tuple[str, str | None]) -> Machine:
    return again(read_document(SALVAGED))({}, edits)  # type: ignore[arg-type]


def stout(body: str, start: tuple[float, float, float], stop: tuple[float, float, float]) -> Bar:
    return Bar(
        part=body,
        body=body,
        start=start,
        stop=stop,
        height_axis=WAYS[2],
        axial=1e14,
        torsion=1e14,
        bend_height=1e14,
        bend_width=1e14,
    )


def alone(axis: Axis) -> Skeleton:
    """Both drives between stout seats on the ground and a stout bar from grip to grip that may run along the axis and turn level."""
    left, right = axis.drives
    seats = [stout(fit.holds, *fit.line) for fit in axis.drives]
    carriers = Carriers([*seats, stout(left.grips, left.grip, right.grip)], ())
    shared = shared_motor(axis, carriers, 3, 0.0)
    ties: list[Tie] = [
        Tie(part="floor", kind="foot", a=Anchor(GROUND, seat.start), b=Anchor(n, seat.start), axes=WAYS, stiffness=(HELD,) * 6)
        for n, seat in enumerate(seats)
    ]
    middle = along(left.grip, (1.0, 0.0, 0.0), (right.grip[0] - left.grip[0]) / 2)
    ties.append(
        Tie(
            part="guide",
            kind="joint",
            a=Anchor(GROUND, middle),
            b=Anchor(2, middle),
            axes=WAYS,
            stiffness=(HELD, 0.0, HELD, HELD, HELD, 0.0),
        )
    )
    bars = list(carriers.bars)
    if shared is not None:
        bars.extend(shared.bars)
        ties.extend(shared.ties)
    for fit in axis.drives:
        held, own = drive_ties(axis, fit, carriers, len(bars), shared)
        ties.extend(held)
        bars.extend(own)
    motion = Motion("y", axis.travel, axis.drawn, {left.grips: axis.direction})
    return Skeleton(tuple(bars), tuple(ties), (), Anchor(2, middle), Rest(()), (motion,))


def own_stiffness(axis: Axis, fit: DriveFit, pose: float) -> tuple[float, float]:
    """Of a drive without its motor, and of its half of the motor."""
    links = drive_chain(axis, fit).links(pose)
    motor = float(links.pop(f"{fit.path}.motor_stiffness"))
    return float(1 / sum(1 / np.asarray(k) for k in links.values())), motor


@pytest.mark.parametrize("edits", [(), (FIXED,)], ids=["one end", "both ends"])
def test_the_motor_resists_the_mean_and_not_the_twist(edits: tuple[tuple[str, str], ...]) -> None:
    """Two drives of k1 and k2 at +-b/2 on one shaft that k_m holds: energy k1 (e1 - t)^2 + k2 (e2 - t)^2 + k_m t^2 over two, t free."""
    axis = machine_of(*edits, *ONE_MOTOR).axis("y")
    skeleton = alone(axis)
    pose = 0.3 * axis.travel
    here = solved(Mesher(skeleton), {"y": pose})
    give = give_of(here, here.under(here.mesh.load))[np.ix_((1, 5), (1, 5))]
    (first, half), (second, _) = (own_stiffness(axis, fit, pose) for fit in axis.drives)
    assert half < 1e10  # an open loop
    own = np.array([first, second])
    both = np.diag(own) - np.outer(own, own) / (2 * half + own.sum())
    reach = (axis.drives[1].grip[0] - axis.drives[0].grip[0]) / 2
    to_grips = np.array([(1.0, -reach), (1.0, reach)])  # motion of both grips from a shift along Y and a turn about Z
    assert give == pytest.approx(np.linalg.inv(to_grips.T @ both @ to_grips), rel=1e-3, abs=1e-4 * give[0, 0])


def test_a_push_gives_as_with_half_of_the_motor_each_and_a_twist_less() -> None:
    axis = machine_of(*ONE_MOTOR).axis("y")
    pose = 0.5 * axis.travel
    skeleton = alone(axis)
    here = solved(Mesher(skeleton), {"y": pose})
    give = give_of(here, here.under(here.mesh.load))
    halves = sum(float(drive_chain(axis, fit).along(pose)) for fit in axis.drives)
    reach = (axis.drives[1].grip[0] - axis.drives[0].grip[0]) / 2
    assert 1 / give[1, 1] == pytest.approx(halves, rel=2e-3)
    assert 1 / give[5, 5] > 1.1 * halves * reach**2


@pytest.mark.parametrize("edits", [(), (FIXED,)], ids=["one end", "both ends"])
def test_a_whole_machine_of_one_motor_has_an_answer(edits: tuple[tuple[str, str], ...]) -> None:
    study = run(machine_of(*edits, *ONE_MOTOR))
    found = study.results.structure
    assert found is not None
    assert found.worst is not None, (found.lacking, found.broken)
    held = {share.part: share.along[1] for share in found.worst.shares}
    assert float(held["axis.y.drive.left.motor_stiffness"]) > 1e-4
    assert abs(float(held["axis.y.drive.left.motor"])) < 1e-3  # what stands for the shaft does not give
    assert "axis.y.drive.right.motor_stiffness" not in held


def test_two_motors_and_a_loop_that_holds_the_shaft_need_no_linkage() -> None:
    for machine in (machine_of(), again(read_document(SALVAGED.parents[2] / "src/gantrywright/data/demo/as-built.toml"))({}, ())):
        skeleton = skeleton_of(machine).skeleton
        assert skeleton is not None
        assert not [bar.part for bar in skeleton.bars if bar.kind == "drive"]
