"""The one-screen verdict and its long forms, as text.

Colour marks a status and never stands alone: the word is always there.
"""

from collections.abc import Iterable

import rich.box
from rich.console import Console, Group
from rich.markup import escape
from rich.padding import Padding
from rich.table import Table

from gantrywright.base.quantities import show, unit_for
from gantrywright.base.samples import typical
from gantrywright.cli import opened
from gantrywright.cli.printing import console
from gantrywright.findings import Finding, Status
from gantrywright.study.export import finding
from gantrywright.study.promises import Promise, promises
from gantrywright.study.sentences import HOLDS, sentence
from gantrywright.study.study import Study
from gantrywright.study.words import with_band

STYLE = {Status.OK: "green", Status.WATCH: "yellow", Status.UNKNOWN: "cyan", Status.BROKEN: "magenta", Status.FAIL: "bold red"}
RUNS_STYLE = {"runs": "green", "runs if": "yellow", "unknown": "cyan", "does not": "bold red"}
FIRST = 9
"""Rows of findings on the one-screen verdict."""


def verdict(study: Study, *, everything: bool) -> None:
    """The verdict on a machine."""
    out = console()
    out.print(_head(study))
    out.print(_promise_table(study))
    if study.results.jobs.jobs:
        out.print(_job_table(study))
    out.print(_binds(study))
    shown = study.worst() if everything else _first(study)
    if everything:
        long_form(study, [f for f in shown if f.status is not Status.OK], out)
        _print_passes(study, [f for f in shown if f.status is Status.OK], out)
        opened.print_defaults(study, out)
    else:
        table, count = _findings_table(study, shown)
        out.print(table)
        _print_remedies([f for f in shown if f.remedies], out)
        out.print(_foot(study, count))


def _head(study: Study) -> str:
    machine = study.machine
    area = " x ".join(show(v, "m", machine.show) for v in machine.purpose.work_area)
    counts = ", ".join(
        f"{study.count(s)} {s}" for s in (Status.FAIL, Status.BROKEN, Status.UNKNOWN, Status.WATCH, Status.OK) if study.count(s)
    )
    word = "typical values and spread" if study.settled else "typical values only"
    return f"[bold]{escape(machine.name)}[/bold]  ({machine.layout}, work area {area})\n{counts}  ({word})\n"


def _promise_table(study: Study) -> Table:
    """A column an axis, a row a promise: typical value, band, what is wanted."""
    made = promises(study)
    axes = [axis.path for axis in study.machine.axes]
    table = Table(box=rich.box.SIMPLE_HEAD, pad_edge=False, title="What it can promise", title_justify="left", title_style="bold")
    table.add_column("")
    for path in axes:
        table.add_column(path.removeprefix("axis.").upper())
    for what in dict.fromkeys(p.what for p in made if p.subject in axes):
        cells = {p.subject: p for p in made if p.what == what}
        table.add_row(what, *(_promise_cell(study, cells[path]) if path in cells else "" for path in axes))
    return table


def _job_table(study: Study) -> Table:
    """A row a job: whether it runs, what can be removed, how far its wall is off."""
    rows: dict[str, dict[str, Promise]] = {}
    for made in promises(study):
        if made.subject.startswith("job."):
            rows.setdefault(made.subject, {})[made.what] = made
    table = Table(
        box=rich.box.SIMPLE_HEAD, pad_edge=False, title="What it can do with each job", title_justify="left", title_style="bold"
    )
    for name in ("job", "verdict", "removal rate", "wall off by"):
        table.add_column(name, overflow="fold")
    for subject, cells in rows.items():
        word = f"[{RUNS_STYLE[cells['runs'].word]}]{cells['runs'].word}[/]"
        table.add_row(
            escape(subject.removeprefix("job.")),
            word,
            _removal_cell(study, cells["removal rate"]),
            _promise_cell(study, cells["wall error"]) if "wall error" in cells else "",
        )
    return table


def _removal_cell(study: Study, made: Promise) -> str:
    """At the settings that the machine can hold, and at those of the file."""
    removes = study.results.jobs.jobs[made.subject.removeprefix("job.")].removal
    if removes is None:
        return "unknown"
    system = study.machine.show
    asked = f"{show(typical(removes), made.unit, system)} as in the file"
    if made.value is None:
        return f"{asked}\n{'advice comes with the spread' if made.pending else 'no settings advised'}"
    return asked if made.value == typical(removes) else f"{show(made.value, made.unit, system)} advised\n{asked}"


def _promise_cell(study: Study, made: Promise) -> str:
    system = study.machine.show
    if made.value is None:
        return "unknown"
    hint = unit_for(made.value, made.unit, system)
    whether = "\nnot known whether reached" if made.undecided else ""
    wanted = f"\nwanted {show(made.wanted, made.unit, system, hint=hint)}{whether}" if made.wanted else ""
    return with_band(made.value, made.low, made.high, made.unit, system, hint) + wanted


def _binds(study: Study) -> str:
    """What binds each axis, and what would be next, in a line each."""
    lines = [
        f"  {p.subject.removeprefix('axis.').upper()} rapid: {p.binds}" + (f"; next: {p.next}" if p.next else "")
        for p in promises(study)
        if p.what == "rapid" and p.binds
    ]
    mass = next(p for p in promises(study) if p.what == "mass")
    weight = "unknown" if mass.value is None else show(mass.value, mass.unit, study.machine.show)
    lines += [
        f"  {p.subject.removeprefix('job.')}: {p.binds}" + (f"; next: {p.next}" if p.next else "")
        for p in promises(study)
        if p.what == "runs"
    ]
    return escape(
        "\n".join(["What binds:", *lines, *_at_the_tool(study), f"Mass of the whole machine: {weight}", *_to_pay(study), ""])
    )


