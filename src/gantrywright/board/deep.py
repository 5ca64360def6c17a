"""Long work that the page may ask for. Each kind is one row; the work itself belongs to the study."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from gantrywright.board.jobs import Progress
from gantrywright.board.second import second_told
from gantrywright.board.stiffened import stiffened
from gantrywright.intake.document import parse_toml
from gantrywright.intake.resolve import again, resolve
from gantrywright.study.deep_cut import second_opinions
from gantrywright.study.finely import fine_map
from gantrywright.study.stiffen import stiffen
from gantrywright.study.study import run, simulated


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of long work."""

    words: str
    work: Callable[[Progress, str, str], Any]


def _fine_map(progress: Progress, path: str, text: str) -> Any:
    return fine_map(resolve(parse_toml(text.encode(), Path(path))), progress.told)


def _stiffen(progress: Progress, path: str, text: str) -> Any:
    document = parse_toml(text.encode(), Path(path))
    once_more = again(document)
    study = run(resolve(document))
    progress.told(0.1, "trying every change that can be built")
    found = stiffen(study, once_more)
    return stiffened(found, study)


def _second_opinion(progress: Progress, path: str, text: str) -> Any:
    study = simulated(run(resolve(parse_toml(text.encode(), Path(path)))))
    return second_told(study, second_opinions(study, progress.told))


KINDS = {
    "fine-map": Kind("stiffness over the table, finely", _fine_map),
    "second-opinion": Kind("chatter by the delay method, and a run of each cut in time", _second_opinion),
    "stiffen": Kind("what to stiffen first", _stiffen),
}
