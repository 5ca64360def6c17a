"""One axis: its guide placed, the body that it moves placed on it, its drives."""

from dataclasses import dataclass, field, replace
from typing import Any

from gantrywright.catalog import kinds
from gantrywright.intake import records
from gantrywright.intake.geometry.frames import mean
from gantrywright.intake.geometry.guide import Guide, Motion, Pad
from gantrywright.intake.placing.blocks import Row, place_blocks
from gantrywright.intake.placing.chains import chain_solids, place_chain
from gantrywright.intake.placing.doubts import Doubts
from gantrywright.intake.placing.drives import Driven, place_drive
from gantrywright.intake.placing.guides import facing, place_rail, riding_origin, standing
from gantrywright.intake.placing.lines import Placed as PlacedGuide
from gantrywright.intake.placing.plates import distance_to
from gantrywright.intake.placing.runners import block_solid, drive_solids, rail_solid
from gantrywright.intake.placing.world import Unplaced, World
from gantrywright.intake.recipes import slide as slides
from gantrywright.intake.recipes.making import NoRecipe
from gantrywright.intake.tree import Branch
from gantrywright.intake.uses import record
from gantrywright.model.axis import Axis, Block, CableChainFit, DriveFit, Rail
from gantrywright.model.bodies import Link
from gantrywright.model.frame import AXES, Vector, add, along, cross, middle, scale, subtract


@dataclass(slots=True)
class Setting:
    """An axis while it is placed."""

    motion: Motion
    branch: Branch
    row: Row
    slide: slides.SlideMade | None = None
    rails: tuple[Rail, ...] = ()
    blocks: tuple[Block, ...] = ()
    drives: list[DriveFit] = field(default_factory=list)
    chain: CableChainFit | None = None

    @property
    def rides(self) -> bool:
        """The rails are on the moving body."""
        return bool(self.rails) and self.rails[0].body == self.motion.moving


def motion_of(name: str, branch: Branch, link: Link, letter: str, drawn: float) -> Motion:
    """How an axis moves its body."""
    return Motion(name, AXES[letter], link.sign, branch["travel"], drawn, branch.get("offset") or 0.0, link.on, link.body)


def slide_made(world: World, axis: str, letter: str) -> slides.SlideMade | None:
    """What the slide of an axis makes, once the part that carries it is placed; None where it has none."""
    slide = world.reading.slide(axis)
    if slide is None:
        return None
    row = record(slide.sub("part"), kinds.Slide)
    if row is None or not row.block or not slide.get("on") or slide.get("face") is None:
        raise Unplaced(slide.path)
    carrier = world.solid_named(str(slide["on"]), f"{slide.path}.on")
    face = world.face(carrier, slide["face"], f"{slide.path}.face")
    block = record(world.reading.usual_part("block", row.block, f"axis.{axis}.blocks.part"), kinds.Block)
    if block is None or block.height is None:
        raise Unplaced(slide.path)
    try:
        return slides.make(slide, row, face, AXES[letter], carrier.body, float(block.height))
    except NoRecipe as error:
        raise world.problem(f"{slide.path}.{error.key.rpartition('.')[2]}", str(error)) from None


def setting_of(world: World, link: Link, letter: str, drawn: float, doubts: Doubts, slide: slides.SlideMade | None) -> Setting:
    """Read an axis and see which of its rails can be placed already."""
    branch = world.reading.axis(link.axis, made=slide.axis if slide is not None else {})
    blocks = branch.sub("blocks")
    if branch.get("travel") is None or blocks is None or not list(branch.children("rail")):
        raise Unplaced(branch.path)
    motion = motion_of(link.axis, branch, link, letter, drawn)
    row = Row(link.axis, blocks, dict(branch.children("block")), doubts, slide is not None)
    return Setting(motion, branch, row, slide)


def origin_and_guide(world: World, setting: Setting) -> tuple[Vector, Guide]:
    """Where the moving body stands in its carrier's measures, and the guide that its recipe asks for."""
    bodies = {world.body_of(str(rail.get("on") or "")) for _, rail in setting.branch.children("rail")}
    motion = setting.motion
    if bodies == {motion.carrier}:
        return _standing(world, setting)
    if bodies == {motion.moving}:
        part = setting.row.kind(next(iter(dict(setting.branch.children("rail")))), 1).part
        seat, normal = riding_origin(world, motion, setting.row.blocks, part)
        return seat, Guide(motion, normal, (Pad((0.0, 0.0, 0.0), normal),))
    if "" in bodies:
        raise Unplaced(setting.branch.path)
    words = " and ".join(sorted(bodies))
    raise world.problem(
        f"{setting.branch.path}.rail", f"rails lie on {words}; all must lie on {motion.carrier} or all on {motion.moving}"
    )


def _standing(world: World, setting: Setting) -> tuple[Vector, Guide]:
    motion = setting.motion
    setting.rails = rails_of(world, setting)
    parts = {rail.path: setting.row.kind(rail.path.rpartition(".")[2], 1).part for rail in setting.rails}
    stood = standing(motion, setting.rails, parts, setting.row.at)
    if setting.slide is None:
        return stood.origin, stood.guide
    n = stood.guide.n
    out = scale(n, setting.slide.saddle)
    pads = tuple(Pad(subtract(pad.at, out), pad.normal) for pad in stood.guide.pads)
    return add(stood.origin, out), Guide(motion, n, pads)


