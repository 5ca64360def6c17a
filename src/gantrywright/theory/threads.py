"""Metric screw threads: their diameters, their areas, and how deep a tapped hole must be for the screw to break first."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Metre, Newton, Number, Pascal, Real, SquareMetre

SHEAR_SHARE: float = 0.6
"""Shear strength of a tapped metal over its tensile strength; 0.5 to 0.7, common practice, no source."""

_RANGES = np.array([0.99, 1.4, 2.8, 5.6, 11.2, 22.4, 45.0, 90.0]) * 1e-3
"""Ranges of diameters that share one tolerance, m (ISO 965-1)."""
_R40 = np.array([
    100, 106, 112, 118, 125, 132, 140, 150, 160, 170, 180, 190, 200, 212, 224, 236, 250, 265, 280, 300, 315, 335, 355, 375, 400, 425, 450,
    475, 500, 530, 560, 600, 630, 670, 710, 750, 800, 850, 900, 950, 1000,
])  # fmt: skip
"""Preferred numbers that tolerances are rounded to (ISO 3)."""
FIVE_STEPS: float = 10 ** (5 / 40)
"""Five of their steps: the printed tolerance of a nut's pitch diameter over that of the screw's (the rule of 1.32, rounded)."""


@dataclass(frozen=True, slots=True)
class ScrewStrength:
    """What the steel of a screw stands."""

    tensile: float
    """Least tensile strength, Pa."""
    proof: float
    """Least 0.2 % proof strength, Pa."""


SCREW_CLASSES: Mapping[str, ScrewStrength] = {
    "4.6": ScrewStrength(400e6, 240e6),
    "4.8": ScrewStrength(420e6, 340e6),
    "5.6": ScrewStrength(500e6, 300e6),
    "5.8": ScrewStrength(520e6, 420e6),
    "6.8": ScrewStrength(600e6, 480e6),
    "8.8": ScrewStrength(800e6, 640e6),
    "10.9": ScrewStrength(1040e6, 940e6),
    "12.9": ScrewStrength(1220e6, 1100e6),
    "A2-50": ScrewStrength(500e6, 210e6),
    "A4-50": ScrewStrength(500e6, 210e6),
    "A2-70": ScrewStrength(700e6, 450e6),
    "A4-70": ScrewStrength(700e6, 450e6),
    "A2-80": ScrewStrength(800e6, 600e6),
    "A4-80": ScrewStrength(800e6, 600e6),
}
"""Strength classes up to M16: steel after iso-898-1, stainless after iso-3506-1, both from memory."""


@dataclass(frozen=True, slots=True)
class ThreadLimits:
    """Worst sizes of a screw 6g in a nut or tapped hole 6H: those that leave the least metal in shear."""

    least_outer: Metre
    """Of the screw."""
    least_pitch: Metre
    """Pitch diameter of the screw."""
    most_bore: Metre
    """Of the nut."""
    most_pitch: Metre
    """Pitch diameter of the nut."""


@formula("d_2 = d - 0.649519 P", source="iso-724")
def pitch_diameter(*, diameter: Metre, pitch: Metre) -> Metre:
    """Diameter at which thread and gap are equally wide.

    Args:
        diameter: Nominal.
        pitch: Of the thread.
    """
    return diameter - 0.649519 * pitch


@formula("d_3 = d - 1.226869 P", source="iso-724")
def core_diameter(*, diameter: Metre, pitch: Metre) -> Metre:
    """Diameter at the root of a screw's thread.

    Args:
        diameter: Nominal.
        pitch: Of the thread.
    """
    return diameter - 1.226869 * pitch


@formula("A_s = (pi/4) ((d_2 + d_3)/2)^2", source="iso-898-1")
def stress_area(*, diameter: Metre, pitch: Metre) -> SquareMetre:
    """Area that carries the tension of a screw.

    Args:
        diameter: Nominal.
        pitch: Of the thread.

    Example:
        >>> round(float(stress_area(diameter=0.008, pitch=0.00125)) * 1e6, 2)
        36.61
    """
    mean = (pitch_diameter(diameter=diameter, pitch=pitch) + core_diameter(diameter=diameter, pitch=pitch)) / 2
    return np.pi / 4 * np.square(mean)


@formula(
    "6g: es = -(15 + 11 P) um, T_d = 180 P^(2/3) - 3.15/sqrt(P), T_d2 = 90 P^0.4 d^0.1; 6H: T_D2 = 1.33 T_d2, T_D1 = 230 P^0.7",
    source="iso-965-1",
)
def thread_limits(*, diameter: Metre, pitch: Metre) -> ThreadLimits:
    """Worst sizes of a metric thread of the usual fit 6H/6g, from the rules that the tables of the standard were made with.

    Args:
        diameter: Nominal, 1 to 90 mm.
        pitch: Of the thread.

    Source:
        [iso-965-1] rules of the tolerances, P in mm; they give back the printed limits of M4 to M12 to the micrometre.
    """
    p = np.asarray(pitch) * 1e3
    number = np.clip(np.digitize(np.asarray(diameter), _RANGES), 1, len(_RANGES) - 1)
    middle = np.sqrt(_RANGES[number - 1] * _RANGES[number]) * 1e3
    play = 2 * np.floor((15 + 11 * p) / 2 + 0.5) * 1e-6
    outer = _rounded(180 * p ** (2 / 3) - 3.15 / np.sqrt(p))
    flank = _rounded(90 * p**0.4 * middle**0.1)
    bore = _rounded(np.where(p < 1, 433 * p - 190 * p**1.22, 230 * p**0.7))
    middle_line = pitch_diameter(diameter=diameter, pitch=pitch)
    return ThreadLimits(
        least_outer=diameter - play - outer,
        least_pitch=middle_line - play - flank,
        most_bore=diameter - 1.082532 * pitch + bore,
        most_pitch=middle_line + _rounded(FIVE_STEPS * flank * 1e6),
    )


@formula("A_int/L = (pi/P) d_min (P/2 + 0.57735 (d_min - D_2max))", source="fed-std-h28")
def tapped_shear_area(*, diameter: Metre, pitch: Metre) -> Metre:
    """Area of the tapped thread that must shear before the screw pulls out, per length of engagement (m2/m).

    Args:
        diameter: Nominal.
        pitch: Of the thread.
    """
    limits = thread_limits(diameter=diameter, pitch=pitch)
    return np.pi / pitch * limits.least_outer * (pitch / 2 + 0.57735 * (limits.least_outer - limits.most_pitch))


@formula("A_ext/L = (pi/P) D_1max (P/2 + 0.57735 (d_2min - D_1max))", source="fed-std-h28")
def screw_shear_area(*, diameter: Metre, pitch: Metre) -> Metre:
    """Area of the screw's thread that must shear before it pulls out of a harder nut, per length of engagement (m2/m).

    Args:
        diameter: Nominal.
        pitch: Of the thread.
    """
    limits = thread_limits(diameter=diameter, pitch=pitch)
    return np.pi / pitch * limits.most_bore * (pitch / 2 + 0.57735 * (limits.least_pitch - limits.most_bore))


@formula("L_e = A_s R_m/(0.6 R_m,tapped A_int/L)", source="fed-std-h28")
def engagement_needed(
    *, diameter: Metre, pitch: Metre, screw_strength: Pascal, tapped_strength: Pascal, shear_share: Number = SHEAR_SHARE
) -> Metre:
    """Length of full thread at which the screw breaks before the tapped hole strips; the run-in of about a pitch comes on top.

    Args:
        diameter: Nominal.
        pitch: Of the thread.
        screw_strength: Tensile, of the screw.
        tapped_strength: Tensile, of the part that is tapped.
        shear_share: Shear over tensile strength of that part.

    Example:
        >>> length = engagement_needed(diameter=0.008, pitch=0.00125, screw_strength=800e6, tapped_strength=310e6)
        >>> round(float(length) * 1e3, 2)
        9.36
    """
    breaking = stress_area(diameter=diameter, pitch=pitch) * screw_strength
    return breaking / (shear_share * tapped_strength * tapped_shear_area(diameter=diameter, pitch=pitch))


@formula("F = 0.6 R_m,tapped A_int/L (L_e - P)", source="fed-std-h28")
def strip_force(
    *, diameter: Metre, pitch: Metre, engagement: Metre, tapped_strength: Pascal, shear_share: Number = SHEAR_SHARE
) -> Newton:
    """Tension at which a tapped hole strips.

    Args:
        diameter: Nominal.
        pitch: Of the thread; a run-in of one pitch is taken not to hold.
        engagement: Length of thread that is screwed in.
        tapped_strength: Tensile, of the part that is tapped.
        shear_share: Shear over tensile strength of that part.
    """
    held = np.maximum(engagement - pitch, 0.0)
    return shear_share * tapped_strength * tapped_shear_area(diameter=diameter, pitch=pitch) * held


def _rounded(micrometres: Real) -> Real:
    """The nearest preferred number, in metres."""
    decade = 10.0 ** np.floor(np.log10(micrometres) - 2)
    steps = _R40[:-1] + np.diff(_R40) / 2
    found: Real = _R40[np.digitize(np.asarray(micrometres) / decade, steps)] * decade * 1e-6
    return found
