"""Ties of the structure: joints, feet, guide blocks, drives."""

from collections.abc import Iterator, Mapping
from dataclasses import replace

from gantrywright.disciplines.structure.bars import square_axes
from gantrywright.disciplines.structure.carriers import Carriers
from gantrywright.disciplines.structure.screws import screw_bar, screw_of, screw_ties
from gantrywright.disciplines.structure.shared_motor import SharedMotor
from gantrywright.model.axis import Axis, Block, DriveFit, Rail
from gantrywright.model.bodies import Foot, Joint
from gantrywright.model.drive_chain import DriveChain, drive_chain
from gantrywright.model.frame import Vector, cross
from gantrywright.theory.frames.skeleton import GROUND, Anchor, Bar, Tie

LOSS_BLOCK, LOSS_DRIVE, LOSS_FOOT = 0.07, 0.06, 0.1
"""Loss factors where nothing was measured (guide block 0.04 to 0.12, nut with bearings 0.03 to 0.1, feet): common practice, no source."""
LEVEL: tuple[Vector, Vector, Vector] = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))


def joint_ties(joint: Joint, carriers: Carriers, same: Mapping[str, str]) -> Iterator[Tie]:
    """A spring at each point of a joint between two bars; a joint with something else (a sheet, an item) is none.

    Args:
        joint: Of the machine.
        carriers: Its bars.
        same: Parts that another bar stands for (the sheets of a torsion box).
    """
    springs = joint.stiffness
    given = (springs.n, springs.a, springs.b, springs.rn, springs.ra, springs.rb)
    if any(value is None for value in given):
        return
    stiffness = tuple(0.0 if value is None else value for value in given)
    for point in joint.points:
        a, b = (carriers.of_part(same.get(part, part), point) for part in (joint.a, joint.b))
        if a is not None and b is not None and a.bar != b.bar:
            yield Tie(
                part=joint.path, kind="joint", a=a, b=b, axes=joint.frame, stiffness=stiffness, loss=joint.loss  # type: ignore[arg-type]
            )  # fmt: skip


def foot_tie(foot: Foot, body: str, carriers: Carriers) -> Tie | None:
    """A foot between floor and frame; None where its stiffness is unknown or it stands under nothing."""
    anchor = carriers.hold(foot.on, body, foot.at)
    if anchor is None or foot.vertical is None or foot.horizontal is None:
        return None
    stiffness = (foot.horizontal, foot.horizontal, foot.vertical, 0.0, 0.0, 0.0)
    return Tie(part=foot.path, kind="foot", a=Anchor(GROUND, foot.at), b=anchor, axes=LEVEL, stiffness=stiffness, loss=LOSS_FOOT)


def block_tie(axis: Axis, block: Block, rail: Rail, carriers: Carriers) -> Tie | None:
    """A guide block: free along its rail, elastic in the five other ways."""
    on_rail = carriers.hold(rail.on, rail.body, block.centre)
    on_block = carriers.hold(block.on, block.body, block.centre)
    if on_rail is None or on_block is None:
        return None
    lateral = cross(axis.direction, block.normal)
    stiffness = (
        block.normal_stiffness, block.lateral_stiffness, 0.0, block.yaw_stiffness, block.pitch_stiffness, block.roll_stiffness,
    )  # fmt: skip
    return Tie(
        part=block.path, kind="block", a=on_rail, b=on_block, axes=(block.normal, lateral, cross(block.normal, lateral)),
        stiffness=stiffness, axis=axis.name, slides="a", loss=LOSS_BLOCK,
    )  # fmt: skip


def drive_ties(
    axis: Axis, fit: DriveFit, carriers: Carriers, number: int, shared: SharedMotor | None = None
) -> tuple[tuple[Tie, ...], tuple[Bar, ...]]:
    """A drive with the bars that it brings; no tie where its stiffness is unknown or nothing holds it.

    Args:
        axis: That it moves.
        fit: The drive.
        carriers: Bars of the machine.
        number: Of the next bar of the skeleton.
        shared: Motor that turns two drives of the axis; it has the magnetic spring of those.
    """
    chain, pulled = drive_chain(axis, fit), None if shared is None else shared.pulled(fit)
    gripped = carriers.nearest(fit.grips, fit.grip) if pulled is None else pulled
    if chain.missing or gripped is None:
        return (), ()
    if pulled is not None:
        chain = replace(chain, springs=tuple(spring for spring in chain.springs if spring.name != "motor"))
    screw = screw_of(fit)
    if screw is None:
        tie = _drive_tie(axis, fit, chain, carriers, gripped)
        return () if tie is None else (tie,), ()
    bar = screw_bar(fit, screw, LOSS_DRIVE if fit.loss is None else fit.loss)
    return tuple(screw_ties(axis, fit, chain, carriers, gripped, number, bar, screw)), (bar,)


def _drive_tie(axis: Axis, fit: DriveFit, chain: DriveChain, carriers: Carriers, gripped: Anchor) -> Tie | None:
    """A spring along its axis between what holds the long piece at the motor and what it grips; None where nothing holds it."""
    bearing = fit.line[0] if fit.motor_end_first else fit.line[1]
    rolls = fit.drive.kind == "rack"
    held = carriers.nearest(fit.holds, fit.grip if rolls else bearing)
    if held is None:
        return None
    return Tie(
        part=fit.path, kind="drive", a=held, b=gripped, axes=square_axes(axis.direction), stiffness=(0.0,) * 6, axis=axis.name,
        slides="a" if rolls else "", along=chain.along, links=chain.links, loss=LOSS_DRIVE if fit.loss is None else fit.loss,
    )  # fmt: skip
