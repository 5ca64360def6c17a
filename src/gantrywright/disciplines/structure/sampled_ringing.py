"""How a sampled machine rings: modes of every sample from the shapes of the typical one, the band of the tip's answer, its stops."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from gantrywright.base.units import Array
from gantrywright.disciplines.structure.dynamics import HIGHEST, LEAST_LOSS, LONGEST, LOWEST, losses, write_down
from gantrywright.disciplines.structure.stops import Stop, stops
from gantrywright.model.machine import Machine
from gantrywright.results.ledger import Ledger
from gantrywright.results.motion import MotionResult
from gantrywright.results.structure import LETTERS, Mode, RingBasis, TipResponse
from gantrywright.theory.frames.frame import Numbers
from gantrywright.theory.frames.mesh import Mesher
from gantrywright.theory.frames.modes import damping_ratio, sampled_frequencies
from gantrywright.theory.frames.response import own_receptance
from gantrywright.theory.frames.sampled_modes import Parts, SampledModes, parts_of, ritz_shapes, sampled_modes

KEPT = 13
"""Typical modes that the shapes of every sample start from: the lowest, and those that move the tool most."""
FIRST = 10
"""The lowest are kept whatever they do to the tool."""
SHAPES = 26
"""Shapes that the modes of every sample are made of: the lowest then lie within about 1 % of the exact ones."""
WIDE_KEPT, WIDE_SHAPES = 48, 62
"""The same for the tip's answer up to its highest frequency, which takes more of them."""
FEW = 48
"""Samples, evenly taken out of all, that the band of the tip's answer is told from."""
LOOKS = 120
"""Frequencies at which that band is worked out."""
HELD = 0.003
"""Modes that hold less of the tip's give than this in every sample are left to the static rest of its answer."""
ABOVE = 1.25 * HIGHEST
"""Modes above this are left to the static rest as well."""
TINY = 1e-6
"""Stands for the squared frequency of what moves freely, 1/s2."""
POINTS = (0.05, 0.5, 0.95)
"""Of the band."""


@dataclass(frozen=True, slots=True)
class Followed:
    """The typical modes that the shapes start from, in every sample."""

    numbers: Numbers
    """Among all typical ones."""
    squares: Array
    """1/s2, shape (samples, p)."""
    at_tip: Array
    """Shape (samples, 3, p)."""
    stirred: Mapping[str, Array]
    """By axis: momentum that moves each mode, shape (samples, p)."""
    damping: Array
    """Shape (samples, p)."""


def rung_samples(
    basis: RingBasis, machine: Machine, mesher: Mesher, give: Array, motion: MotionResult, response: TipResponse | None, ledger: Ledger
) -> tuple[tuple[Mode, ...], dict[str, Stop], TipResponse | None]:  # fmt: skip
    """Modes, stops and the band of the tip's answer of a sampled machine.

    A mode is followed by the likeness of its shape. Those that matter neither to the tool nor are among the lowest keep their shapes:
    their frequencies are right to first order. Masses are typical.

    Args:
        basis: Of the typical machine.
        machine: The same machine with samples.
        mesher: Of its skeleton.
        give: Static give at the pose of the basis, shape (..., 6, 6).
        motion: What each axis promises, sampled.
        response: Of the typical machine.
        ledger: Of the sampled study.
    """
    skeleton = mesher.skeleton
    mesh = mesher.at(basis.pose, longest=LONGEST)
    coefficients, lost = mesh.frame.coefficients, losses(skeleton, mesh)
    lead = np.broadcast_shapes(coefficients.shape[:-1], lost.shape[:-1])
    if not lead:
        frequencies, damping = (np.array([getattr(mode, word) for mode in basis.modes]) for word in ("frequency", "damping"))
        return basis.modes, stops(machine, motion, basis.modes, basis.swings, frequencies, damping, ledger), response
    coefficients = np.broadcast_to(coefficients, (*lead, coefficients.shape[-1]))
    static = np.broadcast_to(np.diagonal(give[..., :3, :3], axis1=-2, axis2=-1), (*lead, 3))
    parts = parts_of(basis.coefficients, coefficients, lost)
    kept = _kept(basis, static)
    space = _space(basis, kept, static, parts, SHAPES)
    found = sampled_modes(basis.prepared, space, parts)
    followed = _followed(basis, kept, found, space)
    ones, swings, frequencies, damping = _told(basis, followed, static, *_first_order(basis, parts))
    write_down(ones, ledger)
    banded = None if response is None else _banded(basis, response, static, parts, ledger)
    return ones, stops(machine, motion, ones, swings, frequencies, damping, ledger), banded


