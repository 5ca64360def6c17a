"""How long forces, chatter and whole jobs take, on this machine, in one run, with one thread for linear algebra.

    python benchmarks/cutting.py

Every line is the least, median and greatest of several runs in one warm process. Goals: forces over a turn 2 ms, lobes of 400 speeds from a known receptance 80 ms, the
reference method for one job 1.5 s. Beside them, the same questions by general means: semi-discretisation as it stands in books, one exponential
a step by scipy.linalg.expm and the eigenvalues of the full product by numpy, a disturbed cut by the ODE solver of scipy, and forces summed slice
by slice by numpy.
"""

import os

os.environ["OPENBLAS_NUM_THREADS"] = os.environ["OMP_NUM_THREADS"] = os.environ["MKL_NUM_THREADS"] = "1"

import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from statistics import median
from time import perf_counter

import numpy as np
from scipy.integrate import solve_ivp
from scipy.linalg import expm

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from chatter_cases import TURN, head_modes, two_modes
from gantrywright.disciplines.cutting.analyse import analyse
from gantrywright.disciplines.cutting.jobs import jobs as of_jobs
from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import resolve
from gantrywright.results.ledger import Ledger
from gantrywright.study.deep_cut import second_opinions
from gantrywright.study.study import run
from gantrywright.theory.cutting import delay as dl
from gantrywright.theory.cutting import lobes as lb
from gantrywright.theory.cutting import low_frequency as lf
from gantrywright.theory.cutting import modes as md
from gantrywright.theory.cutting.cycle import force_cycle, peak_forces
from gantrywright.theory.cutting.edges import end_mill
from gantrywright.theory.cutting.engagement import engagement
from gantrywright.theory.cutting.forces import Coefficients
from gantrywright.theory.cutting.perturbation import growth
from gantrywright.theory.cutting.process_damping import ploughing
from gantrywright.theory.cutting.time_domain import simulate_cut

DEMO = Path(__file__).parents[1] / "src" / "gantrywright" / "data" / "demo" / "as-built.toml"
CUT = dl.DelayCut(600e6, 0.07, 3, 6e-3, 0.0, np.pi / 2)
SPEEDS = np.linspace(6000, 24000, 400) * TURN
NEAR = np.linspace(15000, 21000, 24) * TURN


def timed(what: str, function: Callable[[], object], times: int = 15) -> None:
    """Print one line of the table."""
    function()
    taken = []
    for _ in range(times):
        start = perf_counter()
        function()
        taken.append(1e3 * (perf_counter() - start))
    print(f"{what:66} {min(taken):9.2f} {median(taken):9.2f} {max(taken):9.2f} ms", flush=True)


def machine() -> md.FeedModes:
    """Two modes of the frame, three of the head, one of the spindle: six that a router may well show."""
    return md.feed_modes(
        frequencies=np.array([38.0, 55.0, 140.0, 210.0, 330.0, 900.0]),
        stiffness=np.array([2e6, 3e6, 6e6, 8e6, 9e6, 1.5e7]),
        damping=np.full(6, 0.03),
        directions=np.array([[1, 0.1], [0.1, 1], [1, 0.5], [-0.4, 1], [1, 0], [0.3, 1]]),
    )


def by_full_products(modes: md.FeedModes, speed: float, depth: float, steps: int = 60) -> float:
    """One multiplier by semi-discretisation as it stands in books: the present exactly, the past as the mean of two steps."""
    count, pitch = len(modes.squares), 2 * np.pi / CUT.flutes
    time, size = pitch / speed / steps, 2 * count + 2 * steps
    free = np.zeros((2 * count, 2 * count))
    free[:count, count:] = np.eye(count)
    free[count:] = np.hstack([-np.diag(modes.squares), -np.diag(2 * modes.damping * np.sqrt(modes.squares))])
    whole = np.eye(size)
    for step in range(steps):
        low = step * pitch / steps + pitch * np.arange(CUT.flutes)
        a, b = np.clip(low, CUT.start, CUT.stop), np.clip(low + pitch / steps, CUT.start, CUT.stop)
        mean = sum(lb.directional_factors(start=x, stop=y, radial_ratio=CUT.radial_ratio) for x, y in zip(a, b, strict=True))
        stiff = 0.5 * depth * CUT.shear * mean * steps / pitch
        matrix = np.zeros((2 * count + 2, 2 * count + 2))
        matrix[: 2 * count, : 2 * count] = free
        matrix[count : 2 * count, :count] += modes.shapes.T @ stiff @ modes.shapes
        matrix[count : 2 * count, 2 * count :] = -modes.shapes.T @ stiff
        move = expm(matrix * time)
        one = np.zeros((size, size))
        one[: 2 * count, : 2 * count] = move[: 2 * count, : 2 * count]
        one[: 2 * count, -4:-2] = one[: 2 * count, -2:] = move[: 2 * count, 2 * count :] / 2
        one[2 * count : 2 * count + 2, :count] = modes.shapes
        one[2 * count + 2 :, 2 * count : -2] = np.eye(2 * steps - 2)
        whole = one @ whole
    return float(np.abs(np.linalg.eigvals(whole)).max())


