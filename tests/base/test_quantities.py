"""What builders type, and what it must become or why it must be refused."""

from contextlib import suppress
from math import isfinite, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.base.errors import UnreadableText
from gantrywright.base.quantities import (
    READERS,
    SCALARS,
    choice,
    currency_of,
    guess_kind,
    is_unknown,
    parse,
    with_number,
    words_in_doubt,
    write,
)
from gantrywright.base.values import Bolts, PhaseCurrent, Rating

READ = [
    ("1/2 in", "length", 0.0127),
    ("1 1/2 in", "length", 0.0381),
    ("1-1/2 in", "length", 0.0381),
    ('1-1/2"', "length", 0.0381),
    ("-1-1/2 in", "length", -0.0381),
    ("1½ in", "length", 0.0381),
    ('3/4"', "length", 0.01905),
    ("24 in", "length", 0.6096),
    ("24in", "length", 0.6096),
    ("5'", "length", 1.524),
    ("5 ft", "length", 1.524),
    ("5' 2-1/2\"", "length", 1.5875),
    ("5'2\"", "length", 1.5748),
    ("-5' 2\"", "length", -1.5748),
    ("5 ft 2 in", "length", 1.5748),
    ("5′ 2″", "length", 1.5748),
    ("12.7 mm", "length", 0.0127),
    ("\u221212.7\u00a0mm", "length", -0.0127),
    (".5 mm", "length", 0.0005),
    ("13 mm", "length", 0.013),
    ("5 thou", "length", 0.000127),
    ("20 µm", "length", 20e-6),
    ("20 μm", "length", 20e-6),
    ("42 lb", "mass", 19.05087954),
    ("3 000 rpm", "turn-speed", 100 * pi),
    ("3\u202f000 rpm", "turn-speed", 100 * pi),
    ("24000 rpm", "turn-speed", 800 * pi),
    ("1 000 000", "number", 1e6),
    ("2e-6", "number", 2e-6),
    ("15 %", "number", 0.15),
    ("50 V", "voltage", 50.0),
    ("2.2 kW", "power", 2200.0),
    ("20 °C", "temperature", 293.15),
    ("10 degC", "temperature", 283.15),
    ("68 °F", "temperature", 293.15),
    ("10 °C", "tempdiff", 10.0),
    ("0.5 N/um", "stiffness", 0.5e6),
    ("0.5 N·m", "torque", 0.5),
    ("0.5 Nm", "torque", 0.5),
    ("440 oz-in", "torque", 440 * 0.45359237 / 16 * 9.80665 * 0.0254),
    ("10 kgf cm", "torque", 0.980665),
    ("0.1 g", "accel", 0.980665),
    ("100 g", "mass", 0.1),
    ("100 mm/s²", "accel", 0.1),
    ("30 µm/300 mm", "straightness", 1e-4),
    ("4e-4 N m s/rad", "viscous", 4e-4),
    ("24 N/mm", "edge-force", 24000.0),
    ("10 mm", "lead", 0.010),
    ("1/2 in", "lead", 0.0127),
    ("118 EUR", "money", 118.0),
    ("$118", "money", 118.0),
    ("118.50 $", "money", 118.5),
    ("$3/ft", "money", 3 / 0.3048),
    ("400 ipm", "speed", 400 * 0.0254 / 60),
    ("86 EUR/m", "money", 86.0),
    ("3 USD/ft", "money", 3 / 0.3048),
    ("4", "count", 4),
]


@pytest.mark.parametrize(("text", "kind", "value"), READ)
def test_reads(text: str, kind: str, value: float) -> None:
    assert parse(text, kind).value == pytest.approx(value, rel=1e-15)


def test_decimals_are_converted_once_and_exactly() -> None:
    assert parse("13 mm", "length").value == 0.013 != 13 * 1e-3
    assert parse("0.1 mm", "length").value == 1e-4


