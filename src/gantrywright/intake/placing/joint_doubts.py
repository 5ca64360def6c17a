"""The band of a joint: a factor on its estimated stiffness, and its loss factor, shared by all joints of a kind that take the default."""

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources

import numpy as np

from gantrywright.base.quantities import parse
from gantrywright.base.spread import Origin
from gantrywright.base.units import Number, Real
from gantrywright.intake.grammar.joints import JOINTS_OF_A_KIND
from gantrywright.intake.placing.doubts import Doubts
from gantrywright.intake.placing.estimates import Estimate
from gantrywright.intake.placing.world import World
from gantrywright.intake.tree import Branch
from gantrywright.model.bodies import Solid

TABLE = "joint.csv"
FACTORS = ("times", "loss")
STRAY, STRAY_BAND = "beyond", "1 (0..2)"
"""Key for joints outside the range of their estimate: 0 as soft, 2 as stiff as they may be there."""


@dataclass(frozen=True, slots=True)
class Factors:
    """Factor on the estimated stiffness, and loss factor."""

    times: Number
    loss: Number
    stray: Number = 1.0
    """What the joint's place outside the range of its estimate makes of its stiffness, 1 where it is as the estimate says."""


def factors(
    world: World, doubts: Doubts, kind: str, own: Branch | None, solids: tuple[Solid, Solid], *, beyond: float = 1.0
) -> Factors:
    """What the joint says of itself, else what all joints of its kind share: written, measured, or the default with its band.

    Args:
        world: For the tables of the bodies.
        doubts: Takes the defaults.
        kind: Of the joint.
        own: Table of the joint, of one of its parts, or of its body.
        solids: What it joins.
        beyond: Factor by which its estimate may be off because it lies outside what is known.
    """
    shared = shared_table(world, kind, solids)
    found: dict[str, Real] = {}
    for name in FACTORS:
        value = own.get(name) if own is not None else None
        if value is None:
            value = shared.get(name)
        if value is None:
            default = _table()[kind][name]
            value = doubts.value(f"{shared.path}.{name}", default.spread, default.origin)
        found[name] = value
    return Factors(found["times"], found["loss"], _stray(doubts, shared, beyond))


def _stray(doubts: Doubts, shared: Branch, beyond: float) -> Number:
    """beyond to the power of -1 .. 1: one doubt for all joints of the kind, felt the more the further outside a joint lies."""
    if beyond <= 1:
        return 1.0
    written: Number | None = shared.get(STRAY)
    if written is None:
        spread = parse(STRAY_BAND, "number").spread
        assert spread is not None
        written = doubts.value(
            f"{shared.path}.{STRAY}", spread, Origin("default", source="common practice, no source", text=STRAY_BAND)
        )
    stray: Number = np.power(beyond, written - 1)
    return stray


def shared_table(world: World, kind: str, solids: tuple[Solid, Solid]) -> Branch:
    """Table of all joints of the kind that joins these solids, written or not."""
    path = f"{_path(world, solids)}.{kind}"
    if path not in world.shared:
        world.shared[path] = _shared(world, path)
    return world.shared[path]


def _path(world: World, solids: tuple[Solid, Solid]) -> str:
    """Table of the joints: of the top where a layer is held, else of the body that hangs further out."""
    layer = next((solid for solid in solids if solid.kind == "layer"), None)
    if layer is not None:
        return f"{layer.body}.top.joint"
    order = [link.body for link in world.links]
    return f"{max((solid.body for solid in solids), key=order.index)}.joint"


def _shared(world: World, path: str) -> Branch:
    body, *names = path.split(".")
    table: Branch | None = world.bodies[body].branch
    for name in names:
        table = table.sub(name) if table is not None else None
    return table if table is not None else world.reading.unwritten(JOINTS_OF_A_KIND, path)


@cache
def _table() -> Mapping[str, Mapping[str, Estimate]]:
    """Defaults by kind."""
    text = resources.files("gantrywright.data").joinpath("defaults", TABLE).read_text("utf-8")
    found = {}
    for row in csv.DictReader(text.splitlines()):
        factors = {}
        for name in FACTORS:
            spread = parse(row[name], "number").spread
            if spread is None:
                raise ValueError(f"{TABLE}: {row[name]!r} has no band")
            origin = Origin("default", path=f"{TABLE} {row['kind']}", source=row[f"{name} source"], text=row[name])
            factors[name] = Estimate(spread, origin)
        found[row["kind"]] = factors
    return found