def by_ode_solver(modes: md.FeedModes, speed: float, depth: float, periods: int = 50) -> float:
    """A disturbed cut, period after period, by the general solver with what it left of the period before."""
    count, pitch = len(modes.squares), 2 * np.pi / CUT.flutes
    period, state = pitch / speed, np.r_[np.ones(count), np.zeros(count)]
    past: Callable[[float], np.ndarray] = lambda _: np.zeros(2 * count)  # noqa: E731

    def move(time: float, now: np.ndarray) -> np.ndarray:
        phi = time * speed + pitch * np.arange(CUT.flutes)
        phi = phi[(phi > CUT.start) & (phi < CUT.stop)]
        s, c, kr = np.sin(2 * phi), np.cos(2 * phi), CUT.radial_ratio
        factor = np.array(
            [[-(s + kr * (1 - c)).sum(), -(1 + c + kr * s).sum()], [(1 - c - kr * s).sum(), (s - kr * (1 + c)).sum()]]
        )
        chip = modes.shapes @ (now[:count] - past(time)[:count])
        push = modes.shapes.T @ (0.5 * depth * CUT.shear * factor @ chip)
        return np.r_[now[count:], push - 2 * modes.damping * np.sqrt(modes.squares) * now[count:] - modes.squares * now[:count]]

    for _ in range(periods):
        found = solve_ivp(move, (0.0, period), state, dense_output=True, max_step=period / 40)
        past, state = found.sol, found.y[:, -1]
    return float(np.linalg.norm(state))


def forces() -> None:
    """Forces over a turn: by tabled integrals, and slice by slice."""
    cut = Coefficients(750e6, 15e3, 225e6, 15e3, 200e6, 1e3)
    start, stop = engagement(diameter=6e-3, width=6e-3, way="conventional")
    edge = end_mill(depth=3e-3, diameter=6e-3, helix=0.5, start=start, stop=stop)
    whole = {"cut": cut, "edge": edge, "flutes": 2, "feed_per_tooth": 50e-6, "run_out": 10e-6, "run_out_angle": 0.0}
    timed("forces over a turn, 360 angles, run-out", lambda: force_cycle(**whole))
    timed("greatest forces", lambda: peak_forces(**whole))
    many = replace(cut, shear=np.linspace(500e6, 900e6, 512), edge=np.linspace(8e3, 28e3, 512))
    timed("greatest forces of 512 samples of the material", lambda: peak_forces(**{**whole, "cut": many}))
    timed("forces over a turn, 360 angles x 24 slices by numpy, no run-out", lambda: slice_sum(cut))
    even = force_cycle(**{**whole, "run_out": 0.0}).in_plane.max()
    print(f"greatest in the plane: {even:.1f} and {slice_sum(cut):.1f} N\n")


def slice_sum(cut: Coefficients, slices: int = 24, angles: int = 360) -> float:
    """Greatest force in the plane of a slot, as it stands in books."""
    heights = (np.arange(slices) + 0.5) * 3e-3 / slices
    turn = 2 * np.pi * np.arange(angles) / angles
    place = (turn[:, None, None] - np.pi * np.arange(2)[:, None] - 2 * np.tan(0.5) / 6e-3 * heights) % (2 * np.pi)
    works = place < np.pi
    chip = np.where(works, 50e-6 * np.sin(place), 0.0)
    along, out = ((cut.shear * chip + cut.edge * works), (cut.radial_shear * chip + cut.radial_edge * works))
    x = -(along * np.cos(place) + out * np.sin(place)).sum(axis=(1, 2))
    y = (along * np.sin(place) - out * np.cos(place)).sum(axis=(1, 2))
    return float(np.hypot(x, y).max() * 3e-3 / slices)


def jobs() -> None:
    """All jobs of the demo as they join a study."""
    study = run(resolve(read_document(DEMO)))
    found = study.results
    parts = (found.motion, found.electrics, found.structure)
    print(f"\n{DEMO.name}: {len(study.machine.jobs)} jobs")
    timed("forces of all jobs, for drives, guides and structure", lambda: analyse(study.machine, Ledger()))
    timed("limits, walls and hold of all jobs", lambda: of_jobs(study.machine, *parts, Ledger(found.ledger), None))
    timed(
        "the same with lobes, forced error and advice",
        lambda: of_jobs(study.machine, *parts, Ledger(found.ledger), None, deep=True),
        5,
    )
    timed("second opinions of all jobs, 15 speeds, 6 modes, a run of 120 turns", lambda: second_opinions(study), 2)


