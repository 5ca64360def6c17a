"""The closed table of units, one group a kind of quantity, with exact factors to SI."""

import re
from dataclasses import dataclass, field
from fractions import Fraction

G = Fraction("9.80665")
"""Standard acceleration of free fall, m/s2 (ISO 80000-3)."""
INCH = Fraction("0.0254")
FOOT = 12 * INCH
POUND = Fraction("0.45359237")
OUNCE = POUND / 16
LBF, OZF = POUND * G, OUNCE * G
PSI = LBF / INCH**2
PI = Fraction(3141592653589793238462643383279502884197, 10**39)
"""Forty digits: far beyond what a float keeps."""
DEGREE = PI / 180
MILLI, MICRO = Fraction(1, 1000), Fraction(1, 10**6)


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of quantity."""

    name: str
    words: str
    """Name for people, with its article."""
    si: str
    """Symbol of the SI unit, as in ``base.units``."""
    units: dict[str, Fraction]
    """The units that are told to a user, with their factor to SI."""
    examples: tuple[str, ...]
    also: dict[str, str] = field(default_factory=dict)
    """Other spellings of those units."""
    offsets: dict[str, Fraction] = field(default_factory=dict)
    """What a unit's zero is worth in SI, where that is not zero."""
    offers: dict[str, str] = field(default_factory=dict)
    """What to write instead of a unit of another kind that is often written here."""


LENGTHS = {
    "m": Fraction(1), "cm": Fraction(1, 100), "mm": MILLI, "um": MICRO, "km": Fraction(1000), "in": INCH, "ft": FOOT,
    "thou": INCH / 1000, "mi": 5280 * FOOT,
}  # fmt: skip
LENGTHS_ALSO = {"inch": "in", "inches": "in", '"': "in", "feet": "ft", "foot": "ft", "'": "ft"}
NOT_A_FORCE = {"lb": "lbf", "lbs": "lbf", "oz": "ozf", "kg": "kgf", "g": "N (or kgf)"}
NOT_A_STIFFNESS = {"lb/in": "lbf/in"}


def _kind(
    name: str, words: str, si: str, units: dict[str, Fraction | int], *examples: str,
    also: dict[str, str] | None = None, offers: dict[str, str] | None = None,
) -> Kind:  # fmt: skip
    exact = {unit: Fraction(factor) for unit, factor in units.items()}
    return Kind(name, words, si, exact, examples, also or {}, offers=offers or {})


TURN = 2 * PI
CELSIUS_ZERO, FAHRENHEIT = Fraction("273.15"), Fraction(5, 9)
DEGREES_ALSO = {"degC": "°C", "C": "°C", "degF": "°F", "F": "°F"}

