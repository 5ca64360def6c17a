"""Expands a collection of named tables: recipe, ``each``, ``mirror``, ``repeat``, ``remove``."""

from collections.abc import Callable

from gantrywright.base.names import nearest_sentence
from gantrywright.intake.grammar.shape import Table
from gantrywright.intake.layers import Mirror, Node, merged, mirrored, shifted

MOST = 1000
"""Copies that one ``repeat`` may make."""

Tell = Callable[[str, str], None]
"""Notes a problem: path, message."""


class Siblings:
    """The tables of one collection, layered: made < each < mirror < own."""

    def __init__(
        self, table: Table, written: Node | None, made: Node | None, path: str, mirror: Callable[[], Mirror], tell: Tell
    ) -> None:
        """Take what is needed; `expanded` does the work.

        Args:
            table: Definition of one of the tables.
            written: The collection as written, typed.
            made: What a recipe or slide made.
            path: Of the collection.
            mirror: Gives the mirror plane when one is needed.
            tell: Notes a problem.
        """
        self._table = table
        self._written = written or Node()
        self._made = made or Node()
        self._path = path
        self._mirror = mirror
        self._tell = tell
        self._each = self._written.node("each")
        self._known: dict[str, Node | None] = {}
        self._open: set[str] = set()

    def expanded(self) -> dict[str, Node]:
        """Every table by name, in the order of making and writing, copies in the place of what they copy."""
        names = list(dict.fromkeys([*self._made, *(name for name in self._written if name != "each")]))
        found: dict[str, Node] = {}
        for name in names:
            if name in found or self._copied(name) is not None:
                continue  # an own table of one copy
            node = self.resolved(name, ())
            if node is None:
                continue
            repeat = _times(node)
            if repeat is None:
                found[name] = node
                continue
            if not 1 <= repeat[0] <= MOST:
                self._tell(f"{self._path}.{name}.repeat.count", f"{repeat[0]} copies; allowed are 1 to {MOST}")
                continue
            for number in range(1, repeat[0] + 1):
                copy = self.resolved(f"{name}-{number}", ())
                if copy is not None:
                    found[f"{name}-{number}"] = copy
        return found

    def resolved(self, name: str, ring: tuple[str, ...]) -> Node | None:
        """One table with all its layers; None where it is removed or cannot be had."""
        if name not in self._known:
            if name in self._open:
                return None
            self._open.add(name)
            self._known[name] = self._resolve(name, ring)
            self._open.remove(name)
        return self._known[name]

    def _resolve(self, name: str, ring: tuple[str, ...]) -> Node | None:
        own = self._written.node(name)
        below = self._copied(name)
        made = self._made.node(name)
        if own is not None and own.value("remove") is True:
            if below is None and made is None and len(own) == 1:  # with other keys it was laid on a copy that it removes
                known = [other for other in (*self._made, *self._written) if other not in ("each", name)]
                self._tell(
                    f"{self._path}.{name}", f"nothing called '{name}' was made that could be removed{nearest_sentence(name, known)}"
                )
            return None
        node = below if below is not None else made
        if self._each is not None and below is None:
            node = merged(node, self._each)
        target = own.value("mirror") if own is not None else None
        if target:
            copy = self._mirrored(name, str(target), ring)
            if copy is None:
                return None
            node = merged(node, copy)
        if own is not None:
            node = merged(node, own)
        if node is not None and "mirror" in node:
            node = Node({key: leaf for key, leaf in node.items() if key != "mirror"}, whole=node.whole)
        return node

    def _mirrored(self, name: str, target: str, ring: tuple[str, ...]) -> Node | None:
        place = f"{self._path}.{name}.mirror"
        if target in (*ring, name):
            self._tell(place, f"mirrors run in a ring: {' -> '.join((*ring, name, target))}")
            return None
        if target not in self._written and target not in self._made and self._copied(target) is None:
            known = [other for other in (*self._made, *self._written) if other not in ("each", name)]
            self._tell(place, f"no '{target}' in {self._path}{nearest_sentence(target, known)}")
            return None
        other = self.resolved(target, (*ring, name))
        if other is None:
            return None
        return mirrored(other, self._table, self._mirror(), f"{self._path}.{target}")

    def _copied(self, name: str) -> Node | None:
        """The copy that a ``repeat`` made under this name."""
        stem, _, number = name.rpartition("-")
        if not stem or not number.isdecimal() or number.startswith("0") or (stem not in self._written and stem not in self._made):
            return None
        node = self.resolved(stem, ())
        times = _times(node) if node is not None else None
        if node is None or times is None or int(number) > times[0]:
            return None
        return shifted(node, self._table, times[1], int(number) - 1)


def _times(node: Node) -> tuple[int, tuple[float, ...]] | None:
    """Count and step of a ``repeat`` that could be read."""
    repeat = node.node("repeat")
    if repeat is None:
        return None
    count, step = repeat.value("count"), repeat.value("step")
    return (count, step) if count is not None and step is not None else None
