"""How the screws of a joint are tightened, and what holds them: a nut, a slot, a tapped thread."""

from dataclasses import replace

from gantrywright.base.samples import typical
from gantrywright.base.spread import Origin, Spread
from gantrywright.base.units import Metre, Newton, Number, Pascal
from gantrywright.catalog.slot_nuts import slot_load
from gantrywright.intake.grammar.shape import CP
from gantrywright.intake.placing.contacts import Contact
from gantrywright.intake.placing.doubts import Doubts
from gantrywright.intake.placing.fasteners import member_of, thickness
from gantrywright.intake.placing.world import World
from gantrywright.intake.tree import Branch
from gantrywright.model.bodies import Bolting, Section, Solid

SCATTER = {"torque-wrench": Spread(1.4, 1.6, 1.8), "by-feel": Spread(2.0, 2.8, 4.0), "power-tool": Spread(2.5, 3.2, 4.0)}
"""Largest over least clamp force by the way of tightening; vdi-2230."""
DECIDES = ("friction", "tightening", "scatter", "torque", "into", "engagement", "bears")
"""Keys without which nothing is said where they are written as unknown."""
DEEP = Spread(1.5, 2.0, 2.5)
"""Engagement of a tapped hole over the nominal size where nothing is told; common practice, no source."""
PROFILES = {"light": "light", "heavy": "standard"}
"""Row of the published table of slots for what the sections' names say; our choice."""


def bolting(world: World, doubts: Doubts, contact: Contact, kind: str, bolts: Branch | None, size: float) -> Bolting:
    """What is told of the screws of a joint, else what is usual.

    Args:
        world: For sections and materials.
        doubts: Takes the defaults.
        contact: The joint.
        kind: Of it.
        bolts: Their table; None: the file tells of no bolts.
        size: Their nominal size, m.
    """
    if bolts is None:
        return Bolting()
    for key in DECIDES:
        if key in bolts.entries and bolts.entries[key].value is None:
            return Bolting(bolts.path, missing=f"{bolts.path}.{key}")
    tightening = str(bolts.get("tightening", "torque-wrench"))
    into = "tapped" if kind == "end-tapped" else str(bolts.get("into", "nut"))
    made = Bolting(
        bolts.path, bolts.get("friction", 0.12), tightening, _scatter(doubts, bolts, tightening), bolts.get("torque"), into
    )
    told: Newton | None = bolts.get("bears")
    if told is not None or into == "nut":
        return replace(made, bears=told)
    if into == "tapped":
        return _tapped(world, doubts, contact, bolts, size, made)
    if into == "slot-nut":
        return _slot(world, doubts, contact, bolts, made)
    return replace(made, missing=f"the pull that its inserts bear ({bolts.path}.bears)")


def _scatter(doubts: Doubts, bolts: Branch, tightening: str) -> Number:
    told: Number | None = bolts.get("scatter")
    if told is not None:
        return told
    origin = Origin("default", path=f"{bolts.path}.scatter", source="vdi-2230", text=f"{tightening}: {_words(SCATTER[tightening])}")
    return doubts.value(f"{bolts.path}.scatter", SCATTER[tightening], origin)


def _words(spread: Spread) -> str:
    return f"{spread.typical:g} ({spread.low:g}..{spread.high:g})"


def _slot(world: World, doubts: Doubts, contact: Contact, bolts: Branch, made: Bolting) -> Bolting:
    """Published pull on a slot of that size; a band where the profile or the nut may be one or the other."""
    for solid in contact.solids:
        member = member_of(world, solid)
        if member is None or member.section.shape != "tslot" or contact.by_end(solid):
            continue
        opening = _opening(world, solid)
        found = slot_load(opening, profile=_profile(member.section)) if opening is not None else None
        if found is None:
            break
        spread = Spread(found.least, (found.least * found.most) ** 0.5, found.most)
        text = f"{found.least:.0f} N to {found.most:.0f} N"
        if found.least == found.most:
            return replace(made, bears=found.least)
        origin = Origin("default", path=f"{bolts.path}.bears", source=found.source, text=text)
        return replace(made, bears=doubts.value(f"{bolts.path}.bears", spread, origin))
    return replace(made, missing=f"the pull that its slot bears ({bolts.path}.bears)")


def _opening(world: World, solid: Solid) -> float | None:
    """Opening of the slots of a profile, m."""
    table = world.bodies[solid.body].branches.get(solid.path)
    section = table.sub("section") if table is not None else None
    found = section.get("slot") if section is not None else None
    return None if found is None else typical(found)


def _profile(section: Section) -> str:
    return next((row for word, row in PROFILES.items() if section.name.endswith(f"-{word}")), "")


def _tapped(world: World, doubts: Doubts, contact: Contact, bolts: Branch, size: float, made: Bolting) -> Bolting:
    """The part whose end touches, else the thicker of the two."""
    ends = [solid for solid in contact.solids if contact.by_end(solid)]
    deep = ends[0] if ends else max(contact.solids, key=lambda solid: thickness(world, solid, contact.normal))
    strength = _strength(world, deep)
    if strength is None:
        return replace(made, tapped=deep.path, missing=f"the strength of {deep.path}, which is tapped ({bolts.path}.bears)")
    return replace(made, tapped=deep.path, strength=strength, engagement=_engagement(world, doubts, contact, deep, bolts, size))


def _strength(world: World, solid: Solid) -> Pascal | None:
    body = world.bodies[solid.body]
    part = body.members.get(solid.path) or body.plates.get(solid.path)
    return part.material.strength if part is not None else None


def _engagement(world: World, doubts: Doubts, contact: Contact, deep: Solid, bolts: Branch, size: float) -> Metre:
    """Told, else what is left of the told length, else two diameters; no more than the metal is thick."""
    told: Metre | None = bolts.get("engagement")
    if told is not None:
        return told
    thick = float("inf") if contact.by_end(deep) else thickness(world, deep, contact.normal)
    long = bolts.get("length")
    if long is not None:
        through = sum(thickness(world, solid, contact.normal) for solid in contact.solids if solid is not deep)
        return min(max(float(long) - through, 0.0), thick)
    if thick <= DEEP.low * size:
        return thick
    low, middle, high = (min(times * size, thick) for times in (DEEP.low, DEEP.typical, DEEP.high))
    spread = Spread(low, middle, high)
    words = f"{DEEP.typical:g} ({DEEP.low:g}..{DEEP.high:g}) diameters"
    return doubts.value(
        f"{bolts.path}.engagement", spread, Origin("default", path=f"{bolts.path}.engagement", source=CP, text=words)
    )
