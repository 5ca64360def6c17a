"""Unit aliases that stand in every signature of the house.

A number is `Real`: one value, or an array with one value a sample. All arithmetic is elementwise, so the same code gives the
typical answer (a float) and the spread of answers (an array of shape ``(n_samples,)``). Which of the two a value is, follows from
its inputs alone. An array with an axis of another meaning (positions, poses, speeds) is declared `Array` and states its shape.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated, Any, TypeAlias

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array: TypeAlias = NDArray[np.float64]
else:  # reading files and tables must not wait for numpy to load; at run time the alias only carries its unit
    Array = Any
Real: TypeAlias = float | Array


@dataclass(frozen=True, slots=True)
class Unit:
    """The SI unit that a number of the house is kept in."""

    symbol: str


NONE = Unit("")

Number: TypeAlias = Annotated[Real, Unit("")]
Metre: TypeAlias = Annotated[Real, Unit("m")]
SquareMetre: TypeAlias = Annotated[Real, Unit("m2")]
CubicMetrePerSecond: TypeAlias = Annotated[Real, Unit("m3/s")]
FourthMetre: TypeAlias = Annotated[Real, Unit("m4")]
MetrePerTurn: TypeAlias = Annotated[Real, Unit("m/rev")]
MetrePerMetre: TypeAlias = Annotated[Real, Unit("m/m")]
Radian: TypeAlias = Annotated[Real, Unit("rad")]
RadianPerSecond: TypeAlias = Annotated[Real, Unit("rad/s")]
RadianPerSecondSquared: TypeAlias = Annotated[Real, Unit("rad/s2")]
MetrePerSecond: TypeAlias = Annotated[Real, Unit("m/s")]
MetrePerSecondSquared: TypeAlias = Annotated[Real, Unit("m/s2")]
Second: TypeAlias = Annotated[Real, Unit("s")]
Hertz: TypeAlias = Annotated[Real, Unit("Hz")]
Kilogram: TypeAlias = Annotated[Real, Unit("kg")]
KilogramPerMetre: TypeAlias = Annotated[Real, Unit("kg/m")]
KilogramPerCubicMetre: TypeAlias = Annotated[Real, Unit("kg/m3")]
KilogramPerSecond: TypeAlias = Annotated[Real, Unit("kg/s")]
KilogramSquareMetre: TypeAlias = Annotated[Real, Unit("kg m2")]
Newton: TypeAlias = Annotated[Real, Unit("N")]
NewtonMetre: TypeAlias = Annotated[Real, Unit("N m")]
NewtonPerMetre: TypeAlias = Annotated[Real, Unit("N/m")]
NewtonMetrePerRadian: TypeAlias = Annotated[Real, Unit("N m/rad")]
NewtonMetreSecond: TypeAlias = Annotated[Real, Unit("N m s")]
NewtonSquareMetre: TypeAlias = Annotated[Real, Unit("N m2")]
MetrePerNewton: TypeAlias = Annotated[Real, Unit("m/N")]
Pascal: TypeAlias = Annotated[Real, Unit("Pa")]
PascalSecond: TypeAlias = Annotated[Real, Unit("Pa s")]
PascalPerMetre: TypeAlias = Annotated[Real, Unit("Pa/m")]
PascalMetrePerSecond: TypeAlias = Annotated[Real, Unit("Pa m/s")]
Joule: TypeAlias = Annotated[Real, Unit("J")]
Watt: TypeAlias = Annotated[Real, Unit("W")]
Volt: TypeAlias = Annotated[Real, Unit("V")]
Ampere: TypeAlias = Annotated[Real, Unit("A")]
Ohm: TypeAlias = Annotated[Real, Unit("ohm")]
Henry: TypeAlias = Annotated[Real, Unit("H")]
Farad: TypeAlias = Annotated[Real, Unit("F")]
Weber: TypeAlias = Annotated[Real, Unit("Wb")]
NewtonMetrePerAmpere: TypeAlias = Annotated[Real, Unit("N m/A")]
Kelvin: TypeAlias = Annotated[Real, Unit("K")]
PerKelvin: TypeAlias = Annotated[Real, Unit("1/K")]
MillionTurns: TypeAlias = Annotated[Real, Unit("Mrev")]
Money: TypeAlias = Annotated[Real, Unit("money")]
Flag: TypeAlias = Annotated[Any, Unit("flag")]

GRAVITY = 9.80665
"""Standard acceleration of free fall, m/s2 (ISO 80000-3)."""
