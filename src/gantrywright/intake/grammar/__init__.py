"""The grammar of the machine file as data: one small file a region, read by the reader, the schema and the reference page."""

from gantrywright.intake.grammar.axis import AXIS
from gantrywright.intake.grammar.bodies import CHAIN_KEYS, CHAIN_LINK
from gantrywright.intake.grammar.electric import CABINET, CABLE, CONTROLLER, SPINDLE, SUPPLY, TOOL
from gantrywright.intake.grammar.holding import SPOILBOARD
from gantrywright.intake.grammar.joints import JOINT
from gantrywright.intake.grammar.measured import MEASURED
from gantrywright.intake.grammar.purpose import JOB, MACHINE, PURPOSE, SITE
from gantrywright.intake.grammar.shape import Key, Sub, Table

FORMAT = 1
"""The format that this program reads and writes."""

CHAIN = Table("chain", "The chain of bodies; layout writes it unless it is own.", CHAIN_KEYS, feeds="all")
"""Its freely named tables are `CHAIN_LINK`."""

ROOT = Table(
    "file",
    "One machine.",
    (Key("format", "count", "Format of the file; first line", "!"),),
    (
        Sub("machine", MACHINE, "Name and conventions", need="!"),
        Sub("purpose", PURPOSE, "What is wanted", need="!"),
        Sub("job", JOB, "Kinds of cut, by name", "names"),
        Sub("site", SITE, "Where it stands", always=True),
        Sub("chain", CHAIN, "The chain of bodies"),
        Sub("joint", JOINT, "Named joints", "names"),
        Sub("axis", AXIS, "Axes by name", "names"),
        Sub("spindle", SPINDLE, "The spindle"),
        Sub("tool", TOOL, "The cutter that reach refers to"),
        Sub("spoilboard", SPOILBOARD, "The board under the work"),
        Sub("supply", SUPPLY, "Supplies by name", "names"),
        Sub("controller", CONTROLLER, "The motion controller"),
        Sub("cabinet", CABINET, "The cabinet"),
        Sub("cable", CABLE, "Cables by name", "names"),
        Sub("measured", MEASURED, "Measurements by name", "names"),
    ),
    feeds="all",
)
"""The file without its bodies (`recipes.BODY_TABLES`) and its own parts (`parts.row_table`)."""

LAYOUTS: dict[str, dict[str, str | dict[str, str]]] = {
    "moving-gantry": {
        "bed": {},
        "gantry": {"on": "bed", "axis": "y"},
        "carriage": {"on": "gantry", "axis": "x"},
        "head": {"on": "carriage", "axis": "z"},
        "work": "bed",
        "tool": "head",
    },
    "fixed-gantry": {
        "bed": {},
        "table": {"on": "bed", "axis": "y"},
        "gantry": {"on": "bed"},
        "carriage": {"on": "gantry", "axis": "x"},
        "head": {"on": "carriage", "axis": "z"},
        "work": "table",
        "tool": "head",
    },
    "own": {},
}
"""The chain that each layout writes."""

__all__ = ["CHAIN", "CHAIN_LINK", "FORMAT", "LAYOUTS", "ROOT", "Key", "Sub", "Table"]
