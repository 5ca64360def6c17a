"""Rows of the parts tables as entries: the machine's own ``[part.NAME]`` over the user's tables over the packaged ones."""

from collections.abc import Callable, Iterable, Mapping
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

from gantrywright.base.errors import FileProblems, NotFound, UnreadableText
from gantrywright.base.names import nearest_sentence
from gantrywright.base.quantities import parse
from gantrywright.base.spread import Origin
from gantrywright.catalog.columns import columns_of
from gantrywright.catalog.kinds import KINDS, Part
from gantrywright.catalog.tables import Catalog, Cell, Row, defaults_of, make_record
from gantrywright.intake.document import Document
from gantrywright.intake.tree import Branch, Entry
from gantrywright.intake.trouble import Trouble


class MachineCatalog(Catalog):
    """The parts tables with the rows that one machine file adds."""

    def __init__(self, users: Catalog | None = None) -> None:
        """Take the tables as they are; rows are added while the file is read."""
        super().__init__()
        if users is not None:
            self._own = users._own
        self._added: dict[tuple[str, str], Row] = {}

    def add(self, row: Row) -> None:
        """A row of the machine's own; it wins over every table."""
        self._added[row.kind, row.id] = row

    def find(self, kind: str, id: str) -> Row:
        """The row of a part; raises `NotFound` as `Catalog` does."""
        return self._added.get((kind, id)) or super().find(kind, id)

    def names(self, kind: str) -> tuple[str, ...]:
        """The ids of a kind."""
        return tuple(dict.fromkeys((*super().names(kind), *(id for own, id in self._added if own == kind))))

    def kinds_of(self, id: str) -> tuple[str, ...]:
        """The kinds that have a part of this name."""
        return tuple(dict.fromkeys((*(kind for kind, own in self._added if own == id), *super().kinds_of(id))))


