import numpy as np
import pytest

from gantrywright.theory.cutting.leaving import carrying_area, chip_mass_rate, duct_flow, thrown_energy, thrown_speed


def test_energy_of_a_thrown_piece_goes_with_the_square_of_diameter_and_speed() -> None:
    def energy(diameter: float, speed: float) -> float:
        return float(thrown_energy(mass=3e-3, speed=thrown_speed(diameter=diameter, speed=speed)))

    assert energy(0.05, 2000.0) == pytest.approx(4 * energy(0.025, 2000.0))
    assert energy(0.025, 2000.0) == pytest.approx(4 * energy(0.025, 1000.0))


def test_chips_are_what_the_cut_takes_while_it_cuts() -> None:
    whole = chip_mass_rate(density=740.0, depth=9e-3, width=6e-3, feed=0.15)
    assert chip_mass_rate(density=740.0, depth=9e-3, width=6e-3, feed=0.15, share=0.5) == pytest.approx(whole / 2)
    assert carrying_area(chips=whole, loading=0.3) * 20.0 * 0.3 == pytest.approx(whole)


def test_duct_of_twice_the_width_needs_four_times_the_air() -> None:
    np.testing.assert_allclose(duct_flow(diameter=np.array([0.05, 0.1])), [0.039270, 0.157080], rtol=1e-4)
