"""Keys of everything that is owned or bought, and tables that occur in many places."""

from gantrywright.intake.grammar.shape import CP, Key, Sub, Table

THING_KEYS = (
    Key("stock", "text", "Name of a piece in the shop file; its length, hole phase and condition are taken from there"),
    Key("owned", "flag", "It is already there and costs nothing", otherwise="false; true with stock"),
    Key("price", "money", "Price of each piece", otherwise="the shop's offer, else the parts row's price"),
    Key("condition", "text", "State of a used piece, in words", stock=True),
    Key("label", "text", "What stands on its label or drawing"),
    Key("note", "text", "Remark for the reader"),
    Key("remaining", "number", "Factor on its load ratings", default="1", source="definition", stock=True, firm=True,
        positive=True, most=1.0),
    Key("mass", "mass", "Mass of one piece", otherwise="from geometry and material, else the parts row's"),
    Key("fitted", "fitted", "Date it was fitted; false: planned and priced, not placed", default="true", source="definition"),
    Key(
        "state",
        "idea/bought/cut/drilled/fitted",
        "How far it is: metal that is cut is no longer free to change",
        otherwise="bought where it is owned, else idea",
    ),
    Key("made", "here/cut/bought", "Who makes it; cut: bought cut to size", default="here", source="definition"),
    Key("mirror", "text", "Name of the sibling that it copies across the body's middle", leads="sibling"),
    Key("remove", "flag", "Takes away what a lower layer made"),
)  # fmt: skip

REPEAT = Table(
    "repeat",
    "Makes NAME-1, NAME-2 ... of one table.",
    (
        Key("count", "count", "How many", "!"),
        Key("step", "point", "From one to the next", "!", mirror="vector"),
    ),
    feeds="all",
)

THING = Table(
    "thing", "Everything that is owned or bought.", THING_KEYS, (Sub("repeat", REPEAT, "Copies at equal steps"),), feeds="S G D A C"
)
"""Taken by every place that is a thing."""

BODY_THING = Table(
    "thing of a body",
    "What is said of a whole body.",
    tuple(key for key in THING_KEYS if key.name in ("label", "note")),
    feeds="C",
)
"""A body is the sum of its parts, so whatever else is said of a thing is said of a part."""

HANDED = ("stock", "owned", "price", "condition", "made", "fitted", "state")
"""Keys of a body with a recipe that go to every part that the recipe makes; stock only where it makes one."""

RECIPE_THING = Table(
    "thing of a body with a recipe",
    "What is said of a whole body, and what its recipe hands to every part that it makes.",
    tuple(key for key in THING_KEYS if key.name in ("label", "note", *HANDED)),
    feeds="S G D A C",
)

OF_A_PART = {
    "mass": 'a body weighs what its parts weigh; of one that was weighed write [measured.NAME] with observe = "mass", of = "BODY", '
    "value, with and on: what the parts lack is then added",
    "remaining": "it belongs to a part: write it in that part's own table",
    "mirror": "it belongs to a part: write it in that part's own table",
    "remove": "it belongs to a part: write it in that part's own table",
    "repeat": "it belongs to a part: write it in that part's own table",
}
"""Keys of a thing that do nothing for a body, and what to write instead."""
OF_A_RECIPE = dict.fromkeys(
    HANDED,
    "only a recipe hands it to the parts that it makes; this body is listed, so write it in its parts, or once for all in each of "
    "member, plate, item or foot",
)

FOOT_STIFFNESS = Table(
    "stiffness of a foot",
    "How far a foot gives.",
    (
        Key("vertical", "stiffness", "Upright", default="50 N/um (20..100)", source=CP, positive=True),
        Key("horizontal", "stiffness", "Sideways", otherwise="a third of the vertical one, common practice, no source", positive=True),
    ),
    feeds="S",
)  # fmt: skip

BLOCK_STIFFNESS = Table(
    "stiffness of a block",
    "Of one block at its preload; what is left out is estimated from size and preload.",
    (
        Key("normal", "stiffness", "Square to the rail's foot", positive=True),
        Key("lateral", "stiffness", "Across the rail", positive=True),
        Key("roll", "tilt-stiffness", "About the rail", positive=True),
        Key("pitch", "tilt-stiffness", "About the lateral axis", positive=True),
        Key("yaw", "tilt-stiffness", "About the normal", positive=True),
    ),
    feeds="G S",
)
