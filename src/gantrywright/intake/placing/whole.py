"""From bodies in own measures to one machine in its own frame."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from gantrywright.intake.geometry.frames import bounds
from gantrywright.intake.placing.world import Placed, World
from gantrywright.model.axis import Axis, CableChainFit, DriveFit
from gantrywright.model.bodies import Body, Box, Foot, Joint, Layer, Member, Plate, Solid
from gantrywright.model.frame import Vector, add, subtract


def bodies(world: World, zero: Vector) -> dict[str, Vector]:
    """How far every body's own measures lie from the machine frame."""
    return {name: subtract(body.origin, zero) for name, body in world.bodies.items()}


def body_records(world: World, by: Mapping[str, Vector]) -> tuple[Body, ...]:
    """The bodies, ground first."""
    return tuple(Body(link.body, by[link.body], world.bodies[link.body].middle) for link in world.links)


def moved_solids(solids: Iterable[Solid], by: Mapping[str, Vector]) -> Iterator[Solid]:
    """Solids in the machine frame."""
    for solid in solids:
        yield replace(solid, centre=add(solid.centre, by[solid.body]))


def members_of(body: Placed, by: Vector) -> Iterator[Member]:
    """Bars in the machine frame."""
    for member in body.members.values():
        yield replace(member, start=add(member.start, by), stop=add(member.stop, by))


def plates_of(body: Placed, by: Vector) -> Iterator[Plate]:
    """Plates in the machine frame."""
    for plate in body.plates.values():
        yield replace(plate, middle=add(plate.middle, by))


def feet_of(body: Placed, by: Vector) -> Iterator[Foot]:
    """Feet in the machine frame."""
    for foot in body.feet:
        yield replace(foot, at=add(foot.at, by))


def layers_of(body: Placed, by: Vector) -> Iterator[Layer]:
    """What the work lies on, in the machine frame."""
    for layer in body.sheets:
        yield replace(layer, middle=add(layer.middle, by))


def moved_joint(joint: Joint, by: Vector) -> Joint:
    """A joint from the measures of the ground body to the machine frame."""
    return replace(
        joint,
        points=tuple(add(point, by) for point in joint.points),
        bolt_points=tuple(add(point, by) for point in joint.bolt_points),
    )


def moved_axis(axis: Axis, by: Mapping[str, Vector]) -> Axis:
    """An axis in the machine frame."""
    rails = tuple(replace(r, start=add(r.start, by[r.body]), stop=add(r.stop, by[r.body])) for r in axis.rails)
    blocks = tuple(replace(b, centre=add(b.centre, by[b.body])) for b in axis.blocks)
    drives = tuple(_moved_drive(drive, by) for drive in axis.drives)
    return replace(axis, rails=rails, blocks=blocks, drives=drives, cable_chain=_moved_chain(axis, by))


def _moved_drive(drive: DriveFit, by: Mapping[str, Vector]) -> DriveFit:
    held = by[drive.holds]
    line = (add(drive.line[0], held), add(drive.line[1], held))
    return replace(drive, line=line, grip=add(drive.grip, by[drive.grips]), motor_at=add(drive.motor_at, by[drive.motor_body]))


def _moved_chain(axis: Axis, by: Mapping[str, Vector]) -> CableChainFit | None:
    chain = axis.cable_chain
    if chain is None:
        return None
    fixed = add(chain.fixed_at, by[chain.on.split(".")[0]])
    return replace(chain, fixed_at=fixed, moving_at=add(chain.moving_at, by[axis.moving]))


def box_of(solids: Iterable[Solid]) -> Box | None:
    """Upright box round solids that stand square; None where there are none."""
    gathered = tuple(solids)
    return Box(*bounds(gathered)) if gathered else None
