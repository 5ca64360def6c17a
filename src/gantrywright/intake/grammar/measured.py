"""What was measured."""

from gantrywright.intake.grammar.shape import Key, Table

OBSERVED: dict[str, str] = {
    "mass": "mass", "stiffness": "stiffness", "frequency": "frequency", "lost-motion": "length", "straightness": "length",
    "flatness": "length", "parallelism": "length", "squareness": "straightness", "run-out": "length", "position-error": "length",
}  # fmt: skip
"""What can be observed, and the kind of its value."""

MEASURED = Table(
    "measured",
    "One measurement: it replaces a value of the file (path), or says what the whole machine did (observe).",
    (
        Key("path", "text", "Path of the value that it replaces"),
        Key("observe", "/".join(OBSERVED), "What was seen"),
        Key("of", "ref", "Of which part or body", otherwise="the machine", leads="thing"),
        Key("value", "quantity", "What was read, best with its uncertainty", "unless table"),
        Key("at", "point", "Tool point from the machine's zero", otherwise="as drawn"),
        Key("along", "direction", "In which direction it was pushed or tapped", "if observe=stiffness|frequency"),
        Key("between", "[ref]", "Between which two", otherwise="tool, work", leads="thing"),
        Key("force", "force", "Force that was used", positive=True),
        Key("with", "text", "Instrument, by its name in the shop file", "!", names="instrument"),
        Key("on", "date", "Date", "!"),
        Key("use", "flag", "false takes it out", default="true", source="definition"),
        Key("table", "text", "CSV file beside the machine with rows of readings"),
        Key("by", "text", "Who"),
        Key("note", "text", "Remark"),
    ),
    feeds="P",
    either=(("path",), ("observe",)),
)
