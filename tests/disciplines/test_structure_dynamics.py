"""How the machine rings: one mass on springs, where everything is known by hand, and laws on larger ones."""

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest
from tests.invented_skeletons import moving_gantry
from tests.simple_machine import simple_machine

from gantrywright.base.spread import Spread
from gantrywright.disciplines.structure import dynamic_checks as checks
from gantrywright.disciplines.structure import speeds
from gantrywright.disciplines.structure.dynamics import Ringing, ring
from gantrywright.disciplines.structure.sampled_ringing import rung_samples
from gantrywright.disciplines.structure.statics import solved, tip_answer
from gantrywright.disciplines.structure.stops import filled
from gantrywright.model.machine import Machine
from gantrywright.results.ledger import Ledger
from gantrywright.results.motion import AxisMotion, MotionResult
from gantrywright.results.structure import AxisGive, StructureResult
from gantrywright.theory.frames.assembly import stiffness
from gantrywright.theory.frames.mass import mass_matrix
from gantrywright.theory.frames.mesh import Mesher
from gantrywright.theory.frames.response import receptance_by_solving
from gantrywright.theory.frames.skeleton import GROUND, Anchor, Bar, Lump, Motion, Rest, Skeleton, Tie

X, Y, Z = (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)
MASS, LOSS = 20.0, 0.06
SPRING = (2e6, 8e6, 1.8e7)
ACCEL, RAPID, ACCURACY = 2.0, 0.1, 2e-5
OWN = np.sqrt(np.array(SPRING) / MASS)
"""Circular frequency along X, Y, Z."""


def rigid(part: str, body: str, at: tuple[float, float, float]) -> Bar:
    """A light bar that gives nothing worth telling, upward from a place."""
    return Bar(
        part=part, body=body, start=at, stop=(at[0], at[1], at[2] + 0.1), height_axis=X, axial=1e13, torsion=1e12, bend_height=1e12,
        bend_width=1e12, mass_per_length=1e-3, rotary_height=1e-9, rotary_width=1e-9,
    )  # fmt: skip


def one_mass(spring=SPRING, loss=LOSS) -> Skeleton:
    """A mass at the tip on one spring, over a table that stands fast."""
    at = (0.3, 0.4, 0.1)
    held = Tie(
        part="axis.x.drive.main", kind="drive", a=Anchor(GROUND, at), b=Anchor(0, at), axes=(X, Y, Z),
        stiffness=(*spring, 1e9, 1e9, 1e9), loss=loss,
    )  # fmt: skip
    fast = Tie(
        part="bed.foot", kind="foot", a=Anchor(GROUND, Z), b=Anchor(1, (0.3, 0.4, 0.0)), axes=(X, Y, Z), stiffness=(1e13,) * 6
    )
    eye = tuple(tuple(0.02 * (i == k) for k in range(3)) for i in range(3))
    return Skeleton(
        (rigid("head.plate", "head", at), rigid("bed.top", "bed", (0.3, 0.4, -0.1))), (held, fast),
        (Lump("spindle", Anchor(0, at), MASS, eye),), Anchor(0, at), Rest((1,), body="bed"),
        (Motion("x", 0.6, 0.3, {"head": X}),),
    )  # fmt: skip


def machine(accuracy: float | None = ACCURACY) -> Machine:
    """One whose only axis is X."""
    whole = simple_machine()
    axes = tuple(replace(axis, accel=None) for axis in whole.axes if axis.name == "x")
    return replace(whole, axes=axes, purpose=replace(whole.purpose, accuracy=accuracy))


def promised(**changes) -> MotionResult:
    known = AxisMotion("x", RAPID, ACCEL, None, (), "", "", 0.0, None, None, None, None, None)
    return MotionResult({"x": replace(known, **changes)})


