"""The one-screen verdict and its long forms, as text.

Colour marks a status and never stands alone: the word is always there.
"""

from collections.abc import Iterable
from typing import Any

import rich.box
from rich.console import Console, Group
from rich.markup import escape
from rich.padding import Padding
from rich.table import Table

from gantrywright.base.errors import NotFound
from gantrywright.base.names import nearest_sentence
from gantrywright.base.quantities import show, show_band
from gantrywright.findings import Finding, Status
from gantrywright.study.export import defaults, finding, working_of
from gantrywright.study.promises import Promise, promises
from gantrywright.study.study import Study

STYLE = {Status.OK: "green", Status.WATCH: "yellow", Status.UNKNOWN: "cyan", Status.BROKEN: "magenta", Status.FAIL: "bold red"}
FIRST = 9
"""Rows of findings on the one-screen verdict."""
SURE = 0.995
"""From this probability on it is not worth a word."""


def console() -> Console:
    """Plain text where output is no terminal; never narrower than a sheet."""
    made = Console(highlight=False)
    return made if made.is_terminal and made.width >= 80 else Console(highlight=False, width=120 if not made.is_terminal else 100)


def verdict(study: Study, *, everything: bool) -> None:
    """The verdict on a machine."""
    out = console()
    out.print(_head(study))
    out.print(_promise_table(study))
    out.print(_binds(study))
    shown = study.worst() if everything else _first(study)
    if everything:
        long_form(study, shown, out)
        _print_defaults(study, out)
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


def _promise_cell(study: Study, made: Promise) -> str:
    system = study.machine.show
    if made.value is None:
        return "unknown"
    wanted = f"\nwanted {show(made.wanted, made.unit, system)}" if made.wanted else ""
    return _with_band(made.value, made.low, made.high, made.unit, system) + wanted


def _binds(study: Study) -> str:
    """What binds each axis, and what would be next, in a line each."""
    lines = [
        f"  {p.subject.removeprefix('axis.').upper()} rapid: {p.binds}" + (f"; next: {p.next}" if p.next else "")
        for p in promises(study)
        if p.what == "rapid" and p.binds
    ]
    mass = next(p for p in promises(study) if p.what == "mass")
    weight = "unknown" if mass.value is None else show(mass.value, mass.unit, study.machine.show)
    return escape("\n".join(["What binds:", *lines, f"Mass of the whole machine: {weight}", ""]))


def _with_band(value: float, low: float | None, high: float | None, unit: str, system: str) -> str:
    """``10.9 m/min (10.7..11.1)``; without the band where it is too narrow to be seen."""
    plain = show(value, unit, system)
    if low is None or high is None or show(low, unit, system) == show(high, unit, system):
        return plain
    return show_band(low, value, high, unit, system)


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


def sentence(study: Study, found: Finding) -> str:
    """One line: value against limit with margin, or what is missing."""
    said, system = found.verdict, study.machine.show
    if found.status in (Status.UNKNOWN, Status.BROKEN) or said.margin is None:
        return f"{found.check.title}: {'not known without ' if found.status is Status.UNKNOWN else ''}{said.missing or 'more data'}"
    data = finding(found)
    if said.limit is None or (not said.unit and data["limit"] == 1.0 and data["margin"] in (1.0, -1.0)):
        return said.note or found.check.title
    value = _with_band(data["value"], found.low, found.high, said.unit, system)
    limit = show(data["limit"], said.unit, system)
    chance = (
        f", passes {100 * data['probability']:.0f} %"
        if found.status is Status.WATCH and found.probability is not None and found.probability < SURE
        else ""
    )
    margin = f", margin {100 * data['margin']:+.0f} %".replace("-", "−") if data["margin"] else ""
    return f"{found.check.title}: {value} against {limit}{margin}{chance}"


def _print_remedies(found: Iterable[Finding], out: Console) -> None:
    same: dict[tuple[str, ...], list[Finding]] = {}
    for f in found:
        same.setdefault((f.id, *(remedy.words for remedy in f.remedies)), []).append(f)
    if same:
        out.print("[bold]What would mend it[/bold] (each was evaluated again)")
    for findings_ in same.values():
        out.print(f"  {findings_[0].id} {escape(', '.join(f.subject for f in findings_))}")
        for remedy in findings_[0].remedies:
            mark = "mends" if remedy.mends else "does not mend"
            out.print(Padding(f"{escape(remedy.words)}: {mark}; {escape('; '.join(remedy.effects))}", (0, 0, 0, 4)))
    out.print()


def _foot(study: Study, shown: int) -> str:
    hidden = len(study.findings) - shown
    return f"{hidden} more findings: --all. Long form of one check: --finding ID. Working of a number: --show FIGURE (--figures lists them)."


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
            f"  tried: {escape(r['words'])}: {'mends' if r['mends'] else 'does not mend'}; {escape('; '.join(r['effects']))}"
            for r in data["remedies"]
        ]
        out.print(Group(*rows, ""))


LONG = (
    ("note", "note"), ("why", "why"), ("would settle it", "settle"), ("source", "source"), ("remedy", "remedy"), ("working", "figure"),
)  # fmt: skip


def _print_defaults(study: Study, out: Console) -> None:
    table = Table(
        box=rich.box.SIMPLE_HEAD, pad_edge=False, title="Defaults that were used", title_justify="left", title_style="bold"
    )
    for name in ("path", "value (low .. high)", "source"):
        table.add_column(name, overflow="fold")
    for row in defaults(study):
        table.add_row(escape(row["path"]), escape(row["text"]), escape(row["source"]))
    out.print(table)


def working(study: Study, path: str) -> None:
    """The working of one figure."""
    data = working_of(study, path)
    if data is None:
        known = [figure.path for figure in study.results.ledger]
        part = [name for name in known if path in name][:8]
        hint = f"; figures that contain it: {', '.join(part)}" if part else nearest_sentence(path, known)
        raise NotFound(f"no figure {path!r}{hint} (--figures lists all)")
    out, system = console(), study.machine.show
    out.print(f"[bold]{escape(path)}[/bold] = {_shown(data['value'], data['unit'], system)}")
    if data["low"] is not None:
        out.print(f"  5 % .. 95 %: {show(data['low'], data['unit'], system)} .. {show(data['high'], data['unit'], system)}")
    if data["title"]:
        out.print(f"  {escape(data['title'])}")
    out.print(f"  formula: {escape(data['formula'])}")
    for row in data["inputs"]:
        origin = study.machine.origins.get(row["path"])
        came = f"  <- {row['path']}" if row["path"] else ""
        if origin is not None:
            came += f" ({origin.kind}{': ' + origin.text if origin.text else ''}{'; ' + origin.source if origin.source else ''})"
        out.print(f"  {row['name']} = {_shown(row['value'], row['unit'], system)}{escape(came)}")
    out.print(f"  source: {escape(data['source'])}")


def _shown(value: Any, unit: str, system: str) -> str:
    if value is None:
        return "unknown"
    if isinstance(value, (list, tuple)):
        return escape(str(value)) + (f" {unit}" if unit else "")
    return escape(value if isinstance(value, str) else show(value, unit, system))


def figures(study: Study) -> None:
    """All figures with their values."""
    out, system = console(), study.machine.show
    table = Table(box=None, pad_edge=False, show_header=False)
    for figure in study.results.ledger:
        data = working_of(study, figure.path)
        table.add_row(escape(figure.path), _shown(data["value"] if data else None, figure.unit, system), escape(figure.title))
    out.print(table)
