"""Pieces of the spindle: body, nose, collet nut, mount, cutter."""

from gantrywright.base.samples import typical
from gantrywright.model.bodies import Solid
from gantrywright.model.frame import along, dot, subtract
from gantrywright.scene.making import Maker, length_of
from gantrywright.scene.shapes import BOX, CYLINDER, ellipse, extrusion, rectangle
from gantrywright.scene.words import WHAT

NOSE, NOSE_LONG = 0.62, 0.5
"""Diameter of the nose over the body's, its share of the length below the body: for the view; common practice, no source."""
COLLET = 0.44
"""Diameter of the collet nut over the body's: for the view; common practice, no source."""
TAIL = 0.12
"""Share of a spindle's length that is nose and collet nut where its row does not say it: for the view."""
SPLIT = 0.9
"""A mount whose bore takes more of its width than this is drawn as a plain box."""


def draw_spindle(maker: Maker, solid: Solid) -> None:
    """Body, nose and collet nut, the collet face at the nose's place."""
    fit = maker.machine.spindle
    if fit is None:
        return
    down = solid.axes[0]
    total, wide = solid.size[0], solid.size[1]
    tail = length_of(fit.part.nose, 0.0) or TAIL * total
    nose = NOSE_LONG * tail
    label, what = "Spindle", WHAT["spindle"]
    facts = [
        ("Kind", fit.part.title or fit.part.id), ("Diameter", maker.said(wide, "m")), ("Length", maker.said(total, "m")),
        *maker.facts(("Power", fit.part.power, "W"), ("Highest speed", fit.part.highest, "rad/s")), ("Cooling", fit.cooling),
        *((("Collet", fit.part.collet),) if fit.part.collet else ()),
    ]  # fmt: skip
    runs = ((total - tail, wide, what), (nose, NOSE * wide, what), (tail - nose, COLLET * wide, "collet nut"))
    top = -total / 2
    for long, diameter, name in runs:
        place = along(solid.centre, down, top + long / 2)
        top += long
        said = label if name == what else "Collet nut"
        maker.draw(solid, CYLINDER, solid.axes, (long, diameter, diameter), place, said, name, facts=facts, on="spindle")


def draw_mount(maker: Maker, solid: Solid) -> None:
    """A clamp with the spindle's bore through it."""
    fit = maker.machine.spindle
    down, side, normal = solid.axes
    long, wide, deep = solid.size
    label, what = "Spindle mount", WHAT["mount"]
    facts = [("Size", maker.sizes(solid.size))]
    on = fit.on if fit is not None else ""
    bore = length_of(fit.part.diameter, 0.08) if fit is not None else 0.0
    at = (0.0, 0.0)
    if fit is not None:
        step = subtract(fit.nose, solid.centre)
        at = (dot(step, side), dot(step, normal))
    clear = bore / 2 < SPLIT * min(wide / 2 - abs(at[0]), deep / 2 - abs(at[1]))
    if bore <= 0.0 or not clear:
        maker.draw(solid, BOX, solid.axes, solid.size, solid.centre, label, what, facts=facts, on=on)
        return
    shape = extrusion(rectangle(wide, deep), (ellipse(bore, bore, at),))
    maker.draw(solid, shape, (down, side, normal), (long, wide, deep), solid.centre, label, what, facts=facts, on=on)


def draw_cutter(maker: Maker, solid: Solid) -> None:
    """Shank and flutes below the collet."""
    tool = maker.machine.tool
    if tool is None:
        return
    down = solid.axes[0]
    long, wide = solid.size[0], solid.size[1]
    cutter = tool.cutter
    label, what = "Cutter", WHAT["cutter"]
    facts = [
        ("Kind", cutter.title or cutter.id), *maker.facts(("Diameter", cutter.diameter, "m"), ("Stick-out", tool.stick_out, "m")),
        *((("Flutes", str(cutter.flutes)),) if cutter.flutes else ()), *maker.facts(("Length of its flutes", cutter.flute_length, "m")),
    ]  # fmt: skip
    flutes = min(long, long if cutter.flute_length is None else typical(cutter.flute_length))
    shank = min(length_of(cutter.shank, wide), 4 * wide)
    maker.draw(
        solid,
        CYLINDER,
        solid.axes,
        (flutes, wide, wide),
        along(solid.centre, down, (long - flutes) / 2),
        label,
        what,
        facts=facts,
        on="tool.cutter",
    )
    if long - flutes > 1e-6:
        place = along(solid.centre, down, -flutes / 2)
        size = (long - flutes, shank, shank)
        maker.draw(solid, CYLINDER, solid.axes, size, place, label, what, facts=facts, on="tool.cutter", beyond=shank > wide)
