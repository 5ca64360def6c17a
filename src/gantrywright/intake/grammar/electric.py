"""Spindle, tool, and what feeds the motion."""

from gantrywright.intake.grammar.joints import BOLTS
from gantrywright.intake.grammar.shape import CP, LONGEST_TOOL, Key, Sub, Table
from gantrywright.intake.grammar.things import THING

MOUNT_STIFFNESS = Table(
    "stiffness of a mount",
    "How far the body of the spindle gives against the part that its mount is screwed to, mount and bolts together, at the middle of "
    "the clamped length. n along the normal of that part's face, a along the spindle, b the third; r about.",
    (
        Key("n", "stiffness", "Along the normal", default="300 N/um (100..1000)", source=CP, positive=True),
        Key("a", "stiffness", "Along the spindle", otherwise="as n", positive=True),
        Key("b", "stiffness", "Along the third axis", otherwise="as n", positive=True),
        Key("rn", "tilt-stiffness", "About the normal", default="1 MN m/rad (0.2..3)", source=CP, positive=True),
        Key("ra", "tilt-stiffness", "About the spindle", otherwise="as rn", positive=True),
        Key("rb", "tilt-stiffness", "About the third axis", otherwise="as rn", positive=True),
        Key("loss", "number", "Loss factor", default="0.05 (0.02..0.1)", source=CP, positive=True),
    ),
    feeds="S",
)

MOUNT = Table(
    "mount",
    "The spindle's mount.",
    (
        Key("on", "ref", "What it is screwed to", "!"),
        Key("face", "face", "On which face", "!"),
        Key("at", "pair", "Its middle on that face, along the face's axes in the order x y z", "!"),
        Key("stand_off", "length", "Bore axis from that face", "!", placed=True),
        Key("length", "length", "Clamped length", "!", placed=True, positive=True),
        Key("nose_below", "length", "Collet face below the lower end of the mount", "!", placed=True, signed=True),
    ),
    (
        Sub("bolts", BOLTS, "Its bolts", short="bolts"),
        Sub("stiffness", MOUNT_STIFFNESS, "How far it gives", always=True),
    ),
    feeds="all",
    thing=THING,
)

SPINDLE = Table(
    "spindle",
    "The spindle.",
    (
        Key("part", "use spindle", "Its part", "!"),
        Key("inverter", "use inverter", "Its inverter", otherwise="none"),
        Key("outlet", "ref", "Outlet that feeds it", "!", names="outlet"),
        Key("cooling", "water/fan/none", "How it is kept cool; fan: its own, on the shaft", otherwise="spindle.part.cooling"),
    ),
    (Sub("mount", MOUNT, "Its mount", need="!"),),
    feeds="J S E",
    thing=THING,
    carries="part",
)

TOOL = Table(
    "tool",
    "The cutter that drawn pose and reach refer to.",
    (
        Key("cutter", "use cutter", "The cutter", "!"),
        Key("stick_out", "length", "From the collet face to the tip", "!", placed=True, most=LONGEST_TOOL),
    ),
    feeds="S J",
)

SUPPLY = Table(
    "supply",
    "A supply of motor drivers.",
    (
        Key("part", "use supply", "Its part", "unless direct"),
        Key("direct", "flag", "The drives take the line themselves", default="false", source="definition"),
        Key("set", "voltage", "Voltage that it is set to", otherwise="the parts row's", positive=True),
        Key("outlet", "ref", "Outlet that feeds it", "!", names="outlet"),
    ),
    feeds="E D",
    thing=THING,
    carries="part",
)

CONTROLLER = Table(
    "controller",
    "The motion controller.",
    (
        Key("part", "use controller", "Its part", "!"),
        Key("pulse_rate", "frequency", "Highest pulse rate per axis", otherwise="the parts row's", positive=True),
        Key("supply_voltage", "voltage", "Its supply voltage", otherwise="the parts row's", positive=True),
    ),
    feeds="E D",
    thing=THING,
    carries="part",
)

DEVICE = Table(
    "device",
    "Something else in the cabinet.",
    (Key("part", "use device", "Its part", "!"), Key("outlet", "ref", "Outlet that feeds it", names="outlet")),
    feeds="E W",
    thing=THING,
    carries="part",
)

CABINET = Table(
    "cabinet",
    "The cabinet.",
    (
        Key("on", "ref", "Body that carries it", otherwise="the ground body", leads="body"),
        Key("at", "point", "Its middle", "!"),
        Key("size", "size3", "x, y, z", "!"),
        Key("material", "text", "Material", default="steel", source=CP, names="material"),
    ),
    (Sub("device", DEVICE, "What else sits in it, by name", "names"),),
    feeds="E W V",
    thing=THING,
)

CABLE = Table(
    "cable",
    "A cable that is not laid out by rule.",
    (
        Key("from", "ref", "One end", "!", leads="thing"),
        Key("to", "ref", "Other end", "!", leads="thing"),
        Key("via", "[point]", "Points on its way", otherwise="square to the axes, through the cable chains"),
        Key("length", "length", "Its length", otherwise="computed", placed=True, positive=True),
        Key("part", "use cable", "Its part", otherwise="by current and length"),
    ),
    feeds="W C",
    thing=THING,
    carries="part",
)
