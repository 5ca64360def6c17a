"""The text of a first machine file, from a few answers.

Sizes follow from the work area by the proportions of an ordinary build (common practice, no source); every one of them is there to be
changed, and the comments say what each is for.
"""

from collections.abc import Callable
from dataclasses import dataclass

from gantrywright.base.errors import NotFound, UnreadableText
from gantrywright.base.names import nearest_sentence
from gantrywright.base.quantities import parse
from gantrywright.catalog.tables import Catalog
from gantrywright.intake import startersizes as sizes
from gantrywright.intake.startercuts import STICK_OUT, first_cut
from gantrywright.intake.starterinches import in_inches
from gantrywright.intake.starterlimits import WORDS as LIMITS
from gantrywright.intake.starterlimits import NotAnswered, work_area_of

INCH = 25.4


@dataclass(frozen=True, slots=True)
class Answers:
    """What the builder said."""

    name: str
    layout: str = "moving-gantry"
    work_area: str = "600 x 900 x 100 mm"
    material: str = "plywood-birch"
    units: str = "metric"
    outlet: str = "230 V"


@dataclass(frozen=True, slots=True)
class Question:
    """One thing that a first machine file follows from."""

    key: str
    """Field of `Answers`."""
    label: str
    ask: str
    help: str
    choices: tuple[str, ...] = ()

    @property
    def default(self) -> str:
        """The usual answer."""
        return str(getattr(Answers(""), self.key))


QUESTIONS = (
    Question(
        "layout", "Layout", "What moves along the bed, the gantry or the table? (moving-gantry, fixed-gantry)",
        "What moves along the bed: the gantry over a table that stands still, or the table under a gantry that stands still.",
        ("moving-gantry", "fixed-gantry"),
    ),
    Question(
        "work_area", "Work area", 'What must the tip reach, x, y, z? (such as "600 x 900 x 100 mm" or "24 x 36 x 4 in")',
        f"What the tip must reach, x, y, z: 600 x 900 x 100 mm, or 24 x 36 x 4 in. {LIMITS}",
    ),
    Question(
        "material", "Material that is cut most",
        "What is cut most? (plywood-birch, mdf, al-6082, maple-hard ...; see: gantrywright parts material)",
        "What most of the work is made of; the list holds the materials whose cutting forces are known.",
    ),
    Question("units", "Units", "Units of what is printed? (metric, inch)", "Units of the file and of what is shown.", ("metric", "inch")),
    Question("outlet", "Wall outlet", 'Wall outlet? (such as "230 V" or "120 V")', "Its voltage: 230 V, or 120 V."),
)  # fmt: skip
USUAL = ("plywood-birch", "mdf", "maple-hard", "al-6082", "brass")
"""Materials to name where one is not known."""
SHOP = """format = 1
# What is at hand in the shop and belongs to no machine yet. A machine takes a piece with stock = "NAME".
[shop]
name = "My workshop"

[person.me]
lifts = "20 kg"                                     # what this person may lift
"""


METRIC_ALLOY, INCH_ALLOY = "al-6082", "al-6061"
"""Plate of the same use as it is sold in either system."""


def choices_of(question: Question) -> tuple[tuple[str, str], ...]:
    """What may be answered, each with its words; empty where anything may be written.

    Materials are those with cutting figures, the usual ones first; the tables are read when this is asked.
    """
    if question.key != "material":
        return tuple((choice, choice) for choice in question.choices)
    rows = [(row.id, row.title or row.id) for row in Catalog().rows("material") if row.text("shear_force")]
    return tuple(sorted(rows, key=lambda row: USUAL.index(row[0]) if row[0] in USUAL else len(USUAL)))


def known_material(name: str) -> None:
    """Raise `NotFound` where the tables have no cutting figures of a material; asked before anything is written."""
    catalog = Catalog()
    if not catalog.find("material", name).text("shear_force"):
        cut = [row.id for row in catalog.rows("material") if row.text("shear_force")]
        raise NotFound(
            f"the tables have no cutting figures of {name!r}{nearest_sentence(name, cut)}; some that are cut: {', '.join(USUAL)}"
        )


def starter_text(answers: Answers) -> str:
    """The machine file; raises `NotAnswered` where an answer cannot be read or the work area is out of what the proportions serve."""
    area = work_area_of(answers.work_area, answers.layout)
    try:
        volts = parse(answers.outlet, "voltage").value
    except UnreadableText as error:
        raise NotAnswered("outlet", error) from error
    length = _inch if answers.units == "inch" else _metric
    body = _moving(area, length) if answers.layout == "moving-gantry" else _fixed(area, length)
    inverter = "inverter-1.5kw-1ph-120v" if volts < 200 else "inverter-1.5kw-1ph"
    body = body.replace("INVERTER", inverter).replace("CUTTER", _cutter(answers))
    if answers.units != "inch":
        return _head(answers, area, volts, length) + body + TAIL
    return in_inches(_head(answers, area, volts, length) + body.replace(METRIC_ALLOY, INCH_ALLOY) + TAIL)


