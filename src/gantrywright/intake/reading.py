"""The reading side of a machine file: everything that placing asks for, typed and layered."""

from collections.abc import Callable, Iterator, Mapping
from functools import cached_property
from typing import TYPE_CHECKING, Any

from gantrywright.base.errors import Problem
from gantrywright.base.names import nearest, nearest_sentence
from gantrywright.base.spread import Origin, Spread
from gantrywright.intake.chain import Chain, body_names, make_chain
from gantrywright.intake.document import Document
from gantrywright.intake.finish import Finisher
from gantrywright.intake.grammar import CHAIN_LINK, LAYOUTS, ROOT
from gantrywright.intake.grammar.axis import AXIS, BLOCK, DRIVE, RAIL, SLIDE
from gantrywright.intake.grammar.bodies import COLLECTIONS
from gantrywright.intake.grammar.measured import MEASURED, OBSERVED
from gantrywright.intake.grammar.recipes import BODY_TABLES, RECIPE_TABLES, UNCLEAR_BODY
from gantrywright.intake.grammar.shape import CP, Key, Sub, Table
from gantrywright.intake.grammar.things import HANDED, THING_KEYS
from gantrywright.intake.layers import Mirror, Node, merged, relabelled
from gantrywright.intake.measure import Measurements
from gantrywright.intake.ownparts import own_parts
from gantrywright.intake.paths import Paths
from gantrywright.intake.rows import Rows
from gantrywright.intake.shopfile import open_shop, stock_pieces
from gantrywright.intake.siblings import Siblings
from gantrywright.intake.tree import Branch, Entry
from gantrywright.intake.trouble import Trouble
from gantrywright.intake.typed import Typist
from gantrywright.model.bodies import Link

if TYPE_CHECKING:
    from gantrywright.base.units import Array
    from gantrywright.catalog import kinds
    from gantrywright.catalog.tables import Catalog

THINGS = tuple(key.name for key in THING_KEYS if key.name not in ("mirror", "remove"))


