"""The packaged rows: what can be checked against standards, and what every build needs to be there."""

import math

import pytest

from gantrywright.base.sources import PLAIN, sources
from gantrywright.catalog.kinds import KINDS, Part
from gantrywright.catalog.tables import Catalog, record_of

CATALOG = Catalog()


def part(kind: str, name: str) -> Part:
    return record_of(CATALOG.find(kind, name))


def records(kind: str) -> list[Part]:
    return [record_of(row) for row in CATALOG.rows(kind)]


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_has_rows_that_say_where_they_are_from(kind: str) -> None:
    rows = records(kind)
    assert rows
    for row in rows:
        assert row.source in PLAIN - {""} or row.source in sources(), row.id
        assert row.basis, row.id
        assert row.price is None, f"{row.id}: prices are the shop's, never ours"


MOVING = [
    "block",
    "nut",
    "pinion",
    "pulley",
    "motor",
    "gearbox",
    "coupling",
    "spindle",
    "cutter",
    "sensor",
    "bearing",
    "driver",
    "supply",
]


@pytest.mark.parametrize("kind", MOVING)
def test_everything_that_may_move_has_a_mass(kind: str) -> None:
    assert [row.id for row in records(kind) if not row.mass] == []


@pytest.mark.parametrize("kind", ["rail", "ball-screw", "lead-screw", "rack", "belt", "cable", "cable-chain"])
def test_everything_sold_by_length_has_a_mass_per_length(kind: str) -> None:
    assert [row.id for row in records(kind) if not row.mass_per_length] == []


@pytest.mark.parametrize(
    ("name", "area"), [("M4", 8.78), ("M5", 14.2), ("M6", 20.1), ("M8", 36.6), ("M10", 58.0), ("M12", 84.3), ("M16", 157)]
)
def test_stress_areas_are_those_of_iso_898(name: str, area: float) -> None:
    assert part("thread", name).stress_area * 1e6 == pytest.approx(area, rel=3e-3)  # iso-898-1


@pytest.mark.parametrize(("name", "area"), [("1/4-20", 0.0318), ("3/8-16", 0.0775), ("1/2-13", 0.1419), ("5/8-11", 0.226)])
def test_stress_areas_of_inch_threads_are_those_of_asme_b1_1(name: str, area: float) -> None:
    assert part("thread", name).stress_area / 0.0254**2 == pytest.approx(area, rel=3e-3)  # asme-b1.1


def test_threads_have_a_drill_below_and_clearances_above_their_diameter() -> None:
    for row in records("thread"):
        assert row.diameter - 1.3 * row.pitch < row.tap_drill < row.diameter - 0.7 * row.pitch, row.id
        assert row.diameter < row.clearance_fine < row.clearance_medium < row.clearance_coarse, row.id
        assert row.head > row.clearance_coarse, row.id


@pytest.mark.parametrize(
    ("name", "root", "lead"), [("tr12x3", 8.5, 3), ("tr16x4", 11.5, 4), ("tr20x8p4", 15.5, 8), ("tr30x6", 23, 6)]
)
def test_trapezoidal_roots_are_those_of_iso_2904(name: str, root: float, lead: float) -> None:
    row = part("lead-screw", f"lead-screw-{name}")
    assert row.root * 1e3 == pytest.approx(root)
    assert row.lead * 1e3 == pytest.approx(lead)
    assert math.degrees(row.flank) == pytest.approx(30.0)


def test_an_inch_screw_keeps_its_inch_lead() -> None:
    row = part("lead-screw", "lead-screw-acme-1/2-10")
    assert row.lead == pytest.approx(0.00254)
    assert math.degrees(row.flank) == pytest.approx(29.0)
    assert part("lead-screw", "lead-screw-acme-1/2-10-5start").lead == pytest.approx(0.0127)


def test_names_of_ball_screws_say_diameter_and_lead() -> None:
    for row in records("ball-screw"):
        digits = row.id.rsplit("-", 1)[1]
        assert row.diameter * 1e3 == pytest.approx(int(digits[:2])), row.id
        assert row.lead * 1e3 == pytest.approx(int(digits[2:])), row.id
        assert 0.75 * row.diameter < row.root < row.diameter, row.id


@pytest.mark.parametrize("kind", ["ball-screw", "lead-screw"])
def test_a_screw_weighs_between_its_core_and_its_full_round(kind: str) -> None:
    for row in records(kind):
        core, full = (math.pi / 4 * d * d * 7850.0 for d in (row.root, row.diameter))
        assert core < row.mass_per_length < full, row.id


