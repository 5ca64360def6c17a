"""A small moving-gantry router built by hand from records, for tests of the disciplines.

Work area 600 x 900 x 120 mm. Y: two rails, four blocks, two screws. X: two rails on the beam's front, one screw. Z: upright, one screw.
``simple_machine(axis_x={...}, ...)`` replaces fields; places are round numbers so that a test can recompute them by hand.
"""

from dataclasses import replace
from typing import Any

from gantrywright.base.values import PhaseCurrent, Rating
from gantrywright.catalog import kinds
from gantrywright.model import electric, purpose
from gantrywright.model.axis import Alignment, Axis, Block, DriveFit, Home, Rail
from gantrywright.model.bodies import Body, Box, Link, Solid, Use
from gantrywright.model.drives import drive_kinds
from gantrywright.model.drives.protocol import DriveParts
from gantrywright.model.frame import Vector
from gantrywright.model.machine import Machine

X: Vector = (1.0, 0.0, 0.0)
Y: Vector = (0.0, 1.0, 0.0)
Z: Vector = (0.0, 0.0, 1.0)
LEFT: Vector = (-1.0, 0.0, 0.0)
FRONT: Vector = (0.0, -1.0, 0.0)

RAIL = kinds.Rail(
    id="rail-20",
    size=0.020,
    width=0.020,
    height=0.0175,
    pitch=0.060,
    hole=0.006,
    counterbore=0.0095,
    end_min=0.010,
    mass_per_length=2.4,
)
BLOCK = kinds.Block(
    id="block-20-flange", size=0.020, height=0.030, width=0.063, length=0.075, raceway=0.0125, mass=0.4,
    dynamic=Rating(14e3, "distance", 100e3), static=Rating(26e3, "static"),
    moment_roll=240.0, moment_pitch=170.0, moment_yaw=170.0, seal_force=4.0, friction=0.004, raceways=4,
)  # fmt: skip
SCREW = kinds.BallScrew(
    id="ball-screw-1610", diameter=0.016, root=0.0131, lead=0.010, starts=1, end_loss=0.05, grade="T7",
    dynamic=Rating(9e3, "turns", 1e6), static=Rating(16e3, "static"), drag=0.03, friction=0.01, speed_value=70000.0, mass_per_length=1.3,
)  # fmt: skip
STEPPER = kinds.Motor(
    id="stepper-23-112", type="stepper", frame="NEMA 23", pole_pairs=50, current=PhaseCurrent(4.2, "rms"), resistance=0.8, inductance=3.5e-3,
    holding=3.0, detent=0.10, loss_torque=0.039, loss_per_speed=4e-4, inertia=8e-5, length=0.112, shaft=0.008, brake=False, mass=1.6,
)  # fmt: skip
DRIVER = kinds.Driver(
    id="driver-50v-5a", current=PhaseCurrent(5.6, "peak"), lowest=20.0, highest=50.0, microsteps=16, pulse_rate=200e3, capacitance=1e-3,
    drop=1.5, idle=5.0, efficiency=0.95,
)  # fmt: skip
COUPLING = kinds.Coupling(id="coupling-jaw-30", stiffness=60.0, inertia=1e-5, torque=12.5, mass=0.08)
BEARING = kinds.Bearing(
    id="bearing-fixed-12", bore=0.012, stiffness=60e6, dynamic=Rating(7e3, "turns", 1e6), drag=0.02, holding="fixed", mass=0.4
)
NUT = kinds.Nut(id="nut-1610", stiffness=120e6, backlash=4e-5, length=0.045, outer=0.028, dynamic=Rating(9e3, "turns", 1e6))


def rails(
    axis: str, body: str, on: str, starts: tuple[Vector, Vector], direction: Vector, length: float, normal: Vector
) -> tuple[Rail, ...]:
    names = ("left", "right") if axis == "y" else ("upper", "lower") if axis == "x" else ("left", "right")
    stop = lambda p: tuple(a + b * length for a, b in zip(p, direction, strict=True))  # noqa: E731
    return tuple(
        Rail(
            path=f"axis.{axis}.rail.{name}",
            body=body,
            on=on,
            start=start,
            stop=stop(start),
            normal=normal,
            part=RAIL,
            use=Use("rail-20"),
        )
        for name, start in zip(names, starts, strict=True)
    )


def blocks(axis: str, body: str, on: str, rails_: tuple[Rail, ...], at: float, spacing: float) -> tuple[Block, ...]:
    made = []
    for rail in rails_:
        direction = tuple((b - a) / rail.length for a, b in zip(rail.start, rail.stop, strict=True))
        for number, place in enumerate((at - spacing / 2, at + spacing / 2), 1):
            centre = tuple(s + d * place + n * BLOCK.raceway for s, d, n in zip(rail.start, direction, rail.normal, strict=True))
            made.append(
                Block(
                    path=f"axis.{axis}.block.{rail.path.split('.')[-1]}-{number}",
                    body=body,
                    on=on,
                    rail=rail.path,
                    centre=centre,
                    normal=rail.normal,
                    part=BLOCK,
                    use=Use("block-20-flange"),
                    preload="light",
                    preload_force=0.02 * 14e3,
                    normal_stiffness=190e6,
                    lateral_stiffness=160e6,
                    roll_stiffness=15e3,
                    pitch_stiffness=40e3,
                    yaw_stiffness=40e3,
                )
            )
    return tuple(made)