def lobes() -> None:
    """The fast method."""
    modes = machine()
    lines = md.worth_scanning(frequencies=modes.frequencies, damping=modes.damping, lowest=5.0, highest=5000.0)
    answer = md.feed_receptance(modes=modes, frequencies=lines)
    factors = lb.directional_factors(start=0.0, stop=np.pi / 2, radial_ratio=0.3)

    def limits(receptance: np.ndarray, of: np.ndarray, speeds: np.ndarray) -> lb.ChatterLimit:
        on = lb.lobe_curves(frequencies=lines, receptance=receptance, factors=of)
        return lb.zero_order_limit(curves=on, shear=700e6, flutes=2, speeds=speeds)

    print(f"{len(modes.squares)} modes, receptance at {len(lines)} frequencies")
    timed("receptance from modes", lambda: md.feed_receptance(modes=modes, frequencies=lines))
    timed("lobes of one job, 400 speeds, receptance given", lambda: limits(answer, factors, SPEEDS))
    ways = md.turned_receptance(receptance=answer, angle=np.linspace(0, np.pi, 12))
    timed("12 directions of feed, 60 speeds", lambda: limits(ways, factors, SPEEDS[::7]))
    ratios = np.linspace(0.2, 0.4, 512)
    sampled = lb.directional_factors(start=0.0, stop=np.pi / 2, radial_ratio=ratios)
    speeds = 18000 * TURN / np.linspace(0.96, 1.04, 512)[:, None]
    timed("512 samples of material and frequency, one speed", lambda: limits(answer, sampled, speeds))
    slow = modes.below(80.0)
    near = md.worth_scanning(frequencies=slow.frequencies, damping=slow.damping, lowest=4.0, highest=400.0, even=600)
    on = lb.lobe_curves(frequencies=near, receptance=md.feed_receptance(modes=slow, frequencies=near), factors=factors)
    timed("slow modes alone, 60 speeds", lambda: lf.low_frequency_limit(curves=on, shear=700e6, flutes=2, speeds=SPEEDS[::7]))


def reference() -> None:
    """The delay method, the run in time, and general means."""
    start = perf_counter()
    dl.delay_limits(modes=two_modes(), cut=CUT, speeds=NEAR[:1], shallowest=1e-3, deepest=2e-3)
    print(f"\nfirst call of the delay method, compiled or fetched: {perf_counter() - start:.2f} s")
    bit = md.feed_modes(frequencies=np.full(2, 7000.0), stiffness=np.full(2, 3.3e6), damping=np.full(2, 0.02), directions=np.eye(2))
    both = md.FeedModes(*(np.concatenate([getattr(m, name) for m in (machine(), bit)], axis=-1) for name in ("squares", "shapes", "damping")), np.zeros((2, 2)))  # fmt: skip
    rubbing = dl.DelayCut(650e6, 0.25, 2, 6e-3, 0.0, np.pi, ploughing=float(ploughing(shear=650e6)))

    def limits(modes: md.FeedModes, cut: dl.DelayCut) -> object:
        return dl.delay_limits(modes=modes, cut=cut, speeds=NEAR, shallowest=0.1e-3, deepest=20e-3)

    timed("limits at 24 speeds, 2 modes", lambda: limits(two_modes(), CUT), 5)
    timed("limits at 24 speeds, 6 modes of a machine, slot", lambda: limits(machine(), rubbing), 3)
    timed("limits at 24 speeds, those and a cutter at 7 kHz that rubs", lambda: limits(both, rubbing), 3)
    twisted = dl.DelayCut(600e6, 0.07, 3, 6e-3, 0.0, np.pi / 2, helix=0.5)
    timed("limits at 24 speeds, 2 modes, helix", lambda: limits(two_modes(), twisted), 3)
    speed, depth = 12000 * TURN, 4e-3
    one = {"modes": two_modes(), "cut": CUT, "speeds": np.array([speed]), "depths": np.array([depth])}
    print()
    timed("one multiplier, delay method", lambda: dl.multipliers(**one))
    timed("one multiplier, disturbed run of 200 periods", lambda: growth(modes=two_modes(), cut=CUT, speed=speed, depth=depth), 5)
    timed("one multiplier, expm and full products", lambda: by_full_products(two_modes(), speed, depth), 3)
    timed("a disturbed run of 50 periods, ODE solver", lambda: by_ode_solver(two_modes(), speed, depth), 1)
    print(f"multipliers: {dl.multipliers(**one)[0]:.4f} and {by_full_products(two_modes(), speed, depth):.4f}\n")
    force = Coefficients(750e6, 15e3, 225e6, 15e3)
    wild = {"modes": head_modes(), "cut": force, "flutes": 2, "diameter": 6e-3, "start": 2.5, "stop": np.pi, "depth": 2e-3,
           "feed_per_tooth": 40e-6, "speed": 16200 * TURN, "turns": 100}  # fmt: skip
    timed("100 turns with surface and loss of contact, straight teeth", lambda: simulate_cut(**wild, helix=0.0))
    timed("the same with helix, 12 slices", lambda: simulate_cut(**wild, helix=0.5, slices=12))


if __name__ == "__main__":
    forces()
    lobes()
    reference()
    jobs()
