"""Joints, bolts, holes and openings."""

from gantrywright.intake.grammar.shape import CP, Key, Sub, Table

HOLES = Table(
    "holes",
    "Holes on one face of a part. Along and across: of a bar from its from end and from its middle line, of a plate both from the middle.",
    (
        Key("face", "face", "The face they are on", "!"),
        Key("pattern", "row/grid/corners/circle/points", "How they are laid out", "!"),
        Key("first", "length", "Along, to the first hole", placed=True, signed=True),
        Key("pitch", "length", "Along, hole to hole", placed=True),
        Key("across", "length", "Across, to the row or the middle of the grid", placed=True, mirror="across", signed=True),
        Key("pitch_across", "length", "Across, hole to hole", placed=True),
        Key("diameter", "length", "Of the bolt circle", placed=True, positive=True),
        Key("count", "count", "Holes along, or on the circle", positive=True),
        Key("count_across", "count", "Holes across", positive=True),
        Key("centre", "pair", "Middle of corners or circle", default="0, 0 mm", source="definition", mirror="across"),
        Key("points", "[pair]", "Each hole by along and across", mirror="across"),
        Key("size", "length", "Diameter of each hole", placed=True, positive=True),
        Key("thread", "text", "Thread of each hole"),
        Key("depth", "length", "Depth", otherwise="through", placed=True, positive=True),
        Key("through", "text", "Of a hollow bar: wall, or both walls"),
        Key("kind", "text", "Insert, slot, counterbore ... in words"),
        Key("note", "text", "Remark"),
        Key("planned", "flag", "Not drilled yet", default="false", source="definition"),
        Key("table", "text", "CSV file beside the machine: along, across, size"),
        Key("remove", "flag", "Takes away what a lower layer made"),
    ),
    feeds="H A",
)

OPENING = Table(
    "opening",
    "A cut-out of a plate.",
    (
        Key("size", "size2", "Along the first and the second axis", "!"),
        Key("at", "pair", "Its middle from the middle of the plate", "!", mirror="across"),
        Key("round", "flag", "An ellipse instead of a rectangle", default="false", source="definition"),
        Key("note", "text", "Remark"),
    ),
    feeds="H V",
)

STIFFNESS = Table(
    "stiffness of a joint",
    "n along the mating face's normal, a along the section's height, b the third; r about.",
    (
        Key("n", "stiffness", "Along the normal"),
        Key("a", "stiffness", "Along the section's height"),
        Key("b", "stiffness", "Along the third axis"),
        Key("rn", "tilt-stiffness", "About the normal"),
        Key("ra", "tilt-stiffness", "About the section's height"),
        Key("rb", "tilt-stiffness", "About the third axis"),
    ),
    feeds="S",
)

BOLTS = Table(
    "bolts",
    'The bolts of one joint; "8 x M8" is short for count and thread.',
    (
        Key("thread", "text", "Thread, such as M8, M8x1 or 1/4-20", "!"),
        Key("count", "count", "How many", default="1", source="definition", positive=True),
        Key("use", "ref", "Existing holes that they go through", leads="holes"),
        Key("every", "count", "Every so many of those holes", default="1", source="definition", positive=True),
        Key("class", "text", "Strength class", default="8.8", source=CP),
        Key("into", "tapped/nut/insert/slot-nut", "What they are screwed into", default="nut", source=CP),
        Key("length", "length", "Length under the head", otherwise="computed from what they clamp", placed=True, positive=True),
        Key(
            "torque",
            "torque",
            "Tightening torque",
            otherwise="what brings it to 90 % of its yield, or to what its thread bears",
            positive=True,
        ),
        Key(
            "friction",
            "number",
            "Friction coefficient of the thread and under the head",
            default="0.12 (0.08..0.16)",
            source="vdi-2230",
            positive=True,
        ),
        Key("tightening", "torque-wrench/by-feel/power-tool", "What they are tightened with", default="torque-wrench", source=CP),
        Key(
            "scatter",
            "number",
            "Largest over least clamp force that the way of tightening gives, 1 or more",
            otherwise="by tightening: torque wrench 1.6 (1.4..1.8), by feel 2.8 (2..4), power tool 3.2 (2.5..4)",
            positive=True,
        ),
        Key(
            "engagement",
            "length",
            "Length of thread that is screwed in, where it is tapped",
            positive=True,
            otherwise="what is left of length, else two diameters, or the thickness where that is less",
        ),
        Key(
            "bears",
            "force",
            "Pull that what one is screwed into bears",
            positive=True,
            otherwise="slot nut: published, by its slot; tapped: four fifths of what strips it; nut: as much as the bolt; insert: unknown",
        ),
    ),
    (Sub("pattern", HOLES, "Where they sit; left out: tapped cores, holes of the part, else a grid in the contact patch"),),
    feeds="S H A C",
)

