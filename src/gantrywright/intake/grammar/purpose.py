"""Machine, purpose, jobs and site: what is wanted and where it stands."""

from gantrywright.intake.grammar.holding import HOLD
from gantrywright.intake.grammar.shape import COARSEST, CP, FASTEST, HARDEST, LARGEST, LONGEST_TOOL, Key, Sub, Table

MACHINE = Table(
    "machine",
    "Name and conventions of the machine.",
    (
        Key("name", "text", "Name of the machine", "!"),
        Key("layout", "moving-gantry/fixed-gantry/own", "Which chain of bodies; own: written in [chain]", "!"),
        Key("show", "metric/inch", "System of everything that is shown", default="metric", source="definition", firm=True),
        Key("currency", "text", "Currency of everything that is shown, ISO 4217", default="EUR", source="definition"),
        Key(
            "drawn_at",
            "pose",
            "Pose in which the bodies are written down: of x, y, z a length, zero, half or full",
            otherwise="half, half, full travel",
        ),
        Key("shop", "text", "Shop file", otherwise="shop.toml beside this file, if there"),
        Key("tables", "text", "Folder of your own parts tables", otherwise="parts/ beside this file, if there"),
        Key("revision", "text", "Revision"),
        Key("note", "text", "Remark"),
    ),
    feeds="all",
)

PURPOSE = Table(
    "purpose",
    "What is wanted of the machine.",
    (
        Key("work_area", "size3", "Largest work: x, y, z", "!", most=LARGEST),
        Key("rapid", "speed", "Wanted speed between cuts", "!", firm=True, most=FASTEST),
        Key("feed", "speed", "Wanted cutting feed", "!", firm=True, positive=True, most=FASTEST),
        Key("accel", "accel", "Wanted acceleration", otherwise="as much as can be promised", positive=True, most=HARDEST),
        Key("accuracy", "length", "Wanted accuracy of the path", positive=True, most=COARSEST),
        Key("stiffness", "stiffness", "Wanted at the tool, in any direction", positive=True),
        Key("budget", "money", "Money for everything that is still to be bought"),
    ),
    feeds="J D S P C",
)

WORK = Table(
    "work",
    "The piece that is cut.",
    (
        Key("size", "size3", "x, y, z", "!"),
        Key("at", "point", "Its least corner from the machine's zero", "!"),
    ),
    feeds="J V",
)

JOB = Table(
    "job",
    "One kind of cut that the machine is for.",
    (
        Key("material", "text", "Material that is cut", "!", names="material"),
        Key("cutter", "use cutter", "The cutter", otherwise="tool.cutter"),
        Key("stick_out", "length", "From the collet face to the tip", otherwise="tool.stick_out", positive=True, most=LONGEST_TOOL),
        Key("slot", "flag", "Cuts its full width", default="false", source="definition"),
        Key("depth", "length", "Depth of one pass", "!", firm=True),
        Key(
            "width",
            "length",
            "Width of one pass, no more than the cutter's diameter; wanted unless it is a slot or a drill",
            otherwise="the cutter's diameter of a slot or a drill",
            firm=True,
            positive=True,
        ),
        Key("feed", "speed", "Feed", otherwise="purpose.feed", firm=True, positive=True, most=FASTEST),
        Key(
            "plunge",
            "speed",
            "Feed downwards",
            otherwise="a third of the feed, common practice, no source",
            firm=True,
            positive=True,
            most=FASTEST,
        ),
        Key("speed", "turn-speed", "Speed of the spindle", "!", firm=True),
        Key("passes", "count", "Passes to full depth", default="1", source="definition", positive=True),
        Key("way", "climb/conventional/both", "Direction of cutting", default="both", source=CP),
        Key("grain", "along/across/all", "Which way it feeds against the grain of wood", default="all", source=CP),
        Key("edge", "new/used/worn", "State of the cutter's edges", default="used", source=CP),
        Key(
            "edge_factor",
            "number",
            "Edge forces over those of the material",
            otherwise="by edge: new 0.9 (0.7..1), used 1 (0.9..1.3), worn 2.5 (2..3)",
            positive=True,
        ),
        Key("run_out", "length", "Reading of an indicator at the cutter over a turn", otherwise="spindle.part.run_out"),
        Key("share", "number", "Share of the cutting time", otherwise="equal shares", firm=True, positive=True, most=1.0),
        Key("note", "text", "Remark"),
    ),
    (Sub("hold_down", HOLD, "How the work is held"), Sub("work", WORK, "The piece; left out: in the middle of the work area")),
    feeds="J G D S",
)

OUTLET = Table(
    "outlet",
    "A wall outlet.",
    (
        Key("voltage", "voltage", "Voltage", "!", firm=True),
        Key("current", "current", "Rating of the breaker behind it", "!", firm=True),
        Key("phases", "count", "Phases", default="1", source="definition", positive=True),
        Key("curve", "text", "Curve of the breaker", otherwise="unknown"),
        Key("residual", "text", "Residual current device, in words", otherwise="unknown"),
        Key("note", "text", "Remark"),
    ),
    feeds="E D",
)

LOAD = Table(
    "load",
    "Something else that is fed from an outlet.",
    (
        Key("power", "power", "Power it draws", "!", firm=True),
        Key("outlet", "ref", "Name of the outlet", "!", names="outlet"),
        Key("runs", "always/with-spindle/seldom", "When it runs", default="with-spindle", source=CP),
        Key("start_factor", "number", "Starting over running current", default="3 (2..6)", source=CP, firm=True, positive=True),
    ),
    feeds="E",
)

SITE = Table(
    "site",
    "Where the machine stands.",
    (
        Key("ambient", "temperature", "Temperature of the shop", default="20 °C (10..30)", source=CP, firm=True),
        Key("altitude", "length", "Above sea level", default="0 m", source=CP, signed=True),
        Key("floor", "concrete/timber/steel", "Floor", default="concrete", source=CP),
        Key("rules", "IEC/NEC", "Family of wiring rules", "with outlet"),
    ),
    (
        Sub("outlet", OUTLET, "Wall outlets by name", "names"),
        Sub("load", LOAD, "Other loads by name", "names"),
    ),
    feeds="E S D P",
)
