"""What hangs together, what rides along without carrying, and what lacks a joint on the way from the tool to the ground."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from gantrywright.model.bodies import JointStiffness
from gantrywright.model.frame import Vector, middle
from gantrywright.model.machine import Machine
from gantrywright.theory.frames.skeleton import GROUND, Anchor, Bar, Tie

RIDES = (1e9, 1e9, 1e9, 1e7, 1e7, 1e7)
"""Springs that keep a part on the nearest one of its body: its mass counts, it carries nothing; N/m and N m/rad."""
SQUARE: tuple[Vector, Vector, Vector] = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))


class Joined:
    """Which bars hang together by ties, the ground among them."""

    def __init__(self, bars: int, ties: Iterable[Tie]) -> None:
        """Take the number of bars, and the ties between them."""
        self._leader = list(range(bars + 1))  # the ground is the last
        for tie in ties:
            self.join(tie.a.bar, tie.b.bar)

    def join(self, one: int, other: int) -> None:
        """Tie two bars."""
        self._leader[self.root(one)] = self.root(other)

    def root(self, bar: int) -> int:
        """The one that stands for all that hang together with a bar."""
        at = len(self._leader) - 1 if bar == GROUND else bar
        while self._leader[at] != at:
            at = self._leader[at]
        return at

    def stands(self, bar: int) -> bool:
        """Whether a bar hangs together with the ground."""
        return self.root(bar) == self.root(GROUND)


@dataclass(frozen=True, slots=True)
class Adrift:
    """Parts that carry tool or work and are held by nothing."""

    parts: Mapping[str, str] = field(default_factory=dict)
    """What each carries, in words, by path; joined to nothing at all."""
    lacking: tuple[str, ...] = ()
    """What must be known, or made, before they are held."""


def adrift(machine: Machine, bars: list[Bar], joined: Joined, ends: Iterable[int]) -> Adrift:
    """What lacks a joint between the ground and some bars: of each the body that is nearest to the ground.

    Args:
        machine: Placed.
        bars: Of its skeleton.
        joined: By all ties that it has.
        ends: Bars of the tool and under the work.
    """
    parts: dict[str, str] = {}
    lacking: list[str] = []
    for group in dict.fromkeys(joined.root(end) for end in ends if not joined.stands(end)):
        loose = [bar for number, bar in enumerate(bars) if joined.root(number) == group]
        body = next(link.body for link in machine.links if any(bar.body == link.body for bar in loose))
        own = {bar.part: carries(machine, bar.part) for bar in loose if bar.body == body}
        bearing = {part: words for part, words in own.items() if words} or own
        unknown = _without_springs(machine, own)
        lacking += [f"{path}.stiffness" for path in unknown] or [
            f"a joint that holds {_named(part, words)}" for part, words in bearing.items()
        ]
        parts |= {} if unknown else bearing
    return Adrift(parts, tuple(lacking))


def _named(part: str, words: str) -> str:
    return f"{part}, which {words}" if words else part


def carries(machine: Machine, part: str) -> str:
    """What a part carries, in words; empty where nothing that moves or is worked lies on it."""
    if any(rail.on == part for axis in machine.axes for rail in axis.rails):
        return "carries rails"
    if machine.spindle is not None and machine.spindle.on == part:
        return "carries the spindle"
    return "is bolted to blocks" if any(block.on == part for axis in machine.axes for block in axis.blocks) else ""


def _without_springs(machine: Machine, parts: Iterable[str]) -> list[str]:
    """Joints of parts whose springs are not known: what is joined so is not joined to nothing."""
    held = set(parts)
    return [joint.path for joint in machine.joints if (joint.a in held) != (joint.b in held) and _unknown(joint.stiffness)]


def _unknown(springs: JointStiffness) -> bool:
    return any(value is None for value in (springs.n, springs.a, springs.b, springs.rn, springs.ra, springs.rb))


def carried_along(bars: list[Bar], joined: Joined, notes: dict[str, str]) -> list[Tie]:
    """Ties that keep bars which nothing holds on the nearest bar of their body, so that their mass counts and they carry nothing."""
    kept: list[Tie] = []
    for number, bar in enumerate(bars):
        if joined.stands(number):
            continue
        others = [k for k, other in enumerate(bars) if other.body == bar.body and joined.stands(k)]
        if not others:
            continue
        at = middle(bar.start, bar.stop)
        near = min(others, key=lambda k: _apart(bars[k], at))
        notes[bar.part] = "is joined to nothing: it is carried along and carries nothing"
        kept.append(
            Tie(part=f"{bar.part} + {bars[near].part}", kind="joint", a=Anchor(near, at), b=Anchor(number, at), axes=SQUARE, stiffness=RIDES)
        )  # fmt: skip
        joined.join(number, near)
    return kept


def _apart(bar: Bar, point: Vector) -> float:
    return sum((here - there) ** 2 for here, there in zip(middle(bar.start, bar.stop), point, strict=True))
