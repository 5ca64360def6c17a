"""How the work is held, and what lies under it."""

from gantrywright.intake.grammar.shape import CP, Key, Sub, Table

TABS = Table(
    "tabs",
    "Bridges that are left standing between the part and what is round it.",
    (
        Key("count", "count", "How many a part", "!", positive=True),
        Key("width", "length", "Width of each, along the cut", "!"),
        Key("thickness", "length", "Thickness of each", "!"),
    ),
    feeds="J",
)

HOLD = Table(
    "hold_down",
    "How the work is held.",
    (
        Key("kind", "vacuum/clamps/screws/tape/slots", "How; slots: clamps in T-slots", "!"),
        Key("area", "area", "Area of vacuum or tape", positive=True),
        Key("pressure", "pressure", "Vacuum under the work", default="16 kPa (12..20)", source=CP, positive=True),
        Key("count", "count", "Number of clamps or screws", positive=True),
        Key(
            "force",
            "force",
            "Force of each",
            otherwise="of a clamp from torque and thread; of a wood screw from its size",
            positive=True,
        ),
        Key(
            "friction",
            "number",
            "Friction coefficient between work and table",
            otherwise="by the material: wood and board 0.2 (0.1..0.35)",
            positive=True,
        ),
        Key("torque", "torque", "Tightening torque of each clamp's screw", positive=True),
        Key("thread", "text", "Thread of each clamp's screw, such as M8"),
        Key(
            "nut_factor",
            "number",
            "Torque over force and diameter of each clamp's screw",
            otherwise="0.2 (0.12..0.25)",
            positive=True,
        ),
        Key("screw_diameter", "length", "Diameter of each wood screw over its thread", positive=True),
        Key("screw_depth", "length", "Depth of its thread in the spoilboard", positive=True),
        Key("pump_pressure", "pressure", "Vacuum that the pump reaches with its inlet closed", positive=True),
        Key("pump_flow", "flow", "What the pump draws with its inlet open, at the shop's pressure", positive=True),
        Key(
            "board",
            "length",
            "Thickness of the board that the vacuum is drawn through",
            otherwise="spoilboard.thickness",
            positive=True,
        ),
        Key("leak", "area", "Open area where air leaks in: kerfs, edges, uncovered board"),
        Key("strength", "pressure", "Shear strength of the tape as it is used", otherwise="40 kPa (30..50)", positive=True),
        Key(
            "safety",
            "number",
            "What holds over what pulls, at the least that is wanted",
            default="2",
            source=CP,
            firm=True,
            positive=True,
        ),
    ),
    (Sub("tabs", TABS, "Bridges that hold a part that is cut free"),),
    feeds="J",
)

SPOILBOARD = Table(
    "spoilboard",
    "The board under the work that through cuts go into, and how it is faced.",
    (
        Key("thickness", "length", "Thickness as it is now", positive=True),
        Key("material", "text", "Material", default="mdf", source=CP, names="material"),
        Key("cutter", "use cutter", "The cutter that faces it", otherwise="unknown"),
        Key(
            "step_over",
            "length",
            "From one facing pass to the next",
            otherwise="half the cutter's diameter, common practice, no source",
            positive=True,
        ),
        Key(
            "tram_across", "straightness", "Slope of the spindle across the facing passes: dial difference over sweep", signed=True
        ),
        Key("tram_along", "straightness", "Slope of the spindle along the facing passes: dial difference over sweep", signed=True),
        Key(
            "unevenness",
            "length",
            "Highest over lowest place, grooves of old cuts included, by a dial in the spindle that is moved over it",
        ),
        Key(
            "least",
            "length",
            "Thickness below which it is replaced",
            otherwise="what the longest screw of a hold-down reaches into it",
            positive=True,
        ),
        Key("span", "length", "Between the bearers that it lies on", otherwise="none, if it lies on another layer", positive=True),
    ),
    feeds="J A",
)
