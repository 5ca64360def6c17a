"""``[part.NAME]``: rows of the parts tables for one machine. One named as a row of the tables begins as that row."""

from collections.abc import Mapping
from typing import Any

from gantrywright.base.names import nearest_sentence
from gantrywright.base.spread import Origin
from gantrywright.catalog.kinds import KINDS
from gantrywright.intake.grammar.parts import row_table
from gantrywright.intake.layers import FAILED
from gantrywright.intake.rows import Rows
from gantrywright.intake.tree import Entry
from gantrywright.intake.typed import Typist


def own_parts(written: Mapping[str, Any], typist: Typist, rows: Rows) -> None:
    """Read the machine's own rows and lay them over the tables.

    Args:
        written: Raw table ``[part]``.
        typist: Of the machine file.
        rows: Takes the rows.
    """
    for name, raw in written.items():
        path = f"part.{name}"
        if not isinstance(raw, Mapping):
            typist.problem(path, "wants a table with kind, or like, and the fields of that kind")
        else:
            _own_part(name, raw, written, typist, rows, ())


def _own_part(
    name: str, raw: Mapping[str, Any], written: Mapping[str, Any], typist: Typist, rows: Rows, ring: tuple[str, ...]
) -> None:
    path = f"part.{name}"
    if rows.has_own(name):
        return
    like = raw.get("like")
    if isinstance(like, str) and isinstance(written.get(like), Mapping):
        if like in (*ring, name):
            typist.problem(f"{path}.like", f"parts are like each other in a ring: {' -> '.join((*ring, name, like))}")
            rows.add_own("", name, {})
            return
        _own_part(like, written[like], written, typist, rows, (*ring, name))
        if rows.has_own(name):
            return
    if isinstance(like, str) and rows.kind_of(like) is None:
        typist.problem(f"{path}.like", f"no part '{like}' in the parts tables{nearest_sentence(like, rows.names())}")
        rows.add_own("", name, {})
        return
    named = () if isinstance(like, str) else rows.catalog.kinds_of(name)
    kind = raw.get("kind", rows.kind_of(like) if isinstance(like, str) else named[0] if len(named) == 1 else None)
    if kind not in KINDS:
        typist.problem(f"{path}.kind" if kind else path, _no_kind(kind, name, named))
        rows.add_own("", name, {})
        return
    node = typist.table(row_table(kind), raw, path, "row")
    begins = like if isinstance(like, str) else name if kind in named else ""
    base = rows.row(kind, begins) or {}
    own = {
        key: Entry(leaf.value, leaf.origin, leaf.spread)
        for key, leaf in node.items()
        if isinstance(leaf, Entry) and leaf.value is not FAILED and key not in ("kind", "like")
    }
    own["part"] = Entry(name, Origin("row", typist.file, typist.line(path), path))
    entries = {**base, **own}
    lacks = [key for key in rows.required(kind) if key not in entries and key not in node]
    if lacks:
        typist.problem(path, f"lacks {', '.join(lacks)}: it is a {kind} of its own; with like it begins as another row")
    whole = all(key in entries for key in rows.required(kind))
    rows.add_own(kind if whole else "", name, entries if whole else {}, typist.line(path))


def _no_kind(kind: Any, name: str, named: tuple[str, ...]) -> str:
    if kind:
        return f"{kind!r} is no kind of part{nearest_sentence(str(kind), KINDS)}; known are {', '.join(KINDS)}"
    if named:
        return f"lacks kind: '{name}' in the parts tables is a {' and a '.join(named)}"
    return f"lacks kind, or like: no row of the parts tables is named '{name}'"