def _metric(millimetres: float) -> str:
    return f"{5 * round(millimetres / 5)} mm"


def _inch(millimetres: float) -> str:
    return f"{round(millimetres / INCH * 4) / 4:g} in"


Length = Callable[[float], str]


def _size(length: Length, *millimetres: float) -> str:
    texts = [length(value) for value in millimetres]
    unit = texts[0].rpartition(" ")[2]
    return " x ".join(text.rpartition(" ")[0] for text in texts) + f" {unit}"


def _pair(length: Length, *millimetres: float) -> str:
    return _size(length, *millimetres).replace(" x ", ", ")


def _screw(free_length: float) -> str:
    if free_length <= 900:
        return "ball-screw-1610"
    return "ball-screw-2010" if free_length <= 1300 else "ball-screw-2020"


def _head(answers: Answers, area: tuple[float, ...], volts: float, length: Length) -> str:
    inch = answers.units == "inch"
    cut = first_cut(answers.material, answers.units)
    rapid, fast, gentle = ("140 in/min", "120 in/min", "20 in/s2") if inch else ("3.6 m/min", "3 m/min", "0.5 m/s2")
    name = answers.name.replace("\\", "").replace('"', "'")
    return f"""format = 1
# {name}: started by "gantrywright new". Every size is a proposal: change what you know better, then run "gantrywright check".
# Quantities are written with their unit, metric or inch as you like: "12.7 mm", '1/2 in', "4 m/min", "42 lb".

[machine]
name = "{name}"
layout = "{answers.layout}"                         # or "{"fixed-gantry" if answers.layout == "moving-gantry" else "moving-gantry"}"
show = "{"inch" if inch else "metric"}"                                     # units of what is printed
currency = "{"USD" if inch else "EUR"}"

[purpose]                                           # what you want; the check compares it with what the metal gives
work_area = "{_size(length, *area)}"
rapid = "{rapid}"
feed = "{fast}"
accel = "{gentle}"
accuracy = "{sizes.accuracy(*area):g} mm"

[job.main]                                          # add a [job.NAME] for every kind of work
material = "{answers.material}"
cutter = "{_cutter(answers)}"
{f'width = "{cut.width}"' if cut.width else "slot = true"}
depth = "{cut.depth}"
feed = "{cut.feed}"
speed = "18 000 rpm"
hold_down = {{ kind = "clamps", count = 4, force = "{cut.clamp}" }}   # what each clamp presses with

[site]
ambient = "20 °C (16..24)"
rules = "{"NEC" if volts < 200 else "IEC"}"
outlet.wall = {{ voltage = "{answers.outlet}", current = "{"15 A" if volts < 200 else "16 A"}" }}
"""


def _cutter(answers: Answers) -> str:
    diameter = "1/4" if answers.units == "inch" else "6"
    return f"end-mill-{diameter}-{first_cut(answers.material, answers.units).flutes}"


