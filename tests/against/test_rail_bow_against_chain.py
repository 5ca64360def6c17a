"""Bow of a beam with a rail against a chain of bars that single screws hold: stiff springs, or friction that lets go."""

import numpy as np
import pytest

from gantrywright.theory.thermal import Strip, rail_bow

EA, EI, RAIL, OFFSET, LENGTH, SCREWS = 70e9 * 1.5e-3, 70e9 * 3.0e-7, 206e9 * 3e-4, 0.05, 1.2, 200
STRAIN = (11.5e-6 - 23e-6) * 10.0


def chain(hold: float) -> float:
    """Bow of the middle; each screw bears at most its part of ``hold``.

    Between two screws the rail carries what the screws outside have put in, and the beam bends by that force times its offset. A
    screw whose slide would be the other way than its force holds: found from the ends inwards, where sliding starts.
    """
    pitch = LENGTH / SCREWS
    per_screw = hold / SCREWS
    give = 1 / RAIL + 1 / EA + OFFSET**2 / EI  # of a unit pull, per length, between rail and the face of the beam
    places = (np.arange(SCREWS) + 0.5) * pitch
    force = np.zeros(SCREWS + 1)
    for k in range(1, SCREWS):
        most = per_screw * min(k, SCREWS - k)
        force[k] = np.sign(-STRAIN) * min(most, abs(STRAIN) / give)
    ends = np.concatenate(([0.0], places, [LENGTH]))
    curvature = -force * OFFSET / EI  # between screws
    slope = np.concatenate(([0.0], np.cumsum(curvature * np.diff(ends))))
    sag = np.concatenate(([0.0], np.cumsum((slope[:-1] + slope[1:]) / 2 * np.diff(ends))))
    chord = sag[-1] / 2
    return float(chord - np.interp(LENGTH / 2, ends, sag))


def springs(stiffness: float) -> float:
    """Bow of the middle when each screw is a spring: displacement method, rail and beam as separate bars."""
    count = SCREWS // 4
    pitch = LENGTH / (count - 1)
    size = 4 * count  # u rail, u beam, w, turn
    k = np.zeros((size, size))
    f = np.zeros(size)
    for i in range(count - 1):
        for stiff, free, first in ((RAIL, 11.5e-6 * 10, 4 * i), (EA, 23e-6 * 10, 4 * i + 1)):
            pair = np.ix_((first, first + 4), (first, first + 4))
            k[pair] += stiff / pitch * np.array([[1, -1], [-1, 1]])
            f[[first, first + 4]] += stiff * free * np.array([-1, 1])
        bend = [4 * i + 2, 4 * i + 3, 4 * i + 6, 4 * i + 7]
        L = pitch
        k[np.ix_(bend, bend)] += (
            EI
            / L**3
            * np.array(
                [
                    [12, 6 * L, -12, 6 * L],
                    [6 * L, 4 * L**2, -6 * L, 2 * L**2],
                    [-12, -6 * L, 12, -6 * L],
                    [6 * L, 2 * L**2, -6 * L, 4 * L**2],
                ]
            )
        )
    for i in range(count):
        slide = np.zeros(size)
        slide[[4 * i, 4 * i + 1, 4 * i + 3]] = 1.0, -1.0, OFFSET  # a turn moves the face of the beam by -offset times turn
        k += stiffness * np.outer(slide, slide)
    held = [4 * 0 + 2, 4 * (count - 1) + 2, 1]
    free_ones = [n for n in range(size) if n not in held]
    u = np.zeros(size)
    u[free_ones] = np.linalg.solve(k[np.ix_(free_ones, free_ones)], f[free_ones])
    middle = u[2::4]
    return float(np.interp((count - 1) / 2, np.arange(count), middle))


def found(hold: float) -> tuple[float, float]:
    strip = Strip(axial=RAIL, expansion=11.5e-6, place=(OFFSET, 0.0), hold=hold)
    bow = rail_bow(strips=[strip], axial=EA, bend_height=EI, bend_width=EI, expansion=23e-6, warming=10.0, length=LENGTH)
    return float(bow.held_height), float(bow.height)


def test_stiff_screws_hold_all_but_the_ends() -> None:
    assert springs(1e11) == pytest.approx(found(1e9)[0], rel=2e-3)


def test_soft_screws_bow_less() -> None:
    assert abs(springs(1e6)) < 0.8 * abs(found(1e9)[0])


@pytest.mark.parametrize("hold", [500.0, 2e3, 4e3, 8e3, 20e3, 1e6])
def test_friction_lets_go_from_the_ends(hold: float) -> None:
    assert chain(hold) == pytest.approx(found(hold)[1], rel=0.02)
