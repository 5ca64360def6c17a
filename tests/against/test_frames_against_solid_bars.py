"""A cantilever and a portal against a general finite element program that expands bars into solids; left out where it is not installed."""

import itertools
import re
import shutil
import subprocess
from pathlib import Path

import numpy as np
import pytest

PROGRAM = shutil.which("ccx")
pytestmark = pytest.mark.skipif(PROGRAM is None, reason="the program is not installed")
CANTILEVER, PORTAL = 2.264697e-3, 5.64066e-5
"""Our own answers, held to handbooks in tests/theory/test_frames_solver.py."""


def chain(corners: list[tuple[float, float, float]], parts: int) -> np.ndarray:
    pieces = [np.linspace(a, b, parts, endpoint=False) for a, b in itertools.pairwise(corners)]
    return np.vstack([*pieces, corners[-1:]])


def moved(
    folder: Path, nodes: np.ndarray, sections: list[tuple[int, str, str]], fixed: list[int], load: tuple[int, int, float]
) -> float:
    """Motion of a node along the direction of the force on it.

    Args:
        folder: To work in.
        nodes: One chain of bars from first to last, m.
        sections: Number of elements, size (first way, second way) and first way, run after run.
        fixed: Numbers of held nodes.
        load: Node, direction 1 to 3, N.
    """
    lines = ["*NODE, NSET=ALL", *(f"{i + 1},{x:.9g},{y:.9g},{z:.9g}" for i, (x, y, z) in enumerate(nodes))]
    first = 1
    for number, (count, _, _) in enumerate(sections):
        lines += [f"*ELEMENT, TYPE=B31, ELSET=S{number}", *(f"{i},{i},{i + 1}" for i in range(first, first + count))]
        first += count
    lines += ["*MATERIAL, NAME=OWN", "*ELASTIC", "205e9,0.3"]
    for number, (_, size, way) in enumerate(sections):
        lines += [f"*BEAM SECTION, ELSET=S{number}, MATERIAL=OWN, SECTION=RECT", size, way]
    lines += ["*BOUNDARY", *(f"{node + 1},1,6" for node in fixed)]
    lines += ["*STEP", "*STATIC", "*CLOAD", f"{load[0] + 1},{load[1]},{load[2]}", "*NSET, NSET=TOLD", f"{load[0] + 1}"]
    lines += ["*NODE PRINT, NSET=TOLD", "U", "*END STEP", ""]
    (folder / "job.inp").write_text("\n".join(lines))
    assert PROGRAM is not None
    subprocess.run([PROGRAM, "job"], cwd=folder, check=True, capture_output=True, timeout=60)
    number = r"\s+(-?[\d.]+E[+-]\d+)"
    found = re.search(rf"^\s+{load[0] + 1}{number * 3}", (folder / "job.dat").read_text(), re.M)
    assert found is not None
    return float(found[load[1]])


def test_cantilever(tmp_path: Path) -> None:
    """S-01: 40 wide, 60 deep, 24 solid-expanded elements; they are fractionally stiffer than the exact bar."""
    found = moved(tmp_path, chain([(0, 0, 0), (1, 0, 0)], 24), [(24, "0.04,0.06", "0,1,0")], [0], (24, 3, 1000.0))
    assert found == pytest.approx(CANTILEVER, rel=2e-3)


def test_portal(tmp_path: Path) -> None:
    """S-05: their corners are rigid zones, which makes them 1 to 2 % stiffer."""
    nodes = chain([(0, 0, 0), (0, 0, 0.8), (1.2, 0, 0.8), (1.2, 0, 0)], 16)
    sections = [(16, "0.08,0.06", "1,0,0"), (16, "0.06,0.1", "0,1,0"), (16, "0.08,0.06", "1,0,0")]
    found = moved(tmp_path, nodes, sections, [0, 48], (16, 1, 1000.0))
    assert 0.975 * PORTAL < found < PORTAL
