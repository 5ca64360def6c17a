"""Origins of all values, gathered only when somebody asks: most machines are resolved to be computed, not to be explained."""

from collections.abc import Callable, Iterator, Mapping

from gantrywright.base.spread import Origin


class LazyOrigins(Mapping[str, Origin]):
    """Origins by path."""

    __slots__ = ("_found", "_gather")

    def __init__(self, gather: Callable[[], Mapping[str, Origin]]) -> None:
        """Take the function that gathers them."""
        self._gather = gather
        self._found: Mapping[str, Origin] | None = None

    def _all(self) -> Mapping[str, Origin]:
        if self._found is None:
            self._found = self._gather()
        return self._found

    def __getitem__(self, path: str) -> Origin:
        return self._all()[path]

    def __iter__(self) -> Iterator[str]:
        return iter(self._all())

    def __len__(self) -> int:
        return len(self._all())