_ALL = (
    _kind("length", "a length", "m", dict(LENGTHS), "12.7 mm", "1/2 in", also=LENGTHS_ALSO),
    _kind(
        "area", "an area", "m2",
        {"m2": 1, "cm2": Fraction(1, 10**4), "mm2": MICRO, "in2": INCH**2, "ft2": FOOT**2}, "0.2 m2", "70 in2",
    ),
    _kind(
        "second-moment", "a second moment of area", "m4",
        {"cm4": Fraction(1, 10**8), "mm4": Fraction(1, 10**12), "m4": 1, "in4": INCH**4}, "61.4 cm4", "1.5 in4",
    ),
    _kind(
        "angle", "an angle", "rad",
        {"deg": DEGREE, "rad": 1, "mrad": MILLI, "arcmin": DEGREE / 60, "arcsec": DEGREE / 3600, "mm/m": MILLI}, "30 deg", "5 arcmin",
        also={"°": "deg"},
    ),
    _kind(
        "mass", "a mass", "kg", {"kg": 1, "g": MILLI, "t": 1000, "lb": POUND, "oz": OUNCE}, "12 kg", "42 lb",
        also={"lbs": "lb"}, offers={"lbf": "lb", "kgf": "kg", "N": "kg"},
    ),
    _kind(
        "linear-mass", "a mass per length", "kg/m",
        {"kg/m": 1, "g/m": MILLI, "lb/ft": POUND / FOOT, "lb/in": POUND / INCH, "oz/ft": OUNCE / FOOT}, "2.2 kg/m", "1.5 lb/ft",
    ),
    _kind(
        "density", "a density", "kg/m3",
        {"kg/m3": 1, "g/cm3": 1000, "lb/ft3": POUND / FOOT**3, "lb/in3": POUND / INCH**3}, "7850 kg/m3", "2.7 g/cm3",
    ),
    _kind(
        "inertia", "a moment of inertia", "kg m2",
        {
            "kg m2": 1, "kg cm2": Fraction(1, 10**4), "kg mm2": MICRO, "g cm2": Fraction(1, 10**7), "oz in2": OUNCE * INCH**2,
            "lb in2": POUND * INCH**2, "lb ft2": POUND * FOOT**2, "ozf in s2": OZF * INCH, "lbf in s2": LBF * INCH,
        },
        "0.48 kg cm2", "2.6 oz in2", offers={"oz in s2": "ozf in s2", "lb in s2": "lbf in s2"},
    ),
    _kind(
        "force", "a force", "N", {"N": 1, "kN": 1000, "lbf": LBF, "ozf": OZF, "kgf": G}, "60 N", "45 lbf", offers=NOT_A_FORCE
    ),
    _kind(
        "torque", "a torque", "N m",
        {
            "N m": 1, "N cm": Fraction(1, 100), "mN m": MILLI, "oz in": OZF * INCH, "lbf in": LBF * INCH, "lbf ft": LBF * FOOT,
            "kgf cm": G / 100,
        },
        "3.1 N m", "440 oz in",
        also={"ozf in": "oz in", "in ozf": "oz in", "in oz": "oz in", "in lbf": "lbf in", "ft lbf": "lbf ft"},
        offers={"lb in": "lbf in", "in lb": "lbf in", "lb ft": "lbf ft", "ft lb": "lbf ft", "kg cm": "kgf cm", "kg m": "N m"},
    ),
    _kind(
        "pressure", "a pressure", "Pa",
        {
            "Pa": 1, "kPa": 1000, "MPa": 10**6, "GPa": 10**9, "bar": 10**5, "mbar": 100, "psi": PSI, "ksi": 1000 * PSI,
        },
        "18 kPa", "9 psi", also={"N/mm2": "MPa", "kN/mm2": "GPa", "N/m2": "Pa"}, offers={"Msi": "ksi (1 Msi = 1000 ksi)"},
    ),
    _kind(
        "stiffness", "a stiffness", "N/m",
        {"N/um": 10**6, "N/mm": 1000, "N/m": 1, "kN/mm": 10**6, "lbf/in": LBF / INCH}, "250 N/um", "60 000 lbf/in",
        offers=NOT_A_STIFFNESS,
    ),
    _kind(
        "edge-force", "a force per length of edge", "N/m",
        {"N/mm": 1000, "N/m": 1, "lbf/in": LBF / INCH}, "24 N/mm", "140 lbf/in", offers=NOT_A_STIFFNESS,
    ),
    *(
        _kind(
            name, words, "N m/rad", {"N m/rad": 1, "kN m/rad": 1000, "MN m/rad": 10**6, "lbf in/rad": LBF * INCH}, "40 kN m/rad",
            "350 lbf in/rad", offers={"lb in/rad": "lbf in/rad", "N m": "N m/rad", "N m/deg": "N m/rad (1 N m/deg = 57.3 N m/rad)"},
        )
        for name, words in (("tilt-stiffness", "a tilting stiffness"), ("twist-stiffness", "a twisting stiffness"))
    ),
    _kind("viscous", "a viscous drag", "N m s", {"N m s": 1, "mN m s": MILLI}, "4e-4 N m s", also={"N m s/rad": "N m s"}),
    _kind(
        "pressure-speed", "a pressure times speed", "Pa m/s",
        {"Pa m/s": 1, "MPa m/s": 10**6, "psi ft/min": PSI * FOOT / 60}, "0.1 MPa m/s", "3000 psi ft/min",
        also={"N/mm2 m/s": "MPa m/s"},
    ),
    _kind(
        "speed", "a speed", "m/s",
        {
            "m/min": Fraction(1, 60), "mm/s": MILLI, "m/s": 1, "mm/min": MILLI / 60, "in/min": INCH / 60, "in/s": INCH, "ft/min": FOOT / 60,
        },
        "12 m/min", "400 in/min", also={"ipm": "in/min"}, offers={"sfm": "ft/min"},
    ),
    _kind(
        "accel", "an acceleration", "m/s2", {"m/s2": 1, "mm/s2": MILLI, "in/s2": INCH, "ft/s2": FOOT, "g": G}, "0.8 m/s2", "0.1 g"
    ),
    _kind(
        "turn-speed", "a turning speed", "rad/s", {"rpm": TURN / 60, "rad/s": 1, "rev/s": TURN}, "3 000 rpm", also={"RPM": "rpm", "1/min": "rpm"}
    ),
    _kind(
        "flow", "a volume per time", "m3/s",
        {
            "m3/h": Fraction(1, 3600), "m3/min": Fraction(1, 60), "m3/s": 1, "L/s": MILLI, "L/min": MILLI / 60, "cm3/min": MICRO / 60,
            "ft3/min": FOOT**3 / 60, "in3/min": INCH**3 / 60,
        },
        "200 m3/h", "120 ft3/min", also={"l/min": "L/min", "l/s": "L/s", "cfm": "ft3/min"},
    ),
    _kind("frequency", "a frequency", "Hz", {"Hz": 1, "kHz": 1000, "MHz": 10**6}, "100 kHz"),
    _kind("time", "a time", "s", {"s": 1, "ms": MILLI, "us": MICRO, "min": 60, "h": 3600}, "0.2 s", "30 min"),
    _kind(
        "lead", "a travel per turn", "m/rev", {"mm/rev": MILLI, "in/rev": INCH}, "10 mm", "1/2 in",
        also={"mm": "mm/rev", "in": "in/rev", "inch": "in/rev", '"': "in/rev"},
    ),
    _kind("voltage", "a voltage", "V", {"V": 1, "mV": MILLI, "kV": 1000}, "48 V"),
    _kind("current", "a current", "A", {"A": 1, "mA": MILLI}, "16 A"),
    _kind("power", "a power", "W", {"W": 1, "kW": 1000, "hp": 550 * LBF * FOOT}, "2.2 kW", "3 hp", also={"HP": "hp"}),
    _kind("resistance", "a resistance", "ohm", {"ohm": 1, "mohm": MILLI, "kohm": 1000}, "1.05 ohm"),
    _kind("inductance", "an inductance", "H", {"H": 1, "mH": MILLI, "uH": MICRO}, "3.2 mH"),
    _kind("capacitance", "a capacitance", "F", {"F": 1, "mF": MILLI, "uF": MICRO}, "470 uF"),
    Kind(
        "temperature", "a temperature", "K", {"°C": Fraction(1), "°F": FAHRENHEIT, "K": Fraction(1)}, ("20 °C", "68 °F"),
        also=DEGREES_ALSO, offsets={"°C": CELSIUS_ZERO, "°F": Fraction("459.67") * FAHRENHEIT},
    ),
    _kind("tempdiff", "a temperature difference", "K", {"K": 1, "°C": 1, "°F": FAHRENHEIT}, "30 K", "54 °F", also=DEGREES_ALSO),
    _kind(
        "expansion", "a thermal expansion", "1/K",
        {"1/K": 1, "um/m/K": MICRO, "ppm/K": MICRO, "uin/in/°F": MICRO / FAHRENHEIT}, "12e-6 1/K", "6.5 uin/in/°F",
        also={"um/m/°C": "um/m/K", "1/°C": "1/K", "uin/in/F": "uin/in/°F"},
    ),
    _kind(
        "straightness", "an error per length", "m/m",
        {
            "um/m": MICRO, "mm/m": MILLI, "um/300mm": MICRO / Fraction("0.3"), "mm/300mm": MILLI / Fraction("0.3"), "in/ft": Fraction(1, 12),
            "thou/ft": Fraction(1, 12000), "in/in": 1,
        },
        "0.05 mm/m", "0.001 in/ft",
    ),
    _kind("number", "a plain number", "", {"": 1, "%": Fraction(1, 100)}, "0.15", "15 %"),
    _kind("count", "a count", "", {"": 1}, "4"),
    _kind("money", "a sum of money", "money", {}, "118 EUR", "86 EUR/m", offers={"€": "EUR", "£": "GBP", "¥": "JPY"}),
)  # fmt: skip

