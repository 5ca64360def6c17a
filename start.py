#!/usr/bin/env python3
"""From a fresh machine with Python 3.11 or newer to the first answer.

    python3 start.py            make the environment, check the demo machines, open the drawing board on one of them
    python3 start.py test       make what the tests need and run all of them
    python3 start.py ARGS...    any gantrywright command, such as: python3 start.py check my/machine.toml

Everything is put into .venv beside this file, from pinned versions; nothing outside the folder is changed. Uses the standard library only.
"""

import hashlib
import os
import shutil
import subprocess
import sys
import venv
from pathlib import Path

HERE = Path(__file__).resolve().parent
VENV = HERE / ".venv"
BIN = VENV / ("Scripts" if os.name == "nt" else "bin")
PYTHON = BIN / ("python.exe" if os.name == "nt" else "python")
LOWEST = (3, 11)
DEMOS = ("first-idea", "as-built")


def main(arguments: list[str]) -> int:
    """Run what was asked for; the exit code is that of the last command."""
    if sys.version_info < LOWEST:
        print(f"gantrywright needs Python {LOWEST[0]}.{LOWEST[1]} or newer; this is {sys.version.split()[0]}.")
        return 2
    testing = arguments[:1] == ["test"]
    if not environment("test" if testing else "run"):
        return 2
    if testing:
        return tests(arguments[1:])
    if arguments:
        return run([str(PYTHON), "-m", "gantrywright", *arguments])
    return demo()


def environment(which: str) -> bool:
    """Make or renew the environment; False after a plain word about what is missing."""
    wanted = requirements(which)
    stamp = VENV / f"made-for-{which}"
    made_of = (*wanted, HERE / "pyproject.toml", HERE / "hatch_build.py", *page_sources())
    mark = hashlib.sha256(b"".join(p.read_bytes() for p in made_of)).hexdigest()
    if PYTHON.exists() and stamp.exists() and stamp.read_text() == mark:
        return True
    print(f"Making the environment in {VENV} (once; needs the package index, about 250 MB) ...", flush=True)
    try:
        if not PYTHON.exists():
            venv.create(VENV, with_pip=True)
    except (subprocess.CalledProcessError, OSError) as error:
        print(f"The environment could not be made: {error}")
        print("Python's venv and pip are needed; on Debian and its kin: apt install python3-venv")
        return False
    listed = [word for path in wanted for word in ("-r", str(path))]
    pip = [str(PYTHON), "-m", "pip", "install", "--quiet", "--disable-pip-version-check"]
    if run([*pip, *listed]) or run([*pip, "--no-deps", "--editable", str(HERE)]):
        print("The packages could not be installed. Are the package index and, for the page, the npm registry reachable?")
        print(
            "The pinned versions stand in requirements/. GANTRYWRIGHT_SKIP_PAGE=1 before the command leaves the drawing board out."
        )
        return False
    stamp.write_text(mark)
    return True


def page_sources() -> list[Path]:
    """What the page of the drawing board is built from."""
    web = HERE / "web"
    kept = (p for p in web.rglob("*") if p.is_file() and not {"node_modules", "test"} & set(p.relative_to(web).parts))
    return sorted(kept)


def requirements(which: str) -> list[Path]:
    """The lists of pinned versions."""
    folder = HERE / "requirements"
    return [folder / "run.txt"] + ([folder / "test.txt"] if which == "test" else [])


def demo() -> int:
    """The main job on the demo machines: what was first meant, what was built."""
    folder = HERE / "src" / "gantrywright" / "data" / "demo"
    for name in DEMOS:
        machine = folder / f"{name}.toml"
        print(f"\n$ gantrywright check {machine.relative_to(HERE)}\n", flush=True)
        code = run([str(PYTHON), "-m", "gantrywright", "check", str(machine)])
        if code == 2:
            return code
    command = BIN / ("gantrywright.exe" if os.name == "nt" else "gantrywright")
    print(f"Next: {command.relative_to(HERE)} new my-router    (or: python3 start.py new my-router)")
    if not sys.stdout.isatty():
        print(f"The drawing board: {command.relative_to(HERE)} open {folder.relative_to(HERE) / 'as-built.toml'}")
        return 0
    return run([str(PYTHON), "-m", "gantrywright", "open", str(folder / "as-built.toml")])


def tests(arguments: list[str]) -> int:
    """Format, lint, types, import contracts, tests; all are run, the worst code is returned."""
    python = [str(PYTHON), "-m"]
    browser()
    steps = [
        [*python, "ruff", "format", "--check", "."],
        [*python, "ruff", "check", "."],
        [*python, "mypy"],
        [str(BIN / ("lint-imports.exe" if os.name == "nt" else "lint-imports"))],
        *page_steps(),
        [*python, "pytest", *(arguments or ["-n", "2", "--dist", "loadfile"])],
    ]
    failed = []
    for step in steps if not arguments else steps[-1:]:
        print("$", " ".join(Path(word).name if os.sep in word else word for word in step), flush=True)
        if run(step):
            failed.append(Path(step[2] if len(step) > 2 else step[0]).name)
    print(f"failed: {', '.join(failed)}" if failed else "all steps passed")
    return 1 if failed else 0


def page_steps() -> list[list[str]]:
    """Types and units of the page, where there is a Node that made it."""
    npm, made = shutil.which("npm"), HERE / "web" / "node_modules"
    if npm is None or not made.is_dir():
        print("The page's own tests are left out: they need Node with npm on the path (20.19, 22.12 or newer).")
        return []
    return [[npm, "--prefix", "web", "run", "--silent", step] for step in ("check", "test")]


def browser() -> None:
    """The browser that the tests of the drawing board drive: installed where that can be done without asking, else named."""
    if any(shutil.which(name) for name in ("chromium", "chromium-browser")):
        return
    if shutil.which("apt-get") and hasattr(os, "geteuid") and os.geteuid() == 0:
        print("Installing Debian's chromium for the tests of the drawing board ...", flush=True)
        quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL, "check": False}
        subprocess.run(["apt-get", "update", "-q"], **quiet)
        subprocess.run(["apt-get", "install", "-y", "-q", "--no-install-recommends", "chromium"], **quiet)
    if not any(shutil.which(name) for name in ("chromium", "chromium-browser")):
        print("There is no chromium: the tests that drive a browser are left out. On Debian and its kin: apt install chromium")


def run(command: list[str]) -> int:
    """Run a command with the checkout as its folder; Ctrl-C ends it without a trace."""
    try:
        return subprocess.run(command, cwd=HERE, env={**os.environ, "OPENBLAS_NUM_THREADS": "1"}, check=False).returncode
    except KeyboardInterrupt:
        return 130


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
