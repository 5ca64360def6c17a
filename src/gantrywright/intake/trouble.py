"""Gathers problems of all files of a machine, each told once at the line where it was written."""

from collections.abc import Iterator

from gantrywright.base.errors import Problem


class Trouble:
    """Problems by place; a problem of an inherited value lists the parts that inherit it."""

    def __init__(self) -> None:
        self._found: dict[tuple[str, int, str, str], list[str]] = {}

    def add(self, file: str, line: int, path: str, message: str, *, heir: str = "") -> None:
        """Note a problem.

        Args:
            file: Name of the file.
            line: Line of the value as written; 0 where the file has none.
            path: Path of the value as written.
            message: What was read, what is allowed, what to do.
            heir: Path of the part that inherits the value, where that is another.
        """
        heirs = self._found.setdefault((file, line, path, message), [])
        if heir and heir != path and heir not in heirs:
            heirs.append(heir)

    def inherit(self, file: str, line: int, path: str, heir: str) -> None:
        """Note a part that inherits a value of which a problem was told."""
        for (known, number, written, _), heirs in self._found.items():
            if (known, number, written) == (file, line, path) and heir != path and heir not in heirs:
                heirs.append(heir)

    def __iter__(self) -> Iterator[Problem]:
        for (file, line, path, message), heirs in self._found.items():
            also = f" (inherited by {_listed(heirs)})" if heirs else ""
            yield Problem(file, line, path, message + also)

    def __len__(self) -> int:
        return len(self._found)


def _listed(names: list[str], most: int = 4) -> str:
    shown = ", ".join(names[:most])
    return f"{shown} and {len(names) - most} more" if len(names) > most else shown