def _moving(area: tuple[float, ...], length: Length) -> str:
    x, y, z = area
    lift = sizes.beam_over_blocks(z)
    upright = sizes.upright_height(lift)
    return f"""
# ---- the frame that stands on the floor: measures from its middle, front end and top face
[bed]
recipe = "ladder-frame"                             # "gantrywright expand" prints the parts that a recipe makes
side = "tube-80x80x4"
length = "{length(y + 650)}"
width = "{length(x + 310)}"
height = "{length(800)}"
cross_members = {4 if y < 1100 else 5}
feet = {{ part = "foot-m16-steel" }}
[bed.top]                                           # what the work lies on, lowest layer first; its upper face is machine Z = 0
recipe = "layers"
on = "bed.cross"
size = "{_size(length, x + 110, y + 600)}"
layers = [ {{ material = "plywood-birch", thickness = "18 mm" }}, {{ material = "mdf", thickness = "19 mm" }} ]

# ---- Y: the gantry runs along the outer faces of the frame, a screw a side
[axis.y]
travel = "{length(y)}"
alignment = {{ parallel = "0.03 mm", height = "0.08 mm" }}   # what you trust yourself to reach over the rails' length
home = {{ at = "least", sensor = "proximity-8-npn", each_drive = true }}   # a sensor a side squares the gantry
[axis.y.rail]
each = {{ part = "rail-20", length = "{length(sizes.rail_length(y, 220, 77, stops=46.5))}", face = "outer" }}
left = {{ on = "bed.left-side" }}
right = {{ on = "bed.right-side" }}
[axis.y.blocks]
part = "block-20-flange"
per_rail = 2
spacing = "{length(220)}"
[axis.y.drive]
right = {{ mirror = "left" }}
[axis.y.drive.left]
kind = "ball-screw"
part = "{_screw(y + 450)}"
beside = "axis.y.rail.left"
offset = "-40, 0, -150 mm"
length = "{length(y + 450)}"                             # bearing to bearing
ends = "fixed-supported"
motor = "stepper-23-112"
motor_end = "back"
driver = {{ part = "driver-50v-5a", current = "3.5 A rms" }}
supply = "drives"

# ---- the gantry: its beam is as long as the uprights leave it
[gantry]
recipe = "beam-on-uprights"
beam = {{ section = "tslot-80x160-heavy", at = "0, 40, {lift:.0f} mm" }}
uprights = {{ size = "260 x {upright:.0f} x 20 mm", material = "al-6082", at = "0, {upright / 2 - 130:.0f} mm" }}
joint = {{ kind = "end-tapped", bolts = "8 x M8" }}

# ---- X: along the front of the beam
[axis.x]
travel = "{length(x)}"
alignment = {{ parallel = "0.02 mm", height = "0.03 mm" }}
home = {{ at = "least", sensor = "proximity-8-npn" }}
[axis.x.rail]
each = {{ part = "rail-20", length = "{length(sizes.rail_length(x, 150, 77, stops=41.5))}", on = "gantry.beam", face = "front" }}
upper = {{ across = "60 mm" }}
lower = {{ across = "-60 mm" }}
[axis.x.blocks]
part = "block-20-flange"
per_rail = 2
spacing = "150 mm"
[axis.x.drive.main]
kind = "ball-screw"
part = "{_screw(x + 250)}"
offset = "0, -21, 0 mm"
length = "{length(x + 250)}"
ends = "fixed-supported"
motor = "stepper-23-112"
motor_end = "right"
driver = {{ part = "driver-50v-5a", current = "3.5 A rms" }}
supply = "drives"
[carriage]
recipe = "plate-on-blocks"
size = "230 x {sizes.carriage_height(z):.0f} x {sizes.plate_thickness(z):.0f} mm"
material = "al-6082"
shift = "0, -30 mm"
spacers = "12 mm"
{_upright_axis(z, sizes.mount_height(49.5, z))}"""


def _upright_axis(z: float, mount: float) -> str:
    """The Z axis; ``mount``: middle of the spindle's mount from the middle of the head, so that the tip just reaches the table."""
    below = max(120.0, 50 - mount)  # the plate reaches down to the mount; above its middle it is as high as its blocks need
    shift = (120 - below) / 2
    return f"""
# ---- Z: a motor with a brake, since an unpowered ball screw lets the head fall
[axis.z]
travel = "{sizes.z_travel(z):.0f} mm"
rapid = "2 m/min"
feed = "1.5 m/min"
alignment = {{ parallel = "0.015 mm", height = "0.02 mm" }}   # both seats milled in one setting
home = {{ at = "most", sensor = "proximity-8-npn" }}
[axis.z.rail]
each = {{ part = "rail-20", length = "{sizes.z_rail(z):.0f} mm", on = "carriage.plate", face = "front" }}
left = {{ across = "-60 mm" }}
right = {{ across = "60 mm" }}
[axis.z.blocks]
part = "block-20-flange"
per_rail = 2
spacing = "110 mm"
[axis.z.drive.main]
kind = "ball-screw"
part = "ball-screw-1605"
offset = "0, -15, 30 mm"                            # up, so that its lower end clears the work
length = "{sizes.z_screw(z):.0f} mm"
ends = "fixed-supported"
motor = {{ part = "stepper-23-76", brake = true }}
motor_end = "top"
driver = {{ part = "driver-50v-5a", current = "2.4 A rms" }}
supply = "drives"
[head]
recipe = "plate-on-blocks"
size = "180 x {120 + below:.0f} x {sizes.plate_thickness(z):.0f} mm"
material = "al-6082"
shift = "0, {shift:.0f} mm"

[spindle]
part = "spindle-1.5kw-24k"
inverter = "INVERTER"
outlet = "wall"
mount = {{ on = "head.plate", face = "front", at = "0, {mount - shift:.0f} mm", stand_off = "55 mm", length = "80 mm", nose_below = "95 mm", mass = "1.5 kg" }}
[tool]
cutter = "CUTTER"
stick_out = "{STICK_OUT:g} mm"
"""


