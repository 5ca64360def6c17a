"""An axis: guide, drives, and what belongs to them."""

from gantrywright.intake.grammar.joints import FIX
from gantrywright.intake.grammar.shape import CP, FASTEST, HARDEST, LARGEST, Key, Sub, Table
from gantrywright.intake.grammar.things import BLOCK_STIFFNESS, THING

PRELOADS = "clearance/light/medium/heavy"

ALIGNMENT = Table(
    "alignment",
    "What you can reach over the length of the rails.",
    (
        Key("parallel", "length", "Parallelism of the rails", default="0.1 mm (0.05..0.2)", source=CP, firm=True),
        Key("height", "length", "Difference in height between the rails", default="0.1 mm (0.05..0.2)", source=CP, firm=True),
        Key("straight", "length", "Straightness of each rail", default="0.1 mm (0.05..0.2)", source=CP, firm=True),
        Key(
            "structure",
            "stiffness",
            "How stiffly what lies between two opposite blocks resists an error of the rails",
            default="50 N/um (15..150)",
            source=CP,
            positive=True,
            firm=True,
        ),
    ),
    feeds="G P",
)

HOME = Table(
    "home",
    "Where the axis finds its zero.",
    (
        Key("at", "least/most", "Which end", "!"),
        Key("sensor", "use sensor", "Its sensor", "!"),
        Key("each_drive", "flag", "A sensor a drive: squares two drives", default="false", source="definition"),
    ),
    feeds="W P",
)

COUNTERWEIGHT = Table(
    "counterweight",
    "What carries the weight of an upright axis.",
    (
        Key("kind", "text", "Gas spring, weight, spring", default="gas spring", source="definition"),
        Key("force", "force", "Its force", "!", firm=True),
        Key("on", "ref", "What holds its other end", otherwise="the carrying body", leads="body"),
    ),
    feeds="D G",
    thing=THING,
)

CABLE_CHAIN = Table(
    "cable_chain",
    "The cable chain to the moving body.",
    (
        Key("part", "use cable-chain", "Its part", "!"),
        Key("on", "ref", "What its fixed end is screwed to", "!"),
        Key("fixed_at", "point", "Fixed end, in the measures of what it is on", "!"),
        Key("moving_at", "point", "Moving end, in the measures of the moving body", "!"),
        Key("radius", "length", "Bend radius", otherwise="the parts row's", placed=True, positive=True),
    ),
    feeds="W S D",
    thing=THING,
    carries="part",
)

SLIDE = Table(
    "slide",
    "A bought slide: makes rails, blocks, the drive, and a base and a saddle on the two bodies.",
    (
        Key("part", "use slide", "Its part", "!"),
        Key("on", "ref", "What its base is screwed to", "!"),
        Key("face", "face", "On which face", "!"),
        Key("at", "pair", "Middle of its base on that face", default="0, 0 mm", source="definition"),
    ),
    feeds="all",
    thing=THING,
    carries="part",
)

RAIL = Table(
    "rail",
    "One rail.",
    (
        Key("part", "use rail", "Its part", "!"),
        Key("length", "length", "Its length", "!", placed=True, stock=True, positive=True),
        Key("on", "ref", "Member or plate that it lies on; the body of that decides whether rails stand or ride", "!"),
        Key("face", "face", "On which face", "!"),
        Key("across", "length", "From the middle of its carrier, positive with the axis left over by travel and normal",
            default="0 mm", source="definition", placed=True, mirror="across", signed=True),
        Key("start", "length", "From the carrier's end of least coordinate", otherwise="centred", placed=True, signed=True),
        Key("first_hole", "length", "At the end of least coordinate", otherwise="equal ends", placed=True, stock=True, feeds="H A C"),
        Key("shim", "length", "Between face and rail foot; negative where it is let in", default="0 mm", source="definition", placed=True, signed=True, feeds="H A C"),
        Key("joined_at", "[length]", "Butt joints, from the end of least coordinate", placed=True, feeds="H A C", positive=True),
    ),
    (Sub("fix", FIX, "How it is screwed down"),),
    feeds="S G V",
    thing=THING,
    carries="part",
)  # fmt: skip

