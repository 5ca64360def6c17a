"""A cut worked out by brute force: slices, teeth and angles one by one, every tooth meeting the surface that the ones before it left.

Shares no code with the theory: chips come from a remembered surface, forces are vectors along velocity, normal and meridian of each slice.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

ANGLES = 2160
"""Of a turn; divisible by 1 to 6 teeth."""


@dataclass(frozen=True)
class Slice:
    height: float
    lag: float
    """Angle behind the tip, rad."""
    radius: float
    start: float
    stop: float
    normal_out: float = 1.0
    """Of the outward normal, along the radius; the rest of it points to the tip."""
    hand: float = 1.0


@dataclass(frozen=True)
class Material:
    """Tangential, radial, axial: shear and edge."""

    shear: tuple[float, float, float]
    edge: tuple[float, float, float]


def chips(flutes: int, feed: float, run_out: float, run_out_angle: float) -> np.ndarray:
    """Chip of every tooth at every angle, from a surface that is remembered in the cutter's own axes; (teeth, angles)."""
    phi = 2 * np.pi / ANGLES * np.arange(ANGLES)
    surface = np.full(ANGLES, -1.0)  # over the nominal circle; the work reaches far in
    found = np.zeros((flutes, ANGLES))
    for _ in range(6):
        for tooth in range(flutes):
            radius = run_out * np.cos(run_out_angle + 2 * np.pi * tooth / flutes)
            surface = surface - feed * np.sin(phi)  # the cutter has moved on
            found[tooth] = np.maximum(radius - surface, 0.0)
            surface = np.maximum(surface, radius)
    return found


def traces(
    slices: list[Slice], flutes: int, feed: float, material: Callable[[float], Material], run_out: float = 0.0,
    run_out_angle: float = 0.0,
) -> np.ndarray:  # fmt: skip
    """Along the feed, across, towards the work, torque at each of `ANGLES` angles; (4, angles)."""
    table = chips(flutes, feed, run_out, run_out_angle)
    step = 2 * np.pi / ANGLES
    phi = step * np.arange(ANGLES)
    velocity, outward = np.array([np.cos(phi), -np.sin(phi)]), np.array([np.sin(phi), np.cos(phi)])
    all_materials = [material(angle) for angle in phi]
    shear, edge = np.array([m.shear for m in all_materials]).T, np.array([m.edge for m in all_materials]).T
    total = np.zeros((4, ANGLES))
    for part in slices:
        down = np.sqrt(1 - part.normal_out**2)
        inside = (phi >= part.start) & (phi <= part.stop) & (part.start < part.stop)
        for tooth in range(flutes):
            chip = table[tooth]
            cuts = inside & (chip > 0)
            wide = part.height / part.normal_out
            tangential, radial, axial = ((k * chip * part.normal_out + e) * wide * cuts for k, e in zip(shear, edge, strict=True))
            axial = axial * part.hand
            # on the tool: against the velocity, along the inward normal, along the meridian that runs down and in
            plane = -tangential * velocity - (radial * part.normal_out + axial * down) * outward
            towards = axial * part.normal_out - radial * down
            trace = np.vstack([plane, towards, tangential * part.radius])
            turned = (np.arange(ANGLES) - tooth * ANGLES // flutes - part.lag / step) % ANGLES
            before = np.floor(turned).astype(int)
            share = turned - before
            total += trace[:, before % ANGLES] * (1 - share) + trace[:, (before + 1) % ANGLES] * share
    return total


def stacked(count: int, depth: float, of: Callable[[float, float], Slice]) -> list[Slice]:
    """Slices of equal height; `of` is told the height of the middle and that of the slice."""
    return [of((i + 0.5) * depth / count, depth / count) for i in range(count)]