class Reading:
    """One reading of one document, with samples or without."""

    def __init__(self, document: Document, *, samples: "Mapping[str, Array] | None" = None) -> None:
        """Read everything that does not depend on recipes; `body` and `axis` do the rest as they are asked for.

        Args:
            document: The machine file, perhaps revised.
            samples: Samples of uncertain values by path (of a choice in doubt: indices of its words).
        """
        self.document = document
        self.chain = Chain()
        self._trouble = Trouble()
        self._typist = Typist(document, self._trouble)
        tree = document.tree
        machine = _table(tree.get("machine"))
        layout, chain = str(machine.get("layout", "")), _table(tree.get("chain"))
        names = body_names(layout, chain)
        self.paths = Paths(document, names)
        self._shop = open_shop(document, machine, self._trouble, self.problem)
        self._typist.convert = self._shop.converter(str(machine.get("currency", "EUR")))
        self._rows = Rows.beside(document, machine, self._trouble)
        self._rows.convert = self._typist.convert
        own_parts(_table(tree.get("part")), self._typist, self._rows)
        stock_pieces(self._shop, self._rows, self._trouble)
        self._meant: set[str] = set()
        self._measurements = Measurements(self.problem)
        self._measurements.gather(_table(tree.get("measured")), str(document.path), document.line)
        self._finisher = Finisher(
            rows=self._rows, shop=self._shop, measurements=self._measurements, samples=samples or {}, tell=self.problem, line=self.line,
            known={"supply": _names(tree, "supply"), "outlet": _names(_table(tree.get("site")), "outlet"),
                   "instrument": self._shop.instruments, "drive": list(_drives(tree))},
        )  # fmt: skip
        self._nodes, self._bodies = self._typed(tree, names)
        self.chain = make_chain(layout, chain, _table(tree.get("axis")), self.problem) if layout in LAYOUTS else Chain()
        self._branches: dict[str, Branch | None] = {}
        for sub in ROOT.subs:
            if sub.name != "axis":
                self.branch(sub.name)
        self._check_measurements()

    # ---- what was found

    @property
    def problems(self) -> list[Problem]:
        """Everything that must be mended, by file and line."""
        return sorted(self._trouble)

    def problem(self, path: str, message: str) -> None:
        """Note a problem at a path; its line is that of the nearest table that is written."""
        self._trouble.add(str(self.document.path), self.line(path), path, message)

    def line(self, path: str) -> int:
        """Line of a path of the file, in full or short form, or of the nearest table above it that is written.

        A body without a table was made by the slide of its axis.
        """
        found = self.paths.line(path)
        link = None if found else self.chain.link(path.partition(".")[0].partition(" ")[0])
        return self.paths.line(f"axis.{link.axis}") if link is not None and link.axis else found

    @property
    def spreads(self) -> dict[str, Spread]:
        """Every uncertain value that has been asked for, by full path."""
        return self._finisher.spreads

    @property
    def entries(self) -> dict[str, Entry]:
        """Every value that has been asked for, by full path."""
        branches = (*self._finisher.rows.values(), *self._branches.values())
        return {path: entry for branch in branches if branch is not None for path, entry in branch.walk()}

    @property
    def origins(self) -> dict[str, Origin]:
        """Where every value came from that has been asked for, by full path."""
        return {path: entry.origin for path, entry in self.entries.items()}

    @property
    def catalog(self) -> "Catalog":
        """The parts tables: packaged, the user's and the file's own."""
        return self._rows.catalog

    def known(self, path: str) -> Branch | None:
        """A body (``bed(body)``), recipe (``bed(recipe)``) or axis (``axis.x``) as it was last asked for."""
        return self._branches.get(path)

    # ---- the chain

    def bodies(self) -> tuple[str, ...]:
        """Names of the bodies, ground first."""
        return self.chain.bodies

    def links(self) -> tuple[Link, ...]:
        """The chain, ground first, every body after the one that carries it."""
        return self.chain.links

    # ---- tables without bodies

    def branch(self, path: str) -> Branch | None:
        """Any table or collection that is no body and no axis; None where the file has not got it."""
        if path not in self._branches:
            self._branches[path] = self._make_branch(path)
        return self._branches[path]

    def _make_branch(self, path: str) -> Branch | None:
        if path == "part":
            return self._rows.own_branch()
        sub = ROOT.sub_map[path]
        node = self._nodes.get(path)
        if node is None:
            if sub.need and path not in self._meant:
                self.problem(path, f"missing; write a table [{path}]")
            return self._finisher.table(sub.table, Node(), path) if sub.always else None
        if path == "chain":
            return Branch(path, self.line(path))
        if sub.many == "names":
            siblings = Siblings(sub.table, node, None, path, lambda: Mirror(0.0), self.problem)
            return self._finisher.group(sub.table, siblings.expanded(), path)
        return self._finisher.table(sub.table, node, path)

    # ---- bodies

    def recipe(self, body: str) -> Branch | None:
        """The keys of a body's recipe, typed, with the recipe's name under ``recipe``; None where the body is listed."""
        path = f"{body}(recipe)"
        if path not in self._branches:
            self._branches[path] = self._make_recipe(body)
        return self._branches[path]

    def _make_recipe(self, body: str) -> Branch | None:
        node = self._bodies.get(body, Node())
        name = node.value("recipe")
        if name is None:
            return None
        table = RECIPE_TABLES[name]
        own = Node({key: leaf for key, leaf in node.items() if key in table.names})
        return self._finisher.table(table, own, body, takes=False)

    def body(self, name: str, made: Mapping[str, Any] = {}) -> Branch:
        """A body with all its parts after layers.

        Args:
            name: Name of the body.
            made: What its recipe and a slide made, in the grammar of the file; leaves are texts, `Computed`, entries or branches.
        """
        node = self._bodies.get(name, Node())
        recipe = node.value("recipe", "")
        table = BODY_TABLES[""]
        below = self._typist.table(table, made, name, "recipe") if made else Node()
        given = Node({key: leaf for key, leaf in node.items() if key in table.names and key not in (*COLLECTIONS, "top")})
        branch = self._finisher.table(table, merged(_without_groups(below), given), name, takes=False)
        branches = dict(branch.branches)
        things = self._inherited(node, below)
        for sub in table.subs:
            if sub.name in COLLECTIONS:
                group = self._collection(sub, node, below, name, things, recipe)
                if group.branches:
                    branches[sub.name] = group
        top = below.node("top"), node.node("top")
        if top[0] is not None or top[1] is not None:
            branches["top"] = self._finisher.table(table.sub_map["top"].table, merged(top[0], top[1] or Node()), f"{name}.top")
        self._check_body(name, branch)
        result = Branch(name, self.line(name), branch.entries, branches)
        self._branches[f"{name}(body)"] = result
        return result

    def _collection(self, sub: Sub, node: Node, made: Node, body: str, things: Node, recipe: str) -> Branch:
        path = f"{body}.{sub.name}"
        under = made.node(sub.name)
        if sub.name == "foot":  # a body's price is that of its own pieces; its feet are bought apart
            things = Node({key: value for key, value in things.items() if key != "price"})
        if under is not None and things:
            under = Node({child: merged(things, leaf) for child, leaf in under.items()})
        siblings = Siblings(sub.table, node.node(sub.name), under, path, lambda: self._mirror(body), self.problem)
        names = [child for group in COLLECTIONS for child in (made.node(group) or ())]
        return self._finisher.group(
            sub.table, siblings.expanded(), path, made=names, recipe=recipe, mirror=lambda: self._mirror(body)
        )

    def _inherited(self, node: Node, made: Node) -> Node:
        """Keys that a body hands to the parts of its recipe; its stock piece only where there is one part to take it."""
        if not node.value("recipe"):
            return Node()
        parts = sum(len(made.node(group) or ()) for group in ("member", "plate"))
        keys = [key for key in HANDED if key != "stock" or parts == 1]
        return relabelled(Node({key: node[key] for key in keys if key in node}), "recipe")

    def _mirror(self, body: str) -> Mirror:
        """The mirror plane of a body: what it says, or 0 with a recipe or a guide."""
        node = self._bodies.get(body, Node())
        middle = node.value("middle")
        if middle is None and "middle" not in node:
            link = self.chain.link(body)
            if not node.value("recipe") and not (link is not None and link.axis):
                self.problem(f"{body}.middle", 'missing; mirror needs the body\'s middle plane, for instance middle = "0 mm"')
        return Mirror(middle if middle is not None else 0.0)

    def _check_body(self, name: str, branch: Branch) -> None:
        link = self.chain.link(name)
        if link is not None and link.on and not link.axis and "at" not in self._bodies.get(name, Node()):
            self.problem(name, f"lacks at: it is bolted to '{link.on}', so say where its origin lies in the measures of that")

    # ---- axes

    def axis(self, name: str, made: Mapping[str, Any] = {}) -> Branch:
        """An axis with rails, blocks and drives after layers.

        Args:
            name: Name of the axis.
            made: What a slide made: ``rail``, ``blocks``, ``drive``.
        """
        path = f"axis.{name}"
        node = self._axes.get(name, Node())
        below = self._typist.table(AXIS, made, path, "recipe") if made else Node()
        groups = ("rail", "block", "drive")
        whole = merged(_without(below, groups), _without(node, groups))
        branch = self._finisher.table(AXIS, whole, path)
        branches = dict(branch.branches)
        mirror = self._mirror_of_axis(name, node)
        rails = Siblings(RAIL, node.node("rail"), below.node("rail"), f"{path}.rail", mirror, self.problem).expanded()
        branches["rail"] = self._finisher.group(
            RAIL, rails, f"{path}.rail", made=list(below.node("rail") or ()), recipe="slide" if made else ""
        )
        lost = (
            node.node("slide") is not None and not made
        )  # the slide would bring most of the drive; why it does not is told already
        drives = (
            {}
            if lost
            else Siblings(DRIVE, node.node("drive"), below.node("drive"), f"{path}.drive", mirror, self.problem).expanded()
        )
        branches["drive"] = self._finisher.group(
            DRIVE, drives, f"{path}.drive", made=list(below.node("drive") or ()), recipe="slide" if made else ""
        )
        blocks = whole.node("blocks")
        if blocks is not None:
            branches["block"] = self._blocks(path, node.node("block") or Node(), blocks, branches["blocks"], list(rails))
        self._check_axis(path, node, made, rails, drives)
        result = Branch(path, self.line(path), branch.entries, branches)
        self._branches[path] = result
        return result

    @cached_property
    def _axes(self) -> dict[str, Node]:
        node = self._nodes.get("axis", Node())
        return Siblings(AXIS, node, None, "axis", lambda: Mirror(0.0), self.problem).expanded()

    def _mirror_of_axis(self, name: str, node: Node) -> Callable[[], Mirror]:
        def plane() -> Mirror:
            link = self.chain.carried_by(name)
            mirror = self._mirror(link.on) if link is not None else Mirror(0.0)
            along = node.value("along") or name[:1]
            return Mirror(mirror.middle, "") if along == "x" else mirror

        return plane

    def _check_axis(
        self, path: str, node: Node, made: Mapping[str, Any], rails: Mapping[str, Node], drives: Mapping[str, Node]
    ) -> None:
        if "slide" in node and not made:
            return
        for word, found in (("rail", rails), ("drive", drives)):
            if not found and not node.node(word):
                self.problem(path, f"lacks a {word}: an axis needs at least one; add one, or write a table [{path}.{word}.NAME]")

    def _blocks(self, path: str, written: Node, blocks: Node, finished: Branch, rails: list[str]) -> Branch:
        """Blocks RAIL-1, RAIL-2 ...: as ``blocks`` says, then ``each``, then the bare rail's name, then their own table."""
        count = finished.get("per_rail") or 0
        if not 0 <= count <= 100:
            self.problem(f"{path}.blocks.per_rail", f"{count} blocks on a rail; allowed are 1 to 100")
            return Branch(f"{path}.block", 0)
        names = {f"{rail}-{number}": rail for rail in rails for number in range(1, count + 1)}
        for name in written:
            if name not in names and name not in rails and name != "each":
                near = nearest_sentence(name, [*rails, *names])
                self.problem(f"{path}.block.{name}", f"no block '{name}': blocks are {', '.join([*rails, *names])}{near}")
        keys = ("part", "preload", "seal_force", "stiffness", *THINGS)
        base = Node({key: leaf for key, leaf in blocks.items() if key in keys and key in BLOCK.names})
        nodes = {}
        for name, rail in names.items():
            node = base
            for layer in ("each", rail, name):
                own = written.node(layer)
                node = merged(node, own) if own is not None else node
            nodes[name] = node
        made = {}
        for name, node in nodes.items():
            shared = node.get("part") is blocks.get("part") and node.get("stock") is blocks.get("stock")
            alone = Node({key: leaf for key, leaf in node.items() if key != "part"}) if shared else node
            branch = self._finisher.table(BLOCK, alone, f"{path}.block.{name}", takes=not shared)
            if shared and "part" in finished.branches:
                branch = Branch(branch.path, branch.line, branch.entries, {**branch.branches, "part": finished.branches["part"]})
            made[name] = branch
        return Branch(f"{path}.block", self.line(f"{path}.block"), {}, made)

    def slide(self, axis: str) -> Branch | None:
        """The slide of an axis, from which it is made; None where the axis is listed."""
        path = f"axis.{axis}.slide"
        if path not in self._branches:
            node = self._axes.get(axis, Node()).node("slide")
            self._branches[path] = self._finisher.table(SLIDE, node, path, takes=False) if node is not None else None
        return self._branches[path]

    def letter(self, axis: str) -> str:
        """x, y or z: along which an axis runs."""
        node = self._axes.get(axis, Node())
        return str(node.value("along") or axis[:1])

    def travel(self, axis: str) -> float:
        """Wanted travel of an axis, m; 0 where it is unknown."""
        return float(self._axes.get(axis, Node()).value("travel") or 0.0)

    # ---- materials and parts that nobody names

    def material(self, name: str, where: str) -> "kinds.Material | None":
        """A material by name; None after telling that there is none."""
        return self._finisher.material(name, where)

    def usual_part(self, kind: str, name: str, path: str) -> Branch:
        """A part that the file leaves out, by the name of the row that is usual there.

        Args:
            kind: Kind of part.
            name: Name of its row.
            path: Of the key that could have named it.
        """
        if path not in self._branches:
            named = Node({"part": Entry(name, Origin("default", source=CP, text=name))}, whole=True)
            self._branches[path] = self._finisher.part(Key(path.rpartition(".")[2], f"use {kind}", ""), named, path, Node())
        found = self._branches[path]
        assert found is not None  # made above
        return found

    def unwritten(self, table: Table, path: str) -> Branch:
        """A table that the file leaves out, with what was measured of it.

        Args:
            table: Its definition.
            path: Where it would stand.
        """
        found = self._branches.get(path)
        if found is None:
            found = self._branches[path] = self._finisher.table(table, Node(), path)
        return found

    # ---- typing what is written

    def _typed(self, tree: Mapping[str, Any], bodies: list[str]) -> tuple[dict[str, Node], dict[str, Node]]:
        nodes: dict[str, Node] = {}
        made: dict[str, Node] = {}
        for name, raw in tree.items():
            sub = ROOT.sub_map.get(name)
            if name == "measured":
                nodes[name] = self._typist.collection(raw, name, self._measured_table)
            elif name == "chain":
                nodes[name] = self._chain_table(raw)
            elif sub is not None:
                nodes[name] = self._typist.sub(sub, raw, name)
            elif name in bodies:
                made[name] = self._typist.table(_body_table(raw), raw, name)
            elif name not in ("part", "format"):
                known = [*ROOT.names, "part", *bodies]
                self._typist.unknown(name, known, name, raw)
                self._meant.update(nearest(name, known, 1))
        return nodes, made

    def _measured_table(self, raw: Any, path: str, kind: Any) -> Node:
        """The kind of ``value`` follows from what was observed or replaced."""
        wanted = ""
        if isinstance(raw, Mapping):
            wanted = OBSERVED.get(str(raw.get("observe")), "")
            if isinstance(raw.get("path"), str):
                found = self.paths.find(raw["path"])
                if isinstance(found, Key):
                    return self._typist.table(_measured_as(found), raw, path, kind)
        return self._typist.table(_measured_as(Key("value", wanted, "")) if wanted else MEASURED, raw, path, kind)

    def _chain_table(self, raw: Any) -> Node:
        node = Node()
        if not isinstance(raw, Mapping):
            self.problem("chain", "wants a table of bodies")
            return node
        for name, below in raw.items():
            if name in ("work", "tool"):
                node[name] = self._typist.key(ROOT.sub_map["chain"].table.key_map[name], below, f"chain.{name}")
            else:
                node[name] = self._typist.table(CHAIN_LINK, below, f"chain.{name}")
        return node

    def _check_measurements(self) -> None:
        """Every measurement that replaces a value must name one that there is."""
        for measurement in self._measurements.all():
            found = self.paths.find(measurement.path)
            if isinstance(found, str):
                self.problem(f"measured.{measurement.name}.path", found)

    def finish(self) -> None:
        """What can be told only when every body and axis has been asked for: pieces of stock taken too often."""
        self._shop.check_counts()


