"""Bolted joints and feet by hand: a bracket with four bolts under known forces, feet under known loads."""

from dataclasses import replace
from types import SimpleNamespace
from typing import Any, cast

import numpy as np
import pytest

from gantrywright.base.units import Real
from gantrywright.disciplines.structure.bolted import bolted, cases_of, least_foot
from gantrywright.disciplines.structure.bolted_checks import bears_its_torque, holds_by_friction, stays_closed, stays_down
from gantrywright.disciplines.structure.loads import LoadCases
from gantrywright.findings import judge
from gantrywright.model.bodies import Bolting, Joint, JointStiffness
from gantrywright.model.machine import Machine
from gantrywright.results.cutting import CuttingResult
from gantrywright.results.ledger import Ledger
from gantrywright.results.structure import BoltedAnswer, StructureResult
from gantrywright.theory.frames.motions import Motions
from gantrywright.theory.frames.skeleton import GROUND, Anchor, Rest, Skeleton, Tie

FACE = ((1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, -1.0, 0.0))
"""n, a, b: the bracket stands out along X from a wall."""
AT = (0.5, 0.2, 0.3)
FOUR = tuple((AT[0], AT[1] + y, AT[2] + z) for y in (-0.02, 0.02) for z in (-0.03, 0.03))
ROW = tuple((AT[0], AT[1] + y, AT[2]) for y in (-0.03, -0.01, 0.01, 0.03))
LEAST = 18630.0 / 1.6
"""M8 8.8 at 90 % of yield, thread friction 0.12 (vdi-2230), over the scatter of a torque wrench, N."""
FRICTION = 0.15
WEIGHT, X_COLUMN, Y_COLUMN = 6, 7, 8
NO_CUT = CuttingResult((), 0.0, 0.0, 0.0, known=True)
JOINT = Joint(
    path="joint.bracket", a="wall", b="arm", kind="bolted", points=(AT,), normal=FACE[0], bolts=4, thread="M8", faces="milled",
    friction=FRICTION, stiffness=JointStiffness(), frame=FACE, patch=(0.0, 0.06, 0.08), bolt_points=FOUR,
)  # fmt: skip
TIE = Tie(part=JOINT.path, kind="joint", a=Anchor(0, AT), b=Anchor(1, AT), axes=FACE, stiffness=(1e8, 1e8, 1e8, 1e5, 1e5, 1e5))


def machine(joint: Joint = JOINT) -> Machine:
    axes = tuple(SimpleNamespace(name=name, path=f"axis.{name}", accel=None) for name in "xy")
    return cast("Machine", SimpleNamespace(joints=(joint,), axes=axes, show="metric", feet=()))


def skeleton(*ties: Tie) -> Skeleton:
    return Skeleton(bars=(), ties=ties, lumps=(), tip=Anchor(0, AT), rest=Rest(()), motions=())


def unit_cases(wrenches: dict[int, tuple[tuple[float, float, float], tuple[float, float, float]]]) -> LoadCases:
    """What one joint bears by column, forces and moments on the arm in machine axes; the tie tells them in its own."""
    own = np.zeros((1, 6, 9))
    for column, (force, moment) in wrenches.items():
        own[0, :3, column], own[0, 3:, column] = np.array(FACE) @ force, np.array(FACE) @ moment
    return LoadCases(cast("Any", None), ("x", "y"), Motions(np.zeros((6, 9))), own)


def answer(
    wrenches: dict[int, Any], *, joint: Joint = JOINT, cutting: CuttingResult = NO_CUT, **accelerations: Real
) -> BoltedAnswer:
    cases = unit_cases(wrenches)
    combined = cases_of(machine(joint), cases, cutting, accelerations)
    (found,) = bolted(machine(joint), skeleton(replace(TIE, part=joint.path)), cases, combined, Ledger())
    return found


def test_a_load_on_an_arm_pulls_the_upper_bolts_and_shears_all() -> None:
    """1 kN that hangs 0.1 m in front of the wall: 100 N m over four bolts 30 mm up and down, 250 N across each."""
    found = answer({WEIGHT: ((0.0, 0.0, -1000.0), (0.0, 100.0, 0.0))})
    assert found.shear == pytest.approx(250.0)
    assert found.opening == pytest.approx(100.0 * 0.03 / (4 * 0.03**2) / LEAST, rel=1e-3)
    assert found.slip == pytest.approx(1000.0 / (FRICTION * 4 * LEAST), rel=1e-3)


def test_a_pull_is_told_from_a_push() -> None:
    pulled = answer({WEIGHT: ((1000.0, 0.0, 0.0), (0.0, 0.0, 0.0))})
    pushed = answer({WEIGHT: ((-1000.0, 0.0, 0.0), (0.0, 0.0, 0.0))})
    assert pulled.opening == pytest.approx(250.0 / LEAST, rel=1e-3)
    assert pushed.opening == 0.0


