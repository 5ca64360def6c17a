"""Blocks on their rails, with their stiffness and preload."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from gantrywright.base.units import Real
from gantrywright.catalog import kinds
from gantrywright.intake.geometry.frames import with_component
from gantrywright.intake.placing.doubts import Doubts
from gantrywright.intake.placing.estimates import PRELOAD_SHARE, SPRINGS, block_stiffness
from gantrywright.intake.placing.world import Unplaced
from gantrywright.intake.tree import Branch
from gantrywright.intake.uses import record, use
from gantrywright.model.axis import Block, Rail
from gantrywright.model.bodies import Use
from gantrywright.model.frame import Vector, along, middle


@dataclass(frozen=True, slots=True)
class BlockKind:
    """What one block is: its row, preload, use and springs."""

    part: kinds.Block
    preload: str
    force: Real
    use: Use
    springs: dict[str, Real]
    at: float | None = None


@dataclass(frozen=True, slots=True)
class Row:
    """The blocks of an axis as the file asks for them."""

    axis: str
    blocks: Branch
    single: Mapping[str, Branch]
    """Table of each block RAIL-1 ..., everything that ``blocks`` says already in it."""
    doubts: Doubts
    inside: bool = False
    """Part of a bought slide, whose mass they are in."""

    @property
    def per_rail(self) -> int:
        """Blocks on each rail."""
        return int(self.blocks.get("per_rail") or 1)

    @property
    def spacing(self) -> float:
        """First to last middle."""
        return float(self.blocks.get("spacing") or 0.0) if self.per_rail > 1 else 0.0

    @property
    def at(self) -> float:
        """Middle of the row."""
        return float(self.blocks.get("at") or 0.0)

    def kind(self, rail: str, number: int) -> BlockKind:
        """The block of that number on a rail."""
        table = self.single.get(f"{rail}-{number}", self.blocks)
        part = record(table.sub("part"), kinds.Block)
        if part is None or part.height is None:
            raise Unplaced(f"axis.{self.axis}.blocks")
        preload = str(table.get("preload") or "light")
        if table.get("seal_force") is not None:
            part = replace(part, seal_force=self._shared(table, "seal_force"))
        force = part.dynamic.force * PRELOAD_SHARE[preload] if part.dynamic is not None else 0.0
        at = table.get("at") if table is not self.blocks else None
        how = replace(use(table), remaining=self._shared(table, "remaining", 1.0))
        return BlockKind(part, preload, force, how, self._springs(table, part, preload), at)

    def _shared(self, table: Branch, key: str, usual: Real = 0.0) -> Real:
        """A value of one block; of all blocks where it is theirs, so that they are uncertain together."""
        own, common = table.entries.get(key), self.blocks.entries.get(key)
        if own is None or (common is not None and own.origin is common.origin):
            own = common
        found: Real | None = own.value if own is not None else None
        return usual if found is None else found

    def _springs(self, table: Branch, part: kinds.Block, preload: str) -> dict[str, Real]:
        estimates = block_stiffness(float(part.size or 0.02), preload)
        own, common = table.sub("stiffness"), self.blocks.sub("stiffness")
        springs: dict[str, Real] = {}
        for name in SPRINGS:
            entry = own.entries.get(name) if own is not None else None
            shared = common.entries.get(name) if common is not None else None
            if entry is not None and shared is not None and entry.origin is shared.origin:
                entry = shared
            if entry is not None and entry.value is not None:
                springs[name] = entry.value
                continue
            path = f"axis.{self.axis}.blocks.stiffness.{name}"
            springs[name] = self.doubts.value(path, estimates[name].spread, estimates[name].origin)
        return springs


def place_blocks(
    row: Row, rails: tuple[Rail, ...], t: Vector, *, body: str, on: str, middle_at: float, shift: Vector
) -> tuple[Block, ...]:
    """All blocks of an axis, in the measures of the body that they are bolted to.

    Args:
        row: What the file asks for.
        rails: In the measures of their own body.
        t: Direction of the axis.
        body: Body that the blocks are bolted to.
        on: Part that they are bolted to; empty: not known yet.
        middle_at: Middle of the row along t, in that body's measures.
        shift: From the measures of the rails' body to those of the blocks' body, added to points.
    """
    found: list[Block] = []
    for rail in rails:
        name = rail.path.rpartition(".")[2]
        seat = middle(rail.start, rail.stop)
        seat = (seat[0] + shift[0], seat[1] + shift[1], seat[2] + shift[2])
        for number in range(1, row.per_rail + 1):
            kind = row.kind(name, number)
            share = 0.0 if row.per_rail == 1 else (number - 1) / (row.per_rail - 1) - 0.5
            at = middle_at + share * row.spacing if kind.at is None else kind.at
            centre = along(with_component(seat, t, at), rail.normal, kind.part.raceway or 0.0)  # type: ignore[arg-type]
            found.append(_block(f"axis.{row.axis}.block.{name}-{number}", kind, rail, body, on, centre))
    return tuple(found)


def _block(path: str, kind: BlockKind, rail: Rail, body: str, on: str, centre: Vector) -> Block:
    springs = kind.springs
    return Block(
        path=path, body=body, on=on, rail=rail.path, centre=centre, normal=rail.normal, part=kind.part, use=kind.use, preload=kind.preload,
        preload_force=kind.force, normal_stiffness=springs["normal"], lateral_stiffness=springs["lateral"], roll_stiffness=springs["roll"],
        pitch_stiffness=springs["pitch"], yaw_stiffness=springs["yaw"],
    )  # fmt: skip
