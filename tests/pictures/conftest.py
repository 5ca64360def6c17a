"""Machines whose pictures are looked at: metric and inch, with the spread of the inputs and without, and one without a structure."""

from dataclasses import replace
from pathlib import Path

import pytest

from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import again
from gantrywright.results.jobs import JobsResult
from gantrywright.results.structure import StructureResult
from gantrywright.study.study import Study, run, settle, simulated

DEMO = Path(__file__).parents[2] / "src" / "gantrywright" / "data" / "demo"
MACHINES = Path(__file__).parents[1] / "machines"
FILES = {"first-idea": DEMO, "bench": DEMO, "fixed_gantry": MACHINES, "long_bed": MACHINES}


@pytest.fixture(scope="session")
def studies() -> dict[str, Study]:
    return {name: simulated(run(again(read_document(folder / f"{name}.toml"))({}, ()))) for name, folder in FILES.items()}


@pytest.fixture(scope="session")
def settled() -> Study:
    resolve = again(read_document(DEMO / "first-idea.toml"))
    return settle(run(resolve({}, ())), resolve, count=64)


@pytest.fixture(scope="session", params=FILES)
def study(request: pytest.FixtureRequest, studies: dict[str, Study]) -> Study:
    return studies[request.param]


@pytest.fixture(scope="session")
def bare(studies: dict[str, Study]) -> Study:
    """A machine of which nothing is known: no structure, no blocks, no motors, no jobs."""
    study = studies["first-idea"]
    axes = {name: replace(moved, envelope=None) for name, moved in study.results.motion.axes.items()}
    machine = replace(study.machine, axes=tuple(replace(axis, blocks=()) for axis in study.machine.axes))
    structure = StructureResult(lacking=("what the gantry stands on",))
    results = replace(study.results, structure=structure, jobs=JobsResult(), motion=replace(study.results.motion, axes=axes))
    return replace(study, machine=machine, results=results)
