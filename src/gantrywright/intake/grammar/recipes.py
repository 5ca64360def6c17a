"""Recipes of bodies: the keys that stand beside ``recipe``, and the names of the parts that each promises."""

from dataclasses import dataclass

from gantrywright.intake.grammar.bodies import BODY_KEYS, BODY_SUBS
from gantrywright.intake.grammar.shape import Key, Sub, Table
from gantrywright.intake.grammar.things import BODY_THING, FOOT_STIFFNESS, OF_A_PART, OF_A_RECIPE, RECIPE_THING, THING

FEET = Table(
    "feet of a recipe",
    "The feet that a recipe makes.",
    (
        Key("part", "use foot", "Their part", "!"),
        Key("count", "count", "How many", otherwise="3 under a slab, one a leg", positive=True),
        Key("inset", "size2", "From the sides, from the ends", otherwise="a tenth of the width, a fifth of the length"),
    ),
    (Sub("stiffness", FOOT_STIFFNESS, "How far each gives; left out: the parts row's, else steel on concrete"),),
    feeds="S V C",
    thing=THING,
    carries="part",
)

BEAM = Table(
    "beam of a recipe",
    "The beam across.",
    (
        Key("section", "use section", "Its cross-section", "!"),
        Key("at", "point", "Its middle from the body's origin", "!"),
        Key("up", "direction", "Where the section's height points", default="top", source="definition", mirror="vector"),
        Key("fill", "text", "Material that it is filled with", names="material"),
        Key(
            "length",
            "length",
            "Its length",
            otherwise="between the uprights; over their outside if on top",
            placed=True,
            positive=True,
        ),
        Key("sits", "between/on-top", "Between the uprights or on them", default="between", source="definition"),
    ),
    feeds="S G H A V C",
    thing=THING,
    carries="section",
)

UPRIGHTS = Table(
    "uprights of a recipe",
    "The two plates that stand against the block faces.",
    (
        Key("size", "size3", "Along y, along z, thickness", "!"),
        Key("material", "text", "Material", "!", stock=True, names="material", firm=True),
        Key("at", "pair", "Their middle along y z from the body's origin", default="0, 0 mm", source="definition"),
        Key("spacers", "length", "Between block faces and plate", default="0 mm", source="definition", placed=True),
    ),
    feeds="S G H A V C",
    thing=THING,
)

LEG = Table(
    "upright of a portal",
    "Both uprights.",
    (
        Key("section", "use section", "Its cross-section", "!"),
        Key("bottom", "length", "Lower end, z from the body's origin", "!", placed=True, signed=True),
        Key("top", "length", "Upper end, z from the body's origin", "!", placed=True, signed=True),
        Key("up", "direction", "Where the section's height points", default="back", source="definition", mirror="vector"),
        Key("fill", "text", "Material that it is filled with", names="material"),
    ),
    feeds="S G H A V C",
    thing=THING,
    carries="section",
)


@dataclass(frozen=True)
class Recipe:
    """One recipe."""

    name: str
    help: str
    keys: tuple[Key, ...]
    subs: tuple[Sub, ...] = ()
    makes: tuple[str, ...] = ()
    """Promised names; a trailing ``*`` stands for a number."""


LADDER = Recipe(
    "ladder-frame",
    "Two sides, crosses between them, legs and stretchers. Measures from the middle in x, the front end in y, the top face in z.",
    (
        Key("side", "use section", "Section of the two sides", "!"),
        Key("cross", "use section", "Section of the crosses", otherwise="as side"),
        Key("leg", "use section", "Section of the legs", otherwise="as side"),
        Key("stretcher", "use section", "Section of the stretchers", otherwise="as side"),
        Key("length", "length", "Outside, along y", "!", placed=True, positive=True),
        Key("width", "length", "Outside, along x", "!", placed=True),
        Key("height", "length", "Top face over the floor", "!", placed=True),
        Key("cross_members", "count", "Number of crosses", "!"),
        Key("legs", "count", "Number of legs", default="4", source="definition", positive=True),
        Key("stretcher_height", "length", "Middle of the stretchers over the floor", otherwise="no stretchers", placed=True),
    ),
    (Sub("feet", FEET, "Feet, one a leg"),),
    ("left-side", "right-side", "cross-*", "leg-left-*", "leg-right-*", "stretcher-left", "stretcher-right", "stretcher-front",
     "stretcher-back", "foot-left-*", "foot-right-*"),
)  # fmt: skip

