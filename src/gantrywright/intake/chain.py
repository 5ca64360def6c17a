"""The chain of bodies: from the layout, from ``[chain]``, or both."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from gantrywright.base.names import nearest_sentence
from gantrywright.intake.grammar import LAYOUTS
from gantrywright.model.bodies import Link

Tell = Callable[[str, str], None]


@dataclass(frozen=True, slots=True)
class Chain:
    """The bodies and how they hang on each other."""

    links: tuple[Link, ...] = ()
    """Ground first, every body after the one that carries it."""
    work: str = ""
    tool: str = ""

    @property
    def bodies(self) -> tuple[str, ...]:
        """Names, ground first."""
        return tuple(link.body for link in self.links)

    def link(self, body: str) -> Link | None:
        """The link of a body."""
        return next((link for link in self.links if link.body == body), None)

    def carried_by(self, axis: str) -> Link | None:
        """The link that an axis moves."""
        return next((link for link in self.links if link.axis == axis), None)


def body_names(layout: str, written: Mapping[str, Any]) -> list[str]:
    """Names of the bodies of a layout and of ``[chain]``; of every layout where it cannot be known which."""
    unclear = layout not in LAYOUTS or (layout == "own" and not written)
    known = [name for bodies in LAYOUTS.values() for name in bodies] if unclear else [*LAYOUTS[layout]]
    return [name for name in dict.fromkeys([*known, *written]) if name not in ("work", "tool")]


def make_chain(layout: str, written: Mapping[str, Any], axes: Mapping[str, Any], tell: Tell) -> Chain:
    """The chain of a machine.

    Args:
        layout: Word of ``machine.layout``.
        written: Raw table ``[chain]``.
        axes: Raw table ``[axis]``; an axis of the chain must be there.
        tell: Notes a problem.
    """
    known = LAYOUTS.get(layout, {})
    names = body_names(layout, written)
    if layout == "own" and not written:
        tell("chain", 'missing; the layout \'own\' wants every body here, such as bed = {} and gantry = { on = "bed", axis = "y" }')
        return Chain()
    hangs: dict[str, tuple[str, str]] = {}
    for name in names:
        table = {**_table(known.get(name)), **_table(written.get(name))}
        hangs[name] = (_word(table.get("on")), _word(table.get("axis")))
    if not _sound(hangs, axes, tell):
        return Chain()
    work = _word(written.get("work")) or str(known.get("work", ""))
    tool = _word(written.get("tool")) or str(known.get("tool", ""))
    for key, name in (("work", work), ("tool", tool)):
        if name not in hangs:
            found = f"no body '{name}'{nearest_sentence(name, hangs)}" if name else f"missing; name the body of the {key}"
            tell(f"chain.{key}", found)
            return Chain()
    order = _order(hangs, tell)
    sides = _signs(hangs, work, tool)
    return (
        Chain(tuple(Link(name, *hangs[name], sides[name] if hangs[name][1] else 0) for name in order), work, tool)
        if order
        else Chain()
    )


def _table(found: Any) -> Mapping[str, Any]:
    return found if isinstance(found, Mapping) else {}


def _word(found: Any) -> str:
    return found if isinstance(found, str) else ""


def _sound(hangs: Mapping[str, tuple[str, str]], axes: Mapping[str, Any], tell: Tell) -> bool:
    """Whether everything that a link names is there."""
    good = True
    moved: dict[str, str] = {}
    for name, (on, axis) in hangs.items():
        if on and on not in hangs:
            tell(f"chain.{name}.on", f"no body '{on}'{nearest_sentence(on, hangs)}")
            good = False
        if axis and not on:
            tell(f"chain.{name}", f"has the axis '{axis}' but no 'on'; say which body carries it")
            good = False
        if axis and axis not in axes:
            tell(f"chain.{name}.axis", f"no [axis.{axis}] in this file{nearest_sentence(axis, axes)}")
            good = False
        if axis and axis in moved:
            tell(f"chain.{name}.axis", f"axis '{axis}' already moves '{moved[axis]}'; each axis moves one body")
            good = False
        moved.setdefault(axis, name)
    for axis in axes:
        if axis not in moved and axis != "each":
            tell(
                f"axis.{axis}",
                f"moves no body of the chain; the chain has the axes {', '.join(sorted(a for a in moved if a)) or 'none'}",
            )
            good = False
    return good


def _order(hangs: Mapping[str, tuple[str, str]], tell: Tell) -> list[str]:
    """Ground first; empty where there is none, several, or a ring."""
    ground = [name for name, (on, _) in hangs.items() if not on]
    if len(ground) != 1:
        found = f"these bodies stand on nothing: {', '.join(ground)}" if ground else "no body stands on the ground"
        tell("chain", f"{found}; exactly one body has no 'on'")
        return []
    order = list(ground)
    for name in order:  # grows while it is walked
        order.extend(other for other, (on, _) in hangs.items() if on == name)
    left = [name for name in hangs if name not in order]
    if left:
        tell(f"chain.{left[0]}.on", f"bodies hang on each other in a ring: {', '.join(left)}")
        return []
    return order


def _signs(hangs: Mapping[str, tuple[str, str]], work: str, tool: str) -> dict[str, int]:
    """-1 for bodies between ground and work, +1 for all others."""
    tool_side, work_side = set(_upwards(hangs, tool)), set(_upwards(hangs, work))
    return {name: -1 if name in work_side - tool_side else 1 for name in hangs}


def _upwards(hangs: Mapping[str, tuple[str, str]], name: str) -> list[str]:
    found: list[str] = []
    while name and name not in found:
        found.append(name)
        name = hangs[name][0]
    return found