def _fixed(area: tuple[float, ...], length: Length) -> str:
    x, y, z = area
    screw = sizes.table_screw(y)
    base, table = screw + 340, y + 60
    beam = sizes.beam_over_base(z)
    wide, deep, high, wall, foot = (
        ("3 in", "4 in", "5 in", "1/4 in", 76.2) if length is _inch else ("80 mm", "100 mm", "120 mm", "6 mm", 80.0)
    )
    half_high = 63.5 if length is _inch else 60.0  # of the beam
    base_width = 25.4 * float(_inch(x + 160).split()[0]) if length is _inch else 5 * round((x + 160) / 5)
    return f"""
# ---- the base: measures from its middle, front end and top face
[bed]
recipe = "slab"                                     # "gantrywright expand" prints the parts that a recipe makes
size = "{_size(length, x + 160, base, 50)}"
material = "al-6082"
height = "{length(900)}"
feet = {{ part = "foot-m16-steel", count = 3 }}

# ---- the portal stands beside the base and is bolted to its sides
[gantry]
recipe = "portal"
at = "0, {base / 2 + sizes.spindle_before_beam(z):.0f}, 0 mm"                            # so far back that the spindle stands over the middle of the table
stance = "{base_width + foot:g} mm"
upright = {{ section = {{ shape = "tube", width = "{wide}", height = "{deep}", wall = "{wall}", material = "al-6082" }}, bottom = "-50 mm", top = "{beam - half_high:g} mm" }}
beam = {{ section = {{ shape = "tube", width = "{wide}", height = "{high}", wall = "{wall}", material = "al-6082" }}, at = "0, 0, {beam:g} mm", length = "{base_width + 2 * foot:g} mm", sits = "on-top" }}
joint = {{ kind = "welded" }}
[joint.foot-left]
between = ["gantry.upright-left", "bed.slab"]
kind = "bolted"
bolts = {{ thread = "M10", count = 4, into = "tapped" }}
[joint.foot-right]
mirror = "foot-left"

# ---- Y: the table
[axis.y]
travel = "{length(y)}"
alignment = {{ parallel = "0.012 mm", height = "0.015 mm" }}   # what you trust yourself to reach over the rails' length
home = {{ at = "most", sensor = "proximity-8-npn" }}
[axis.y.rail]
each = {{ part = "rail-15", length = "{length(sizes.rail_length(y, sizes.table_spacing(y), 60, stops=30))}", on = "bed.slab", face = "top" }}
left = {{ across = "-{sizes.table_rail(x):.0f} mm" }}
right = {{ across = "{sizes.table_rail(x):.0f} mm" }}
[axis.y.blocks]
part = "block-15-flange"
per_rail = 2
spacing = "{length(sizes.table_spacing(y))}"
[axis.y.drive.main]
kind = "ball-screw"
part = "{_screw(screw)}"
offset = "0, 0, 19 mm"
length = "{length(screw)}"
ends = "fixed-supported"
motor = "stepper-23-112"
motor_end = "back"
driver = {{ part = "driver-50v-5a", current = "3.5 A rms" }}
supply = "drives"
[table]
recipe = "plate-on-blocks"
size = "{x + 30:.0f} x {table:.0f} x 16 mm"
material = "al-6082"
spacers = "14 mm"                                   # room for the nut
[table.top]                                         # its upper face is machine Z = 0
recipe = "layers"
on = "table.plate"
size = "{x + 30:.0f} x {table:.0f} mm"
layers = [ {{ material = "mdf", thickness = "12 mm" }} ]

# ---- X: along the front of the beam
[axis.x]
travel = "{length(x)}"
alignment = {{ parallel = "0.012 mm", height = "0.015 mm" }}
home = {{ at = "least", sensor = "proximity-8-npn" }}
[axis.x.rail]
each = {{ part = "rail-15", length = "{length(sizes.rail_length(x, 130, 60, stops=35))}", on = "gantry.beam", face = "front" }}
upper = {{ across = "35 mm" }}
lower = {{ across = "-35 mm" }}
[axis.x.blocks]
part = "block-15-flange"
per_rail = 2
spacing = "130 mm"
[axis.x.drive.main]
kind = "ball-screw"
part = "{_screw(x + 340)}"
offset = "0, -19, 0 mm"
length = "{length(x + 340)}"                             # the motor stands beside the beam
ends = "fixed-supported"
motor = "stepper-23-76"
motor_end = "right"
driver = {{ part = "driver-50v-5a", current = "3 A rms" }}
supply = "drives"
[carriage]
recipe = "plate-on-blocks"
size = "200 x {sizes.carriage_height(z):.0f} x 15 mm"
material = "al-6082"
spacers = "14 mm"                                   # room for the nut
{_upright_axis(z, sizes.mount_height(44, z))}"""


TAIL = """
[supply]
drives = { part = "dc-48v-600w", set = "42 V", outlet = "wall" }
[controller]
part = "controller-4-axis"
pulse_rate = "100 kHz"
"""