def rung(
    skeleton: Skeleton, of: Machine | None = None, motion: MotionResult | None = None, ledger: Ledger | None = None
) -> Ringing:
    mesher = Mesher(skeleton)
    pose = {motion.axis: motion.drawn for motion in skeleton.motions}
    here = solved(mesher, pose)
    tip = tip_answer(skeleton, pose, here, here.under(here.mesh.load))
    return ring(of or machine(), skeleton, mesher, tip, motion or promised(), Ledger() if ledger is None else ledger)


@pytest.fixture(scope="module")
def single() -> Ringing:
    return rung(one_mass())


def test_one_mass_rings_at_the_root_of_spring_over_mass(single):
    found = [mode.frequency for mode in single.modes[:3]]
    assert found == pytest.approx(OWN / (2 * np.pi), rel=1e-4)
    for k, mode in enumerate(single.modes[:3]):
        assert mode.damping == pytest.approx(LOSS / 2, rel=1e-3)
        assert mode.tip_share[k] == pytest.approx(1.0, abs=1e-3)
        assert mode.strain[0] == ("axis.x.drive.main", pytest.approx(1.0, abs=1e-3))
        assert mode.kinetic[0] == ("spindle", pytest.approx(1.0, abs=1e-2))


def test_its_tip_gives_q_times_more_at_its_peak(single):
    damping = LOSS / 2
    for k in range(3):
        static = 1 / SPRING[k]
        assert single.response.peak[k] == pytest.approx(static / (2 * damping * np.sqrt(1 - damping**2)), rel=2e-3)
        assert single.response.lowest_real[k] == pytest.approx(-static / (4 * damping * (1 + damping)), rel=2e-3)
        assert single.response.peak_at[k] == pytest.approx(OWN[k] / (2 * np.pi), rel=2e-3)
    assert abs(single.response.receptance[0]) == pytest.approx(1 / np.array(SPRING), rel=0.02)
    assert 300 <= len(single.response.frequencies) <= 500


def test_its_stop_by_hand(single):
    """Static swing m a/k, twice: at the end of the stop, and what its beginning left."""
    circular, damping = OWN[0], LOSS / 2
    left = MASS * ACCEL / SPRING[0] / np.sqrt(1 - damping**2) * (1 + np.exp(-damping * circular * RAPID / ACCEL))
    stop = single.stops["x"]
    assert stop.left == pytest.approx(left, rel=2e-3)
    assert stop.tolerance == ACCURACY / 4
    assert stop.settle == pytest.approx(np.log(left / stop.tolerance) / (damping * circular), rel=5e-3)
    assert stop.jerk == pytest.approx(ACCEL / stop.ramp)
    turned = circular * stop.ramp
    assert left * (1 + np.exp(-damping * turned)) / turned == pytest.approx(stop.tolerance, rel=5e-3)
    assert stop.quiet == pytest.approx(ACCEL * stop.tolerance / (left * np.exp(-damping * circular * 0.2)), rel=5e-3)
    assert stop.binds.endswith("50 Hz")


def with_rise(rise: float | None) -> Machine:
    whole = machine()
    return replace(whole, axes=(replace(whole.axes[0], rise_time=rise),))


def stepped(rise: float, *, accel: float = ACCEL, rapid: float = RAPID) -> tuple[np.ndarray, np.ndarray]:
    """Motion of the mass against where the drive would have it, integrated step by step through a stop; from its end on."""
    from scipy.integrate import solve_ivp

    high = accel if rapid >= accel * rise else np.sqrt(accel * rapid / rise)
    ramp = rise * high / accel if rise else 1e-9
    hold = rapid / high - ramp
    corners, values = np.cumsum([0.0, ramp, hold, ramp]), np.array([0.0, -high, -high, 0.0])
    circular, damping = OWN[0], LOSS / 2
    end = corners[-1]
    made = solve_ivp(
        lambda t, y: (y[1], -np.interp(t, corners, values) - 2 * damping * circular * y[1] - circular**2 * y[0]), (0.0, end + 0.1), (0.0, 0.0),
        max_step=2e-4, rtol=1e-9, atol=1e-13, t_eval=np.linspace(end, end + 0.1, 4000),
    )  # fmt: skip
    return made.y


