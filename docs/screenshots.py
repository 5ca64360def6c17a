"""Pictures of every stage of the drawing board, for docs/ and to be looked at.

python docs/screenshots.py [FOLDER]     needs chromium and the built page
"""

import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from driven_board import Board, browsing, lacking, look, stands

DEMO = Path(__file__).parents[1] / "src" / "gantrywright" / "data" / "demo"
STAGES = ("work", "frame", "guides", "drives", "spindle", "cut", "power", "stiffness", "ringing", "findings", "compare")


def main(folder: Path) -> None:
    """One picture a stage, and the start page."""
    if lacking():
        raise SystemExit(f"no pictures: {lacking()}")
    folder.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as work, browsing() as browser:
        copy = Path(work) / "router.toml"
        copy.write_text((DEMO / "as-built.toml").read_text())
        for machine, stages in ((copy, STAGES), (None, ("start",))):
            board = Board(machine, Path(work))
            page = look(browser, board.url)
            if machine is not None:
                stands(page)
            for stage in stages:
                page.evaluate("(s) => { location.hash = s }", stage)
                page.wait_for_timeout(2500)
                page.screenshot(path=folder / f"board-{stage}.png")
                print(folder / f"board-{stage}.png", flush=True)
            page.close()
            board.close()


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).parent / "pictures")