def _space(basis: RingBasis, kept: Numbers, static: Array, parts: Parts, wanted: int) -> Array:
    """Shapes that the modes of every sample are made of, shape (6 n, m)."""
    whole = basis.whole
    loads = basis.load / np.sqrt(np.median(static, axis=0))
    return ritz_shapes(
        basis.prepared, basis.coefficients, basis.mass, whole.shapes[:, kept], whole.squares[kept], loads, parts, wanted=wanted
    )


def _kept(basis: RingBasis, static: Array) -> Numbers:
    """Numbers of the typical modes that are followed: the lowest, and those that move the tool most when it cuts or an axis stops."""
    worth = _holds(basis, static)
    for swing in basis.swings.values():
        size = np.abs(swing)
        worth[basis.told] += (size / np.maximum(size.sum(axis=-1).max(), 1e-30)).max(axis=0)
    worth[basis.told[:FIRST]] += 10.0
    worth[basis.whole.frequencies > ABOVE] = 0.0
    return _most(worth, KEPT)


def _holds(basis: RingBasis, static: Array) -> Array:
    """What each typical mode within the frequencies that are looked at holds of the tip's give, greatest direction; shape (w,)."""
    squares = basis.whole.squares
    give = (basis.load.T @ basis.whole.shapes) ** 2 / np.where(squares > 0, squares, np.inf)
    holds: Array = (give / np.median(static, axis=0)[:, None]).max(axis=0)
    return np.where(basis.whole.frequencies < ABOVE, holds, 0.0)


def _most(worth: Array, count: int) -> Numbers:
    """Numbers of the greatest, ascending; none of no worth."""
    chosen = np.argsort(-worth, kind="stable")[:count]
    return np.sort(chosen[worth[chosen] > 0])


def _followed(basis: RingBasis, kept: Numbers, found: SampledModes, space: Array) -> Followed:
    """What the modes that are most like the kept ones do."""
    like = found.like(len(kept))
    at_tip, damping = found.moved(basis.load.T @ space), damping_ratio(loss=np.maximum(found.loss, LEAST_LOSS))
    stirred = {
        name: np.take_along_axis(found.moved((momentum @ space)[None])[:, 0], like, axis=1)
        for name, momentum in basis.momenta.items()
    }
    return Followed(
        kept, np.take_along_axis(found.squares, like, axis=1), np.take_along_axis(at_tip, like[:, None, :], axis=2), stirred,
        np.take_along_axis(np.asarray(damping), like, axis=1),
    )  # fmt: skip


def _first_order(basis: RingBasis, parts: Parts) -> tuple[Array, Array]:
    """Frequencies and damping of all told modes where shapes stay, shape (samples, m)."""
    shares = np.zeros((parts.ratios.shape[1], basis.shares.shape[1]))
    np.add.at(shares, parts.group, basis.shares)
    own = basis.whole.frequencies[basis.told]
    frequencies = np.asarray(sampled_frequencies(frequency=own, shares=shares, ratios=parts.ratios))
    held, lost = parts.ratios @ shares, (parts.ratios * parts.losses) @ shares
    loss = lost / np.where(held > 0, held, 1.0)
    return frequencies, np.asarray(damping_ratio(loss=np.maximum(loss, LEAST_LOSS)))


