"""Angles as solids of a general finite element program: they bend and twist as their bars; left out where it is not installed."""

import itertools
import shutil
import subprocess
from pathlib import Path

import numpy as np
import pytest

from drawn_member import E, bar_of, give_at, member
from gantrywright.model.frame import along
from gantrywright.theory.sections import Geometry

PROGRAM = shutil.which("ccx")
pytestmark = pytest.mark.skipif(PROGRAM is None, reason="the program is not installed")
LONG = 0.8
CORNERS = ((0, 0, 0), (2, 0, 0), (2, 2, 0), (0, 2, 0), (0, 0, 2), (2, 0, 2), (2, 2, 2), (0, 2, 2))
EDGES = ((0, 1), (1, 2), (2, 3), (3, 0), (4, 5), (5, 6), (6, 7), (7, 4), (0, 4), (1, 5), (2, 6), (3, 7))
BRICK = [*CORNERS, *(tuple((a + b) // 2 for a, b in zip(CORNERS[i], CORNERS[j], strict=True)) for i, j in EDGES)]
"""Places of the twenty nodes of a brick, in halves of its sides."""
FACE = {
    (0, 0): -1 / 12,
    (2, 0): -1 / 12,
    (2, 2): -1 / 12,
    (0, 2): -1 / 12,
    (1, 0): 1 / 3,
    (2, 1): 1 / 3,
    (1, 2): 1 / 3,
    (0, 1): 1 / 3,
}
"""Parts of an even load on the end face of a brick."""


def lines(size: float, walls: list[tuple[float, float]], parts: int) -> np.ndarray:
    """Lines of the mesh along a side: one brick through each wall, several between."""
    marks = sorted({0.0, size, *(end for wall in walls for end in wall)})
    found = [0.0]
    for first, last in itertools.pairwise(marks):
        count = 1 if (first, last) in walls else parts
        found.extend(first + (last - first) * (k + 1) / count for k in range(count))
    return np.array(found)


def compliance(folder: Path, across: np.ndarray, up: np.ndarray, cells: set[tuple[int, int]], parts: int) -> np.ndarray:
    """Give along width and height of a bar built in at one end, under an even load on the other end: shape (2, 2).

    Args:
        folder: To work in.
        across: Lines of the section's mesh along the width, m.
        up: Along the height, m.
        cells: Of the section that are metal.
        parts: Bricks along the bar.
    """
    number: dict[tuple[int, int, int], int] = {}
    elements = []
    load: dict[tuple[int, int, int], float] = {}
    area = {(i, j): np.diff(across)[i] * np.diff(up)[j] for i, j in cells}
    for (i, j), k in itertools.product(sorted(cells), range(parts)):
        keys = [(2 * i + a, 2 * j + b, 2 * k + c) for a, b, c in BRICK]
        elements.append([number.setdefault(key, len(number) + 1) for key in keys])
        if k == parts - 1:
            for (a, b), part in FACE.items():
                key = (2 * i + a, 2 * j + b, 2 * parts)
                load[key] = load.get(key, 0.0) + part * area[i, j] / sum(area.values())
    halves = [np.interp(np.arange(2 * len(line) - 1) / 2, np.arange(len(line)), line) for line in (across, up)]
    text = ["*NODE, NSET=ALL"]
    text += [f"{n},{halves[0][a]:.9g},{halves[1][b]:.9g},{LONG * c / 2 / parts:.9g}" for (a, b, c), n in number.items()]
    text.append("*ELEMENT, TYPE=C3D20R, ELSET=BAR")
    for n, nodes in enumerate(elements, 1):
        text += [f"{n}," + ",".join(map(str, nodes[:10])) + ",", ",".join(map(str, nodes[10:]))]
    text += ["*MATERIAL, NAME=OWN", "*ELASTIC", f"{E},0.3", "*SOLID SECTION, ELSET=BAR, MATERIAL=OWN"]
    text += ["*BOUNDARY", *(f"{n},1,3" for key, n in number.items() if key[2] == 0)]
    text += ["*NSET, NSET=TOLD", *(str(number[key]) for key in load)]
    for way in (1, 2):
        text += ["*STEP", "*STATIC", "*CLOAD, OP=NEW", *(f"{number[key]},{way},{1e3 * part:.12g}" for key, part in load.items())]
        text += ["*NODE PRINT, NSET=TOLD", "U", "*END STEP"]
    (folder / "job.inp").write_text("\n".join([*text, ""]))
    assert PROGRAM is not None
    subprocess.run([PROGRAM, "job"], cwd=folder, check=True, capture_output=True, timeout=120)
    rows = [line.split() for line in (folder / "job.dat").read_text().splitlines()]
    moved = np.array([[float(v) for v in row] for row in rows if len(row) == 4 and row[0].isdigit()]).reshape(2, len(load), 4)
    part = {number[key]: value for key, value in load.items()}
    weight = np.array([[part[int(n)] for n in case[:, 0]] for case in moved])
    told: np.ndarray = np.einsum("cn,cnw->wc", weight, moved[..., 1:3]) / 1e3
    return told


def bar(geometry: Geometry) -> np.ndarray:
    one = member(geometry, stop=(LONG, 0.0, 0.0))
    end = along(along(one.stop, one.width_axis, one.section.centre[0]), one.height_axis, one.section.centre[1])
    ways = np.array([one.width_axis, one.height_axis])
    told: np.ndarray = ways @ give_at(bar_of(one), end)[:3, :3] @ ways.T
    return told


@pytest.mark.parametrize(("width", "height"), [(0.06, 0.06), (0.05, 0.09)])
def test_an_angle_bends_askew_and_twists_about_its_corner(tmp_path: Path, width: float, height: float) -> None:
    """An even load on the end acts at the centroid, beside the shear centre; an angle hardly warps, so a built-in end changes little."""
    wall = 0.006
    across, up = lines(width, [(0.0, wall)], 6), lines(height, [(0.0, wall)], 8)
    cells = {(i, 0) for i in range(len(across) - 1)} | {(0, j) for j in range(len(up) - 1)}
    solid = compliance(tmp_path, across, up, cells, 24)
    found = bar(Geometry(shape="angle", width=width, height=height, wall=wall, radius=0.0))
    assert abs(found[0, 1]) > 0.3 * found[0, 0] * found[1, 1] / max(found[0, 0], found[1, 1])  # askew by far
    assert found == pytest.approx(solid, rel=0.015)
