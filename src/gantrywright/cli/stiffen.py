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
from gantrywright.study.standing import doubtful, no_answer, warning
from gantrywright.study.stiffen import ESTIMATED, Gain, Stiffening, exported, place_in_words, stiffen
from gantrywright.study.study import run as study_of

OK, UNSURE = 0, 3
LITTLE = 0.002
"""Changes that take away less of the give than this are only counted."""
POUND = 0.45359237
WIDE = 96
"""Columns from which there is room for what follows from the others: gain per mass and per money."""
PER_MONEY = 100
"""Gain is told per so much money."""


def run(given: argparse.Namespace) -> int:
    """Print the changes with what they gain; the exit code tells whether there was an answer."""
    resolve = again(read_document(given.machine))
    study = study_of(resolve({}, ()))
    found = stiffen(study, resolve, given.along or "")
    if given.json:
        failing = [[each.id, each.subject] for each in doubtful(study)]
        print(json.dumps({**exported(found, study.machine), "failing": failing}, indent=1, ensure_ascii=False))
    elif found is None:
        print("\n".join(no_answer(study.results.structure)))
    else:
        if words := warning(study):
            console().print(escape(f"{words}\n"))
        _report(study.machine, found, given.by)
    return OK if found is not None else UNSURE


def _report(machine: Machine, found: Stiffening, order: str) -> None:
    out, system = console(), machine.show
    where = place_in_words(found.before.pose, system)
    way = found.along.upper()
    place = f"along {way}, where it is softest along {way}" if way else "in the softest direction, at the softest place"
    out.print(escape(f"Stiffness at the tool {place} ({where}): {show(_before(found), 'N/m', system)}\n"))
    worth = [gain for gain in found.by(order) if abs(gain.gain) >= LITTLE]
    out.print(_table(machine, found, worth, out.width))
    if found.together is not None:
        out.print("Together:")
        out.print(escape(f"  {found.together.words}"))
        out.print(escape(f"  {_all_told(machine, found, found.together)}\n"))
    little = len(found.gains) - len(worth)
    if little:
        out.print(f"{little} more change less than {_percent(LITTLE)} % of the give; --json has them.")
    for refused in found.refused:
        out.print(escape(f"not tried (holds {_percent(refused.share)} %): {refused.words}: {refused.reason}"))
    for gain in worth:
        for note in gain.notes:
            out.print(escape(f"note: {gain.words}: {note}"))
    if any(gain.estimated for gain in worth):
        out.print(f"~ {ESTIMATED}")
    out.print("Typical values, tried at the same place; only the structure is looked at. Put a change into the file and check it.")


def _table(machine: Machine, found: Stiffening, gains: list[Gain], width: int) -> Table:
    mass, stiffness = _mass_unit(machine), unit_for(_before(found), "N/m", machine.show)
    table = Table(box=rich.box.SIMPLE_HEAD, pad_edge=False)
    table.add_column("stiffen this first", min_width=32 if width >= WIDE else 16, overflow="fold")
    columns = (f"stiffness\n{stiffness}", "less\n%", "held\n%", f"adds\n{mass}", f"moving\n{mass}", f"cost\n{machine.currency}")
    ranks = (f"% per\n{mass}", f"% per\n{PER_MONEY} {machine.currency}") if width >= WIDE else ()
    for name in (*columns, *ranks):
        table.add_column(name, justify="right", no_wrap=True)
    for gain in gains:
        cells = (
            escape(gain.words), _number(_stiffness(gain.stiffness, gain.least, found), "N/m", machine, stiffness), _percent(gain.gain),
            _percent(gain.share), _number(gain.mass, "kg", machine, mass), _number(gain.moving, "kg", machine, mass), _money(gain),
        )  # fmt: skip
        table.add_row(*cells, *((_per_mass(gain, machine), _per_money(gain)) if ranks else ()))
    return table


def _all_told(machine: Machine, found: Stiffening, gain: Gain) -> str:
    """What changes bring together, in a sentence."""
    stiffer = show(
        _stiffness(gain.stiffness, gain.least, found), "N/m", machine.show, hint=unit_for(_before(found), "N/m", machine.show)
    )
    if gain.mass is None or gain.moving is None:
        weight = "adds an unknown mass"
    elif gain.mass == 0 and gain.moving == 0:
        weight = "adds no mass"
    else:
        whole, moving = (show(mass, "kg", machine.show, hint=_mass_unit(machine)) for mass in (gain.mass, gain.moving))
        weight = f"adds {whole}, {moving} of it moving"
    cost = "cost unknown" if gain.cost is None else f"costs {'about ' if gain.estimated else ''}{gain.cost:.0f} {machine.currency}"
    return f"{stiffer}, gives {_percent(gain.gain)} % less; {weight}; {cost}"


def _stiffness(values: tuple[float, float, float], least: float, found: Stiffening) -> float:
    return values["xyz".index(found.along)] if found.along else least


def _before(found: Stiffening) -> float:
    tip = found.before
    return _stiffness((typical(tip.stiffness[0]), typical(tip.stiffness[1]), typical(tip.stiffness[2])), typical(tip.least), found)


def _percent(share: float) -> str:
    return f"{100 * share:.1f}"


def _mass_unit(machine: Machine) -> str:
    return "kg" if machine.show == "metric" else "lb"


def _number(value: float | None, unit: str, machine: Machine, hint: str) -> str:
    """Without its unit, which stands above the column."""
    return "unknown" if value is None else show(value, unit, machine.show, hint=hint).removesuffix(hint).strip()


def _money(gain: Gain) -> str:
    return "unknown" if gain.cost is None else f"{'~' if gain.estimated else ''}{gain.cost:.0f}"


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