REFUSED = [
    ("1,5 mm", "length", ["1.5 mm", "15 mm", 'write "1.5 mm"']),
    ("1,200 mm", "length", ["1.200 mm", "1200 mm", 'write "1 200 mm" or "1.200 mm"']),
    ("18,000 rpm", "turn-speed", ['write "18 000 rpm" or']),
    ("1,200.5 mm", "length", ['write "1200.5 mm"']),
    ("1.200,5 mm", "length", ['write "1200.5 mm"']),
    ("1,200,000", "number", ['write "1200000"']),
    ("1, 5 mm", "length", ["list"]),
    ("12", "length", ["no unit", "mm", "in", "12.7 mm"]),
    ("42 lb", "force", ["'lb'", 'write "42 lbf"', "kgf"]),
    ("5 kg", "force", ['write "5 kgf"']),
    ("3 kg cm", "torque", ['write "3 kgf cm"']),
    ("20 lb in", "torque", ['write "20 lbf in"']),
    ("100 lb/in", "stiffness", ['write "100 lbf/in"']),
    ("12 kg", "length", ["'kg' is a unit of mass", "a length is wanted"]),
    ("12 MM", "length", ["capitals", "mm"]),
    ("12 mils", "length", ["no unit 'mils'"]),
    ("5'", "angle", ["a unit of length"]),
    ("12 34 mm", "length", ["groups of three"]),
    ("3 00 mm", "length", ["groups of three"]),
    ("1.2.3 mm", "length", ["one decimal point"]),
    ("12. mm", "length", ["one decimal point"]),
    ("2e-100", "number", ["two digits"]),
    ("2*3 mm", "length", ["no unit"]),
    ("5-3 mm", "length", ["no unit"]),
    ("1/0 in", "length", ["zero"]),
    ("five mm", "length", ["no number"]),
    ("", "length", ["no number"]),
    ("5' 14\"", "length", ["below 12"]),
    ("5 €", "money", ["EUR"]),
    ("5", "money", ["EUR"]),
    ("2.5", "count", ["whole number"]),
    ("-2", "count", ["not negative"]),
    ("5 mm (6..7)", "length", ["does not hold"]),
    ("5 mm (7..4)", "length", ["does not hold"]),
    ("5 mm (4)", "length", ["no band"]),
    ("50 % +- 5 %", "number", ["points"]),
    ("20 °C +- 5 %", "temperature", ["degrees"]),
    ("5 mm +- -1 mm", "length", ["not negative"]),
    ("13.7 kN", "rating", ["13.7 kN at 100 km", "13.7 kN at 50 km", "1e6 rev"]),
    ("13.7 kN at 20 mm", "rating", ["no reference"]),
    ("13.7 kN at 0 km", "rating", ["above zero"]),
    ("25 kN at 100 km", "static-rating", ["no reference"]),
    ("4.2 A", "phase-current", ["4.2 A peak", "4.2 A rms"]),
    ("4.2 V rms", "phase-current", ["voltage"]),
    ("40, 0 mm", "point", ["3 numbers"]),
    ("40, 0, 780", "point", ["no unit"]),
    ("40,0 mm", "pair", ["blank behind"]),
    ("1, 2,3 mm", "point", ["blank behind"]),
    ("1,5, 2 mm", "point", ["blank behind"]),
    ("1,5,2,5 mm", "point", ["blank behind"]),
    ("1, 2 mm (1..3), 3 mm", "point", ["no unit"]),
    ("1, 2, 3 mm (1..4)", "point", ["one number only"]),
    ("260 x 0 x 20 mm", "size3", ["above zero"]),
    ("2240..2080 mm", "range", ["lower end"]),
    ("2080 mm", "range", ["no range"]),
    ("8 x 8", "bolts", ["8 x M8"]),
    ("0 x M8", "bolts", ["8 x M8"]),
    ("5 blah", "quantity", ["blah"]),
]


@pytest.mark.parametrize(("text", "kind", "said"), REFUSED)
def test_refuses_and_says_why(text: str, kind: str, said: list[str]) -> None:
    with pytest.raises(UnreadableText) as caught:
        parse(text, kind)
    for words in said:
        assert words in str(caught.value)


