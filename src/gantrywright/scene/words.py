"""How pieces are called: in the words of the trade."""

from gantrywright.catalog import kinds
from gantrywright.model.bodies import Solid, Use
from gantrywright.scene.pieces import Owned

WHAT = {
    "plate": "plate", "item": "added part", "foot": "levelling foot", "rail": "profile rail", "block": "guide block", "rack": "rack",
    "belt": "toothed belt", "mount": "spindle mount", "spindle": "spindle", "cutter": "cutter", "cabinet": "control cabinet",
    "cable-chain": "cable chain", "nut": "nut", "bearing": "screw bearing", "coupling": "coupling", "gearbox": "gearbox",
    "pinion": "pinion", "pulley": "toothed pulley", "slide": "bought slide", "lump": "mass not listed", "work": "work area",
    "workpiece": "workpiece",
}  # fmt: skip
"""Trade's word of a kind of solid."""
SHAPES = {
    "tube": "tube", "tslot": "T-slot profile", "flat": "flat bar", "bar": "bar", "round": "round bar", "angle": "angle", "channel": "channel",
    "i-beam": "I-beam", "outline": "profile",
}  # fmt: skip
"""Trade's word of the shape of a section."""
LAYERS = {"sheet": "table sheet", "skin": "skin of the box table", "webs": "webs of the box table"}
SCREWS = {"ball-screw": ("ball screw", "ball nut"), "lead-screw": ("lead screw", "lead screw nut")}
"""Screw and nut by kind of drive."""
MOTORS = {"stepper": "stepper motor", "closed-loop": "stepper motor with encoder", "servo": "servo motor"}
TO_MAKE = ("plate", "mount")
"""Kinds that a shop makes from stock."""


def spoken(name: str) -> str:
    """A name of the file as words."""
    return name.replace("-", " ").replace("_", " ").strip()


def capital(text: str) -> str:
    """With a capital first letter."""
    return text[:1].upper() + text[1:]


def of_body(path: str) -> str:
    """Name of a part of a body: ``gantry.upright-left`` is "Gantry, upright left"."""
    body, _, rest = path.partition(".")
    return f"{capital(spoken(body))}, {spoken(rest.replace('.', ' '))}" if rest else capital(spoken(body))


def of_axis(path: str, what: str) -> str:
    """Name of a part of an axis: ``axis.x.rail.upper`` is "X profile rail, upper"; the only drive needs no name."""
    words = path.split(".")
    name = words[3] if len(words) > 3 else ""
    return f"{words[1].upper()} {what}" + (f", {spoken(name)}" if name and name != "main" else "")


def owned_of(solid: Solid) -> Owned:
    """Whether the builder has it, buys it or makes it."""
    how: Use = solid.use
    if how.owned or how.state in ("bought", "cut", "drilled", "fitted"):
        return "owned"
    if solid.kind in TO_MAKE and how.made != "bought" and not how.part:
        return "make"
    if how.part or how.stock or how.price is not None or solid.kind in ("member", "layer"):
        return "buy"
    return "make" if solid.kind == "cabinet" else "unknown"


def motor_words(motor: kinds.Motor | None) -> str:
    """What kind of motor it is."""
    return MOTORS.get(motor.type, "motor") if motor is not None else "motor"
