"""``gantrywright cut``: every job in full: whether it runs, what limits it, its walls, its hold, chatter, settings, cautions."""

import argparse
import json
import sys

from rich.console import Console
from rich.markup import escape
from rich.padding import Padding
from rich.table import Table

from gantrywright.base.quantities import show
from gantrywright.base.samples import typical
from gantrywright.cli.check import FAILS, exit_code
from gantrywright.cli.columns import number, one_unit, table
from gantrywright.cli.printing import console
from gantrywright.cli.screen import RUNS_STYLE
from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import again
from gantrywright.results.jobs import JobAnswer, Limit, Runs, Second
from gantrywright.study import deep_cut, job_words, limit_words, second_words, wall_words
from gantrywright.study.cautions import FOREWORD, cautions
from gantrywright.study.cautions import exported as cautions_exported
from gantrywright.study.jobs import asked, jobs
from gantrywright.study.standing import warning
from gantrywright.study.study import Study, settle
from gantrywright.study.study import run as study_of
from gantrywright.study.words import with_band

WIDE = 112
"""Columns from which there is room for bands and bars."""
NAMED = 22
"""Columns that the name of a limit has at least."""
BAR = 20
"""Characters of a limit that is just used up."""
TOLD_ELSEWHERE = ("hold-down", "lift", "chatter")
"""Limits whose note stands in a paragraph of its own."""


def run(given: argparse.Namespace) -> int:
    """Print every job, or the one that was asked for; the exit code is that of the whole verdict, and 1 where such a job is over a limit."""
    resolve = again(read_document(given.machine))
    machine = resolve({}, ())
    names = asked(machine, given.job)  # a wrong name is told before anything is computed
    study = settle(study_of(machine), resolve)
    second = deep_cut.second_opinions(study, _working, only=given.job or "") if given.deep else {}
    if given.json:
        told = {"jobs": jobs(study, *names), "cautions": cautions_exported(cautions(study, *names))}
        if given.deep:
            told["second_opinions"] = deep_cut.exported(second)
        print(json.dumps(told, indent=1, ensure_ascii=False))
    else:
        _report(study, names, second, deep=given.deep)
    told_over = any(_over(study, name, second.get(name)) for name in names)
    return FAILS if told_over else exit_code(study)


def _over(study: Study, name: str, again: Second | None) -> bool:
    """Whether a job exceeds a limit at the settings of the file, by the first opinion or the second."""
    return any(limit.exceeded for limit in study.results.jobs.jobs[name].limits) or second_words.over(study, again)


def _working(fraction: float, words: str) -> None:
    """Beside the answer, so that it can be read from a pipe."""
    print(f"second opinion: {100 * fraction:.0f} %, {words}", file=sys.stderr)


def _report(study: Study, names: tuple[str, ...], second: dict[str, Second], *, deep: bool) -> None:
    out = console()
    if not names:
        out.print("The machine file names no job: what shall be cut, with which cutter, how deep and how fast (\\[job.NAME]).")
        return
    if words := warning(study):
        out.print(escape(f"{words}\n"))
    for name in names:
        _job(study, study.results.jobs.jobs[name], second.get(name), out)
        if deep:
            _second(study, second.get(name), out)
    _cautions(study, names, out)


def _job(study: Study, answer: JobAnswer, again: Second | None, out: Console) -> None:
    job = job_words.job_of(study, answer)
    out.print(f"[bold]{escape(answer.job)}[/bold]  {escape(job_words.as_written(study, job))}")
    lower = second_words.lower(study, again)
    said = job_words.verdict(study, answer) + (f". But {lower}" if lower else "")
    word = Runs.UNKNOWN if answer.runs is Runs.YES and second_words.over(study, again) else job_words.runs(answer)
    out.print(f"[{RUNS_STYLE[str(word)]}]{escape(said)}[/]\n")
    if answer.missing:
        return
    out.print(_limits(study, answer, out.width))
    _notes(answer, out)
    if answer.walls:
        out.print(_walls(study, answer))
    _paragraph("Hold of the work", job_words.held(study, answer), out)
    if answer.lobes is not None or any(limit.id == "chatter" for limit in answer.limits):
        _paragraph("Chatter", job_words.chatter(study, answer), out)
    _settings(study, answer, out)