def test_unknown_kind_names_the_nearest() -> None:
    with pytest.raises(KeyError, match="length"):
        parse("1 mm", "lenght")


def test_band_takes_the_unit_of_its_value() -> None:
    spread = parse("250 N/um (100..400)", "stiffness").spread
    assert spread is not None
    assert (spread.low, spread.typical, spread.high, spread.shape) == (1e8, 2.5e8, 4e8, "band")


def test_band_with_units_of_its_own() -> None:
    spread = parse("1/2 in (12..13 mm)", "length").spread
    assert spread is not None
    assert (spread.low, spread.high) == (0.012, 0.013)


def test_band_of_a_temperature_has_its_zero() -> None:
    spread = parse("20 °C (10..30)", "temperature").spread
    assert spread is not None
    assert (spread.low, spread.high) == (283.15, 303.15)


@pytest.mark.parametrize("text", ["3.1 N/um +- 0.3 N/um", "3.1 N/um ± 0.3", "3.1 N/um +- 9.67741935483871 %"])
def test_expanded_uncertainty_is_two_standard_ones(text: str) -> None:
    spread = parse(text, "stiffness").spread
    assert spread is not None
    assert spread.shape == "normal"
    assert spread.high - spread.typical == pytest.approx(1.6448536 * 0.15e6, rel=1e-7)
    assert spread.typical - spread.low == pytest.approx(1.6448536 * 0.15e6, rel=1e-7)


def test_uncertainty_of_a_temperature_is_a_difference() -> None:
    spread = parse("68 °F +- 3.6 °F", "temperature").spread
    assert spread is not None
    assert spread.high - spread.typical == pytest.approx(1.6448536, rel=1e-6)


COMPOUND = [
    ("40, 0, 780 mm", "point", (0.04, 0.0, 0.78)),
    ("40,0,780 mm", "point", (0.04, 0.0, 0.78)),
    ("2 in, 0, 780 mm", "point", (0.0508, 0.0, 0.78)),
    ("0, -20 mm", "pair", (0.0, -0.02)),
    ("0, 0.7, 0.7", "vector", (0.0, 0.7, 0.7)),
    ("260 x 570 x 20 mm", "size3", (0.26, 0.57, 0.02)),
    ("260×570×20 mm", "size3", (0.26, 0.57, 0.02)),
    ("11 x 16 x 7/8 in", "size3", (0.2794, 0.4064, 0.022225)),
    ("26 x 38 in", "size2", (0.6604, 0.9652)),
    ("2080..2240 mm", "range", (2.08, 2.24)),
    ("8 000..24 000 rpm", "range", (8000 * pi / 30, 800 * pi)),
    ("-20..60 °C", "range temperature", (253.15, 333.15)),
    ("8 x M8", "bolts", Bolts(8, "M8")),
    ("4 x M8 x 1", "bolts", Bolts(4, "M8x1")),
    ("6 x 1/4-20", "bolts", Bolts(6, "1/4-20")),
    ("6 A peak", "phase-current", PhaseCurrent(6.0, "peak")),
    ("4 200 mA rms", "phase-current", PhaseCurrent(4.2, "rms")),
    ("13.7 kN at 100 km", "rating", Rating(13700.0, "distance", 1e5)),
    ("10 kN (7..14) at 50 km", "rating", Rating(10000.0, "distance", 5e4)),
    ("12 kN at 1e6 rev", "rating", Rating(12000.0, "turns", 1e6)),
    ("12 kN at 1 000 000 rev", "rating", Rating(12000.0, "turns", 1e6)),
    ("25 kN", "static-rating", Rating(25000.0, "static")),
    ("0.7 kg", "quantity", 0.7),
]


@pytest.mark.parametrize(("text", "kind", "value"), COMPOUND)
def test_reads_compound_values(text: str, kind: str, value: object) -> None:
    found = parse(text, kind).value
    assert found == (pytest.approx(value, rel=1e-15) if isinstance(value, tuple | float) else value)


