"""Invented machines as skeletons, each of another build: the common subject of the tests of the map over poses."""

import numpy as np

from gantrywright.theory.frames.skeleton import GROUND, Anchor, Bar, Lump, Motion, Rest, Skeleton, Tie

E, G = 70e9, 26e9
X, Y, Z = (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)
BLOCK = (2e8, 1.6e8, 0.0, 1.5e4, 2e4, 1.2e4)
"""Along the normal, sideways, running; about the same."""
BOLTED = (4e8, 3e8, 3e8, 1.5e6, 1e6, 0.8e6)


def bar(part: str, body: str, start, stop, height, width: float, depth: float, *, e: float = E, g: float = G) -> Bar:
    """A solid rectangle, depth along its height axis."""
    area = width * depth
    low, high = min(width, depth), max(width, depth)
    return Bar(
        part=part, body=body, start=start, stop=stop, height_axis=height, axial=e * area, torsion=g * 0.25 * high * low**3,
        bend_height=e * width * depth**3 / 12, bend_width=e * depth * width**3 / 12, shear_height=g * area * 5 / 6,
        shear_width=g * area * 0.7, mass_per_length=2700 * area,
    )  # fmt: skip


class Maker:
    """Collects bars and ties by the names of parts."""

    def __init__(self) -> None:
        self.bars: list[Bar] = []
        self.ties: list[Tie] = []
        self.number: dict[str, int] = {"": GROUND}

    def bar(self, part: str, *args, **kwargs) -> None:
        self.number[part] = len(self.bars)
        self.bars.append(bar(part, *args, **kwargs))

    def tie(self, a: str, b: str, point, *, stiffness=BOLTED, axes=(X, Y, Z), kind="joint", at_a=None, **kwargs) -> None:
        first, second = Anchor(self.number[a], at_a or point), Anchor(self.number[b], point)
        self.ties.append(Tie(part=f"{a}-{b}", kind=kind, a=first, b=second, axes=axes, stiffness=stiffness, **kwargs))

    def foot(self, part: str, point) -> None:
        self.tie("", part, point, stiffness=(1.5e7, 1.2e7, 6e7, 0.0, 0.0, 0.0), kind="foot")

    def block(self, rail: str, carriage: str, point, run, normal, *, axis: str, slides: str = "a") -> None:
        lateral = tuple(float(v) for v in np.cross(run, normal))
        self.tie(rail, carriage, point, stiffness=BLOCK, axes=(normal, lateral, run), kind="block", axis=axis, slides=slides)

    def drive(self, holds: str, grips: str, at_a, at_b, direction, second, *, axis: str, drawn: float, slides: str = "") -> None:
        third = tuple(float(v) for v in np.cross(direction, second))
        self.tie(
            holds, grips, at_b, at_a=at_a, stiffness=(0.0,) * 6, axes=(direction, second, third), kind="drive", axis=axis, slides=slides,
            along=lambda q: 1 / (1 / 4e7 + (0.2 + q) / 1.6e7 / 2.5),
        )  # fmt: skip


def spindle(make: Maker, body: str, holder: str, at) -> Anchor:
    """A spindle under a holder: housing, shaft, tool; its tip."""
    x, y, z = at
    make.bar("housing", body, (x, y, z + 0.12), (x, y, z - 0.06), Y, 0.08, 0.08)
    make.bar("tool", body, (x, y, z + 0.05), (x, y, z - 0.14), Y, 0.010, 0.010, e=580e9, g=240e9)
    make.tie(holder, "housing", (x, y + 0.03, z + 0.08))
    make.tie(holder, "housing", (x, y + 0.03, z - 0.01))
    for level in (z + 0.05, z - 0.05):
        make.tie("housing", "tool", (x, y, level), stiffness=(9e7, 9e7, 6e7, 2e4, 2e4, 1e4), kind="bearing")
    return Anchor(make.number["tool"], (x, y, z - 0.15))


