"""Pieces of the drives: screws, nuts, bearings, racks, pinions, belts, pulleys, couplings, gearboxes, motors."""

from math import cos, pi

from gantrywright.base.samples import typical
from gantrywright.catalog import kinds
from gantrywright.model.axis import Axis, DriveFit
from gantrywright.model.bodies import Solid
from gantrywright.model.frame import Vector, along, cross, dot, scale, subtract, unit
from gantrywright.scene.making import Axes, Maker, length_of
from gantrywright.scene.shapes import BOX, CYLINDER, extrusion, rectangle
from gantrywright.scene.words import SCREWS, WHAT, motor_words, of_axis

JOURNAL = 0.7
"""Diameter of a screw's turned ends over its own, where no bearing says it: for the view; common practice, no source."""
COLLAR, COLLAR_LONG = 0.33, 0.22
"""A nut's flange over its bolt circle, as a share of the nut's diameter, and its share of the nut's length: for the view."""
HOUSING, HOUSING_LONG = 2.5, 1.8
"""Side and length of a screw bearing's housing over the bore: for the view; common practice, no source."""
BELT = 0.0025
"""Thickness of a belt, m: for the view; common practice, no source."""
RIM = 0.006
"""What a pulley is wider than its belt, m: for the view; common practice, no source."""
CHAMFER = 0.09
"""Corners cut off a motor's body, over its side: for the view."""
CAP, CAP_SIDE = 0.18, 0.86
"""Length of an encoder's cap over the motor's length, its side over the flange: for the view."""
SHAFT, SHAFT_LONG = 0.008, 0.022
"""Diameter where no row says it, and length, of a motor's shaft, m: for the view; common practice, no source."""


def draw_drive_part(maker: Maker, axis: Axis, fit: DriveFit, solid: Solid) -> None:
    """Any solid of a drive."""
    if solid.path == fit.path:
        _LONG.get(solid.kind, _box)(maker, axis, fit, solid)
    else:
        _OTHER.get(solid.kind, _box)(maker, axis, fit, solid)


def _box(maker: Maker, axis: Axis, fit: DriveFit, solid: Solid) -> None:
    del axis, fit
    what = WHAT.get(solid.kind, "drive part")
    if all(extent > 0.0 for extent in solid.size):
        maker.box(solid, of_axis(solid.path, what), what)


def _name(fit: DriveFit, what: str) -> str:
    return of_axis(fit.path, what)


# ---- screws


def _screw(maker: Maker, axis: Axis, fit: DriveFit, solid: Solid) -> None:
    """Thread between the bearings, turned ends beyond them, a bearing at the far end where it is held there."""
    parts = fit.drive.parts
    what = SCREWS.get(parts.kind, ("screw", "nut"))[0]
    row = parts.part
    long, wide = solid.size[0], solid.size[1]
    facts = [
        ("Kind", row.title or row.id),
        ("Length", maker.said(long, "m")),
        ("Between bearings", maker.said(fit.free_length, "m")),
    ]
    if isinstance(row, kinds.BallScrew | kinds.LeadScrew):
        facts += maker.facts(("Diameter", row.diameter, "m"), ("Root diameter", row.root, "m"), ("Lead", row.lead, "m"))
    facts.append(("Ends", str(parts.ends).replace("-", ", ")))
    end = min((long - fit.free_length) / 2, 0.3 * long)
    journal = min(JOURNAL * wide, wide if parts.bearing is None else length_of(parts.bearing.bore, JOURNAL * wide))
    runs = [(0.0, long - 2 * end, wide)]
    if end > 1e-6:
        runs += [((long - end) / 2, end, journal), ((end - long) / 2, end, journal)]
    for shift, run, diameter in runs:
        place = along(solid.centre, solid.axes[0], shift)
        maker.draw(solid, CYLINDER, solid.axes, (run, diameter, diameter), place, _name(fit, what), what, facts=facts)
    _far_bearing(maker, axis, fit, solid)


def _far_bearing(maker: Maker, axis: Axis, fit: DriveFit, solid: Solid) -> None:
    """The bearing of the far end: it has no row of its own, so it has no mass and no box."""
    del axis
    parts = fit.drive.parts
    held = "free" not in str(parts.ends).partition(" or ")[0].partition("-")[2]
    if not held or parts.bearing is None:
        return
    bore = length_of(parts.bearing.bore, 0.012)
    side = HOUSING * bore
    far = fit.line[1] if fit.motor_end_first else fit.line[0]
    what = "screw bearing, far end"
    weightless = Solid(f"{fit.path}.bearing", solid.body, "bearing", None, far, solid.axes, (0.0, 0.0, 0.0))
    maker.draw(weightless, BOX, solid.axes, (bore, side, side), far, _name(fit, what), what, beyond=True)


