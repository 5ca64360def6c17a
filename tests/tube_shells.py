"""A square tube welded on the side of another as a model of quadratic shells for a general finite element solver.

A quarter of it is meshed: one side of the plane through both axes, and one side of the branch's middle. The chord is held at its far ends;
the load stands on the far end of the branch, spread as a beam would carry it there. What two beams with a rigid corner give under the same
load is taken off; the rest is the give of the wall.
"""

import re
import shutil
import subprocess
from dataclasses import dataclass
from pathlib import Path

import numpy as np

PROGRAM = shutil.which("ccx")
MODULUS, POISSON = 210e9, 0.3
SHEAR = MODULUS / (2 * (1 + POISSON))
SHEAR_AREA = 0.428
"""Of a square tube over its area (energy-exact)."""
HELD = {
    "in": ("1,1", "5,6", "1,1", "3,3", "5,5"),
    "out": ("2,4", "", "2,2", "4,4", "6,6"),
    "pull": ("1,1", "5,6", "2,2", "4,4", "6,6"),
}
"""Motions that symmetry takes: two ranges on the plane of both axes, three on that across the branch's middle."""
NUMBER = r"\s+(-?[\d.]+E[+-]\d+)"


@dataclass(frozen=True, slots=True)
class Corner:
    """Sizes in the middle of the walls, m, and numbers of elements of half a width."""

    chord: float
    branch: float
    wall: float
    half: int = 4
    """Elements of half the branch."""
    beside: int = 0
    """Elements between branch and side of the chord."""
    run: float = 6.0
    """Length of the chord on each side of the branch's middle, in chord widths."""

    @property
    def across(self) -> np.ndarray:
        """Places across the chord, and along it up to its width, with those between."""
        inner = np.linspace(0, self.branch / 2, 2 * self.half + 1)
        return np.concatenate((inner, np.linspace(self.branch / 2, self.chord / 2, 2 * self.beside + 1)[1:]))

    @property
    def along(self) -> np.ndarray:
        """Places along the chord from the branch's middle: longer pieces away from it."""
        near, far = self.across, self.run * self.chord
        step = self.chord / (2 * (self.half + self.beside))
        first = np.arange(near[-1], 1.5 * self.chord + step / 4, step / 2)[1:]
        first = first[: len(first) // 2 * 2]
        start = first[-1]
        count = int(np.ceil((far - start) / (3 * step)))
        return np.concatenate((near, first, np.linspace(start, far, 2 * count + 1)[1:]))


def coefficient(folder: Path, corner: Corner, kind: str) -> float:
    """kappa of the wall against its outer width: moment in or out of plane over E W^3, pull over E W."""
    width = corner.chord + corner.wall
    give = whole_give(folder, corner, kind) - beam_give(corner, kind)
    return 1 / (give * MODULUS * width ** (1 if kind == "pull" else 3))


def whole_give(folder: Path, corner: Corner, kind: str) -> float:
    """Turn of the branch's far end under a unit moment, or its motion under a unit pull."""
    text, loads = deck(corner, kind)
    (folder / "corner.inp").write_text(text)
    assert PROGRAM is not None
    subprocess.run([PROGRAM, "corner"], cwd=folder, check=True, capture_output=True, timeout=120)
    found = {int(row[0]): float(row[3]) for row in re.findall(rf"^\s+(\d+){NUMBER * 3}", (folder / "corner.dat").read_text(), re.M)}
    return sum(force * found[node] for node, force in loads.items()) * 4


def beam_give(corner: Corner, kind: str) -> float:
    """The same of two beams with a rigid corner, the branch from the outside of the chord's wall on."""
    long, reach = corner.run * corner.chord, corner.chord - corner.wall / 2
    area, bend, twist = _section(corner.chord, corner.wall)
    own_area, own_bend, _ = _section(corner.branch, corner.wall)
    shear = SHEAR * SHEAR_AREA * area
    if kind == "pull":
        return reach / (MODULUS * own_area) + long**3 / (24 * MODULUS * bend) + long / (2 * shear)
    if kind == "out":
        return reach / (MODULUS * own_bend) + long / (2 * SHEAR * twist)
    soft = 12 * MODULUS * bend / (shear * long**2)
    return reach / (MODULUS * own_bend) + long * (1 + soft) / (2 * MODULUS * bend * (4 + soft))


def _section(middle: float, wall: float) -> tuple[float, float, float]:
    outer, inner = middle + wall, middle - wall
    return outer**2 - inner**2, (outer**4 - inner**4) / 12, middle**3 * wall


def deck(corner: Corner, kind: str) -> tuple[str, dict[int, float]]:
    """The lines, and the forces along the branch on the nodes of its far end."""
    nodes: dict[tuple[int, int, int], int] = {}
    elements = []

    def quad(at: tuple[int, int, int], u: int, v: int) -> None:
        def node(a: int, b: int) -> int:
            place = list(at)
            place[u] += a
            place[v] += b
            return nodes.setdefault((place[0], place[1], place[2]), len(nodes) + 1)

        elements.append([node(*p) for p in ((0, 0), (2, 0), (2, 2), (0, 2), (1, 0), (2, 1), (1, 2), (0, 1))])

    across, along, branch = corner.across, corner.along, 2 * corner.half
    side, far, deep, high = len(across) - 1, len(along) - 1, 2 * (corner.half + corner.beside) + 2, 2 * branch
    for y in range(0, far, 2):
        for x in range(0, side, 2):
            quad((x, y, 0), 0, 1)
            quad((x, y, -2 * deep), 0, 1)
        for z in range(-2 * deep, 0, 2):
            quad((side, y, z), 1, 2)
    for z in range(0, high, 2):
        for k in range(0, branch, 2):
            quad((k, branch, z), 0, 2)
            quad((branch, k, z), 1, 2)
    places = {
        number: (across[x], along[y], z * corner.chord / (2 * deep) if z < 0 else z * corner.chord / high)
        for (x, y, z), number in nodes.items()
    }
    ends = [n for (_, y, _), n in nodes.items() if y == far]
    middle = [n for (x, y, _), n in nodes.items() if x == 0 and y != far]
    centre = [n for (_, y, _), n in nodes.items() if y == 0]
    top = {place: n for place, n in nodes.items() if place[2] == high}
    loads = _loads(top, places, branch, kind)
    first, second, *third = HELD[kind]
    lines = ["*NODE, NSET=ALL", *(f"{n},{x:.9g},{y:.9g},{z:.9g}" for n, (x, y, z) in places.items())]
    lines += ["*ELEMENT, TYPE=S8R, ELSET=WALLS", *(f"{k},{','.join(map(str, own))}" for k, own in enumerate(elements, 1))]
    lines += [
        "*MATERIAL, NAME=STEEL",
        "*ELASTIC",
        f"{MODULUS},{POISSON}",
        "*SHELL SECTION, ELSET=WALLS, MATERIAL=STEEL",
        f"{corner.wall}",
    ]
    lines += ["*BOUNDARY", *(f"{n},1,6" for n in ends), *(f"{n},{dofs}" for n in middle for dofs in (first, second) if dofs)]
    lines += [f"{n},{dofs}" for n in centre if n not in ends for dofs in third]
    lines += ["*STEP", "*STATIC", "*CLOAD", *(f"{n},3,{force:.9g}" for n, force in loads.items() if force)]
    lines += ["*NSET, NSET=TOP", *(f"{n}," for n in top.values()), "*NODE PRINT, NSET=TOP", "U", "*END STEP", ""]
    return "\n".join(lines), loads


def _loads(top, places, branch: int, kind: str) -> dict[int, float]:
    """A quarter of a unit load: along the branch, in proportion to the lever; on the planes of symmetry what this quarter holds."""
    found = {}
    for (x, y, _), n in top.items():
        share = 2 / 3 if x % 2 or y % 2 else 1 / 3
        share /= 2 if 0 in (x, y) and not (x % 2 or y % 2) else 1
        lever = {"in": places[n][1], "out": places[n][0], "pull": 1.0}[kind]
        found[n] = (share * lever, lever)
    total = sum(force * lever for force, lever in found.values())
    return {n: force / total / 4 for n, (force, _) in found.items()}
