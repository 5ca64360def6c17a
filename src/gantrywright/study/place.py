"""Finds the line of a file that a subject was written on."""

from bisect import bisect_left
from collections.abc import Mapping
from pathlib import Path

from gantrywright.base.spread import Origin


class Places:
    """Looks up ``file:line`` of dotted paths among the origins of a machine."""

    def __init__(self, origins: Mapping[str, Origin]) -> None:
        written = {path: origin for path, origin in origins.items() if origin.line and origin.kind != "row"}
        self._paths = sorted(written)
        self._origins = written

    def of(self, subject: str) -> str:
        """``router.toml:41``, of the subject itself or the nearest table above it that stands in a file; else empty."""
        path = subject.split(" ")[0].split("@")[0]
        while path:
            origin = self._origins.get(path) or self._first_below(path)
            if origin is not None:
                return f"{Path(origin.file).name}:{origin.line}"
            path = path.rpartition(".")[0]
        return ""

    def _first_below(self, path: str) -> Origin | None:
        prefix = f"{path}."
        start = bisect_left(self._paths, prefix)
        below = []
        for known in self._paths[start:]:
            if not known.startswith(prefix):
                break
            below.append(self._origins[known])
        return min(below, key=lambda origin: (origin.kind != "file", origin.line), default=None)
