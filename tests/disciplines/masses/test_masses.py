"""Weights of the hand-built machine by hand, and what its checks say of them."""

from dataclasses import replace

import numpy as np
import pytest

from gantrywright.disciplines.masses.analyse import analyse
from gantrywright.disciplines.masses.checks import bodies_can_be_lifted, moving_masses_are_known
from gantrywright.findings import Status, judge
from gantrywright.model.machine import Machine
from gantrywright.results.ledger import Ledger
from gantrywright.results.masses import MassResult
from simple_machine import simple_machine


class Only:
    """Results that hold masses alone: these checks may look at nothing else."""

    def __init__(self, masses: MassResult) -> None:
        self.masses = masses


def weigh(machine: Machine) -> MassResult:
    return analyse(machine, Ledger())


def with_mass(machine: Machine, path: str, mass: object) -> Machine:
    return replace(machine, solids=tuple(replace(s, mass=mass) if s.path == path else s for s in machine.solids))


def test_bodies_axes_and_whole() -> None:
    got = weigh(simple_machine())
    assert {name: body.mass for name, body in got.bodies.items()} == {"bed": 34.0, "gantry": 23.0, "carriage": 3.0, "head": 7.0}
    assert {name: axis.mass for name, axis in got.axes.items()} == {"x": 10.0, "y": 33.0, "z": 7.0}
    assert got.total.mass == 67.0
    # head: 2 kg at (0.3, 0.51, 0.30) and 5 kg at (0.3, 0.45, 0.28)
    np.testing.assert_allclose(got.bodies["head"].centre, (0.3, (2 * 0.51 + 5 * 0.45) / 7, (2 * 0.30 + 5 * 0.28) / 7))
    assert got.axes["x"].parts[0] == ("spindle", 5.0)


def test_figures_open_to_their_parts() -> None:
    ledger = Ledger()
    analyse(simple_machine(), ledger)
    assert [given.path for given in ledger["mass.head"].inputs] == ["head.plate.mass", "spindle.mass"]
    assert [given.path for given in ledger["mass.axis.x"].inputs] == ["mass.carriage", "mass.head"]


def test_unknown_mass_is_listed_and_not_weighed() -> None:
    machine = with_mass(simple_machine(), "spindle", None)
    got = weigh(machine)
    assert got.axes["y"].mass == 28.0
    assert got.axes["y"].unknown == got.axes["z"].unknown == ("spindle",)
    said = {v.subject: judge(moving_masses_are_known, v) for v in moving_masses_are_known.judge(machine, Only(got))}
    assert {finding.status for finding in said.values()} == {Status.UNKNOWN}
    assert "spindle" in said["axis.z"].verdict.missing


def test_lifting_is_told_but_never_fails() -> None:
    machine = with_mass(simple_machine(), "bed.top", 200.0)
    said = {v.subject: judge(bodies_can_be_lifted, v) for v in bodies_can_be_lifted.judge(machine, Only(weigh(machine)))}
    assert said["head"].status is Status.OK
    assert said["bed"].status is Status.WATCH
    assert "hoist" in said["bed"].verdict.note


def test_sampled_masses_are_weighed_one_by_one() -> None:
    spindle = np.array([4.0, 5.0, 9.0])
    got = weigh(with_mass(simple_machine(), "spindle", spindle))
    for i, mass in enumerate(spindle):
        one = weigh(with_mass(simple_machine(), "spindle", float(mass)))
        assert got.axes["x"].mass[i] == pytest.approx(one.axes["x"].mass)  # type: ignore[index]
        assert got.axes["x"].centre[1][i] == pytest.approx(one.axes["x"].centre[1])  # type: ignore[index]
        assert got.total.inertia[0][i] == pytest.approx(one.total.inertia[0])  # type: ignore[index]