def _measured_as(key: Key) -> Table:
    from dataclasses import replace

    value = replace(key, name="value", help="What was read", need=MEASURED.key_map["value"].need, default="", mirror="")
    return replace(MEASURED, keys=tuple(value if own.name == "value" else own for own in MEASURED.keys))


def _body_table(raw: Any) -> Table:
    """The definition of a body as it is written; with a recipe that is not known all recipe keys are let pass."""
    name = raw.get("recipe") if isinstance(raw, Mapping) else None
    if name is None:
        return BODY_TABLES[""]
    return BODY_TABLES.get(name, UNCLEAR_BODY) if isinstance(name, str) else UNCLEAR_BODY


def _table(found: Any) -> Mapping[str, Any]:
    return found if isinstance(found, Mapping) else {}


def _names(tree: Mapping[str, Any], name: str) -> list[str]:
    return [key for key in _table(tree.get(name)) if key != "each"]


def _drives(tree: Mapping[str, Any]) -> Iterator[str]:
    for axis, table in _table(tree.get("axis")).items():
        for drive in _table(_table(table).get("drive")):
            if drive != "each":
                yield f"axis.{axis}.drive.{drive}"


def _without(node: Node, names: tuple[str, ...]) -> Node:
    return Node({key: leaf for key, leaf in node.items() if key not in names})


def _without_groups(node: Node) -> Node:
    return _without(node, (*COLLECTIONS, "top"))