def carriages(make: Maker, drawn, *, y: float, level: float, beam: str, body_x: str, body_z: str, skew: float = 0.0) -> Anchor:
    """An x carriage on a beam and a z slide with a spindle on it: blocks on the carriage, rails on the slide."""
    x0, z0 = drawn
    make.bar("carriage", body_x, (x0, y - 0.07, level - 0.14), (x0, y - 0.07, level + 0.16), Y, 0.16, 0.02)
    for side in (-0.06, 0.06):
        for height in (-0.05, 0.05):
            place = (x0 + side + skew * (side > 0), y - 0.05, level + height)
            make.block(beam, "carriage", place, X, (0.0, -1.0, 0.0), axis="x")
    make.drive(beam, "carriage", (0.0, y - 0.05, level), (x0, y - 0.05, level + 0.01), X, Y, axis="x", drawn=x0)
    make.bar("slide", body_z, (x0, y - 0.12, level - 0.2 + z0), (x0, y - 0.12, level + 0.15 + z0), Y, 0.14, 0.018)
    for side in (-0.05, 0.05):
        for height in (-0.08, 0.03):
            place = (x0 + side, y - 0.09, level + height)
            make.block("carriage", "slide", place, Z, (0.0, -1.0, 0.0), axis="z", slides="b")
    make.drive("carriage", "slide", (x0, y - 0.09, level + 0.16), (x0, y - 0.1, level + 0.05 + z0), Z, X, axis="z", drawn=z0)
    return spindle(make, body_z, "slide", (x0, y - 0.18, level - 0.12 + z0))


def base(make: Maker, *, long: float = 0.9, wide: float = 0.8, bearers: int = 4) -> tuple[int, ...]:
    """Two long bars on feet and bearers across them, on which the work lies."""
    for name, x in (("left", 0.0), ("right", wide)):
        make.bar(name, "bed", (x, -0.1, 0.0), (x, long + 0.1, 0.0), Z, 0.06, 0.10)
        for y in (-0.05, long / 2, long + 0.05):
            make.foot(name, (x, y, -0.05))
    for k in range(bearers):
        y = 0.05 + k * (long - 0.1) / (bearers - 1)
        make.bar(f"bearer {k}", "bed", (0.03, y, 0.02), (wide - 0.03, y, 0.02), Z, 0.06, 0.04)
        make.tie("left", f"bearer {k}", (0.03, y, 0.0))
        make.tie("right", f"bearer {k}", (wide - 0.03, y, 0.0))
    return tuple(make.number[f"bearer {k}"] for k in range(bearers))


def gantry(make: Maker, y: float, *, wide: float = 0.8, body: str = "gantry") -> None:
    """Two uprights and a beam."""
    for name, x in (("upright left", -0.05), ("upright right", wide + 0.05)):
        make.bar(name, body, (x, y, 0.02), (x, y, 0.42), Y, 0.03, 0.14)
        make.tie(name, "beam", (x, y, 0.35)) if "beam" in make.number else None
    make.bar("beam", body, (-0.05, y, 0.36), (wide + 0.05, y, 0.36), Z, 0.08, 0.16)
    for name, x in (("upright left", -0.05), ("upright right", wide + 0.05)):
        make.tie(name, "beam", (x, y - 0.03, 0.33))
        make.tie(name, "beam", (x, y + 0.03, 0.39))


def moving_gantry(*, skew: float = 0.0, drawn: float = 0.21, give=None) -> Skeleton:
    """Rails on the bed, two screws for the gantry, one for the carriage."""
    make = Maker()
    bearers = base(make)
    y = 0.3
    gantry(make, y)
    for rail, upright, x in (("left", "upright left", 0.0), ("right", "upright right", 0.8)):
        for off in (-0.08, 0.08):
            make.block(rail, upright, (x, y + off, 0.06), Y, Z, axis="y")
        make.drive(rail, upright, (x, -0.08, 0.03), (x, y, 0.03), Y, Z, axis="y", drawn=y)
    tip = carriages(make, (drawn, 0.06), y=y, level=0.36, beam="beam", body_x="x", body_z="z", skew=skew)
    rest = Rest(bearers, Y, "bed", **({} if give is None else {"give": give}))
    lumps = (Lump("motor", Anchor(make.number["slide"], (drawn, y, 0.5)), 3.0),)
    motions = (
        Motion("y", 0.55, 0.3, {"gantry": Y, "x": Y, "z": Y}),
        Motion("x", 0.6, drawn, {"x": X, "z": X}),
        Motion("z", 0.12, 0.06, {"z": Z}),
    )
    return Skeleton(tuple(make.bars), tuple(make.ties), lumps, tip, rest, motions)


