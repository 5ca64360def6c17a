"""Boxes and masses of what guides and drives are made of: rails, blocks, screws, racks, belts, motors, gearboxes, couplings."""

from collections.abc import Iterator
from math import pi

from gantrywright.base.units import Real
from gantrywright.catalog import kinds
from gantrywright.intake.placing.drives import Driven
from gantrywright.intake.placing.motors import body_size, frame_of
from gantrywright.model.axis import Block, DriveFit, Rail
from gantrywright.model.bodies import Solid, Use
from gantrywright.model.frame import Vector, along, cross, middle, subtract, unit

STEEL = 7850.0
"""Density of screws whose row does not give their mass, kg/m3; common practice, no source."""
THREADED = 0.9
"""Diameter of the plain bar that weighs like a threaded one, over the nominal size; common practice, no source."""
COUPLING = 0.03
"""Length of a coupling, m, for the view; common practice, no source."""
IN_SLIDE = Use(note="in the slide")


def rail_solid(rail: Rail, *, inside: bool) -> Solid:
    """A rail; of no mass of its own where it is part of a bought slide."""
    t = unit(subtract(rail.stop, rail.start))
    high, wide = _size(rail.part.height, 0.02), _size(rail.part.width, 0.02)
    per_length = rail.part.mass_per_length
    mass: Real | None = 0.0 if inside else (None if per_length is None else per_length * rail.length)
    centre = along(middle(rail.start, rail.stop), rail.normal, high / 2)
    axes = (t, rail.normal, cross(t, rail.normal))
    return Solid(rail.path, rail.body, "rail", mass, centre, axes, (rail.length, high, wide), IN_SLIDE if inside else rail.use)


def block_solid(block: Block, rail: Rail, *, inside: bool) -> Solid:
    """A block from the rail's flank to its face."""
    t = unit(subtract(rail.stop, rail.start))
    part = block.part
    height, raceway = _size(part.height, 0.03), _size(part.raceway, 0.0125)
    deep = height * 0.85  # the skirt ends above the rail's foot
    centre = along(block.centre, block.normal, height - raceway - deep / 2)
    size = (_size(part.length, 0.07), deep, _size(part.width, 0.06))
    mass: Real | None = 0.0 if inside else part.mass
    axes = (t, block.normal, cross(t, block.normal))
    return Solid(block.path, block.body, "block", mass, centre, axes, size, IN_SLIDE if inside else block.use)


def drive_solids(fit: DriveFit, driven: Driven, *, inside: bool) -> list[Solid]:
    """The long piece on the body that holds it; what grips it, bearing, motor, coupling and gearbox on theirs.

    Args:
        fit: The drive, in own measures.
        driven: Where its motor sits.
        inside: The screw, its nut and bearing are part of a bought slide, whose mass they are in.
    """
    solids = [_long_piece(fit, inside=inside)]
    if not inside:
        solids.extend(_gripping(fit))
    motor = fit.motor.part if fit.motor is not None else None
    long, side, _ = body_size(motor)
    axes = frame_of(driven.axis)
    if fit.motor is not None:
        solids.append(
            Solid(
                f"{fit.path}.motor", driven.body, "motor", fit.motor.part.mass, driven.at, axes, (long, side, side), fit.motor.use
            )
        )
    if fit.coupling is not None:
        place = along(driven.at, driven.axis, -long / 2 - COUPLING / 2)
        solids.append(
            _small(f"{fit.path}.coupling", driven.body, "coupling", fit.coupling, place, axes, (COUPLING, side / 2, side / 2))
        )
    if fit.reduction.part is not None:
        place = along(driven.at, driven.axis, -long / 2 - side / 2)
        solids.append(_small(f"{fit.path}.reduction", driven.body, "gearbox", fit.reduction.part, place, axes, (side, side, side)))
    return solids


def _gripping(fit: DriveFit) -> Iterator[Solid]:
    """Nut, pinion or pulley at the grip; the fixed bearing at its end."""
    parts = fit.drive.parts
    t = unit(subtract(fit.line[1], fit.line[0]))
    if parts.nut is not None:
        wide = _size(parts.nut.outer, 0.04)
        yield _small(
            f"{fit.path}.nut", fit.grips, "nut", parts.nut, fit.grip, frame_of(t), (_size(parts.nut.length, 0.05), wide, wide)
        )
    if parts.pinion is not None:
        yield _small(f"{fit.path}.pinion", fit.grips, "pinion", parts.pinion, fit.grip, frame_of(t), (0.0, 0.0, 0.0))
    end = fit.line[0] if fit.motor_end_first else fit.line[1]
    if parts.bearing is not None:
        yield _small(f"{fit.path}.bearing", fit.holds, "bearing", parts.bearing, end, frame_of(t), (0.0, 0.0, 0.0))
    if parts.pulley is not None:
        moving = parts.runs != "fixed-belt"
        yield _small(
            f"{fit.path}.pulley",
            fit.holds if moving else fit.grips,
            "pulley",
            parts.pulley,
            end if moving else fit.grip,
            frame_of(t),
            (0.0, 0.0, 0.0),
        )


def _small(
    path: str, body: str, kind: str, part: kinds.Part, centre: Vector, axes: tuple[Vector, Vector, Vector], size: Vector
) -> Solid:
    return Solid(
        path, body, kind, part.mass, centre, axes, size, Use(part=part.id, price=part.price), round=kind in ("nut", "coupling")
    )


def _long_piece(fit: DriveFit, *, inside: bool) -> Solid:
    part = fit.drive.parts.part
    run = unit(subtract(fit.line[1], fit.line[0]))
    long, mass, wide, high, kind = long_piece_size(part, fit.free_length)
    how = IN_SLIDE if inside else fit.use
    size, place = (long, high, wide), middle(*fit.line)
    return Solid(fit.path, fit.holds, kind, 0.0 if inside else mass, place, frame_of(run), size, how, round=kind == "screw")


def long_piece_size(part: kinds.Part, free_length: float) -> tuple[float, Real | None, float, float, str]:
    """Cut length, mass, width, height and kind of solid of a screw, rack or belt.

    Args:
        part: Its row.
        free_length: Bearing to bearing, pulley to pulley, rack end to end.
    """
    if isinstance(part, kinds.BallScrew | kinds.LeadScrew):
        long = free_length + 2 * _size(part.end_loss, 0.0)
        diameter = _size(part.diameter, 0.016)
        per_length: Real = STEEL * pi / 4 * (THREADED * diameter) ** 2 if part.mass_per_length is None else part.mass_per_length
        return long, per_length * long, diameter, diameter, "screw"
    if isinstance(part, kinds.Rack):
        wide, high = _size(part.width, 0.02), _size(part.height, 0.02)
        mass = STEEL * wide * high * free_length if part.mass_per_length is None else part.mass_per_length * free_length
        return free_length, mass, wide, high, "rack"
    if isinstance(part, kinds.Belt):
        wide = _size(part.width, 0.02)
        mass_belt = None if part.mass_per_length is None else part.mass_per_length * 2 * free_length
        return free_length, mass_belt, wide, 0.0, "belt"
    return free_length, part.mass, 0.0, 0.0, "screw"


def _size(value: Real | None, usual: float) -> float:
    """A dimension; a usual one where the row does not say it, for the view alone."""
    return usual if value is None else float(value)