def screw_drive(axis: str, name: str, *, line: tuple[Vector, Vector], grip: Vector, holds: str, grips: str, travel: float,
                rise: float = 0.0, **parts: Any) -> DriveFit:  # fmt: skip
    path = f"axis.{axis}.drive.{name}"
    free = sum((b - a) ** 2 for a, b in zip(*line, strict=True)) ** 0.5
    spare = (free - travel) / 2
    asked = {
        "path": path, "kind": "ball-screw", "part": SCREW, "free_length": free, "travel": travel, "nearest": spare, "farthest": spare + travel,
        "rise": rise, "nut": NUT, "bearing": BEARING, "coupling": COUPLING,
    } | parts  # fmt: skip
    return DriveFit(
        path=path, drive=drive_kinds()[asked["kind"]](DriveParts(**asked)), line=line, grip=grip, holds=holds, grips=grips, motor_at=line[0],
        motor_body=holds, motor_end_first=True, motor=electric.MotorFit(f"{path}.motor", STEPPER, Use("stepper-23-112")),
        driver=electric.DriverFit(f"{path}.driver", DRIVER, PhaseCurrent(5.6, "peak"), Use("driver-50v-5a")), supply="main", coupling=COUPLING,
        use=Use("ball-screw-1610"),
    )  # fmt: skip


def axes() -> tuple[Axis, Axis, Axis]:
    """Drawn pose: x 300, y 450, z 120 (tool up). Table top is z = 0."""
    common: dict[str, Any] = {
        "sign": 1, "offset": 0.0, "rapid": 0.15, "feed": 0.05, "accel": 1.0, "alignment": Alignment(1e-4, 1e-4, 1e-4), "stops": 0.005,
        "blocks_per_rail": 2, "home": Home("least", None, False),
    }  # fmt: skip
    y_rails = rails("y", "bed", "bed.left-side", ((-0.15, 0.1, -0.05), (0.75, 0.1, -0.05)), Y, 1.2, Z)
    y = Axis(
        name="y", direction=Y, normal=Z, across=(1.0, 0.0, 0.0), travel=0.9, drawn=0.45, carrier="bed", moving="gantry", rails=y_rails,
        blocks=blocks("y", "gantry", "gantry.upright-left", y_rails, 0.6, 0.2), block_spacing=0.2,
        drives=tuple(
            screw_drive("y", name, line=((x, 0.1, -0.1), (x, 1.3, -0.1)), grip=(x, 0.7, -0.1), holds="bed", grips="gantry", travel=0.9)
            for name, x in (("left", -0.2), ("right", 0.8))
        ), **common,
    )  # fmt: skip
    x_rails = rails("x", "gantry", "gantry.beam", ((-0.1, 0.60, 0.31), (-0.1, 0.60, 0.19)), X, 0.8, FRONT)
    x = Axis(
        name="x", direction=X, normal=FRONT, across=(0.0, 0.0, 1.0), travel=0.6, drawn=0.3, carrier="gantry", moving="carriage", rails=x_rails,
        blocks=blocks("x", "carriage", "carriage.plate", x_rails, 0.4, 0.15), block_spacing=0.15,
        drives=(screw_drive("x", "main", line=((-0.1, 0.585, 0.25), (0.7, 0.585, 0.25)), grip=(0.3, 0.585, 0.25), holds="gantry",
                            grips="carriage", travel=0.6),), **common,
    )  # fmt: skip
    z_rails = rails("z", "carriage", "carriage.plate", ((0.25, 0.55, 0.13), (0.35, 0.55, 0.13)), Z, 0.3, FRONT)
    z = Axis(
        name="z", direction=Z, normal=FRONT, across=(-1.0, 0.0, 0.0), travel=0.12, drawn=0.12, carrier="carriage", moving="head",
        rails=z_rails, blocks=blocks("z", "head", "head.plate", z_rails, 0.17, 0.09), block_spacing=0.09,
        drives=(screw_drive("z", "main", line=((0.3, 0.54, 0.43), (0.3, 0.54, 0.15)), grip=(0.3, 0.54, 0.3), holds="carriage", grips="head",
                            travel=0.12, rise=1.0),), **common,
    )  # fmt: skip
    return x, y, z