@pytest.mark.parametrize("share", [0.0, 0.5, 1.0, 1.5, 2.0, 2.8])
def test_a_rise_time_is_heard_as_in_a_simulation_of_the_stop(share):
    """Rise times in periods of the mode (20 ms); the last ones no longer reach the full acceleration before half of the stop is over."""
    rise = share * 2 * np.pi / OWN[0]
    stop = rung(one_mass(), of=with_rise(rise)).stops["x"]
    place, speed = stepped(rise)
    circular, damping = OWN[0], LOSS / 2
    lag = (speed + damping * circular * place) / (circular * np.sqrt(1 - damping**2))
    envelope = np.sqrt(place[0] ** 2 + lag[0] ** 2)
    static = MASS * ACCEL / SPRING[0]
    assert envelope <= stop.left * (1 + 2e-3) + 1e-4 * static  # both ends are taken as if in phase
    assert stop.left <= 2.02 * static
    if share in (1.0, 2.0):  # damping leaves a little of what whole periods would cancel
        assert stop.left < 0.2 * static


def test_one_period_as_rise_time_stills_the_mode(single):
    period = single.stops["x"].period
    assert period == pytest.approx(2 * np.pi / OWN[0], rel=1e-4)
    still = rung(one_mass(), of=with_rise(period)).stops["x"]
    assert still.left == pytest.approx(single.stops["x"].period_left, rel=1e-6)
    assert still.left < 0.1 * single.stops["x"].left
    assert still.settle < 0.5 * single.stops["x"].settle
    assert still.ramp == pytest.approx(single.stops["x"].ramp)  # needed whatever is set
    assert still.quiet > 5 * single.stops["x"].quiet


def test_the_rise_time_is_proposed_and_where_it_is_set_no_more(single):
    here = machine()
    (left,) = checks.quiet_stop.judge(here, results(single, here))
    assert left.changes[0].edits == (("axis.x.rise_time", "20 ms"),)
    assert "20 ms" in left.remedy or "19.9 ms" in left.remedy
    (settle,) = checks.settles.judge(here, results(single, here))
    assert next(path for change in settle.changes for path, _ in change.edits) == "axis.x.rise_time"
    ramped = with_rise(0.02)
    found = rung(one_mass(), of=ramped)
    (left,) = checks.quiet_stop.judge(ramped, results(found, ramped))
    assert left.margin > 0
    assert ("axis.x.rise_time", "20 ms") not in [edit for change in left.changes for edit in change.edits]


@pytest.mark.parametrize(("rise", "accel"), [(0.0, 0.0), (0.03, 0.0), (0.03, ACCEL)])
def test_an_axis_that_cannot_move_rings_not(rise, accel):
    stop = rung(one_mass(), of=with_rise(rise), motion=promised(rapid=0.0, accel=accel)).stops["x"]
    assert stop.left == pytest.approx(0.0, abs=1e-12)
    assert stop.settle == 0.0


def test_an_unknown_rise_time_is_asked_for(single):
    here = with_rise(None)
    found = rung(one_mass(), of=here)
    assert found.stops == {}
    for check in (checks.quiet_stop, checks.settles):
        (verdict,) = check.judge(here, results(found, here))
        assert verdict.missing == "axis.x.rise_time"


def test_without_a_promise_or_an_accuracy_nothing_is_told():
    assert rung(one_mass(), motion=promised(rapid=None)).stops == {}
    assert rung(one_mass(), motion=promised(accel=None)).stops == {}
    stop = rung(one_mass(), of=machine(None)).stops["x"]
    assert stop.left > 0
    assert (stop.settle, stop.ramp, stop.jerk, stop.quiet) == (None, None, None, None)


def test_a_machine_without_known_losses_still_rings_out():
    single = rung(one_mass(loss=0.0))
    assert single.modes[0].damping == pytest.approx(0.0005)
    assert np.isfinite(single.stops["x"].settle)