def _limits(study: Study, answer: JobAnswer, width: int) -> Table:
    """The removal rate that each limit allows, the lowest first; below the job's own where the limit is exceeded."""
    system, wide = study.machine.show, width >= WIDE
    known = [typical(limit.ceiling) for limit in answer.limits if limit.ceiling is not None]
    removes = None if answer.removal is None else typical(answer.removal)
    unit = one_unit([*known[:3], removes], "m3/s", system)
    title = f"What limits it: removal rate that each limit allows, the lowest first; the job removes {number(removes, 'm3/s', system, unit)} {unit}"
    heads = ("", "at the job", "allowed", "used", f"allows\n{unit}", "by its")
    made = table(title, *heads, *(("used",) if wide else ()), words=("by its",))
    made.columns[0].min_width = NAMED
    if wide:
        made.columns[-1].justify, made.columns[-1].no_wrap = "left", True
    for limit in answer.limits:
        cells = (
            escape(limit.words),
            *_against(limit, system),
            limit_words.used(limit),
            _allows(study, answer, limit, unit, wide=wide),
            limit.scales,
        )
        made.add_row(*cells, *((_bar(limit),) if wide else ()), style="bold" if limit.exceeded else "")
    return made


def _against(limit: Limit, system: str) -> tuple[str, str]:
    value, most = limit_words.sizes(limit)
    if value is None or most is None:
        return "unknown", "unknown"
    hint = one_unit((value, most), limit.unit, system)
    return show(value, limit.unit, system, hint=hint), show(most, limit.unit, system, hint=hint)


def _allows(study: Study, answer: JobAnswer, limit: Limit, unit: str, *, wide: bool) -> str:
    if limit.ceiling is None:
        return "unknown"
    if limit_words.idle(limit):
        return "any"
    if not wide:
        return number(typical(limit.ceiling), "m3/s", study.machine.show, unit)
    low, high = study.bands.get(f"job.{answer.job}.ceiling.{limit.id}", (None, None))
    return with_band(typical(limit.ceiling), low, high, "m3/s", study.machine.show, unit).replace(f" {unit}", "")


def _bar(limit: Limit) -> str:
    """Part of the limit that is used; beyond it an arrow."""
    if limit.used is None:
        return "?"
    part = abs(typical(limit.used))
    return f"|{'=' * BAR}|>" if part > 1 else f"|{'=' * round(BAR * part):{BAR}}|"


def _notes(answer: JobAnswer, out: Console) -> None:
    for limit in answer.limits:
        words = f"not known, it takes {limit.missing}" if limit.missing else limit.note if limit.id not in TOLD_ELSEWHERE else ""
        if words:
            out.print(Padding(escape(f"{limit.words}: {words}"), (0, 0, 0, 2)))
    out.print()


def _walls(study: Study, answer: JobAnswer) -> Table:
    made = table(
        f"Deflection and run-out alone, {wall_words.wanted(study)}", "", "off by", "which way", words=("off by", "which way")
    )
    for off in wall_words.offs(study, answer):
        made.add_row(off.what, off.text, off.way)
    return made


def _paragraph(title: str, lines: list[str], out: Console) -> None:
    out.print(f"[bold]{title}[/bold]")
    for line in lines:
        out.print(Padding(escape(line), (0, 0, 0, 2)))
    out.print()


def _settings(study: Study, answer: JobAnswer, out: Console) -> None:
    if answer.advice is None:
        _paragraph("Settings", [f"none: {answer.no_advice}"], out)
        return
    lacks = f"; {', '.join(limit.words for limit in answer.unknown)} not counted" if answer.unknown else ""
    made = table(
        f"Settings that keep every known limit by typical values{lacks}", "", "advised", "in the file", "why", words=("why",)
    )
    asked_for = None if answer.removal is None else typical(answer.removal)
    for row in job_words.settings(study, answer.advice, job_words.job_of(study, answer), asked_for):
        made.add_row(*(escape(cell) for cell in row))
    out.print(made)


def _second(study: Study, found: Second | None, out: Console) -> None:
    _paragraph("Second opinion on chatter", second_words.second(study, found), out)


def _cautions(study: Study, names: tuple[str, ...], out: Console) -> None:
    told = cautions(study, *names)
    if not told:
        return
    out.print(f"[bold]Cautions[/bold]\n{FOREWORD}")
    for each in told:
        whose = "" if len(each.jobs) == len(names) else f" ({', '.join(each.jobs)})"
        out.print(Padding(f"[bold]{escape(each.caution.title)}[/bold]{escape(whose)}: {escape(each.words)}", (0, 0, 0, 2)))