SCALARS: dict[str, Kind] = {kind.name: kind for kind in _ALL}
"""Every kind whose value is one number."""

PER: dict[str, Fraction] = {
    "m": Fraction(1), "m2": Fraction(1), "kg": Fraction(1), "ft": FOOT, "in": INCH, "ft2": FOOT**2, "lb": POUND
}  # fmt: skip
"""What money may be counted by: per length, area or mass."""
MONEY_UNIT = re.compile(r"([A-Z]{3})(?:/(\w+))?$")


def about(kind: str) -> Kind:
    """The kind by its name; raises ``KeyError``."""
    return SCALARS[kind]


def bare(unit: str) -> str:
    """A unit without what people vary: blanks, hyphens and stars between its factors, the mark of a power."""
    return re.sub(r"[ *^-]", "", unit)


Factor = tuple[int, int, Fraction]
"""Numerator and denominator of the factor to SI, and the worth of the unit's zero."""


def _spellings(kind: Kind) -> dict[str, Factor]:
    names = {**{unit: unit for unit in kind.units}, **kind.also}
    found = {}
    for spelling, unit in names.items():
        factor = kind.units[unit]
        found[bare(spelling)] = (factor.numerator, factor.denominator, kind.offsets.get(unit, Fraction(0)))
    return found


FACTORS: dict[str, dict[str, Factor]] = {name: _spellings(kind) for name, kind in SCALARS.items()}
"""Every spelling of every unit by kind, as `bare` gives it."""


def factor_of(kind: str, unit: str) -> Factor | None:
    """Factor of a unit of a kind, None where the kind has no such unit."""
    if kind != "money":
        return FACTORS[kind].get(bare(unit))
    found = MONEY_UNIT.match(bare(unit))
    if found is None or (found[2] or "m") not in PER:
        return None
    per = PER[found[2] or "m"]
    return per.denominator, per.numerator, Fraction(0)


def kinds_with(unit: str) -> list[Kind]:
    """The kinds that know a unit."""
    return [kind for name, kind in SCALARS.items() if name != "count" and factor_of(name, unit) is not None]


def guess_kind(unit: str) -> str:
    """The kind of a unit where no key says it, the ordinary meaning first; empty where no kind has it."""
    found = kinds_with(unit)
    return found[0].name if found else ""


def currency_of(unit: str) -> str:
    """Currency code of a money unit: ``EUR`` of ``EUR/m``; empty where it is none."""
    found = MONEY_UNIT.match(bare(unit))
    return found[1] if found else ""
