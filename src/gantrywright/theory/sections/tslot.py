"""T-slot profiles drawn from a few thicknesses, so that their stiffness follows from geometry instead of a maker's table.

The profile is a grid of square modules. Every module has a bored core; every module side that lies on the outside has a slot. Metal is the
outer skin, the lips, the wall round each slot cavity, a block round each core, diagonal webs from the cores to the module corners, ribs
between neighbouring cores, and solid outer corners. Small voids are filled, as a die could not form them.
"""

from dataclasses import dataclass
from functools import cache
from typing import Any

from gantrywright.theory.sections.outline import Outline, Ring, arc_pieces, without_repeats

SIDES = (((1.0, 0.0), (0.0, 1.0)), ((-1.0, 0.0), (0.0, -1.0)), ((0.0, 1.0), (-1.0, 0.0)), ((0.0, -1.0), (1.0, 0.0)))
"""Outward normal and direction along the face of the four sides of a module."""
STRAIGHT_FLANK, STRAIGHT_SHARE = 0.002, 0.05
"""Depth over which the sides of a slot cavity run straight before they slope to its floor: m, but at most this share of the module."""
LEAST_VOID, VOID_SHARE = 12e-6, 0.0075
"""Voids smaller than this are filled: m2, but at most this share of the module squared."""


@dataclass(frozen=True, slots=True)
class TSlot:
    """The thicknesses of a T-slot profile, m."""

    width: float
    height: float
    module: float
    slot: float
    slot_inner: float
    slot_depth: float
    bore: float
    boss: float
    lip: float
    skin: float
    shell: float
    web: float
    radius: float

    @property
    def modules(self) -> tuple[int, int]:
        """Modules along the width and the height."""
        return max(1, round(self.width / self.module)), max(1, round(self.height / self.module))


def core_places(profile: TSlot) -> tuple[tuple[float, float], ...]:
    """Middles of the bores, (width, height) from the middle of the profile, m."""
    across, up = profile.modules
    a, b = profile.width / across, profile.height / up
    return tuple(((i + 0.5) * a - profile.width / 2, (j + 0.5) * b - profile.height / 2) for j in range(up) for i in range(across))


@cache
def tslot_outline(profile: TSlot) -> Outline:
    """Outer ring with its slots, and the closed voids and bores as openings."""
    import shapely

    whole = _rounded_box(profile.width, profile.height, profile.radius)
    cores = [shapely.Point(place) for place in core_places(profile)]
    slots = shapely.union_all([_cavity(profile, face, 0.0) for face in _faces(profile)])
    shells = shapely.union_all([_cavity(profile, face, profile.shell) for face in _faces(profile)])
    skin = whole.difference(_rounded_box(profile.width - 2 * profile.skin, profile.height - 2 * profile.skin, 0.0))
    metal = shapely.union_all(
        [skin, shells, *(_lips(profile, face) for face in _faces(profile)), *_webs(profile), *_corners(profile)]
        + [_rounded_box(2 * profile.boss, 2 * profile.boss, 0.0, core.x, core.y) for core in cores]
    )
    metal = metal.intersection(whole).difference(slots)
    least = min(LEAST_VOID, VOID_SHARE * profile.module**2)
    metal = _largest(metal)
    metal = shapely.Polygon(metal.exterior, [hole for hole in metal.interiors if shapely.Polygon(hole).area > least])
    bores = shapely.union_all([core.buffer(profile.bore / 2, quad_segs=6) for core in cores])
    return _as_outline(_largest(metal.difference(bores)))


def _faces(profile: TSlot) -> list[tuple[tuple[float, float], tuple[float, float], tuple[float, float]]]:
    """Middle of each slotted module side on the outside, its outward normal and the direction along it."""
    across, up = profile.modules
    a, b = profile.width / across, profile.height / up
    found = []
    for number, (x, y) in enumerate(core_places(profile)):
        i, j = number % across, number // across
        outside = (i == across - 1, i == 0, j == up - 1, j == 0)
        for (normal, along), is_outside in zip(SIDES, outside, strict=True):
            if is_outside:
                found.append(((x + normal[0] * a / 2, y + normal[1] * b / 2), normal, along))
    return found


def _on_face(face: Any, points: list[tuple[float, float]]) -> Any:
    """Polygon from (along the face, depth below it) points."""
    import shapely

    (x, y), normal, along = face
    return shapely.Polygon([(x + along[0] * s - normal[0] * d, y + along[1] * s - normal[1] * d) for s, d in points])


def _cavity(profile: TSlot, face: Any, grow: float) -> Any:
    """The slot: opening, cavity with straight flanks, sloping sides and floor; grown for the wall round it."""
    half, depth, straight = (
        profile.slot_inner / 2,
        profile.slot_depth,
        profile.lip + min(STRAIGHT_FLANK, STRAIGHT_SHARE * profile.module),
    )
    floor = max(half - (depth - straight), profile.slot / 2)
    cavity = _on_face(
        face, [(-half, profile.lip), (half, profile.lip), (half, straight), (floor, depth), (-floor, depth), (-half, straight)]
    )
    if grow:
        return cavity.buffer(grow, join_style="mitre")
    over = 1e-4
    opening = _on_face(face, [(-profile.slot / 2, -over), (profile.slot / 2, -over), (profile.slot / 2, profile.lip + over), (-profile.slot / 2, profile.lip + over)])  # fmt: skip
    return cavity.union(opening)


def _lips(profile: TSlot, face: Any) -> Any:
    """The thick zone over the cavity."""
    half = profile.slot_inner / 2
    return _on_face(face, [(-half, 0.0), (half, 0.0), (half, profile.lip), (-half, profile.lip)])


def _webs(profile: TSlot) -> list[Any]:
    """Diagonals from the cores to the module corners, and ribs between neighbouring cores."""
    import shapely

    across, up = profile.modules
    a, b = profile.width / across, profile.height / up
    places = core_places(profile)
    lines = [((x, y), (x + sx * a / 2, y + sy * b / 2)) for x, y in places for sx in (-1, 1) for sy in (-1, 1)]
    lines += [((x, y), (x + a, y)) for n, (x, y) in enumerate(places) if n % across < across - 1]
    lines += [((x, y), (x, y + b)) for n, (x, y) in enumerate(places) if n // across < up - 1]
    return [shapely.LineString(line).buffer(profile.web / 2, cap_style="square") for line in lines]


def _corners(profile: TSlot) -> list[Any]:
    """Solid outer corners, as wide as the lips are thick."""
    size = profile.lip
    x, y = profile.width / 2 - size / 2, profile.height / 2 - size / 2
    return [_rounded_box(size, size, 0.0, sx * x, sy * y) for sx in (-1, 1) for sy in (-1, 1)]


def _rounded_box(width: float, height: float, radius: float, x: float = 0.0, y: float = 0.0) -> Any:
    import shapely

    box = shapely.box(x - width / 2, y - height / 2, x + width / 2, y + height / 2)
    return box.buffer(-radius).buffer(radius, quad_segs=arc_pieces(radius)) if radius else box


def _largest(shape: Any) -> Any:
    return max(getattr(shape, "geoms", [shape]), key=lambda part: part.area)


def _as_outline(shape: Any) -> Outline:
    def ring(line: Any) -> Ring:
        return without_repeats(line.coords)

    return Outline(ring(shape.exterior), tuple(ring(line) for line in shape.interiors))
