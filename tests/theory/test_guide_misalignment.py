"""How an error of the rails is shared between blocks and structure: springs in series."""

import pytest

from gantrywright.theory.guide_misalignment import parallelism_load, share_on_blocks


def test_blocks_swallow_what_their_give_is_of_the_whole() -> None:
    """Three springs in series of give 1/200, 1/200 and 1/50: the two blocks take 0.01 of 0.03."""
    assert share_on_blocks(first=200e6, second=200e6, structure=50e6) == pytest.approx(1 / 3)


def test_a_rigid_structure_leaves_all_to_the_blocks() -> None:
    assert share_on_blocks(first=200e6, second=100e6, structure=1e15) == pytest.approx(1.0)


def test_share_and_load_agree() -> None:
    """The load is the part of the error that the blocks take over the blocks' own give."""
    error, first, second, structure = 20e-6, 200e6, 120e6, 50e6
    taken = share_on_blocks(first=first, second=second, structure=structure) * error
    load = parallelism_load(error=error, first=first, second=second, structure=structure)
    assert load == pytest.approx(taken / (1 / first + 1 / second))
