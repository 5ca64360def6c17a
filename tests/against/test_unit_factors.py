"""Every conversion factor against a general library of units that shares no code with ours."""

import pint
import pytest

from gantrywright.base.quantities import SCALARS, parse
from gantrywright.base.quantities.kinds import factor_of

REGISTRY = pint.UnitRegistry()

SI = {
    "m/rev": "m", "m/m": "", "ohm": "ohm", "kg m2": "kg m**2", "m2": "m**2", "m4": "m**4", "kg/m3": "kg/m**3", "m/s2": "m/s**2", "rad/s": "rad/s", "m3/s": "m**3/s",
}  # fmt: skip
"""Our symbols as the library writes them, where they differ."""
IN_KIND = {
    ("accel", "g"): "standard_gravity",
    ("straightness", "um/300mm"): "um/(300 mm)",
    ("straightness", "mm/300mm"): "mm/(300 mm)",
    ("torque", "oz in"): "force_ounce inch",
    ("power", "hp"): "horsepower",
    ("number", ""): "dimensionless",
    ("number", "%"): "percent",
    ("turn-speed", "rev/s"): "revolution/s",
    ("lead", "mm/rev"): "mm",
    ("lead", "in/rev"): "inch",
    ("expansion", "uin/in/°F"): "1e-6/delta_degF",
    ("expansion", "ppm/K"): "1e-6/K",
    ("tempdiff", "°C"): "delta_degC",
    ("tempdiff", "°F"): "delta_degF",
}
WORDS = {
    "in": "inch",
    "ozf": "force_ounce",
    "lbf": "force_pound",
    "kgf": "force_kilogram",
    "t": "metric_ton",
    "lb": "pound",
    "oz": "ounce",
}


def in_library(kind: str, unit: str) -> str:
    if (kind, unit) in IN_KIND:
        return IN_KIND[kind, unit]
    products = []
    for product in unit.split("/"):
        factors = []
        for factor in product.split():
            power = factor[-1] if factor[-1] in "234" else ""
            name = factor.removesuffix(power) if power else factor
            factors.append(WORDS.get(name, name) + (f"**{power}" if power else ""))
        products.append("*".join(factors))
    return "/".join(f"({product})" for product in products)


SCALED = [
    (kind.name, unit) for kind in SCALARS.values() if kind.name not in {"temperature", "money", "count"} for unit in kind.units
]


@pytest.mark.parametrize(("kind", "unit"), SCALED)
def test_factor(kind: str, unit: str) -> None:
    si = SI.get(SCALARS[kind].si, SCALARS[kind].si) or "dimensionless"
    expected = REGISTRY.Quantity(1, "dimensionless") * REGISTRY.parse_expression(in_library(kind, unit))
    found = factor_of(kind, unit)
    assert found is not None
    assert found[0] / found[1] == pytest.approx(expected.to(si).magnitude, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "degrees", "unit"), [("20 °C", 20, "degC"), ("-40 °F", -40, "degF"), ("68 °F", 68, "degF"), ("293.15 K", 293.15, "K")]
)
def test_temperature(text: str, degrees: float, unit: str) -> None:
    assert parse(text, "temperature").value == pytest.approx(REGISTRY.Quantity(degrees, unit).to("K").magnitude, rel=1e-12)


def test_every_kind_but_three_is_compared() -> None:
    assert len({kind for kind, _ in SCALED}) == len(SCALARS) - 3
