"""The reference page of the machine file, made from the grammar."""

from collections.abc import Iterator

from gantrywright.base.quantities import SCALARS
from gantrywright.base.sources import spell_out
from gantrywright.intake.grammar import CHAIN_LINK, ROOT
from gantrywright.intake.grammar.parts import row_table
from gantrywright.intake.grammar.recipes import BODY, RECIPE_TABLES, RECIPES
from gantrywright.intake.grammar.shape import Key, Sub, Table, need_in_words
from gantrywright.intake.grammar.shop import SHOP_FILE
from gantrywright.intake.grammar.things import HANDED, THING
from gantrywright.intake.values import most_in_words

HEAD = """\
# The machine file

This page is made from the definitions that the reader itself uses; `gantrywright schema` prints the same as a JSON schema for editors.

One TOML file describes one machine as it stands, once. What follows from other numbers (reach, free lengths, stack heights) is computed.
Values are typed as builders type them: `"1/2 in"`, `'1-1/2"'`, `"3 000 rpm"`, `"20 °C"`. A bare number is refused where a unit is wanted.

* **Names** are letters, digits and hyphens; keys have underscores. Every thing stands in a table under its name, so every value has one
  lasting path such as `axis.y.drive.left.motor`.
* **Band**: `"250 N/um (100..400)"` says the typical value and the middle 90 % of what you believe; `"3.1 N/um +- 0.3 N/um"` or `+- 5 %` says
  a measured value with its expanded uncertainty.
* **In doubt** between words: `"fixed-supported or supported-supported"`, the likeliest first. **`"unknown"`**: no default is taken, and what hangs
  on the value is reported unknown. Places and sizes cannot be unknown.
* **Point** `"40, 0, 780 mm"`, **pair** `"0, -20 mm"`, **size** `"260 x 570 x 20 mm"`: the last unit serves those before it. **Bolts** `"8 x M8"`.
  **Phase current** says `peak` or `rms`. **Rating** says its reference: `"13.7 kN at 100 km"`.
* **References** are dotted and leave the collection out: `bed.left-side`, `gantry.beam@left`, `axis.y.rail.left`.
* **Layers**, later wins, key by key: default, parts row, stock piece, recipe, `each`, the table that `mirror` names, own table, `measured`.
  Tables merge; lists and texts are replaced whole. `each` gives keys to all its siblings, `remove = true` takes away what a lower layer made.
* **Parts** (`section`, `part`, `motor` ...): the name of a row; or `{ part = "NAME", field = ... }`; or the fields alone.
* **Frame**: X along the gantry beam, Y along the bed, Z up. left -x, right +x, front -y, back +y, bottom -z, top +z; outer and inner: away
  from and towards the body's middle plane.

The last column says what a key feeds: S structure, G guides, D drives, E electrics, J jobs and cut, H holes and cuts, A assembly and lifting,
W wiring, V view, C cost, P proving; all: everything that is placed.
"""


def reference_page() -> str:
    """The whole page as Markdown."""
    parts = [HEAD, "## Units\n", _units(), "## Places\n"]
    told: set[str] = set()
    parts.extend(_table("file", Table("file", "The first line of the file.", ROOT.keys, feeds="all"), told))
    for sub in ROOT.subs:
        parts.extend(_place(sub.name, sub, told))
        if sub.name == "chain":
            parts.extend(_table("chain.BODY", CHAIN_LINK, told))
            parts.append(
                "## Bodies\n\nA body is a table with a name of the chain: `[bed]`, `[gantry]`, `[carriage]`, `[head]`, `[table]`.\n"
            )
            parts.extend(_table("BODY", BODY, told))
            parts.extend(_recipes(told))
            parts.append("## Joints, axes, electrics, measurements\n")
    parts.append("## Keys of every thing\n\nEvery place marked *thing* takes these too.\n")
    parts.extend(_table("thing", THING, told))
    parts.extend(_kinds())
    parts.append("## The shop file\n\n`shop.toml` beside the machine. Several machines may share it.\n")
    for sub in SHOP_FILE.subs:
        parts.extend(_place(sub.name, sub, told))
    return "\n".join(parts).rstrip() + "\n"


