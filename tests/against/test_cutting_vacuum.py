"""Leaks of a board: the law across it by integration, the fringe of open fields and of slots by finite differences."""

import numpy as np
import pytest
from scipy.integrate import solve_bvp
from scipy.sparse import lil_matrix
from scipy.sparse.linalg import spsolve

from gantrywright.theory.cutting.vacuum import AIR_PRESSURE, AIR_VISCOSITY, board_flow, open_area, slot_width

STEPS = 40
"""Cells over the thickness of the board."""
REACH = 4
"""Thicknesses of covered board beyond the slot: what is left of the fringe there is exp(-4 pi/2)."""


@pytest.mark.parametrize("pressure", [5e3, 30e3, 80e3])
def test_gas_through_the_board_by_solving_for_the_pressure(pressure: float) -> None:
    """Pressure along the way from (p p')' = 0, the flow from Darcy's law where the air goes in."""
    depth = np.linspace(0.0, 1.0, 41)
    ends = np.array([1.0, 1 - pressure / AIR_PRESSURE])
    found = solve_bvp(
        lambda _, state: np.vstack((state[1], -(state[1] ** 2) / state[0])),
        lambda first, last: np.array([first[0] - ends[0], last[0] - ends[1]]),
        depth,
        np.vstack((np.interp(depth, [0, 1], ends), np.full(41, ends[1] - ends[0]))),
        tol=1e-9,
    )
    drawn = 3e-13 * 0.72 / AIR_VISCOSITY * AIR_PRESSURE / 0.018 * -found.sol(0.0)[1]
    assert board_flow(permeability=3e-13, area=0.72, thickness=0.018, pressure=pressure) == pytest.approx(drawn, rel=1e-6)


def leaks(open_width: float) -> float:
    """Width that an open slot of so many thicknesses seems to have, in thicknesses: half of it, cell by cell."""
    columns = round((open_width / 2 + REACH) * STEPS)
    wide = round(open_width / 2 * STEPS)
    number = np.arange(columns * STEPS).reshape(columns, STEPS)
    matrix, right = lil_matrix((number.size, number.size)), np.zeros(number.size)
    for column in range(columns):
        for row in range(STEPS):
            here = number[column, row]
            for other, inside in (((column - 1, row), column > 0), ((column + 1, row), column + 1 < columns),
                                  ((column, row - 1), row > 0), ((column, row + 1), row + 1 < STEPS)):  # fmt: skip
                if inside:
                    matrix[here, here] += 1
                    matrix[here, number[other]] -= 1
            if row == 0:
                matrix[here, here] += 2  # the plenum, at nothing
            if row == STEPS - 1 and column < wide:
                matrix[here, here] += 2  # the open top, at one
                right[here] += 2
    level = spsolve(matrix.tocsr(), right)
    return 2 * float(np.sum(2 * level[number[:, 0]]))


@pytest.mark.parametrize("open_width", [0.25, 0.5, 2.0])
def test_slot_leaks_like_the_board_cut_into_cells(open_width: float) -> None:
    """Cells see the edge of the slot a little blunt: 3 % at a quarter of the thickness, less beyond."""
    assert slot_width(width=open_width, thickness=1.0) == pytest.approx(leaks(open_width), rel=0.03)


def test_edge_of_an_open_field_adds_what_the_cells_tell() -> None:
    fringe = (leaks(3.0) - 3.0) / 2
    assert open_area(area=0.0, perimeter=1.0, thickness=1.0) == pytest.approx(fringe, rel=0.05)