def test_figures_are_written_down():
    ledger = Ledger()
    single = rung(one_mass(), ledger=ledger)
    for path in ("structure.mode.1.frequency", "structure.mode.1.damping", "structure.tip.peak_x", "structure.tip.lowest_real_z",
                 "axis.x.stop.left", "axis.x.stop.settle", "axis.x.stop.ramp", "axis.x.stop.jerk", "axis.x.stop.quiet_acceleration"):  # fmt: skip
        assert path in ledger, path
    assert ledger["structure.mode.1.frequency"].inputs[0].note.startswith("holds 100 %")
    assert ledger["axis.x.stop.settle"].value == single.stops["x"].settle


@pytest.fixture(scope="module")
def gantry() -> Ringing:
    return rung(moving_gantry())


def test_shares_sum_to_one(gantry):
    assert gantry.basis.shares.sum(axis=0) == pytest.approx(np.ones(len(gantry.modes)), abs=1e-9)
    for mode in gantry.modes:
        assert 0.5 < sum(share for _, share in mode.strain) < 1 + 1e-9
        assert 0.5 < sum(share for _, share in mode.kinetic) < 1 + 1e-9
        assert mode.name
    held = np.array([mode.tip_share for mode in gantry.modes]).sum(axis=0)
    assert np.all(held < 1 + 1e-9)
    assert held[2] > 0.9  # the tool of this one has next to no mass: along X and Y it gives above all frequencies


def test_modes_ascend_and_are_drawn(gantry):
    frequencies = [mode.frequency for mode in gantry.modes]
    assert frequencies == sorted(frequencies)
    assert [mode.number for mode in gantry.modes] == list(range(1, len(gantry.modes) + 1))
    assert len(gantry.drawing.shapes) == 10
    for shape in gantry.drawing.shapes:
        assert shape.shift.shape == gantry.drawing.nodes.shape
        assert np.sqrt((shape.shift**2).sum(axis=1)).max() == pytest.approx(1.0)


def test_answer_agrees_with_the_full_one():
    """All degrees of freedom solved at each frequency, with one loss factor everywhere; viscous and constant loss differ by a part of it."""
    skeleton = moving_gantry()
    even = replace(
        skeleton,
        bars=tuple(replace(bar, loss=0.01) for bar in skeleton.bars),
        ties=tuple(replace(tie, loss=0.01) for tie in skeleton.ties),
    )
    found = rung(even).response
    mesher = Mesher(even)
    here = solved(mesher, {motion.axis: motion.drawn for motion in even.motions}, longest=0.3)
    looked = np.flatnonzero(found.frequencies < 600)[::12]
    full = receptance_by_solving(
        stiffness(here.rows, here.coefficients * (1 + 0.01j)), mass_matrix(here.mesh.frame), here.mesh.load[:, :3], found.frequencies[looked]
    )  # fmt: skip
    own = np.diagonal(full, axis1=-2, axis2=-1)
    assert np.abs(np.abs(found.receptance[looked]) - np.abs(own)).max() < 0.01 * np.abs(own).max()


