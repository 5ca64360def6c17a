"""What the start page offers: the demo machines, files that were open before, a new machine by a few questions."""

import json
import os
import time
from pathlib import Path
from typing import Any

from gantrywright.base.errors import NotFound, Unwritable
from gantrywright.base.files import write_new, write_whole
from gantrywright.board.views import when
from gantrywright.intake.document import read_toml
from gantrywright.intake.starter import QUESTIONS, SHOP, Answers, Question, choices_of, known_material, starter_text
from gantrywright.intake.starterlimits import NotAnswered

DEMO = Path(__file__).parents[1] / "data" / "demo"
COPIES = "gantrywright-demo"
"""Folder beside the work that demo machines are copied to before they are opened."""
MOST = 12
"""Recent files that are remembered."""
WORDS = {
    "first-idea": "The router for plywood sheets that a boat-building co-operative first meant to build; much of it does not hold.",
    "as-built": "What the co-operative built after it had looked at the answers to its first idea.",
    "bench": "A box maker's bench router: a table that moves under a fixed portal, all in inches.",
}

Json = dict[str, Any]


class Shelf:
    """Files that may be opened: those in one folder, the demos, and what was opened before."""

    def __init__(self, folder: Path, memory: Path | None = None) -> None:
        """Offer a folder.

        Args:
            folder: Nothing outside it is opened or written, recent files apart.
            memory: Where recent files are remembered; the user's own place for such things where none is given.
        """
        self.folder = folder.resolve()
        self.memory = memory or _own_place() / "recent.json"

    def start(self) -> Json:
        """All that the start page shows."""
        demos = [{"id": file.stem, "title": _name(file), "words": WORDS.get(file.stem, "")} for file in sorted(DEMO.glob("*.toml"))]
        return {"demos": demos, "recent": self.recent(), "questions": [_question(q) for q in QUESTIONS], "folder": str(self.folder)}

    def recent(self) -> list[Json]:
        """Files that were open before, and machine files of the folder, newest first."""
        known = self._remembered()
        for file in [*self.folder.glob("*.toml"), *self.folder.glob("*/machine.toml"), *self.folder.glob(f"{COPIES}/*.toml")]:
            if str(file) not in known and _is_machine(file):
                known[str(file)] = file.stat().st_mtime
        rows = sorted(known.items(), key=lambda pair: -pair[1])[:MOST]
        return [{"path": path, "name": _name(Path(path)), "when": when(at), "exists": Path(path).is_file()} for path, at in rows]

    def found(self, path: str) -> Path:
        """A machine file that may be opened.

        Raises:
            NotFound: It lies elsewhere, or is not there.
        """
        file = (self.folder / path).resolve()
        if not file.is_relative_to(self.folder) and str(file) not in self._remembered():
            raise NotFound(f"{file} lies outside {self.folder}; start the board in its folder: gantrywright open {file}")
        if not file.is_file():
            raise NotFound(f"{file} is not there")
        return file

    def demo(self, name: str) -> Path:
        """A copy of a demo machine that may be changed; one that was made before is opened as it was left."""
        source = DEMO / f"{name}.toml"
        if name not in {file.stem for file in DEMO.glob("*.toml")}:
            raise NotFound(
                f"there is no demo machine {name!r}; there are: {', '.join(file.stem for file in sorted(DEMO.glob('*.toml')))}"
            )
        copy = self.folder / COPIES / source.name
        if not copy.exists():
            write_new(copy, source.read_text(encoding="utf-8"))
        return copy

    def new(self, answers: dict[str, str], folder: str) -> Path:
        """The file of a new machine, from answers; nothing that exists is overwritten.

        Raises:
            NotAnswered: An answer makes no machine, or the folder cannot be a new one.
        """
        place = (self.folder / folder).resolve()
        if not folder.strip() or not place.is_relative_to(self.folder) or place == self.folder:
            raise NotAnswered("folder", f"name a new folder inside {self.folder}, such as my-router")
        target = place / "machine.toml"
        if target.exists():
            raise NotAnswered("folder", f"{target} is there already and is left as it is; write another folder")
        asked = {question.key for question in QUESTIONS}
        given = {key: text.strip() for key, text in answers.items() if key in asked and text.strip()}
        made = Answers(name=answers.get("name", "").strip() or place.name.replace("-", " "), **given)
        try:
            known_material(made.material)
        except NotFound as error:
            raise NotAnswered("material", error) from error
        write_new(target, starter_text(made))
        if not (place / "shop.toml").exists():
            write_new(place / "shop.toml", SHOP)
        return target

    def remember(self, file: Path) -> None:
        """Put a file first among the recent ones; a place that cannot be written is no reason to stop."""
        known = {str(file.resolve()): time.time(), **{p: at for p, at in self._remembered().items() if p != str(file.resolve())}}
        try:
            self.memory.parent.mkdir(parents=True, exist_ok=True)
            write_whole(self.memory, json.dumps(dict(list(known.items())[:MOST]), indent=1))
        except (OSError, Unwritable):
            return

    def _remembered(self) -> dict[str, float]:
        try:
            told = json.loads(self.memory.read_text(encoding="utf-8"))
            return {str(path): float(at) for path, at in told.items()}
        except (OSError, ValueError, AttributeError, TypeError):
            return {}


def _question(asked: Question) -> Json:
    choices = [{"value": value, "label": label} for value, label in choices_of(asked)]
    return {
        "key": asked.key,
        "label": asked.label,
        "kind": "choice" if choices else "text",
        "choices": choices,
        "default": asked.default,
        "help": asked.help,
    }


def _own_place() -> Path:
    state = os.environ.get("XDG_STATE_HOME") or os.environ.get("LOCALAPPDATA")
    return (Path(state) if state else Path.home() / ".local" / "state") / "gantrywright"


def _is_machine(file: Path) -> bool:
    try:
        return b"[machine]" in file.read_bytes()
    except OSError:
        return False


def _name(file: Path) -> str:
    """Name of the machine in a file; that of the file where it cannot be read."""
    try:
        return str(read_toml(file).tree["machine"]["name"])
    except Exception:  # noqa: BLE001 - a start page lists broken files too
        return file.stem
