"""The kinds of parts: one frozen record each. Its fields are the columns of ``data/parts/<kind>.csv`` and the keys in a machine file.

Every record starts with ``id``, ``title``, ``source``, ``basis``, ``mass`` and ``price`` (`Part`). A field left empty is ``None``: unknown,
never zero.
"""

from dataclasses import dataclass
from typing import Annotated, ClassVar

from gantrywright.base.units import (
    Ampere,
    Farad,
    FourthMetre,
    Henry,
    Hertz,
    Kilogram,
    KilogramPerCubicMetre,
    KilogramPerMetre,
    KilogramSquareMetre,
    Metre,
    MetrePerSecond,
    MetrePerTurn,
    Money,
    Newton,
    NewtonMetre,
    NewtonMetrePerRadian,
    NewtonMetreSecond,
    NewtonPerMetre,
    Number,
    Ohm,
    Pascal,
    PascalMetrePerSecond,
    PerKelvin,
    Radian,
    RadianPerSecond,
    SquareMetre,
    Volt,
    Watt,
)
from gantrywright.base.values import PhaseCurrent, Rating
from gantrywright.catalog.columns import Column

CP = "common practice, no source"


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """What every part says of itself."""

    kind: ClassVar[str] = ""
    id: str = ""
    title: Annotated[str, Column("text", "Name for people")] = ""
    source: Annotated[str, Column("text", "Id of the source of the row's figures")] = ""
    basis: Annotated[str, Column("datasheet/standard/measured/estimated/example", "How the figures were had")] = ""
    mass: Annotated[Kilogram | None, Column("mass", "Mass of one piece")] = None
    price: Annotated[Money | None, Column("money", "Price of one piece")] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Section(Part):
    """Cross-section of a bar."""

    kind: ClassVar[str] = "section"
    shape: Annotated[
        str,
        Column(
            "tube/tslot/flat/bar/round/angle/channel/i-beam/outline",
            "Shape; a tslot of which only width, height and mass_per_length (or area) are known is estimated",
            required=True,
        ),
    ] = ""
    width: Annotated[Metre | None, Column("length", "Size along the width axis")] = None
    height: Annotated[Metre | None, Column("length", "Size along the height axis")] = None
    wall: Annotated[
        Metre | None, Column("length", "Wall thickness; of a T-slot profile its outer skin, of a channel or I-beam its flange")
    ] = None
    radius: Annotated[
        Metre | None, Column("length", "Outer corner radius; of an angle, channel or I-beam the fillet at its root")
    ] = None
    module: Annotated[Metre | None, Column("length", "Pitch of the slots of a T-slot profile")] = None
    slot: Annotated[Metre | None, Column("length", "Opening of a slot")] = None
    slot_inner: Annotated[Metre | None, Column("length", "Width of the slot cavity behind the lips")] = None
    slot_depth: Annotated[Metre | None, Column("length", "Depth of a slot from the outer face")] = None
    bore: Annotated[Metre | None, Column("length", "Bore of each core of a T-slot profile")] = None
    boss: Annotated[Metre | None, Column("length", "Half the side of the square metal round each bore")] = None
    lip: Annotated[Metre | None, Column("length", "Thickness of the slot lips")] = None
    shell: Annotated[Metre | None, Column("length", "Wall round the slot cavity")] = None
    web: Annotated[Metre | None, Column("length", "Thickness of the diagonal webs and ribs; of a channel or I-beam its web")] = None
    mass_per_length: Annotated[
        KilogramPerMetre | None, Column("linear-mass", "Mass per length; computed from the outline if left out")
    ] = None
    area: Annotated[SquareMetre | None, Column("area", "Area of metal; computed if left out")] = None
    second_moment_height: Annotated[
        FourthMetre | None, Column("second-moment", "Resists bending in the plane of the height; computed if left out")
    ] = None
    second_moment_width: Annotated[
        FourthMetre | None, Column("second-moment", "Resists bending in the plane of the width; computed if left out")
    ] = None
    torsion: Annotated[FourthMetre | None, Column("second-moment", "Torsion constant; computed if left out")] = None
    shear_height: Annotated[SquareMetre | None, Column("area", "Shear area for a force along the height; computed if left out")] = (
        None
    )
    shear_width: Annotated[SquareMetre | None, Column("area", "Shear area for a force along the width; computed if left out")] = (
        None
    )
    material: Annotated[str, Column("text", "Name of the material")] = ""
    outline: Annotated[
        str,
        Column(
            "text",
            'Of shape outline, beside the machine: DXF drawing ("name.dxf, mm" where it says no unit), or points file '
            '("x [mm], y [mm]", then a point a line, a blank line before each opening)',
        ),
    ] = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rail(Part):
    """Profile rail."""

    kind: ClassVar[str] = "rail"
    size: Annotated[Metre | None, Column("length", "Size number of the guide family", required=True)] = None
    width: Annotated[Metre | None, Column("length", "Width of the rail")] = None
    height: Annotated[Metre | None, Column("length", "Height of the rail")] = None
    pitch: Annotated[Metre | None, Column("length", "Pitch of the mounting holes")] = None
    hole: Annotated[Metre | None, Column("length", "Diameter of the through hole")] = None
    counterbore: Annotated[Metre | None, Column("length", "Diameter of the counterbore")] = None
    end_min: Annotated[Metre | None, Column("length", "Least distance from the last hole to the end")] = None
    first_hole: Annotated[Metre | None, Column("length", "Usual factory end distance")] = None
    mass_per_length: Annotated[KilogramPerMetre | None, Column("linear-mass", "Mass per length")] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Block(Part):
    """Recirculating block that runs on a profile rail."""

    kind: ClassVar[str] = "block"
    size: Annotated[Metre | None, Column("length", "Size number of the guide family", required=True)] = None
    height: Annotated[Metre | None, Column("length", "Rail foot to block face")] = None
    width: Annotated[Metre | None, Column("length", "Width of the block")] = None
    length: Annotated[Metre | None, Column("length", "Length of the block along the rail")] = None
    raceway: Annotated[Metre | None, Column("length", "Rail foot to the plane of the raceways")] = None
    dynamic: Annotated[Rating | None, Column("rating", "Dynamic rating with its reference distance")] = None
    static: Annotated[Rating | None, Column("static-rating", "Static rating")] = None
    moment_roll: Annotated[NewtonMetre | None, Column("torque", "Static moment rating about the rail")] = None
    moment_pitch: Annotated[NewtonMetre | None, Column("torque", "Static moment rating about the lateral axis")] = None
    moment_yaw: Annotated[NewtonMetre | None, Column("torque", "Static moment rating about the normal")] = None
    holes: Annotated[tuple[float, float] | None, Column("size2", "Hole pattern of the face, across x along")] = None
    thread: Annotated[str, Column("text", "Thread of the face's holes")] = ""
    seal_force: Annotated[Newton | None, Column("force", "Drag of the seals of one block", "4 N (2..8)", CP)] = None
    friction: Annotated[Number | None, Column("number", "Rolling friction coefficient", "0.004 (0.002..0.006)", CP)] = None
    raceways: Annotated[int | None, Column("count", "Rows of balls")] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BallScrew(Part):
    """Ball screw shaft with the rating of its usual nut."""

    kind: ClassVar[str] = "ball-screw"
    diameter: Annotated[Metre | None, Column("length", "Nominal diameter", required=True)] = None
    root: Annotated[Metre | None, Column("length", "Thread root diameter", required=True)] = None
    lead: Annotated[MetrePerTurn | None, Column("lead", "Travel per turn", required=True)] = None
    starts: Annotated[int | None, Column("count", "Starts of the thread")] = None
    end_loss: Annotated[Metre | None, Column("length", "Length turned down at each end", "50 mm", CP)] = None
    grade: Annotated[str, Column("text", "Accuracy grade: P or T with a number (ISO 3408-3), or C with a number")] = ""
    dynamic: Annotated[Rating | None, Column("rating", "Dynamic rating of the nut, with its reference")] = None
    static: Annotated[Rating | None, Column("static-rating", "Static rating of the nut")] = None
    drag: Annotated[NewtonMetre | None, Column("torque", "Drag torque of nut and seals", "0.03 N m (0.01..0.06)", CP)] = None
    friction: Annotated[
        Number | None, Column("number", "Effective friction coefficient of the thread", "0.01 (0.005..0.015)", CP)
    ] = None
    speed_value: Annotated[Number | None, Column("number", "Largest d n, mm/min", "70000 (50000..100000)", CP)] = None
    mass_per_length: Annotated[KilogramPerMetre | None, Column("linear-mass", "Mass per length")] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class LeadScrew(Part):
    """Trapezoidal or Acme screw shaft."""

    kind: ClassVar[str] = "lead-screw"
    diameter: Annotated[Metre | None, Column("length", "Nominal diameter", required=True)] = None
    root: Annotated[Metre | None, Column("length", "Thread root diameter", required=True)] = None
    lead: Annotated[MetrePerTurn | None, Column("lead", "Travel per turn", required=True)] = None
    starts: Annotated[int | None, Column("count", "Starts of the thread")] = None
    flank: Annotated[Radian | None, Column("angle", "Included flank angle: 30 deg trapezoidal, 29 deg Acme")] = None
    end_loss: Annotated[Metre | None, Column("length", "Length turned down at each end", "40 mm", CP)] = None
    thread: Annotated[str, Column("text", "Thread designation")] = ""
    grade: Annotated[str, Column("text", "Accuracy: lead error per 300 mm where the maker says it")] = ""
    lead_error: Annotated[Number | None, Column("number", "Lead error per length, m/m", "3e-4 (1e-4..6e-4)", CP)] = None
    drag: Annotated[
        NewtonMetre | None, Column("torque", "Drag torque of seals and an adjusted nut", "0.03 N m (0.01..0.08)", CP)
    ] = None
    mass_per_length: Annotated[KilogramPerMetre | None, Column("linear-mass", "Mass per length")] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Nut(Part):
    """Nut of a ball screw or lead screw."""

    kind: ClassVar[str] = "nut"
    dynamic: Annotated[Rating | None, Column("rating", "Dynamic rating, with its reference")] = None
    stiffness: Annotated[NewtonPerMetre | None, Column("stiffness", "Axial stiffness as installed")] = None
    backlash: Annotated[Metre | None, Column("length", "Axial play when new")] = None
    length: Annotated[Metre | None, Column("length", "Length of the nut")] = None
    outer: Annotated[Metre | None, Column("length", "Outer diameter")] = None
    bolt_circle: Annotated[Metre | None, Column("length", "Diameter of the bolt circle")] = None
    friction: Annotated[Number | None, Column("number", "Friction coefficient of the thread in this nut")] = None
    preload: Annotated[Newton | None, Column("force", "Preload of the nut")] = None
    pressure: Annotated[Pascal | None, Column("pressure", "Allowed mean flank pressure of a plain nut")] = None
    pressure_speed: Annotated[PascalMetrePerSecond | None, Column("pressure-speed", "Allowed pressure times sliding speed")] = None
    inertia: Annotated[KilogramSquareMetre | None, Column("inertia", "Of the turning part, where the nut turns")] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Bearing(Part):
    """Screw end bearing, in its housing."""

    kind: ClassVar[str] = "bearing"
    bore: Annotated[Metre | None, Column("length", "Bore")] = None
    stiffness: Annotated[NewtonPerMetre | None, Column("stiffness", "Axial stiffness as installed")] = None
    dynamic: Annotated[Rating | None, Column("rating", "Axial dynamic rating, with its reference")] = None
    static: Annotated[Rating | None, Column("static-rating", "Axial static rating")] = None
    drag: Annotated[NewtonMetre | None, Column("torque", "Drag torque", "0.02 N m (0.01..0.05)", CP)] = None
    holding: Annotated[str, Column("fixed/supported", "What it holds")] = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rack(Part):
    """Toothed rack."""

    kind: ClassVar[str] = "rack"
    module: Annotated[Metre | None, Column("length", "Normal module", required=True)] = None
    width: Annotated[Metre | None, Column("length", "Face width")] = None
    height: Annotated[Metre | None, Column("length", "Height over the back")] = None
    helix: Annotated[Radian | None, Column("angle", "Helix angle; 0 straight")] = None
    pitch_error: Annotated[Number | None, Column("number", "Pitch error per length, m/m", "1e-4 (4e-5..2e-4)", CP)] = None
    mass_per_length: Annotated[KilogramPerMetre | None, Column("linear-mass", "Mass per length")] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Pinion(Part):
    """Pinion that runs on a rack."""

    kind: ClassVar[str] = "pinion"
    module: Annotated[Metre | None, Column("length", "Normal module", required=True)] = None
    teeth: Annotated[int | None, Column("count", "Number of teeth", required=True)] = None
    width: Annotated[Metre | None, Column("length", "Face width")] = None
    helix: Annotated[Radian | None, Column("angle", "Helix angle; 0 straight")] = None
    inertia: Annotated[KilogramSquareMetre | None, Column("inertia", "Moment of inertia")] = None
    preload: Annotated[Newton | None, Column("force", "Spring force that holds it into the rack")] = None
    strength: Annotated[Pascal | None, Column("pressure", "Allowed tooth root stress", "150 MPa (100..250)", CP)] = None
    play: Annotated[
        Metre | None, Column("length", "Centre-distance opening that the builder leaves", "0.05 mm (0.02..0.15)", CP)
    ] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Belt(Part):
    """Open-ended toothed belt."""

    kind: ClassVar[str] = "belt"
    pitch: Annotated[Metre | None, Column("length", "Tooth pitch", required=True)] = None
    width: Annotated[Metre | None, Column("length", "Width")] = None
    stiffness: Annotated[Newton | None, Column("force", "Specific stiffness: force per unit strain")] = None
    allowed: Annotated[Newton | None, Column("force", "Allowed tension")] = None
    mass_per_length: Annotated[KilogramPerMetre | None, Column("linear-mass", "Mass per length")] = None
    pitch_error: Annotated[Number | None, Column("number", "Pitch error per length, m/m", "3e-4 (1e-4..8e-4)", CP)] = None
    top_speed: Annotated[MetrePerSecond | None, Column("speed", "Largest belt speed", "10 m/s (5..20)", CP)] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Pulley(Part):
    """Toothed pulley."""

    kind: ClassVar[str] = "pulley"
    pitch: Annotated[Metre | None, Column("length", "Tooth pitch", required=True)] = None
    width: Annotated[Metre | None, Column("length", "Width")] = None
    teeth: Annotated[int | None, Column("count", "Number of teeth", required=True)] = None
    inertia: Annotated[KilogramSquareMetre | None, Column("inertia", "Moment of inertia")] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Motor(Part):
    """Stepper (open loop), stepper with encoder (closed loop) or servo motor."""

    kind: ClassVar[str] = "motor"
    type: Annotated[str, Column("stepper/closed-loop/servo", "How it is driven", required=True)] = ""
    frame: Annotated[str, Column("text", "Frame: NEMA number or flange size")] = ""
    winding: Annotated[str, Column("text", "How the windings are wired: bipolar, series, parallel")] = ""
    pole_pairs: Annotated[int | None, Column("count", "Pole pairs; 50 for a 1.8 degree stepper", "50", "definition")] = None
    current: Annotated[
        PhaseCurrent | None,
        Column("phase-current", "Rated current of a phase; rms = both phases carry it as direct current"),
    ] = None
    resistance: Annotated[Ohm | None, Column("resistance", "Of one phase as wired")] = None
    inductance: Annotated[Henry | None, Column("inductance", "Of one phase as wired")] = None
    holding: Annotated[NewtonMetre | None, Column("torque", "Holding torque", positive=True)] = None
    detent: Annotated[NewtonMetre | None, Column("torque", "Detent torque")] = None
    loss_torque: Annotated[
        NewtonMetre | None,
        Column("torque", "Constant part of iron and bearing loss; left out: 0.013 of the holding torque"),
    ] = None
    loss_per_speed: Annotated[
        NewtonMetreSecond | None,
        Column("viscous", "Part of the loss that grows with speed", "4e-4 N m s (1e-4..1e-3)", CP),
    ] = None
    rated_torque: Annotated[NewtonMetre | None, Column("torque", "Servo: continuous torque", positive=True)] = None
    peak_torque: Annotated[NewtonMetre | None, Column("torque", "Servo: short-time torque", positive=True)] = None
    rated_speed: Annotated[RadianPerSecond | None, Column("turn-speed", "Servo: speed up to which the rated torque holds")] = None
    top_speed: Annotated[RadianPerSecond | None, Column("turn-speed", "Highest speed")] = None
    inertia: Annotated[KilogramSquareMetre | None, Column("inertia", "Of the rotor")] = None
    length: Annotated[Metre | None, Column("length", "Body length")] = None
    shaft: Annotated[Metre | None, Column("length", "Shaft diameter")] = None
    brake: Annotated[bool | None, Column("flag", "Has a holding brake")] = None
    curve_speeds: Annotated[str, Column("text", "Speeds of the points read off its curve, as '60, 120, 240 rpm'")] = ""
    curve_torques: Annotated[str, Column("text", "Pull-out torques at those speeds, as '4.4, 4.4, 4.3 N m'")] = ""
    curve_voltage: Annotated[Volt | None, Column("voltage", "Bus voltage of that curve")] = None
    curve_current: Annotated[PhaseCurrent | None, Column("phase-current", "Current of that curve")] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Driver(Part):
    """Motor driver."""

    kind: ClassVar[str] = "driver"
    current: Annotated[PhaseCurrent | None, Column("phase-current", "Largest setting; in the machine file: the setting used")] = (
        None
    )
    lowest: Annotated[Volt | None, Column("voltage", "Lowest bus voltage")] = None
    highest: Annotated[Volt | None, Column("voltage", "Highest bus voltage")] = None
    microsteps: Annotated[int | None, Column("count", "Steps per full step", "16", CP)] = None
    pulse_rate: Annotated[Hertz | None, Column("frequency", "Highest pulse rate")] = None
    capacitance: Annotated[Farad | None, Column("capacitance", "Of the bus capacitor inside")] = None
    drop: Annotated[Volt | None, Column("voltage", "Voltage lost in the bridge", "1.5 V (1..2.5)", CP)] = None
    idle: Annotated[Watt | None, Column("power", "Power of its electronics", "5 W (3..8)", CP)] = None
    efficiency: Annotated[
        Number | None, Column("number", "Of the power stage", "0.95 (0.93..0.97)", CP, positive=True, most=1.0)
    ] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PowerSupply(Part):
    """DC supply of motor drivers."""

    kind: ClassVar[str] = "supply"
    voltage: Annotated[Volt | None, Column("voltage", "Nominal voltage", required=True)] = None
    lowest: Annotated[Volt | None, Column("voltage", "Lowest setting")] = None
    highest: Annotated[Volt | None, Column("voltage", "Highest setting")] = None
    power: Annotated[Watt | None, Column("power", "Rated power")] = None
    current: Annotated[Ampere | None, Column("current", "Rated current")] = None
    capacitance: Annotated[Farad | None, Column("capacitance", "Of the output")] = None
    regulated: Annotated[bool | None, Column("flag", "Output is regulated", "true", CP)] = None
    adjustable: Annotated[bool | None, Column("flag", "Output can be set", "false", CP)] = None
    tolerance: Annotated[Number | None, Column("number", "Setting and temperature tolerance", "0.02 (0.01..0.05)", CP)] = None
    efficiency: Annotated[
        Number | None, Column("number", "Output over input power", "0.88 (0.84..0.92)", CP, positive=True, most=1.0)
    ] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Gearbox(Part):
    """Reduction between motor and drive."""

    kind: ClassVar[str] = "gearbox"
    ratio: Annotated[Number | None, Column("number", "Motor turns per output turn")] = None
    efficiency: Annotated[
        Number | None, Column("number", "Output over input power", "0.92 (0.88..0.96)", CP, positive=True, most=1.0)
    ] = None
    backlash: Annotated[Radian | None, Column("angle", "Play at the output")] = None
    stiffness: Annotated[NewtonMetrePerRadian | None, Column("twist-stiffness", "At the output")] = None
    inertia: Annotated[KilogramSquareMetre | None, Column("inertia", "At the motor shaft")] = None
    torque: Annotated[NewtonMetre | None, Column("torque", "Rated output torque")] = None
    top_speed: Annotated[RadianPerSecond | None, Column("turn-speed", "Highest input speed")] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Coupling(Part):
    """Coupling between motor and screw."""

    kind: ClassVar[str] = "coupling"
    stiffness: Annotated[NewtonMetrePerRadian | None, Column("twist-stiffness", "Torsional stiffness")] = None
    inertia: Annotated[KilogramSquareMetre | None, Column("inertia", "Moment of inertia")] = None
    torque: Annotated[NewtonMetre | None, Column("torque", "Rated torque")] = None
    backlash: Annotated[Radian | None, Column("angle", "Play")] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Spindle(Part):
    """Cutting spindle."""

    kind: ClassVar[str] = "spindle"
    power: Annotated[Watt | None, Column("power", "Rated shaft power", required=True)] = None
    lowest: Annotated[RadianPerSecond | None, Column("turn-speed", "Lowest useful speed")] = None
    highest: Annotated[RadianPerSecond | None, Column("turn-speed", "Highest speed")] = None
    diameter: Annotated[Metre | None, Column("length", "Clamping diameter")] = None
    length: Annotated[Metre | None, Column("length", "Body length")] = None
    nose: Annotated[Metre | None, Column("length", "Length of the nose below the body")] = None
    poles: Annotated[int | None, Column("count", "Poles")] = None
    phases: Annotated[int | None, Column("count", "Phases")] = None
    voltage: Annotated[Volt | None, Column("voltage", "Rated voltage")] = None
    current: Annotated[Ampere | None, Column("current", "Rated current")] = None
    collet: Annotated[str, Column("text", "Collet system and largest shank")] = ""
    cooling: Annotated[str, Column("water/fan/none", "How it is kept cool; fan: its own, on the shaft")] = ""
    base_speed: Annotated[
        RadianPerSecond | None,
        Column("turn-speed", "Up to it torque is constant, above it power; left out: the highest speed", positive=True),
    ] = None
    useful: Annotated[
        Number | None,
        Column("number", "Lasting shaft power over the power on its plate", "0.75 (0.65..1)", CP, positive=True, most=1.0),
    ] = None
    pull_out: Annotated[
        Number | None, Column("number", "Largest over rated torque, at the base speed", "2 (1.6..2.5)", CP, positive=True)
    ] = None
    slip: Annotated[
        Number | None,
        Column(
            "number",
            "What it turns slower than its field under rated torque, over the speed of the field",
            "0.03 (0.01..0.05)",
            CP,
            most=1.0,
        ),
    ] = None
    run_out: Annotated[
        Metre | None,
        Column("length", "Reading of an indicator at the cutter over a turn: twice the eccentricity", "20 um (5..40)", CP),
    ] = None
    bearing_span: Annotated[
        Metre | None, Column("length", "Between the front and rear bearings", "120 mm (80..170)", CP, positive=True)
    ] = None
    overhang: Annotated[
        Metre | None, Column("length", "Middle of the front bearings to the collet face", "50 mm (32..70)", CP, positive=True)
    ] = None
    shaft: Annotated[
        Metre | None,
        Column(
            "length",
            "Diameter of the shaft from the rear bearings to the collet, as an even bar",
            "20 mm (14..28)",
            CP,
            positive=True,
        ),
    ] = None
    bore: Annotated[Metre | None, Column("length", "Bore through the shaft, for a drawbar; left out: none")] = None
    wall: Annotated[Metre | None, Column("length", "Wall of the body, taken as a tube", "10 mm (6..16)", CP, positive=True)] = None
    material: Annotated[str, Column("text", "Material of the body", "al-6061", CP)] = ""
    bearing_radial: Annotated[
        NewtonPerMetre | None,
        Column("stiffness", "Radial, of the front bearings together (usually a pair), as installed", "100 N/um (50..215)", CP),
    ] = None
    bearing_rear: Annotated[
        NewtonPerMetre | None, Column("stiffness", "Radial, of the rear bearings together, as installed", "65 N/um (30..140)", CP)
    ] = None
    bearing_axial: Annotated[
        NewtonPerMetre | None,
        Column("stiffness", "Axial, of the bearings that hold the shaft endways, together, as installed", "25 N/um (12..44)", CP),
    ] = None
    bearing_loss: Annotated[Number | None, Column("number", "Loss factor of the bearings", "0.05 (0.03..0.08)", CP)] = None
    collet_stiffness: Annotated[
        NewtonPerMetre | None,
        Column("stiffness", "Of the collet's hold on the shank, sideways and endways", "60 N/um (15..200)", CP),
    ] = None
    collet_tilt: Annotated[
        NewtonMetrePerRadian | None,
        Column("tilt-stiffness", "Of the collet's hold on the shank, against tilting and turning", "30 kN m/rad (10..100)", CP),
    ] = None
    collet_loss: Annotated[Number | None, Column("number", "Loss factor of the collet", "0.03 (0.02..0.05)", CP)] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Inverter(Part):
    """Inverter that feeds the spindle."""

    kind: ClassVar[str] = "inverter"
    power: Annotated[Watt | None, Column("power", "Rated power", required=True)] = None
    lowest: Annotated[RadianPerSecond | None, Column("turn-speed", "Lowest output speed of a two-pole motor")] = None
    highest: Annotated[RadianPerSecond | None, Column("turn-speed", "Highest output speed of a two-pole motor")] = None
    phases: Annotated[int | None, Column("count", "Input phases")] = None
    voltage: Annotated[Volt | None, Column("voltage", "Input voltage")] = None
    current: Annotated[Ampere | None, Column("current", "Rated input current")] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutter(Part):
    """Milling cutter, drill or engraving point."""

    kind: ClassVar[str] = "cutter"
    style: Annotated[
        str, Column("end-mill/compression/ball-nose/bull-nose/v-bit/engraver/surfacing/drill", "What it is made for")
    ] = ""
    diameter: Annotated[Metre | None, Column("length", "Cutting diameter", required=True)] = None
    length: Annotated[Metre | None, Column("length", "Overall length")] = None
    flute_length: Annotated[Metre | None, Column("length", "Length of the flutes")] = None
    shank: Annotated[Metre | None, Column("length", "Shank diameter")] = None
    radius: Annotated[Metre | None, Column("length", "Corner radius; half the diameter on a ball nose")] = None
    flutes: Annotated[int | None, Column("count", "Flutes", required=True)] = None
    helix: Annotated[
        Radian | None,
        Column(
            "angle",
            "Helix angle; positive lifts the chip (up-cut), negative presses (down-cut); of a compression cutter that of its tip, "
            "above which it turns the other way",
        ),
    ] = None
    up_length: Annotated[Metre | None, Column("length", "Of a compression cutter: length at the tip that lifts the chip")] = None
    point: Annotated[Radian | None, Column("angle", "Included point angle of a V bit or drill")] = None
    material: Annotated[str, Column("text", "Tool material", "carbide", CP)] = ""
    edge_radius: Annotated[
        Metre | None,
        Column(
            "length",
            "Rounding of the cutting edge when new; polished for aluminium 3 to 6 um, coated or for wood 5 to 15 um",
            "8 um (3..15)",
            CP,
            positive=True,
        ),
    ] = None
    highest: Annotated[RadianPerSecond | None, Column("turn-speed", "Greatest speed, as marked on it", positive=True)] = None
    centre: Annotated[bool | None, Column("flag", "Cuts to its centre, so that it may plunge")] = None
    core: Annotated[
        Number | None,
        Column(
            "number",
            "Diameter of the round bar that bends like the fluted part, over that part's own",
            "0.8 (0.75..0.85)",
            CP,
            positive=True,
            most=1.0,
        ),
    ] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Slide(Part):
    """Bought slide: base, rails, screw and saddle in one piece."""

    kind: ClassVar[str] = "slide"
    travel: Annotated[Metre | None, Column("length", "Travel", required=True)] = None
    height: Annotated[Metre | None, Column("length", "Base foot to saddle face")] = None
    base: Annotated[tuple[float, float, float] | None, Column("size3", "Base: across x along x thick")] = None
    saddle: Annotated[tuple[float, float, float] | None, Column("size3", "Saddle: across x along x thick")] = None
    mass_fixed: Annotated[Kilogram | None, Column("mass", "Of what does not move")] = None
    mass_moving: Annotated[Kilogram | None, Column("mass", "Of what moves")] = None
    rail: Annotated[str, Column("text", "Name of its rail")] = ""
    block: Annotated[str, Column("text", "Name of its block")] = ""
    screw: Annotated[str, Column("text", "Name of its screw")] = ""
    rail_spacing: Annotated[Metre | None, Column("length", "Between its rails")] = None
    block_spacing: Annotated[Metre | None, Column("length", "Between the block middles along a rail")] = None
    rail_length: Annotated[Metre | None, Column("length", "Length of its rails")] = None
    free_length: Annotated[Metre | None, Column("length", "Bearing to bearing of its screw")] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Foot(Part):
    """Levelling foot."""

    kind: ClassVar[str] = "foot"
    vertical: Annotated[NewtonPerMetre | None, Column("stiffness", "Vertical stiffness")] = None
    horizontal: Annotated[NewtonPerMetre | None, Column("stiffness", "Sideways stiffness")] = None
    load: Annotated[Newton | None, Column("force", "Allowed load")] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Sensor(Part):
    """Home or limit sensor."""

    kind: ClassVar[str] = "sensor"
    type: Annotated[str, Column("text", "How it works")] = ""
    switching: Annotated[Metre | None, Column("length", "Switching distance")] = None
    repeat: Annotated[Metre | None, Column("length", "Repeatability")] = None
    voltage: Annotated[Volt | None, Column("voltage", "Supply voltage")] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Controller(Part):
    """Motion controller."""

    kind: ClassVar[str] = "controller"
    outputs: Annotated[int | None, Column("count", "Outputs")] = None
    inputs: Annotated[int | None, Column("count", "Inputs")] = None
    pulse_rate: Annotated[Hertz | None, Column("frequency", "Highest pulse rate per axis")] = None
    supply_voltage: Annotated[Volt | None, Column("voltage", "Supply voltage")] = None
    power: Annotated[Watt | None, Column("power", "Power drawn")] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Cable(Part):
    """Cable."""

    kind: ClassVar[str] = "cable"
    cores: Annotated[int | None, Column("count", "Cores")] = None
    area: Annotated[SquareMetre | None, Column("area", "Conductor area")] = None
    diameter: Annotated[Metre | None, Column("length", "Outer diameter")] = None
    mass_per_length: Annotated[KilogramPerMetre | None, Column("linear-mass", "Mass per length")] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CableChain(Part):
    """Cable chain (cable carrier)."""

    kind: ClassVar[str] = "cable-chain"
    inner: Annotated[tuple[float, float] | None, Column("size2", "Inner height x width")] = None
    size: Annotated[tuple[float, float] | None, Column("size2", "Outer height x width")] = None
    pitch: Annotated[Metre | None, Column("length", "Link pitch")] = None
    radius: Annotated[Metre | None, Column("length", "Bend radius")] = None
    mass_per_length: Annotated[KilogramPerMetre | None, Column("linear-mass", "Mass per length, filled")] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Device(Part):
    """Anything else that sits in the cabinet."""

    kind: ClassVar[str] = "device"
    type: Annotated[str, Column("text", "What it is")] = ""
    power: Annotated[Watt | None, Column("power", "Power lost or drawn")] = None
    size: Annotated[tuple[float, float, float] | None, Column("size3", "Width x height x depth")] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Material(Part):
    """Material of parts and of workpieces."""

    kind: ClassVar[str] = "material"
    density: Annotated[KilogramPerCubicMetre | None, Column("density", "Density", required=True)] = None
    modulus: Annotated[Pascal | None, Column("pressure", "Elastic modulus")] = None
    shear_modulus: Annotated[Pascal | None, Column("pressure", "Shear modulus")] = None
    strength: Annotated[Pascal | None, Column("pressure", "Tensile strength, least")] = None
    expansion: Annotated[PerKelvin | None, Column("expansion", "Thermal expansion")] = None
    loss: Annotated[Number | None, Column("number", "Loss factor")] = None
    group: Annotated[
        str,
        Column(
            "softwood/hardwood/fibreboard/plywood/hard-plastic/soft-plastic/foam/aluminium/brass/steel/laminate",
            "Cutting: what it is cut like; chip loads, cutting speeds and cautions go by it",
        ),
    ] = ""
    shear_strength: Annotated[Pascal | None, Column("pressure", "Shear strength, of wood along the grain: what a tab holds")] = None
    shear_force: Annotated[
        Pascal | None,
        Column(
            "pressure", "Cutting: tangential shear coefficient of a work material; of wood with the edge moving along the grain"
        ),
    ] = None
    edge_force: Annotated[
        NewtonPerMetre | None, Column("edge-force", "Cutting: tangential edge coefficient; of wood along the grain")
    ] = None
    shear_ratio: Annotated[
        Number | None, Column("number", "Cutting: radial over tangential shear coefficient; of wood along the grain")
    ] = None
    edge_ratio: Annotated[
        Number | None, Column("number", "Cutting: radial over tangential edge coefficient; of wood along the grain")
    ] = None
    across_shear: Annotated[
        Pascal | None,
        Column("pressure", "Cutting, of wood with the edge moving across the grain (end grain): tangential shear coefficient"),
    ] = None
    across_edge: Annotated[
        NewtonPerMetre | None, Column("edge-force", "Cutting, of wood across the grain: tangential edge coefficient")
    ] = None
    across_shear_ratio: Annotated[
        Number | None, Column("number", "Cutting, of wood across the grain: radial over tangential shear coefficient")
    ] = None
    across_edge_ratio: Annotated[
        Number | None, Column("number", "Cutting, of wood across the grain: radial over tangential edge coefficient")
    ] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Thread(Part):
    """Screw thread."""

    kind: ClassVar[str] = "thread"
    diameter: Annotated[Metre | None, Column("length", "Nominal diameter", required=True)] = None
    pitch: Annotated[Metre | None, Column("length", "Pitch", required=True)] = None
    stress_area: Annotated[SquareMetre | None, Column("area", "Tensile stress area")] = None
    tap_drill: Annotated[Metre | None, Column("length", "Tap drill")] = None
    clearance_fine: Annotated[Metre | None, Column("length", "Clearance hole, fine")] = None
    clearance_medium: Annotated[Metre | None, Column("length", "Clearance hole, medium")] = None
    clearance_coarse: Annotated[Metre | None, Column("length", "Clearance hole, coarse")] = None
    head: Annotated[Metre | None, Column("length", "Head diameter of a socket cap screw")] = None


KINDS: dict[str, type[Part]] = {
    record.kind: record
    for record in (
        Section, Rail, Block, BallScrew, LeadScrew, Nut, Bearing, Rack, Pinion, Belt, Pulley, Motor, Driver, PowerSupply, Gearbox,
        Coupling, Spindle, Inverter, Cutter, Slide, Foot, Sensor, Controller, Cable, CableChain, Device, Material, Thread,
    )
}  # fmt: skip
"""Every kind of part by its name in files."""