def _units() -> str:
    rows = [
        f"| {kind.name} | {', '.join(f'`{unit}`' for unit in (*kind.units, *kind.also)) or '-'} | {kind.si or '-'} |"
        for kind in SCALARS.values()
    ]
    rows = [
        row if not row.startswith("| money") else "| money | ISO 4217 code, also per `m`, `m2`, `kg`, `ft`, `lb` | currency |"
        for row in rows
    ]
    rows = [row if not row.startswith("| count") else "| count | none | - |" for row in rows]
    rows = [row if not row.startswith("| number") else "| number | none or `%` | - |" for row in rows]
    return "\n".join(("| kind | units read | kept in |", "|---|---|---|", *rows)) + "\n"


def _place(path: str, sub: Sub, told: set[str]) -> Iterator[str]:
    name = {"names": f"{path}.NAME", "list": f"{path} (list)"}.get(sub.many, path)
    yield from _table(name, sub.table, told)


def _table(path: str, table: Table, told: set[str]) -> Iterator[str]:
    """The table, and once below it each table that it holds."""
    marks = " (*thing*)" if table.thing is THING else ""
    yield f"### `{path}`{marks}\n\n{table.help}\n"
    if table.either:
        groups = " or ".join(", ".join(f"`{key.rstrip('?')}`" for key in group) for group in table.either)
        yield f"Exactly one of: {groups}.\n"
    few = table.thing.keys if table.thing is not None and table.thing is not THING else ()
    rows = [_row(key, table) for key in (*table.keys, *few)]
    below = []
    for sub in table.subs:
        short = f', or "{_SHORT[sub.short]}"' if sub.short else ""
        what = {"names": "tables by name", "list": "list of tables"}.get(sub.many, "table")
        rows.append(
            f"| `{sub.name}` | {what} *{sub.table.name}*{short} | {need_in_words(sub.need)} | {sub.help} | {sub.table.feeds} |"
        )
        if sub.table.name not in told:
            below.append(sub)
            told.add(sub.table.name)
    if table.free:
        rows.append(f"| any name | {table.free} | | {table.help} | {table.feeds} |")
    yield "\n".join(("| key | kind | left out | what it says | feeds |", "|---|---|---|---|---|", *rows)) + "\n"
    for sub in below:
        yield from _place(f"{path.removesuffix(' (list)')}.{sub.name}", sub, told)


_SHORT = {"bolts": "8 x M8"}


def _row(key: Key, table: Table) -> str:
    return f"| `{key.name}` | {_kind(key)} | {_left_out(key)} | {key.help} | {key.feeds or table.feeds} |"


def _kind(key: Key) -> str:
    limits = ", above 0" if key.is_positive else ""
    if key.most is not None:
        limits += f", {most_in_words(key)} at most"
    return _kind_itself(key) + limits


def _kind_itself(key: Key) -> str:
    if key.choices:
        return " / ".join(key.choices)
    if key.part_kind:
        return f"part: {key.part_kind}"
    if key.item_kind:
        return f"list of {key.item_kind}"
    return {"words": "text", "fitted": "flag or date", "quantity": "any quantity"}.get(key.kind, key.kind)


def _left_out(key: Key) -> str:
    words = [need_in_words(key.need)] if key.need else []
    if key.default:
        words.append(f"`{key.default}` ({spell_out(key.source)})")
    elif key.otherwise:
        words.append(key.otherwise)
    return "; ".join(words)


def _recipes(told: set[str]) -> Iterator[str]:
    yield "## Recipes\n\nA recipe makes parts with promised names from the keys beside it; own tables of those names change them.\n"
    handed = ", ".join(f"`{name}`" for name in HANDED)
    yield f"Beside a recipe these keys of every thing go to every part that it makes (stock where it makes one): {handed}.\n"
    for name, recipe in RECIPES.items():
        yield from _table(f'BODY with recipe = "{name}"', RECIPE_TABLES[name], told)
        made = ", ".join(f"`{child.replace('*', '1')}` ..." if child.endswith("*") else f"`{child}`" for child in recipe.makes)
        yield f"Makes {made}.\n"


def _kinds() -> Iterator[str]:
    from gantrywright.catalog.kinds import KINDS

    yield "## Fields of parts\n\nWhat a part given in place, changed for one use, or written as `[part.NAME]` may carry.\n"
    for name in KINDS:
        yield from _table(f'part.NAME with kind = "{name}"', row_table(name), set())