def moving_table(*, drawn: float = 0.21) -> Skeleton:
    """The gantry stands on the bed; a table of two bars carries its rails over blocks that stand still, and the work between them."""
    make = Maker()
    base(make)
    gantry(make, 0.45, body="bed")
    for name, x in (("upright left", 0.0), ("upright right", 0.8)):
        make.tie("left" if x == 0 else "right", name, (x, 0.42, 0.05))
        make.tie("left" if x == 0 else "right", name, (x, 0.48, 0.05))
    for name, x in (("plank 1", 0.2), ("plank 2", 0.6)):
        make.bar(name, "table", (x, 0.05, 0.09), (x, 0.85, 0.09), Z, 0.12, 0.03)
        for near, y in (("bearer 1", 0.05 + 0.8 / 3), ("bearer 2", 0.05 + 1.6 / 3)):
            make.block(near, name, (x, y, 0.06), Y, Z, axis="y", slides="b")
    for y in (0.1, 0.45, 0.8):
        name = f"cross {y}"
        make.bar(name, "table", (0.18, y, 0.07), (0.62, y, 0.07), Z, 0.05, 0.03)
        make.tie("plank 1", name, (0.2, y, 0.075))
        make.tie("plank 2", name, (0.6, y, 0.075))
    make.drive("bearer 0", "cross 0.45", (0.4, 0.05, 0.05), (0.4, 0.45, 0.05), Y, Z, axis="y", drawn=0.15)
    tip = carriages(make, (drawn, 0.06), y=0.45, level=0.36, beam="beam", body_x="x", body_z="z")
    rest = Rest((make.number["plank 1"], make.number["plank 2"]), X, "table")
    motions = (
        Motion("y", 0.3, 0.15, {"table": (0.0, -1.0, 0.0)}),
        Motion("x", 0.6, drawn, {"x": X, "z": X}),
        Motion("z", 0.12, 0.06, {"z": Z}),
    )
    return Skeleton(tuple(make.bars), tuple(make.ties), (), tip, rest, motions)


def riding_rails() -> Skeleton:
    """Rails under the gantry's feet ride over blocks on the bed, racks drive it, the work lies on one strong bar."""
    make = Maker()
    base(make)
    make.bar("top", "bed", (0.1, 0.45, 0.05), (0.7, 0.45, 0.05), Z, 0.7, 0.03)
    for k in range(4):
        make.tie(f"bearer {k}", "top", (0.25, 0.05 + k * 0.8 / 3, 0.03))
        make.tie(f"bearer {k}", "top", (0.55, 0.05 + k * 0.8 / 3, 0.03))
    y = 0.45
    gantry(make, y)
    for rail, side, x in (("left", "upright left", 0.0), ("right", "upright right", 0.8)):
        foot = f"skid {rail}"
        make.bar(foot, "gantry", (x, y - 0.42, 0.1), (x, y + 0.42, 0.1), Z, 0.05, 0.06)
        make.tie(foot, side, (x, y - 0.05, 0.12))
        make.tie(foot, side, (x, y + 0.05, 0.12))
        for off in (-0.12, 0.12):
            make.block(rail, foot, (x, y + off, 0.06), Y, Z, axis="y", slides="b")
        make.drive(rail, foot, (x, y, 0.07), (x, y, 0.07), Y, Z, axis="y", drawn=y, slides="a")
    tip = carriages(make, (0.33, 0.02), y=y, level=0.36, beam="beam", body_x="x", body_z="z", skew=0.013)
    motions = (
        Motion("y", 0.55, 0.27, {"gantry": Y, "x": Y, "z": Y}),
        Motion("x", 0.6, 0.33, {"x": X, "z": X}),
        Motion("z", 0.12, 0.02, {"z": Z}),
    )
    return Skeleton(tuple(make.bars), tuple(make.ties), (), tip, Rest((make.number["top"],), Y, "bed"), motions)
