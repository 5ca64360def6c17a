"""Spindle, collet and cutter: the give of the tip and whose it is, recomputed part by part with the formulas of beams and springs."""

from dataclasses import replace

import numpy as np
import pytest

from gantrywright.disciplines.structure.spindle import spindle_bars, spindle_gaps
from gantrywright.theory.frames.skeleton import Anchor
from held_spindle import CARBIDE, MOUNT, SPINDLE, STEEL, give, machine, model, shares
from simple_machine import simple_machine

OUT, FLUTES, OVERHANG, SPAN, CLAMP = 0.03, 0.021, 0.05, 0.13, 0.09
"""Stick-out, flutes, overhang, span, middle of the mount above the collet face, m."""


def bend(outer: float, inner: float, modulus: float) -> float:
    return modulus * np.pi / 64 * (outer**4 - inner**4)


def area(outer: float, inner: float = 0.0) -> float:
    return np.pi / 4 * (outer**2 - inner**2)


def round_shear(diameter: float, modulus: float, shear: float) -> float:
    """G A_s of a solid round, energy-exact."""
    nu = modulus / (2 * shear) - 1
    return shear * area(diameter) * 6 * (1 + nu) ** 2 / (7 + 14 * nu + 8 * nu**2)


def sideways(out: float = OUT) -> dict[str, float]:
    """Parts of the give of the tip sideways, m/N; without a cutter ``out`` is 0."""
    lever = OVERHANG + out
    front, rear = 1 + lever / SPAN, lever / SPAN
    shaft, shaft_shear = bend(0.025, 0.0, 210e9), round_shear(0.025, 210e9, 81e9)
    body, body_shear = bend(0.08, 0.06, 210e9), 81e9 * area(0.08, 0.06) / 2
    down, up = CLAMP - OVERHANG, OVERHANG + SPAN - CLAMP
    parts = {
        "spindle.shaft": (lever**3 - out**3 + lever**2 * SPAN) / (3 * shaft) + (OVERHANG + rear**2 * SPAN) / shaft_shear,
        "spindle.bearings": front**2 / 130e6 + rear**2 / 70e6,
        "spindle": sum(force**2 * (arm**3 / (3 * body) + arm / body_shear) for force, arm in ((front, down), (rear, up))),
        "spindle.mount": 1 / 300e6 + (CLAMP + out) ** 2 / 1e6,
    }
    if out:
        shank, flute = bend(0.006, 0.0, 600e9), bend(0.0048, 0.0, 600e9)
        parts["tool.cutter"] = (
            FLUTES**3 / (3 * flute) + (out**3 - FLUTES**3) / (3 * shank)
            + FLUTES / round_shear(0.0048, 600e9, 245e9) + (out - FLUTES) / round_shear(0.006, 600e9, 245e9)
        )  # fmt: skip
        parts["spindle.collet"] = 1 / 60e6 + out**2 / 30e3
    return parts


def test_give_sideways_is_the_sum_of_its_parts_by_hand() -> None:
    found = give(machine())
    by_hand = sum(sideways().values())
    assert found[0, 0] == pytest.approx(by_hand, rel=2e-4)
    assert found[1, 1] == pytest.approx(by_hand, rel=2e-4)
    assert abs(found[0, 1]) < 1e-4 * by_hand


def test_each_part_has_the_share_that_it_has_by_hand() -> None:
    by_hand = sideways()
    found = shares(machine(), 0)
    for part, value in by_hand.items():
        assert found[part] == pytest.approx(value / sum(by_hand.values()), rel=1e-3), part


def test_give_endways() -> None:
    shaft, body = 210e9 * area(0.025), 210e9 * area(0.08, 0.06)
    cutter = FLUTES / (600e9 * area(0.0048)) + (OUT - FLUTES) / (600e9 * area(0.006))
    by_hand = cutter + 1 / 60e6 + OVERHANG / shaft + 1 / 30e6 + (CLAMP - OVERHANG) / body + 1 / 300e6
    assert give(machine())[2, 2] == pytest.approx(by_hand, rel=2e-4)


def test_without_a_cutter_the_tip_is_the_collet_face() -> None:
    found = give(machine(tool=False))
    assert found[0, 0] == pytest.approx(sum(sideways(0.0).values()), rel=2e-4)


def test_a_mount_gives_in_each_of_its_ways() -> None:
    """Softened one by one; the normal of the face that it is bolted to is -y, the spindle points down."""
    firm = give(machine())
    reach = CLAMP + OUT
    for name, direction, arm in (("n", 1, 1.0), ("a", 2, 1.0), ("b", 0, 1.0), ("rn", 0, reach), ("rb", 1, reach)):
        soft = getattr(MOUNT, name) / 4
        more = give(machine(mount=replace(MOUNT, **{name: soft}))) - firm
        assert more[direction, direction] == pytest.approx(arm**2 * (1 / soft - 1 / (4 * soft)), rel=1e-3), name
        others = [k for k in range(3) if k != direction]
        assert np.all(np.abs(more[others, others]) < 1e-4 * more[direction, direction]), name


