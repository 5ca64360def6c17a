"""Results worded in the system that the user chose."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.base.quantities import parse, show, show_band, write
from gantrywright.base.quantities.showing import BY_SYMBOL, STEPS

SHOWN = [
    (0.2, "m/s", "12 m/min", "472 in/min"),
    (1.25, "m", "1250 mm", "49.2 in"),
    (3e-6, "m", "3 um", "0.118 thou"),
    (0.0, "m", "0 mm", "0 in"),
    (1e5, "m", "100 km", "62.1 mi"),
    (0.3, "m/s2", "0.3 m/s2", "11.8 in/s2"),
    (0.05, "m/s2", "50 mm/s2", "1.97 in/s2"),
    (100 * math.pi, "rad/s", "3000 rpm", "3000 rpm"),
    (600.0, "N", "600 N", "135 lbf"),
    (13700.0, "N", "13.7 kN", "3080 lbf"),
    (3.1, "N m", "3.1 N m", "27.4 lbf in"),
    (0.03, "N m", "30 mN m", "4.25 oz in"),
    (19.05087954, "kg", "19.1 kg", "42 lb"),
    (2.5e8, "N/m", "250 N/um", "1430000 lbf/in"),
    (62052.8, "Pa", "62.1 kPa", "9 psi"),
    (210e9, "Pa", "210 GPa", "30500 ksi"),
    (293.15, "K", "20 °C", "68 °F"),
    (30.0, "K", "30 K", "54 °F"),
    (3e-5, "kg m2", "0.3 kg cm2", "1.64 oz in2"),
    (math.radians(30), "rad", "30 deg", "30 deg"),
    (2e-4, "m/m", "200 um/m", "2.4 thou/ft"),
    (2200.0, "W", "2.2 kW", "2.2 kW"),
    (1.23456, "", "1.23", "1.23"),
    (123456.0, "", "123000", "123000"),
    (2.5e-6, "", "2.5e-6", "2.5e-6"),
    (None, "m", "unknown", "unknown"),
    (math.nan, "m", "unknown", "unknown"),
    (math.inf, "m", "no limit", "no limit"),
    (1.0, "flag", "yes", "yes"),
    (118.5, "money", "118.50", "118.50"),
    (-0.001, "money", "0", "0"),
    (-0.0, "N", "0 N", "0 lbf"),
    (9876.0, "", "9876", "9876"),
    (9999.7, "", "10000", "10000"),
    (-67079.0, "", "-67100", "-67100"),
    (1.1748e7, "N/m", "11.7 N/um", "67100 lbf/in"),
    (2.4e-6, "m3/s", "144 cm3/min", "8.79 in3/min"),  # chips
    (200 / 3600, "m3/s", "200 m3/h", "118 ft3/min"),  # air
]


@pytest.mark.parametrize(("value", "unit", "metric", "inch"), SHOWN)
def test_show(value: float | None, unit: str, metric: str, inch: str) -> None:
    assert (show(value, unit), show(value, unit, "inch")) == (metric, inch)


def test_hints_say_more_than_a_symbol() -> None:
    assert show(5.0, "K", hint="temperature") == "-268 °C"
    assert show(300.0, "K", hint="tempdiff") == "300 K"
    assert show(0.3, "", hint="%") == "30 %"
    assert show(118.0, "money", hint="EUR") == "118 EUR"
    assert show(0.00003, "m", hint="mm") == "0.03 mm"
    assert show(0.0123456, "m", digits=5) == "12.346 mm"


def test_band_is_in_one_unit_and_is_read_back() -> None:
    text = show_band(0.9, 1.1, 12.0, "N m")
    assert text == "1.1 N m (0.9..12)"
    assert parse(text, "torque").value == pytest.approx(1.1)
    assert show_band(0.0, 2e-5, 4e-4, "m") == "20 um (0..400)"


def test_written_texts() -> None:
    assert write(0.0127, "mm", "length") == "12.7 mm"
    assert write(0.0127, "in", "length") == "0.5 in"
    assert write(293.15, "°C", "temperature") == "20 °C"
    assert write(1e-10, "", "number") == "1e-10"
    with pytest.raises(KeyError, match="furlong"):
        write(1.0, "furlong", "length")


@given(
    st.sampled_from([(symbol, kind) for symbol, kind in BY_SYMBOL.items() if kind in STEPS and kind != "tempdiff"]),
    st.sampled_from(["metric", "inch"]),
    st.floats(1e-9, 1e9),
)
def test_what_is_shown_is_the_value_to_its_digits(symbol: tuple[str, str], system: str, value: float) -> None:
    name, kind = symbol
    text = show(value, name, system, digits=4)
    number, unit = text.split(" ", 1)
    if abs(int(number.partition("e")[2] or 0)) < 100:
        assert parse(f"{float(number)!r} {unit}", kind).value == pytest.approx(value, rel=6e-4)


@pytest.mark.parametrize("kind", STEPS)
def test_no_unit_of_the_other_system(kind: str) -> None:
    metric, inch = ({unit for _, unit in STEPS[kind][system]} for system in ("metric", "inch"))
    assert metric == inch or not metric & inch
