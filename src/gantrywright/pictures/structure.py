"""The structure: what gives where, by which part, and how it rings."""

from collections.abc import Iterable

import numpy as np

from gantrywright.base.quantities import show
from gantrywright.base.samples import typical
from gantrywright.base.units import Array
from gantrywright.pictures.picture import DASHES, Bar, Dimension, Field, Key, Mark, Picture, Series
from gantrywright.pictures.scaling import Unit
from gantrywright.results.structure import Share, StiffnessGrid
from gantrywright.study.study import Study

LEAST = 0.005
"""Shares below this are told together."""
FREE = " Places that are left free are not over the table."
NOTHING = "There is no structure to look at: {}."


def shares(study: Study) -> Picture:
    """What each part holds of the give at the softest place."""
    tip = study.results.structure.worst
    title, words = (
        "What gives at the tool",
        "Share of the give between tool and work that each part holds, at the softest place, in the softest direction.",
    )
    if tip is None:
        return Picture("shares", title, _lacking(study), "bars")
    parts, held = tip.soft_parts(), _chosen(tip.shares)
    told = [Bar(part, 100 * share, f"{100 * share:.1f} %", held[part]) for part, share in parts if share >= LEAST]
    rest = sum(share for _, share in parts if share < LEAST)
    if rest > 0:
        told.append(Bar("all others together", 100 * rest, f"{100 * rest:.1f} %"))
    key = (Key("stiffness in the softest direction", show(typical(tip.least), "N/m", study.machine.show)),)
    return Picture("shares", title, words, "bars", key, y=Dimension("share of the give", "%"), bars=tuple(told))


def _chosen(shares: Iterable[Share]) -> dict[str, str]:
    """Path that is chosen for each group of parts: of a joint its first part, of blocks the softest one."""
    found: dict[str, str] = {}
    for share in shares:
        if share.group not in found:
            path = share.part if share.kind == "block" else share.group
            found[share.group] = path.partition(" + ")[0].partition(" (")[0]
    return found


def stiffness_map(study: Study) -> Picture:
    """Stiffness in the softest direction over the table, at the height where it is softest."""
    grid, title, system = study.results.structure.grid, "Stiffness at the tool over the table", study.machine.show
    names = [axis.name for axis in study.machine.axes if axis.rise < 0.5][:2]
    if grid is None or len(names) < 2 or any(name not in grid.axes for name in names):
        return Picture("stiffness-map", title, _lacking(study), "map")
    softest = _softest(grid, names)
    known = softest[np.isfinite(softest)]
    if not known.size:
        return Picture("stiffness-map", title, "No place of the tool lies over the table.", "map")
    per, far = Unit.of("N/m", float(np.median(known)), system), Unit.of("m", study.machine.axis(names[0]).travel, system)
    xs, ys = (tuple(far.all(grid.places[grid.axes.index(name)])) for name in names)
    i, j = np.unravel_index(int(np.argmin(softest)), softest.shape)
    weak = f"{show(float(softest[i, j]), 'N/m', system)} at {names[0].upper()} {xs[i]:.4g} {far.name}, {names[1].upper()} {ys[j]:.4g} {far.name}"
    most = show(float(known.max()), "N/m", system)
    words = (
        "Stiffness in the softest direction at each place of the table, at the height where it is softest: "
        f"softest {weak}, stiffest {most}.{'' if known.size == softest.size else FREE}"
    )
    values = tuple(tuple(per(v) if np.isfinite(v) else None for v in row) for row in softest.T)
    field = Field(xs, ys, values, per.name, Mark(xs[i], ys[j], f"softest {weak}"), tuple(names), far.factor, per.factor)
    across, up = (Dimension(f"{name.upper()} from its zero", far.name, si=far.factor) for name in names)
    return Picture("stiffness-map", title, words, "map", (Key("softest", weak), Key("stiffest", most)), across, up, map=field)