def test_every_screw_has_its_nut() -> None:
    nuts = set(CATALOG.names("nut"))
    for row in records("ball-screw"):
        assert row.id.replace("ball-screw", "nut") in nuts
    for row in records("lead-screw"):
        stem = row.id.removeprefix("lead-screw-")
        assert {f"nut-bronze-{stem}", f"nut-pom-{stem}", f"nut-antibacklash-{stem}"} <= nuts


@pytest.mark.parametrize(("size", "height"), [(15, 24), (20, 30), (25, 36), (30, 42), (35, 48), (45, 60)])
def test_flange_blocks_stand_as_high_as_iso_12090_says(size: int, height: int) -> None:
    block, rail = part("block", f"block-{size}-flange"), part("rail", f"rail-{size}")
    assert block.height * 1e3 == pytest.approx(height)
    assert block.size == rail.size
    assert 0.3 * block.height < block.raceway < rail.height


def test_guide_ratings_say_what_distance_they_are_for() -> None:
    for row in records("block"):
        assert (row.dynamic.basis, row.dynamic.reference) == ("distance", 100e3), row.id
        assert row.static.force > row.dynamic.force, row.id


def test_holding_torque_of_a_stepper_grows_with_its_frame_and_length() -> None:
    names = [
        "stepper-17-48",
        "stepper-23-56",
        "stepper-23-76",
        "stepper-23-112",
        "stepper-34-80",
        "stepper-34-118",
        "stepper-34-150",
    ]
    torques = [part("motor", name).holding for name in names]
    assert torques == sorted(torques)
    assert all(row.pole_pairs == 50 for row in records("motor") if row.type != "servo")


def test_servos_give_their_name_plate_power() -> None:
    for row in records("motor"):
        if row.type == "servo":
            watts = float(row.id.split("-")[1].rstrip("w"))
            assert row.rated_torque * row.rated_speed == pytest.approx(watts, rel=0.02), row.id
            assert row.peak_torque == pytest.approx(3 * row.rated_torque, rel=0.02), row.id


def test_a_pinion_weighs_and_turns_like_a_steel_disc() -> None:
    row = part("pinion", "pinion-m2-20-helical")
    pitch_radius = 0.001 * 20 / math.cos(row.helix)
    assert pitch_radius * 2 * math.pi == pytest.approx(0.13333, rel=1e-4), "travel per turn"
    assert 0.5 * row.mass * pitch_radius**2 < row.inertia < 0.75 * row.mass * pitch_radius**2


def test_cutter_names_say_which_way_they_lift() -> None:
    for row in records("cutter"):
        if row.id.endswith("-down"):
            assert row.helix < 0, row.id
        elif row.id.endswith("-up"):
            assert row.helix > 0, row.id
        assert 0 < row.flute_length < row.length, row.id


def test_inch_cutters_have_inch_diameters() -> None:
    assert part("cutter", "end-mill-1/4-2f-up").diameter == pytest.approx(0.00635)
    assert part("cutter", "end-mill-1/8-2f").shank == pytest.approx(0.003175)
    assert part("cutter", "ball-nose-12-2f").radius == pytest.approx(0.006)


def test_slides_are_as_high_as_what_they_are_made_of() -> None:
    for row in records("slide"):
        block = part("block", row.block)
        assert row.base[2] + block.height + row.saddle[2] == pytest.approx(row.height), row.id
        needed = row.travel + row.block_spacing + block.length + 0.01
        assert needed <= row.rail_length, row.id
        assert CATALOG.find("rail", row.rail)
        assert CATALOG.find("ball-screw", row.screw)


def test_elastic_constants_of_solids_are_possible() -> None:
    for row in records("material"):
        if row.modulus and row.shear_modulus and row.modulus > 20e9 and row.id not in {"al-6063-tslot-plate", "gfrp"}:
            assert 0.05 < row.modulus / (2 * row.shear_modulus) - 1 < 0.5, f"{row.id}: Poisson's ratio"


def test_workpiece_materials_have_all_four_cutting_coefficients() -> None:
    for row in records("material"):
        given = [value is not None for value in (row.shear_force, row.edge_force, row.shear_ratio, row.edge_ratio)]
        assert all(given) or not any(given), row.id
    aluminium = part("material", "al-6082")
    assert (aluminium.shear_force, aluminium.edge_force) == (650e6, 14e3), "N/m2 and N/m"


def test_materials_that_rows_name_exist() -> None:
    known = set(CATALOG.names("material"))
    assert {row.material for row in records("section")} <= known
    assert {row.material for row in records("cutter")} <= known
