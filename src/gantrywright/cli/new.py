"""``gantrywright new``: a first machine file by flags, by questions, or by usual answers."""

import argparse
import sys
from pathlib import Path

from gantrywright.base.errors import Unwritable
from gantrywright.base.files import write_new
from gantrywright.intake.starter import QUESTIONS, SHOP, Answers, known_material, starter_text

KEYS = tuple(question.key for question in QUESTIONS)


def run(given: argparse.Namespace) -> int:
    """Write the files; nothing that exists is overwritten."""
    target = given.dir / "machine.toml"
    if target.exists():
        raise Unwritable(f"{target} is there already and is left as it is; choose another folder")
    answers = _answers(given)
    known_material(answers.material)
    text = starter_text(answers)
    write_new(target, text)
    shop = given.dir / "shop.toml"
    kept = shop.exists()
    if not kept:
        write_new(shop, SHOP)
    print(f"wrote {target}\n{shop} was there and is kept" if kept else f"wrote {target} and {shop}")
    print(f"from these answers: {', '.join(f'{key} = {getattr(answers, key)}' for key in KEYS)}\nnext: gantrywright check {target}")
    return 0


def _answers(given: argparse.Namespace) -> Answers:
    usual = Answers(name=given.name or Path(given.dir).name.replace("-", " "))
    said = {"name": usual.name}
    asking = not given.yes and sys.stdin.isatty()
    for question in QUESTIONS:
        key = question.key
        flag = getattr(given, key)
        said[key] = flag or (_ask(question.ask, getattr(usual, key)) if asking else getattr(usual, key))
    return Answers(**said)


def _ask(question: str, usual: str) -> str:
    try:
        return input(f"{question}\n  [{usual}] ").strip() or usual
    except EOFError:
        return usual