def _bearing(maker: Maker, axis: Axis, fit: DriveFit, solid: Solid) -> None:
    del axis
    part = fit.drive.parts.bearing
    bore = length_of(part.bore if part is not None else None, 0.012)
    side = HOUSING * bore
    what = "screw bearing, motor end"
    facts = [("Kind", part.title or part.id), *maker.facts(("Bore", part.bore, "m"))] if part is not None else []
    maker.draw(
        solid, BOX, solid.axes, (HOUSING_LONG * bore, side, side), solid.centre, _name(fit, what), what, facts=facts, beyond=True
    )


def _nut(maker: Maker, axis: Axis, fit: DriveFit, solid: Solid) -> None:
    """Barrel and flange; the flange looks towards the motor."""
    del axis
    parts = fit.drive.parts
    what = SCREWS.get(parts.kind, ("screw", "nut"))[1]
    if parts.turns == "nut":
        what = f"turning {what}"
    part = parts.nut
    facts = [("Kind", part.title or part.id)] if part is not None else []
    facts += [("Length", maker.said(solid.size[0], "m")), ("Diameter", maker.said(solid.size[1], "m"))]
    maker.draw(solid, CYLINDER, solid.axes, solid.size, solid.centre, _name(fit, what), what, facts=facts)
    if part is None or part.bolt_circle is None:
        return
    circle = typical(part.bolt_circle)
    wide, thick = circle + COLLAR * solid.size[1], COLLAR_LONG * solid.size[0]
    shift = (solid.size[0] - thick) / 2 * (-1.0 if fit.motor_end_first else 1.0)
    place = along(solid.centre, solid.axes[0], shift)
    maker.draw(solid, CYLINDER, solid.axes, (thick, wide, wide), place, _name(fit, what), what, facts=facts, beyond=True)


# ---- racks


def _rack(maker: Maker, axis: Axis, fit: DriveFit, solid: Solid) -> None:
    del axis
    row = fit.drive.parts.part
    facts = [("Kind", row.title or row.id), ("Length", maker.said(solid.size[0], "m"))]
    if isinstance(row, kinds.Rack):
        facts += maker.facts(("Module", row.module, "m"), ("Height", row.height, "m"), ("Width", row.width, "m"))
    maker.draw(solid, BOX, solid.axes, solid.size, solid.centre, _name(fit, "rack"), "rack", facts=facts)


def _pinion(maker: Maker, axis: Axis, fit: DriveFit, solid: Solid) -> None:
    part = fit.drive.parts.pinion
    if part is None or part.module is None or part.teeth is None:
        return
    wide = length_of(part.module, 0.001) * (part.teeth / cos(length_of(part.helix, 0.0)) + 2)
    facts = [("Kind", part.title or part.id), ("Teeth", str(part.teeth)), *maker.facts(("Module", part.module, "m"))]
    axes = _about(_shaft(maker, axis, fit), solid.axes)
    size = (length_of(part.width, 0.02), wide, wide)
    maker.draw(solid, CYLINDER, axes, size, solid.centre, _name(fit, "pinion"), "pinion", facts=facts, beyond=True)


# ---- belts


def _belt(maker: Maker, axis: Axis, fit: DriveFit, solid: Solid) -> None:
    """Both runs of a belt that moves, with the pulley of the far end; the one run of a belt that lies still."""
    row = fit.drive.parts.part
    shaft, run = _shaft(maker, axis, fit), solid.axes[0]
    wide, off = solid.size[2], _rolling(fit) / 2
    aside = cross(run, shaft)
    facts = [("Kind", row.title or row.id), ("Length", maker.said(solid.size[0], "m")), ("Width", maker.said(wide, "m"))]
    moving = fit.drive.parts.runs != "fixed-belt"
    what = WHAT["belt"]
    for side in (1.0, -1.0) if moving and off > 0.0 else (1.0,):
        place = along(solid.centre, aside, side * off)
        maker.draw(
            solid, BOX, (run, aside, shaft), (solid.size[0], BELT, wide), place, _name(fit, what), what, facts=facts, beyond=True
        )
    if moving:
        far = fit.line[1] if fit.motor_end_first else fit.line[0]
        idler = Solid(f"{fit.path}.pulley", solid.body, "pulley", None, far, solid.axes, (0.0, 0.0, 0.0))
        _roll(maker, axis, fit, idler, "toothed pulley, far end")


