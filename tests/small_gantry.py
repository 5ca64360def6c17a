"""A small steel portal with an arm and a ram, as a frame: the common subject of the tests of frames and of their counterparts."""

import itertools

import numpy as np

from gantrywright.theory.frames.bars import natural_coefficients, shear_parameter
from gantrywright.theory.frames.frame import Bars, Frame, Lumps, Springs

E, G, RHO = 205e9, 205e9 / 2.6, 7850.0
NODES = np.array([(0, 0, 0), (0, 0, 0.5), (0.5, 0, 0.5), (1, 0, 0.5), (1, 0, 0), (0.5, -0.15, 0.5), (0.5, -0.15, 0.2),
                  (0, -0.08, 0), (0, 0.08, 0), (1, -0.08, 0), (1, 0.08, 0)], dtype=float)  # fmt: skip
X, Y, Z = np.eye(3)
MEMBERS = {
    "uprights": ([(0, 1), (3, 4)], 0.050, 0.120, Y),
    "beam": ([(1, 2), (2, 3)], 0.080, 0.160, Z),
    "arm": ([(2, 5)], 0.100, 0.100, Z),
    "ram": ([(5, 6)], 0.060, 0.060, Y),
    "foot bars": ([(7, 0), (0, 8), (9, 4), (4, 10)], 0.060, 0.060, Z),
}
"""Ends, width along z, depth along y, reference for y."""
FEET = (7, 8, 9, 10)
FOOT = (2e7, 2.5e7, 5e7)
TIP = 6


def rectangle(width: float, depth: float, *, e: float = E, g: float = G) -> dict[str, float]:
    """Stiffness of a solid rectangle; depth along the height axis."""
    long, short = max(width, depth), min(width, depth)
    torsion = long * short**3 * (1 / 3 - 0.21 * short / long * (1 - short**4 / (12 * long**4)))
    area = width * depth
    return {
        "axial": e * area,
        "torsion": g * torsion,
        "bend_height": e * width * depth**3 / 12,
        "bend_width": e * depth * width**3 / 12,
        "shear_height": g * area * 5 / 6,
        "shear_width": g * area * 5 / 6,
    }


def axes_of(start: np.ndarray, stop: np.ndarray, reference: np.ndarray) -> np.ndarray:
    along = (stop - start) / np.linalg.norm(stop - start)
    height = reference - (reference @ along) * along
    height /= np.linalg.norm(height)
    return np.array([along, height, np.cross(along, height)])


def bars_of(nodes, ends, sections, references, *, mass=None, rotary=None, shear=True, arms=None) -> Bars:
    """Bars from plain lists; sections as `rectangle` gives them."""
    ends = np.array(ends, dtype=np.intp).reshape(-1, 2)
    arms = np.zeros((len(ends), 2, 3)) if arms is None else np.array(arms, dtype=float)
    points = nodes[ends] + arms
    length = np.linalg.norm(points[:, 1] - points[:, 0], axis=1)
    own = {key: np.array([section[key] for section in sections]) for key in sections[0]}
    if not shear:
        own["shear_height"] = own["shear_width"] = np.full(len(ends), np.inf)
    softness = [shear_parameter(bending=own[f"bend_{p}"], shear=own[f"shear_{p}"], length=length) for p in ("height", "width")]
    return Bars(
        ends=ends,
        arms=arms,
        axes=np.array([axes_of(a, b, np.array(r, dtype=float)) for (a, b), r in zip(points, references, strict=True)]),
        length=length,
        stiffness=natural_coefficients(length=length, **own),
        bending=np.stack([3 * own["bend_height"] / length, 3 * own["bend_width"] / length], axis=-1),
        mass=np.zeros(len(ends)) if mass is None else np.array(mass),
        rotary=np.zeros((len(ends), 2)) if rotary is None else np.array(rotary),
        shear=np.stack(softness, axis=-1),
    )


def springs_of(ends, stiffness, *, arms=None, axes=None) -> Springs:
    ends = np.array(ends, dtype=np.intp).reshape(-1, 2)
    count = len(ends)
    return Springs(
        ends=ends,
        arms=np.zeros((count, 2, 3)) if arms is None else np.array(arms, dtype=float),
        axes=np.broadcast_to(np.eye(3), (count, 3, 3)) if axes is None else np.array(axes),
        stiffness=np.array(stiffness, dtype=float).reshape(count, 6),
    )


def no_lumps() -> Lumps:
    return Lumps(np.zeros(0, dtype=np.intp), np.zeros((0, 3)), np.zeros(0), np.zeros((0, 3, 3)))


def held(nodes: list[int], *, how: tuple[float, ...] = (1e30,) * 6) -> Springs:
    """Stand-in for a fixed support: so stiff that its own give is below rounding."""
    return springs_of([(-1, node) for node in nodes], [how] * len(nodes))


def small_gantry(*, shear: bool = True, parts: int = 1, lump: bool = False) -> Frame:
    """The whole portal on its four feet; members cut into equal parts."""
    nodes, ends, sections, references, mass, rotary = [*NODES], [], [], [], [], []
    for pairs, width, depth, reference in MEMBERS.values():
        own = rectangle(width, depth)
        for first, last in pairs:
            chain = [first]
            for k in range(1, parts):
                nodes.append(NODES[first] + (NODES[last] - NODES[first]) * k / parts)
                chain.append(len(nodes) - 1)
            chain.append(last)
            ends += list(itertools.pairwise(chain))
            sections += [own] * parts
            references += [reference] * parts
            mass += [RHO * width * depth] * parts
            rotary += [(RHO * width * depth**3 / 12, RHO * depth * width**3 / 12)] * parts
    places = np.array(nodes)
    bars = bars_of(places, ends, sections, references, mass=mass, rotary=rotary, shear=shear)
    springs = springs_of([(-1, node) for node in FEET], [(*FOOT, 0, 0, 0)] * 4)
    lumps = Lumps(np.array([TIP]), np.zeros((1, 3)), np.array([8.0]), 0.02 * np.eye(3)[None]) if lump else no_lumps()
    return Frame(places, bars, springs, lumps)


def members(parts: int = 1) -> list[str]:
    """Name of the member of every bar of `small_gantry`."""
    return [name for name, (pairs, *_) in MEMBERS.items() for _ in range(len(pairs) * parts)]