def solids() -> tuple[Solid, ...]:
    plain = (X, Y, Z)
    return (
        Solid("bed.left-side", "bed", "member", 12.0, (-0.15, 0.7, -0.09), (Y, Z, X), (1.3, 0.08, 0.08), Use(owned=True)),
        Solid("bed.right-side", "bed", "member", 12.0, (0.75, 0.7, -0.09), (Y, Z, X), (1.3, 0.08, 0.08), Use(owned=True)),
        Solid("bed.top", "bed", "layer", 10.0, (0.3, 0.45, -0.009), plain, (0.8, 1.1, 0.018)),
        Solid("gantry.upright-left", "gantry", "plate", 6.0, (-0.15, 0.7, 0.14), (Y, Z, X), (0.25, 0.34, 0.02)),
        Solid("gantry.upright-right", "gantry", "plate", 6.0, (0.75, 0.7, 0.14), (Y, Z, X), (0.25, 0.34, 0.02)),
        Solid("gantry.beam", "gantry", "member", 11.0, (0.3, 0.64, 0.25), (X, Z, Y), (0.88, 0.16, 0.08)),
        Solid("carriage.plate", "carriage", "plate", 3.0, (0.3, 0.56, 0.25), plain, (0.22, 0.015, 0.3)),
        Solid("head.plate", "head", "plate", 2.0, (0.3, 0.51, 0.3), plain, (0.14, 0.012, 0.24)),
        Solid("spindle", "head", "spindle", 5.0, (0.3, 0.45, 0.28), (Z, X, Y), (0.22, 0.08, 0.08), round=True),
    )


def simple_machine(**changes: Any) -> Machine:
    """The machine; ``axis_x=dict(...)`` (y, z) replaces fields of an axis, any other word a field of `Machine`."""
    made = [replace(axis, **changes.pop(f"axis_{axis.name}", {})) for axis in axes()]
    ply = kinds.Material(
        id="plywood-birch",
        group="plywood",
        density=680.0,
        shear_force=38e6,
        edge_force=2500.0,
        shear_ratio=0.25,
        edge_ratio=1.0,
        modulus=9e9,
    )
    cutter = kinds.Cutter(
        id="end-mill-6-2f-up", diameter=0.006, flutes=2, helix=0.5236, shank=0.006, length=0.06, flute_length=0.022
    )
    job = purpose.Job(
        name="panels", material=ply, cutter=cutter, stick_out=0.03, slot=True, depth=0.006, width=0.006, feed=0.05, plunge=0.017,
        speed=1885.0, passes=2, way="both", share=1.0, hold_down=None,
    )  # fmt: skip
    machine = Machine(
        name="Simple router", layout="moving-gantry", show="metric", currency="EUR",
        purpose=purpose.Purpose((0.6, 0.9, 0.12), 0.15, 0.05, 1.0, 2e-4), jobs=(job,),
        site=purpose.Site(293.15, 283.15, 303.15, 0.0, "concrete", "IEC", (electric.Outlet("wall", 230.0, 16.0),), ()),
        links=(Link("bed", "", "", 0), Link("gantry", "bed", "y", 1), Link("carriage", "gantry", "x", 1), Link("head", "carriage", "z", 1)),
        bodies=(Body("bed", (0.3, 0.1, 0.0), 0.0), Body("gantry", (0.3, 0.7, -0.02), 0.0), Body("carriage", (0.3, 0.57, 0.25), 0.0),
                Body("head", (0.3, 0.52, 0.3), 0.0)),
        work_body="bed", tool_body="head", solids=solids(), members=(), plates=(), joints=(), feet=(), axes=tuple(made),
        supplies=(electric.Supply("main", kinds.PowerSupply(id="dc-48v-600w", voltage=48.0, lowest=43.0, highest=55.0, power=600.0,
                                  current=12.5, capacitance=2e-3, regulated=True, adjustable=True, tolerance=0.02, efficiency=0.88, mass=1.2),
                                  False, 44.0, "wall", Use("dc-48v-600w")),),
        controller=electric.ControllerFit(kinds.Controller(id="controller-4-axis", pulse_rate=100e3), 100e3, 24.0, Use()),
        spindle=electric.SpindleFit(kinds.Spindle(id="spindle-2.2kw-24k", power=2200.0, lowest=838.0, highest=2513.0, diameter=0.08, length=0.22,
                                    mass=5.0), None, "wall", "water", (0.3, 0.45, 0.15), (0.0, 0.0, -1.0), "head.plate", Use()),
        tool=electric.ToolFit(cutter, 0.03, (0.3, 0.45, 0.12)), drawn_at=(0.3, 0.45, 0.12),
        table=Box((0.0, 0.0, 0.0), (0.6, 0.9, 0.12)), reach=Box((0.0, 0.0, 0.0), (0.6, 0.9, 0.12)),
        table_top=Box((-0.1, -0.1, -0.018), (0.7, 1.0, 0.0)), origins={}, spreads={},
    )  # fmt: skip
    return replace(machine, **changes)