def rails_of(world: World, setting: Setting) -> tuple[Rail, ...]:
    """All rails of an axis, in the measures of their body."""
    found = []
    for name, branch in setting.branch.children("rail"):
        found.append(place_rail(world, setting.motion.name, name, branch, setting.motion.t))
    return tuple(found)


def settle(world: World, setting: Setting) -> None:
    """Place what needs the moving body: riding rails, blocks. A body whose rails ride is moved so that their middle stands right."""
    motion = setting.motion
    moving, carrier = world.bodies[motion.moving], world.bodies[motion.carrier]
    if not setting.rails:
        setting.rails = rails_of(world, setting)
        seat = mean(middle(rail.start, rail.stop) for rail in setting.rails)
        moving.origin = subtract(moving.origin, seat)
    step = subtract(moving.origin, carrier.origin)
    if setting.rides:
        on = world.solid_named(str(setting.row.blocks["on"]), f"{setting.row.blocks.path}.on")
        at = sum(a * b for a, b in zip(on.centre, motion.t, strict=True)) + setting.row.at
        setting.blocks = place_blocks(
            setting.row, setting.rails, motion.t, body=motion.carrier, on=on.path, middle_at=at, shift=step
        )
    else:
        placed = place_blocks(
            setting.row, setting.rails, motion.t, body=motion.moving, on="", middle_at=setting.row.at, shift=scale(step, -1.0)
        )
        setting.blocks = _held(world, setting, placed)


def _held(world: World, setting: Setting, blocks: tuple[Block, ...]) -> tuple[Block, ...]:
    """The blocks with the part that each is bolted to: the one named, else the nearest to its face."""
    named = setting.row.blocks.get("on")
    if named:
        candidates = world.solids_named(str(named), f"{setting.row.blocks.path}.on")
    else:
        candidates = [s for s in world.bodies[setting.motion.moving].solids.values() if s.kind in ("member", "plate")]
    found = []
    for block in blocks:
        face = along(block.centre, block.normal, float((block.part.height or 0.0) - (block.part.raceway or 0.0)))
        on = min(candidates, key=lambda solid: distance_to(solid, face), default=None)
        found.append(replace(block, on=on.path) if on is not None else block)
    return tuple(found)


def place_drives(world: World, setting: Setting) -> None:
    """All drives, and the boxes of everything that the axis is made of."""
    guide = PlacedGuide(setting.motion, setting.rails, setting.blocks)
    inside = setting.slide is not None
    by_path = {rail.path: rail for rail in setting.rails}
    world.loose.extend(rail_solid(rail, inside=inside) for rail in setting.rails)
    world.loose.extend(block_solid(block, by_path[block.rail], inside=inside) for block in setting.blocks)
    for name, branch in setting.branch.children("drive"):
        try:
            fit, driven = place_drive(world, name, branch, guide, setting.row.doubts.value)
        except (Unplaced, KeyError):  # a KeyError: a key that is needed is missing or failed, told already
            world.unplaced.append(branch.path)
            continue
        _keep(world, setting, fit, driven, in_slide=inside and name == "main")


def place_cable_chain(world: World, setting: Setting) -> None:
    """The cable chain and its two halves."""
    setting.chain = place_chain(world, setting.branch)
    branch = setting.branch.sub("cable_chain")
    if setting.chain is None or branch is None:
        return
    path = f"axis.{setting.motion.name}.cable_chain"
    halves = chain_solids(path, setting.chain, branch, setting.motion.moving, setting.motion.travel)
    (world.loose if setting.chain.fitted else world.planned).extend(halves)


def _keep(world: World, setting: Setting, fit: DriveFit, driven: Driven, *, in_slide: bool) -> None:
    solids = drive_solids(fit, driven, inside=in_slide)
    if not fit.use.fitted:
        world.planned.extend(solids)
        return
    setting.drives.append(fit)
    world.loose.extend(solids)


def axis_of(world: World, setting: Setting, wanted: Any) -> Axis:
    """The finished axis, every place in the measures of its own body.

    Args:
        world: Bodies, references.
        setting: What was placed.
        wanted: Purpose of the machine, for speeds that the axis does not say.
    """
    motion, branch = setting.motion, setting.branch
    normal = facing(motion.t, setting.rails)
    across = cross(normal, motion.t)
    return Axis(
        name=motion.name, direction=motion.t, normal=normal, across=(across[0] + 0.0, across[1] + 0.0, across[2] + 0.0), sign=motion.sign,
        travel=motion.travel, drawn=motion.drawn, offset=motion.offset, rapid=branch.get("rapid", wanted.rapid),
        feed=branch.get("feed", wanted.feed), accel=branch.get("accel", wanted.accel), rise_time=branch["rise_time"],
        carrier=motion.carrier, moving=motion.moving,
        rails=setting.rails, blocks=setting.blocks, drives=tuple(setting.drives), alignment=records.alignment(branch),
        stops=branch.get("stops") or 0.0, rails_ride=setting.rides, slide=f"axis.{motion.name}.slide" if setting.slide is not None else "",
        home=records.home(branch), counterweight=records.counterweight(branch, motion.carrier), cable_chain=setting.chain,
        blocks_per_rail=setting.row.per_rail, block_spacing=setting.row.spacing,
    )  # fmt: skip