def _pulley(maker: Maker, axis: Axis, fit: DriveFit, solid: Solid) -> None:
    _roll(maker, axis, fit, solid, WHAT["pulley"])


def _roll(maker: Maker, axis: Axis, fit: DriveFit, solid: Solid, what: str) -> None:
    part, row, wide = fit.drive.parts.pulley, fit.drive.parts.part, _rolling(fit)
    if part is None or wide <= 0.0:
        return
    face = length_of(row.width if isinstance(row, kinds.Belt) else None, 0.015) + RIM
    axes = _about(_shaft(maker, axis, fit), solid.axes)
    facts = [("Kind", part.title or part.id), *((("Teeth", str(part.teeth)),) if part.teeth else ())]
    maker.draw(solid, CYLINDER, axes, (face, wide, wide), solid.centre, _name(fit, what), what, facts=facts, beyond=True)


def _rolling(fit: DriveFit) -> float:
    """Pitch diameter of the pulley."""
    part = fit.drive.parts.pulley
    if part is None or part.teeth is None or part.pitch is None:
        return 0.0
    return part.teeth * typical(part.pitch) / pi


def _shaft(maker: Maker, axis: Axis, fit: DriveFit) -> Vector:
    """Direction of the driven shaft of a rack or belt, square to its run: the motor's, else out of the rails."""
    run = unit(subtract(fit.line[1], fit.line[0]))
    motor = next((solid for solid in maker.machine.solids if solid.path == f"{fit.path}.motor"), None)
    wanted = motor.axes[0] if motor is not None else axis.normal
    rest = subtract(wanted, scale(run, dot(wanted, run)))
    return unit(rest) if dot(rest, rest) > 1e-9 else cross(run, axis.across)


def _about(shaft: Vector, axes: Axes) -> Axes:
    """Axes of a disc that turns about a shaft."""
    second = min(axes, key=lambda axis: abs(dot(axis, shaft)))
    second = unit(subtract(second, scale(shaft, dot(second, shaft))))
    return shaft, second, cross(shaft, second)


# ---- motors


def _motor(maker: Maker, axis: Axis, fit: DriveFit, solid: Solid) -> None:
    """Square body with its shaft; a cap behind where it carries an encoder."""
    del axis
    part = fit.motor.part if fit.motor is not None else None
    what = motor_words(part)
    label = _name(fit, "motor")
    facts = [("Kind", part.title or part.id)] if part is not None else []
    facts += [("Frame", part.frame)] if part is not None and part.frame else []
    facts += [("Length", maker.said(solid.size[0], "m")), ("Flange", maker.said(solid.size[1], "m"))]
    if part is not None:
        facts += maker.facts(("Holding torque", part.holding, "N m"), ("Rated torque", part.rated_torque, "N m"))
    axes = _mended(solid.axes)
    long, side = solid.size[0], solid.size[1]
    cap = CAP * long if part is not None and part.type != "stepper" else 0.0
    body = extrusion(rectangle(side, side, chamfer=CHAMFER * side))
    maker.draw(
        solid,
        body,
        axes,
        (long - cap, side, side),
        along(solid.centre, axes[0], -cap / 2),
        label,
        what,
        facts=facts,
        section="square flange",
    )
    if cap:
        small = CAP_SIDE * side
        maker.draw(solid, BOX, axes, (cap, small, small), along(solid.centre, axes[0], (long - cap) / 2), label, what, facts=facts)
    shaft = length_of(part.shaft if part is not None else None, SHAFT)
    place = along(solid.centre, axes[0], -(long + SHAFT_LONG) / 2)
    maker.draw(solid, CYLINDER, axes, (SHAFT_LONG, shaft, shaft), place, label, what, facts=facts, beyond=True)


def _coupling(maker: Maker, axis: Axis, fit: DriveFit, solid: Solid) -> None:
    del axis
    facts = [("Kind", fit.coupling.title or fit.coupling.id)] if fit.coupling is not None else []
    what = WHAT["coupling"]
    maker.draw(solid, CYLINDER, solid.axes, solid.size, solid.centre, _name(fit, what), what, facts=facts)


def _mended(axes: Axes) -> Axes:
    """Right-handed, for a shape that is the same either way."""
    return axes if dot(cross(axes[0], axes[1]), axes[2]) > 0.0 else (axes[0], axes[1], scale(axes[2], -1.0))


_LONG = {"screw": _screw, "rack": _rack, "belt": _belt}
_OTHER = {
    "nut": _nut, "bearing": _bearing, "pinion": _pinion, "pulley": _pulley, "motor": _motor, "coupling": _coupling,
}  # fmt: skip
