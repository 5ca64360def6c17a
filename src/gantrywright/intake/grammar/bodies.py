"""The chain of bodies and what a body is made of."""

from gantrywright.intake.grammar.joints import HOLES, JOINT_MANNER, JOINTS_OF_A_BODY, OPENING
from gantrywright.intake.grammar.shape import Key, Sub, Table
from gantrywright.intake.grammar.things import FOOT_STIFFNESS, THING

CHAIN_LINK = Table(
    "link of the chain",
    "How a body hangs on another; a body with neither key stands on the ground.",
    (
        Key("on", "ref", "The body that carries it", otherwise="as the layout says", leads="body"),
        Key("axis", "ref", "The axis that moves it", otherwise="as the layout says; none: bolted on", leads="axis"),
    ),
    feeds="all",
)

CHAIN_KEYS = (
    Key("work", "ref", "The body that the work lies on", otherwise="as the layout says", leads="body"),
    Key("tool", "ref", "The body that carries the spindle", otherwise="as the layout says", leads="body"),
)

HOLES_SUB = Sub("holes", HOLES, "Holes by name", "names")
JOINT_SUB = Sub("joint", JOINT_MANNER, "How it is joined", need="")

MEMBER = Table(
    "member",
    "A bar: two ends and a section.",
    (
        Key("section", "use section", "Its cross-section", "!"),
        Key("from", "point", "Cut end", "!", mirror="place"),
        Key("to", "point", "Other cut end", "!", mirror="place"),
        Key("by", "words", 'What from and to run along: axis, or a face or edge such as "bottom", "left top"', default="axis", source="definition"),
        Key("up", "direction", "Where the section's height points", otherwise="top; back for upright bars", mirror="vector"),
        Key("material", "text", "Material", otherwise="the section's", names="material"),
        Key("fill", "text", "Material that a hollow bar is filled with", names="material"),
        Key("ends", "[words]", 'How each end is cut; "mitre 45 deg left": its long side is left', otherwise="square"),
    ),
    (JOINT_SUB, HOLES_SUB),
    feeds="S G H A V C",
    thing=THING,
    carries="section",
)  # fmt: skip

PLATE = Table(
    "plate",
    "A plate.",
    (
        Key("size", "size3", "Along the two axes that are not the normal, in the order x y z; then the thickness", "!"),
        Key("normal", "direction", "Square to the plate", "!", mirror="vector"),
        Key("at", "point", "Its middle, or the middle of the face named in by", "!", mirror="place"),
        Key("by", "words", "What at is the middle of: axis, or a face", default="axis", source="definition"),
        Key("material", "text", "Material", "!", stock=True, names="material", firm=True),
        Key("strip", "direction", "The way it carries as a bar", otherwise="its longer side", mirror="vector"),
        Key("rigid", "flag", "Taken as rigid", default="false", source="definition"),
        Key(
            "outline",
            "text",
            "DXF drawing or points file beside the machine; x and y of it run along the plate's first and second size",
            otherwise="a rectangle",
        ),
    ),
    (JOINT_SUB, Sub("openings", OPENING, "Cut-outs", "list"), HOLES_SUB),
    feeds="S G H A V C",
    thing=THING,
)

ITEM = Table(
    "item",
    "A lump that is carried along: its mass and its box.",
    (
        Key("mass", "mass", "Its mass", "!"),
        Key("at", "point", "Its middle", "!", mirror="place"),
        Key("on", "ref", "What carries it", otherwise="the nearest part of the body"),
        Key("size", "size3", "Its box, x y z", otherwise="a point"),
        Key("what", "text", "What it is"),
    ),
    (HOLES_SUB,),
    feeds="S G D A V",
    thing=THING,
)

FOOT = Table(
    "foot",
    "A foot on the floor.",
    (
        Key("part", "use foot", "Its part", "!"),
        Key("at", "point", "Its middle", "!", mirror="place"),
        Key("on", "ref", "What it is screwed into", otherwise="the part that it touches"),
    ),
    (Sub("stiffness", FOOT_STIFFNESS, "How far it gives; left out: the parts row's, else steel on concrete"),),
    feeds="S V C",
    thing=THING,
    carries="part",
)

LAYER = Table(
    "layer",
    "One layer of a table top.",
    (
        Key("material", "text", "Material", "!", stock=True, names="material", firm=True),
        Key("thickness", "length", "Thickness", "!", placed=True),
        Key("pitch", "length", "Webs: distance of those along the long side", placed=True, positive=True),
        Key("across_pitch", "length", "Webs: distance of those across it", placed=True, positive=True),
    ),
    feeds="S J H",
    thing=THING,
)

WEBS = Table(
    "webs",
    "Webs of a torsion box.",
    (
        Key("material", "text", "Material", "!", stock=True, names="material", firm=True),
        Key("thickness", "length", "Thickness", "!", placed=True),
        Key("pitch", "length", "Distance of those that run along the long side", "!", placed=True, positive=True),
        Key("across_pitch", "length", "Distance of those that run across it", "!", placed=True, positive=True),
    ),
    feeds="S J H",
    thing=THING,
)

TOP = Table(
    "top",
    "What the work lies on; the machine's z = 0 is the face of its last layer.",
    (
        Key("recipe", "layers/torsion-box", "Layers give mass and local stiffness; a box is also a bar along its long side",
            default="layers", source="definition"),
        Key("on", "ref", "What carries it: gives height and joints", "!", leads="parts"),
        Key("size", "size2", "x, y", otherwise="work area and 100 mm each way"),
        Key("at", "pair", "Its middle", otherwise="middle plane, middle of what carries it"),
        Key("height", "length", "Of a torsion box over both skins", "if recipe=torsion-box", placed=True, positive=True),
    ),
    (
        Sub("layers", LAYER, "Lowest first", "list", need="!"),
        Sub("skins", LAYER, "Skins of a torsion box", need="if recipe=torsion-box"),
        Sub("webs", WEBS, "Webs of a torsion box", need="if recipe=torsion-box"),
        Sub("joint", JOINTS_OF_A_BODY, "How it is held down; left out: screwed"),
        HOLES_SUB,
    ),
    feeds="S J H V",
    thing=THING,
)  # fmt: skip

BODY_KEYS = (
    Key("zero", "point", "Ground body: where the machine's zero lies in its measures",
        otherwise="the middle of the reach over the middle of the work area, z on the upper face of top"),
    Key("at", "point", "A body bolted to another: its origin in that one's measures", otherwise="needed where it is bolted on"),
    Key("middle", "length", "Its middle plane in x: for mirror, outer and inner", signed=True, placed=True,
        otherwise="0 with a recipe or a guide, else needed for mirror, outer and inner"),
)  # fmt: skip

BODY_SUBS = (
    Sub("joint", JOINTS_OF_A_BODY, "How its parts are joined; left out: by the pair"),
    Sub("member", MEMBER, "Bars by name", "names"),
    Sub("plate", PLATE, "Plates by name", "names"),
    Sub("item", ITEM, "Lumps by name", "names"),
    Sub("foot", FOOT, "Feet by name", "names"),
    Sub("top", TOP, "What the work lies on"),
)

COLLECTIONS = ("member", "plate", "item", "foot")
"""Collections of a body that share one list of names."""
