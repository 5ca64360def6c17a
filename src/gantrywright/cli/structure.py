"""``gantrywright structure``: how the machine gives and rings, in one report."""

import argparse
import json
from typing import Any

import rich.box
from rich.console import Console
from rich.markup import escape
from rich.table import Table

from gantrywright.base.files import write_whole
from gantrywright.base.quantities import parse, show, show_band
from gantrywright.cli import readings
from gantrywright.cli.check import exit_code, study_of
from gantrywright.cli.printing import console
from gantrywright.study.structured import OFF_TABLE, at_place, deflected, structured
from gantrywright.study.study import Study

ROWS = 12
"""Groups of parts that are listed."""
WORDS = ("", "mostly by", "strain in", "moving")
"""Columns of words."""
MODES = 10
"""Modes that are listed."""


def run(given: argparse.Namespace) -> int:
    """Print the report, or write what a view animates; the exit code is that of the whole verdict."""
    study = study_of(given.machine, settled=not given.quick and not given.at)
    if given.at:
        return _at(study, given.at, as_json=given.json)
    if given.deflected:
        write_whole(given.deflected, json.dumps(deflected(study)))
        print(f"wrote {given.deflected}")
    elif given.json:
        print(json.dumps(structured(study), indent=1, ensure_ascii=False))
    else:
        report(study, structured(study), console())
    return exit_code(study)


def _at(study: Study, place: str, *, as_json: bool) -> int:
    """Stiffness and what gives with the tool at one place."""
    point = parse(place, "point").value
    found = at_place(study, point)
    out = console()
    if found is None:
        out.print(escape("no answer: " + "; ".join(structured(study)["lacking"])))
    elif as_json:
        print(json.dumps(found, indent=1, ensure_ascii=False))
    elif not found["over_table"]:
        out.print(escape(f"no answer: {found['words']}"))
    else:
        where = ", ".join(show(value, "m", study.machine.show) for value in point)
        table = _table(f"Stiffness between tool and work at {where}", "X", "Y", "Z", "softest direction")
        table.add_row(
            *(show(found["stiffness"][letter], "N/m", study.machine.show) for letter in "xyz"),
            show(found["least"], "N/m", study.machine.show),
        )
        out.print(table)
        out.print(_shares(found))
    return exit_code(study)


def report(study: Study, found: dict[str, Any], out: Console) -> None:
    """Stiffness, map, shares, jobs, heat, modes."""
    for words in (*found["broken"], *found["lacking"]):
        out.print(escape(f"no answer: {words}"))
    if found["softest"] is None:
        return
    out.print(_stiffness(study, found))
    for words in (*_unknowns(found), *_apart(found["softest"])):
        out.print(words)
    out.print(_shares(found["softest"]))
    out.print(_map(study, found))
    if any(value is None for row in found["over_table"]["values"] for value in row):
        out.print(f"-: {OFF_TABLE}\n")
    _others(study, found, out)
    readings.told(study, found, out)
    for made in found["slotted"]:
        out.print(
            escape(
                f"{made['member']} ({made['section']}) keeps {100 * made['bending']:.0f} % of the bending and {100 * made['torsion']:.0f} % of the torsion of a plain tube of its size and mass."
            )
        )
    if found["slotted"]:
        out.print()
    if found["modes"]:
        out.print(_modes(study, found["modes"]))
    if found["response"]:
        out.print(_response(study, found))
    for free in found["speeds"]:
        out.print(escape(f"Spindle speeds that ring nothing in job {free['job']}: {free['words']}"))
    for part, words in found["notes"].items():
        out.print(escape(f"note: {part} {words}"))


def _table(title: str, *columns: str) -> Table:
    table = Table(box=rich.box.SIMPLE_HEAD, pad_edge=False, title=title, title_justify="left", title_style="bold")
    for number, name in enumerate(columns):
        table.add_column(name, justify="left" if number == 0 or name in WORDS else "right", overflow="fold")
    return table


def _stiffness(study: Study, found: dict[str, Any]) -> Table:
    system = study.machine.show
    table = _table("Stiffness between tool and work", "", "X", "Y", "Z", "softest direction")
    for key, word in (("softest", "at the softest place"), ("middle", "in the middle")):
        tip = found[key]
        where = ", ".join(f"{name.upper()} {show(place, 'm', system)}" for name, place in sorted(tip["pose"].items()))
        if not tip["over_table"]:
            table.add_row(f"{word} ({where}): {tip['words']}", "", "", "", "")
            continue
        cells = [_banded(tip, letter, system) for letter in ("x", "y", "z")]
        table.add_row(f"{word} ({where})", *cells, show(tip["least"], "N/m", system))
    return table


def _banded(tip: dict[str, Any], letter: str, system: str) -> str:
    value = show(tip["stiffness"][letter], "N/m", system)
    pair = tip["band"].get(letter)
    return f"{value}\n({show(pair[0], 'N/m', system)} .. {show(pair[1], 'N/m', system)})" if pair else value


def _unknowns(found: dict[str, Any]) -> list[str]:
    """Which measurement would narrow the band of each direction most."""
    told = []
    for path, pairs in found["unknowns"].items():
        if pairs and path[-2:] in ("_x", "_y", "_z"):
            words = ", then ".join(f"{name} ({100 * share:.0f} % of the doubt)" for name, share in pairs[:2])
            told.append(f"{path[-1].upper()}: measure {words}")
    return told


DIFFER = 0.05
"""From this part of the typical stiffness on a difference between the two bands is told."""


