"""``gantrywright check``: read, study, print."""

import argparse
import json
from pathlib import Path

from gantrywright.base.errors import NotFound
from gantrywright.base.names import nearest_sentence
from gantrywright.cli import opened, screen
from gantrywright.findings import Check, Status
from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import again
from gantrywright.study.checking import all_checks
from gantrywright.study.export import export
from gantrywright.study.study import Study
from gantrywright.study.whole import whole

OK, FAILS, UNSURE = 0, 1, 3


def run(given: argparse.Namespace) -> int:
    """Print what was asked for; the exit code tells the verdict."""
    asked = _asked(given.finding) if given.finding and not (given.json or given.show or given.figures) else None
    study = study_of(given.machine, settled=not given.quick, all_remedies=given.remedies)
    if given.json:
        print(json.dumps(export(study), indent=1, ensure_ascii=False))
    elif given.show:
        opened.show_opened(study, given.show)
    elif given.figures:
        opened.figures(study)
    elif asked is not None:
        _one_check(study, asked)
    else:
        screen.verdict(study, everything=given.all)
    return exit_code(study)


def study_of(path: Path, *, settled: bool, all_remedies: bool = False) -> Study:
    """The whole study of a machine file."""
    document = read_document(path)
    resolve = again(document)
    return whole(resolve({}, ()), resolve, settled=settled, all_remedies=all_remedies)


def exit_code(study: Study) -> int:
    """0 only ok or watch, 1 something fails, 3 nothing fails but something is unknown or broken."""
    if study.count(Status.FAIL):
        return FAILS
    return UNSURE if study.count(Status.UNKNOWN) or study.count(Status.BROKEN) else OK


def _asked(id: str) -> Check:
    """The check of an id; looked up before anything is computed."""
    known = {check.id: check for check in all_checks()}
    found = known.get(id.upper())
    if found is None:
        raise NotFound(f"no check {id.upper()!r}{nearest_sentence(id.upper(), set(known))}; gantrywright checks lists them")
    return found


def _one_check(study: Study, check: Check) -> None:
    found = [finding for finding in study.findings if finding.id == check.id]
    if not found:
        print(
            f"{check.id} {check.title}: it finds nothing to judge on this machine. gantrywright checks {check.id} says what it is about."
        )
    screen.long_form(study, found)
