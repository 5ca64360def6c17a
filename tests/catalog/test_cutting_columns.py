"""What the packaged rows say of cutting: woods along and across the grain, styles of cutters, spindles."""

import math

import pytest

from gantrywright.base.spread import Spread
from gantrywright.catalog.kinds import Cutter, Material, Spindle
from gantrywright.catalog.tables import Catalog, defaults_of, record_of

CATALOG = Catalog()
MATERIALS: list[Material] = [record_of(row) for row in CATALOG.rows("material")]  # type: ignore[misc]
WOODS = [row for row in MATERIALS if row.group in ("softwood", "hardwood")]
CUTTERS: list[Cutter] = [record_of(row) for row in CATALOG.rows("cutter")]  # type: ignore[misc]


def material(name: str) -> Material:
    return record_of(CATALOG.find("material", name))  # type: ignore[return-value]


def band(kind: str, name: str, field: str) -> Spread:
    found = CATALOG.find(kind, name).cells[field].spread
    assert found is not None
    return found


def test_what_is_cut_has_a_group_and_only_wood_has_a_grain() -> None:
    cut = [row for row in MATERIALS if row.shear_force is not None]
    assert not [row.id for row in cut if not row.group]
    for row in MATERIALS:
        across = [row.across_shear, row.across_edge, row.across_shear_ratio, row.across_edge_ratio]
        assert all(value is not None for value in across) if row in WOODS else not any(across), row.id


@pytest.mark.parametrize("row", WOODS, ids=[row.id for row in WOODS])
def test_wood_cuts_harder_across_its_grain_and_in_proportion_to_its_density(row: Material) -> None:
    density, along, across, edge_along, edge_across = (
        (448.0, 14e6, 35e6, 1200.0, 3000.0) if row.group == "softwood" else (706.0, 24e6, 60e6, 2000.0, 5000.0)
    )
    share = row.density / density
    assert row.shear_force == pytest.approx(along * share, rel=0.05)  # two digits in the table
    assert row.across_shear == pytest.approx(across * share, rel=0.05)
    assert row.edge_force == pytest.approx(edge_along * share, rel=0.05)
    assert row.across_edge == pytest.approx(edge_across * share, rel=0.05)


@pytest.mark.parametrize(
    ("name", "gravity", "strength"),
    [
        ("basswood", 0.37, 6.8), ("aspen", 0.38, 5.9), ("pine", 0.40, 7.8), ("pine-yellow", 0.51, 9.6), ("cherry", 0.50, 11.7),
        ("birch", 0.62, 13.0), ("maple-hard", 0.63, 16.1), ("beech", 0.64, 13.9), ("hickory", 0.72, 16.8),
    ],
)  # fmt: skip
def test_woods_of_the_wood_handbook(name: str, gravity: float, strength: float) -> None:
    """FPL-GTR-190, table 5-3a, 12 % moisture; a board of it weighs 1.12 times its specific gravity."""
    assert material(name).density == pytest.approx(1120 * gravity, rel=0.012)
    assert material(name).shear_strength == pytest.approx(strength * 1e6)


@pytest.mark.parametrize(
    ("name", "shear", "edge"),
    [
        ("al-6061", (450, 650, 900), (8, 14, 28)), ("al-7075", (600, 780, 1000), (15, 24, 30)), ("brass", (500, 750, 1000), (5, 10, 25)),
        ("steel-s235", (1500, 1900, 2500), (20, 40, 80)), ("pmma", (70, 120, 220), (1, 3, 8)), ("pc", (70, 120, 220), (1, 3, 8)),
        ("hdpe", (25, 45, 90), (0.5, 1.5, 4)), ("mdf", (20, 35, 55), (1, 2.5, 6)), ("plywood-birch", (20, 38, 65), (1, 2.5, 6)),
        ("pine", (8, 14, 25), (0.5, 1.2, 3)), ("maple-hard", (12, 24, 40), (1, 2, 4)), ("cfrp", (150, 250, 450), (8, 18, 40)),
        ("gfrp", (100, 180, 350), (5, 12, 30)), ("xps-foam", (0.3, 0.8, 2), (0.03, 0.1, 0.3)), ("pu-board", (15, 25, 40), (1, 2, 4)),
    ],
)  # fmt: skip
def test_bands_of_the_coefficients(name: str, shear: tuple[float, ...], edge: tuple[float, ...]) -> None:
    """N/mm2 and N/mm: low, typical, high; work-materials and work-woods."""
    tangential, edges = band("material", name, "shear_force"), band("material", name, "edge_force")
    assert (tangential.low, tangential.typical, tangential.high) == pytest.approx([1e6 * value for value in shear])
    assert (edges.low, edges.typical, edges.high) == pytest.approx([1e3 * value for value in edge])