def test_samples_follow_the_springs():
    factors = np.array([1.0, 0.25, 4.0])
    sampled = one_mass(spring=tuple(k * factors for k in SPRING), loss=LOSS * np.array([1.0, 2.0, 1.0]))
    typical = rung(one_mass())
    give = np.zeros((3, 6, 6))
    give[:, range(3), range(3)] = 1 / (np.array(SPRING) * factors[:, None])
    ledger = Ledger()
    modes, stops, response = rung_samples(typical.basis, machine(), Mesher(sampled), give, promised(), typical.response, ledger)
    assert modes[0].frequency == pytest.approx(OWN[0] / (2 * np.pi) * np.array([1.0, 0.5, 2.0]), rel=1e-3)
    assert modes[0].damping == pytest.approx(LOSS / 2 * np.array([1.0, 2.0, 1.0]), rel=1e-3)
    for k, factor in enumerate(factors):
        alone = rung(one_mass(spring=tuple(s * factor for s in SPRING), loss=LOSS * (1, 2, 1)[k])).stops["x"]
        for word in ("left", "settle", "ramp", "jerk", "quiet"):
            assert getattr(stops["x"], word)[k] == pytest.approx(getattr(alone, word), rel=5e-3), word
    damping = LOSS / 2 * np.array([1.0, 2.0, 1.0])
    for k, letter in enumerate("xyz"):
        static = give[:, k, k]
        assert ledger[f"structure.tip.peak_{letter}"].value == pytest.approx(
            static / (2 * damping * np.sqrt(1 - damping**2)), rel=2e-3
        )
        assert ledger[f"structure.tip.lowest_real_{letter}"].value == pytest.approx(
            -static / (4 * damping * (1 + damping)), rel=2e-3
        )
        assert modes[k].tip_share[k] == pytest.approx(np.ones(3), abs=1e-3)
    assert response is not None
    assert response.band.shape == (3, len(response.band_frequencies), 3)
    slow = (response.band_frequencies[0] * 2 * np.pi / OWN) ** 2  # far below all modes: the static give, little amplified
    expected = np.quantile(1 / (np.array(SPRING) * (factors[:, None] - slow)), (0.05, 0.5, 0.95), axis=0)
    assert response.band[:, 0] == pytest.approx(expected, rel=1e-3)
    assert response.receptance is typical.response.receptance


def test_without_samples_nothing_changes(single):
    mesher = Mesher(one_mass())
    give = np.zeros((6, 6))
    modes, stops, response = rung_samples(single.basis, machine(), mesher, give, promised(), single.response, Ledger())
    assert modes is single.modes
    assert response is single.response
    assert stops["x"].left == pytest.approx(single.stops["x"].left)


def results(found: Ringing, of: Machine) -> SimpleNamespace:
    given = {"x": AxisGive("x", ACCEL, 0.0, 0.0, None, 0.0, None, None)}
    structure = StructureResult(modes=found.modes, response=found.response, axes=filled(given, found.stops))
    return SimpleNamespace(structure=structure, motion=promised())


def test_a_speed_that_meets_a_mode_fails_and_a_clear_one_is_proposed(single):
    """151 Hz along Z: two flutes at 4530 rpm strike it; with the other two modes as well no speed nearby is quite clear."""
    slow = machine()
    struck = 60 * OWN[2] / (2 * np.pi) / 2
    slow = replace(slow, jobs=(replace(slow.jobs[0], speed=struck * np.pi / 30 * 1.02),), spindle=None)
    alone = replace(single, modes=single.modes[2:])
    (verdict,) = checks.apart_from_the_teeth.judge(slow, results(single, slow))
    ((_, text),) = verdict.changes[0].edits
    turns = float(text.removesuffix(" rpm")) / 60
    apart = np.abs(OWN[:, None] / (2 * np.pi * turns * np.array([1, 2])) - 1).min()
    assert 0.1 < apart < 0.2
    (verdict,) = checks.apart_from_the_teeth.judge(slow, results(alone, slow))
    assert verdict.value == pytest.approx(2 * checks.SWING * 0.0196, abs=1e-2)  # 2 SWING d/s, s = 1
    assert verdict.margin < 0
    assert "passing of the teeth" in verdict.note
    ((_, text),) = verdict.changes[0].edits
    proposed = float(text.removesuffix(" rpm")) * np.pi / 30
    clear = replace(slow, jobs=(replace(slow.jobs[0], speed=proposed),))
    (after,) = checks.apart_from_the_teeth.judge(clear, results(alone, clear))
    assert after.value >= checks.APART - 1e-9


