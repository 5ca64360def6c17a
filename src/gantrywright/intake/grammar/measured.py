"""What was measured."""

from gantrywright.intake.grammar.shape import Key, Table

OBSERVED: dict[str, str] = {
    "mass": "mass", "stiffness": "stiffness", "frequency": "frequency", "lost-motion": "length", "straightness": "length",
    "flatness": "length", "parallelism": "length", "squareness": "straightness", "run-out": "length", "position-error": "length",
    "spindle-power": "power",
}  # fmt: skip
"""What can be observed, and the kind of its value."""

MEASURED = Table(
    "measured",
    "One measurement: it replaces a value of the file (path), or says what the whole machine did (observe).",
    (
        Key("path", "text", "Path of the value that it replaces"),
        Key("observe", "/".join(OBSERVED), "What was seen"),
        Key("of", "ref", "Of which part or body", otherwise="the machine", leads="thing"),
        Key("value", "quantity", "What was read, best with its uncertainty", "unless table|job"),
        Key("at", "point", "Tool point from the machine's zero", otherwise="as drawn"),
        Key("along", "direction", "In which direction it was pushed or tapped", "if observe=stiffness|frequency"),
        Key("between", "[ref]", "Between which two", otherwise="tool, work", leads="thing"),
        Key("force", "force", "Force that was used", positive=True),
        Key("with", "text", "Instrument, by its name in the shop file", "!", names="instrument"),
        Key("on", "date", "Date", "!"),
        Key("use", "flag", "false takes it out", default="true", source="definition"),
        Key("job", "text", "Job whose cutter, material and speed were used", "if observe=spindle-power"),
        Key("feeds", "[speed]", "Feeds of the cuts, three or more, all else held", "if observe=spindle-power", positive=True),
        Key("powers", "[power]", "Power at each of the feeds, as the inverter tells it", "if observe=spindle-power", positive=True),
        Key("idle", "power", "Power at the same speed in the air", otherwise="unknown: it is then counted as rubbing of the edges"),
        Key(
            "efficiency",
            "number",
            "Of the spindle: power at the cut over what the inverter tells above idle",
            otherwise="0.85, 0.8 to 0.9, common practice, no source",
            positive=True,
            most=1.0,
        ),
        Key("depth", "length", "Depth of the cuts", otherwise="that of the job", positive=True),
        Key("width", "length", "Width of the cuts", otherwise="that of the job", positive=True),
        Key("speed", "turn-speed", "Speed of the spindle", otherwise="that of the job", positive=True),
        Key("table", "text", "CSV file beside the machine with rows of readings"),
        Key("by", "text", "Who"),
        Key("note", "text", "Remark"),
    ),
    feeds="P",
    either=(("path",), ("observe",)),
)
