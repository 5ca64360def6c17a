"""Whole frames against a general frame program that shares no code with ours (slender bars: it knows no shear)."""

import warnings

import numpy as np
import pytest

from gantrywright.theory.frames.assembly import stretches
from gantrywright.theory.frames.frame import Frame, load_at
from gantrywright.theory.frames.solver import prepare
from small_gantry import FEET, FOOT, TIP, E, G, bars_of, no_lumps, small_gantry, springs_of

Pynite = pytest.importorskip("Pynite")
NU = E / (2 * G) - 1
FREEDOMS = ("DX", "DY", "DZ", "RX", "RY", "RZ")


def program(frame: Frame, section: dict[str, np.ndarray], node: int, load: np.ndarray) -> np.ndarray:
    """Motions of all nodes, shape (n, 6), as the program finds them. Springs of the frame are to the ground, along X, Y, Z."""
    model = Pynite.FEModel3D()
    model.add_material("own", E, G, NU, 0.0)
    for number, place in enumerate(frame.nodes):
        model.add_node(f"N{number}", *place)
    for number, (first, last) in enumerate(frame.bars.ends):
        name = f"M{number}"
        model.add_section(name, 1.0, 1.0, 1.0, 1.0)
        model.add_member(name, f"N{first}", f"N{last}", "own", name)
        own = np.asarray(model.members[name].T())[:3, :3]
        turned = abs(own[1] @ frame.bars.axes[number, 1]) < 0.5
        height, width = (section[key][number] / E for key in ("bend_height", "bend_width"))
        part = model.sections[name]
        part.A, part.J = section["axial"][number] / E, section["torsion"][number] / G
        part.Iz, part.Iy = (width, height) if turned else (height, width)
    for (_, held), stiffness in zip(frame.springs.ends, frame.springs.stiffness, strict=True):
        for freedom, value in zip(FREEDOMS, stiffness, strict=True):
            if value:
                model.def_support_spring(f"N{held}", freedom, value)
    for name, value in zip(("FX", "FY", "FZ", "MX", "MY", "MZ"), load, strict=True):
        model.add_node_load(f"N{node}", name, value)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        model.analyze_linear()
    told = [
        next(iter(getattr(model.nodes[f"N{number}"], freedom).values()))
        for number in range(len(frame.nodes))
        for freedom in FREEDOMS
    ]
    return np.array(told).reshape(-1, 6)


def ours(frame: Frame, node: int, load: np.ndarray) -> np.ndarray:
    loads = load_at(frame, node, np.zeros(3)) @ load[:, None]
    return prepare(stretches(frame)).solve(frame.coefficients, loads).reshape(-1, 6)


def section_of(frame: Frame) -> dict[str, np.ndarray]:
    """E A, G J, E I back from the natural coefficients of slender bars."""
    own = frame.bars.stiffness * frame.bars.length[:, None]
    return dict(zip(("axial", "torsion", "bend_height", "bend_width"), own[:, [0, 1, 2, 4]].T, strict=True))


@pytest.mark.parametrize("axis", range(6))
def test_small_gantry(axis: int) -> None:
    """S-15: every motion of every node under a force or moment at the tip."""
    frame, load = small_gantry(shear=False), np.eye(6)[axis]
    expected = program(frame, section_of(frame), TIP, load)
    found = ours(frame, TIP, load)
    assert {int(end) for end in frame.springs.ends[:, 1]} == set(FEET)
    assert tuple(frame.springs.stiffness[0, :3]) == FOOT
    for part in (slice(0, 3), slice(3, 6)):
        np.testing.assert_allclose(found[:, part], expected[:, part], rtol=1e-8, atol=1e-9 * np.abs(expected[:, part]).max())


@pytest.mark.parametrize("seed", [3, 17, 2026])
def test_random_space_frame(seed: int) -> None:
    """Skew bars between random nodes; each as stiff both ways, so that the turn of its section is of no matter."""
    dice = np.random.default_rng(seed)
    count = 9
    nodes = dice.uniform(-1, 1, (count, 3))
    ends = [(i, i + 1) for i in range(count - 1)] + [(0, 4), (2, 7), (3, 8), (1, 6)]
    size = len(ends)
    bend = 10 ** dice.uniform(3, 6, size)
    own = {
        "axial": 10 ** dice.uniform(7, 9, size),
        "torsion": 10 ** dice.uniform(3, 5, size),
        "bend_height": bend,
        "bend_width": bend,
    }
    stiff = np.full(size, np.inf)
    sections = [
        {key: value[i] for key, value in (own | {"shear_height": stiff, "shear_width": stiff}).items()} for i in range(size)
    ]
    bars = bars_of(nodes, ends, sections, dice.normal(size=(size, 3)))
    springs = springs_of([(-1, node) for node in (0, 3, 5)], 10 ** dice.uniform(5, 8, (3, 6)))
    frame = Frame(nodes, bars, springs, no_lumps())
    load = dice.normal(size=6)
    expected, found = program(frame, own, count - 1, load), ours(frame, count - 1, load)
    np.testing.assert_allclose(found, expected, rtol=1e-7, atol=1e-9 * np.abs(expected).max())
