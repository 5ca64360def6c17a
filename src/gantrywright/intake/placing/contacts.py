"""The mating face of a joint as its springs see it: frame, extent, whose end touches; and where two slanted parts meet."""

from dataclasses import dataclass

from gantrywright.intake.geometry.frames import half_extent, tidy
from gantrywright.intake.placing.touching import Patch
from gantrywright.model.bodies import Solid
from gantrywright.model.frame import ZERO, Vector, add, along, cross, dot, length, middle, scale, subtract, unit

ENDWISE = 0.5
"""A bar whose axis has more than this share along the normal touches with its end."""
FLAT = 0.2
"""An axis with less than this share along the normal lies in the face."""
NEAR = 0.010
"""An end of a bar that stays this far off a part still meets it, m."""
TURNS = 60
"""Steps between two boxes until their nearest points are found."""


@dataclass(frozen=True, slots=True)
class Contact:
    """Where two parts meet, in the measures of the ground body."""

    a: Solid
    b: Solid
    middle: Vector
    frame: tuple[Vector, Vector, Vector]
    """n out of a; a along the height of the section whose end touches, else of the first that lies in the face; b = n x a."""
    size: tuple[float, float]
    """Extent along a and b, m."""
    patch: Vector = ZERO
    """Extent along x, y, z where they share a face square to the machine."""

    @property
    def solids(self) -> tuple[Solid, Solid]:
        """Both parts."""
        return (self.a, self.b)

    @property
    def normal(self) -> Vector:
        """Out of a."""
        return self.frame[0]

    def by_end(self, solid: Solid) -> bool:
        """Whether it is the end of this bar that touches."""
        return solid.kind == "member" and abs(dot(solid.axes[0], self.normal)) > ENDWISE

    @property
    def is_end(self) -> bool:
        """Whether a bar touches with its end."""
        return self.by_end(self.a) or self.by_end(self.b)

    def extent(self, direction: Vector) -> float:
        """Extent along a direction of the face."""
        _, a, b = self.frame
        return self.size[0] * abs(dot(a, direction)) + self.size[1] * abs(dot(b, direction))


def contact_of(patch: Patch) -> Contact:
    """The contact of two parts that share a face square to the machine."""
    frame = _frame(patch.normal, patch.a, patch.b)
    return Contact(
        patch.a, patch.b, patch.middle, frame, (_measured(patch.size, frame[1]), _measured(patch.size, frame[2])), patch.size
    )


def _measured(size: Vector, axis: Vector) -> float:
    """What an upright box measures along an axis."""
    return size[0] * abs(axis[0]) + size[1] * abs(axis[1]) + size[2] * abs(axis[2])


def contact_between(a: Solid, b: Solid, at: Vector | None = None) -> Contact:
    """The contact of two parts that share no such face: at the end of a bar that meets the other, else where they come nearest.

    Args:
        a: One part.
        b: The other.
        at: The end that the file names.
    """
    place, normal = _meeting(a, b, at)
    frame = _frame(normal, a, b)
    size = tuple(min(_foot(solid, axis, normal) for solid in (a, b)) for axis in frame[1:])
    return Contact(a, b, place, frame, (size[0], size[1]))


def _frame(normal: Vector, a: Solid, b: Solid) -> tuple[Vector, Vector, Vector]:
    ends = [solid for solid in (a, b) if solid.kind == "member" and abs(dot(solid.axes[0], normal)) > ENDWISE]
    bars = [solid for solid in (a, b) if solid.kind == "member"]
    for solid in (*ends, *bars, a):
        order = (1, 2, 0) if solid.kind == "member" else (0, 1, 2)
        for number in order:
            first = solid.axes[number]
            lean = dot(first, normal)
            if abs(lean) < FLAT or (number == 1 and solid in ends):
                return _laid(normal, first, lean)
    rest = (0.0, 0.0, 1.0) if abs(normal[2]) < ENDWISE else (1.0, 0.0, 0.0)
    return _laid(normal, rest, dot(rest, normal))