SLAB = Recipe(
    "slab",
    "One slab along y. Measures from the middle in x, the front end in y, the top face in z.",
    (
        Key("size", "size3", "x, y, z", "!"),
        Key("material", "text", "Material", "!", names="material", firm=True),
        Key("height", "length", "Top face over the floor", "!", placed=True),
    ),
    (Sub("feet", FEET, "Feet; of three, two stand in front and one behind"),),
    ("slab", "foot-*"),
)

BEAM_ON_UPRIGHTS = Recipe(
    "beam-on-uprights",
    "Two plates against the block faces and a beam between or on them.",
    (),
    (Sub("beam", BEAM, "The beam", need="!"), Sub("uprights", UPRIGHTS, "The plates", need="!")),
    ("upright-left", "upright-right", "beam"),
)

PORTAL = Recipe(
    "portal",
    "Two upright bars and a beam.",
    (Key("stance", "length", "Middle to middle of the uprights", "!", placed=True),),
    (Sub("upright", LEG, "Both uprights", need="!"), Sub("beam", BEAM, "The beam", need="!")),
    ("upright-left", "upright-right", "beam"),
)

PLATE_ON_BLOCKS = Recipe(
    "plate-on-blocks",
    "One plate on the blocks, or one that carries the riding rails.",
    (
        Key("size", "size3", "Along the two axes that are not the normal, in the order x y z; then the thickness", "!"),
        Key("material", "text", "Material", "!", stock=True, names="material", firm=True),
        Key("shift", "pair", "Of its middle, along the plate", default="0, 0 mm", source="definition"),
        Key("spacers", "length", "Its back face stands off the blocks", default="0 mm", source="definition", placed=True),
    ),
    (),
    ("plate",),
)

RECIPES: dict[str, Recipe] = {recipe.name: recipe for recipe in (LADDER, SLAB, BEAM_ON_UPRIGHTS, PORTAL, PLATE_ON_BLOCKS)}

RECIPE_KEY = Key("recipe", "/".join(RECIPES), "Makes the body's parts from the keys beside it; left out: they are listed")


def recipe_table(recipe: Recipe) -> Table:
    """The recipe's own keys as a place."""
    return Table(
        f"recipe {recipe.name}", recipe.help, (RECIPE_KEY, *recipe.keys), recipe.subs, feeds="all",
    )  # fmt: skip


def body_table(recipe: Recipe | None) -> Table:
    """A body with a recipe, or without one."""
    keys = (RECIPE_KEY, *BODY_KEYS, *(recipe.keys if recipe else ()))
    subs = (*BODY_SUBS, *(recipe.subs if recipe else ()))
    known = {key.name for key in keys} | {sub.name for sub in subs}
    others: dict[str, list[str]] = {}
    for other in RECIPES.values():
        for name in (*(key.name for key in other.keys), *(sub.name for sub in other.subs)):
            if name not in known:
                others.setdefault(name, []).append(other.name)
    elsewhere = {name: f"it goes with recipe = {' or '.join(recipes)}" for name, recipes in others.items()}
    elsewhere |= OF_A_PART | ({} if recipe else OF_A_RECIPE)
    thing = RECIPE_THING if recipe else BODY_THING
    return Table("body", "One rigid body of the chain.", keys, subs, feeds="all", thing=thing, elsewhere=elsewhere)


BODY = body_table(None)
RECIPE_TABLES: dict[str, Table] = {name: recipe_table(recipe) for name, recipe in RECIPES.items()}
BODY_TABLES: dict[str, Table] = {"": BODY, **{name: body_table(recipe) for name, recipe in RECIPES.items()}}

UNCLEAR_BODY = Table(
    "body",
    "A body whose recipe could not be read: every recipe's keys are let pass.",
    tuple({key.name: key for recipe in RECIPES.values() for key in (RECIPE_KEY, *BODY_KEYS, *recipe.keys)}.values()),
    tuple({sub.name: sub for recipe in RECIPES.values() for sub in (*BODY_SUBS, *recipe.subs)}.values()),
    feeds="all",
    thing=RECIPE_THING,
    elsewhere=OF_A_PART,
)


def makes(recipe: str, name: str) -> bool:
    """Whether a recipe promises a part of that name."""
    if recipe not in RECIPES:
        return False
    stem, _, number = name.rpartition("-")
    promised = RECIPES[recipe].makes
    return name in promised or (number.isdecimal() and f"{stem}-*" in promised)
