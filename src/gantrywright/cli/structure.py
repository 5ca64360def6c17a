"""``gantrywright structure``: how the machine gives and rings, in one report."""

import argparse
import json
import sys
from typing import Any

from rich.console import Console
from rich.markup import escape
from rich.table import Table

from gantrywright.base.files import write_whole
from gantrywright.base.quantities import parse, show
from gantrywright.cli import readings
from gantrywright.cli.check import exit_code, study_of
from gantrywright.cli.columns import banded, number, one_unit, table
from gantrywright.cli.printing import console
from gantrywright.study.standing import no_answer, warning
from gantrywright.study.structured import OFF_TABLE, at_place, deflected, structured
from gantrywright.study.study import Study

ROWS = 12
"""Groups of parts that are listed."""
UNSEEN = 5e-8
"""What warmth moves by less is not listed, m."""
WARMED = {"bow": "bows", "growth": "drive grows", "frame": "frame grows"}
"""What a row of the table of warmth tells."""
NAMED = 4
"""Bars of one section that are named."""
MODES = 10
"""Modes that are listed."""


def run(given: argparse.Namespace) -> int:
    """Print the report, or write what a view animates; the exit code is that of the whole verdict."""
    study = study_of(given.machine, settled=not given.quick and not given.at)
    if given.at:
        return _at(study, given.at, as_json=given.json)
    if given.deflected:
        write_whole(given.deflected, json.dumps(deflected(study)))
        print(f"wrote {given.deflected}", file=sys.stderr if given.json else sys.stdout)
    if given.json:
        print(json.dumps(structured(study), indent=1, ensure_ascii=False))
    elif not given.deflected:
        report(study, structured(study), console())
    return exit_code(study)


def _at(study: Study, place: str, *, as_json: bool) -> int:
    """Stiffness and what gives with the tool at one place."""
    point = parse(place, "point").value
    found = at_place(study, point)
    out = console()
    if found is None:
        _first_lines(study, out)
    elif as_json:
        print(json.dumps(found, indent=1, ensure_ascii=False))
    elif not found["over_table"]:
        out.print(escape(f"no answer: {found['words']}"))
    else:
        _first_lines(study, out)
        where = ", ".join(show(value, "m", study.machine.show) for value in point)
        values, system = (*(found["stiffness"][letter] for letter in "xyz"), found["least"]), study.machine.show
        unit = one_unit(values, "N/m", system)
        made = table(f"Stiffness between tool and work at {where}, {unit}", "X", "Y", "Z", "softest direction")
        made.add_row(*(number(value, "N/m", system, unit) for value in values))
        out.print(made)
        out.print(_shares(found))
    return exit_code(study)


def report(study: Study, found: dict[str, Any], out: Console) -> None:
    """Stiffness, map, shares, jobs, heat, modes."""
    _first_lines(study, out)
    if found["softest"] is None:
        _heat(study, found, out)
        return
    out.print(_stiffness(study, found))
    for words in (*_unknowns(found), *_apart(found["softest"])):
        out.print(words)
    out.print()
    out.print(_shares(found["softest"]))
    out.print(_map(study, found))
    if any(value is None for row in found["over_table"]["values"] for value in row):
        out.print(f"-: {OFF_TABLE}\n")
    _others(study, found, out)
    readings.told(study, found, out)
    _slotted(found["slotted"], out)
    if found["modes"]:
        out.print(_modes(study, found["modes"]))
    if found["response"]:
        out.print(_response(study, found))
    for free in found["speeds"]:
        out.print(escape(f"Spindle speeds that ring nothing in job {free['job']}: {free['words']}"))
    for part, words in found["notes"].items():
        out.print(escape(f"note: {part} {words}"))


def _first_lines(study: Study, out: Console) -> None:
    """What fails that the numbers hang on, and why there are none."""
    for words in (warning(study), *no_answer(study.results.structure)):
        if words:
            out.print(escape(f"{words}\n"))


