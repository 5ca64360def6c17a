"""Opens the shop file beside a machine; the same file is read once a process until it changes."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from gantrywright.base.errors import FileProblems, Problem
from gantrywright.intake.document import Document, check_format, read_toml
from gantrywright.intake.grammar.parts import row_table
from gantrywright.intake.grammar.shape import Table
from gantrywright.intake.grammar.shop import SHOP_FILE, STOCK
from gantrywright.intake.layers import FAILED, Node
from gantrywright.intake.rows import Rows
from gantrywright.intake.stock import PLATE, Piece, Shop, Tell
from gantrywright.intake.tree import Entry
from gantrywright.intake.trouble import Trouble
from gantrywright.intake.typed import Typist


@dataclass(frozen=True, slots=True)
class _Read:
    """A shop file as it was read."""

    document: Document | None
    node: Node
    extra: Mapping[str, Mapping[str, Any]]
    """Raw fields of stock pieces that only the kind of their part can explain."""
    problems: tuple[Problem, ...]


def open_shop(document: Document, machine: Mapping[str, Any], trouble: Trouble, tell: Tell) -> Shop:
    """The shop of a machine; an empty one where there is no file.

    Args:
        document: The machine file.
        machine: Its raw ``[machine]`` table.
        trouble: Takes the problems of the shop file.
        tell: Notes a problem of the machine file.
    """
    named = machine.get("shop")
    path = document.path.parent / (named if isinstance(named, str) else "shop.toml")
    try:
        stat = path.stat()
    except (OSError, ValueError):
        if isinstance(named, str):
            tell("machine.shop", f"no file '{named}' beside this machine")
        return Shop(lost=isinstance(named, str), tell=tell)
    read = _open(str(path), stat.st_mtime_ns, stat.st_size)
    for problem in read.problems:
        trouble.add(problem.file, problem.line, problem.path, problem.message)
    return Shop(document=read.document, node=read.node, extra=read.extra, lost=read.document is None, tell=tell)


@lru_cache(maxsize=16)
def _open(path: str, changed: int, size: int) -> _Read:
    """``changed`` and ``size`` only make the cache notice a new text."""
    trouble = Trouble()
    try:
        document = read_toml(Path(path))
        check_format(document)
    except FileProblems as error:
        return _Read(None, Node(), {}, error.problems)
    typist = Typist(document, trouble)
    tree = dict(document.tree)
    stock = tree.pop("stock", {})
    node = typist.table(SHOP_FILE, tree, "")
    extra: dict[str, Mapping[str, Any]] = {}

    def piece(raw: Any, place: str, kind: Any) -> Node:
        known = {key: value for key, value in raw.items() if key in STOCK.names}
        extra[place.rpartition(".")[2]] = {key: value for key, value in raw.items() if key not in STOCK.names}
        return typist.table(STOCK, known, place, "stock")

    node["stock"] = typist.collection(stock, "stock", piece)
    _check_needs(node, typist)
    return _Read(document, node, extra, tuple(trouble))


def _check_needs(node: Node, typist: Typist) -> None:
    for sub in SHOP_FILE.subs:
        below = node.node(sub.name)
        tables: Mapping[str, Any] = {} if below is None else below if sub.many else {"": below}
        for name, table in tables.items():
            lacks = [key.name for key in sub.table.needs if key.name not in table]
            if lacks:
                typist.problem(f"{sub.name}.{name}".rstrip("."), f"lacks {', '.join(lacks)}")


def stock_pieces(shop: Shop, rows: Rows, trouble: Trouble) -> None:
    """Make the pieces of a shop, now that the parts tables can say what kind each is."""
    document = shop.document
    stock = shop.node.node("stock")
    if document is None or stock is None:
        return
    typist = Typist(document, trouble)
    pieces = {}
    for name, node in stock.items():
        path = f"stock.{name}"
        part = node.value("part")
        kind = None if part in (None, PLATE) else rows.kind_of(part)
        if part not in (None, PLATE) and kind is None:
            trouble.add(
                str(document.path),
                document.line(f"{path}.part"),
                f"{path}.part",
                f"no part '{part}' in the parts tables{rows.near('', part)}",
            )
        of_part = _extra(shop.extra.get(name, {}), row_table(kind) if kind else None, path, typist)
        fields = {key: leaf for key, leaf in node.items() if isinstance(leaf, Entry) and leaf.value is not FAILED}
        pieces[name] = Piece(name, str(document.path), document.line(path), fields, of_part)
    shop.pieces = pieces


def _extra(raw: Mapping[str, Any], table: Table | None, path: str, typist: Typist) -> dict[str, Entry]:
    if not raw:
        return {}
    known = table.key_map if table is not None else {}
    found = {}
    for key, value in raw.items():
        if key not in known:
            typist.unknown(key, [*STOCK.names, *known], f"{path}.{key}", value)
            continue
        entry = typist.key(known[key], value, f"{path}.{key}", "stock")
        if isinstance(entry, Entry) and entry.value is not FAILED:
            found[key] = entry
    return found
