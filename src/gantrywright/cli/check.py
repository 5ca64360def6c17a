"""``gantrywright check``: read, study, print."""

import argparse
import json
from pathlib import Path

from gantrywright.base.errors import NotFound
from gantrywright.base.names import nearest_sentence
from gantrywright.cli import opened, screen
from gantrywright.findings import Status
from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import again
from gantrywright.study.checking import all_checks
from gantrywright.study.export import export
from gantrywright.study.study import Study
from gantrywright.study.whole import whole

OK, FAILS, UNSURE = 0, 1, 3


def run(given: argparse.Namespace) -> int:
    """Print what was asked for; the exit code tells the verdict."""
    study = study_of(given.machine, settled=not given.quick, all_remedies=given.remedies)
    if given.json:
        print(json.dumps(export(study), indent=1, ensure_ascii=False))
    elif given.show:
        opened.show_opened(study, given.show)
    elif given.figures:
        opened.figures(study)
    elif given.finding:
        _one_check(study, given.finding.upper())
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


def _one_check(study: Study, id: str) -> None:
    found = [finding for finding in study.findings if finding.id == id]
    if not found:
        check = next((check for check in all_checks() if check.id == id), None)
        if check is None:
            raise NotFound(f"no check {id!r}{nearest_sentence(id, {c.id for c in all_checks()})}; gantrywright checks lists them")
        print(f"{id} {check.title}: it finds nothing to judge on this machine. gantrywright checks {id} says what it is about.")
    screen.long_form(study, found)
