"""What the demo machines show of placing."""

from pathlib import Path

from gantrywright.intake.resolve import load_machine

DEMO = Path(__file__).parents[2] / "src" / "gantrywright" / "data" / "demo"


def test_a_price_of_a_body_is_not_that_of_its_feet() -> None:
    prices = {solid.path: solid.use.price for solid in load_machine(DEMO / "bench.toml").solids if solid.body == "bed"}
    assert prices["bed.slab"] == 260.0
    assert [price for path, price in prices.items() if path.startswith("bed.foot")] == [None, None, None]