def test_acceleration_counts_both_ways_and_by_its_size() -> None:
    found = answer({X_COLUMN: ((-40.0, 0.0, 0.0), (0.0, 0.0, 0.0))}, x=np.array([1.0, 5.0]))
    assert found.opening == pytest.approx(np.array([10.0, 50.0]) / LEAST, rel=1e-3)


def test_the_cut_counts_in_its_worst_direction() -> None:
    """400 N in the plane of the table and 100 N along the spindle; only what lies in the face shears it."""
    cut = CuttingResult((), 0.0, 400.0, 100.0, known=True)
    found = answer({1: ((0.0, 1.0, 0.0), (0.0, 0.0, 0.0)), 2: ((0.0, 0.0, 1.0), (0.0, 0.0, 0.0))}, cutting=cut)
    assert found.slip == pytest.approx(np.hypot(400.0, 100.0) / (FRICTION * 4 * LEAST), rel=1e-3)


def test_slip_and_opening_are_each_told_in_their_own_worst_case() -> None:
    """X pulls straight off, Y shears more: neither may hide the other."""
    found = answer({X_COLUMN: ((5000.0, 0.0, 0.0), (0.0,) * 3), Y_COLUMN: ((0.0, 3000.0, 0.0), (0.0,) * 3)}, x=1.0, y=1.0)
    assert found.slip == pytest.approx(3000.0 / (FRICTION * 4 * LEAST), rel=1e-3)
    assert found.opening == pytest.approx(1250.0 / LEAST, rel=1e-3)


def test_a_row_of_bolts_does_not_hide_what_it_has_no_arm_against() -> None:
    """Bolts on one line hold a moment about that line only by the edge of the faces: it is counted or told to be unknown."""
    found = answer({WEIGHT: ((0.0, 0.0, 0.0), (0.0, 100.0, 0.0))}, joint=replace(JOINT, bolt_points=ROW))
    assert found.missing or (found.opening is not None and float(found.opening) > 0)


def test_a_single_bolt_resists_a_little_twist_by_its_ring() -> None:
    found = answer({WEIGHT: ((0.0,) * 3, (0.1, 0.0, 0.0))}, joint=replace(JOINT, bolts=1, bolt_points=(AT,)))
    assert found.missing or np.isfinite(cast("float", found.slip))


@pytest.mark.parametrize(
    ("changed", "word"),
    [
        ({"bolts": 0, "bolt_points": ()}, "bolts"),
        ({"thread": "M99"}, "M99"),
        ({"friction": None}, "friction"),
        ({"bolt_class": "99.9"}, "99.9"),
    ],
)
def test_what_is_unknown_is_named(changed: dict[str, Any], word: str) -> None:
    found = answer({}, joint=replace(JOINT, **changed))
    assert found.slip is None
    assert word in found.missing


@pytest.mark.parametrize("lacks", ["cut", "acceleration"])
def test_no_verdict_without_the_loads(lacks: str) -> None:
    known = {} if lacks == "acceleration" else {"x": 1.0, "y": 1.0}
    cutting = replace(NO_CUT, known=lacks != "cut")
    found = answer({WEIGHT: ((0.0, 0.0, -10.0), (0.0,) * 3)}, cutting=cutting, **known)
    structure = SimpleNamespace(bolted=(found,), worst=object(), lacking=(), broken=())
    motion = SimpleNamespace(axes={name: SimpleNamespace(accel=known.get(name)) for name in "xy"})
    results = SimpleNamespace(structure=structure, cutting=cutting, motion=motion)
    (verdict,) = holds_by_friction.judge(machine(), results)
    assert verdict.missing


def test_the_least_foot_of_a_light_frame() -> None:
    """250 N on each foot at rest; 1 m/s2 takes 20 N off two of them and puts it on the others."""
    feet = [Tie(part=f"bed.foot-{n}", kind="foot", a=Anchor(GROUND, AT), b=Anchor(0, AT), axes=((1.0, 0, 0), (0, 1.0, 0), (0, 0, 1.0)), stiffness=(1.0,) * 6) for n in range(4)]  # fmt: skip
    own = np.zeros((4, 6, 9))
    own[:, 2, WEIGHT] = -250.0
    own[:, 2, X_COLUMN] = (20.0, 20.0, -20.0, -20.0)
    cases = LoadCases(cast("Any", None), ("x", "y"), Motions(np.zeros((6, 9))), own)
    accelerations = {"x": np.array([1.0, 15.0])}
    combined = cases_of(machine(), cases, NO_CUT, accelerations)
    found = least_foot(skeleton(*feet), cases, combined, Ledger())
    assert found is not None
    assert found[0] == pytest.approx(np.array([230.0, -50.0]))
    assert found[1].axis == "x"
    assert found[1].words.startswith("X accelerates")


