"""``gantrywright stiffen``: what to stiffen first."""

import argparse
import json

import rich.box
from rich.markup import escape
from rich.table import Table

from gantrywright.base.quantities import show, unit_for
from gantrywright.base.samples import typical
from gantrywright.cli.printing import console
from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import again
from gantrywright.model.machine import Machine
from gantrywright.study.stiffen import Gain, Stiffening, exported, stiffen
from gantrywright.study.study import run as study_of

OK, UNSURE = 0, 3
LITTLE = 0.002
"""Changes that take away less of the give than this are only counted."""
POUND = 0.45359237
PER_MONEY = 100
"""Gain is told per so much money."""


def run(given: argparse.Namespace) -> int:
    """Print the changes with what they gain; the exit code tells whether there was an answer."""
    resolve = again(read_document(given.machine))
    study = study_of(resolve({}, ()))
    found = stiffen(study, resolve, given.along or "")
    if given.json:
        print(json.dumps(exported(found, study.machine), indent=1, ensure_ascii=False))
    elif found is None:
        structure = study.results.structure
        for words in (*structure.broken, *structure.lacking):
            print(f"no answer: {words}")
    else:
        _report(study.machine, found, given.by)
    return OK if found is not None else UNSURE


def _report(machine: Machine, found: Stiffening, order: str) -> None:
    out, system = console(), machine.show
    where = ", ".join(f"{name.upper()} {show(place, 'm', system)}" for name, place in sorted(found.before.pose.items()))
    way = f"along {found.along.upper()}" if found.along else "in the softest direction"
    out.print(escape(f"Stiffness at the tool {way}, at the softest place ({where}): {show(_before(found), 'N/m', system)}\n"))
    worth = [gain for gain in found.by(order) if abs(gain.gain) >= LITTLE]
    out.print(_table(machine, found, worth))
    if found.together is not None:
        out.print("Together:")
        out.print(escape(f"  {found.together.words}"))
        cost = _money(found.together, machine)
        out.print(
            escape(
                f"  {_stiffer(machine, found, found.together)}, gives {_percent(found.together.gain)} less, {_weight(found.together, machine)}, {cost}\n"
            )
        )
    little = len(found.gains) - len(worth)
    if little:
        out.print(f"{little} more change less than {_percent(LITTLE)} of the give; --json has them.")
    for refused in found.refused:
        out.print(escape(f"not tried: {refused.words}: {refused.reason}"))
    for gain in worth:
        for note in gain.notes:
            out.print(escape(f"note: {gain.words}: {note}"))
    if any(gain.estimated for gain in worth):
        out.print("~ a part's written price is taken to grow with its mass; screws, adapters and work are not in it.")
    out.print("Typical values, tried at the same place; only the structure is looked at. Put a change into the file and check it.")


def _table(machine: Machine, found: Stiffening, gains: list[Gain]) -> Table:
    mass = _mass_unit(machine)
    table = Table(box=rich.box.SIMPLE_HEAD, pad_edge=False)
    table.add_column("stiffen this first", min_width=32, overflow="fold")
    columns = ("stiffness", "less", "held", f"{mass} (moving)", "cost", f"% / {mass}", f"% / {PER_MONEY} {machine.currency}")
    for name in columns:
        table.add_column(name, justify="right", overflow="fold")
    for gain in gains:
        table.add_row(
            escape(gain.words), _stiffer(machine, found, gain), _percent(gain.gain), _percent(gain.share), _weight(gain, machine),
            _money(gain, machine), _per_mass(gain, machine), _per_money(gain),
        )  # fmt: skip
    return table


def _stiffness(values: tuple[float, float, float], least: float, found: Stiffening) -> float:
    return values["xyz".index(found.along)] if found.along else least


def _before(found: Stiffening) -> float:
    tip = found.before
    return _stiffness((typical(tip.stiffness[0]), typical(tip.stiffness[1]), typical(tip.stiffness[2])), typical(tip.least), found)


def _stiffer(machine: Machine, found: Stiffening, gain: Gain) -> str:
    hint = unit_for(_before(found), "N/m", machine.show)
    return show(_stiffness(gain.stiffness, gain.least, found), "N/m", machine.show, hint=hint)


def _percent(share: float) -> str:
    return f"{100 * share:.1f} %"


def _mass_unit(machine: Machine) -> str:
    return "kg" if machine.show == "metric" else "lb"


def _weight(gain: Gain, machine: Machine) -> str:
    if gain.mass is None or gain.moving is None:
        return "unknown"
    unit = _mass_unit(machine)
    whole, moving = (show(mass, "kg", machine.show, hint=unit).rpartition(" ")[0] for mass in (gain.mass, gain.moving))
    return f"{whole} ({moving})"


def _money(gain: Gain, machine: Machine) -> str:
    return "unknown" if gain.cost is None else f"{'~' if gain.estimated else ''}{gain.cost:.0f} {machine.currency}"


def _per_mass(gain: Gain, machine: Machine) -> str:
    if gain.per_kilogram is None:
        return "unknown" if gain.mass is None else "adds none"
    return _short(100 * gain.per_kilogram * (1.0 if machine.show == "metric" else POUND))


def _per_money(gain: Gain) -> str:
    if gain.per_money is None:
        return "unknown" if gain.cost is None else "free"
    return _short(100 * PER_MONEY * gain.per_money)


def _short(value: float) -> str:
    return f"{value:.0f}" if abs(value) >= 10 else f"{value:.2g}"
