"""Which figures name a value or a figure as an input, and which findings rest on it."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field

from gantrywright.findings import Finding
from gantrywright.results.ledger import Figure, Input
from gantrywright.study.study import Study


@dataclass(slots=True)
class Links:
    """Who uses what, of one study."""

    study: Study
    _users: dict[str, list[str]] = field(default_factory=lambda: defaultdict(list))
    """Figures by the place of their inputs."""

    def __post_init__(self) -> None:
        for figure in self.study.results.ledger:
            for path in dict.fromkeys(place for given in figure.inputs if (place := self.leads_to(figure, given))):
                self._users[path].append(figure.path)

    def leads_to(self, figure: Figure, given: Input) -> str:
        """The figure or the full path of the value that an input comes from; empty where it names none.

        A figure may bear the path of the value that it is made of: its own input then means the value.
        """
        if not given.path:
            return ""
        if given.path in self.study.results.ledger and given.path != figure.path:
            return given.path
        stated = self.study.machine.stated.get(given.path)
        return stated.path if stated is not None else ""

    def used_by(self, path: str) -> tuple[str, ...]:
        """Figures that name it as an input."""
        return tuple(user for user in self._users.get(path, ()) if user != path)

    def rests_on(self, path: str) -> tuple[Finding, ...]:
        """Findings whose figure it is, or whose figure follows from it."""
        reached = self._reached([path])
        return tuple(finding for finding in self.study.findings if finding.verdict.figure and finding.verdict.figure in reached)

    def _reached(self, paths: Iterable[str]) -> set[str]:
        found: set[str] = set()
        waiting = list(paths)
        while waiting:
            path = waiting.pop()
            if path not in found:
                found.add(path)
                waiting.extend(self.used_by(path))
        return found
