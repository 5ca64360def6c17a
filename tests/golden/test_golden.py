"""The demo machines give the answers that they gave before; a change is looked at as a difference of text and then kept.

python tests/golden/test_golden.py        writes the files anew
"""

import json
import sys
from pathlib import Path
from typing import Any

import pytest

from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import again
from gantrywright.study.export import export
from gantrywright.study.whole import whole

HERE = Path(__file__).parent
DEMO = HERE.parents[1] / "src" / "gantrywright" / "data" / "demo"
NAMES = ("first-idea", "as-built", "bench")


def answer(name: str) -> dict[str, Any]:
    """Promises, findings and figures, numbers to five digits: what stands still on every machine."""
    resolve_again = again(read_document(DEMO / f"{name}.toml"))
    data = export(whole(resolve_again({}, ()), resolve_again))
    return {
        "promises": {f"{p['subject']} {p['what']}": _short([p["value"], p["low"], p["high"]]) for p in data["promises"]},
        "binds": {p["subject"]: p["binds"] for p in data["promises"] if p["what"] == "rapid"},
        "findings": {f"{f['id']} {f['subject']}": [f["status"], *_short([f["value"], f["limit"]])] for f in data["findings"]},
        "figures": {path: _short(figure["value"]) for path, figure in sorted(data["figures"].items())},
    }


def _short(value: Any) -> Any:
    if isinstance(value, list):
        return [_short(v) for v in value]
    return float(f"{value:.5g}") if isinstance(value, float) else value


def _near(got: Any, kept: Any) -> bool:
    if isinstance(got, list) and isinstance(kept, list):
        return len(got) == len(kept) and all(_near(a, b) for a, b in zip(got, kept, strict=True))
    if isinstance(got, (int, float)) and isinstance(kept, (int, float)):
        return got == pytest.approx(kept, rel=2e-3, abs=1e-9)
    return bool(got == kept)


@pytest.mark.parametrize("name", NAMES)
def test_the_answer_is_the_one_that_was_kept(name: str) -> None:
    kept = json.loads((HERE / f"{name}.json").read_text("utf-8"))
    got = answer(name)
    for part in kept:
        assert sorted(got[part]) == sorted(kept[part]), f"{part} of {name}: other names"
        changed = {key: (kept[part][key], got[part][key]) for key in kept[part] if not _near(got[part][key], kept[part][key])}
        assert changed == {}, f"{part} of {name}; if that is right: python tests/golden/test_golden.py"


if __name__ == "__main__":
    for each in NAMES:
        (HERE / f"{each}.json").write_text(json.dumps(answer(each), indent=0, sort_keys=True) + "\n", "utf-8")
        sys.stdout.write(f"wrote {each}.json\n")
