"""Slotted profiles of which only outer size and mass per length are known: the bands must hold every drawn profile."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from placed import MACHINES

from gantrywright.base.errors import FileProblems
from gantrywright.catalog import kinds
from gantrywright.intake.document import read_document
from gantrywright.intake.placing.doubts import Doubts
from gantrywright.intake.placing.known_sections import known_values
from gantrywright.intake.placing.slotted import QUANTITIES, estimated, modules_of
from gantrywright.intake.resolve import resolve
from section_cases import packaged, packaged_rows

DENSITY = 2700.0
DRAWN = [name for name in packaged_rows() if name.startswith("tslot")]


def row(name: str, **changes: Any) -> kinds.Section:
    """What a price list would say of a packaged profile."""
    shape, known = packaged(name), known_values(packaged(name))
    assert known is not None
    return replace(
        kinds.Section(id=name, shape="tslot", width=shape.width, height=shape.height, module=shape.module),
        mass_per_length=known.area * DENSITY, material="al-6063", **changes,
    )  # fmt: skip


@pytest.mark.parametrize("name", DRAWN)
def test_bands_hold_every_drawn_profile(name: str) -> None:
    doubts = Doubts()
    found, drawn = estimated(row(name), DENSITY, "beam.section", doubts), known_values(packaged(name))
    assert found is not None
    assert drawn is not None
    assert found.area == pytest.approx(drawn.area)
    assert found.estimated
    assert found.outline == ()
    for value in QUANTITIES:
        spread = doubts.spreads[f"beam.section.{value}"]
        assert spread.low <= getattr(drawn, value) <= spread.high, value
        assert getattr(found, value) == spread.typical


def test_bands_are_no_wider_than_the_drawn_profiles_ask_for() -> None:
    """At each end of each band some drawn profile comes within a twelfth of it."""
    ends: dict[tuple[str, str], list[tuple[float, float]]] = {}
    for name in DRAWN:
        doubts, drawn = Doubts(), known_values(packaged(name))
        estimated(row(name), DENSITY, "s", doubts)
        for value, quantity in QUANTITIES.items():
            spread = doubts.spreads[f"s.{value}"]
            key = quantity, modules_of(row(name)) if quantity == "torsion" else "any"
            ends.setdefault(key, []).append((getattr(drawn, value) / spread.low, spread.high / getattr(drawn, value)))
    assert len(ends) == 5
    for key, found in ends.items():
        assert 1.0 <= min(low for low, _ in found) < 1.085, key
        assert 1.0 <= min(high for _, high in found) < 1.085, key


@pytest.mark.parametrize(
    ("width", "height", "module", "words"),
    [
        (40, 40, None, "one"), (40, 80, None, "row"), (160, 40, None, "row"), (80, 80, None, "block"), (80, 160, None, "block"),
        (45, 90, 45, "row"), (60, 60, 30, "block"), (60, 60, 60, "one"), (90, 90, 45, "block"), (20, 20, 20, "one"),
    ],
)  # fmt: skip
def test_how_the_modules_lie(width: float, height: float, module: float | None, words: str) -> None:
    given = kinds.Section(shape="tslot", width=width / 1e3, height=height / 1e3, module=module and module / 1e3)
    assert modules_of(given) == words


def test_samples_of_mass_and_of_the_share_both_count() -> None:
    mass = np.array([2.4, 2.63, 2.9])
    size = {"shape": "tslot", "width": 0.04, "height": 0.08}
    plain = estimated(kinds.Section(**size, mass_per_length=2.63), DENSITY, "s", Doubts())
    share = np.array([1.0, 1.1, 0.9])
    assert plain is not None
    samples = {"s.second_moment_height": plain.second_moment_height * share}
    both = estimated(kinds.Section(**size, mass_per_length=mass), DENSITY, "s", Doubts(samples))
    assert both is not None
    assert both.second_moment_height == pytest.approx(plain.second_moment_height * share * mass / 2.63)
    assert both.area == pytest.approx(mass / DENSITY)


def test_a_figure_that_is_given_is_not_estimated() -> None:
    doubts = Doubts()
    found = estimated(row("tslot-40x80-light", torsion=9e-8), DENSITY, "s", doubts)
    assert found is not None
    assert found.torsion == 9e-8
    assert "s.torsion" not in doubts.spreads


# ---- on a machine

BEAM = 'beam = { section = "tslot-80x160-heavy"'


def machine_with(tmp_path: Path, section: str) -> Any:
    source = MACHINES.parents[1] / "src" / "gantrywright" / "data" / "demo" / "first-idea.toml"
    path = tmp_path / "machine.toml"
    path.write_text(source.read_text("utf-8").replace(BEAM, f"beam = {{ section = {section}"), "utf-8")
    return resolve(read_document(path))


KNOWN = 'shape = "tslot", width = "80 mm", height = "160 mm", mass_per_length = "12.67 kg/m"'


def test_a_machine_with_an_unknown_profile_has_bands_and_keys(tmp_path: Path) -> None:
    machine = machine_with(tmp_path, f'{{ {KNOWN}, material = "al-6063" }}')
    section = next(m for m in machine.members if m.path == "gantry.beam").section
    assert section.estimated
    assert section.second_moment_height == pytest.approx(1185e-8, rel=0.05)
    assert section.second_moment_width == pytest.approx(326e-8, rel=0.10)
    assert section.torsion == pytest.approx(321e-8, rel=0.10)
    assert section.mass_per_length == pytest.approx(12.67)
    paths = [path for path in machine.spreads if ".section." in path]
    assert len(paths) == 5
    sampled = resolve(
        read_document(tmp_path / "machine.toml"), samples={p: machine.spreads[p].typical * np.array([0.9, 1.1]) for p in paths}
    )
    beam = next(m for m in sampled.members if m.path == "gantry.beam").section
    assert beam.torsion == pytest.approx(section.torsion * np.array([0.9, 1.1]))
    assert machine.stated[next(p for p in paths if p.endswith("torsion"))].origin.source == "tslot-geometry"


def test_figures_of_a_data_sheet_win(tmp_path: Path) -> None:
    machine = machine_with(
        tmp_path,
        f'{{ {KNOWN}, material = "al-6063", second_moment_height = "1180 cm4", second_moment_width = "320 cm4", torsion = "310 cm4" }}',
    )
    section = next(m for m in machine.members if m.path == "gantry.beam").section
    assert (section.second_moment_height, section.second_moment_width, section.torsion) == pytest.approx((1.18e-5, 3.2e-6, 3.1e-6))
    assert sum(".section." in path for path in machine.spreads) == 2
    drawn = machine_with(tmp_path, '{ part = "tslot-80x160-heavy", torsion = "300 cm4 (280..320)" }')
    beam = next(m for m in drawn.members if m.path == "gantry.beam").section
    assert beam.torsion == pytest.approx(3e-6)
    assert not beam.estimated


@pytest.mark.parametrize(
    ("section", "words"),
    [
        (f"{{ {KNOWN} }}", "lacks material"),
        ('{ shape = "tslot", width = "80 mm", height = "160 mm", material = "al-6063" }', "mass_per_length alone it is estimated"),
        ('{ shape = "channel", width = "80 mm", height = "160 mm", material = "steel" }', "cannot be drawn: lacks wall, web"),
    ],
)
def test_what_is_too_little_is_told(tmp_path: Path, section: str, words: str) -> None:
    with pytest.raises(FileProblems, match=words):
        machine_with(tmp_path, section)
