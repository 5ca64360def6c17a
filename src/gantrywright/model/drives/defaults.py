"""Stiffness that a drive's parts are taken to have where neither row nor file says it."""

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any, Literal

import numpy as np

from gantrywright.base.spread import Spread
from gantrywright.base.units import Metre, NewtonPerMetre, Real

PER_MICROMETRE = 1e6


@cache
def _tables() -> Mapping[str, Any]:
    return tomllib.loads(files("gantrywright.data").joinpath("drive_defaults.toml").read_text("utf-8"))


def stiffness_band(what: Literal["ball_nut", "fixed_bearing", "plain_nut"], diameter: float) -> Spread:
    """Axial stiffness as installed, N/m, by the diameter of screw or bore: low, typical, high.

    Example:
        >>> stiffness_band("ball_nut", 0.016).typical
        120000000.0
    """
    table = _tables()[what]
    low, typical, high = (
        float(np.interp(diameter, table["diameter"], table[end])) * PER_MICROMETRE for end in ("low", "typical", "high")
    )
    return Spread(low, typical, high)


def usual_stiffness(what: Literal["ball_nut", "fixed_bearing", "plain_nut"], diameter: Metre) -> NewtonPerMetre:
    """The typical value of `stiffness_band`, elementwise."""
    table = _tables()[what]
    value: Real = np.interp(diameter, table["diameter"], table["typical"]) * PER_MICROMETRE
    return value


def stage_stiffness_band(kind: str) -> Spread:
    """Torsional stiffness of a belt stage or gearbox at its driven shaft, N m/rad: low, typical, high."""
    row = _tables()["stage"][kind]
    return Spread(row["low"], row["typical"], row["high"])
