"""Every check is proved on a whole machine: edits that make it speak, and edits (often none) with which it passes.

``cases.toml`` has a table for every check id:

    [DRV-110]
    base = "as-built"                   # demo machine, or a file of tests/machines; this one if left out
    bad = { "axis.x.drive.main.part" = "ball-screw-1605" }
    speaks = "fail"                     # status that the bad machine gets; fail if left out
    subject = "axis.x"                  # start of the subject that must speak; any if left out
    good = { }                          # the same check on the same subject is then neither fail nor that status
"""

import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from gantrywright.findings import Finding
from gantrywright.intake.document import read_document, revise
from gantrywright.intake.resolve import resolve
from gantrywright.study.checking import all_checks
from gantrywright.study.study import run, simulated

HERE = Path(__file__).parent
DEMO = HERE.parents[1] / "src" / "gantrywright" / "data" / "demo"
OTHERS = HERE.parent / "machines"
CASES = tomllib.loads((HERE / "cases.toml").read_text("utf-8"))


def findings(base: str, edits: Mapping[str, Any], id: str, subject: str) -> list[Finding]:
    path = next(folder / f"{base}.toml" for folder in (DEMO, OTHERS) if (folder / f"{base}.toml").exists())
    machine = resolve(revise(read_document(path), tuple(edits.items())))
    return [f for f in simulated(run(machine)).findings if f.id == id and f.subject.startswith(subject)]


def test_every_check_has_a_case_and_every_case_a_check() -> None:
    assert sorted(CASES) == sorted(check.id for check in all_checks())


@pytest.mark.parametrize("id", CASES)
def test_the_bad_machine_makes_it_speak(id: str) -> None:
    case = CASES[id]
    found = findings(case.get("base", "as-built"), case["bad"], id, case.get("subject", ""))
    assert case.get("speaks", "fail") in {str(f.status) for f in found}, [
        (f.subject, str(f.status), f.verdict.margin) for f in found
    ]


@pytest.mark.parametrize("id", CASES)
def test_the_good_machine_passes_it(id: str) -> None:
    case = CASES[id]
    found = findings(case.get("good_base", case.get("base", "as-built")), case.get("good", {}), id, case.get("subject", ""))
    wrong = [
        (f.subject, str(f.status), f.verdict.note) for f in found if str(f.status) in {"fail", "broken", case.get("speaks", "fail")}
    ]
    assert wrong == []
    assert found, "the check says nothing of a good machine"
