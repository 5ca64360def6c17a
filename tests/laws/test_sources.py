"""Rules on the register of sources: every id that is named exists, and every source that exists is named."""

import csv
import re
from pathlib import Path

from gantrywright.base.sources import PLAIN, sources

ROOT = Path(__file__).parents[2]
PACKAGE = ROOT / "src" / "gantrywright"
SEEN = {"looked up", "from memory", "own measurement", "common practice, no source"}


def test_every_source_says_how_it_was_seen() -> None:
    assert {id: s.seen for id, s in sources().items() if s.seen not in SEEN} == {}


def test_every_row_of_every_table_names_a_known_source() -> None:
    unknown = []
    for path in sorted([*(PACKAGE / "data" / "parts").glob("*.csv"), *(PACKAGE / "data" / "defaults").glob("*.csv")]):
        for row in csv.DictReader(path.read_text("utf-8").splitlines()):
            named = [value for key, value in row.items() if key and "source" in key.split(" ")]
            unknown += [f"{path.name} {row}" for source in named or [""] if source not in PLAIN - {""} and source not in sources()]
    assert unknown == []


def test_no_source_is_left_unused() -> None:
    told = (PACKAGE / "data" / "defaults").glob("*.toml")
    places = [
        *PACKAGE.rglob("*.py"),
        *PACKAGE.rglob("*.csv"),
        *told,
        *(ROOT / "tests").rglob("*.toml"),
        *(ROOT / "tests").rglob("*.py"),
    ]
    text = "\n".join(path.read_text("utf-8") for path in places)
    unused = [id for id in sources() if not re.search(rf"(?<![\w-]){re.escape(id)}(?![\w-])", text)]
    assert unused == []
