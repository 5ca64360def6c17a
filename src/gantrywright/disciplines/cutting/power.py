"""Power that the spindle can turn into chips at a speed, and what the outlet leaves for it."""

from dataclasses import dataclass

import numpy as np

from gantrywright.base.samples import plain
from gantrywright.base.units import Ampere, Number, RadianPerSecond, Watt
from gantrywright.model.electric import Outlet, SpindleFit
from gantrywright.model.machine import Machine
from gantrywright.results.electrics import ElectricResult
from gantrywright.theory.cutting.spindle_power import fan_share, outlet_shaft_power, shaft_power, usable_current, useful_power

USEFUL = 0.75
"""Lasting shaft power over the power on the plate, 0.65 to 1; common practice, no source."""
PULL_OUT = 2.0
"""Largest over rated torque; from memory."""
USABLE = {"NEC": 0.8, "IEC": 1.0}
"""Part of an outlet's rating that may flow for hours by the family of rules; a licensed electrician has the last word."""
POWER_FACTOR = 0.6
"""True power factor of a small inverter or supply without choke or correction; derived from simulation, 0.52 to 0.65."""
OTHER_FACTOR = 0.8
"""The same of other loads: universal motors 0.90 to 0.97, induction motors 0.75 to 0.85, pumps 0.55 to 0.8; common practice, no source."""
MOTOR, INVERTER, SUPPLY = 0.80, 0.95, 0.9
"""Efficiencies: of a small spindle 0.72 to 0.86, of an inverter 0.93 to 0.97, of a DC supply 0.88 to 0.92; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Available:
    """What there is for the cut."""

    shaft: Watt
    """That the spindle gives for long at the speed."""
    outlet: Watt | None
    """Shaft power that the outlet leaves; None is unknown."""
    others: Ampere = 0.0
    """Current of what else hangs on that outlet while it cuts."""
    words: str = ""

    @property
    def power(self) -> Watt:
        """The less of both."""
        return self.shaft if self.outlet is None else plain(np.minimum(self.shaft, self.outlet))


def lacking(machine: Machine) -> str:
    """What must be known before the spindle has a power; empty where all is known."""
    spindle = machine.spindle
    if spindle is None:
        return "the spindle: spindle.part"
    if spindle.part.power is None:
        return "its rated power: spindle.part.power"
    if spindle.part.base_speed is None and spindle.part.highest is None:
        return "its highest speed: spindle.part.highest"
    return ""


def available(machine: Machine, speed: RadianPerSecond, fed: ElectricResult | None) -> Available | None:
    """Power at a speed; None where it is not known.

    Args:
        machine: Typical or sampled.
        speed: Of the spindle.
        fed: What else the outlet feeds; None: other loads of the site alone.
    """
    spindle = machine.spindle
    if spindle is None or lacking(machine):
        return None
    part = spindle.part
    assert part.power is not None
    base = part.highest if part.base_speed is None else part.base_speed
    assert base is not None
    lasting = useful_power(plate=part.power, share=USEFUL if part.useful is None else part.useful)
    shaft = shaft_power(power=lasting, base_speed=base, speed=speed, pull_out=PULL_OUT if part.pull_out is None else part.pull_out)
    cooled = spindle.cooling or part.cooling
    share: Number = fan_share(speed=speed, base_speed=base) if cooled == "fan" else 1.0
    left, others, words = _of_outlet(machine, spindle, fed)
    return Available(shaft * share, left, others, words)


def _of_outlet(machine: Machine, spindle: SpindleFit, fed: ElectricResult | None) -> tuple[Watt | None, Ampere, str]:
    outlet = next((one for one in machine.site.outlets if one.name == spindle.outlet), None)
    if outlet is None or outlet.phases != 1:
        return None, 0.0, ""
    others = _other_current(machine, outlet, fed)
    share = USABLE.get(machine.site.rules, 0.8)
    left = outlet_shaft_power(
        voltage=outlet.voltage, usable_current=usable_current(rating=outlet.current, share=share), other_current=others,
        power_factor=POWER_FACTOR, motor_efficiency=MOTOR, inverter_efficiency=INVERTER,
    )  # fmt: skip
    return left, others, f"outlet {outlet.name}, power factor {POWER_FACTOR:g} without a choke"


def _other_current(machine: Machine, outlet: Outlet, fed: ElectricResult | None) -> Ampere:
    """Sum of the currents: an upper bound, as currents of different shape do not add in full."""
    total: Ampere = 0.0
    for load in machine.site.loads:
        if load.outlet == outlet.name and load.runs != "seldom":
            total = total + load.power / (outlet.voltage * OTHER_FACTOR)
    for supply in machine.supplies:
        drawn = fed.supplies[supply.name].typical if fed is not None and supply.name in fed.supplies else None
        if supply.outlet == outlet.name and drawn is not None:
            total = total + drawn / (SUPPLY * outlet.voltage * POWER_FACTOR)
    return total
