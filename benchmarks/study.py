"""How long the answers take, on this machine, in one run.

    python benchmarks/study.py            the demo: read, place, study, settle; then 1,000 varied machines
    python benchmarks/study.py --few      the same with 50 varied machines

Every line is the least, median and greatest of several runs in one warm process. As a yardstick that anybody can repeat, a dense
600 x 600 solve by numpy is timed beside it.
"""

import argparse
import os
from collections.abc import Callable
from pathlib import Path
from statistics import median
from time import perf_counter

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import numpy as np

from gantrywright.intake.document import read_document, revise
from gantrywright.intake.resolve import again, resolve
from gantrywright.study.analyses import analyse
from gantrywright.study.remedies import with_remedies
from gantrywright.study.study import run, settle

DEMO = Path(__file__).parents[1] / "src" / "gantrywright" / "data" / "demo"


def timed(what: str, function: Callable[[], object], times: int = 15) -> None:
    function()
    taken = []
    for _ in range(times):
        start = perf_counter()
        function()
        taken.append(1e3 * (perf_counter() - start))
    print(f"{what:42} {min(taken):8.1f} {median(taken):8.1f} {max(taken):8.1f} ms")


def varied(count: int) -> None:
    """Machines that differ in travel-independent choices: screws, motors' supply, spacing, alignment."""
    document = read_document(DEMO / "as-built.toml")
    screws = ("ball-screw-1610", "ball-screw-2005", "ball-screw-2010", "ball-screw-2020")
    start = perf_counter()
    for i in range(count):
        edits = (
            ("axis.x.drive.main.part", screws[i % 4]),
            ("axis.y.blocks.spacing", f"{200 + i % 41} mm"),
            ("supply.gantry.set", f"{55 + i % 12} V"),
            ("axis.x.alignment.parallel", f"0.0{1 + i % 9} mm"),
        )
        run(resolve(revise(document, edits)))
    taken = perf_counter() - start
    print(f"{count} varied machines, read to findings: {taken:.1f} s, {1e3 * taken / count:.1f} ms each")


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--few", action="store_true")
    few = asked.parse_args().few
    print(f"{'':42} {'least':>8} {'median':>8} {'most':>8}")
    matrix = np.random.default_rng(1).normal(size=(600, 600))
    timed("yardstick: numpy solve 600 x 600", lambda: np.linalg.solve(matrix, matrix[:, 0]))
    for name in ("first-idea", "as-built", "bench"):
        path = DEMO / f"{name}.toml"
        document = read_document(path)
        resolve_again = again(document)
        machine = resolve(document)
        study = run(machine)
        timed(f"{name}: read the file", lambda path=path: read_document(path))
        timed(f"{name}: look up, convert, place", lambda document=document: resolve(document))
        timed(f"{name}: analyses (goal 30)", lambda machine=machine: analyse(machine))
        timed(f"{name}: analyses and checks", lambda machine=machine: run(machine))
        timed(f"{name}: settle, 512 samples (goal 400)", lambda study=study, a=resolve_again: settle(study, a), 5)
        timed(f"{name}: three remedies", lambda study=study, a=resolve_again: with_remedies(study, a), 5)
    varied(50 if few else 1000)


if __name__ == "__main__":
    main()