def _laid(normal: Vector, axis: Vector, lean: float) -> tuple[Vector, Vector, Vector]:
    """A frame whose second axis is a direction laid into the face."""
    if lean:
        axis = tidy(unit(subtract(axis, scale(normal, lean))))
        return normal, axis, tidy(cross(normal, axis))
    return normal, axis, cross(normal, axis)


def _foot(solid: Solid, axis: Vector, normal: Vector) -> float:
    """What a part covers of the face along an axis of it; a bar that lies in the face is a strip, so it ends only across itself."""
    if solid.kind != "member":
        return 2 * half_extent(solid, axis)
    x, height, width = solid.axes
    wide = abs(dot(height, axis)) * solid.size[1] + abs(dot(width, axis)) * solid.size[2]
    if abs(dot(x, normal)) > ENDWISE:
        return wide
    slope = 1 - dot(x, axis) ** 2
    return wide / slope if slope > 1e-9 else solid.size[0]


# ---- where two parts meet


def _meeting(a: Solid, b: Solid, at: Vector | None) -> tuple[Vector, Vector]:
    """A point of the joint and the normal out of a."""
    if at is not None:
        from_a = _beyond(a, at) < _beyond(b, at)
        return at, _face_normal(b, a, at) if from_a else scale(_face_normal(a, b, at), -1.0)
    best: tuple[float, Vector, Solid, Solid] | None = None
    for bar, other in ((a, b), (b, a)):
        if bar.kind != "member":
            continue
        for sign in (-0.5, 0.5):
            end = along(bar.centre, bar.axes[0], sign * bar.size[0])
            gap = length(subtract(end, _inside(other, end)))
            if best is None or gap < best[0]:
                best = (gap, end, bar, other)
    if best is not None and best[0] <= max(best[2].size[1:]) / 2 + NEAR:
        _, end, bar, other = best
        normal = _face_normal(other, bar, end)
        return _inside(other, end), normal if bar is a else scale(normal, -1.0)
    one, two = _nearest(a, b)
    apart = subtract(two, one)
    normal = tidy(unit(apart)) if dot(apart, apart) > 1e-12 else _face_normal(b, a, one)
    return middle(one, two), normal


def _beyond(solid: Solid, point: Vector) -> float:
    """Distance of a point from the nearer end of a bar's axis; endless for what is no bar."""
    if solid.kind != "member":
        return float("inf")
    ends = (along(solid.centre, solid.axes[0], sign * solid.size[0]) for sign in (-0.5, 0.5))
    return min(length(subtract(point, end)) for end in ends)


def _face_normal(solid: Solid, other: Solid, point: Vector) -> Vector:
    """Into a part through the side of it that a point lies on or nearest to; of a bar one of its long sides.

    Where the point lies inside by the same depth below two sides, that which faces the other part's middle counts.
    """
    offset, away = subtract(point, solid.centre), subtract(other.centre, solid.centre)
    start = 1 if solid.kind == "member" else 0
    sides = []
    for axis, extent in list(zip(solid.axes, solid.size, strict=True))[start:]:
        place = dot(offset, axis)
        toward = place if abs(place) > 1e-6 else dot(away, axis)
        sides.append((extent / 2 - abs(place), -abs(dot(away, axis)), scale(axis, -1.0 if toward > 0 else 1.0)))
    return tidy(min(sides, key=lambda side: (round(side[0], 6), side[1]))[2])


def _inside(solid: Solid, point: Vector) -> Vector:
    """The point of a box that is nearest to a point."""
    offset, found = subtract(point, solid.centre), solid.centre
    for axis, extent in zip(solid.axes, solid.size, strict=True):
        found = add(found, scale(axis, min(max(dot(offset, axis), -extent / 2), extent / 2)))
    return found


def _nearest(a: Solid, b: Solid) -> tuple[Vector, Vector]:
    """Nearest points of two boxes, by stepping from one to the other: both are convex."""
    one = _inside(a, b.centre)
    two = _inside(b, one)
    for _ in range(TURNS):
        one = _inside(a, two)
        step = _inside(b, one)
        done = length(subtract(step, two)) < 1e-7
        two = step
        if done:
            break
    return one, two
