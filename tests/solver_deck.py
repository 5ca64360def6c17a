"""A placed machine as an input deck of a general finite element solver, and what the solver answers.

The solver's two-node beam for general sections (`U1`) is used for what it does right, found by small trials with version 2.20: it bends
exactly along its first section axis as long as it does not shear. Its own shear makes a thick bar stiffer instead of softer, its bending
along the second axis goes wrong as soon as both ends are free to move, and its twist follows the second moments. So every piece of a
bar is two halves, each of two such elements side by side, one for each plane of bending, with half of E A each. Between the halves are
three springs: the give in shear of either plane, L / G A_s, and what the twist lacks; their other motions are equated. A force is
constant along a piece, so shear that is gathered in one place is exact, and so is the whole piece for loads at its nodes.

Ties are springs on stretches, rigid arms the coefficients of the equations that make stretches from motions; the solver eliminates them.
"""

import re
import shutil
import subprocess
from pathlib import Path

import numpy as np

from placed_machine import FREEDOMS, Placed

PROGRAM = shutil.which("ccx")
MODULUS = 70e9
"""Young's modulus of every bar, N/m2: A and I are made to fit."""
POISSON = -0.5
"""Makes the shear modulus as large as Young's, so that the elements twist less than any bar does and a spring can give the rest."""
NO_SHEAR = 1e12
"""Shear coefficient of a bar that bends only."""
BEAM = "*USER ELEMENT, TYPE=U1, NODES=2, INTEGRATION POINTS=2, MAXDOF=6"
TERMS = 4
"""Of an equation on one line."""


class Deck:
    """The lines that describe a machine; loads come later."""

    def __init__(self, placed: Placed) -> None:
        self.count = len(placed.nodes)
        self.nodes, self.elements = list(placed.nodes), 0
        self.stretches: list[int] = []
        self.gone: list[int] = []
        self.lines: list[str] = []
        for bar, node in placed.pieces():
            self._piece(bar, node, placed.nodes[node + 1] - placed.nodes[node])
        for values, places, stretch in placed.springs():
            for value, row in zip(values, stretch, strict=True):
                if value > 0:
                    self._spring(value, places, row)

    def _piece(self, bar, node, run) -> None:
        length = float(np.linalg.norm(run))
        along, height = run / length, np.array(bar.height_axis)
        axes = np.array((along, height, np.cross(along, height)))
        middle = (self.nodes[node] + self.nodes[node + 1]) / 2
        twins = (self._node(middle), self._node(middle))
        planes = (float(bar.bend_height), float(bar.bend_width))
        for first, second in ((node, twins[0]), (twins[1], node + 1)):
            for bend, way in zip(planes, axes[1:], strict=True):
                name = self._element("U1", f"{first + 1},{second + 1}")
                self.lines += [f"*BEAM SECTION, ELSET={name}, MATERIAL=OWN, SECTION=GENERAL",
                               f"{number(float(bar.axial) / 2 / MODULUS)},{number(bend / MODULUS)},0.,0.,{number(NO_SHEAR)}",
                               ",".join(map(number, way))]  # fmt: skip
        places = np.concatenate([FREEDOMS * twin + np.arange(FREEDOMS) for twin in twins])
        apart = np.kron(np.array((-1.0, 1.0)), np.kron(np.eye(2), axes))
        lacking = length / float(bar.torsion) - length / sum(planes)
        assert lacking > 0
        gives = (0.0, length / float(bar.shear_height), length / float(bar.shear_width), lacking, 0.0, 0.0)
        for give, row in zip(gives, apart, strict=True):
            if give > 0:
                self._spring(1 / give, places, row)
            else:
                self._equated(places, row)

    def _equated(self, places, row) -> None:
        """No stretch: the freedom with the largest coefficient goes, but none twice."""
        free = np.where(np.isin(places, self.gone), 0.0, np.abs(row))
        order = np.roll(np.arange(len(row)), -int(free.argmax()))
        self.gone.append(int(places[order[0]]))
        self._equation([*zip(places[order], row[order], strict=True)])

    def _spring(self, value, places, row) -> None:
        """A spring on the stretch row @ motions, which gets a node of its own."""
        stretch = self._node(np.zeros(3))
        self.stretches.append(stretch)
        name = self._element("SPRING1", f"{stretch + 1}")
        self.lines += [f"*SPRING, ELSET={name}", "1", number(value)]
        self._equation([(FREEDOMS * stretch, -1.0), *zip(places, row, strict=True)])

    def _equation(self, terms) -> None:
        """Sum of coefficient x freedom = 0; the first term is the one eliminated."""
        kept = [(int(place), coefficient) for place, coefficient in terms if abs(coefficient) > 1e-12]
        told = [f"{place // FREEDOMS + 1},{place % FREEDOMS + 1},{number(coefficient)}" for place, coefficient in kept]
        self.lines += ["*EQUATION", str(len(told)), *(",".join(told[k : k + TERMS]) for k in range(0, len(told), TERMS))]

    def _node(self, place) -> int:
        self.nodes.append(place)
        return len(self.nodes) - 1

    def _element(self, kind: str, nodes: str) -> str:
        self.elements += 1
        self.lines += [f"*ELEMENT, TYPE={kind}, ELSET=E{self.elements}", f"{self.elements},{nodes}"]
        return f"E{self.elements}"

    def text(self, loads: np.ndarray) -> str:
        """The whole deck, one step for each column of loads."""
        rows = [f"{k + 1},{','.join(map(number, place))}" for k, place in enumerate(self.nodes)]
        head = ["*NODE, NSET=BARS", *rows[: self.count], "*NODE", *rows[self.count :]]
        head += [BEAM, "*MATERIAL, NAME=OWN", "*ELASTIC", f"{number(MODULUS)},{POISSON}", *self.lines]
        head += ["*BOUNDARY", *(f"{stretch + 1},2,3" for stretch in self.stretches)]
        for load in loads.T:
            pushed = [f"{k // FREEDOMS + 1},{k % FREEDOMS + 1},{number(load[k])}" for k in np.flatnonzero(load)]
            head += ["*STEP", "*STATIC", "*CLOAD, OP=NEW", *pushed, "*NODE PRINT, NSET=BARS", "U", "*END STEP"]
        return "\n".join([*head, ""])


def number(value: float) -> str:
    """A number as the solver reads it: with a point, in 20 characters."""
    return f"{value:.11E}"


def answered(text: str, folder: Path) -> str:
    """What the solver prints to a deck."""
    assert PROGRAM is not None
    (folder / "job.inp").write_text(text)
    subprocess.run([PROGRAM, "job"], cwd=folder, check=True, capture_output=True, timeout=120, env={"OMP_NUM_THREADS": "1"})
    return (folder / "job.dat").read_text()


def motions(printed: str, nodes: int) -> np.ndarray:
    """Motions of the first nodes, shape (6 nodes, steps)."""
    rows = [line.split()[1:] for line in printed.splitlines() if re.match(r"\s+\d+\s", line)]
    return np.array(rows, dtype=float).reshape(-1, nodes * FREEDOMS).T


def moved(placed: Placed, loads: np.ndarray, folder: Path) -> np.ndarray:
    """Motions of all nodes of a machine under loads, shape (6 n, steps), six digits."""
    return motions(answered(Deck(placed).text(loads), folder), len(placed.nodes))
