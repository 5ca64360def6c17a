"""The grammar keeps its own rules: every default reads and has a source, every rule is known, every key is explained."""

from collections.abc import Iterator

import pytest

from gantrywright.base.quantities import READERS
from gantrywright.base.sources import PLAIN, sources
from gantrywright.catalog.kinds import KINDS
from gantrywright.intake.grammar import CHAIN_LINK, LAYOUTS, ROOT
from gantrywright.intake.grammar.parts import PLACED_FIELDS, part_table, row_table
from gantrywright.intake.grammar.recipes import BODY_TABLES, RECIPE_TABLES, RECIPES, makes
from gantrywright.intake.grammar.shape import Key, Sub, Table
from gantrywright.intake.grammar.shop import SHOP_FILE
from gantrywright.intake.layers import Node
from gantrywright.intake.needs import needed
from gantrywright.intake.page import reference_page
from gantrywright.intake.values import default_of

OWN_KINDS = {"text", "words", "flag", "date", "fitted", "ref", "direction", "face", "pose", "quantity"}


def tables() -> dict[str, Table]:
    found: dict[str, Table] = {}

    def walk(table: Table) -> None:
        if table.name not in found or table.name == "body":
            found[table.name] = table
            for sub in table.sub_map.values():
                walk(sub.table)

    for table in (ROOT, CHAIN_LINK, SHOP_FILE, *BODY_TABLES.values(), *RECIPE_TABLES.values()):
        walk(table)
    for kind in KINDS:
        found[f"row {kind}"] = row_table(kind)
        found[f"use {kind}"] = part_table(kind)
    return found


def keys() -> Iterator[tuple[str, Key]]:
    for name, table in tables().items():
        for key in table.key_map.values():
            yield f"{name}.{key.name}", key


ALL = dict(keys())


def test_the_whole_grammar_is_reached() -> None:
    assert len(tables()) > 80
    assert len(ALL) > 700


@pytest.mark.parametrize("path", ALL)
def test_key(path: str) -> None:
    key = ALL[path]
    assert key.help
    assert not key.help.endswith(".")
    kind = key.item_kind or key.kind
    if not key.choices and not key.part_kind:
        assert kind in READERS or kind in OWN_KINDS, kind
    if key.part_kind:
        assert key.part_kind == "drive" or key.part_kind in KINDS
    if key.default:
        assert default_of(key).value is not None or key.kind == "fitted"
        assert key.source in PLAIN - {""} or key.source.split(",")[0] in sources(), key.source
        assert not key.need.startswith("!")
    if key.mirror == "place":
        assert key.kind == "point"


def test_every_table_explains_itself_and_feeds_something() -> None:
    for name, table in tables().items():
        if name not in ("file", "shop file") and not name.startswith("use "):
            assert table.help, name
            assert table.feeds or table.free, name


def test_every_rule_can_be_applied() -> None:
    for name, table in tables().items():
        items: list[Key | Sub] = [*table.needs]
        for item in items:
            assert needed(item.need, Node(), {}) in (True, False), (name, item.name)


def test_rules_name_keys_that_are_there() -> None:
    for table in tables().values():
        for item in table.needs:
            if item.need != "!":
                names = item.need.split(" ", 1)[1].split("=")[0].split(">")[0]
                for word in names.split("|"):
                    assert word in table.names or word == "recipe", (table.name, item.need)
        for group in table.either:
            assert {key.rstrip("?") for key in group} <= table.names


def test_placed_fields_are_fields() -> None:
    for kind, names in PLACED_FIELDS.items():
        assert names <= part_table(kind).names


def test_no_recipe_key_is_the_name_of_a_collection() -> None:
    for recipe in RECIPES.values():
        names = {key.name for key in recipe.keys} | {sub.name for sub in recipe.subs}
        assert not names & {"member", "plate", "item", "foot", "top"}


def test_recipes_promise_names() -> None:
    assert makes("ladder-frame", "cross-12")
    assert makes("ladder-frame", "left-side")
    assert not makes("ladder-frame", "cross")
    assert not makes("ladder-frame", "cross-x")
    assert not makes("", "left-side")


def test_layouts_name_their_own_bodies() -> None:
    for chain in LAYOUTS.values():
        for name, link in chain.items():
            if isinstance(link, str):
                assert link in chain, name
            else:
                assert link.get("on", name) in chain


def test_the_reference_page_has_every_key() -> None:
    page = reference_page()
    for path, key in ALL.items():
        assert f"| `{key.name}` |" in page, path
    assert page.count("\n| `travel` | length, above 0, 50 m (164 ft) at most | required |") >= 1