def _stiffness(study: Study, found: dict[str, Any]) -> Table:
    """Where all is softest, where each direction is, and in the middle; in one unit."""
    system, soft = study.machine.show, found["softest_along"]
    claimed = [found[key] for key in ("softest", "middle") if found[key]["over_table"]]
    told = [value for tip in (*claimed, *soft.values()) for value in (*tip["stiffness"].values(), tip["least"])]
    unit = one_unit(told, "N/m", system)
    made = table(f"Stiffness between tool and work, {unit}", "", "X", "Y", "Z", "softest direction")
    for key, word in (("softest", "at the softest place"), ("middle", "in the middle")):
        tip = found[key]
        if not tip["over_table"]:
            made.add_row(f"{word} ({_where(tip['pose'], system)}): {tip['words']}", "", "", "", "")
            continue
        cells = [banded(tip["stiffness"][letter], tip["band"].get(letter), "N/m", system, unit) for letter in "xyz"]
        made.add_row(f"{word} ({_where(tip['pose'], system)})", *cells, number(tip["least"], "N/m", system, unit))
        for letters, place in _along_each(soft) if key == "softest" else ():
            cells = [number(value, "N/m", system, unit) for value in (*place["stiffness"].values(), place["least"])]
            made.add_row(f"softest along {letters} ({_where(place['pose'], system)})", *cells)
    return made


def _along_each(soft: dict[str, Any]) -> list[tuple[str, dict[str, Any]]]:
    """Places where a direction is softest, with the directions that share one."""
    places: dict[tuple[tuple[str, float], ...], list[str]] = {}
    for letter, place in soft.items():
        places.setdefault(tuple(sorted(place["pose"].items())), []).append(letter)
    return [(" and ".join(letters).upper().replace("AND", "and"), soft[letters[0]]) for letters in places.values()]


def _where(pose: dict[str, float], system: str) -> str:
    return ", ".join(f"{name.upper()} {show(place, 'm', system)}" for name, place in sorted(pose.items()))


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
    made = table(
        "What gives, in per cent of the give there", "", "X", "Y", "Z", "softest direction", "mostly by", words=("mostly by",)
    )
    for name, held in sorted(groups.items(), key=lambda pair: -max(pair[1]))[:ROWS]:
        own = ways.get(name, {})
        mostly = max(own, key=lambda way: own[way]) if own else ""
        made.add_row(escape(name), *(f"{100 * value:.1f}" for value in held), mostly)
    return made


def _map(study: Study, found: dict[str, Any]) -> Table:
    """Softest stiffness over the table, at the height where it is least."""
    system = study.machine.show
    soft = found["over_table"]
    across, along = soft["across"], soft["along"]
    unit = one_unit((value for row in soft["values"] for value in row), "N/m", system)
    length = one_unit((*across["places"], *along["places"]), "m", system)
    title = f"Stiffness in the softest direction over the table, {unit}, at {_where(soft['others'], system)}"
    heads = (
        f"{along['axis'].upper()} \\ {across['axis'].upper()}, {length}",
        *(number(p, "m", system, length) for p in across["places"]),
    )
    made = table(title, *heads)
    for place, row in zip(along["places"], soft["values"], strict=True):
        cells = ("-" if value is None else number(value, "N/m", system, unit) for value in row)
        made.add_row(number(place, "m", system, length), *cells)
    return made


def _others(study: Study, found: dict[str, Any], out: Console) -> None:
    system = study.machine.show
    if found["jobs"]:
        out.print(_jobs(found["jobs"], system))
    if found["axes"]:
        out.print(_axes(found["axes"], system))
    if found["sag"] is not None:
        out.print(
            escape(f"Height of the tool over the table changes by {show(found['sag'], 'm', system)} by the weight of the parts.\n")
        )
    _heat(study, found, out)


def _jobs(jobs: list[dict[str, Any]], system: str) -> Table:
    keys = ("mean", "peak", "upright")
    length = one_unit((job[key] for job in jobs for key in keys), "m", system)
    unit = one_unit((job["needed"] for job in jobs), "N/m", system)
    made = table(
        "Push-off by the cut at the softest place", "job", f"mean force\n{length}", f"peak force\n{length}",
        f"along the spindle\n{length}", f"stiffness needed\n{unit}",
    )  # fmt: skip
    for job in jobs:
        made.add_row(
            escape(job["job"]), *(number(job[key], "m", system, length) for key in keys), number(job["needed"], "N/m", system, unit)
        )
    return made