def test_samples_give_what_each_gives_alone() -> None:
    radial, shaft = np.array([60e6, 130e6, 200e6]), np.array([0.02, 0.025, 0.028])
    together = give(machine(bearing_radial=radial, shaft=shaft))
    alone = [give(machine(bearing_radial=float(r), shaft=float(s))) for r, s in zip(radial, shaft, strict=True)]
    np.testing.assert_allclose(together, alone, rtol=1e-7, atol=1e-15)


def test_nothing_is_weighed_twice() -> None:
    held = machine()
    made = model(held)
    bars = sum(bar.mass_per_length * np.linalg.norm(np.subtract(bar.stop, bar.start)) for bar in made.bars)
    own = [solid.mass for solid in held.solids if solid.kind in ("spindle", "mount", "cutter")]
    assert bars + sum(lump.mass for lump in made.lumps) == pytest.approx(sum(own))
    assert bars == pytest.approx(
        7850 * area(0.025) * (OVERHANG + SPAN) + 14500 * (area(0.0048) * FLUTES + area(0.006) * (OUT - FLUTES))
    )


def test_flutes_that_begin_in_the_collet() -> None:
    made = model(machine(cutter={"flute_length": 0.05}))
    assert [bar.kind for bar in made.bars] == ["spindle", "spindle", "tool"]
    assert made.tip.bar == 3
    found = give(machine(cutter={"flute_length": 0.05}))[0, 0] - give(machine())[0, 0]
    flute, shank = bend(0.0048, 0.0, 600e9), bend(0.006, 0.0, 600e9)
    bending = (OUT**3 - FLUTES**3) / 3 * (1 / flute - 1 / shank)
    assert found == pytest.approx(bending, rel=0.01)  # shear besides


def test_flutes_of_unknown_length_are_told() -> None:
    made = model(machine(cutter={"flute_length": None}))
    assert "fluted up to the collet" in made.notes["tool.cutter"]
    assert len(made.bars) == 3


def test_a_thick_shank_is_stiffer_than_the_cutter_s_own_diameter() -> None:
    assert give(machine(cutter={"shank": 0.008}))[0, 0] < give(machine())[0, 0]
    assert give(machine(cutter={"shank": None}))[0, 0] == pytest.approx(give(machine())[0, 0])


@pytest.mark.parametrize("name", ["bearing_span", "overhang", "shaft", "wall", "bearing_radial", "bearing_rear", "bearing_axial",
                                  "collet_stiffness", "collet_tilt"])  # fmt: skip
def test_what_is_unknown_is_named_and_not_guessed(name: str) -> None:
    lacking = machine(**{name: None})
    assert spindle_gaps(lacking) == (f"spindle.part.{name}",)
    assert spindle_bars(lacking, 1, lambda _part, _body, point: Anchor(0, point)) is None


def test_other_gaps_are_named() -> None:
    held = machine()
    assert held.spindle is not None
    assert held.tool is not None
    assert spindle_gaps(held) == ()
    assert spindle_gaps(simple_machine(spindle=None)) == ("spindle",)
    assert "spindle.mount" in spindle_gaps(simple_machine())
    assert spindle_gaps(machine(mount=replace(MOUNT, ra=None))) == ("spindle.mount.stiffness.ra",)
    assert spindle_gaps(replace(held, tool=replace(held.tool, material=None))) == ("tool.cutter.material",)
    rubber = replace(CARBIDE, shear_modulus=None)
    assert spindle_gaps(replace(held, tool=replace(held.tool, material=rubber))) == ("tool.cutter.material.shear_modulus",)
    plain = replace(held.spindle, body=replace(STEEL, modulus=None))
    assert spindle_gaps(replace(held, spindle=plain)) == ("spindle.part.material.modulus",)


def test_a_machine_without_a_tool_needs_no_collet() -> None:
    assert spindle_gaps(machine(tool=False, collet_stiffness=None, collet_tilt=None)) == ()


def test_a_bar_that_nothing_holds_is_none() -> None:
    assert spindle_bars(machine(), 1, lambda _part, _body, _point: None) is None


def test_losses_are_those_of_the_parts() -> None:
    losses = {(tie.part, tie.kind): tie.loss for tie in model(machine()).ties}
    assert losses == {
        ("spindle.mount", "clamp"): 0.05, ("spindle.bearings", "bearing"): SPINDLE["bearing_loss"],
        ("spindle.collet", "collet"): SPINDLE["collet_loss"], ("tool.cutter", "joint"): CARBIDE.loss,
    }  # fmt: skip
