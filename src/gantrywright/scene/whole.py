"""From a machine to its scene."""

from gantrywright.model.axis import Axis, DriveFit
from gantrywright.model.bodies import Box, Solid, Use
from gantrywright.model.frame import AXES, ZERO, Vector, middle
from gantrywright.model.machine import Machine, movements
from gantrywright.scene import drives, frame_parts, guides, joints, spindles
from gantrywright.scene.making import Maker
from gantrywright.scene.pieces import AxisRow, BodyRow, JointRow, Piece, Scene
from gantrywright.scene.shapes import BOX
from gantrywright.scene.words import capital, spoken

LEVEL = (AXES["x"], AXES["y"], AXES["z"])


def scene_of(machine: Machine) -> Scene:
    """Everything that is drawn of a machine, as drawn in its file.

    Args:
        machine: Resolved with typical values.
    """
    maker = Maker(machine)
    _parts(maker)
    for joint in machine.joints:
        joints.draw_joint(maker, joint)
    _work(maker)
    pieces = tuple(maker.pieces)
    return Scene(
        name=machine.name, show=machine.show, shapes=tuple(maker.shapes.values()), pieces=pieces, bodies=body_rows(machine),
        axes=axis_rows(machine), joints=tuple(JointRow(joint.path, (joint.a, joint.b), joint.points) for joint in machine.joints),
        box=box_round(pieces), work=(machine.table.least, machine.table.most), zero=ZERO,
    )  # fmt: skip


def _parts(maker: Maker) -> None:
    """Every solid by what is known of it."""
    machine = maker.machine
    members = {member.path: member for member in machine.members}
    plates = {plate.path: plate for plate in machine.plates}
    layers = {layer.path: layer for layer in machine.layers}
    feet = {foot.path: foot.on for foot in machine.feet}
    for solid in machine.solids:
        if solid.path in members:
            frame_parts.draw_member(maker, members[solid.path], solid)
        elif solid.path in plates:
            frame_parts.draw_plate(maker, plates[solid.path], solid)
        elif solid.path in layers:
            frame_parts.draw_layer(maker, layers[solid.path], solid)
        elif solid.path in feet:
            frame_parts.draw_foot(maker, solid, feet[solid.path])
        elif solid.path.startswith("axis."):
            _of_axis(maker, solid)
        else:
            {"spindle": spindles.draw_spindle, "mount": spindles.draw_mount, "cutter": spindles.draw_cutter}.get(
                solid.kind, frame_parts.draw_other
            )(maker, solid)


def _of_axis(maker: Maker, solid: Solid) -> None:
    """A rail, a block, half a cable chain, or a part of a drive."""
    axis = maker.machine.axis(solid.path.split(".")[1])
    rails = {rail.path: rail for rail in axis.rails}
    if solid.kind == "rail":
        guides.draw_rail(maker, rails[solid.path], solid)
    elif solid.kind == "block":
        block = next(block for block in axis.blocks if block.path == solid.path)
        guides.draw_block(maker, block, rails[block.rail], solid)
    elif solid.kind == "cable-chain":
        guides.draw_chain(maker, axis, solid)
    else:
        fit = _drive_of(axis, solid.path)
        if fit is None:
            frame_parts.draw_other(maker, solid)
        else:
            drives.draw_drive_part(maker, axis, fit, solid)


def _drive_of(axis: Axis, path: str) -> DriveFit | None:
    return next((fit for fit in axis.drives if path == fit.path or path.startswith(f"{fit.path}.")), None)


def _work(maker: Maker) -> None:
    """The work area, and the piece of the first job that says one."""
    machine = maker.machine
    body = machine.work_body
    _volume(maker, machine.table, body, "work", "purpose.work_area", "Work area", "work area")
    for job in machine.jobs:
        if job.work is not None:
            size, at = job.work.size, job.work.at
            box = Box(at, (at[0] + size[0], at[1] + size[1], at[2] + size[2]))
            _volume(maker, box, body, "workpiece", f"{job.path}.work", f"Workpiece, {spoken(job.name)}", "workpiece")
            return


def _volume(maker: Maker, box: Box, body: str, kind: str, path: str, label: str, what: str) -> None:
    centre = middle(box.least, box.most)
    solid = Solid(path, body, kind, None, centre, LEVEL, box.size, Use(owned=True))
    if all(extent > 0.0 for extent in box.size):
        facts = (("Size", maker.sizes(box.size)),)
        maker.draw(solid, BOX, LEVEL, box.size, centre, label, what, facts=facts, beyond=True)


def body_rows(machine: Machine) -> tuple[BodyRow, ...]:
    """The bodies, ground first."""
    return tuple(
        BodyRow(
            link.body, capital(spoken(link.body)), link.on, link.axis, link.sign,
            tuple(other.body for other in machine.links if other.on == link.body),
        )
        for link in machine.links
    )  # fmt: skip


def axis_rows(machine: Machine) -> tuple[AxisRow, ...]:
    """The axes with all that each one moves."""
    moved = movements(machine)
    return tuple(
        AxisRow(
            axis.name, axis.direction, axis.sign, axis.travel, axis.drawn,
            tuple((body, steps[number]) for body, steps in moved.items() if any(steps[number])),
        )
        for number, axis in enumerate(machine.axes)
    )  # fmt: skip


def box_round(pieces: tuple[Piece, ...]) -> tuple[Vector, Vector]:
    """Least and greatest corner of the upright box round some pieces; round ones as their boxes."""
    corners = [box_of(piece) for piece in pieces] or [(ZERO, ZERO)]
    least, most = zip(*corners, strict=True)
    return (
        (min(p[0] for p in least), min(p[1] for p in least), min(p[2] for p in least)),
        (max(p[0] for p in most), max(p[1] for p in most), max(p[2] for p in most)),
    )


def box_of(piece: Piece) -> tuple[Vector, Vector]:
    """Upright box round a piece by its axes and its size."""
    m = piece.matrix
    half = [0.0, 0.0, 0.0]
    for column in range(3):
        axis = m[4 * column : 4 * column + 3]
        long = sum(part * part for part in axis) ** 0.5
        for k in range(3):
            half[k] += abs(axis[k]) / long * piece.size[column] / 2 if long > 0.0 else 0.0
    return (m[12] - half[0], m[13] - half[1], m[14] - half[2]), (m[12] + half[0], m[13] + half[1], m[14] + half[2])