JOINT_KINDS = ("welded", "bolted", "end-tapped", "bracket", "screwed", "glued", "bedded")

JOINT_KEYS = (
    Key("kind", "/".join((*JOINT_KINDS, "none")), "How the two are held", otherwise="as the body says"),
    Key("count", "count", "Number of brackets", default="1", source="definition", positive=True),
    Key(
        "faces", "as-found/as-extruded/sawn/milled/shimmed/bedded", "State of the mating faces", default="as-found", source=CP,
    ),
    Key("friction", "number", "Friction coefficient of the mating faces", otherwise="by the state of the faces", positive=True),
    Key("times", "number", "Factor on the estimated stiffness", otherwise="1 with the band of its kind", positive=True),
    Key("loss", "number", "Loss factor, energy lost over energy held", otherwise="by its kind", positive=True),
    Key("note", "text", "Remark"),
)  # fmt: skip

JOINT_SUBS = (
    Sub("bolts", BOLTS, "Its bolts; left out: its slip and its holes are unknown", short="bolts"),
    Sub("stiffness", STIFFNESS, "Springs of the joint; left out: estimated from its kind"),
)

JOINT_MANNER = Table("joint of a part", "How joints are made where none is named.", JOINT_KEYS, JOINT_SUBS, feeds="S H A")

JOINTS_OF_A_KIND = Table(
    "joints of one kind",
    "What all joints of one kind of a body share that say nothing of their own; what is measured on one goes here.",
    (
        Key("times", "number", "Factor on their estimated stiffness", otherwise="1 with the band of the kind", positive=True),
        Key("loss", "number", "Their loss factor, energy lost over energy held", otherwise="by the kind", positive=True),
        Key("friction", "number", "Friction coefficient of their faces", otherwise="by the state of the faces", positive=True),
        Key(
            "beyond",
            "number",
            "Of joints outside the range of their estimate: 0 as soft, 1 as estimated, 2 as stiff as they may be there",
            otherwise="1 (0..2)",
        ),
    ),
    feeds="S",
)

JOINTS_OF_A_BODY = Table(
    "joints of a body",
    "How joints are made where none is named, and what those of one kind share.",
    JOINT_KEYS,
    (*JOINT_SUBS, *(Sub(kind, JOINTS_OF_A_KIND, f"All its {kind} joints") for kind in JOINT_KINDS)),
    feeds="S H A",
)

JOINT = Table(
    "joint",
    "One named joint; two parts that touch are joined without one.",
    (
        Key("between", "[ref]", "The two parts", "!"),
        Key("mirror", "text", "Name of the joint that it copies across the body's middle", leads="sibling"),
        *JOINT_KEYS,
    ),
    JOINT_SUBS,
    feeds="S H A",
)

FIX = Table(
    "fix",
    "How a rail or block is screwed down; left out: slot nuts in profiles, tapped in metal thicker than the thread, else nuts.",
    (
        Key("into", "tapped/slot-nut/nut/rivet-nut/insert", "What the screws go into"),
        Key("thread", "text", "Thread", otherwise="the parts row's"),
        Key("class", "text", "Strength class", default="8.8", source=CP),
        Key("nut", "drop-in/slide-in", "Kind of slot nut", default="drop-in", source=CP),
        Key("holes", "ref", "Existing holes that it must meet", leads="holes"),
    ),
    feeds="H A C",
)
