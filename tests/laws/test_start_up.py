"""Help and the reading of quantities must not wait for numerics."""

import subprocess
import sys

HEAVY = ("numpy", "scipy", "shapely", "numba", "rich")


def imported(code: str) -> set[str]:
    run = subprocess.run([sys.executable, "-X", "importtime", "-c", code], capture_output=True, text=True, check=False)
    return {line.rsplit("|", 1)[-1].strip().split(".")[0] for line in run.stderr.splitlines() if line.startswith("import time:")}


def test_help_imports_nothing_heavy() -> None:
    found = imported("import sys\nfrom gantrywright.cli.main import main\ntry:\n    main(['--help'])\nexcept SystemExit:\n    pass")
    assert "gantrywright" in found
    assert not found & set(HEAVY)


def test_reading_a_quantity_imports_no_numpy() -> None:
    found = imported("from gantrywright.base.quantities import parse\nparse('12.7 mm', 'length')")
    assert "gantrywright" in found
    assert not found & {"numpy", "scipy", "shapely", "numba"}
