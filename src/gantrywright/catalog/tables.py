"""The parts tables: the packaged ones, and the user's own over them row by row."""

from collections.abc import Iterator
from functools import cache, lru_cache
from importlib.resources import files
from pathlib import Path

from gantrywright.base.errors import FileProblems, NotFound, Problem
from gantrywright.base.names import nearest_sentence
from gantrywright.catalog.kinds import KINDS
from gantrywright.catalog.reader import Table, index_table, problems_of, read_row
from gantrywright.catalog.rows import Cell, Row, defaults_of, make_record, read_cell, record_of

__all__ = ["Catalog", "Cell", "Row", "defaults_of", "make_record", "packaged", "packaged_problems", "read_cell", "record_of"]


class Catalog:
    """Every part that can be named.

    A kind is read when a part of it is asked for; the packaged tables are read once a process.
    """

    def __init__(self, folder: Path | None = None) -> None:
        """Take the packaged tables, and the user's where there are any.

        Args:
            folder: ``parts/`` beside a machine file; it need not be there.

        Raises:
            FileProblems: Everything that is wrong in the user's tables.
        """
        self._own = _own_tables(folder) if folder is not None and folder.is_dir() else {}

    def find(self, kind: str, id: str) -> Row:
        """The row of a part.

        Raises:
            NotFound: Lists the nearest names, or says of which kind the name is.
        """
        for table in self._tables(kind):
            if id in table.index:
                return read_row(table, id) if table.own else _packaged_row(kind, id)
        elsewhere = self.kinds_of(id)
        if elsewhere:
            raise NotFound(f"no {kind} {id!r}; a part of that name is a {' or a '.join(elsewhere)}")
        raise NotFound(f"no {kind} {id!r}{nearest_sentence(id, self.names(kind)) or f'; gantrywright parts {kind} lists them'}")

    def names(self, kind: str) -> tuple[str, ...]:
        """The ids of a kind, the packaged ones first, each in the order of its table."""
        return tuple(dict.fromkeys(id for table in reversed(tuple(self._tables(kind))) for id in table.index))

    def own_names(self, kind: str) -> tuple[str, ...]:
        """The ids of a kind that the user's own table has."""
        return tuple(self._own[kind].index) if kind in self._own else ()

    def rows(self, kind: str) -> tuple[Row, ...]:
        """Every row of a kind."""
        return tuple(self.find(kind, id) for id in self.names(kind))

    def kinds_of(self, id: str) -> tuple[str, ...]:
        """The kinds that have a part of this name."""
        return tuple(kind for kind in KINDS if any(id in table.index for table in self._tables(kind)))

    def _tables(self, kind: str) -> Iterator[Table]:
        """The tables of a kind, the one that wins first."""
        if kind not in KINDS:
            raise NotFound(f"no kind of part {kind!r}{nearest_sentence(kind, KINDS)}")
        if kind in self._own:
            yield self._own[kind]
        yield packaged(kind)


@cache
def packaged(kind: str) -> Table:
    """The packaged table of a kind; empty where the package has none."""
    name = f"{kind}.csv"
    file = files("gantrywright.data").joinpath("parts", name)
    return index_table(kind, file.read_text("utf-8") if file.is_file() else "", f"data/parts/{name}")


@lru_cache(maxsize=4096)
def _packaged_row(kind: str, id: str) -> Row:
    return read_row(packaged(kind), id)


def packaged_problems() -> tuple[Problem, ...]:
    """Everything that is wrong in the packaged tables; the tests keep it empty."""
    return tuple(problem for kind in KINDS for problem in problems_of(packaged(kind)))


def _own_tables(folder: Path) -> dict[str, Table]:
    tables, problems = {}, []
    for path in sorted(folder.glob("*.csv")):
        if path.stem not in KINDS:
            near = nearest_sentence(path.stem, KINDS)
            problems.append(Problem(str(path), 0, "", f"no kind of part {path.stem!r}{near}; a table is named after its kind"))
            continue
        try:
            text = path.read_text("utf-8")
        except UnicodeDecodeError as wrong:
            problems.append(Problem(str(path), 0, "", f"is not UTF-8 text (byte {wrong.start}); save it as CSV UTF-8"))
            continue
        tables[path.stem] = index_table(path.stem, text, str(path), own=True)
        problems.extend(problems_of(tables[path.stem]))
    if problems:
        raise FileProblems(problems)
    return tables