def _to_pay(study: Study) -> list[str]:
    """What is still to be paid, and how much of it is not known; nothing where nothing is to be bought and nothing was said of money."""
    made = next(p for p in promises(study) if p.what == "cost")
    if not (made.value or made.wanted or made.binds):
        return []
    value = "unknown" if made.value is None else with_band(made.value, made.low, made.high, made.unit, study.machine.show)
    wanted = f", wanted {show(made.wanted, made.unit, study.machine.show)}" if made.wanted else ""
    lacks = f" ({made.binds})" if made.binds else ""
    return [f"Still to be paid: {'at least ' if made.at_least else ''}{value}{wanted}{lacks}"]


def _at_the_tool(study: Study) -> list[str]:
    """Stiffness between tool and work where it is softest, where that is, and what gives there."""
    system = study.machine.show
    made = next(p for p in promises(study) if p.what == "stiffness at the tool")
    if made.value is None:
        return [f"Stiffness at the tool: not known without {made.binds}"]
    hint = unit_for(made.value, made.unit, system)
    wanted = f", wanted {show(made.wanted, made.unit, system, hint=hint)}" if made.wanted else ""
    value = with_band(made.value, made.low, made.high, made.unit, system, hint)
    gives = made.binds + (f", then {made.next}" if made.next else "")
    return [
        f"Stiffness at the tool, softest way at the softest place ({made.place}): {value}{wanted}",
        f"  what gives there: {gives}",
    ]


def _first(study: Study) -> tuple[Finding, ...]:
    return tuple(f for f in study.worst() if f.status is not Status.OK)


def _findings_table(study: Study, found: Iterable[Finding]) -> tuple[Table, int]:
    """The worst findings; those of one check that say the same share a row. Also how many findings it holds."""
    table = Table(box=rich.box.SIMPLE_HEAD, pad_edge=False, title="Findings, worst first", title_justify="left", title_style="bold")
    for name in ("", "check", "what it says", "where"):
        table.add_column(name, overflow="fold", no_wrap=name in ("", "check"))
    rows: dict[tuple[Status, str, str], list[Finding]] = {}
    for f in found:
        key = (f.status, f.id, sentence(study, f))
        if key in rows or len(rows) < FIRST:
            rows.setdefault(key, []).append(f)
    for (status, id, words), same in rows.items():
        subjects = ", ".join(dict.fromkeys(f.subject for f in same))
        table.add_row(
            f"[{STYLE[status]}]{status}[/]",
            id,
            escape(f"{subjects}: {words}"),
            escape(_places(same)),
        )
    return table, sum(len(same) for same in rows.values())


def _places(same: Iterable[Finding]) -> str:
    """``router.toml:41, 58``: the file once, then its lines."""
    files: dict[str, list[str]] = {}
    for f in same:
        name, _, line = f.place.partition(":")
        if line and line not in files.setdefault(name, []):
            files[name].append(line)
    return "; ".join(f"{name}:{', '.join(lines)}" for name, lines in files.items())


def _print_remedies(found: Iterable[Finding], out: Console) -> None:
    same: dict[tuple[str, ...], list[Finding]] = {}
    for f in found:
        same.setdefault((f.id, *(remedy.words for remedy in f.remedies)), []).append(f)
    if same:
        out.print("[bold]What would mend it[/bold] (each was evaluated again)")
    for findings_ in same.values():
        out.print(f"  {findings_[0].id} {escape(', '.join(f.subject for f in findings_))}")
        for remedy in findings_[0].remedies:
            out.print(
                Padding(
                    f"{escape(remedy.words)}: {_does(mends=remedy.mends, harms=remedy.harms)}; {escape('; '.join(remedy.effects))}",
                    (0, 0, 0, 4),
                )
            )
    out.print()


def _does(*, mends: bool, harms: bool) -> str:
    words = "mends" if mends else "does not mend"
    return f"{words}{', but' if mends else ', and'} makes other findings worse" if harms else words


def _foot(study: Study, shown: int) -> str:
    hidden = len(study.findings) - shown
    return f"{hidden} more findings: --all. Jobs in full: gantrywright cut. Long form of one check: --finding ID. Working of a figure, origin of a value: --show PATH (--figures lists figures)."


def long_form(study: Study, found: Iterable[Finding], out: Console | None = None) -> None:
    """Findings with why, source, place and remedies."""
    out = out or console()
    for f in found:
        data = finding(f)
        rows = [
            f"[{STYLE[f.status]}]{f.status}[/] [bold]{f.id}[/bold] {escape(f.subject)}  {escape(f.place)}",
            escape(sentence(study, f)),
        ]
        rows += [f"  {name}: {escape(str(data[key]))}" for name, key in LONG if data[key]]
        rows += [
            f"  tried: {escape(r['words'])}: {_does(mends=r['mends'], harms=r['harms'])}; {escape('; '.join(r['effects']))}"
            for r in data["remedies"]
        ]
        out.print(Group(*rows, ""))


def _print_passes(study: Study, found: Iterable[Finding], out: Console) -> None:
    """What holds, a line each: the long form of one is --finding ID."""
    table = Table(box=rich.box.SIMPLE_HEAD, pad_edge=False, title="What holds", title_justify="left", title_style="bold")
    for name in ("check", "subject", "what it says"):
        table.add_column(name, overflow="fold", no_wrap=name == "check")
    for f in found:
        table.add_row(f.id, escape(f.subject), escape(sentence(study, f).removeprefix(HOLDS[Status.OK])))
    out.print(table)


LONG = (
    ("note", "note"), ("why", "why"), ("would settle it", "settle"), ("source", "source"), ("remedy", "remedy"), ("working", "figure"),
)  # fmt: skip
