"""What everything weighs, and samples of it."""

import itertools

import numpy as np
import pytest
from placed import EXAMPLES, document, machine, revised

from gantrywright.intake.placing.estimates import block_stiffness
from gantrywright.intake.resolve import resolve
from gantrywright.model.bodies import Solid


def solid(name: str, path: str) -> Solid:
    return next(s for s in machine(name).solids if s.path == path)


@pytest.mark.parametrize("name", EXAMPLES)
def test_everything_has_a_mass_and_a_name_of_its_own(name: str) -> None:
    solids = machine(name).solids
    assert [s.path for s in solids if s.mass is None] == []
    assert len({s.path for s in solids}) == len(solids)


def test_tube_weighs_its_section_times_its_length() -> None:
    """80 x 80 x 4 tube, 9.22 kg/m by EN 10219-2 rounding; 2.1 m."""
    assert solid("salvaged", "bed.left-side").mass == pytest.approx(9.22 * 2.1, rel=0.01)


def test_extrusion_weighs_what_the_trade_says() -> None:
    """A heavy 80 x 160 extrusion weighs about 12.7 kg/m (common practice)."""
    assert solid("salvaged", "gantry.beam").mass == pytest.approx(12.7 * 1.404, rel=0.03)


def test_filled_tube_weighs_its_filling_too() -> None:
    """Upright 6 x 8 x 1/4 in, 24 in long: 5.5 x 7.5 in inside (sharp corners) of mineral casting at 2300 kg/m3 or so."""
    hollow = revised("fixed_gantry", ("gantry.upright.fill", None))
    empty = next(s for s in hollow.solids if s.path == "gantry.upright-left").mass
    filled = solid("fixed_gantry", "gantry.upright-left").mass
    assert filled is not None
    assert empty is not None
    inside = (5.5 * 7.5) * 0.0254**2 * 24 * 0.0254
    assert (filled - empty) / inside == pytest.approx(2350, rel=0.03)


def test_openings_are_cut_out_of_a_plate() -> None:
    """11 x 16 x 7/8 in less 3 x 4 in of aluminium at 2700 kg/m3."""
    volume = (11 * 16 - 3 * 4) * 0.875 * 0.0254**3
    assert solid("fixed_gantry", "carriage.plate").mass == pytest.approx(2700 * volume, rel=1e-3)


def test_sheets_of_a_box_table() -> None:
    """Skin 700 x 3560 x 12 mm of birch plywood at 680 kg/m3; webs: 5 along, 9 across, 176 high, 12 thick, crossings once."""
    skin, webs = solid("long_bed", "bed.top.skin-lower"), solid("long_bed", "bed.top.webs")
    assert skin.mass == pytest.approx(680 * 0.7 * 3.56 * 0.012, rel=0.02)
    area = 0.012 * (5 * 3.56 + 9 * (0.7 - 5 * 0.012))
    assert webs.mass is not None
    assert skin.mass is not None
    assert webs.mass / skin.mass == pytest.approx(area * 0.176 / (0.7 * 3.56 * 0.012), rel=1e-6)


def test_rail_weighs_by_its_length() -> None:
    assert solid("salvaged", "axis.y.rail.left").mass == pytest.approx(2.4 * 2.0)


def test_screw_is_cut_longer_than_its_free_length() -> None:
    found = solid("salvaged", "axis.x.drive.main")
    assert found.kind == "screw"
    assert found.size[0] > 1.340 + 0.05


def test_riding_motor_is_weighed_with_what_it_rides_on() -> None:
    assert solid("fixed_gantry", "axis.x.drive.main.motor").body == "carriage"
    assert solid("fixed_gantry", "axis.y.drive.main.motor").body == "bed"
    assert solid("fixed_gantry", "axis.y.drive.main").body == "table"


def test_a_weighed_body_weighs_what_the_scale_showed() -> None:
    found = machine("long_bed")
    total = sum(s.mass for s in found.solids if s.body == "gantry" and s.mass is not None)
    assert total == pytest.approx(21.4)


def test_weighing_taken_out_leaves_the_list() -> None:
    found = revised("long_bed", ("measured.gantry-weighed", None))
    assert "gantry.not-listed" not in {s.path for s in found.solids}


def test_only_numbers_are_sampled_never_places_nor_what_there_is() -> None:
    typical = machine("salvaged")
    spreads = {path: s for path, s in typical.spreads.items() if s.high > s.low and not s.placed}
    samples = {path: np.linspace(s.low, s.high, 5) for path, s in spreads.items()}
    sampled = resolve(document("salvaged"), samples=samples)
    assert [s.path for s in sampled.solids] == [s.path for s in typical.solids]
    assert [(j.path, j.points) for j in sampled.joints] == [(j.path, j.points) for j in typical.joints]
    for one, many in zip(typical.solids, sampled.solids, strict=True):
        assert one.centre == many.centre
        assert one.size == many.size
    spindle = next(s for s in sampled.solids if s.path == "spindle")
    assert np.shape(spindle.mass) == (5,)