def _softest(grid: StiffnessGrid, names: list[str]) -> Array:
    """Stiffness in the softest direction over two axes, the least over all others, N/m; endless where the tool is not over the table."""
    stiffness = np.where(grid.over, 1 / np.linalg.eigvalsh(grid.give)[..., -1], np.inf)
    order = [grid.axes.index(name) for name in names]
    rest = tuple(k for k in range(stiffness.ndim) if k not in order)
    least: Array = stiffness.min(axis=rest)
    return least if order[0] < order[1] else least.T


def modes(study: Study) -> Picture:
    """The natural modes that the tool feels."""
    structure = study.results.structure
    columns = ("mode", "frequency", "what it is", "damping", "of the give, X Y Z", "held by")
    rows = tuple(
        (
            str(mode.number), show(typical(mode.frequency), "Hz", study.machine.show), mode.name, f"{100 * typical(mode.damping):.1f} %",
            " ".join(f"{100 * typical(share):.0f}" for share in mode.tip_share) + " %",
            ", ".join(f"{part} {100 * share:.0f} %" for part, share in mode.strain[:2]),
        )
        for mode in structure.modes[:12]
    )  # fmt: skip
    shares = [f"share of the give along {letter} [%]" for letter in "XYZ"]
    heads = ("mode", "frequency [Hz]", "what it is", "damping [%]", *shares, "held by")
    numbers: tuple[tuple[str | float, ...], ...] = tuple(
        (
            float(mode.number), typical(mode.frequency), mode.name, 100 * typical(mode.damping),
            *(100 * typical(share) for share in mode.tip_share), row[-1],
        )
        for mode, row in zip(structure.modes, rows, strict=False)
    )  # fmt: skip
    words = "Natural modes where the machine is softest, with what each holds of the give at the tool and the parts that hold its strain."
    return Picture(
        "modes",
        "How the machine rings",
        words if rows else _lacking(study),
        "table",
        columns=columns,
        rows=rows,
        heads=heads,
        numbers=numbers,
    )


def receptance(study: Study) -> Picture:
    """What the tool answers to a force that swings."""
    found, title = study.results.structure.response, "Answer of the tool to a force that swings"
    if found is None:
        return Picture("receptance", title, _lacking(study), "lines")
    unit = Unit.of("m/N", 1e-6, study.machine.show)
    size = np.abs(np.asarray(found.receptance))
    series = []
    for k, letter in enumerate("XYZ"):
        points = tuple((float(f), unit(v)) for f, v in zip(found.frequencies, size[:, k], strict=True))
        band: tuple[tuple[float, float, float], ...] = ()
        if found.band is not None and found.band_frequencies is not None:
            low, high = found.band[0][:, k], found.band[-1][:, k]
            band = tuple((float(f), unit(a), unit(b)) for f, a, b in zip(found.band_frequencies, low, high, strict=True))
        series.append(Series(letter, points, DASHES[k], band))
    marks = tuple(
        Mark(float(at), unit(float(typical(peak))), f"{letter} {show(float(at), 'Hz')}")
        for letter, at, peak in zip("XYZ", found.peak_at, found.peak, strict=True)
    )  # fmt: skip
    key = tuple(
        Key(f"largest along {letter}", f"{show(float(typical(peak)), 'm/N', study.machine.show)} at {show(float(at), 'Hz')}")
        for letter, at, peak in zip("XYZ", found.peak_at, found.peak, strict=True)
    )  # fmt: skip
    words = "Motion of the tool against the work per newton that swings, along X, Y and Z, where the machine is softest; the band is from 5 % to 95 % of what the inputs allow."
    return Picture("receptance", title, words, "lines", key, Dimension("frequency", "Hz", log=True), Dimension("motion per force", unit.name, log=True, si=unit.factor), tuple(series), marks)  # fmt: skip


def _lacking(study: Study) -> str:
    structure = study.results.structure
    return NOTHING.format("; ".join((*structure.broken, *structure.lacking)) or "it is still being worked out")