BLOCKS = Table(
    "blocks",
    "The blocks of the axis.",
    (
        Key("part", "use block", "Their part", "!"),
        Key("per_rail", "count", "Blocks on each rail", default="2", source=CP, positive=True),
        Key("spacing", "length", "Middle of the first to middle of the last", "if per_rail>1", placed=True),
        Key("preload", PRELOADS, "Preload class", default="light", source=CP),
        Key("on", "ref", "What they are screwed to; needed where rails ride", otherwise="what they touch", leads="parts"),
        Key("face", "face", "Face of that; needed where rails ride"),
        Key("at", "length", "Middle of the row in its body's measures; from the carrier's middle where rails ride",
            default="0 mm", source="definition", placed=True, signed=True),
        Key("seal_force", "force", "Drag of the seals of one block", otherwise="the parts row's"),
    ),
    (
        Sub("stiffness", BLOCK_STIFFNESS, "Of each block; left out: estimated from size and preload"),
        Sub("fix", FIX, "How they are screwed on"),
    ),
    feeds="G S H C V",
    thing=THING,
    carries="part",
)  # fmt: skip

BLOCK = Table(
    "block",
    "One block RAIL-1, RAIL-2 ... made by blocks, or all blocks of one rail by the rail's name.",
    (
        Key("part", "use block", "Its part", otherwise="as blocks"),
        Key("at", "length", "Its middle along the rail, in its body's measures", otherwise="by spacing", placed=True, signed=True),
        Key("preload", PRELOADS, "Preload class", otherwise="as blocks"),
        Key("seal_force", "force", "Drag of its seals", otherwise="as blocks"),
    ),
    (Sub("stiffness", BLOCK_STIFFNESS, "Its stiffness; left out: as blocks"),),
    feeds="G S",
    thing=THING,
    carries="part",
)

REDUCTION = Table(
    "reduction",
    "Belt stage or gearbox between motor and what it drives.",
    (
        Key("kind", "belt/gearbox", "Which", "!"),
        Key("part", "use gearbox", "Its part"),
        Key("ratio", "number", "Motor turns per turn of what it drives", "!", firm=True, positive=True),
        Key("offset", "point", "Motor axis from the driven axis", default="0, 0, 0 mm", source="definition", mirror="vector"),
        Key("backlash", "angle", "Play at the output", otherwise="the parts row's, else of a belt stage 1 arcmin (0.3..5)"),
        Key(
            "stiffness",
            "twist-stiffness",
            "At the output, motor held",
            otherwise="the parts row's, else by kind",
            feeds="D S",
            positive=True,
        ),
        Key("efficiency", "number", "Output over input power", otherwise="the parts row's, else by kind", positive=True, most=1.0),
    ),
    feeds="D W",
)

DRIVE_KINDS = ("ball-screw", "lead-screw", "rack", "belt")