def test_spread_of_a_rating_is_that_of_its_force() -> None:
    spread = parse("10 kN (7..14) at 50 km", "rating").spread
    assert spread is not None
    assert (spread.low, spread.high) == (7000.0, 14000.0)


def test_another_number_in_a_compound_value() -> None:
    assert with_number(Rating(1.0, "turns", 1e6), 2.0) == Rating(2.0, "turns", 1e6)
    assert with_number(PhaseCurrent(1.0, "peak"), 2.0) == PhaseCurrent(2.0, "peak")
    assert with_number(1.0, 2.0) == 2.0


def test_header_unit_serves_bare_numbers_only() -> None:
    assert parse("12.7", "length", "mm").value == 0.0127
    assert parse("1/2 in", "length", "mm").value == 0.0127
    assert parse("53 x 40", "size2", "mm").value == (0.053, 0.04)
    assert parse("14 (11..17) at 100 km", "rating", "kN").value == Rating(14000.0, "distance", 1e5)


def test_choices_in_doubt() -> None:
    allowed = ("fixed-supported", "supported-supported", "fixed-fixed")
    assert choice("fixed-fixed", allowed) == ("fixed-fixed", None)
    word, spread = choice("fixed-supported or supported-supported", allowed)
    assert word == "fixed-supported"
    assert spread is not None
    assert (spread.shape, spread.choices, spread.typical, spread.high) == ("choice", allowed[:2], 0.0, 1.0)
    with pytest.raises(UnreadableText, match="nearest: fixed-fixed"):
        choice("fixed-fixd", allowed)
    with pytest.raises(UnreadableText, match="twice"):
        choice("fixed-fixed or fixed-fixed", allowed)
    assert words_in_doubt("a or b or c") == ("a", "b", "c")


def test_small_helpers() -> None:
    assert is_unknown(" unknown ")
    assert not is_unknown("unknown or 3 mm")
    assert currency_of(parse("86 EUR/m", "money").unit) == "EUR"
    assert [currency_of(parse(text, "money").unit) for text in ("$118", "118 $", "$3/ft")] == ["USD"] * 3
    assert currency_of("mm") == ""
    assert (guess_kind("N/um"), guess_kind("mm"), guess_kind("g"), guess_kind("blah")) == ("stiffness", "length", "mass", "")


def test_examples_of_every_kind_are_read() -> None:
    for kind in SCALARS.values():
        for example in kind.examples:
            parse(example, kind.name)
        for unit in kind.offers.values():
            assert "(" in unit or kind.name == "money" or parse(f"1 {unit}", kind.name)
    assert set(SCALARS) <= set(READERS)


UNITS = [(kind.name, unit) for kind in SCALARS.values() if kind.name != "count" for unit in kind.units]
NUMBERS = st.floats(allow_nan=False, allow_infinity=False).filter(lambda v: v == 0 or 1e-12 < abs(v) < 1e12)


@given(st.sampled_from(UNITS), NUMBERS)
def test_what_is_written_reads_back(unit: tuple[str, str], number: float) -> None:
    kind, name = unit
    value = parse(f"{number!r} {name}", kind).value
    again = parse(write(value, name, kind), kind).value
    assert again == pytest.approx(value, rel=1e-12, abs=1e-300)


@given(st.integers(0, 40), st.integers(0, 63))
def test_mixed_numbers_are_sums(whole: int, top: int) -> None:
    for text in (f"{whole} {top}/64 in", f"{whole}-{top}/64 in"):
        assert parse(text, "length").value == pytest.approx((whole + top / 64) * 0.0254, rel=1e-15, abs=0)


@given(st.text("0123456789 .,-+/xe'\"()%mkgNinft°AV±½\u2009", max_size=16), st.sampled_from(sorted(READERS)))
def test_any_text_is_read_or_refused(text: str, kind: str) -> None:
    with suppress(UnreadableText):
        assert isfinite(parse(text, kind).value if kind in SCALARS else 0.0)


def test_number_beyond_all_machines() -> None:
    with pytest.raises(UnreadableText, match="digits"):
        parse("1" * 400 + " mm", "length")
