"""Screws that both ends hold: closed form between rigid seats, between seats that give unlike, in doubt, and on whole machines."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from gantrywright.disciplines.structure.carriers import Carriers
from gantrywright.disciplines.structure.skeleton import skeleton_of
from gantrywright.disciplines.structure.statics import give_of, solved, tip_answer
from gantrywright.disciplines.structure.ties import drive_ties
from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import again
from gantrywright.model.axis import Axis, DriveFit
from gantrywright.model.drive_chain import drive_chain
from gantrywright.model.frame import along
from gantrywright.model.machine import Machine
from gantrywright.results.structure import Tip
from gantrywright.theory.frames.mesh import Mesher
from gantrywright.theory.frames.skeleton import GROUND, Anchor, Bar, Motion, Rest, Skeleton, Tie
from gantrywright.theory.frames.stiffness_map import stiffness_map
from gantrywright.theory.screw_stiffness import both_ends_stiffness
from gantrywright.theory.statistics import draw

DEMO = Path(__file__).parents[3] / "src" / "gantrywright" / "data" / "demo" / "as-built.toml"
FIXED = ("axis.x.drive.main.ends", "fixed-fixed")
CLAMPED = (("axis.x.drive.main.ends", "clamped-clamped"), ("axis.x.drive.main.turns", "nut"))
HELD = (1e15, 1e15, 1e15, 1e12, 1e12, 1e12)


def machine_of(*edits: tuple[str, str]) -> Machine:
    return again(read_document(DEMO))({}, edits)


def drive_of(machine: Machine) -> tuple[Axis, DriveFit]:
    axis = machine.axis("x")
    return axis, axis.drives[0]


def stout(body: str, fit: DriveFit, *, middle: bool = False) -> Bar:
    """A bar that hardly gives: along the screw, or at its nut."""
    start, stop = (along(fit.grip, (1.0, 0.0, 0.0), off) for off in (-0.05, 0.05)) if middle else fit.line
    return Bar(part=body, body=body, start=start, stop=stop, height_axis=(0.0, 0.0, 1.0), axial=1e14, torsion=1e14, bend_height=1e14,
               bend_width=1e14)  # fmt: skip


def alone(axis: Axis, fit: DriveFit, *, seats: tuple[float, float] | None = None) -> Skeleton:
    """The drive alone between a seat bar on the ground (or two, each on a spring of its own) and a carriage that runs freely."""
    base = [stout(fit.holds, fit)]
    if seats is not None:
        line = base[0]
        halves = ((line.start, along(line.start, (1.0, 0.0, 0.0), 0.1)), (along(line.stop, (1.0, 0.0, 0.0), -0.1), line.stop))
        base = [replace(line, start=a, stop=b) for a, b in halves]
    carriers = Carriers([*base, stout(fit.grips, fit, middle=True)], ())
    ties, screws = drive_ties(axis, fit, carriers, len(carriers.bars))
    ways = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    feet = tuple(
        Tie(part="floor", kind="foot", a=Anchor(GROUND, bar.start), b=Anchor(n, bar.start), axes=ways,
            stiffness=HELD if seats is None else (seats[n], *HELD[1:])) for n, bar in enumerate(base)
    )  # fmt: skip
    run = Tie(part="block", kind="block", a=Anchor(0, fit.grip), b=Anchor(len(base), fit.grip), axes=ways, stiffness=(0.0, *HELD[1:]),
              axis="x", slides="a")  # fmt: skip
    motion = Motion("x", axis.travel, axis.drawn, {fit.grips: axis.direction})
    return Skeleton((*carriers.bars, *screws), (*feet, run, *ties), (), Anchor(len(base), fit.grip), Rest(()), (motion,))


@pytest.mark.parametrize("edits", [(FIXED,), CLAMPED, ()], ids=["turning screw", "still screw", "one end"])
def test_between_rigid_seats_it_gives_as_the_standard_says(edits: tuple[tuple[str, str], ...]) -> None:
    """The whole row with k = 1/(1/k_b + x/(E A)) + 1/(1/k_b + (L - x)/(E A)), as in ISO 3408-4 (from memory), at every pose."""
    axis, fit = drive_of(machine_of(*edits))
    skeleton, places = alone(axis, fit), np.linspace(0.0, axis.travel, 7)
    assert len(skeleton.bars) == (3 if edits else 2)
    found = 1 / stiffness_map(skeleton, {"x": places}).give[:, 0, 0]
    assert found == pytest.approx(drive_chain(axis, fit).along(places), rel=2e-4)
    if edits == (FIXED,):
        assert np.ptp(found) > 0.01 * found.max()


def test_the_nut_alone_sees_both_lengths_side_by_side() -> None:
    """The same without the links that a screw and its bearings are in a row with, written out: nothing of the chain is used."""
    axis, fit = drive_of(machine_of(FIXED))
    skeleton, chain = alone(axis, fit), drive_chain(axis, fit)
    places = np.array([0.1, 0.5, 0.9]) * axis.travel
    stiff = tuple(replace(tie, along=lambda _: 1e13, links=None) if tie.along else tie for tie in skeleton.ties)
    found = 1 / stiffness_map(replace(skeleton, ties=stiff), {"x": places}).give[:, 0, 0]
    screw = fit.drive
    wanted = both_ends_stiffness(
        root_diameter=screw.root, elastic_modulus=206e9, distance=chain.distance(places), free_length=fit.free_length,
        near_bearing=screw.bearing_stiffness, far_bearing=screw.bearing_stiffness,
    )  # fmt: skip
    assert found == pytest.approx(wanted, rel=2e-4)


@pytest.mark.parametrize("soft", [0, 1])
def test_each_seat_counts_with_its_part_of_the_force(soft: int) -> None:
    """One seat on a spring: that spring, its bearing and its length of screw in a row, the other side beside them."""
    axis, fit = drive_of(machine_of(FIXED))
    first = (0 if fit.motor_end_first else 1) == soft
    springs = tuple(2e7 if n == soft else 1e15 for n in (0, 1))
    skeleton = alone(axis, fit, seats=(springs[0], springs[1]))
    stiff = tuple(replace(tie, along=lambda _: 1e13, links=None) if tie.along else tie for tie in skeleton.ties)
    # the carriage runs on the bar whose seat does not give
    blocks = tuple(replace(tie, a=Anchor(1 - soft, tie.a.point)) if tie.kind == "block" else tie for tie in stiff)
    places = np.array([0.1, 0.5, 0.9]) * axis.travel
    found = 1 / stiffness_map(replace(skeleton, ties=blocks), {"x": places}).give[:, 0, 0]
    distance, rod = drive_chain(axis, fit).distance(places), 206e9 * np.pi / 4 * fit.drive.root**2
    give = 1 / fit.drive.bearing_stiffness
    near, far = give + distance / rod + first / 2e7, give + (fit.free_length - distance) / rod + (not first) / 2e7
    assert found == pytest.approx(1 / near + 1 / far, rel=2e-4)


def shares(tip: Tip, path: str) -> dict[str, float]:
    return {share.part.removeprefix(f"{path}."): float(share.along[0]) for share in tip.shares if share.group == path}


def test_every_link_keeps_its_name_and_its_part_of_the_give() -> None:
    axis, fit = drive_of(machine_of(FIXED))
    skeleton, pose = alone(axis, fit), {"x": 0.3 * axis.travel}
    here = solved(Mesher(skeleton), pose)
    found = shares(tip_answer(skeleton, pose, here, here.under(here.mesh.load)), fit.path)
    links = drive_chain(axis, fit).links(pose["x"])
    whole = sum(1 / np.asarray(k) for k in links.values())
    wanted = {path.removeprefix(f"{fit.path}."): float(1 / k / whole) for path, k in links.items()}
    assert found == pytest.approx(wanted, abs=2e-4)


def test_a_fixity_in_doubt_is_one_skeleton_with_samples_of_both() -> None:
    resolve = again(read_document(DEMO))
    edits = (("axis.x.drive.main.ends", "fixed-supported or fixed-fixed"),)
    spreads = {name: spread for name, spread in resolve({}, edits).spreads.items() if name.endswith("x.drive.main.ends")}
    assert len(spreads) == 1
    machine = resolve(draw(spreads, 8), edits)
    held = np.broadcast_to(np.asarray(drive_of(machine)[1].drive.parts.far_end_held) > 0.5, 8)
    assert 0 < held.sum() < 8
    both = []
    for one in (machine, machine_of(FIXED), machine_of(edits[0])):
        skeleton = skeleton_of(one).skeleton
        assert skeleton is not None
        here = solved(Mesher(skeleton), {motion.axis: motion.travel / 2 for motion in skeleton.motions})
        both.append((len(skeleton.bars), give_of(here, here.under(here.mesh.load))[..., 0, 0]))
    (bars, sampled), (_, fixed), (typical_bars, _) = both
    assert bars == typical_bars
    assert sampled[held] == pytest.approx(np.full(held.sum(), fixed), rel=1e-3)
    assert np.all(sampled[~held] > fixed * 1.001)


def test_a_second_fixed_end_stiffens_a_real_machine_along_its_axis() -> None:
    give = []
    for edits in ((), (FIXED,)):
        skeleton = skeleton_of(machine_of(*edits)).skeleton
        assert skeleton is not None
        give.append(
            stiffness_map(skeleton, {motion.axis: np.array([0.2, 0.8]) * motion.travel for motion in skeleton.motions}).give
        )
    assert np.all(give[1][..., 0, 0] < give[0][..., 0, 0])