def test_samples_at_the_typical_values_give_the_typical_machine() -> None:
    typical = machine("fixed_gantry")
    spreads = {path: s for path, s in typical.spreads.items() if s.high > s.low and not s.placed}
    sampled = resolve(document("fixed_gantry"), samples={path: np.full(3, s.typical) for path, s in spreads.items()})
    for one, many in zip(typical.solids, sampled.solids, strict=True):
        assert np.broadcast_to(many.mass, 3) == pytest.approx([one.mass] * 3), one.path
    for axis, other in zip(typical.axes, sampled.axes, strict=True):
        for a, b in zip(axis.blocks, other.blocks, strict=True):
            assert np.asarray(b.normal_stiffness) == pytest.approx(a.normal_stiffness)
            assert np.asarray(b.preload_force) == pytest.approx(a.preload_force)


class TestBlocks:
    def test_default_stiffness_is_of_size_and_preload(self) -> None:
        """Size 20, light: 190 N/um (130..270), estimate."""
        block = machine("salvaged").axis("y").blocks[0]
        assert block.normal_stiffness == pytest.approx(190e6)
        assert block.preload_force == pytest.approx(0.02 * 14e3)
        assert machine("salvaged").spreads["axis.y.blocks.stiffness.normal"].low == pytest.approx(130e6)
        assert machine("salvaged").origins["axis.y.blocks.stiffness.normal"].source == "common practice, no source"

    def test_more_preload_is_stiffer(self) -> None:
        kinds = ("clearance", "light", "medium", "heavy")
        found = [revised("salvaged", ("axis.y.blocks.preload", kind)).axis("y").blocks[0] for kind in kinds]
        assert found[0].preload_force == 0.0
        for softer, stiffer in itertools.pairwise(found):
            assert softer.normal_stiffness < stiffer.normal_stiffness
            assert softer.preload_force < stiffer.preload_force

    def test_given_stiffness_wins(self) -> None:
        found = revised("salvaged", ("axis.y.blocks.stiffness.normal", "250 N/um")).axis("y").blocks
        assert [block.normal_stiffness for block in found] == pytest.approx([250e6] * 4)
        assert found[0].lateral_stiffness == pytest.approx(160e6)

    def test_a_band_of_all_blocks_moves_them_together(self) -> None:
        from gantrywright.intake.document import revise

        other = revise(document("salvaged"), [("axis.y.blocks.stiffness.normal", "250 N/um (200..300)")])
        samples = {"axis.y.blocks.stiffness.normal": np.array([210e6, 290e6])}
        for block in resolve(other, samples=samples).axis("y").blocks:
            assert np.asarray(block.normal_stiffness).tolist() == [210e6, 290e6]

    def test_one_worn_rail(self) -> None:
        blocks = {block.path: block for block in machine("salvaged").axis("y").blocks}
        assert blocks["axis.y.block.left-1"].use.remaining == pytest.approx(0.6)
        assert blocks["axis.y.block.right-1"].use.remaining == 1.0
        assert blocks["axis.y.block.left-2"].use.owned
        assert not blocks["axis.y.block.right-2"].use.owned

    def test_blocks_are_bolted_to_what_they_touch(self) -> None:
        blocks = {block.path: block.on for block in machine("salvaged").axis("y").blocks}
        assert blocks["axis.y.block.left-1"] == "gantry.upright-left"
        assert blocks["axis.y.block.right-2"] == "gantry.upright-right"


class TestEstimates:
    SIZES = (7, 9, 12, 15, 20, 25, 30, 35, 45)
    CLASSES = ("clearance", "light", "medium", "heavy")

    def test_every_size_has_every_class_with_a_band(self) -> None:
        for size in self.SIZES:
            for preload in self.CLASSES:
                for estimate in block_stiffness(size / 1e3, preload).values():
                    assert 0 < estimate.spread.low < estimate.spread.typical < estimate.spread.high
                    assert estimate.origin.source

    def test_bigger_and_tighter_blocks_are_stiffer(self) -> None:
        for name in ("normal", "lateral", "roll", "pitch", "yaw"):
            table = [[block_stiffness(size / 1e3, c)[name].spread.typical for c in self.CLASSES] for size in self.SIZES]
            assert (np.diff(table, axis=0) > 0).all(), name
            assert (np.diff(table, axis=1) > 0).all(), name

    def test_ordinary_sizes_of_the_reference(self) -> None:
        """Light, 0.02 C: 140, 190, 230 N/um normal for 15, 20, 25 (estimates from Hertz contact with body flexibility)."""
        assert [block_stiffness(size, "light")["normal"].spread.typical for size in (0.015, 0.020, 0.025)] == [140e6, 190e6, 230e6]

    def test_a_size_between_takes_the_nearest_row(self) -> None:
        assert block_stiffness(0.021, "light") == block_stiffness(0.020, "light")