DRIVE = Table(
    "drive",
    "One drive of the axis.",
    (
        Key("kind", "/".join(DRIVE_KINDS), "Kind of drive", "!"),
        Key("part", "use drive", "The long piece: screw, rack or belt", "!"),
        Key("on", "ref", "The body that holds the long piece", otherwise="the carrying body", leads="body"),
        Key("from", "point", "Bearing, pulley or rack end", placed=True, mirror="place"),
        Key("to", "point", "The other one", placed=True, mirror="place"),
        Key("beside", "ref", "What offset counts from", otherwise="middle of the guide on that body", leads="beside"),
        Key("offset", "point", "From there to the line of action", mirror="vector"),
        Key("length", "length", "Bearing to bearing, pulley to pulley, rack end to end", placed=True, positive=True),
        Key("shift", "length", "Of its middle along the axis", default="0 mm", source="definition", placed=True, signed=True),
        Key("turns", "screw/nut", "What turns", default="screw", source="definition", feeds="D S"),
        Key("ends", "fixed-free/supported-supported/fixed-supported/fixed-fixed/clamped-clamped",
            "How the ends are held; clamped: does not turn", default="fixed-supported", source=CP, feeds="D S"),
        Key("bearing", "use bearing", "Bearing at the fixed end", otherwise="by the screw's diameter", feeds="D S"),
        Key("bracket", "stiffness", "Of nut bracket and bearing seats together", default="100 N/um (40..300)", source=CP, feeds="D S", positive=True),
        Key("loss", "number", "Loss factor along its axis, grip and bearings together", default="0.05 (0.03..0.1)", source=CP, feeds="S", positive=True),
        Key("nut", "use nut", "Its nut", otherwise="by the screw", feeds="D S"),
        Key("grip_at", "length", "Nut, pinion or clamp along the axis, in the measures of its body",
            otherwise="0 mm on a moving body, else the middle of the guide", placed=True, feeds="D S", signed=True),
        Key("pinion", "use pinion", "Pinion of a rack", "if kind=rack", feeds="D S"),
        Key("pulley", "use pulley", "Pulley of a belt", "if kind=belt", feeds="D S"),
        Key("runs", "moving-belt/fixed-belt", "Fixed: the belt lies still and the motor rides", default="moving-belt",
            source="definition", feeds="D S"),
        Key("seats", "[ref]", "What the two ends are screwed to", otherwise="the nearest parts of that body", feeds="H A", leads="parts"),
        Key("grip_on", "ref", "What nut, pinion or clamp is screwed to", otherwise="the nearest part of the other body", feeds="H A", leads="parts"),
        Key("driven_by", "ref", "Another drive that turns it: no motor of its own", feeds="D W", names="drive"),
        Key("pretension", "force", "Of a belt, or of a screw held at both ends", otherwise="the parts row's", feeds="D"),
        Key("travel_per_turn", "lead", "Travel of the axis per turn of the driven shaft", otherwise="computed from the parts", feeds="D", positive=True),
        Key("efficiency", "number", "Work out over work in", otherwise="computed", feeds="D", positive=True, most=1.0),
        Key("motor", "use motor", "Its motor", "unless driven_by", feeds="D E W C"),
        Key("motor_end", "direction", "At which end the motor sits", otherwise="the from end; riding motors at the grip", mirror="vector",
            feeds="D E W C"),
        Key("coupling", "use coupling", "Its coupling", otherwise="by the motor, if direct", feeds="D W C"),
        Key("driver", "use driver", "Its driver", "unless driven_by", feeds="D E W C"),
        Key("supply", "ref", "Name of its supply", "unless driven_by", feeds="D E W C", names="supply"),
    ),
    (Sub("reduction", REDUCTION, "Between motor and what it drives; left out: direct"),),
    feeds="D G S H V",
    thing=THING,
    either=(("offset", "length", "beside?", "shift?"), ("from", "to")),
    carries="part",
)  # fmt: skip

AXIS = Table(
    "axis",
    "One axis of motion.",
    (
        Key("travel", "length", "Wanted travel", "!", placed=True, most=LARGEST),
        Key("along", "x/y/z", "Direction", otherwise="first letter of its name"),
        Key("offset", "length", "Of the middle of the blocks from the middle of the rails at half travel",
            default="0 mm", source="definition", placed=True, signed=True),
        Key("rapid", "speed", "Wanted speed between cuts", otherwise="purpose.rapid", firm=True, positive=True, most=FASTEST),
        Key("feed", "speed", "Wanted cutting feed", otherwise="purpose.feed", firm=True, positive=True, most=FASTEST),
        Key("accel", "accel", "Wanted acceleration", otherwise="purpose.accel", positive=True, most=HARDEST),
        Key("rise_time", "time", "Time in which the acceleration builds up, and in which it dies away, as the controller is set; 0: at once",
            default="0 s", source="definition"),
        Key("stops", "length", "From the end of the travel to the end stop", default="5 mm", source=CP, placed=True),
    ),
    (
        Sub("alignment", ALIGNMENT, "What you can reach", always=True),
        Sub("home", HOME, "Where it finds its zero"),
        Sub("counterweight", COUNTERWEIGHT, "What carries the weight of an upright axis"),
        Sub("cable_chain", CABLE_CHAIN, "Its cable chain"),
        Sub("slide", SLIDE, "A bought slide that makes the rest"),
        Sub("rail", RAIL, "Rails by name", "names"),
        Sub("blocks", BLOCKS, "Its blocks", need="unless slide"),
        Sub("block", BLOCK, "Single blocks", "names"),
        Sub("drive", DRIVE, "Drives by name", "names"),
    ),
    feeds="all",
)  # fmt: skip
