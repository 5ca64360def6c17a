"""Sets of modes and cuts that the tests of chatter share."""

import numpy as np

from gantrywright.theory.cutting.modes import FeedModes, feed_modes

TURN = 2 * np.pi / 60
"""From turns a minute to rad/s."""
THREE_FLUTES = {"shear": 600e6, "radial_ratio": 0.07, "flutes": 3}


def two_modes() -> FeedModes:
    """The modes of the textbook example (CU-18), source budak-altintas-1998."""
    return feed_modes(
        frequencies=np.array([600.0, 660.0]), stiffness=np.full(2, 5.6e6), damping=np.full(2, 0.035), directions=np.eye(2)
    )


def head_modes() -> FeedModes:
    """Modes of CU-25 and CU-38."""
    return feed_modes(
        frequencies=np.array([620.0, 540.0]), stiffness=np.array([6e6, 5e6]), damping=np.full(2, 0.03), directions=np.eye(2)
    )


def one_mode() -> FeedModes:
    """The mode of CU-20."""
    return feed_modes(
        frequencies=np.array([922.0]),
        stiffness=np.array([0.03993 * (2 * np.pi * 922) ** 2]),
        damping=np.array([0.011]),
        directions=np.array([[1.0, 0.0]]),
    )


def slow_modes(count: int) -> FeedModes:
    """One mode across the feed (CU-23), or one along it and one across (CU-23b)."""
    frequencies, masses = (np.array([40.0]), np.array([30.0])) if count == 1 else (np.array([40.0, 60.0]), np.array([30.0, 25.0]))
    ways = np.array([[0.0, 1.0]]) if count == 1 else np.eye(2)
    return feed_modes(
        frequencies=frequencies, stiffness=masses * (2 * np.pi * frequencies) ** 2, damping=np.full(count, 0.03), directions=ways
    )
