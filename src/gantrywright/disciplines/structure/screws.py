"""Screws that are held axially at both ends: a bar of their own between two bearings, along which the nut runs.

The two lengths of screw beside the nut share its force in proportion of their stiffness, and what holds the two ends may give
differently. A screw that is held at one end is a link of its drive's spring.
"""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from gantrywright.base.units import NewtonPerMetre, Real
from gantrywright.disciplines.structure.bars import square_axes
from gantrywright.disciplines.structure.carriers import Carriers
from gantrywright.model.axis import Axis, DriveFit
from gantrywright.model.drive_chain import DriveChain
from gantrywright.model.drives.shaft import ScrewShaft
from gantrywright.model.frame import subtract, unit
from gantrywright.theory.frames.skeleton import Anchor, Bar, Tie

CLAMPED = 1e4
"""A seat that does not give of its own (its give is in the bracket) is so many times stiffer than the screw."""
STEADY = 1e9
"""Stiffness of a bearing of such a screw across it, N/m and, at the motor, about it, N m/rad: nothing presses that way."""


def screw_of(fit: DriveFit) -> ScrewShaft | None:
    """The screw of a drive that both ends hold, or may hold; None for any other drive."""
    drive = fit.drive
    return drive if isinstance(drive, ScrewShaft) and drive.parts.far_end_may_hold else None


def screw_bar(fit: DriveFit, screw: ScrewShaft, loss: Real) -> Bar:
    """The screw from the bearing at the motor to the far one; its mass lies on what holds it, as that of all screws."""
    near, far = fit.line if fit.motor_end_first else fit.line[::-1]
    area = np.pi / 4 * np.square(screw.root)
    second = np.square(area) / (4 * np.pi)
    parts = screw.parts
    return Bar(
        part=f"{fit.path}.shaft_stiffness", body=fit.holds, start=near, stop=far, height_axis=square_axes(unit(subtract(far, near)))[1],
        axial=parts.elastic_modulus * area, torsion=2 * parts.shear_modulus * second, bend_height=parts.elastic_modulus * second,
        bend_width=parts.elastic_modulus * second, loss=loss, kind="drive",
    )  # fmt: skip


def screw_ties(
    axis: Axis, fit: DriveFit, chain: DriveChain, carriers: Carriers, gripped: Anchor, number: int, bar: Bar, screw: ScrewShaft
) -> Iterator[Tie]:
    """Its two bearings, and the nut with all that lies between motor and grip but for screw and bearings.

    Args:
        axis: Of the drive.
        fit: The drive.
        chain: All its springs.
        carriers: Bars of the machine.
        gripped: What the nut pulls at.
        number: That the bar of the screw has in the skeleton.
        bar: The screw.
        screw: The drive.
    """
    ends = [carriers.nearest(fit.holds, point) for point in (bar.start, bar.stop)]
    seats = square_axes(unit(subtract(bar.stop, bar.start)))
    own = _bearing(screw, bar, fit.free_length)
    for holder, point, k, steady in zip(ends, (bar.start, bar.stop), (own, own * _held(screw)), (STEADY, 0.0), strict=True):
        if holder is not None:
            yield Tie(
                part=f"{fit.path}.bearing_stiffness", kind="drive", a=holder, b=Anchor(number, point), axes=seats,
                stiffness=(k, STEADY, STEADY, steady, 0.0, 0.0), loss=bar.loss,
            )  # fmt: skip
    left_out = ("shaft", "bearing") if screw.screw_turns else ("shaft",)
    rest = replace(chain, springs=tuple(spring for spring in chain.springs if spring.name not in left_out))
    yield Tie(
        part=fit.path, kind="drive", a=Anchor(number, fit.grip), b=gripped, axes=square_axes(axis.direction), stiffness=(0.0,) * 6,
        axis=axis.name, slides="a", along=rest.along, links=rest.links, loss=bar.loss,
    )  # fmt: skip


def _bearing(screw: ScrewShaft, bar: Bar, length: float) -> NewtonPerMetre:
    """Of each end along the screw; a still screw is clamped in seats that count in the bracket."""
    stiffness = screw.bearing_stiffness if screw.screw_turns else None
    return CLAMPED * bar.axial / length if stiffness is None else stiffness


def _held(screw: ScrewShaft) -> Real:
    """1 where the far end takes axial load, 0 where it lets the screw slide."""
    return np.where(np.asarray(screw.parts.far_end_held) > 0.5, 1.0, 0.0)[()]
