"""Generated pages are what the code would write now; hand-written pages name commands that exist."""

import importlib.util
import re
from pathlib import Path

import pytest

from gantrywright.cli.main import parser

ROOT = Path(__file__).parents[2]
spec = importlib.util.spec_from_file_location("generate", ROOT / "docs" / "generate.py")
assert spec is not None
assert spec.loader is not None
generate = importlib.util.module_from_spec(spec)
spec.loader.exec_module(generate)


@pytest.mark.parametrize("name", generate.PAGES)
def test_generated_page_is_up_to_date(name: str) -> None:
    written = (ROOT / "docs" / name).read_text("utf-8")
    assert written == generate.PAGES[name](), f"docs/{name} is old: run python docs/generate.py"


def test_outputs_in_the_readme_are_what_the_commands_print() -> None:
    assert (ROOT / "README.md").read_text("utf-8") == generate.readme(), "the README is old: run python docs/generate.py"


def test_every_command_is_in_the_readme() -> None:
    text = (ROOT / "README.md").read_text("utf-8")
    commands = next(a for a in parser()._actions if a.choices and "check" in a.choices).choices
    assert commands is not None
    assert [c for c in commands if f"gantrywright {c}" not in text] == []


@pytest.mark.parametrize("page", [ROOT / "README.md", *sorted((ROOT / "docs").rglob("*.md"))], ids=lambda p: p.name)
def test_links_lead_somewhere(page: Path) -> None:
    for target in re.findall(r"\]\(([^)#:]+?)(?:#[^)]*)?\)", page.read_text("utf-8")):
        assert (page.parent / target).exists(), f"{page.name} -> {target}"
