"""A machine of few bars whose softest part is chosen: the subject of tests that must know how it rings."""

import numpy as np

from gantrywright.theory.frames.skeleton import GROUND, Anchor, Bar, Lump, Motion, Rest, Skeleton, Tie

E, G, RHO = 205e9, 79e9, 7850.0
STIFF = 3e9
"""N/m and N m/rad of what is not to give."""
X, Y, Z = (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)


def bar(
    part, body, start, stop, height, *, size=0.1, torsion=1.0, bend_height=1.0, bend_width=1.0, kind="member", weight=1.0
) -> Bar:
    """A solid square bar, its stiffness times factors."""
    area, second = size**2, size**4 / 12
    return Bar(
        part=part, body=body, start=start, stop=stop, height_axis=height, kind=kind, axial=E * area, torsion=G * 0.141 * size**4 * torsion,
        bend_height=E * second * bend_height, bend_width=E * second * bend_width, mass_per_length=RHO * area * weight,
        rotary_height=RHO * second, rotary_width=RHO * second,
    )  # fmt: skip


def bar_machine(
    *,
    fixed=False,
    foot=STIFF,
    upright_x=1.0,
    upright_y=1.0,
    beam_torsion=1.0,
    beam_up=1.0,
    beam_level=1.0,
    y_drive=STIFF,
    x_drive=STIFF,
    block_yaw=STIFF,
    head_pitch=STIFF,
    collet=STIFF,
    table=1.0,
    bed_up=1.0,
) -> Skeleton:
    """A gantry of 1 m x 0.5 m on a bed (or, fixed, over a table); factors on the stiffness of bars, stiffness of ties."""
    base = "bed" if fixed else "gantry"
    bars = [
        bar("bed.left", "bed", (0, -0.5, 0), (0, 0.5, 0), Z, bend_height=bed_up),
        bar("bed.right", "bed", (1, -0.5, 0), (1, 0.5, 0), Z, bend_height=bed_up),
        bar("bed.front", "bed", (0, -0.5, 0), (1, -0.5, 0), Z),
        bar("bed.back", "bed", (0, 0.5, 0), (1, 0.5, 0), Z),
        bar("gantry.upright-left", base, (0, 0, 0.1), (0, 0, 0.5), Y, bend_width=upright_x, bend_height=upright_y),
        bar("gantry.upright-right", base, (1, 0, 0.1), (1, 0, 0.5), Y, bend_width=upright_x, bend_height=upright_y),
        bar("gantry.beam", base, (0, 0, 0.5), (1, 0, 0.5), Z, torsion=beam_torsion, bend_height=beam_up, bend_width=beam_level),
        bar("carriage.plate", "carriage", (0.5, -0.1, 0.6), (0.5, -0.1, 0.4), Y),
        bar("head.spindle", "carriage", (0.5, -0.2, 0.5), (0.5, -0.2, 0.3), Y, size=0.06, kind="spindle"),
        bar("tool", "carriage", (0.5, -0.2, 0.3), (0.5, -0.2, 0.25), Y, size=0.01, kind="tool"),
    ]
    if fixed:
        bars.append(bar("table", "table", (0.2, 0, 0.1), (0.8, 0, 0.1), Z, bend_height=table))
    all_ways = (STIFF,) * 6
    ties = [_tie("joint", f"corner-{k}", a, b, at, all_ways) for k, (a, b, at) in enumerate(
        [(0, 2, (0, -0.5, 0)), (1, 2, (1, -0.5, 0)), (0, 3, (0, 0.5, 0)), (1, 3, (1, 0.5, 0)), (4, 6, (0, 0, 0.5)), (5, 6, (1, 0, 0.5)),
         (7, 8, (0.5, -0.2, 0.5))])]  # fmt: skip
    ties += [
        _tie("foot", f"foot-{k}", GROUND, k % 2, (k % 2, y, 0), (foot, foot, foot, 0, 0, 0))
        for k, y in enumerate((-0.5, -0.5, 0.5, 0.5))
    ]
    for k, (side, upright) in enumerate(((0, 4), (1, 5))):
        at = (float(side), 0.0, 0.1)
        if fixed:
            ties.append(_tie("joint", f"upright-{k}", side, upright, at, all_ways))
        else:
            ties.append(
                _tie("block", f"y-block-{k}", side, upright, at, (STIFF, 0, STIFF, STIFF, STIFF, block_yaw), axis="y", slides="a")
            )
            ties.append(_tie("drive", f"y-drive-{k}", side, upright, at, (y_drive, 0, 0, 0, 0, 0), axes=(Y, Z, X), axis="y"))
    if fixed:
        ties += [_tie("block", f"t-block-{x}", side, 10, (x, 0, 0.1), (STIFF, 0, STIFF, STIFF, STIFF, STIFF), axis="y", slides="a")
                 for side, x in ((0, 0.2), (1, 0.8))]  # fmt: skip
        ties.append(_tie("drive", "t-drive", 2, 10, (0.5, 0, 0.1), (y_drive, 0, 0, 0, 0, 0), axes=(Y, Z, X), axis="y"))
    ties.append(_tie("block", "x-block", 6, 7, (0.5, -0.1, 0.5), (0, STIFF, STIFF, head_pitch, STIFF, STIFF), axis="x", slides="a"))
    ties.append(_tie("drive", "x-drive", 6, 7, (0.5, -0.1, 0.5), (x_drive, 0, 0, 0, 0, 0), axis="x"))
    ties.append(_tie("collet", "collet", 8, 9, (0.5, -0.2, 0.3), (STIFF, STIFF, STIFF, collet, collet, collet)))
    lumps = (
        Lump("spindle", Anchor(8, (0.5, -0.2, 0.4)), 6.0, tuple(map(tuple, 0.03 * np.eye(3)))),
        Lump("nut", Anchor(9, (0.5, -0.2, 0.25)), 0.05),
    )
    work, moves = ("table", {"table": Y}) if fixed else ("bed", {"gantry": Y, "carriage": Y})
    rest = Rest((10,) if fixed else (2, 3), Y, work)
    return Skeleton(
        tuple(bars), tuple(ties), lumps, Anchor(9, (0.5, -0.2, 0.25)), rest,
        (Motion("y", 0.4, 0.0, moves), Motion("x", 0.4, 0.0, {"carriage": X})),
    )  # fmt: skip


def _tie(kind, part, a, b, at, stiffness, *, axes=(X, Y, Z), axis="", slides="") -> Tie:
    at = tuple(float(v) for v in at)
    return Tie(part=part, kind=kind, a=Anchor(a, at), b=Anchor(b, at), axes=axes, stiffness=stiffness, axis=axis, slides=slides)