def _told(
    basis: RingBasis, followed: Followed, static: Array, frequencies: Array, damping: Array
) -> tuple[tuple[Mode, ...], dict[str, Array], Array, Array]:
    """All told modes with what was found of the followed ones: modes, swings by axis, frequencies, damping."""
    softer = (basis.whole.frequencies[basis.told] / np.where(frequencies > 0, frequencies, np.inf))[..., None, :] ** 2
    swings = {name: swing * softer for name, swing in basis.swings.items()}
    held = np.tile(np.array([mode.tip_share for mode in basis.modes]).T, (len(static), 1, 1))
    at = {int(number): place for place, number in enumerate(basis.told)}
    both = [(k, at[int(number)]) for k, number in enumerate(followed.numbers) if int(number) in at]
    ours, places = (np.array(side, dtype=np.intp) for side in zip(*both, strict=True))
    squares = followed.squares[:, ours]
    safe = np.where(squares > 0, squares, np.inf)
    frequencies[:, places], damping[:, places] = np.sqrt(squares) / (2 * np.pi), followed.damping[:, ours]
    tip = followed.at_tip[:, :, ours]
    held[:, :, places] = tip**2 / safe[:, None, :] / static[:, :, None]
    for name, swing in swings.items():
        swing[:, :, places] = -tip * (followed.stirred[name][:, ours] / safe)[:, None, :]
    ones = tuple(
        replace(mode, frequency=frequencies[:, k], damping=damping[:, k], tip_share=(held[:, 0, k], held[:, 1, k], held[:, 2, k]))
        for k, mode in enumerate(basis.modes)
    )
    return ones, swings, frequencies, damping


def _banded(basis: RingBasis, response: TipResponse, static: Array, parts: Parts, ledger: Ledger) -> TipResponse:
    """The typical answer with the band of its size, and the peaks of the samples written down."""
    few = np.unique(np.linspace(0, len(static) - 1, FEW).round().astype(np.intp))
    static, parts = static[few], replace(parts, ratios=parts.ratios[few], losses=parts.losses[few])
    space = _space(basis, _most(_holds(basis, static), WIDE_KEPT), static, parts, WIDE_SHAPES)
    found = sampled_modes(basis.prepared, space, parts)
    at_tip, damping = found.moved(basis.load.T @ space), np.asarray(damping_ratio(loss=np.maximum(found.loss, LEAST_LOSS)))
    held = (at_tip**2 / np.where(found.squares > 0, found.squares, np.inf)[:, None] / static[..., None]).max(axis=(0, 1)) > HELD
    known = {
        "squares": np.maximum(found.squares[:, held], TINY),
        "at_tip": at_tip[..., held],
        "damping": damping[:, held],
        "static": static,
    }
    looked = np.geomspace(LOWEST, HIGHEST, LOOKS)
    size = np.abs(own_receptance(frequencies=looked, **known))
    own, ratio = np.sqrt(known["squares"]) / (2 * np.pi), known["damping"]
    near = np.concatenate((own * np.sqrt(np.maximum(1 - 2 * ratio**2, 0.0)), own * np.sqrt(1 + 2 * ratio)), axis=1)
    peaks = np.asarray(own_receptance(frequencies=np.clip(near, LOWEST, HIGHEST), **known))
    most, least = np.maximum(np.abs(peaks).max(axis=1), size.max(axis=1)), np.minimum(peaks.real.min(axis=1), 0.0)
    for k, letter in enumerate(LETTERS):
        for name, values, formula in (("peak", most, "max |H|"), ("lowest_real", least, "min Re H")):
            ledger.note(f"structure.tip.{name}_{letter}", values[:, k], unit="m/N", source="derived", formula=formula)
    return replace(response, band_frequencies=looked, band=np.quantile(size, POINTS, axis=0))