def test_all_of_a_range_of_speeds_is_judged(single):
    """4700 rpm is clear of 151 Hz by 3.6 %, and so are 4600 and 4800 rpm; with 4500 to 4900 rpm allowed it is met on the way."""
    alone = replace(single, modes=single.modes[2:])
    rpm = np.pi / 30
    slow = machine()
    job = replace(slow.jobs[0], speed=4700 * rpm)
    here = replace(slow, jobs=(job,), spindle=None)
    (one,) = checks.apart_from_the_teeth.judge(here, results(alone, here))
    assert one.value == pytest.approx(10 * (4700 / 4529.6 - 1) / (4700 / 4529.6), rel=1e-3)
    wide = replace(here, spreads={f"{job.path}.speed": Spread(4500 * rpm, 4700 * rpm, 4900 * rpm)})
    (ranged,) = checks.apart_from_the_teeth.judge(wide, results(alone, wide))
    assert ranged.value < 0.05 < one.value
    assert "4550 rpm" in ranged.note
    narrow = replace(here, spreads={f"{job.path}.speed": Spread(4650 * rpm, 4700 * rpm, 4900 * rpm)})
    (ranged,) = checks.apart_from_the_teeth.judge(narrow, results(alone, narrow))
    assert ranged.value == pytest.approx(10 * (1 - 4529.6 / 4650), rel=1e-3)


def test_free_speeds_keep_to_the_rule_of_the_check(single):
    """One mode at 151 Hz that holds everything: clear where turns and teeth are off by half of themselves."""
    found = speeds.resonances(single.modes[2:3])
    free = speeds.free_speeds(found, 2, (1000.0, 24000.0))
    mode = OWN[2] / (2 * np.pi) * 60
    assert free == ((1000.0, pytest.approx(mode / 1.5 / 2, abs=50)), (pytest.approx(mode / 0.5, abs=50), 24000.0))
    for low, high in free:
        assert np.all(speeds.nearest(found, np.array([low, high]) * np.pi / 30, 2) >= speeds.CLEAR)
    outside = np.array([free[0][1] + 100, free[1][0] - 100]) * np.pi / 30
    assert np.all(speeds.nearest(found, outside, 2) < speeds.CLEAR)
    assert speeds.free_speeds(speeds.resonances(()), 2, (6000.0, 24000.0)) == ((6000.0, 24000.0),)


def test_samples_are_judged_by_what_each_mode_holds_in_each(single):
    """A mode that holds little of the give in one sample does not matter there."""
    held = np.array([1.0, 0.5, 0.04])
    mode = replace(single.modes[2], frequency=np.full(3, 100.0), tip_share=(0.0 * held, 0.0 * held, held))
    found = speeds.resonances((mode,))
    assert speeds.nearest(found, np.array([2 * np.pi * 110.0]), 3)[:, 0] == pytest.approx([10 / 11, 20 / 11, speeds.FAR])


def test_far_from_every_mode_it_passes(single):
    fast = machine()  # 300 and 600 Hz
    (verdict,) = checks.apart_from_the_teeth.judge(fast, results(single, fast))
    assert verdict.value == pytest.approx(2 * checks.SWING * (1 - OWN[2] / 1885.0), rel=1e-3)
    assert verdict.margin > 0


def test_stops_are_judged(single):
    here = machine()
    (left,) = checks.quiet_stop.judge(here, results(single, here))
    (settle,) = checks.settles.judge(here, results(single, here))
    assert left.value > left.limit == ACCURACY
    assert settle.value == single.stops["x"].settle
    assert settle.limit == 0.2
    assert "jerk" in settle.remedy
    assert "50 Hz" in settle.note
    loose = machine(accuracy=2e-3)
    fine = results(rung(one_mass(), of=loose), loose)
    assert all(check.judge(loose, fine).__next__().margin > 0 for check in (checks.quiet_stop, checks.settles))


def test_what_is_unknown_stays_unknown(single):
    here = machine(None)
    found = results(rung(one_mass(), of=here), here)
    for check in (checks.quiet_stop, checks.settles):
        (verdict,) = check.judge(here, found)
        assert verdict.missing == "purpose.accuracy"
    nothing = SimpleNamespace(structure=StructureResult(lacking=("feet",)), motion=promised())
    for check in (checks.apart_from_the_teeth, checks.quiet_stop, checks.settles):
        (verdict,) = check.judge(machine(), nothing)
        assert "feet" in verdict.missing