def _axes(axes: dict[str, Any], system: str) -> Table:
    each = axes.values()
    accel = one_unit((axis["accel"] for axis in each), "m/s2", system)
    length = one_unit((axis[key] for axis in each for key in ("tilt", "rock")), "m", system)
    time = one_unit((axis[key] for axis in each for key in ("settle", "ramp")), "s", system)
    made = table(
        "While an axis accelerates as wanted, or as promised where that is less", "axis", f"acceleration\n{accel}",
        f"tool against work\n{length}", f"machine on its feet\n{length}", f"settled after a stop\n{time}", f"ramp that keeps it still\n{time}",
    )  # fmt: skip
    columns = (("accel", "m/s2", accel), ("tilt", "m", length), ("rock", "m", length), ("settle", "s", time), ("ramp", "s", time))
    for name, axis in axes.items():
        made.add_row(name.upper(), *(number(axis[key], unit, system, hint) for key, unit, hint in columns))
    return made


def _heat(study: Study, found: dict[str, Any], out: Console) -> None:
    """A row a thing that moves; one part may both bow and grow."""
    system = study.machine.show
    moved = [heat for heat in found["heat"] if max(abs(heat["value"]), abs(heat["relieved"])) >= UNSEEN]
    if not moved:
        return
    length = one_unit((heat[key] for heat in moved for key in ("value", "relieved")), "m", system)
    made = table(
        "What warmth moves, on the farthest day of the shop from that of assembly", "", "what", f"nothing slips\n{length}",
        f"screws slip\n{length}", "how", words=("what", "how"),
    )  # fmt: skip
    for heat in moved:
        values = (number(heat[key], "m", system, length) for key in ("value", "relieved"))
        made.add_row(escape(heat["subject"]), WARMED[heat["kind"]], *values, escape(heat["words"]))
    out.print(made)


def _slotted(made: list[dict[str, Any]], out: Console) -> None:
    """Profiles with slots against plain tubes, a line a section."""
    bars: dict[str, list[str]] = {}
    for one in made:
        kept = f"{100 * one['bending']:.0f} % of the bending and {100 * one['torsion']:.0f} % of the torsion"
        bars.setdefault(f"{one['section']} keeps {kept} of a plain tube of its size and mass", []).append(one["member"])
    for words, members in bars.items():
        more = f" and {len(members) - NAMED} more" if len(members) > NAMED else ""
        out.print(escape(f"{words}: {', '.join(members[:NAMED])}{more}"))
    if bars:
        out.print()


def _response(study: Study, found: dict[str, Any]) -> Table:
    """What is left of the stiffness at the frequency where it is least."""
    made, system = found["response"], study.machine.show
    pairs = [(1 / pair[1], 1 / pair[0]) if pair else None for pair in made["peak_band"]]
    unit = one_unit((1 / peak for peak in made["peak"]), "N/m", system)
    told = table("Stiffness between tool and work against a force that swings", "", "X", "Y", "Z")
    cells = (banded(1 / peak, pair, "N/m", system, unit) for peak, pair in zip(made["peak"], pairs, strict=True))
    told.add_row(f"at its worst frequency, {unit}", *cells)
    told.add_row("that frequency, Hz", *(number(at, "Hz", system, "Hz") for at in made["peak_at"]))
    return told


def _modes(study: Study, modes: list[dict[str, Any]]) -> Table:
    heads = ("", "Hz", "damping\n%", "of the give\nX Y Z %", "strain in", "moving")
    made = table("Natural modes at the softest place", *heads, words=("strain in", "moving"))
    for mode in modes[:MODES]:
        held = " ".join(f"{100 * value:.0f}" for value in mode["tip_share"])
        strain, moving = (
            ", ".join(f"{name} {100 * value:.0f} %" for name, value in mode[key][:2]) for key in ("strain", "kinetic")
        )
        made.add_row(
            escape(mode["name"]), _hertz(study, mode), f"{100 * mode['damping']:.1f}", held, escape(strain), escape(moving)
        )
    return made


def _hertz(study: Study, mode: dict[str, Any]) -> str:
    """Frequency of a mode with its band once settled."""
    pair = study.bands.get(f"structure.mode.{mode['number']}.frequency")
    return f"{mode['frequency']:.1f}" + (f"\n({pair[0]:.1f} .. {pair[1]:.1f})" if pair else "")