@pytest.mark.parametrize(
    ("wanted", "promised", "said"),
    [
        (None, 15.2, "X with 15.2 m/s2, all that is promised"),
        (0.8, 15.2, "X with 0.8 m/s2, as wanted"),
        (3.0, 2.0, "X with 2 m/s2, as promised"),
    ],
)
def test_a_foot_that_lifts_names_the_axis_and_who_asks_for_its_acceleration(
    wanted: float | None, promised: float, said: str
) -> None:
    used = promised if wanted is None else min(wanted, promised)
    structure = SimpleNamespace(
        least_foot=-50.0, foot_case="X accelerates -", foot_axis="x", worst=object(), lacking=(), broken=(),
        axes={"x": SimpleNamespace(accel=used)},
    )  # fmt: skip
    motion = SimpleNamespace(axes={"x": SimpleNamespace(accel=promised)})
    results = SimpleNamespace(
        structure=structure, motion=motion, cutting=NO_CUT, masses=SimpleNamespace(total=SimpleNamespace(mass=100.0))
    )
    axis = SimpleNamespace(name="x", path="axis.x", accel=wanted)
    feet = SimpleNamespace(feet=(1, 2, 3, 4), axes=(axis,), show="metric", axis=lambda _: axis)
    (verdict,) = stays_down.judge(cast("Any", feet), cast("Any", results))
    assert verdict.note.startswith(f"when X accelerates -: {said}")


def test_a_joint_that_slips_is_offered_larger_and_more_bolts() -> None:
    found = answer({WEIGHT: ((0.0, 0.0, -9000.0), (0.0,) * 3)}, x=1.0, y=1.0)
    structure = SimpleNamespace(bolted=(found,), worst=object(), lacking=(), broken=())
    motion = SimpleNamespace(axes={name: SimpleNamespace(accel=1.0) for name in "xy"})
    (verdict,) = holds_by_friction.judge(machine(), SimpleNamespace(structure=structure, cutting=NO_CUT, motion=motion))
    assert verdict.margin is not None
    assert verdict.margin < 0
    assert [change.edits for change in verdict.changes] == [
        (("joint.bracket.bolts.thread", "M10"),),
        (("joint.bracket.bolts.count", "8"),),
    ]


# ---- how hard its screws press


def screwed(**changed: Any) -> Joint:
    return replace(JOINT, bolting=replace(Bolting(path="joint.bracket.bolts"), **changed))


def test_a_loose_screw_lets_it_slip_sooner() -> None:
    """Half of the torque that its class bears, and by feel: half of the force over 2.8 instead of 1.6."""
    load = {WEIGHT: ((0.0, 0.0, -1000.0), (0.0, 0.0, 0.0))}
    found = answer(load, joint=screwed(torque=24.98 / 2, scatter=2.8, tightening="by-feel"))
    assert found.slip == pytest.approx(1000.0 / (FRICTION * 4 * LEAST) * 2 * 2.8 / 1.6, rel=5e-3)
    assert found.tightened == pytest.approx(1.6 * LEAST / 2, rel=5e-3)


def test_a_clamp_force_of_samples_gives_a_band_whatever_the_load() -> None:
    """Four samples beside four bolts: neither may be taken for the other."""
    load = {WEIGHT: ((1000.0, 0.0, -1000.0), (0.0, 0.0, 0.0))}
    bears = np.array([2e3, 4e3, 6e3, 8e3])
    found = answer(load, joint=screwed(into="slot-nut", bears=bears))
    single = [answer(load, joint=screwed(into="slot-nut", bears=float(one))) for one in bears]
    assert found.slip == pytest.approx(np.array([one.slip for one in single]))
    assert found.opening == pytest.approx(np.array([one.opening for one in single]))


@pytest.mark.parametrize(("torque", "status"), [(None, "ok"), (20.0, "ok"), (40.0, "fail")])
def test_a_torque_is_judged_by_what_screw_and_thread_bear(torque: float | None, status: str) -> None:
    found = answer({}, joint=screwed(torque=torque))
    results = SimpleNamespace(structure=SimpleNamespace(worst=True, bolted=(found,)))
    (said,) = bears_its_torque.judge(machine(screwed(torque=torque)), results)
    assert str(judge(bears_its_torque, said).status) == status
    if status == "fail":
        assert "22.5 N m" in said.remedy
        mended = answer({}, joint=screwed(torque=22.5))
        assert float(cast("float", mended.tightened)) < float(cast("float", mended.bears))


def test_verdicts_of_samples_keep_their_band() -> None:
    """What stands in words is typical; what is judged has every sample."""
    load = {WEIGHT: ((0.0, 0.0, -1000.0), (0.0, 0.0, 0.0))}
    friction = np.array([0.08, 0.12, 0.16])
    found = answer(load, joint=screwed(torque=20.0, friction=friction))
    structure = StructureResult(worst=cast("Any", True), bolted=(found,))
    results = SimpleNamespace(structure=structure, motion=SimpleNamespace(axes={}), cutting=NO_CUT)
    one = machine(screwed(torque=20.0, friction=friction))
    one.axes = ()  # type: ignore[misc]
    for check in (holds_by_friction, stays_closed, bears_its_torque):
        (said,) = check.judge(one, results)
        assert np.shape(said.margin) == (3,), check.id
