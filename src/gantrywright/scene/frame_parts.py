"""Pieces of the bodies: bars, plates, what the work lies on, feet, added parts, the cabinet."""

from math import floor

from gantrywright.base.samples import typical
from gantrywright.model.bodies import HolePattern, Layer, Member, Plate, Solid
from gantrywright.model.frame import DIRECTIONS, Vector, cross, dot, scale
from gantrywright.scene.making import Facts, Maker
from gantrywright.scene.shapes import BOX, CYLINDER, cut, ellipse, extrusion, rectangle
from gantrywright.scene.words import LAYERS, SHAPES, WHAT, capital, of_body
from gantrywright.theory.sections.outline import Ring

PAD, STEM, HIGH = 4.0, 1.0, 3.0
"""Diameter of a foot's pad, diameter and height of the whole, over the thread's diameter: for the view; common practice, no source."""
PAD_SHARE = 0.3
"""Height of the pad over that of the foot: for the view."""
FOOT_THREAD = 0.012
"""Thread of a foot whose row does not name it, m: for the view; common practice, no source."""
LUMP_DENSITY = 2000.0
"""An added part without a size is drawn as a cube of this density, kg/m3: for the view; common practice, no source."""
LUMP = 0.03
"""Side of that cube where the mass is unknown, m."""


def draw_member(maker: Maker, member: Member, solid: Solid) -> None:
    """A bar with its real section; its box where only the outer size is known."""
    section = member.section
    what = SHAPES.get(section.shape, "bar")
    facts = _bar_facts(maker, member, solid)
    label = of_body(member.path)
    if not section.outline:
        maker.draw(
            solid, BOX, solid.axes, solid.size, solid.centre, label, what, facts=facts, on=member.path, material=_title(member.material.title),
            section=section.name,
        )  # fmt: skip
        return
    along, height, width = solid.axes
    long, high, wide = solid.size
    maker.draw(
        solid, extrusion(section.outline, section.openings), (scale(along, -1.0), width, height), (long, wide, high), solid.centre, label, what,
        facts=facts, on=member.path, material=_title(member.material.title), section=section.name,
    )  # fmt: skip


def _bar_facts(maker: Maker, member: Member, solid: Solid) -> Facts:
    section = member.section
    filled = [("Filled with", member.fill)] if member.fill else []
    named = [("Section", section.name)] if section.name else []
    return [
        *named, ("Length", maker.said(solid.size[0], "m")), ("Height x width", maker.sizes((section.height, section.width))),
        ("Material", _title(member.material.title)), *filled,
    ]  # fmt: skip


def draw_plate(maker: Maker, plate: Plate, solid: Solid) -> None:
    """A plate as its outline drawn up along its normal, openings and holes cut out."""
    label, what = of_body(plate.path), WHAT["plate"]
    facts = [
        ("Length x width", maker.sizes(plate.size[:2])), ("Thickness", maker.said(plate.size[2], "m")),
        ("Material", _title(plate.material.title)),
    ]  # fmt: skip
    ring = plate.drawn.ring if plate.drawn is not None else rectangle(plate.size[0], plate.size[1])
    openings = (*(plate.drawn.openings if plate.drawn is not None else ()), *_openings(plate), *_holes(plate))
    normal = plate.normal if dot(cross(plate.normal, plate.first), plate.second) > 0.0 else scale(plate.normal, -1.0)
    for outer, inner in cut(ring, openings):
        maker.draw(
            solid, extrusion(outer, inner), (normal, plate.first, plate.second), (plate.size[2], plate.size[0], plate.size[1]), plate.middle,
            label, what, facts=facts, on=plate.path, material=_title(plate.material.title),
        )  # fmt: skip


def _openings(plate: Plate) -> tuple[Ring, ...]:
    rounds = plate.rounds or (False,) * len(plate.openings)
    return tuple(
        ellipse(wide, high, (at, across)) if is_round else rectangle(wide, high, (at, across))
        for (at, across, wide, high), is_round in zip(plate.openings, rounds, strict=True)
    )


def _holes(plate: Plate) -> tuple[Ring, ...]:
    """Holes that go through the plate along its normal and are there already."""
    return tuple(
        ellipse(typical(pattern.size), typical(pattern.size), point)
        for pattern in plate.holes
        if pattern.size is not None and not pattern.planned and _through(plate, pattern)
        for point in pattern.points
    )


def _through(plate: Plate, pattern: HolePattern) -> bool:
    way = DIRECTIONS.get(pattern.face, DIRECTIONS["right"] if pattern.face in ("outer", "inner") else None)
    deep = pattern.depth is None or typical(pattern.depth) >= plate.size[2]
    return way is not None and abs(dot(way, plate.normal)) > 0.99 and deep