def _apart(tip: dict[str, Any]) -> list[str]:
    """Where the band from the shares alone and that of the full solution differ: load then finds another way."""
    told = []
    for letter, pair in tip["band"].items():
        first = tip["first_order"].get(letter)
        off = max((abs(a - b) for a, b in zip(pair, first, strict=True)), default=0.0) / tip["stiffness"][letter] if first else 0.0
        if off > DIFFER:
            told.append(
                f"{letter.upper()}: shares alone would give another band (off by {100 * off:.0f} %): the load finds another way round what is soft."
            )
    return told


def _shares(tip: dict[str, Any]) -> Table:
    """Groups of parts with their share of the give by direction."""
    groups: dict[str, list[float]] = {}
    ways: dict[str, dict[str, float]] = {}
    for share in tip["shares"]:
        held = groups.setdefault(share["group"], [0.0] * 4)
        for k, value in enumerate((*share["along"], share["weakest"])):
            held[k] += value
        for way, parts in share["ways"].items():
            own = ways.setdefault(share["group"], {})
            own[way] = own.get(way, 0.0) + max(parts)
    table = _table("What gives, in per cent of the give there", "", "X", "Y", "Z", "softest direction", "mostly by")
    for name, held in sorted(groups.items(), key=lambda pair: -max(pair[1]))[:ROWS]:
        own = ways.get(name, {})
        mostly = max(own, key=lambda way: own[way]) if own else ""
        table.add_row(escape(name), *(f"{100 * value:.1f}" for value in held), mostly)
    return table


def _map(study: Study, found: dict[str, Any]) -> Table:
    """Softest stiffness over the table, at the height where it is least."""
    system = study.machine.show
    made = found["over_table"]
    across, along = made["across"], made["along"]
    unit = show(next(value for row in made["values"] for value in row if value is not None), "N/m", system).rpartition(" ")[2]
    where = ", ".join(f"{name.upper()} {show(place, 'm', system)}" for name, place in made["others"].items())
    title = f"Stiffness in the softest direction over the table, {unit}, at {where}"
    table = _table(title, f"{along['axis'].upper()} \\ {across['axis'].upper()}", *(show(p, "m", system) for p in across["places"]))
    for place, row in zip(along["places"], made["values"], strict=True):
        table.add_row(
            show(place, "m", system), *("-" if value is None else show(value, "N/m", system).rpartition(" ")[0] for value in row)
        )
    return table


def _others(study: Study, found: dict[str, Any], out: Console) -> None:
    system = study.machine.show
    if found["jobs"]:
        table = _table(
            "Push-off by the cut at the softest place", "job", "mean force", "peak force", "along the spindle", "stiffness needed"
        )
        for job in found["jobs"]:
            cells = [show(job[key], "m", system) for key in ("mean", "peak", "upright")]
            table.add_row(escape(job["job"]), *cells, "unknown" if job["needed"] is None else show(job["needed"], "N/m", system))
        out.print(table)
    if found["axes"]:
        table = _table(
            "While an axis accelerates as wanted, or as promised where that is less",
            "axis",
            "acceleration",
            "tool against work",
            "machine on its feet",
            "settled after a stop",
            "ramp that keeps it still",
        )
        for name, axis in found["axes"].items():
            table.add_row(
                name.upper(), show(axis["accel"], "m/s2", system), show(axis["tilt"], "m", system), show(axis["rock"], "m", system),
                *("unknown" if axis[key] is None else show(axis[key], "s", system) for key in ("settle", "ramp")),
            )  # fmt: skip
        out.print(table)
    if found["sag"] is not None:
        out.print(
            escape(f"Height of the tool over the table changes by {show(found['sag'], 'm', system)} by the weight of the parts.\n")
        )
    if found["heat"]:
        table = _table(
            "What warmth moves, on the farthest day of the shop from that of assembly", "", "nothing slips", "screws slip", ""
        )
        for heat in found["heat"]:
            values = (show(heat[key], "m", system) for key in ("value", "relieved"))
            table.add_row(escape(heat["subject"]), *values, escape(heat["words"]))
        out.print(table)


def _response(study: Study, found: dict[str, Any]) -> Table:
    """What is left of the stiffness at the frequency where it is least."""
    made, system = found["response"], study.machine.show
    table = _table("Stiffness between tool and work against a force that swings", "", "X", "Y", "Z")
    cells = []
    for peak, pair in zip(made["peak"], made["peak_band"], strict=True):
        cells.append(show_band(1 / pair[1], 1 / peak, 1 / pair[0], "N/m", system) if pair else show(1 / peak, "N/m", system))
    table.add_row("at its worst frequency", *cells)
    table.add_row("that frequency", *(show(at, "Hz", system) for at in made["peak_at"]))
    return table


def _modes(study: Study, modes: list[dict[str, Any]]) -> Table:
    table = _table("Natural modes at the softest place", "", "Hz", "damping %", "of the give, X Y Z %", "strain in", "moving")
    for mode in modes[:MODES]:
        held = " ".join(f"{100 * value:.0f}" for value in mode["tip_share"])
        strain, moving = (
            ", ".join(f"{name} {100 * value:.0f} %" for name, value in mode[key][:2]) for key in ("strain", "kinetic")
        )
        table.add_row(
            escape(mode["name"]), _hertz(study, mode), f"{100 * mode['damping']:.1f}", held, escape(strain), escape(moving)
        )
    return table


def _hertz(study: Study, mode: dict[str, Any]) -> str:
    """Frequency of a mode with its band once settled."""
    pair = study.bands.get(f"structure.mode.{mode['number']}.frequency")
    return f"{mode['frequency']:.1f}" + (f"\n({pair[0]:.1f} .. {pair[1]:.1f})" if pair else "")