def test_what_is_cut_in_sheets_and_bars_has_a_shear_strength_with_a_band() -> None:
    """So that its tabs are known; a soft foam and a plate with slots in it have none."""
    cut = [row for row in MATERIALS if row.shear_force is not None]
    assert {row.id for row in cut if row.shear_strength is None} == {"eva-foam", "al-6063-tslot-plate"}
    for row in cut:
        if row.shear_strength is None or row in WOODS:
            continue
        spread = band("material", row.id, "shear_strength")
        assert spread.low < spread.typical < spread.high, row.id
        low, high = (
            (0.9, 1.2) if row.id.startswith("iron") else (0.15, 0.5) if row.group in ("plywood", "fibreboard") else (0.3, 1.05)
        )
        assert low <= row.shear_strength / row.strength <= high, row.id


@pytest.mark.parametrize(
    ("name", "ultimate"), [("al-6061", 207), ("al-7075", 331), ("al-2024", 283), ("brass", 235), ("pc", 69), ("pmma", 62)]
)
def test_shear_strengths_of_handbooks_lie_in_the_bands(name: str, ultimate: float) -> None:
    """Typical values of the usual tempers, MPa; from memory."""
    spread = band("material", name, "shear_strength")
    assert spread.low <= ultimate * 1e6 <= spread.high


def test_every_cutter_has_the_style_that_its_name_says() -> None:
    for row in CUTTERS:
        assert row.id.startswith(row.style) or (row.style == "compression" and row.id.endswith("-compression")), row.id
        assert (row.up_length is not None) == (row.style == "compression"), row.id
        assert row.centre is (row.style != "surfacing"), row.id
        assert 3e-6 <= row.edge_radius <= 15e-6, row.id
        if row.style == "ball-nose":
            assert row.radius == pytest.approx(row.diameter / 2), row.id


def test_a_compression_cutter_lifts_at_its_tip_only() -> None:
    found = [row for row in CUTTERS if row.style == "compression"]
    assert found
    for row in found:
        assert math.degrees(row.helix) == pytest.approx(30), row.id
        assert 0 < row.up_length < row.flute_length / 2, row.id


def test_large_cutters_are_not_turned_as_fast_as_small_ones() -> None:
    for row in CUTTERS:
        if row.highest is not None:
            assert row.highest * row.diameter / 2 < 60, f"{row.id}: m/s at the rim"
    assert all(row.highest is not None for row in CUTTERS if row.style == "surfacing")


def test_spindles_with_a_field_are_cooled_by_water_and_routers_by_their_fan() -> None:
    for row in CATALOG.rows("spindle"):
        part: Spindle = record_of(row)  # type: ignore[assignment]
        assert part.cooling == ("water" if part.phases == 3 else "fan"), part.id


def test_defaults_of_a_spindle() -> None:
    found = defaults_of("spindle")
    assert {name: found[name].value for name in ("useful", "pull_out", "slip")} == {"useful": 0.75, "pull_out": 2.0, "slip": 0.03}
    assert found["run_out"].value == pytest.approx(20e-6)
    assert "base_speed" not in found, "it is the highest speed"
