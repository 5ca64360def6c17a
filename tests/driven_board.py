"""A real board in a process of its own, and a real browser that looks at it."""

import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
FLAGS = [
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync", "--use-angle=swiftshader", "--enable-unsafe-swiftshader",
]  # fmt: skip
ROOT = Path(__file__).parents[1]
AXE = ROOT / "web" / "node_modules" / "axe-core" / "axe.min.js"
PAGE = ROOT / "src" / "gantrywright" / "board" / "static" / "index.html"


def lacking() -> str:
    """What a test that drives a browser cannot do without; empty where all is there."""
    if CHROMIUM is None:
        return "there is no chromium"
    if not PAGE.is_file():
        return "the page was not built (npm run build in web/)"
    return ""


class Board:
    """The program that serves one machine file."""

    def __init__(self, machine: Path | None, folder: Path, port: int = 0) -> None:
        command = [
            sys.executable,
            "-m",
            "gantrywright",
            "open",
            "--no-browser",
            "--port",
            str(port),
            *([str(machine)] if machine else []),
        ]
        env = {**os.environ, "PYTHONPATH": str(ROOT / "src"), "OPENBLAS_NUM_THREADS": "1", "XDG_STATE_HOME": str(folder / "state")}
        self.process = subprocess.Popen(command, cwd=folder, env=env, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
        self.url = self._address()
        self.port = int(self.url.rsplit(":", 1)[1].strip("/"))

    def _address(self) -> str:
        assert self.process.stdout is not None
        said = []
        for line in self.process.stdout:
            said.append(line)
            found = re.search(r"http://127\.0\.0\.1:\d+/", line)
            if found:
                return found[0]
        raise RuntimeError("the board did not start: " + "".join(said))

    def kill(self) -> None:
        """As a power cut would: no word, no time."""
        self.process.kill()
        self.process.wait(10)

    def close(self) -> None:
        self.process.terminate()
        self.process.wait(10)


@contextmanager
def browsing() -> Iterator[Any]:
    """A browser; pages are opened by `look`."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield browser
        browser.close()


def look(browser: Any, url: str, *, width: int = 1440, height: int = 900, bypass: bool = True) -> Any:
    """A page that stands, with what went wrong on it in ``page.troubles``."""
    context = browser.new_context(viewport={"width": width, "height": height}, bypass_csp=bypass, reduced_motion="reduce")
    page = context.new_page()
    page.troubles = []
    page.on("console", lambda m: page.troubles.append(m.text) if m.type == "error" and "status of 4" not in m.text else None)
    page.on("pageerror", lambda e: page.troubles.append(str(e)))
    page.on(
        "request", lambda r: page.troubles.append(f"foreign: {r.url}") if not r.url.startswith((url, "data:", "blob:")) else None
    )
    page.goto(url)
    return page


def stands(page: Any) -> None:
    """Wait until the machine is on the sheet and its answers are settled."""
    page.wait_for_selector(".sheet .promises", timeout=20_000) if page.query_selector(".promises") else page.wait_for_selector(
        "h2", timeout=20_000
    )
    page.wait_for_function("window.__board.state.value && window.__board.state.value.settled.state === 'done'", timeout=60_000)