class Rows:
    """Parts rows as entries."""

    def __init__(self, catalog: MachineCatalog, trouble: Trouble, file: str, lost: frozenset[str] = frozenset()) -> None:
        """Take the tables; ``file`` is the machine file's name, ``lost`` the kinds whose own tables could not be read."""
        self._lost = lost
        self.catalog = catalog
        self.convert: Callable[[float, str], float] | None = None
        """Brings a price to the machine's currency."""
        self._trouble = trouble
        self._file = file
        self._own: dict[str, Mapping[str, Entry] | None] = {}
        self._found: dict[tuple[str, str], Mapping[str, Entry] | None] = {}

    @classmethod
    def beside(cls, document: Document, machine: Mapping[str, Any], trouble: Trouble) -> "Rows":
        """The tables that a machine file sees: the packaged ones and those in the folder beside it."""
        named = machine.get("tables")
        folder = document.path.parent / (named if isinstance(named, str) else "parts")
        file = str(document.path)
        if isinstance(named, str) and not _is_folder(folder):
            trouble.add(file, document.line("machine.tables"), "machine.tables", f"no folder '{named}' beside this machine")
        catalog = MachineCatalog()
        lost: frozenset[str] = frozenset()
        if _is_folder(folder):
            try:
                catalog = MachineCatalog(_users(folder, _stamps(folder)))
            except FileProblems as error:
                for problem in error.problems:
                    trouble.add(problem.file, problem.line, problem.path, problem.message)
                lost = frozenset(path.stem for path in folder.glob("*.csv"))
        return cls(catalog, trouble, file, lost)

    # ---- looking up

    def row(self, kind: str, name: str) -> Mapping[str, Entry] | None:
        """Entries of a row with the defaults of its kind under them; of no name the defaults alone; None where there is no such row."""
        if (kind, name) not in self._found:
            self._found[kind, name] = self._look_up(kind, name)
        return self._found[kind, name]

    def _look_up(self, kind: str, name: str) -> Mapping[str, Entry] | None:
        if not name:
            return _defaults(kind)
        if name in self._own and self._own[name] is None:
            return {}  # told already
        try:
            row = self.catalog.find(kind, name)
        except NotFound:
            return {} if kind in self._lost else None  # it may stand in a table of which the faults are told
        entries = entries_of_row(row) if row.own else _packaged(kind, name, row.file)
        price = row.cells.get("price")
        if price is not None and self.convert is not None and name not in self._own:
            entries = {**entries, "price": self._converted(entries["price"], price)}
        return entries

    def _converted(self, entry: Entry, cell: Cell) -> Entry:
        assert self.convert is not None  # the caller asked
        try:
            return Entry(entry.value * self.convert(1.0, parse(cell.text, "money").unit), entry.origin)
        except UnreadableText as error:
            self._trouble.add(cell.file, cell.line, "price", str(error))
            return entry

    def has_own(self, name: str) -> bool:
        """Whether the machine file has a row of that name that was read already."""
        return name in self._own

    def add_own(self, kind: str, name: str, entries: Mapping[str, Entry], line: int = 0) -> None:
        """A row of the machine's own; without a kind one that could not be read."""
        self._own[name] = entries if kind else None
        if kind:
            cells = {
                key: Cell(entry.origin.text, entry.value, entry.spread, entry.origin.file, entry.origin.line, entry.origin.source)
                for key, entry in entries.items()
                if key not in ("part", "kind")
            }
            self.catalog.add(Row(kind, name, cells, self._file, line, own=True))
            self._found.pop((kind, name), None)

    def own_branch(self) -> Branch | None:
        """The machine's own rows as a collection."""
        made = {name: Branch(f"part.{name}", 0, dict(entries)) for name, entries in self._own.items() if entries}
        return Branch("part", 0, {}, made) if made else None

    def kind_of(self, name: str | None) -> str | None:
        """Kind of a part by its name alone."""
        if name is None:
            return None
        return next(iter(self.catalog.kinds_of(name)), None)

    def names(self) -> Iterable[str]:
        """Every name of every kind."""
        return (name for kind in KINDS for name in self.catalog.names(kind))

    def near(self, kind: str, name: str) -> str:
        """End of a sentence that says that a name was not found."""
        others = [other for other in self.catalog.kinds_of(name) if other != kind]
        if others:
            return f"; '{name}' is a {' or a '.join(others)}"
        return nearest_sentence(name, self.catalog.names(kind) if kind else self.names())

    def required(self, kind: str) -> list[str]:
        """Columns that every row of a kind must have."""
        return [name for name, column in columns_of(KINDS[kind]).items() if column.required]

    def record(self, kind: str, name: str, entries: Mapping[str, Entry]) -> Part:
        """The frozen record of a part."""
        known = columns_of(KINDS[kind])
        return make_record(kind, {"id": name, **{key: entry.value for key, entry in entries.items() if key in known}})

    def inherit(self, origin: Origin, heir: str) -> None:
        """Note a part that inherits a value that could not be read."""
        self._trouble.inherit(origin.file, origin.line, origin.path, heir)

    def trouble_at(self, origin: Origin, path: str, message: str) -> None:
        """Tell a problem at the line where a value was written; ``path`` is the part that has it."""
        heir = "" if origin.path.startswith(path) or path.startswith(origin.path) else path
        self._trouble.add(origin.file or self._file, origin.line, origin.path or path, message, heir=heir)


@lru_cache(maxsize=16)
def _users(folder: Path, stamps: tuple[tuple[str, int, int], ...]) -> Catalog:
    """The tables of a folder, read once until a file of it changes, which ``stamps`` tell."""
    return Catalog(folder)


def _stamps(folder: Path) -> tuple[tuple[str, int, int], ...]:
    found = ((path.name, path.stat()) for path in sorted(folder.glob("*.csv")))
    return tuple((name, stat.st_mtime_ns, stat.st_size) for name, stat in found)


@lru_cache(maxsize=4096)
def _packaged(kind: str, name: str, file: str) -> Mapping[str, Entry]:
    """Entries of a packaged row are the same in every reading."""
    return entries_of_row(Catalog().find(kind, name))


@cache
def _defaults(kind: str) -> Mapping[str, Entry]:
    return {
        name: Entry(cell.value, Origin("default", source=cell.source, text=cell.text), cell.spread)
        for name, cell in defaults_of(kind).items()
    }


def entries_of_row(row: Row) -> Mapping[str, Entry]:
    """A row as entries, with the defaults of its kind under it and its name as ``part``."""
    entries = dict(_defaults(row.kind))
    for name, cell in row.cells.items():
        origin = Origin("row", cell.file or row.file, cell.line or row.line, row.id, cell.source or row.source, cell.text)
        entries[name] = Entry(cell.value, origin, cell.spread)
    entries["part"] = Entry(row.id, Origin("row", row.file, row.line, row.id))
    return entries


def _is_folder(path: Path) -> bool:
    try:
        return path.is_dir()
    except (OSError, ValueError):
        return False