def draw_layer(maker: Maker, layer: Layer, solid: Solid) -> None:
    """A sheet of what the work lies on; of webs every web."""
    label = of_body(layer.path)
    what = LAYERS.get(layer.kind, "table sheet")
    material = _title(layer.material.title)
    facts = [("Size", maker.sizes(layer.size)), ("Material", material)]
    openings = _cells(layer)
    if not openings:
        order = (0, 1, 2) if layer.size[0] >= layer.size[1] else (1, 0, 2)  # long side first: it bends along it
        axes, size = tuple(solid.axes[k] for k in order), tuple(solid.size[k] for k in order)
        maker.draw(solid, BOX, axes, size, solid.centre, label, what, facts=facts, on=_top(layer), material=material)  # type: ignore[arg-type]
        return
    x, y, z = solid.axes
    shape = extrusion(rectangle(layer.size[0], layer.size[1]), openings)
    size = (layer.size[2], layer.size[0], layer.size[1])
    facts.append(("Webs", maker.said(layer.web[0] if layer.web else None, "m")))
    maker.draw(solid, shape, (z, x, y), size, solid.centre, label, what, facts=facts, on=_top(layer), material=material)


def _top(layer: Layer) -> str:
    return f"{layer.body}.top"


def _cells(layer: Layer) -> tuple[Ring, ...]:
    """The rooms between webs: one web at each edge and at most a pitch apart, as they are weighed."""
    if layer.web is None:
        return ()
    thick, pitch, across_pitch = layer.web
    wide, deep = layer.size[:2]
    long_is_y = deep >= wide
    short, long = sorted((wide, deep))
    rooms_short = _rooms(short, thick, floor(short / pitch + 1e-9) + 1)
    rooms_long = _rooms(long, thick, floor(long / across_pitch + 1e-9) + 1)
    columns, rows = (rooms_short, rooms_long) if long_is_y else (rooms_long, rooms_short)
    return tuple(rectangle(w, h, (x, y)) for x, w in columns for y, h in rows)


def _rooms(extent: float, thick: float, count: int) -> list[tuple[float, float]]:
    """Middle and width of the rooms between so many webs over an extent."""
    if count < 2:
        return []
    step = (extent - thick) / (count - 1)
    return [(-extent / 2 + thick / 2 + (number + 0.5) * step, step - thick) for number in range(count - 1) if step > thick]


def draw_foot(maker: Maker, solid: Solid, on: str) -> None:
    """A foot: stem and pad under the place that it holds."""
    thread = _thread_of(solid.use.part)
    high, label, what = HIGH * thread, of_body(solid.path), WHAT["foot"]
    x, y, z = solid.centre
    up: tuple[Vector, Vector, Vector] = ((0.0, 0.0, 1.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
    facts = [("Part", solid.use.part)] if solid.use.part else []
    pad = PAD_SHARE * high
    parts = ((STEM * thread, high - pad, z - (high - pad) / 2), (PAD * thread, pad, z - high + pad / 2))
    for wide, long, at in parts:
        maker.draw(solid, CYLINDER, up, (long, wide, wide), (x, y, at), label, what, facts=facts, beyond=True, on=on)


def _thread_of(part: str) -> float:
    """Thread of a foot that is named after it: ``foot-m16-steel``."""
    for word in part.lower().split("-"):
        if word.startswith("m") and word[1:].isdigit():
            return int(word[1:]) * 1e-3
    return FOOT_THREAD


def draw_other(maker: Maker, solid: Solid) -> None:
    """Anything of the bodies that is known by its box alone, or by its mass."""
    label, what = of_body(solid.path), WHAT.get(solid.kind, "part")
    if all(extent > 0.0 for extent in solid.size):
        maker.box(solid, label, what, facts=_held(maker) if solid.kind == "cabinet" else ())
        return
    mass = None if solid.mass is None else typical(solid.mass)
    if solid.kind != "item" or (mass is not None and mass <= 0.0):
        return  # a mass that makes up for a reading stands nowhere
    side = LUMP if mass is None else (mass / LUMP_DENSITY) ** (1 / 3)
    facts = [("Size", "not given: drawn as a cube")]
    maker.draw(solid, BOX, solid.axes, (side, side, side), solid.centre, label, what, facts=facts, beyond=True)


def _held(maker: Maker) -> Facts:
    """What sits in the cabinet: it has no place of its own."""
    machine = maker.machine
    supplies = [
        (f"Supply, {supply.name}", supply.part.title or supply.part.id) for supply in machine.supplies if supply.part is not None
    ]
    drivers = [
        (f"Driver, {fit.path.removeprefix('axis.').replace('.drive.', ' ')}", fit.driver.part.title or fit.driver.part.id)
        for axis in machine.axes
        for fit in axis.drives
        if fit.driver is not None
    ]
    fitted = machine.controller
    controller = [("Controller", fitted.part.title or fitted.part.id)] if fitted is not None else []
    inverter = machine.spindle.inverter if machine.spindle is not None else None
    return [*supplies, *drivers, *controller, *([("Inverter", inverter.title or inverter.id)] if inverter is not None else [])]


def _title(title: str) -> str:
    return capital(title)
