"""How long the structure of a machine takes, on this machine, in one run, with one thread for linear algebra.

    python benchmarks/structure.py

Every line is the least, median and greatest of several runs in one warm process. Where the general frame program PyNite is installed,
it solves the same number of bars under the same six loads beside ours; where the general finite element solver ccx is, it solves the
same machine (the input of the proof in tests/against), its start, its files and one factorisation a load included. A dense 600 x 600
solve by numpy is the yardstick.
"""

import os

os.environ["OPENBLAS_NUM_THREADS"] = os.environ["OMP_NUM_THREADS"] = os.environ["MKL_NUM_THREADS"] = "1"

import sys
import warnings
from collections.abc import Callable, Mapping
from importlib.util import find_spec
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from time import perf_counter

import numpy as np

from gantrywright.disciplines.structure.skeleton import skeleton_of
from gantrywright.disciplines.structure.statics import Solved, solved, tip_answer
from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import resolve
from gantrywright.theory.frames.assembly import stiffness
from gantrywright.theory.frames.mass import mass_matrix
from gantrywright.theory.frames.mesh import Mesher
from gantrywright.theory.frames.modes import damping_ratio, modes
from gantrywright.theory.frames.response import receptance
from gantrywright.theory.frames.skeleton import Skeleton
from gantrywright.theory.frames.stiffness_map import poses_grid, stiffness_map

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT / "tests"))
FILES = (ROOT / "src" / "gantrywright" / "data" / "demo" / "as-built.toml", ROOT / "tests" / "machines" / "fixed_gantry.toml")
POSES = (15, 15, 3)
LONGEST = 0.3
LOSS = 0.03


def timed(what: str, function: Callable[[], object], times: int = 15) -> None:
    """Print one line of the table."""
    function()
    taken = []
    for _ in range(times):
        start = perf_counter()
        function()
        taken.append(1e3 * (perf_counter() - start))
    print(f"{what:58} {min(taken):9.2f} {median(taken):9.2f} {max(taken):9.2f} ms", flush=True)


def by_the_program(here: Solved) -> Callable[[], object]:
    """As many bars between as many nodes, six load cases, solved by the general program; springs are to the ground."""
    import Pynite

    frame = here.mesh.frame

    def run() -> object:
        model = Pynite.FEModel3D()
        model.add_material("own", 70e9, 26e9, 0.33, 2700.0)
        model.add_section("own", 1e-3, 1e-6, 1e-6, 1e-6)
        for number, place in enumerate(frame.nodes):
            model.add_node(f"N{number}", *place)
            for way in ("DX", "DY", "DZ", "RX", "RY", "RZ"):
                model.def_support_spring(f"N{number}", way, 1e6)
        for number, (first, last) in enumerate(frame.bars.ends):
            model.add_member(f"M{number}", f"N{first}", f"N{last}", "own", "own")
        for way in ("FX", "FY", "FZ", "MX", "MY", "MZ"):
            model.add_node_load(f"N{len(frame.nodes) - 1}", way, 1.0, case=way)
            model.add_load_combo(way, {way: 1.0})
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            model.analyze_linear()
        return model

    return run


def by_the_solver(name: str, held: Skeleton, pose: Mapping[str, float]) -> None:
    """The line of the general finite element solver: the same machine at the same pose, six loads."""
    from placed_machine import Placed
    from solver_deck import PROGRAM, Deck, answered

    if PROGRAM is None:
        print(f"{name}: finite element solver: not installed")
        return
    placed = Placed(held, dict(pose), longest=10.0)
    text = Deck(placed).text(placed.loads())
    with TemporaryDirectory() as folder:
        timed(f"{name}: finite element solver, {len(placed.nodes)} nodes, one pose", lambda: answered(text, Path(folder)), 5)


def one(path: Path) -> None:
    """The table of one machine."""
    machine = resolve(read_document(path))
    held = skeleton_of(machine).skeleton
    if held is None:
        raise SystemExit(f"{path.stem}: no skeleton")
    mesher = Mesher(held)
    grid = poses_grid(held, {motion.axis: count for motion, count in zip(held.motions, POSES, strict=True)})
    pose = stiffness_map(mesher, grid).worst().pose
    here = solved(mesher, pose)
    fine = solved(mesher, pose, longest=LONGEST)
    size = here.mesh.frame.freedoms
    count = int(np.prod(POSES))
    frequencies = np.geomspace(5.0, 2000.0, 400)
    static = here.at_tip(here.under(here.mesh.load))[:3, :3]

    def statics() -> object:
        again = solved(mesher, pose, bare=True)
        return tip_answer(held, pose, again, again.under(again.mesh.load))

    def give() -> object:
        return here.mesh.load.T @ here.prepared.solve(here.coefficients, here.mesh.load)

    def ringing(number: int) -> object:
        return modes(stiffness(fine.rows, fine.coefficients), mass_matrix(fine.mesh.frame), number)

    def report() -> None:
        statics()
        stiffness_map(mesher, grid)
        found = ringing(30)
        tip = fine.mesh.load[:, :3].T @ found.shapes
        damping = np.full(len(found.frequencies), float(damping_ratio(loss=LOSS)))
        receptance(frequencies=frequencies, squares=found.squares, at_tip=tip, damping=damping, static=static)

    name = path.stem
    timed(f"{name}: skeleton from the machine", lambda: skeleton_of(machine))
    timed(f"{name}: mesher", lambda: Mesher(held))
    timed(f"{name}: give at one pose, {size} freedoms, pattern known", give)
    timed(f"{name}: one pose with all shares (goal 0.5)", statics)
    timed(f"{name}: map of {count} poses (goal 50)", lambda: stiffness_map(mesher, grid), 7)
    timed(f"{name}: ten modes, {fine.mesh.frame.freedoms} freedoms (goal 8)", lambda: ringing(10), 7)
    timed(f"{name}: shares, map, 30 modes, 400 frequencies (goal 100)", report, 5)
    if find_spec("Pynite"):
        timed(f"{name}: frame program, {len(here.mesh.frame.bars.length)} bars, one pose", by_the_program(here), 2)
    by_the_solver(name, held, pose)


def main() -> None:
    """Print the table."""
    print(f"{'one thread; numpy ' + np.__version__:58} {'least':>9} {'median':>9} {'most':>9}")
    matrix = np.random.default_rng(1).normal(size=(600, 600))
    timed("yardstick: numpy solve 600 x 600", lambda: np.linalg.solve(matrix, matrix[:, 0]))
    for path in FILES:
        one(path)


if __name__ == "__main__":
    main()
